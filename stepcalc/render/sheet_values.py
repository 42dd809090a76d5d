"""The numbers of a sheet as it prints them, remembered while they do not change."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from stepcalc.render.shown import short_number
from stepcalc.units.numbers import shown_text, typed_measure, typed_text

_LONG = 10


class SheetValues:
    """What stands for each named operand in the substitutions of one sheet.

    Parameters
    ----------
    sheet : Sheet

    Attributes
    ----------
    numbers : sequence of float
        Values in base units by slot.
    digits : int
        Significant digits of the sheet.
    """

    __slots__ = (
        "_book", "_scanned", "_texts", "_warns", "digits", "may_remember", "numbers", "places",
        "sheet", "spelled",
    )  # fmt: skip

    numbers: Sequence[float]
    digits: int

    def __init__(self, sheet: Any) -> None:
        self.sheet = sheet
        self.digits = sheet.digits
        self.numbers = sheet._values
        self._texts: dict[int, tuple[float, tuple[str, str]]] = {}
        self.spelled: dict[int, tuple[float, Any]] = {}
        self.may_remember = True
        #: places of the blocks of a part, with the blocks for which they were counted
        self.places: dict[Any, tuple[list[Any], dict[int, int]]] = {}
        self._book: Any = None
        self._scanned = 0
        self._warns = False
        self.renew()

    def renew(self) -> None:
        """Forget what a cell that was run again may have changed."""
        sheet = self.sheet
        book = sheet._book
        self.numbers = sheet._values
        if book is not self._book or book.jumbled or sheet.digits != self.digits:
            self.digits = sheet.digits
            self._texts.clear()
            self.spelled.clear()
            self.may_remember = not book.jumbled
            self._book, self._scanned, self._warns = book, 0, False

    def of(self, node: Any) -> tuple[str, str]:
        """Return number and unit text of a named operand.

        A handle keeps the unit in which its formula was written; where the sheet has another
        one by now, the number is converted, so that the substitution stays true.
        """
        slot = node.slot
        value = self.numbers[slot]
        known = self._texts.get(slot)
        if known is not None and known[0] == value:
            return known[1]
        book, info = self.sheet._book, node.info
        entry = book.entries[slot]
        text = ("undefined", "") if value != value else (self._spell(entry, value, info), info.text)
        if self.may_remember:
            self._texts[slot] = (value, text)
        return text

    def _spell(self, entry: Any, value: float, info: Any) -> str:
        kind = entry.kind
        if kind == "given":
            typed, own = self.sheet._typed_of(entry.slot)
            if own is info:
                return typed_measure(typed, own.text)
            return short_number(value / info.factor, self.digits)
        number = value / info.factor
        if kind == "lookup":
            text = typed_text(float(f"{number:.12g}"))
            return text if len(text) <= _LONG else shown_text(number, self.digits)
        if kind == "step" and entry.whole:
            return typed_text(round(number))
        return shown_text(number, getattr(entry, "digits", None) or self.digits)

    def warnings(self, node: Any) -> list[str]:
        """Return what a reader must be told about a node; quick when no sheet part can warn."""
        return node.warnings if self.may_warn() else []

    def may_warn(self) -> bool:
        """Tell whether anything on the sheet can carry a warning."""
        book = self.sheet._book
        if book.stale or self.sheet.carry == "shown":
            return True
        entries = book.entries
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


def values_of(sheet: Any, dialect: str = "") -> SheetValues:
    """Return the printed values of a sheet as they are now; they are kept with it.

    Parameters
    ----------
    sheet : Sheet
    dialect : str
        Name of the dialect in which a walker prints them.
    """
    kept: dict[str, SheetValues] = sheet.__dict__.get("_printed_values") or {}
    values = kept.get(dialect)
    if values is None or values.sheet is not sheet:
        values = SheetValues(sheet)
        sheet.__dict__["_printed_values"] = {**kept, dialect: values}
    else:
        values.renew()
    return values
