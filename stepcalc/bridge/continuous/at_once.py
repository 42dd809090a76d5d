"""Values of force effects of many beams of one layout at once, one section of each.

Floats and arrays go the same way: one beam is an array of one.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from stepcalc.analysis.batch_values import (
    live_values,
    ordinate_values,
    part_area_values,
    uniform_values,
)
from stepcalc.analysis.beam_batch import solved_batch
from stepcalc.analysis.beam_stiffness import solved
from stepcalc.analysis.concurrent import concurrent_values
from stepcalc.bridge.continuous.layout import batch_of, beam_of, read_layout
from stepcalc.bridge.continuous.loads import load_cases
from stepcalc.errors import RangeError

if TYPE_CHECKING:
    from stepcalc.analysis.beam_batch import SolvedBeams
    from stepcalc.analysis.line_family import Effect
    from stepcalc.analysis.load_case import LoadCase

__all__ = [
    "areas_at_once",
    "beside_at_once",
    "dead_at_once",
    "live_at_once",
    "ordinates_at_once",
    "pieces_at",
    "pieces_of",
    "same_loads",
]

Array = NDArray[np.float64]
Integers = NDArray[np.int64]

_DOUBLES = 2_000_000
"""Of the stiffness matrices of the beams that are solved together."""


def dead_at_once(effect: Effect, spans: Array, layout: str, place: int, fraction: Array) -> Array:
    """Return an effect of 1 kip/ft on all spans.

    Parameters
    ----------
    effect : "moment", "shear", "reaction" or "deflection"
    spans : ndarray of float, shape (n, spans), ft
        Finite and above zero.
    layout : str
        See `read_layout`.
    place : int
        A span; for a reaction, a support; both counted from 1.
    fraction : ndarray of float, shape (n,)
        Of the span.

    Returns
    -------
    ndarray of float, shape (n,)
        nan where the section is off its span.

    Raises
    ------
    RangeError
        If the layout cannot be read, or there is no such span or support.
    UndefinedError
        If the layout makes mechanisms.
    """
    found = np.full(len(spans), np.nan)
    for rows, model, x, faces, beams in pieces_at(effect, spans, layout, place, fraction):
        found[rows] = uniform_values(model, effect, x, faces, beams)
    return found


def ordinates_at_once(
    effect: Effect,
    spans: Array,
    layout: str,
    place: int,
    fraction: Array,
    position: Array,
    side: Array,
) -> Array:
    """Return influence ordinates at positions, ft from the left end; else as `dead_at_once`."""
    found = np.full(len(spans), np.nan)
    for rows, model, x, faces, beams in pieces_at(effect, spans, layout, place, fraction):
        where = position[rows], np.where(side[rows] < 0, -1, 1)
        found[rows] = ordinate_values(model, effect, x, faces, beams, where)
    return found


def areas_at_once(
    effect: Effect,
    spans: Array,
    layout: str,
    place: int,
    fraction: Array,
    start: Array,
    end: Array,
) -> Array:
    """Return influence areas from one position to another; else as `dead_at_once`."""
    found = np.full(len(spans), np.nan)
    for rows, model, x, faces, beams in pieces_at(effect, spans, layout, place, fraction):
        stretch = start[rows], end[rows]
        found[rows] = part_area_values(model, effect, x, faces, beams, stretch)
    return found


def live_at_once(
    effect: Effect,
    which: str,
    load: str,
    impact: Array,
    spans: Array,
    layout: str,
    place: int,
    fraction: Array,
) -> Array:
    """Return the largest or smallest value under a live load in one lane.

    Parameters
    ----------
    effect, spans, layout, place, fraction : as for `dead_at_once`
    which : "max" or "min"
    load : str
        See `load_cases`.
    impact : ndarray of float, shape (n,)

    Returns
    -------
    ndarray of float, shape (n,)

    Raises
    ------
    RangeError, UnknownNameError, UndefinedError
        As for `dead_at_once`, or if the text stands for no load.
    """
    found = np.full(len(spans), np.nan)
    sign = 1 if which == "max" else -1
    for rows, model, x, faces, beams in pieces_at(effect, spans, layout, place, fraction):
        for picked, cases, factors in same_loads(load, impact[rows], spans[rows]):
            found[rows[picked]] = live_values(
                model, cases, effect, x[picked], faces[picked], beams[picked],
                sign=sign, factors=factors,
            )  # fmt: skip
    return found


def beside_at_once(
    effects: tuple[Effect, Effect],
    which: str,
    load: str,
    impact: Array,
    spans: Array,
    layout: str,
    place: int,
    fraction: Array,
) -> Array:
    """Return another effect under the loads of an extreme, on the side where it is larger.

    Parameters
    ----------
    effects : pair of "moment" or "shear"
        Whose extreme it is, and the one that is asked for.
    which, load, impact, spans, layout, place, fraction : as for `live_at_once`

    Returns
    -------
    ndarray of float, shape (n,)

    Raises
    ------
    RangeError, UnknownNameError, UndefinedError
        As for `live_at_once`.
    """
    found = np.full(len(spans), np.nan)
    sign = 1 if which == "max" else -1
    for rows, model, x, faces, beams in pieces_at(effects[0], spans, layout, place, fraction):
        for picked, cases, factors in same_loads(load, impact[rows], spans[rows]):
            both = concurrent_values(
                model, cases, effects, x[picked], faces[picked], beams[picked],
                sign=sign, factors=factors,
            )  # fmt: skip
            found[rows[picked]] = both.governing
    return found


Piece = tuple[Integers, "SolvedBeams", Array, Integers, Integers]


def pieces_at(
    effect: Effect, spans: Array, layout: str, place: int, fraction: Array
) -> Iterator[Piece]:
    """Return rows in pieces: which, solved beams, sections, faces, and the beam of each row."""
    count = spans.shape[1]
    if effect != "reaction" and not 1 <= place <= count:
        raise RangeError(f"there is no span {place}; the beam has {count}")
    said = read_layout(layout, count)
    varies = any(first != last for law in said.laws or () for _, first, last in law)
    on_span = (fraction >= -1e-9) & (fraction <= 1 + 1e-9) | (effect == "reaction")
    rows = np.flatnonzero(on_span)
    share = np.clip(fraction, 0.0, 1.0)
    groups = [rows]
    if effect == "deflection" and varies:  # the section has to be a node
        groups = [rows[share[rows] == value] for value in np.unique(share[rows])]
    for group in groups:
        for part in pieces_of(spans[group]):
            picked = group[part]
            extra = [(place - 1, float(share[picked[0]]))] if len(groups) > 1 or varies else []
            model = _solved(spans[picked], layout, extra if effect == "deflection" else [])
            yield (picked, model, *_sections(effect, model, place, share[picked]))


def pieces_of(spans: Array) -> list[slice]:
    """Return pieces of beams whose stiffness matrices fit into a bounded memory."""
    step = max(8, _DOUBLES // (6 * spans.shape[1]) ** 2)
    return [slice(start, start + step) for start in range(0, len(spans), step)]


def _solved(spans: Array, layout: str, extra: list[tuple[int, float]]) -> SolvedBeams:
    if len(spans) == 1 and not extra:
        return solved(beam_of(tuple(spans[0].tolist()), layout))
    return solved_batch(batch_of(spans, layout, extra))


def _sections(
    effect: Effect, model: SolvedBeams, place: int, share: Array
) -> tuple[Array, Integers, Integers]:
    """Return sections, their faces and beams; a reaction stands for its support."""
    batch, beams = model.batch, np.arange(len(share))
    if effect == "reaction":
        supports = batch.supports
        if not 1 <= place <= supports.shape[1]:
            msg = f"there is no support {place}; the beam has {supports.shape[1]}"
            raise RangeError(msg)
        return supports[:, place - 1], np.ones(len(share), dtype=np.int64), beams
    start, end = batch.joints[:, place - 1], batch.joints[:, place]
    x = start + share * (end - start)
    near = 1e-9 * batch.length
    x = np.where(x - start <= near, start, np.where(end - x <= near, end, x))
    faces = np.where(share > 1 - 1e-9, -1, 1)
    if effect != "shear":
        faces = np.ones(len(share), dtype=np.int64)
    return x, faces, beams


def same_loads(
    load: str, impact: Array, spans: Array
) -> Iterator[tuple[Integers, tuple[LoadCase, ...], tuple[Array, Array] | None]]:
    """Return rows that have the same cases, the cases, and their factors where those differ."""
    longest = spans.max(axis=1)
    # lane-type legal loads have another case above 200 ft: its text is the same, its cases are not
    longer = longest > 200
    for over in np.unique(longer):
        picked = np.flatnonzero(longer == over)
        picked = picked[impact[picked] >= 0]  # others have no result
        values, which = np.unique(impact[picked], return_inverse=True)
        if not len(picked):
            continue
        of_one = tuple(spans[picked[0]].tolist())
        by_impact = [load_cases(load, float(value), of_one) for value in values]
        cases = by_impact[0]
        if not cases:
            continue
        if len(values) == 1:
            yield picked, cases, None
            continue
        axles, lane = (
            np.array([[getattr(case, name) for case in one] for one in by_impact])
            for name in ("axle_factor", "lane_factor")
        )
        yield picked, cases, (axles[which].T, lane[which].T)
