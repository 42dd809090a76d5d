"""Fatigue by the Standard Specifications (10.3): allowable stress ranges, redundant."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stepcalc.expr.functions import cases
from stepcalc.units import ksi

if TYPE_CHECKING:
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.nodes import Check, Choice
    from stepcalc.sheet.sheet import Sheet

TABLE = "stress_ranges_std"
_REF = "Std Table 10.3.1A"


@dataclass(frozen=True)
class OlderRanges:
    """Stress ranges of service loads with impact.

    Attributes
    ----------
    truck, lane : Operand, [stress]
        Truck loading and lane loading on all lanes.
    one_lane : Operand, [stress]
        Truck loading on one lane.
    """

    truck: Operand
    lane: Operand
    one_lane: Operand


def older_fatigue(
    sheet: Sheet,
    category: Choice,
    *,
    trucks: Operand,
    ranges: OlderRanges,
    location: str | None = None,
) -> tuple[Check, Check, Check]:
    """Check the stress ranges of a detail for the cycles of the Standard Specifications.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the look-ups and steps.
    category : Choice
        A given whose choices are the table ``stress_ranges_std``.
    trucks : Operand
        Trucks a day in one direction: Case I from 2500 on, else Case II.
    ranges : OlderRanges
        Stress ranges.
    location : str, optional
        Where along the girder.

    Returns
    -------
    tuple of Check
        Truck (2,000,000 or 500,000 cycles), lane (500,000 or 100,000), and one lane for more than
        2,000,000 cycles, which Case II does not ask for (demand 0).

    Source
    ------
    AASHTO Standard Specifications, 17th ed. (2002), Tables 10.3.1A and 10.3.2A; from memory.
    """
    read = sheet.lookup

    def tabulated(name: str, column: str, cycles: str) -> Operand:
        return read(
            name, TABLE, category, column, ksi, f"allowable range, {cycles} cycles", ref=_REF
        )

    most = tabulated("F_sr1", "n_100000", "100,000")
    many = tabulated("F_sr2", "n_500000", "500,000")
    two = tabulated("F_sr3", "n_2000000", "2,000,000")
    over = tabulated("F_sr4", "n_over", "more than 2,000,000")
    busy = trucks >= 2500
    step, ref = sheet.step, "Std Table 10.3.2A"
    words = "Case I: 2500 trucks a day or more", "Case II: fewer than 2500 trucks a day"
    F_truck = step(
        "F_srt", cases((busy, two, words[0]), otherwise=(many, words[1])), ksi,
        "allowable range, truck loading", ref=ref,
    )  # fmt: skip
    F_lane = step(
        "F_srl", cases((busy, many, words[0]), otherwise=(most, words[1])), ksi,
        "allowable range, lane loading", ref=ref,
    )  # fmt: skip
    f_one = step(
        "f_sr1", cases((busy, ranges.one_lane, words[0]), otherwise=(0 * ksi, words[1])), ksi,
        "range of one lane that is checked", ref=ref,
    )  # fmt: skip
    check = sheet.check
    return (
        check("Fatigue, truck loading", ranges.truck <= F_truck, ref=ref, location=location),
        check("Fatigue, lane loading", ranges.lane <= F_lane, ref=ref, location=location),
        check("Fatigue, one lane loaded", f_one <= over, ref=ref, location=location),
    )
