"""Wheel lines of an exterior stringer by the Standard Specifications."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stepcalc.bridge.constants import use
from stepcalc.bridge.lanes.lever import EXTERIOR_LEVER_MORE
from stepcalc.expr.functions import cases, maximum
from stepcalc.units import ft

if TYPE_CHECKING:
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.sheet import Sheet

__all__ = ["exterior_wheel_lines"]


def exterior_wheel_lines(
    sheet: Sheet,
    *,
    spacing: Operand,
    curb: Operand,
    girders: Operand,
    lanes: Operand,
    proof: str | None = "wheels",
) -> Operand:
    r"""Write the wheel lines of an exterior stringer under a concrete deck on steel beams.

    .. math:: DF = S/5.5 \;(S \le 6\,\mathrm{ft}), \qquad
        DF = \frac{S}{4.0 + 0.25 S} \;(6 < S \le 14\,\mathrm{ft})

    with four or more stringers, and never less than the reaction of the wheels on a deck that is
    simply supported between stringers.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    spacing, curb : Operand, [length]
        Stringer spacing; exterior stringer to the face of the curb.
    girders, lanes : Operand
        Numbers of stringers and of traffic lanes.
    proof : {"wheels"} or None
        Whether the lever rule shows its wheels.

    Returns
    -------
    Operand
        ``DF_e``, wheel lines; two make one lane.

    Source
    ------
    AASHTO Standard Specifications, 17th ed. (2002), Art. 3.23.2.3.1.2 and 3.23.2.3.1.5; from
    memory.
    """
    S = spacing.magnitude(ft)
    inputs = {
        "spacing": spacing, "curb": curb, "first": use(sheet, "b_wheel"),
        "lane": 1 * use(sheet, "b_lane"),
    }  # fmt: skip
    intensity = {
        "m_1": 1 * use(sheet, "r_2"), "m_2": use(sheet, "r_2"), "m_3": use(sheet, "r_3"),
        "m_4": use(sheet, "r_4"),
    }  # fmt: skip
    in_lanes = sheet.computed(
        "R_w", EXTERIOR_LEVER_MORE, inputs | intensity | {"lanes": lanes}, None,
        "lever rule, every number of lanes with its load intensity, in lanes",
        ref="Std 3.23.2.3.1.2, 3.12.1",
        proof="wheels, Standard Specifications" if proof else None,
    )  # fmt: skip
    lever = sheet.step(
        "DF_w", 2 * in_lanes, None, "wheel lines by the lever rule, two to a lane",
        ref="Std 3.23.2.3.1.2",
    )  # fmt: skip
    least = sheet.step(
        "DF_S",
        cases(
            (girders <= 3, 0, "fewer than four stringers: no least value"),
            (spacing <= 6 * ft, S / use(sheet, "D_wl").magnitude(ft), "S/5.5"),
            (spacing <= 14 * ft, S / (4 + 0.25 * S), "S/(4.0 + 0.25 S)"),
            otherwise=(0, "S above 14 ft: lever rule"),
        ),
        None, "least wheel lines", ref="Std 3.23.2.3.1.5",
    )  # fmt: skip
    return sheet.step(
        "DF_e", maximum(lever, least), None, "wheel lines of the exterior stringer",
        ref="Std 3.23.2.3.1",
    )  # fmt: skip
