"""Distribution of the Standard Specifications: wheel lines on an interior beam, S over D."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stepcalc.bridge.constants import use
from stepcalc.bridge.lever_rule import FIRST_LANE, SECOND_LANE, wheels_on_girder
from stepcalc.expr.functions import cases
from stepcalc.units import ft

if TYPE_CHECKING:
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.sheet import Sheet

__all__ = ["interior_wheel_lines"]


def interior_wheel_lines(sheet: Sheet, *, spacing: Operand, lanes: Operand | None) -> Operand:
    r"""Write the wheel lines carried by an interior beam under a concrete deck.

    .. math:: DF_1 = S/7.0 \;(S \le 10\,\mathrm{ft}), \qquad DF_2 = S/5.5 \;(S \le 14\,\mathrm{ft})

    Above those spacings the reaction of the wheels on a deck that is simply supported between
    beams takes their place.  Two wheel lines make one lane.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    spacing : Operand, [length]
        Beam spacing.
    lanes : Operand or None
        Number of traffic lanes; None for two or more.

    Returns
    -------
    Operand
        ``DF``, wheel lines.

    Source
    ------
    AASHTO Standard Specifications, 17th ed. (2002), Table 3.23.1, Art. 3.23.2.2; from memory.
    """
    S, ref = spacing, "Std Table 3.23.1"
    one_wheels = wheels_on_girder(S, FIRST_LANE)
    DF_1 = sheet.step(
        "DF_1",
        cases(
            (S <= 10 * ft, S / use(sheet, "D_wl_1"), "S/7.0"),
            otherwise=(one_wheels, "reaction of the wheels, S above 10 ft"),
        ),
        None,
        "wheel lines, one lane",
        ref=ref,
    )
    DF_2 = sheet.step(
        "DF_2",
        cases(
            (S <= 14 * ft, S / use(sheet, "D_wl"), "S/5.5"),
            otherwise=(
                one_wheels + wheels_on_girder(S, SECOND_LANE),
                "reaction of the wheels, S above 14 ft",
            ),
        ),
        None,
        "wheel lines, two or more lanes; from 17 ft on a third lane may count as well",
        ref=ref,
        valid=(S <= 17 * ft,),
    )
    more = "wheel lines on the girder, two or more lanes"
    if lanes is None:
        return sheet.step("DF", DF_2, None, more, ref="Std 3.23.2.2")
    return sheet.step(
        "DF",
        cases((lanes <= 1, DF_1, "one lane"), otherwise=(DF_2, "two or more lanes")),
        None,
        "wheel lines on the girder",
        ref="Std 3.23.2.2",
    )
