"""Where a beam under a uniform load on all spans hogs over its interior supports."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from stepcalc.analysis.batch_lines import section_lines
from stepcalc.analysis.beam_stiffness import solved
from stepcalc.analysis.line_signs import areas

if TYPE_CHECKING:
    from stepcalc.analysis.beam import Beam
    from stepcalc.analysis.beam_batch import SolvedBeams

__all__ = [
    "HoggingZone",
    "hogging_zones",
    "in_zones",
    "interior_supports",
    "joint_moments",
    "zones_of",
]

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
    starts, ends = zones_of(solved(beam))
    return tuple(
        HoggingZone(support, float(start), float(end))
        for support, start, end in zip(interior_supports(beam), starts[0], ends[0], strict=True)
        if np.isfinite(start)
    )


@lru_cache(maxsize=8)
def zones_of(model: SolvedBeams) -> tuple[Array, Array]:
    r"""Return where the hogging zones of beams of one make start and end.

    With the moments :math:`M_A` and :math:`M_B` over its ends, the moment along a span is

    .. math:: M(t) = M_A + (M_B - M_A)\,t/L + w\,t (L - t)/2

    Parameters
    ----------
    model : SolvedBeams

    Returns
    -------
    starts, ends : ndarray of float, shape (beams, interior supports), [length]
        nan for a support without negative moment.
    """
    batch = model.batch
    first, last = batch.support_joints.start, batch.support_joints.stop
    moments, L = joint_moments(model)[:, first:last], batch.spans[:, first : last - 1]
    left, right = moments[:, :-1], moments[:, 1:]
    # roots of t**2 - b t - 2 M_A = 0
    b = L + 2 * (right - left) / L
    with np.errstate(invalid="ignore"):
        root = np.sqrt(b * b + 8 * left)
    later, earlier = 0.5 * (b + root), 0.5 * (b - root)
    # a span that hogs throughout has no root, or none inside
    later = np.where((later >= 0) & (later <= L), later, 0.0)
    earlier = np.where((earlier >= 0) & (earlier <= L), earlier, L)
    peak = np.max(np.abs(moments), axis=1) + np.max(L, axis=1) ** 2 / 8
    hogs = moments[:, 1:-1] < -1e-9 * peak[:, None]
    supports = batch.supports
    starts = np.where(hogs, supports[:, :-2] + later[:, :-1], np.nan)
    return starts, np.where(hogs, supports[:, 1:-1] + earlier[:, 1:], np.nan)


def joint_moments(model: SolvedBeams) -> Array:
    """Return the moments at all ends of spans under a unit load on all spans, a row a beam."""
    joints = model.batch.joints
    count, each = joints.shape
    lines = section_lines(
        model,
        "moment",
        np.repeat(np.arange(count), each),
        joints.ravel(),
        np.ones(joints.size, dtype=np.int64),
    )
    return areas(lines).reshape(joints.shape)


def in_zones(starts: Array, ends: Array, sections: Array, near: Array) -> NDArray[np.bool_]:
    """Return which sections lie in which hogging zone, shape (rows, zones).

    A section may lie in two: where a short span hogs throughout.
    """
    x, reach = sections[:, None], near[:, None]
    return np.asarray((x >= starts - reach) & (x <= ends + reach))
