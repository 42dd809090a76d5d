"""The givens of a proof as one table: they stand on the sheet above already, each in full."""

from __future__ import annotations

from itertools import groupby
from typing import TYPE_CHECKING, Any

from stepcalc.render.block_parts import equation

if TYPE_CHECKING:
    from stepcalc.render.dialects import Layout

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
        Few short givens stand in one row, others in a column, one or two long ones by themselves.
    """
    found: list[dict[str, Any]] = []
    for plain, run in groupby(blocks, _is_plain):
        items = list(run)
        short = [given for given in items if len(given.get("description", "")) <= _WIDEST]
        if not plain or len(items) < _LEAST:
            found += items
        elif _LEAST <= len(short) <= _ACROSS and len(items) - len(short) < _LEAST:
            found += [_row(short), *(given for given in items if given not in short)]
        else:
            found.append(_column(items))
    return found


def _is_plain(block: dict[str, Any]) -> bool:
    return block["kind"] == "given" and not any(block.get(key) for key in _OWN_LINES)


def _row(givens: list[dict[str, Any]]) -> dict[str, Any]:
    return {
        "kind": "table",
        "header": [given.get("description", "") for given in givens],
        "rows": [[_equation(given) for given in givens]],
        "caption": _sources(givens),
        "align": "l" * len(givens),
    }


def _column(givens: list[dict[str, Any]]) -> dict[str, Any]:
    rows = [
        [_equation(given), given.get("description", ""), given.get("source", "")]
        for given in givens
    ]
    return {
        "kind": "table", "header": ["given", "meaning", "source"], "rows": rows,
        "caption": "Givens", "align": "lll",
    }  # fmt: skip


def _equation(given: dict[str, Any]) -> Layout:
    return equation(given["symbol"], given["value"])


def _sources(givens: list[dict[str, Any]]) -> str:
    sources = dict.fromkeys(given.get("source", "") for given in givens)
    return f"Givens: {'; '.join(source for source in sources if source)}"
