"""The exact peak of a live-load envelope along a beam, by either of its two definitions."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from stepcalc.analysis.live_load_envelope import EffectEnvelope, Which, live_load_envelope
from stepcalc.analysis.load_case import LoadCase, hl93_cases
from stepcalc.errors import RangeError

if TYPE_CHECKING:
    from stepcalc.analysis.beam import Beam
    from stepcalc.analysis.influence_lines import Effect
    from stepcalc.analysis.load_proof import LoadProof

__all__ = ["EnvelopePeak", "SeparatePeaks", "combined_peak", "separate_peaks"]

Array = NDArray[np.float64]
_PARTS = 40
_NARROWER = 16
_NARROW_ENOUGH = 1e-7


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

    The envelope is laid over fortieth points of every span; round the best of them the sections
    are narrowed until they are 1e-7 of the length apart.

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
        Within 1e-6, as long as no peak hides between two fortieth points.

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
    sections = beam.tenth_points(_PARTS)
    sections = np.unique(np.r_[sections[(sections > start) & (sections < end)], start, end])
    while True:
        envelope = live_load_envelope(beam, chosen, sections=sections, effects=[effect])[effect]
        best = _best(envelope, which)
        if effect == "reaction":
            break
        sections = np.unique(envelope.sections)
        at = int(np.searchsorted(sections, envelope.sections[best]))
        low, high = sections[max(at - 1, 0)], sections[min(at + 1, len(sections) - 1)]
        if high - low <= _NARROW_ENOUGH * beam.length:
            break
        middle = sections[at]
        half = _NARROWER // 2 + 1
        sections = np.unique(np.r_[np.linspace(low, middle, half), np.linspace(middle, high, half)])
    values = envelope.maximum if which == "max" else envelope.minimum
    return EnvelopePeak(
        float(values[best]),
        float(envelope.sections[best]),
        int(envelope.faces[best]),
        envelope.proof(best, which),
    )


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


def _best(envelope: EffectEnvelope, which: Which) -> int:
    """Return the index of the largest value; of equal ones, the first from the left."""
    values = envelope.maximum if which == "max" else -envelope.minimum
    governing = envelope.maximum_case if which == "max" else envelope.minimum_case
    values = np.where(governing < 0, -np.inf, values)
    return int(np.argmax(values >= np.max(values) * (1 - 1e-12)))
