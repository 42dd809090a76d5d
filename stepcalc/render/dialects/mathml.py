# ruff: noqa: D102  # Dialect says what each method returns
"""MathML Core, for self-contained HTML files.

A fragment is a run of elements; :func:`math_element` puts it in a ``<math>``. Browsers do not
break a formula, so a page prints each part (formula, substitution, result) as its own element.
"""

from __future__ import annotations

from collections.abc import Sequence
from html import escape

from stepcalc.render.dialects.base import Dialect
from stepcalc.render.dialects.text import visible
from stepcalc.render.symbols import GREEK, Run, split_symbol
from stepcalc.render.unit_spelling import split_unit

_SPACE = '<mspace width="0.17em"/>'
_WIDE = '<mspace width="1em"/>'
_LABEL = (
    f'{_WIDE}<mo stretchy="false" lspace="0" rspace="0">(</mo>{{}}'
    '<mo stretchy="false" lspace="0" rspace="0">)</mo>'
)
_ACCENTS = {"bar": "¯", "hat": "^", "tilde": "~", "dot": "˙", "ddot": "¨", "vec": "→"}
_HEADS = {
    "asin": "<mi>arcsin</mi>", "acos": "<mi>arccos</mi>", "atan": "<mi>arctan</mi>",
    "log10": "<msub><mi>log</mi><mn>10</mn></msub>",
}  # fmt: skip
_SPACES = {" ": _SPACE, "  ": _WIDE}


def _safe(text: str) -> str:
    return escape(visible(text), quote=True)


def _upright(text: str) -> str:
    return f'<mi mathvariant="normal">{_safe(text)}</mi>'


def _operator(sign: str) -> str:
    return f"<mo>{_safe('−' if sign == '-' else sign)}</mo>"


def _narrower(fragment: str) -> str:
    """Return a part of a fraction; between bars of one length nobody sees which divides first."""
    if fragment.startswith("<mfrac") or fragment.endswith("</mfrac>"):
        return f"{_SPACE}{fragment}{_SPACE}"
    return fragment


def _one(fragment: str) -> str:
    """Return one element, as fractions and scripts need."""
    return f"<mrow>{fragment}</mrow>"


def _runs(runs: tuple[Run, ...]) -> str:
    spelled = []
    for kind, text in runs:
        if kind == "letter":
            spelled.append(f"<mi>{text}</mi>")
        elif kind == "greek":
            # capitals are upright and small letters slanted, as in the LaTeX form
            letter = GREEK[text]
            spelled.append(_upright(letter) if text[0].isupper() else f"<mi>{letter}</mi>")
        elif kind == "number":
            spelled.append(f"<mn>{text}</mn>")
        elif kind == "mark":
            spelled.append(f'<mo lspace="0" rspace="0">{text}</mo>')
        elif kind == "word" and len(text) > 1:
            spelled.append(f"<mi>{_safe(text)}</mi>")
        else:
            spelled.append(f"<mtext>{_safe(text)}</mtext>")
    return "".join(spelled) if len(spelled) == 1 else _one("".join(spelled))


class MathML(Dialect[str]):
    """MathML elements."""

    name = "mathml"

    def sym(self, spelling: str) -> str:
        base, primes, sub = split_symbol(spelling)
        head = _runs(base)
        upper = f'<mo class="prime">{"′" * primes}</mo>'
        if primes and sub:
            return f"<msubsup>{head}{_runs(sub)}{upper}</msubsup>"
        if primes:
            return f"<msup>{head}{upper}</msup>"
        return f"<msub>{head}{_runs(sub)}</msub>" if sub else head

    def num(self, number: str) -> str:
        mantissa, e, exponent = number.partition("e")
        if e and exponent.lstrip("+-").isdigit():
            power = self.num(str(int(exponent)))
            return f"{self.num(mantissa)}<mo>×</mo><msup><mn>10</mn><mrow>{power}</mrow></msup>"
        if number[:1] in ("-", "−"):
            return f'<mo form="prefix">−</mo><mn>{_safe(number[1:])}</mn>'
        return f"<mn>{_safe(number)}</mn>"

    def unit(self, unit: str) -> str:
        factors = split_unit(unit)
        if factors is None:
            return f"<mtext>{_safe(unit)}</mtext>"
        pieces: list[str] = []
        letters = "1" if factors[0].joint == "/" else ""
        for joint, name, exponent in factors:
            letters += joint + name
            if exponent:
                power = _one(self.num(exponent))
                pieces.append(f"<msup><mtext>{_safe(letters)}</mtext>{power}</msup>")
                letters = ""
        if letters:
            pieces.append(f"<mtext>{_safe(letters)}</mtext>")
        return "".join(pieces)

    def qty(self, number: str, unit: str) -> str:
        space = "" if unit in ("°", "%") else _SPACE
        return f"{self.num(number)}{space}{self.unit(unit)}"

    def text(self, text: str) -> str:
        # MathML drops spaces at the ends of a text
        shown = _safe(text)
        lead = "\N{NO-BREAK SPACE}" if shown[:1] == " " else ""
        tail = "\N{NO-BREAK SPACE}" if shown[-1:] == " " else ""
        return f"<mtext>{lead}{shown.strip()}{tail}</mtext>"

    def op(self, sign: str) -> str:
        return _SPACES.get(sign) or _operator(sign)

    def mul(self, items: Sequence[str]) -> str:
        return _SPACE.join(items).replace(f"{_SPACE}<mo>·</mo>{_SPACE}", "<mo>·</mo>")

    def add(self, terms: Sequence[tuple[str, str]]) -> str:
        line = ""
        for sign, term in terms:
            if sign and not line:
                line += f'<mo form="prefix">{"−" if sign == "-" else sign}</mo>{term}'
            else:
                line += (_operator(sign) if sign else "") + term
        return line

    def frac(self, over: str, under: str) -> str:
        return f"<mfrac>{_one(_narrower(over))}{_one(_narrower(under))}</mfrac>"

    def pow(self, base: str, exponent: str) -> str:
        return f"<msup>{_one(base)}{_one(exponent)}</msup>"

    def sqrt(self, inside: str) -> str:
        return f"<msqrt>{inside}</msqrt>"

    def root(self, degree: str, inside: str) -> str:
        return f"<mroot>{_one(inside)}{_one(degree)}</mroot>"

    def group(self, inside: str) -> str:
        return _one(f"<mo>(</mo>{inside}<mo>)</mo>")

    def abs(self, inside: str) -> str:
        bar = '<mo stretchy="true" form="{}">|</mo>'
        return _one(f"{bar.format('prefix')}{inside}{bar.format('postfix')}")

    def floor(self, inside: str) -> str:
        return _one(f"<mo>⌊</mo>{inside}<mo>⌋</mo>")

    def ceil(self, inside: str) -> str:
        return _one(f"<mo>⌈</mo>{inside}<mo>⌉</mo>")

    def call(self, function: str, arguments: Sequence[str]) -> str:
        head = _HEADS.get(function) or f"<mi>{_safe(function)}</mi>"
        return head + "<mo>\N{FUNCTION APPLICATION}</mo>" + self.group("<mo>,</mo>".join(arguments))

    def rel(self, left: str, rest: Sequence[tuple[str, str]]) -> str:
        return left + "".join([_operator(sign) + right for sign, right in rest])

    def and_(self, items: Sequence[str]) -> str:
        return self.text(" and ").join(items)

    def or_(self, items: Sequence[str]) -> str:
        return self.text(" or ").join(items)

    def not_(self, inside: str) -> str:
        return self.text("not ") + inside

    def cases(self, rows: Sequence[tuple[str, str | None, str | None]]) -> str:
        lines = []
        for value, condition, label in rows:
            when = "<mtext>otherwise</mtext>" if condition is None else self.text("if ") + condition
            said = "" if label is None else _LABEL.format(label)
            cells = (f'<mrow displaystyle="true">{value}</mrow>', when + said)
            lines.append("<mtr>" + "".join(f"<mtd>{_one(cell)}</mtd>" for cell in cells) + "</mtr>")
        return _one(f'<mo stretchy="true">{{</mo><mtable class="cases">{"".join(lines)}</mtable>')

    def row(self, items: Sequence[str]) -> str:
        return "".join(items)

    def box(self, inside: str) -> str:
        return f'<mrow class="boxed">{inside}</mrow>'

    def sub(self, base: str, lower: str) -> str:
        return f"<msub>{_one(base)}{_one(lower)}</msub>"

    def subsup(self, base: str, lower: str, upper: str) -> str:
        return f"<msubsup>{_one(base)}{_one(lower)}{_one(upper)}</msubsup>"

    def sum(self, lower: str | None, upper: str | None, body: str) -> str:
        low, high = _one(lower or ""), _one(upper or "")
        if upper is not None:
            sign = f"<munderover><mo>∑</mo>{low}{high}</munderover>"
        else:
            sign = "<mo>∑</mo>" if lower is None else f"<munder><mo>∑</mo>{low}</munder>"
        return sign + body

    def accent(self, mark: str, base: str) -> str:
        return f'<mover accent="true">{_one(base)}<mo>{_ACCENTS[mark]}</mo></mover>'


def math_element(fragment: str, alt: str = "", *, block: bool = False) -> str:
    """Return a ``<math>`` element around a fragment.

    Parameters
    ----------
    fragment : str
        What :class:`MathML` returned.
    alt : str
        The formula in words; it is escaped here.
    block : bool
        True for a formula on its own line.

    Returns
    -------
    str
    """
    display = ' display="block"' if block else ""
    # not aria-label, which would hide the parts of the formula from a screen reader
    label = f' alttext="{_safe(alt)}"' if alt else ""
    return f"<math{display}{label}><mrow>{fragment}</mrow></math>"
