"""Influence lines cut where they change sign: the part that adds, and its area."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from stepcalc.analysis.line_family import LineFamily
from stepcalc.analysis.piecewise import shifted

__all__ = [
    "ROUND_OFF",
    "areas",
    "areas_upto",
    "areas_where",
    "firsts_upto",
    "positive_part",
    "restricted",
]

Array = NDArray[np.float64]

ROUND_OFF = 1e-12
"""Ordinates below this share of a line's size are none."""


def positive_part(family: LineFamily) -> LineFamily:
    """Return the lines with every negative stretch set to zero.

    A stretch that rises no higher than round-off, `ROUND_OFF` of the size of the line, is no
    positive stretch.

    Parameters
    ----------
    family : LineFamily

    Returns
    -------
    LineFamily
        With a break at every zero.
    """
    rows, points = _crossings(family)
    if len(rows):
        family = _cut(family, rows, points)
    h = np.diff(family.breaks)
    c = family.coefficients
    middle = c[..., 0] + h / 2 * (c[..., 1] + h / 2 * (c[..., 2] + h / 2 * c[..., 3]))
    highest = np.max(_bernstein(family), axis=0)
    counts = (middle > 0) & (highest > ROUND_OFF * family.size[:, None])
    return LineFamily(family.breaks, np.where(counts[..., None], c, 0.0), family.size)


def areas(family: LineFamily) -> Array:
    """Return the area under every line, shape (rows,)."""
    h = np.diff(family.breaks)
    c = family.coefficients
    pieces = h * (c[..., 0] + h * (c[..., 1] / 2 + h * (c[..., 2] / 3 + h * c[..., 3] / 4)))
    return np.asarray(pieces.sum(axis=1))


def areas_where(family: LineFamily, loaded: LineFamily) -> Array:
    """Return the area under every line, only where its counterpart in `loaded` is not zero.

    Parameters
    ----------
    family, loaded : LineFamily
        The same number of rows; the breaks of the two may differ.

    Returns
    -------
    ndarray of float, shape (rows,)
    """
    stands = np.any(loaded.coefficients != 0, axis=2) & (np.diff(loaded.breaks) > 0)
    upto = areas_upto(family, loaded.breaks)
    return np.asarray(np.sum(np.where(stands, np.diff(upto), 0.0), axis=1))


def areas_upto(family: LineFamily, positions: Array) -> Array:
    """Return the area under every line from its left end to its own positions."""
    h = np.diff(family.breaks)
    total = np.zeros_like(positions)
    for piece in range(h.shape[1]):
        a, b, c, d = np.moveaxis(family.coefficients[:, piece, :, None], 1, 0)
        t = np.clip(positions - family.breaks[:, piece, None], 0.0, h[:, piece, None])
        total += t * (a + t * (b / 2 + t * (c / 3 + t * d / 4)))
    return total


def firsts_upto(family: LineFamily, positions: Array) -> Array:
    """Return the integral of position times ordinate, from the left end to positions of each line.

    Parameters
    ----------
    family : LineFamily
    positions : ndarray of float, shape (rows, m), [length]

    Returns
    -------
    ndarray of float, shape (rows, m)
    """
    h = np.diff(family.breaks)
    total = np.zeros_like(positions)
    for piece in range(h.shape[1]):
        a, b, c, d = np.moveaxis(family.coefficients[:, piece, :, None], 1, 0)
        start = family.breaks[:, piece, None]
        t = np.clip(positions - start, 0.0, h[:, piece, None])
        total += start * t * (a + t * (b / 2 + t * (c / 3 + t * d / 4)))
        total += t * t * (a / 2 + t * (b / 3 + t * (c / 4 + t * d / 5)))
    return total


def restricted(family: LineFamily, start: Array, end: Array) -> LineFamily:
    """Return the lines with everything outside a stretch set to zero; its ends are breaks already.

    Parameters
    ----------
    family : LineFamily
    start, end : ndarray of float, shape (rows,), [length]
    """
    middle = 0.5 * (family.breaks[:, :-1] + family.breaks[:, 1:])
    inside = (middle > start[:, None]) & (middle < end[:, None])
    return LineFamily(
        family.breaks, np.where(inside[..., None], family.coefficients, 0.0), family.size
    )


def _crossings(family: LineFamily) -> tuple[NDArray[np.int64], Array]:
    """Return row and position of every change of sign inside a piece."""
    # without a change of sign among the Bernstein coefficients there is no root
    bernstein = _bernstein(family)
    noise = ROUND_OFF * family.size[:, None]
    row, piece = np.nonzero((bernstein.min(axis=0) < -noise) & (bernstein.max(axis=0) > noise))
    if not len(row):
        return row, np.zeros(0)
    h = np.diff(family.breaks)
    cubic = family.coefficients[row, piece].T * h[row, piece] ** np.arange(4)[:, None]
    which, t = _roots_in_unit(cubic)
    return row[which], family.breaks[row[which], piece[which]] + t * h[row[which], piece[which]]


def _bernstein(family: LineFamily) -> Array:
    """Return the Bernstein coefficients of every piece: a piece runs between its extremes."""
    h = np.diff(family.breaks)
    a, b, c, d = np.moveaxis(family.coefficients, -1, 0)
    b, c, d = b * h, c * h**2, d * h**3
    return np.stack([a, a + b / 3, a + (2 * b + c) / 3, a + b + c + d])


def _roots_in_unit(cubic: Array) -> tuple[NDArray[np.int64], Array]:
    """Return the simple roots inside (0, 1) of cubics, coefficients on axis 0."""
    turning = np.sort(_turning_points(cubic), axis=0)
    knots = np.concatenate([np.zeros_like(cubic[:1]), turning, np.ones_like(cubic[:1])])
    values = _at(cubic[:, None], knots)
    low, high = knots[:-1], knots[1:]
    stretch, which = np.nonzero(values[:-1] * values[1:] < 0)
    low, high = low[stretch, which], high[stretch, which]
    return which, _monotone_root(cubic[:, which], low, high)


def _turning_points(cubic: Array) -> Array:
    """Return the two stationary points, clipped to [0, 1]."""
    b, c, d = cubic[1], cubic[2], cubic[3]
    inner = c * c - 3 * b * d
    root = np.sqrt(np.maximum(inner, 0.0))
    # the two forms of the quadratic's roots that do not cancel
    q = -(c + np.copysign(root, c))
    with np.errstate(divide="ignore", invalid="ignore"):
        points = np.stack([q / (3 * d), b / q])
    points = np.where(np.isfinite(points) & (inner > 0), points, 0.0)
    return np.asarray(np.clip(points, 0.0, 1.0))


def _monotone_root(cubic: Array, low: Array, high: Array) -> Array:
    """Return the root between `low` and `high` by Newton's method kept inside its bracket."""
    rising = _at(cubic, high) > 0
    t = 0.5 * (low + high)
    for _ in range(40):
        value = _at(cubic, t)
        slope = cubic[1] + t * (2 * cubic[2] + 3 * t * cubic[3])
        above = (value > 0) == rising
        low, high = np.where(above, low, t), np.where(above, t, high)
        with np.errstate(divide="ignore", invalid="ignore"):
            trial = t - value / slope
        safe = np.isfinite(trial) & (trial >= low) & (trial <= high)
        following = np.where(safe, trial, 0.5 * (low + high))
        if np.max(np.abs(following - t), initial=0.0) < 1e-13:
            break
        t = following
    return np.asarray(t)


def _at(cubic: Array, t: Array) -> Array:
    return np.asarray(cubic[0] + t * (cubic[1] + t * (cubic[2] + t * cubic[3])))


def _cut(family: LineFamily, rows: NDArray[np.int64], points: Array) -> LineFamily:
    """Insert breaks; rows with fewer new breaks get breaks without length at their end."""
    order = np.argsort(rows, kind="stable")
    rows, points = rows[order], points[order]
    counts = np.bincount(rows, minlength=len(family))
    starts = np.cumsum(counts) - counts
    new = np.repeat(family.breaks[:, -1:], int(counts.max()), axis=1)
    new[rows, np.arange(len(rows)) - starts[rows]] = points
    both = np.concatenate([family.breaks, new], axis=1)
    rank = np.argsort(both, axis=1, kind="stable")
    breaks = np.take_along_axis(both, rank, axis=1)
    # the piece a break begins in: how many old breaks stand at or before it
    old = rank < family.breaks.shape[1]
    parent = np.minimum(np.cumsum(old, axis=1) - 1, family.coefficients.shape[1] - 1)[:, :-1]
    begins = np.take_along_axis(family.breaks, parent, axis=1)
    cubic = np.take_along_axis(family.coefficients, parent[..., None], axis=1)
    return LineFamily(breaks, shifted(cubic, breaks[:, :-1] - begins), family.size)
