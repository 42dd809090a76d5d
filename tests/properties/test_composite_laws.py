"""Laws of general sections: what is continuous, what may jump, what must rise, units, symmetry."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stepcalc.bridge.composite.assembled import composite_positive_flexure, flexure_with_buckling
from stepcalc.bridge.composite.gradient import moment_gradient
from stepcalc.bridge.composite.negative import Bracing
from stepcalc.bridge.composite.plastic import plastic_negative, plastic_positive
from stepcalc.sheet.sheet import Sheet
from stepcalc.units import Q_, ft, inch, ksi
from tests.unit.composite_section import Girder, welded

LAYERS = [(5.5, 2.0), (3.0, 5.5)]
SIZES = {
    "b_tf": st.floats(12, 24), "t_tf": st.floats(0.75, 2.5), "D": st.floats(30, 90),
    "t_w": st.floats(0.4, 0.9), "b_bf": st.floats(12, 24), "t_bf": st.floats(0.75, 2.5),
}  # fmt: skip


def pier(*, braces: float = 18.0, **sizes: Any) -> Girder:
    girder = welded(**{"slab": (90, 8, 2), "layers": LAYERS, **sizes})
    flexure_with_buckling(
        girder.sheet, girder.geometry, girder.elastic, girder.moments(0, 0, 0, 1000),
        positive=False, unbraced=girder.given("L_b", braces * ft),
        gradient=girder.given("C_b", 1.0), bracing=Bracing(compression=False, tension=True),
    )  # fmt: skip
    return girder


def midspan(**sizes: Any) -> Girder:
    girder = welded(**{"slab": (90, 8, 2), "ratio": 8.0, **sizes})
    composite_positive_flexure(
        girder.sheet, girder.geometry, girder.elastic, girder.moments(800, 150, 150, 1500),
        continuous=True,
    )  # fmt: skip
    return girder


PIER, MIDSPAN = pier(), midspan()


def around(
    girder: Girder, given_name: str, unit: str, at: float, output: str
) -> tuple[float, float]:
    """Return an output just below and just above a value of a given."""
    values = Q_(np.array([at * (1 - 1e-9), at * (1 + 1e-9)]), unit)
    low, high = girder.sheet.evaluate({given_name: values}, outputs=[output])[output].magnitude
    return float(low), float(high)


def crossing(girder: Girder, given_name: str, unit: str, node: str, limit: str,
             low: float, high: float) -> float:  # fmt: skip
    """Return the value of a given at which two nodes are equal, by halving."""

    def gap(value: float) -> float:
        sheet = girder.sheet.revise({given_name: Q_(value, unit)})
        return float(sheet[node].base - sheet[limit].base)

    start = gap(low) > 0
    assert start != (gap(high) > 0)
    for _ in range(100):
        middle = (low + high) / 2
        low, high = (middle, high) if (gap(middle) > 0) == start else (low, middle)
    return (low + high) / 2


# continuity ---------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("given_name", "unit", "node", "limit", "span", "output", "jump"),
    [
        ("t_bf", "inch", "lambda_f", "lambda_pf", (0.6, 1.25), "F_FLB", 1e-7),
        ("t_bf", "inch", "lambda_f", "lambda_pf", (0.6, 1.25), "M_FLB", 1e-7),
        ("L_b", "inch", "L_b", "L_p", (40, 200), "F_LTB", 1e-7),
        ("L_b", "inch", "L_b", "L_p", (40, 200), "M_LTB", 1e-7),
        ("L_b", "inch", "L_b", "L_r", (200, 600), "F_LTB", 1e-7),
        ("L_b", "inch", "L_b", "L_r6", (200, 600), "M_LTB", 3e-3),  # 1.95 and 0.078 are rounded
        ("t_w", "inch", "lambda_w", "lambda_rw", (0.2, 0.6), "R_b", 1e-7),
        ("t_w", "inch", "lambda_wp", "lambda_pw", (0.5, 1.2), "R_pc", 1e-6),
        ("t_w", "inch", "lambda_wp", "lambda_pw", (0.5, 1.2), "R_pt", 1e-6),
    ],
)
def test_continuous_where_the_code_is(
    given_name: str, unit: str, node: str, limit: str, span: tuple[float, float], output: str,
    jump: float,
) -> None:  # fmt: skip
    at = crossing(PIER, given_name, unit, node, limit, *span)
    low, high = around(PIER, given_name, unit, at, output)
    assert high == pytest.approx(low, rel=jump)


def test_the_plastic_moment_never_jumps() -> None:
    """From one case of Tables D6.1-1 and -2 to the next, over the whole slab and flange."""
    for positive, name, unit, low, high in (
        (True, "b_s", "inch", 5.0, 700.0),
        (True, "t_bf", "inch", 0.1, 12.0),
        (False, "A_rt", "inch**2", 0.0, 90.0),
        (False, "t_bf", "inch", 0.1, 12.0),
    ):
        girder = welded(slab=(90, 8, 2), layers=LAYERS)
        if positive:
            plastic_positive(girder.sheet, girder.geometry, reinforcement=True)
        else:
            plastic_negative(girder.sheet, girder.geometry)
        values = np.linspace(low, high, 20001)
        out = girder.sheet.evaluate({name: Q_(values, unit)}, outputs=["M_p", "c_p"])
        steps = np.abs(np.diff(out["M_p"].magnitude)) / out["M_p"].magnitude[1:]
        assert steps[1:].max() < 2e-3, name
        assert (np.diff(out["M_p"].magnitude) > -1e-9).all(), name
        assert len(set(out["c_p"].magnitude)) > 2, name


def test_full_plastic_moment_meets_its_reduction() -> None:
    """M_p (1.07 - 0.7 D_p/D_t) is M_p at D_p = 0.1 D_t."""
    girder = welded(slab=(90, 8, 2), ratio=8.0)
    composite_positive_flexure(
        girder.sheet, girder.geometry, girder.elastic, girder.moments(8, 1, 1, 15), continuous=False
    )

    def share(b_s: float) -> float:
        sheet = girder.sheet.revise(b_s=b_s * inch)
        return float(sheet["D_p"].base / sheet["D_t"].base)

    low, high = 40.0, 400.0
    for _ in range(100):
        middle = (low + high) / 2
        low, high = (middle, high) if share(middle) > 0.1 else (low, middle)
    values = Q_(np.array([low * (1 - 1e-9), high * (1 + 1e-9)]), "inch")
    a, b = girder.sheet.evaluate({"b_s": values}, outputs=["M_n"])["M_n"].magnitude
    assert b == pytest.approx(a, rel=1e-7)


# legal jumps: not laws of the code ----------------------------------------------------------------


def test_jump_compact_to_noncompact_composite_6_10_6_2_2() -> None:
    """D/t_w = 150: the moment form gives way to the stress form."""
    girder = midspan(web=(75, 0.5), slab=(40, 8, 2))
    low, high = around(girder, "t_w", "inch", 0.5, "u_f")
    assert low > high * 1.05


def test_jump_loss_of_appendix_a6_6_10_6_2_3() -> None:
    """I_yc / I_yt = 0.3: the moment form is no longer permitted."""
    at = crossing(
        pier(bottom=(10, 1.0), top=(14, 1.0)), "b_bf", "inch", "r_Iy", "r_A6_min", 8.0, 12.0
    )
    low, high = around(pier(bottom=(10, 1.0), top=(14, 1.0)), "b_bf", "inch", at, "u_f")
    assert abs(low - high) > 0.01 * high


def test_jump_ductility_6_10_7_3_is_a_verdict_only() -> None:
    girder = midspan(slab=(40, 7, 1), bottom=(20, 2))
    check = girder.sheet["Ductility"]
    assert not check.passed
    assert girder.sheet["Flexure, positive, Strength I"].defined


def test_jump_of_the_two_editions_at_the_web_limit() -> None:
    girder = welded(slab=(90, 8, 2), layers=LAYERS, web=(80, 0.5))
    limits = {}
    for edition in ("8th", "9th"):
        with girder.sheet.part(edition):
            flexure_with_buckling(
                girder.sheet, girder.geometry, girder.elastic, girder.moments(0, 0, 0, 1),
                positive=False, unbraced=girder.given("L_b", 9 * ft),
                gradient=girder.given("C_b", 1.0),
                bracing=Bracing(compression=False, tension=True), edition=edition,
            )  # fmt: skip
            path = f"{edition}/Web and factors of the flange stress"
            limits[edition] = girder.sheet[f"{path}/lambda_rw"].base
    assert limits["9th"] <= limits["8th"]


# monotone with every class held -------------------------------------------------------------------


@settings(max_examples=25)
@given(
    sizes=st.fixed_dictionaries(SIZES), name=st.sampled_from(sorted(SIZES)),
    factor=st.floats(1.01, 1.3),
)  # fmt: skip
def test_more_steel_never_lowers_the_plastic_moment(
    sizes: dict[str, float], name: str, factor: float
) -> None:
    girder = welded(slab=(90, 8, 2), layers=LAYERS)
    with girder.sheet.part("positive"):
        plastic_positive(girder.sheet, girder.geometry)
    with girder.sheet.part("negative"):
        plastic_negative(girder.sheet, girder.geometry)
    inputs = {key: Q_(np.array([value, value * (factor if key == name else 1)]), "inch")
              for key, value in sizes.items()}  # fmt: skip
    out = girder.sheet.evaluate(inputs, outputs=["positive/M_p", "negative/M_p"])
    for values in out.values():
        low, high = values.magnitude
        assert high >= low * (1 - 1e-12)


@settings(max_examples=25)
@given(sizes=st.fixed_dictionaries(SIZES), factor=st.floats(1.0, 2.0), braces=st.floats(5, 40))
def test_a_longer_unbraced_length_never_helps(
    sizes: dict[str, float], factor: float, braces: float
) -> None:
    lengths = Q_(np.array([braces, braces * factor]), "ft")
    inputs: dict[str, Any] = {key: Q_(np.full(2, value), "inch") for key, value in sizes.items()}
    out = PIER.sheet.evaluate({**inputs, "L_b": lengths}, outputs=["F_LTB", "M_LTB", "lambda_w",
                                                                   "lambda_rw"])  # fmt: skip
    low, high = out["F_LTB"].magnitude
    assert high <= low * (1 + 1e-12)
    if out["lambda_w"].magnitude[0] < out["lambda_rw"].magnitude[0]:
        low, high = out["M_LTB"].magnitude
        assert high <= low * 1.004  # the elastic branch of the code starts that little off the line


@settings(max_examples=20)
@given(sizes=st.fixed_dictionaries(SIZES))
def test_ceilings(sizes: dict[str, float]) -> None:
    """6.10.8 stops at yield, Appendix A6 at the plastic moment, R_b and R_h at 1."""
    names = ["F_nc", "F_max", "M_nc", "M_p", "R_b", "R_h", "R_pc", "M_yc", "lambda_w", "lambda_rw"]
    out = PIER.sheet.revise({key: value * inch for key, value in sizes.items()})
    v = {name: float(out[name].base) for name in names}
    assert v["F_nc"] <= v["F_max"] * (1 + 1e-12)
    assert 0 < v["R_b"] <= 1
    assert v["R_h"] == 1
    if v["lambda_w"] < v["lambda_rw"]:
        assert v["M_nc"] <= v["M_p"] * (1 + 1e-12)
        assert v["R_pc"] <= v["M_p"] / v["M_yc"] * (1 + 1e-12)


@settings(max_examples=20)
@given(rho=st.floats(0.4, 1.0))
def test_a_weaker_web_never_raises_the_hybrid_factor(rho: float) -> None:
    out = PIER.sheet.evaluate(
        {"F_yw": Q_(np.array([50 * rho * 0.95, 50 * rho]), "ksi")}, outputs=["R_h"]
    )
    low, high = out["R_h"].magnitude
    assert 0.85 < low <= high <= 1.0


# symmetry, units, one and many --------------------------------------------------------------------


@settings(max_examples=20)
@given(sizes=st.fixed_dictionaries(SIZES))
def test_a_section_upside_down(sizes: dict[str, float]) -> None:
    """Bare steel turned over in the other sense of bending has the same resistance."""
    a, b, c = ((sizes["b_tf"], sizes["t_tf"]), (sizes["D"], sizes["t_w"]),
               (sizes["b_bf"], sizes["t_bf"]))  # fmt: skip
    ratios = []
    for top, bottom, positive in ((a, c, True), (c, a, False)):
        girder = welded(top, b, bottom)
        found = flexure_with_buckling(
            girder.sheet, girder.geometry, girder.elastic, girder.moments(100, 50, 50, 500),
            positive=positive, unbraced=girder.given("L_b", 18 * ft),
            gradient=girder.given("C_b", 1.1), bracing=Bracing(compression=False, tension=False),
        )  # fmt: skip
        ratios.append((found.strength.check.ratio, girder.sheet["u_M"].base,
                       girder.sheet["u_F"].base))  # fmt: skip
    assert ratios[0] == pytest.approx(ratios[1], rel=1e-9)


def test_metric_sizes_give_the_same_ratios() -> None:
    for girder in (PIER, MIDSPAN):
        metric = {
            node.name: Q_(node.value.to("mm").magnitude, "mm")
            for node in girder.sheet.givens
            if node.name in {*SIZES, "b_s", "t_s", "t_h", "L_b"}
        }
        for one, other in zip(girder.sheet.checks, girder.sheet.revise(metric).checks, strict=True):
            assert other.ratio == pytest.approx(one.ratio, rel=1e-9)


@settings(max_examples=10)
@given(sizes=st.fixed_dictionaries(SIZES))
def test_one_and_many_agree(sizes: dict[str, float]) -> None:
    rng = np.random.default_rng(7)
    for girder, names in ((PIER, ["u_f", "M_p", "M_y"]), (MIDSPAN, ["u_f", "M_n", "D_c"])):
        inputs: dict[str, Any] = {}
        for key, value in sizes.items():
            values = value * rng.uniform(0.9, 1.1, 50)
            values[17] = value
            inputs[key] = Q_(values, "inch")
        many = girder.sheet.evaluate(inputs, outputs=names)
        one = girder.sheet.revise({key: value * inch for key, value in sizes.items()})
        for name in names:
            found = float(np.asarray(many[name].to(one[name].value.units).magnitude)[17])
            assert found == pytest.approx(float(one[name].value.magnitude), rel=1e-12)


@settings(max_examples=60)
@given(first=st.floats(-40, 40), middle=st.floats(-40, 40), second=st.floats(-40, 40),
       scale=st.floats(0.1, 50))  # fmt: skip
def test_moment_gradient_is_bounded_symmetric_and_free_of_scale(
    first: float, middle: float, second: float, scale: float
) -> None:
    def modifier(a: float, b: float, c: float) -> float:
        sheet = Sheet("gradient")
        put = sheet.given
        found = moment_gradient(
            sheet, first=put("f_i", a * ksi), middle=put("f_m", b * ksi), second=put("f_j", c * ksi)
        )
        value: float = found.modifier.base  # type: ignore[attr-defined]  # a step
        return value

    C_b = modifier(first, middle, second)
    assert 1.0 - 1e-12 <= C_b <= 2.3
    assert modifier(second, middle, first) == C_b
    assert modifier(first * scale, middle * scale, second * scale) == pytest.approx(C_b)
