"""The givens of a proof as one table: they stand on the sheet above already, each in full."""

from __future__ import annotations

from itertools import groupby
from typing import Any

from stepcalc.render.block_parts import equation

__all__ = ["gathered"]

_LEAST = 3
_ACROSS = 7
_WIDEST = 18
_OWN_LINES = ("assumed", "choices", "warnings", "stale")


def gathered(blocks: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """Return the blocks with every run of three givens or more as a table.

    Parameters
    ----------
    blocks : list of dict
        Of a proof; see :mod:`stepcalc.render.blocks`.

    Returns
    -------
    list of dict
        A run of few short givens stands in one row, another in a column.
    """
    found: list[dict[str, Any]] = []
    for plain, run in groupby(blocks, _is_plain):
        items = list(run)
        found += [_table(items)] if plain and len(items) >= _LEAST else items
    return found


def _is_plain(block: dict[str, Any]) -> bool:
    return block["kind"] == "given" and not any(block.get(key) for key in _OWN_LINES)


def _table(givens: list[dict[str, Any]]) -> dict[str, Any]:
    cells = [equation(given["symbol"], given["value"]) for given in givens]
    words = [given.get("description", "") for given in givens]
    if len(givens) <= _ACROSS and all(len(text) <= _WIDEST for text in words):
        return {
            "kind": "table", "header": words, "rows": [cells], "caption": _sources(givens),
            "align": "l" * len(givens),
        }  # fmt: skip
    rows = [
        [cell, text, given.get("source", "")]
        for cell, text, given in zip(cells, words, givens, strict=True)
    ]
    return {
        "kind": "table", "header": ["given", "meaning", "source"], "rows": rows,
        "caption": "Givens", "align": "lll",
    }  # fmt: skip


def _sources(givens: list[dict[str, Any]]) -> str:
    sources = dict.fromkeys(given.get("source", "") for given in givens)
    return f"Givens: {'; '.join(source for source in sources if source)}"
