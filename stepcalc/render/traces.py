"""From where the values of a sheet come, and to where they go: by the numbers of its blocks."""

from __future__ import annotations

from typing import Any

from stepcalc.render.block_parts import block_id
from stepcalc.render.node_blocks import Block, listed_block
from stepcalc.sheet.nodes import handle

__all__ = ["elsewhere", "uses_of"]

OTHER_SHEET = "::"
"""Stands between the title of another sheet and the number of a block there."""


def uses_of(sheet: Any) -> dict[str, list[str]]:
    """Return for each numbered block the numbers of the blocks whose values it uses.

    Parameters
    ----------
    sheet : Sheet

    Returns
    -------
    dict of str to list of str
        A block of another sheet is ``title::number``. Blocks that use nothing are left out.
    """
    book = sheet._book
    found: dict[str, list[str]] = {}
    for entry in book.entries:
        if entry is None or entry.kind in ("given", "external"):
            continue
        used = [_number(sheet, book.entries[slot]) for slot in book.uses(entry.slot)]
        named = [number for number in dict.fromkeys(used) if number]
        if named:
            found[block_id(sheet, entry)] = named
    return found


def _number(sheet: Any, entry: Any) -> str:
    if entry is None:
        return ""
    if entry.kind != "external":
        return block_id(sheet, entry)
    source = sheet._sources.get(entry.path)
    if source is None:
        return ""
    origin, slot = source
    other = origin._book.entries[slot]
    return f"{origin.title}{OTHER_SHEET}{block_id(origin, other)}" if other is not None else ""


def elsewhere(sheet: Any, blocks: list[Block]) -> list[Block]:
    """Return the blocks of those quantities of a sheet that have no line of their own in it.

    Parameters
    ----------
    sheet : Sheet
    blocks : list of dict
        What is printed of the sheet.
    """
    shown = {block["id"] for block in blocks if block.get("id")}
    hidden = [
        entry
        for entry in sheet._book.entries
        if entry is not None
        and entry.kind not in ("external", "check")
        and block_id(sheet, entry) not in shown
    ]
    return [listed_block(handle(sheet, entry)) for entry in hidden]
