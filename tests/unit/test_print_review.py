"""Review: comments keyed to steps, fields for what is N.G., the form of an independent check."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from stepcalc import Sheet
from stepcalc.errors import DimensionError, FormulaError, SheetFileError, UnknownNameError
from stepcalc.print import print_document
from stepcalc.print.comments import CommentLog, with_comments
from stepcalc.print.disposition import CAPTION, with_dispositions
from stepcalc.print.independent_check import IndependentCheck, inputs_only
from stepcalc.render.build import build_document
from stepcalc.render.document import read_document
from stepcalc.units import ft, inch, kip, kip_ft, klf
from tests.unit.print_pages import page_texts


def beam(limit: float = 350, *, extra: bool = False) -> Sheet:
    sheet = Sheet("Beam")
    with sheet.part("Data"):
        L = sheet.given("L", 40 * ft, "span", within=(20 * ft, 80 * ft))
        w = sheet.given("w", 1.5 * klf, "load", source="plan")
        shape = sheet.given("shape", "W24X76", choices="w_shapes")
    with sheet.part("Effects"):
        if extra:
            sheet.step("a", L / 4, ft)
        M = sheet.step("M_u", w * L**2 / 8, kip_ft)
        Z = sheet.lookup("Z_x", "w_shapes", shape, "Zx", inch**3)
        sheet.check("Flexure", M <= limit * kip_ft, location="midspan")
        sheet.check("Shear", w * L / 2 <= 60 * kip)
        sheet.check("Modulus", 100 * inch**3 <= Z)
    return sheet


def document(sheet: Sheet) -> Any:
    return read_document(build_document(sheet))


def printed(made: Any, folder: Path) -> str:
    print_document(made, folder / "out.pdf")
    return " ".join(page_texts((folder / "out.pdf").read_bytes()))


def test_each_failed_check_has_a_blank_field_and_no_other(tmp_path: Path) -> None:
    text = printed(document(beam(200)), tmp_path)
    assert "Disposition of checks that are N.G." in text
    assert text.count("accept with reason") == 1
    assert "waiver" in text
    fine = printed(document(beam()), tmp_path)
    assert "Disposition" not in fine


def test_a_decision_is_printed_and_fields_are_not_doubled(tmp_path: Path) -> None:
    decided = with_dispositions(document(beam(200)), {"Flexure": "revise: W24X84"})
    assert with_dispositions(decided) is decided
    text = printed(decided, tmp_path)
    assert "revise: W24X84" in text
    assert "accept with reason" not in text
    assert text.count(CAPTION[:30]) == 1


def test_comments_stay_with_their_step_when_others_are_inserted(tmp_path: Path) -> None:
    log = CommentLog()
    log.add("Effects/M_u", "is the haunch in the load?", by="R. Viewer", on="2026-11-24")
    log.add("Shear", "location?")
    log.add("spam", "what is this?")
    log.reply(1, "yes, see 1-2", by="D. Signer")
    log.close(1, by="R. Viewer", on="2026-11-25")
    log = CommentLog.from_json(log.to_json())
    for extra, number in ((False, "2-1 M_u"), (True, "2-2 M_u")):
        made = with_comments(document(beam(extra=extra)), log)
        (table,) = [block for block in made.sheets[-1].blocks if hasattr(block, "rows")]
        assert table.rows[0][1] == number
        assert table.rows[0][4] == "closed (R. Viewer, 2026-11-25)"
        assert table.rows[1][4] == "open"
        assert "no longer on the sheets" in table.rows[2][1]
    text = printed(made, tmp_path)
    assert "3 comments, 2 of them not closed" in text
    assert "is the haunch in the load?" in text


def test_without_comments_nothing_is_added() -> None:
    made = document(beam())
    assert with_comments(made, CommentLog()) is made


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("{", "cut off"),
        ("[]", "no log of comments"),
        ('{"format": "stepcalc review comments", "version": 1, "comments": [1]}',
         "list of objects"),
        ('{"format": "stepcalc review comments", "version": 1, "comments": [{"step": "a"}]}',
         "wrong fields"),
        ('{"format": "stepcalc review comments", "version": 1, "comments": '
         '[{"step": "a", "text": 3}]}', "want a text"),
    ],
)  # fmt: skip
def test_damaged_logs_are_refused(text: str, words: str) -> None:
    with pytest.raises(SheetFileError, match=words):
        CommentLog.from_json(text)


def test_comments_are_checked() -> None:
    log = CommentLog()
    with pytest.raises(UnknownNameError, match="no comment 1"):
        log.reply(1, "x")
    log.add("M_u", "why?")
    with pytest.raises(SheetFileError, match="name of the one who checked"):
        log.close(1, by=" ")
    with pytest.raises(SheetFileError, match="wants the step"):
        log.add("", "why?")


def test_the_blank_form_holds_inputs_and_no_result(tmp_path: Path) -> None:
    form = IndependentCheck(beam())
    blank = json.dumps(form.document())
    for number in ("300", "0.857", "0.500", '"200"'):  # M_u, its ratio, that of shear, Z_x
        assert number not in blank
    text = printed(form.document(), tmp_path)
    assert "1.5 klf" in text
    assert "4 of" not in text
    assert "5 of 5 results are still to be entered" in text


def test_a_designers_number_appears_when_the_checkers_is_entered() -> None:
    form = IndependentCheck(beam(), ["M_u", "Z_x", "Flexure"])
    form.enter("M_u", 312 * 12 * kip * inch)
    rows = form.document()["sheets"][0]["blocks"][-1]["rows"]
    assert rows[0][2:5] == [["num", "312.0"], ["num", "300.0"], "+4.00 %  (!)"]
    assert rows[1][2:] == ["____________", "", "", ""]
    assert form.difference("M_u") == pytest.approx(0.04)
    assert form.difference("Z_x") is None
    assert not form.complete
    form.enter("Z_x", 200 * inch**3)  # AISC Shapes Database v16.0: W24X76, Zx = 200 in^3
    form.enter("Flexure", 0.89)
    form.dispose("M_u", "checker counted the haunch; accepted")
    rows = form.document()["sheets"][0]["blocks"][-1]["rows"]
    assert rows[0][5] == "checker counted the haunch; accepted"
    assert rows[1][4] == "+0.00 %"
    assert form.complete


def test_what_was_entered_survives_without_the_designers_numbers() -> None:
    form = IndependentCheck(beam(), ["M_u", "Flexure"])
    form.enter("M_u", 312 * kip_ft)
    form.dispose("M_u", "revise")
    text = form.to_json()
    assert "300" not in text
    again = IndependentCheck(beam(), ["M_u", "Flexure"])
    again.read(text)
    assert again.document() == form.document()
    with pytest.raises(SheetFileError, match="does not fit this sheet"):
        IndependentCheck(beam(), ["Shear"]).read(text)
    for damaged in ("{", "[]", text.replace('"entered"', '"lost"'), text.replace("312", '"x"')):
        with pytest.raises(SheetFileError):
            again.read(damaged)


def test_the_form_refuses_what_does_not_fit() -> None:
    form = IndependentCheck(beam(), ["M_u"])
    with pytest.raises(DimensionError, match="the checker's 'M_u'"):
        form.enter("M_u", 3 * kip)
    with pytest.raises(FormulaError, match="not on the form"):
        form.enter("Z_x", 3 * inch**3)
    with pytest.raises(FormulaError, match="has not entered"):
        form.dispose("M_u", "fine")
    with pytest.raises(FormulaError, match="'L' is given"):
        IndependentCheck(beam(), ["L"])
    with pytest.raises(FormulaError, match="has no check"):
        IndependentCheck(Sheet("Empty"))


def test_inputs_only_keeps_parts_ranges_and_choices() -> None:
    source = beam()
    copy = inputs_only(source)
    assert [node.path for node in copy.givens] == ["Data/L", "Data/w", "Data/shape"]
    assert copy["shape"].value == "W24X76"
    assert copy["w"].source == "plan"
    assert "outside its range" in copy.revise(L=90 * ft)["L"].warnings[0]
    assert copy.steps == []
