"""The names that source of formulas may use, for each of its modes; nothing else is in reach."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

import numpy as np

from stepcalc.expr.arithmetic import (
    TOLERANCE,
    ceil_near,
    check_ratio,
    floor_near,
    interpolate_all,
    interpolate_at,
)
from stepcalc.units.numbers import round_array, round_shown

__all__ = ["ARRAY", "CAREFUL", "SCALAR", "namespace"]

SCALAR, ARRAY, CAREFUL = "scalar", "array", "careful"


def _sum(first: Any, *rest: Any) -> Any:
    for value in rest:
        first = first + value
    return first


def _product(first: Any, *rest: Any) -> Any:
    for value in rest:
        first = first * value
    return first


def _near(left: float, right: float) -> bool:
    return abs(left - right) <= TOLERANCE * abs(right)


def _not(truth: bool) -> bool:
    return not truth


def _scalar_interp(x: float, xs: Any, ys: Any) -> float:
    value = interpolate_at(x, xs, ys)
    if value != value:
        raise ValueError
    return value


def _array_floor(x: Any) -> Any:
    return np.floor(x + TOLERANCE * abs(x))


def _array_ceil(x: Any) -> Any:
    return np.ceil(x - TOLERANCE * abs(x))


def _array_ratio(demand: Any, capacity: Any) -> Any:
    positive = np.greater(capacity, 0.0)
    if positive.all():
        return demand / capacity
    return np.where(positive, demand / np.where(positive, capacity, 1.0), np.nan)


def _both(first: Any, *rest: Any) -> Any:
    for truth in rest:
        first = np.logical_and(first, truth)
    return first


def _finite(values: Any) -> Any:
    return np.where(np.isfinite(values), values, np.nan)


def _quiet(function: Callable[..., Any]) -> Callable[..., Any]:
    def careful(*values: Any) -> Any:
        return _finite(function(*values))

    return careful


def _undefined(*values: Any) -> Any:
    gap = np.isnan(values[0])
    for value in values[1:]:
        gap = gap | np.isnan(value)
    return gap


def _three_valued(rule: Callable[[Any, Any, Any], Any]) -> Callable[[Any, Any], Any]:
    def careful(left: Any, right: Any) -> Any:
        truth = rule(left - right, TOLERANCE * np.abs(right), right)
        return np.where(_undefined(left, right), -1, truth)

    return careful


def _careful_and(a: Any, b: Any) -> Any:
    return np.where((a == 0) | (b == 0), 0, np.minimum(a, b))


def _careful_or(a: Any, b: Any) -> Any:
    return np.where((a == 1) | (b == 1), 1, np.minimum(a, b))


def _careful_not(a: Any) -> Any:
    return np.where(a < 0, -1, 1 - a)


def _pick(truth: Any, value: Any, other: Any) -> Any:
    return np.where(truth == 1, value, np.where(truth == 0, other, np.nan))


_SCALAR: dict[str, Any] = {
    "_sqrt": math.sqrt, "_exp": math.exp, "_log": math.log, "_log10": math.log10,
    "_sin": math.sin, "_cos": math.cos, "_tan": math.tan, "_asin": math.asin, "_acos": math.acos,
    "_atan": math.atan, "_floor": floor_near, "_ceil": ceil_near, "_pow": math.pow, "_min": min,
    "_max": max, "_sum": _sum, "_product": _product, "_near": _near, "_not": _not,
    "_ratio": check_ratio, "_interp": _scalar_interp, "_round": round_shown,
}  # fmt: skip
_ARRAY: dict[str, Any] = {
    "_sqrt": np.sqrt, "_exp": np.exp, "_log": np.log, "_log10": np.log10, "_sin": np.sin,
    "_cos": np.cos, "_tan": np.tan, "_asin": np.arcsin, "_acos": np.arccos, "_atan": np.arctan,
    "_floor": _array_floor, "_ceil": _array_ceil, "_pow": np.power, "_min": np.minimum,
    "_max": np.maximum, "_sum": _sum, "_product": _product, "_near": _near,
    "_not": np.logical_not, "_and": np.logical_and, "_or": np.logical_or, "_where": np.where,
    "_ratio": _array_ratio, "_interp": interpolate_all, "_round": round_array,
    "_both": _both, "_choose": np.where,
}  # fmt: skip
_CAREFUL: dict[str, Any] = {
    **{name: _quiet(function) for name, function in _ARRAY.items() if name in (
        "_sqrt", "_exp", "_log", "_log10", "_sin", "_cos", "_tan", "_asin", "_acos", "_atan",
        "_floor", "_ceil", "_pow")},
    "_min": np.minimum, "_max": np.maximum, "_sum": _quiet(_sum), "_product": _quiet(_product),
    "_div": _quiet(np.divide), "_finite": _finite, "_interp": interpolate_all,
    "_ratio": lambda demand, capacity: _finite(_array_ratio(demand, capacity)),
    "_le": _three_valued(lambda d, band, right: d <= band),
    "_lt": _three_valued(lambda d, band, right: d < -band),
    "_ge": _three_valued(lambda d, band, right: d >= -band),
    "_gt": _three_valued(lambda d, band, right: d > band),
    "_eq": _three_valued(lambda d, band, right: np.abs(d) <= band),
    "_ne": _three_valued(lambda d, band, right: np.abs(d) > band),
    "_and": _careful_and, "_or": _careful_or, "_not": _careful_not, "_pick": _pick,
    "_sure": lambda truth: np.where(truth, 1, 0), "_round": round_array,
    "_both": _both, "_choose": np.where,
}  # fmt: skip


def namespace(mode: str) -> dict[str, Any]:
    """Return the names that source of a mode may use; nothing else is in reach of it."""
    table = {SCALAR: _SCALAR, ARRAY: _ARRAY, CAREFUL: _CAREFUL}[mode]
    return {"__builtins__": {}, "abs": abs, **table}
