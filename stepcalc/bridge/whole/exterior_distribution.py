"""Distribution to the exterior girder of a bridge: the general rules of :mod:`bridge.lanes`."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stepcalc.bridge.lanes.deck import Deck
from stepcalc.bridge.lanes.exterior import ExteriorLanes, exterior_lanes
from stepcalc.units import ft

if TYPE_CHECKING:
    from stepcalc.bridge.distribution import Distribution
    from stepcalc.bridge.givens import BridgeNodes
    from stepcalc.sheet.sheet import Sheet

__all__ = ["exterior_distribution"]


def exterior_distribution(
    sheet: Sheet, bridge: BridgeNodes, interior: Distribution
) -> ExteriorLanes:
    """Write the distribution factors of an exterior girder with cross-frames, no skew.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    bridge : BridgeNodes
        The bridge.
    interior : Distribution
        The factors of an interior girder of the same section.

    Returns
    -------
    ExteriorLanes
        All factors in lanes.

    Source
    ------
    That of :func:`stepcalc.bridge.lanes.exterior.exterior_lanes`.
    """
    curb = sheet.step(
        "d_e", bridge.overhang - bridge.barrier_width, ft,
        "exterior girder to the face of the barrier", ref="LRFD 4.6.2.2.1",
    )  # fmt: skip
    deck = Deck(
        bridge.spacing, bridge.slab, curb, bridge.girders, bridge.lanes, bridge.roadway,
        interior.stiffness, bridge.span,
    )  # fmt: skip
    return exterior_lanes(
        sheet, deck, interior_moment=interior.moment_more, interior_shear=interior.shear_more
    )
