"""The search shared by moment and shear at a given section: some axle stands on that section."""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache

import numpy as np

from stepcalc.analysis.influence import Array
from stepcalc.analysis.placement import Axles, Best

__all__ = ["best_axle_on_section"]

Ordinates = Callable[[Array, Array, Array], Array]
"""Positions, section and span to ordinates; the axles are on the last axis."""


def best_axle_on_section(
    train: Axles, section: Array, span: Array, ordinates: Ordinates, shape: tuple[int, ...]
) -> Best:
    """Return the best placement with an axle on the section, of every axle and both headings.

    Parameters
    ----------
    train : Axles
        The vehicle.
    section, span : ndarray of float, [length]
        Where the effect is wanted, and the span; they broadcast to `shape`.
    ordinates : callable
        The influence ordinates of the effect.
    shape : tuple of int
        The broadcast shape.

    Returns
    -------
    Best
        nan-free; nothing is offered where the span is not positive.
    """
    best = Best(shape)
    forces, ahead, axles, turned = _candidates(train)
    with np.errstate(all="ignore"):
        if not shape:
            values = np.sum(forces * ordinates(section + ahead, section, span), axis=-1)
            index = int(np.argmax(values >= np.max(values) * (1 - 1e-12))) if span > 0 else -1
            if index >= 0:
                first = section + ahead[index, 0]
                axle, heading = axles[index], turned[index]
                best.offer(
                    values[index], section=section, first_axle=first, axle=axle, turned=heading
                )
            return best
        c, L = section[..., None], span[..., None]
        for row, axle, heading in zip(ahead, axles, turned, strict=True):
            value = np.sum(forces * ordinates(c + row, c, L), axis=-1)
            value = np.where(span > 0, value, np.nan)
            best.offer(
                value, section=section, first_axle=section + row[0], axle=axle, turned=heading
            )
    return best


@lru_cache(maxsize=256)
def _candidates(train: Axles) -> tuple[Array, Array, tuple[int, ...], tuple[bool, ...]]:
    """Return the forces, and of every candidate: distances to the section, its axle, turned."""
    offsets = np.asarray(train.offsets)
    count = len(train.offsets)
    heading_left = offsets[None, :] - offsets[:, None]
    ahead = np.concatenate([heading_left, -heading_left])
    axles = (*range(count), *range(count))
    return np.asarray(train.forces), ahead, axles, (False,) * count + (True,) * count
