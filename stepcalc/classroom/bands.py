"""How far an honest answer by hand may lie from the key: three significant figures carried on."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

from stepcalc.sheet.evaluation import recalculate, twin

__all__ = ["HAND_DIGITS", "Band", "bands", "by_hand"]

HAND_DIGITS = 3


@dataclass(frozen=True, slots=True)
class Band:
    """The values accepted for one node, in the unit in which it is shown.

    ``exact`` is carried in full; ``hand`` follows from values rounded at every step.
    """

    name: str
    exact: float
    hand: float
    low: float
    high: float
    unit: str

    def holds(self, number: float) -> bool:
        """Say whether a number in the unit of the band lies in it."""
        return self.low <= number <= self.high


def by_hand(sheet: Any, digits: int = HAND_DIGITS) -> Any:
    """Return the sheet as worked by hand: every result rounded to the digits and carried so."""
    worked = twin(sheet)
    worked.carry, worked.digits = "shown", digits
    worked._values = recalculate(worked, sheet._values.copy())
    return worked


def bands(sheet: Any, digits: int = HAND_DIGITS) -> dict[str, Band]:
    """Return the band of every step of a sheet that has a value, by path.

    The half width is the distance between the value carried in full and the one carried rounded,
    and one unit of the last digit: others round in another order and the other way.

    Parameters
    ----------
    sheet : Sheet
    digits : int
        Significant digits that hand work carries.
    """
    exact, hand = twin(sheet), by_hand(sheet, digits)
    exact.carry = "full"
    exact._values = recalculate(exact, sheet._values.copy())
    found = {}
    for node in exact.steps:
        other = hand[node.path].number
        if node.defined:
            number = node.number
            room = last_place(number, digits)
            room += abs(other - number) if other == other else 0.0
            low, high = number - room, number + room
            found[node.path] = Band(node.path, number, other, low, high, node.info.text)
    return found


def last_place(number: float, digits: int = HAND_DIGITS) -> float:
    """Return one unit of the last significant digit of a number.

    Examples
    --------
    >>> last_place(918.75), last_place(0.0)
    (1.0, 0.0)
    """
    if number == 0.0 or not math.isfinite(number):
        return 0.0
    return float(10.0 ** (math.floor(math.log10(abs(number))) - digits + 1))
