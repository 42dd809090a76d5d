"""PDF through Typst: the source from templates, compiled in memory.

Every text of a user reaches Typst inside a string literal; the compiler sees no folder but an
empty one and no font but those in its wheel. The PDF is tagged, archival (PDF/A-3a, PDF/UA-1)
and the same bytes every time.
"""

from __future__ import annotations

import re
import tempfile
from collections.abc import Callable, Iterable, Mapping
from datetime import date
from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple

from stepcalc.errors import PrintError
from stepcalc.print import views
from stepcalc.print.block_filters import ROOM, block_filters, picture_of
from stepcalc.print.lines import TYPST, Line, Part, cell_rows, spoken
from stepcalc.print.options import DEFAULT, Options
from stepcalc.print.prepared import prepare
from stepcalc.print.title_block import long_fields, title_rows
from stepcalc.print.typst_front import front_context, front_filters
from stepcalc.print.widths import breakable
from stepcalc.render.characters import printable, unprintable
from stepcalc.render.dialects import replay
from stepcalc.render.templates import context_filter, environment

if TYPE_CHECKING:
    from jinja2 import Environment

    from stepcalc.render import blocks as b
    from stepcalc.render.dialects import Layout

STANDARDS = ["a-3a", "ua-1"]
# Typst writes the entry at its default, which the standard allows and Poppler reports as an error
# of syntax; blanks in its place leave every offset of the file as it is.
_SUSPECTS = b"/MarkInfo<</Marked true/Suspects false>>"
UNDATED = date(1970, 1, 1)


class Paper(NamedTuple):
    """A paper size as Typst names it, and its width in mm."""

    name: str
    width: float


PAPERS = {"letter": Paper("us-letter", 215.9), "a4": Paper("a4", 210.0)}
_RAW_LINE = 86  # letters of the typewriter font that fit a line
_NUMERIC = re.compile(  # 1,234.5 kip-ft, 8 %, or nothing
    r"[-+−]?\d[\d.,]*(?: ?%| [A-Za-z]+(?:[/ ·^-]?[A-Za-z]+|\^\d)*)?$|[-–—]?$"
)
_ALIGN = {"l": "left", "c": "center", "r": "right"}


def typst_files(
    document: b.Document, options: Options = DEFAULT, *, folder: str = ""
) -> dict[str, bytes]:
    """Return the Typst source of a document and the pictures it shows, by file name.

    Parameters
    ----------
    document : Document
    options : Options, optional
    folder : str
        Stands before the name of each picture; it ends in ``/``.

    Returns
    -------
    dict of str to bytes
        ``main.typ`` is the source.
    """
    ready = prepare(document, "svg", folder=folder)
    lacking = unprintable(_texts(document))
    if lacking:
        ready.notice(
            f"{len(lacking)} characters that the print fonts lack are shown by their Unicode "
            "number, such as " + printable(lacking[0])
        )
    template = typst_environment(options.templates).get_template("typst/document.typ.j2")
    source = template.render(
        title=document_title(document), date=document_date(document.title),
        paper=PAPERS[options.paper],
        rows=title_rows(document.title, document.profile), sheets=document.sheets,
        long_fields=long_fields(document.title, document.profile),
        safety=views.SAFETY, identity=options.identity, prepared=ready,
        **front_context(ready, options),
    )  # fmt: skip
    files = {"main.typ": source.encode()}
    files.update({picture.file: picture.content for picture in ready.pictures.values()})
    return files


def to_pdf(document: b.Document, options: Options = DEFAULT) -> bytes:
    """Return a document as PDF.

    Parameters
    ----------
    document : Document
    options : Options, optional

    Returns
    -------
    bytes

    Raises
    ------
    PrintError
        If a part of the document cannot be set; the message names the part.
    """
    return compile_typst(typst_files(document, options))


def compile_typst(files: Mapping[str, bytes], standards: Iterable[str] = STANDARDS) -> bytes:
    """Compile Typst files, the main one being ``main.typ``, to PDF.

    Raises
    ------
    PrintError
        With the typesetter's own words, and the line they are about.
    """
    import typst

    # The wheel takes a dict of files, which its type stubs do not know.
    compile_files: Callable[..., bytes] = typst.compile
    texts = {name: content for name, content in files.items() if not name.endswith(".png")}
    with tempfile.TemporaryDirectory() as folder:  # all that can be read, besides the texts
        for name in files.keys() - texts.keys():  # the wheel takes only text from memory
            (Path(folder) / Path(name).name).write_bytes(files[name])
        try:
            pdf = compile_files(
                texts, root=folder, ignore_system_fonts=True,
                pdf_standards=list(standards), timestamp=0,
            )  # fmt: skip
        except BaseException as error:  # a failure inside the wheel is no Exception
            if isinstance(error, (KeyboardInterrupt, SystemExit, MemoryError)):
                raise
            raise PrintError(_said(error, files["main.typ"])) from error
    return pdf.replace(_SUSPECTS, _SUSPECTS.replace(b"/Suspects false", b" " * 15), 1)


def _said(error: BaseException, source: bytes) -> str:
    words = str(getattr(error, "message", "") or error).strip()
    found = re.search(r"main\.typ:(\d+)", str(getattr(error, "diagnostic", "")))
    if not found:
        return f"the PDF cannot be set: {words}"
    lines = source.decode().splitlines()
    line = lines[min(int(found.group(1)), len(lines)) - 1].strip()
    return f"the PDF cannot be set: {words}; in the block {line[:160]}"


def document_date(title: Mapping[str, str]) -> date:
    """Return the date that the file carries: that of preparation if it is written 2026-11-25."""
    for name in ("prepared_on", "date"):
        try:
            return date.fromisoformat(title.get(name, "").strip())
        except ValueError:
            continue
    return UNDATED


def document_title(document: b.Document) -> str:
    """Return the title that the file carries: project and subject, or that of the first sheet."""
    title = document.title
    words = [title.get(name, "").strip() for name in ("project", "subject", "assignment")]
    sheets = [sheet.title for sheet in document.sheets[:1]]
    return ": ".join(word for word in words if word) or " ".join(sheets) or "Calculation"


def _texts(value: Any) -> list[str]:
    """Return every text that a document holds, in no order."""
    texts: list[str] = []
    left = [value]
    while left:
        item = left.pop()
        if isinstance(item, str):
            texts.append(item)
        elif isinstance(item, (list, tuple)):
            left += item
        elif isinstance(item, Mapping):
            left += item.keys()
            left += item.values()
        elif hasattr(item, "__dataclass_fields__"):
            left += [getattr(item, name) for name in item.__dataclass_fields__]
    return texts


# Filters of the templates -----------------------------------------------------------------


def string(text: str) -> str:
    r"""Return a text as a Typst string literal on one line.

    Examples
    --------
    >>> print(string('a] #read("x") \\ b'))
    "a] #read(\"x\") \\ b"
    """
    return _quoted(printable(" ".join(text.split("\n"))))


def _quoted(text: str) -> str:
    return '"' + text.replace("\\", "\\\\").replace('"', '\\"').replace("\n", "\\n") + '"'


@lru_cache(maxsize=16_384)
def words(text: str, room: float = 20.0) -> str:
    """Return a text as a Typst expression in which words wider than the room may break.

    The pieces of such a word are joined by a space too small to see (``part`` of the prelude); a
    character between them would turn up where somebody searches or copies the text.
    """
    pieces = breakable(printable(" ".join(text.split("\n"))), room).split("\u200b")
    if len(pieces) == 1:
        return _quoted(pieces[0])
    return "(" + " + part + ".join(map(_quoted, pieces)) + ")"


def raw_string(text: str) -> str:
    """Return lines as a Typst string literal, cut where they would leave the page."""
    rows: list[str] = []
    for row in printable(text).split("\n"):
        rows += [row[start : start + _RAW_LINE] for start in range(0, len(row), _RAW_LINE)] or [""]
    return _quoted("\n".join(rows))


def _raw_inline(text: str) -> str:
    pieces = breakable(printable(text), 16.0).split("\u200b")
    return "#part;".join(f"#raw({_quoted(piece)});" for piece in pieces)


def _in_text(layout: Layout, room: float = 24.0) -> str:
    """Return a formula in running text or in a cell, in parts if it is wider than the room."""
    if layout[0] == "text":
        return f"#{words(layout[1], room)};"
    rows = (
        " ".join(f"#box(eq({string(spoken(part))}, ${_math(part)}$.body));" for part in row)
        for row in cell_rows(layout, room)
    )
    return " #linebreak(); ".join(rows)


def _math(layout: Layout) -> str:
    return replay(layout, TYPST)


def _pieces(line: Line, place: str) -> str:
    """Return a line as one equation if it surely fits, else as pieces for the typesetter."""
    if line.width <= ROOM[place]:
        return f"${_math(line.layout)}$"
    shown = []
    for piece in line.pieces:
        whole = f"${_math(piece.layout)}$"
        if piece.parts:
            parts = ", ".join(map(_part, piece.parts))
            shown.append(f"({whole}, {parts})")
        else:
            shown.append(whole)
    return f"({', '.join(shown)},)"


def _part(part: Part) -> str:
    shown = f"${_math(part.layout)}$"
    return f"({shown},)" if part.anew else shown


def _columns(block: b.Table | b.Lookup) -> str:
    """Return as many columns as a table has; wide text columns share the room."""
    longest = views.column_lengths(block)
    shares = [f"{min(size, 80)}fr" if size > 24 else "auto" for size in longest]
    return f"({', '.join(shares)},)"


def _repeats(block: b.Table | b.Lookup) -> str:
    """Tell whether the header of a table is short enough to stand on every page."""
    return "true" if sum(map(len, block.header)) < 600 else "false"


def table_alignment(table: b.Table) -> str:
    """Return one letter of ``l c r`` for each column; columns of numbers stand to the right."""
    count = len(table.header)
    if table.align:
        return (table.align + "l" * count)[:count]
    return "".join("r" if _is_numeric(table, place) else "l" for place in range(count))


def _is_numeric(table: b.Table, place: int) -> bool:
    cells = [row[place] for row in table.rows]
    return bool(cells) and all(
        cell[0] in ("num", "qty") if isinstance(cell, list) else bool(_NUMERIC.match(cell))
        for cell in cells
    )


def _alignment(table: b.Table) -> str:
    return "".join(f"{_ALIGN[letter]}, " for letter in table_alignment(table))


def _picture(context: Mapping[str, Any], block: Any) -> dict[str, Any]:
    found = picture_of(context, block)
    return {"file": found.file, "format": found.form, "alt": found.alt, "ours": found.ours}


@lru_cache(maxsize=4)
def typst_environment(own_templates: Path | None) -> Environment:
    """Return the templates of Typst with their filters."""
    ours = environment("typst", own_templates)
    ours.filters.update(
        block_filters(), q=words, s=string, raw_q=raw_string, raw_inline=_raw_inline,
        in_text=_in_text, pieces=_pieces, columns=_columns, repeats=_repeats,
        alignment=_alignment, picture=context_filter(_picture), **front_filters(words, string),
    )  # fmt: skip
    return ours
