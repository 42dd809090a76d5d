"""Excerpts: what each output of a notebook shows of a sheet; together they give the sheet back.

An excerpt holds the records of some blocks and their place among the parts. It is the JSON that
:mod:`stepcalc.sheet.codec` reads, cut up; reading it executes nothing.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any

from stepcalc.errors import SheetFileError
from stepcalc.sheet import codec, entry_codec
from stepcalc.sheet.entries import Part

__all__ = ["assembled", "excerpt"]

_LONGEST = 5_000_000
_DEEPEST = 40


def excerpt(sheet: Any, blocks: Iterable[Any]) -> str:
    """Return the JSON text of some blocks of a sheet.

    Parameters
    ----------
    sheet : Sheet
    blocks : iterable of parts and records of the sheet
    """
    book = sheet._book
    layout: list[Any] = []
    shown: set[int] = set()
    for block in blocks:
        inner = codec.layout_of([block])
        shown |= {entry.slot for entry in _records(block) if entry.slot >= 0}
        part = block.parent if isinstance(block, Part) else block.part
        layout.append({"in": "" if part is None else part.path, "blocks": inner})
    foreign = {
        used
        for slot in shown
        for used in book.uses(slot)
        if book.entries[used] is not None and book.entries[used].kind == "external"
    }
    entries = [
        entry_codec.data_of(sheet, book.entries[slot])
        for slot in book.sorted_slots()
        if slot in shown or slot in foreign
    ]
    told = {"feet_inches": True} if sheet.feet_inches else {}
    data = {"fold": sheet.fold, "entries": entries, "layout": layout, **told}
    return json.dumps(data, ensure_ascii=False, separators=(",", ":"))


def _records(block: Any) -> Iterator[Any]:
    if isinstance(block, Part):
        for inner in block.blocks:
            yield from _records(inner)
    else:
        yield block


def assembled(title: str, carry: str, digits: int, excerpts: Sequence[Any]) -> Any:
    """Return the sheet that excerpts give, in the order in which they were shown.

    Raises
    ------
    SheetFileError
        If an excerpt is damaged, or uses what none of them holds.
    """
    entries: dict[str, Any] = {}
    layout: list[Any] = []
    fold, feet_inches = False, False
    for text in excerpts:
        data = _read(text)
        fold = bool(data.get("fold", False))
        feet_inches = bool(data.get("feet_inches", False))
        for entry in _items(data, "entries"):
            if isinstance(entry, Mapping):
                entries.setdefault(str(entry.get("path")), entry)
        for piece in _items(data, "layout"):
            if not isinstance(piece, Mapping) or not isinstance(piece.get("in"), str):
                raise SheetFileError("an excerpt of a sheet does not say to which part it belongs")
            place = layout
            for name in piece["in"].split("/") if piece["in"] else ():
                place = _part_in(place, name)
            _merge(place, _items(piece, "blocks"), 0)
    whole = {
        "format": codec.FORMAT, "version": codec.VERSION, "title": title, "carry": carry,
        "digits": digits, "fold": fold, "entries": list(entries.values()), "layout": layout,
        "stale": {}, "feet_inches": feet_inches,
    }  # fmt: skip
    return codec.load(json.dumps(whole, ensure_ascii=False))


def _read(text: Any) -> Mapping[str, Any]:
    if not isinstance(text, str) or len(text) > _LONGEST:
        raise SheetFileError("an excerpt of a sheet is a text of at most 5 million characters")
    try:
        data = json.loads(text)
    except (ValueError, RecursionError) as error:
        raise SheetFileError(f"an excerpt of a sheet is damaged: {error}"[:300]) from error
    if not isinstance(data, Mapping):
        raise SheetFileError("an excerpt of a sheet is no object")
    return data


def _items(data: Mapping[str, Any], key: str) -> list[Any]:
    items = data.get(key)
    if not isinstance(items, list):
        raise SheetFileError(f"{key} of an excerpt of a sheet is no list")
    return items


def _part_in(blocks: list[Any], title: str) -> list[Any]:
    """Return the blocks of a part, which is made when there is none of this title."""
    for block in blocks:
        if isinstance(block, dict) and block.get("part") == title:
            return _items(block, "blocks")
    made: dict[str, Any] = {"part": title, "blocks": []}
    blocks.append(made)
    return made["blocks"]  # type: ignore[no-any-return]


def _merge(place: list[Any], blocks: list[Any], depth: int) -> None:
    """Add blocks to those of a part; what an earlier output showed already is not added again."""
    if depth > _DEEPEST:
        raise SheetFileError(f"parts of an excerpt nest more than {_DEEPEST} deep")
    for block in blocks:
        if isinstance(block, dict) and isinstance(block.get("part"), str):
            _merge(_part_in(place, block["part"]), _items(block, "blocks"), depth + 1)
        elif block not in place:
            place.append(block)
