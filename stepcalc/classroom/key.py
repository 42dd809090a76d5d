"""The instructor's key: the whole sheet, and the band within which hand work is right."""

from __future__ import annotations

from typing import Any

from stepcalc.classroom.bands import HAND_DIGITS, Band, bands, by_hand
from stepcalc.render.block_parts import LAYOUT
from stepcalc.render.build import build_document
from stepcalc.units.numbers import shown_text

__all__ = ["key"]


def key(source: Any, *, digits: int = HAND_DIGITS) -> dict[str, Any]:
    """Return the document of the key of a sheet or package.

    Parameters
    ----------
    source : Sheet or Package
    digits : int
        Significant digits that hand work carries.

    Returns
    -------
    dict
        :func:`stepcalc.print.print_document` prints it.
    """
    document = build_document(source, profile="homework")
    sheets = list(getattr(source, "sheets", None) or [source])
    for sheet, pages in zip(sheets, document["sheets"], strict=True):
        pages["blocks"] += _bands_of(sheet, digits)
    document["notices"] = ["KEY: for the instructor, not for students", *document["notices"]]
    return document


def _bands_of(sheet: Any, digits: int) -> list[dict[str, Any]]:
    rows = [_row(sheet[path], band) for path, band in bands(sheet, digits).items()]
    if not rows:
        return []
    number = sum(1 for block in sheet._book.root.blocks if hasattr(block, "blocks")) + 1
    rule = (
        f"Right by hand is what lies in the band: the value carried in full, give or take its "
        f"distance from the value worked with {digits} significant figures at every step, and one "
        f"unit of the last figure."
    )
    header = ["", "Carried in full", f"With {digits} figures", "From", "To", "Unit"]
    table = {"kind": "table", "header": header, "rows": rows, "caption": "Tolerance band",
             "align": "lrrrrl"}  # fmt: skip
    heading = {"kind": "heading", "level": 1, "number": str(number), "text": "Marking"}
    return [heading, {"kind": "note", "text": rule}, table, *_open_verdicts(sheet, digits)]


def _row(node: Any, band: Band) -> list[Any]:
    numbers = [LAYOUT.value(shown_text(x, 4), "") for x in (band.exact, band.hand)]
    ends = [LAYOUT.value(shown_text(x, 4), "") for x in (band.low, band.high)]
    return [["sym", node.symbol], *numbers, *ends, band.unit or "–"]


def _open_verdicts(sheet: Any, digits: int) -> list[dict[str, Any]]:
    """Say which checks hand rounding may turn, so that both verdicts are accepted there."""
    hand = by_hand(sheet, digits)
    turned = [c.name for c in sheet.checks if c.passed != hand[c.path].passed]
    if not turned:
        return []
    words = f"Rounding by hand turns the verdict of: {', '.join(turned)}. Accept either there."
    return [{"kind": "note", "text": words}]
