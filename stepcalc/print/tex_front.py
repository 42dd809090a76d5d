"""What the TeX templates need for links and front pages: filters on their cells and blocks."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING, Any

from stepcalc.print.block_filters import prepared_in
from stepcalc.print.front.records import FrontTable, Goto, PageOf, Strong
from stepcalc.print.typst_front import column_shares
from stepcalc.render.templates import context_filter

if TYPE_CHECKING:
    from stepcalc.print.front.records import Cell
    from stepcalc.render.dialects import Layout

__all__ = ["tex_front_filters", "tex_label"]

_ROOM = 172.0  # mm that the columns of a table share, on the narrower paper
_NARROW_COLUMN = 17.0  # mm of a column that is as wide as it needs


def tex_label(label: str) -> str:
    """Return a label that TeX takes: letters, digits and signs that mean nothing to it.

    Examples
    --------
    >>> tex_label("s1-2.1-3"), tex_label("a_b")
    ('s1-2.1-3', 'a-5f-b')
    """
    return "".join(
        c if c.isascii() and (c.isalnum() or c in ".-") else f"-{ord(c):x}-" for c in label
    )


def tex_front_filters(
    words: Callable[[str, float], str], in_text: Callable[[Layout, float], str]
) -> dict[str, Callable[..., Any]]:
    """Return the filters by their names in the templates.

    Parameters
    ----------
    words, in_text : callable
        How words, and a formula in a cell, are spelled with so much room in ems.
    """

    def goto(item: Goto) -> str:
        shown = words(item.words, 12.0)
        return rf"\hyperlink{{{tex_label(item.label)}}}{{{shown}}}" if item.label else shown

    def front_cell(cell: Cell) -> str:
        if isinstance(cell, tuple):
            return "".join(map(front_cell, cell))
        if isinstance(cell, str):
            return words(cell, 12.0)
        if isinstance(cell, Goto):
            return goto(cell)
        if isinstance(cell, PageOf):
            return rf"\pageref{{{tex_label(cell.label)}}}"
        if isinstance(cell, Strong):
            return rf"\textbf{{{words(cell.words, 12.0)}}}"
        return in_text(cell, 12.0)

    def mark(context: Mapping[str, Any], block: Any) -> str:
        label = prepared_in(context).index.label_of(block)
        return rf"\scmark{{{tex_label(label)}}}" if label else ""

    def listed(named: tuple[list[Goto], int]) -> str:
        items, more = named
        return ", ".join(map(goto, items)) + (f", +{more}" if more else "")

    def sources(context: Mapping[str, Any], block: Any) -> str:
        return listed(prepared_in(context).index.sources(block))

    def users(context: Mapping[str, Any], block: Any) -> str:
        return listed(prepared_in(context).index.users(block))

    return {
        "front_cell": front_cell, "front_columns": _columns, "mark": context_filter(mark),
        "sources": context_filter(sources), "users": context_filter(users), "label": tex_label,
    }  # fmt: skip


def _columns(table: FrontTable) -> str:
    """Return the columns of a table as paragraphs that share the width of the page."""
    shares = column_shares(table)
    narrow = sum(1 for share in shares if not share)
    room = _ROOM - 3.0 * len(shares) - _NARROW_COLUMN * narrow
    whole = sum(shares) or 1.0
    return "".join(
        rf">{{\ragged{'left' if letter == 'r' else 'right'}\arraybackslash}}"
        rf"p{{{room * share / whole if share else _NARROW_COLUMN:.1f}mm}}"
        for letter, share in zip(table.align, shares, strict=True)
    )
