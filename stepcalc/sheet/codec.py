"""A sheet as JSON and back: the trees, not source text; lossless, versioned, never executed.

``entries`` holds the records with a value in an order in which each follows those it uses;
``layout`` holds the parts, notes, tables and figures and where the records stand among them.
"""

from __future__ import annotations

import json
import math
from collections.abc import Iterable
from typing import Any

from stepcalc.errors import SheetFileError, StepcalcError
from stepcalc.expr.codec import read_tree, read_typed_number, typed_data
from stepcalc.sheet import entry_codec, state
from stepcalc.sheet.entries import (
    ConclusionEntry,
    Entry,
    FigureEntry,
    NoteEntry,
    Part,
    TableEntry,
)
from stepcalc.sheet.formula_cell import FormulaCell
from stepcalc.sheet.nodes import handle
from stepcalc.sheet.writing import figure_of, table_of
from stepcalc.units.info import read_unit
from stepcalc.units.registry import Q_

__all__ = ["FORMAT", "VERSION", "dump", "layout_of", "load"]

FORMAT = "stepcalc sheet"
VERSION = 1
_LONGEST = 50_000_000


def dump(sheet: Any) -> str:
    """Return the sheet as JSON text."""
    book = sheet._book
    data = {
        "format": FORMAT,
        "version": VERSION,
        "title": sheet.title,
        "carry": sheet.carry,
        "digits": sheet.digits,
        "fold": sheet.fold,
        **({"feet_inches": True} if sheet.feet_inches else {}),
        "entries": [
            entry_codec.data_of(sheet, book.entries[slot]) for slot in book.sorted_slots()
        ],
        "layout": layout_of(book.root.blocks),
        "stale": {book.entries[slot].path: text for slot, text in book.stale.items()
                  if book.entries[slot] is not None},
    }  # fmt: skip
    return json.dumps(data, ensure_ascii=False, allow_nan=False, separators=(",", ":"))


def layout_of(blocks: Iterable[Any]) -> list[Any]:
    """Return parts, paths of records, and what has no value, as the JSON holds them."""
    found: list[Any] = []
    for block in blocks:
        if isinstance(block, Part):
            only = {"tables_only": True} if block.tables_only else {}
            found.append({"part": block.title, "blocks": layout_of(block.blocks), **only})
        elif block.slot >= 0:
            found.append(block.path)
        else:
            found.append(_block_data(block))
    return found


def _block_data(block: Any) -> dict[str, Any]:
    if block.kind == "note":
        return {"note": block.text}
    if block.kind == "table":
        rows = [[_cell_data(cell) for cell in row] for row in block.rows]
        told = {"instead": True} if block.instead else {}
        return {"table": rows, "header": block.header, "caption": block.caption, **told}
    if block.kind == "figure":
        return {"figure": block.data, "caption": block.caption}
    return {
        "conclusion": block.text, "checked": list(block.checked),
        "not_checked": list(block.not_checked), "recommendation": list(block.recommendation),
    }  # fmt: skip


def _cell_data(cell: Any) -> Any:
    if isinstance(cell, FormulaCell):
        return {"formula": cell.layout, "words": cell.words}
    if hasattr(cell, "sheet"):
        return {"node": cell.path}
    if hasattr(cell, "_units"):
        number = cell.magnitude if hasattr(cell, "_magnitude") else 1
        return {
            "quantity": [
                typed_data(number),
                read_unit(Q_(1, cell.units) if hasattr(cell, "_magnitude") else cell).name,
            ]
        }
    return cell


def load(text: str) -> Any:
    """Return the sheet of a JSON text.

    Raises
    ------
    SheetFileError
        If the text is not the JSON of a sheet, or is damaged; the message says where.
    """
    data = _parse(text)
    place = "the sheet"
    try:
        sheet = _empty(data)
        for item in _list(data["entries"], "entries"):
            path = item.get("path") if isinstance(item, dict) else item
            place = f"entry {str(path)[:60]!r}"
            _add_entry(sheet, item)
        place = "layout"
        _place_blocks(sheet, sheet._book.root, _list(data["layout"], "layout"), 0)
        _complete(sheet, data)
    except StepcalcError as error:
        message = f"the JSON of the sheet cannot be read at {place}: {error}"
        raise SheetFileError(message) from error
    except (KeyError, TypeError, ValueError, AttributeError, IndexError, RecursionError,
            OverflowError) as error:  # fmt: skip
        message = f"the JSON of the sheet is damaged at {place}: {type(error).__name__} {error}"
        raise SheetFileError(message[:400]) from error
    return sheet


def _refuse_constant(name: str) -> Any:
    message = f"the number {name} stands in the JSON of the sheet; want finite numbers"
    raise SheetFileError(message)


def _parse(text: Any) -> dict[str, Any]:
    if not isinstance(text, str) or len(text) > _LONGEST:
        message = "the JSON of a sheet is a text of at most 50 million characters"
        raise SheetFileError(message)
    try:
        data = json.loads(text, parse_constant=_refuse_constant)
    except (ValueError, RecursionError) as error:
        if isinstance(error, SheetFileError):
            raise
        message = f"this is not the JSON of a sheet, or it was cut off: {error}"
        raise SheetFileError(message) from error
    if not isinstance(data, dict) or data.get("format") != FORMAT:
        message = f"this JSON is not a sheet: want an object with format {FORMAT!r}"
        raise SheetFileError(message)
    if data.get("version") != VERSION or isinstance(data["version"], bool):
        message = (
            f"the sheet is of version {str(data.get('version'))[:20]} of the format; this release "
            f"reads version {VERSION}"
        )
        raise SheetFileError(message)
    return data


def _empty(data: dict[str, Any]) -> Any:
    from stepcalc.sheet.sheet import Sheet

    feet_inches = data.get("feet_inches", False)
    if not isinstance(data["fold"], bool) or not isinstance(feet_inches, bool):
        raise SheetFileError("fold and feet_inches of the sheet are true or false")
    if isinstance(data["digits"], bool):
        raise SheetFileError("digits of the sheet is a number")
    return Sheet(
        data["title"], carry=data["carry"], digits=data["digits"], fold=data["fold"],
        feet_inches=feet_inches,
    )  # fmt: skip


def _list(value: Any, what: str) -> list[Any]:
    if not isinstance(value, list):
        message = f"{what} is a list, not {str(value)[:60]!r}"
        raise SheetFileError(message)
    return value


def text_field(value: Any, what: str) -> str:
    """Return a text of the JSON, or refuse what is none."""
    if not isinstance(value, str):
        message = f"{what} is a text, not {str(value)[:60]!r}"
        raise SheetFileError(message)
    return value


def _add_entry(sheet: Any, item: Any) -> None:
    if not isinstance(item, dict):
        message = f"an entry is an object, not {str(item)[:60]!r}"
        raise SheetFileError(message)
    book = sheet._book
    name, path = text_field(item["name"], "name"), text_field(item["path"], "path")
    if path in book.by_path:
        message = f"{path!r} is defined twice"
        raise SheetFileError(message)

    def names(reference: Any) -> Any:
        slot = book.by_path.get(text_field(reference, "a name in a formula"))
        if slot is None or book.entries[slot].kind == "check":
            message = f"the formula uses {reference!r}, which no earlier entry defines"
            raise SheetFileError(message)
        return handle(sheet, book.entries[slot])

    entry, base = entry_codec.entry_of(sheet, item, lambda tree: read_tree(tree, names), names)
    slot = len(book.entries)
    entry.place(name, path, book.root, slot, None)
    book.entries.append(entry)
    book.by_path[path] = slot
    if entry.kind == "external":
        book.foreign = True
    else:
        book.by_name.setdefault(name, []).append(slot)
    sheet._values.append(base)
    if entry.kind not in ("given", "external"):
        sheet._values[slot] = state.value_in(sheet, entry)[0]


def _place_blocks(sheet: Any, part: Part, blocks: list[Any], depth: int) -> None:
    book = sheet._book
    if depth > 40:
        message = "parts nest more than 40 deep"
        raise SheetFileError(message)
    for block in blocks:
        if isinstance(block, str):
            slot = book.by_path.get(block)
            entry = None if slot is None else book.entries[slot]
            own = None if entry is None else (
                f"{part.path}/{entry.name}" if part.path else entry.name
            )  # fmt: skip
            if entry is None or own != block or entry in part.blocks or entry.kind == "external":
                message = f"the layout places {block[:60]!r}, which is not an entry of this part"
                raise SheetFileError(message)
            entry.part = part
            part.blocks.append(entry)
        elif isinstance(block, dict) and "part" in block:
            title = text_field(block["part"], "the title of a part")
            if (
                not title.strip()
                or "/" in title
                or any(isinstance(other, Part) and other.title == title for other in part.blocks)
            ):
                message = f"the part {title[:60]!r} stands twice, or its title is not a plain line"
                raise SheetFileError(message)
            inner = _list(block["blocks"], "blocks of a part")
            below = part.child(title)
            below.tables_only = block.get("tables_only") is True
            _place_blocks(sheet, below, inner, depth + 1)
        else:
            new = _block_of(sheet, block)
            new.place("", part.path, part, -1, None)
            part.blocks.append(new)


def _block_of(sheet: Any, block: Any) -> Entry:
    if not isinstance(block, dict):
        message = f"a block of the layout is a path or an object, not {str(block)[:60]!r}"
        raise SheetFileError(message)
    if "note" in block:
        return NoteEntry(text_field(block["note"], "a note"))
    if "table" in block:
        header = [text_field(cell, "a heading") for cell in _list(block["header"], "header")]
        rows = [[_cell_of(sheet, cell) for cell in _list(row, "a row")]
                for row in _list(block["table"], "table")]  # fmt: skip
        return TableEntry(
            *table_of(header, rows, sheet._family), text_field(block["caption"], "caption"),
            block.get("instead") is True,
        )  # fmt: skip
    if "figure" in block:
        return FigureEntry(figure_of(block["figure"]), text_field(block["caption"], "caption"))
    if "conclusion" in block:
        scope = [
            tuple(text_field(line, key) for line in _list(block[key], key))
            for key in ("checked", "not_checked", "recommendation")
        ]
        return ConclusionEntry(text_field(block["conclusion"], "conclusion"), *scope)
    message = f"a block of the layout is of an unknown kind: {list(block)[:4]}"
    raise SheetFileError(message[:200])


def _cell_of(sheet: Any, cell: Any) -> Any:
    if isinstance(cell, dict) and "node" in cell:
        slot = sheet._book.by_path[text_field(cell["node"], "a cell")]
        return handle(sheet, sheet._book.entries[slot])
    if isinstance(cell, dict) and "formula" in cell:
        return FormulaCell(_list(cell["formula"], "a formula"), text_field(cell["words"], "words"))
    if isinstance(cell, dict) and "quantity" in cell:
        number, unit = cell["quantity"]
        info = read_unit(text_field(unit, "a unit"))
        return Q_(read_typed_number(number), info.unit)
    if isinstance(cell, str) or (isinstance(cell, int | float) and math.isfinite(cell)):
        return cell
    message = f"a cell of a table is a text or a number, not {str(cell)[:60]!r}"
    raise SheetFileError(message)


def _complete(sheet: Any, data: dict[str, Any]) -> None:
    book = sheet._book
    placed = {id(entry) for entry in book.in_order()}
    for entry in book.entries:
        if entry.kind != "external" and id(entry) not in placed:
            message = f"{entry.path!r} is an entry, but the layout does not place it"
            raise SheetFileError(message)
    stale = data["stale"]
    if not isinstance(stale, dict):
        message = "stale is an object of paths and reasons"
        raise SheetFileError(message)
    for path, text in stale.items():
        book.stale[book.by_path[path]] = text_field(text, "a reason")
