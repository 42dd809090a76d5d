"""Marking: a table of right and wrong answers; a submission is data, never code."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from stepcalc import Sheet
from stepcalc.classroom.answers import notebook_answers, read_answer
from stepcalc.classroom.marking import Scheme, mark
from stepcalc.errors import FormulaError, PrintError
from stepcalc.notebook.display import sheet_bundle
from stepcalc.units import ft, inch, kip, kip_ft, klf
from tests.unit.classroom_sheet import homework
from tests.unit.test_print_notebook import code, new_notebook, new_output, shown, write

SHEET = homework()  # M_u = 1.25 * 0.770313 * 37**2 / 8 = 164.8 kip-ft


@pytest.mark.parametrize(
    ("answer", "outcome"),
    [
        ("164.8 kip-ft", "right"),
        ("165 kip-ft", "right"),
        (" 164.8 kip*ft", "right"),
        ("1978 kip-in", "right"),  # 164.8 * 12
        ("164,800 lb-ft", "right"),
        (164.8 * kip_ft, "right"),
        (1977.6 * kip * inch, "right"),
        ("168 kip-ft", "right"),  # 1.9 % off
        ("169 kip-ft", "wrong"),  # 2.5 % off
        ("-164.8 kip-ft", "wrong sign"),
        ("−164.8 kip-ft", "wrong sign"),
        ("164.8", "wrong unit"),
        (164.8, "wrong unit"),
        ("164.8 kip", "wrong unit"),
        ("164.8 furlongs", "wrong unit"),
        ("1978 kip-ft", "wrong unit"),  # inches left in
        ("13.73 kip-ft", "wrong unit"),
        ("12 kip", "wrong"),
        ("about 165", "wrong"),
        ("nan", "wrong"),
        (float("inf"), "wrong"),
        (None, "wrong"),
        ("__import__('os').system('true')", "wrong"),
    ],
)
def test_an_answer_is_marked(answer: Any, outcome: str) -> None:
    assert mark({"M_u": answer}, SHEET, ["M_u"])["M_u"].outcome == outcome


def test_following_through_a_wrong_value_is_credited() -> None:
    """With w = 0.9 klf the moment is 1.25 * 0.9 * 37**2 / 8 = 192.5 kip-ft."""
    marks = mark({"w": "0.9 klf", "M_u": "192.5 kip-ft"}, SHEET, ["w", "M_u"])
    assert [m.outcome for m in marks.marks] == ["wrong", "follow-through"]
    assert marks.credit == 0.5
    strict = mark({"w": "0.9 klf", "M_u": "192.5 kip-ft"}, SHEET, ["w", "M_u"],
                  scheme=Scheme(follow_through=0.25))  # fmt: skip
    assert strict["M_u"].credit == 0.25


def test_a_factor_forgotten_after_an_earlier_slip_is_one_slip() -> None:
    """Twice the load gives twice the moment; in kip-in, but called kip-ft, it is 12 times that."""
    wrong = 2 * SHEET["M_u"].number
    marks = mark({"w": f"{2 * SHEET['w'].number} klf", "M_u": f"{12 * wrong} kip-ft"}, SHEET)
    assert marks["M_u"].outcome == "wrong unit"
    assert marks["M_u"].remark == "off by a factor of 12 from the student's own values"


def test_a_value_of_the_wrong_dimension_is_not_followed() -> None:
    marks = mark({"w": "0.7703 kip", "M_u": "164.8 kip-ft"}, SHEET, ["w", "M_u"])
    assert [m.outcome for m in marks.marks] == ["wrong unit", "right"]


def test_verdicts_are_marked_and_followed_through() -> None:
    assert mark({"Flexure": "ok"}, SHEET, ["Flexure"])["Flexure"].outcome == "right"
    assert mark({"Flexure": "N.G."}, SHEET, ["Flexure"])["Flexure"].outcome == "wrong"
    own = mark({"M_u": "900 kip-ft", "Flexure": "NG"}, SHEET, ["Flexure"])
    assert own["Flexure"].outcome == "follow-through"


def test_zero_and_signs() -> None:
    sheet = Sheet("Zero")
    a = sheet.given("a", 5.5 * ft)
    sheet.step("d", a - 5.5 * ft, ft)
    sheet.step("n", -1 * a, ft)
    outcomes = [mark({"d": x}, sheet, ["d"])["d"].outcome for x in ("0 ft", "0.1 ft")]
    assert outcomes == ["right", "wrong"]
    outcomes = [mark({"n": x}, sheet, ["n"])["n"].outcome for x in ("-5.5 ft", "5.5 ft")]
    assert outcomes == ["right", "wrong sign"]


def test_the_band_of_hand_work_counts_without_a_share() -> None:
    exact = Scheme(relative=0.0)
    assert mark({"M_u": "165.9 kip-ft"}, SHEET, ["M_u"], scheme=exact)["M_u"].outcome == "right"
    assert mark({"M_u": "166.2 kip-ft"}, SHEET, ["M_u"], scheme=exact)["M_u"].outcome == "wrong"


def test_missing_and_surplus_answers_are_said() -> None:
    marks = mark({"spam": "1 ft"}, SHEET)
    assert {m.outcome for m in marks.marks} == {"missing"}
    assert marks.notices == ("the answer 'spam' belongs to no step",)
    with pytest.raises(FormulaError, match="'spam' was not marked"):
        marks["spam"]


def submission(path: Path, sheet: Sheet, source: str = "x = 1") -> Path:
    data, _ = sheet_bundle(sheet)
    write(new_notebook(cells=[code(1, shown(data), source=source)]), path)
    return path


def test_an_executed_notebook_is_marked_without_running_it(tmp_path: Path) -> None:
    trap = tmp_path / "ran"
    source = f"from stepcalc.bridge.girder import girder_calculation\nopen({str(trap)!r}, 'w')"
    path = submission(tmp_path / "s.ipynb", SHEET, source)
    marks = mark(path, SHEET)
    assert {m.outcome for m in marks.marks} == {"right"}
    assert not trap.exists()
    assert "cell 1 uses stepcalc.bridge" in marks.notices[0]


def test_a_notebook_with_another_load_is_wrong_where_it_matters(tmp_path: Path) -> None:
    path = submission(tmp_path / "s.ipynb", SHEET.revise(S=9 * ft))
    marks = mark(path, SHEET)
    assert marks["w"].outcome == "wrong"
    assert marks["M_u"].outcome == "follow-through"
    assert marks["Z_x"].outcome == "right"
    assert marks.notices == ()


def test_an_unrun_notebook_is_refused(tmp_path: Path) -> None:
    write(new_notebook(cells=[code(None)]), tmp_path / "s.ipynb")
    with pytest.raises(PrintError, match="never run"):
        mark(tmp_path / "s.ipynb", SHEET)
    with pytest.raises(PrintError, match="never run"):
        notebook_answers(tmp_path / "s.ipynb")


def test_a_notebook_that_stopped_at_an_error_is_marked_as_far_as_it_went(tmp_path: Path) -> None:
    data, _ = sheet_bundle(SHEET)
    error = new_output("error", ename="DimensionError", evalue="cannot add", traceback=[])
    cells = [code(1, shown(data)), code(2, error), code(None, source="y = 2")]
    write(new_notebook(cells=cells), tmp_path / "s.ipynb")
    marks = mark(tmp_path / "s.ipynb", SHEET)
    assert {m.outcome for m in marks.marks} == {"right"}
    assert marks.notices == (
        "cell 2 ended in an error: DimensionError: cannot add", "cell 3 was not run",
    )  # fmt: skip
    write(new_notebook(cells=cells[1:]), tmp_path / "s.ipynb")
    with pytest.raises(PrintError, match=r"was not run|ended in an error"):
        mark(tmp_path / "s.ipynb", SHEET)


@pytest.mark.parametrize(
    ("text", "number", "unit"),
    [
        ("243 in3", 243, "in^3"), ("243 cu in", 243, "in^3"), ("1,350 in4", 1350, "in^4"),
        ("12 k/in2", 12, "kip/in^2"), ("134 k-ft", 134, "kip·ft"), ("134 ft-k", 134, "kip·ft"),
        ("134 kip - ft", 134, "kip·ft"), ("134 Kip-ft", 134, "kip·ft"), ("27 k", 27, "kip"),
        ("94 #/ft", 94, "lb/ft"), ("20.9 KSI", 20.9, "ksi"), ("34'", 34, "ft"),
        ("M = 134 kip-ft", 134, "kip·ft"), ("= 1.5 klf", 1.5, "klf"),
        ("1.34x10^2 kip-ft", 134, "kip·ft"), ("2.9e4 ksi", 29000, "ksi"),
    ],
)  # fmt: skip
def test_units_as_hands_write_them(text: str, number: float, unit: str) -> None:
    """Common practice, no source: k for kip, in3 for in^3, # for pound."""
    answer = read_answer(text)
    assert answer.number == pytest.approx(number)
    assert answer.info is not None
    assert answer.info.text == unit


@pytest.mark.parametrize("text", ["W27X94", "134,5 kip-ft", "12,34,567 ft", "M 5 ft", "2,", ""])
def test_what_is_no_number_is_no_answer(text: str) -> None:
    assert read_answer(text).number is None


def test_answers_are_read() -> None:
    assert read_answer("1,963.5 kip-ft").number == 1963.5
    assert read_answer(".5 ft").base == pytest.approx(6.0)
    assert read_answer("2e3 lb").base == pytest.approx(2.0)
    assert read_answer(1.5 * klf).base == pytest.approx(0.125)
    assert read_answer(True).problem == "there is no answer"
