"""Parts of a formula in a text, arranged as the layouts that the walker would make of them."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from stepcalc.render.dialects.vocabulary import RELATIONS
from stepcalc.render.mathtext_tokens import plain_words
from stepcalc.render.unit_spelling import split_unit

if TYPE_CHECKING:
    from stepcalc.render.dialects.base import Layout

_UNITS = frozenset(
    ("kip", "ft", "in", "lb", "ksi", "psi", "psf", "pcf", "klf", "plf", "ksf", "kcf", "yd", "mi",
     "hr", "h", "s", "mm", "cm", "m", "kN", "N", "MPa", "kPa", "ton", "mph", "rad")
)  # fmt: skip
_MERGED = re.compile(r"[A-Za-z0-9,+.]{1,24}")


def words_of(raw: str) -> Layout:
    r"""Return the content of ``\text{}``, as a unit where it is one."""
    words = plain_words(raw)
    factors = split_unit(words)
    if factors is not None and all(factor.name in _UNITS for factor in factors):
        return ["unit", words.strip()]
    return ["text", words]


def without_if(condition: Layout | None) -> Layout | None:
    """Return a condition without the ``if`` that every printer writes itself."""
    if condition is None or condition == ["row", []]:
        return None
    items = condition[1] if condition[0] == "row" else [condition]
    if items and items[0][0] == "text":
        first = items[0][1].strip()
        if first in ("otherwise", "else"):
            return None
        if first in ("if", "for", "when"):
            return arranged(items[1:])
    if condition[0] == "rel" and condition[1][0] == "row":
        return ["rel", without_if(condition[1]) or ["row", []], condition[2]]
    return condition


def _merged(lower: Layout) -> str | None:
    """Return a plain subscript as one word of a trade symbol, or None."""
    parts = lower[1] if lower[0] == "row" else [lower]
    if lower[0] == "add":
        parts = [part for sign, term in lower[1] for part in (["op", sign or ""], term)]
    text = ""
    for part in parts:
        if part[0] not in ("sym", "num", "text", "op", "unit") or not isinstance(part[1], str):
            return None
        text += part[1].strip()
    return text if _MERGED.fullmatch(text) else None


def scripted(base: Layout, primes: int, lower: Layout | None, upper: Layout | None) -> Layout:
    """Return a part with primes, subscript and exponent; a plain subscript joins its symbol."""
    if upper == ["op", "°"]:
        base, upper = ["row", [base, ["op", "°"]]], None
    if base[0] == "sym":
        base = ["sym", base[1] + "'" * primes]
        primes = 0
        word = None if lower is None else _merged(lower)
        if word is not None:
            base, lower = ["sym", f"{base[1]}_{word}"], None
    if primes:
        base = ["row", [base, ["op", "'" * primes]]]
    if lower is not None:
        return ["sub", base, lower] if upper is None else ["subsup", base, lower, upper]
    return base if upper is None else ["pow", base, upper]


def arranged(items: list[Layout]) -> Layout:
    """Return a row as a chain of relations between sums, where it is one."""
    sides: list[list[Layout]] = [[]]
    signs: list[str] = []
    for item in items:
        if item[0] == "op" and item[1] in RELATIONS:
            signs.append(item[1])
            sides.append([])
        else:
            sides[-1].append(item)
    if not signs:
        return _sum(items)
    rest = [[sign, _sum(side)] for sign, side in zip(signs, sides[1:], strict=True)]
    return ["rel", _sum(sides[0]), rest]


def _sum(items: list[Layout]) -> Layout:
    terms: list[tuple[str, list[Layout]]] = [("", [])]
    for item in items:
        sign = item[1] if item[0] == "op" else ""
        if sign in ("+", "-", "−") and (terms[-1][1] or len(terms) == 1):
            if not terms[-1][1]:
                terms.pop()
            terms.append(("+" if sign == "+" else "-", []))
        else:
            terms[-1][1].append(item)
    if len(terms) == 1 and not terms[0][0]:
        return _row(terms[0][1])
    if not all(part for _, part in terms):
        return _row(items)
    return ["add", [[sign, _row(part)] for sign, part in terms]]


def _row(items: list[Layout]) -> Layout:
    joined: list[Layout] = []
    for item in items:
        spaced = bool(joined) and joined[-1] == ["op", " "]
        before = joined[-2:-1] if spaced else joined[-1:]
        if item[0] == "unit" and before and before[0][0] == "num":
            del joined[-2 if spaced else -1 :]
            item = ["qty", before[0][1], item[1]]
        joined.append(item)
    return joined[0] if len(joined) == 1 else ["row", joined]
