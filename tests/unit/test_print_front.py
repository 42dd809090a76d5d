"""The front pages of a package: what they list, where their links lead, what their hash sees."""

from __future__ import annotations

import hashlib
import io
import os
import re
import subprocess
import sys
from dataclasses import replace
from pathlib import Path
from typing import Any

import pypdf
import pytest

from stepcalc import Package, Revision, Sheet, TitleBlock
from stepcalc._version import __version__
from stepcalc.data.documents import cited_documents
from stepcalc.errors import FormulaError, PrintError
from stepcalc.print.front.identity import input_hash, software
from stepcalc.print.front.index import index_of
from stepcalc.print.options import Options
from stepcalc.print.package import print_document
from stepcalc.render import blocks as b
from stepcalc.render.document import read_document
from stepcalc.render.package_document import package_document
from stepcalc.units import ft
from tests.unit.front_package import TITLE, package, sheets
from tests.unit.print_pages import outline_titles, page_texts

SECTIONS = (
    "Contents", "Summary of checks", "Assumptions", "Givens and their sources", "References",
    "Identity of this calculation", "Nomenclature",
)  # fmt: skip


def document(made: Package | None = None) -> b.Document:
    return read_document(package_document(package() if made is None else made))


@pytest.fixture(scope="module")
def pdf(tmp_path_factory: pytest.TempPathFactory) -> bytes:
    target = tmp_path_factory.mktemp("front") / "a.pdf"
    package().print(target)
    return target.read_bytes()


@pytest.fixture(scope="module")
def text(pdf: bytes) -> str:
    return " ".join(page_texts(pdf))


def test_the_cover_names_the_job_the_people_and_the_revisions(pdf: bytes) -> None:
    cover = page_texts(pdf)[0]
    for value in TITLE.values():
        assert value in cover
    labels = (
        "Structure", "Owner", "Job no.", "Revision", "Prepared by", "Checked by", "Reviewed by",
        "Initials", "Date", "Scope", "Codes", "licensed engineer",
    )  # fmt: skip
    for label in labels:
        assert label in cover
    for words in (
        "first issue",
        "span as measured",
        "2026-10-01",
        "8th edition, 2017",
        "N.G.: 1 of 2",
    ):
        assert words in cover
    assert f"Sheet 1 of {len(page_texts(pdf))}" in cover


def test_every_page_is_numbered_and_has_the_fields_of_the_title_block(pdf: bytes) -> None:
    pages = page_texts(pdf)
    for number, page in enumerate(pages, 1):
        assert f"Sheet {number} of {len(pages)}" in page
        for value in TITLE.values():
            assert value in page


def test_the_contents_give_the_pages_on_which_the_headings_stand(pdf: bytes) -> None:
    reader = pypdf.PdfReader(io.BytesIO(pdf))
    where = {}
    for item in _flat(reader.outline):
        page = reader.get_destination_page_number(item)
        assert page is not None
        where[" ".join(str(item.title).split())] = page + 1
    contents = page_texts(pdf)[where["Contents"] - 1]
    named = [title for title in where if title not in ("Contents", TITLE["project"])]
    assert len(named) == len(SECTIONS) - 1 + 2 + 4  # sheets; their parts
    for title in named:
        found = re.search(re.escape(title) + r"(?: ?\.)+\W*(\d+)", contents)
        assert found, title
        assert int(found[1]) == where[title]


def _flat(items: Any) -> Any:
    for item in items:
        if isinstance(item, list):
            yield from _flat(item)
        else:
            yield item


def test_sections_sheets_and_parts_are_bookmarks(pdf: bytes) -> None:
    assert outline_titles(pdf) == [
        TITLE["project"], *SECTIONS, "A Permanent loads", "1 Deck", "B Girder", "1 Effects",
        "2 Checks", "2.1 Flexure", *outline_titles(pdf)[14:],
    ]  # fmt: skip


def test_the_summary_has_every_check_and_says_which_governs(text: str) -> None:
    made = package()
    assert {check.name for check in made.checks} == {"Flexure", "Reserve"}
    summary = text[text.rindex("Summary of checks", 0, text.index("Not checked")) :]
    # 0.775 klf x 53^2 / 8 = 272.1 kip-ft; / 400 = 0.680; doubled 1.361 (by hand)
    assert "0.680" in summary
    assert "1.361" in summary
    assert "Reserve governs" in summary
    assert "Not checked: fatigue" in summary


def test_givens_without_a_source_are_listed_by_themselves(text: str) -> None:
    assert "UNSOURCED: 1 given without source or basis" in text
    listed = text[text.index("UNSOURCED") : text.index("Step Given Meaning Source")]
    assert "deck thickness" in listed
    assert "girder spacing" not in listed
    assert "A1" in text[text.index("Assumptions No.") :]
    assert "usual mix" in text


def test_references_name_edition_and_articles_and_what_has_none(text: str) -> None:
    listed = text[text.index("Cited as") :]
    assert "AASHTO LRFD Bridge Design Specifications, 8th edition, 2017" in listed
    assert "6.5.4.2, 6.10.7.1.1" in listed
    assert "WITHOUT A REFERENCE: 2-1" in listed  # the check "Reserve"


def test_another_edition_stands_everywhere() -> None:
    made = document(package(editions={"LRFD": "AASHTO LRFD, 9th edition, 2020"}))
    shown = " ".join(page_texts(_printed(made)))
    assert "AASHTO LRFD, 9th edition, 2020" in shown
    assert "8th edition" not in shown


def _printed(made: b.Document, **choices: Any) -> bytes:
    from stepcalc.print.typst import to_pdf

    usual: dict[str, Any] = {"cover": True, "contents": True, "front": "all"}
    return to_pdf(made, Options(**(usual | choices)))


def test_every_symbol_is_in_the_nomenclature_with_its_unit(text: str) -> None:
    listed = text[text.index("Symbol Meaning Unit") :]
    for words in ("girder spacing ft", "dead-load moment kip-ft", "unit weight of concrete pcf"):
        assert words in listed


def test_the_identity_holds_versions_and_hash_and_no_machine(text: str) -> None:
    listed = text[text.rindex("Identity of this calculation") :]
    assert f"stepcalc {__version__}" in listed
    for name, version in software():
        assert f"{name} {version}" in listed
    assert input_hash(document())[:8] in listed
    assert sys.platform not in listed.lower()


def test_the_hash_changes_with_inputs_and_formulas_alone() -> None:
    before = input_hash(document())
    assert input_hash(document()) == before
    assert input_hash(document(Package(TitleBlock(project="other"), sheets()))) == before
    assert input_hash(document(Package(TitleBlock(), sheets(53.001 * ft)))) != before
    other = sheets()
    other[1].step("spare", other[1]["M_D"] * 2)
    assert input_hash(document(Package(TitleBlock(), other))) != before
    made = document()
    [loads, girder] = made.sheets
    words = [replace(x, description="other") if isinstance(x, b.Step) else x for x in girder.blocks]
    assert input_hash(replace(made, sheets=(loads, replace(girder, blocks=tuple(words))))) == before


def test_steps_lead_to_where_they_are_used_and_back(pdf: bytes) -> None:
    index = index_of(document())
    made = {block.name: block for block in index.blocks.values()}
    users, more = index.users(made["w_deck"])
    assert [goto.words for goto in users] == ["B 1-2", "B 1-3"]
    assert more == 0
    sources, _ = index.sources(made["M_D"])
    assert [goto.words for goto in sources] == ["A 1-5", "1-1"]
    pages = page_texts(pdf)
    assert any("used in B 1-2, B 1-3" in page for page in pages)
    assert any("from A 1-5, 1-1" in page for page in pages)
    assert _broken_links(pdf) == []


def _broken_links(pdf: bytes) -> list[str]:
    """Return the targets of links that lead nowhere; a target is a name, or a page itself."""
    reader = pypdf.PdfReader(io.BytesIO(pdf))
    known = set(reader.named_destinations)
    notes = [note.get_object() for page in reader.pages for note in page.get("/Annots", [])]
    targets = [note["/Dest"] for note in notes if note["/Subtype"] == "/Link"]
    assert len(targets) > 40
    return [str(x) for x in targets if isinstance(x, str) and x not in known]


def test_what_nothing_uses_is_listed_on_request(pdf: bytes, text: str) -> None:
    assert "What nothing uses" not in text
    shown = " ".join(page_texts(_printed(document(), trace=True)))
    listed = shown[shown.index("Givens that no step and no check uses") :]
    assert "height of the rail" in listed
    assert "dead-load shear" in listed
    assert "dead-load moment" not in listed[: listed.index("1 Deck")]


@pytest.mark.parametrize(("seal", "count"), [("none", 0), ("cover", 1), ("every sheet", -1)])
def test_room_for_a_seal_is_blank_and_where_it_is_wanted(seal: str, count: int) -> None:
    pages = page_texts(_printed(document(), seal=seal))
    found = [page for page in pages if "Seal and signature" in page and "Licence no." in page]
    assert len(found) == (len(pages) if count < 0 else count)


def test_a_checker_who_prepared_it_is_told_on_the_cover(tmp_path: Path) -> None:
    title = TitleBlock(prepared_by="A. Preparer", checked_by="A  preparer")
    printed = Package(title, sheets()).print(tmp_path / "a.pdf")
    assert "checked by the person who prepared it" in page_texts(printed.read_bytes())[0]


def test_front_pages_can_be_left_out_one_by_one(tmp_path: Path) -> None:
    bare = package(layout={"cover": False, "contents": False, "front": "none"})
    first = page_texts(bare.print(tmp_path / "a.pdf").read_bytes())[0]
    assert "A Permanent loads" in first
    some = bare.print(tmp_path / "b.pdf", front="references, summary").read_bytes()
    assert outline_titles(some)[:2] == ["Summary of checks", "References"]
    homework = package(profile="homework").print(tmp_path / "c.pdf").read_bytes()
    assert outline_titles(homework)[0] == "A Permanent loads"


@pytest.mark.parametrize(
    ("choices", "words"),
    [
        ({"seal": "all"}, "seal is 'all'; want 'none', 'cover' or 'every sheet'"),
        ({"front": "givens, sumary"}, "front names the list 'sumary'; want 'all', 'none'"),
        ({"sael": "cover"}, "a print has no choice 'sael'; nearest name: 'seal'"),
    ],
)
def test_an_unknown_choice_is_refused(choices: dict[str, Any], words: str, tmp_path: Path) -> None:
    with pytest.raises(PrintError, match=re.escape(words)):
        print_document({"sheets": []}, tmp_path / "a.pdf", **choices)


def test_revisions_are_checked() -> None:
    with pytest.raises(FormulaError, match="a revision is texts"):
        Revision("1", 2026)
    with pytest.raises(FormulaError, match="number or letter first"):
        Revision(" ")
    with pytest.raises(FormulaError, match=r"revisions of a package are Revision"):
        Package(TitleBlock(), [], revisions=["0"])
    assert package().revise({"S": 8 * ft}).revisions == package().revisions


def test_editions_agree_with_those_of_the_code_constants() -> None:
    from stepcalc.bridge.constants import LRFD_EDITION, STANDARD_EDITION

    for key, words in (("LRFD", LRFD_EDITION), ("Std", STANDARD_EDITION)):
        edition = cited_documents()[key].edition
        number, year = re.findall(r"\d+", edition)
        assert re.search(rf"\b{number}th ed", words)
        assert year in words


def test_a_sheet_alone_has_no_letter() -> None:
    sheet = Sheet("Alone")
    sheet.step("F", sheet.given("P", 2 * ft, source="x") * 2)
    index = index_of(document(Package(TitleBlock(), [sheet])))
    assert index.letters == [""]
    assert [goto.words for goto in index.users(index.blocks[0, "1"])[0]] == ["2"]


@pytest.mark.slow
def test_another_process_prints_the_same_package(pdf: bytes, tmp_path: Path) -> None:
    program = (
        "import sys\nfrom tests.unit.front_package import package\npackage().print(sys.argv[1])"
    )
    for seed in ("1", "77"):
        target = tmp_path / f"{seed}.pdf"
        subprocess.run(
            [sys.executable, "-c", program, str(target)], check=True,
            cwd=Path(__file__).parents[2], env=os.environ | {"PYTHONHASHSEED": seed},
        )  # fmt: skip
        assert hashlib.sha256(target.read_bytes()).digest() == hashlib.sha256(pdf).digest()
