"""Dead load, HL-93 and distribution of an interior girder against independent hand values."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from stepcalc import Sheet
from stepcalc.bridge.fields import (
    GirderEccentricity,
    HaunchDatum,
    LiveLoadMaximum,
    WearingBasis,
)
from stepcalc.bridge.givens import state_bridge
from stepcalc.bridge.live_load import hl93_lane, standard_lane
from stepcalc.bridge.moving_loads import AXLE_MOMENT, AXLE_SHEAR
from stepcalc.bridge.wheel_lines import interior_wheel_lines
from stepcalc.units import Q_, ft, inch, kip_ft, klf, ksi, plf, psf
from tests.unit.bridge_loads import bridge_62_ft, loads, number


@pytest.mark.parametrize(
    ("name", "value", "unit"),
    # own computation, redone by hand from the data of bridge_62_ft
    [
        ("W_d", 39.0, "ft"),
        ("w_r", 36.25, "ft"),
        ("N_L", 3, ""),
        ("q_d", 8.5 / 12 * 150, "psf"),
        ("w_d", 0.8766, "klf"),
        ("w_h", 0.01875, "klf"),
        ("w_f", 0.10875, "klf"),
        ("w_m", 0.0081, "klf"),
        ("w_st", 0.1431, "klf"),
        ("w_wet", 1.0041, "klf"),
        ("w_DC1", 1.1472, "klf"),
        ("w_DC2", 0.1680, "klf"),
        ("w_DW", 0.18125, "klf"),
        ("M_DC1", 551.21, "kip*ft"),
        ("M_DC2", 80.72, "kip*ft"),
        ("M_DW", 87.09, "kip*ft"),
        ("V_DC1", 35.56, "kip"),
        ("V_DC2", 5.21, "kip"),
        ("V_DW", 5.62, "kip"),
        ("M_tr", 842.32, "kip*ft"),
        ("M_td", 725.81, "kip*ft"),
        ("M_ln", 307.52, "kip*ft"),
        ("M_HL", 1427.81, "kip*ft"),
        ("V_tr", 61.16, "kip"),
        ("V_td", 48.39, "kip"),
        ("V_ln", 19.84, "kip"),
        ("V_HL", 101.18, "kip"),
        ("e_g", 23.30, "inch"),
        ("K_g", 235_690, "inch**4"),
        ("k_g", 0.6187, ""),
        ("g_M1", 0.4812, ""),
        ("g_M2", 0.6601, ""),
        ("g_V1", 0.6900, ""),
        ("g_V2", 0.8319, ""),
        ("g_M", 0.6601, ""),
        ("g_V", 0.8319, ""),
        ("g_Mf", 0.4010, ""),
        ("g_Vf", 0.5750, ""),
        ("g_def", 0.510, ""),
        ("M_LL", 942.44, "kip*ft"),
        ("V_LL", 84.18, "kip"),
    ],
)
def test_hand_values(name: str, value: float, unit: str) -> None:
    rel = 5e-4 if abs(value) < 10 else 1e-4
    assert HAND.number(name, unit) == pytest.approx(value, rel=max(rel, 6e-5 / abs(value)))


HAND = loads(bridge_62_ft())


def test_truck_deflection_of_the_composite_benchmark() -> None:
    # own computation: 0.554 in on 23,025 in4 with 0.510 lanes and IM 33 %, W36X135 composite
    deflection = 1.33 * 0.510 * HAND.number("K_tr", "kip*inch**3") / (29000 * 23025.1)
    assert deflection == pytest.approx(0.554, abs=0.0005)


def test_tenth_points() -> None:
    # own computation: truck, tandem per lane without impact, at tenths of 62 ft
    rows = [
        (0.1, 53.96, 43.39),
        (0.2, 46.76, 38.39),
        (0.3, 39.56, 33.39),
        (0.4, 32.36, 28.39),
        (0.5, 25.16, 23.39),
    ]
    for share, truck, tandem in rows:
        for name, expected in (("HL-93 truck", truck), ("HL-93 tandem", tandem)):
            found = AXLE_SHEAR.function(vehicle=name, span=62.0, section=share * 62)
            assert found == pytest.approx(expected, abs=0.006)


def test_combined_maximum_at_one_section() -> None:
    one = loads(bridge_62_ft(live_load_maximum=LiveLoadMaximum.ONE_SECTION))
    assert one.number("M_HL", "kip*ft") == pytest.approx(1426.37, abs=0.005)
    assert one.number("x_LL", "ft") == pytest.approx(29.07, abs=0.005)
    assert one.sheet["x_LL"].branch == "truck governs"
    x = one.number("x_LL", "ft")
    assert one.number("M_DC1", "kip*ft") == pytest.approx(1.1471625 * x * (62 - x) / 2)
    notes = one.sheet.to_json()
    assert "combined maximum at one section" in notes.lower()
    assert "sum of separate maxima" in HAND.sheet.to_json().lower()
    short = loads(bridge_62_ft(span=27 * ft, live_load_maximum=LiveLoadMaximum.ONE_SECTION,
                               diaphragm_spacing=9 * ft))  # fmt: skip
    assert short.sheet["x_LL"].branch == "tandem governs"


def test_options_of_the_dead_load() -> None:
    other = loads(
        bridge_62_ft(
            haunch_datum=HaunchDatum.TOP_OF_WEB,
            haunch=2.25 * inch,
            wearing_basis=WearingBasis.TRIBUTARY,
            miscellaneous=7 * plf,
        )
    )
    assert other.number("t_h", "inch") == pytest.approx(2.25 - 0.79)
    assert other.number("w_h", "plf") == pytest.approx(1.46 * 12 / 144 * 150)
    assert other.number("w_DW", "klf") == pytest.approx(0.025 * 8.25)
    assert other.number("w_st", "plf") == pytest.approx(142.0)
    assert other.number("e_g", "inch") == pytest.approx(17.8 + 1.46 + 4)
    thin = loads(bridge_62_ft(haunch_datum=HaunchDatum.TOP_OF_WEB, haunch=0.5 * inch))
    assert any("t_h" in path for path, _ in thin.sheet.warnings)


def test_eccentricity_of_a_non_composite_girder_may_be_zero() -> None:
    zero = loads(bridge_62_ft(girder_eccentricity=GirderEccentricity.ZERO, modular_ratio=9.0))
    assert zero.number("K_g", "inch**4") == pytest.approx(9 * 7800)


@pytest.mark.parametrize(
    ("strength", "ratio"),
    [
        (2.39, 11),
        (2.4, 10),
        (2.89, 10),
        (2.9, 9),
        (3.59, 9),
        (3.6, 8),
        (4.59, 8),
        (4.6, 7),
        (5.99, 7),
        (6.0, 6),
        (9.0, 6),
    ],
)
def test_modular_ratio_of_the_table(strength: float, ratio: int) -> None:
    sheet = Sheet("n")
    state_bridge(sheet, bridge_62_ft(concrete_strength=strength * ksi))
    assert number(sheet, "n") == ratio


@pytest.mark.parametrize(
    ("girders", "spacing", "moment", "shear"),
    [
        # hand: R1 = (1 + 1 - 6/9)/2 = .6667, R2 = .6667 + (1 - 4/9)/2 = .9444 (1 - 10/9 < 0)
        (3, 9.0, "lesser", 0.9444),
        # hand at 18 ft: R1 = (1 + 2/3)/2, R2 = R1 + (14/18 + 8/18)/2 = 1.4444; a third lane stands
        # 12 ft off: R3 = R2 + (6/18)/2 = 1.6111, times 0.85 is 1.3694
        (5, 18.0, None, 0.83333 + 0.61111),
    ],
)
def test_where_the_lever_rule_takes_over(
    girders: int, spacing: float, moment: str | None, shear: float
) -> None:
    data = bridge_62_ft(girders=girders, girder_spacing=spacing * ft)
    found = loads(data)
    assert found.number("g_V") == pytest.approx(shear, rel=1e-4)
    g_M1, g_M2 = found.number("g_M1"), found.number("g_M2")
    g_l1, g_l2 = found.number("g_l1"), found.number("g_l2")
    if moment == "lesser":
        assert data.lanes == 2
        expected = max(min(g_M1, g_l1), min(g_M2, g_l2))
        assert found.number("g_M") == pytest.approx(expected)
        assert "lesser" in str(found.sheet["g_M"].branch)
    else:
        assert found.number("g_M") == pytest.approx(shear, rel=1e-4)
        assert "lever rule" in str(found.sheet["g_M"].branch)


def test_one_lane_uses_one_lane_only() -> None:
    narrow = loads(bridge_62_ft(girders=4, girder_spacing=5 * ft, overhang=1.5 * ft))
    assert narrow.number("w_r", "ft") == pytest.approx(15.25)
    assert narrow.number("N_L") == 1
    assert narrow.number("g_M") == pytest.approx(narrow.number("g_M1"))
    assert narrow.number("g_V") == pytest.approx(0.36 + 5 / 25)
    assert narrow.number("g_def") == pytest.approx(1.2 / 4)


@pytest.mark.parametrize(
    ("changes", "outside"),
    [
        ({"girder_spacing": 3.25 * ft, "girders": 9}, {"g_M1", "g_M2", "g_V1", "g_V2"}),
        ({"span": 18 * ft}, {"g_M1", "g_M2", "g_V1", "g_V2"}),
        ({"structural_thickness": 4.25 * inch}, {"g_M1", "g_M2", "g_V1", "g_V2"}),
        ({"shape": "W8X10", "structural_thickness": 4.5 * inch, "haunch": 0 * inch,
          "girder_eccentricity": GirderEccentricity.ZERO}, {"g_M1", "g_M2"}),
        ({}, set()),
    ],
)  # fmt: skip
def test_ranges_of_application_are_ticked(changes: dict[str, Any], outside: set[str]) -> None:
    found = loads(bridge_62_ft(**({"diaphragm_spacing": 6 * ft} | changes)))
    warned = {path for path, _ in found.sheet.warnings}
    assert outside <= warned
    assert outside or not warned


@pytest.mark.parametrize(
    ("roadway", "lanes"), [(13, 1), (19.9, 1), (20, 2), (24, 2), (35.9, 2), (36, 3), (48, 4)]
)
def test_lanes_on_the_sheet_agree_with_the_data(roadway: float, lanes: int) -> None:
    data = bridge_62_ft(girder_spacing=(roadway - 2) / 4 * ft, overhang=2.375 * ft)
    sheet = Sheet("lanes")
    state_bridge(sheet, data)
    assert number(sheet, "N_L") == lanes == data.lanes


def test_arrays_of_shapes_spacings_and_spans() -> None:
    shapes = ["W36X135", "W30X116", "W40X199", "W24X68"]
    spacings, spans = np.array([5.0, 8.25, 11.75, 17.0]), np.array([27.0, 62.0, 118.0])
    outputs = ["M_LL", "V_LL", "M_DC1", "V_DC1", "K_tr", "g_M.branch", "g_M2.in_range", "g_def"]
    found = HAND.sheet.evaluate(
        {
            "shape": np.array(shapes)[:, None, None],
            "S": spacings[:, None] * ft,
            "L": spans * ft,
        },
        outputs,
    )
    for i, j, k in np.ndindex(4, 4, 3):
        one = HAND.sheet.revise({"shape": shapes[i], "S": spacings[j] * ft, "L": spans[k] * ft})
        for name, unit in (("M_LL", "kip*ft"), ("V_LL", "kip"), ("M_DC1", "kip*ft"),
                           ("V_DC1", "kip"), ("K_tr", "kip*ft**3"), ("g_def", "")):  # fmt: skip
            values = np.broadcast_to(
                Q_(found[name]).to(unit or "dimensionless").magnitude, (4, 4, 3)
            )
            assert values[i, j, k] == pytest.approx(number(one, name, unit), rel=1e-12)
        branches = np.broadcast_to(found["g_M.branch"], (4, 4, 3))
        assert branches[i, j, k] == one["g_M"].branch
        wide = spacings[j] > 16
        assert np.broadcast_to(found["g_M2.in_range"], (4, 4, 3))[i, j, k] == (not wide)


def test_moments_of_a_lane_agree_with_the_kernel_for_arrays() -> None:
    spans = np.linspace(20, 200, 19)
    moments = AXLE_MOMENT.function(vehicle="HL-93 truck", span=spans)
    for span, moment in zip(spans, moments, strict=True):
        assert moment == AXLE_MOMENT.function(vehicle="HL-93 truck", span=float(span))


def test_standard_trucks() -> None:
    sheet = Sheet("HS20")
    L = sheet.given("L", 62 * ft)
    standard_lane(sheet, L, proof=None)
    assert number(sheet, "M_tr", "kip*ft") == pytest.approx(842.32, abs=0.005)
    assert number(sheet, "V_tr", "kip") == pytest.approx(72 - 672 / 62)
    assert number(sheet, "P_e", "kip") == 32
    other = Sheet("H15")
    standard_lane(other, other.given("L", 62 * ft), name="h15", proof=None)
    assert number(other, "P_e", "kip") == 24


@pytest.mark.parametrize("proof", ["statics", "ordinates", None])
@pytest.mark.parametrize("definition", list(LiveLoadMaximum))
def test_the_lane_effects_do_not_depend_on_the_proof(
    proof: str | None, definition: LiveLoadMaximum
) -> None:
    sheet = Sheet("proof")
    lane = hl93_lane(sheet, sheet.given("L", 62 * ft), definition=definition, proof=proof)
    expected = 1427.81 if definition is LiveLoadMaximum.SEPARATE else 1426.37
    assert number(sheet, "M_HL", "kip*ft") == pytest.approx(expected, abs=0.005)
    assert (lane.section is None) == (definition is LiveLoadMaximum.SEPARATE)


def test_sources_and_assumptions_stand_beside_the_givens() -> None:
    data = bridge_62_ft(sources={"span": "plan 4"}, source="plans of 1971")
    sheet = Sheet("sources")
    state_bridge(sheet, data)
    by_name = {given.name: given for given in sheet.givens}
    assert by_name["L"].source == "plan 4"
    assert by_name["S"].source == "plans of 1971"
    assert by_name["q_C"].source is None
    assert "common practice" in by_name["q_C"].entry.assumed
    other = Sheet("stated")
    state_bridge(other, replace(data, construction_load=15 * psf))
    assert {given.name: given for given in other.givens}["q_C"].source == "plans of 1971"
    assert all(given.entry.source or given.entry.assumed for given in sheet.givens)


def test_units_of_the_data_do_not_matter() -> None:
    metric = loads(
        bridge_62_ft(span=Q_(62 * 0.3048, "m"), girder_spacing=Q_(8.25 * 12, "inch"),
                     barrier_weight=Q_(420, "plf"), deck_thickness=Q_(8.5 * 25.4, "mm"))
    )  # fmt: skip
    for name, unit in (("M_LL", "kip*ft"), ("M_DC1", "kip*ft"), ("V_DC2", "kip")):
        assert metric.number(name, unit) == pytest.approx(HAND.number(name, unit), rel=1e-12)
    assert 1 * klf * (1 * ft) ** 2 == 1 * kip_ft


@pytest.mark.parametrize(
    ("spacing", "lanes", "lines"),
    [
        (8.25, 2, 8.25 / 5.5),
        (8.25, 1, 8.25 / 7),
        (12.0, 1, 1 + 0.5),
        (16.0, 3, 1 + 10 / 16 + 12 / 16 + 6 / 16),
    ],
)
def test_wheel_lines(spacing: float, lanes: int, lines: float) -> None:
    sheet = Sheet("wheel lines")
    S, N_L = sheet.given("S", spacing * ft), sheet.given("N_L", lanes)
    interior_wheel_lines(sheet, spacing=S, lanes=N_L)
    assert number(sheet, "DF") == pytest.approx(lines)
