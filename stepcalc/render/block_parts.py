"""Pieces that the blocks of a sheet share: numbers of blocks, warnings."""

from __future__ import annotations

from typing import Any

from stepcalc.render.dialects import Layout, LayoutDialect, Speech, spell
from stepcalc.render.plan_lengths import value_as_shown
from stepcalc.render.sheet_values import values_of
from stepcalc.render.walker import Walker

LAYOUT = Walker(LayoutDialect())
_SPEECH = Speech()


def words_of(layout: Layout) -> str:
    """Return a formula in words, for an alternative text."""
    return str(spell(layout, _SPEECH)).strip()


def equation(left: Layout, *right: Layout | None) -> Layout:
    """Return ``left = right = ...`` as one layout; None parts are left out."""
    return ["rel", left, [["=", part] for part in right if part is not None]]


def common_fields(node: Any) -> dict[str, Any]:
    """Return the fields that every block of a node has."""
    entry = node.entry
    return {
        "id": block_id(node.sheet, entry),
        "name": entry.name,
        "warnings": values_of(node.sheet).warnings(node),
        "stale": entry.slot in node.sheet._book.stale,
    }


def block_id(sheet: Any, entry: Any) -> str:
    """Return the number by which a block can be cited, ``2.1-3``: part, place in the part."""
    part = entry.part
    places = values_of(sheet).places
    blocks, known = places.get(part, ((), {}))
    if blocks != part.blocks:
        slots = [block.slot for block in part.blocks if getattr(block, "slot", -1) >= 0]
        known = {slot: place for place, slot in enumerate(slots, 1)}
        places[part] = (list(part.blocks), known)
    place = known.get(entry.slot, 0)
    return f"{part.number}-{place}" if part.parent is not None else str(place)


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
    return value_as_shown(LAYOUT, node, number, unit)
