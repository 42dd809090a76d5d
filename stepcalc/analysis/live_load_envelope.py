"""Envelopes of moving loads on a beam, with the data that prove every value."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

import numpy as np
from numpy.typing import ArrayLike, NDArray

from stepcalc.analysis.beam_stiffness import solved
from stepcalc.analysis.case_effect import CaseEffect, case_effects
from stepcalc.analysis.influence_lines import Effect, LineFamily, influence_lines
from stepcalc.analysis.line_family import stacked
from stepcalc.analysis.load_case import LoadCase, hl93_cases
from stepcalc.analysis.load_proof import LoadProof, placed_proof
from stepcalc.errors import RangeError

if TYPE_CHECKING:
    from stepcalc.analysis.beam import Beam

__all__ = ["EffectEnvelope", "LiveLoadEnvelope", "live_load_envelope"]

Array = NDArray[np.float64]
Integers = NDArray[np.int64]
Which = Literal["max", "min"]


@dataclass(frozen=True, eq=False)
class EffectEnvelope:
    """The envelope of one effect.

    Attributes
    ----------
    beam : Beam
    effect : str
    sections : ndarray of float, shape (n,), [length]
        For shear every interior support stands twice, left and right; for reactions, the supports.
    faces : ndarray of int, shape (n,)
        -1 just left, 1 just right of the section.
    maximum, minimum : ndarray of float, shape (n,)
        Signed; the minimum is 0 or below, the maximum 0 or above.
    cases : tuple of LoadCase
    maximum_case, minimum_case : ndarray of int, shape (n,)
        Index of the governing case; -1 where none applies.
    by_case_maximum, by_case_minimum : ndarray of float, shape (cases, n)
        Every case alone; nan where it does not apply.
    """

    beam: Beam
    effect: Effect
    sections: Array
    faces: Integers
    maximum: Array
    minimum: Array
    cases: tuple[LoadCase, ...]
    maximum_case: Integers
    minimum_case: Integers
    by_case_maximum: Array
    by_case_minimum: Array
    lines: LineFamily
    results: tuple[CaseEffect, ...]
    first_row: tuple[int, int]

    def proof(self, index: int, which: Which = "max", *, case: int | None = None) -> LoadProof:
        """Return how one value comes about: axles, ordinates, products, lane areas, sum.

        Parameters
        ----------
        index : int
            Of the section.
        which : "max" or "min"
        case : int, optional
            Index of a case; the governing one unless given.

        Returns
        -------
        LoadProof

        Raises
        ------
        RangeError
            If the case does not apply at this section.
        """
        maximum = which == "max"
        governing = self.maximum_case if maximum else self.minimum_case
        number = int(governing[index]) if case is None else case
        if number < 0:
            raise RangeError(f"no load case applies to {self.effect} at {self.sections[index]:g}")
        row = self.first_row[0 if maximum else 1] + index
        return placed_proof(
            self.results[number],
            row,
            line=self.lines.line(index),
            effect=self.effect,
            section=float(self.sections[index]),
            face=int(self.faces[index]),
            sign=1 if maximum else -1,
        )

    def index_of(self, section: float, face: int = 1) -> int:
        """Return the index of a section, of its `face` where it stands twice."""
        distance = np.abs(self.sections - section)
        nearest = distance <= distance.min() + 1e-9 * self.beam.length
        if distance.min() > 1e-6 * self.beam.length:
            msg = f"the envelope has no section at {section:g}; ask for it when it is made"
            raise RangeError(msg)
        choice = np.flatnonzero(nearest)
        wanted = choice[self.faces[choice] == face]
        return int(wanted[0] if len(wanted) else choice[0])


@dataclass(frozen=True, eq=False)
class LiveLoadEnvelope:
    """The envelopes of several effects, by name."""

    beam: Beam
    effects: Mapping[str, EffectEnvelope]

    def __getitem__(self, effect: str) -> EffectEnvelope:
        return self.effects[effect]


def live_load_envelope(
    beam: Beam,
    cases: Sequence[LoadCase] | None = None,
    *,
    sections: ArrayLike | None = None,
    effects: Sequence[Effect] = ("moment", "shear", "reaction"),
) -> LiveLoadEnvelope:
    """Return the envelopes of a live load: the true largest and smallest values, not stepped.

    Parameters
    ----------
    beam : Beam
    cases : sequence of LoadCase, optional
        The largest of them governs at every section; the HL-93 cases with 33 % unless given.
    sections : array_like of float, optional, [length]
        Tenth points of every span unless given. Reactions are those of every support.
    effects : sequence of "moment", "shear", "reaction" or "deflection"

    Returns
    -------
    LiveLoadEnvelope
        Within 1e-6 of the largest value of each line; deflections need the true EI.

    Raises
    ------
    RangeError
        If a section is off the beam, or there is no case or no effect.
    UndefinedError
        If the beam is a mechanism.

    Source
    ------
    Influence lines; the rules of each case are cited by it. No clause.

    Examples
    --------
    Two spans of 80 ft: HL-93 with 33 %, at the pier, two trucks and lane.

    >>> from stepcalc.analysis.beam import Beam
    >>> moment = live_load_envelope(Beam((80.0, 80.0)))["moment"]
    >>> pier = moment.index_of(80.0)
    >>> moment.cases[moment.minimum_case[pier]].id
    '90 % (two trucks + lane)'
    >>> round(float(moment.minimum[pier]), 1)
    -1691.4
    """
    chosen = tuple(hl93_cases() if cases is None else cases)
    if not chosen or not effects:
        raise RangeError("an envelope needs at least one load case and one effect")
    x = beam.tenth_points() if sections is None else beam.checked_sections(sections)
    found: dict[str, EffectEnvelope] = {}
    # deflection lines have more pieces, so that they are searched apart
    bends: list[Effect] = [effect for effect in effects if effect == "deflection"]
    for group in ([effect for effect in effects if effect != "deflection"], bends):
        if group:
            found.update(_envelopes(beam, chosen, x, group))
    return LiveLoadEnvelope(beam, {effect: found[effect] for effect in effects})


def _envelopes(
    beam: Beam, cases: tuple[LoadCase, ...], x: Array, effects: Sequence[Effect]
) -> dict[str, EffectEnvelope]:
    places = [_places(beam, effect, x) for effect in effects]
    families = [
        influence_lines(beam, effect, at, faces=faces)
        for effect, (at, faces) in zip(effects, places, strict=True)
    ]
    counts = [len(at) for at, _ in places]
    names = np.repeat(np.array(effects, dtype=np.str_), counts)
    both = stacked(families)
    results = case_effects(
        cases,
        solved(beam),
        np.zeros(2 * len(names), dtype=np.int64),
        np.tile(names, 2),
        np.tile(np.concatenate([at for at, _ in places]), 2),
        np.tile(np.concatenate([faces for _, faces in places]), 2),
        np.repeat([1, -1], len(names)),
        stacked([both, both]),
    )
    totals = np.array([result.total for result in results])
    made: dict[str, EffectEnvelope] = {}
    first, half = 0, len(names)
    for effect, (at, faces), family in zip(effects, places, families, strict=True):
        top = totals[:, first : first + len(at)]
        bottom = totals[:, half + first : half + first + len(at)]
        made[effect] = EffectEnvelope(
            beam,
            effect,
            at,
            faces,
            np.maximum(top.max(axis=0), 0.0),
            0.0 - np.maximum(bottom.max(axis=0), 0.0),
            cases,
            _governing(top),
            _governing(bottom),
            np.where(np.isneginf(top), np.nan, top),
            np.where(np.isneginf(bottom), np.nan, 0.0 - bottom),
            family,
            results,
            (first, half + first),
        )
        first += len(at)
    return made


def _governing(totals: Array) -> Integers:
    return np.where(np.isneginf(totals).all(axis=0), -1, np.argmax(totals, axis=0))


def _places(beam: Beam, effect: Effect, x: Array) -> tuple[Array, Integers]:
    """Return sections and faces; for shear both faces of supports, for reactions the supports."""
    if effect == "reaction":
        supports = np.asarray(beam.supports)
        return supports, np.ones(len(supports), dtype=np.int64)
    if effect != "shear":
        return x, np.ones(len(x), dtype=np.int64)
    near = 1e-9 * beam.length
    supports = np.asarray(beam.supports)
    on_support = np.any(np.abs(x[:, None] - supports) <= near, axis=1)
    inside = on_support & (x > near) & (x < beam.length - near)
    at = np.repeat(x, np.where(inside, 2, 1))
    faces = np.ones(len(at), dtype=np.int64)
    faces[:-1][(at[1:] == at[:-1]) & np.repeat(inside, np.where(inside, 2, 1))[:-1]] = -1
    faces[at >= beam.length - near] = -1
    return at, faces
