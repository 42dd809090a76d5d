"""Keys and handouts: the band of hand work by hand, and nothing of the key in any byte."""

from __future__ import annotations

import re
import zlib
from dataclasses import replace
from pathlib import Path

import pytest

from stepcalc import Sheet, TitleBlock
from stepcalc.classroom.bands import bands, by_hand
from stepcalc.classroom.handout import handout, key_numbers
from stepcalc.classroom.key import key
from stepcalc.errors import FormulaError
from stepcalc.print import print_document
from stepcalc.render import blocks as b
from stepcalc.sheet.package import Package
from stepcalc.units import ft, kip_ft, klf
from tests.unit.classroom_sheet import homework
from tests.unit.print_pages import page_texts


def test_a_band_by_hand() -> None:
    """W = 1.237 * 1.237 = 1.530169, by hand 1.53; then 1.53 * 1.237 = 1.89261, by hand 1.89.

    In full 1.892819...; the half width is 0.002819... + 0.01.
    """
    sheet = Sheet("Band")
    a = sheet.given("a", 1.237)
    W = sheet.step("W", a * a)
    sheet.step("Q", W * a)
    band = bands(sheet)["Q"]
    assert by_hand(sheet)["W"].number == 1.53
    assert band.hand == 1.89
    assert band.exact == pytest.approx(1.892819053, abs=1e-9)
    assert band.high == pytest.approx(1.892819053 + 0.002819053 + 0.01, abs=1e-9)
    assert band.low == pytest.approx(1.88, abs=1e-9)


def test_the_key_prints_band_and_turned_verdicts(tmp_path: Path) -> None:
    print_document(key(homework()), tmp_path / "key.pdf")
    text = " ".join(page_texts((tmp_path / "key.pdf").read_bytes()))
    assert "KEY: for the instructor" in text
    assert "164.8" in text  # 1.25 * 0.770313 * 37**2 / 8
    assert "166.0" in text  # 164.8 + (165 - 164.8) + 1
    assert "163.5" in text
    close = Sheet("Close")
    L = close.given("L", 1.0004)
    half = close.step("h", L * 1)
    close.check("Limit", half <= 1)
    print_document(key(close), tmp_path / "close.pdf")
    assert "Accept either there" in " ".join(page_texts((tmp_path / "close.pdf").read_bytes()))


def everything_in(content: bytes) -> str:
    """Return the bytes of a file and of every stream in it that can be decompressed, as text."""
    found = [content]
    for stream in re.finditer(rb"stream\r?\n(.*?)endstream", content, re.DOTALL):
        try:
            found.append(zlib.decompressobj().decompress(stream[1]))
        except zlib.error:
            continue
    return b"\n".join(found).decode("latin-1")


@pytest.mark.parametrize("blank", ["numbers", "formulas"])
@pytest.mark.parametrize("form", ["pdf", "html", "tex"])
def test_nothing_of_the_key_is_in_a_handout(blank: str, form: str, tmp_path: Path) -> None:
    sheet = homework()
    secret = {"164.8", "165", "0.7703", "0.770", "891.9", "802.7", "0.205", "278"}
    assert secret - key_numbers(sheet) == set()
    print_document(handout(sheet, blank=blank), tmp_path / f"out.{form}")
    content = (tmp_path / f"out.{form}").read_bytes()
    text = everything_in(content)
    if form == "pdf":
        text = " ".join(page_texts(content)) + readable(text)
    if form == "html":
        text = re.sub(r"base64,[A-Za-z0-9+/=]+|<style>.*?</style>", "", text, flags=re.DOTALL)
    found = {
        number for number in key_numbers(sheet)
        if re.search(rf"(?<![\d.]){re.escape(number)}(?!\d|\.\d)", text)
    }  # fmt: skip
    assert not found
    assert "7.25" in text
    assert ("otherwise" in text) is (blank == "numbers")


def readable(text: str) -> str:
    """Return the strings of a PDF outside of its page contents, such as titles and words read."""
    plain = re.findall(r"\(((?:[^()\\]|\\.)*)\)", text)
    coded = [
        bytes.fromhex(h).decode("utf-16-be", "ignore")
        for h in re.findall(r"<feff([0-9a-f]*)>", text.lower()) if len(h) % 2 == 0
    ]  # fmt: skip
    return " ".join([*plain, *coded])


def test_the_search_would_find_a_leak(tmp_path: Path) -> None:
    pages = handout(homework()).sheets[0]
    blocks = [
        replace(block, formula=None, result=["text", "164.8 kip-ft"], alt="")
        if isinstance(block, b.Step)
        else block
        for block in pages.blocks
    ]
    title = {"project": "the answer 891.9"}
    leaky = b.Document(title, "homework", (replace(pages, blocks=tuple(blocks)),))
    print_document(leaky, tmp_path / "leak.pdf")
    text = readable(everything_in((tmp_path / "leak.pdf").read_bytes()))
    assert "891.9" in text  # the title of the file
    assert "164.8" in text  # the words read for the formula


def test_a_title_that_quotes_the_answer_loses_it() -> None:
    sheet = Sheet("M is 300.0 kip-ft")
    L, w = sheet.given("L", 40 * ft), sheet.given("w", 1.5 * klf)
    sheet.step("M", w * L**2 / 8, kip_ft)
    package = Package(TitleBlock(project="answer 300.0"), [sheet])
    made = handout(package)
    assert "300" not in made.sheets[0].title
    assert "300" not in made.title["project"]


def test_a_handout_blanks_numbers_or_formulas() -> None:
    with pytest.raises(FormulaError, match="'numbers' or 'formulas'"):
        handout(homework(), blank="all")
