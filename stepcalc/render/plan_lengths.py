"""Lengths in feet as plans write them, behind the value that the formulas use.

The number in feet stays what it is: substitutions evaluate with it, and a person can type it.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, TypeVar

from stepcalc.units import feet_and_inches

if TYPE_CHECKING:
    from stepcalc.render.walker import Walker

F = TypeVar("F")

_INCHES = 12.0
_PARTS = 16
_LONGEST = 1e6
_EXACT = 1e-9


def value_as_shown(walker: Walker[F], node: Any, number: str, unit: str) -> F:
    """Return a value, and behind it the plan's form where the sheet asks for it.

    Parameters
    ----------
    walker : Walker
    node : handle of a sheet
    number, unit : str
        The value as the sheet prints it.
    """
    value = walker.value(number, unit)
    if unit != "ft" or not node.sheet.feet_inches:
        return value
    words = plan_form(node.sheet._values[node.slot] / _INCHES)
    if not words:
        return value
    return walker.dialect.row([value, walker.dialect.text(f" ({words})")])


def plan_form(feet: float) -> str:
    """Return a length as plans write it, with "about" where a sixteenth does not hit it.

    Returns
    -------
    str
        Empty for what no plan would write: less than half of a sixteenth, or endless.

    Examples
    --------
    >>> plan_form(62.5), plan_form(21.4642), plan_form(0.001)
    ('62 ft-6 in', 'about 21 ft-5 9/16 in', '')
    """
    if not 0.5 <= abs(feet) * _INCHES * _PARTS < _LONGEST * _INCHES * _PARTS:
        return ""
    sixteenths = feet * _INCHES * _PARTS
    exact = abs(sixteenths - round(sixteenths)) <= _EXACT * max(1.0, abs(sixteenths))
    return ("" if exact else "about ") + feet_and_inches(feet, _PARTS)
