"""Shear connectors: the simple-span example, geometry, continuous girders, layout, older codes."""

from __future__ import annotations

import math
from typing import Any

import pytest

from stepcalc.bridge.details.fatigue_loads import traffic
from stepcalc.bridge.details.older_studs import (
    older_channel_fatigue,
    older_channel_strength,
    older_pitch,
    older_required_connectors,
    older_stud_fatigue,
    older_stud_strength,
)
from stepcalc.bridge.details.stud_fatigue import (
    channel_fatigue,
    extra_connectors,
    fatigue_pitch,
    shear_flow_range,
    stud_fatigue,
)
from stepcalc.bridge.details.stud_layout import StudRegion, full_rows, half_inch, stud_layout
from stepcalc.bridge.details.studs import (
    Stud,
    StudPlace,
    channel_strength,
    greatest_pitch,
    positive_force,
    required_connectors,
    steel_force,
    stud_geometry,
    stud_strength,
    support_force,
)
from stepcalc.errors import RangeError
from stepcalc.units import Q_
from tests.unit.bridge_beam import tables_on
from tests.unit.details_girder import Bench, bench


def stud(b: Bench, height: float = 5.0) -> Stud:
    return Stud(
        b.put("d_sc", 0.875, "inch"),
        b.put("h_s", height, "inch"),
        b.put("F_u", 60, "ksi"),
        b.put("n_row", 3),
    )


def slab(b: Bench) -> dict[str, Any]:
    """Exterior girder of the example: b_s 85.5 in, t_s 8 in, 4 ksi."""
    return {
        "concrete": b.put("f_c", 4, "ksi"),
        "width": b.put("b_s", 85.5, "inch"),
        "thickness": b.put("t_s", 8, "inch"),
    }


def w36x135(b: Bench) -> Any:
    """Return the yield force of three plates of 50 ksi: 1020.6 + 2 x 474.0 = 1968.6 kip."""
    F = b.put("F_y", 50, "ksi")
    flange = b.put("A_fl", 12.0 * 0.79, "inch**2")
    return steel_force(
        b.sheet, web=(b.put("A_w", 34.02 * 0.6, "inch**2"), F), flanges=((flange, F), (flange, F))
    )


def strength_of_example(b: Bench) -> Any:
    return stud_strength(
        b.sheet, stud(b), concrete=b.put("f_cc", 4, "ksi"), modulus=b.put("E_c", 3986.6, "ksi")
    )


def test_studs_of_the_example() -> None:
    """Own computation: A_sc .6013, Q_n 36.08 by F_u (37.97 by concrete), Q_r 30.67, 64.2 -> 66."""
    b = bench()
    strength = strength_of_example(b)
    assert b.read("A_sc", "inch**2") == pytest.approx(0.6013, rel=2e-4)
    assert b.read("Q_n", "kip") == pytest.approx(36.08, rel=2e-4)
    assert b.read("Q_r", "kip") == pytest.approx(30.67, rel=2e-4)
    steel = w36x135(b)
    force = positive_force(b.sheet, **slab(b), steel=steel)
    assert b.read("P_steel", "kip") == pytest.approx(1968.6)
    assert b.read("P_p", "kip") == pytest.approx(1968.6)
    required = required_connectors(b.sheet, force, strength)
    assert b.read("n_req") == pytest.approx(64.2, rel=2e-3)
    full_rows(b.sheet, required=required, per_row=b.sheet["n_row"])
    assert b.read("N_rows") == 22
    assert b.read("N_studs") == 66


def test_weak_concrete_decides() -> None:
    b = bench()
    stud_strength(
        b.sheet, stud(b), concrete=b.put("f_c", 3, "ksi"), modulus=b.put("E_c", 3300, "ksi")
    )
    assert b.read("Q_n", "kip") == pytest.approx(0.5 * math.pi * 0.875**2 / 4 * math.sqrt(9900))


def road(b: Bench, trucks: float, edition: str = "8th") -> Any:
    return traffic(b.sheet, trucks=b.put("ADTT_SL", trucks), cycles=b.put("n_c", 1.0))


def example_pitch(b: Bench, trucks: float = 1275.0, edition: str = "8th") -> Any:
    """Fatigue truck at the support 50.83 kip, g .5909, 15 percent; Q 633.87, I 23,025."""
    rules = b.rules(edition)
    fatigue = stud_fatigue(
        b.sheet, rules, diameter=b.put("d_sc", 0.875, "inch"), traffic=road(b, trucks)
    )
    flow = shear_flow_range(
        b.sheet,
        fatigue,
        shear=b.put("V_f", 0.590909 * 1.15 * 50.83, "kip"),
        first_moment=b.put("Q", 633.87, "inch**3"),
        inertia=b.put("I_n", 23025.1, "inch**4"),
    )
    return fatigue_pitch(b.sheet, fatigue, per_row=b.put("n_row", 3), flow=flow)


def test_fatigue_pitch_at_the_support() -> None:
    """Own computation: Z_r 4.211 kip, V_sr 1.664 kip/in, 7.59 in for three in a row."""
    b = bench()
    example_pitch(b)
    assert b.read("Z_r", "kip") == pytest.approx(4.211, rel=2e-4)
    assert b.read("V_sr", "kip/inch") == pytest.approx(1.664, rel=2e-4)
    assert b.read("p_fat", "inch") == pytest.approx(7.59, rel=2e-4)


def test_finite_life_of_studs() -> None:
    """500 trucks: N 1.36875e7, alpha = 34.5 - 4.28 x 7.13632 = 3.9566."""
    b = bench()
    example_pitch(b, 500)
    assert b.read("alpha", "ksi") == pytest.approx(3.9566, rel=1e-4)
    assert b.read("Z_r", "kip") == pytest.approx(3.9566 * 0.765625, rel=1e-4)
    assert b.read("gamma_sc") == 0.80


@pytest.mark.parametrize(
    ("edition", "limit", "share"), [("8th", 1090, 0.80 / 1.75), ("7th", 960, 0.75 / 1.50)]
)
def test_both_limit_states_ask_for_the_same_pitch_at_the_truck_count(
    edition: str, limit: float, share: float
) -> None:
    """alpha = 5.5 x finite over infinite factor: 1086.3 and 957.2 trucks, printed 1090 and 960."""
    exact = 10 ** ((34.5 - 5.5 * share) / 4.28) / 27375
    assert 0 <= limit - exact < 10
    b = bench()
    example_pitch(b, limit, edition)
    assert str(b.sheet["Z_r"].branch).startswith("Fatigue I,")
    out = b.sheet.evaluate({"ADTT_SL": [exact, limit]}, outputs=["p_fat"])["p_fat"].magnitude
    assert out[0] == pytest.approx(out[1], rel=1e-9)


@pytest.mark.parametrize(("edition", "limit"), [("8th", 2240), ("7th", 1850)])
def test_channels_at_their_truck_count(edition: str, limit: float) -> None:
    b = bench()
    channel_fatigue(b.sheet, b.rules(edition), length=b.put("w", 6, "inch"), traffic=road(b, limit))
    assert b.read("Z_r", "kip") == pytest.approx(12.6)
    out = b.sheet.evaluate({"ADTT_SL": [limit - 0.01]}, outputs=["Z_r", "gamma_sc"])
    finite = float(out["Z_r"][0].magnitude) / float(out["gamma_sc"][0])
    assert finite == pytest.approx(12.6 / b.read("gamma_sc"), rel=2e-3)


def test_radial_shear_is_added_as_a_vector() -> None:
    b = bench()
    fatigue = stud_fatigue(
        b.sheet, b.rules(), diameter=b.put("d_sc", 0.875, "inch"), traffic=road(b, 2000)
    )
    shear_flow_range(
        b.sheet,
        fatigue,
        shear=b.put("V_f", 40 / 1.75, "kip"),
        first_moment=b.put("Q", 750, "inch**3"),
        inertia=b.put("I_n", 10_000, "inch**4"),
        radial=b.put("F_fat", 4, "kip/inch"),
    )
    assert b.read("V_sr", "kip/inch") == pytest.approx(5.0)


def test_extra_studs_near_contraflexure() -> None:
    """8.5 in2 of bars at 6 ksi over 4.211 kip: 12.11 studs."""
    b = bench()
    fatigue = stud_fatigue(
        b.sheet, b.rules(), diameter=b.put("d_sc", 0.875, "inch"), traffic=road(b, 2000)
    )
    extra_connectors(
        b.sheet, fatigue, bars=b.put("A_rs", 8.5, "inch**2"), stress_range=b.put("f_sr", 6, "ksi")
    )
    assert b.read("n_ac") == pytest.approx(51 / 4.2109, rel=1e-4)


def test_towards_an_interior_support() -> None:
    """P_n = 0.45 x 4 x 85.5 x 8 = 1231.2 kip below the steel; P = 1968.6 + 1231.2."""
    b = bench()
    steel, deck = w36x135(b), slab(b)
    force = positive_force(b.sheet, **deck, steel=steel)
    support_force(b.sheet, force, **deck, steel=steel)
    assert b.read("P_n", "kip") == pytest.approx(1231.2)
    assert b.read("P_T", "kip") == pytest.approx(3199.8)


def test_number_is_for_one_side_of_the_greatest_moment() -> None:
    """Not for the whole span (mistake 37): the sheet says so."""
    b = bench()
    required_connectors(b.sheet, b.put("P", 306.7, "kip"), strength_of_example(b))
    assert b.read("n_req") == pytest.approx(10.0, rel=1e-3)
    assert "one side of the greatest moment" in b.sheet["n_req"].description


def test_channel_strength() -> None:
    """0.3 (0.4 + 0.5 x 0.2) x 6 x sqrt(4 x 3600) = 108 kip."""
    b = bench()
    channel_strength(
        b.sheet,
        flange=b.put("t_f", 0.4, "inch"),
        web=b.put("t_w", 0.2, "inch"),
        length=b.put("L_c", 6, "inch"),
        concrete=b.put("f_c", 4, "ksi"),
        modulus=b.put("E_c", 3600, "ksi"),
    )
    assert b.read("Q_n", "kip") == pytest.approx(108)
    assert b.read("Q_r", "kip") == pytest.approx(91.8)


def place(b: Bench, pitch: float = 7.5, spacing: float = 4.0) -> StudPlace:
    return StudPlace(
        b.put("p", pitch, "inch"),
        b.put("s_t", spacing, "inch"),
        b.put("b_f", 12, "inch"),
        b.put("t_s", 8, "inch"),
        b.put("t_h", 1.5, "inch"),
        b.put("D", 34.02, "inch"),
    )


def test_geometry_of_the_example() -> None:
    b = bench()
    checks = stud_geometry(b.sheet, b.rules(), stud(b), place(b))
    assert [round(check.ratio, 4) for check in checks] == [
        round(4 / (5 / 0.875), 4),
        round(5.25 / 7.5, 4),
        round(7.5 / 48, 4),
        round(3.5 / 4, 4),
        round(1 / 1.5625, 4),
        round(2 / 4.5, 4),
        round(2 / 3.5, 4),
    ]
    assert b.read("e_stud", "inch") == pytest.approx((12 - 8 - 0.875) / 2)


def test_short_stud_under_a_high_haunch_does_not_reach() -> None:
    b = bench()
    stud_geometry(b.sheet, b.rules(), stud(b, 3.4), place(b, spacing=5.1))
    assert not b.check("Stud height").passed
    assert not b.check("Penetration of studs").passed
    assert not b.check("Edge of the flange").passed


@pytest.mark.parametrize(
    ("edition", "depth", "limit"),
    [("8th", 24, 48), ("8th", 23.9, 24), ("7th", 54, 24), ("9th", 54, 48)],
)
def test_greatest_pitch(edition: str, depth: float, limit: float) -> None:
    b = bench()
    greatest_pitch(b.sheet, b.rules(edition), b.put("D", depth, "inch"))
    assert b.read("p_lim", "inch") == limit


def layout(b: Bench, pitches: tuple[float, ...], required: float = 64.2) -> Any:
    regions = [
        StudRegion(f"part {i}", b.put(f"L_{i}", 74.4, "inch"), b.put(f"p_f{i}", p, "inch"))
        for i, p in enumerate(pitches, 1)
    ]
    return stud_layout(
        b.sheet,
        regions,
        required=b.put("n_req", required),
        per_row=b.put("n_row", 3),
        diameter=b.put("d_sc", 0.875, "inch"),
        greatest=b.put("p_lim", 24, "inch"),
        grid=half_inch(b.sheet),
    )


def test_layout_in_full_rows() -> None:
    """62 ft, half span 372 in, five parts of 74.4 in; fatigue decides, 7.59 -> 7.5 in."""
    b = bench()
    found = layout(b, (7.59, 8.9, 10.4, 12.4, 14.9))
    pitches = [b.read(f"Pitch, part {i}/p", "inch") for i in range(1, 6)]
    assert pitches == [7.5, 8.5, 10.0, 12.0, 14.5]
    rows = [b.read(f"Pitch, part {i}/N_p") for i in range(1, 6)]
    assert rows == [10, 9, 8, 7, 6]
    assert b.read("N_all") == 120
    assert found.checks[0].ratio == pytest.approx(64.2 / 120)
    (table,) = tables_on(b.sheet)
    assert len(table.rows) == 5


def test_layout_where_strength_decides() -> None:
    """22 rows over 372 in: 16.9 -> 16.5 in, 5 rows in each part, 25 rows of 3."""
    b = bench()
    found = layout(b, (30.0, 30.0, 30.0, 30.0, 30.0))
    assert b.read("Pitch, part 1/p", "inch") == 16.5
    assert b.read("N_all") == 75
    assert found.checks[0].passed


def test_rows_closer_than_six_diameters_fail() -> None:
    b = bench()
    layout(b, (5.2, 20.0, 20.0, 20.0, 20.0))
    check = b.check("Least pitch, part 1")
    assert check.ratio == pytest.approx(5.25 / 5.0)
    assert not check.passed


def test_layout_without_region_is_refused() -> None:
    with pytest.raises(RangeError, match="no region"):
        layout(bench(), ())


# older codes


def test_older_stud() -> None:
    """0.4 x .765625 x sqrt(4 x 3986.6) = 38.67 kip; the same stud as 0.5 A_sc sqrt(f'c Ec)."""
    b = bench()
    S_u = older_stud_strength(
        b.sheet,
        diameter=b.put("d_sc", 0.875, "inch"),
        concrete=b.put("f_c", 4, "ksi"),
        modulus=b.put("E_c", 3986.6, "ksi"),
    )
    assert b.read("S_u", "kip") == pytest.approx(38.67, rel=2e-4)
    assert b.read("S_u", "kip") == pytest.approx(37.97, rel=0.02)
    older_required_connectors(
        b.sheet,
        S_u,
        steel=b.put("P_s", 1968.6, "kip"),
        concrete=b.sheet["f_c"],
        width=b.put("b_s", 85.5, "inch"),
        thickness=b.put("t_s", 8, "inch"),
    )
    assert b.read("n_req") == pytest.approx(1968.6 / (0.85 * 38.67), rel=2e-4)


@pytest.mark.parametrize(
    ("cycles", "alpha", "B"),
    [(100_000, 13.0, 4.0), (500_000, 10.6, 3.0), (2_000_000, 7.85, 2.4), (2_000_001, 5.5, 2.1)],
)
def test_older_connector_fatigue(cycles: int, alpha: float, B: float) -> None:
    b = bench()
    older_stud_fatigue(b.sheet, diameter=b.put("d_sc", 0.75, "inch"), cycles=cycles)
    assert b.read("Z_r", "kip") == pytest.approx(alpha * 0.5625)
    c = bench()
    older_channel_fatigue(c.sheet, length=c.put("w", 6, "inch"), cycles=cycles)
    assert c.read("Z_r", "kip") == pytest.approx(6 * B)


def test_cycles_between_the_rows_are_refused() -> None:
    b = bench()
    with pytest.raises(RangeError, match=r"tabulated for 100,000, 500,000, 2,000,000"):
        older_stud_fatigue(b.sheet, diameter=b.put("d_sc", 0.75, "inch"), cycles=250_000)


def test_older_pitch_and_its_limit() -> None:
    """S_r = 60 x 600/20,000 = 1.8 kip/in; 3 x 5.0/1.8 = 8.33 in; 10 kip: the limit, 24 in."""
    b = bench()
    older_pitch(
        b.sheet,
        b.put("Z", 5.0, "kip"),
        per_row=b.put("n_row", 3),
        shear=b.put("V_r", 60, "kip"),
        first_moment=b.put("Q", 600, "inch**3"),
        inertia=b.put("I_n", 20_000, "inch**4"),
    )
    assert b.read("p_s", "inch") == pytest.approx(15 / 1.8)
    out = b.sheet.evaluate({"V_r": Q_([10.0], "kip")}, outputs=["p_s"])["p_s"]
    assert out[0].magnitude == pytest.approx(24)


def test_older_channel() -> None:
    """550 (0.4 + 0.1) 6 sqrt(4000) = 104,355 lb."""
    b = bench()
    older_channel_strength(
        b.sheet,
        flange=b.put("h", 0.4, "inch"),
        web=b.put("t", 0.2, "inch"),
        length=b.put("w", 6, "inch"),
        concrete=b.put("f_c", 4, "ksi"),
    )
    assert b.read("S_u", "kip") == pytest.approx(104.355, rel=1e-5)
    assert b.read("S_u", "kip") == pytest.approx(17.4 * 0.5 * 6 * 2, rel=1e-3)
