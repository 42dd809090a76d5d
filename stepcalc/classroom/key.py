"""The instructor's key: the whole sheet, and the band within which hand work is right."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from stepcalc.classroom.bands import HAND_DIGITS, Band, bands, by_hand
from stepcalc.render import blocks as b
from stepcalc.render.block_parts import LAYOUT
from stepcalc.render.build import build_document
from stepcalc.render.document import read_block, read_document
from stepcalc.units.numbers import shown_text

__all__ = ["key"]


def key(source: Any, *, digits: int = HAND_DIGITS, sheets: Sequence[Any] = ()) -> b.Document:
    """Return the document of the key of a sheet or package.

    Parameters
    ----------
    source : Sheet, Package or Document
    digits : int
        Significant digits that hand work carries.
    sheets : sequence of Sheet
        The sheets that a Document shows.

    Returns
    -------
    Document
        :func:`stepcalc.print.print_document` prints it.
    """
    if isinstance(source, b.Document):
        document = source
    else:
        document = read_document(build_document(source, profile="homework"))
        sheets = list(getattr(source, "sheets", None) or [source])
    pages = list(document.sheets)
    for sheet in sheets:
        own = [at for at, page in enumerate(pages) if _is_of(page, sheet)]
        more = tuple(read_block(block) for block in _bands_of(sheet, digits))
        if own:
            pages[own[-1]] = replace(pages[own[-1]], blocks=(*pages[own[-1]].blocks, *more))
    notices = ("KEY: for the instructor, not for students", *document.notices)
    return replace(document, profile="homework", sheets=tuple(pages), notices=notices)


def _is_of(page: b.SheetPages, sheet: Any) -> bool:
    return page.title.removesuffix(" (continued)") == str(sheet.title)


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
    return [["sym", node.symbol], *numbers, *ends, ["unit", band.unit] if band.unit else "–"]


def _open_verdicts(sheet: Any, digits: int) -> list[dict[str, Any]]:
    """Say which checks hand rounding may turn, so that both verdicts are accepted there."""
    hand = by_hand(sheet, digits)
    turned = [c.name for c in sheet.checks if c.passed != hand[c.path].passed]
    if not turned:
        return []
    words = f"Rounding by hand turns the verdict of: {', '.join(turned)}. Accept either there."
    return [{"kind": "note", "text": words}]
