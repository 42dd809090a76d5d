"""The PDF: title block and sheet number on every page, nothing outside the margins."""

from __future__ import annotations

import copy
import hashlib
import os
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from stepcalc.errors import PrintError
from stepcalc.print.options import Options
from stepcalc.print.typst import compile_typst, to_pdf, typst_files
from stepcalc.render.document import read_document
from tests.unit.print_pages import ink_outside, outline_titles, page_texts
from tests.unit.print_sample import TITLE, heading, sample_document, step, sym

SAFETY = "licensed engineer"


@pytest.fixture(scope="module")
def sample_pdf() -> bytes:
    return to_pdf(read_document(sample_document()))


def test_every_page_has_the_title_block_and_its_number(sample_pdf: bytes) -> None:
    pages = page_texts(sample_pdf)
    assert len(pages) >= 5
    for number, text in enumerate(pages, 1):
        assert f"Sheet {number} of {len(pages)}" in text
        for value in filter(None, TITLE.values()):
            assert value in text
        for label in ("Project", "Checked by", "Reviewed by", "Date", "Job no.", "Revision"):
            assert label in text
        assert SAFETY in text
        assert "stepcalc" in text


def test_the_text_holds_every_part_of_a_step(sample_pdf: bytes) -> None:
    text = " ".join(page_texts(sample_pdf))
    for words in (
        "tributary width", "deck on one girder", "0.775", "462.4", "7.75", "assumed",
        "OUTSIDE RANGE", "Shown by hand", "W36X150", "compact flange", "D/C = 1.0004", "N.G.",
        "Live-load deflection", "(governs)", "Not checked", "fatigue", "STALE", "Undefined",
    ):  # fmt: skip
        assert words in text, words


def test_the_pages_are_the_same_bytes_twice(sample_pdf: bytes) -> None:
    assert to_pdf(read_document(sample_document())) == sample_pdf


@pytest.mark.slow
def test_another_process_makes_the_same_bytes(sample_pdf: bytes) -> None:
    program = (
        "import hashlib\n"
        "from stepcalc.print.typst import to_pdf\n"
        "from stepcalc.render.document import read_document\n"
        "from tests.unit.print_sample import sample_document\n"
        "print(hashlib.sha256(to_pdf(read_document(sample_document()))).hexdigest())"
    )
    done = subprocess.run(
        [sys.executable, "-c", program], capture_output=True, text=True, check=True,
        cwd=Path(__file__).parents[2], env=os.environ | {"PYTHONHASHSEED": "77"},
    )  # fmt: skip
    assert done.stdout.strip() == hashlib.sha256(sample_pdf).hexdigest()


def test_the_parts_are_bookmarks(sample_pdf: bytes) -> None:
    titles = outline_titles(sample_pdf)
    assert titles[0] == "A Permanent loads"
    assert "2.1 Deck" in titles
    assert "B Live load, resistance and checks" in titles


@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_nothing_is_drawn_outside_the_margins(paper: str) -> None:
    assert ink_outside(typst_files(read_document(sample_document()), Options(paper))) == []


def test_the_ink_test_can_fail() -> None:
    source = b'#set page("us-letter", margin: 5mm)\nfar out'
    assert ink_outside({"main.typ": source}) == [1]


@pytest.mark.parametrize("count", [1, 60])
def test_page_numbers_agree_for_short_and_long_documents(count: int) -> None:
    blocks = [
        step(f"1-{k}", f"M_{k}", sym("a"), sym("b"), ["qty", str(k), "kip"]) for k in range(count)
    ]
    data = {"title": TITLE, "sheets": [{"title": "S", "blocks": blocks}]}
    pages = page_texts(to_pdf(read_document(data)))
    assert all(f"Sheet {n} of {len(pages)}" in text for n, text in enumerate(pages, 1))
    assert (len(pages) == 1) == (count == 1)


def test_a_step_is_not_split_over_two_pages() -> None:
    blocks: list[dict[str, Any]] = []
    for k in range(80):
        description = f"begin{k} " + "words " * (7 * (k % 5))
        blocks.append(
            step(f"1-{k}", f"M_{k}", sym("a"), sym("b"), ["text", f"end{k}x"],
                 description=description, ref="clause")
        )  # fmt: skip
    data = {"title": TITLE, "sheets": [{"title": "S", "blocks": blocks}]}
    pages = page_texts(to_pdf(read_document(data)))
    assert len(pages) > 2
    for k in range(80):
        begins = [n for n, text in enumerate(pages) if f"begin{k} " in text]
        ends = [n for n, text in enumerate(pages) if f"end{k}x" in text.replace(" ", "")]
        assert begins == ends


def test_a_heading_stays_with_what_follows() -> None:
    blocks: list[dict[str, Any]] = []
    for k in range(120):
        blocks.append(heading(f"{k + 1}", f"Part{k}x"))
        blocks.append(
            step("", f"M_{k}", sym("a"), sym("b"), ["text", f"end{k}"], description=f"begin{k} x")
        )
    data = {"title": TITLE, "sheets": [{"title": "S", "blocks": blocks}]}
    pages = page_texts(to_pdf(read_document(data)))
    for k in range(120):
        [where] = [n for n, text in enumerate(pages) if f"Part{k}x" in text]
        assert f"begin{k} x" in pages[where]


def test_table_headers_stand_on_every_page_of_a_long_table() -> None:
    rows = [[f"row {k}", str(k)] for k in range(150)]
    table = {"kind": "table", "header": ["shape", "weight"], "rows": rows, "caption": "long"}
    data = {"title": TITLE, "sheets": [{"title": "S", "blocks": [table]}]}
    pages = page_texts(to_pdf(read_document(data)))
    assert len(pages) > 2
    assert all("shape weight" in text for text in pages)


def test_a_check_that_the_summary_leaves_out_is_named() -> None:
    data = sample_document()
    conclusion = data["sheets"][1]["blocks"][-1]
    conclusion["summary"] = conclusion["summary"][:1]
    text = page_texts(to_pdf(read_document(data)))[0]
    assert "does not name the check 'Live-load deflection'" in text


def test_a_sheet_without_any_summary_says_so_once() -> None:
    """A student's first sheet has checks and no conclusion; it is no fault of each check."""
    data = sample_document()
    sheet = data["sheets"][1]
    sheet["blocks"] = [x for x in sheet["blocks"] if x["kind"] != "conclusion"]
    sheet["summary"] = []
    text = " ".join(page_texts(to_pdf(read_document(data))))
    assert text.count("has no conclusion that sums up its checks") == 1
    assert "does not name the check" not in text


def test_without_a_conclusion_the_summary_still_prints() -> None:
    data = sample_document()
    sheet = data["sheets"][1]
    conclusion = sheet["blocks"].pop()
    sheet["summary"] = {"checks": conclusion["summary"]}
    assert "(governs)" in " ".join(page_texts(to_pdf(read_document(data))))


def test_blank_fields_are_left_to_fill_in_and_no_name_is_made_up() -> None:
    data = sample_document()
    data["title"] = {}
    pages = page_texts(to_pdf(read_document(data)))
    assert all("Prepared by" in text and "A. Preparer" not in text for text in pages)


def test_homework_has_course_and_name() -> None:
    data = copy.deepcopy(sample_document())
    data["profile"] = "homework"
    data["title"] = {"course": "CE 401", "student": "R. Student", "assignment": "HW 3",
                     "date": "2026-11-25", "instructor": "an instructor"}  # fmt: skip
    for text in page_texts(to_pdf(read_document(data))):
        for words in ("CE 401", "R. Student", "HW 3", "2026-11-25", "an instructor", "Name"):
            assert words in text
        assert "Reviewed by" not in text


def test_unknown_title_fields_print_on_every_sheet() -> None:
    data = sample_document()
    data["title"]["contract_no"] = "C-99"
    assert all("Contract no C-99" in text for text in page_texts(to_pdf(read_document(data))))


def test_a_long_field_is_shortened_on_every_sheet_and_whole_on_the_first() -> None:
    data = sample_document()
    data["title"]["revision"] = "second issue for review by the owner and the reviewing engineer"
    data["title"] |= {f"own_{k}": f"value {k}" for k in range(12)}
    pages = page_texts(to_pdf(read_document(data)))
    assert "Revision: second issue for review by the owner and the reviewing engineer" in pages[0]
    assert all("second issue for" in text and "Own 7 value 7" in text for text in pages)
    assert "Own 11: value 11" in pages[0]
    assert "value 11" not in pages[1]


def test_a_failure_of_the_typesetter_is_told_in_words() -> None:
    with pytest.raises(PrintError, match=r"the PDF cannot be set: .*in the block #nothing"):
        compile_typst({"main.typ": b"first\n#nothing"})


def test_no_file_on_disk_can_be_read() -> None:
    with pytest.raises(PrintError):
        compile_typst({"main.typ": b'#read("/etc/hostname")'})


def test_provenance_stands_in_the_foot() -> None:
    options = Options(provenance="girder.ipynb, run for this print")
    pages = page_texts(to_pdf(read_document(sample_document()), options))
    assert all("girder.ipynb, run for this print" in text for text in pages)


def test_an_unknown_paper_is_refused() -> None:
    with pytest.raises(PrintError, match="paper is 'a3'; want 'letter' or 'a4'"):
        Options("a3")
