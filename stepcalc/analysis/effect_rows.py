"""What is wanted of moving loads: rows of influence lines, and what they belong to."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from stepcalc.analysis.beam_batch import SolvedBeams, of_rows
from stepcalc.analysis.contraflexure import in_zones, zones_of
from stepcalc.analysis.line_family import LineFamily
from stepcalc.analysis.line_signs import positive_part

if TYPE_CHECKING:
    from stepcalc.analysis.load_case import Pair

__all__ = ["EffectRows", "pair_rows"]

Array = NDArray[np.float64]
Integers = NDArray[np.int64]


@dataclass(frozen=True, eq=False)
class EffectRows:
    """What is wanted: lines whose largest value is sought, and what they belong to.

    Attributes
    ----------
    model : SolvedBeams
    beams : ndarray of int, shape (rows,)
        Which beam each row belongs to.
    effects : ndarray of str, shape (rows,)
    sections : ndarray of float, shape (rows,), [length]
    faces : ndarray of int, shape (rows,)
    signs : ndarray of int, shape (rows,)
        1 where the maximum is wanted, -1 for the minimum.
    lines : LineFamily
        Influence lines times the sign.
    adding : LineFamily
        Their positive part.
    """

    model: SolvedBeams
    beams: Integers
    effects: NDArray[np.str_]
    sections: Array
    faces: Integers
    signs: Integers
    lines: LineFamily
    adding: LineFamily

    @classmethod
    def of(
        cls,
        model: SolvedBeams,
        beams: Integers,
        effects: NDArray[np.str_],
        sections: Array,
        faces: Integers,
        signs: Integers,
        lines: LineFamily,
    ) -> EffectRows:
        """Return the rows of influence lines that carry their own sign."""
        turned = LineFamily(lines.breaks, signs[:, None, None] * lines.coefficients, lines.size)
        return cls(model, beams, effects, sections, faces, signs, turned, positive_part(turned))

    @property
    def near(self) -> Array:
        """Distances that are none, shape (rows,), [length]."""
        return 1e-9 * of_rows(self.model.batch.length, self.beams)


def pair_rows(pair: Pair, rows: EffectRows) -> tuple[Integers, Array, Array]:
    """Return the rows for which two vehicles count, and the two spans beside their pier.

    Parameters
    ----------
    pair : Pair
    rows : EffectRows

    Returns
    -------
    picked : ndarray of int, shape (m,)
        A row may stand beside two piers, where a short span hogs throughout.
    left, right : ndarray of float, shape (m, 2), [length]
        Start and end of the span on either side of the pier.
    """
    supports = of_rows(rows.model.batch.supports, rows.beams)
    inner = supports[:, 1:-1]
    if not inner.shape[1]:
        return np.zeros(0, dtype=np.int64), np.zeros((0, 2)), np.zeros((0, 2))
    distance = np.abs(rows.sections[:, None] - inner)
    reaction = (rows.effects == "reaction") & (rows.signs > 0)
    counts = reaction[:, None] & (distance <= rows.near[:, None])
    hogging = (rows.effects == "moment") & (rows.signs < 0)
    if hogging.any():
        counts |= hogging[:, None] & _beside_pier(pair, rows, distance)
    pier, picked = np.nonzero(counts.T)
    left = np.stack([supports[picked, pier], supports[picked, pier + 1]], axis=1)
    right = np.stack([supports[picked, pier + 1], supports[picked, pier + 2]], axis=1)
    return picked, left, right


def _beside_pier(pair: Pair, rows: EffectRows, distance: Array) -> NDArray[np.bool_]:
    if pair.within_contraflexure:
        starts, ends = zones_of(rows.model)
        return in_zones(
            of_rows(starts, rows.beams), of_rows(ends, rows.beams), rows.sections, rows.near
        )
    nearest = np.argmin(distance, axis=1)
    return np.asarray(np.arange(distance.shape[1]) == nearest[:, None])
