r"""The largest bending moment that a train of axles causes on a simple span, exact.

For a fixed position of the train the moment has its peak under an axle. While the same axles stay
on the span, the moment under axle :math:`k` at section :math:`c` is, with :math:`R` their
resultant, :math:`e` its distance beyond axle :math:`k` and :math:`K` the moment about axle
:math:`k` of the axles before it,

.. math:: M_k(c) = \frac{R\,c\,(L - c - e)}{L} - K

which peaks where midspan halves the distance between axle and resultant. An axle that enters or
leaves the span does so where its own ordinate is zero and makes the slope of :math:`M_k(c)` jump
upward, so no maximum lies there: the largest of these peaks over every run of neighbouring axles
that stays on the span is the true maximum.

A vehicle with a variable spacing governs at its shortest: the ordinates of a simple span fall off
to both sides of the section on which an axle stands, so bringing the others closer to that axle
never lowers the moment.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from math import inf
from typing import TYPE_CHECKING, Any

import numpy as np

from stepcalc.analysis.axle_on_section import best_axle_on_section
from stepcalc.analysis.influence import Array, moment_ordinate
from stepcalc.analysis.placement import TIE, Axles, Best, Placement, axles_of, compact

if TYPE_CHECKING:
    from numpy.typing import ArrayLike

__all__ = ["MomentPeak", "maximum_moment", "maximum_moment_at", "moment_peaks"]


def maximum_moment(
    axles: Sequence[float],
    spacings: Sequence[float],
    *,
    span: ArrayLike,
    factor: ArrayLike = 1.0,
    uniform: ArrayLike = 0.0,
) -> Placement:
    r"""Return the largest moment anywhere on a simple span, under axles and a uniform load.

    .. math:: \max_{c,\,\text{position}} \; f\,M_\text{train}(c) + w\,\frac{c\,(L - c)}{2}

    With ``factor = 1`` and ``uniform = 0`` it is the classic absolute maximum of the train; with
    the dynamic load allowance in ``factor`` and the lane load in ``uniform`` it is the combined
    maximum at one section.

    Parameters
    ----------
    axles : sequence of float, length n, [force]
        Axle forces, first axle first.
    spacings : sequence of float, length n - 1, [length]
        Distances between neighbouring axles.
    span : array_like of float, shape (...), [length]
        The span, centre to centre of bearings.
    factor : array_like of float, shape (...)
        What the effect of the axles is multiplied by, such as 1 + IM.
    uniform : array_like of float, shape (...), [force / length]
        A uniform load that covers the span.

    Returns
    -------
    Placement
        ``value`` in [force * length]; ``axle`` is the axle on the governing section. The mirrored
        train gives the same value at the mirrored section; the train is shown heading left.

    Raises
    ------
    ShapeError
        If axles and spacings do not fit each other, or the arrays do not broadcast.

    Source
    ------
    Statics: critical-position theorem for every run of neighbouring axles. No clause.

    Examples
    --------
    8, 32 and 32 kip at 14 ft on 62 ft: 72 (31 - 7/3)**2 / 62 - 112 kip ft, under the middle axle.

    >>> found = maximum_moment([8, 32, 32], [14, 14], span=62.0)
    >>> print(f"{found.value:.2f} at {found.section:.3f} under axle {found.axle}")
    842.32 at 28.667 under axle 1
    """
    groups = _groups(axles_of(axles, spacings))
    (L, f, w), restore = compact(span, factor, uniform)
    best = Best(np.broadcast_shapes(L.shape, f.shape, w.shape))
    with np.errstate(all="ignore"):
        if best.value.ndim == 0:
            _offer_scalar(best, groups, float(L), float(f), float(w))
        else:
            for index, group in enumerate(groups):
                value, _, stays = group.peak(L, f, w)
                best.offer(np.where(stays, value, np.nan), index)
        axle, resultant, beyond, first = _columns(groups)[:, best.index]
        section = _section(resultant, beyond, L, f, w)
    return Placement(
        restore(best.found),
        restore(section),
        restore(section - first),
        restore(axle.astype(np.int64)),
        restore(np.zeros(best.value.shape, dtype=np.bool_)),
    )


def maximum_moment_at(
    axles: Sequence[float], spacings: Sequence[float], section: ArrayLike, *, span: ArrayLike
) -> Placement:
    """Return the largest moment at a section of a simple span under axles, both headings.

    Between two positions in which some axle stands on the section the moment is linear in the
    position, or bends upward where an axle enters or leaves, so the largest value has an axle on
    the section.

    Parameters
    ----------
    axles : sequence of float, length n, [force]
        Axle forces, first axle first.
    spacings : sequence of float, length n - 1, [length]
        Distances between neighbouring axles.
    section, span : array_like of float, shape (...), [length]
        Where the moment is wanted, from the left support, and the span.

    Returns
    -------
    Placement
        ``value`` in [force * length]; ``axle`` is the axle on the section.

    Raises
    ------
    ShapeError
        If axles and spacings do not fit each other, or the arrays do not broadcast.

    Source
    ------
    Statics: influence line for moment in a simple beam. No clause.

    Examples
    --------
    >>> print(f"{maximum_moment_at([8, 32, 32], [14, 14], 31.0, span=62.0).value:.1f}")
    836.0
    """
    train = axles_of(axles, spacings)
    return best_axle_on_section(train, section, span, _ordinates)


def _ordinates(position: Array, section: Array, span: Array) -> Array:
    return moment_ordinate(position, section, span=span)


@dataclass(frozen=True)
class MomentPeak:
    """The peak moment under one axle while one run of neighbouring axles is on the span.

    Attributes
    ----------
    axle, first, last : int
        Index of the axle at the peak, and of the first and last axle on the span.
    section, moment : float
        Where, from the left support, and how much.
    stays : bool
        Whether the whole run stays on the span; only then is it a candidate.
    """

    axle: int
    first: int
    last: int
    section: float
    moment: float
    stays: bool


def moment_peaks(
    axles: Sequence[float],
    spacings: Sequence[float],
    *,
    span: float,
    factor: float = 1.0,
    uniform: float = 0.0,
) -> tuple[MomentPeak, ...]:
    """Return every candidate that `maximum_moment` compares, for one span.

    Parameters
    ----------
    axles, spacings : sequence of float
        As for `maximum_moment`.
    span, factor, uniform : float
        As for `maximum_moment`.

    Returns
    -------
    tuple of MomentPeak
        Longest runs first; the largest moment of those that stay on the span is the maximum.

    Raises
    ------
    ShapeError
        If axles and spacings do not fit each other.

    Source
    ------
    Statics: critical-position theorem. No clause.

    Examples
    --------
    >>> peaks = moment_peaks([8, 32, 32], [14, 14], span=62.0)
    >>> max(round(peak.moment, 2) for peak in peaks if peak.stays)
    842.32
    """
    found = []
    for group in _groups(axles_of(axles, spacings)):
        moment, section, stays = group.peak(span, factor, uniform)
        found.append(MomentPeak(group.axle, group.first, group.last, section, moment, bool(stays)))
    return tuple(found)


@dataclass(frozen=True)
class _Group:
    """One axle on the section, and the run of neighbouring axles on the span with it."""

    axle: int
    first: int
    last: int
    resultant: float
    beyond: float
    moment_before: float
    reach_before: float
    reach_after: float
    behind_first: float

    def peak(self, L: Any, f: Any, w: Any) -> tuple[Any, Any, Any]:
        """Return the peak under the axle, its section, and whether the run stays on the span."""
        R, e = self.resultant, self.beyond
        section = _section(R, e, L, f, w)
        train = R * section * (L - section - e) / L - self.moment_before
        value = f * train + w * section * (L - section) / 2
        stays = (section >= self.reach_before) & (section + self.reach_after <= L)
        return value, section, stays


def _section(R: Any, e: Any, L: Any, f: Any, w: Any) -> Any:
    """Return where axles and uniform load together peak under the axle, e short of R."""
    return (f * R * (L - e) + w * L * L / 2) / (2 * f * R + w * L)


def _offer_scalar(best: Best, groups: tuple[_Group, ...], L: float, f: float, w: float) -> None:
    """Find the best group with plain floats: ten times faster than arrays of one element."""
    if not L > 0:
        return
    largest, kept = -inf, 0
    for index, group in enumerate(groups):
        if 2 * f * group.resultant + w * L == 0:
            continue
        value, _, stays = group.peak(L, f, w)
        if stays and value > largest * TIE:
            largest, kept = value, index
    best.offer(largest, kept)


@lru_cache(maxsize=256)
def _columns(groups: tuple[_Group, ...]) -> Array:
    """Return axle, resultant, distance beyond it, and distance behind the first axle."""
    rows = [(g.axle, g.resultant, g.beyond, g.behind_first) for g in groups]
    return np.asarray(rows, dtype=np.float64).T


@lru_cache(maxsize=256)
def _groups(train: Axles) -> tuple[_Group, ...]:
    """Every axle with every run of neighbouring axles around it, longest runs first."""
    forces, offsets, count = train.forces, train.offsets, len(train.forces)
    groups = []
    for length in range(count, 0, -1):
        for first in range(count - length + 1):
            run = range(first, first + length)
            resultant = sum(forces[i] for i in run)
            if resultant == 0:
                continue
            centre = sum(forces[i] * offsets[i] for i in run) / resultant
            for axle in run:
                here = offsets[axle]
                before = sum(forces[i] * (here - offsets[i]) for i in run if i < axle)
                reach = (here - offsets[first], offsets[first + length - 1] - here)
                last = first + length - 1
                groups.append(
                    _Group(axle, first, last, resultant, centre - here, before, *reach, here)
                )
    return tuple(groups)
