"""Whether what a bridge carries on its deck goes together: barriers, sidewalks, utilities."""

from __future__ import annotations

import math
import re
from typing import TYPE_CHECKING

from stepcalc.analysis.vehicles import vehicle
from stepcalc.bridge.fields import BarrierSharing, Specification
from stepcalc.bridge.utilities import read_utilities
from stepcalc.errors import RangeError

if TYPE_CHECKING:
    from stepcalc.bridge.data import BridgeData

__all__ = ["barrier_percentages", "check_deck_loads"]

_WALK = ("sidewalk_width", "sidewalk_thickness", "sidewalks", "sidewalk_separated")
_RAIL = ("rail_width", "rail_weight")


def barrier_percentages(text: str) -> tuple[float, ...]:
    """Return the percentages of a barrier on the first girders from the edge.

    Parameters
    ----------
    text : str
        Such as ``"60, 40"``.

    Returns
    -------
    tuple of float
        One to three, 100 together.

    Raises
    ------
    RangeError
        If they are not.
    """
    parts = [part for part in re.split(r"[,/;\s%]+|percent|and", text) if part]
    try:
        found = tuple(float(part) for part in parts)
    except ValueError:
        found = ()
    right = all(math.isfinite(part) and 0 <= part <= 100 for part in found)
    if not right or not 1 <= len(found) <= 3 or abs(sum(found) - 100) > 1e-9:
        raise RangeError(
            f"barrier_shares is {text[:60]!r}; want one to three percentages from the edge inward, "
            "100 together, such as '60, 40'"
        )
    return found


def check_deck_loads(data: BridgeData) -> None:
    """Check what the deck of a bridge carries.

    Parameters
    ----------
    data : BridgeData

    Raises
    ------
    RangeError
        If keys that go together are not all there, or one is there that does not belong.
    """
    _check_barriers(data)
    _check_walks(data)
    _check_rating(data)
    if data.utilities is not None:
        for item in read_utilities(data.utilities):
            for number, _ in item.shares:
                if number > data.girders:
                    raise RangeError(
                        f"utilities hangs {item.name!r} on girder {number}, but girders is "
                        f"{data.girders}; number them from 1 at the left"
                    )
    if data.owner_factors and data.specification is not Specification.LRFD:
        raise RangeError(
            f"{next(iter(data.owner_factors))} is a factor of LRFD, but specification is "
            f"{data.specification.value!r}; leave the table [factors] out"
        )
    if data.owner_factors and data.details is not None:
        raise RangeError(
            f"{next(iter(data.owner_factors))} cannot be set for a composite or welded girder "
            "here; leave the table [factors] out"
        )


def _check_barriers(data: BridgeData) -> None:
    rule = data.barrier_sharing
    for key, belongs in (
        ("barrier_girders", BarrierSharing.FIRST),
        ("barrier_shares", BarrierSharing.SHARES),
    ):
        if (getattr(data, key) is not None) is not (rule is belongs):
            raise RangeError(
                f"{key} goes with barrier_sharing = {belongs.value!r}, and must be given with it; "
                f"barrier_sharing is {rule.value!r}"
            )
    if data.barrier_shares is not None:
        shares = barrier_percentages(data.barrier_shares)
        if data.girders < 2 * len(shares):
            raise RangeError(
                f"barrier_shares names {len(shares)} girders from each edge, but girders is "
                f"{data.girders}; want {2 * len(shares)} or more, so that the two groups do not "
                "meet"
            )


def _check_rating(data: BridgeData) -> None:
    keys = ("rating_trucks", "overlay_measured", "rating_impact", "legal_factor", "permit_vehicle")
    if data.condition is None:
        for key in keys:
            if getattr(data, key) is not None:
                raise RangeError(f"{key} belongs to a rating, which needs condition in [rating]")
        return
    older = data.specification is not Specification.LRFD
    whole = data.details
    if whole is not None and (whole.continuous or older or not whole.connected):
        raise RangeError(
            "condition asks for a rating, which is made of a composite girder on a simple span by "
            "'LRFD', or of a rolled beam without shear connectors, here; leave the table [rating] "
            "out"
        )
    if data.permit_vehicle is not None:
        vehicle(data.permit_vehicle)


def _check_walks(data: BridgeData) -> None:
    given = [key for key in _WALK if getattr(data, key) is not None]
    if given and len(given) < len(_WALK):
        missing = next(key for key in _WALK if key not in given)
        raise RangeError(f"{missing} is missing; a sidewalk has {', '.join(_WALK)}")
    separated = bool(data.sidewalk_separated)
    for key in _RAIL:
        if (getattr(data, key) is not None) is not separated:
            raise RangeError(
                f"{key} belongs to a walk that the barrier separates from traffic, and must be "
                "given with sidewalk_separated = true"
            )
    if given and (data.details is not None or data.specification is not Specification.LRFD):
        raise RangeError(
            "sidewalks are checked for rolled beams without shear connectors by 'LRFD' here; leave "
            "the table [sidewalk] out and enter the weight of the walk with the barriers"
        )
