"""What each block shows in the three zones, the same for every printed form."""

from __future__ import annotations

import math
from typing import NamedTuple

from stepcalc.print.lines import Line, equation, line
from stepcalc.print.widths import width
from stepcalc.render import blocks as b
from stepcalc.render.characters import printable

SAFETY = "For review by a licensed engineer; the governing code and the owner's rules come first."
LONG_BLOCK = 1_500  # characters of text beyond which a block may run over a page


class Remark(NamedTuple):
    """A line under the work: a word that says what it is, words, and perhaps formulas.

    ``kind`` is ``units``, ``case``, ``range``, ``outside``, ``from``, ``method``, ``warning`` or
    ``stale``; the last two and ``outside`` are set so that nobody overlooks them.
    """

    kind: str
    label: str
    words: str = ""
    formulas: tuple[Line, ...] = ()


class Sides(NamedTuple):
    """The lines of the work zone, and the line of the result zone."""

    work: tuple[Line, ...]
    result: Line | None


Worked = b.Step | b.Computed | b.Lookup


def sides(block: Worked | b.Check | b.Given) -> Sides:
    """Return the formulas of a block, one line for each side of the chain."""
    if isinstance(block, b.Given):
        return Sides((equation(block.symbol, block.value),), None)
    if isinstance(block, b.Check):
        work = [line(block.formula)]
        if block.substitution is not None:
            work.append(line(block.substitution))
        return Sides(tuple(work), None)
    if isinstance(block, b.Lookup) or block.formula is None:
        work = [line(block.symbol)]
    else:
        work = [equation(block.symbol, block.formula)]
    if not isinstance(block, b.Lookup) and block.substitution is not None:
        work.append(line(block.substitution, "="))
    return Sides(tuple(work), line(block.result))


def remarks(block: Worked | b.Check | b.Given) -> list[Remark]:
    """Return what is said under the formulas of a block."""
    found: list[Remark] = []
    if isinstance(block, (b.Step, b.Computed)):
        found += _of_step(block)
    if isinstance(block, b.Lookup):
        found.append(Remark("from", "From", f"{block.table}, row {block.row}, {block.column}"))
    if isinstance(block, b.Given) and block.assumed:
        found.append(Remark("from", "Assumed", block.assumed))
    if isinstance(block, b.Given) and block.choices:
        found.append(Remark("from", "Choices", block.choices))
    if isinstance(block, (b.Step, b.Computed, b.Check)) and block.undefined:
        found.append(Remark("warning", "Undefined", block.undefined))
    found += map(_warning, block.warnings)
    if block.stale:
        words = "made before something it depends on was changed; run the sheet again"
        found.append(Remark("stale", "STALE", words))
    return found


def _warning(text: str) -> Remark:
    """Return a warning, or the mark of a line that a comparison found changed."""
    if text.startswith("changed since "):
        return Remark("warning", "Changed", text.removeprefix("changed "))
    return Remark("warning", "Warning", text)


def _of_step(block: b.Step | b.Computed) -> list[Remark]:
    found: list[Remark] = []
    if isinstance(block, b.Computed) and block.method:
        found.append(Remark("method", "Method", block.method))
    if block.units is not None:
        found.append(Remark("units", "Units", "", (line(block.units),)))
    if block.branch or block.condition is not None:
        condition = () if block.condition is None else (line(block.condition),)
        words = block.branch + (", since" if block.branch and condition else "")
        found.append(Remark("case", "Case", words, condition))
    kept = tuple(line(validity.condition) for validity in block.valid if validity.ok)
    if kept:
        found.append(Remark("range", "In range", "", kept))
    for validity in block.valid:
        if not validity.ok:
            found.append(Remark("outside", "OUTSIDE RANGE", "", (line(validity.condition),)))
    found += [Remark("from", "From", text) for text in block.origin]
    return found


def kind(block: b.Block) -> str:
    """Return the kind of a block, ``Step`` for example."""
    return type(block).__name__


def column_lengths(block: b.Table | b.Lookup) -> list[int]:
    """Return about how many letters wide each column of a table is."""
    rows = block.rows if isinstance(block, b.Table) else block.neighbours
    lengths = [len(printable(header)) for header in block.header]
    for row in rows:
        for place, cell in enumerate(row):
            lengths[place] = max(lengths[place], _length(cell))
    return lengths


def _length(cell: b.Cell) -> int:
    if isinstance(cell, list) and cell[0] != "text":
        return math.ceil(2 * width(cell))
    return len(printable(cell[1] if isinstance(cell, list) else cell))


def is_long(block: b.Block) -> bool:
    """Tell whether a block might not fit a page, so that it must be allowed to break."""
    size = 0
    for name in getattr(block, "__slots__", ()):
        value = () if name == "proof" else getattr(block, name)  # a proof is set by itself
        if isinstance(value, str):
            size += len(value)
        elif isinstance(value, tuple):
            size += sum(len(item) + 80 if isinstance(item, str) else 120 for item in value)
    return size > LONG_BLOCK


def last_summary(sheet: b.SheetPages) -> tuple[b.SummaryRow, ...]:
    """Return the summary of a sheet's checks when no conclusion prints it."""
    if any(isinstance(block, b.Conclusion) for block in sheet.blocks):
        return ()
    return sheet.summary


def missing_checks(sheet: b.SheetPages) -> list[str]:
    """Return the checks of a sheet that its summary does not name; none may be hidden."""
    summaries = [x.summary for x in sheet.blocks if isinstance(x, b.Conclusion)] or [sheet.summary]
    named = {row.name for summary in summaries for row in summary}
    return [x.name for x in sheet.blocks if isinstance(x, b.Check) and x.name not in named]
