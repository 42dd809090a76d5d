r"""One TeX file for those who want TeX, and its figures in a folder beside it.

Plain ``pdflatex`` with the base and recommended packages sets it. All text of a user passes
through :func:`tex_text`, which leaves no character that TeX could read as a command; characters
that 8-bit fonts lack are named by their Unicode number.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping
from functools import lru_cache
from itertools import count
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple

from stepcalc.print import views
from stepcalc.print.block_filters import block_filters, picture_of
from stepcalc.print.lines import cell_rows
from stepcalc.print.options import DEFAULT, Options
from stepcalc.print.prepared import prepare
from stepcalc.print.tex_front import tex_front_filters
from stepcalc.print.title_block import long_fields, title_rows
from stepcalc.print.typst import compile_typst, document_title, table_alignment
from stepcalc.print.typst_front import front_context
from stepcalc.print.widths import breakable, width
from stepcalc.render import blocks as b
from stepcalc.render.dialects import LatexFile, replay
from stepcalc.render.symbols import GREEK
from stepcalc.render.templates import context_filter, environment

if TYPE_CHECKING:
    from jinja2 import Environment

    from stepcalc.print.lines import Line
    from stepcalc.render.dialects import Layout

PAPERS = {"letter": "letterpaper", "a4": "a4paper"}
_LATEX = LatexFile()
_IMMENSE = 1_000.0  # ems; TeX counts lengths up to 16,383 pt
_WIDE_COLUMN = 24  # characters beyond which a column of a table is a paragraph
_SIGNS = {
    "\\": r"\textbackslash{}", "{": r"\{", "}": r"\}", "$": r"\$", "%": r"\%", "&": r"\&",
    "#": r"\#", "_": r"\_", "^": r"\textasciicircum{}", "~": r"\textasciitilde{}",
    "<": r"\textless{}", ">": r"\textgreater{}", "|": r"\textbar{}", '"': r"\textquotedbl{}",
    "`": r"\textasciigrave{}", "'": r"\textquotesingle{}", "-": r"{-}", "[": "{[}", "]": "{]}",
    "*": "{*}", ",": "{,}",
    "\u200b": r"\hskip0pt{}", "\n": " ", "\u00a0": "~", "–": r"\textendash{}",
    "—": r"\textemdash{}", "‘": r"\textquoteleft{}", "’": r"\textquoteright{}",
    "“": r"\textquotedblleft{}", "”": r"\textquotedblright{}", "…": r"\ldots{}",
    "°": r"\textdegree{}", "·": r"\textperiodcentered{}", "×": r"\texttimes{}", "−": "$-$",
    "±": r"\textpm{}", "≤": r"$\le$", "≥": r"$\ge$", "≠": r"$\ne$", "≈": r"$\approx$",
    "→": r"$\to$", "√": r"$\surd$", "∞": r"$\infty$", "′": "$'$", "″": "$''$",
    "•": r"\textbullet{}",
    "²": r"\texttwosuperior{}", "³": r"\textthreesuperior{}", "¹": r"\textonesuperior{}",
    "½": r"\textonehalf{}", "¼": r"\textonequarter{}", "¾": r"\textthreequarters{}",
    "☐": r"$\square$", "☑": r"$\boxtimes$", "☒": r"$\boxtimes$", "∂": r"$\partial$",
    "∑": r"$\sum$", "∫": r"$\int$", "∝": r"$\propto$", "≡": r"$\equiv$", "←": r"$\gets$",
    "§": r"\textsection{}", "µ": r"\textmu{}", "✓": r"$\checkmark$", "∆": r"$\Delta$",
}  # fmt: skip
_SIGNS |= {letter: f"${replay(['sym', name], LatexFile())}$" for name, letter in GREEK.items()} | {
    "φ": r"$\phi$",
    "ϵ": r"$\epsilon$",
}


class TexFiles(NamedTuple):
    """The TeX source, and the figures that it looks for in ``NAME-figures/``."""

    source: str
    figures: dict[str, bytes]


def to_tex(document: b.Document, options: Options = DEFAULT) -> TexFiles:
    r"""Return a document as TeX.

    Parameters
    ----------
    document : Document
    options : Options, optional

    Returns
    -------
    TexFiles
        The source names its figures by ``\jobname``, so it is the same under any file name.
    """
    ready = prepare(document, "pdf")
    numbers = count(1)
    source = (
        _environment(options.templates)
        .get_template("latex/document.tex.j2")
        .render(
            title=document_title(document), paper=PAPERS[options.paper], sheets=document.sheets,
            rows=title_rows(document.title, document.profile),
            long_fields=long_fields(document.title, document.profile),
            safety=views.SAFETY, prepared=ready,
            identity=options.identity, serial=lambda: f"part{next(numbers)}",
            **front_context(ready, options),
        )
    )  # fmt: skip
    figures = {_figure_name(p.file): _for_tex(p.content, p.form) for p in ready.pictures.values()}
    return TexFiles(re.sub(r"\n{3,}", "\n\n", source), figures)


def _figure_name(file: str) -> str:
    return file.replace(".svg", ".pdf")


def _for_tex(content: bytes, form: str) -> bytes:
    """Return a picture in a form that pdflatex takes."""
    if form != "svg":
        return content
    page = b'#set page(width: auto, height: auto, margin: 0pt)\n#image("figure.svg")'
    return compile_typst({"main.typ": page, "figure.svg": content}, standards=())


# Filters of the templates -----------------------------------------------------------------


@lru_cache(maxsize=16_384)
def tex_text(text: str, room: float = 20.0) -> str:
    r"""Return a text as TeX that shows it and does nothing else.

    Examples
    --------
    >>> print(tex_text(r"50% of \input{x}"))
    50\% of \textbackslash{}input\{x\}
    """
    composed = unicodedata.normalize("NFC", text)
    return "".join(_tex_character(c) for c in breakable(composed, room))


def _tex_character(character: str) -> str:
    shown = _SIGNS.get(character)
    if shown is not None:
        return shown
    if character.isascii() and character.isprintable():
        return character
    if character in "\t\r":
        return " "
    if "À" <= character <= "ž" and character.isalpha() and character not in "ŀĿŉſĸħĦŧŦ":
        return character
    return f"\\hskip0pt{{[}}U+{ord(character):04X}{{]}}"


def _verbatim(text: str) -> str:
    """Return lines in typewriter letters; spaces at their start are kept."""
    rows = []
    for row in text.split("\n"):
        spaces = len(row) - len(row.lstrip(" "))
        rows.append("~" * min(spaces, 60) + tex_text(row.strip(" ")))
    inside = "\\par\n".join(row or "~" for row in rows)
    return f"{{\\scriptsize\\ttfamily {inside}\\par}}"


def _bookmark(text: str) -> str:
    """Return a text for the outline of a PDF: letters, digits and a few signs."""
    plain = "".join(c if c.isascii() and (c.isalnum() or c in " .,:;/()+-=") else " " for c in text)
    return " ".join(plain.split())[:120] or "sheet"


def _math(layout: Layout) -> str:
    return replay(layout, _LATEX)


def _in_text(layout: Layout, room: float = 24.0) -> str:
    """Return a formula in running text or in a cell, in parts if it is wider than the room."""
    if layout[0] == "text":
        return tex_text(layout[1], room)
    return r"\newline ".join(
        r"\hskip 2pt plus 2pt ".join(map(_inline, row)) for row in cell_rows(layout, room)
    )


def _inline(layout: Layout) -> str:
    """Return a formula in running text, with fractions as large as on a line of their own."""
    shown = _math(layout)
    return rf"$\displaystyle {shown}$" if "frac" in shown else f"${shown}$"


def _side(line: Line) -> str:
    """Return a line that is set whole if it fits; what TeX could not measure is in pieces."""
    if line.width > _IMMENSE:
        return _pieces(line)
    return rf"\scside{{{_math(line.layout)}}}{{{_pieces(line)}}}"


def _pieces(line: Line) -> str:
    """Return the pieces of a line, each with what it falls into if it does not fit."""
    shown = []
    for piece in line.pieces:
        whole = _math(piece.layout)
        parts = "".join(
            (r"\newline " if part.anew else "") + rf"\scpart{{{_math(part.layout)}}}"
            for part in piece.parts
        )
        if parts and width(piece.layout) > _IMMENSE:
            shown.append(parts)
            continue
        alone = rf"\scpart{{{whole}}}"
        shown.append(rf"\scpiece{{{whole}}}{{{parts or alone}}}")
    return "".join(shown)


def _columns(block: b.Table | b.Lookup) -> str:
    """Return the columns of a table; those with long text share the room as paragraphs."""
    lengths = views.column_lengths(block)
    letters = table_alignment(block) if isinstance(block, b.Table) else "l" * len(lengths)
    narrow = sum(size for size in lengths if size <= _WIDE_COLUMN) * 1.9 + 3 * len(lengths)
    wide = [min(size, 80) for size in lengths if size > _WIDE_COLUMN]
    room = max(140.0 - narrow, 20.0 * len(wide))
    return "".join(
        rf">{{\raggedright\arraybackslash}}p{{{room * min(size, 80) / sum(wide):.1f}mm}}"
        if size > _WIDE_COLUMN
        else letter
        for letter, size in zip(letters, lengths, strict=True)
    )


def _picture(context: Mapping[str, Any], block: Any) -> dict[str, Any]:
    found = picture_of(context, block)
    return {"file": _figure_name(found.file), "alt": found.alt, "ours": found.ours}


@lru_cache(maxsize=4)
def _environment(own_templates: Path | None) -> Environment:
    ours = environment("latex", own_templates)
    ours.filters.update(
        block_filters(), t=tex_text, math=_math, in_text=_in_text, side=_side, columns=_columns,
        verbatim=_verbatim, bookmark=_bookmark, picture=context_filter(_picture),
        **tex_front_filters(tex_text, _in_text),
    )  # fmt: skip
    return ours
