# ruff: noqa: D102  # Dialect says what each method returns
"""Typst math, for the PDF printer.

Everything that is not a fixed sign of ours is written as a quoted string, which Typst cannot take
for code; arguments of functions hold no bare comma or semicolon for the same reason.
"""

from __future__ import annotations

from collections.abc import Sequence

from stepcalc.render.characters import printable
from stepcalc.render.dialects.base import Dialect
from stepcalc.render.dialects.text import visible
from stepcalc.render.symbols import GREEK, Run, split_symbol
from stepcalc.render.unit_spelling import split_unit

_OPERATORS = {
    "·": "dot.c", "×": "times", "+": "+", "-": "-", "−": "-", "±": "plus.minus", "=": "=",
    "<": "<", ">": ">", "≤": "<=", "≥": ">=", "≠": "!=", "≈": "approx", "→": "->",
    "⇒": "=>", "∞": "infinity", "∂": "partial", "∫": "integral", "∑": "sum", "…": "dots.h",
    "∝": "prop", "≡": "equiv", " ": "space", "  ": "quad", "∈": "in", "∴": "therefore",
    "∓": "minus.plus", "'": "prime", "∏": "product", "≪": "<<", "≫": ">>", "∼": "tilde.op",
}  # fmt: skip
_ACCENTS = {
    "bar": "macron", "hat": "hat", "tilde": "tilde", "dot": "dot", "ddot": "dot.double",
    "vec": "arrow",
}  # fmt: skip
_NAMED = frozenset({"min", "max", "sin", "cos", "tan", "exp", "log", "ln", "arcsin", "arccos",
                    "arctan"})  # fmt: skip
_HEADS = {name: name for name in _NAMED} | {
    "asin": "arcsin", "acos": "arccos", "atan": "arctan", "log10": 'attach(log, br: "10")',
}  # fmt: skip


def quoted(text: str) -> str:
    r"""Return a text as a Typst string: the only form in which user text may appear.

    Examples
    --------
    >>> print(quoted('a] #read("x")'))
    "a] #read(\"x\")"
    """
    safe = printable(visible(text)).replace("\\", "\\\\").replace('"', '\\"')
    return f'"{safe}"'


def _runs(runs: tuple[Run, ...]) -> str:
    spelled: list[str] = []
    words = ""
    for kind, text in runs:
        if kind in ("greek", "letter"):
            if words:
                spelled.append(quoted(words))
                words = ""
            spelled.append(GREEK[text] if kind == "greek" else text)
        else:
            words += text
    if words:
        spelled.append(quoted(words))
    return _glued(spelled)


def _narrower(fragment: str) -> str:
    """Return a part of a fraction; between bars of one length nobody sees which divides first."""
    return f"thin {fragment} thin" if fragment.startswith("frac(") else fragment


def _glued(pieces: Sequence[str], between: str = "") -> str:
    """Join pieces; a space in the source beside a quoted text would print, elsewhere it does not.

    Two names without a space between them would be one name.
    """
    line = ""
    for piece in pieces:
        before = "" if line[-1:] == '"' else " "
        after = "" if piece[:1] == '"' else " "
        if not line:
            line = piece
        elif between:
            line += before + between + after + piece
        else:
            line += (before and after) + piece
    return line


class Typst(Dialect[str]):
    """Typst math, without the dollar signs around it."""

    name = "typst"

    def sym(self, spelling: str) -> str:
        base, primes, sub = split_symbol(spelling)
        head = _runs(base)
        if not primes and not sub:
            return head
        upper = f", tr: {'prime ' * primes}".rstrip() if primes else ""
        lower = f", br: {_runs(sub)}" if sub else ""
        return f"attach({head}{upper}{lower})"

    def num(self, number: str) -> str:
        mantissa, e, exponent = number.partition("e")
        if e and exponent.lstrip("+-").isdigit():
            return f"{self.num(mantissa)} times {quoted('10')}^({self.num(str(int(exponent)))})"
        if number[:1] in ("-", "−"):
            return f"-{quoted(number[1:])}"
        return quoted(number)

    def unit(self, unit: str) -> str:
        factors = split_unit(unit)
        if factors is None:
            return quoted(unit)
        pieces: list[str] = []
        letters = "1" if factors[0].joint == "/" else ""
        for joint, name, exponent in factors:
            letters += joint + name
            if exponent:
                pieces.append(f"{quoted(letters)}^({self.num(exponent)})")
                letters = ""
        if letters:
            pieces.append(quoted(letters))
        return _glued(pieces)

    def qty(self, number: str, unit: str) -> str:
        return _glued((self.num(number), self.unit(unit)), "" if unit in ("°", "%") else "thin")

    def text(self, text: str) -> str:
        return quoted(text)

    def op(self, sign: str) -> str:
        return _OPERATORS.get(sign) or quoted(sign)

    def mul(self, items: Sequence[str]) -> str:
        factors: list[str] = []
        line: list[str] = []
        for item in items:
            if item == "dot.c":
                line += [_glued(factors, "thin"), item]
                factors = []
            else:
                factors.append(item)
        return " ".join([*line, _glued(factors, "thin")])

    def add(self, terms: Sequence[tuple[str, str]]) -> str:
        joined = " ".join([f"{sign} {term}" if sign else term for sign, term in terms])
        return "-" + joined[2:] if joined.startswith("- ") else joined

    def frac(self, over: str, under: str) -> str:
        return f"frac({_narrower(over)}, {_narrower(under)})"

    def pow(self, base: str, exponent: str) -> str:
        return f"attach({base}, t: {exponent})"

    def sqrt(self, inside: str) -> str:
        return f"sqrt({inside})"

    def root(self, degree: str, inside: str) -> str:
        return f"root({degree}, {inside})"

    def group(self, inside: str) -> str:
        return f"lr(( {inside} ))"

    def abs(self, inside: str) -> str:
        return f"abs({inside})"

    def floor(self, inside: str) -> str:
        return f"floor({inside})"

    def ceil(self, inside: str) -> str:
        return f"ceil({inside})"

    def call(self, function: str, arguments: Sequence[str]) -> str:
        head = _HEADS.get(function) or f"op({quoted(function)})"
        inside = '"," thin '.join(arguments)
        return f"{head} lr(( {inside} ))"

    def rel(self, left: str, rest: Sequence[tuple[str, str]]) -> str:
        return left + "".join([f" {_OPERATORS[sign]} {right}" for sign, right in rest])

    def and_(self, items: Sequence[str]) -> str:
        return '" and "'.join(items)

    def or_(self, items: Sequence[str]) -> str:
        return '" or "'.join(items)

    def not_(self, inside: str) -> str:
        return f'"not "{inside}'

    def cases(self, rows: Sequence[tuple[str, str | None, str | None]]) -> str:
        lines = []
        for value, condition, label in rows:
            when = '"otherwise"' if condition is None else f'"if "{condition}'
            said = "" if label is None else f' quad"("{label}")"'
            lines.append(f"display({value}) quad & {when}{said}")
        return f"cases(gap: #0.8em, {', '.join(lines)})"

    def row(self, items: Sequence[str]) -> str:
        return _glued(items)

    def box(self, inside: str) -> str:
        frame = "stroke: 0.6pt, inset: (x: 3pt), outset: (y: 3.5pt)"
        return f"#box({frame}, $display({inside})$);"

    def sub(self, base: str, lower: str) -> str:
        return f"attach({base}, b: {lower})"

    def subsup(self, base: str, lower: str, upper: str) -> str:
        return f"attach({base}, b: {lower}, t: {upper})"

    def sum(self, lower: str | None, upper: str | None, body: str) -> str:
        low = "" if lower is None else f", b: {lower}"
        high = "" if upper is None else f", t: {upper}"
        return f"attach(sum{low}{high}) {body}"

    def accent(self, mark: str, base: str) -> str:
        return f"accent({base}, {_ACCENTS[mark]})"
