"""Fingerprints of nodes: so that an exporter can see that a stored output is out of date.

Each stored output says, for every node it shows, a fingerprint of the node and those of the nodes
that it uses.  Where the notebook shows another fingerprint of a used node elsewhere, the output no
longer follows from what is shown.
"""

from __future__ import annotations

import hashlib
import json
from typing import Any

from stepcalc.sheet.entry_codec import data_of

__all__ = ["mark", "marks"]


def mark(sheet: Any, slot: int) -> str:
    """Return the fingerprint of a node: its definition and its value."""
    entry = sheet._book.entries[slot]
    data = [data_of(sheet, entry), repr(sheet._values[slot])]
    text = json.dumps(data, ensure_ascii=False, sort_keys=True)
    return hashlib.sha256(text.encode()).hexdigest()[:16]


def marks(sheet: Any, slots: list[int]) -> dict[str, Any]:
    """Return for each node, by path, its fingerprint and those of the nodes that it uses."""
    book = sheet._book
    found: dict[str, Any] = {}
    for slot in slots:
        uses = {book.entries[used].path: mark(sheet, used) for used in sorted(book.uses(slot))}
        found[book.entries[slot].path] = {"own": mark(sheet, slot), "uses": uses}
    return found
