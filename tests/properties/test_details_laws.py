"""Laws of the details: continuity where the code is continuous, and its legal jumps by article."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stepcalc.bridge.details.bearing_stiffeners import BearingPairs, bearing_stiffener
from stepcalc.bridge.details.camber import CamberStage, simple_span_camber
from stepcalc.bridge.details.fatigue import fatigue_check
from stepcalc.bridge.details.fatigue_categories import attachment_category, chosen_category
from stepcalc.bridge.details.fatigue_loads import StressRange
from stepcalc.bridge.details.shear_panels import end_panel, interior_panel
from stepcalc.bridge.details.stud_layout import StudRegion, stud_layout
from stepcalc.bridge.details.transverse_stiffeners import StiffenerPlate, transverse_stiffener
from stepcalc.data.tables import table
from stepcalc.units import Q_
from tests.unit.details_girder import Bench, bench

CATEGORIES = table("stress_categories")
NEAR = 1e-7  # further than the 1e-9 within which a comparison takes two values as equal


def panel(depth: float, thickness: float, spacing: float, flanges: float = 60.0) -> Bench:
    b = bench()
    interior_panel(
        b.sheet,
        b.web(depth, thickness),
        spacing=b.put("d_o", spacing, "inch"),
        flanges=b.put("A_fl", flanges, "inch**2"),
        demand=b.put("V_u", 300, "kip"),
    )
    return b


def both_sides(b: Bench, name: str, at: float, unit: str, output: str) -> tuple[float, float]:
    ends = Q_(np.array([at * (1 - NEAR), at * (1 + NEAR)]), unit)
    low, high = b.sheet.evaluate({name: ends}, outputs=[output])[output]
    return float(getattr(low, "magnitude", low)), float(getattr(high, "magnitude", high))


@settings(max_examples=25)
@given(depth=st.floats(30, 120), aspect=st.floats(0.3, 2.9))
def test_panel_is_continuous_where_the_web_begins_to_buckle(depth: float, aspect: float) -> None:
    """6.10.9.3.2-4, -5: C has no jump at 1.12."""
    k = 5 + 5 / aspect**2
    thickness = depth / (1.12 * (29000 * k / 50) ** 0.5)
    b = panel(depth, thickness, aspect * depth)
    low, high = both_sides(b, "t_w", thickness, "inch", "V_n")
    assert high == pytest.approx(low, rel=1e-6)


@settings(max_examples=10)
@given(depth=st.floats(30, 120), aspect=st.floats(0.3, 2.9))
def test_printed_constants_jump_by_a_thousandth_at_elastic_buckling(
    depth: float, aspect: float
) -> None:
    """6.10.9.3.2-5, -6: 1.12/1.40 = 0.8000 against 1.57/1.40^2 = 0.8010."""
    k = 5 + 5 / aspect**2
    thickness = depth / (1.40 * (29000 * k / 50) ** 0.5)
    b = panel(depth, thickness, aspect * depth)
    elastic, inelastic = both_sides(b, "t_w", thickness, "inch", "C")
    assert inelastic == pytest.approx(0.8, rel=1e-6)
    assert elastic == pytest.approx(1.57 / 1.96, rel=1e-6)


@settings(max_examples=20)
@given(depth=st.floats(30, 90), thickness=st.floats(0.3125, 0.5))
def test_tension_field_ends_at_three_depths(depth: float, thickness: float) -> None:
    """6.10.9.1: beyond d_o = 3 D the web is unstiffened; the drop is legal."""
    b = panel(depth, thickness, depth)
    inside, beyond = both_sides(b, "d_o", 3 * depth, "inch", "V_n")
    assert beyond < inside
    k_inside, k_beyond = both_sides(b, "d_o", 3 * depth, "inch", "k")
    assert k_inside == pytest.approx(5 + 5 / 9)
    assert k_beyond == 5


@settings(max_examples=20)
@given(depth=st.floats(60, 90), aspect=st.floats(0.5, 2.9))
def test_light_flanges_lose_part_of_the_tension_field_at_once(depth: float, aspect: float) -> None:
    """6.10.9.3.2-1: at 2 D t_w = 2.5 flange areas the resistance jumps up."""
    b = panel(depth, 0.375, aspect * depth)
    light, full = both_sides(b, "A_fl", 2 * depth * 0.375 / 2.5, "inch**2", "V_n")
    assert light < full
    buckling = b.read("V_cr", "kip")
    assert light > buckling


@settings(max_examples=30)
@given(depth=st.floats(30, 100), thickness=st.floats(0.3125, 0.9), aspect=st.floats(0.3, 1.5))
def test_interior_panel_resists_no_less_than_an_end_panel(
    depth: float, thickness: float, aspect: float
) -> None:
    """6.10.9.3.2 and .3: the same panel, with and without anchorage of its tension field."""
    b = panel(depth, thickness, aspect * depth)
    c = bench()
    end_panel(
        c.sheet,
        c.web(depth, thickness),
        spacing=c.put("d_o", aspect * depth, "inch"),
        demand=c.put("V_u", 300, "kip"),
    )
    assert c.read("V_cr", "kip") == pytest.approx(b.read("V_cr", "kip"))
    assert b.read("V_n", "kip") >= c.read("V_cr", "kip") * (1 - 1e-12)
    assert b.read("V_n", "kip") <= b.read("V_p", "kip") * (1 + 1e-12)


@settings(max_examples=25)
@given(depth=st.floats(30, 100), thickness=st.floats(0.3125, 0.75))
def test_closer_stiffeners_never_lower_the_resistance(depth: float, thickness: float) -> None:
    """Within one class of panel (d_o up to 3 D, one form of the tension field, up to C's 0.1 %)."""
    b = panel(depth, thickness, depth, flanges=200.0)
    spacing = np.linspace(0.2, 3.0, 57) * depth
    found = b.sheet.evaluate({"d_o": Q_(spacing, "inch")}, outputs=["V_n"])["V_n"].magnitude
    assert np.all(np.diff(found) <= 0.0013 * found[:-1])


@settings(max_examples=20)
@given(scale=st.floats(0.1, 10))
def test_panels_scale_with_the_square_of_their_size(scale: float) -> None:
    one, other = panel(44, 0.5, 66), panel(44 * scale, 0.5 * scale, 66 * scale, 60.0 * scale**2)
    assert other.read("V_n", "kip") == pytest.approx(one.read("V_n", "kip") * scale**2)


# stiffeners


def stiffened(shear: float) -> Bench:
    b = bench()
    web = b.web()
    do, area = b.put("d_o", 66, "inch"), b.put("A_fl", 31.5, "inch**2")
    V = b.put("V_u", shear, "kip")
    panels = []
    for name in ("Left", "Right"):
        with b.sheet.part(name):
            panels.append(interior_panel(b.sheet, web, spacing=do, flanges=area, demand=V))
    plate = StiffenerPlate(
        b.put("b_t", 5.5, "inch"), b.put("t_p", 0.5, "inch"), b.put("F_ys", 50, "ksi")
    )
    transverse_stiffener(
        b.sheet, plate, web, spacing=do, flange=b.put("b_f", 14, "inch"),
        panels=(panels[0], panels[1]),
    )  # fmt: skip
    return b


def test_stiffener_grows_with_the_tension_field_without_a_jump() -> None:
    """6.10.11.1.3: from I_t1 at V_cr to I_t2 at V_n, linear between."""
    b = stiffened(400)
    V_cr, V_n = b.read("Left/V_cr", "kip"), b.read("Left/V_n", "kip")
    shears = Q_(np.array([V_cr * (1 - 1e-6), V_cr * (1 + 1e-6), (V_cr + V_n) / 2, V_n]), "kip")
    below, above, half, full = b.sheet.evaluate({"V_u": shears}, outputs=["I_treq"])[
        "I_treq"
    ].magnitude
    first, second = b.read("I_t1", "inch**4"), b.read("I_t2", "inch**4")
    assert below == pytest.approx(first)
    assert above == pytest.approx(first, rel=1e-3)
    assert half == pytest.approx((first + second) / 2, rel=1e-4)
    assert full == pytest.approx(second, rel=1e-4)


def column(height: float) -> Bench:
    b = bench()
    plate = StiffenerPlate(
        b.put("b_t", 3, "inch"), b.put("t_p", 0.5, "inch"), b.put("F_ys", 50, "ksi")
    )
    pairs = BearingPairs(plate, b.put("c", 1, "inch"))
    bearing_stiffener(b.sheet, pairs, b.web(height), reaction=b.put("R", 50, "kip"))
    return b


def test_column_is_continuous_where_buckling_becomes_elastic() -> None:
    """6.9.4.1.1: 0.658^2.25 = 0.3899 and 0.877/2.25 = 0.3898."""
    b = column(100)
    x, r = np.sqrt(2.25 * np.pi**2 * 29000 / 50), b.read("r_s", "inch")
    low, high = both_sides(b, "D", float(x * r / 0.75), "inch", "P_n")
    assert high == pytest.approx(low, rel=1e-3)
    heights = np.linspace(10, 400, 79)
    found = b.sheet.evaluate({"D": Q_(heights, "inch")}, outputs=["P_n"])["P_n"].magnitude
    assert np.all(np.diff(found) < 0)


# fatigue


def fatigued(name: str, trucks: float, edition: str) -> Bench:
    b = bench()
    rules = b.rules(edition)
    choice = b.sheet.given("category", name, choices="stress_categories")
    fatigue_check(
        b.sheet,
        chosen_category(b.sheet, choice, rules),
        rules,
        stress=StressRange(b.put("Delta_f", 3, "ksi"), b.put("f_t", 3, "ksi")),
        permanent=b.put("f_p", 5, "ksi"),
        traffic=b.traffic(trucks, edition),
    )
    return b


@pytest.mark.parametrize("edition", ["7th", "8th"])
@pytest.mark.parametrize("name", CATEGORIES.names)
def test_finite_and_infinite_life_meet_at_the_truck_count(name: str, edition: str) -> None:
    """6.6.1.2.3: D/C does not jump there beyond the rounding of the count to the next 5."""
    limit = CATEGORIES.value(name, f"adtt_{edition}")
    b = fatigued(name, limit, edition)
    out = b.sheet.evaluate(
        {"ADTT_SL": np.array([limit * (1 - NEAR), limit])}, outputs=["f_fat", "DeltaF_n"]
    )
    finite, infinite = out["f_fat"].magnitude / out["DeltaF_n"].magnitude
    assert finite == pytest.approx(infinite, rel=2.5 / limit + 1e-3)


@settings(max_examples=25)
@given(trucks=st.floats(1, 400), factor=st.floats(1.01, 1.2))
def test_more_trucks_never_help_finite_life(trucks: float, factor: float) -> None:
    b = fatigued("C", trucks, "8th")
    out = b.sheet.evaluate({"ADTT_SL": np.array([trucks, trucks * factor])}, outputs=["DeltaF_n"])
    less, more = out["DeltaF_n"].magnitude
    assert more / less == pytest.approx(factor ** (-1 / 3))


@settings(max_examples=30)
@given(
    length=st.floats(0.1, 20), longer=st.floats(1.0, 3.0), thickness=st.floats(0.25, 2.0),
    edition=st.sampled_from(["7th", "8th"]),
)  # fmt: skip
def test_a_longer_attachment_is_never_better(
    length: float, longer: float, thickness: float, edition: str
) -> None:
    b = bench()
    attachment_category(
        b.sheet, b.rules(edition), length=b.put("L_a", length, "inch"),
        thickness=b.put("t_a", thickness, "inch"),
    )  # fmt: skip
    lengths = Q_(np.array([length, length * longer]), "inch")
    out = b.sheet.evaluate({"L_a": lengths}, outputs=["DeltaF_TH", "A_FT"])
    for name in ("DeltaF_TH", "A_FT"):
        short, long = out[name].magnitude
        assert long <= short


# studs and camber


@settings(max_examples=30)
@given(
    pitches=st.lists(st.floats(5.6, 40), min_size=1, max_size=5),
    length=st.floats(30, 200),
    required=st.floats(1, 150),
)
def test_layout_always_has_the_studs_of_strength(
    pitches: list[float], length: float, required: float
) -> None:
    b = bench()
    regions = [
        StudRegion(f"part {i}", b.put(f"L_{i}", length, "inch"), b.put(f"p_f{i}", p, "inch"))
        for i, p in enumerate(pitches)
    ]
    whole = length * len(pitches)
    rows = np.ceil(required / 3)
    if whole / rows < 0.5:
        return  # more rows than half-inch places: the layout has no pitch above 0
    found: Any = stud_layout(
        b.sheet,
        regions,
        required=b.put("n_req", required),
        per_row=b.put("n_row", 3),
        diameter=b.put("d_sc", 0.875, "inch"),
        greatest=b.put("p_lim", 24, "inch"),
        grid=b.put("g_p", 0.5, "inch"),
    )
    assert found.checks[0].passed
    for i, p in enumerate(pitches, 1):
        pitch = b.read(f"Pitch, part {i - 1}/p", "inch")
        assert pitch <= min(p, 24) + 1e-9
        assert pitch / 0.5 == pytest.approx(round(pitch / 0.5))
        assert b.read(f"Pitch, part {i - 1}/N_p") * pitch >= length - 1e-9


@settings(max_examples=20)
@given(load=st.floats(0.2, 4), inertia=st.floats(2000, 60000), span=st.floats(30, 150))
def test_camber_is_superposed_and_rounded_up(load: float, inertia: float, span: float) -> None:
    def one(loads: tuple[float, ...]) -> Bench:
        b = bench()
        stages = [
            CamberStage(
                f"S{i}", b.put(f"w_{i}", w, "kip/ft"), b.put(f"I_{i}", inertia * (i + 1), "inch**4")
            )
            for i, w in enumerate(loads)
        ]
        simple_span_camber(
            b.sheet, stages, span=b.put("L", span, "ft"), step_size=b.put("s", 0.125, "inch"),
            composite=True,
        )  # fmt: skip
        return b

    both, first = one((load, load)), one((load,))
    for i in range(1, 6):
        exact = both.read(f"C_{i}", "inch")
        assert exact == pytest.approx(1.5 * first.read(f"C_{i}", "inch"))
        gap = both.read(f"R_{i}", "inch") - exact
        assert -1e-9 <= gap < 0.125
