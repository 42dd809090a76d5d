"""Stages of dead load on many girders at once: uniform, partial, trapezoidal and single loads."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from stepcalc.analysis.batch_values import StandingLoads, load_values
from stepcalc.analysis.beam_loads import Concentrated
from stepcalc.bridge.continuous.at_once import pieces_at
from stepcalc.bridge.continuous.stage_loads import stage_loads

if TYPE_CHECKING:
    from stepcalc.analysis.line_family import Effect

__all__ = ["stage_at_once", "standing_loads"]

Array = NDArray[np.float64]


def standing_loads(text: str, spans: Array, load: Array) -> StandingLoads:
    """Return the loads of a stage on girders of different spans.

    Parameters
    ----------
    text : str
        See `stage_loads`.
    spans : ndarray of float, shape (n, spans), ft
    load : ndarray of float, shape (n,), kip/ft
        The uniform load of the stage.

    Returns
    -------
    StandingLoads

    Raises
    ------
    RangeError
        If the text cannot be read, or a load is off a girder.
    """
    stretches, forces = [], []
    for row, uniform in zip(spans.tolist(), load.tolist(), strict=True):
        said = stage_loads(text, tuple(row))
        own = [(start, end, uniform, uniform) for start, end in said.stretches]
        forces.append([(q.position, q.force) for q in said.fixed if isinstance(q, Concentrated)])
        lines = [q for q in said.fixed if not isinstance(q, Concentrated)]
        stretches.append([*own, *((q.start, q.end, *q.ends) for q in lines)])
    count = len(spans)
    return StandingLoads(
        np.array(stretches, dtype=np.float64).reshape(count, -1, 4),
        np.array(forces, dtype=np.float64).reshape(count, -1, 2),
    )


def stage_at_once(
    effect: Effect,
    spans: Array,
    layout: str,
    place: int,
    fraction: Array,
    load: Array,
    text: str,
) -> Array:
    """Return an effect of one stage of dead load.

    Parameters
    ----------
    effect, spans, layout, place, fraction
        As for `dead_at_once`.
    load : ndarray of float, shape (n,), kip/ft
        The uniform load of the stage.
    text : str
        Its loads, see `stage_loads`.

    Returns
    -------
    ndarray of float, shape (n,)
        nan where the section is off its span.

    Raises
    ------
    RangeError, UndefinedError
        As for `dead_at_once`, or if the loads cannot be read.
    """
    found = np.full(len(spans), np.nan)
    for rows, model, x, faces, beams in pieces_at(effect, spans, layout, place, fraction):
        loads = standing_loads(text, spans[rows], load[rows])
        found[rows] = load_values(model, effect, x, faces, beams, loads)
    return found
