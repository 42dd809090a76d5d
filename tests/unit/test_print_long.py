"""A package of three hundred sheets: whole, page numbers right, and time that grows evenly."""

from __future__ import annotations

import re
import shutil
import subprocess
import tempfile
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader

from stepcalc import Package, Sheet, TitleBlock, cases, sqrt
from stepcalc.units import ft, kip, kip_ft, klf
from tests.unit.print_pages import page_count

pytestmark = [pytest.mark.slow]

LINES = 16
STAGES = 32


def girder_line(number: int) -> Sheet:
    """Return a sheet of many parts; every name stands in each of them."""
    sheet = Sheet(f"Girder line {number}")
    for stage in range(STAGES):
        with sheet.part(f"Line {number} stage {stage}"):
            L = sheet.given("L", (40 + stage) * ft, "span", source="framing plan")
            w, P = sheet.given("w", (1 + stage / 10) * klf, "load"), sheet.given("P", 32 * kip)
            M = sheet.step("M", w * L**2 / 8 + P * L / 4, kip_ft, "moment", ref="statics")
            V = sheet.step("V", w * L / 2 + P / 2, kip, "shear", ref="statics")
            branches = cases((L >= 50 * ft, M / (L * V), "long"), otherwise=sqrt(L / (50 * ft)))
            sheet.step("k", branches, None, "factor")
            sheet.check("Moment", M <= 9000 * kip_ft, ref="example")
    return sheet


@pytest.fixture(scope="module")
def long_package() -> Package:
    return Package(TitleBlock(project="Long"), [girder_line(k) for k in range(1, LINES + 1)])


@pytest.fixture(scope="module")
def pdf(long_package: Package, tmp_path_factory: pytest.TempPathFactory) -> PdfReader:
    return PdfReader(long_package.print(tmp_path_factory.mktemp("long") / "long.pdf"))


def _text(pdf: PdfReader, number: int) -> str:
    return " ".join(pdf.pages[number - 1].extract_text().split())


def _flat(items: Any) -> Iterator[Any]:
    for item in items:
        if isinstance(item, list):
            yield from _flat(item)
        else:
            yield item


def test_every_stage_is_printed_on_the_page_that_the_contents_name(pdf: PdfReader) -> None:
    """The bookmarks know where each heading stands; some pages are read to believe them."""
    count = len(pdf.pages)
    assert count >= 280
    where: dict[str, int] = {}
    for item in _flat(pdf.outline):
        page = pdf.get_destination_page_number(item)
        assert page is not None
        where[re.sub(r"^[A-Z]?[\d.]* ", "", " ".join(str(item.title).split()))] = page + 1
    front = range(where["Contents"], where["Summary of checks"] + 1)
    contents = " ".join(_text(pdf, number) for number in front)
    lines = range(1, LINES + 1)
    titles = [f"Line {line} stage {stage}" for line in lines for stage in range(STAGES)]
    for title in [*titles, *(f"Girder line {line}" for line in lines)]:
        named = re.search(title + r"(?: ?\.)+\W*(\d+)", contents)
        assert named, title
        assert int(named[1]) == where[title], title
    for title in titles[:: len(titles) // 20] + titles[-1:]:
        text = _text(pdf, where[title])
        assert title in text
        assert f"Sheet {where[title]} of {count}" in text


def test_time_grows_with_the_pages() -> None:
    def seconds(count: int) -> float:
        package = Package(TitleBlock(project="Long"), [girder_line(k) for k in range(count)])
        start = time.process_time()
        for form in (".html", ".tex"):
            package.print(Path(folder) / f"long{form}")
        return time.process_time() - start

    with tempfile.TemporaryDirectory() as folder:
        seconds(1)  # templates and fonts are loaded
        few, many = seconds(2), seconds(8)
    assert many < 2 * 4 * few  # four times the sheets; square growth would give sixteen


def test_html_leads_from_the_contents_to_every_stage(long_package: Package, tmp_path: Path) -> None:
    text = long_package.print(tmp_path / "long.html").read_text()
    assert len(text) < 8_000_000
    places = set(re.findall(r'\bid="([^"]+)"', text))
    assert len(places) == len(re.findall(r'\bid="', text))
    leads = re.findall(r'href="#([^"]+)"', text)
    assert set(leads) <= places
    assert len(leads) > LINES * STAGES


@pytest.mark.skipif(shutil.which("pdflatex") is None, reason="no TeX")
def test_tex_compiles(long_package: Package, tmp_path: Path) -> None:
    source = long_package.print(tmp_path / "long.tex")
    command: list[Any] = ["pdflatex", "-interaction=nonstopmode", "-halt-on-error", source.name]
    done = subprocess.run(command, cwd=tmp_path, capture_output=True, timeout=300, check=False)
    assert done.returncode == 0, done.stdout[-800:]
    assert page_count((tmp_path / "long.pdf").read_bytes()) >= 280
