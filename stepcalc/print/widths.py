"""How wide a formula is at most, so that most need not be measured by the typesetter.

Measuring costs more than setting. The bound here is never less than the truth (a test compares
it with the typesetter's own measure), so a formula that it lets through does fit.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from functools import lru_cache
from typing import TYPE_CHECKING, Any

from stepcalc.render.characters import printable
from stepcalc.render.symbols import GREEK, Run, split_symbol
from stepcalc.render.unit_spelling import split_unit

if TYPE_CHECKING:
    from stepcalc.render.dialects import Layout

# Advance widths in the math and text fonts of the print forms, in ems, rounded up; upright and
# slanted letters share one table, which holds the wider of the two.
_BY_WIDTH = {
    0.30: "!',.:;il[]| ", 0.42: "()frjtI-_\"", 0.56: "0123456789/$*?esczbpqvyagokLhnxdu`^~\\{}",
    0.65: "γβζτνυϕμπ", 0.80: "ABCDEFGJKOPQRSTUVXYZ&#%+<=>@wαωψφσ≤≥±≈≠×−", 0.92: "mHNKD",
    1.08: "MW…",
}  # fmt: skip
_WIDTH = {letter: width for width, letters in _BY_WIDTH.items() for letter in letters}
_WORD = re.compile(r"\S+")
_ANY = 1.1
_SCRIPT = 0.74  # of the size of what carries it; the smallest letters are no smaller
_THIN = 0.17
_AROUND = 0.46  # room on both sides of a binary sign
_RELATION = 0.58
_BRACKET = 0.42
_TALL_BRACKET = 0.85


def words_width(text: str) -> float:
    """Return a bound on the width of words, in ems."""
    return sum([_WIDTH.get(letter, _ANY) for letter in printable(text)])


@lru_cache(maxsize=16_384)
def breakable(text: str, room: float = 20.0) -> str:
    """Return a text in which words wider than the room, in ems, may break anywhere.

    A zero-width space stands at each place where they may; other words come back unchanged.
    """
    if 1.1 * len(text) <= room:
        return text
    return _WORD.sub(lambda found: _broken(found.group(), room), text)


def _broken(word: str, room: float) -> str:
    if words_width(word) <= room:
        return word
    pieces: list[str] = []
    wide = room
    for letter in word:
        size = words_width(letter)
        if wide + size > max(room / 3, 1.1):
            pieces.append("")
            wide = 0.0
        pieces[-1] += letter
        wide += size
    return "\u200b".join(pieces)


def width(layout: Layout) -> float:
    """Return a bound on the width of a formula in display style.

    Parameters
    ----------
    layout : list

    Returns
    -------
    float
        In ems of the text size.
    """
    return _KINDS[layout[0]](layout)


def is_tall(layout: Layout) -> bool:
    """Tell whether brackets around a formula grow."""
    if layout[0] in ("frac", "sqrt", "root", "cases", "sum", "pow", "floor", "ceil", "abs"):
        return True
    return any(_tall_inside(part) for part in layout[1:])


def _tall_inside(part: Any) -> bool:
    if not isinstance(part, list) or not part:
        return False
    if isinstance(part[0], str) and part[0] in _KINDS and len(part) > 1:
        return is_tall(part)
    return any(map(_tall_inside, part))


def _runs(runs: tuple[Run, ...]) -> float:
    return sum(
        _WIDTH.get(GREEK[text], 0.84) if kind == "greek" else words_width(text) + 0.1
        for kind, text in runs
    )


def _sym(layout: Layout) -> float:
    base, primes, sub = split_symbol(printable(layout[1]))
    return _runs(base) + max(_SCRIPT * _runs(sub), 0.3 * primes) + 0.1


def _num(layout: Layout) -> float:
    return _number(layout[1])


def _number(text: str) -> float:
    wide = words_width(text) + (0.5 if text[:1] in "-−" else 0.0)
    return wide + 2.5 if "e" in text else wide


def _unit_width(text: str) -> float:
    factors = split_unit(text)
    if factors is None:
        return words_width(text) + 0.1
    return 0.3 + sum(
        words_width(joint + name) + _SCRIPT * words_width(exponent) + 0.1
        for joint, name, exponent in factors
    )


def _mul(layout: Layout) -> float:
    return sum([width(item) + _THIN for item in layout[1]])


def _add(layout: Layout) -> float:
    return sum([width(term) + (0.8 + _AROUND if sign else 0.0) for sign, term in layout[1]])


def _rel(layout: Layout) -> float:
    return width(layout[1]) + sum([width(right) + 0.8 + _RELATION for _, right in layout[2]])


def _row(layout: Layout) -> float:
    return sum([width(item) + 0.3 for item in layout[1]])


def _group(layout: Layout) -> float:
    return width(layout[1]) + 2 * (_TALL_BRACKET if is_tall(layout[1]) else _BRACKET)


def _call(layout: Layout) -> float:
    inside = sum([width(item) + 0.6 for item in layout[2]])
    return words_width(layout[1]) + 0.4 + 2 * _TALL_BRACKET + inside


def _joined(layout: Layout) -> float:
    return sum([width(item) + 2.6 for item in layout[1]])


def _scripts(layout: Layout) -> float:
    return width(layout[1]) + _SCRIPT * max(width(part) for part in layout[2:]) + 0.15


def _op(layout: Layout) -> float:
    return words_width(layout[1]) + max(_RELATION, 0.5 * len(layout[1])) + 0.4


def _cases(layout: Layout) -> float:
    """Return brace, widest value, and widest condition with its label."""
    said = [
        (2.2 if condition is None else width(condition) + 0.3)
        + 2.0
        + (0.0 if label is None else width(label) + 2.4)
        for _, condition, label in layout[1]
    ]
    return 2.6 + max(width(value) for value, _, _ in layout[1]) + max(said) if said else 1.5


def _sum(layout: Layout) -> float:
    bounds = [_SCRIPT * width(part) for part in layout[1:3] if part is not None]
    return max([1.6, *bounds]) + width(layout[3]) + 0.6


_KINDS: dict[str, Callable[[Layout], float]] = {
    "sym": _sym, "num": _num, "unit": lambda x: _unit_width(x[1]),
    "qty": lambda x: _number(x[1]) + _THIN + _unit_width(x[2]),
    "text": lambda x: words_width(x[1]) + 0.1, "op": _op, "mul": _mul, "add": _add,
    "frac": lambda x: max(width(x[1]), width(x[2])) + 0.3, "pow": _scripts, "sub": _scripts,
    "subsup": _scripts, "sqrt": lambda x: width(x[1]) + 1.1,
    "root": lambda x: _SCRIPT * width(x[1]) + width(x[2]) + 1.1, "group": _group,
    "abs": lambda x: width(x[1]) + 0.8, "floor": lambda x: width(x[1]) + 1.4,
    "ceil": lambda x: width(x[1]) + 1.4, "call": _call, "rel": _rel, "row": _row,
    "and": _joined, "or": _joined, "not": lambda x: width(x[1]) + 2.6,
    "box": lambda x: width(x[1]) + 1.2, "accent": lambda x: width(x[2]) + 0.4,
    "cases": _cases, "sum": _sum,
}  # fmt: skip
