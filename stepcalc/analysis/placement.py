"""Where a vehicle stands when its effect is largest, and what the searches share."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from stepcalc.errors import ShapeError

__all__ = ["Axles", "Placement", "axles_of"]

Array = NDArray[np.float64]

TIE = 1.0 + 1e-12
"""A later candidate must be larger by more than round-off, so that ties are stable."""


_SAMPLE = 64


@dataclass(frozen=True)
class Axles:
    """The axles of one vehicle, checked: forces, and distances behind the first axle."""

    forces: tuple[float, ...]
    offsets: tuple[float, ...]


@dataclass(frozen=True)
class Placement:
    """The largest effect of a vehicle, and the position that gives it.

    Attributes
    ----------
    value : ndarray of float
        The largest effect; nan where the span is not positive.
    section : ndarray of float, [length]
        The section at which it occurs, from the left support.
    first_axle : ndarray of float, [length]
        Where the first axle of the vehicle stands, from the left support; it may be off the span.
    axle : ndarray of int
        Index of the axle that stands on the section, -1 where no axle needs to.
    turned : ndarray of bool
        False: the vehicle heads left, its other axles stand to the right of the first. True: it
        heads right.
    """

    value: Array
    section: Array
    first_axle: Array
    axle: NDArray[np.int64]
    turned: NDArray[np.bool_]

    def positions(self, spacings: Sequence[float]) -> Array:
        """Return where every axle stands.

        Parameters
        ----------
        spacings : sequence of float, length n - 1, [length]
            The spacings that were given to the search.

        Returns
        -------
        ndarray of float, shape (..., n), [length]
            From the left support, in the order of the axles; may lie off the span.
        """
        offsets = np.concatenate([[0.0], np.cumsum(np.asarray(spacings, dtype=np.float64))])
        sign = np.where(self.turned, -1.0, 1.0)
        return np.asarray(self.first_axle[..., None] + sign[..., None] * offsets)


def axles_of(axles: Sequence[float], spacings: Sequence[float]) -> Axles:
    """Return the axles as a record, or raise if the two sequences do not fit each other.

    Parameters
    ----------
    axles : sequence of float, length n, [force]
        Axle forces, none negative.
    spacings : sequence of float, length n - 1, [length]
        Distances between neighbouring axles, none negative.

    Returns
    -------
    Axles

    Raises
    ------
    ShapeError
        If there is no axle or no weight, the lengths do not fit, or something is negative.
    """
    if len(axles) == 0 or len(spacings) != len(axles) - 1:
        msg = (
            f"{len(axles)} axles with {len(spacings)} spacings do not make a vehicle; "
            "give at least one axle, and one spacing fewer than axles"
        )
        raise ShapeError(msg)
    if min(axles) < 0 or min(spacings, default=0.0) < 0:
        msg = "an axle force or spacing is negative; give forces downward positive and distances"
        raise ShapeError(msg)
    if sum(axles) == 0:
        raise ShapeError("the axles weigh nothing together; give at least one axle a force")
    offsets = [0.0]
    for spacing in spacings:
        offsets.append(offsets[-1] + float(spacing))
    return Axles(tuple(float(force) for force in axles), tuple(offsets))


class Best:
    """The best of the candidates offered so far, at every element of an array of problems.

    Attributes
    ----------
    value : ndarray of float
        The largest value so far, minus infinity where nothing was kept.
    index : ndarray of int
        The candidate that gave it.
    """

    def __init__(self, shape: tuple[int, ...]) -> None:
        self.value: Array = np.full(shape, -np.inf)
        self.index: NDArray[np.int64] = np.zeros(shape, dtype=np.int64)

    def offer(self, value: ArrayLike, index: int) -> NDArray[np.bool_]:
        """Keep a candidate wherever it is larger by more than round-off, and say where."""
        better = np.asarray(np.greater(value, self.value * TIE))  # nan is never kept
        np.copyto(self.value, value, where=better)
        np.copyto(self.index, index, where=better)
        return better

    @property
    def found(self) -> Array:
        """The largest values, nan where nothing was kept."""
        return np.where(np.isneginf(self.value), np.nan, self.value)


def compact(*values: ArrayLike) -> tuple[list[Array], Callable[[Any], Any]]:
    """Return the arguments without repeated work, and the function that restores the full shape.

    Axes along which an argument is only broadcast are cut to one element. If then one argument
    alone varies, only its distinct values are kept: a sheet that runs 231,200 variants of a girder
    over 20 spans solves 20 of them.
    """
    arrays = [np.asarray(value, dtype=np.float64) for value in values]
    try:
        shape = np.broadcast_shapes(*(array.shape for array in arrays))
    except ValueError:
        shapes = ", ".join(str(array.shape) for array in arrays)
        msg = f"the arguments have the shapes {shapes}, which do not broadcast together"
        raise ShapeError(msg) from None
    reduced = [_without_repeats(array) for array in arrays]
    varying = [index for index, array in enumerate(reduced) if array.size > 1]
    if len(varying) != 1:
        return reduced, lambda result: np.broadcast_to(result, shape)
    array = reduced[varying[0]]
    if not _repeats(array):
        return reduced, lambda result: np.broadcast_to(result, shape)
    distinct, inverse = np.unique(array, return_inverse=True)
    scalars = [
        distinct if index == varying[0] else other.reshape(())
        for index, other in enumerate(reduced)
    ]
    return scalars, lambda result: np.broadcast_to(result[inverse].reshape(array.shape), shape)


def _repeats(array: Array) -> bool:
    """Tell from a sample whether values come back so often that sorting them out is worth it."""
    sample = array.ravel()[:: max(1, array.size // _SAMPLE)].tolist()
    return len(set(sample)) < 0.8 * len(sample)


def _without_repeats(array: Array) -> Array:
    keep = tuple(slice(0, 1) if stride == 0 else slice(None) for stride in array.strides)
    return array[keep]
