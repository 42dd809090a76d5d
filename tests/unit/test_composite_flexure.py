"""Strength of general sections: Articles 6.10.7, 6.10.8 and Appendix A6."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stepcalc.bridge.composite.assembled import (
    BucklingFlexure,
    PositiveFlexure,
    composite_positive_flexure,
    flexure_with_buckling,
)
from stepcalc.bridge.composite.gradient import gradient_over_transition, moment_gradient
from stepcalc.bridge.composite.lateral_bending import net_section, second_order_lateral
from stepcalc.bridge.composite.negative import Bracing
from stepcalc.bridge.composite.web import bend_buckling, hybrid_factor
from stepcalc.data.tables import table
from stepcalc.errors import RangeError
from stepcalc.sheet.sheet import Sheet
from stepcalc.units import Q_, ft, inch, ksi
from tests.unit.composite_reference import Reference
from tests.unit.composite_section import Girder, rolled, welded

if TYPE_CHECKING:
    from stepcalc.bridge.composite.web import WebEdition

LAYERS = [(5.5, 2.0), (3.0, 5.5)]
PIER = Bracing(compression=False, tension=True)


def exterior(
    *, continuous: bool = False, LL: float = 1064.37, **options: Any
) -> tuple[Girder, PositiveFlexure]:
    """Return the exterior girder of the 62 ft bridge: W36X135, slab 85.5 x 8 in."""
    girder = rolled(slab=(85.5, 8, 1.5), ratio=8.0)
    moments = girder.moments(467.65, 80.72, 87.09, LL)
    found = composite_positive_flexure(
        girder.sheet, girder.geometry, girder.elastic, moments, continuous=continuous, **options
    )
    return girder, found


def pier(
    *,
    braces: float = 18.0,
    gradient: float = 1.0,
    LL: float = 1000.0,
    dead: tuple[float, float, float] = (0.0, 0.0, 0.0),
    edition: WebEdition | str = "8th",
    bracing: Bracing = PIER,
    lateral: float | None = None,
    **sizes: Any,
) -> tuple[Girder, BucklingFlexure]:
    """Return the plate girder 44 x 1/2 in negative bending, all load on steel and bars."""
    girder = welded(**{"slab": (90, 8, 2), "layers": LAYERS, **sizes})
    found = flexure_with_buckling(
        girder.sheet, girder.geometry, girder.elastic, girder.moments(*dead, LL), positive=False,
        unbraced=girder.given("L_b", braces * ft), gradient=girder.given("C_b", gradient),
        bracing=bracing, edition=edition,
        lateral=None if lateral is None else girder.given("f_l", lateral * ksi),
    )  # fmt: skip
    return girder, found


# positive ---------------------------------------------------------------------------------------


def test_exterior_girder_benchmark() -> None:
    """Own computation of 2026: M_u 2678.74, M_n 3785.4, D/C 0.708, ductility 6.772 of 18.94."""
    girder, found = exterior()
    assert girder.number("M_u", "kip*ft") == pytest.approx(2678.74, rel=1e-5)
    assert girder.number("lambda_cpw") == pytest.approx(90.55, abs=0.01)
    assert girder.number("M_n", "kip*ft") == pytest.approx(3785.4, rel=1e-4)
    assert found.strength.flexure.ratio == pytest.approx(0.708, abs=5e-4)
    assert found.strength.ductility.ratio == pytest.approx(6.772 / 18.94, rel=1e-3)
    assert found.strength.slab.ratio == 0
    assert girder.sheet["u_f"].branch.startswith("compact")


def test_the_cap_on_continuous_spans() -> None:
    """Own computation of 2026: 1.3 R_h M_y would be 3246.8 kip-ft."""
    girder, _ = exterior(continuous=True)
    assert girder.number("M_n", "kip*ft") == pytest.approx(3246.8, rel=2e-4)
    assert girder.number("M_n0", "kip*ft") == pytest.approx(3785.4, rel=1e-4)


def test_a_high_axis_keeps_the_full_plastic_moment() -> None:
    girder = rolled("W18X35", slab=(120, 9, 2), ratio=8.0)
    moments = girder.moments(50, 10, 10, 100)
    composite_positive_flexure(
        girder.sheet, girder.geometry, girder.elastic, moments, continuous=False
    )
    assert girder.number("D_p", "inch") <= 0.1 * girder.number("D_t", "inch")
    assert girder.number("M_n", "kip*ft") == girder.number("M_p", "kip*ft")
    assert girder.sheet["M_n"].branch.startswith("axis high")


@pytest.mark.parametrize(
    ("strengths", "web"),
    [((50, 50, 100), (44, 0.5)), ((50, 50, 50), (90, 0.5)), ((50, 50, 70), (100, 0.65))],
)
def test_noncompact_sections_fall_to_flange_stresses(
    strengths: tuple[float, float, float], web: tuple[float, float]
) -> None:
    """Strength above 70 ksi, D/t_w above 150, 2 D_cp/t_w beyond its limit."""
    girder = welded((12, 0.75), web, (18, 1.5), strengths=strengths, slab=(30, 7, 1), ratio=8.0)
    composite_positive_flexure(
        girder.sheet, girder.geometry, girder.elastic, girder.moments(600, 100, 100, 900),
        continuous=False,
    )  # fmt: skip
    assert girder.sheet["u_f"].branch.startswith("noncompact")
    R_b, R_h = girder.number("R_b"), girder.number("R_h")
    f_t, f_b = girder.number("f_t", "ksi"), girder.number("f_b", "ksi")
    worst = max(f_t / (R_b * R_h * strengths[0]), f_b / (R_h * strengths[2]))
    assert girder.number("u_f") == pytest.approx(worst)
    slab = girder.sheet["Slab stress, Strength I"]
    assert slab.ratio == pytest.approx(girder.number("f_dk", "ksi") / (0.6 * 4))


def test_lateral_bending_counts_a_third() -> None:
    girder = rolled(slab=(85.5, 8, 1.5), ratio=8.0)
    f_l = girder.given("f_l", 6 * ksi)
    found = composite_positive_flexure(
        girder.sheet, girder.geometry, girder.elastic,
        girder.moments(467.65, 80.72, 87.09, 1064.37), continuous=False, lateral=f_l,
    )  # fmt: skip
    more = 6 / 3 * girder.number("M_yt", "kip*ft") / 50
    demand = girder.number("M_u", "kip*ft") + more
    assert found.strength.flexure.ratio == pytest.approx(demand / girder.number("M_n", "kip*ft"))


def test_ductility_fails_where_the_slab_is_small() -> None:
    girder = welded(bottom=(20, 2), slab=(40, 7, 1), ratio=8.0)
    found = composite_positive_flexure(
        girder.sheet, girder.geometry, girder.elastic, girder.moments(100, 10, 10, 100),
        continuous=False,
    )  # fmt: skip
    assert not found.strength.ductility.passed


def test_positive_bending_wants_the_right_article() -> None:
    girder = welded(slab=(90, 8, 2))
    moments = girder.moments(1, 1, 1, 1)
    with pytest.raises(RangeError, match="wants a slab and its ratio n"):
        composite_positive_flexure(
            girder.sheet, girder.geometry, girder.elastic, moments, continuous=False
        )
    with pytest.raises(RangeError, match=r"use Article 6\.10\.7"):
        flexure_with_buckling(
            girder.sheet, girder.geometry, girder.elastic, moments, positive=True,
            unbraced=girder.given("L_b", 18 * ft), gradient=girder.given("C_b", 1.0), bracing=PIER,
        )  # fmt: skip


def test_all_shapes_at_once() -> None:
    """289 shapes: the compact class and both forms against the scalar sheet of a few."""
    girder, _ = exterior()
    names = table("w_shapes").names
    out = girder.sheet.evaluate(
        {"shape": np.arange(len(names))}, outputs=["u_f", "M_n", "M_y", "D_c"]
    )
    assert out["u_f"].shape == (len(names),)
    assert np.isfinite(out["u_f"].magnitude).all()
    for name in ("W36X150", "W18X35", "W44X335", "W12X65"):
        one = girder.sheet.revise(shape=name)
        row = names.index(name)
        assert float(out["u_f"].magnitude[row]) == pytest.approx(float(one["u_f"].value.magnitude))
        assert out["M_n"][row].to("kip*ft").magnitude == pytest.approx(
            one["M_n"].value.to("kip*ft").magnitude
        )


# negative ---------------------------------------------------------------------------------------


def test_negative_benchmark() -> None:
    """Own computation of 2026: 6.10.8 gives 42.01 ksi, Appendix A6 3870.6 kip-ft."""
    girder, found = pier()
    for name, unit, value in (
        ("D_c", "inch", 24.78), ("lambda_w", "", 99.1), ("lambda_rw", "", 137.27), ("R_b", "", 1.0),
        ("R_h", "", 1.0), ("lambda_f", "", 5.6), ("F_FLB", "ksi", 50.0), ("r_t", "inch", 3.635),
        ("L_p", "inch", 87.5), ("L_r", "inch", 328.7), ("F_nc", "ksi", 42.01),
        ("lambda_wp", "", 114.8), ("lambda_pw", "", 76.75), ("lambda_pwc", "", 66.25),
        ("R_pc", "", 1.1097), ("R_pt", "", 1.0474), ("J", "inch**4", 14.892),
        ("h_f", "inch", 45.125), ("F_yr6", "ksi", 35.0), ("L_r6", "inch", 346.3),
        ("M_max", "kip*ft", 4739.1), ("M_LTB", "kip*ft", 3870.6), ("M_nc", "kip*ft", 3870.6),
    ):  # fmt: skip
        assert girder.number(name, unit) == pytest.approx(value, rel=6e-4), name
    assert girder.number("F_nc", "ksi") * girder.number("S_rb", "inch**3") / 12 == pytest.approx(
        3588.4, rel=1e-4
    )
    assert found.strength.check.ratio == pytest.approx(1750 / 3870.6, rel=1e-4)
    assert girder.sheet["u_f"].branch == "Appendix A6 is permitted and decides"


def test_bend_buckling_of_the_negative_benchmark() -> None:
    """Hand: k = 9 / (24.775 / 44)^2 = 28.39; 0.9 E k / 88^2 = 95.7, held to 50 ksi."""
    girder, found = pier()
    F = bend_buckling(
        girder.sheet, girder.geometry, found.sides, depth=found.web.depth, hybrid=found.web.hybrid
    )
    assert girder.number("k_w") == pytest.approx(28.39, abs=0.01)
    assert F.value.to("ksi").magnitude == 50.0  # type: ignore[attr-defined]  # a step


@pytest.mark.parametrize(
    ("options", "why"),
    [
        ({"strengths": (50.0, 50.0, 100.0)}, "strength above 70 ksi"),
        ({"web": (80, 0.4375)}, "slender web"),
        ({"bottom": (10, 0.75), "top": (14, 1.5)}, "I_yc / I_yt below 0.3"),
    ],
)
def test_appendix_a6_is_left_where_it_is_not_permitted(options: dict[str, Any], why: str) -> None:
    girder, found = pier(**options)
    assert "not permitted" in girder.sheet["u_f"].branch, why
    assert girder.number("u_f") == girder.number("u_F")
    assert found.strength.check.ratio == girder.number("u_F")


def test_a_braced_compression_flange_does_not_buckle() -> None:
    girder, found = pier(bracing=Bracing(compression=True, tension=True), braces=60)
    assert girder.number("F_rc", "ksi") == 50
    demand = girder.number("M_u", "kip*ft")
    assert girder.number("u_M") == pytest.approx(
        max(demand / girder.number("M_max", "kip*ft"), demand / girder.number("M_nt", "kip*ft"))
    )
    assert found.strength.check.passed


def test_lateral_bending_in_both_forms() -> None:
    girder, _ = pier(lateral=9.0)
    f = girder.number("f_b", "ksi") + 3
    assert girder.number("u_F") == pytest.approx(f / girder.number("F_nc", "ksi"))
    M = girder.number("M_u", "kip*ft") + 3 * girder.number("S_xc", "inch**3") / 12
    assert girder.number("u_M") == pytest.approx(M / girder.number("M_nc", "kip*ft"))


plates = st.fixed_dictionaries(
    {
        "b_c": st.floats(12, 30), "t_c": st.floats(0.75, 3), "b_t": st.floats(12, 30),
        "t_t": st.floats(0.75, 3), "D": st.floats(30, 100), "t_w": st.floats(0.4, 1.0),
        "F_c": st.sampled_from([36.0, 50.0, 70.0]), "F_t": st.sampled_from([36.0, 50.0, 70.0]),
        "F_w": st.sampled_from([36.0, 50.0]),
    }
)  # fmt: skip


@settings(max_examples=60)
@given(
    p=plates, braces=st.floats(3, 60), gradient=st.sampled_from([1.0, 1.3, 2.3]),
    bars=st.sampled_from([(), ((3.0, 2.0),), tuple(LAYERS)]),
    edition=st.sampled_from(["8th", "9th"]),
)  # fmt: skip
def test_both_forms_against_plain_floats(
    p: dict[str, float], braces: float, gradient: float, bars: Any, edition: str
) -> None:
    girder, found = pier(
        top=(p["b_t"], p["t_t"]), web=(p["D"], p["t_w"]), bottom=(p["b_c"], p["t_c"]),
        strengths=(p["F_t"], p["F_w"], p["F_c"]), layers=list(bars), braces=braces,
        gradient=gradient, edition=edition,
    )  # fmt: skip
    inches, kips = "inch", "kip*inch"
    ref = Reference(
        p["b_c"], p["t_c"], p["b_t"], p["t_t"], p["D"], p["t_w"], p["F_c"], p["F_t"], p["F_w"],
        D_c=girder.number("D_c", inches), D_cp=girder.number("D_cp", inches),
        M_p=girder.number("M_p", kips), M_yc=girder.number("M_yc", kips),
        M_yt=girder.number("M_yt", kips), R_h=girder.number("R_h"),
    )  # fmt: skip
    assert girder.number("R_b") == pytest.approx(ref.shedding(edition), rel=1e-12)
    local, lateral = ref.stress(12 * braces, gradient, edition)
    assert girder.number("F_FLB", "ksi") == pytest.approx(local, rel=1e-12)
    assert girder.number("F_LTB", "ksi") == pytest.approx(lateral, rel=1e-12)
    if edition == "8th" and ref.slenderness < ref.web_limit():
        local, lateral, tension = ref.moment(12 * braces, gradient)
        assert girder.number("M_FLB", kips) == pytest.approx(local, rel=1e-11)
        assert girder.number("M_LTB", kips) == pytest.approx(lateral, rel=1e-11)
        assert girder.number("M_nt", kips) == pytest.approx(tension, rel=1e-11)
    assert found.strength.check.defined


@pytest.mark.parametrize("positive", [True, False])
def test_bare_rolled_beam_between_diaphragms(positive: bool) -> None:
    """Own computation of 2026, interior W36X135, L_b 15.5 ft: 1510.7 and 1674.3 kip-ft."""
    girder = rolled()
    found = flexure_with_buckling(
        girder.sheet, girder.geometry, girder.elastic, girder.moments(2569.83 / 1.25, 0, 0, 0),
        positive=positive, unbraced=girder.given("L_b", 15.5 * ft),
        gradient=girder.given("C_b", 1.0), bracing=Bracing(compression=False, tension=False),
    )  # fmt: skip
    assert girder.number("F_LTB", "ksi") == pytest.approx(41.294, rel=1e-4)
    assert girder.number("M_p", "kip*ft") == pytest.approx(2120.8, rel=1e-4)
    assert girder.number("M_y", "kip*ft") == pytest.approx(1829.2, rel=1e-4)
    assert girder.number("M_LTB", "kip*ft") == pytest.approx(1674.3, rel=2e-4)
    assert girder.number("D_c", "inch") == girder.number("D_cp", "inch") == pytest.approx(17.01)
    assert found.strength.check.ratio == pytest.approx(1.535, abs=5e-4)
    assert girder.number("u_F") == pytest.approx(1.701, abs=5e-4)


# factors ----------------------------------------------------------------------------------------


def test_hybrid_factor_by_hand() -> None:
    """Web 44 x 1/2 of 36 ksi, flanges 14 x 1 of 50: beta 2*22*0.5/14, rho 0.72."""
    girder = welded(bottom=(14, 1), strengths=(50.0, 36.0, 50.0))
    hybrid_factor(girder.sheet, girder.geometry, girder.elastic.steel)
    beta, rho = 22 / 14, 0.72
    by_hand = (12 + beta * (3 * rho - rho**3)) / (12 + 2 * beta)
    assert by_hand == pytest.approx(14.8078 / 15.1429, abs=1e-4)
    assert girder.number("R_h") == pytest.approx(by_hand, rel=1e-12)


def test_a_stronger_web_does_not_make_a_hybrid() -> None:
    girder = welded(strengths=(36.0, 50.0, 36.0))
    assert girder.sheet is not None
    hybrid_factor(girder.sheet, girder.geometry, girder.elastic.steel)
    assert girder.number("R_h") == 1.0


def test_load_shedding_by_edition() -> None:
    """Hand: web 80 x 7/16; the 9th edition's limit is the lower one here."""
    ratios = {}
    for edition in ("8th", "9th"):
        girder, _ = pier(web=(80, 0.4375), edition=edition)
        ratios[edition] = (girder.number("lambda_rw"), girder.number("R_b"))
    a_wc, lam = girder.number("a_wc"), girder.number("lambda_w")
    assert ratios["8th"][0] == pytest.approx(5.7 * math.sqrt(580))
    assert ratios["9th"][0] == pytest.approx(max(3.1 + 5 / a_wc, 4.6) * math.sqrt(580))
    for limit, R_b in ratios.values():
        assert R_b == pytest.approx(1 - a_wc / (1200 + 300 * a_wc) * (lam - limit))
    with pytest.raises(RangeError, match="'8th' or '9th'"):
        pier(edition="10th")


def gradient(first: float, middle: float, second: float, **options: Any) -> float:
    sheet = Sheet("gradient")
    put = sheet.given
    found = moment_gradient(
        sheet, first=put("f_i", first * ksi), middle=put("f_m", middle * ksi),
        second=put("f_j", second * ksi), **options,
    )  # fmt: skip
    return float(found.modifier.value.magnitude)  # type: ignore[attr-defined]  # a step


@pytest.mark.parametrize(
    ("first", "middle", "second", "expected"),
    [
        (20, 20, 20, 1.0),  # uniform
        (20, 21, 20, 1.0),  # the middle exceeds both ends
        (20, 10, 0, 1.75),  # straight to zero
        (20, 0, -20, 2.3),  # reverse curvature: 1.75 + 1.05 + 0.3 = 3.1, cut
        (20, 15, 10, 1.75 - 0.525 + 0.075),  # straight line: f_1 = f_0 = 10
        (20, 12, 10, 1.75 - 0.525 + 0.075),  # hollow diagram: f_1 = f_0
        (20, 18, 10, 1.75 - 1.05 * 0.8 + 0.3 * 0.64),  # full diagram: f_1 = 2 * 18 - 20
        (0, -5, -10, 1.0),  # no end compressed
        (-3, -5, -10, 1.0),
        (10, 15, 20, 1.75 - 0.525 + 0.075),  # the other way round
    ],
)
def test_moment_gradient_by_hand(
    first: float, middle: float, second: float, expected: float
) -> None:
    assert gradient(first, middle, second) == pytest.approx(expected)


def test_a_cantilever_has_no_gradient() -> None:
    assert gradient(20, 5, 0, cantilever=True) == 1.0


def test_a_change_of_flange_may_be_ignored_near_the_smaller_moment() -> None:
    sheet = Sheet("transition")
    put = sheet.given
    found = moment_gradient(
        sheet, first=put("f_i", 20 * ksi), middle=put("f_m", 10 * ksi), second=put("f_j", 0 * ksi)
    )
    gradient_over_transition(
        sheet, found, distance=put("x", 4 * ft), unbraced=put("L_b", 20 * ft),
        smaller=put("I_1", 100 * inch**4), larger=put("I_2", 180 * inch**4),
    )  # fmt: skip
    assert float(sheet["C_bt"].value.magnitude) == pytest.approx(1.75)
    assert float(sheet.revise(x=4.01 * ft)["C_bt"].value.magnitude) == 1.0
    assert float(sheet.revise(I_2=201 * inch**4)["C_bt"].value.magnitude) == 1.0


def test_second_order_lateral_bending_by_hand() -> None:
    """L_b 18 ft against 1.2 * 87.5 / sqrt(f/F); then 0.85 / (1 - f/F_cr)."""
    girder, found = pier(LL=2000.0)
    assert found.buckling is not None
    assert found.buckling.elastic is not None
    f = girder.number("f_b", "ksi")
    lateral = second_order_lateral(
        girder.sheet, found.sides, found.web, found.buckling,
        first_order=girder.given("f_l1", 5 * ksi), vertical=found.stresses.bottom,
    )  # fmt: skip
    L_p, F_cr = girder.number("L_p", "inch"), girder.number("F_cr", "ksi")
    assert girder.number("L_b2", "inch") == pytest.approx(1.2 * L_p * math.sqrt(50 / f))
    assert girder.number("f_l", "ksi") == pytest.approx(max(0.85 / (1 - f / F_cr), 1) * 5)
    assert lateral.check.ratio == pytest.approx(girder.number("f_l", "ksi") / 30)
    near = girder.sheet.revise(L_b=8 * ft)
    assert near["f_l"].value.to("ksi").magnitude == 5
    assert near["f_l"].branch == "first-order stress"


def test_no_lateral_stress_where_the_flange_would_buckle_first() -> None:
    """f_bu not below F_cr: 1 - f/F_cr is zero or negative; no value, never f_l1 itself."""
    girder, found = pier(LL=2000.0)
    assert found.buckling is not None
    first = girder.given("f_l1", 5 * ksi)
    check = second_order_lateral(
        girder.sheet, found.sides, found.web, found.buckling, first_order=first,
        vertical=girder.given("f_v", 40 * ksi),
    ).check  # fmt: skip
    assert check.passed
    long = girder.sheet.revise(L_b=45 * ft)
    F_cr = float(long["F_cr"].value.to("ksi").magnitude)
    assert F_cr < 40
    for stress in (F_cr, 1.0001 * F_cr, 3 * F_cr):
        beyond = long.revise(f_v=stress * ksi)
        assert not beyond["f_l"].defined
        assert "F_cr" in beyond["f_l"].reason
        assert beyond["f_l"].warnings
        failed = beyond[check.path]
        assert not failed.defined
        assert not failed.passed
    just_below = long.revise(f_v=0.9999 * F_cr * ksi)
    assert float(just_below["f_l"].value.to("ksi").magnitude) > 1000
    assert not just_below[check.path].passed


@pytest.mark.parametrize(("net", "limit"), [(14.0, 0.84 * 14 / 14 * 65), (12.0, 46.8)])
def test_net_section_by_hand(net: float, limit: float) -> None:
    girder, found = pier()
    check = net_section(
        girder.sheet, found.sides, net_area=girder.given("A_n", net * inch**2),
        tensile=girder.given("F_u", 65 * ksi), stress=girder.given("f_x", 40 * ksi),
    )  # fmt: skip
    assert girder.number("F_tn", "ksi") == pytest.approx(min(limit, 50.0))
    assert check.ratio == pytest.approx(40 / min(limit, 50.0))
    over = girder.sheet.revise(A_n=Q_(15, "inch**2"))
    assert over["F_tn"].warnings
