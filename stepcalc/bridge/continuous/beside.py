"""What acts together: the shear beside an extreme moment and the moment beside an extreme shear."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import TYPE_CHECKING, Any, Literal

from stepcalc.analysis.concurrent import concurrent
from stepcalc.bridge.continuous.at_once import beside_at_once
from stepcalc.bridge.continuous.display_units import SI, US
from stepcalc.bridge.continuous.layout import MOST_SPANS, beam_of, section_of
from stepcalc.bridge.continuous.line_body import LineBody
from stepcalc.bridge.continuous.line_kernels import broadcast, place_units, span_names
from stepcalc.bridge.continuous.ordinates import write_placed
from stepcalc.bridge.continuous.values import envelope_at, line_at
from stepcalc.errors import RangeError
from stepcalc.sheet.kernels import Kernel, register_kernel

if TYPE_CHECKING:
    from stepcalc.analysis.load_proof import LoadProof
    from stepcalc.bridge.continuous.display_units import DisplayUnits
    from stepcalc.sheet.sheet import Sheet

__all__ = ["beside_kernels"]

_Effect = Literal["moment", "shear"]
_OTHER: dict[_Effect, _Effect] = {"moment": "shear", "shear": "moment"}
_UNITS = {"moment": "kip*ft", "shear": "kip"}


@dataclass(frozen=True)
class _Beside:
    """The other effect, and for shear the face of the section on which it is larger."""

    value: float
    face: int
    proof: LoadProof


@lru_cache(maxsize=MOST_SPANS)
def beside_kernels(count: int) -> dict[str, Kernel]:
    """Return the procedures for girders of so many spans, by the effect that is asked for.

    ``"shear"`` is the shear under the very loads of the largest or smallest moment of a section,
    on the side where it is larger; ``"moment"`` the moment under the loads of an extreme shear.

    Raises
    ------
    RangeError
        If there are none or too many spans.
    """
    if not 1 <= count <= MOST_SPANS:
        raise RangeError(f"a girder of {count} spans; give 1 to {MOST_SPANS} spans")
    title = f"girder of {count} span{'s' if count > 1 else ''}"
    return {
        other: register_kernel(
            Kernel(
                f"{title}: {other} with the extreme {effect}",
                1,
                broadcast(count, _value(effect), ("fraction", "impact"), _values(effect)),
                place_units(count) | {"load": "choice", "impact": None, "which": "choice"},
                _UNITS[other],
                {
                    "ordinates": beside_proof(effect, count),
                    "ordinates, SI": beside_proof(effect, count, SI),
                },
                f"the loads that govern {effect}, on the influence line for {other}",
            )
        )
        for effect, other in _OTHER.items()
    }


def _found(
    effect: _Effect,
    spans: tuple[float, ...],
    fraction: float,
    impact: float,
    texts: dict[str, str],
) -> _Beside:
    which, place, layout = _sense(texts["which"]), int(texts["place"]), texts["layout"]
    envelope, index = envelope_at(effect, texts["load"], impact, spans, layout, place, fraction)
    both = concurrent(envelope, _OTHER[effect], which)
    left, right = float(both.left[index]), float(both.right[index])
    face = 1 if abs(right) > abs(left) else -1
    proof = envelope.proof(index, which)
    return _Beside(right if face > 0 else left, face, proof)


def _sense(which: str) -> Literal["max", "min"]:
    if which == "max":
        return "max"
    if which == "min":
        return "min"
    raise RangeError(f"which is 'max' or 'min', not {which!r}")


def _value(effect: _Effect) -> Callable[..., float]:
    def value(spans: tuple[float, ...], fraction: float, impact: float, **texts: str) -> float:
        return _found(effect, spans, fraction, impact, texts).value

    return value


def _values(effect: _Effect) -> Callable[..., Any]:
    def values(spans: Any, fraction: Any, impact: Any, **texts: str) -> Any:
        return beside_at_once(
            (effect, _OTHER[effect]), _sense(texts["which"]), texts["load"], impact, spans,
            texts["layout"], int(texts["place"]), fraction,
        )  # fmt: skip

    return values


def beside_proof(effect: _Effect, count: int, units: DisplayUnits = US) -> Callable[..., Sheet]:
    """Return the proof: the governing axles and lane load on the other influence line."""

    def proof(**inputs: Any) -> Sheet:
        spans = tuple(float(inputs[name]) for name in span_names(count))
        place, fraction = int(inputs["place"]), float(inputs["fraction"])
        texts = {name: inputs[name] for name in ("which", "place", "layout", "load")}
        found = _found(effect, spans, fraction, float(inputs["impact"]), texts)
        other = _OTHER[effect]
        at = place, fraction
        if other == "shear":
            at = _faced(spans, place, fraction, found.face)
        where = inputs | {"place": str(at[0]), "fraction": at[1]}
        title = f"{found.proof.case.id}: {other} with the extreme {effect}"
        body = LineBody(title, other, spans, where, units)
        write_placed(body, _turned(found, spans, inputs, at))
        return body.sheet

    return proof


def _faced(spans: tuple[float, ...], place: int, fraction: float, face: int) -> tuple[int, float]:
    """Return span and fraction of the face of a section: at a support, of the span there."""
    if face > 0 and fraction > 1 - 1e-9 and place < len(spans):
        return place + 1, 0.0
    if face < 0 and fraction < 1e-9 and place > 1:
        return place - 1, 1.0
    return place, fraction


def _turned(
    found: _Beside, spans: tuple[float, ...], inputs: dict[str, Any], at: tuple[int, float]
) -> LoadProof:
    """Return the governing loads with an axle on the section standing beyond the face."""
    proof = found.proof
    if proof.effect != "moment":
        return proof
    x = section_of(spans, int(inputs["place"]), float(inputs["fraction"]))
    near = 1e-9 * beam_of(spans, inputs["layout"]).length
    axles = tuple(
        replace(axle, side=-found.face) if abs(axle.position - x) <= near else axle
        for axle in proof.axles
    )
    return replace(proof, axles=axles, line=line_at("shear", spans, inputs["layout"], *at))


for _count in range(1, MOST_SPANS + 1):
    beside_kernels(_count)
