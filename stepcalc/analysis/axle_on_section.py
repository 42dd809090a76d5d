"""The search shared by moment and shear at a given section: some axle stands on that section."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np

from stepcalc.analysis.influence import Array
from stepcalc.analysis.placement import TIE, Axles, Best, Placement, compact

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

__all__ = ["best_axle_on_section"]

Ordinates = Callable[[Array, Array, Array], Array]
"""Positions, section and span to ordinates; the axles are on the last axis."""


def best_axle_on_section(
    train: Axles, section: ArrayLike, span: ArrayLike, ordinates: Ordinates
) -> Placement:
    """Return the best placement with an axle on the section, of every axle and both headings.

    Parameters
    ----------
    train : Axles
        The vehicle.
    section, span : array_like of float, [length]
        Where the effect is wanted, and the span; they broadcast.
    ordinates : callable
        The influence ordinates of the effect.

    Returns
    -------
    Placement
        nan where the span is not positive.

    Raises
    ------
    ShapeError
        If section and span do not broadcast.
    """
    (c, L), restore = compact(section, span)
    best = Best(np.broadcast_shapes(c.shape, L.shape))
    candidates = _candidates(train)
    with np.errstate(all="ignore"):
        if best.value.ndim == 0:
            values = np.asarray(train.forces) @ ordinates(c + candidates.ahead, c, L).T
            if L > 0:
                best.offer(values.max(), int(np.argmax(values >= values.max() / TIE)))
        else:
            for index, row in enumerate(candidates.ahead.tolist()):
                value = np.zeros(best.value.shape)
                for force, distance in zip(train.forces, row, strict=True):
                    value += force * ordinates(c + distance, c, L)
                best.offer(np.where(L > 0, value, np.nan), index)
    at = np.broadcast_to(c, best.value.shape)
    return Placement(
        restore(best.found),
        restore(at),
        restore(at + candidates.ahead[best.index, 0]),
        restore(candidates.axles[best.index]),
        restore(candidates.turned[best.index]),
    )


@dataclass(frozen=True)
class _Candidates:
    """Distances of all axles to the section, the axle on it, and the heading, of each candidate."""

    ahead: Array
    axles: NDArray[np.int64]
    turned: NDArray[np.bool_]


@lru_cache(maxsize=256)
def _candidates(train: Axles) -> _Candidates:
    offsets = np.asarray(train.offsets)
    count = len(train.offsets)
    heading_left = offsets[None, :] - offsets[:, None]
    return _Candidates(
        np.concatenate([heading_left, -heading_left]),
        np.tile(np.arange(count), 2),
        np.repeat([False, True], count),
    )
