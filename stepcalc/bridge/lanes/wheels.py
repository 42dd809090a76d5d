"""Where wheel lines stand for the lever rule, any number of lanes; floats and arrays."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any

import numpy as np

from stepcalc.errors import RangeError

__all__ = [
    "MOST_LANES",
    "WHEELS",
    "check_lanes",
    "exterior_arms",
    "interior_distances",
    "largest_with_presence",
    "multiple_presence",
]

WHEELS = (0.0, 6.0)
"""The wheel lines of a truck, ft from the first of them."""
MOST_LANES = 40
_LANE = 12.0  # ft
_EDGE = 2.0  # ft from a wheel to the edge of its lane


def check_lanes(lanes: Any) -> int:
    """Return the greatest number of lanes asked for.

    Parameters
    ----------
    lanes : float or array

    Returns
    -------
    int

    Raises
    ------
    RangeError
        If it is not from 1 to 40.
    """
    most = float(np.max(lanes))
    if not (math.isfinite(most) and 1 <= most <= MOST_LANES):
        raise RangeError(f"{most:g} lanes are to be loaded; give 1 to {MOST_LANES}")
    return round(most)


def exterior_arms(spacing: Any, curb: Any, first: Any, lane: Any, lanes: int) -> list[Any]:
    """Return the distance of every wheel line from the first interior girder.

    Parameters
    ----------
    spacing, curb, first, lane : float or array
        Girder spacing, exterior girder to curb, curb to the first wheel, truck to truck, ft.
    lanes : int
        Lanes loaded, from the curb inward.

    Returns
    -------
    list of float or array
        Two for each lane, ft; a wheel beyond the hinge has a negative one.
    """
    reach = np.asarray(spacing) + np.asarray(curb) - np.asarray(first)
    return [
        reach - number * np.asarray(lane) - wheel for number in range(lanes) for wheel in WHEELS
    ]


def interior_distances(lanes: int) -> list[tuple[float, float]]:
    """Return the distances of the wheel lines of each lane from an interior girder.

    The first truck stands with one wheel over the girder, 2 ft within its lane; the next lane's
    truck, beyond that edge, at 4 and 10 ft; further lanes by turns on the two sides.

    Parameters
    ----------
    lanes : int
        Lanes loaded.

    Returns
    -------
    list of (float, float)
        Near and far wheel, ft, one pair for each lane.

    Examples
    --------
    >>> interior_distances(4)
    [(0.0, 6.0), (4.0, 10.0), (12.0, 18.0), (16.0, 22.0)]
    """
    found = []
    for number in range(lanes):
        side, away = number % 2, number // 2
        near = 2 * _EDGE + (away * _LANE) if side else away * _LANE
        found.append((near, near + WHEELS[1]))
    return found


def multiple_presence(lanes: int, factors: Sequence[Any]) -> Any:
    """Return the factor of a number of loaded lanes; `factors` are for 1, 2, 3, and 4 or more."""
    return factors[min(lanes, len(factors)) - 1]


def largest_with_presence(reactions: Sequence[Any], factors: Sequence[Any], lanes: Any) -> Any:
    """Return the largest of m R over two lanes and more; m R of one lane where there is but one.

    Parameters
    ----------
    reactions : sequence of float or array
        R with 1, 2, ... lanes loaded, without multiple presence.
    factors : sequence of float or array
        m of 1, 2, 3, and 4 or more lanes.
    lanes : float or array
        Number of design lanes.

    Returns
    -------
    float or array
    """
    best = np.where(np.asarray(lanes) < 2, factors[0] * reactions[0], 0.0)
    for number, reaction in enumerate(reactions[1:], 2):
        value = np.where(
            np.asarray(lanes) >= number, multiple_presence(number, factors) * reaction, 0.0
        )
        best = np.maximum(best, value)
    return float(best) if np.ndim(best) == 0 else best
