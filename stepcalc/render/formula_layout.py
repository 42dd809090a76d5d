"""Formulas as they are written, without values: for lists of what a calculation uses."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from stepcalc.render.block_parts import LAYOUT
from stepcalc.render.dialects import Layout, Text, spell
from stepcalc.render.step_parts import unit_row

__all__ = ["formula_layout"]

NEW_ROW: Layout = ["text", "\n"]
"""Stands between two rows of one cell."""
_TEXT = Text()


def formula_layout(
    rows: Sequence[Sequence[Sequence[Any]]], units_of: Any = None
) -> tuple[Layout, str]:
    """Return rows of formulas and words as one layout, and on one line of text.

    Parameters
    ----------
    rows : sequence of sequences of sequences of Operand, Condition or str
        A piece of a row stays together if it can.
    units_of : Operand, optional
        A formula of bare numbers, whose units are told in a last row.

    Returns
    -------
    layout : list
        Rows have :data:`NEW_ROW` between them.
    words : str
    """
    laid = [[_piece(piece) for piece in row] for row in rows]
    units = None if units_of is None else unit_row(units_of, LAYOUT)
    if units is not None:
        laid.append([["row", [["text", "with "], units]]])
    words = "; ".join(" ".join(str(spell(piece, _TEXT)).strip() for piece in row) for row in laid)
    layout = list(laid[0])
    for row in laid[1:]:
        layout += [NEW_ROW, *row]
    return (layout[0] if len(layout) == 1 else ["row", layout]), words


def _piece(items: Sequence[Any]) -> Layout:
    shown = [["text", item] if isinstance(item, str) else LAYOUT.formula(item) for item in items]
    return shown[0] if len(shown) == 1 else ["row", shown]
