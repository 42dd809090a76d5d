"""Effects along a girder whose sections change, with the stiffness of each section a number.

The zones of a beam are a text, one group for each span, such as ``"1 to 0.79, 2; 2 to 0.24, 1"``:
section 1 up to 0.79 of span 1, section 2 from there over the support, and so on.  The inertia of
every section is an input, so that the distribution of moments follows the plates.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cache
from typing import Any

from stepcalc.bridge.continuous.kernels import span_kernels
from stepcalc.bridge.continuous.line_kernels import broadcast, span_names
from stepcalc.bridge.whole.continuous_values import (
    deflection_peak,
    factored_peak,
    hogs_at,
    layout_of,
    live_at,
    loads_value,
    part_load_value,
)
from stepcalc.errors import RangeError
from stepcalc.sheet.kernels import Kernel, register_kernel

__all__ = [
    "MOST_SECTIONS",
    "STAGES",
    "SectionKernels",
    "inertia_names",
    "section_kernels",
    "weight_names",
]

MOST_SECTIONS = 12
_MOST_SPANS = 8
_UNITS = {"moment": "kip*ft", "shear": "kip", "reaction": "kip", "deflection": "kip*ft**3"}


@dataclass(frozen=True)
class SectionKernels:
    """Procedures for one number of spans and one of sections, by effect.

    Attributes
    ----------
    dead, live : mapping of str to Kernel
        Moment, shear, reaction and deflection; deflection times E and the inertia of section 1.
    part : mapping of str to Kernel
        Of a uniform load between two points only.
    hogs : Kernel
        1 where a uniform load on all spans bends the section downwards at the ends, else 0.
    sag : Kernel
        Greatest live-load deflection of a span, times E and the inertia of section 1.
    peak : Kernel
        Fraction of a span at which its factored positive moment is largest.
    """

    dead: dict[str, Kernel]
    live: dict[str, Kernel]
    part: dict[str, Kernel]
    hogs: Kernel
    sag: Kernel
    peak: Kernel


STAGES = ("s", "l", "n")
"""Steel, long-term and short-term section: first letters of the inertias of `peak`."""


def inertia_names(sections: int) -> tuple[str, ...]:
    """Return the names of the inputs that hold the inertia of every section."""
    return tuple(f"I_{number}" for number in range(1, sections + 1))


def weight_names(sections: int) -> tuple[str, ...]:
    """Return the names of the inputs that hold the load on every section."""
    return tuple(f"w_{number}" for number in range(1, sections + 1))


@cache
def section_kernels(count: int, sections: int) -> SectionKernels:
    """Return the procedures for girders of so many spans and sections.

    Raises
    ------
    RangeError
        If there are none or too many of either.
    """
    if not 1 <= count <= _MOST_SPANS or not 1 <= sections <= MOST_SECTIONS:
        raise RangeError(
            f"a girder of {count} spans and {sections} sections; give 1 to {_MOST_SPANS} spans and "
            f"1 to {MOST_SECTIONS} sections"
        )
    title = (
        f"girder of {count} span{'s' if count > 1 else ''}, {sections} "
        f"section{'s' if sections > 1 else ''}"
    )
    base: dict[str, str | None] = dict.fromkeys(span_names(count), "ft")
    base |= dict.fromkeys(inertia_names(sections), "inch**4")
    base |= {"zones": "choice", "place": "choice"}
    at: dict[str, str | None] = base | {"fraction": None}
    inertias, weights = inertia_names(sections), weight_names(sections)
    dead, live, part = {}, {}, {}
    for effect, unit in _UNITS.items():
        dead[effect] = _register(
            f"{title}: {effect} by a load on every section", count,
            _dead(effect, inertias, weights), at | dict.fromkeys(weights, "kip/ft"), unit,
            "direct stiffness method, each section with its inertia and its load",
        )  # fmt: skip
        live[effect] = _register(
            f"{title}: {effect} by a live load", count, _live(effect, inertias),
            at | {"load": "choice", "impact": None, "which": "choice"}, unit,
            "exact influence line; every case, position, heading and spacing",
            _live_proof(effect, count, inertias),
        )  # fmt: skip
        part[effect] = _register(
            f"{title}: {effect} by a load on a part", count, _part(effect, inertias),
            at | {"load": "kip/ft", "start": "ft", "end": "ft"}, unit,
            "direct stiffness method, each section with its inertia",
        )  # fmt: skip
    hogs = _register(
        f"{title}: between the points of contraflexure", count, _hogs(inertias), at, None,
        "points of contraflexure under a uniform load on all spans",
    )  # fmt: skip
    sag = _register(
        f"{title}: greatest live-load deflection", count, _sag(inertias),
        base | {"load": "choice", "impact": None}, _UNITS["deflection"],
        "exact influence lines at ever closer sections of the span",
    )  # fmt: skip
    staged = [f"{stage}_{number}" for stage in STAGES for number in range(1, sections + 1)]
    of_peak: dict[str, str | None] = dict.fromkeys(span_names(count), "ft")
    of_peak |= dict.fromkeys(staged, "inch**4") | dict.fromkeys(weights, "kip/ft")
    of_peak |= {"DC2": "kip/ft", "DW": "kip/ft", "zones": "choice", "place": "choice"}
    of_peak |= dict.fromkeys(("g", "gamma_DC", "gamma_DW", "gamma_LL", "impact"))
    peak = _register(
        f"{title}: section of the largest factored moment", count, _peak(sections, weights),
        of_peak | {"load": "choice"}, None,
        "each dead load on its own section; twentieths of the span, then ever closer ones",
    )  # fmt: skip
    return SectionKernels(dead, live, part, hogs, sag, peak)


def _register(
    name: str, count: int, function: Callable[..., float], inputs: dict[str, str | None],
    unit: str | None, method: str, proofs: dict[str, Callable[..., Any]] | None = None,
) -> Kernel:  # fmt: skip
    spans = span_names(count)
    numbers = [key for key, of in inputs.items() if of != "choice" and key not in spans]
    return register_kernel(
        Kernel(name, 1, broadcast(count, function, numbers), inputs, unit, proofs or {}, method)
    )


def _layout(inputs: dict[str, Any], inertias: Sequence[str]) -> str:
    return layout_of(inputs["zones"], tuple(float(inputs[name]) for name in inertias))


def _dead(effect: str, inertias: Sequence[str], weights: Sequence[str]) -> Callable[..., float]:
    def value(spans: tuple[float, ...], fraction: float, place: str, **inputs: Any) -> float:
        loads = tuple(float(inputs[name]) for name in weights)
        layout = _layout(inputs, inertias)
        return loads_value(effect, spans, layout, inputs["zones"], loads, int(place), fraction)

    return value


def _live(effect: Any, inertias: Sequence[str]) -> Callable[..., float]:
    def value(
        spans: tuple[float, ...], fraction: float, impact: float, place: str, load: str,
        which: str, **inputs: Any,
    ) -> float:  # fmt: skip
        if which not in ("max", "min"):
            raise RangeError(f"which is 'max' or 'min', not {which!r}")
        layout = _layout(inputs, inertias)
        return live_at(effect, which, load, impact, spans, layout, int(place), fraction)

    return value


def _live_proof(effect: str, count: int, inertias: Sequence[str]) -> dict[str, Callable[..., Any]]:
    shown = span_kernels(count).live[effect].proofs["ordinates"]

    def proof(**inputs: Any) -> Any:
        layout = _layout(inputs, inertias)
        left = {key: v for key, v in inputs.items() if key not in inertias and key != "zones"}
        return shown(**left, layout=layout)

    return {"ordinates": proof}


def _part(effect: str, inertias: Sequence[str]) -> Callable[..., float]:
    def value(
        spans: tuple[float, ...], fraction: float, place: str, load: float, start: float,
        end: float, **inputs: Any,
    ) -> float:  # fmt: skip
        layout = _layout(inputs, inertias)
        return load * part_load_value(effect, spans, layout, (start, end), int(place), fraction)

    return value


def _hogs(inertias: Sequence[str]) -> Callable[..., float]:
    def value(spans: tuple[float, ...], fraction: float, place: str, **inputs: Any) -> float:
        return hogs_at(spans, _layout(inputs, inertias), int(place), fraction)

    return value


def _sag(inertias: Sequence[str]) -> Callable[..., float]:
    def value(
        spans: tuple[float, ...], place: str, load: str, impact: float, **inputs: Any
    ) -> float:
        return deflection_peak(load, impact, spans, _layout(inputs, inertias), int(place))

    return value


def _peak(sections: int, weights: Sequence[str]) -> Callable[..., float]:
    def value(
        spans: tuple[float, ...], place: str, zones: str, load: str, **inputs: float
    ) -> float:
        layouts = [
            layout_of(zones, tuple(inputs[f"{stage}_{n}"] for n in range(1, sections + 1)))
            for stage in STAGES
        ]
        on_steel = tuple(inputs["gamma_DC"] * inputs[name] for name in weights)
        late = inputs["gamma_DC"] * inputs["DC2"] + inputs["gamma_DW"] * inputs["DW"]
        stages = (
            (layouts[0], zones, on_steel), (layouts[1], zones, (late,) * sections),
        )  # fmt: skip
        live = (load, inputs["impact"], layouts[2], inputs["gamma_LL"] * inputs["g"])
        return factored_peak(spans, int(place), stages, live)

    return value


def register_all() -> None:
    """Register every procedure, for sheets that are read from a file."""
    for count in range(1, _MOST_SPANS + 1):
        for sections in range(1, MOST_SECTIONS + 1):
            section_kernels(count, sections)
