"""Digits: rounding against decimal arithmetic, and the spelling of numbers."""

from __future__ import annotations

import math
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction
from typing import Any

import numpy as np
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from stepcalc.units.numbers import (
    ratio_text,
    round_array,
    round_shown,
    shown_text,
    typed_measure,
    typed_text,
)

FLOATS = st.floats(min_value=1e-300, max_value=1e299) | st.floats(min_value=1e-6, max_value=1e8)


def by_decimals(value: float, digits: int) -> Decimal:
    """Return the decimal form, rounded half away from zero, by Python's decimal module."""
    number = Decimal(repr(value))
    step = Decimal(1).scaleb(number.adjusted() - digits + 1)
    return number.quantize(step, rounding=ROUND_HALF_UP)


def tie(mantissa: int, exponent: int) -> float:
    return float(f"{mantissa}5e{exponent}")


@settings(max_examples=600)
@given(
    FLOATS | st.builds(tie, st.integers(1, 10**6), st.integers(-12, 12)),
    st.integers(1, 15),
    st.sampled_from([1, -1]),
    st.sampled_from([0.0, -math.inf, math.inf]),
)
@example(2.675, 3, 1, 0.0)
@example(1.005, 3, 1, 0.0)
@example(0.15, 1, -1, 0.0)
@example(9.9995, 4, 1, 0.0)
@example(7.944499999999998e-06, 4, 1, 0.0)  # one place below a tie stays below
@example(1e22, 4, 1, 0.0)
@example(999999999999999.4, 15, 1, 0.0)  # scaling by itself would lose the half
def test_rounding_is_that_of_the_decimal_form(
    size: float, digits: int, sign: int, toward: float
) -> None:
    value = sign * (math.nextafter(size, toward) if toward else size)
    assert round_shown(value, digits) == float(by_decimals(value, digits))


@settings(max_examples=200)
@given(st.lists(FLOATS | st.builds(tie, st.integers(1, 9999), st.integers(-9, 9)), min_size=1,
       max_size=8), st.integers(1, 15))  # fmt: skip
def test_arrays_round_to_the_same_bits(values: list[float], digits: int) -> None:
    signed = [value * (-1) ** place for place, value in enumerate(values)]
    expected = [round_shown(value, digits) for value in signed]
    assert round_array(np.array(signed), digits).tolist() == expected
    square = np.array([signed, signed])
    assert round_array(square, digits).tolist() == [expected, expected]


def test_what_has_no_digits_passes_through() -> None:
    found = round_array(np.array([0.0, -0.0, math.nan, math.inf, -math.inf, 5e-324]), 4)
    assert found[:2].tolist() == [0.0, 0.0]
    assert math.isnan(found[2])
    assert found[3:].tolist() == [math.inf, -math.inf, 5e-324]
    assert math.isnan(round_shown(math.nan))
    assert round_array(2.5, 1) == 3.0
    assert round_shown(1.7e308, 2) == 1.7e308


@pytest.mark.parametrize(("value", "digits", "text"), [
    (262.527, 4, "262.5"), (1963.4, 4, "1,963"), (-0.061874, 4, "-0.06187"), (1.2, 4, "1.200"),
    (9.9995, 4, "10.00"), (999.95, 4, "1,000"), (12345.6, 4, "12,350"), (0.0, 4, "0"),
    (-0.0, 4, "0"), (1e7, 4, "1.000e7"), (9999499.0, 4, "9,999,000"), (9999950.0, 4, "1.000e7"),
    (0.0001, 4, "0.0001000"), (0.000099994, 4, "9.999e-5"), (0.000099995, 4, "0.0001000"),
    (1.005, 3, "1.01"), (2.5, 1, "3"), (0.25, 1, "0.3"), (-2.5, 1, "-3"), (123456.0, 2, "120,000"),
    (math.nan, 4, "undefined"), (math.inf, 4, "undefined"), (1.0, 15, "1.00000000000000"),
    (1234567.8, 8, "1,234,567.8"), (-1.234e12, 4, "-1.234e12"),
])  # fmt: skip
def test_results_are_shown(value: float, digits: int, text: str) -> None:
    assert shown_text(value, digits) == text


@settings(max_examples=300)
@given(st.floats(min_value=1e-12, max_value=1e12), st.integers(1, 9))
def test_the_shown_text_is_the_rounded_value(value: float, digits: int) -> None:
    text = shown_text(value, digits)
    assert float(text.replace(",", "")) == round_shown(value, digits)
    assert Decimal(text.replace(",", "")) == by_decimals(value, digits)
    written = text.replace(",", "").partition("e")[0].replace(".", "").lstrip("0")
    # all digits stand there; before a decimal point zeros fill up what the digits do not reach
    assert len(written) >= digits
    assert set(written[digits:]) <= {"0"}


@pytest.mark.parametrize(("value", "text"), [
    (7.75, "7.75"), (8, "8"), (8.0, "8"), (29000, "29,000"), (29000.0, "29,000"), (0.15, "0.15"),
    (Decimal("0.150"), "0.150"), (Decimal("1500.0"), "1,500.0"), (Decimal("1E+3"), "1,000"),
    (Decimal("-0.50"), "-0.50"), (Fraction(1, 8), "1/8"), (Fraction(16, 4), "4"),
    (Fraction(-5, 8), "-5/8"), (7 / 3, "7/3"), (1 / 3, "1/3"), (-2 / 3, "-2/3"), (1e-7, "1e-7"),
    (2.5e-7, "2.5e-7"), (1e16, "1e16"), (123456789012.5, "123,456,789,012.5"), (-0.0, "0"),
    (0.1 + 0.2, "0.30000000000000004"), (math.pi, "3.141592653589793"),
    (1e15, "1,000,000,000,000,000"),
    (-1234.5, "-1,234.5"), (10**18, "1,000,000,000,000,000,000"), (np.float64(0.5), "0.5"),
])  # fmt: skip
def test_givens_are_shown_as_typed(value: Any, text: str) -> None:
    assert typed_text(value) == text


@settings(max_examples=300)
@given(st.floats(min_value=-1e200, max_value=1e200))
def test_no_digit_that_was_typed_is_lost(value: float) -> None:
    assert float(Fraction(typed_text(value).replace(",", ""))) == value


@pytest.mark.parametrize(("ratio", "text"), [
    (0.7084, "0.708"), (0.9949, "0.995"), (0.9996, "0.9996"), (1.0004, "1.0004"), (1.0, "1.000"),
    (0.99951, "0.9995"), (1.00004, "1.00004"), (0.9999996, "0.9999996"), (1 + 5e-10, "1.000"),
    (1.0051, "1.005"), (2.0, "2.000"), (-0.25, "-0.250"), (math.nan, "undefined"),
    (3.2e7, "3.200e+07"), (0.0, "0.000"), (1 + 2e-9, "1.000000002"), (1 - 2e-9, "0.999999998"),
])  # fmt: skip
def test_ratios_show_their_side_of_one(ratio: float, text: str) -> None:
    assert ratio_text(ratio) == text


@settings(max_examples=300)
@given(st.floats(min_value=0.99, max_value=1.01))
def test_a_ratio_never_shows_the_other_side(ratio: float) -> None:
    shown = float(ratio_text(ratio))
    if abs(ratio - 1.0) > 1e-9:
        assert (shown > 1.0) == (ratio > 1.0)
        assert shown != 1.0
    else:
        assert shown == 1.0


@pytest.mark.parametrize(
    ("value", "unit", "text"),
    [
        (16 / 12, "ft", "1.333"),
        (Fraction(4, 3), "ft", "4/3"),
        (Fraction(1, 8), "ft", "1/8"),
        (16 / 12, "inch", "4/3"),
        (7.75, "ft", "7.75"),
    ],
)
def test_feet_of_whole_inches_read_in_decimals_and_typed_fractions_stay(
    value: Any, unit: str, text: str
) -> None:
    assert typed_measure(value, unit) == text
