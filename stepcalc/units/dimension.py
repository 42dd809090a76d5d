"""Dimensions as interned exponent tuples: equal dimensions are one object, compared by ``is``."""

from __future__ import annotations

from fractions import Fraction
from numbers import Rational

__all__ = ["DIMENSIONLESS", "FORCE", "LENGTH", "TEMPERATURE", "TIME", "Dimension", "dimension"]

_AXES = ("length", "force", "time", "temperature")
_WORDS: dict[tuple[int | Fraction, ...], str] = {
    (0, 0, 0, 0): "dimensionless",
    (1, 0, 0, 0): "length",
    (2, 0, 0, 0): "area",
    (3, 0, 0, 0): "volume or section modulus",
    (4, 0, 0, 0): "second moment of area",
    (0, 1, 0, 0): "force",
    (1, 1, 0, 0): "moment",
    (2, 1, 0, 0): "stiffness EI",
    (-1, 1, 0, 0): "line load",
    (-2, 1, 0, 0): "stress or pressure",
    (-3, 1, 0, 0): "unit weight",
    (0, 0, 1, 0): "time",
    (1, 0, -1, 0): "speed",
    (0, 0, 0, 1): "temperature",
}

Exponent = int | Fraction


class Dimension:
    """One physical dimension: the exponents of length, force, time and temperature."""

    __slots__ = ("_div", "_mul", "_pow", "exponents")

    def __init__(self, exponents: tuple[Exponent, ...]) -> None:
        self.exponents = exponents
        self._mul: dict[Dimension, Dimension] = {}
        self._div: dict[Dimension, Dimension] = {}
        self._pow: dict[Exponent, Dimension] = {}

    def times(self, other: Dimension) -> Dimension:
        """Return the dimension of a product."""
        found = self._mul.get(other)
        if found is None:
            pairs = zip(self.exponents, other.exponents, strict=True)
            found = self._mul[other] = dimension(tuple(a + b for a, b in pairs))
        return found

    def over(self, other: Dimension) -> Dimension:
        """Return the dimension of a quotient."""
        found = self._div.get(other)
        if found is None:
            pairs = zip(self.exponents, other.exponents, strict=True)
            found = self._div[other] = dimension(tuple(a - b for a, b in pairs))
        return found

    def to_the(self, power: Exponent) -> Dimension:
        """Return the dimension of a power with a plain number as exponent."""
        found = self._pow.get(power)
        if found is None:
            found = self._pow[power] = dimension(tuple(a * power for a in self.exponents))
        return found

    @property
    def formula(self) -> str:
        """The exponents spelled out, such as ``force*length`` or ``force/length^2``."""
        above: list[str] = []
        below: list[str] = []
        for axis in (1, 0, 2, 3):
            power = self.exponents[axis]
            if power:
                text = _AXES[axis] + ("" if abs(power) == 1 else f"^{abs(power)}")
                (above if power > 0 else below).append(text)
        text = "*".join(above) or ("1" if below else "a plain number")
        return text + "".join("/" + part for part in below)

    @property
    def words(self) -> str:
        """The dimension in plain words, such as ``moment (force*length)``."""
        word = _WORDS.get(self.exponents)
        if self.exponents == (0, 0, 0, 0):
            return "a plain number"
        return self.formula if word is None or word == self.formula else f"{word} ({self.formula})"

    def __repr__(self) -> str:
        return f"<Dimension {self.formula}>"

    def __reduce__(self) -> tuple[object, ...]:
        return dimension, (self.exponents,)


_interned: dict[tuple[Exponent, ...], Dimension] = {}


def _tidy(power: Exponent) -> Exponent:
    return int(power) if isinstance(power, Rational) and power.denominator == 1 else power


def dimension(exponents: tuple[Exponent, ...]) -> Dimension:
    """Return the one object for these exponents of length, force, time and temperature."""
    found = _interned.get(exponents)
    if found is None:
        exponents = tuple(_tidy(power) for power in exponents)
        found = _interned.setdefault(exponents, Dimension(exponents))
    return found


DIMENSIONLESS = dimension((0, 0, 0, 0))
LENGTH = dimension((1, 0, 0, 0))
FORCE = dimension((0, 1, 0, 0))
TIME = dimension((0, 0, 1, 0))
TEMPERATURE = dimension((0, 0, 0, 1))
