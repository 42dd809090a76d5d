"""Lanes on girders: own numbers, other counts of girders and lanes by plain floats, bad input."""

from __future__ import annotations

import math
from itertools import pairwise
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stepcalc import Sheet
from stepcalc.bridge.lanes.deck import deck_geometry, stiffness_parameter
from stepcalc.bridge.lanes.exterior import exterior_lanes
from stepcalc.bridge.lanes.interior import interior_moments, interior_shear
from stepcalc.bridge.lanes.lever import EXTERIOR_LEVER_MORE
from stepcalc.bridge.lanes.permit import permit_with_traffic
from stepcalc.bridge.lanes.rigid import RIGID_SECTION
from stepcalc.bridge.lanes.skew import skew_corrections, state_skew
from stepcalc.bridge.lanes.walk import (
    deck_with_traffic_on_the_walk,
    vehicles_and_pedestrians,
)
from stepcalc.bridge.lanes.wheel_lines import exterior_wheel_lines
from stepcalc.bridge.lanes.wheels import exterior_arms, interior_distances
from stepcalc.bridge.lever_rule import lever_rule
from stepcalc.errors import RangeError
from stepcalc.sheet.proofs import proof_of
from stepcalc.units import ft, inch, kip_ft


def number(node: Any) -> Any:
    value = node.value
    return float(getattr(value, "magnitude", value))


def bridge(
    *,
    spacing: Any = 8.25,
    girders: Any = 5,
    overhang: Any = 3.0,
    barrier: Any = 1.375,
    span: Any = 62.0,
    frames: Any = True,
) -> Any:
    """A W36x135 with 8 in of slab and 1.5 in of haunch, unless told otherwise."""
    sheet = Sheet("lanes")
    give = sheet.given
    K_g = stiffness_parameter(
        sheet, modular_ratio=give("n", 8), inertia=give("I", 7800 * inch**4),
        area=give("A", 39.9 * inch**2), eccentricity=give("e_g", 23.3 * inch),
    )  # fmt: skip
    deck = deck_geometry(
        sheet, spacing=give("S", spacing * ft), girders=give("N_b", girders),
        overhang=give("OH", overhang * ft), barrier_width=give("b_bar", barrier * ft),
        slab=give("t_s", 8 * inch), stiffness=K_g, span=give("L", span * ft),
    )  # fmt: skip
    shear = interior_shear(sheet, deck)
    (moment,) = interior_moments(sheet, deck, [("span", deck.span)], shear.lever)
    exterior = exterior_lanes(
        sheet, deck, interior_moment=moment.more, interior_shear=shear.more, cross_frames=frames
    )
    return sheet, deck, moment, shear, exterior


def test_own_bridge_of_five_girders() -> None:
    """Own computation by an independent script (numpy), tolerance 0.2 %."""
    sheet, deck, moment, shear, exterior = bridge()
    expected = {
        deck.stiffness: 235_690, moment.one: 0.4812, moment.more: 0.6601, shear.one: 0.6900,
        shear.more: 0.8319, exterior.moment_more: 0.6261, exterior.shear_more: 0.6344,
        exterior.lever_one: 0.7091, exterior.moment: 0.7455, exterior.shear: 0.7455,
        exterior.fatigue: 0.5909, moment.fatigue: 0.4010, shear.fatigue: 0.5750,
    }  # fmt: skip
    for node, value in expected.items():
        assert number(node) == pytest.approx(value, rel=2e-3), node.name
    assert exterior.moment.branch == "the rigid cross-section governs"
    proof, warning = proof_of(sheet["Rigid cross-section, exterior girder/g_r"])
    assert warning is None
    rigid = [number(proof[f"g_r{n}"]) for n in (1, 2, 3)]
    assert rigid == pytest.approx([0.6218, 0.7455, 0.5795], rel=2e-3)
    assert number(proof["R_r3"]) == pytest.approx(0.6818, rel=2e-3)
    assert sheet.warnings == []


def plain_exterior(S: Any, N_b: Any, d_e: Any, N_L: Any, g_M2: Any, g_V2: Any) -> Any:
    """Exterior lanes in plain floats."""
    arms = [S + d_e - 2 - 12 * n - w for n in range(N_L) for w in (0, 6)]
    lever = [sum(max(a, 0) for a in arms[: 2 * n]) / 2 / S for n in range(1, N_L + 1)]
    x = [(i - (N_b - 1) / 2) * S for i in range(N_b)]
    m = {1: 1.2, 2: 1.0, 3: 0.85} | dict.fromkeys(range(4, 40), 0.65)
    squares = sum(v * v for v in x)
    rigid = max(
        m[n] * (n / N_b + x[-1] * sum(x[-1] + d_e - 5 - 12 * k for k in range(n)) / squares)
        for n in range(1, N_L + 1)
    )
    two = max((m[n] * lever[n - 1] for n in range(2, N_L + 1)), default=1.2 * lever[0])
    e_M, e_V = (0.77 + d_e / 9.1) * g_M2, (0.6 + d_e / 10) * g_V2
    if not -1 <= d_e <= 5.5 or S > 16:
        e_M = e_V = two
    elif N_b <= 3:
        e_M, e_V = min(e_M, two), two
    if N_L == 1:
        return max(1.2 * lever[0], rigid), max(1.2 * lever[0], rigid)
    return max(e_M, 1.2 * lever[0], rigid), max(e_V, 1.2 * lever[0], rigid)


@pytest.mark.parametrize(
    ("spacing", "girders", "overhang", "barrier"),
    [
        (8.25, 5, 3.0, 1.375), (11.5, 3, 4.0, 1.5), (6.0, 4, 1.0, 1.5), (9.0, 7, 7.5, 1.5),
        (5.0, 4, 0.5, 1.75), (14.0, 4, 4.75, 1.75), (7.0, 3, 1.0, 1.5),
        (9.5, 9, 3.5, 1.5), (28.0, 4, 5.0, 1.5), (10.0, 12, 3.0, 1.5),
    ],
)  # fmt: skip
def test_exterior_lanes_by_plain_floats(
    spacing: Any, girders: Any, overhang: Any, barrier: Any
) -> None:
    _, deck, moment, shear, exterior = bridge(
        spacing=spacing, girders=girders, overhang=overhang, barrier=barrier
    )
    expected = plain_exterior(
        spacing, girders, overhang - barrier, int(number(deck.lanes)),
        number(moment.more), number(shear.more),
    )  # fmt: skip
    assert number(exterior.moment) == pytest.approx(expected[0], rel=1e-9)
    assert number(exterior.shear) == pytest.approx(expected[1], rel=1e-9)


def test_outside_the_range_of_the_curb_it_warns_and_takes_the_lever_rule() -> None:
    sheet, *_, exterior = bridge(spacing=9.0, girders=7, overhang=7.5, barrier=1.5)
    assert exterior.moment_more.branch == "lever rule, d_e above 5.5 ft"
    assert any("e_M" in path for path, _ in sheet.warnings)


def test_without_cross_frames_the_rigid_section_is_left_out() -> None:
    _, *_, exterior = bridge(frames=False)
    assert exterior.rigid is None
    assert number(exterior.moment) == pytest.approx(1.2 * 9.75 / 16.5, rel=1e-9)


def test_lever_proofs_draw_the_wheels() -> None:
    sheet, *_ = bridge(spacing=14.0, girders=4, overhang=4.75, barrier=1.75)
    for name in ("R_e1", "g_e2"):
        node = sheet[f"Lever rule, exterior girder/{name}"]
        proof, warning = proof_of(node)
        assert warning is None
        assert '"kind": "free_body"' in proof.to_json().replace('"kind":"', '"kind": "')
    # 14 + 3 - 2 = 15 ft: wheels at 15, 9, 3; the fourth stands beyond the hinge; m = 1
    assert number(node) == pytest.approx((15 + 9 + 3) / 28, rel=1e-12)


def placed_trucks(spacing: float, lanes: int) -> float:
    """The greatest reaction of an interior girder: lanes of 12 ft and trucks in them, on a grid."""
    steps = np.arange(0.0, 2.01, 0.5)  # 2 ft to either edge of a lane: a truck has 2 ft to move in
    starts = np.arange(-12.0 * lanes, 0.01, 0.5)

    def tent(x: Any) -> Any:
        return np.maximum(1 - np.abs(x) / spacing, 0.0)

    best = 0.0
    for start in starts:
        total = 0.0
        for lane in range(lanes):
            first = start + 12 * lane + 2 + steps
            total += float(np.max(tent(first) + tent(first + 6))) / 2
        best = max(best, total)
    return best


@pytest.mark.parametrize("spacing", [4.0, 7.75, 10.0, 11.0, 13.0, 17.0, 22.0, 30.0])
def test_wheels_of_an_interior_girder_stand_worst(spacing: Any) -> None:
    """Against lanes and trucks pushed over the whole deck in steps of half a foot."""
    for lanes in (1, 2, 3, 4, 5):
        pairs = interior_distances(lanes)
        found = sum(max(1 - x / spacing, 0) for pair in pairs for x in pair) / 2
        assert found == pytest.approx(placed_trucks(spacing, lanes), rel=1e-12)


def test_interior_lever_rule_of_five_lanes() -> None:
    """S 28 ft, five lanes.

    One: (1 + 22/28)/2 = 0.89286, with m 1.07143.  Two: + (24/28 + 18/28)/2 = 1.64286.
    Three: + (16 + 10)/28/2 = 2.10714, with 0.85: 1.79107.  Four: + (12 + 6)/28/2 = 2.42857,
    with 0.65: 1.57857.  Five: + 4/28/2 = 2.5, with 0.65: 1.625.
    """
    sheet = Sheet("lever")
    found = lever_rule(
        sheet, spacing=sheet.given("S", 28 * ft), lanes=sheet.given("N_L", 5),
        girders=sheet.given("N_b", 4),
    )  # fmt: skip
    assert number(found.one) == pytest.approx(1.2 * 50 / 56)
    assert number(found.more) == pytest.approx(0.85 * (1.7857142857 / 2 + 42 / 56 + 26 / 56))
    proof, warning = proof_of(found.more)
    assert warning is None
    assert [number(proof[f"g_{n}"]) for n in (2, 3, 4, 5)] == pytest.approx(
        [1.642857, 1.791071, 1.578571, 1.625], rel=1e-6
    )
    assert "free_body" in proof.to_json()


def test_the_wheels_are_drawn_only_where_the_lever_rule_decides() -> None:
    for spacing, girders, drawn in ((8.0, 5, False), (8.0, 3, True), (17.0, 5, True)):
        sheet = Sheet("lever")
        found = lever_rule(
            sheet, spacing=sheet.given("S", spacing * ft), lanes=sheet.given("N_L", 2),
            girders=sheet.given("N_b", girders),
        )  # fmt: skip
        proof, warning = proof_of(found.more)
        assert warning is None
        assert ("free_body" in proof.to_json()) is drawn
        assert bool(proof.steps) is drawn


@settings(max_examples=40)
@given(st.floats(4, 24), st.floats(-1, 6), st.integers(1, 10), st.floats(10, 12))
def test_more_lanes_never_less_before_m(S: Any, d_e: Any, lanes: Any, lane: Any) -> None:
    """Without multiple presence a further lane never takes load off, once all m are one."""
    arms = exterior_arms(S, d_e, 2.0, lane, lanes)
    shares = [sum(max(float(a), 0) for a in arms[: 2 * n]) / 2 / S for n in range(1, lanes + 1)]
    assert all(b >= a for a, b in pairwise(shares))
    ones = dict.fromkeys(("m_1", "m_2", "m_3", "m_4"), 1.0)
    most = EXTERIOR_LEVER_MORE.function(
        spacing=S, curb=d_e, first=2.0, lane=lane, lanes=float(lanes), **ones
    )
    assert most == pytest.approx(shares[-1])


@settings(max_examples=30)
@given(st.integers(3, 12), st.floats(4, 16), st.floats(0, 4), st.integers(1, 4))
def test_rigid_section_shares_add_up_to_the_lanes(N_b: Any, S: Any, d_e: Any, lanes: Any) -> None:
    """Every girder's R by plain floats: their sum is N, and that of the edge is the kernel's."""
    x = [(i - (N_b - 1) / 2) * S for i in range(N_b)]
    trucks = [x[-1] + d_e - 5 - 12 * k for k in range(lanes)]
    squares = sum(v * v for v in x)
    shares = [lanes / N_b + v * sum(trucks) / squares for v in x]
    assert sum(shares) == pytest.approx(lanes)
    only = {f"m_{n}": float(n == lanes) for n in (1, 2, 3, 4)}
    found = RIGID_SECTION.function(
        spacing=S, girders=float(N_b), curb=d_e, lane=12.0, lanes=float(lanes), **only
    )
    assert found == pytest.approx(max(shares[-1], 0.0))


@pytest.mark.parametrize(
    ("spacing", "span"), [(17.0, 62.0), (3.0, 62.0), (8.25, 15.0), (8.25, 260.0)]
)
def test_outside_the_range_of_the_equations_the_lever_rule_takes_over(
    spacing: Any, span: Any
) -> None:
    """Above 16 ft of spacing it alone, by the code; elsewhere the greater, without a verdict."""
    sheet, _, moment, shear, _ = bridge(spacing=spacing, span=span, girders=6)
    assert "beyond its range: lever rule" in moment.one.description
    assert any("outside the range" in text for _, text in sheet.warnings)
    for node, one, more in (
        (moment.governing, moment.one, moment.more),
        (shear.governing, shear.one, shear.more),
    ):
        assert "lever rule" in node.branch
        lever = number(shear.lever.governing)
        if spacing > 16:
            assert number(node) == pytest.approx(lever)
            assert node.in_range
        else:
            assert number(node) == pytest.approx(max(lever, number(one), number(more)))
            assert not node.in_range


def test_skew() -> None:
    """35 degrees: c_1 = 0.25 k^0.25 (S/L)^0.5, both corrections in plain floats."""
    sheet, deck, *_ = bridge()
    skew: Any = state_skew(sheet, 35.0, source="plan")
    found = skew_corrections(sheet, deck, skew, reduce_moment=True)
    k = number(deck.stiffness) / (12 * 62 * 8**3)
    t = math.tan(math.radians(35))
    c_1 = 0.25 * k**0.25 * (8.25 / 62) ** 0.5
    assert number(found.moment) == pytest.approx(1 - c_1 * t**1.5, rel=1e-9)
    assert number(found.shear) == pytest.approx(1 + 0.2 * k**-0.3 * t, rel=1e-9)
    flat = sheet.revise(theta=skew.value * (29 / 35))
    assert number(flat["k_sM"]) == 1.0
    steep = sheet.revise(theta=skew.value * (70 / 35))
    assert number(steep["k_sM"]) == pytest.approx(1 - c_1 * math.tan(math.radians(60)) ** 1.5)
    assert not steep["k_sV"].in_range


def test_skew_reduction_not_taken_is_said() -> None:
    sheet, deck, *_ = bridge()
    skew = state_skew(sheet, 40.0, source="plan")
    found = skew_corrections(sheet, deck, skew, reduce_moment=False)
    assert number(found.moment) == 1.0
    assert "not reduced by skew" in sheet.to_json()


@pytest.mark.parametrize("degrees", [90.0, -1.0, math.nan, 120.0, math.inf])
def test_skews_that_cannot_be_meant(degrees: Any) -> None:
    with pytest.raises(RangeError, match="skew"):
        state_skew(Sheet("skew"), degrees, source="plan")


def test_permit_beside_mixed_traffic() -> None:
    """2100 * 0.48/1.2 + 1400 * (0.66 - 0.48/1.2) = 1204; with Z = 1 it is 1260."""
    for lever, expected in ((False, 1204.0), (True, 2100 * 0.48 + 1400 * 0.18)):
        sheet = Sheet("permit")
        found = permit_with_traffic(
            sheet, permit=sheet.given("M_p", 2100 * kip_ft),
            design=sheet.given("M_D", 1400 * kip_ft),
            one_lane=sheet.given("g_1", 0.48), more_lanes=sheet.given("g_m", 0.66),
            unit=kip_ft, one_by_lever=lever,
        )  # fmt: skip
        assert number(found) == pytest.approx(expected, rel=1e-12)


def test_exterior_wheel_lines_of_the_standard_specifications() -> None:
    """S 8.25: S/(4 + 0.25 S) = 1.361 over 1.182; S 5.5: 1.0; three stringers: the lever rule."""
    for spacing, girders, expected in (
        (8.25, 5, 8.25 / (4 + 8.25 / 4)),
        (5.5, 5, 1.0),
        (8.25, 3, 2 * 9.75 / 16.5),
        (15.0, 4, (14.625 + 8.625 + 2.625) / 15),
    ):
        sheet = Sheet("wheel lines")
        found = exterior_wheel_lines(
            sheet, spacing=sheet.given("S", spacing * ft), curb=sheet.given("d_e", 1.625 * ft),
            girders=sheet.given("N_b", girders), lanes=sheet.given("N_L", 2),
        )  # fmt: skip
        assert number(found) == pytest.approx(expected, rel=1e-9)


def test_pedestrians_are_a_further_lane_by_hand() -> None:
    """R 0.59 and 0.70, 1000 of vehicles, 80 of pedestrians.

    Alone 1.2 x 590 = 708 and 700; with the walk 1.0 x 670 = 670 and 0.85 x 780 = 663.
    """
    sheet = Sheet("walk")
    give = sheet.given
    found = vehicles_and_pedestrians(
        sheet, reactions=[give("R_1", 0.59), give("R_2", 0.70)], vehicle=give("Q", 1000 * kip_ft),
        pedestrians=give("P", 80 * kip_ft), lanes=give("N_L", 2), unit=kip_ft,
    )  # fmt: skip
    values = [number(sheet[name]) for name in ("Q_1", "Q_1P", "Q_2", "Q_2P")]
    assert values == pytest.approx([708, 670, 700, 663])
    assert number(found) == pytest.approx(708)
    narrow = sheet.revise(N_L=1)
    assert number(narrow["Q_2P"]) == 0
    with pytest.raises(RangeError, match="reactions"):
        vehicles_and_pedestrians(
            sheet, reactions=[], vehicle=sheet["Q"], pedestrians=sheet["P"], lanes=sheet["N_L"],
            unit=kip_ft, name="W",
        )  # fmt: skip


def test_vehicles_on_the_walk_push_the_exterior_girder() -> None:
    """A walk of 5 ft moves the wheels out: d_e 1.625 - 5 to 1.625; 36.25 - 5 to 36.25 ft."""
    sheet, deck, moment, shear, _ = bridge(overhang=3.0, barrier=6.375)
    inside = number(deck.curb)
    assert inside == pytest.approx(-3.375)
    walk: Any = sheet.given("b_w", 5 * ft)
    with sheet.part("Vehicles on the walk"):
        wide = deck_with_traffic_on_the_walk(sheet, deck, walk=walk)
        outer = exterior_lanes(sheet, wide, interior_moment=moment.more, interior_shear=shear.more)
    assert number(wide.curb) == pytest.approx(1.625)
    assert number(wide.roadway) == pytest.approx(number(deck.roadway) + 5)
    assert number(outer.lever_one) == pytest.approx(1.2 * 9.75 / 16.5)
