"""Formulas cut into the pieces at which a long line may break.

A line breaks first at its relations (``=``, ``≤``), then before the signs of its top-level sum. A
single piece that is still wider than the page is spelled on one level, fractions as
``( ... )/( ... )``, and breaks between its factors. Which of these is needed is found by
measuring in the printed form itself, unless the bound of :mod:`stepcalc.print.widths` already
says that the line fits.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import lru_cache
from typing import NamedTuple

from stepcalc.print.widths import width
from stepcalc.render.characters import printable
from stepcalc.render.dialects import Dialect, Layout, Speech, Typst, break_at_terms, replay
from stepcalc.render.dialects.typst import quoted
from stepcalc.render.formula_layout import NEW_ROW
from stepcalc.render.symbols import GREEK, Run, split_symbol

LONG_PIECE = 28.0  # ems: what is no wider fits the work zone of every form

_SPEECH = Speech()


class Part(NamedTuple):
    """What a piece falls into; ``anew`` says that it begins a line of its own."""

    layout: Layout
    anew: bool = False


class Piece(NamedTuple):
    """A piece of a line, and what it falls into if it does not fit (empty: it stays whole)."""

    layout: Layout
    parts: tuple[Part, ...] = ()


class Line(NamedTuple):
    """One side of a chain of equations: its words, its pieces, and a bound on its width in ems."""

    alt: str
    layout: Layout
    pieces: tuple[Piece, ...]
    width: float


def spoken(layout: Layout) -> str:
    """Return a formula in words; one that shows nothing is said to be blank."""
    return str(replay(layout, _SPEECH)).strip() or "blank"


def finest(layout: Layout, room: float) -> list[Layout]:
    """Return a formula for running text or a table: whole if it fits, else in parts that do."""
    return _linear(layout, room)


def cell_rows(layout: Layout, room: float) -> list[list[Layout]]:
    """Return the parts of a formula in a cell, row by row.

    Rows begin where the layout says so, and at each branch of cases that do not fit.
    """
    items = layout[1] if layout[0] == "row" else [layout]
    if NEW_ROW not in items and width(layout) <= room:
        return [[layout]]
    rows: list[list[Layout]] = []
    plain: list[Layout] = []
    for item in items:
        branches = item[1] if item[0] == "cases" and width(item) > room else []
        if branches or item == NEW_ROW:
            rows.append(_row(plain, room))
            rows += [_branch(branch, room) for branch in branches]
            plain = []
        else:
            plain.append(item)
    return [row for row in [*rows, _row(plain, room)] if row]


def line(layout: Layout, lead: str = "", *, alt: str = "") -> Line:
    """Return a formula as a line.

    Parameters
    ----------
    layout : list
    lead : str
        A sign such as ``=`` that begins the line.
    alt : str
        Its words; made from the layout if empty.
    """
    whole = _led(lead, layout)
    wide = width(whole)
    pieces = (Piece(whole),) if wide <= LONG_PIECE else tuple(map(_piece, _pieces(layout, lead)))
    return Line(alt or spoken(whole), whole, pieces, wide)


def cut(layout: Layout) -> tuple[Piece, ...]:
    """Return the pieces of a line at its relations and signs, however short it is."""
    if layout[0] == "row" and len(layout[1]) == 2 and layout[1][0][0] == "op":
        (_, lead), whole = layout[1]
        return tuple(map(_piece, _pieces(whole, lead)))
    return tuple(map(_piece, _pieces(layout)))


def equation(left: Layout, right: Layout, sign: str = "=") -> Line:
    """Return ``left = right`` as a line."""
    return line(["rel", left, [[sign, right]]])


def _led(lead: str, layout: Layout) -> Layout:
    return ["row", [["op", lead], layout]] if lead else layout


def _pieces(layout: Layout, lead: str = "") -> list[Layout]:
    if layout[0] == "rel":
        found = _pieces(layout[1], lead)
        for sign, right in layout[2]:
            found.extend(_pieces(right, sign))
        return found
    terms = break_at_terms(layout)
    return [_led(lead, terms[0]), *terms[1:]]


def _piece(layout: Layout) -> Piece:
    if width(layout) <= LONG_PIECE:
        return Piece(layout)
    cases = _cases_of(layout)
    if cases is None:
        parts = [Part(part) for part in _linear(layout, LONG_PIECE)]
    else:
        parts = _by_branches(*cases, LONG_PIECE)
    return Piece(layout, tuple(parts) if len(parts) > 1 else ())


def _cases_of(layout: Layout) -> tuple[Layout | None, Layout] | None:
    """Return the sign and the cases if a piece is cases, perhaps after a sign."""
    if layout[0] == "cases":
        return None, layout
    if layout[0] == "row" and len(layout[1]) == 2 and layout[1][1][0] == "cases":
        return layout[1][0], layout[1][1]
    return None


def _by_branches(lead: Layout | None, cases: Layout, room: float) -> list[Part]:
    """Begin each branch of cases on a line of its own."""
    parts = [] if lead is None else [Part(lead)]
    for value, condition, label in cases[1]:
        first, *rest = _linear(value, room)
        parts.append(Part(first, anew=True))
        parts += [Part(part) for part in rest]
        parts += [Part(part) for part in _said(condition, label, room)]
    return parts


def _linear(layout: Layout, room: float) -> list[Layout]:
    """Spell a wide formula on one level, in pieces that can stand on lines of their own."""
    kind = layout[0]
    if width(layout) <= room:
        return [layout]
    if kind == "text":
        return [["text", words] for words in _in_lengths(layout[1], room)]
    if kind == "row":
        return _row(layout[1], room)
    if kind == "mul":
        factors = [item for item in layout[1] if item != ["op", "·"]]
        return [part for item in factors for part in _spaced(_linear(item, room))]
    if kind == "add":
        return [part for sign, term in layout[1] for part in _signed(sign, _linear(term, room))]
    if kind == "rel":
        return [part for piece in _pieces(layout) for part in _linear(piece, room)]
    if kind in ("group", "box"):
        return _bracketed(_linear(layout[1], room))
    if kind == "sqrt":
        return _bracketed(_linear(layout[1], room), ["op", "√"])
    if kind == "frac":
        return [
            *_bracketed(_linear(layout[1], room)),
            *_bracketed(_linear(layout[2], room), ["op", "/"]),
        ]
    if kind == "call":
        return _call(layout, room)
    if kind in ("and", "or"):
        return _joined(layout[1], kind, room)
    if kind == "cases":
        return [part for branch in layout[1] for part in _branch(branch, room)]
    if kind == "not":
        inside = layout[1] if layout[1][0] == "group" else ["group", layout[1]]
        first, *rest = _linear(inside, room)
        return [["row", [["text", "not"], ["op", " "], first]], *rest]
    if kind == "pow":
        *rest, last = _linear(layout[1], room)
        return [*rest, ["pow", last, layout[2]]]
    return [layout]


def _row(items: list[Layout], room: float) -> list[Layout]:
    """Return the parts of a row; a sign stays with what follows it, a comma with what it ends."""
    parts: list[Layout] = []
    signs: list[Layout] = []
    for item in items:
        if item[0] == "op":
            signs.append(item)
            continue
        if item[0] == "text" and item[1][:1] in (",", ";") and parts and not signs:
            parts[-1] = ["row", [parts[-1], item]]
            continue
        first, *rest = _linear(item, room)
        parts += [["row", [*signs, first]] if signs else first, *rest]
        signs = []
    return [*parts, *signs]


def _signed(sign: str, parts: list[Layout]) -> list[Layout]:
    first, *rest = parts
    return [["row", [["op", sign], first]] if sign else first, *rest]


def _spaced(parts: list[Layout]) -> list[Layout]:
    return [*parts[:-1], ["row", [parts[-1], ["op", " "]]]]


def _bracketed(parts: list[Layout], before: Layout | None = None) -> list[Layout]:
    """Put brackets around parts that may come to stand on different lines."""
    opening = [["op", "("], parts[0]] if before is None else [before, ["op", "("], parts[0]]
    inner = [["row", opening], *parts[1:]]
    return [*inner[:-1], ["row", [inner[-1], ["op", ")"]]]]


def _call(layout: Layout, room: float) -> list[Layout]:
    """Spell ``min(a, b)`` so that it may break after each argument."""
    parts: list[Layout] = []
    for argument in layout[2]:
        inner = _linear(argument, room)
        parts.extend([*inner[:-1], ["row", [inner[-1], ["op", ","]]]])
    if not parts:
        return [layout]
    parts[-1] = parts[-1][1][0]  # no comma after the last
    return _bracketed(parts, ["text", layout[1]])


def _joined(items: list[Layout], word: str, room: float) -> list[Layout]:
    parts: list[Layout] = []
    for place, item in enumerate(items):
        inner = _linear(item, room)
        if place:
            inner[0] = ["row", [["op", " "], ["text", word], ["op", " "], inner[0]]]
        parts.extend(inner)
    return parts


def _branch(branch: list[Layout], room: float) -> list[Layout]:
    value, condition, label = branch
    return [*_linear(value, room), *_said(condition, label, room)]


def _said(condition: Layout | None, label: Layout | None, room: float) -> list[Layout]:
    """Return when a branch holds, and what it is called."""
    wide: Layout = ["op", "  "]
    if condition is None:
        parts: list[Layout] = [["row", [wide, ["text", "otherwise"]]]]
    else:
        first, *rest = _linear(condition, room)
        parts = [["row", [wide, ["text", "if"], ["op", " "], first]], *rest]
    if label is not None:
        parts += _named(label, room)
    return parts


def _named(label: Layout, room: float) -> list[Layout]:
    """Return the label of a branch in brackets, in lengths if it is longer than the room."""
    whole: Layout = ["row", [["op", "  "], ["group", label]]]
    if label[0] != "text" or width(whole) <= room:
        return [whole]
    first, *rest = _in_lengths(f"({label[1]})", room - 1.0)
    return [["row", [["op", "  "], ["text", first]]], *(["text", words] for words in rest)]


def _in_lengths(text: str, room: float) -> list[str]:
    """Cut words into pieces no wider than the room, at spaces where there are any."""
    longest = max(int(min(room, LONG_PIECE)), 6)  # letters: few are wider than an em
    pieces: list[str] = []
    current = ""
    for word in text.split(" "):
        for start in range(0, max(len(word), 1), longest):
            bit = word[start : start + longest]
            if current and len(current) + len(bit) + 1 > longest:
                pieces.append(current)
                current = ""
            current += (" " if current and not start else "") + bit
    pieces.append(current)
    return [f"{piece} " for piece in pieces[:-1]] + pieces[-1:]


class SheetTypst(Typst):
    """Typst math that names, by their numbers, characters that the print fonts lack."""

    name = "typst-sheet"

    def sym(self, spelling: str) -> str:
        """Return a symbol."""
        return _sym(printable(spelling))

    def num(self, number: str) -> str:
        """Return a number."""
        return super().num(printable(number))

    def unit(self, unit: str) -> str:
        """Return a unit."""
        return super().unit(printable(unit))

    def text(self, text: str) -> str:
        """Return words."""
        return super().text(printable(text))

    def op(self, sign: str) -> str:
        """Return a sign."""
        return _BRACKETS.get(sign) or super().op(printable(sign))

    def frac(self, over: str, under: str) -> str:
        """Return a fraction whose parts keep their size, however deep it is nested."""
        return f"frac(display({over}), display({under}))"

    def pow(self, base: str, exponent: str) -> str:
        """Return a power; a fraction in an exponent is as small as the exponent."""
        return super().pow(base, _raised(exponent))

    def sub(self, base: str, lower: str) -> str:
        """Return a subscript."""
        return super().sub(base, _raised(lower))

    def subsup(self, base: str, lower: str, upper: str) -> str:
        """Return a subscript with a superscript."""
        return super().subsup(base, _raised(lower), _raised(upper))

    def cases(self, rows: Sequence[tuple[str, str | None, str | None]]) -> str:
        """Return cases; the brackets around a label are signs, not words."""
        lines = []
        for value, condition, label in rows:
            when = '"otherwise"' if condition is None else f'"if" space {condition}'
            said = "" if label is None else rf" quad \({label}\)"
            lines.append(f"display({value}) quad & {when}{said}")
        return f"cases(gap: #0.8em, {', '.join(lines)})"

    def call(self, function: str, arguments: Sequence[str]) -> str:
        """Return a function with its arguments."""
        return super().call(printable(function), arguments)


# As signs of their own: inside quotes they would be set as words, with room around them.
_BRACKETS = {"(": r"\(", ")": r"\)", "/": r"\/", ",": r"\,", "√": '"√"'}


_QUOTED_OR_DISPLAY = re.compile(r'"(?:[^"\\]|\\.)*"|display\(')


def _raised(fragment: str) -> str:
    """Return a fragment for a script; what stands in quotes is left alone."""
    if "display(" not in fragment:
        return fragment
    return _QUOTED_OR_DISPLAY.sub(lambda found: _scripted(found.group()), fragment)


def _scripted(piece: str) -> str:
    return "script(" if piece == "display(" else piece


@lru_cache(maxsize=8192)
def _sym(spelling: str) -> str:
    base, primes, sub = split_symbol(spelling)
    head = _runs(base)
    if not primes and not sub:
        return head
    upper = f", tr: {'prime ' * primes}".rstrip() if primes else ""
    lower = f", br: {_runs(sub)}" if sub else ""
    return f"attach({head}{upper}{lower})"


def _runs(runs: tuple[Run, ...]) -> str:
    """Return the runs of a symbol; white space beside quoted words would show."""
    spelled = ""
    for kind, text in runs:
        plain = kind in ("letter", "greek")
        piece = (GREEK[text] if kind == "greek" else text) if plain else quoted(text)
        spelled += " " + piece if plain and spelled[-1:] not in ("", '"') else piece
    return spelled


TYPST: Dialect[str] = SheetTypst()
