"""Checks: on which side of one a ratio is, equal up to round-off, and when there is no verdict."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest

from stepcalc import Sheet, minimum, sqrt
from stepcalc.units import ft, inch, kip, ksi


def check_of(demand: float, capacity: float) -> Any:
    """Return the check of a demand against a capacity, both in kip."""
    sheet = Sheet("check")
    d, c = sheet.given("d", demand * kip), sheet.given("c", capacity * kip)
    return sheet.check("Strength", d <= c, ref="none")


@pytest.mark.parametrize(
    ("demand", "verdict", "shown"),
    [
        (0.75, "OK", "0.750"),
        (0.9996, "OK", "0.9996"),
        (1.0, "OK", "1.000"),
        (1.0 + 1e-12, "OK", "1.000"),
        (1.0004, "N.G.", "1.0004"),
        (1.0000004, "N.G.", "1.0000004"),
        (1.25, "N.G.", "1.250"),
    ],
)
def test_a_ratio_near_one_is_shown_on_its_side(demand: float, verdict: str, shown: str) -> None:
    check = check_of(demand, 1.0)
    assert (check.verdict, check.shown_ratio) == (verdict, shown)
    assert check.passed is (verdict == "OK")


@pytest.mark.parametrize("feet", [1, 7, 83, 191])
def test_twelve_inches_are_a_foot_on_both_sides(feet: int) -> None:
    sheet = Sheet("edge")
    a, b = sheet.given("a", feet * ft), sheet.given("b", 12 * feet * inch)
    assert sheet.check("a in b", a <= b).passed
    assert sheet.check("b in a", b <= a).passed


@pytest.mark.parametrize(("demand", "capacity"), [(1.0, 0.0), (1.0, -2.0), (-3.0, -2.0)])
def test_no_capacity_is_never_ok(demand: float, capacity: float) -> None:
    check = check_of(demand, capacity)
    assert not check.defined
    assert math.isnan(check.ratio)
    assert (check.passed, check.verdict) == (False, "N.G.")
    assert check.sheet.governing.name == "Strength"
    assert "undefined" in check.text().lower()


def test_an_undefined_check_governs_over_a_high_ratio() -> None:
    sheet = Sheet("bad")
    z = sheet.given("z", 2.0)
    a = sheet.step("a", (1 * kip) * sqrt(z - 1), kip)
    sheet.check("root", a <= 5 * kip)
    sheet.check("high", 9 * kip <= minimum(5 * kip, 6 * a))
    assert sheet.governing.name == "high"
    again = sheet.revise(z=0.5)
    assert not again["root"].passed
    assert again.governing.name == "root"
    assert math.isnan(again["root"].ratio)


def test_a_bare_unit_and_a_unit_behind_a_number_weigh_the_same() -> None:
    """An empirical result gets its unit by ``* ksi``; one foot is twelve inches as a factor too."""
    sheet = Sheet("units as factors")
    f_c = sheet.given("f_c", 4 * ksi)
    E_c = sheet.step("E_c", 1820 * sqrt(f_c.magnitude(ksi)) * ksi, ksi)
    assert float(E_c.value.magnitude) == pytest.approx(3640.0)
    x = sheet.given("x", 3.0)
    assert float(sheet.step("L", x * ft, inch).value.magnitude) == pytest.approx(36.0)
    found = sheet.evaluate({"x": np.array([1.0, 2.5])}, outputs=["L"])["L"]
    assert found.to("ft").magnitude.tolist() == pytest.approx([1.0, 2.5])


def test_a_check_has_demand_and_capacity_with_units() -> None:
    check = check_of(3.0, 4.0)
    assert check.ratio == 0.75
    assert check.demand == 3.0 * kip
    assert check.capacity == 4.0 * kip
    greater = check.sheet.check("other way", check.sheet["c"] >= check.sheet["d"])
    assert greater.ratio == 0.75
