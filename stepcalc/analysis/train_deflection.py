r"""The largest midspan deflection that a train of axles causes on a simple span, exact.

One axle alone stands at midspan. While the same axles stay on the span and on the same side of
midspan, the deflection is a cubic in the position of the train and its slope a quadratic, whose
roots are known. The ordinate is concave on the span, and bends upward only where an axle enters or
leaves, so the largest value lies at one of these roots. Each root is a position the train can
really take; the deflection of the whole train is computed there, and the largest is kept.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from math import nan, sqrt
from typing import TYPE_CHECKING, Any

import numpy as np

from stepcalc.analysis.influence import Array, midspan_deflection_ordinate
from stepcalc.analysis.placement import TIE, Axles, Best, Placement, axles_of, compact

if TYPE_CHECKING:
    from numpy.typing import ArrayLike

__all__ = ["maximum_midspan_deflection"]


def maximum_midspan_deflection(
    axles: Sequence[float], spacings: Sequence[float], *, span: ArrayLike, rigidity: ArrayLike
) -> Placement:
    """Return the largest midspan deflection of a simple span under a train of axles.

    Parameters
    ----------
    axles : sequence of float, length n, [force]
        Axle forces, first axle first.
    spacings : sequence of float, length n - 1, [length]
        Distances between neighbouring axles.
    span : array_like of float, shape (...), [length]
        The span, centre to centre of bearings.
    rigidity : array_like of float, shape (...), [force * length**2]
        EI, constant over the span.

    Returns
    -------
    Placement
        ``value`` in [length], downward positive; ``section`` is midspan. No axle needs to stand
        there: ``axle`` is -1.

    Raises
    ------
    ShapeError
        If axles and spacings do not fit each other, or the arrays do not broadcast.

    Source
    ------
    Statics: elastic line of a prismatic simple beam, shear deformation left out. No clause.

    Examples
    --------
    One force of 48 stands at midspan: 48 * 10**3 / (48 * 1000).

    >>> float(maximum_midspan_deflection([48.0], [], span=10.0, rigidity=1000.0).value)
    1.0
    """
    train = axles_of(axles, spacings)
    (L,), restore = compact(span)
    best, first = Best(L.shape), np.zeros(L.shape)
    with np.errstate(all="ignore"):
        if best.value.ndim == 0:
            _offer_scalar(best, first, train, float(L))
        else:
            for index, start in enumerate(_positions(train, L, np.sqrt)):
                value = np.zeros(L.shape)
                for force, offset in zip(train.forces, train.offsets, strict=True):
                    value += force * midspan_deflection_ordinate(start + offset, span=L)
                better = best.offer(np.where(L > 0, value, np.nan), index)
                np.copyto(first, start, where=better)
        value = restore(best.found) / np.asarray(rigidity, dtype=np.float64)
    shape = value.shape
    return Placement(
        value,
        np.broadcast_to(restore(L / 2), shape),
        np.broadcast_to(restore(first), shape),
        np.broadcast_to(np.int64(-1), shape),
        np.broadcast_to(np.False_, shape),
    )


def _offer_scalar(best: Best, first: Array, train: Axles, L: float) -> None:
    """Try every candidate with plain floats: ten times faster than arrays of one element."""
    if not L > 0:
        return
    largest, kept = 0.0, 0
    for index, start in enumerate(_positions(train, L, _real_root)):
        value = 0.0
        for force, offset in zip(train.forces, train.offsets, strict=True):
            near = min(start + offset, L - start - offset)
            value += force * near * (3 * L * L - 4 * near * near) / 48 if near > 0 else 0.0
        if value > largest * TIE:
            largest, kept, first[...] = value, index, start
    best.offer(largest, kept)


def _real_root(square: float) -> float:
    return sqrt(square) if square >= 0 else nan


@dataclass(frozen=True)
class _Run:
    """Neighbouring axles on the span: sums of P, P d, P d^2 left and right of midspan."""

    start: float
    left: float
    left_d: float
    left_dd: float
    right: float
    right_d: float
    right_dd: float


def _positions(train: Axles, L: Any, root: Callable[[Any], Any]) -> Iterator[Any]:
    """Return where the first axle stands in each candidate; nan where there is none."""
    heaviest = max(range(len(train.forces)), key=lambda axle: train.forces[axle])
    yield L / 2 - train.offsets[heaviest]
    for run in _runs(train):
        # slope of the deflection: a s^2 + b s + c, s the position of the run's first axle; b < 0
        # while the run is on the span, and the root at which the slope falls is 2 c/(-b + root)
        a = 4 * (run.right - run.left)
        b = -8 * (run.left_d + run.right * L - run.right_d)
        c = L * L * (run.left - run.right) - 4 * run.left_dd
        c = c + 4 * (run.right * L * L - 2 * L * run.right_d + run.right_dd)
        below = root(b * b - 4 * a * c) - b
        yield 2 * c / (below + (below == 0)) - run.start


@lru_cache(maxsize=256)
def _runs(train: Axles) -> tuple[_Run, ...]:
    """Every run of two or more neighbouring axles, cut in every way by midspan."""
    runs = []
    count = len(train.forces)
    for first in range(count):
        for end in range(first + 2, count + 1):
            for cut in range(first + 1, end):
                start = train.offsets[first]
                left, right = _sums(train, first, cut, start), _sums(train, cut, end, start)
                runs.append(_Run(start, *left, *right))
    return tuple(runs)


def _sums(train: Axles, first: int, end: int, start: float) -> tuple[float, float, float]:
    rows = [(train.forces[i], train.offsets[i] - start) for i in range(first, end)]
    return sum(p for p, _ in rows), sum(p * d for p, d in rows), sum(p * d * d for p, d in rows)
