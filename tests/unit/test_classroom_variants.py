"""Variants: reproducible, inside their ranges, no two alike in a class."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stepcalc.classroom.variants import variant, variants
from stepcalc.errors import DimensionError, FormulaError, SolveError
from stepcalc.units import ft, klf
from tests.unit.classroom_sheet import homework

SHEET = homework()
RANGES: dict[str, Any] = {
    "L": (30 * ft, 40 * ft, 0.5 * ft),
    "S": (6 * ft, 8 * ft, 0.25 * ft),
    "shape": ["W24X76", "W24X84", "W27X94"],
}
OPTIONS: dict[str, Any] = {"assignment": "hw 4", "salt": "not for students"}


def test_the_same_student_gets_the_same_on_every_machine() -> None:
    """The values were drawn once and written down: another Python must draw them again."""
    made = variant(SHEET, "s-1024", RANGES, **OPTIONS)
    again = variant(homework(), "s-1024", RANGES, **OPTIONS)
    assert made.changes == again.changes
    assert made.code == again.code
    assert {k: str(v) for k, v in made.changes.items()} == {
        "L": "34.0 ft", "S": "7.5 ft", "shape": "W24X76",
    }  # fmt: skip


def test_salt_assignment_and_student_each_matter() -> None:
    codes = {
        variant(SHEET, student, RANGES, assignment=assignment, salt=salt).code
        for student in ("a", "b") for assignment in ("1", "2") for salt in ("x", "y")
    }  # fmt: skip
    assert len(codes) == 8


@given(st.text(min_size=1, max_size=20).filter(lambda text: text.strip()))
def test_every_draw_lies_on_the_steps_of_its_range(student: str) -> None:
    changes = variant(SHEET, student, RANGES, **OPTIONS).changes
    length = changes["L"].magnitude
    assert 30 <= length <= 40
    assert (length * 2) == int(length * 2)
    assert changes["shape"] in RANGES["shape"]


def test_a_class_of_three_hundred_has_no_two_alike() -> None:
    made = variants(SHEET, [f"student {k}" for k in range(300)], RANGES, **OPTIONS)
    drawn = {tuple(str(v) for v in one.changes.values()) for one in made.values()}
    assert len(drawn) == 300


def test_a_requirement_is_met_by_every_draw() -> None:
    ranges = {"L": (30 * ft, 90 * ft, 1 * ft)}
    made = variants(
        SHEET, ["a", "b", "c", "d"], ranges, require=lambda sheet: not sheet.passed, **OPTIONS
    )
    assert not any(one.sheet.passed for one in made.values())


def test_too_few_variants_and_impossible_wishes_are_said() -> None:
    with pytest.raises(SolveError, match="none of 2000 draws for 'c'"):
        variants(SHEET, "abc", {"L": (30 * ft, 31 * ft, 1 * ft)}, **OPTIONS)


@pytest.mark.parametrize(
    ("ranges", "error", "words"),
    [
        ({"L": (40 * ft, 30 * ft, 1 * ft)}, FormulaError, "is empty: 40 to 30"),
        ({"L": (30 * ft, 40 * ft, 0 * ft)}, FormulaError, "by 0"),
        ({"L": (30 * ft, 40 * ft)}, FormulaError, "want \\(low, high, step\\)"),
        ({"L": []}, FormulaError, "list of values of 'L' is empty"),
        ({"L": (1 * klf, 2 * klf, 1 * klf)}, DimensionError, "range of 'L'"),
    ],
)
def test_wrong_ranges_are_refused(
    ranges: dict[str, Any], error: type[Exception], words: str
) -> None:
    with pytest.raises(error, match=words):
        variant(SHEET, "a", ranges, **OPTIONS)
    with pytest.raises(FormulaError, match="the salt is a text"):
        variant(SHEET, "a", {}, assignment="1", salt=" ")
