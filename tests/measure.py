"""Numbers with bounds and a dimension, for reading printed formulas back; knows no stepcalc."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction

Dim = tuple[tuple[str, Fraction], ...]  # exponents by name, sorted; nothing for a plain number

# in inches, kips, seconds; 1 ft = 12 in, 1 kip = 1000 lb by definition of the units
_SIZES: dict[str, tuple[float, str]] = {
    "in": (1, "in"), "ft": (12, "in"), "yd": (36, "in"),
    "kip": (1, "kip"), "lb": (1 / 1000, "kip"), "ton": (2, "kip"),
    "s": (1, "s"), "day": (86_400, "s"), "yr": (31_557_600, "s"),
}  # fmt: skip
_COMPOSED: dict[str, dict[str, int]] = {
    "ksi": {"kip": 1, "in": -2}, "psi": {"lb": 1, "in": -2}, "ksf": {"kip": 1, "ft": -2},
    "psf": {"lb": 1, "ft": -2}, "pcf": {"lb": 1, "ft": -3}, "kcf": {"kip": 1, "ft": -3},
    "klf": {"kip": 1, "ft": -1}, "plf": {"lb": 1, "ft": -1},
}  # fmt: skip
_NUMBERS = {"°": math.pi / 180, "%": 1 / 100, "rad": 1.0}


class UnreadableError(ValueError):
    """The text is not what the printers should write, or its units do not balance."""


class NoBoundsError(ArithmeticError):
    """The value cannot be bounded (division by something that may be zero)."""


@dataclass(frozen=True)
class Measure:
    """A value between two bounds, with its dimension."""

    low: float
    high: float
    dim: Dim = ()

    def __add__(self, other: Measure) -> Measure:
        self._like(other)
        return Measure(self.low + other.low, self.high + other.high, self.dim)

    def __sub__(self, other: Measure) -> Measure:
        self._like(other)
        return Measure(self.low - other.high, self.high - other.low, self.dim)

    def __neg__(self) -> Measure:
        return Measure(-self.high, -self.low, self.dim)

    def __mul__(self, other: Measure) -> Measure:
        ends = [a * b for a in (self.low, self.high) for b in (other.low, other.high)]
        return Measure(min(ends), max(ends), _together(self.dim, other.dim))

    def __truediv__(self, other: Measure) -> Measure:
        if other.low <= 0 <= other.high:
            raise NoBoundsError("division by zero")
        return self * other.power(Measure(-1, -1))

    def power(self, exponent: Measure) -> Measure:
        """Return this to a power; a base with a dimension wants an exact exponent."""
        if exponent.dim:
            raise UnreadableError("an exponent with a unit")
        if self.dim and exponent.low != exponent.high:
            raise UnreadableError("a unit to a power that is not exact")
        exact = Fraction(exponent.low).limit_denominator(1000)
        dim: Dim = tuple((name, e * exact) for name, e in self.dim if exact)
        whole = exponent.low == exponent.high == int(exponent.low)
        if self.low < 0 and not whole:
            raise NoBoundsError("a power of a negative number")
        if self.low <= 0 <= self.high and exponent.low < 0:
            raise NoBoundsError("a reciprocal of zero")
        try:
            ends = [a**b for a in (self.low, self.high) for b in (exponent.low, exponent.high)]
        except OverflowError as error:
            raise NoBoundsError("too large") from error
        low = min(ends)
        if whole and self.low < 0 < self.high and int(exponent.low) % 2 == 0:
            low = 0.0
        return Measure(low, max(ends), dim)

    def monotone(self, function: Callable[[float], float]) -> Measure:
        """Return an increasing function of a plain number."""
        if self.dim:
            raise UnreadableError("a function of a quantity with a unit")
        return Measure(function(self.low), function(self.high))

    def _like(self, other: Measure) -> None:
        if self.dim != other.dim:
            raise UnreadableError(f"{self.dim} added to {other.dim}")


def smallest(items: list[Measure]) -> Measure:
    """Return the smallest of some measures of one dimension."""
    for item in items:
        item._like(items[0])
    return Measure(min(i.low for i in items), min(i.high for i in items), items[0].dim)


def _together(one: Dim, other: Dim) -> Dim:
    powers = dict(one)
    for name, exponent in other:
        powers[name] = powers.get(name, Fraction(0)) + exponent
    return tuple(sorted((name, e) for name, e in powers.items() if e))


def unit(name: str, exponent: int = 1) -> Measure:
    """Return one of a unit to a power, in inches, kips and seconds."""
    value = Measure(1, 1)
    for part, power in _parts(name).items():
        size, kind = _SIZES.get(part, (0, ""))
        if not kind:
            number_of = _NUMBERS.get(part)
            if number_of is None:
                raise UnreadableError(f"unknown unit {name!r}")
            return Measure(number_of, number_of)
        total = power * exponent
        value = value * Measure(size**total, size**total, ((kind, Fraction(total)),))
    return value


def separate(name: str, exponent: int = 1) -> Measure:
    """Return a unit as one of its own kind: feet are no inches here, and pounds no kips.

    Read so, a substitution only has the number of its result if every conversion factor that is
    due stands there, on the right side of the bar.
    """
    if name in _NUMBERS:
        return unit(name)
    value = Measure(1, 1)
    for part, power in _parts(name).items():
        if part not in _SIZES:
            raise UnreadableError(f"unknown unit {name!r}")
        value = value * Measure(1, 1, ((part, Fraction(power * exponent)),))
    return value


def _parts(name: str) -> dict[str, int]:
    return _COMPOSED.get(name, {name: 1})


def number(text: str, *, rounded: bool) -> Measure:
    """Return a printed number; if it was rounded, half a unit of its last place either way."""
    digits = text.replace(",", "").lstrip("-")
    value = float(text.replace(",", ""))
    if not rounded:
        return Measure(value, value)
    mantissa, _, exponent = digits.partition("e")
    places = len(mantissa.partition(".")[2])
    half = 0.5 * 10.0 ** (int(exponent or 0) - places)
    if not places and not exponent:  # 2,570 may stand for any number of figures up to the last
        half = 0.5 * 10.0 ** max(len(mantissa) - 4, 0)
    return Measure(value - half, value + half)
