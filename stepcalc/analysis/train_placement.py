"""Trains over many influence lines: both headings, a spacing that varies, two vehicles.

Where the distance between two groups of axles may vary, the best placement is either rigid with
the distance at one end of its range, or has both groups at local maxima of their own: with the
distance free, each may move alone.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stepcalc.analysis.line_family import LineFamily
from stepcalc.analysis.train_search import AxleGroup, Peaks, best_position, local_maxima

__all__ = ["Halves", "Placed", "ordinates_at", "place", "place_rigid"]

Array = NDArray[np.float64]
Integers = NDArray[np.int64]
_MOST_PAIRS = 2_000_000


@dataclass(frozen=True, eq=False)
class Placed:
    """Where axles stand for the largest effect of every line.

    Attributes
    ----------
    value : ndarray of float, shape (rows,)
        Sum of forces times ordinates, as the search found it.
    positions : ndarray of float, shape (rows, n), [length]
    sides : ndarray of int, shape (rows, n)
        -1 or 1: which limit counts where the axle stands on a jump.
    heading : ndarray of int, shape (rows,)
        -1 to the left, 1 to the right.
    """

    value: Array
    positions: Array
    sides: Integers
    heading: Integers

    def better(self, other: Placed) -> Placed:
        """Return the better of two placements, row by row; ties keep the first."""
        take = other.value > self.value + 1e-12 * np.abs(self.value)
        column = take[:, None]
        return Placed(
            np.where(take, other.value, self.value),
            np.where(column, other.positions, self.positions),
            np.where(column, other.sides, self.sides),
            np.where(take, other.heading, self.heading),
        )


@dataclass(frozen=True)
class Halves:
    """Two groups of axles with a distance between them that may vary.

    Attributes
    ----------
    front, rear : pair of sequences of float
        Forces, and distances behind the first axle of the group.
    gap_from, gap_to : float, [length]
        From the last axle of the front group to the first of the rear group.
    """

    front: tuple[Sequence[float], Sequence[float]]
    rear: tuple[Sequence[float], Sequence[float]]
    gap_from: float
    gap_to: float


def place_rigid(lines: LineFamily, forces: Sequence[float], offsets: Sequence[float]) -> Placed:
    """Return the best placement of a rigid train in both headings.

    Parameters
    ----------
    lines : LineFamily
    forces, offsets : sequence of float, shape (n,)
        Forces, and distances behind the first axle.

    Returns
    -------
    Placed
    """
    best = _rigid([(lines, forces, offsets)], -1)
    reach = offsets[-1]
    mirrored = [(f, round(reach - d, 12)) for f, d in zip(forces, offsets, strict=True)][::-1]
    if mirrored == [(f, round(d, 12)) for f, d in zip(forces, offsets, strict=True)]:
        return best
    return best.better(_rigid([(lines, forces, offsets)], 1))


def place(
    front_lines: LineFamily,
    rear_lines: LineFamily,
    halves: Halves,
    heading: int,
    *,
    worth: float | None = 1e-7,
) -> Placed:
    """Return the best placement of two groups in one heading.

    Parameters
    ----------
    front_lines, rear_lines : LineFamily
        What each group looks at: the same lines, or each its own span.
    halves : Halves
    heading : int
        -1 to the left: the rear group stands to the right of the front group; 1 to the right.
    worth : float or None
        Local maxima of a group below this share of its largest are passed over; None where an axle
        may relieve, so that a maximum below zero counts too.

    Returns
    -------
    Placed
    """
    (f_forces, f_offsets), (r_forces, r_offsets) = halves.front, halves.rear
    best: Placed | None = None
    for gap in (halves.gap_from, halves.gap_to):
        if not math.isfinite(gap):
            continue
        behind = [f_offsets[-1] + gap + d for d in r_offsets]
        parts = [(front_lines, f_forces, f_offsets), (rear_lines, r_forces, behind)]
        found = _rigid(parts, heading)
        best = found if best is None else best.better(found)
    assert best is not None
    if halves.gap_to > halves.gap_from:
        best = best.better(_apart(front_lines, rear_lines, halves, heading, worth))
    return best


Part = tuple[LineFamily, Sequence[float], Sequence[float]]


def _rigid(parts: Sequence[Part], heading: int) -> Placed:
    groups = [
        AxleGroup(lines, forces, [-heading * d for d in offsets])
        for lines, forces, offsets in parts
    ]
    found = best_position(groups)
    offsets = np.concatenate([np.asarray(group.offsets, dtype=np.float64) for group in groups])
    positions = found.position[:, None] + offsets
    sides = np.repeat(found.side[:, None], len(offsets), axis=1)
    return Placed(found.value, positions, sides, np.full(len(positions), heading))


def _apart(
    front_lines: LineFamily,
    rear_lines: LineFamily,
    halves: Halves,
    heading: int,
    worth: float | None,
) -> Placed:
    """Return the best pair of local maxima whose distance lies in the range."""
    front_offsets = np.asarray([-heading * d for d in halves.front[1]])
    rear_offsets = np.asarray([-heading * d for d in halves.rear[1]])
    front = local_maxima(
        AxleGroup(front_lines, halves.front[0], front_offsets.tolist()), worth=worth
    )
    rear = local_maxima(AxleGroup(rear_lines, halves.rear[0], rear_offsets.tolist()), worth=worth)
    reach = halves.front[1][-1]
    rows = len(front.value)
    step = max(1, _MOST_PAIRS // max(1, front.value.shape[1] * rear.value.shape[1]))
    picked = [
        _best_pair(
            _cut(front, slice(i, i + step)), _cut(rear, slice(i, i + step)), halves, reach, heading
        )
        for i in range(0, rows, step)
    ]
    value = np.concatenate([pick[0] for pick in picked])
    i, j = (np.concatenate([pick[k] for pick in picked]) for k in (1, 2))
    row = np.arange(rows)
    positions = np.concatenate(
        [
            front.position[row, i, None] + front_offsets,
            rear.position[row, j, None] + rear_offsets,
        ],
        axis=1,
    )
    sides = np.concatenate(
        [
            np.repeat(front.side[row, i, None], len(front_offsets), axis=1),
            np.repeat(rear.side[row, j, None], len(rear_offsets), axis=1),
        ],
        axis=1,
    )
    return Placed(value, positions, sides, np.full(rows, heading))


def _cut(peaks: Peaks, rows: slice) -> Peaks:
    return Peaks(peaks.value[rows], peaks.position[rows], peaks.side[rows])


def _best_pair(
    front: Peaks, rear: Peaks, halves: Halves, reach: float, heading: int
) -> tuple[Array, Integers, Integers]:
    gap = -heading * (rear.position[:, None, :] - front.position[:, :, None]) - reach
    total = front.value[:, :, None] + rear.value[:, None, :]
    near = 1e-9 * max(1.0, halves.gap_from)
    fits = (gap >= halves.gap_from - near) & (gap <= halves.gap_to + near)
    flat = np.where(fits, total, -np.inf).reshape(len(total), -1)
    best = np.argmax(flat, axis=1)
    i, j = np.divmod(best, total.shape[2])
    return flat[np.arange(len(flat)), best], i, j


def ordinates_at(lines: LineFamily, positions: Array, sides: Integers) -> Array:
    """Return the ordinates of every line at its own positions.

    Parameters
    ----------
    lines : LineFamily
    positions : ndarray of float, shape (rows, n), [length]
    sides : ndarray of int, shape (rows, n)
        -1 or 1, the limit that counts on a breakpoint; past an end of the beam it is 0.

    Returns
    -------
    ndarray of float, shape (rows, n)
    """
    breaks = lines.breaks
    near = 1e-9 * (breaks[:, -1:] - breaks[:, :1])
    reach = positions + np.where(sides > 0, near, -near)
    piece = np.zeros(positions.shape, dtype=np.int64)
    for column in range(1, lines.coefficients.shape[1]):
        piece += breaks[:, column, None] <= reach
    rows = np.arange(len(breaks))[:, None]
    t = positions - breaks[rows, piece]
    c = lines.coefficients[rows, piece]
    value = c[..., 0] + t * (c[..., 1] + t * (c[..., 2] + t * c[..., 3]))
    # on an end of the beam, an axle may just have left it
    off = (reach < breaks[:, :1]) | (reach > breaks[:, -1:])
    return np.where(off, 0.0, value)
