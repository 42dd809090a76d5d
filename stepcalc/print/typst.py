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
from stepcalc.print.lines import TYPST, Line, Part, finest, spoken
from stepcalc.print.options import DEFAULT, Options
from stepcalc.print.prepared import Prepared, prepare
from stepcalc.print.title_block import long_fields, title_rows
from stepcalc.print.widths import breakable
from stepcalc.render.characters import printable, unprintable
from stepcalc.render.dialects import replay
from stepcalc.render.templates import environment

if TYPE_CHECKING:
    from jinja2 import Environment
    from jinja2.runtime import Context

    from stepcalc.render import blocks as b
    from stepcalc.render.dialects import Layout

STANDARDS = ["a-3a", "ua-1"]
UNDATED = date(1970, 1, 1)
# Room in ems of the 10 pt text, on the narrower of the two papers, less the hanging indent.
ROOM = {"work": 28.0, "result": 9.6, "tab": 12.4, "remark": 24.0}


class Paper(NamedTuple):
    """A paper size as Typst names it, and its width in mm."""

    name: str
    width: float


PAPERS = {"letter": Paper("us-letter", 215.9), "a4": Paper("a4", 210.0)}
_NUMERIC = re.compile(r"[-+−]?[\d.,]+( ?%)?$|[-–—]?$")
_ALIGN = {"l": "left", "c": "center", "r": "right"}


def typst_files(document: b.Document, options: Options = DEFAULT) -> dict[str, bytes]:
    """Return the Typst source of a document and the pictures it shows, by file name.

    Parameters
    ----------
    document : Document
    options : Options, optional

    Returns
    -------
    dict of str to bytes
        ``main.typ`` is the source.
    """
    ready = prepare(document, "svg")
    lacking = unprintable(_texts(document))
    if lacking:
        ready.notice(
            f"{len(lacking)} characters that the print fonts lack are shown by their Unicode "
            "number, such as " + printable(lacking[0])
        )
    template = _environment(options.templates).get_template("typst/document.typ.j2")
    source = template.render(
        title=document_title(document), date=document_date(document.title),
        paper=PAPERS[options.paper],
        rows=title_rows(document.title, document.profile), sheets=document.sheets,
        long_fields=long_fields(document.title), notices=ready.notices, safety=views.SAFETY,
        identity=options.identity, prepared=ready,
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
    with tempfile.TemporaryDirectory() as empty:
        try:
            pdf = compile_files(
                dict(files), root=empty, ignore_system_fonts=True,
                pdf_standards=list(standards), timestamp=0,
            )  # fmt: skip
        except BaseException as error:  # a failure inside the wheel is no Exception
            if isinstance(error, (KeyboardInterrupt, SystemExit, MemoryError)):
                raise
            raise PrintError(_said(error, files["main.typ"])) from error
    return pdf


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


def _texts(value: Any) -> Iterable[str]:
    """Yield every text that a document holds."""
    if isinstance(value, str):
        yield value
    elif isinstance(value, Mapping):
        for key, item in value.items():
            yield from _texts(key)
            yield from _texts(item)
    elif isinstance(value, (list, tuple)):
        for item in value:
            yield from _texts(item)
    elif hasattr(value, "__dataclass_fields__"):
        for name in value.__dataclass_fields__:
            yield from _texts(getattr(value, name))


# Filters of the templates -----------------------------------------------------------------


@lru_cache(maxsize=16_384)
def literal(text: str, room: float = 20.0) -> str:
    r"""Return a text as a Typst string literal on one line.

    Words wider than ``room`` ems may break anywhere.

    Examples
    --------
    >>> print(literal('a] #read("x") \\ b'))
    "a] #read(\"x\") \\\\ b"
    """
    shown = breakable(printable(" ".join(text.split("\n"))), room)
    return '"' + shown.replace("\\", "\\\\").replace('"', '\\"') + '"'


def raw_literal(text: str) -> str:
    """Return a text as a Typst string literal that keeps its lines."""
    shown = "\n".join(breakable(printable(row), 40.0) for row in text.split("\n"))
    return '"' + shown.replace("\\", "\\\\").replace('"', '\\"').replace("\n", "\\n") + '"'


def _in_text(layout: Layout, room: float = 24.0) -> str:
    """Return a formula in running text or in a cell, in parts if it is wider than the room."""
    if layout[0] == "text":
        return f"#{literal(layout[1], room)};"
    parts = [f"#box(eq({literal(spoken(p))}, ${_math(p)}$.body));" for p in finest(layout, room)]
    return " ".join(parts)


def _math(layout: Layout) -> str:
    return replay(layout, TYPST)


def _fits(line: Line, place: str) -> str:
    return "true" if line.width <= ROOM[place] else "false"


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


@lru_cache(maxsize=4)
def _environment(own_templates: Path | None) -> Environment:
    from jinja2 import pass_context

    @pass_context
    def picture(context: Context, block: Any) -> dict[str, str]:
        found = _ready(context).pictures[id(block)]
        return {"file": found.file, "format": found.form, "alt": found.alt, "width": "100%"}

    @pass_context
    def rich(context: Context, block: Any) -> Any:
        return _ready(context).texts[id(block)]

    @pass_context
    def level(context: Context, block: Any) -> int:
        return _ready(context).levels[id(block)]

    ours = environment("typst", own_templates)
    ours.filters.update(
        q=literal, raw_q=raw_literal, in_text=_in_text, pieces=_pieces, sides=views.sides,
        remarks=views.remarks, is_long=views.is_long, last_summary=views.last_summary,
        columns=_columns, repeats=_repeats, fits=_fits, alignment=_alignment, kind=views.kind, picture=picture,
        rich=rich, level=level,
    )  # fmt: skip
    return ours


def _ready(context: Context) -> Prepared:
    ready = context["prepared"]
    assert isinstance(ready, Prepared)
    return ready
