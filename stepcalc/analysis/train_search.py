r"""The largest sum of ordinates under a train of axles, of many influence lines at once.

With one cubic between breakpoints, the sum over axles

.. math:: F(s) = \sum_i P_i\, \eta(s + d_i)

is one cubic between events: an axle that reaches a breakpoint. Every line is written as its jumps
of coefficients at breakpoints; the jumps of all axles, in order of their events, add up to the
cubic of each interval. Its largest value stands at an event (from the left or from the right) or
where its slope is zero. Nothing is stepped; the cost is that of sorting the events.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

if TYPE_CHECKING:
    from stepcalc.analysis.line_family import LineFamily

__all__ = ["AxleGroup", "Found", "Peaks", "best_position", "local_maxima"]

Array = NDArray[np.float64]
Integers = NDArray[np.int64]

_COINCIDE = 1e-9
"""Events closer than this share of the beam are one event."""


@dataclass(frozen=True, eq=False)
class AxleGroup:
    """Axles that move as one over the same lines.

    Attributes
    ----------
    lines : LineFamily
    forces, offsets : sequence of float, shape (n,)
        Forces, and positions when the group stands at 0; negative where an axle stands left of it.
    """

    lines: LineFamily
    forces: Sequence[float]
    offsets: Sequence[float]


@dataclass(frozen=True, eq=False)
class Found:
    """The best position of every line.

    Attributes
    ----------
    value : ndarray of float, shape (rows,)
        Never negative: a train may stand off the beam.
    position : ndarray of float, shape (rows,), [length]
    side : ndarray of int, shape (rows,)
        -1 or 1: an axle that stands on a jump counts as just left or just right of it.
    """

    value: Array
    position: Array
    side: Integers


@dataclass(frozen=True, eq=False)
class Peaks:
    """All local maxima of every line; unused places have the value -inf."""

    value: Array
    position: Array
    side: Integers


@dataclass(frozen=True, eq=False)
class _Sum:
    """The summed cubics: events, the four coefficients of the intervals, their lengths."""

    events: Array
    cubics: tuple[Array, Array, Array, Array]
    lengths: Array


def best_position(groups: Sequence[AxleGroup]) -> Found:
    """Return the position of the train at which the sum is largest.

    Parameters
    ----------
    groups : sequence of AxleGroup
        They move together; each looks at its own lines, with the same number of rows.

    Returns
    -------
    Found
    """
    total = _summed(groups)
    start, h = total.cubics[0], total.lengths
    end = _at(total.cubics, h)
    t, inside = _interior_maximum(total)
    middle = np.where(inside, _at(total.cubics, t), -np.inf)
    values = np.where(h > 0, np.maximum(np.maximum(start, end), middle), -np.inf)
    best = np.argmax(values, axis=1)
    at = np.arange(len(values)), best
    within = middle[at] > np.maximum(start[at], end[at])
    at_end = ~within & (end[at] > start[at])
    moved = np.where(within, t[at], np.where(at_end, h[at], 0.0))
    # seen from inside the interval: an axle may all but stand on the breakpoint at its end
    side = np.where(moved > h[at] / 2, -1, 1)
    return Found(np.maximum(values[at], 0.0), total.events[at] + moved, side)


def local_maxima(group: AxleGroup, *, worth: float | None = 1e-7) -> Peaks:
    """Return every local maximum of the sum, largest first.

    Parameters
    ----------
    group : AxleGroup
    worth : float or None
        Maxima below this share of the largest one are left out; None keeps all of them, negative
        ones too.

    Returns
    -------
    Peaks
    """
    total = _summed([group])
    t, inside = _interior_maximum(total)
    inner = np.where(inside, _at(total.cubics, t), -np.inf)
    edge, side = _event_maxima(total)
    value = np.concatenate([inner, edge], axis=1)
    position = np.concatenate([total.events[:, :-1] + t, total.events], axis=1)
    sides = np.concatenate([np.where(t > total.lengths / 2, -1, 1), side], axis=1)
    if worth is not None:
        least = np.maximum(worth * np.max(value, axis=1, keepdims=True), 0.0)
        value = np.where(value > least, value, -np.inf)
    keep = max(1, int(np.max(np.sum(np.isfinite(value), axis=1), initial=0)))
    order = np.argsort(-value, axis=1, kind="stable")[:, :keep]
    return Peaks(
        np.take_along_axis(value, order, axis=1),
        np.take_along_axis(position, order, axis=1),
        np.take_along_axis(sides, order, axis=1),
    )


def _event_maxima(total: _Sum) -> tuple[Array, Integers]:
    """Return the value at every event that is a local maximum, else -inf, and its side."""
    (c0, c1, c2, c3), h = total.cubics, total.lengths
    zero = np.zeros((len(h), 1))
    # the sum inside coincident events is none: only the intervals on either side of them count
    short = h <= 0
    end, start = np.where(short, -np.inf, _at(total.cubics, h)), np.where(short, -np.inf, c0)
    before, after = np.hstack([zero, end]), np.hstack([start, zero])
    rises = np.hstack([zero, c1 + h * (2 * c2 + 3 * h * c3)]) >= 0
    falls = np.hstack([c1, zero]) <= 0
    value = np.maximum(before, after)
    is_top = ((before < value) | rises) & ((after < value) | falls)
    return np.where(is_top, value, -np.inf), np.where(before >= after, -1, 1)


def _interior_maximum(total: _Sum) -> tuple[Array, NDArray[np.bool_]]:
    """Return where inside each interval the cubic has its maximum, and whether it has one."""
    _, c1, c2, c3 = total.cubics
    inner = c2 * c2 - 3 * c1 * c3
    root = np.sqrt(np.maximum(inner, 0.0))
    with np.errstate(divide="ignore", invalid="ignore"):
        t = np.where(c2 < 0, c1 / (root - c2), -(c2 + root) / (3 * c3))
        inside = (inner > 0) & (t > 0) & (t < total.lengths)
    return np.where(inside, t, 0.0), inside


def _at(c: tuple[Array, Array, Array, Array], t: Array) -> Array:
    return np.asarray(c[0] + t * (c[1] + t * (c[2] + t * c[3])))


def _summed(groups: Sequence[AxleGroup]) -> _Sum:
    """Add up the jumps of all axles, in order of their events."""
    origin = groups[0].lines.breaks[:, -1:] / 2
    events, jumps = [], []
    for group in groups:
        own = group.lines.jumps  # about the middle of the beam
        for force, offset in zip(group.forces, group.offsets, strict=True):
            events.append(group.lines.breaks - offset)
            jumps.append(force * (_shift_by(offset) @ own.reshape(4, -1)).reshape(own.shape))
    event = np.concatenate(events, axis=1)
    order = np.argsort(event, axis=1)
    flat = order + np.arange(len(event))[:, None] * event.shape[1]
    jump = np.concatenate(jumps, axis=2).reshape(4, -1)[:, flat]
    event = event.ravel()[flat]
    c0, c1, c2, c3 = np.cumsum(jump, axis=2)[:, :, :-1]
    t = event[:, :-1] - origin
    cubics = (
        c0 + t * (c1 + t * (c2 + t * c3)),
        c1 + t * (2 * c2 + 3 * t * c3),
        c2 + 3 * t * c3,
        c3,
    )
    lengths = np.diff(event)
    lengths[lengths <= _COINCIDE * 2 * origin] = 0.0
    return _Sum(event, cubics, lengths)


def _shift_by(d: float) -> Array:
    """Return the matrix that expands a cubic about a point further right by `d`."""
    return np.array([[1, d, d * d, d**3], [0, 1, 2 * d, 3 * d * d], [0, 0, 1, 3 * d], [0, 0, 0, 1]])
