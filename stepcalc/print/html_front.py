"""What the HTML templates need for links and front pages: filters on their cells and blocks."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING, Any

from markupsafe import Markup, escape

from stepcalc.print.block_filters import prepared_in
from stepcalc.print.front.records import Goto, PageOf, Strong
from stepcalc.print.html_contents import anchor_of
from stepcalc.render.characters import harmless
from stepcalc.render.templates import context_filter

if TYPE_CHECKING:
    from stepcalc.print.front.records import Cell
    from stepcalc.render.dialects import Layout

__all__ = ["html_front_filters"]

_MATH_ROOM = 14.0  # ems of a cell
_SHORT = 9  # letters: the number of a step, which does not break


def html_front_filters(
    in_text: Callable[[Layout, float], Markup],
) -> dict[str, Callable[..., Any]]:
    """Return the filters by their names in the templates.

    Parameters
    ----------
    in_text : callable
        How a formula stands in a cell of so many ems.
    """

    def front_cell(cell: Cell) -> Markup:
        if isinstance(cell, tuple):
            return Markup("").join(map(front_cell, cell))
        if isinstance(cell, str):
            return _words(cell)
        if isinstance(cell, Goto):
            return _link(cell)
        if isinstance(cell, PageOf):
            return _link(Goto("see", cell.label))
        if isinstance(cell, Strong):
            return Markup("<strong>{}</strong>").format(_words(cell.words))
        return in_text(cell, _MATH_ROOM)

    return {
        "front_cell": front_cell, "mark": context_filter(_mark), "trace": context_filter(_trace),
    }  # fmt: skip


def _words(text: str) -> Markup:
    return escape(harmless(text))


def _link(goto: Goto) -> Markup:
    if not goto.label:
        return _words(goto.words)
    whole = Markup(' class="whole"' if len(goto.words) <= _SHORT else "")
    return Markup('<a{} href="#{}">{}</a>').format(whole, anchor_of(goto.label), _words(goto.words))


def _mark(context: Mapping[str, Any], block: Any) -> str:
    """Return the anchor of a numbered block; blank if nothing leads to it."""
    return anchor_of(prepared_in(context).index.label_of(block))


def _trace(context: Mapping[str, Any], block: Any) -> Markup:
    """Return links to what a block uses and to where it is used; nothing if there are none."""
    index = prepared_in(context).index
    told = [
        Markup(lead) + Markup(", ").join(map(_link, gotos)) + (f" and {more} more" if more else "")
        for lead, (gotos, more) in (
            ("from ", index.sources(block)), ("used in ", index.users(block)),
        )
        if gotos
    ]  # fmt: skip
    return Markup("; ").join(told)
