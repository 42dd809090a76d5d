"""Envelopes of one girder as numerical procedures, proved by tables and diagrams.

The result is one number, the extreme value along the girder; its proof is the table of tenth
points, the diagrams, and the value once more from its parts.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

import numpy as np

from stepcalc.bridge.continuous.display_units import SI
from stepcalc.bridge.continuous.envelope_proof import proof_of_envelope
from stepcalc.bridge.continuous.girder import along, moment_peak
from stepcalc.bridge.continuous.girder_inputs import girder_units, loads_of, numbers_of
from stepcalc.bridge.continuous.layout import MOST_SPANS, beam_of
from stepcalc.bridge.continuous.line_kernels import broadcast, one_by_one, span_names
from stepcalc.bridge.continuous.peaks_at_once import (
    DIGITS,
    extremes_at_once,
    girder_sections_at_once,
    rests,
)
from stepcalc.errors import RangeError
from stepcalc.sheet.kernels import Kernel, register_kernel

__all__ = ["GirderKernels", "girder_kernels"]


@dataclass(frozen=True)
class GirderKernels:
    """Procedures of one girder for one number of spans.

    Attributes
    ----------
    moment, shear : Kernel
        The extreme factored value along the girder; which one, by the text ``which``.
    section : Kernel
        Fraction of a span at which its factored positive moment is largest.
    """

    moment: Kernel
    shear: Kernel
    section: Kernel


@lru_cache(maxsize=MOST_SPANS)
def girder_kernels(count: int) -> GirderKernels:
    """Return the procedures for girders of so many spans."""
    units: dict[str, str | None] = dict.fromkeys(span_names(count), "ft")
    units |= girder_units(count)
    title = f"girder of {count} span{'s' if count > 1 else ''}"
    found = [
        register_kernel(
            Kernel(
                f"{title}: factored {effect} envelope",
                2,
                broadcast(
                    count, _extreme(effect, count), numbers_of(count), _extremes(effect, count)
                ),
                units | {"which": "choice"},
                "kip*ft" if effect == "moment" else "kip",
                {
                    "tenth points": proof_of_envelope(effect, count),
                    "tenth points, SI": proof_of_envelope(effect, count, SI),
                },
                "envelope at tenth points, both sides of supports"
                + (" and the exact peak of every span" if effect == "moment" else "")
                + "; stages, lanes and factors as above",
                (*girder_units(count), *span_names(count)),
            )
        )
        for effect in ("moment", "shear")
    ]
    section = register_kernel(
        Kernel(
            f"{title}: section of the largest factored moment",
            2,
            broadcast(count, _section(count), numbers_of(count), _sections(count)),
            units | {"place": "choice"},
            None,
            {},
            "exact influence lines; sections cut until none can hold a larger moment",
        )
    )
    moment, shear = found
    return GirderKernels(moment, shear, section)


def _extreme(effect: str, count: int) -> Callable[..., float]:
    def value(spans: tuple[float, ...], **inputs: Any) -> float:
        found = along(
            effect, loads_of(inputs, count), spans,
            layout=inputs["layout"], load=inputs["load"], impact=inputs["impact"],
        )  # fmt: skip
        if inputs["which"] == "max":
            return float(np.max(found.largest))
        if inputs["which"] == "min":
            return float(np.min(found.smallest))
        raise RangeError(f"which is 'max' or 'min', not {inputs['which']!r}")

    return value


def _section(count: int) -> Callable[..., float]:
    def value(spans: tuple[float, ...], **inputs: Any) -> float:
        span, layout = int(inputs["place"]), inputs["layout"]
        x = moment_peak(
            loads_of(inputs, count), spans, span,
            layout=layout, load=inputs["load"], impact=inputs["impact"],
        )  # fmt: skip
        return round((x - beam_of(spans, layout).joints[span - 1]) / spans[span - 1], DIGITS)

    return value


def _extremes(effect: str, count: int) -> Callable[..., Any]:
    def values(spans: Any, **inputs: Any) -> Any:
        if rests(inputs):
            return extremes_at_once(effect, spans, **inputs)  # type: ignore[arg-type]
        return one_by_one(_extreme(effect, count), spans, inputs)

    return values


def _sections(count: int) -> Callable[..., Any]:
    def values(spans: Any, **inputs: Any) -> Any:
        if rests(inputs):
            return girder_sections_at_once(spans, **inputs)
        return one_by_one(_section(count), spans, inputs)

    return values


for _count in range(1, MOST_SPANS + 1):
    girder_kernels(_count)
