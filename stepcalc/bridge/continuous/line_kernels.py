"""Influence ordinates and areas of beams of 1 to 20 spans, as numerical procedures.

A section is a span, counted from 1, and a fraction of it; at the ends of a span, shear is that of
the span's own side.  A reaction is named by its support, counted from 1.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from contextlib import suppress
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING, Any

import numpy as np

from stepcalc.bridge.continuous.at_once import areas_at_once, ordinates_at_once
from stepcalc.bridge.continuous.layout import MOST_SPANS
from stepcalc.bridge.continuous.values import area_value, ordinate_value
from stepcalc.errors import RangeError
from stepcalc.sheet.kernels import Kernel, register_kernel

if TYPE_CHECKING:
    from stepcalc.analysis.line_family import Effect

__all__ = [
    "LineKernels",
    "broadcast",
    "line_kernels",
    "one_by_one",
    "place_units",
    "span_inputs",
    "span_names",
]

_UNITS: dict[Effect, tuple[str | None, str]] = {
    "moment": ("ft", "ft**2"), "shear": (None, "ft"), "reaction": (None, "ft"),
    "deflection": ("ft**3", "ft**4"),
}  # fmt: skip


@dataclass(frozen=True)
class LineKernels:
    """Influence lines for one number of spans, by effect: moment, shear, reaction, deflection.

    Attributes
    ----------
    ordinate, area : mapping of str to Kernel
        At a position, and between two positions.
    """

    ordinate: dict[str, Kernel]
    area: dict[str, Kernel]


def span_names(count: int) -> tuple[str, ...]:
    """Return the names of the inputs that hold the spans."""
    return tuple(f"span_{number}" for number in range(1, count + 1))


def span_inputs(spans: Sequence[Any]) -> dict[str, Any]:
    """Return the inputs that hold these spans."""
    return dict(zip(span_names(len(spans)), spans, strict=True))


def broadcast(
    count: int,
    function: Callable[..., float],
    numbers: Sequence[str],
    at_once: Callable[..., Any] | None = None,
) -> Callable[..., Any]:
    """Return a procedure over arrays: `function(spans, **rest)` at every distinct element.

    Parameters
    ----------
    count : int
        Number of spans.
    function : callable
        Takes the spans as a tuple of floats, the other numbers as floats, and texts as they are.
    numbers : sequence of str
        Names of the inputs, spans excluded, that may be arrays.
    at_once : callable, optional
        The same of all elements of arrays: takes spans as an array of shape (n, count), the other
        numbers as arrays of shape (n,), and returns an array of shape (n,).

    Returns
    -------
    callable
        Takes floats and broadcasting arrays by name; nan where an element has no result.
    """
    names = (*span_names(count), *numbers)

    def over_arrays(**inputs: Any) -> Any:
        texts = {key: value for key, value in inputs.items() if key not in names}
        arrays = np.broadcast_arrays(*(np.asarray(inputs[name], float) for name in names))
        if arrays[0].ndim == 0:
            values = [float(array) for array in arrays]
            rest = dict(zip(numbers, values[count:], strict=True))
            return function(tuple(values[:count]), **rest, **texts)
        columns = np.stack([array.ravel() for array in arrays], axis=1)
        # a sheet of many variants of a girder has few beams: each is worked out once
        distinct, which = np.unique(columns, axis=0, return_inverse=True)
        found = np.full(len(distinct), np.nan)
        sound = np.flatnonzero(np.isfinite(distinct).all(axis=1) & (distinct[:, :count] > 0).all(1))
        if at_once is not None and len(sound):
            rest = dict(zip(numbers, distinct[sound, count:].T, strict=True))
            # a mechanism, or words that stand for nothing: no element has a result
            with suppress(ArithmeticError, ValueError):
                found[sound] = at_once(distinct[sound, :count], **rest, **texts)
        if at_once is None and len(sound):
            rest = dict(zip(numbers, distinct[sound, count:].T, strict=True))
            found[sound] = one_by_one(function, distinct[sound, :count], rest | texts)
        return found[which].reshape(arrays[0].shape)

    return over_arrays


def one_by_one(function: Callable[..., float], spans: Any, inputs: dict[str, Any]) -> Any:
    """Return `function(spans, **rest)` of every row of arrays; nan where one has no result."""
    texts = {name: value for name, value in inputs.items() if isinstance(value, str)}
    numbers = {name: value for name, value in inputs.items() if name not in texts}
    found = np.full(len(spans), np.nan)
    for row in range(len(spans)):
        rest = {name: float(value[row]) for name, value in numbers.items()}
        with suppress(ArithmeticError, ValueError):  # stays nan: undefined for it alone
            found[row] = function(tuple(spans[row].tolist()), **rest, **texts)
    return found


def place_units(count: int) -> dict[str, str | None]:
    """Return the inputs that name a section of a beam, with their units."""
    spans: dict[str, str | None] = dict.fromkeys(span_names(count), "ft")
    return spans | {"layout": "choice", "place": "choice", "fraction": None}


@lru_cache(maxsize=MOST_SPANS)
def line_kernels(count: int) -> LineKernels:
    """Return the procedures for beams of so many spans.

    Raises
    ------
    RangeError
        If there are none or too many spans.
    """
    if not 1 <= count <= MOST_SPANS:
        raise RangeError(f"a beam of {count} spans; give 1 to {MOST_SPANS} spans")
    title = f"beam of {count} span{'s' if count > 1 else ''}"
    made = LineKernels({}, {})
    for effect, (ordinate, area) in _UNITS.items():
        made.ordinate[effect] = register_kernel(
            Kernel(
                f"{title}: {effect}, influence ordinate",
                1,
                broadcast(
                    count,
                    _ordinate(effect),
                    ("fraction", "position", "side"),
                    _ordinates(effect),
                ),
                place_units(count) | {"position": "ft", "side": None},
                ordinate,
                {},
                "stiffness method",
            )
        )
        made.area[effect] = register_kernel(
            Kernel(
                f"{title}: {effect}, influence area",
                1,
                broadcast(count, _area(effect), ("fraction", "start", "end"), _areas(effect)),
                place_units(count) | {"start": "ft", "end": "ft"},
                area,
                {},
                "stiffness method",
            )
        )
    return made


def _ordinate(effect: Effect) -> Callable[..., float]:
    def value(spans: tuple[float, ...], **inputs: Any) -> float:
        return ordinate_value(effect, spans, *_place(inputs), inputs["position"], inputs["side"])

    return value


def _ordinates(effect: Effect) -> Callable[..., Any]:
    def values(spans: Any, **inputs: Any) -> Any:
        return ordinates_at_once(effect, spans, *_place(inputs), inputs["position"], inputs["side"])

    return values


def _area(effect: Effect) -> Callable[..., float]:
    def value(spans: tuple[float, ...], **inputs: Any) -> float:
        return area_value(effect, spans, *_place(inputs), inputs["start"], inputs["end"])

    return value


def _areas(effect: Effect) -> Callable[..., Any]:
    def values(spans: Any, **inputs: Any) -> Any:
        return areas_at_once(effect, spans, *_place(inputs), inputs["start"], inputs["end"])

    return values


def _place(inputs: dict[str, Any]) -> tuple[str, int, Any]:
    return inputs["layout"], int(inputs["place"]), inputs["fraction"]


for _count in range(1, MOST_SPANS + 1):
    line_kernels(_count)
