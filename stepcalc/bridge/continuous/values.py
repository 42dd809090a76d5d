"""Values of force effects at sections of a beam, with the work of a whole beam done once."""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from stepcalc.analysis.beam_loads import uniform_on_all_spans
from stepcalc.analysis.beam_response import Response, response
from stepcalc.analysis.influence_lines import Effect, influence_line
from stepcalc.analysis.live_load_envelope import (
    EffectEnvelope,
    LiveLoadEnvelope,
    live_load_envelope,
)
from stepcalc.bridge.continuous.at_once import (
    areas_at_once,
    dead_at_once,
    live_at_once,
    ordinates_at_once,
)
from stepcalc.bridge.continuous.layout import beam_of, section_of
from stepcalc.bridge.continuous.loads import load_cases
from stepcalc.errors import RangeError

if TYPE_CHECKING:
    from stepcalc.analysis.beam import Beam
    from stepcalc.analysis.load_proof import LoadProof
    from stepcalc.analysis.piecewise import PiecewisePolynomial

__all__ = [
    "area_value",
    "dead_value",
    "envelope_at",
    "face_at",
    "line_at",
    "live_proof",
    "live_value",
    "ordinate_value",
    "tenth_envelope",
    "unit_response",
]

Array = NDArray[np.float64]
Spans = tuple[float, ...]


def face_at(fraction: float) -> int:
    """Return the side of a section that belongs to its span: left at the span's right end."""
    return -1 if fraction > 1 - 1e-9 else 1


@lru_cache(maxsize=256)
def unit_response(spans: Spans, layout: str) -> Response:
    """Return what 1 kip/ft on every span does to the beam."""
    beam = beam_of(spans, layout)
    return response(beam, uniform_on_all_spans(beam))


@lru_cache(maxsize=4096)
def dead_value(effect: Effect, spans: Spans, layout: str, span: int, fraction: float) -> float:
    """Return an effect of 1 kip/ft on all spans; a reaction's support by `span`."""
    found = dead_at_once(effect, *_one(effect, spans, layout, span, fraction))
    return float(found[0])


@lru_cache(maxsize=4096)
def ordinate_value(
    effect: Effect,
    spans: Spans,
    layout: str,
    span: int,
    fraction: float,
    position: float,
    side: float,
) -> float:
    """Return an influence ordinate at a position, ft from the left end, on one side of it."""
    place = _one(effect, spans, layout, span, fraction)
    return float(ordinates_at_once(effect, *place, np.array([position]), np.array([side]))[0])


@lru_cache(maxsize=4096)
def area_value(
    effect: Effect,
    spans: Spans,
    layout: str,
    span: int,
    fraction: float,
    start: float,
    end: float,
) -> float:
    """Return an influence area between two positions, ft from the left end."""
    place = _one(effect, spans, layout, span, fraction)
    return float(areas_at_once(effect, *place, np.array([start]), np.array([end]))[0])


def _one(
    effect: Effect, spans: Spans, layout: str, span: int, fraction: float
) -> tuple[Array, str, int, Array]:
    """Return one section as arrays of one, or raise if it does not exist."""
    if effect == "reaction":
        _support(beam_of(spans, layout), span)
    else:
        section_of(spans, span, fraction)
    beam_of(spans, layout)  # says what is wrong with the spans
    return np.array([spans]), layout, span, np.array([fraction])


@lru_cache(maxsize=128)
def tenth_envelope(load: str, impact: float, spans: Spans, layout: str) -> LiveLoadEnvelope:
    """Return the envelopes of moment, shear and reaction at tenth points."""
    return live_load_envelope(beam_of(spans, layout), load_cases(load, impact, spans))


@lru_cache(maxsize=512)
def _section_envelope(
    effect: Effect, load: str, impact: float, spans: Spans, layout: str, x: float
) -> EffectEnvelope:
    cases = load_cases(load, impact, spans)
    found = live_load_envelope(beam_of(spans, layout), cases, sections=[x], effects=[effect])
    return found[effect]


def envelope_at(
    effect: Effect,
    load: str,
    impact: float,
    spans: Spans,
    layout: str,
    span: int,
    fraction: float,
) -> tuple[EffectEnvelope, int]:
    """Return an envelope that holds a section, and the index of the section in it.

    Tenth points of one beam share the work of all of them; for arrays of beams of which each is
    asked for one section only there is `live_at_once`, which does without.
    """
    beam = beam_of(spans, layout)
    reaction = effect == "reaction"
    x, face = (0.0, 1) if reaction else (section_of(spans, span, fraction), face_at(fraction))
    tenths = fraction * 10
    tenth = reaction or (effect != "deflection" and abs(tenths - round(tenths)) < 1e-9)
    if tenth:
        envelope = tenth_envelope(load, impact, spans, layout)[effect]
    else:
        envelope = _section_envelope(effect, load, impact, spans, layout, x)
    return envelope, _support(beam, span) if reaction else envelope.index_of(x, face)


def live_value(
    effect: Effect,
    which: str,
    load: str,
    impact: float,
    spans: Spans,
    layout: str,
    span: int,
    fraction: float,
) -> float:
    """Return the largest or smallest value of one effect under a live load in one lane."""
    if effect == "deflection":  # of one section only, as for arrays
        return _one_deflection(which, load, impact, spans, layout, span, fraction)
    envelope, index = envelope_at(effect, load, impact, spans, layout, span, fraction)
    return float((envelope.maximum if which == "max" else envelope.minimum)[index])


@lru_cache(maxsize=1024)
def _one_deflection(
    which: str, load: str, impact: float, spans: Spans, layout: str, span: int, fraction: float
) -> float:
    load_cases(load, impact, spans)  # says what is wrong with the load
    place = _one("deflection", spans, layout, span, fraction)
    return float(live_at_once("deflection", which, load, np.array([impact]), *place)[0])


def live_proof(
    effect: Effect,
    which: str,
    load: str,
    impact: float,
    spans: Spans,
    layout: str,
    span: int,
    fraction: float,
) -> LoadProof:
    """Return what stands where in the governing case."""
    envelope, index = envelope_at(effect, load, impact, spans, layout, span, fraction)
    return envelope.proof(index, "max" if which == "max" else "min")


@lru_cache(maxsize=512)
def line_at(
    effect: Effect, spans: Spans, layout: str, span: int, fraction: float
) -> PiecewisePolynomial:
    """Return the influence line of an effect at a section; of a reaction, at support `span`."""
    beam = beam_of(spans, layout)
    if effect == "reaction":
        return influence_line(beam, effect, beam.supports[_support(beam, span)])
    x = section_of(spans, span, fraction)
    return influence_line(beam, effect, x, face=face_at(fraction))


def _support(beam: Beam, number: int) -> int:
    if not 1 <= number <= len(beam.supports):
        msg = f"there is no support {number}; the beam has {len(beam.supports)}"
        raise RangeError(msg)
    return number - 1
