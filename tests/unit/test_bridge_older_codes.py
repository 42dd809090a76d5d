"""Allowable stress and load factor design: hand values, plain floats, the classes of a section."""

from __future__ import annotations

import math

import numpy as np
import pytest

from stepcalc.bridge import older_codes, older_codes_asd, older_codes_lfd
from stepcalc.bridge.older_codes_lfd_flexure import partially_braced, strength_flexure_lfd
from stepcalc.bridge.section import section_properties, trial_shape
from stepcalc.data.tables import table
from stepcalc.sheet.sheet import Sheet
from stepcalc.units import Q_, ft, kip, kip_ft, ksi
from tests.unit import bridge_reference as ref
from tests.unit.bridge_beam import Beam, beam, number

SHAPES = table("w_shapes").names


def hs20(span: float, spacing: float, *, moment: float, shear: float) -> Sheet:
    """Return a sheet with HS20 on an interior girder; the lane effects are given."""
    sheet = Sheet("HS20")
    lane = older_codes.HS20Lane(
        sheet.given("M_tr", moment * kip_ft),
        sheet.given("V_tr", shear * kip),
        sheet.given("P_e", 32 * kip),
    )
    L, S = sheet.given("L", span * ft), sheet.given("S", spacing * ft)
    older_codes.hs20_on_girder(sheet, lane, span=L, spacing=S)
    return sheet


def test_truck_governs_a_span_of_62_ft() -> None:
    """By hand: I = 50/187; S/5.5 = 1.5 wheel lines; 842.32/2 x 1.5 x 1.26738 = 800.65."""
    sheet = hs20(62.0, 8.25, moment=842.32, shear=61.16)
    assert number(sheet, "I") == pytest.approx(50 / 187)
    assert number(sheet, "DF") == pytest.approx(1.5)
    assert number(sheet, "M_LL", "kip*ft") == pytest.approx(842.32 / 2 * 1.5 * (1 + 50 / 187))
    lines = 1 + 2.25 / 8.25 + 4.25 / 8.25
    by_hand = (16 * lines + (61.16 - 32) / 2 * 1.5) * (1 + 50 / 187)
    assert number(sheet, "V_LL", "kip") == pytest.approx(by_hand)


def test_lane_load_governs_a_long_span_and_impact_is_capped_on_a_short_one() -> None:
    """Lane at 160 ft: 0.64 x 160^2/8 + 18 x 160/4 = 2768; truck 72(80-7/3)^2/160-112 = 2602."""
    truck = 72 * (80 - 7 / 3) ** 2 / 160 - 112
    sheet = hs20(160.0, 7.0, moment=truck, shear=72 - 672 / 160)
    assert number(sheet, "M_HS", "kip*ft") == pytest.approx(2768.0)
    assert number(sheet, "I") == pytest.approx(50 / 285)
    short = hs20(30.0, 7.0, moment=282.1, shear=49.6)
    assert number(short, "I") == 0.30


@pytest.mark.parametrize(("span", "moment"), [(60, 558.0), (80, 872.0), (100, 1250.0)])
def test_hs20_lane_moments(span: float, moment: float) -> None:
    """Bridge and Highway Structure Rehabilitation and Repair, Table 6.7 (read): lane moments."""
    sheet = hs20(float(span), 7.0, moment=100.0, shear=50.0)
    assert number(sheet, "M_ln", "kip*ft") == pytest.approx(moment, rel=1e-3)


def test_wheel_lines_are_ticked_against_their_range() -> None:
    """Above 14 ft the reaction of the wheels: 1 + 9/15 + 11/15 + 5/15; third truck at the end."""
    sheet = hs20(62.0, 15.0, moment=842.32, shear=61.16)
    assert number(sheet, "DF") == pytest.approx(40 / 15)
    assert sheet["M_LL"].in_range
    assert not sheet["DF_0"].in_range
    assert not sheet["V_LL"].in_range
    assert hs20(62.0, 9.5, moment=842.32, shear=61.16)["V_LL"].in_range


def test_deflection_shares_all_lanes_equally() -> None:
    """Three lanes on five girders, 90 percent: 0.54; lane load 5wL^4/384 + PL^3/48."""
    sheet = Sheet("deflection")
    L, truck = sheet.given("L", 62 * ft), sheet.given("K_tr", 100.0 * kip * ft**3)
    lanes, girders = sheet.given("N_L", 3.0), sheet.given("N_b", 5.0)
    impact = sheet.given("I", 0.25)
    older_codes.hs20_deflection(
        sheet, span=L, truck=truck, lanes=lanes, girders=girders, impact=impact
    )
    lane = 5 * 0.64 * 62**4 / 384 + 18 * 62**3 / 48
    assert number(sheet, "g_def") == pytest.approx(0.54)
    assert number(sheet, "K_LL", "kip*ft**3") == pytest.approx(0.54 * lane * 1.25)
    assert number(sheet.revise(N_L=2.0), "g_def") == pytest.approx(0.4)
    assert number(sheet.revise(N_L=4.0), "g_def") == pytest.approx(0.6)


def std_beam(shape: str = "W36X135", *, fy: float = 50.0, braces: float = 15.5) -> Beam:
    b = beam(shape, fy=fy, braces=braces)
    chosen = b.section.trial.shape
    assert chosen is not None
    with b.sheet.part("Standard"):
        section = section_properties(b.sheet, trial_shape(b.sheet, chosen), standard=True)
    return Beam(b.sheet, section, b.buckling, b.F_y, b.L_b, b.C_b, b.M, b.V)


def test_allowable_stress_between_diaphragms() -> None:
    """One shape by hand: W36x135 braced at 30 ft and at 15.5 ft, then every shape."""
    b = std_beam(braces=30.0)
    older_codes_asd.buckling_allowable(
        b.sheet, b.section, yield_strength=b.F_y, unbraced=b.L_b, gradient=b.C_b
    )
    by_hand = (
        50000 / 439 * 113.76 / 360 * math.sqrt(0.772 * 6.3934 / 113.76 + 9.87 * (35.6 / 360) ** 2)
    )
    assert by_hand < 27.5
    assert number(b.sheet, "F_b1", "ksi") == pytest.approx(by_hand, rel=1e-4)
    out = b.sheet.evaluate({"shape": np.arange(len(SHAPES))}, outputs=["F_b1"])["F_b1"]
    for row, name in enumerate(SHAPES):
        s = ref.shape(name)
        expected = min(50000 / s.Sx * ref.std_root(s, 360.0), 27.5)
        assert out[row].to("ksi").magnitude == pytest.approx(expected)


@pytest.mark.parametrize(("basis", "allowable"), [("anchored", 27.5), ("resting", None)])
def test_required_modulus_follows_the_allowable_stress(basis: str, allowable: float | None) -> None:
    b = std_beam(braces=30.0)
    between = older_codes_asd.buckling_allowable(
        b.sheet, b.section, yield_strength=b.F_y, unbraced=b.L_b, gradient=b.C_b
    )
    check = older_codes_asd.allowable_flexure(
        b.sheet, b.section, yield_strength=b.F_y, between_diaphragms=between, moment=b.M,
        top_flange=basis,
    )  # fmt: skip
    f_b = allowable or 50000 / 439 * ref.std_root(ref.shape("W36X135"), 360.0)
    assert number(b.sheet, "S_req", "inch**3") == pytest.approx(1000 * 12 / f_b)
    assert check.ratio == pytest.approx(1000 * 12 / 439 / f_b)


def test_shear_stress_on_depth_times_web() -> None:
    """100 kip / (35.6 x 0.600) = 4.682 ksi against 0.33 x 50 = 16.5 ksi."""
    b = std_beam()
    check, plain = older_codes_asd.allowable_shear(
        b.sheet, b.section, yield_strength=b.F_y, shear=b.V
    )
    assert check.ratio == pytest.approx(100 / 21.36 / 16.5)
    assert plain.ratio == pytest.approx(100 / 21.36 / (0.75 * 16.5))


def test_slender_web_lowers_the_allowable_shear() -> None:
    """W36x135 in 100 ksi steel: 56.7 > 7500 sqrt(5/100,000) = 53.0, so C is the elastic one."""
    b = std_beam(fy=100.0)
    older_codes_asd.allowable_shear(b.sheet, b.section, yield_strength=b.F_y, shear=b.V)
    ratio = 4.5e7 * 5 / (56.7**2 * 100_000)
    assert number(b.sheet, "C") == pytest.approx(ratio)
    assert number(b.sheet, "F_v", "ksi") == pytest.approx(ratio * 100 / 3)


def test_pour_stress_uses_the_unbraced_flange() -> None:
    b = std_beam(braces=30.0)
    between = older_codes_asd.buckling_allowable(
        b.sheet, b.section, yield_strength=b.F_y, unbraced=b.L_b, gradient=b.C_b
    )
    M_C = b.sheet.given("M_C", 40 * kip_ft)
    check = older_codes_asd.allowable_pour(
        b.sheet, b.section, between_diaphragms=between, M_DC1=b.M, M_C=M_C
    )
    f_b = 50000 / 439 * ref.std_root(ref.shape("W36X135"), 360.0)
    assert check.ratio == pytest.approx(1040 * 12 / 439 / f_b)


@pytest.mark.parametrize("basis", ["anchored", "resting"])
@pytest.mark.parametrize("fy", [36.0, 50.0])
@pytest.mark.parametrize("braces", [4.0, 9.0, 28.0])
def test_load_factor_strength_of_every_shape(basis: str, fy: float, braces: float) -> None:
    b = std_beam(fy=fy, braces=braces)
    strength_flexure_lfd(
        b.sheet, b.section, yield_strength=b.F_y, unbraced=b.L_b, gradient=b.C_b, demand=b.M,
        top_flange=basis,
    )  # fmt: skip
    out = b.sheet.evaluate(
        {"shape": np.arange(len(SHAPES))}, outputs=["M_n", "M_n.branch", "Flexure, Group I"]
    )
    lb = None if basis == "anchored" else 12 * braces
    for row, name in enumerate(SHAPES):
        expected = ref.lfd_moment(ref.shape(name), fy=fy, lb=lb) / 12
        assert out["M_n"][row].to("kip*ft").magnitude == pytest.approx(expected), name
        assert out["Flexure, Group I"][row] == pytest.approx(1000 / expected), name
    if basis == "resting" and braces == 28.0:
        assert "partially braced" in set(out["M_n.branch"])


def test_group_one_and_overload() -> None:
    """1.3 (300 + 5/3 x 600) = 1690; overload (300 + 1000) x 12/439 = 35.54 to 0.80 x 50 = 40."""
    b = std_beam()
    D, LL = b.sheet.given("D_1", 300 * kip_ft), b.sheet.given("LL", 600 * kip_ft)
    older_codes_lfd.group_one(
        b.sheet, dead=(D,), live=LL, name="M_u", unit=kip_ft, what="factored moment"
    )
    assert number(b.sheet, "M_u", "kip*ft") == pytest.approx(1690.0)
    check = older_codes_lfd.overload(b.sheet, b.section, yield_strength=b.F_y, dead=(D,), live=LL)
    assert check.ratio == pytest.approx(1300 * 12 / 439 / 40)


def test_load_factor_shear_and_pour() -> None:
    b = std_beam()
    shear = older_codes_lfd.strength_shear_lfd(b.sheet, b.section, yield_strength=b.F_y, demand=b.V)
    assert shear.ratio == pytest.approx(100 / (0.58 * 50 * 34.02 * 0.6))
    partially = partially_braced(
        b.sheet, b.section, yield_strength=b.F_y, unbraced=b.L_b, gradient=b.C_b
    )
    M_C = b.sheet.given("M_C", 40 * kip_ft)
    pour = older_codes_lfd.pour_lfd(b.sheet, b.section, partially=partially, M_DC1=b.M, M_C=M_C)
    assert number(b.sheet, "M_up", "kip*ft") == pytest.approx(50 * 439 / 12)
    assert pour.ratio == pytest.approx(1.3 * 1040 / (50 * 439 / 12))


def test_limits_of_a_compact_section_by_hand() -> None:
    """50 ksi: 65/7.0711 = 9.1924, 608/7.0711 = 85.984; psi forms 4110/2 and 19,230 over 223.6."""
    b = std_beam()
    strength_flexure_lfd(
        b.sheet, b.section, yield_strength=b.F_y, unbraced=b.L_b, gradient=b.C_b, demand=b.M,
        top_flange="anchored",
    )  # fmt: skip
    assert number(b.sheet, "b_t1") == pytest.approx(9.1924, abs=1e-4)
    assert number(b.sheet, "b_t1") == pytest.approx(4110 / 2 / math.sqrt(50_000), rel=1e-3)
    assert number(b.sheet, "D_t1") == pytest.approx(85.984, abs=1e-3)
    assert number(b.sheet, "D_t1") == pytest.approx(19_230 / math.sqrt(50_000), rel=1e-3)


def test_flange_and_web_are_never_slender_together_in_a_w_shape() -> None:
    """So D/t_w + 9.35 b/(2t) <= 1064/sqrt(F_y), asked only then, decides for no W shape."""
    for name in SHAPES:
        s = ref.shape(name)
        for fy in np.arange(20.0, 50.5, 0.5):
            flange = s.bf / (2 * s.tf) / (65 / math.sqrt(fy))
            web = s.D / s.tw / (608 / math.sqrt(fy))
            assert not (0.75 < flange <= 1 and 0.75 < web <= 1), name


def test_fifty_ksi_is_the_limit_of_a_compact_section() -> None:
    b = std_beam(fy=50.0)
    strength_flexure_lfd(
        b.sheet, b.section, yield_strength=b.F_y, unbraced=b.L_b, gradient=b.C_b, demand=b.M,
        top_flange="anchored",
    )  # fmt: skip
    assert b.sheet["M_n"].branch == "compact"
    assert b.sheet.revise(F_y=Q_(51, "ksi"))["M_n"].branch == "braced noncompact"
    assert b.sheet["F_y"].value == 50 * ksi
