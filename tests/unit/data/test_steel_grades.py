"""The steel grades: AASHTO LRFD 8th ed. (2017), Table 6.4.1-1, from memory."""

from __future__ import annotations

import pytest

from stepcalc.data.tables import table

GRADES = table("steel_grades")


@pytest.mark.parametrize(
    ("grade", "Fy", "Fu", "plate_limit", "shapes"),
    [
        ("A709 Grade 36", 36, 58, 4, True),
        ("Gr. 50", 50, 65, 4, True),
        ("50s", 50, 65, 0, True),
        ("ASTM A709 Gr 50W", 50, 70, 4, True),
        ("HPS50W", 50, 70, 4, False),
        ("grade hps 70w", 70, 85, 4, False),
        ("HPS 100W", 100, 110, 2.5, False),
    ],
)
def test_strengths(grade: str, Fy: float, Fu: float, plate_limit: float, shapes: bool) -> None:
    row = GRADES.row_number(grade)
    found = [GRADES.column(c)[row] for c in ("Fy", "Fu", "plate_limit", "shapes")]
    assert found == [Fy, Fu, plate_limit, shapes]


def test_a_yield_strength_is_below_its_tensile_strength() -> None:
    assert all(a < b for a, b in zip(GRADES.column("Fy"), GRADES.column("Fu"), strict=True))


def test_the_source_says_that_it_is_from_memory() -> None:
    assert "from memory" in GRADES.source.lower()
