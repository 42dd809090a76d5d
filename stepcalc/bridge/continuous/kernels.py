"""Effects of dead and live load on beams of 1 to 20 spans, as numerical procedures with proofs."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from stepcalc.bridge.continuous.at_once import dead_at_once, live_at_once
from stepcalc.bridge.continuous.display_units import SI
from stepcalc.bridge.continuous.layout import MOST_SPANS
from stepcalc.bridge.continuous.line_kernels import broadcast, place_units
from stepcalc.bridge.continuous.ordinates import dead_proof, live_proof_sheet
from stepcalc.bridge.continuous.statics_proof import statics_proof
from stepcalc.bridge.continuous.values import dead_value, live_value
from stepcalc.errors import RangeError
from stepcalc.sheet.kernels import Kernel, register_kernel

if TYPE_CHECKING:
    from stepcalc.analysis.line_family import Effect
    from stepcalc.sheet.sheet import Sheet

__all__ = ["SpanKernels", "span_kernels"]

Array = NDArray[np.float64]

_UNITS: dict[Effect, str] = {
    "moment": "kip*ft", "shear": "kip", "reaction": "kip", "deflection": "kip*ft**3"
}  # fmt: skip
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
                broadcast(count, _dead(effect), ("fraction", "load"), _dead_at_once(effect)),
                place_units(count) | {"load": "kip/ft"},
                unit,
                {
                    "ordinates": dead_proof(effect, count),
                    "ordinates, SI": dead_proof(effect, count, SI),
                },
                "direct stiffness method",
            )
        )
        made.live[effect] = register_kernel(
            Kernel(
                f"{title}: {effect} by a live load",
                1,
                broadcast(count, _live(effect), ("fraction", "impact"), _live_at_once(effect)),
                place_units(count) | {"load": "choice", "impact": None, "which": "choice"},
                unit,
                {
                    "ordinates": live_proof_sheet(effect, count),
                    "ordinates, SI": live_proof_sheet(effect, count, SI),
                    **_by_statics(effect, count),
                },
                "exact influence line; every case, position, heading and spacing",
            )
        )
    return made


def _by_statics(effect: str, count: int) -> dict[str, Callable[..., Sheet]]:
    """Return the proofs by statics, which moment and shear have."""
    if effect not in ("moment", "shear"):
        return {}
    return {
        "statics": statics_proof(effect, count),
        "statics, SI": statics_proof(effect, count, SI),
    }


def _dead(effect: Effect) -> Callable[..., float]:
    def value(
        spans: tuple[float, ...], fraction: float, load: float, layout: str, place: str
    ) -> float:
        return load * dead_value(effect, spans, layout, int(place), fraction)

    return value


def _dead_at_once(effect: Effect) -> Callable[..., Array]:
    def values(spans: Array, fraction: Array, load: Array, layout: str, place: str) -> Array:
        return load * dead_at_once(effect, spans, layout, int(place), fraction)

    return values


def _live(effect: Effect) -> Callable[..., float]:
    def value(spans: tuple[float, ...], fraction: float, impact: float, **texts: str) -> float:
        which, load, layout = _which(texts), texts["load"], texts["layout"]
        return live_value(effect, which, load, impact, spans, layout, int(texts["place"]), fraction)

    return value


def _live_at_once(effect: Effect) -> Callable[..., Array]:
    def values(spans: Array, fraction: Array, impact: Array, **texts: str) -> Array:
        which, load, layout = _which(texts), texts["load"], texts["layout"]
        place = int(texts["place"])
        return live_at_once(effect, which, load, impact, spans, layout, place, fraction)

    return values


def _which(texts: dict[str, str]) -> str:
    if texts["which"] not in ("max", "min"):
        raise RangeError(f"which is 'max' or 'min', not {texts['which']!r}")
    return texts["which"]


for _count in range(1, MOST_SPANS + 1):
    span_kernels(_count)
