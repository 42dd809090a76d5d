"""Functions that are one polynomial between each two neighbouring breakpoints."""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike, NDArray

__all__ = ["Extreme", "PiecewisePolynomial", "Region", "shifted"]

Array = NDArray[np.float64]
Side = Literal["left", "right"]


@dataclass(frozen=True)
class Extreme:
    """The largest or smallest value, where it is, and from which side it is approached."""

    value: float
    position: float
    side: Side


@dataclass(frozen=True)
class Region:
    """A stretch without change of sign, and the area under the function there."""

    start: float
    end: float
    area: float


def shifted(coefficients: Array, by: ArrayLike) -> Array:
    """Return the same polynomials, expanded about a point further right.

    Parameters
    ----------
    coefficients : ndarray of float, shape (..., d + 1)
        Ascending coefficients about the old point.
    by : array_like of float, shape (...)
        Distance from the old point to the new one.

    Returns
    -------
    ndarray of float, shape (..., d + 1)

    Source
    ------
    Repeated synthetic division (Horner). No clause.
    """
    result = np.array(np.broadcast_arrays(coefficients, np.asarray(by)[..., None])[0])
    degree = result.shape[-1] - 1
    for first in range(degree):
        for power in range(degree - 1, first - 1, -1):
            result[..., power] += by * result[..., power + 1]
    return result


@dataclass(frozen=True, eq=False)
class PiecewisePolynomial:
    """A function on an interval, zero outside it; it may jump and kink at breakpoints.

    Attributes
    ----------
    breaks : ndarray of float, shape (k + 1,), [length]
        Ascending; pieces of no length are allowed and ignored.
    coefficients : ndarray of float, shape (k, d + 1)
        Ascending coefficients of each piece about its left breakpoint.
    """

    breaks: Array
    coefficients: Array

    def __call__(self, position: ArrayLike, *, side: Side = "right") -> Array:
        """Return values; at a breakpoint, the limit from `side`, or from inside at the two ends.

        Parameters
        ----------
        position : array_like of float, [length]
            A position outside the breakpoints gives 0.
        side : "left" or "right"
            Which limit counts where the function jumps.

        Returns
        -------
        ndarray of float, shape of `position`
        """
        x = np.asarray(position, dtype=np.float64)
        lengths = np.diff(self.breaks)
        alive = np.flatnonzero(lengths > 0)
        starts = self.breaks[:-1][alive]
        index = np.searchsorted(starts, x, side=side) - 1
        piece = alive[np.clip(index, 0, len(alive) - 1)]
        t = x - self.breaks[piece]
        value = np.zeros_like(x)
        for power in range(self.coefficients.shape[1] - 1, -1, -1):
            value = value * t + self.coefficients[piece, power]
        outside = (x < self.breaks[0]) | (x > self.breaks[-1])
        return np.asarray(np.where(outside, 0.0, value))

    def derivative(self) -> PiecewisePolynomial:
        """Return the derivative of every piece; jumps have none and are left out."""
        powers = np.arange(1, self.coefficients.shape[1])
        return PiecewisePolynomial(self.breaks, self.coefficients[:, 1:] * powers)

    def integral(
        self, start: float, end: float, *, at_start: float = 1, at_end: float = 1
    ) -> float:
        """Return the integral times a weight that runs linearly from one end to the other.

        Parameters
        ----------
        start, end : float, [length]
            The stretch; what lies outside the function adds nothing.
        at_start, at_end : float
            The weight at the two ends.

        Returns
        -------
        float
        """
        slope = (at_end - at_start) / (end - start) if end > start else 0.0
        total = 0.0
        for left, right, polynomial in self._pieces():
            a, b = max(left, start), min(right, end)
            if b <= a:
                continue
            local = shifted(polynomial, a - left)
            weight = np.array([at_start + slope * (a - start), slope])
            product = np.convolve(local, weight)
            powers = np.arange(1, len(product) + 1)
            total += float(np.sum(product / powers * (b - a) ** powers))
        return total

    def roots(self) -> list[float]:
        """Return where the function changes sign or touches zero, ascending.

        A jump through zero counts; a stretch that is zero throughout gives nothing.
        """
        found: list[float] = []
        last = 0.0
        for left, right, polynomial in self._pieces():
            ends = (polynomial[0], _value(polynomial, right - left))
            if last * ends[0] < 0:
                found.append(left)
            found.extend(left + t for t in _roots_inside(polynomial, right - left))
            last = ends[1]
        merged: list[float] = []
        for root in sorted(found):
            if not merged or root - merged[-1] > 1e-9 * (self.breaks[-1] - self.breaks[0]):
                merged.append(root)
        return merged

    def regions(self, sign: int) -> list[Region]:
        """Return the stretches on which the function has this sign, and their areas.

        Parameters
        ----------
        sign : int
            1 for positive stretches, -1 for negative ones.

        Returns
        -------
        list of Region
            In order; neighbouring stretches are joined.
        """
        points = np.unique(np.concatenate([self.breaks, self.roots()]))
        scale = float(np.max(np.abs(self.coefficients[:, 0]), initial=0.0))
        found: list[Region] = []
        for a, b in itertools.pairwise(points):
            if sign * float(self(0.5 * (a + b))) <= 1e-13 * scale:
                continue
            area = self.integral(a, b)
            if found and found[-1].end == a:
                found[-1] = Region(found[-1].start, float(b), found[-1].area + area)
            else:
                found.append(Region(float(a), float(b), area))
        return found

    def area(self, sign: int = 0) -> float:
        """Return the area of the positive (1), the negative (-1) or all (0) stretches."""
        if sign == 0:
            return self.integral(float(self.breaks[0]), float(self.breaks[-1]))
        return sum(region.area for region in self.regions(sign))

    def maximum(self, start: float | None = None, end: float | None = None) -> Extreme:
        """Return the largest value on a stretch, limits at jumps included."""
        return self._extreme(1, start, end)

    def minimum(self, start: float | None = None, end: float | None = None) -> Extreme:
        """Return the smallest value on a stretch, limits at jumps included."""
        return self._extreme(-1, start, end)

    def _extreme(self, sign: int, start: float | None, end: float | None) -> Extreme:
        first = float(self.breaks[0]) if start is None else start
        last = float(self.breaks[-1]) if end is None else end
        best = Extreme(-np.inf, first, "right")
        for left, right, polynomial in self._pieces():
            a, b = max(left, first), min(right, last)
            if b < a:
                continue
            slopes = polynomial[1:] * np.arange(1, len(polynomial))
            inside = [t for t in _roots_inside(slopes, right - left) if a < left + t < b]
            for t in (a - left, *inside, b - left):
                value = sign * _value(polynomial, t)
                if value > best.value + 1e-12 * abs(best.value) or np.isinf(best.value):
                    side: Side = "left" if t == b - left else "right"
                    best = Extreme(value, left + t, side)
        return Extreme(sign * best.value, best.position, best.side)

    def _pieces(self) -> Iterator[tuple[float, float, Array]]:
        for left, right, polynomial in zip(
            self.breaks[:-1], self.breaks[1:], self.coefficients, strict=True
        ):
            if right > left:
                yield float(left), float(right), polynomial


def _value(polynomial: Array, t: float) -> float:
    value = 0.0
    for coefficient in polynomial[::-1]:
        value = value * t + float(coefficient)
    return value


def _roots_inside(polynomial: Array, length: float) -> list[float]:
    """Return the real roots in [0, length] of one piece, in its own coordinate."""
    scaled = polynomial * length ** np.arange(len(polynomial))
    size = float(np.max(np.abs(scaled), initial=0.0))
    if size == 0.0:
        return []
    scaled = np.where(np.abs(scaled) < 1e-14 * size, 0.0, scaled)
    roots = np.roots(scaled[::-1])
    real = roots[np.abs(roots.imag) < 1e-7].real
    return [float(t) * length for t in real if -1e-12 <= t <= 1 + 1e-12]
