"""Effects of staged dead load and of settlements on girders of 1 to 20 spans, as procedures."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING, Any

from stepcalc.bridge.continuous.at_once import dead_at_once
from stepcalc.bridge.continuous.display_units import SI
from stepcalc.bridge.continuous.layout import MOST_SPANS
from stepcalc.bridge.continuous.line_kernels import broadcast, place_units
from stepcalc.bridge.continuous.stage_loads import EVERYWHERE
from stepcalc.bridge.continuous.stage_proofs import settlement_proof, stage_proof
from stepcalc.bridge.continuous.stage_values import settled_response, stage_value, value_in
from stepcalc.bridge.continuous.stages_at_once import stage_at_once
from stepcalc.bridge.continuous.values import dead_value
from stepcalc.errors import RangeError
from stepcalc.sheet.kernels import Kernel, register_kernel

if TYPE_CHECKING:
    from stepcalc.analysis.line_family import Effect

__all__ = ["StageKernels", "stage_kernels"]

_UNITS: dict[Effect, str] = {"moment": "kip*ft", "shear": "kip", "reaction": "kip"}


@dataclass(frozen=True)
class StageKernels:
    """Procedures for one number of spans, by effect: moment, shear, reaction.

    Attributes
    ----------
    loads : mapping of str to Kernel
        One stage of dead load; its loads as `stage_loads` reads them.
    settlement : mapping of str to Kernel
        Settlements as `read_settlements` reads them; ``rigidity`` is the EI for which the layout
        says 1.
    """

    loads: dict[str, Kernel]
    settlement: dict[str, Kernel]


@lru_cache(maxsize=MOST_SPANS)
def stage_kernels(count: int) -> StageKernels:
    """Return the procedures for girders of so many spans.

    Raises
    ------
    RangeError
        If there are none or too many spans.
    """
    if not 1 <= count <= MOST_SPANS:
        raise RangeError(f"a girder of {count} spans; give 1 to {MOST_SPANS} spans")
    title = f"girder of {count} span{'s' if count > 1 else ''}"
    made = StageKernels({}, {})
    for effect, unit in _UNITS.items():
        made.loads[effect] = register_kernel(
            Kernel(
                f"{title}: {effect} by a stage of dead load",
                1,
                broadcast(count, _stage(effect), ("fraction", "load"), _stages(effect)),
                place_units(count) | {"load": "kip/ft", "loads": "choice"},
                unit,
                {
                    "ordinates": stage_proof(effect, count),
                    "ordinates, SI": stage_proof(effect, count, SI),
                },
                "direct stiffness method",
            )
        )
        made.settlement[effect] = register_kernel(
            Kernel(
                f"{title}: {effect} by settlement",
                1,
                broadcast(count, _settled(effect), ("fraction", "rigidity")),
                place_units(count) | {"settlements": "choice", "rigidity": "kip*ft**2"},
                unit,
                {
                    "statics": settlement_proof(effect, count),
                    "statics, SI": settlement_proof(effect, count, SI),
                },
                "direct stiffness method with prescribed displacements",
            )
        )
    return made


def _stage(effect: Effect) -> Callable[..., float]:
    def value(
        spans: tuple[float, ...], fraction: float, load: float, layout: str, place: str, loads: str
    ) -> float:
        if loads == EVERYWHERE:
            return load * dead_value(effect, spans, layout, int(place), fraction)
        return stage_value(effect, spans, layout, int(place), fraction, load, loads)

    return value


def _stages(effect: Effect) -> Callable[..., Any]:
    def values(spans: Any, **inputs: Any) -> Any:
        place = inputs["layout"], int(inputs["place"]), inputs["fraction"]
        load, text = inputs["load"], inputs["loads"]
        if text == EVERYWHERE:
            return load * dead_at_once(effect, spans, *place)
        return stage_at_once(effect, spans, *place, load, text)

    return values


def _settled(effect: Effect) -> Callable[..., float]:
    def value(spans: tuple[float, ...], fraction: float, rigidity: float, **texts: Any) -> float:
        found = settled_response(spans, texts["layout"], texts["settlements"], rigidity)
        return value_in(found, effect, spans, int(texts["place"]), fraction)

    return value


for _count in range(1, MOST_SPANS + 1):
    stage_kernels(_count)
