"""A formula as it is written, without values, for a cell of a table."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from stepcalc.sheet.ports import call

__all__ = ["FormulaCell", "formula_cell", "symbol_cell"]


@dataclass(frozen=True)
class FormulaCell:
    """A formula in a cell.

    Parameters
    ----------
    layout : list
        How it is set, in the vocabulary of :mod:`stepcalc.render.dialects.vocabulary`.
    words : str
        The same on one line of text.
    """

    layout: list[Any]
    words: str

    def __str__(self) -> str:
        """Return the formula on one line."""
        return self.words


def formula_cell(*rows: Sequence[Sequence[Any]], units_of: Any = None) -> FormulaCell:
    """Return formulas and words, row upon row, as one cell.

    Parameters
    ----------
    *rows : sequence of sequences of Operand, Condition or str
        A row is a sequence of pieces between which a printer may break it; a piece is a sequence
        of formulas and words.
    units_of : Operand, optional
        A last row says in which units this formula takes bare numbers, if it has any.
    """
    return FormulaCell(*call("formula_layout", rows, units_of))


def symbol_cell(spelling: str) -> FormulaCell:
    """Return a symbol as a cell.

    Parameters
    ----------
    spelling : str
        Such as ``phi_f``.
    """
    return FormulaCell(["sym", spelling], spelling)
