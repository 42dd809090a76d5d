"""Evaluation by a walk over the tree: one formula, once, with a reason where it has no value.

The compiled program is faster for many evaluations; this walk serves the moment a step is written
and the careful second look when the program met something that has no value.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from typing import Any

from stepcalc.expr.arithmetic import (
    ceil_near,
    compare_values,
    floor_near,
    interpolate_at,
    is_typed,
    power,
)
from stepcalc.expr.tree import Condition, Expr

__all__ = [
    "ForeignOperand", "Undefined", "branch_taken", "holds", "names_in", "value_of", "with_names",
]  # fmt: skip


class Undefined(Exception):  # noqa: N818  # a state of a calculation, not an error of the program
    """Raised where a formula has no value; ``str`` gives the reason in words."""


class ForeignOperand(Exception):  # noqa: N818  # a signal to the sheet, never shown
    """Raised when a walk for one sheet meets an operand of another."""


Values = Sequence[float]


def value_of(node: Any, values: Values, sheet: Any = None) -> float:
    """Return the value of a formula in base units.

    Parameters
    ----------
    node : Operand
    values : sequence of float
        Value of every named operand by its slot.
    sheet : object, optional
        When given, named operands must belong to it.

    Raises
    ------
    Undefined
        If the formula, in the branches taken, has no finite value.
    ForeignOperand
        If a named operand belongs to another sheet.
    """
    try:
        result: float = _RULES[node.op](node, values, sheet)
    except ZeroDivisionError:
        raise Undefined(_zero_division(node, values)) from None
    except ValueError:
        raise Undefined(f"no real value of {node}") from None
    except OverflowError:
        raise Undefined(f"the value of {node} is too large") from None
    return result


def _name(node: Any, values: Values, sheet: Any) -> float:
    if sheet is not None and node.sheet is not sheet:
        raise ForeignOperand
    value: float = values[node.slot]
    if value != value:
        raise Undefined(f"{node.name} has no value")
    return value


def _first(node: Any, values: Values, sheet: Any) -> float:
    number: float = node.data[0]
    return number


def _add(node: Any, values: Values, sheet: Any) -> float:
    left, right = node.args
    if left.op != "add" and left.op != "sub":
        a = _RULES[left.op](left, values, sheet)
        return a + _RULES[right.op](right, values, sheet)
    return _long_sum(node, values, sheet)


def _sub(node: Any, values: Values, sheet: Any) -> float:
    left, right = node.args
    if left.op != "add" and left.op != "sub":
        a = _RULES[left.op](left, values, sheet)
        return a - _RULES[right.op](right, values, sheet)
    return _long_sum(node, values, sheet)


def _long_sum(node: Any, values: Values, sheet: Any) -> float:
    terms = []
    while node.op in ("add", "sub"):
        terms.append((node.op, node.args[1]))
        node = node.args[0]
    result = _RULES[node.op](node, values, sheet)
    for op, term in reversed(terms):
        value = _RULES[term.op](term, values, sheet)
        result = result + value if op == "add" else result - value
    return result


def _mul(node: Any, values: Values, sheet: Any) -> float:
    left, right = node.args
    if left.op != "mul":
        a = _RULES[left.op](left, values, sheet)
        return a * _RULES[right.op](right, values, sheet)
    factors = []
    while node.op == "mul":
        factors.append(node.args[1])
        node = node.args[0]
    result = _RULES[node.op](node, values, sheet)
    for factor in reversed(factors):
        result = result * _RULES[factor.op](factor, values, sheet)
    return result


def _div(node: Any, values: Values, sheet: Any) -> float:
    above, below = node.args
    a = _RULES[above.op](above, values, sheet)
    return a / _RULES[below.op](below, values, sheet)


def _pow(node: Any, values: Values, sheet: Any) -> float:
    base, exponent = node.args
    b = _RULES[base.op](base, values, sheet)
    e = _RULES[exponent.op](exponent, values, sheet)
    return power(b, e) if is_typed(exponent) else math.pow(b, e)


def _sqrt(node: Any, values: Values, sheet: Any) -> float:
    x = _RULES[node.args[0].op](node.args[0], values, sheet)
    if x < 0.0:
        raise Undefined(f"root of a negative number in {node}")
    return math.sqrt(x)


def _neg(node: Any, values: Values, sheet: Any) -> float:
    return -_RULES[node.args[0].op](node.args[0], values, sheet)


def _mag(node: Any, values: Values, sheet: Any) -> float:
    number: float = _RULES[node.args[0].op](node.args[0], values, sheet) / node.data.factor
    return number


def _of_one(function: Callable[[float], float]) -> Callable[[Any, Values, Any], float]:
    def rule(node: Any, values: Values, sheet: Any) -> float:
        return function(_RULES[node.args[0].op](node.args[0], values, sheet))

    return rule


def _each(node: Any, values: Values, sheet: Any) -> list[float]:
    return [_RULES[arg.op](arg, values, sheet) for arg in node.args]


def _total(node: Any, values: Values, sheet: Any) -> float:
    first, *rest = _each(node, values, sheet)
    for value in rest:
        first = first + value
    return first


def _cases(node: Any, values: Values, sheet: Any) -> float:
    if sheet is not None:
        _visit_all(node, sheet)
    value = node.args[2 * branch_taken(node, values) + 1 :][:1] or node.args[-1:]
    return _RULES[value[0].op](value[0], values, sheet)


def branch_taken(node: Any, values: Values) -> int:
    """Return which branch of a ``cases`` node is taken; the last number is ``otherwise``."""
    args = node.args
    for place in range(0, len(args) - 1, 2):
        if holds(args[place], values):
            return place // 2
    return len(args) // 2


def _visit_all(node: Any, sheet: Any) -> None:
    for name in names_in(node):
        if name.sheet is not sheet:
            raise ForeignOperand


def _interp(node: Any, values: Values, sheet: Any) -> float:
    x = _RULES[node.args[0].op](node.args[0], values, sheet)
    value = interpolate_at(x, node.data.xs, node.data.ys)
    if value != value:
        raise Undefined(f"{node.args[0]} lies outside the points of {node.data.title}")
    return value


_RULES: dict[str, Callable[[Any, Values, Any], float]] = {
    "name": _name, "num": _first, "qty": _first,
    "unit": lambda node, values, sheet: node.data.factor,
    "pi": lambda node, values, sheet: math.pi,
    "add": _add, "sub": _sub, "mul": _mul, "div": _div, "pow": _pow, "neg": _neg, "mag": _mag,
    "sqrt": _sqrt, "abs": _of_one(abs), "exp": _of_one(math.exp), "log": _of_one(math.log),
    "log10": _of_one(math.log10), "sin": _of_one(math.sin), "cos": _of_one(math.cos),
    "tan": _of_one(math.tan), "asin": _of_one(math.asin), "acos": _of_one(math.acos),
    "atan": _of_one(math.atan), "floor": _of_one(floor_near), "ceil": _of_one(ceil_near),
    "min": lambda node, values, sheet: min(_each(node, values, sheet)),
    "max": lambda node, values, sheet: max(_each(node, values, sheet)),
    "total": _total, "cases": _cases, "interp": _interp,
}  # fmt: skip


def holds(condition: Any, values: Values) -> bool:
    """Return whether a condition holds.

    An undefined part of ``all_of`` does not matter when another part is false already, nor one of
    ``any_of`` when another is true, in whatever order they are written.

    Raises
    ------
    Undefined
        If the truth depends on a value that does not exist.
    """
    op = condition.op
    if op == "between":
        x, low, high = condition.args
        return _between(x, low, high, values)
    if op in ("and", "or"):
        decisive = op == "or"
        gap: Undefined | None = None
        for part in condition.args:
            try:
                if holds(part, values) is decisive:
                    return decisive
            except Undefined as undefined:
                gap = undefined
        if gap is not None:
            raise gap
        return not decisive
    if op == "not":
        return not holds(condition.args[0], values)
    if op == "is":
        return bool(int(values[condition.args[0].slot]) == condition.data[1])
    left, right = condition.args
    return compare_values(op, value_of(left, values), value_of(right, values))


def _between(x: Any, low: Any, high: Any, values: Values) -> bool:
    # as all_of(low <= x, x <= high), with x computed once
    number = value_of(x, values)
    gap: Undefined | None = None
    for end, left, right in ((low, None, number), (high, number, None)):
        try:
            limit = value_of(end, values)
        except Undefined as undefined:
            gap = undefined
            continue
        below = limit if left is None else left
        if not compare_values("le", below, limit if right is None else right):
            return False
    if gap is not None:
        raise gap
    return True


def names_in(node: Any) -> Iterator[Any]:
    """Yield every named operand below a node, each occurrence, left to right."""
    pending = [node]
    while pending:
        node = pending.pop()
        if node.op == "name":
            yield node
        elif node.args:
            pending.extend(reversed(node.args))


def with_names(node: Any, change: Callable[[Any], Any]) -> Any:
    """Return a formula or condition with another operand for each named one; parts are shared."""
    spine = []
    while node.op in ("add", "sub", "mul"):  # of any length, so not by recursion
        spine.append(node)
        node = node.args[0]
    if node.op == "name":
        result = change(node)
    else:
        result = _with_args(node, tuple(with_names(arg, change) for arg in node.args))
    for parent in reversed(spine):
        result = _with_args(parent, (result, with_names(parent.args[1], change)))
    return result


def _with_args(node: Any, args: tuple[Any, ...]) -> Any:
    if all(new is old for new, old in zip(args, node.args, strict=True)):
        return node
    if isinstance(node, Condition):
        return Condition(node.op, args, node.data)
    return Expr(node.op, args, node.dim, node.mask, node.data)


def _zero_division(node: Any, values: Values) -> str:
    pending = [node]
    while pending:
        node = pending.pop()
        if node.op == "div":
            try:
                if value_of(node.args[1], values) == 0.0:
                    return f"division by zero: {node.args[1]} is zero"
            except Undefined:
                continue
        if node.op == "pow":
            base, exponent = node.args
            if value_of(base, values) == 0.0 and value_of(exponent, values) < 0.0:
                return f"division by zero: {base} is zero"
        if node.op == "cases":
            taken = branch_taken(node, values)
            pending.append(node.args[min(2 * taken + 1, len(node.args) - 1)])
        else:
            pending.extend(node.args)
    return f"division by zero in {node}"
