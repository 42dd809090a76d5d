"""A permit vehicle beside mixed traffic."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stepcalc.bridge.constants import use
from stepcalc.expr.functions import maximum

if TYPE_CHECKING:
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.sheet import Sheet
    from stepcalc.units import Unit

__all__ = ["permit_with_traffic"]


def permit_with_traffic(
    sheet: Sheet,
    *,
    permit: Operand,
    design: Operand,
    one_lane: Operand,
    more_lanes: Operand,
    unit: Unit,
    one_by_lever: bool,
    name: str = "G",
) -> Operand:
    r"""Write the effect of a permit vehicle in one lane with design load in the others.

    .. math:: G = G_p \frac{g_1}{Z} + G_D \left(g_m - \frac{g_1}{Z}\right)

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the step.
    permit, design : Operand
        Effect of the permit vehicle and of the design load, one lane each, with impact.
    one_lane, more_lanes : Operand
        ``g_1`` and ``g_m``, one lane, and several lanes loaded.
    unit : Unit
        Of the effect.
    one_by_lever : bool
        Whether ``g_1`` comes from the lever rule or the rigid section: then Z is 1, else 1.20.
    name : str
        Of the step.

    Returns
    -------
    Operand
        The effect on the girder.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Eq. 4.6.2.2.5-1; from memory.
    """
    if one_by_lever:
        Z: Operand = sheet.given(
            "Z", 1.0, "lever rule was used for one lane", source="LRFD 4.6.2.2.5"
        )
    else:
        Z = use(sheet, "Z_mix")
    beside = maximum(more_lanes - one_lane / Z, 0)
    return sheet.step(
        name, permit * one_lane / Z + design * beside, unit,
        "permit vehicle in one lane, design load in the others", ref="LRFD 4.6.2.2.5-1",
    )  # fmt: skip
