"""The HTML file: complete in itself, without script, and the same every time."""

from __future__ import annotations

import itertools
import re
import shutil
import subprocess
import xml.etree.ElementTree as ET
from pathlib import Path

import pytest

from stepcalc.print.html import to_html
from stepcalc.print.options import Options
from stepcalc.render.document import read_document
from tests.unit.print_pages import page_texts
from tests.unit.print_sample import TITLE, sample_document, step, sym

_BROWSERS = ("chromium", "chromium-browser", "google-chrome")


@pytest.fixture(scope="module")
def page() -> str:
    return to_html(read_document(sample_document()))


def test_it_holds_what_it_shows(page: str) -> None:
    assert "<script" not in page
    assert not re.search(r"""(src|href|url\()\s*=?\s*["']?(?!data:)[a-z]+:""", page)
    assert not re.search(r"https?://(?!www\.w3\.org)", page)
    assert page.count("data:font/woff2;base64,") == 4  # one for formulas, three for words
    assert page.count('src="data:image/svg+xml;base64,') == 4


def test_formulas_are_mathml(page: str) -> None:
    assert page.count("<math") > 60
    for found in re.findall(r"<math.*?</math>", page, re.DOTALL):
        ET.fromstring(found)  # our own output: a fault in its nesting raises


def test_every_field_and_part_is_there(page: str) -> None:
    named = ("Checked by", "N.G.", "OUTSIDE RANGE", "STALE", "(governs)", "Not checked",
             "licensed engineer", "462.4", "D/C = 1.0004")  # fmt: skip
    for words in (*filter(None, TITLE.values()), *named):
        assert words in page, words


def test_tables_have_header_cells_and_figures_have_words(page: str) -> None:
    assert 'scope="col"' in page
    alts = re.findall(r'<img [^>]*alt="([^"]*)"', page)
    assert len(alts) == 4
    assert all(len(alt) > 30 for alt in alts)
    assert '<html lang="en">' in page


def test_the_same_text_twice(page: str) -> None:
    assert to_html(read_document(sample_document())) == page


def test_the_paper_is_the_one_asked_for() -> None:
    document = read_document({"sheets": [{"title": "S"}]})
    assert "size: 210mm 297mm" in to_html(document, Options("a4"))
    assert "size: 8.5in 11in" in to_html(document)


def test_a_wide_line_is_several_elements_that_may_part() -> None:
    wide = ["add", [["+" if k else "", sym(f"M_{k},term")] for k in range(20)]]
    one = step("1", "M", wide, sym("x"), ["num", "8"])
    shown = to_html(read_document({"sheets": [{"title": "S", "blocks": [one]}]}))
    assert shown.count("<math") >= 20


def test_every_link_leads_somewhere_and_every_anchor_is_one(page: str) -> None:
    anchors = re.findall(r' id="([^"]+)"', page)
    assert len(anchors) == len(set(anchors))
    links = re.findall(r'<a [^>]*href="#([^"]+)"', page)
    assert len(links) > 10
    assert set(links) <= set(anchors)


def test_headings_skip_no_level(page: str) -> None:
    levels = [int(level) for level in re.findall(r"<h([1-6])", page)]
    assert levels[0] == 1
    assert all(next_ <= level + 1 for level, next_ in itertools.pairwise(levels))


def test_each_formula_has_its_words(page: str) -> None:
    assert page.count("<math") == page.count("<math alttext=")
    assert 'alttext="' in page
    assert 'alttext=""' not in page


@pytest.mark.browser
@pytest.mark.slow
def test_a_browser_prints_title_and_number_on_every_page(page: str, tmp_path: Path) -> None:
    browser = next(filter(None, map(shutil.which, _BROWSERS)))
    (tmp_path / "page.html").write_text(page)
    subprocess.run(
        [browser, "--headless", "--no-sandbox", "--disable-gpu", "--no-first-run",
         "--disable-background-networking", "--disable-component-update", "--disable-sync",
         f"--user-data-dir={tmp_path / 'profile'}", "--no-pdf-header-footer",
         f"--print-to-pdf={tmp_path / 'page.pdf'}", str(tmp_path / "page.html")],
        check=True, capture_output=True, timeout=120,
    )  # fmt: skip
    pages = page_texts((tmp_path / "page.pdf").read_bytes())
    assert len(pages) >= 5
    for number, text in enumerate(pages, 1):
        assert f"Sheet {number} of {len(pages)}" in text
        assert all(value in text for value in filter(None, TITLE.values()))
        assert "licensed engineer" in text
