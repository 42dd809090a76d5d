"""Influence lines with the same number of pieces, one a row."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from stepcalc.analysis.piecewise import PiecewisePolynomial, shifted

__all__ = ["EFFECTS", "Effect", "LineFamily", "cleaned", "stacked"]

Array = NDArray[np.float64]
Integers = NDArray[np.int64]
Effect = Literal["moment", "shear", "reaction", "deflection"]

EFFECTS: tuple[Effect, ...] = ("moment", "shear", "reaction", "deflection")
_NOISE = 1e-13
"""Coefficients below this share of a line's size are round-off, and become zero."""


@dataclass(frozen=True, eq=False)
class LineFamily:
    """Influence lines with the same number of pieces, one a row.

    Attributes
    ----------
    breaks : ndarray of float, shape (rows, k + 1), [length]
        Ascending; pieces may have no length.
    coefficients : ndarray of float, shape (rows, k, 4)
        Ascending coefficients about each piece's left break.
    size : ndarray of float, shape (rows,)
        What ordinates can be: the largest of the line, or a span for moment and 1 for shear and
        reaction if that is more. Round-off is what is small beside it.
    """

    breaks: Array
    coefficients: Array
    size: Array

    def __len__(self) -> int:
        return len(self.breaks)

    @cached_property
    def jumps(self) -> Array:
        """How the cubics change at every break, shape (4, rows, k + 1), about the middle."""
        ended = shifted(self.coefficients, np.diff(self.breaks))
        change = np.zeros((len(self.breaks), self.breaks.shape[1], 4))
        change[:, :-1] = self.coefficients
        change[:, 1:] -= ended
        about_middle = shifted(change, self.breaks[:, -1:] / 2 - self.breaks)
        return np.ascontiguousarray(np.moveaxis(about_middle, -1, 0))

    def line(self, row: int) -> PiecewisePolynomial:
        """Return one row as a function."""
        return PiecewisePolynomial(self.breaks[row], self.coefficients[row])

    def rows(self, index: Integers | slice) -> LineFamily:
        """Return the rows of an index."""
        return LineFamily(self.breaks[index], self.coefficients[index], self.size[index])

    def reversed(self) -> LineFamily:
        """Return the same lines with the sign turned."""
        return LineFamily(self.breaks, -self.coefficients, self.size)


def cleaned(breaks: Array, coefficients: Array, size_of_one: Array) -> LineFamily:
    """Return the lines with round-off set to zero, so that it does not look like a sign.

    Round-off is what is small beside the line itself, and beside what a line of its kind can be:
    a span for moment, 1 for shear and reaction.
    """
    lengths = np.diff(breaks)[..., None] ** np.arange(4)
    size = np.abs(coefficients) * lengths
    largest = np.maximum(np.max(size, axis=(1, 2)), size_of_one)[:, None, None]
    noise = size <= _NOISE * largest
    noise[..., 0] |= np.abs(coefficients[..., 0]) <= _NOISE * largest[..., 0]
    noise |= (np.max(size, axis=2, keepdims=True) <= 100 * _NOISE * largest) & (
        lengths[..., 1:2] > 0
    )
    return LineFamily(breaks, np.where(noise, 0.0, coefficients), largest[:, 0, 0])


def stacked(families: Sequence[LineFamily]) -> LineFamily:
    """Return the rows of several families one after the other; they have the same pieces."""
    return LineFamily(
        np.concatenate([family.breaks for family in families]),
        np.concatenate([family.coefficients for family in families]),
        np.concatenate([family.size for family in families]),
    )
