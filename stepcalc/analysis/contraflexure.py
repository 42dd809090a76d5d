"""Where a beam under a uniform load on all spans hogs over its interior supports."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from stepcalc.analysis.beam_loads import uniform_on_all_spans
from stepcalc.analysis.beam_response import response

if TYPE_CHECKING:
    from stepcalc.analysis.beam import Beam

__all__ = ["HoggingZone", "hogging_zones", "in_zones", "interior_supports"]

Array = NDArray[np.float64]


@dataclass(frozen=True)
class HoggingZone:
    """The stretch of negative moment beside an interior support.

    Attributes
    ----------
    support : float, [length]
    start, end : float, [length]
        Points of contraflexure, or the ends of the two spans where the moment stays negative.
    """

    support: float
    start: float
    end: float


def interior_supports(beam: Beam) -> tuple[float, ...]:
    """Return the supports with a span between supports on either side."""
    return beam.supports[1:-1]


@lru_cache(maxsize=128)
def hogging_zones(beam: Beam) -> tuple[HoggingZone, ...]:
    """Return the stretches between contraflexure points at interior supports, exactly.

    Parameters
    ----------
    beam : Beam

    Returns
    -------
    tuple of HoggingZone
        From left to right; an interior support without negative moment (a hinge) has none.

    Source
    ------
    AASHTO LRFD Bridge Design Specifications, 8th ed., 2017, Art. 3.6.1.3.1: points of contraflexure
    under a uniform load on all spans (from memory); the points by statics.

    Examples
    --------
    >>> from stepcalc.analysis.beam import Beam
    >>> [zone] = hogging_zones(Beam((80.0, 80.0)))
    >>> round(zone.start, 9), round(zone.end, 9)
    (60.0, 100.0)
    """
    inner = interior_supports(beam)
    if not inner:
        return ()
    moment = response(beam, uniform_on_all_spans(beam)).moment
    roots = np.array(moment.roots())
    peak = max(abs(moment.maximum().value), abs(moment.minimum().value))
    zones = []
    for index, support in enumerate(inner, 1):
        if float(moment(support)) >= -1e-9 * peak:
            continue
        left, right = beam.supports[index - 1], beam.supports[index + 1]
        before = roots[(roots < support) & (roots >= left)]
        after = roots[(roots > support) & (roots <= right)]
        start = float(before.max()) if len(before) else left
        end = float(after.min()) if len(after) else right
        zones.append(HoggingZone(support, start, end))
    return tuple(zones)


def in_zones(beam: Beam, sections: Array) -> NDArray[np.bool_]:
    """Return which sections lie in which hogging zone, shape (zones, sections).

    A section may lie in two: where a short span hogs throughout.
    """
    near = 1e-9 * beam.length
    zones = hogging_zones(beam)
    inside = [(sections >= z.start - near) & (sections <= z.end + near) for z in zones]
    return np.array(inside, dtype=np.bool_).reshape(len(zones), len(sections))
