"""The exact peak of a live-load envelope along a beam, by either of its two definitions."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from stepcalc.analysis.batch_values import live_values
from stepcalc.analysis.beam_batch import SolvedBeams, batch_of_one, solved_batch
from stepcalc.analysis.beam_stiffness import solved
from stepcalc.analysis.live_load_envelope import EffectEnvelope, Which, live_load_envelope
from stepcalc.analysis.load_case import LoadCase, hl93_cases
from stepcalc.analysis.peak_search import moment_curvature, peak_sections
from stepcalc.errors import RangeError

if TYPE_CHECKING:
    from stepcalc.analysis.beam import Beam
    from stepcalc.analysis.influence_lines import Effect
    from stepcalc.analysis.load_proof import LoadProof

__all__ = ["EnvelopePeak", "SeparatePeaks", "combined_peak", "separate_peaks"]

Array = NDArray[np.float64]
Integers = NDArray[np.int64]


@dataclass(frozen=True, eq=False)
class EnvelopePeak:
    """The largest or smallest value of an envelope, where it is, and its proof."""

    value: float
    section: float
    face: int
    proof: LoadProof


@dataclass(frozen=True, eq=False)
class SeparatePeaks:
    """A sum of maxima that occur at different sections: axles and lane, factors included."""

    value: float
    case: LoadCase
    axles: EnvelopePeak | None
    lane: EnvelopePeak | None


def combined_peak(
    beam: Beam,
    cases: Sequence[LoadCase] | None = None,
    *,
    effect: Effect = "moment",
    which: Which = "max",
    within: tuple[float, float] | None = None,
) -> EnvelopePeak:
    """Return the combined maximum at one section: the peak of the envelope itself.

    The section is searched by `peak_sections`: what it passes over is bounded, not hoped for.

    Parameters
    ----------
    beam : Beam
    cases : sequence of LoadCase, optional
        HL-93 with 33 % unless given.
    effect : "moment", "shear", "reaction" or "deflection"
    which : "max" or "min"
    within : pair of float, optional, [length]
        Only sections of this stretch.

    Returns
    -------
    EnvelopePeak
        Within 1e-6. Of moment this is proved where axles that relieve are dropped and the beam has
        no hinge and no overhang; else as long as no peak hides between two twentieth points.

    Raises
    ------
    RangeError, UndefinedError
        As for `live_load_envelope`.

    Source
    ------
    Influence lines. No clause.
    """
    chosen = tuple(hl93_cases() if cases is None else cases)
    start, end = (0.0, beam.length) if within is None else within
    if effect == "reaction":
        x, faces = np.asarray(beam.supports), np.ones(len(beam.supports), dtype=np.int64)
        x, faces = x[(x >= start) & (x <= end)], faces[(x >= start) & (x <= end)]
    else:
        x, faces = _peaks_of_spans(beam, chosen, effect, which, start, end)
    envelope = live_load_envelope(beam, chosen, sections=np.unique(x), effects=[effect])[effect]
    places = [envelope.index_of(float(at), int(face)) for at, face in zip(x, faces, strict=True)]
    best = places[_best(envelope, which, places)]
    values = envelope.maximum if which == "max" else envelope.minimum
    return EnvelopePeak(
        float(values[best]),
        float(envelope.sections[best]),
        int(envelope.faces[best]),
        envelope.proof(best, which),
    )


def _peaks_of_spans(
    beam: Beam,
    cases: tuple[LoadCase, ...],
    effect: Effect,
    which: Which,
    start: float,
    end: float,
) -> tuple[Array, Integers]:
    """Return the section of the largest value in every span, and its face."""
    model, joints = solved(beam), np.asarray(beam.joints)
    low, high = np.maximum(joints[:-1], start), np.minimum(joints[1:], end)
    spans = np.flatnonzero(high > low)
    if not len(spans):
        return np.array([start]), np.ones(1, dtype=np.int64)
    low, high = low[spans], high[spans]
    sign = 1 if which == "max" else -1

    def faces_of(number: Integers, x: Array) -> Integers:
        return np.where(x >= high[number], -1, 1)

    def values(number: Integers, x: Array) -> Array:
        own = np.zeros(len(x), dtype=np.int64)
        return sign * live_values(
            _at_nodes(beam, effect, x), cases, effect, x, faces_of(number, x), own, sign=sign
        )

    curvature = None
    if effect == "moment":
        curvature = np.array([moment_curvature(model, cases, int(span))[0] for span in spans])
    found = peak_sections(values, low, high, curvature)
    return found.section, faces_of(np.arange(len(spans)), found.section)


def _at_nodes(beam: Beam, effect: Effect, x: Array) -> SolvedBeams:
    """Return the solved beam; for deflection, with sections where EI varies as nodes."""
    varies = any(callable(part.rigidity) for part in beam.segments)
    if effect != "deflection" or not varies:
        return solved(beam)
    return solved_batch(batch_of_one(beam, np.unique(x).tolist()))


def separate_peaks(
    beam: Beam,
    cases: Sequence[LoadCase] | None = None,
    *,
    effect: Effect = "moment",
    which: Which = "max",
    within: tuple[float, float] | None = None,
) -> SeparatePeaks:
    """Return the sum of separate maxima, the hand procedure: axles and lane each at its own peak.

    Parameters
    ----------
    beam, cases, effect, which, within
        As for `combined_peak`.

    Returns
    -------
    SeparatePeaks
        Of the governing case; never below the combined maximum.

    Raises
    ------
    RangeError, UndefinedError
        As for `live_load_envelope`.

    Source
    ------
    Common practice, no source.
    """
    found = [
        _separate(beam, case, effect, which, within)
        for case in (hl93_cases() if cases is None else cases)
    ]
    return max(found, key=lambda peaks: abs(peaks.value))


def _separate(
    beam: Beam,
    case: LoadCase,
    effect: Effect,
    which: Which,
    within: tuple[float, float] | None,
) -> SeparatePeaks:
    axles = lane = None
    with_lane = case.vehicle is None or case.lane > 0
    if case.vehicle is not None:
        alone = replace(case, lane=0.0)
        axles = _peak(beam, alone, effect, which, within)
        # without a section where its axles count, the lane of a pair of trucks does not either
        with_lane = with_lane and (case.pair is None or axles is not None)
    if with_lane:
        alone = replace(case, vehicle=None, pair=None)
        lane = _peak(beam, alone, effect, which, within)
    return SeparatePeaks(
        sum(part.value for part in (axles, lane) if part is not None), case, axles, lane
    )


def _peak(
    beam: Beam,
    case: LoadCase,
    effect: Effect,
    which: Which,
    within: tuple[float, float] | None,
) -> EnvelopePeak | None:
    try:
        return combined_peak(beam, [case], effect=effect, which=which, within=within)
    except RangeError:  # the case applies nowhere there
        return None


def _best(envelope: EffectEnvelope, which: Which, places: Sequence[int]) -> int:
    """Return which place has the largest value; of equal ones, the first from the left."""
    values = (envelope.maximum if which == "max" else -envelope.minimum)[places]
    governing = (envelope.maximum_case if which == "max" else envelope.minimum_case)[places]
    values = np.where(governing < 0, -np.inf, values)
    return int(np.argmax(values >= np.max(values) * (1 - 1e-12)))
