"""The matrix of all checks: what was compared, how far it is from its limit, what governs."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from stepcalc.print.front.records import Cell, FrontTable, Goto, PageOf, Section, Strong
from stepcalc.render import blocks as b

if TYPE_CHECKING:
    from stepcalc.print.front.index import Index

__all__ = ["scope_words", "summary", "summary_rows"]

_HEADER = ("Step", "Check", "Where", "Reference", "Demand", "Capacity", "D/C", "Verdict", "Sheet")
_WIDTHS = (0, 1.35, 0.75, 1.05, 0, 0, 0, 0, 0)


def summary_rows(sheet: b.SheetPages) -> tuple[b.SummaryRow, ...]:
    """Return the summary of a sheet: that of its conclusion, its own, or made from its checks."""
    checks = [block for block in sheet.blocks if isinstance(block, b.Check)]
    told = [block.summary for block in sheet.blocks if isinstance(block, b.Conclusion)]
    rows = next((rows for rows in (*reversed(told), sheet.summary) if rows), ())
    named = {row.name for row in rows}
    missing = [check for check in checks if check.name not in named]
    governing = max(missing, key=_ratio, default=None) if not rows else None
    return (*rows, *(_row(check, governs=check is governing) for check in missing))


def _row(check: b.Check, *, governs: bool) -> b.SummaryRow:
    return b.SummaryRow(
        check.name, check.verdict, check.location, ratio=check.ratio, ref=check.ref, governs=governs
    )


def _ratio(check: b.Check) -> float:
    try:
        return float(check.ratio.replace(",", ""))
    except ValueError:
        return math.inf


def summary(document: b.Document, index: Index) -> Section:
    """Return the summary of all checks with its scope."""
    several = sum(1 for sheet in document.sheets if summary_rows(sheet)) > 1
    items: list[str | FrontTable] = []
    for place, sheet in enumerate(document.sheets):
        rows = summary_rows(sheet)
        if rows:
            letter = index.letters[place]
            caption = f"{letter}  {sheet.title}" if several else ""
            cells = tuple(_cells(row, place, index) for row in rows)
            items.append(FrontTable(_HEADER, cells, _WIDTHS, "llllrrrlr", caption))
    if not items:
        return Section("summary", "Summary of checks", ("No check was made on these sheets.",))
    return Section("summary", "Summary of checks", (scope_words(document), *items, *_not(document)))


def _cells(row: b.SummaryRow, place: int, index: Index) -> tuple[Cell, ...]:
    key = index.check(place, row.name)
    at = index.goto(key, place) if key is not None else Goto("")
    name: Cell = (Goto(row.name, at.label),)
    ratio: Cell = row.ratio
    if row.governs:
        name = (Goto(row.name, at.label), " ", Strong("governs"))
        ratio = Strong(row.ratio)
    page: Cell = PageOf(at.label) if at.label else ""
    return (
        at, name, row.location, row.ref, row.demand, row.capacity, ratio, Strong(row.verdict), page,
    )  # fmt: skip


def scope_words(document: b.Document) -> str:
    """Return in words how many checks were made, how they ended, and what governs."""
    rows = [row for sheet in document.sheets for row in summary_rows(sheet)]
    failed = [row.name for row in rows if row.verdict != "OK"]
    if not rows:
        return "No check was made."
    count = "The one check made is" if len(rows) == 1 else f"All {len(rows)} checks made are"
    words = f"{count} OK." if not failed else (
        f"N.G.: {len(failed)} of {len(rows)} checks: {', '.join(failed)}."
    )  # fmt: skip
    governing = dict.fromkeys(map(_named, (row for row in rows if row.governs)))
    if governing:
        words += f" Governing: {'; '.join(governing)}."
    return f"{words} The verdict speaks of the checks listed and of nothing else."


def _named(row: b.SummaryRow) -> str:
    where = f", {row.location}" if row.location else ""
    return f"{row.name}{where}, D/C = {row.ratio or 'undefined'}"


def _not(document: b.Document) -> list[str]:
    """Return what was not checked, each thing once."""
    left_out = dict.fromkeys(
        words
        for sheet in document.sheets
        for block in sheet.blocks
        if isinstance(block, b.Conclusion)
        for words in block.scope_not_checked
    )
    return [f"Not checked: {'; '.join(left_out)}."] if left_out else []
