r"""A small reader of printed formulas, in text and in LaTeX; independent of the printers.

It reads what a person sees: juxtaposition multiplies, a fraction bar groups, ``(12 in/1 ft)`` is a
factor with units. Names are looked up in a table; everything else must be understood, or the
reading fails.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Mapping

from tests.measure import Measure, NoBoundsError, UnreadableError, number, smallest, unit

Number = Callable[[str], Measure]
Unit = Callable[..., Measure]
_UNIT = r"(?:kip|ksi|ksf|klf|kcf|lb|psi|psf|pcf|plf|in|ft|yd|ton|day|yr|rad|s)(?![A-Za-z_])"
_NUMBER = re.compile(r"\d+(?:,\d{3})*(?:\.\d+)?(?:e-?\d+)?")
_TEXT_UNIT = re.compile(rf"{_UNIT}(?:\^(\d+))?")
_FUNCTIONS = ("min", "max", "sqrt", "root", "exp", "ln", "log10", "sin", "cos", "tan", "asin",
              "acos", "atan", "floor", "ceil", "abs")  # fmt: skip


def exact(text: str) -> Measure:
    """Return a printed number as it stands."""
    return number(text, rounded=False)


def apply(name: str, arguments: list[Measure]) -> Measure:
    """Return a function of the values read for its arguments."""
    if name == "min":
        return smallest(arguments)
    if name == "max":
        return -smallest([-argument for argument in arguments])
    if name == "root":
        degree, inside = arguments
        return inside.power(Measure(1 / degree.high, 1 / degree.low))
    (x,) = arguments
    if name == "sqrt":
        return x.power(Measure(0.5, 0.5))
    if name == "abs":
        ends = sorted((abs(x.low), abs(x.high)))
        return Measure(0.0 if x.low < 0 < x.high else ends[0], ends[1], x.dim)
    if name in ("floor", "ceil"):
        return x.monotone(math.floor if name == "floor" else math.ceil)
    if name in ("sin", "cos", "tan", "acos"):
        if x.high - x.low > 1e-12:
            raise NoBoundsError(name)
        value = getattr(math, name)(x.low)
        return Measure(value, value).monotone(lambda v: v)
    functions = {"ln": math.log, "log10": math.log10, "exp": math.exp, "asin": math.asin,
                 "atan": math.atan}  # fmt: skip
    try:
        return x.monotone(functions[name])
    except (ValueError, OverflowError) as error:
        raise NoBoundsError(name) from error


class _Reader:
    """What both notations have in common: a text and a place in it."""

    def __init__(
        self, text: str, names: Mapping[str, Measure], numbers: Number, units: Unit
    ) -> None:
        self.text = text
        self.place = 0
        self.names = names
        self.numbers = numbers
        self.unit = units

    def skip(self, *ignored: str) -> None:
        moved = True
        while moved:
            moved = False
            for mark in (" ", *ignored):
                if self.text.startswith(mark, self.place):
                    self.place += len(mark)
                    moved = True

    def next_is(self, mark: str) -> bool:
        self.skip()
        return self.text.startswith(mark, self.place)

    def take(self, mark: str) -> None:
        if not self.next_is(mark):
            raise UnreadableError(f"{mark!r} expected in {self.text!r} at {self.place}")
        self.place += len(mark)

    def matched(self, pattern: re.Pattern[str]) -> re.Match[str] | None:
        self.skip()
        found = pattern.match(self.text, self.place)
        if found is not None:
            self.place = found.end()
        return found

    def whole(self) -> Measure:
        value = self.sum()
        self.skip()
        if self.place != len(self.text):
            raise UnreadableError(f"{self.text[self.place :]!r} left over in {self.text!r}")
        return value

    def sum(self) -> Measure:
        if self.next_is("-"):
            self.take("-")
            value = -self.product()
        else:
            value = self.product()
        while True:
            if self.next_is("+"):
                self.take("+")
                value = value + self.product()
            elif self.next_is("-"):
                self.take("-")
                value = value - self.product()
            else:
                return value

    def product(self) -> Measure:
        raise NotImplementedError


class TextReader(_Reader):
    """Reads one line of plain text."""

    def product(self) -> Measure:
        value = self.power()
        while True:
            if self.next_is("*"):
                self.take("*")
                value = value * (self.negative() if self.next_is("-") else self.power())
            elif self.next_is("/"):
                self.take("/")
                value = value / self.power()
            elif self.place < len(self.text) and self.text[self.place] not in "+-,)=":
                value = value * self.power()
            else:
                return value

    def negative(self) -> Measure:
        raise UnreadableError("a minus sign behind a sign")

    def power(self) -> Measure:
        base = self.atom()
        if self.next_is("^"):
            self.take("^")
            base = base.power(self.atom())
            if self.next_is("^"):
                raise UnreadableError("a power of a power without brackets")
        return base

    def atom(self) -> Measure:
        self.skip()
        for name in sorted(self.names, key=len, reverse=True):
            end = self.place + len(name)
            if self.text.startswith(name, self.place) and not self.text[end : end + 1].isalnum():
                self.place = end
                return self.names[name]
        found = self.matched(_NUMBER)
        if found is not None:
            return self.with_unit(self.numbers(found.group()))
        for name in _FUNCTIONS:
            if self.next_is(f"{name}("):
                self.take(f"{name}(")
                return apply(name, self.arguments())
        if self.next_is("("):
            self.take("(")
            value = self.sum()
            self.take(")")
            return value
        if self.next_is("pi"):
            self.take("pi")
            return Measure(math.pi, math.pi)
        found = self.matched(_TEXT_UNIT)
        if found is None:
            raise UnreadableError(f"{self.text[self.place :]!r} in {self.text!r}")
        return self.more_units(self.unit(found.group().partition("^")[0], int(found[1] or 1)))

    def arguments(self) -> list[Measure]:
        values = [self.sum()]
        while self.next_is(","):
            self.take(",")
            values.append(self.sum())
        self.take(")")
        return values

    def with_unit(self, value: Measure) -> Measure:
        for mark in "°%":
            if self.text.startswith(mark, self.place):
                self.place += 1
                return value * self.unit(mark)
        found = _TEXT_UNIT.match(self.text, self.place + 1)
        if self.text[self.place : self.place + 1] != " " or found is None:
            return value
        self.place = found.end()
        value = value * self.unit(found.group().partition("^")[0], int(found[1] or 1))
        return self.more_units(value)

    def more_units(self, value: Measure) -> Measure:
        while self.text[self.place : self.place + 1] in ("-", "/"):
            found = _TEXT_UNIT.match(self.text, self.place + 1)
            if found is None:
                break
            sign = 1 if self.text[self.place] == "-" else -1
            self.place = found.end()
            value = value * self.unit(found.group().partition("^")[0], sign * int(found[1] or 1))
        return value


_SYMBOL = re.compile(
    r"(?P<base>\\mathrm\{[A-Za-z]\w*\}|\\[A-Za-z]+(?![A-Za-z{])|[A-Za-z])(?P<prime>'*)"
    r"(?:_\{(?P<sub>(?:[^{}]|\{[^{}]*\})*)\})?"
)
_LATEX_NUMBER = re.compile(r"\d+(?:\{,\}\d{3})*(?:\.\d+)?(?P<power> \\times 10\^\{(?P<e>-?\d+)\})?")
_LATEX_UNIT = re.compile(r"\\mathrm\{((?:[^{}]|\{[^{}]*\})*)\}")
_UNIT_PART = re.compile(r"(?P<joint>\\text\{-\}|/|)(?P<name>[A-Za-z]+)(?:\^\{(?P<power>\d+)\})?")
_SPACES = (r"\,", r"\;", r"\displaystyle")
_LATEX_FUNCTIONS = {
    r"\min": "min", r"\max": "max", r"\sin": "sin", r"\cos": "cos", r"\tan": "tan",
    r"\exp": "exp", r"\ln": "ln", r"\arcsin": "asin", r"\arccos": "acos", r"\arctan": "atan",
    r"\log_{10}": "log10",
}  # fmt: skip


class LatexReader(_Reader):
    """Reads LaTeX math."""

    def skip(self, *ignored: str) -> None:
        super().skip(*_SPACES, *ignored)

    def product(self) -> Measure:
        value = self.power()
        while True:
            if self.next_is(r"\cdot"):
                self.take(r"\cdot")
                value = value * self.power()
            elif self.ends():
                return value
            else:
                value = value * self.power()

    def ends(self) -> bool:
        self.skip()
        rest = self.text[self.place :]
        stops = (r"\right", r"\rfloor", r"\rceil", "+", "-", ")", "}", "]", ",", "=", "|", "&")
        return not rest or rest.startswith(stops)

    def power(self) -> Measure:
        base = self.atom()
        if self.next_is("^{"):
            self.take("^{")
            exponent = self.sum()
            self.take("}")
            base = base.power(exponent)
        return base

    def atom(self) -> Measure:
        number_found = self.matched(_LATEX_NUMBER)
        if number_found is not None:
            return self.with_unit(number_found)
        for mark, read in self.rules():
            if self.next_is(mark):
                self.take(mark)
                return read()
        place = self.place
        found = self.matched(_LATEX_UNIT)
        if found is not None:
            try:
                return self.latex_unit(found[1])
            except UnreadableError:
                self.place = place
        found = self.matched(_SYMBOL)
        if found is None:
            raise UnreadableError(f"{self.text[self.place :]!r} in {self.text!r}")
        if found["base"] == r"\pi" and not found["sub"]:
            return Measure(math.pi, math.pi)
        name = _spelling(found)
        if name not in self.names:
            raise UnreadableError(f"{name!r} is no name of the formula {self.text!r}")
        return self.names[name]

    def rules(self) -> list[tuple[str, Callable[[], Measure]]]:
        functions = [(mark, self.function(name)) for mark, name in _LATEX_FUNCTIONS.items()]
        return [
            (r"\frac{", self.fraction), (r"\dfrac{", self.fraction), (r"\sqrt[", self.root),
            (r"\sqrt{", lambda: apply("sqrt", [self.until("}")])),
            (r"\left(", lambda: self.until(r"\right)")), ("(", lambda: self.until(")")),
            ("{", lambda: self.until("}")),
            (r"\left|", lambda: apply("abs", [self.until(r"\right|")])),
            (r"\left\lfloor", lambda: apply("floor", [self.until(r"\right\rfloor")])),
            (r"\left\lceil", lambda: apply("ceil", [self.until(r"\right\rceil")])),
            *functions,
        ]  # fmt: skip

    def until(self, mark: str) -> Measure:
        value = self.sum()
        self.take(mark)
        return value

    def fraction(self) -> Measure:
        over = self.until("}")
        self.take("{")
        return over / self.until("}")

    def root(self) -> Measure:
        self.take("{")
        degree = self.until("}")
        self.take("]{")
        return apply("root", [degree, self.until("}")])

    def function(self, name: str) -> Callable[[], Measure]:
        def read() -> Measure:
            close = r"\right)" if self.next_is(r"\left(") else ")"
            self.take(r"\left(" if close == r"\right)" else "(")
            values = [self.sum()]
            while self.next_is(","):
                self.take(",")
                values.append(self.sum())
            self.take(close)
            return apply(name, values)

        return read

    def with_unit(self, found: re.Match[str]) -> Measure:
        text = found.group().partition(" ")[0].replace("{,}", ",")
        value = self.numbers(f"{text}e{found['e']}" if found["power"] else text)
        if self.text.startswith(r"^{\circ}", self.place):
            self.place += len(r"^{\circ}")
            return value * self.unit("°")
        if self.text.startswith(r"\%", self.place):
            self.place += 2
            return value * self.unit("%")
        at = _LATEX_UNIT.match(self.text, self.place + 2)
        if self.text.startswith(r"\,", self.place) and at is not None:
            try:
                value = value * self.latex_unit(at[1])
            except UnreadableError:
                return value
            self.place = at.end()
        return value

    def latex_unit(self, inside: str) -> Measure:
        value = Measure(1, 1)
        place = 1 if inside.startswith("1/") else 0
        while place < len(inside):
            found = _UNIT_PART.match(inside, place)
            if found is None:
                raise UnreadableError(f"the unit {inside!r}")
            sign = -1 if found["joint"] == "/" else 1
            value = value * self.unit(found["name"], sign * int(found["power"] or 1))
            place = found.end()
        return value


def _spelling(found: re.Match[str]) -> str:
    base = re.sub(r"\\mathrm\{(.*)\}", r"\1", found["base"]).lstrip("\\")
    sub = re.sub(r"\\mathrm\{([^{}]*)\}|\\([a-z]+)|\s", r"\1\2", found["sub"] or "")
    return base + found["prime"] + (f"_{sub}" if sub else "")


def read_text(
    text: str, names: Mapping[str, Measure], numbers: Number = exact, units: Unit = unit
) -> Measure:
    """Return the value of a formula printed as text.

    Parameters
    ----------
    text : str
    names : mapping of symbol to value
    numbers : callable
        Makes a value of a printed number: exact, or with the bounds of its rounding.
    units : callable
        Makes a value of a unit: its size, or one of a kind of its own.
    """
    return TextReader(text, names, numbers, units).whole()


def read_latex(
    text: str, names: Mapping[str, Measure], numbers: Number = exact, units: Unit = unit
) -> Measure:
    """Return the value of a formula printed as LaTeX; see :func:`read_text`."""
    return LatexReader(text, names, numbers, units).whole()
