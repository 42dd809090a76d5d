"""The sources that the templates make of one small document, word for word.

After a wanted change of a template, run with ``STEPCALC_NEW_GOLDEN=1`` and read the difference.
"""

from __future__ import annotations

import os
import re
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest

from stepcalc.print.html import to_html
from stepcalc.print.tex import to_tex
from stepcalc.print.typst import typst_files
from stepcalc.render.document import read_document
from tests.unit.print_sample import sample_document

if TYPE_CHECKING:
    from stepcalc.render import blocks as b

FOLDER = Path(__file__).parent / "print"


def small_document() -> b.Document:
    """Return the sample without its figures, whose outlines depend on the drawing library."""
    data = sample_document()
    for sheet in data["sheets"]:
        sheet["blocks"] = [block for block in sheet["blocks"] if block["kind"] != "figure"]
    return read_document(data)


def body(form: str) -> str:
    document = small_document()
    if form == "typ":
        source = typst_files(document)["main.typ"].decode()
        source = source[source.index("#set document") :]
    elif form == "html":
        source = re.sub(
            r"<style>.*?</style>", "<style></style>", to_html(document), flags=re.DOTALL
        )
    else:
        source = to_tex(document).source
        source = source[source.index(r"\begin{document}") :]
    return re.sub(r"stepcalc \d[\w.]*", "stepcalc VERSION", source)


@pytest.mark.parametrize("form", ["typ", "html", "tex"])
def test_templates_give_what_they_gave(form: str) -> None:
    path = FOLDER / f"sample.{form}.txt"
    made = body(form)
    if os.environ.get("STEPCALC_NEW_GOLDEN"):
        FOLDER.mkdir(exist_ok=True)
        path.write_text(made, encoding="utf-8")
    assert made == path.read_text(encoding="utf-8")


def numbers_of(layout: Any) -> set[str]:
    """Return every number that a layout holds."""
    if not isinstance(layout, list) or not layout:
        return set()
    if layout[0] in ("num", "qty"):
        return {str(layout[1])}
    return set().union(*(numbers_of(part) for part in layout))


@pytest.mark.parametrize("form", ["typ", "html", "tex"])
def test_every_number_of_the_document_is_in_the_source(form: str) -> None:
    made = body(form).replace("{,}", ",")
    wanted: set[str] = set()
    for sheet in small_document().sheets:
        for block in sheet.blocks:
            for field in ("formula", "substitution", "result", "value"):
                wanted |= numbers_of(getattr(block, field, None))
    assert len(wanted) > 60
    assert {number for number in wanted if number not in made} == set()
