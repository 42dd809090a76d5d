"""Slides: formula, then numbers, then result; one self-contained file; PDF with a page a stage."""

from __future__ import annotations

import hashlib
import re
from base64 import b64encode
from pathlib import Path

import pytest

from stepcalc import Sheet
from stepcalc.errors import PrintError
from stepcalc.print.notebook import print_notebook
from stepcalc.print.prepared import prepare
from stepcalc.print.slide_files import print_slides
from stepcalc.print.slides import MOST_GIVENS, slides_of
from stepcalc.print.slides_html import to_slides_html
from stepcalc.render import blocks as b
from stepcalc.render.build import build_document
from stepcalc.render.document import read_document
from tests.unit.classroom_sheet import homework
from tests.unit.print_hostile import HOSTILE, hostile_document
from tests.unit.print_pages import page_texts


def document(sheet: Sheet | None = None) -> b.Document:
    return read_document(build_document(sheet or homework(), profile="homework"))


def test_a_step_is_revealed_in_three_stages() -> None:
    slides = slides_of(prepare(document(), "svg"))
    moment = next(slide for slide in slides if slide.about == "factored moment")
    assert moment.title == "2 Solution"
    assert moment.ref == "2-2  statics"
    assert moment.stages == 3
    assert [f.kind for f in moment.fragments] == ["formula", "formula", "result"]
    assert [f.stage for f in moment.fragments] == [1, 2, 3]
    assert "164.8" not in moment.fragments[1].said
    assert "164.8" in moment.fragments[2].said
    check = next(slide for slide in slides if slide.about.startswith("Flexure"))
    assert check.fragments[-1].said == "D/C 0.205, OK"


def test_everything_of_the_sheet_is_on_a_slide() -> None:
    sheet = homework()
    slides = slides_of(prepare(document(sheet), "svg"))
    abouts = {slide.about for slide in slides}
    assert {node.description for node in sheet.steps} <= abouts
    kinds = {fragment.kind for slide in slides for fragment in slide.fragments}
    assert {"givens", "formula", "result", "verdict", "table", "figure", "words", "list"} <= kinds
    many = Sheet("Many")
    for k in range(2 * MOST_GIVENS + 1):
        many.given(f"a_{k}", k)
    split = slides_of(prepare(document(many), "svg"))
    sizes = [len(f.items) for slide in split for f in slide.fragments if f.kind == "givens"]
    assert sizes == [MOST_GIVENS, MOST_GIVENS, 1]


def test_the_html_fetches_nothing_and_allows_its_own_script_only() -> None:
    page = to_slides_html(document())
    assert not re.findall(r"https?://(?!www\.w3\.org)", page)
    scripts = re.findall(r"<script>(.*?)</script>", page, re.DOTALL)
    assert len(scripts) == 1
    digest = b64encode(hashlib.sha256(scripts[0].encode()).digest()).decode()
    assert f"script-src 'sha256-{digest}'" in page
    assert "default-src 'none'" in page
    assert page.count("<h1") == 1
    assert page == to_slides_html(document())


def test_a_page_of_the_pdf_shows_no_more_than_its_stage(tmp_path: Path) -> None:
    print_slides(document(), tmp_path / "steps.pdf")
    pages = page_texts((tmp_path / "steps.pdf").read_bytes())
    shown = [page for page in pages if "factored moment" in page]
    assert len(shown) == 3
    assert [("164.8" in page.replace(" ", ""), "150" in page) for page in shown][-1][0]
    assert not any("164.8" in page.replace(" ", "") for page in shown[:2])
    print_slides(document(), tmp_path / "whole.pdf", reveal=False)
    whole = page_texts((tmp_path / "whole.pdf").read_bytes())
    assert len(whole) == len(slides_of(prepare(document(), "svg"))) < len(pages)


@pytest.mark.parametrize("name", HOSTILE)
def test_hostile_text_stays_text(name: str, tmp_path: Path) -> None:
    made = read_document(hostile_document(HOSTILE[name]))
    for suffix in (".html", ".pdf"):
        print_slides(made, tmp_path / f"deck{suffix}")
    page = (tmp_path / "deck.html").read_text()
    assert page.count("<script") == 1
    assert page.count("<img") == sum(isinstance(x, (b.Figure, b.Image)) for s in made.sheets
                                     for x in s.blocks)  # fmt: skip


def test_other_forms_are_refused(tmp_path: Path) -> None:
    with pytest.raises(PrintError, match=r"slides are written to \.html, \.pdf, \.typ"):
        print_slides(document(), tmp_path / "deck.tex")
    assert not list(tmp_path.iterdir())


def test_the_notebook_of_the_course_prints_as_a_walkthrough(root: Path, tmp_path: Path) -> None:
    source = root / "notebooks/classroom/rolled_beam_by_hand.ipynb"
    verdicts = print_notebook(source, tmp_path / "deck.html", profile="walkthrough")
    assert verdicts == ["OK"] * 5
    page = (tmp_path / "deck.html").read_text()
    assert "Homework 3: rolled beam" in page
    assert "hw.step" not in page
