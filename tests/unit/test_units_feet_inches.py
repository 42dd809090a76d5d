"""Feet, inches and sixteenths as plans write them (common practice, no source)."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stepcalc.errors import RangeError
from stepcalc.units.feet_inches import feet_and_inches


@pytest.mark.parametrize(
    ("feet", "text"),
    [
        (62.5, "62 ft-6 in"),
        (62.0, "62 ft-0 in"),
        ((11 + 15.97 / 16) / 12, "1 ft-0 in"),  # carried through the inch into the foot
        ((23 + 15.6 / 16) / 12, "2 ft-0 in"),
        ((11 + 15.4 / 16) / 12, "11 15/16 in"),
        (0.0, "0 in"),
        (-0.001, "0 in"),  # no sign on nothing
        (-62.5, "-62 ft-6 in"),
        (1 / 12 / 32, "1/16 in"),  # half a sixteenth goes up
        (1 / 96, "1/8 in"),
        (0.1 + 0.2, "3 5/8 in"),  # 0.3 ft = 3.6 in
        (11.2, "11 ft-2 3/8 in"),  # 11.200000000000001 is 11.2
        (11.200000000000001, "11 ft-2 3/8 in"),
        (47 / 3, "15 ft-8 in"),
        (1.28125, "1 ft-3 3/8 in"),
    ],
)
def test_as_plans_write_it(feet: float, text: str) -> None:
    assert feet_and_inches(feet) == text


def test_other_parts_of_an_inch() -> None:
    assert feet_and_inches(1.05, 8) == "1 ft-5/8 in"
    assert feet_and_inches(1.05, 1) == "1 ft-1 in"


@pytest.mark.parametrize(("feet", "parts"), [(float("nan"), 16), (float("inf"), 16), (1.0, 0)])
def test_no_length(feet: float, parts: int) -> None:
    with pytest.raises(RangeError, match="cannot be written"):
        feet_and_inches(feet, parts)


@given(st.floats(-5000, 5000))
def test_read_back_it_is_within_half_a_part(feet: float) -> None:
    words = feet_and_inches(feet)
    sign = -1 if words.startswith("-") else 1
    whole, _, inches = words.removeprefix("-").removesuffix(" in").rpartition(" ft-")
    read = Fraction(whole or 0) * 12 + sum(Fraction(piece) for piece in inches.split())
    assert abs(float(sign * read) - feet * 12) <= 1 / 32 + 1e-7
    assert sum(Fraction(piece) for piece in inches.split()) < 12
