# ruff: noqa: D102  # Dialect says what each method returns
r"""LaTeX: what a notebook shows and a ``.tex`` file holds.

Only commands that amsmath and the notebook's math renderers all know are used. User text goes into
``\text{}`` with nothing in it that could be a command, end the group, or look like an HTML tag.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

from stepcalc.render.characters import harmless
from stepcalc.render.dialects.base import Dialect
from stepcalc.render.symbols import GREEK, Run, split_symbol
from stepcalc.render.unit_spelling import split_unit

# Latin look-alikes have no command of their own in TeX.
_ROMAN = {
    "Alpha": "A", "Beta": "B", "Epsilon": "E", "Zeta": "Z", "Eta": "H", "Iota": "I",
    "Kappa": "K", "Mu": "M", "Nu": "N", "Omicron": "O", "Rho": "P", "Tau": "T", "Chi": "X",
}  # fmt: skip
_GREEK = {
    name: rf"\mathrm{{{_ROMAN[name]}}}" if name in _ROMAN else rf"\{name}" for name in GREEK
} | {"epsilon": r"\varepsilon", "omicron": "o"}
# Outside \text: math renderers and TeX disagree about escapes inside it, not outside.
_OUTSIDE = {
    "\\": r"\backslash", "{": r"\{", "}": r"\}", "$": r"\$", "%": r"\%", "&": r"\&", "#": r"\#",
    "_": r"\_", "^": r"{\wedge}", "~": r"{\sim}", "<": "{<}", ">": "{>}", "·": r"{\cdot}",
    "×": r"{\times}", "≤": r"{\le}", "≥": r"{\ge}", "≠": r"{\ne}", "≈": r"{\approx}",
    "±": r"{\pm}", "°": r"{}^{\circ}", "−": "{-}", "√": r"{\surd}", "∞": r"\infty",
    "→": r"{\to}", "…": r"\ldots", "\u00a0": r"\ ",
}  # fmt: skip
_OUTSIDE |= {letter: _GREEK[name] for name, letter in GREEK.items()} | {"φ": r"\phi"}
_PLAIN_TEXT = {"`": "'", '"': "''", "\n": " ", "\r": " ", "\t": " ", "’": "'", "–": "-", "—": "-"}
_OPERATORS = {
    "·": r"\cdot", "×": r"\times", "+": "+", "-": "-", "−": "-", "±": r"\pm", "=": "=",
    "<": "<", ">": ">", "≤": r"\le", "≥": r"\ge", "≠": r"\ne", "≈": r"\approx", "→": r"\to",
    "⇒": r"\Rightarrow", "∞": r"\infty", "∂": r"\partial", "∫": r"\int", "∑": r"\sum",
    "…": r"\dots", ",": ",", ";": ";", ":": ":", "/": "/", "!": "!", "(": "(", ")": ")",
    "[": "[", "]": "]", "|": "|", "∝": r"\propto", "≡": r"\equiv", " ": r"\ ", "  ": r"\quad ",
    "∈": r"\in", "%": r"\%", "°": r"{}^{\circ}", "∴": r"\therefore", "∓": r"\mp", "{": r"\{",
    "}": r"\}", "'": "{}'", "''": "{}''", "⌊": r"\lfloor ", "⌋": r"\rfloor ", "⌈": r"\lceil ",
    "⌉": r"\rceil ", "*": "*", "∏": r"\prod", "≪": r"\ll", "≫": r"\gg", "∼": r"\sim",
}  # fmt: skip
_JOINED_UNITS = {"°": r"^{\circ}", "%": r"\%"}
_RELATIONS = {sign: f" {_OPERATORS[sign]} " for sign in "<≤=≥>≠≈"}
_NAMED = frozenset({"min", "max", "sin", "cos", "tan", "exp", "log", "ln", "arcsin", "arccos",
                    "arctan", "sinh", "cosh", "tanh", "lim", "det"})  # fmt: skip
_HEADS = {name: rf"\{name}" for name in _NAMED} | {
    "asin": r"\arcsin", "acos": r"\arccos", "atan": r"\arctan", "log10": r"\log_{10}",
}  # fmt: skip


@lru_cache(maxsize=4096)
def text_in_math(text: str) -> str:
    r"""Return any text as LaTeX math that shows it, and does nothing else.

    Examples
    --------
    >>> print(text_in_math(r"50% of \input{x}"))
    \text{50}\%\text{ of }\backslash\text{input}\{\text{x}\}
    """
    pieces: list[str] = []
    run: list[str] = []

    def end_run() -> None:
        if run:
            pieces.append(r"\text{" + "".join(run) + "}")
            run.clear()

    for character in harmless(text):
        outside = _OUTSIDE.get(character)
        if outside is not None:
            end_run()
            pieces.append(outside)
        else:
            run.append(_PLAIN_TEXT.get(character, character))
    end_run()
    return _apart(pieces) or r"\text{}"


def _apart(pieces: list[str]) -> str:
    """Join pieces; a command that ends in a letter is kept apart from a letter after it."""
    joined = ""
    for piece in pieces:
        if joined and joined[-1].isalpha() and piece[:1].isalnum():
            joined += " "
        joined += piece
    return joined


def _runs(runs: tuple[Run, ...]) -> str:
    spelled: list[str] = []
    for kind, text in runs:
        if kind == "greek":
            spelled.append(_GREEK[text])
        elif kind == "word":
            spelled.append(rf"\mathrm{{{text}}}")
        elif kind == "raw":
            spelled.append(text_in_math(text))
        else:
            spelled.append(text)
    return _apart(spelled)


@lru_cache(maxsize=8192)
def _symbol(spelling: str) -> str:
    base, primes, sub = split_symbol(spelling)
    lower = f"_{{{_runs(sub)}}}" if sub else ""
    return _runs(base) + "'" * primes + lower


@lru_cache(maxsize=2048)
def _unit(text: str) -> str:
    factors = split_unit(text)
    if factors is None:
        return text_in_math(text)
    spelled = ""
    for joint, name, exponent in factors:
        if joint == "/" and not spelled:
            spelled = "1"
        letters = name if name.isascii() and name.isalpha() else text_in_math(name)
        spelled += r"\text{-}" if joint == "-" else joint
        spelled += f"{letters}^{{{exponent}}}" if exponent else letters
    return rf"\mathrm{{{spelled}}}"


@lru_cache(maxsize=8192)
def _number(text: str) -> str:
    if text and not text.strip("0123456789.,-"):
        return text.replace(",", "{,}")
    mantissa, e, exponent = text.partition("e")
    if not (mantissa.isascii() and mantissa[-1:].isdigit()) or not _numeric(text):
        return text_in_math(text)
    spelled = mantissa.replace(",", "{,}")
    return rf"{spelled} \times 10^{{{int(exponent)}}}" if e else spelled


def _numeric(text: str) -> bool:
    try:
        float(text.replace(",", ""))
    except ValueError:
        return False
    return "_" not in text


def _full_size(inside: str) -> str:
    """Return LaTeX whose fractions keep their size inside a fraction, exponents apart."""
    return inside.replace(r"\frac", r"\dfrac").replace(r"^{\dfrac", r"^{\frac")


class Latex(Dialect[str]):
    """LaTeX math, without the dollar signs around it."""

    name = "latex"

    def sym(self, spelling: str) -> str:
        return _symbol(spelling)

    def num(self, number: str) -> str:
        return _number(number)

    def unit(self, unit: str) -> str:
        return _unit(unit)

    def qty(self, number: str, unit: str) -> str:
        if unit in _JOINED_UNITS:
            return _number(number) + _JOINED_UNITS[unit]
        return rf"{_number(number)}\,{_unit(unit)}"

    def text(self, text: str) -> str:
        return text_in_math(text)

    def op(self, sign: str) -> str:
        return _OPERATORS.get(sign) or text_in_math(sign)

    def mul(self, items: Sequence[str]) -> str:
        return r"\,".join(items).replace(r"\,\cdot\,", r" \cdot ")

    def add(self, terms: Sequence[tuple[str, str]]) -> str:
        line = ""
        for sign, term in terms:
            if line:
                line = f"{line} {sign} {term}"
            else:
                line = f"{sign}{term}" if sign == "-" else term
        return line

    def frac(self, over: str, under: str) -> str:
        if r"\frac" in over:
            over = _full_size(over)
        if r"\frac" in under:
            under = _full_size(under)
        return rf"\frac{{{over}}}{{{under}}}"

    def pow(self, base: str, exponent: str) -> str:
        # full size, it would be larger than what it is raised over
        exponent = exponent.replace(r"\dfrac{", r"\frac{")
        if "'" in base and base[-1] != ")":
            return f"{{{base}}}^{{{exponent}}}"
        return f"{base}^{{{exponent}}}"

    def sqrt(self, inside: str) -> str:
        return rf"\sqrt{{{inside}}}"

    def root(self, degree: str, inside: str) -> str:
        return rf"\sqrt[{{{degree}}}]{{{inside}}}"

    def group(self, inside: str) -> str:
        if r"frac{" in inside or r"\begin" in inside or r"\sum" in inside:
            return rf"\left({inside}\right)"
        return f"({inside})"

    def abs(self, inside: str) -> str:
        return rf"\left|{inside}\right|"

    def floor(self, inside: str) -> str:
        return rf"\left\lfloor {inside}\right\rfloor "

    def ceil(self, inside: str) -> str:
        return rf"\left\lceil {inside}\right\rceil "

    def call(self, function: str, arguments: Sequence[str]) -> str:
        head = _HEADS.get(function) or rf"\operatorname{{{_runs_of_name(function)}}}"
        inside = r",\; ".join(arguments)
        return head + self.group(inside)

    def rel(self, left: str, rest: Sequence[tuple[str, str]]) -> str:
        return (left or "{}") + "".join([_RELATIONS[sign] + right for sign, right in rest])

    def and_(self, items: Sequence[str]) -> str:
        return r" \;\text{and}\; ".join(items)

    def or_(self, items: Sequence[str]) -> str:
        return r" \;\text{or}\; ".join(items)

    def not_(self, inside: str) -> str:
        return rf"\text{{not}}\; {inside}"

    def cases(self, rows: Sequence[tuple[str, str | None, str | None]]) -> str:
        lines = []
        for value, condition, label in rows:
            when = r"\text{otherwise}" if condition is None else rf"\text{{if }} {condition}"
            said = "" if label is None else rf"\quad ({label})"
            lines.append(rf"\displaystyle {value} & {when}{said}")
        return r"\begin{cases} " + r" \\ ".join(lines) + r" \end{cases}"

    def row(self, items: Sequence[str]) -> str:
        return " ".join(items)

    def box(self, inside: str) -> str:
        return rf"\boxed{{{inside}}}"

    def sub(self, base: str, lower: str) -> str:
        return f"{{{base}}}_{{{lower}}}"

    def subsup(self, base: str, lower: str, upper: str) -> str:
        return f"{{{base}}}_{{{lower}}}^{{{upper}}}"

    def sum(self, lower: str | None, upper: str | None, body: str) -> str:
        low = "" if lower is None else f"_{{{lower}}}"
        high = "" if upper is None else f"^{{{upper}}}"
        return rf"\sum{low}{high} {body}"

    def accent(self, mark: str, base: str) -> str:
        return rf"\{mark}{{{base}}}"


class LatexFile(Latex):
    """LaTeX for a plain TeX: characters that its fonts lack are named by their number."""

    name = "latex-file"

    def sym(self, spelling: str) -> str:
        return _typesettable(_symbol(spelling))

    def num(self, number: str) -> str:
        return _typesettable(_number(number))

    def unit(self, unit: str) -> str:
        return _typesettable(_unit(unit))

    def qty(self, number: str, unit: str) -> str:
        return _typesettable(super().qty(number, unit))

    def text(self, text: str) -> str:
        return _typesettable(text_in_math(text))

    def op(self, sign: str) -> str:
        return _typesettable(super().op(sign))

    def call(self, function: str, arguments: Sequence[str]) -> str:
        return _typesettable(super().call(function, arguments))


def _runs_of_name(function: str) -> str:
    return function if function.isascii() and function.isalpha() else text_in_math(function)


_BOXES = {"☐": r"\ensuremath{\square}"}  # to be ticked on paper


def _typesettable(fragment: str) -> str:
    """Name by number what 8-bit TeX fonts cannot set; Latin letters with accents they can."""
    if fragment.isascii():
        return fragment
    return "".join(
        c if c < "\x7f" or "À" <= c <= "ž" else _BOXES.get(c) or f"[U+{ord(c):04X}]"
        for c in fragment
    )
