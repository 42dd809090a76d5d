"""Factored effects, required properties, Service II, deflection and the deck pour, by hand."""

from __future__ import annotations

import numpy as np
import pytest

from stepcalc.bridge.combinations import FactoredEffects, GirderEffects, factored_effects
from stepcalc.bridge.construction import constructibility, pour_effects
from stepcalc.bridge.fields import Specification
from stepcalc.bridge.flexure import required_section
from stepcalc.bridge.service import (
    deflection_load,
    live_load_deflection,
    required_inertia,
    service_two,
    span_depth,
)
from stepcalc.bridge.shear import strength_shear
from stepcalc.bridge.verdict import scope, verdict_in_words
from stepcalc.sheet.sheet import Sheet
from stepcalc.units import Q_, ft, kip, kip_ft, psf
from tests.unit.bridge_beam import beam, number

MOMENTS = {"M_DC1": 551.21, "M_DC2": 80.72, "M_DW": 87.09, "M_LL": 942.44}
SHEARS = {"V_DC1": 35.56, "V_DC2": 5.21, "V_DW": 5.62, "V_LL": 84.18}


def combined(sheet: Sheet) -> FactoredEffects:
    moments = [sheet.given(name, value * kip_ft) for name, value in MOMENTS.items()]
    shears = [sheet.given(name, value * kip) for name, value in SHEARS.items()]
    return factored_effects(sheet, GirderEffects(*moments, *shears))


def test_strength_one_and_service_two() -> None:
    """Own computation: M_u 2569.83, V_u 206.70, Service II 1944.20."""
    sheet = Sheet("effects")
    combined(sheet)
    assert number(sheet, "M_u", "kip*ft") == pytest.approx(2569.83, rel=1e-5)
    assert number(sheet, "V_u", "kip") == pytest.approx(206.70, rel=1e-4)
    assert number(sheet, "M_SII", "kip*ft") == pytest.approx(1944.20, rel=1e-5)


@pytest.mark.parametrize(
    ("name", "M_u", "M_SII", "V_u"),
    [("M_DC1", 1.25, 1.0, 0), ("M_DC2", 1.25, 1.0, 0), ("M_DW", 1.5, 1.0, 0),
     ("M_LL", 1.75, 1.3, 0), ("V_DC1", 0, 0, 1.25), ("V_DC2", 0, 0, 1.25), ("V_DW", 0, 0, 1.5),
     ("V_LL", 0, 0, 1.75)],
)  # fmt: skip
def test_each_load_has_its_own_factor(name: str, M_u: float, M_SII: float, V_u: float) -> None:
    sheet = Sheet("effects")
    combined(sheet)
    unit = kip_ft if name.startswith("M") else kip
    more = sheet.revise({name: (MOMENTS | SHEARS)[name] * unit + 1 * unit})
    for output, per, factor in (
        ("M_u", "kip*ft", M_u), ("M_SII", "kip*ft", M_SII), ("V_u", "kip", V_u)
    ):  # fmt: skip
        gained = number(more, output, per) - number(sheet, output, per)
        assert gained == pytest.approx(factor, abs=1e-9), output


def test_required_properties_before_the_shape() -> None:
    """2569.8 x 12/50 = 616.8; 1944.2 x 12/40 = 583.3; both in in^3."""
    b = beam()
    required_section(b.sheet, combined(b.sheet), b.F_y)
    assert number(b.sheet, "Z_req", "inch**3") == pytest.approx(616.8, rel=1e-3)
    assert number(b.sheet, "S_req", "inch**3") == pytest.approx(583.26, rel=1e-4)


def test_a_shape_with_just_the_required_modulus_is_just_enough() -> None:
    """The required property and the check are one formula turned round: D/C = required / given."""
    b = beam()
    factored = combined(b.sheet)
    _, S_req = required_section(b.sheet, factored, b.F_y)
    flange, _ = service_two(b.sheet, b.section, b.buckling, moment=factored.M_SII)
    assert flange.ratio == pytest.approx(number(b.sheet, "S_req", "inch**3") / 439)
    assert flange.ratio == pytest.approx(1.329, abs=0.0005)
    assert S_req.same_as(b.sheet["S_req"])


def test_deflection_load_is_the_larger_of_truck_and_quarter_truck_with_lane() -> None:
    """Lane: 5 x 0.64 x 62^4/384 = 123,136 kip-ft^3.  A light truck lets the lane govern."""
    sheet = Sheet("deflection")
    L, truck = sheet.given("L", 62 * ft), sheet.given("K_tr", 300_000.0 * kip * ft**3)
    share = sheet.given("g_def", 0.51)
    deflection_load(sheet, span=L, truck=truck, share=share)
    lane = 5 * 0.64 * 62**4 / 384
    assert number(sheet, "K_LL", "kip*ft**3") == pytest.approx(0.51 * 1.33 * 300_000)
    light = sheet.revise(K_tr=90_000.0 * kip * ft**3)
    assert number(light, "K_LL", "kip*ft**3") == pytest.approx(0.51 * (0.25 * 1.33 * 90_000 + lane))


def test_deflection_against_span_over_800() -> None:
    """By hand: 200,000 x 1728/(29,000 x 7800) = 1.5279 in to 62 x 12/800 = 0.93 in."""
    b = beam()
    L, K = b.sheet.given("L", 62 * ft), b.sheet.given("K", 200_000.0 * kip * ft**3)
    required_inertia(b.sheet, span=L, load=K)
    check = live_load_deflection(b.sheet, b.section, span=L, load=K)
    assert number(b.sheet, "Delta_LL", "inch") == pytest.approx(1.52785, rel=1e-5)
    assert check.ratio == pytest.approx(1.52785 / 0.93, rel=1e-5)
    assert number(b.sheet, "I_req", "inch**4") == pytest.approx(7800 * check.ratio)
    depth = span_depth(b.sheet, b.section, span=L)
    assert depth.ratio == pytest.approx(0.033 * 744 / 35.6)


def test_deflection_of_all_shapes_times_inertia_is_one_number() -> None:
    b = beam()
    L, K = b.sheet.given("L", 62 * ft), b.sheet.given("K", 200_000.0 * kip * ft**3)
    live_load_deflection(b.sheet, b.section, span=L, load=K)
    out = b.sheet.evaluate({"shape": np.arange(289)}, outputs=["Delta_LL", "I_x"])
    product = out["Delta_LL"].to("inch").magnitude * out["I_x"].to("inch**4").magnitude
    assert product == pytest.approx(np.full(289, 200_000 * 1728 / 29_000))


def pour(braces: float = 15.5, load: float = 10.0) -> tuple[Sheet, dict[str, float]]:
    b = beam(braces=braces)
    L, S = b.sheet.given("L", 62 * ft), b.sheet.given("S", 8.25 * ft)
    q = b.sheet.given("q_C", load * psf)
    M, V = b.sheet.given("M_DC1", 551.21 * kip_ft), b.sheet.given("V_DC1", 35.56 * kip)
    shear = strength_shear(b.sheet, b.section, yield_strength=b.F_y, demand=b.V)
    effects = pour_effects(b.sheet, span=L, width=S, construction_load=q, M_DC1=M, V_DC1=V)
    checks = constructibility(b.sheet, b.section, b.buckling, shear, effects=effects)
    return b.sheet, {check.name: check.ratio for check in checks}


def test_pour_of_the_interior_girder() -> None:
    """Own computation: 1.4 (551.2 + 39.6) = 827.2 k-ft, 22.61 ksi, 0.548 of 41.29 ksi."""
    sheet, ratios = pour()
    assert number(sheet, "M_cu", "kip*ft") == pytest.approx(827.2, rel=1e-4)
    assert number(sheet, "f_bu", "ksi") == pytest.approx(22.61, rel=2e-4)
    assert ratios["Flange buckling, deck pour"] == pytest.approx(0.548, abs=0.0005)
    assert ratios["Flange yield, deck pour"] == pytest.approx(22.61 / 50, rel=2e-4)
    assert ratios["Web bend-buckling, deck pour"] == pytest.approx(22.61 / 50, rel=2e-4)
    assert ratios["Shear, deck pour"] == pytest.approx(1.4 * (35.56 + 2.5575) / 591.95, rel=1e-4)


def test_the_first_combination_governs_under_a_heavy_construction_load() -> None:
    """1.25 D + 1.5 C passes 1.4 (D + C) when C > 1.5 D: C = 400 psf gives 1585.7 k-ft."""
    sheet, _ = pour(load=400.0)
    C = 0.4 * 8.25 * 62**2 / 8
    assert C > 1.5 * 551.21
    assert number(sheet, "M_cu", "kip*ft") == pytest.approx(1.25 * 551.21 + 1.5 * C)
    assert number(sheet, "M_c2", "kip*ft") == pytest.approx(1.4 * (551.21 + C))


def test_lateral_stress_counts_whole_against_yield_and_a_third_against_buckling() -> None:
    sheet, ratios = pour()
    more = sheet.revise(f_l=Q_(3.0, "ksi"))
    assert more["Flange yield, deck pour"].ratio == pytest.approx(
        ratios["Flange yield, deck pour"] + 3 / 50
    )
    assert more["Flange buckling, deck pour"].ratio == pytest.approx(
        ratios["Flange buckling, deck pour"] + 1 / number(sheet, "F_ncc", "ksi")
    )


def test_closer_diaphragms_help_the_pour_only_by_buckling() -> None:
    _, wide = pour(braces=20.0)
    _, close = pour(braces=10.0)
    assert close["Flange buckling, deck pour"] < wide["Flange buckling, deck pour"]
    assert close["Flange yield, deck pour"] == wide["Flange yield, deck pour"]


def test_verdict_speaks_of_checks_and_never_of_the_bridge() -> None:
    sheet, _ = pour()
    text = verdict_in_words(sheet, subject="beam")
    assert text.startswith("beam: all 5 checks made are OK; the greatest D/C is 0.548")
    assert verdict_in_words(Sheet("empty"), subject="beam") == "beam: no check was made"
    failing = sheet.revise(M_DC1=1200 * kip_ft)
    text = verdict_in_words(failing, subject="beam")
    assert "N.G.; 1 of 5 checks fail (Flange buckling, deck pour)" in text
    limits = scope(sheet, Specification.LRFD)
    assert len(limits.checked) == 5
    assert "exterior girder" in limits.not_checked
    assert "fatigue and fracture" in limits.not_checked
    assert "bridge is OK" not in " ".join((text, *limits.checked, *limits.not_checked))
