# ruff: noqa: D102  # Dialect says what each method returns
"""Plain text: one line that reads back as the formula it is.

Division, powers and products stand on one line here, so this dialect adds the brackets that a
fraction bar or a raised exponent make unnecessary elsewhere.
"""

from __future__ import annotations

from collections.abc import Sequence

from stepcalc.render.characters import harmless
from stepcalc.render.dialects.base import Dialect
from stepcalc.render.symbols import split_symbol
from stepcalc.render.unit_spelling import split_unit

_ATOM, _POWER, _PRODUCT, _QUANTITY, _FRACTION = range(5)
_NEGATIVE, _NEGATIVE_FRACTION, _SUM, _RELATION, _WORDS = range(5, 10)
_JOINED_UNITS = frozenset("°%")
# 3(62 ft) and (2)(62 ft) cannot be taken for a function and its argument, gamma(62 ft) could
_NO_CALL = frozenset("(0123456789")


class Linear(str):
    """A piece of a line, with how tightly it binds; ``loose`` is it before inner brackets."""

    __slots__ = ("loose", "rank")

    rank: int
    loose: str | None

    def __new__(cls, text: str, rank: int = _ATOM, loose: str | None = None) -> Linear:
        piece = super().__new__(cls, text)
        piece.rank = rank
        piece.loose = loose
        return piece


def _rank(piece: str) -> int:
    return piece.rank if isinstance(piece, Linear) else _WORDS


def _bracketed(piece: str, *, at_most: int) -> str:
    return piece if _rank(piece) <= at_most else f"({piece})"


def visible(text: str) -> str:
    """Return a text on one line, with control characters made visible."""
    return text if text.isprintable() else " ".join(harmless(text).split("\n"))


def symbol_in_text(spelling: str) -> str:
    """Return a symbol for a line of text: as typed, its subscript in braces if it has marks.

    Examples
    --------
    >>> symbol_in_text("M_DC1"), symbol_in_text("M_LL+IM")
    ('M_DC1', 'M_{LL+IM}')
    """
    symbol = split_symbol(spelling)
    if not any(run.kind == "mark" for run in symbol.sub) or "_" not in spelling:
        return visible(spelling)
    base, _, lower = spelling.partition("_")
    return f"{base}_{{{lower.replace('_', ',')}}}"


def unit_in_text(unit: str) -> str:
    """Return a unit for a line of text, ``kip-ft`` or ``lb/ft^3``."""
    factors = split_unit(unit)
    if factors is None:
        return visible(unit)
    spelled = "".join(f"{j}{n}^{e}" if e else f"{j}{n}" for j, n, e in factors)
    return f"1{spelled}" if spelled.startswith("/") else spelled


class Text(Dialect[str]):
    """One line of plain text."""

    name = "text"

    def sym(self, spelling: str) -> str:
        shown = symbol_in_text(spelling)
        raw = split_symbol(spelling).base[:1]
        return Linear(shown, _WORDS if raw and raw[0].kind == "raw" else _ATOM)

    def num(self, number: str) -> str:
        number = visible(number)
        return Linear(number, _NEGATIVE if number[:1] in "-−" else _ATOM)

    def unit(self, unit: str) -> str:
        return Linear(unit_in_text(unit))

    def qty(self, number: str, unit: str) -> str:
        space = "" if unit in _JOINED_UNITS else " "
        joined = f"{visible(number)}{space}{unit_in_text(unit)}"
        return Linear(joined, _NEGATIVE if joined[:1] in "-−" else _QUANTITY)

    def text(self, text: str) -> str:
        return Linear(visible(text), _WORDS)

    def op(self, sign: str) -> str:
        return Linear("*" if sign == "·" else visible(sign), _WORDS)

    def mul(self, items: Sequence[str]) -> str:
        line = before = ""
        for place, item in enumerate(items):
            if item == "*" and _rank(item) == _WORDS:
                line += " * "
                continue
            limit = _NEGATIVE if place == 0 and _rank(item) == _NEGATIVE else _PRODUCT
            piece = _bracketed(item, at_most=limit)
            if line and line[-1] != " " and not (piece[:1] == "(" and before in _NO_CALL):
                line += " "
            line += piece
            before = piece.lstrip("-")[:1]
        return Linear(line, _NEGATIVE if line[:1] == "-" else _PRODUCT)

    def add(self, terms: Sequence[tuple[str, str]]) -> str:
        line = ""
        for sign, term in terms:
            limit = _FRACTION if sign and (line or sign == "-") else _NEGATIVE_FRACTION
            piece = _bracketed(term, at_most=limit)
            line += f" {sign} {piece}" if line else f"{sign}{piece}"
        return Linear(line, _SUM if len(terms) > 1 else _NEGATIVE)

    def frac(self, over: str, under: str) -> str:
        both = _rank(over) == _QUANTITY == _rank(under)
        loose = f"{over}/{under}" if both else None
        sign = "-" if _rank(over) == _NEGATIVE and over[:1] == "-" else ""
        above = over if sign else _bracketed(over, at_most=_PRODUCT)
        line = f"{above}/{_bracketed(under, at_most=_POWER)}"
        return Linear(line, _NEGATIVE_FRACTION if sign else _FRACTION, loose)

    def pow(self, base: str, exponent: str) -> str:
        raised = exponent if _rank(exponent) == _ATOM else f"({exponent})"
        return Linear(f"{_bracketed(base, at_most=_ATOM)}^{raised}", _POWER)

    def sqrt(self, inside: str) -> str:
        return Linear(f"sqrt{self.group(inside)}")

    def root(self, degree: str, inside: str) -> str:
        return Linear(f"root({degree}, {inside})")

    def group(self, inside: str) -> str:
        loose = inside.loose if isinstance(inside, Linear) else None
        return Linear(f"({inside if loose is None else loose})")

    def abs(self, inside: str) -> str:
        return Linear(f"abs({inside})")

    def floor(self, inside: str) -> str:
        return Linear(f"floor({inside})")

    def ceil(self, inside: str) -> str:
        return Linear(f"ceil({inside})")

    def call(self, function: str, arguments: Sequence[str]) -> str:
        return Linear(f"{visible(function)}({', '.join(arguments)})")

    def rel(self, left: str, rest: Sequence[tuple[str, str]]) -> str:
        sides = [f"({side})" if _rank(side) == _RELATION else side for _, side in rest]
        parts = "".join(f" {sign} {side}" for (sign, _), side in zip(rest, sides, strict=True))
        lead = f"({left})" if _rank(left) == _RELATION else left
        return Linear((lead + parts).strip(), _RELATION)

    def and_(self, items: Sequence[str]) -> str:
        return Linear(" and ".join(_bracketed(item, at_most=_RELATION) for item in items), _WORDS)

    def or_(self, items: Sequence[str]) -> str:
        return Linear(" or ".join(_bracketed(item, at_most=_RELATION) for item in items), _WORDS)

    def not_(self, inside: str) -> str:
        return Linear(f"not {_bracketed(inside, at_most=_ATOM)}", _WORDS)

    def cases(self, rows: Sequence[tuple[str, str | None, str | None]]) -> str:
        lines = []
        for value, condition, label in rows:
            said = "" if label is None else f" ({label})"
            when = "otherwise" if condition is None else f"if {condition}"
            lines.append(f"{value} {when}{said}")
        return Linear("{" + "; ".join(lines) + "}")

    def row(self, items: Sequence[str]) -> str:
        if len(items) == 1:
            return items[0]
        line = ""
        for item in items:
            piece = item.strip()
            joined = not line or not piece or piece[0] in ",;:)" or line[-1] == "("
            line += piece if joined else f" {piece}"
        return Linear(line, _WORDS)

    def box(self, inside: str) -> str:
        return inside

    def sub(self, base: str, lower: str) -> str:
        return Linear(f"{base}_{lower}" if lower.isalnum() else f"{base}_{{{lower}}}")

    def subsup(self, base: str, lower: str, upper: str) -> str:
        return self.pow(self.sub(base, lower), upper)

    def sum(self, lower: str | None, upper: str | None, body: str) -> str:
        bounds = "" if lower is None else f"[{lower}" + ("]" if upper is None else f" to {upper}]")
        return Linear(f"sum{bounds} {_bracketed(body, at_most=_PRODUCT)}", _PRODUCT)

    def accent(self, mark: str, base: str) -> str:
        return Linear(f"{base}-{mark}", _ATOM)
