"""Influence ordinates and areas of beams of 1 to 20 spans, as numerical procedures.

A section is a span, counted from 1, and a fraction of it; at the ends of a span, shear is that of
the span's own side.  A reaction is named by its support, counted from 1.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

import numpy as np

from stepcalc.bridge.continuous.layout import MOST_SPANS
from stepcalc.bridge.continuous.values import line_at
from stepcalc.errors import RangeError
from stepcalc.sheet.kernels import Kernel, register_kernel

__all__ = ["LineKernels", "broadcast", "line_kernels", "place_units", "span_inputs", "span_names"]

_UNITS: dict[str, tuple[str | None, str]] = {
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
    many: Callable[..., float] | None = None,
) -> Callable[..., Any]:
    """Return a procedure over arrays: `function(spans, **rest)` at every element.

    Parameters
    ----------
    count : int
        Number of spans.
    function : callable
        Takes the spans as a tuple of floats, the other numbers as floats, and texts as they are.
    numbers : sequence of str
        Names of the inputs, spans excluded, that may be arrays.
    many : callable, optional
        What stands for `function` at the elements of arrays; the same value, found otherwise.

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
        found = np.full(arrays[0].shape, np.nan)
        for index in np.ndindex(found.shape):
            values = [float(array[index]) for array in arrays]
            rest = dict(zip(numbers, values[count:], strict=True))
            try:
                found[index] = (many or function)(tuple(values[:count]), **rest, **texts)
            except (ArithmeticError, ValueError):
                continue  # stays nan: undefined for this element alone
        return found

    return over_arrays


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
                broadcast(count, _ordinate(effect), ("fraction", "position", "side")),
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
                broadcast(count, _area(effect), ("fraction", "start", "end")),
                place_units(count) | {"start": "ft", "end": "ft"},
                area,
                {},
                "stiffness method",
            )
        )
    return made


def _ordinate(effect: Any) -> Callable[..., float]:
    def value(
        spans: tuple[float, ...],
        fraction: float,
        position: float,
        side: float,
        layout: str,
        place: str,
    ) -> float:
        line = line_at(effect, spans, layout, int(place), fraction)
        return float(line(_snapped(line.breaks, position), side="left" if side < 0 else "right"))

    return value


def _area(effect: Any) -> Callable[..., float]:
    def value(
        spans: tuple[float, ...],
        fraction: float,
        start: float,
        end: float,
        layout: str,
        place: str,
    ) -> float:
        line = line_at(effect, spans, layout, int(place), fraction)
        return float(line.integral(start, end))

    return value


def _snapped(breaks: Any, position: float) -> float:
    """Return a position, or the break it nearly is, so that its side is the side of the break."""
    nearest = float(breaks[np.argmin(np.abs(breaks - position))])
    return nearest if abs(nearest - position) <= 1e-9 * float(breaks[-1]) else position


for _count in range(1, MOST_SPANS + 1):
    line_kernels(_count)
