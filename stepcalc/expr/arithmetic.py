"""The scalar rules of arithmetic that every evaluation shares: powers, floors, comparisons.

Three evaluators use these rules: the walk over the tree (:mod:`stepcalc.expr.walk`), the compiled
scalar program and the compiled NumPy program (:mod:`stepcalc.expr.code`).  They perform the same
floating-point operations in the same order, so that they agree to the last bit, except through
``pow`` and the trigonometric functions, where NumPy may differ by one unit in the last place.
"""

from __future__ import annotations

import math
from typing import Any

#: Values whose relative difference is below this are equal: 1 ft <= 12 in must hold.
TOLERANCE = 1e-9

#: Exponents that are computed by multiplication and square roots, as (whole factors, root factor).
EASY_POWERS: dict[float, tuple[int, bool]] = {
    1.0: (1, False), 2.0: (2, False), 3.0: (3, False), 4.0: (4, False),
    0.5: (0, True), 1.5: (1, True), 2.5: (2, True),
}  # fmt: skip


def is_typed(exponent: Any) -> bool:
    """Say whether an exponent is a typed number, so that the easy powers may be used."""
    op = exponent.op
    return bool(op == "num" or (op == "neg" and exponent.args[0].op == "num"))


def power(base: float, exponent: float) -> float:
    """Return base to the exponent by the shared rule; negative ones are reciprocals."""
    size = abs(exponent)
    easy = EASY_POWERS.get(size)
    if easy is None:
        return math.pow(base, exponent)
    factors, root = easy
    result = base if factors else math.sqrt(base)
    for _ in range(factors - 1):
        result = result * base
    if root and factors:
        result = result * math.sqrt(base)
    return result if exponent > 0 else 1.0 / result


def floor_near(x: float) -> float:
    """Return the whole number below x, or the one that x reaches within the tolerance."""
    return float(math.floor(x + TOLERANCE * abs(x)))


def ceil_near(x: float) -> float:
    """Return the whole number above x, or the one that x exceeds by no more than the tolerance."""
    return float(math.ceil(x - TOLERANCE * abs(x)))


def compare_values(op: str, left: float, right: float) -> bool:
    """Return the truth of a comparison, equal up to round-off."""
    difference = left - right
    band = TOLERANCE * abs(right)
    if op == "le":
        return difference <= band
    if op == "lt":
        return difference < -band
    if op == "ge":
        return difference >= -band
    if op == "gt":
        return difference > band
    equal = -band <= difference <= band
    return equal if op == "eq" else not equal


def check_ratio(demand: float, capacity: float) -> float:
    """Return demand over capacity; not a number where the capacity is not positive."""
    return demand / capacity if capacity > 0.0 else math.nan


def interpolate_at(x: float, xs: tuple[float, ...], ys: tuple[float, ...]) -> float:
    """Return the linear interpolation; not a number outside the points (up to the tolerance)."""
    low, high = xs[0], xs[-1]
    if x < low - TOLERANCE * abs(low) or x > high + TOLERANCE * abs(high) or x != x:
        return math.nan
    x = min(max(x, low), high)
    left = 0
    while left < len(xs) - 2 and x > xs[left + 1]:
        left += 1
    share = (x - xs[left]) / (xs[left + 1] - xs[left])
    return ys[left] + share * (ys[left + 1] - ys[left])


def interpolate_all(x: Any, xs: Any, ys: Any) -> Any:
    """Return :func:`interpolate_at` for an array of x, by the same operations."""
    import numpy as np

    points, values = np.asarray(xs), np.asarray(ys)
    low, high = points[0], points[-1]
    outside = (x < low - TOLERANCE * abs(low)) | (x > high + TOLERANCE * abs(high)) | (x != x)
    inside = np.minimum(np.maximum(np.where(outside, low, x), low), high)
    left = np.clip(np.searchsorted(points, inside, side="left") - 1, 0, len(points) - 2)
    share = (inside - points[left]) / (points[left + 1] - points[left])
    result = values[left] + share * (values[left + 1] - values[left])
    return np.where(outside, np.nan, result)
