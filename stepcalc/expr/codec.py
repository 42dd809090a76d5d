"""Trees as plain JSON lists, and back: ``["add", ["name", "w"], ["qty", 2, "foot"]]``.

Reading rebuilds the tree through the same constructors that a formula in Python goes through, so
that dimensions are checked anew; nothing in the data is ever executed.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from decimal import Decimal, InvalidOperation
from fractions import Fraction
from typing import TYPE_CHECKING, Any

from stepcalc.errors import SheetFileError
from stepcalc.expr import functions as build
from stepcalc.expr.tree import Condition, Operand, as_operand, literal
from stepcalc.units.info import ONE, read_unit
from stepcalc.units.registry import Q_

if TYPE_CHECKING:
    from stepcalc.units.numbers import Typed

__all__ = ["read_tree", "read_typed_number", "tree_data", "typed_data"]

_BINARY: dict[str, Callable[[Any, Any], Any]] = {
    "add": Operand.__add__, "sub": Operand.__sub__, "mul": Operand.__mul__,
    "div": Operand.__truediv__, "pow": Operand.__pow__,
    "lt": Operand.__lt__, "le": Operand.__le__, "gt": Operand.__gt__, "ge": Operand.__ge__,
    "eq": Operand.__eq__, "ne": Operand.__ne__,
}  # fmt: skip
_UNARY: dict[str, Callable[[Any], Any]] = {
    "neg": Operand.__neg__, "abs": Operand.__abs__, "sqrt": build.sqrt, "exp": build.exp,
    "log": build.log, "log10": build.log10, "sin": build.sin, "cos": build.cos, "tan": build.tan,
    "asin": build.asin, "acos": build.acos, "atan": build.atan, "floor": build.floor,
    "ceil": build.ceil,
}  # fmt: skip
_MANY: dict[str, Callable[[list[Any]], Any]] = {
    "min": lambda items: build.minimum(*items), "max": lambda items: build.maximum(*items),
    "total": build.total, "and": lambda items: build.all_of(*items),
    "or": lambda items: build.any_of(*items), "not": lambda items: build.not_(*items),
    "between": lambda items: build.between(*items),
}  # fmt: skip
_DEEPEST = 400
_FRACTION = re.compile(r"-?\d{1,400}/\d{1,400}")


def typed_data(value: Typed) -> Any:
    """Return a number as it was typed, as JSON: Decimal and Fraction keep their form."""
    if isinstance(value, Decimal):
        return {"decimal": str(value)}
    if isinstance(value, Fraction):
        return {"fraction": f"{value.numerator}/{value.denominator}"}
    return value


def read_typed_number(data: Any) -> Typed:
    """Return the number that :func:`typed_data` wrote.

    Raises
    ------
    SheetFileError
        If it is none, or not finite.
    """
    if isinstance(data, dict) and len(data) == 1:
        ((kind, text),) = data.items()
        try:
            if kind == "decimal" and isinstance(text, str) and len(text) < 1000:
                number = Decimal(text)
                if number.is_finite() and abs(number.adjusted()) < 300:
                    return number
            # "1e999999999" is a fraction to Python, and would fill the memory
            if kind == "fraction" and isinstance(text, str) and _FRACTION.fullmatch(text):
                return Fraction(text)
        except (InvalidOperation, ValueError, ZeroDivisionError):
            pass
    if isinstance(data, int | float) and not isinstance(data, bool) and abs(data) < 1e300:
        return data
    message = f"a finite number was expected in the sheet's JSON, not {str(data)[:60]!r}"
    raise SheetFileError(message)


def tree_data(node: Any) -> Any:
    """Return a formula or condition as JSON lists."""
    op = node.op
    if op == "name":
        return ["name", node.path]
    if op in _BINARY:
        return _spine_data(node)
    if op == "num":
        return ["num", typed_data(node.data[1])]
    if op == "qty":
        return ["qty", typed_data(node.data[2]), node.data[1].name]
    if op == "unit":
        return ["unit", node.data.name]
    if op == "mag":
        return ["mag", tree_data(node.args[0]), node.data.name]
    if op == "cases":
        labels = node.data
        pairs = [
            [tree_data(test), tree_data(value), label]
            for test, value, label in zip(node.args[:-1:2], node.args[1::2], labels, strict=False)
        ]
        return ["cases", pairs, tree_data(node.args[-1]), labels[-1]]
    if op == "interp":
        points = node.data
        units = [points.x_unit.name, points.y_unit.name]
        return ["interp", tree_data(node.args[0]), points.title, points.xs, points.ys, units]
    if op == "is":
        return ["is", node.args[0].path, node.data[0]]
    return [op, *map(tree_data, node.args)]


def _spine_data(node: Any) -> Any:
    if node.op not in ("add", "sub", "mul"):
        return [node.op, *map(tree_data, node.args)]
    # left-deep sums are written flat: ["chain", first, "+", second, "-", third]
    signs = {"add": "+", "sub": "-", "mul": "*"}
    product = node.op == "mul"
    items: list[Any] = []
    while node.op in signs and (node.op == "mul") == product:
        items += [tree_data(node.args[1]), signs[node.op]]
        node = node.args[0]
    items.append(tree_data(node))
    return ["chain", *reversed(items)]


def read_tree(data: Any, names: Callable[[Any], Any], depth: int = 0) -> Any:
    """Return the formula or condition that :func:`tree_data` wrote.

    Parameters
    ----------
    names : callable
        Returns the operand of a path; raises StepcalcError for an unknown one.

    Raises
    ------
    SheetFileError
        If the data are no tree.
    DimensionError, FormulaError, UnitError
        If the tree is no formula.
    """
    if not isinstance(data, list) or not data or not isinstance(data[0], str) or depth > _DEEPEST:
        message = f"a formula was expected in the sheet's JSON, not {str(data)[:60]!r}"
        raise SheetFileError(message)
    op, *rest = data
    try:
        return _build(op, rest, names, depth + 1)
    except (IndexError, ValueError, TypeError, KeyError, AttributeError) as error:
        if type(error).__module__.startswith("stepcalc"):
            raise
        message = f"the formula part {op[:40]!r} of the sheet's JSON is damaged: {error}"
        raise SheetFileError(message) from error


def _build(op: str, rest: list[Any], names: Callable[[Any], Any], depth: int) -> Any:
    def read(item: Any) -> Any:
        return read_tree(item, names, depth)

    if op == "name":
        (path,) = rest
        return names(path)
    if op == "num":
        (typed,) = rest
        return literal(read_typed_number(typed))
    if op == "qty":
        typed, unit = rest
        info = read_unit(_text(unit))
        number = read_typed_number(typed)
        return as_operand(Q_(number, info.unit)) if info is not ONE else literal(number)
    if op == "unit":
        (unit,) = rest
        return as_operand(read_unit(_text(unit)).unit)
    if op == "pi" and not rest:
        return build.pi
    if op == "chain":
        return _chain(rest, read)
    if op == "mag":
        inner, unit = rest
        return _operand(read(inner)).magnitude(_text(unit))
    if op == "cases":
        return _cases(rest, read)
    if op == "interp":
        return _interpolation(rest, read)
    if op == "is":
        path, label = rest
        return names(path) == _text(label)
    args = [read(item) for item in rest]
    if op in _BINARY and len(args) == 2:
        return _BINARY[op](_operand(args[0]), _operand(args[1]))
    if op in _UNARY and len(args) == 1:
        return _UNARY[op](_operand(args[0]))
    if op in _MANY and args:
        return _MANY[op](args)
    message = f"the sheet's JSON has an unknown part of a formula, {op[:60]!r}"
    raise SheetFileError(message)


def _text(value: Any) -> str:
    if not isinstance(value, str):
        message = f"a text was expected in a formula of the sheet's JSON, not {str(value)[:60]!r}"
        raise SheetFileError(message)
    return value


def _operand(node: Any) -> Any:
    if isinstance(node, Condition):
        message = f"the comparison {node} stands where a quantity is wanted in the sheet's JSON"
        raise SheetFileError(message)
    return node


def _chain(rest: list[Any], read: Callable[[Any], Any]) -> Any:
    result = _operand(read(rest[0]))
    signs = {"+": Operand.__add__, "-": Operand.__sub__, "*": Operand.__mul__}
    for place in range(1, len(rest), 2):
        result = signs[rest[place]](result, _operand(read(rest[place + 1])))
    return result


def _cases(rest: list[Any], read: Callable[[Any], Any]) -> Any:
    pairs, last, label = rest
    branches = []
    for test, value, name in pairs:
        branch: tuple[Any, ...] = (read(test), _operand(read(value)))
        branches.append(branch if name is None else (*branch, _text(name)))
    value = _operand(read(last))
    return build.cases(*branches, otherwise=value if label is None else (value, _text(label)))


def _interpolation(rest: list[Any], read: Callable[[Any], Any]) -> Any:
    inner, title, xs, ys, units = rest
    x_unit, y_unit = (read_unit(_text(unit)) for unit in units)
    points_x, points_y = [
        [
            as_operand(Q_(float(read_typed_number(value)) / info.factor, info.unit))
            if info is not ONE
            else literal(read_typed_number(value))
            for value in values
        ]
        for values, info in ((xs, x_unit), (ys, y_unit))
    ]
    node = build.interpolate(_operand(read(inner)), points_x, points_y, title=_text(title))
    data = node.data._replace(xs=tuple(map(float, xs)), ys=tuple(map(float, ys)))
    node.data = data
    return node
