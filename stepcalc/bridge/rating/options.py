"""What a rating needs beyond the girder: condition, system, traffic, permit vehicle."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from stepcalc.bridge.fields import Condition, PermitKind, System

if TYPE_CHECKING:
    from stepcalc.bridge.data import BridgeData

__all__ = ["Condition", "PermitKind", "RatingData", "System", "rating_data"]


@dataclass(frozen=True)
class RatingData:
    """The table ``[rating]`` of a bridge file.

    Attributes
    ----------
    condition : Condition
    system : System
    trucks : float or None
        Trucks a day in one direction.
    measured : bool
        Whether the thickness of the overlay was measured in the field.
    impact : float
        Dynamic load allowance of legal and permit loads.
    legal_factor : float or None
        The owner's live-load factor of legal loads.
    permit : str or None
        A vehicle, by its id or as ``"name: axles @ spacings"``.
    permit_kind : PermitKind
    source : str
        Where the condition was read.
    trucks_source, impact_source, permit_source : str
        Where the others were read; empty for `source`, of the impact for the code's own value.
    """

    condition: Condition
    system: System
    trucks: float | None
    measured: bool
    impact: float
    legal_factor: float | None
    permit: str | None
    permit_kind: PermitKind
    source: str
    trucks_source: str = ""
    impact_source: str = ""
    permit_source: str = ""


def rating_data(bridge: BridgeData) -> RatingData | None:
    """Return what a bridge file says of its rating; None where it has no such table.

    Parameters
    ----------
    bridge : BridgeData

    Returns
    -------
    RatingData or None
    """
    if bridge.condition is None:
        return None
    impact: Any = bridge.rating_impact
    return RatingData(
        bridge.condition, bridge.system, bridge.rating_trucks, bool(bridge.overlay_measured),
        0.33 if impact is None else impact, bridge.legal_factor, bridge.permit_vehicle,
        bridge.permit_kind, bridge.source_of("condition"),
        bridge.source_of("rating_trucks"),
        "" if impact is None else bridge.source_of("rating_impact"),
        bridge.source_of("permit_vehicle"),
    )  # fmt: skip
