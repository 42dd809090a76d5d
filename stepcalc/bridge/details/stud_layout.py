"""The layout of studs in full rows, the pitch rounded down."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stepcalc.bridge.constants import use
from stepcalc.errors import RangeError
from stepcalc.expr.functions import ceil, floor, minimum, total
from stepcalc.units import Q_, inch

if TYPE_CHECKING:
    from collections.abc import Sequence

    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.nodes import Check
    from stepcalc.sheet.sheet import Sheet


@dataclass(frozen=True)
class StudRegion:
    """A length of girder with one pitch.

    Attributes
    ----------
    name : str
        Such as ``"0.0L to 0.1L"``.
    length : Operand, [length]
    fatigue_pitch : Operand, [length]
        What fatigue allows at its worst end.
    """

    name: str
    length: Operand
    fatigue_pitch: Operand


@dataclass(frozen=True)
class StudLayout:
    """Studs from the point of no moment to the greatest moment.

    Attributes
    ----------
    pitches : tuple of Operand, [length]
        One for each region.
    rows : tuple of Operand
        Rows in each region.
    studs : Operand
        All studs of these regions.
    checks : tuple of Check
        Number for strength, then the least pitch of each region.
    """

    pitches: tuple[Operand, ...]
    rows: tuple[Operand, ...]
    studs: Operand
    checks: tuple[Check, ...]


def full_rows(sheet: Sheet, *, required: Operand, per_row: Operand) -> tuple[Operand, Operand]:
    r"""Write the number of full rows, and the studs in them.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    required : Operand
        Studs that strength needs, not rounded.
    per_row : Operand
        Studs in one row.

    Returns
    -------
    tuple of Operand
        The steps ``N_rows`` and ``N_studs``.

    Source
    ------
    Common practice, no source: studs are bought and welded in full rows.
    """
    rows = sheet.step(
        "N_rows", ceil(required / per_row), None, "full rows that strength needs",
        ref="rounded up to full rows",
    )  # fmt: skip
    studs = sheet.step("N_studs", rows * per_row, None, "studs in these rows", ref="full rows")
    return rows, studs


def stud_layout(
    sheet: Sheet,
    regions: Sequence[StudRegion],
    *,
    required: Operand,
    per_row: Operand,
    diameter: Operand,
    greatest: Operand,
    grid: Operand,
    older: bool = False,
) -> StudLayout:
    r"""Write pitch and rows of each region, and check the number for strength.

    .. math:: p_i = g \left\lfloor \frac{\min(p_{fat,i},\; p_{str},\; p_{lim})}{g} \right\rfloor,
        \quad p_{str} = \frac{\sum L_i}{\lceil n_{req}/n_{row} \rceil}, \quad
        N_i = \lceil L_i / p_i \rceil

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    regions : sequence of StudRegion
        From the point of no moment to the greatest moment, in order.
    required : Operand
        Studs that strength needs over all of them.
    per_row : Operand
        Studs in one row.
    diameter : Operand, [length]
        Of a stud.
    greatest : Operand, [length]
        Greatest pitch that the code allows.
    grid : Operand, [length]
        The pitch is a multiple of it, rounded down: 1/2 in, or 3 in.
    older : bool
        Cite the Standard Specifications.

    Returns
    -------
    StudLayout
        Steps ``N_rows N_studs p_str``, for each region a part with ``p N_p``, and the table.

    Raises
    ------
    RangeError
        If there is no region.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 6.10.10.1.2 and 6.10.10.4.1 (limits); the rounding is common
    practice, no source.
    """
    if not regions:
        raise RangeError("the stud layout has no region; want at least one length of girder")
    step = sheet.step
    needed, _ = full_rows(sheet, required=required, per_row=per_row)
    whole = total(region.length for region in regions)
    p_str = step(
        "p_str", whole / needed, inch, "pitch that gives the rows of strength", ref="geometry"
    )
    pitches: list[Operand] = []
    rows: list[Operand] = []
    least: list[Check] = []
    apart = use(sheet, "r_pd")
    for number, region in enumerate(regions, 1):
        with sheet.part(f"Pitch, {region.name}"):
            most = minimum(region.fatigue_pitch, p_str, greatest)
            p = step("p", grid * floor(most / grid), inch, "pitch, rounded down to the grid",
                     ref="rounded down to the grid")  # fmt: skip
            count = step(
                "N_p", ceil(region.length / p), None, "rows", ref="rounded up to full rows",
                symbol=f"N_{number}",
            )  # fmt: skip
            least.append(
                sheet.check(
                    f"Least pitch, {region.name}",
                    apart * diameter <= p,
                    ref="Std 10.38.2" if older else "LRFD 6.10.10.1.2",
                    location=region.name,
                )
            )
        pitches.append(p)
        rows.append(count)
    studs = step(
        "N_all", per_row * total(rows), None, "studs from no moment to the greatest moment",
        ref="full rows",
    )  # fmt: skip
    enough = sheet.check("Studs for strength", required <= studs,
                         ref="Std 10.38.5.1.2" if older else "LRFD 6.10.10.4.1")  # fmt: skip
    sheet.table(
        ["Region", "Length", "Pitch by fatigue", "Pitch", "Rows"],
        [
            [region.name, region.length, region.fatigue_pitch, p, count]
            for region, p, count in zip(regions, pitches, rows, strict=True)
        ],
        "Layout of studs in full rows, from the point of no moment to the greatest moment",
    )
    return StudLayout(tuple(pitches), tuple(rows), studs, (enough, *least))


def half_inch(sheet: Sheet) -> Operand:
    """Return the usual grid of the pitch, 1/2 in, as a given.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives it.

    Returns
    -------
    Operand
        The given ``g_p``.

    Source
    ------
    Common practice, no source.
    """
    grid: Operand = sheet.given(
        "g_p", Q_(0.5, "inch"), "grid of the pitch", assumed="common practice"
    )
    return grid
