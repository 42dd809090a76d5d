"""What the Typst templates need for links and front pages: values, and filters on them."""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING, Any

from stepcalc.print.block_filters import prepared_in
from stepcalc.print.front.records import FrontTable, Goto, PageOf, Strong
from stepcalc.print.lines import TYPST, finest, spoken
from stepcalc.print.widths import width
from stepcalc.render import blocks as b
from stepcalc.render.characters import printable
from stepcalc.render.dialects import replay
from stepcalc.render.templates import context_filter

if TYPE_CHECKING:
    from stepcalc.print.front.records import Cell
    from stepcalc.print.prepared import Prepared
    from stepcalc.render.dialects import Layout

__all__ = ["column_shares", "front_filters"]

_LINE = 105  # letters of a table on one line of the page
_ROOM = 14.0  # ems of a cell with a formula
_TALL = 400  # letters: a row that holds more may have to run over a page
_NARROW = 18  # letters: a column that holds more shares the room
_ALIGN = {"l": "left", "c": "center", "r": "right"}


def column_shares(table: FrontTable) -> list[float]:
    """Return the share of each column; 0 for one that is as wide as it needs.

    A column that should be as wide as it needs gets a share when something in it is long.
    """
    shares = []
    for place, share in enumerate(table.widths):
        longest = max((_letters(row[place]) for row in table.rows), default=0)
        shares.append(share if share or longest <= _NARROW else min(longest, 60) / 40)
    return shares


def _letters(cell: Cell) -> int:
    if isinstance(cell, tuple):
        return sum(map(_letters, cell))
    if isinstance(cell, PageOf):
        return 4
    if isinstance(cell, list):
        return int(2 * width(cell))
    return len(printable(cell if isinstance(cell, str) else cell.words))


def front_filters(
    words: Callable[..., str], string: Callable[[str], str]
) -> dict[str, Callable[..., Any]]:
    """Return the filters by their names in the templates.

    Parameters
    ----------
    words, string : callable
        How a text is spelled for Typst, with places where it may break and without.
    """

    def front_cell(cell: Cell) -> str:
        if isinstance(cell, tuple):
            return "".join(map(front_cell, cell))
        if isinstance(cell, str):
            return f"#{words(cell, 12.0)};"
        if isinstance(cell, Goto):
            return f"#goto({string(cell.label)}, {words(cell.words, 12.0)});"
        if isinstance(cell, PageOf):
            return f"#page-of({string(cell.label)});"
        if isinstance(cell, Strong):
            return f"#strong({words(cell.words, 12.0)});"
        return " ".join(_formula(part, string) for part in finest(cell, _ROOM))

    def mark(context: Mapping[str, Any], block: Any) -> str:
        """Return the label of a heading, to stand after it, or the mark before another block."""
        label = prepared_in(context).index.label_of(block)
        if not label:
            return ""
        place = "label" if isinstance(block, b.Heading) else "mark"
        return f"#{place}({string(label)})"

    def trace(context: Mapping[str, Any], block: Any) -> str:
        index = prepared_in(context).index
        sources, more_sources = index.sources(block)
        users, more_users = index.users(block)
        if not sources and not users:
            return "no-trace"
        return (
            f"(from: ({_gotos(sources)}), from-more: {more_sources}, "
            f"to: ({_gotos(users)}), to-more: {more_users})"
        )

    def _gotos(items: list[Goto]) -> str:
        return "".join(f"({string(g.label)}, {words(g.words)}), " for g in items)

    return {
        "front_cell": front_cell, "front_columns": _columns, "sides_of": _sides,
        "opening": _opening, "sentences": _sentences, "whole": _whole, "whole_rows": _whole_rows,
        "mark": context_filter(mark), "trace": context_filter(trace),
    }  # fmt: skip


def _formula(part: Layout, string: Callable[[str], str]) -> str:
    """Return a formula of a cell; what may be wider than the cell is made to fit it."""
    place = "fitted" if width(part) > _ROOM else "box"
    return f"#{place}(eq({string(spoken(part))}, ${replay(part, TYPST)}$.body));"


def _opening(table: FrontTable | b.Table) -> str:
    """Return about how high the head of a table is with its first two rows, and its caption."""
    across = _LINE * (0.5 if isinstance(table, FrontTable) and table.twin else 1.0)
    columns = len(table.header)
    rows = [tuple(table.header), *table.rows[:2]]
    lines = sum(_lines(row, across / max(columns, 1)) for row in rows)
    height = min(3.9 * lines + 2.8 * len(rows) + (6 if table.caption else 0), 120)
    return f"{height:.0f}mm"


def _lines(row: tuple[Cell, ...], letters: float) -> int:
    """Return how many lines the highest cell of a row has, at so many letters a line."""
    return max((math.ceil(_letters(cell) / letters) for cell in row), default=1) or 1


def _sentences(words: str) -> tuple[str, str]:
    """Return the first sentence of a verdict, and the rest."""
    first, *rest = re.split(r"(?<=\.) (?=[A-Z])", words, maxsplit=1)
    return first, " ".join(rest)


def _whole(table: FrontTable | b.Table | b.Lookup) -> str:
    """Tell whether every row of a table is short enough to stay whole."""
    rows = table.neighbours if isinstance(table, b.Lookup) else table.rows
    return "true" if all(sum(map(_letters, row)) < _TALL for row in rows) else "false"


def _whole_rows(rows: tuple[b.SummaryRow, ...]) -> str:
    """Tell whether every row of a summary is short enough to stay whole."""
    longest = max((len(row.name + row.location + row.ref) for row in rows), default=0)
    return "true" if longest < _TALL else "false"


def _columns(table: FrontTable) -> str:
    shares = column_shares(table)
    return "".join(f"{share:g}fr, " if share else "auto, " for share in shares)


def _sides(align: str) -> str:
    return "".join(f"{_ALIGN[letter]}, " for letter in align)


def front_context(ready: Prepared, options: Any) -> dict[str, Any]:
    """Return the values of the front pages for the templates."""
    from stepcalc.print.front.pages import front_of

    front = front_of(ready.document, ready.index, options)
    loud = [words for words in ready.notices if not is_routine(words)]
    told = "identity" in [section.name for section in front.sections]
    return {
        "front": front, "letters": ready.index.letters, "loud": loud,
        "first_notices": ([] if front.cover else loud) if told else ready.notices,
    }  # fmt: skip


def is_routine(notice: str) -> bool:
    """Tell whether a notice says only what every package says: rounding, and review."""
    return "licensed engineer" in notice or "significant digits" in notice
