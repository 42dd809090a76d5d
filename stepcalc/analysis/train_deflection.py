r"""The largest midspan deflection that a train of axles causes on a simple span, exact.

While the same axles stay on the span and on the same side of midspan, the deflection is a cubic in
the position of the train and its slope a quadratic, whose roots are known. The ordinate is concave
on the span, and bends upward only where an axle enters or leaves, so the largest value lies at one
of these roots. Each root is a position the train can really take; the deflection of the whole
train is computed there, and the largest is kept.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from functools import lru_cache
from math import copysign, sqrt
from typing import TYPE_CHECKING, Any

import numpy as np

from stepcalc.analysis.influence import Array, midspan_deflection_ordinate
from stepcalc.analysis.placement import Axles, Best, Placement, axles_of, compact

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
    best = Best(L.shape)
    with np.errstate(all="ignore"):
        if best.value.ndim == 0:
            _offer_scalar(best, train, float(L))
        else:
            _offer_arrays(best, train, L)
        placed = best.placement(restore)
        value = placed.value / np.asarray(rigidity, dtype=np.float64)
    shape = value.shape
    return Placement(
        value,
        np.broadcast_to(placed.section, shape),
        np.broadcast_to(placed.first_axle, shape),
        np.broadcast_to(placed.axle, shape),
        np.broadcast_to(placed.turned, shape),
    )


def _offer_arrays(best: Best, train: Axles, L: Array) -> None:
    forces, offsets = np.asarray(train.forces), np.asarray(train.offsets)
    for sums in _halves(train):
        for first in _stationary(sums, L, np.sqrt, np.copysign):
            positions = first[..., None] + offsets
            ordinates = midspan_deflection_ordinate(positions, span=L[..., None])
            value = np.where(L > 0, np.sum(forces * ordinates, axis=-1), np.nan)
            best.offer(value, section=L / 2, first_axle=first, axle=-1)


def _offer_scalar(best: Best, train: Axles, L: float) -> None:
    """Try every candidate with plain floats: ten times faster than arrays of one element."""
    if not L > 0:
        return
    largest, where = -1.0, 0.0
    for sums in _halves(train):
        roots: tuple[float, ...]
        try:
            roots = _stationary(sums, L, sqrt, copysign)
        except (ValueError, ZeroDivisionError):  # no real root, or the two halves weigh the same
            roots = _single_root(sums, L)
        for first in roots:
            value = 0.0
            for force, offset in zip(train.forces, train.offsets, strict=True):
                near = min(first + offset, L - first - offset)
                value += force * near * (3 * L * L - 4 * near * near) / 48 if near > 0 else 0.0
            if value > largest * (1 + 1e-12):
                largest, where = value, first
    best.offer(largest, section=L / 2, first_axle=where, axle=-1)


_Sums = tuple[float, float, float]
"""Sum of forces, of force times offset, and of force times offset squared."""


@lru_cache(maxsize=256)
def _halves(train: Axles) -> tuple[tuple[_Sums, _Sums], ...]:
    """Every run of neighbouring axles, cut in every way into left and right of midspan."""
    return tuple(_cuts(train))


def _cuts(train: Axles) -> Iterator[tuple[_Sums, _Sums]]:
    count = len(train.forces)
    for first in range(count):
        for end in range(first + 1, count + 1):
            for cut in range(first, end + 1):
                yield _sums(train, first, cut), _sums(train, cut, end)


def _sums(train: Axles, first: int, end: int) -> _Sums:
    pairs = list(zip(train.forces[first:end], train.offsets[first:end], strict=True))
    return sum(p for p, _ in pairs), sum(p * d for p, d in pairs), sum(p * d * d for p, d in pairs)


def _quadratic(sums: tuple[_Sums, _Sums], L: Any) -> tuple[float, Any, Any]:
    """Return a, b, c of the slope of the deflection as a quadratic in the first axle's position."""
    (left, left_d, left_dd), (right, right_d, right_dd) = sums
    a = 4 * (right - left)
    b = -8 * (left_d + right * L - right_d)
    c = L * L * (left - right) - 4 * left_dd + 4 * (right * L * L - 2 * L * right_d + right_dd)
    return a, b, c


def _stationary(
    sums: tuple[_Sums, _Sums],
    L: Any,
    root: Callable[[Any], Any],
    with_sign: Callable[[Any, Any], Any],
) -> tuple[Any, Any]:
    """Return where the first axle stands when the deflection has no slope; nan for nowhere."""
    a, b, c = _quadratic(sums, L)
    q = -(b + with_sign(root(b * b - 4 * a * c), b)) / 2
    return q / a, c / q


def _single_root(sums: tuple[_Sums, _Sums], L: float) -> tuple[float, ...]:
    """Return the root where the quadratic has lost its first term, or nothing."""
    a, b, c = _quadratic(sums, L)
    return (-c / b,) if a == 0 and b != 0 else ()
