"""Linear interpolation written out for a substitution, so that a checker can redo it by hand."""

from __future__ import annotations

from typing import Any

from stepcalc.expr.tree import Condition, Expr
from stepcalc.expr.walk import value_of
from stepcalc.units.dimension import DIMENSIONLESS


def written_out(node: Any, numbers: Any) -> Any:
    """Return a formula in which each interpolation stands as its arithmetic.

    Parameters
    ----------
    node : Operand or Condition
    numbers : sequence of float
        Values by slot: they say between which two points the value lies.

    Returns
    -------
    Operand or Condition
        ``y0 + (x - x0)(y1 - y0)/(x1 - x0)`` in place of each interpolation; at a point, its value.
    """
    if node.op == "name" or not node.args:
        return node
    args = tuple([written_out(arg, numbers) for arg in node.args])
    if node.op == "interp":
        return _between_points(args[0], value_of(node.args[0], numbers), node.data)
    if all(new is old for new, old in zip(args, node.args, strict=True)):
        return node
    if isinstance(node, Condition):
        return Condition(node.op, args, node.data)
    mask = 0
    for arg in args:
        mask |= arg.mask
    return Expr(node.op, args, node.dim, 0 if node.op == "mag" else mask, node.data)


def _between_points(x: Any, value: float, data: Any) -> Any:
    xs, ys = data.xs, data.ys
    left = 0
    while left < len(xs) - 2 and value > xs[left + 1]:
        left += 1
    for place in (left, left + 1):
        if abs(value - xs[place]) <= 1e-9 * abs(xs[place]):
            return _point(ys[place], data.y_unit)
    x0, x1 = (_point(xs[place], data.x_unit) for place in (left, left + 1))
    y0, y1 = (_point(ys[place], data.y_unit) for place in (left, left + 1))
    return y0 + (x - x0) * (y1 - y0) / (x1 - x0)


def _point(base: float, info: Any) -> Expr:
    number = float(f"{base / info.factor:.12g}")
    if info.dim is DIMENSIONLESS and not info.text:
        return Expr("num", (), info.dim, 0, (base, number))
    return Expr("qty", (), info.dim, info.mask, (base, info, number))
