"""What a student's paper must not hold: the numbers of the solution, however they are spelled."""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any

from stepcalc.classroom.bands import by_hand
from stepcalc.print.prepared import every_block
from stepcalc.render import blocks as b
from stepcalc.render.dialects import dialect, replay
from stepcalc.render.sheet_blocks import table_cell
from stepcalc.sheet.entries import Part, TableEntry
from stepcalc.units.numbers import shown_text

__all__ = ["LINE", "Secret", "key_numbers", "secret_of"]

LINE = "________"
_TEXT = dialect("text")
_NUMBER = re.compile(r"\d[\d,]*(?:\.\d+)?(?:e-?\d+)?")
_MATH = re.compile(r"(\$\$.*?\$\$|\$[^$\n]+\$)", re.DOTALL)
_SHORTEST = 3  # digits from which a number can be told from a count or a number of a clause


@dataclass(frozen=True, slots=True)
class Secret:
    """Numbers and words of a solution.

    ``cells`` are the cells of tables that show a result, as JSON; None where that is not known.
    """

    numbers: frozenset[str]
    words: tuple[str, ...] = ()
    cells: frozenset[str] | None = None
    known: frozenset[str] = frozenset()

    def redacted(self, text: str) -> str:
        """Return a text without the secret numbers and words."""
        return self._without(text, LINE)

    def redacted_markdown(self, text: str) -> str:
        """Return Markdown without them; in mathematics a line is a text of its own."""
        pieces = _MATH.split(text)
        return "".join(
            self._without(piece, rf"\text{{{LINE}}}" if at % 2 else LINE)
            for at, piece in enumerate(pieces)
        )

    def _without(self, text: str, line: str) -> str:
        for word in self.words:
            text = text.replace(word, line)
        return _NUMBER.sub(lambda found: line if self.tells(found[0]) else found[0], text)

    def tells(self, number: str) -> bool:
        """Say whether a spelling of a number gives a result away."""
        return number in self.numbers or number.replace(",", "") in self.numbers

    def holds(self, text: str) -> bool:
        """Say whether a text gives a result away."""
        return any(self.tells(found) for found in _NUMBER.findall(text)) or any(
            word in text for word in self.words
        )

    def hides(self, cell: Any) -> bool:
        """Say whether a cell of a table is a result."""
        if isinstance(cell, str):
            return self.tells(cell)
        if self.cells is not None:
            return json.dumps(cell) in self.cells
        return cell[0] != "text" and json.dumps(cell) not in self.known


def secret_of(
    document: b.Document, sheets: Sequence[Any] = (), student_fills: Iterable[str] = ()
) -> Secret:
    """Return what a handout of a document must not say.

    Parameters
    ----------
    document : Document
    sheets : sequence of Sheet
        Those that the document shows, when they are at hand: then no spelling of a result is
        missed.
    student_fills : iterable of str
        Names of givens that the student chooses.
    """
    fills = set(student_fills)
    known, numbers, words, values = set(), set(), [], set()
    for block in (block for pages in document.sheets for block in every_block(pages.blocks)):
        if isinstance(block, b.Given):
            shown = str(replay(block.value, _TEXT))
            if block.name not in fills:
                known |= set(_NUMBER.findall(shown))
                values.add(json.dumps(block.value))
            elif block.value[0] == "text":
                words.append(shown)
            else:
                numbers |= set(_NUMBER.findall(shown)[:1])
        elif isinstance(block, (b.Step, b.Computed, b.Lookup)):
            for found in _NUMBER.findall(str(replay(block.result, _TEXT)))[:1]:
                numbers |= _spellings(found)
        elif isinstance(block, b.Check):
            numbers.add(block.ratio)
            if block.substitution is not None:
                numbers |= set(_NUMBER.findall(str(replay(block.substitution, _TEXT))))
    numbers = {n.replace(",", "") for n in numbers} | numbers
    for sheet in sheets:
        numbers |= key_numbers(sheet)
    told = frozenset(n for n in numbers - known if _digits(n) >= _SHORTEST)
    cells = frozenset(_result_cells(sheets)) if sheets else None
    return Secret(told, tuple(words), cells, frozenset(values))


def _spellings(number: str) -> set[str]:
    value = float(number.replace(",", ""))
    return {number, *(shown_text(value, digits) for digits in range(2, 5))}


def _result_cells(sheets: Sequence[Any]) -> Iterable[str]:
    for sheet in sheets:
        for table in _tables(sheet._book.root):
            for cell in (cell for row in table.rows for cell in row):
                if hasattr(cell, "sheet") and cell.entry.kind != "given":
                    yield json.dumps(table_cell(sheet, cell))


def _tables(part: Part) -> Iterable[TableEntry]:
    for block in part.blocks:
        if isinstance(block, Part):
            yield from _tables(block)
        elif isinstance(block, TableEntry):
            yield block


def key_numbers(sheet: Any) -> frozenset[str]:
    """Return every number of the solution as it may be spelled; those of the givens are none.

    A result is listed with two to seven significant digits, in full and by hand, where the
    spelling has at least three digits.
    """
    known = {node.shown for node in sheet.givens}
    found = set()
    for state in (sheet, by_hand(sheet)):
        numbers = [(node.number, node.shown) for node in state.steps if node.defined]
        numbers += [(check.ratio, check.shown_ratio) for check in state.checks if check.defined]
        for check in state.checks:
            sides = [side for side in (check.demand, check.capacity) if side is not None]
            numbers += [(float(side.magnitude), "") for side in sides]
        for number, shown in numbers:
            spelled = {shown.lstrip("-"), *(shown_text(abs(number), n) for n in range(2, 8))}
            found |= spelled | {text.replace(",", "") for text in spelled}
    return frozenset(text for text in found - known if _digits(text) >= _SHORTEST)


def _digits(text: str) -> int:
    return len(re.sub(r"\D", "", text.partition("e")[0]).lstrip("0"))
