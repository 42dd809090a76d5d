"""Conversion factors: where they stand, and that none stands where none is due."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from stepcalc import (
    Sheet,
    absolute,
    cases,
    exp,
    floor,
    interpolate,
    maximum,
    minimum,
    sqrt,
    total,
)
from stepcalc.render.build import step_text
from stepcalc.render.conversion_units import needs_factors
from stepcalc.render.conversions import with_factors
from stepcalc.units import Q_, ft, inch, kip, kip_ft, klf, ksi, lb, pcf
from stepcalc.units.info import read_unit

Names = Callable[[str], Any]


def sheet() -> Sheet:
    """Return a sheet with names in feet, inches, kips and pounds."""
    s = Sheet("conversions")
    for name, value in {
        "L": 50 * ft, "S": 8 * ft, "t": 6 * inch, "d": 24 * inch, "P": 10 * kip, "Q": 500 * lb,
        "w": 2 * klf, "g": 150 * pcf, "M": 100 * kip_ft, "Z": 200 * inch**3, "E": 29000 * ksi,
        "I": 1000 * inch**4, "k": 2.0, "y": 3 * Q_(1, "yd"),
    }.items():  # fmt: skip
        s.given(name, value)
    return s


CASES: dict[str, tuple[Callable[[Names], Any], str | None, str]] = {
    "none is due": (lambda n: n("w") * n("L") ** 2 / 8, "kip*ft", "(2 klf)(50 ft)^2/8"),
    "only carrier": (
        lambda n: n("M") / n("Z"), "ksi", "(100 kip-ft)(12 in/1 ft)/(200 in^3)",
    ),
    "each atom one factor": (
        lambda n: n("S") * n("t") * n("g"), "kip/ft",
        "(8 ft)(6 in)(1 ft/12 in)(150 pcf)(1 kip/1,000 lb)",
    ),
    "net exponent, behind the last over the bar": (
        lambda n: 5 * n("w") * n("L") ** 4 / (384 * n("E") * n("I")), "inch",
        "5(2 klf)(50 ft)^4(12 in/1 ft)^3/(384(29,000 ksi)(1,000 in^4))",
    ),
    "the carrier with exactly the net exponent": (
        lambda n: n("I") / (n("L") * n("t") ** 3), None,
        "(1,000 in^4)/((50 ft)(12 in/1 ft)(6 in)^3)",
    ),
    "on a tie the smaller unit": (
        lambda n: n("L") / n("t"), None, "(50 ft)(12 in/1 ft)/(6 in)",
    ),
    "behind the one under the bar": (
        lambda n: n("P") / n("d"), "klf", "(10 kip)/((24 in)(1 ft/12 in))",
    ),
    "carriers on both sides: end of the numerator": (
        lambda n: n("t") * n("P") / n("Z"), "kip/ft**2",
        "(6 in)(10 kip)(12 in/1 ft)^2/(200 in^3)",
    ),
    "pounds under kips": (
        lambda n: n("Q") / n("P"), None, "(500 lb)/((10 kip)(1,000 lb/1 kip))",
    ),
    "into the wanted unit": (lambda n: n("P") + n("Q"), "lb", "(10 kip)(1,000 lb/1 kip) + 500 lb"),
    "once behind a sum": (
        lambda n: n("M") / n("Z") + 2 * n("M") / n("Z"), "ksi",
        "((100 kip-ft)/(200 in^3) + 2(100 kip-ft)/(200 in^3))(12 in/1 ft)",
    ),
    "once behind a minimum": (
        lambda n: minimum(n("L"), n("S")), "inch", "min(50 ft, 8 ft) (12 in/1 ft)",
    ),
    "terms of two units": (lambda n: n("L") - n("d"), "ft", "50 ft - (24 in)(1 ft/12 in)"),
    "a sum passes its wish on": (
        lambda n: 2 * (n("L") - n("d")), "inch", "2((50 ft)(12 in/1 ft) - 24 in)",
    ),
    "a sum among units keeps its own": (
        lambda n: n("w") * (n("L") + n("S")), "lb", "(2 klf)(1,000 lb/1 kip)(50 ft + 8 ft)",
    ),
    "without a wish the smaller unit": (
        lambda n: maximum(n("L"), n("d")) / n("t"), None,
        "max((50 ft)(12 in/1 ft), 24 in)/(6 in)",
    ),
    "inside a root": (
        lambda n: sqrt(n("L") * n("d")), "ft", "sqrt((50 ft)(24 in)(1 ft/12 in))",
    ),
    "behind a root": (
        lambda n: sqrt(n("Z") / n("d")), "ft", "sqrt(200 in^3/24 in) (1 ft/12 in)",
    ),
    "inside a power": (
        lambda n: (n("L") / n("d")) ** 0.4, None, "((50 ft)(12 in/1 ft)/(24 in))^0.4",
    ),
    "a power of a name": (lambda n: n("d") ** 2, "ft**2", "(24 in)^2(1 ft/12 in)^2"),
    "nothing left in a dimensionless sum": (
        lambda n: 1 + n("L") / n("d"), None, "1 + (50 ft)(12 in/1 ft)/(24 in)",
    ),
    "absolute value": (
        lambda n: absolute(n("S") - n("L")), "inch", "abs((8 ft - 50 ft)(12 in/1 ft))",
    ),
    "total": (
        lambda n: total([n("L"), n("d"), 3 * n("S")]), "ft",
        "50 ft + (24 in)(1 ft/12 in) + 3(8 ft)",
    ),
    "three units of a kind": (
        lambda n: n("y") + n("L") + n("d"), "ft",
        "(3 yd)(3 ft/1 yd) + 50 ft + (24 in)(1 ft/12 in)",
    ),
    "a literal": (lambda n: n("L") + 6 * inch, "ft", "50 ft + (6 in)(1 ft/12 in)"),
    "the same name in three places": (
        lambda n: n("d") * n("L") + n("d") * n("d"), "ft**2",
        "(24 in)(1 ft/12 in)(50 ft) + (24 in)(24 in)(1 ft/12 in)^2",
    ),
    "cases inside a product": (
        lambda n: n("P") * cases((n("L") >= n("d"), n("d")), otherwise=n("L")), "kip*ft",
        "(10 kip)(24 in)(1 ft/12 in)",
    ),
    "a sum of cases": (
        lambda n: n("L") + cases((n("L") >= n("d"), n("d")), otherwise=n("L")), "ft",
        "50 ft + (24 in)(1 ft/12 in)",
    ),
    "an interpolation in other units": (
        lambda n: n("P") * interpolate(n("d"), [1 * ft, 3 * ft], [10 * inch, 30 * inch]), "kip*ft",
        "(10 kip)(10 in + ((24 in)(1 ft/12 in) - 1 ft)(30 in - 10 in)/(3 ft - 1 ft))(1 ft/12 in)",
    ),
    "a minus sign": (lambda n: -n("d") * n("P"), "kip*ft", "-(24 in)(1 ft/12 in)(10 kip)"),
    "a minus sign in front": (lambda n: -n("d") + n("L"), "ft", "-(24 in)(1 ft/12 in) + 50 ft"),
    "a product in brackets": (
        lambda n: n("P") * (n("L") * n("d")), "kip*ft**2",
        "(10 kip)((50 ft)(24 in)(1 ft/12 in))",
    ),
    "a quotient of quotients in which inches cancel": (
        lambda n: (n("M") / n("d")) / (n("Q") / n("t")), "ft",
        "((100 kip-ft)(1,000 lb/1 kip)/(24 in))/((500 lb)/(6 in))",
    ),
    "functions of ratios": (
        lambda n: exp(-n("L") / n("d")) + floor(n("L") / n("d")), None,
        "exp(-(50 ft)(12 in/1 ft)/(24 in)) + floor((50 ft)(12 in/1 ft)/(24 in))",
    ),
    "an exponent with units": (
        lambda n: 2 ** (n("L") / n("d")), None, "2^((50 ft)(12 in/1 ft)/(24 in))",
    ),
    "a sum with one raw unit and another": (
        lambda n: (n("M") / n("Z") + n("E")) / n("E"), None,
        "((100 kip-ft)(12 in/1 ft)/(200 in^3) + 29,000 ksi)/(29,000 ksi)",
    ),
    "bare numbers need none": (
        lambda n: n("L").magnitude(ft) / n("t").magnitude(inch), None, "50/6",
    ),
}  # fmt: skip


@pytest.mark.parametrize("label", CASES)
def test_factors_stand_where_a_person_would_write_them(label: str) -> None:
    make, unit, substitution = CASES[label]
    s = sheet()
    step = s.step("x", make(s.__getitem__), unit)
    parts = step_text(step).split("   (with")[0].split(" = ")
    assert parts[2] == substitution


def test_a_formula_without_mixed_units_is_not_copied() -> None:
    s = sheet()
    formula = s["w"] * s["L"] ** 2 / 8
    assert with_factors(formula, read_unit(kip_ft), s._values) is formula
    assert not needs_factors(formula.mask)
    assert needs_factors((s["L"] + s["d"]).mask)


def test_folded_conversions_are_left_out_but_not_from_the_number() -> None:
    s = Sheet("folded", fold=True)
    L, d = s.given("L", 50 * ft), s.given("d", 24 * inch)
    step = s.step("x", L / d)
    assert step_text(step) == "x = L/d = (50 ft)/(24 in) = 25.00"
    assert "12" not in step.latex()


def test_a_revised_unit_is_shown_in_the_unit_of_the_formula() -> None:
    s = sheet()
    step = s.step("x", s["L"] + s["d"], ft)
    assert "50 ft" in step_text(step)
    revised = s.revise(L=600 * inch)["x"]
    assert step_text(revised) == step_text(step)
    assert "600 in" in step_text(s.revise(L=600 * inch)["L"])
