"""Rows as lines of text with aligned columns."""

from __future__ import annotations

from collections.abc import Sequence

__all__ = ["columns"]


def columns(rows: Sequence[Sequence[str]]) -> list[str]:
    """Return the rows as lines of text with aligned columns."""
    widths = [max(map(len, column)) for column in zip(*rows, strict=True)]
    return [
        "  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip()
        for row in rows
    ]
