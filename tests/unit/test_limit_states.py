"""Combinations by plain floats: both signs, load modifiers, owner's factors, editions, groups."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stepcalc import Sheet
from stepcalc.bridge.limit_states import (
    EffectParts,
    combine,
    load_factors,
    state_absent,
)
from stepcalc.bridge.load_groups import construction_groups, fatigue_ranges, standard_groups
from stepcalc.errors import RangeError, UnknownNameError
from stepcalc.units import kip_ft


def number(node: Any) -> Any:
    return float(getattr(node.value, "magnitude", node.value))


def combined(
    DC1: Any,
    DC2: Any,
    DW: Any,
    high: Any,
    low: Any,
    *,
    owner: Any = None,
    permit: Any = None,
    edition: Any = "8th",
) -> Any:
    sheet = Sheet("combinations")
    factors = load_factors(sheet, edition=edition, owner=owner)
    give = sheet.given
    names = ("M_DC1", "M_DC2", "M_DW", "M_LLp", "M_LLn")
    dc1, dc2, dw, most, least = (
        give(name, value * kip_ft)
        for name, value in zip(names, (DC1, DC2, DW, high, low), strict=True)
    )
    special = None if permit is None else give("M_P", permit * kip_ft)
    parts = EffectParts(dc1, dc2, dw, most, least, special)
    return sheet, combine(sheet, parts, factors, name="M", unit=kip_ft)


def test_own_interior_and_exterior_girder() -> None:
    """Own computation by an independent script: Strength I and Service II, tolerance 0.2 %."""
    for DC1, live, strength, service in (
        (551.21, 942.44, 2569.83, 1944.20),
        (467.65, 1064.37, 2678.74, 2019.14),
    ):
        _, found = combined(DC1, 80.72, 87.09, live, 0.0)
        assert number(found.largest) == pytest.approx(strength, rel=2e-3)
        assert number(found.by_state["Service II"][0]) == pytest.approx(service, rel=2e-3)
        assert found.largest.branch == "Strength I governs"


def test_opposite_signs_take_the_smallest_factors() -> None:
    """At a pier: D = -500, W = -60, LL +120/-700.

    Largest 0.9 * -500 + 0.65 * -60 + 1.75 * 120 = -279; smallest
    1.25 * -500 + 1.5 * -60 + 1.75 * -700 = -1940.
    """
    _, found = combined(-400.0, -100.0, -60.0, 120.0, -700.0)
    assert number(found.by_state["Strength I"][0]) == pytest.approx(-279.0)
    assert number(found.by_state["Strength I"][1]) == pytest.approx(-1940.0)
    assert number(found.largest) == pytest.approx(-279.0)
    assert number(found.smallest) == pytest.approx(-1940.0)


def test_strength_four_governs_where_dead_load_is_seven_times_live_load() -> None:
    _, heavy = combined(900.0, 0.0, 0.0, 100.0, 0.0)
    assert heavy.largest.branch == "Strength IV governs"
    assert number(heavy.largest) == pytest.approx(1350.0)
    _, light = combined(600.0, 0.0, 0.0, 100.0, 0.0)
    assert light.largest.branch == "Strength I governs"


def test_a_permit_load_can_govern_in_strength_two() -> None:
    """1.35 * 1500 = 2025 over 1.75 * 1000 = 1750."""
    _, found = combined(100.0, 0.0, 0.0, 1000.0, 0.0, permit=1500.0)
    assert found.largest.branch == "Strength II governs"
    assert number(found.largest) == pytest.approx(125 + 2025)


def test_load_modifiers_and_owners_factors() -> None:
    """eta = 1.05 * 1.05 * 1.0 = 1.1025; with 0.9 * 0.95 it 0.95 is the least."""
    sheet, found = combined(100.0, 0.0, 0.0, 200.0, -10.0, owner={"eta_D": 1.05, "eta_R": 1.05})
    assert number(found.largest) == pytest.approx(1.1025 * (125 + 350))
    least = 90 / 1.1025 - 1.1025 * 17.5
    assert number(found.by_state["Strength I"][1]) == pytest.approx(least)
    assert any(node.source == "owner" for node in sheet.givens)
    _, eased = combined(100.0, 0.0, 0.0, 200.0, 0.0, owner={"eta_D": 0.95, "eta_I": 0.9})
    assert number(eased.largest) == pytest.approx(0.95 * (125 + 350))
    _, own = combined(100.0, 0.0, 0.0, 200.0, 0.0, owner={"gamma_LL": 2.0})
    assert number(own.largest) == pytest.approx(125 + 400)


@settings(max_examples=25)
@given(st.floats(-900, 900), st.floats(-200, 200), st.floats(0, 900), st.floats(-900, 0))
def test_governing_is_the_extreme_of_all(D: Any, W: Any, high: Any, low: Any) -> None:
    _, found = combined(D, 0.0, W, high, low)
    strength = [v for k, v in found.by_state.items() if k.startswith("Strength")]
    assert number(found.largest) == pytest.approx(max(number(a) for a, _ in strength), abs=1e-9)
    assert number(found.smallest) == pytest.approx(min(number(b) for _, b in strength), abs=1e-9)
    assert number(found.largest) >= number(found.smallest) - 1e-9


@pytest.mark.parametrize(
    ("edition", "expected"), [("7th", (1.5, 0.75)), ("8th", (1.75, 0.8)), ("9th", (1.75, 0.8))]
)
def test_fatigue_factors_go_with_the_edition(edition: Any, expected: Any) -> None:
    sheet = Sheet("fatigue")
    one, two = fatigue_ranges(
        sheet, largest=sheet.given("a", 300 * kip_ft), smallest=sheet.given("b", -100 * kip_ft),
        edition=edition, unit=kip_ft,
    )  # fmt: skip
    assert (number(one), number(two)) == pytest.approx(tuple(400 * f for f in expected))


def test_groups_of_the_standard_specifications() -> None:
    """1.3 (300 + 5/3 * 450) = 1365; 1.3 (300 + 450) = 975; 1.3 (300 + 2.2 * 450) = 1677; 750."""
    sheet = Sheet("groups")
    found = standard_groups(
        sheet, dead=sheet.given("D", 300 * kip_ft), live=sheet.given("L", 450 * kip_ft),
        unit=kip_ft, light=True,
    )  # fmt: skip
    values = {key: number(node) for key, node in found.items()}
    assert values == pytest.approx({"LFD I": 1365, "LFD IA": 1677, "LFD IB": 975, "ASD I": 750})


def test_construction_groups() -> None:
    """1.25 * 590 + 1.5 * 40 = 797.5; 1.4 * 630 = 882."""
    sheet = Sheet("pour")
    found = construction_groups(
        sheet, dead=sheet.given("D", 590 * kip_ft), construction=sheet.given("C", 40 * kip_ft),
        unit=kip_ft,
    )  # fmt: skip
    assert [number(node) for node in found] == pytest.approx([797.5, 882.0])


@pytest.mark.parametrize(
    ("edition", "expected"),
    [("8th", (1.0, 1.0, 1.0)), ("9th", (1.0, 1.0, 1.0)), ("7th", (1.4, 0.4, 0.3))],
)
def test_wind_in_strength_three_and_five_and_service_one(edition: Any, expected: Any) -> None:
    """D 100, LL +50/-20, W 300 in all states, WL 10; either way.

    8th: III 125 + 300 = 425 and 90 - 300 = -210; V 125 + 67.5 + 300 + 10 = 502.5 and
    90 - 27 - 310 = -247; Service I 100 + 50 + 310 = 460.  7th: 1.4, 0.4 and 0.3 of the wind.
    """
    sheet = Sheet("wind")
    factors = load_factors(sheet, edition=edition)
    give = sheet.given
    D, zero, high, low, W, WL = (
        give(name, value * kip_ft)
        for name, value in (("D", 100), ("Z", 0), ("Lp", 50), ("Ln", -20), ("W", 300), ("WL", 10))
    )
    parts = EffectParts(D, zero, zero, high, low, wind_3=W, wind_5=W, wind_1=W, wind_on_live=WL)
    found = combine(sheet, parts, factors, name="M", unit=kip_ft)
    w_3, w_5, w_1 = (300 * factor for factor in expected)
    pairs = {
        "Strength III": (125 + w_3, 90 - w_3),
        "Strength V": (125 + 67.5 + w_5 + 10, 90 - 27 - w_5 - 10),
        "Service I": (150 + w_1 + 10, 80 - w_1 - 10),
    }
    for state, values in pairs.items():
        assert [number(node) for node in found.by_state[state]] == pytest.approx(values), state
    assert number(found.largest) == pytest.approx(max(125 + w_3, 202.5 + w_5, 212.5))
    text = sheet.to_json()
    assert f"Edition chosen: AASHTO LRFD, {edition} edition" in text
    state_absent(sheet, wind=True)
    assert "Strength V, wind" not in sheet.to_json()


def test_the_smallest_effect_of_a_permit_vehicle() -> None:
    """0.9 x 100 + 1.35 x -80 = -18."""
    sheet = Sheet("permit")
    factors = load_factors(sheet)
    names = {"D": 100, "Z": 0, "Lp": 50, "Ln": -20, "Pp": 60, "Pn": -80}
    D, Z, high, low, most, least = (
        sheet.given(name, value * kip_ft) for name, value in names.items()
    )
    parts = EffectParts(D, Z, Z, high, low, permit=most, permit_min=least)
    found = combine(sheet, parts, factors, name="M", unit=kip_ft)
    assert number(found.by_state["Strength II"][1]) == pytest.approx(-18)


def test_what_is_absent_says_why() -> None:
    sheet = Sheet("absent")
    state_absent(sheet)
    assert "prestressed concrete" in sheet.to_json()


def test_input_that_cannot_be_meant() -> None:
    with pytest.raises(UnknownNameError, match="gamma_XX"):
        load_factors(Sheet("a"), owner={"gamma_XX": 1.0})
    with pytest.raises(UnknownNameError, match="no factor of a combination"):
        load_factors(Sheet("b"), owner={"phi_f": 0.9})
    with pytest.raises(RangeError, match="owner"):
        load_factors(Sheet("c"), owner={"gamma_LL": float("nan")})
    with pytest.raises(RangeError, match="edition"):
        load_factors(Sheet("d"), edition="6th")
    sheet = Sheet("e")
    factors = load_factors(sheet)
    one = sheet.given("x", 1 * kip_ft)
    with pytest.raises(UnknownNameError, match="Service III"):
        combine(
            sheet, EffectParts(one, one, one, one, one), factors, name="M", unit=kip_ft,
            states=("Strength I", "Service III"),
        )  # fmt: skip
