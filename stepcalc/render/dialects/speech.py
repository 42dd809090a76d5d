# ruff: noqa: D102  # Dialect says what each method returns
"""Formulas in words, for alternative texts: ``M sub u equals w times L squared over 8``."""

from __future__ import annotations

from collections.abc import Sequence

from stepcalc.render.dialects.base import Dialect
from stepcalc.render.dialects.text import visible
from stepcalc.render.symbols import Run, split_symbol
from stepcalc.render.unit_spelling import spoken_unit

_ATOM, _POWER, _PRODUCT, _FRACTION, _SUM, _SENTENCE = range(6)
_SIGNS = {
    "·": "times", "×": "times", "+": "plus", "-": "minus", "−": "minus", "=": "equals",
    "<": "is less than", "≤": "is at most", ">": "is greater than", "≥": "is at least",
    "≠": "is not equal to", "≈": "is about", "±": "plus or minus", "→": "goes to",
    "⇒": "implies", "∞": "infinity", "∂": "partial", "∫": "integral of", "∑": "sum of",
    "…": "and so on", " ": "", "  ": "", "∝": "is proportional to", "'": "prime", ",": ",",
}  # fmt: skip
_RAISED = {"2": "squared", "3": "cubed"}
_CALLS = {
    "min": "the smallest of", "max": "the largest of", "exp": "e to the power of",
    "log": "the logarithm of", "log10": "the logarithm to base ten of",
    "ln": "the natural logarithm of", "sin": "the sine of",
    "cos": "the cosine of", "tan": "the tangent of", "asin": "the arc sine of",
    "acos": "the arc cosine of", "atan": "the arc tangent of",
}  # fmt: skip


class Spoken(str):
    """Words with how tightly they bind."""

    __slots__ = ("rank",)

    rank: int

    def __new__(cls, words: str, rank: int = _ATOM) -> Spoken:
        piece = super().__new__(cls, words)
        piece.rank = rank
        return piece


def _rank(piece: str) -> int:
    return piece.rank if isinstance(piece, Spoken) else _SENTENCE


def _runs(runs: tuple[Run, ...]) -> str:
    return " ".join(
        "plus" if text == "+" else visible(text) for _, text in runs if text not in ",."
    )


class Speech(Dialect[str]):
    """Words that say a formula without ambiguity."""

    name = "speech"

    def sym(self, spelling: str) -> str:
        base, primes, sub = split_symbol(spelling)
        lower = f" sub {_runs(sub)}" if sub else ""
        return Spoken(_runs(base) + " prime" * primes + lower)

    def num(self, number: str) -> str:
        shown = visible(number)
        return Spoken(f"minus {shown[1:]}" if shown[:1] in ("-", "−") else shown)

    def unit(self, unit: str) -> str:
        return Spoken(visible(spoken_unit(unit, plural=True)))

    def qty(self, number: str, unit: str) -> str:
        said = visible(spoken_unit(unit, plural=number not in ("1", "-1")))
        return Spoken(f"{self.num(number)} {said}")

    def text(self, text: str) -> str:
        return Spoken(visible(text), _SENTENCE)

    def op(self, sign: str) -> str:
        return Spoken(_SIGNS.get(sign, visible(sign)), _SENTENCE)

    def mul(self, items: Sequence[str]) -> str:
        said = [item for item in items if item != "times" or _rank(item) != _SENTENCE]
        return Spoken(" times ".join(said), _PRODUCT)

    def add(self, terms: Sequence[tuple[str, str]]) -> str:
        words = [f"{_SIGNS[sign]} {term}" if sign else term for sign, term in terms]
        return Spoken(" ".join(words), _SUM)

    def frac(self, over: str, under: str) -> str:
        if _rank(over) <= _PRODUCT and _rank(under) <= _POWER:
            return Spoken(f"{over} over {under}", _FRACTION)
        return Spoken(f"the fraction {over}, over {under}, end fraction", _POWER)

    def pow(self, base: str, exponent: str) -> str:
        raised = _RAISED.get(exponent)
        if raised is None:
            tail = "" if _rank(exponent) == _ATOM else ", end power"
            raised = f"to the power {exponent}{tail}"
        return Spoken(f"{base} {raised}", _POWER)

    def sqrt(self, inside: str) -> str:
        if _rank(inside) == _ATOM:
            return Spoken(f"the square root of {inside}", _POWER)
        return Spoken(f"the square root of {inside}, end root", _POWER)

    def root(self, degree: str, inside: str) -> str:
        return Spoken(f"the root of degree {degree} of {inside}, end root", _POWER)

    def group(self, inside: str) -> str:
        if _rank(inside) == _ATOM:
            return inside
        return Spoken(f"open bracket {inside} close bracket")

    def abs(self, inside: str) -> str:
        return Spoken(f"the absolute value of {inside}, end absolute value")

    def floor(self, inside: str) -> str:
        return Spoken(f"the next lower integer of {inside}, end integer")

    def ceil(self, inside: str) -> str:
        return Spoken(f"the next higher integer of {inside}, end integer")

    def call(self, function: str, arguments: Sequence[str]) -> str:
        head = _CALLS.get(function, visible(function) + " of")
        listed = ", and ".join(arguments)
        return Spoken(f"{head} {listed}, end of arguments", _POWER)

    def rel(self, left: str, rest: Sequence[tuple[str, str]]) -> str:
        said = "".join([f" {_SIGNS[sign]} {right}" for sign, right in rest])
        return Spoken(left + said, _SENTENCE)

    def and_(self, items: Sequence[str]) -> str:
        return Spoken(" and ".join(items), _SENTENCE)

    def or_(self, items: Sequence[str]) -> str:
        return Spoken(" or ".join(items), _SENTENCE)

    def not_(self, inside: str) -> str:
        return Spoken(f"not {inside}", _SENTENCE)

    def cases(self, rows: Sequence[tuple[str, str | None, str | None]]) -> str:
        said = []
        for value, condition, label in rows:
            when = "otherwise" if condition is None else f"if {condition}"
            said.append(f"{value} {when}" + ("" if label is None else f", {label}"))
        return Spoken("by cases: " + "; ".join(said) + "; end of cases", _POWER)

    def row(self, items: Sequence[str]) -> str:
        return Spoken(" ".join(item for item in items if item), _SENTENCE)

    def box(self, inside: str) -> str:
        return inside

    def sub(self, base: str, lower: str) -> str:
        return Spoken(f"{base} sub {lower}")

    def subsup(self, base: str, lower: str, upper: str) -> str:
        return self.pow(self.sub(base, lower), upper)

    def sum(self, lower: str | None, upper: str | None, body: str) -> str:
        low = "" if lower is None else f" from {lower}"
        high = "" if upper is None else f" to {upper}"
        return Spoken(f"the sum{low}{high} of {body}", _PRODUCT)

    def accent(self, mark: str, base: str) -> str:
        return Spoken(f"{base} {mark}")
