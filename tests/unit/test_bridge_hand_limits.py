"""Limits that decide between branches of the code, by hand, for shapes that stand between them."""

from __future__ import annotations

import math

import pytest

from stepcalc.bridge.older_codes_lfd_flexure import strength_flexure_lfd
from tests.unit.bridge_beam import beam, number


def test_noncompact_flange_of_w14x90() -> None:
    """W14X90: b_f/(2 t_f) = 14.5/1.42 = 10.211 between 0.38 sqrt(580) and 0.56 sqrt(29000/35)."""
    sheet = beam("W14X90").sheet
    compact, noncompact = 0.38 * math.sqrt(580.0), 0.56 * math.sqrt(29000 / 35)
    assert (compact, noncompact) == pytest.approx((9.1516, 16.1195), abs=1e-4)
    assert number(sheet, "lambda_rf") == pytest.approx(noncompact)
    part = (14.5 / 1.42 - compact) / (noncompact - compact)
    assert number(sheet, "F_FLB", "ksi") == pytest.approx((1 - 0.3 * part) * 50)
    assert number(sheet, "F_FLB", "ksi") == pytest.approx(47.72, abs=0.01)


def test_one_flange_about_the_web() -> None:
    """W36X135: 0.79 x 12^3 / 12 = 113.76 in4, half the table's I_y of 225."""
    sheet = beam("W36X135").sheet
    assert number(sheet, "I_yc", "inch**4") == pytest.approx(113.76)
    assert number(sheet, "I_yc", "inch**4") == pytest.approx(225 / 2, rel=0.015)


def test_unbraced_lengths_of_load_factor_design() -> None:
    """W36X135, 50 ksi: 20000 x 9.48/(50 x 35.6) = 106.5 in; 1400 x sqrt(225/39.9)/50 = 66.5 in.

    Std 10.48.2.1 (20,000,000 A_f/(F_y d), F_y in psi) and 10.48.1.1, from memory.
    """
    b = beam("W36X135")
    strength_flexure_lfd(
        b.sheet,
        b.section,
        yield_strength=b.F_y,
        unbraced=b.L_b,
        gradient=b.C_b,
        demand=b.M,
        top_flange="resting",
    )
    assert number(b.sheet, "L_n", "inch") == pytest.approx(106.517, abs=0.001)
    assert number(b.sheet, "L_c", "inch") == pytest.approx(66.491, abs=0.001)
