"""One HTML file that holds everything it shows: MathML, its math font, its pictures.

No script, no address to fetch from: the file reads the same in ten years and without a network.
Everything a user wrote is escaped by the templates; pictures are embedded as images, where even
a drawing cannot run anything.
"""

from __future__ import annotations

import base64
from collections.abc import Iterable, Mapping
from functools import lru_cache
from importlib.resources import files
from pathlib import Path
from typing import TYPE_CHECKING, Any

from markupsafe import Markup, escape

from stepcalc.print import views
from stepcalc.print.block_filters import block_filters, picture_of
from stepcalc.print.html_contents import contents_of
from stepcalc.print.html_front import html_front_filters
from stepcalc.print.lines import LONG_PIECE, Piece, cell_rows, cut, spoken
from stepcalc.print.options import DEFAULT, Options
from stepcalc.print.prepared import prepare
from stepcalc.print.title_block import long_fields, title_rows
from stepcalc.print.typst import document_title, table_alignment
from stepcalc.print.typst_front import front_context
from stepcalc.print.widths import width
from stepcalc.render.characters import harmless
from stepcalc.render.dialects import MathML, math_element, replay
from stepcalc.render.templates import context_filter, environment

if TYPE_CHECKING:
    from jinja2 import Environment

    from stepcalc.print.lines import Line
    from stepcalc.render import blocks as b
    from stepcalc.render.dialects import Layout

PAGE_SIZES = {"letter": "8.5in 11in", "a4": "210mm 297mm"}
_MEDIA = {"svg": "image/svg+xml", "png": "image/png"}


def to_html(document: b.Document, options: Options = DEFAULT) -> str:
    """Return a document as one self-contained HTML file.

    Parameters
    ----------
    document : Document
    options : Options, optional

    Returns
    -------
    str
    """
    ready = prepare(document, "svg")
    title, front = document_title(document), front_context(ready, options)
    ours = html_environment(options.templates)
    css = ours.get_template("html/sheet.css.j2").render(
        fonts={name: _font(name) for name in FONTS}, page_size=PAGE_SIZES[options.paper]
    )
    return ours.get_template("html/document.html.j2").render(
        title=title, css=Markup(css), profile=document.profile,
        contents=contents_of(ready, title, front["front"].sections), **front,
        rows=_without_sheet_number(document), sheets=document.sheets,
        long_fields=long_fields(document.title, document.profile), safety=views.SAFETY,
        identity=options.identity, prepared=ready,
    )  # fmt: skip


def _without_sheet_number(document: b.Document) -> list[Any]:
    """Return the rows of the title block; a browser numbers the sheets in the margin."""
    rows = []
    for row in title_rows(document.title, document.profile):
        spare = sum(cell.span for cell in row if cell.sheet_number)
        cells = [cell for cell in row if not cell.sheet_number]
        if spare:
            cells[-1] = cells[-1]._replace(span=cells[-1].span + spare)
        rows.append(cells)
    return rows


FONTS = ("Math-subset", "Text-Regular", "Text-Italic", "Text-Bold")


@lru_cache(maxsize=len(FONTS))
def _font(name: str) -> str:
    font = files("stepcalc.print") / "fonts" / f"STIXTwo{name}.woff2"
    return base64.b64encode(font.read_bytes()).decode("ascii")


# Filters of the templates -----------------------------------------------------------------


class SheetMathML(MathML):
    """MathML whose signs keep their room at the start of a piece, and whose brackets fit."""

    name = "mathml-sheet"

    def op(self, sign: str) -> str:
        """Return a sign; at the start of a piece a browser would take it for a prefix."""
        shown = super().op(sign)
        if sign in _BINARY:
            return shown.replace("<mo>", '<mo form="infix">')
        return shown.replace("<mo>", _SMALL) if sign in "()," else shown

    def group(self, inside: str) -> str:
        """Return round brackets, which grow only around something tall, and no more than it."""
        if any(tall in inside for tall in _TALL):
            return f"<mrow>{_FITTED}(</mo>{inside}{_FITTED})</mo></mrow>"
        return f"<mrow>{_SMALL}(</mo>{inside}{_SMALL})</mo></mrow>"


_BINARY = frozenset("+-−=<>≤≥≠≈·×→")
_SMALL = '<mo stretchy="false" lspace="0" rspace="0">'
_FITTED = '<mo symmetric="false">'  # not as far below the axis as above it
_TALL = ("<mfrac", "<msqrt", "<mroot", "<mtable", "<munder", 'stretchy="true"')
_MATHML = SheetMathML()
_WHOLE = 16.0  # ems: a telephone shows this much
_NARROW = 16.0  # what one piece may be there
_WIDE_PIECE = 34.0  # ems of the print font's bound; the HTML font is narrower


def _math(layout: Layout) -> Markup:
    return Markup(math_element(replay(layout, _MATHML), spoken(layout)))  # both escape


def _in_text(layout: Layout, room: float = 24.0) -> Markup:
    """Return a formula in running text or in a cell, in parts if it is wider than the room."""
    if layout[0] == "text":
        return escape(harmless(layout[1]))
    rows = (Markup(" ").join(map(_math, row)) for row in cell_rows(layout, room))
    return Markup("<br>").join(rows)


def _line(line: Line) -> Markup:
    """Return a line as one element, or as the pieces between which a browser may break."""
    shown: list[Markup] = []
    for piece in _pieces(line):
        if piece.parts and width(piece.layout) > _WIDE_PIECE:
            for part in piece.parts:
                shown += [Markup("<br>")] * part.anew + [_math(part.layout)]
        else:
            shown.append(_math(piece.layout))
    return Markup(" ").join(shown)


def _reach(lines: Iterable[Line]) -> Markup:
    """Return what lets the keyboard scroll lines that a narrow screen does not show whole."""
    pieces = (piece for line in lines for piece in _pieces(line))
    wide = any(width(piece.layout) > _NARROW for piece in pieces)
    return Markup(' tabindex="0"' if wide else "")


def _pieces(line: Line) -> tuple[Piece, ...]:
    if line.width <= _WHOLE:
        return (Piece(line.layout),)
    return line.pieces if line.width > LONG_PIECE else cut(line.layout)


def _harmless(text: object) -> str:
    return text if isinstance(text, Markup) else harmless(str(text))


def _picture(context: Mapping[str, Any], block: Any) -> dict[str, Any]:
    found = picture_of(context, block)
    content = base64.b64encode(found.content).decode("ascii")
    source = f"data:{_MEDIA[found.form]};base64,{content}"
    return {"source": source, "alt": found.alt, "ours": found.ours}


@lru_cache(maxsize=4)
def html_environment(own_templates: Path | None) -> Environment:
    """Return the templates of HTML with their filters."""
    ours = environment("html", own_templates)
    ours.filters.update(
        block_filters(), h=_harmless, in_text=_in_text, mathml=_line, reach=_reach,
        alignment=table_alignment,
        picture=context_filter(_picture), identity=id, **html_front_filters(_in_text),
    )  # fmt: skip
    return ours
