"""What stands for a name in a substitution: the number as shown, and its unit."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, Protocol

from stepcalc.expr.walk import value_of
from stepcalc.units.numbers import Typed, shown_text, typed_text

_SHORT = 7
_LONGEST_TYPED = 14


class Shown(Protocol):
    """The values of one sheet, as they are printed in one dialect.

    Attributes
    ----------
    spelled : dict
        What a walker has made of names so far, by slot, each with the number it was made for.
    may_remember : bool
        False while a name may change without its number changing.
    """

    spelled: dict[int, tuple[float, Any]]
    may_remember: bool

    @property
    def numbers(self) -> Sequence[float]:
        """Values in base units by slot, for conditions and bare numbers."""

    @property
    def digits(self) -> int:
        """Significant digits of a number that is printed without being a step of its own."""

    def of(self, node: Any) -> tuple[str, str]:
        """Return number and unit text of a named operand, as the sheet prints it."""


def bare_number(node: Any, shown: Shown) -> str:
    """Return the number that a ``magnitude`` node stands for, in its unit.

    A value that is short in that unit prints whole (``93`` for 7.75 ft in inches); another is
    rounded to the digits of the sheet. If the sheet prints the name in that very unit, the
    number is the one printed there.
    """
    inner, info = node.args[0], node.data
    if inner.op == "name":
        number, unit = shown.of(inner)
        if unit == info.text:
            return number
    return short_number(value_of(node, shown.numbers), shown.digits)


def literal_text(typed: Typed) -> str:
    """Return a number of a formula as it was typed; what Python had computed is shortened.

    ``33000 * 0.145**1.5`` reaches a formula as 1822.07371557794: nobody typed that many digits,
    so seven are shown. A fraction such as 7/3 keeps its form (see ``typed_text``).
    """
    text = typed_text(typed)
    if typed.__class__ is float and len(text) > _LONGEST_TYPED and "/" not in text:
        return typed_text(float(f"{typed:.7g}"))
    return text


def short_number(value: float, digits: int) -> str:
    """Return a number whole if it is short, else to significant digits."""
    tidy = float(f"{value:.12g}")
    text = typed_text(tidy)
    if len(text) <= _SHORT and "e" not in text:
        return text
    return shown_text(value, digits)
