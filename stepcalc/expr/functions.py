"""The functions that build formulas and conditions: ``sqrt``, ``minimum``, ``cases`` and so on."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from fractions import Fraction
from itertools import pairwise
from typing import Any, NamedTuple

from stepcalc.errors import DimensionError, FormulaError
from stepcalc.expr.tree import Condition, Expr, Operand, as_operand, compare, literal
from stepcalc.units.dimension import DIMENSIONLESS
from stepcalc.units.info import ONE, UnitInfo

__all__ = [
    "Interpolation", "absolute", "acos", "all_of", "any_of", "asin", "atan", "between", "cases",
    "ceil", "cos", "exp", "floor", "frac", "interpolate", "log", "log10", "maximum", "minimum",
    "not_", "pi", "sin", "sqrt", "tan", "total",
]  # fmt: skip

#: The circle's constant, printed as its letter.
pi = Expr("pi", (), DIMENSIONLESS, 0)


def frac(numerator: int, denominator: int) -> Expr:
    """Return a typed fraction, printed as one: ``frac(1, 8) * w`` (Python folds ``1/8``)."""
    return literal(Fraction(numerator, denominator))


def _plain(name: str, x: Any) -> Expr:
    x = as_operand(x)
    if x.dim is not DIMENSIONLESS:
        message = (
            f"{name}({x}) wants a plain number, but {x} is {x.dim.words}; divide it by a quantity"
            f" of its kind, or use {x}.magnitude(unit) for an equation bound to a unit"
        )
        raise DimensionError(message)
    return Expr(name, (x,), DIMENSIONLESS, x.mask)


def sqrt(x: Any) -> Expr:
    """Return the square root as a formula; the dimension is halved."""
    x = as_operand(x)
    return Expr("sqrt", (x,), x.dim.to_the(Fraction(1, 2)), x.mask)


def absolute(x: Any) -> Expr:
    """Return the absolute value as a formula (also ``abs``)."""
    return abs(as_operand(x))  # type: ignore[no-any-return]


def exp(x: Any) -> Expr:
    """Return e to the power x; x is a plain number."""
    return _plain("exp", x)


def log(x: Any) -> Expr:
    """Return the natural logarithm of a plain number."""
    return _plain("log", x)


def log10(x: Any) -> Expr:
    """Return the logarithm to base ten of a plain number."""
    return _plain("log10", x)


def sin(x: Any) -> Expr:
    """Return the sine of an angle (radians, or a quantity such as ``30*degree``)."""
    return _plain("sin", x)


def cos(x: Any) -> Expr:
    """Return the cosine of an angle."""
    return _plain("cos", x)


def tan(x: Any) -> Expr:
    """Return the tangent of an angle."""
    return _plain("tan", x)


def asin(x: Any) -> Expr:
    """Return the angle whose sine is x."""
    return _plain("asin", x)


def acos(x: Any) -> Expr:
    """Return the angle whose cosine is x."""
    return _plain("acos", x)


def atan(x: Any) -> Expr:
    """Return the angle whose tangent is x."""
    return _plain("atan", x)


def floor(x: Any) -> Expr:
    """Return the whole number below x; a value within 1e-9 of the next whole number is that one."""
    return _plain("floor", x)


def ceil(x: Any) -> Expr:
    """Return the whole number above x; a value within 1e-9 of a whole number is that one."""
    return _plain("ceil", x)


def minimum(*items: Any) -> Expr:
    """Return the smallest of two or more quantities of one dimension."""
    return _of_one_kind("min", items, 2)


def maximum(*items: Any) -> Expr:
    """Return the largest of two or more quantities of one dimension."""
    return _of_one_kind("max", items, 2)


def total(items: Iterable[Any]) -> Expr:
    """Return the sum over a list of quantities of one dimension, printed as a sum."""
    return _of_one_kind("total", tuple(items), 1)


def _of_one_kind(op: str, items: Sequence[Any], least: int) -> Expr:
    name = {"min": "minimum", "max": "maximum", "total": "total"}[op]
    if len(items) == 1 and op != "total" and isinstance(items[0], list | tuple):
        items = items[0]
    if len(items) < least:
        message = f"{name} wants at least {least} quantities, got {len(items)}"
        raise FormulaError(message)
    nodes = tuple(as_operand(item) for item in items)
    mask = 0
    for node in nodes:
        mask |= node.mask
        if node.dim is not nodes[0].dim:
            message = (
                f"{name} wants quantities of one kind, but {nodes[0]} is {nodes[0].dim.words} "
                f"and {node} is {node.dim.words}"
            )
            raise DimensionError(message)
    return Expr(op, nodes, nodes[0].dim, mask)


def between(x: Any, low: Any, high: Any) -> Condition:
    """Return the condition ``low <= x <= high``."""
    x, low, high = as_operand(x), as_operand(low), as_operand(high)
    compare("le", low, x)
    compare("le", x, high)
    return Condition("between", (x, low, high))


def all_of(*conditions: Any) -> Condition:
    """Return the condition that all of these hold."""
    return Condition("and", _conditions("all_of", conditions))


def any_of(*conditions: Any) -> Condition:
    """Return the condition that at least one of these holds."""
    return Condition("or", _conditions("any_of", conditions))


def not_(condition: Any) -> Condition:
    """Return the condition that this one does not hold."""
    return Condition("not", _conditions("not_", (condition,)))


def _conditions(name: str, items: tuple[Any, ...]) -> tuple[Condition, ...]:
    if not items:
        message = f"{name}() wants at least one comparison"
        raise FormulaError(message)
    for item in items:
        if not isinstance(item, Condition):
            message = f"{name} wants comparisons such as a <= b, got {_quote(item)}"
            raise FormulaError(message)
    return items


def _quote(item: Any) -> str:
    if isinstance(item, bool):
        return (
            f"the plain truth value {item}: the comparison was decided by Python before it could"
            " be written down (two plain numbers? 'is'? a comparison of texts?)"
        )
    return f"{item!r}"[:80]


_MOST_BRANCHES = 40


def cases(*branches: Any, otherwise: Any) -> Expr:
    """Return the value of the first branch whose condition holds.

    Parameters
    ----------
    *branches : tuples ``(condition, value)`` or ``(condition, value, "label")``
    otherwise : value, or tuple ``(value, "label")``
        The value when no condition holds.

    Notes
    -----
    Only the branch that is taken matters: what the others would give, and whether they could be
    computed at all, has no effect.
    """
    if not branches:
        message = "cases wants at least one (condition, value) before otherwise"
        raise FormulaError(message)
    if len(branches) > _MOST_BRANCHES:
        message = (
            f"cases has {len(branches)} branches, at most {_MOST_BRANCHES} can be followed; use"
            " interpolate(...) or a look-up in a table"
        )
        raise FormulaError(message)
    args: list[Any] = []
    labels: list[str | None] = []
    for branch in branches:
        if not isinstance(branch, tuple | list) or len(branch) not in (2, 3):
            message = (
                "a branch of cases is (condition, value) or (condition, value, 'label'), not "
                f"{branch!r}"
            )
            raise FormulaError(message[:300])
        condition, value, *label = branch
        if not isinstance(condition, Condition):
            message = f"the condition of a branch of cases is a comparison, got {_quote(condition)}"
            raise FormulaError(message)
        args += [condition, as_operand(value)]
        labels.append(_label(label[0] if label else None))
    if isinstance(otherwise, tuple | list):
        if len(otherwise) != 2:
            message = "otherwise of cases is a value or (value, 'label')"
            raise FormulaError(message)
        otherwise, last = otherwise
    else:
        last = None
    args.append(as_operand(otherwise))
    labels.append(_label(last))
    first = args[1]
    mask = 0
    for arg in args:
        mask |= arg.mask
    for value in (*args[3::2], args[-1]):
        if value.dim is not first.dim:
            message = (
                f"the branches of cases must be of one kind, but {first} is {first.dim.words} and "
                f"{value} is {value.dim.words}"
            )
            raise DimensionError(message)
    return Expr("cases", tuple(args), first.dim, mask, tuple(labels))


def _label(label: Any) -> str | None:
    if label is not None and not isinstance(label, str):
        message = f"a label of cases is a text, got {label!r}"
        raise FormulaError(message)
    return label


class Interpolation(NamedTuple):
    """A list of points for linear interpolation, in base units, with the units to show them in."""

    title: str
    xs: tuple[float, ...]
    ys: tuple[float, ...]
    x_unit: UnitInfo
    y_unit: UnitInfo


def interpolate(x: Any, xs: Any, ys: Any, column: str | None = None, *, title: str = "") -> Expr:
    """Return the linear interpolation at x in a list of points or in two columns of a table.

    Parameters
    ----------
    x : operand
    xs, ys : sequences of quantities or numbers of equal length, ``xs`` rising
        or ``xs`` a table of ``stepcalc.data`` with ``ys`` and ``column`` the names of its columns.

    Notes
    -----
    Outside the points the value is undefined: there is no silent extrapolation.
    """
    if hasattr(xs, "columns"):
        table, by = xs, str(ys)
        if column is None:
            message = "interpolate in a table wants the names of two columns"
            raise FormulaError(message)
        pairs = sorted(
            zip(_column(table, by), _column(table, column), strict=True), key=lambda p: p[0].data[0]
        )
        return _interpolation(x, pairs, title or f"{table.title}, {by} to {column}")
    points_x, points_y = [as_operand(item) for item in xs], [as_operand(item) for item in ys]
    if len(points_x) != len(points_y) or len(points_x) < 2:
        lengths = f"{len(points_x)} and {len(points_y)}"
        message = f"interpolate wants two lists of equal length, got {lengths}"
        raise FormulaError(message)
    return _interpolation(x, list(zip(points_x, points_y, strict=True)), title or "points given")


def _column(table: Any, name: str) -> list[Expr]:
    from stepcalc.units.registry import Q_

    unit = table.units.get(name)
    values = [table.value(row, name) for row in table.names]
    return [as_operand(Q_(value, unit) if unit else value) for value in values]


def _interpolation(x: Any, pairs: list[tuple[Any, Any]], title: str) -> Expr:
    x = as_operand(x)
    for px, py in pairs:
        if px.op not in ("num", "qty") or py.op not in ("num", "qty"):
            message = "the points of interpolate are numbers or quantities, not formulas"
            raise FormulaError(message)
        compare("le", x, px)
        compare("le", py, pairs[0][1])
    xs = tuple(px.data[0] for px, _ in pairs)
    if any(b <= a for a, b in pairwise(xs)):
        message = f"the points of interpolate must rise, got {[str(px) for px, _ in pairs]}"
        raise FormulaError(message[:300])
    ys = tuple(py.data[0] for _, py in pairs)
    units = [p.data[1] if p.op == "qty" else ONE for p in pairs[0]]
    data = Interpolation(title, xs, ys, units[0], units[1])
    return Expr("interp", (x,), pairs[0][1].dim, x.mask | units[1].mask, data)


UFUNCS: dict[str, Callable[..., Any]] = {
    "add": lambda a, b: a + b, "subtract": lambda a, b: a - b, "multiply": lambda a, b: a * b,
    "divide": lambda a, b: a / b, "true_divide": lambda a, b: a / b, "power": lambda a, b: a**b,
    "float_power": lambda a, b: a**b, "negative": lambda a: -a, "sqrt": sqrt, "exp": exp,
    "log": log, "log10": log10, "sin": sin, "cos": cos, "tan": tan, "arcsin": asin,
    "arccos": acos, "arctan": atan, "floor": floor, "ceil": ceil, "absolute": absolute,
    "minimum": minimum, "maximum": maximum, "square": lambda a: a**2,
    "less": lambda a, b: a < b, "less_equal": lambda a, b: a <= b, "greater": lambda a, b: a > b,
    "greater_equal": lambda a, b: a >= b, "equal": lambda a, b: a == b,
    "not_equal": lambda a, b: a != b,
}  # fmt: skip

assert issubclass(Expr, Operand)
