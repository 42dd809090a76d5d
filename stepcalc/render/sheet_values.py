"""The numbers of a sheet as it prints them, remembered while they do not change."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from stepcalc.render.shown import short_number
from stepcalc.units.numbers import shown_text, typed_text

_LONG = 10


class SheetValues:
    """What stands for each named operand in the substitutions of one sheet.

    Parameters
    ----------
    sheet : Sheet
    """

    __slots__ = ("_book", "_scanned", "_texts", "_warns", "sheet")

    def __init__(self, sheet: Any) -> None:
        self.sheet = sheet
        self._texts: dict[int, tuple[float, Any, Any, tuple[str, str]]] = {}
        self._book: Any = None
        self._scanned = 0
        self._warns = False

    @property
    def numbers(self) -> Sequence[float]:
        """Values in base units by slot."""
        return self.sheet._values  # type: ignore[no-any-return]

    @property
    def digits(self) -> int:
        """Significant digits of the sheet."""
        return self.sheet.digits  # type: ignore[no-any-return]

    def of(self, node: Any) -> tuple[str, str]:
        """Return number and unit text of a named operand.

        A handle keeps the unit in which its formula was written; where the sheet has another
        one by now, the number is converted, so that the substitution stays true.
        """
        sheet = self.sheet
        slot = node.slot
        value = sheet._values[slot]
        entry = sheet._book.entries[slot]
        known = self._texts.get(slot)
        if known is not None and known[0] == value and known[1] is entry and known[2] is node.info:
            return known[3]
        info = node.info
        text = ("undefined", "") if value != value else (self._spell(entry, value, info), info.text)
        self._texts[slot] = (value, entry, info, text)
        return text

    def _spell(self, entry: Any, value: float, info: Any) -> str:
        kind = entry.kind
        if kind == "given":
            typed, own = self.sheet._typed_of(entry.slot)
            if own is info:
                return typed_text(typed)
            return short_number(value / info.factor, self.sheet.digits)
        number = value / info.factor
        if kind == "lookup":
            text = typed_text(float(f"{number:.12g}"))
            return text if len(text) <= _LONG else shown_text(number, self.sheet.digits)
        return shown_text(number, getattr(entry, "digits", None) or self.sheet.digits)

    def warnings(self, node: Any) -> list[str]:
        """Return what a reader must be told about a node; quick when no sheet part can warn."""
        return node.warnings if self._may_warn() else []

    def _may_warn(self) -> bool:
        book = self.sheet._book
        if book.stale or self.sheet.carry == "shown":
            return True
        entries = book.entries
        if book is not self._book or book.jumbled:
            self._book, self._scanned, self._warns = book, 0, False
        if self._scanned < len(entries):
            self._warns = self._warns or any(map(_can_warn, entries[self._scanned :]))
            self._scanned = len(entries)
        return self._warns


def _can_warn(entry: Any) -> bool:
    if entry is None:
        return False
    kind = entry.kind
    if kind == "step":
        return bool(entry.valid)
    return kind in ("external", "computed", "lookup") or bool(getattr(entry, "within", None))


def values_of(sheet: Any) -> SheetValues:
    """Return the printed values of a sheet; they are kept with it."""
    kept: SheetValues | None = sheet.__dict__.get("_printed_values")
    if kept is None or kept.sheet is not sheet:
        kept = sheet.__dict__["_printed_values"] = SheetValues(sheet)
    return kept
