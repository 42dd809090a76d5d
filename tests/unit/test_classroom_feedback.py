"""Feedback says what is right and hints at the rest; the answer is never in it."""

from __future__ import annotations

from pathlib import Path

from stepcalc import cli
from stepcalc.classroom.feedback import feedback
from stepcalc.classroom.marking import mark
from tests.unit.classroom_sheet import homework

SHEET = homework()
RIGHT = {node.name: f"{node.shown} {node.info.text}" for node in SHEET.steps}


def lines_of(**answers: str) -> dict[str, str]:
    said = feedback(mark({**RIGHT, "Flexure": "OK", **answers}, SHEET), SHEET)
    return dict(line.split("  ", 1) for line in said.splitlines()[2:] if "  " in line)


def test_a_right_submission_is_right() -> None:
    assert {said.strip() for said in lines_of().values()} == {"right"}


def test_a_wrong_step_with_right_operands_points_at_its_formula() -> None:
    said = lines_of(M_u="99 kip-ft")
    assert "though w can be used as you have it: look at the formula" in said["M_u"]
    assert said["w"].strip() == "right"


def test_a_wrong_step_points_at_the_wrong_one_before_it() -> None:
    said = lines_of(w="9 klf", M_u="99 kip-ft")
    assert "look at the givens" in said["w"]
    assert "set w right first" in said["M_u"]


def test_units_and_what_is_carried_on_have_their_hints() -> None:
    said = lines_of(w="1.54 klf", M_u="329 kip-ft", M_n="891.9 kip")
    assert "follows rightly from your own earlier value" in said["M_u"]
    assert "kip is force" in said["M_n"]


def test_no_answer_is_in_it() -> None:
    wrong = dict.fromkeys(RIGHT, "1 ft")
    said = feedback(mark(wrong, SHEET), SHEET)
    for node in SHEET.steps:
        assert node.shown not in said
    assert "no answer of this name" in said


def test_the_command_writes_one_file_for_each_student(tmp_path: Path) -> None:
    (tmp_path / "key.json").write_text(SHEET.to_json())
    (tmp_path / "one.csv").write_text("M_u,99 kip-ft\n")
    (tmp_path / "two.csv").write_text("M_u\n")
    folder = tmp_path / "back"
    line = ["mark", str(tmp_path / "one.csv"), str(tmp_path / "two.csv"), "--step", "M_u"]
    line += ["--key", str(tmp_path / "key.json"), "--feedback", str(folder)]
    assert cli.main(line) == 2
    assert "look at the formula" in (folder / "one.csv.txt").read_text()
    assert "could not be marked" in (folder / "two.csv.txt").read_text()
