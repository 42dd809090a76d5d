r"""The largest value of an envelope along stretches of many beams, with a bound on what is missed.

An envelope is the largest of many functions, one for each place of the loads relative to the
section. Where each of them has a second derivative of at least :math:`-K`, the envelope lies
between two sections :math:`a` and :math:`b` nowhere above its chord by more than
:math:`K (x - a)(b - x)/2`. Stretches whose bound lies below the best value found are settled; the
others are cut. What remains at the end is a proof that nothing larger was passed over.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from stepcalc.analysis.batch_lines import section_lines

if TYPE_CHECKING:
    from stepcalc.analysis.beam_batch import SolvedBeams
    from stepcalc.analysis.load_case import LoadCase

__all__ = ["SectionPeaks", "moment_curvature", "peak_sections"]

Array = NDArray[np.float64]
Integers = NDArray[np.int64]
ValueAt = Callable[[Integers, Array], Array]
"""Values at positions, the stretch of each given by its number."""

TOLERANCE = 1e-7
_PARTS, _CUT, _ROUNDS = 20, 4, 24
_WORTH = 1e-2
"""Share of curvature times length squared that counts as a size beside the value itself."""


@dataclass(frozen=True, eq=False)
class SectionPeaks:
    """The largest value of every stretch.

    Attributes
    ----------
    value, section : ndarray of float, shape (n,)
    bound : ndarray of float, shape (n,)
        Nothing on the stretch is larger, as long as the curvature given holds.
    """

    value: Array
    section: Array
    bound: Array


def peak_sections(
    value_at: ValueAt, low: Array, high: Array, curvature: Array | None = None
) -> SectionPeaks:
    """Return the largest value on every stretch.

    Parameters
    ----------
    value_at : callable
        Takes numbers of stretches and positions, one each, and returns values.
    low, high : ndarray of float, shape (n,), [length]
        Ends of the stretches.
    curvature : ndarray of float, shape (n,), optional
        A bound K as above; unless given, eight times the largest that shows at twentieth points.

    Returns
    -------
    SectionPeaks
        Values within `TOLERANCE`.

    Source
    ------
    Branch and bound with semi-convexity; no clause.

    Examples
    --------
    >>> found = peak_sections(
    ...     lambda which, x: x * (2.0 - x), np.array([0.0]), np.array([3.0]), np.array([2.0])
    ... )
    >>> round(float(found.section[0]), 9), round(float(found.value[0]), 9)
    (1.0, 1.0)
    """
    count, length = len(low), high - low
    x = low[:, None] + length[:, None] * (np.arange(_PARTS + 1) / _PARTS)
    x[:, -1] = high
    f = value_at(np.repeat(np.arange(count), _PARTS + 1), x.ravel()).reshape(x.shape)
    if curvature is None:
        bends = np.abs(np.diff(f, 2)) * (_PARTS / length[:, None]) ** 2
        curvature = 8 * bends.max(axis=1)
    row = np.arange(count)
    best = f.max(axis=1)
    size = np.abs(best) + _WORTH * curvature * length**2
    seen = [(np.repeat(row, _PARTS + 1), x.ravel(), f.ravel())]
    near = length / _PARTS
    owner = np.repeat(row, _PARTS)
    a, b, fa, fb = x[:, :-1].ravel(), x[:, 1:].ravel(), f[:, :-1].ravel(), f[:, 1:].ravel()
    missed = np.zeros(count)
    for _ in range(_ROUNDS):
        excess = _above(b - a, fa, fb, curvature[owner]) - best[owner]
        missed = np.zeros(count)
        np.maximum.at(missed, owner, excess)
        keep = np.flatnonzero(excess > TOLERANCE * size[owner])
        if not len(keep):
            break
        owner, points = np.repeat(owner[keep], _CUT), _cut(a[keep], b[keep])
        inner = points[:, 1:-1]
        new = value_at(owner.reshape(-1, _CUT)[:, 1:].ravel(), inner.ravel()).reshape(inner.shape)
        values = np.concatenate([fa[keep, None], new, fb[keep, None]], axis=1)
        seen.append((owner.reshape(-1, _CUT)[:, 1:].ravel(), inner.ravel(), new.ravel()))
        np.maximum.at(best, owner.reshape(-1, _CUT)[:, 0], new.max(axis=1))
        near[owner] = np.minimum(near[owner], np.repeat(points[:, 1] - points[:, 0], _CUT))
        a, b = points[:, :-1].ravel(), points[:, 1:].ravel()
        fa, fb = values[:, :-1].ravel(), values[:, 1:].ravel()
    bound = best + np.maximum(missed, 0.0)
    best, where = _first_of_best(seen, best, best - TOLERANCE * size, 1e-3 * length)
    best, where = _at_top(value_at, low, high, best, where, near)
    return SectionPeaks(best, where, np.maximum(bound, best))


def _above(h: Array, fa: Array, fb: Array, K: Array) -> Array:
    """Return the largest value of chord and parabola between two sections."""
    slope = (fb - fa) / h
    with np.errstate(divide="ignore", invalid="ignore"):
        t = np.clip(np.where(K > 0, h / 2 + slope / K, np.where(slope > 0, h, 0.0)), 0.0, h)
    return np.asarray(fa + slope * t + K * t * (h - t) / 2)


def _cut(a: Array, b: Array) -> Array:
    points = a[:, None] + (b - a)[:, None] * (np.arange(_CUT + 1) / _CUT)
    points[:, -1] = b
    return points


def _first_of_best(
    seen: list[tuple[Integers, Array, Array]], best: Array, least: Array, reach: Array
) -> tuple[Array, Array]:
    """Return the best place, of several as good (a symmetric span has two) the first from the left.

    Round-off would choose among them by chance.
    """
    owner, x, f = (np.concatenate(columns) for columns in zip(*seen, strict=True))
    good = f >= least[owner]
    first = np.full(len(best), np.inf)
    np.minimum.at(first, owner[good], x[good])
    picked = np.flatnonzero(good & (x <= (first + reach)[owner]))
    order = picked[np.lexsort((-x[picked], f[picked]))]
    found, where = best.copy(), np.zeros(len(best))
    # the largest stands last, and is what remains
    found[owner[order]], where[owner[order]] = f[order], x[order]
    return found, where


def _at_top(
    value_at: ValueAt, low: Array, high: Array, best: Array, where: Array, near: Array
) -> tuple[Array, Array]:
    """Return the tops of parabolas through ever closer sections beside the best ones."""
    row, step = np.arange(len(best)), near.copy()
    for _ in range(3):
        inside = (where - step >= low) & (where + step <= high) & (step > 0)
        picked = row[inside]
        if not len(picked):
            break
        d, x = step[picked], where[picked]
        left, right = value_at(picked, x - d), value_at(picked, x + d)
        bend = left + right - 2 * best[picked]
        with np.errstate(divide="ignore", invalid="ignore"):
            moved = np.where(bend < 0, d * (left - right) / (2 * bend), 0.0)
        moved = np.clip(np.nan_to_num(moved), -d, d)
        found = value_at(picked, x + moved)
        better = found >= best[picked] * (1 - 1e-15)
        where[picked] = np.where(better, x + moved, x)
        best[picked] = np.where(better, found, best[picked])
        step = step / 16
    return best, where


def moment_curvature(model: SolvedBeams, cases: tuple[LoadCase, ...], span: int) -> Array:
    r"""Return the bound K of live-load moment along one span.

    .. math:: K_1 = \frac2L + \max|A''| + \max|B''| + \frac2L(\max|A'| + \max|B'|)

    A and B are the influence lines for the moments at the two ends of the span: a load that moves
    with the section has the moment of a simple beam and shares of those two.

    Parameters
    ----------
    model : SolvedBeams
    cases : tuple of LoadCase
    span : int
        Counted from 0.

    Returns
    -------
    ndarray of float, shape (beams,), [force / length]
        For axles that are left out where they relieve, on beams without hinges and overhangs; a
        line may then not bend down where an axle passes a joint.

    Source
    ------
    Statics; no clause.
    """
    joints = model.batch.joints
    beams = np.arange(len(joints))
    L = joints[:, span + 1] - joints[:, span]
    one = 2 / L
    for joint in (span, span + 1):
        lines = section_lines(
            model, "moment", beams, joints[:, joint], np.ones(len(beams), dtype=np.int64)
        )
        h = np.diff(lines.breaks)
        _, c1, c2, c3 = np.moveaxis(lines.coefficients, -1, 0)
        slopes = np.stack([c1, c1 + c2 * h, c1 + 2 * c2 * h + 3 * c3 * h**2])
        bends = np.stack([2 * c2, 2 * c2 + 6 * c3 * h])
        one = one + np.abs(bends).max(axis=(0, 2)) + 2 / L * np.abs(slopes).max(axis=(0, 2))
    found = np.zeros(len(beams))
    for case in cases:
        weight = case.axle_factor * case.vehicle.weight if case.vehicle is not None else 0.0
        weight *= 2 if case.pair is not None else 1
        if case.riding is not None and case.vehicle is None:
            weight = 2 * case.lane_factor * case.riding.moment_force
        found = np.maximum(found, weight * one + case.lane_factor * case.lane)
    return found
