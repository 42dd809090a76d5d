"""What tests look at in printed pages: their text, and the ink outside of the margins."""

from __future__ import annotations

import io
import tempfile
from collections.abc import Mapping
from typing import Any

import numpy as np
import typst
from PIL import Image
from pypdf import PdfReader


def page_count(pdf: bytes) -> int:
    """Return the number of pages."""
    return len(PdfReader(io.BytesIO(pdf)).pages)


def page_texts(pdf: bytes, most: int | None = None) -> list[str]:
    """Return the text of each page, or of the first ``most`` pages, with single spaces."""
    pages = PdfReader(io.BytesIO(pdf)).pages[:most]
    return [" ".join(page.extract_text().split()) for page in pages]


def outline_titles(pdf: bytes) -> list[str]:
    """Return the bookmarks of a PDF, outer before inner."""

    def flat(items: Any) -> list[str]:
        found: list[str] = []
        for item in items:
            found += flat(item) if isinstance(item, list) else [" ".join(str(item.title).split())]
        return found

    return flat(PdfReader(io.BytesIO(pdf)).outline)


def ink_outside(
    files: Mapping[str, bytes], *, side: float = 15.5, top: float = 10.0, bottom: float = 10.0
) -> list[int]:
    """Return the pages on which something is drawn nearer to an edge than these mm."""
    dots = 50
    with tempfile.TemporaryDirectory() as empty:
        compile_pages: Any = typst.compile
        pages = compile_pages(
            dict(files), root=empty, ignore_system_fonts=True, format="png", ppi=dots
        )
    guilty = []
    for number, page in enumerate([pages] if isinstance(pages, bytes) else pages, 1):
        dark = np.asarray(Image.open(io.BytesIO(page)).convert("L")) < 140
        s, t, u = (round(mm * dots / 25.4) for mm in (side, top, bottom))
        dark = dark.copy()
        dark[t:-u, s:-s] = False
        if dark.any():
            guilty.append(number)
    return guilty
