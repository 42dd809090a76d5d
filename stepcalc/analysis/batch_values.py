"""Force effects of many beams at once, one section each: standing, moving, and per unit load."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from stepcalc.analysis.batch_lines import lines_of
from stepcalc.analysis.case_effect import case_effects
from stepcalc.analysis.line_signs import areas, areas_upto, firsts_upto
from stepcalc.analysis.train_placement import ordinates_at

if TYPE_CHECKING:
    from stepcalc.analysis.beam_batch import SolvedBeams
    from stepcalc.analysis.line_family import Effect, LineFamily
    from stepcalc.analysis.load_case import LoadCase

__all__ = [
    "StandingLoads",
    "live_values",
    "load_values",
    "ordinate_values",
    "part_area_values",
    "uniform_values",
]

Array = NDArray[np.float64]
Integers = NDArray[np.int64]

_DOUBLES = 400_000
"""Of the shapes from which the lines of a piece are made."""


def uniform_values(
    model: SolvedBeams, effect: Effect, sections: Array, faces: Integers, beams: Integers
) -> Array:
    """Return an effect of a unit load on all spans.

    Parameters
    ----------
    model : SolvedBeams
    effect : "moment", "shear", "reaction" or "deflection"
    sections : ndarray of float, shape (rows,), [length]
        For a reaction, the position of its support.
    faces : ndarray of int, shape (rows,)
        -1 just left, 1 just right of the section.
    beams : ndarray of int, shape (rows,)
        Which beam each row belongs to.

    Returns
    -------
    ndarray of float, shape (rows,)

    Source
    ------
    Areas under exact influence lines. No clause.
    """
    return areas(lines_of(model, effect, beams, sections, faces))


def part_area_values(
    model: SolvedBeams,
    effect: Effect,
    sections: Array,
    faces: Integers,
    beams: Integers,
    stretch: tuple[Array, Array],
) -> Array:
    """Return an effect of a unit load from one position to another; else as `uniform_values`."""
    lines = lines_of(model, effect, beams, sections, faces)
    upto = areas_upto(lines, np.stack(stretch, axis=1))
    return np.asarray(np.maximum(np.sign(stretch[1] - stretch[0]), 0) * np.diff(upto)[:, 0])


@dataclass(frozen=True, eq=False)
class StandingLoads:
    """Loads that stand still, of the same kinds on every beam; one row a beam, one column a load.

    Attributes
    ----------
    stretches : ndarray of float, shape (beams, m, 4)
        Start and end, [length], and intensity at both, [force / length].
    forces : ndarray of float, shape (beams, k, 2)
        Position and force.
    """

    stretches: Array
    forces: Array


def load_values(
    model: SolvedBeams,
    effect: Effect,
    sections: Array,
    faces: Integers,
    beams: Integers,
    loads: StandingLoads,
) -> Array:
    """Return an effect of loads that stand still; else as `uniform_values`.

    A force on the section belongs to the far side of the face that is wanted.
    """
    lines = lines_of(model, effect, beams, sections, faces)
    found = np.zeros(len(beams))
    for number in range(loads.stretches.shape[1]):
        start, end, first, last = loads.stretches[beams, number].T
        ends = np.stack([start, end], axis=1)
        slope = (last - first) / (end - start)
        area, weighted = (np.diff(upto(lines, ends))[:, 0] for upto in (areas_upto, firsts_upto))
        found += first * area
        found += np.where(slope == 0, 0.0, slope * (weighted - start * area))
    for number in range(loads.forces.shape[1]):
        position, force = loads.forces[beams, number].T
        found += force * _ordinates(lines, position, -faces)
    return found


def ordinate_values(
    model: SolvedBeams,
    effect: Effect,
    sections: Array,
    faces: Integers,
    beams: Integers,
    position: tuple[Array, Integers],
) -> Array:
    """Return an effect of a unit force at a position, just left or right of it (-1, 1)."""
    return _ordinates(lines_of(model, effect, beams, sections, faces), *position)


def _ordinates(lines: LineFamily, where: Array, sides: Integers) -> Array:
    # on an end of the beam, the limit from inside counts
    length = lines.breaks[:, -1]
    side = np.where(where >= length * (1 - 1e-9), -1, np.where(where <= 1e-9 * length, 1, sides))
    near = np.abs(lines.breaks - where[:, None])
    closest = np.argmin(near, axis=1)
    row = np.arange(len(where))
    snapped = np.where(near[row, closest] <= 1e-9 * length, lines.breaks[row, closest], where)
    return ordinates_at(lines, snapped[:, None], side[:, None])[:, 0]


def live_values(
    model: SolvedBeams,
    cases: Sequence[LoadCase],
    effect: Effect,
    sections: Array,
    faces: Integers,
    beams: Integers,
    *,
    sign: int,
    factors: tuple[Array, Array] | None = None,
) -> Array:
    """Return the largest or smallest value of an effect over some cases of a live load, exactly.

    Parameters
    ----------
    model, effect, sections, faces, beams : as for `uniform_values`
    cases : sequence of LoadCase
    sign : int
        1 for the largest, -1 for the smallest value.
    factors : pair of ndarray of float, shape (cases, rows), optional
        On axles and on lane, where they differ between rows; else those of the cases.

    Returns
    -------
    ndarray of float, shape (rows,)
        The largest is 0 or above, the smallest 0 or below.

    Source
    ------
    Influence lines; the rules of each case are cited by it. No clause.
    """
    step = max(64, _DOUBLES // (16 * len(model.owner)))
    best = np.zeros(len(beams))
    for start in range(0, len(beams), step):
        cut = slice(start, start + step)
        own = beams[cut]
        found = case_effects(
            cases,
            model,
            own,
            np.full(len(own), effect),
            sections[cut],
            faces[cut],
            np.full(len(own), sign),
            lines_of(model, effect, own, sections[cut], faces[cut]),
        )
        for number, result in enumerate(found):
            total = result.total
            if factors is not None:
                axles, lane = (both[number, cut] for both in factors)
                factor = axles if result.case.vehicle is not None else lane
                parts = factor * result.axles + lane * result.lane
                total = np.where(np.isneginf(total), total, parts)
            best[cut] = np.maximum(best[cut], total)
    return sign * best + 0.0
