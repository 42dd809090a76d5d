"""Printing to a file: the suffix decides, the file is whole or not there, stale is not silent."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from stepcalc import Package, Sheet, TitleBlock
from stepcalc.errors import PrintError, SheetFileError, StaleError
from stepcalc.print.package import print_document
from stepcalc.units import ft, inch, kip_ft, klf, pcf
from tests.unit.print_pages import page_texts
from tests.unit.print_sample import sample_document


def girder() -> Sheet:
    sheet = Sheet("Interior girder: permanent loads")
    with sheet.part("Deck"):
        spacing = sheet.given("S", 7.75 * ft, "girder spacing", source="framing plan")
        thick = sheet.given("t_s", 8 * inch, "deck thickness", source="plans")
        weight = sheet.given("gamma_c", 150 * pcf, "unit weight", source="common practice")
        span = sheet.given("L", 53 * ft, "span", assumed="to be measured")
        load = sheet.step("w_deck", spacing * thick * weight, klf, "deck", ref="tributary width")
    with sheet.part("Moment"):
        moment = sheet.step("M_D", load * span**2 / 8, kip_ft, "dead load moment")
        sheet.check("Flexure", moment <= sheet.given("C", 400 * kip_ft, "capacity", source="x"))
        sheet.check("Reserve", 2 * moment <= 400 * kip_ft, location="midspan")
    sheet.conclude()
    return sheet


@pytest.mark.parametrize("suffix", [".pdf", ".html", ".tex", ".typ"])
def test_a_package_prints_by_suffix(suffix: str, tmp_path: Path) -> None:
    package = Package(TitleBlock(project="Mill Lane"), [girder()])
    one = package.print(tmp_path / f"a{suffix}")
    two = package.print(str(tmp_path / f"b{suffix}"))
    assert one.read_bytes() == two.read_bytes()
    text = " ".join(page_texts(one.read_bytes())) if suffix == ".pdf" else one.read_text()
    for words in ("Mill Lane", "272.1", "N.G.", "OK", "Flexure", "Reserve", "licensed engineer"):
        assert words in text, words


def test_the_numbers_in_the_pdf_are_those_of_the_sheet(tmp_path: Path) -> None:
    # 7.75 ft x 8/12 ft x 0.150 kcf = 0.775 klf; 0.775 x 53^2 / 8 = 272.12 kip-ft (by hand)
    pdf = Package(TitleBlock(), [girder()]).print(tmp_path / "a.pdf")
    text = "".join(page_texts(pdf.read_bytes())).replace(" ", "")
    for number in ("7.75ft", "8in", "150pcf", "0.7750klf", "53ft", "272.1kip-ft", "544.2kip-ft"):
        assert number in text, number
    assert re.search(r"12in", text)  # the factor between feet and inches is shown


@pytest.mark.parametrize(
    ("name", "words"),
    [
        ("a.docx", "ends in '.docx', which no printer writes; want .pdf, .html, .tex"),
        ("a", "'a' has no suffix, which no printer writes"),
        ("none/a.pdf", "cannot write"),
    ],
)
def test_what_cannot_be_written_is_said(name: str, words: str, tmp_path: Path) -> None:
    with pytest.raises(PrintError) as caught:
        print_document({"sheets": []}, tmp_path / name)
    assert words in str(caught.value)


def test_the_suffix_is_looked_at_before_anything_is_drawn(tmp_path: Path) -> None:
    with pytest.raises(PrintError):
        print_document({"nonsense": 1}, tmp_path / "a.xyz")


def test_no_half_file_is_left(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    target = tmp_path / "a.pdf"
    target.write_bytes(b"the old one")

    def fail(self: Path, other: Path) -> Path:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(Path, "replace", fail)
    with pytest.raises(PrintError, match="no space left on device"):
        print_document({"sheets": [{"title": "S"}]}, target)
    assert target.read_bytes() == b"the old one"
    assert list(tmp_path.iterdir()) == [target]


def test_stale_results_are_refused_or_marked(tmp_path: Path) -> None:
    with pytest.raises(StaleError, match=r"1 results are stale.*'Live-load deflection'"):
        print_document(sample_document(), tmp_path / "a.pdf")
    printed = print_document(sample_document(), tmp_path / "a.pdf", allow_stale=True)
    first = page_texts(printed.read_bytes())[0]
    assert "STALE: 1 results are stale" in first
    assert "do not use these sheets" in first


def test_a_fault_in_the_document_is_named(tmp_path: Path) -> None:
    with pytest.raises(SheetFileError, match="unknown field 'pages'"):
        print_document({"pages": []}, tmp_path / "a.pdf")


def test_an_empty_package_prints_its_title(tmp_path: Path) -> None:
    printed = print_document({"title": {"project": "Mill Lane"}}, tmp_path / "a.pdf")
    assert "Mill Lane" in page_texts(printed.read_bytes())[0]


def test_own_templates_come_before_ours(tmp_path: Path) -> None:
    (tmp_path / "html").mkdir()
    (tmp_path / "html" / "document.html.j2").write_text("<p>{{ title }} & <b></p>")
    printed = print_document(
        {"sheets": [{"title": "<i>S"}]}, tmp_path / "a.html", templates=tmp_path
    )
    assert printed.read_text() == "<p>&lt;i&gt;S & <b></p>"


def test_a_missing_folder_of_templates_is_said(tmp_path: Path) -> None:
    with pytest.raises(PrintError, match="which is no folder"):
        print_document({"sheets": []}, tmp_path / "a.pdf", templates=tmp_path / "none")
