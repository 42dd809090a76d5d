"""What a cell shows: LaTeX for the reader, plain text for everyone, data for the printer.

No ``text/html`` holds mathematics: front ends prefer it to LaTeX, and the sanitiser of an untrusted
notebook deletes MathML.  Tables are plain HTML tables, figures are PNG.  What changes from run to
run (cell, count, version) goes to the output's metadata, so that the data can be compared.
"""

from __future__ import annotations

import base64
import html
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import asdict
from typing import Any

from stepcalc._version import __version__
from stepcalc.notebook import live_outputs
from stepcalc.notebook.fingerprints import marks
from stepcalc.notebook.words import cell_text, latex_of, text_of
from stepcalc.print.stamps import stamp
from stepcalc.render.figure_alt import figure_alt
from stepcalc.render.figures import draw_figure
from stepcalc.render.sheet_blocks import (
    entry_block,
    heading_block,
    results_of,
    slots_in_tables,
)
from stepcalc.sheet import cells
from stepcalc.sheet.entries import Entry, Part
from stepcalc.sheet.excerpts import excerpt

__all__ = ["MIME", "node_bundle", "part_bundle", "sheet_bundle", "show", "title_bundle"]

#: The private type under which a stored output carries the data of what it shows.
MIME = "application/vnd.stepcalc+json"

Bundle = tuple[dict[str, Any], dict[str, Any]]
Block = dict[str, Any]
Item = tuple[Entry | None, Block]

_UNSEEN: Block = {"kind": "unseen"}
"""Stands for the block of a record that a table shows; outputs hold the record with the table."""


def node_bundle(node: Any) -> dict[str, Any]:
    """Return what a node shows as the result of a cell."""
    cells.was_shown(node.sheet, node.entry)
    block = entry_block(node.sheet, node.entry, results_of(node.sheet))
    return _bundle(node.sheet, [(node.entry, block)])[0]


def part_bundle(sheet: Any, path: str) -> Bundle:
    """Return what a part shows as one output, figures in words."""
    return _bundle(sheet, _items(sheet, [_part(sheet, path)]))


def sheet_bundle(sheet: Any) -> Bundle:
    """Return what a sheet shows as one output: everything on it, figures in words."""
    return _bundle(sheet, _items(sheet, sheet._book.root.blocks))


def title_bundle(title: Any) -> Bundle:
    """Return what a title block shows, and stores for the printer."""
    fields = title.fields()
    filled = {name.replace("_", " "): value for name, value in fields.items() if value}
    width = max((len(name) for name in filled), default=0)
    text = "\n".join(f"{name:{width}}  {value}" for name, value in filled.items())
    rows = "".join(
        f"<tr><th scope='row'>{html.escape(name)}</th><td>{html.escape(value)}</td></tr>"
        for name, value in filled.items()
    )
    data = {"v": 1, "sheet": None, "title_block": fields, "blocks": [], "marks": {}}
    if title.revisions:
        data["revisions"] = [asdict(row) for row in title.revisions]
    shown = {"text/plain": text or "title block", MIME: data}
    if rows:
        shown["text/html"] = f"<table>{rows}</table>"
    return shown, {MIME: _volatile()}


def show(what: tuple[Any, ...]) -> None:
    """Show a sheet, a part, records outside of parts, or one node: outputs of the running cell.

    A node comes after what its cell wrote before it, so that a check never stands above its givens.

    Parameters
    ----------
    what : ("sheet", sheet, None), ("part", sheet, path), ("entries", sheet, records) or
        ("node", sheet, record)
    """
    kind, sheet, subject = what
    if kind == "part":
        blocks: list[Entry | Part] = [_part(sheet, subject)]
    elif kind == "sheet":
        blocks = sheet._book.root.blocks
    else:
        blocks = _up_to(sheet, subject) if kind == "node" else subject
    for data, metadata in _outputs(sheet, _items(sheet, blocks)):
        live_outputs.put(sheet, data, metadata, data[MIME]["marks"])


def _up_to(sheet: Any, record: Entry) -> list[Entry | Part]:
    """Return what the running cell wrote and has not shown, as far as a record; or it alone."""
    left = cells.unshown(sheet._book.root.blocks) if cells.is_watched(sheet) else []
    ends = [number for number, block in enumerate(left, 1) if block is record]
    return left[: ends[0]] if ends else [record]


def _outputs(sheet: Any, items: Iterable[Item]) -> Iterator[Bundle]:
    """Yield the outputs: runs of formulas together, a table or figure by itself."""
    run: list[Item] = []
    for item in items:
        if item[1]["kind"] not in ("table", "figure"):
            run.append(item)
            continue
        if any(block is not _UNSEEN for _, block in run):
            yield _bundle(sheet, run)
            run = []
        yield (_picture if item[1]["kind"] == "figure" else _table)(sheet, item, run)
        run = []
    if run:
        yield _bundle(sheet, run)


def _bundle(sheet: Any, items: Iterable[Item]) -> Bundle:
    items = list(items)
    seen = [(entry, block) for entry, block in items if block is not _UNSEEN]
    text = [text_of(sheet, entry, block) for entry, block in seen]
    data = {
        "text/latex": latex_of((sheet, entry, block) for entry, block in seen),
        "text/plain": "\n".join(filter(None, text)),
        MIME: _data(sheet, items),
    }
    return data, {MIME: _volatile()}


def _data(sheet: Any, items: list[Item]) -> dict[str, Any]:
    records = [entry for entry, _ in items if entry is not None]
    slots = [entry.slot for entry in records if entry.slot >= 0]
    data: dict[str, Any] = {
        "v": 1,
        "sheet": {"title": sheet.title, "id": sheet.title, "carry": sheet.carry,
                  "digits": sheet.digits},
        "title_block": None,
        "blocks": [block for _, block in items if block is not _UNSEEN],
        "marks": marks(sheet, slots),
        "records": excerpt(sheet, records),
    }  # fmt: skip
    made = [entry.path for entry in records if entry.slot >= 0 and _by_procedure(entry)]
    if made:
        data["procedures"] = made
    return data | {"stamp": stamp(data)}


def _by_procedure(entry: Entry) -> bool:
    return entry.kind != "given" and entry.cell is not None and entry.cell.by_procedure


def _volatile() -> dict[str, Any]:
    cell = cells.current_cell()
    return {
        "version": __version__,
        "cell": None if cell is None else cell.place,
        "count": None if cell is None else cell.count,
    }


def _picture(sheet: Any, item: Item, unseen: Sequence[Item] = ()) -> Bundle:
    figure = item[1]["data"]
    words = figure_alt(figure)
    data = {
        "image/png": base64.b64encode(draw_figure(figure, "png")).decode(),
        "text/plain": words,
        MIME: _data(sheet, [*unseen, item]),
    }
    return data, {MIME: _volatile(), "image/png": {"alt": words}}


def _table(sheet: Any, item: Item, unseen: Sequence[Item] = ()) -> Bundle:
    block = item[1]
    head = "".join(f"<th scope='col'>{html.escape(cell)}</th>" for cell in block["header"])
    body = "".join(
        "<tr>" + "".join(f"<td>{html.escape(cell_text(cell))}</td>" for cell in row) + "</tr>"
        for row in block["rows"]
    )
    caption = f"<caption>{html.escape(block['caption'])}</caption>" if block["caption"] else ""
    data = {
        "text/html": f"<table>{caption}<thead><tr>{head}</tr></thead><tbody>{body}</tbody></table>",
        "text/plain": text_of(sheet, None, block),
        MIME: _data(sheet, [*unseen, item]),
    }
    return data, {MIME: _volatile()}


def _part(sheet: Any, path: str) -> Part:
    part: Part = sheet._book.root
    for title in path.split("/") if path else ():
        part = part.child(title)
    return part


def _is_below_tables(part: Part | None) -> bool:
    """Tell whether a part, or one above it, prints its tables only."""
    return part is not None and (part.tables_only or _is_below_tables(part.parent))


def _items(sheet: Any, blocks: Iterable[Entry | Part]) -> Iterator[Item]:
    """Yield records with their blocks, headings without a record; take note that they are shown."""
    results, in_tables = results_of(sheet), slots_in_tables(sheet)
    for block in blocks:
        if isinstance(block, Part):
            if not _is_below_tables(block.parent):
                yield None, heading_block(block)
            yield from _items(sheet, block.blocks)
        else:
            cells.was_shown(sheet, block)
            hidden = block.slot in in_tables
            yield block, _UNSEEN if hidden else entry_block(sheet, block, results)
