"""Effects of dead and live load on beams of 1 to 20 spans, as numerical procedures with proofs."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from stepcalc.bridge.continuous.layout import MOST_SPANS
from stepcalc.bridge.continuous.line_kernels import broadcast, place_units
from stepcalc.bridge.continuous.ordinates import dead_proof, live_proof_sheet
from stepcalc.bridge.continuous.values import dead_value, live_value
from stepcalc.errors import RangeError
from stepcalc.sheet.kernels import Kernel, register_kernel

__all__ = ["SpanKernels", "span_kernels"]

_UNITS = {"moment": "kip*ft", "shear": "kip", "reaction": "kip", "deflection": "kip*ft**3"}
"""Deflection is downward positive, times the EI for which the layout says 1."""


@dataclass(frozen=True)
class SpanKernels:
    """Procedures for one number of spans, by effect: moment, shear, reaction, deflection.

    Attributes
    ----------
    dead : mapping of str to Kernel
        A uniform load on all spans.
    live : mapping of str to Kernel
        The largest or smallest value under a live load in one lane.
    """

    dead: dict[str, Kernel]
    live: dict[str, Kernel]


@lru_cache(maxsize=MOST_SPANS)
def span_kernels(count: int) -> SpanKernels:
    """Return the procedures for beams of so many spans.

    Raises
    ------
    RangeError
        If there are none or too many spans.
    """
    if not 1 <= count <= MOST_SPANS:
        raise RangeError(f"a beam of {count} spans; give 1 to {MOST_SPANS} spans")
    title = f"beam of {count} span{'s' if count > 1 else ''}"
    made = SpanKernels({}, {})
    for effect, unit in _UNITS.items():
        made.dead[effect] = register_kernel(
            Kernel(
                f"{title}: {effect} by a uniform load",
                1,
                broadcast(count, _dead(effect), ("fraction", "load")),
                place_units(count) | {"load": "kip/ft"},
                unit,
                {"ordinates": dead_proof(effect, count)},
                "direct stiffness method",
            )
        )
        made.live[effect] = register_kernel(
            Kernel(
                f"{title}: {effect} by a live load",
                1,
                broadcast(count, _live(effect), ("fraction", "impact"), _live(effect, alone=True)),
                place_units(count) | {"load": "choice", "impact": None, "which": "choice"},
                unit,
                {"ordinates": live_proof_sheet(effect, count)},
                "exact influence line; every case, position, heading and spacing",
            )
        )
    return made


def _dead(effect: str) -> Callable[..., float]:
    def value(
        spans: tuple[float, ...], fraction: float, load: float, layout: str, place: str
    ) -> float:
        return load * dead_value(effect, spans, layout, int(place), fraction)

    return value


def _live(effect: Any, *, alone: bool = False) -> Callable[..., float]:
    def value(spans: tuple[float, ...], fraction: float, impact: float, **texts: str) -> float:
        which, load, layout = texts["which"], texts["load"], texts["layout"]
        if which not in ("max", "min"):
            raise RangeError(f"which is 'max' or 'min', not {which!r}")
        place = int(texts["place"])
        return live_value(effect, which, load, impact, spans, layout, place, fraction, alone=alone)

    return value


for _count in range(1, MOST_SPANS + 1):
    span_kernels(_count)
