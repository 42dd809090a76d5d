"""What else acts where an envelope has its extremes: shear with maximum moment, and the reverse."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from stepcalc.analysis.batch_lines import lines_of
from stepcalc.analysis.case_effect import CaseEffect, case_effects
from stepcalc.analysis.influence_lines import Effect, LineFamily, influence_lines
from stepcalc.analysis.line_signs import areas_where, positive_part
from stepcalc.analysis.train_placement import ordinates_at

if TYPE_CHECKING:
    from stepcalc.analysis.beam_batch import SolvedBeams
    from stepcalc.analysis.live_load_envelope import EffectEnvelope, Which
    from stepcalc.analysis.load_case import LoadCase

__all__ = ["Concurrent", "concurrent", "concurrent_values"]

Array = NDArray[np.float64]
Integers = NDArray[np.int64]


@dataclass(frozen=True, eq=False)
class Concurrent:
    """Another effect at the sections of an envelope, under the very loads of its extremes.

    Attributes
    ----------
    effect : "moment", "shear" or "deflection"
    left, right : ndarray of float, shape (n,)
        Just left and just right of the section. They differ for shear where an axle stands on the
        section, which is the usual place of the largest moment, and at supports.
    """

    effect: Effect
    left: Array
    right: Array

    @property
    def governing(self) -> Array:
        """The one of larger magnitude, with its sign; of equal ones, that on the left."""
        return np.where(np.abs(self.right) > np.abs(self.left), self.right, self.left)


def concurrent(envelope: EffectEnvelope, effect: Effect, which: Which = "max") -> Concurrent:
    """Return another effect at every section of an envelope, under the governing loads.

    Load factor design and allowable stress design need it: shear with maximum moment, and moment
    with maximum shear (moment and shear of one stiffened panel act together).

    Parameters
    ----------
    envelope : EffectEnvelope
        Of moment, shear or deflection, such as ``live_load_envelope(beam)["moment"]``.
    effect : "moment", "shear" or "deflection"
        The effect that is asked for.
    which : "max" or "min"
        Whose loads: those of ``envelope.maximum`` or of ``envelope.minimum``. Axles that were left
        out, and the stretches without lane load, stay empty.

    Returns
    -------
    Concurrent
        With the factors of the governing case; 0 where nothing stands.

    Source
    ------
    Superposition of influence ordinates. No clause.

    Examples
    --------
    HL-93 on 100 ft, at midspan: the shear jumps by the axle that stands there, 1.33 times 32 kip.

    >>> from stepcalc.analysis.beam import Beam
    >>> from stepcalc.analysis.live_load_envelope import live_load_envelope
    >>> moment = live_load_envelope(Beam((100.0,)), sections=[50.0])["moment"]
    >>> shear = concurrent(moment, "shear")
    >>> print(f"{shear.left[0]:.2f} {shear.right[0]:.2f}")
    32.77 -9.79
    """
    governing = envelope.maximum_case if which == "max" else envelope.minimum_case
    first = envelope.first_row[0 if which == "max" else 1]
    loads = _Loads(
        envelope.results,
        governing,
        first + np.arange(len(governing)),
        positive_part(envelope.lines if which == "max" else envelope.lines.reversed()),
        envelope.sections,
        envelope.effect == "shear",
        None,
    )
    sides = {}
    for face in (-1, 1):
        at = np.full(len(envelope.sections), face, dtype=np.int64)
        # the shear of a section that is a face of a support already is the shear of that face
        faces = envelope.faces if envelope.effect == "shear" else at
        lines = influence_lines(envelope.beam, effect, envelope.sections, faces=faces)
        sides[face] = loads.effect_on(lines, face)
    return Concurrent(effect, sides[-1], sides[1])


def concurrent_values(
    model: SolvedBeams,
    cases: Sequence[LoadCase],
    effects: tuple[Effect, Effect],
    sections: Array,
    faces: Integers,
    beams: Integers,
    *,
    sign: int,
    factors: tuple[Array, Array] | None = None,
) -> Concurrent:
    """Return another effect under the loads of an extreme, one section of each of many beams.

    Parameters
    ----------
    model, cases, sections, faces, beams, sign, factors
        As for `live_values`.
    effects : pair of "moment", "shear" or "deflection"
        Whose extreme it is, and the one that is asked for.

    Returns
    -------
    Concurrent

    Source
    ------
    As for `concurrent`.
    """
    own, other = effects
    count = len(beams)
    lines = lines_of(model, own, beams, sections, faces)
    names, signs = np.full(count, own), np.full(count, sign)
    results = case_effects(cases, model, beams, names, sections, faces, signs, lines)
    totals = np.array([
        result.total
        if factors is None
        else np.where(
            np.isneginf(result.total),
            result.total,
            (factors[0] if result.case.vehicle is not None else factors[1])[i] * result.axles
            + factors[1][i] * result.lane,
        )
        for i, result in enumerate(results)
    ])  # fmt: skip
    governing = np.where(np.isneginf(totals).all(axis=0), -1, np.argmax(totals, axis=0))
    added = positive_part(lines if sign > 0 else lines.reversed())
    loads = _Loads(results, governing, np.arange(count), added, sections, own == "shear", factors)
    sides = {}
    for face in (-1, 1):
        at = faces if own == "shear" else np.full(count, face)
        sides[face] = loads.effect_on(lines_of(model, other, beams, sections, at), face)
    return Concurrent(other, sides[-1], sides[1])


@dataclass(frozen=True, eq=False)
class _Loads:
    """What stands on the beams of some sections: the governing case of each, and its places.

    Attributes
    ----------
    results : sequence of CaseEffect
    governing, rows : ndarray of int, shape (n,)
        The case of each section, -1 for none, and the row of the results.
    added : LineFamily
        Where the lines of the extremes add: there the lane load stands.
    sections : ndarray of float, shape (n,)
    of_shear : bool
        An extreme of shear says itself on which side of the section its axles stand.
    factors : pair of ndarray of float, shape (cases, n), or None
        On axles and on lane, where they differ between sections.
    """

    results: Sequence[CaseEffect]
    governing: Integers
    rows: Integers
    added: LineFamily
    sections: Array
    of_shear: bool
    factors: tuple[Array, Array] | None

    def effect_on(self, lines: LineFamily, face: int) -> Array:
        """Return the effect with these influence lines, just left or right of the sections."""
        found = np.zeros(len(self.governing))
        for number in np.unique(self.governing[self.governing >= 0]):
            picked = np.flatnonzero(self.governing == number)
            result, some = self.results[number], lines.rows(picked)
            case = result.case
            on_axles, on_lane = case.axle_factor, case.lane_factor
            if self.factors is not None:
                on_axles, on_lane = (both[number, picked] for both in self.factors)
            factor = on_axles if case.vehicle is not None else on_lane
            found[picked] = factor * self._axles(result, picked, some, face)
            if case.lane:
                area = areas_where(some, self.added.rows(picked))
                found[picked] += on_lane * case.lane * area
        return found

    def _axles(self, result: CaseEffect, picked: Integers, lines: LineFamily, face: int) -> Array:
        rows = self.rows[picked]
        positions, sides = result.positions[rows], result.sides[rows]
        if not self.of_shear:
            # the shear just left of a section has the axle that stands there on its right
            length = lines.breaks[:, -1] - lines.breaks[:, 0]
            on = np.abs(positions - self.sections[picked, None]) <= 1e-9 * length[:, None]
            sides = np.where(on, -face, sides)
        counted = result.ordinates[rows] != 0
        if result.case.relieving == "kept" and result.case.pair is None:
            # a train that moves as a unit counts with every axle, even one at a zero of its line
            counted |= result.axles[rows, None] > 0
        products = result.forces[rows] * ordinates_at(lines, positions, sides)
        return np.asarray(np.where(counted, products, 0.0).sum(axis=1))
