"""What skew does to the lanes of a girder (4.6.2.2.2e, 4.6.2.2.3c)."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from stepcalc.bridge.lanes.deck import Deck
from stepcalc.bridge.lanes.skew import skew_corrections
from stepcalc.bridge.section_fields import SkewReduction

if TYPE_CHECKING:
    from stepcalc.bridge.givens import BridgeNodes
    from stepcalc.bridge.whole.demands import Shares
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.sheet import Sheet

__all__ = ["skewed_shares"]


def skewed_shares(sheet: Sheet, bridge: BridgeNodes, shares: Shares, stiffness: Operand) -> Shares:
    """Return the distribution factors with the skew corrections, where the supports are skew.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    bridge : BridgeNodes
        The bridge; its details have the angle.
    shares : Shares
        Factors of square supports.
    stiffness : Operand, [length**4]
        ``K_g``.

    Returns
    -------
    Shares
        Moment reduced only if the data say so; shear increased for every girder.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Tables 4.6.2.2.2e-1 and 4.6.2.2.3c-1; from memory.
    """
    details = bridge.data.details
    if details is None or details.skew_angle is None:
        return shares
    with sheet.part("Skew"):
        theta = sheet.given("theta", details.skew_angle, "skew of the support lines",
                            source=bridge.data.source_of("skew_angle"))  # fmt: skip
        deck = Deck(
            bridge.spacing, bridge.slab, bridge.overhang - bridge.barrier_width, bridge.girders,
            bridge.lanes, bridge.roadway, stiffness, bridge.span,
        )  # fmt: skip
        found = skew_corrections(
            sheet, deck, theta, reduce_moment=details.skew_reduction is SkewReduction.TAKEN
        )

        def turned(name: str, words: str, factor: Operand, share: Operand) -> Operand:
            return sheet.step(name, factor * share, None, f"{words}, skew supports",
                              ref="LRFD 4.6.2.2.2e, 4.6.2.2.3c")  # fmt: skip

        return replace(
            shares,
            moment=turned("g_Ms", "lanes for moment", found.moment, shares.moment),
            shear=turned("g_Vs", "lanes for shear", found.shear, shares.shear),
            fatigue_moment=turned("g_fMs", "lanes for moment, fatigue", found.moment,
                                  shares.fatigue_moment),
            fatigue_shear=turned("g_fVs", "lanes for shear, fatigue", found.shear,
                                 shares.fatigue_shear),
        )  # fmt: skip
