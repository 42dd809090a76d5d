"""Every glyph of a PDF with its box, its size and its font, read by an engine that is not ours."""

from __future__ import annotations

import ctypes
from collections.abc import Iterator
from typing import Any, NamedTuple

import pypdfium2
import pypdfium2.raw as pdfium


class Glyph(NamedTuple):
    """A character as it stands on a page; lengths in points, from the lower left corner."""

    page: int
    text: str
    left: float
    bottom: float
    right: float
    top: float
    size: float
    font: str


def page_sizes(pdf: bytes) -> list[tuple[float, float]]:
    """Return width and height of each page in points."""
    return [page.get_size() for page in pypdfium2.PdfDocument(pdf)]


def glyphs(pdf: bytes) -> Iterator[Glyph]:
    """Yield every visible glyph."""
    document = pypdfium2.PdfDocument(pdf)
    for number, page in enumerate(document, 1):
        text = page.get_textpage()
        for place in range(text.count_chars()):
            character = chr(pdfium.FPDFText_GetUnicode(text, place))
            left, bottom, right, top = text.get_charbox(place)
            if right > left and top > bottom and not character.isspace():
                size = pdfium.FPDFText_GetFontSize(text, place) * _scale(text, place)
                yield Glyph(number, character, left, bottom, right, top, size, _font(text, place))


def _scale(text: Any, place: int) -> float:
    """Return by how much the matrix of a character enlarges its font."""
    matrix = pdfium.FS_MATRIX()
    if not pdfium.FPDFText_GetMatrix(text, place, matrix):
        return 1.0
    return float((matrix.c**2 + matrix.d**2) ** 0.5)


def _font(text: Any, place: int) -> str:
    flags = ctypes.c_int()
    buffer = ctypes.create_string_buffer(200)
    pdfium.FPDFText_GetFontInfo(text, place, buffer, 200, flags)
    return buffer.value.decode("utf-8", "replace")
