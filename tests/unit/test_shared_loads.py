"""Loads shared among girders: own numbers, totals, and rules that cannot be meant."""

from __future__ import annotations

import math
from typing import Any

import pytest

from stepcalc import Sheet
from stepcalc.bridge.shared_loads import (
    Sharing,
    edge_load,
    pedestrian_load,
    surface_load,
    tributary_deck,
)
from stepcalc.errors import RangeError
from stepcalc.units import ft, inch, klf, pcf, psf


def number(node: Any) -> Any:
    return float(node.value.magnitude)


def test_own_bridge() -> None:
    """Own computation: 8.5 in of deck, S 8.25, OH 3.0 ft: 0.7570 and 0.8766, 0.1680, 0.18125."""
    sheet = Sheet("dead load")
    give = sheet.given
    S, N_b = give("S", 8.25 * ft), give("N_b", 5)
    deck = tributary_deck(
        sheet, spacing=S, overhang=give("OH", 3 * ft), thickness=give("t", 8.5 * inch),
        unit_weight=give("gamma_c", 150 * pcf),
    )  # fmt: skip
    assert number(deck.exterior) == pytest.approx(0.7570, rel=2e-4)
    assert number(deck.interior) == pytest.approx(0.8766, rel=2e-4)
    barrier = edge_load(sheet, give("w_bar", 0.42 * klf), girders=N_b)
    assert number(barrier.exterior) == pytest.approx(0.168)
    surface = surface_load(
        sheet, give("q_ws", 25 * psf), spacing=S, curb=give("d_e", 1.625 * ft),
        roadway=give("w_r", 36.25 * ft), girders=N_b,
    )  # fmt: skip
    assert number(surface.interior) == pytest.approx(0.18125)


@pytest.mark.parametrize(
    ("rule", "more", "expected"),
    [
        (Sharing.EQUAL, {}, (0.14, 0.14, 0.14)),
        (Sharing.FIRST, {"first": 2}, (0.21, 0.21, 0.0)),
        (Sharing.FIRST, {"first": 3}, (0.14, 0.14, 0.14)),
        (Sharing.SHARES, {"percentages": (60, 40)}, (0.252, 0.168, 0.0)),
        ("the first girders from the edge by percentages", {"percentages": (100,)}, (0.42, 0, 0)),
    ],
)
def test_both_edges_are_carried_whole(rule: Any, more: Any, expected: Any) -> None:
    """Six girders: two of each kind carry both barriers."""
    sheet = Sheet("barriers")
    found = edge_load(
        sheet, sheet.given("w_bar", 0.42 * klf), girders=sheet.given("N_b", 6), rule=rule, **more
    )
    values = [number(node) for node in (found.exterior, found.first, found.interior)]
    assert values == pytest.approx(expected)
    assert 2 * sum(values) == pytest.approx(0.84)
    assert sheet.warnings == []


def test_where_the_groups_of_both_edges_meet_a_girder_carries_from_both() -> None:
    """Five girders, three from each edge: 0.14 on all but the middle one, which has 0.28."""
    sheet = Sheet("barriers")
    found = edge_load(
        sheet, sheet.given("w_bar", 0.42 * klf), girders=sheet.given("N_b", 5), rule=Sharing.FIRST
    )
    values = [number(node) for node in (found.exterior, found.first, found.interior)]
    assert values == pytest.approx([0.14, 0.14, 0.28])
    assert sheet.warnings == []


def test_surface_by_width_adds_up_to_the_roadway() -> None:
    """S 9, d_e 2, four girders: roadway 31 ft; 2 * (4.5 + 2) + 2 * 9 = 31."""
    sheet = Sheet("surface")
    found = surface_load(
        sheet, sheet.given("q", 30 * psf), spacing=sheet.given("S", 9 * ft),
        curb=sheet.given("d_e", 2 * ft), roadway=sheet.given("w_r", 31 * ft),
        girders=sheet.given("N_b", 4), equal=False,
    )  # fmt: skip
    assert 2 * number(found.exterior) + 2 * number(found.interior) == pytest.approx(0.030 * 31)


@pytest.mark.parametrize(("width", "expected"), [(5.0, 0.075 * 5 / 6), (2.0, 0.0), (2.5, 0.03125)])
def test_pedestrians(width: Any, expected: Any) -> None:
    sheet = Sheet("walk")
    found = pedestrian_load(
        sheet, width=sheet.given("b_w", width * ft), girders=sheet.given("N_b", 6)
    )
    assert number(found) == pytest.approx(expected)


def test_rules_that_cannot_be_meant() -> None:
    sheet = Sheet("wrong")
    weight, N_b = sheet.given("w", 0.4 * klf), sheet.given("N_b", 6)
    with pytest.raises(RangeError, match="sharing rule"):
        edge_load(sheet, weight, girders=N_b, rule="by luck")
    with pytest.raises(RangeError, match="share a barrier"):
        edge_load(sheet, weight, girders=N_b, rule=Sharing.FIRST, first=0)
    for wrong in ((60, 30), (), (110, -10), (math.nan, 50), (25, 25, 25, 25)):
        with pytest.raises(RangeError, match="percentages"):
            edge_load(sheet, weight, girders=N_b, rule=Sharing.SHARES, percentages=wrong)
    with pytest.raises(RangeError, match="sidewalks"):
        pedestrian_load(sheet, width=sheet.given("b", 5 * ft), girders=N_b, walks=3)
