"""Where in a span one live load has its largest moment, and where the girder has no moment."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Any

import numpy as np

from stepcalc.analysis.contraflexure import hogging_zones
from stepcalc.bridge.continuous.layout import MOST_SPANS, beam_of
from stepcalc.bridge.continuous.line_kernels import broadcast, span_names
from stepcalc.bridge.continuous.peaks_at_once import live_sections_at_once
from stepcalc.errors import RangeError, UndefinedError
from stepcalc.sheet.kernels import Kernel, register_kernel

__all__ = ["PeakKernels", "peak_kernels"]


@dataclass(frozen=True)
class PeakKernels:
    """Procedures for one number of spans.

    Attributes
    ----------
    section : Kernel
        Fraction of a span at which the largest moment of one live load is largest.
    contraflexure : Kernel
        Distance from the left end of a point of contraflexure beside an interior support, under a
        uniform load on all spans.
    """

    section: Kernel
    contraflexure: Kernel


@lru_cache(maxsize=MOST_SPANS)
def peak_kernels(count: int) -> PeakKernels:
    """Return the procedures for girders of so many spans.

    Raises
    ------
    RangeError
        If there are none or too many spans.
    """
    if not 1 <= count <= MOST_SPANS:
        raise RangeError(f"a girder of {count} spans; give 1 to {MOST_SPANS} spans")
    title = f"girder of {count} span{'s' if count > 1 else ''}"
    units: dict[str, str | None] = dict.fromkeys(span_names(count), "ft")
    section = register_kernel(
        Kernel(
            f"{title}: section of the largest moment of a live load",
            1,
            broadcast(count, _section, ("impact",), _sections),
            units | {"layout": "choice", "load": "choice", "impact": None, "place": "choice"},
            None,
            {},
            "exact influence lines; sections cut until none can hold a larger moment",
        )
    )
    contraflexure = register_kernel(
        Kernel(
            f"{title}: point of contraflexure",
            1,
            broadcast(count, _contraflexure, ()),
            units | {"layout": "choice", "place": "choice", "side": "choice"},
            "ft",
            {},
            "zero of the moment by a uniform load on all spans",
        )
    )
    return PeakKernels(section, contraflexure)


def _section(spans: tuple[float, ...], impact: float, **texts: str) -> float:
    beam_of(spans, texts["layout"])  # says what is wrong with the spans
    return float(_sections(np.array([spans]), np.array([impact]), **texts)[0])


def _sections(spans: Any, impact: Any, **texts: str) -> Any:
    return live_sections_at_once(texts["load"], impact, spans, texts["layout"], int(texts["place"]))


def _contraflexure(spans: tuple[float, ...], **texts: str) -> float:
    number, beam = int(texts["place"]), beam_of(spans, texts["layout"])
    if not 2 <= number <= len(beam.supports) - 1:
        raise RangeError(f"support {number} is not an interior one of {len(beam.supports)}")
    if texts["side"] not in ("left", "right"):
        raise RangeError(f"side is 'left' or 'right', not {texts['side']!r}")
    support = beam.supports[number - 1]
    for zone in hogging_zones(beam):
        if abs(zone.support - support) <= 1e-9 * beam.length:
            return zone.start if texts["side"] == "left" else zone.end
    msg = f"the girder has no negative moment over support {number}, as at a hinge"
    raise UndefinedError(msg)


for _count in range(1, MOST_SPANS + 1):
    peak_kernels(_count)
