"""Values along a girder of zones, as floats: kip, ft, inertia in any one unit."""

from __future__ import annotations

from collections import OrderedDict
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np

from stepcalc.analysis.beam_loads import Distributed
from stepcalc.analysis.beam_response import Response, response
from stepcalc.analysis.contraflexure import hogging_zones
from stepcalc.analysis.live_load_envelope import EffectEnvelope, live_load_envelope
from stepcalc.bridge.continuous.layout import beam_of, section_of
from stepcalc.bridge.continuous.loads import load_cases
from stepcalc.bridge.continuous.values import face_at, live_value
from stepcalc.errors import RangeError

if TYPE_CHECKING:
    from collections.abc import Iterable

    from stepcalc.analysis.influence_lines import Effect

__all__ = [
    "Zone", "ask_together", "deflection_peak", "factored_peak", "hogs_at", "layout_of",
    "live_at", "loads_value", "part_load_value", "zones_of",
]  # fmt: skip

Spans = tuple[float, ...]
Zone = tuple[int, float, float, int]
"""Span counted from 1, from and to as fractions of it, section counted from 1."""

_KEPT = 64
_PARTS = 20


@lru_cache(maxsize=256)
def zones_of(text: str) -> tuple[Zone, ...]:
    """Return the zones that a text lists.

    Parameters
    ----------
    text : str
        One group for each span, parted by ``;``, such as ``"1 to 0.8, 2; 2 to 0.2, 1"``.

    Returns
    -------
    tuple of (span, from, to, section)

    Raises
    ------
    RangeError
        If the text cannot be read.
    """
    found: list[Zone] = []
    for span, group in enumerate(text.split(";"), 1):
        start = 0.0
        for part in group.split(","):
            number, _, until = part.partition(" to ")
            try:
                section, end = int(number), float(until) if until else 1.0
            except ValueError:
                raise RangeError(
                    f"the zones hold {part.strip()!r}; want a section and where it ends, such as "
                    "'1 to 0.8'"
                ) from None
            if not start < end <= 1 or section < 1:
                raise RangeError(f"the zones of span {span} do not rise from 0 to 1: {group!r}")
            found.append((span, start, end, section))
            start = end
        if start != 1:
            raise RangeError(f"the zones of span {span} end at {start:g} of it; want its end")
    return tuple(found)


@lru_cache(maxsize=512)
def layout_of(zones: str, inertias: tuple[float, ...]) -> str:
    """Return the layout of a beam, its EI relative to that of section 1."""
    groups: dict[int, list[str]] = {}
    for span, _, end, section in zones_of(zones):
        ratio = repr(inertias[section - 1] / inertias[0])
        groups.setdefault(span, []).append(ratio if end == 1 else f"{ratio} to {end!r}")
    return "EI: " + "; ".join(", ".join(group) for group in groups.values())


@lru_cache(maxsize=512)
def _under_loads(spans: Spans, layout: str, zones: str, loads: tuple[float, ...]) -> Response:
    joints = np.concatenate([[0.0], np.cumsum(spans)])
    return response(
        beam_of(spans, layout),
        [
            Distributed(
                float(joints[span - 1] + start * spans[span - 1]),
                float(joints[span - 1] + end * spans[span - 1]), loads[section - 1],
            )
            for span, start, end, section in zones_of(zones)
        ],
    )  # fmt: skip


@lru_cache(maxsize=1024)
def _under_part(spans: Spans, layout: str, start: float, end: float) -> Response:
    return response(beam_of(spans, layout), Distributed(start, end, 1.0))


def _read(found: Response, effect: str, spans: Spans, span: int, fraction: float) -> float:
    if effect == "reaction":
        if not 1 <= span <= len(found.reactions):
            raise RangeError(f"there is no support {span}; the beam has {len(found.reactions)}")
        return float(found.reactions[span - 1])
    x = section_of(spans, span, fraction)
    if effect == "moment":
        # both ends turn freely: round-off there is no moment
        at_end = min(x, sum(spans) - x) <= 1e-9 * sum(spans)
        return 0.0 if at_end else float(found.moment(x))
    if effect == "deflection":
        return float(found.deflection(x))
    return float(found.shear(x, side="left" if face_at(fraction) < 0 else "right"))


def loads_value(
    effect: str, spans: Spans, layout: str, zones: str, loads: tuple[float, ...], span: int,
    fraction: float,
) -> float:  # fmt: skip
    """Return an effect of a load on each section; a reaction's support by `span`."""
    return _read(_under_loads(spans, layout, zones, loads), effect, spans, span, fraction)


def part_load_value(
    effect: str, spans: Spans, layout: str, part: tuple[float, float], span: int, fraction: float
) -> float:
    """Return an effect of 1 kip/ft between two points, ft from the first bearing."""
    return _read(_under_part(spans, layout, *part), effect, spans, span, fraction)


_ASKED: OrderedDict[tuple[int, float], None] = OrderedDict()
_FOUND: OrderedDict[tuple[object, ...], tuple[EffectEnvelope, frozenset[tuple[int, float]]]] = (
    OrderedDict()
)


def ask_together(places: Iterable[tuple[int, float]]) -> None:
    """Say at which sections values will be asked, so that one run of the load finds them all.

    Parameters
    ----------
    places : iterable of (span, fraction)
        Values do not depend on it, only the time they take.
    """
    _ASKED.clear()
    _ASKED.update(dict.fromkeys(places))


def live_at(
    effect: Effect, which: str, load: str, impact: float, spans: Spans, layout: str, span: int,
    fraction: float,
) -> float:  # fmt: skip
    """Return the largest or smallest value of an effect of a live load in one lane."""
    place = (span, fraction)
    if effect == "reaction" or place not in _ASKED:
        return live_value(effect, which, load, impact, spans, layout, span, fraction)
    envelope = _together(effect, load, impact, spans, layout, place)
    index = envelope.index_of(section_of(spans, span, fraction), face_at(fraction))
    return float((envelope.maximum if which == "max" else envelope.minimum)[index])


def _together(
    effect: Effect, load: str, impact: float, spans: Spans, layout: str, place: tuple[int, float]
) -> EffectEnvelope:
    key = (effect, load, impact, spans, layout)
    known = _FOUND.get(key)
    if known is not None and place in known[1]:
        _FOUND.move_to_end(key)
        return known[0]
    asked = [at for at in _ASKED if at[0] <= len(spans)]
    x = sorted({section_of(spans, *at) for at in asked})
    cases = load_cases(load, impact, spans)
    envelope = live_load_envelope(beam_of(spans, layout), cases, sections=x, effects=[effect])
    _FOUND[key] = (envelope[effect], frozenset(asked))
    while len(_FOUND) > _KEPT:
        _FOUND.popitem(last=False)
    return envelope[effect]


def hogs_at(spans: Spans, layout: str, span: int, fraction: float) -> float:
    """Return 1 between the points of contraflexure beside a support, else 0."""
    beam = beam_of(spans, layout)
    x, near = section_of(spans, span, fraction), 1e-9 * beam.length
    return float(any(zone.start - near <= x <= zone.end + near for zone in hogging_zones(beam)))


@lru_cache(maxsize=64)
def deflection_peak(load: str, impact: float, spans: Spans, layout: str, span: int) -> float:
    """Return the greatest live-load deflection of a span, times the EI of section 1."""
    beam, cases = beam_of(spans, layout), load_cases(load, impact, spans)
    low, high = beam.joints[span - 1], beam.joints[span]
    while True:
        x = np.linspace(low, high, _PARTS + 1)
        inner = x[1:-1]
        found = live_load_envelope(beam, cases, sections=inner, effects=["deflection"])
        at = int(np.argmax(found["deflection"].maximum))
        low, high = float(x[at]), float(x[at + 2])
        if high - low <= 1e-4 * beam.length:
            return float(found["deflection"].maximum[at])


@lru_cache(maxsize=64)
def factored_peak(
    spans: Spans, span: int, stages: tuple[tuple[str, str, tuple[float, ...]], ...],
    live: tuple[str, float, str, float],
) -> float:  # fmt: skip
    """Return where the factored positive moment of a span is largest, as a fraction of it.

    Parameters
    ----------
    spans : tuple of float, ft
    span : int
    stages : tuple of (layout, zones, loads)
        Dead loads, factored, each on its own stiffness.
    live : (load, impact, layout, factor)
        The factor holds load factor and lanes on the girder.
    """
    load, impact, layout, factor = live
    beam, cases = beam_of(spans, layout), load_cases(load, impact, spans)
    low, high = beam.joints[span - 1], beam.joints[span]
    dead = [_under_loads(spans, at, zones, loads).moment for at, zones, loads in stages]
    while True:
        x = np.linspace(low, high, _PARTS + 1)[1:-1]
        found = live_load_envelope(beam, cases, sections=x, effects=["moment"])["moment"]
        total = factor * found.maximum + sum(moment(x) for moment in dead)
        at = int(np.argmax(total))
        step = float(x[1] - x[0])
        low, high = float(x[at]) - step, float(x[at]) + step
        low = max(low, beam.joints[span - 1])
        high = min(high, beam.joints[span])
        if step <= 1e-5 * beam.length:
            return (float(x[at]) - beam.joints[span - 1]) / spans[span - 1]
