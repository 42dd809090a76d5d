"""Load rating: own numbers, hand values, laws, and what files cannot ask for."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stepcalc import Sheet
from stepcalc.analysis.vehicles import VEHICLES, vehicle
from stepcalc.bridge.bridge_file import parse_bridge
from stepcalc.bridge.girder import girder_calculation
from stepcalc.bridge.rating.factors import legal_factor, permit_factor, resistance_shares
from stepcalc.bridge.rating.formula import rating_factor, vehicle_on_girder
from stepcalc.bridge.rating.options import Condition, PermitKind, RatingData, System
from stepcalc.bridge.rating.posting import posted_tons, rated_tons
from stepcalc.cli import main
from stepcalc.errors import BridgeFileError, UnknownNameError
from stepcalc.units import ft, kip, kip_ft
from tests.unit.whole_bridge import benchmark

ALDER = (Path(__file__).parents[2] / "notebooks/sheets/alder_creek.toml").read_text("utf-8")
RATED = '\n[rating]\ncondition = "fair"\nrating_trucks = 3000\n'


def number(node: Any) -> float:
    return float(getattr(node.value, "magnitude", node.value))


def of(sheet: Any, name: str) -> float:
    (node,) = [node for node in sheet.steps if node.name == name]
    return number(node)


def rated(method: str, more: str = RATED) -> Any:
    return girder_calculation(parse_bridge(ALDER + more), method, proof=None)


@pytest.mark.parametrize(
    ("name", "expected"),
    [("Type 3", 3.643), ("Type 3S2", 3.473), ("Type 3-3", 3.794), ("SU4", 3.224), ("SU5", 2.931),
     ("SU6", 2.636), ("SU7", 2.426), ("NRL", 2.324), ("EV2", 3.198), ("EV3", 2.107)],
)  # fmt: skip
def test_own_exterior_girder_under_legal_loads(name: Any, expected: Any) -> None:
    """Own computation by an independent script: a composite W36x135, 62 ft, g 0.7455.

    (3785.4 - 1.25 x 548.37 - 1.50 x 87.09) / (1.319 x 0.7455 x 1.33 M), 1.30 for EV; within 0.2 %.
    """
    sheet = Sheet("rating")
    give = sheet.given
    g, trucks = give("g", 0.7455), give("ADTT", 1500.0)
    M, _ = vehicle_on_girder(
        sheet, name, span=give("L", 62 * ft), shares=(g, g), impact=give("IM", 0.33)
    )
    gamma = legal_factor(sheet, trucks)
    assert number(gamma) == pytest.approx(1.30 + 0.15 * 500 / 4000)
    factor: Any = give("gamma_EV", 1.30) if name.startswith("EV") else gamma
    RF = rating_factor(
        sheet, "RF", "rating", capacity=give("C", 3785.4 * kip_ft),
        dead=1.25 * give("D", 548.37 * kip_ft) + 1.5 * give("W", 87.09 * kip_ft),
        live=factor * M, ref="MBE",
    )  # fmt: skip
    assert number(RF) == pytest.approx(expected, rel=2e-3)


@pytest.mark.parametrize(
    ("C", "dead", "live", "expected"),
    [
        (3785.4, 1.25 * 548.37 + 1.5 * 87.09, 1.75 * 1064.37, 1.594),
        (3785.4, 1.25 * 548.37 + 1.5 * 87.09, 1.35 * 1064.37, 2.066),
        # load factor: M 842.32, I 50/187, 0.680 lanes, 1.3 (D + W), 2.17 and 1.30
        (3649.1, 1.3 * 635.46, 2.17 * 842.32 * 0.6805 * (1 + 50 / 187), 1.791),
        (3649.1, 1.3 * 635.46, 1.30 * 842.32 * 0.6805 * (1 + 50 / 187), 2.990),
    ],
)
def test_own_exterior_girder_under_design_loads(
    C: Any, dead: Any, live: Any, expected: Any
) -> None:
    sheet = Sheet("rating")
    RF = rating_factor(
        sheet, "RF", "rating", capacity=sheet.given("C", C * kip_ft),
        dead=sheet.given("D", dead * kip_ft), live=sheet.given("Q", live * kip_ft), ref="MBE",
    )  # fmt: skip
    assert number(RF) == pytest.approx(expected, rel=2e-3)


@pytest.mark.parametrize(
    ("condition", "system", "flexure", "shear"),
    [
        (Condition.GOOD, System.REDUNDANT, 1.0, 1.0),
        (Condition.FAIR, System.FOUR_CLOSE, 0.9025, 0.95),
        (Condition.POOR, System.WELDED_PAIR, 0.85, 0.85),  # 0.7225 is raised to 0.85
        (Condition.FAIR, System.RIVETED_PAIR, 0.855, 0.95),
    ],
)
def test_condition_and_system(condition: Any, system: Any, flexure: Any, shear: Any) -> None:
    """The system factor is not put on shear (MBE 6A.4.2.4, from memory)."""
    data = RatingData(condition, system, None, False, 0.33, None, None, PermitKind.SINGLE, "plans")
    found = resistance_shares(Sheet("rating"), data)
    assert (number(found.flexure), number(found.shear)) == pytest.approx((flexure, shear))


@pytest.mark.parametrize(
    ("trucks", "expected"),
    [(None, 1.45), (0.0, 1.30), (1000.0, 1.30), (3000.0, 1.375), (5000.0, 1.45), (9000.0, 1.45)],
)
def test_legal_factor_by_traffic(trucks: Any, expected: Any) -> None:
    sheet = Sheet("rating")
    count = None if trucks is None else sheet.given("ADTT", trucks)
    assert number(legal_factor(sheet, count)) == pytest.approx(expected)
    assert number(legal_factor(Sheet("owner"), None, 1.8)) == 1.8


@pytest.mark.parametrize(
    ("kind", "trucks", "weight", "expected"),
    [
        (PermitKind.ESCORTED, None, 90, 1.10), (PermitKind.SINGLE, None, 90, 1.20),
        (PermitKind.SEVERAL, 50.0, 90, 1.40),
        # 50 ft: 90 kip is 1.8 kip/ft, 125 kip 2.5, 200 kip 4
        (PermitKind.ANNUAL, None, 90, 1.40), (PermitKind.ANNUAL, 3000.0, 90, 1.375),
        (PermitKind.ANNUAL, 550.0, 125, 1.225), (PermitKind.ANNUAL, 50.0, 200, 1.15),
    ],
)  # fmt: skip
def test_permit_factor(kind: Any, trucks: Any, weight: Any, expected: Any) -> None:
    sheet = Sheet("permit")
    count = None if trucks is None else sheet.given("ADTT", trucks)
    found = permit_factor(
        sheet, kind, count, weight=sheet.given("W", weight * kip), length=sheet.given("L", 50 * ft)
    )
    assert number(found) == pytest.approx(expected)


@pytest.mark.parametrize(
    ("factor", "expected"),
    [(1.2, 25), (1.0, 25), (0.99, 24), (0.65, 12), (0.3, 0), (0.1, 0), (-0.4, 0)],
)
def test_posting_of_a_truck_of_25_tons(factor: Any, expected: Any) -> None:
    """25/0.7 (0.65 - 0.3) = 12.5, posted as 12; 25/0.7 x 0.69 = 24.6."""
    sheet = Sheet("posting")
    assert number(posted_tons(sheet, "W", sheet.given("RF", factor), "Type 3")) == expected


def test_39_tons_are_of_two_kip_and_live_load_is_of_the_girder() -> None:
    """Type 3 weighs 50 kip, 25 tons: a factor of 1.2 is 30 tons, not 60; with g, not per lane."""
    sheet = Sheet("tons")
    assert number(rated_tons(sheet, "W", sheet.given("RF", 1.2), "Type 3")) == pytest.approx(30)
    found = rated("LRFD")
    rating, girder = found.rating, found.sheet
    lane = of(rating, "M_v_3")
    assert of(rating, "M_LL_3") == pytest.approx(1.33 * of(girder, "g_M") * lane)
    assert of(rating, "phi_cv") == 0.95  # condition, and no system factor on shear


def test_lrfr_of_the_rolled_beam_by_hand() -> None:
    """Condition fair: 0.95; every factor again in plain floats from the calculation's numbers."""
    found = rated("LRFD")
    rating, s = found.rating, found.sheet
    D = 1.25 * (of(s, "M_DC1") + of(s, "M_DC2")) + 1.5 * of(s, "M_DW")
    D_S = of(s, "M_DC1") + of(s, "M_DC2") + of(s, "M_DW")
    D_V = 1.25 * (of(s, "V_DC1") + of(s, "V_DC2")) + 1.5 * of(s, "V_DW")
    C_S = 0.80 * 50 * 487 / 12
    M, V = of(s, "M_LL"), of(s, "V_LL")
    assert of(rating, "RF_M_i") == pytest.approx((0.95 * of(s, "M_n") - D) / (1.75 * M))
    assert of(rating, "RF_M_o") == pytest.approx((0.95 * of(s, "M_n") - D) / (1.35 * M))
    assert of(rating, "RF_S_i") == pytest.approx((C_S - D_S) / (1.30 * M), rel=1e-3)
    assert of(rating, "RF_V_o") == pytest.approx((0.95 * of(s, "V_n") - D_V) / (1.35 * V))
    least = min(of(rating, f"RF_{key}_i") for key in "MSV")
    assert of(rating, "RF_i") == pytest.approx(least)
    names = [key for key in VEHICLES if key.startswith(("Type", "SU", "NRL", "EV"))]
    assert len(names) == 10
    tags = [name.removeprefix("Type ").replace("-", "") for name in names]
    assert of(rating, "RF_L") == pytest.approx(min(of(rating, f"RF_{tag}") for tag in tags))
    assert rating.warnings == []


def test_a_permit_vehicle_has_one_lane_without_multiple_presence() -> None:
    more = RATED + 'permit_vehicle = "crane: 18, 24, 24 @ 13.5, 4.5"\n'
    found = rated("LRFD", more)
    rating, s = found.rating, found.sheet
    assert of(rating, "g_PM") == pytest.approx(of(s, "g_M1") / 1.2)
    D = 1.25 * (of(s, "M_DC1") + of(s, "M_DC2")) + 1.5 * of(s, "M_DW")
    live = 1.33 * of(s, "g_M1") / 1.2 * of(rating, "M_v_P")
    assert of(rating, "RF_M_P") == pytest.approx((0.95 * of(s, "M_n") - D) / (1.20 * live))
    annual = rated("LRFD", more + 'permit_kind = "annual, in traffic"\n')
    assert of(annual.rating, "M_LL_P") == pytest.approx(
        1.33 * of(s, "g_M") * of(annual.rating, "M_v_P")
    )


def test_load_factor_rating_by_hand() -> None:
    """1.3 D; 2.17 and 1.30; serviceability 0.80 F_y S, 1.67 and 1.0."""
    found = rated("LFD")
    rating, s = found.rating, found.sheet
    D = of(s, "M_DC1") + of(s, "M_DC2") + of(s, "M_DW")
    M = of(s, "M_LL")
    assert of(rating, "RF_Mi") == pytest.approx((of(s, "M_n") - 1.3 * D) / (2.17 * M))
    assert of(rating, "RF_Mo") == pytest.approx((of(s, "M_n") - 1.3 * D) / (1.30 * M))
    C_S = 0.80 * 50 * 487 / 12
    assert of(rating, "RF_Si") == pytest.approx((C_S - D) / (1.67 * M), rel=1e-3)
    assert of(rating, "RF_So") == pytest.approx((C_S - D) / M, rel=1e-3)
    assert of(rating, "W_i") == pytest.approx(36 * of(rating, "RF_i"))  # HS20: 72 kip
    lanes, end = of(s, "DF") / 2, of(s, "DF_0") / 2
    shear = end * 17 + lanes * (of(rating, "V_v_SU4") - 17)  # its heaviest axle over the bearing
    assert of(rating, "V_LL_SU4") == pytest.approx((1 + of(s, "I")) * shear)
    assert of(rating, "M_LL_SU4") == pytest.approx(lanes * (1 + of(s, "I")) * of(rating, "M_v_SU4"))


def test_allowable_stress_rating_by_hand() -> None:
    """0.55 and 0.75 of yield: (F_b S - D)/(L + I)."""
    found = rated("ASD")
    rating, s = found.rating, found.sheet
    D = of(s, "M_DC1") + of(s, "M_DC2") + of(s, "M_DW")
    S, M = 487 / 12, of(s, "M_LL")
    assert of(rating, "RF_Mi") == pytest.approx((0.55 * 50 * S - D) / M, rel=1e-3)
    assert of(rating, "RF_Mo") == pytest.approx((0.75 * 50 * S - D) / M, rel=1e-3)
    ratio = of(rating, "C_Vo") / of(rating, "C_Vi")
    assert ratio == pytest.approx(0.45 / 0.33)


@settings(max_examples=40)
@given(st.floats(500, 4000), st.floats(0, 400), st.floats(50, 900), st.floats(1.01, 3))
def test_laws_of_the_rating_factor(C: Any, D: Any, Q: Any, more: Any) -> None:
    """At RF live load just fills the capacity; more live load divides it."""
    sheet = Sheet("law")
    give = sheet.given
    c, d, q = give("C", C * kip_ft), give("D", D * kip_ft), give("Q", Q * kip_ft)
    one = rating_factor(sheet, "RF", "a", capacity=c, dead=d, live=q, ref="MBE")
    other = rating_factor(sheet, "RF_b", "b", capacity=c, dead=d, live=more * q, ref="MBE")
    assert number(one) * Q + D == pytest.approx(C)
    assert number(other) * more == pytest.approx(number(one))


def test_the_package_holds_the_rating_and_plain_data_too() -> None:
    found = rated("LRFD")
    titles = [sheet.title for sheet in found.sheets]
    assert titles[1] == "Load rating, LRFR"
    records = found.to_json_dict()["rating"]
    assert any(record["where"].endswith("RF_i") for record in records)
    plain = rated("LRFD", "")
    assert plain.rating is None
    rest = "load rating, legal and permit vehicles"
    assert rest in plain.to_json_dict()["not_checked"]
    assert rest not in found.to_json_dict()["not_checked"]


def test_a_vehicle_written_out() -> None:
    record = vehicle("crane: 18, 24, 24 @ 13.5, 4.5")
    assert (record.axles, record.spacings, record.title) == ((18, 24, 24), (13.5, 4.5), "crane")
    for wrong in ("@", "a: 1 @", "a: 1, 2 @ 3, 4", "a: -1, 2 @ 3", "a: x @ y", ": 1, 2 @ 3",
                  "a: 1, 2 @ nan", "a: 1e9, 2 @ 3"):  # fmt: skip
        with pytest.raises(UnknownNameError, match="cannot be read"):
            vehicle(wrong)


@pytest.mark.parametrize(
    ("more", "words"),
    [
        ("\n[rating]\nrating_trucks = 10\n", "needs condition"),
        (RATED.replace("fair", "splendid"), "condition"),
        (RATED + 'permit_vehicle = "nothing"\n', "no vehicle"),
        (RATED + 'permit_vehicle = "a: 1 @ 2"\n', "cannot be read"),
        (RATED + "rating_impact = 3\n", "rating_impact"),
    ],
)
def test_files_that_cannot_be_meant(more: Any, words: Any) -> None:
    with pytest.raises(BridgeFileError, match=words):
        parse_bridge(ALDER + more)


def test_the_command_line_says_the_controlling_factors_and_never_rounds_up(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "rated.toml"
    file.write_text(ALDER + RATED, "utf-8")
    assert main(["girder", str(file)]) == 0
    said = " ".join(capsys.readouterr().out.split())
    assert "Load rating, controlling factors: HL-93 inventory" in said
    words = said.split("HL-93 inventory ")[1].split(";")[0]
    exact = of(rated("LRFD").rating, "RF_i")
    assert 0 <= exact - float(words) < 0.01


@pytest.mark.parametrize(
    ("name", "expected"),
    [
        ("RF_M_i", 1.594), ("RF_M_o", 2.066), ("RF_S_i", 1.295), ("RF_S_o", 1.683),
        ("RF_S_3", 2.230), ("RF_S_3S2", 2.126), ("RF_S_33", 2.322), ("RF_S_SU4", 1.974),
        ("RF_S_SU5", 1.794), ("RF_S_SU6", 1.614), ("RF_S_SU7", 1.485), ("RF_S_NRL", 1.423),
        ("RF_S_EV2", 1.930), ("RF_S_EV3", 1.271), ("RF_M_3", 3.643), ("RF_M_EV3", 2.107),
    ],
)  # fmt: skip
def test_own_composite_exterior_girder(name: Any, expected: Any) -> None:
    """Own computation by an independent script, W36x135 on 62 ft; 1500 trucks; within 0.3 %."""
    assert of(composite_ratings()[1], name) == pytest.approx(expected, rel=3e-3)


@lru_cache(maxsize=1)
def composite_ratings() -> Any:
    return replace(benchmark(), data=replace(
        benchmark().data, condition=Condition.GOOD, rating_trucks=1500.0,
        permit_vehicle="crane: 18, 24, 24 @ 13.5, 4.5",
    )).ratings  # fmt: skip


def test_composite_girders_of_a_file_are_rated_and_others_say_why_not() -> None:
    interior, exterior = composite_ratings()
    assert interior.title == "Load rating, LRFR, interior girder"
    # one lane without multiple presence: 0.4812/1.2 inside, the lever rule's 0.5909 outside
    assert of(interior, "g_PM") == pytest.approx(0.4010, rel=2e-3)
    assert of(exterior, "g_PM") == pytest.approx(0.5909, rel=2e-3)
    cedar = (Path(__file__).parents[2] / "notebooks/sheets/cedar_fork.toml").read_text("utf-8")
    with pytest.raises(BridgeFileError, match="simple span"):
        parse_bridge(cedar + RATED)
