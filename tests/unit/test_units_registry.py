"""Units against independent factors, and what is refused as a unit."""

from __future__ import annotations

import copy
import pickle
import subprocess
import sys
from decimal import Decimal
from fractions import Fraction
from typing import Any

import numpy as np
import pint
import pytest

from stepcalc import Sheet
from stepcalc import units as u
from stepcalc.errors import DimensionError, UnitError
from stepcalc.units import Q_, ft, inch, kip, registry
from stepcalc.units.dimension import DIMENSIONLESS, FORCE, LENGTH, dimension
from stepcalc.units.info import ONE, own_quantity, read_unit, unit_info

# NIST SP 811 (2008), appendix B.8 and B.9: exact in bold there, here as exact fractions of SI units
INCH = Fraction("0.0254")  # metre
FOOT = Fraction("0.3048")  # metre
MILE = Fraction("1609.344")  # metre
POUND = Fraction("0.45359237")  # kilogram, avoirdupois
GRAVITY = Fraction("9.80665")  # metre per second squared, standard
POUND_FORCE = POUND * GRAVITY  # newton: 4.448 221 615 260 5 exactly
KIP = 1000 * POUND_FORCE

SI = {
    "ft": FOOT, "inch": INCH, "yd": 3 * FOOT, "mi": MILE, "mm": Fraction(1, 1000), "m": Fraction(1),
    "mil": INCH / 1000, "lb": POUND_FORCE, "kip": KIP, "ton": 2000 * POUND_FORCE,
    "N": Fraction(1), "kN": Fraction(1000), "tf": 1000 * GRAVITY,
    "psi": POUND_FORCE / INCH**2, "ksi": KIP / INCH**2, "psf": POUND_FORCE / FOOT**2,
    "ksf": KIP / FOOT**2, "pcf": POUND_FORCE / FOOT**3, "kcf": KIP / FOOT**3,
    "plf": POUND_FORCE / FOOT, "klf": KIP / FOOT, "kip*ft": KIP * FOOT, "kip*inch": KIP * INCH,
    "MPa": Fraction(10**6), "kPa": Fraction(1000), "Pa": Fraction(1), "lbm": POUND,
    "kg": Fraction(1), "mph": MILE / 3600, "hour": Fraction(3600), "day": Fraction(86400),
    "inch**4": INCH**4,
}  # fmt: skip
BASE = {"length": INCH, "force": KIP, "time": Fraction(1), "temperature": Fraction(1)}


@pytest.mark.parametrize("text", SI)
def test_factors_follow_from_nist_sp_811(text: str) -> None:
    info = read_unit(text)
    base = Fraction(1)
    for size, power in zip(BASE.values(), info.dim.exponents, strict=True):
        base *= size ** int(power)
    assert info.factor == pytest.approx(float(SI[text] / base), rel=4e-16)
    # and pint converts by the same factor
    assert Q_(1.0, text).to_root_units().magnitude == pytest.approx(info.factor, rel=4e-16)


@pytest.mark.parametrize(("text", "factor"), [
    ("ft", 12.0), ("kip*ft", 12.0), ("lb", 0.001), ("ton", 2.0), ("ksf", 1 / 144), ("klf", 1 / 12),
    ("psf", 1 / 144000), ("pcf", 1 / 1728000), ("ft**2", 144.0), ("yd", 36.0), ("mi", 63360.0),
    ("psi", 0.001), ("ksi", 1.0), ("mm", 1 / 25.4), ("kN", 1 / 4.4482216152605),
])  # fmt: skip
def test_factors_of_us_practice_are_the_nearest_floats(text: str, factor: float) -> None:
    assert read_unit(text).factor == factor


@pytest.mark.parametrize(("one", "other"), [
    ("kip/ft", "klf"), ("lb/ft**3", "pcf"), ("kip/inch**2", "ksi"), ("lb/ft", "plf"),
    ("lb/ft**2", "psf"), ("N/mm**2", "MPa"), ("ft*kip", "kip*ft"), ("ft lb", "lb*ft"),
    ("kip/ft/ft", "ksf"), ("ft^2", "ft**2"), ("kip·ft", "kip*ft"),
])  # fmt: skip
def test_two_spellings_have_one_factor_and_one_dimension(one: str, other: str) -> None:
    assert read_unit(one).factor == read_unit(other).factor
    assert read_unit(one).dim is read_unit(other).dim


def test_pounds_are_forces_in_names_and_texts() -> None:
    for unit in (u.lb, "lb", "lbf", "pound", "pounds"):
        assert read_unit(unit).dim is FORCE
    assert read_unit("lbm").dim.formula == "force*time^2/length"
    assert read_unit("ton").dim is FORCE
    assert (2000 * u.lb).to("ton").magnitude == 1.0
    assert Q_("5 lb").to("kip").magnitude == 0.005


@pytest.mark.parametrize("text", [
    "furlong", "PSF", "Kip", "kip-ft", "2 ft", "ft;", "__import__('os')", "ft\nft", "-", "a.b",
    "ft**2**2", "ft**", "()", "ft()", "ft=1", "x" * 121, "9", "ft**99", "ft**-99",
])  # fmt: skip
def test_what_names_no_unit_is_refused_in_words(text: str) -> None:
    with pytest.raises(UnitError) as caught:
        read_unit(text)
    assert len(str(caught.value)) > 25
    assert "Traceback" not in str(caught.value)


@pytest.mark.parametrize("text", ["9**9**9**9", "ft**999999999", "inch**999999999", "(" * 100,
                                  "ft " * 39, "1e999999999*ft"])  # fmt: skip
def test_no_unit_text_keeps_the_program_busy(text: str) -> None:
    # in a process of its own: a text that hangs must fail here, not stop the tests
    line = (
        "from stepcalc.units.info import read_unit; from stepcalc.errors import UnitError\n"
        "try: read_unit(__import__('sys').argv[1])\nexcept UnitError: print('refused')"
    )
    done = subprocess.run([sys.executable, "-c", line, text], capture_output=True, text=True,
                          timeout=30, check=False)  # fmt: skip
    assert done.stdout.strip() == "refused", done.stderr


@pytest.mark.parametrize("value", [5, 2.0 * ft, [ft], object()])
def test_what_is_no_unit_is_refused(value: Any) -> None:
    with pytest.raises(UnitError):
        read_unit(value)


def test_empty_and_missing_units_are_plain_numbers() -> None:
    assert read_unit(None) is ONE
    assert read_unit("") is ONE
    assert read_unit("dimensionless") is ONE
    assert read_unit(1 * ft) is read_unit(ft) is read_unit("ft")


@pytest.mark.parametrize("text", ["degF", "degC", "fahrenheit", "celsius"])
def test_temperatures_with_their_own_zero_are_refused(text: str) -> None:
    for act in (
        lambda: read_unit(text),
        lambda: Sheet("t").given("T", Q_(70, text)),
        lambda: Sheet("t").given("T", pint.UnitRegistry().Quantity(70, text)),
        lambda: Sheet("t").given("k", 2.0) * Q_(70, text),
    ):
        with pytest.raises(UnitError, match="temperature"):
            act()


def test_differences_of_temperature_and_kelvin_are_quantities() -> None:
    sheet = Sheet("t")
    rise = sheet.given("dT", Q_(90, "delta_degF"))
    step = sheet.step("k", rise, "kelvin")
    assert step.value.magnitude == pytest.approx(50.0, rel=1e-15)


FOREIGN: Any = pint.UnitRegistry()
APPLICATION: Any = pint.application_registry


@pytest.mark.parametrize(("value", "own"), [
    (5 * FOREIGN.foot, 5 * ft), (FOREIGN.Quantity(3.5, "kip"), 3.5 * kip),
    (FOREIGN.Quantity(2, "kN*m"), Q_(2, "kN*m")), (FOREIGN.Quantity(4, "psi"), 4 * u.psi),
    (FOREIGN.Quantity(7, "lbf"), 7 * u.lb), (FOREIGN.Quantity(9, "meter**2"), Q_(9, "m**2")),
    (FOREIGN.Quantity(1, "force_ton"), 1 * u.ton),
])  # fmt: skip
def test_foreign_quantities_are_rebuilt_by_the_name_of_their_unit(value: Any, own: Any) -> None:
    found = own_quantity(value)
    assert found._REGISTRY is registry
    assert found.magnitude == own.magnitude
    assert found.units == own.units
    assert Sheet("f").given("v", value).value == own


def test_a_foreign_pound_becomes_a_force_as_every_pound_here() -> None:
    assert own_quantity(5 * FOREIGN.pound).units == u.lb


def test_foreign_units_without_a_counterpart_are_refused_in_words() -> None:
    sheet, foreign = Sheet("f"), FOREIGN
    acts: tuple[Any, ...] = (
        lambda: sheet.given("v", foreign.Quantity(3, "gallon")),
        lambda: sheet.given("w", 2.0) * foreign.Quantity(3, "slug"),
    )
    for act in acts:
        with pytest.raises(UnitError, match=r"gallon|slug"):
            act()


def test_the_application_registry_is_left_alone() -> None:
    assert APPLICATION.get() is not registry


@pytest.mark.parametrize("again", [
    lambda value: pickle.loads(pickle.dumps(value)), copy.deepcopy, copy.copy,
], ids=["pickle", "deepcopy", "copy"])  # fmt: skip
def test_quantities_and_units_come_back_in_our_registry(again: Any) -> None:
    for value in (7.75 * ft, Q_(np.array([1.0, 2.5]), "kip/ft"), ft, u.klf, kip / inch**2):
        back = again(value)
        assert back._REGISTRY is registry
        assert np.all(back == value)
    assert again(unit_info(ft)) is unit_info(ft) or again(unit_info(ft)).name == "foot"


@pytest.mark.parametrize(("text", "spelled"), [
    ("kip*ft", "kip·ft"), ("klf", "klf"), ("kip/ft**2", "kip/ft^2"), ("inch**4", "in^4"),
    ("1/ft", "1/ft"), ("lb*ft", "lb·ft"), ("ft*kip", "kip·ft"), ("ft**0.5", "ft^(1/2)"),
    ("degree", "°"), ("percent", "%"), ("kip/inch/ft", "kip/ft/in"),
])  # fmt: skip
def test_units_are_spelled_as_on_a_sheet_and_read_back(text: str, spelled: str) -> None:
    info = read_unit(text)
    assert info.text == spelled
    assert read_unit(info.name) is info


def test_atoms_multiply_to_the_unit() -> None:
    for text in SI:
        info = read_unit(text)
        size = 1.0
        for atom, power in info.atoms:
            size *= atom.factor ** float(power)
        assert size == pytest.approx(info.factor, rel=1e-15)


def test_dimensions_are_one_object_and_say_what_they_are() -> None:
    assert LENGTH.times(FORCE) is dimension((1, 1, 0, 0)) is FORCE.times(LENGTH)
    assert LENGTH.over(LENGTH) is DIMENSIONLESS
    assert LENGTH.to_the(2).to_the(Fraction(1, 2)) is LENGTH
    assert LENGTH.to_the(Fraction(4, 2)) is LENGTH.times(LENGTH)
    assert FORCE.times(LENGTH).words == "moment (force*length)"
    assert FORCE.over(LENGTH.to_the(2)).words == "stress or pressure (force/length^2)"
    assert LENGTH.words == "length"
    assert DIMENSIONLESS.words == "a plain number"
    assert LENGTH.to_the(-1).words == "1/length"
    assert pickle.loads(pickle.dumps(FORCE)) is FORCE


def test_decimals_and_fractions_keep_their_form_in_a_given() -> None:
    sheet = Sheet("typed")
    assert sheet.given("a", Q_(Decimal("0.150"), "kcf")).shown == "0.150"
    assert sheet.given("b", Q_(Fraction(5, 8), "inch")).shown == "5/8"
    assert sheet["b"].value == 0.625 * inch
    with pytest.raises(DimensionError, match="length"):
        sheet.revise(b=2 * kip)
