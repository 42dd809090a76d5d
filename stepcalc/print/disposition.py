"""What is to become of each check that is N.G.: a field that is blank until somebody decides."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from stepcalc.print.prepared import every_block
from stepcalc.render import blocks as b

__all__ = ["CAPTION", "with_dispositions"]

CAPTION = "Disposition of checks that are N.G. (to be filled in by the engineer)"
_HEADER = ("Check", "D/C", "Disposition", "Reason", "By, date")
_CHOICES = "☐\u00a0accept with reason  ☐\u00a0revise  ☐\u00a0owner's\u00a0waiver"
_LINE = "____________"


def with_dispositions(document: b.Document, filled: Mapping[str, str] | None = None) -> b.Document:
    """Return a document in which each sheet with a check that is N.G. ends in the fields for it.

    Parameters
    ----------
    document : Document
        Returned as it is when nothing is N.G., or when it has the fields already.
    filled : mapping of a check's name to what was decided, optional
        The program decides nothing: other fields stay blank.
    """
    sheets = tuple(_with_fields(sheet, filled or {}) for sheet in document.sheets)
    return document if sheets == document.sheets else replace(document, sheets=sheets)


def _with_fields(sheet: b.SheetPages, filled: Mapping[str, str]) -> b.SheetPages:
    blocks = list(every_block(sheet.blocks))
    if any(isinstance(block, b.Table) and block.caption == CAPTION for block in blocks):
        return sheet
    failed = [block for block in blocks if isinstance(block, b.Check) and block.verdict != "OK"]
    if not failed:
        return sheet
    rows = tuple(_row(check, filled.get(check.name, "")) for check in failed)
    table = b.Table(_HEADER, rows, CAPTION, "lrlll")
    return replace(sheet, blocks=(*sheet.blocks, table))


def _row(check: b.Check, decided: str) -> tuple[str, ...]:
    ratio = check.ratio or "undefined"
    name = f"{check.name}, {check.location}" if check.location else check.name
    if decided:
        return (name, ratio, decided, "", _LINE)
    return (name, ratio, _CHOICES, _LINE, _LINE)
