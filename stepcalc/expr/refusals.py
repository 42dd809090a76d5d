"""What is refused when a formula is written, and the words in which it is said."""

from __future__ import annotations

from fractions import Fraction
from typing import Any, NoReturn

import numpy as np

from stepcalc.errors import DimensionError
from stepcalc.units.dimension import DIMENSIONLESS, Dimension, dimension

__all__ = [
    "MAX_DEPTH", "TOO_DEEP",
    "differ", "exponent_value", "not_an_operand", "power_dimension", "refuse_comparison",
    "refuse_sum",
]  # fmt: skip

#: Nesting beyond this is refused: neither a reader nor Python's parser can follow it.
MAX_DEPTH = 60
TOO_DEEP = f"this formula nests more than {MAX_DEPTH} deep; give names to its parts as steps"


def _what(operand: Any) -> str:
    return f"{operand}, {operand.dim.words},"


def differ(start: str, formula: str, left: Any, right: Any) -> str:
    """Return the message for two sides of different dimensions, with what one lacks."""
    factor = left.dim.over(right.dim)
    big, small = ("left", "right") if any(p > 0 for p in factor.exponents) else ("right", "left")
    if big == "right":
        factor = right.dim.over(left.dim)
    return (
        f"{start} in the formula {formula}: the two sides must be of one kind, and the {big} one "
        f"has {factor.formula} more than the {small} one; multiply or divide by what is missing"
    )


def refuse_sum(op: str, left: Any, right: Any) -> NoReturn:
    """Refuse a sum or difference of two dimensions."""
    sign = "+" if op == "add" else "-"
    verb = "add" if op == "add" else "subtract"
    joint = "and" if op == "add" else "less"
    start = f"cannot {verb} {_what(left)} {joint} {_what(right)}"
    raise DimensionError(differ(start, f"{left} {sign} {right}", left, right))


def exponent_value(node: Any) -> int | Fraction | None:
    """Return the exact value of an exponent that is a plain typed number, else None."""
    if node.op == "num":
        typed = node.data[1]
        exact = Fraction(str(typed)) if isinstance(typed, float) else Fraction(typed)
        if exact.denominator > 1000:
            exact = exact.limit_denominator(1000)
        return int(exact) if exact.denominator == 1 else exact
    if node.op == "neg":
        inner = exponent_value(node.args[0])
        return None if inner is None else -inner
    if node.op == "div" and node.args[0].op == node.args[1].op == "num":
        above, below = (exponent_value(arg) for arg in node.args)
        return Fraction(above) / Fraction(below) if above is not None and below else None
    return None


def power_dimension(base: Any, exponent: Any) -> Dimension:
    """Return the dimension of a power, or refuse its exponent."""
    if exponent.dim is not DIMENSIONLESS:
        message = (
            f"the exponent {exponent} in {base}**{exponent} is {exponent.dim.words}; want a plain "
            f"number, such as {exponent} divided by a quantity of its kind"
        )
        raise DimensionError(message)
    own: Dimension = base.dim
    if own is dimension((0, 0, 0, 0)):
        return own
    power = exponent_value(exponent)
    if power is None:
        message = (
            f"{base} is {base.dim.words}, so its exponent must be a typed number, not the formula "
            f"{exponent}: the unit of the result would depend on a value"
        )
        raise DimensionError(message)
    return own._pow.get(power) or own.to_the(power)


def not_an_operand(value: Any) -> str:
    """Return the message for something that cannot stand in a formula."""
    if type(value).__name__ == "Condition":
        return f"the comparison {value} stands where a quantity is wanted; comparisons go in cases"
    if isinstance(value, bool | np.bool_):
        return f"{value} is a truth value, not a quantity; was a comparison in cases(...) meant?"
    if isinstance(value, str):
        return (
            f"the text {value[:40]!r} stands where a quantity is wanted; write a number with a unit"
            " such as 8*inch, or a name that given or step returned"
        )
    if isinstance(value, np.ndarray | list | tuple):
        return "an array stands where one quantity is wanted; arrays go through evaluate(...)"
    return f"a {type(value).__name__} stands where a quantity is wanted"


def refuse_comparison(op: str, left: Any, right: Any) -> NoReturn:
    """Refuse a comparison of two dimensions."""
    words = {"lt": "<", "le": "<=", "gt": ">", "ge": ">=", "eq": "==", "ne": "!="}[op]
    start = f"cannot compare {_what(left)} with {_what(right)}"
    raise DimensionError(differ(start, f"{left} {words} {right}", left, right))
