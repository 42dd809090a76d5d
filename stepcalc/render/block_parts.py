"""Pieces that the blocks of a sheet share: numbers of blocks, warnings."""

from __future__ import annotations

from typing import Any

from stepcalc.render.dialects import Layout, LayoutDialect, Speech, replay
from stepcalc.render.sheet_values import values_of
from stepcalc.render.walker import Walker

LAYOUT = Walker(LayoutDialect())
_SPEECH = Speech()


def words_of(layout: Layout) -> str:
    """Return a formula in words, for an alternative text."""
    return str(replay(layout, _SPEECH)).strip()


def equation(left: Layout, *right: Layout | None) -> Layout:
    """Return ``left = right = ...`` as one layout; None parts are left out."""
    return ["rel", left, [["=", part] for part in right if part is not None]]


def common_fields(node: Any) -> dict[str, Any]:
    """Return the fields that every block of a node has."""
    entry = node.entry
    return {
        "id": block_id(entry),
        "name": entry.name,
        "warnings": values_of(node.sheet).warnings(node),
        "stale": entry.slot in node.sheet._book.stale,
    }


def block_id(entry: Any) -> str:
    """Return the number by which a block can be cited, ``2.1-3``: part, place in the part."""
    place = 0
    for block in entry.part.blocks:
        if getattr(block, "slot", -1) >= 0:
            place += 1
        if block is entry:
            break
    number = entry.part.number
    return f"{number}-{place}" if number else str(place)


def value_layout(node: Any) -> Layout:
    """Return the value of a named operand as it stands on the sheet."""
    if not hasattr(node, "info"):
        return ["text", node.value]
    number, unit = values_of(node.sheet).of(node)
    if number == "undefined":
        return ["text", number]
    if node.entry.kind == "given":
        _, own = node.sheet._typed_of(node.slot)
        number, unit = node.shown, own.text
    return LAYOUT.value(number, unit)
