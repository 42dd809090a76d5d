"""Limit states of a continuous girder: each by its own arithmetic, which governs, uplift."""

from __future__ import annotations

from typing import Any

import pytest

from stepcalc import Sheet
from stepcalc.bridge.continuous.combinations import (
    GirderState,
    girder_combinations,
    uplift_combinations,
)
from stepcalc.bridge.continuous.effects import GirderShares, continuous_effects
from stepcalc.bridge.continuous.spans import state_spans
from stepcalc.bridge.limit_states import load_factors
from stepcalc.errors import RangeError
from stepcalc.render.build import sheet_data
from stepcalc.units import kip_ft, klf


def number(node: Any) -> float:
    return float(getattr(node.value, "magnitude", node.value))


def combined(*, spans: str = "74, 98, 62", dead: float = 1.25, owner: Any = None) -> Any:
    sheet = Sheet("girder")
    L = state_spans(sheet, spans, source="invented")
    w = [sheet.given(n, v * klf) for n, v in (("w1", dead), ("w2", 0.18), ("w3", 0.22))]
    g, gf = sheet.given("g", 0.7), sheet.given("g_f", 0.42)
    factors = load_factors(sheet, owner=owner)
    with sheet.part("Effects"):
        found = continuous_effects(
            sheet, L, DC1=w[0], DC2=w[1], DW=w[2], factors=factors,
            shares=GirderShares([g] * len(L), [g] * (len(L) - 1), g), shears=[(1, 0), (1, 1)],
        )  # fmt: skip
    dead_load = sheet.given("M_wet", 500 * kip_ft)
    live_load = sheet.given("M_C", 40 * kip_ft)
    states = [
        GirderState(found.positive[0], "moment", largest=True, fatigue=gf,
                    pour=(dead_load, live_load)),
        GirderState(found.negative[0], "moment", largest=False, fatigue=gf),
        GirderState(found.shear[1], "shear", largest=False),
        GirderState(found.positive[0], "moment", largest=False),
    ]  # fmt: skip
    with sheet.part("Combinations"):
        made = girder_combinations(sheet, found, states, factors)
        least = uplift_combinations(sheet, found, factors)
    return sheet, found, made, least


@pytest.fixture(scope="module")
def girder() -> Any:
    return combined()


def test_every_state_of_positive_moment(girder: Any) -> None:
    """1.25, 1.50, 1.75 and so on by hand from the unfactored parts."""
    _, found, made, _ = girder
    at, states = found.positive[0], made[0].by_state
    D, W, L = number(at.DC1) + number(at.DC2), number(at.DW), number(at.live_max)
    expected = {
        "Strength I": 1.25 * D + 1.5 * W + 1.75 * L,
        "Strength II": 1.25 * D + 1.5 * W + 1.35 * L,
        "Strength III": 1.25 * D + 1.5 * W,
        "Strength IV": 1.5 * D + 1.5 * W,
        "Strength V": 1.25 * D + 1.5 * W + 1.35 * L,
        "Service I": D + W + L,
        "Service II": D + W + 1.3 * L,
        "pour, 1.25 D + 1.5 C": 1.25 * 500 + 1.5 * 40,
        "pour, 1.4 (D + C)": 1.4 * 540,
    }
    for name, value in expected.items():
        assert number(states[name]) == pytest.approx(value, rel=1e-9), name
    span = number(states["fatigue truck, max"]) - number(states["fatigue truck, min"])
    assert number(states["Fatigue I"]) == pytest.approx(1.75 * 0.42 * span, rel=1e-9)
    assert number(states["Fatigue II"]) == pytest.approx(0.80 * 0.42 * span, rel=1e-9)
    assert number(made[0].strength) == pytest.approx(expected["Strength I"], rel=1e-9)
    assert made[0].strength.branch == "Strength I governs"


def test_negative_moment_takes_the_worse_factor_for_its_sign(girder: Any) -> None:
    _, found, made, _ = girder
    at = found.negative[0]
    D, W, L = number(at.DC1) + number(at.DC2), number(at.DW), number(at.live_min)
    assert number(made[1].strength) == pytest.approx(1.25 * D + 1.5 * W + 1.75 * L, rel=1e-9)
    assert number(found.extremes["M_min"]) == pytest.approx(number(made[1].strength), rel=1e-9)


def test_strength_four_governs_under_heavy_dead_load() -> None:
    _, _, made, _ = combined(dead=14.0)
    assert made[1].strength.branch == "Strength IV governs"
    assert number(made[1].strength) == number(made[1].by_state["Strength IV"])


def test_modifiers_reach_every_strength_state() -> None:
    _, found, made, least = combined(owner={"eta_I": 1.05})
    at = found.positive[0]
    D, W, L = number(at.DC1) + number(at.DC2), number(at.DW), number(at.live_max)
    assert number(made[0].by_state["Strength IV"]) == pytest.approx(1.05 * 1.5 * (D + W), rel=1e-9)
    assert number(made[0].strength) == pytest.approx(
        1.05 * (1.25 * D + 1.5 * W + 1.75 * L), rel=1e-9
    )
    # the smallest value at a section that dead load sags takes the least factors and 1 / eta
    low = (0.9 * D + 0.65 * W) / 1.05 + 1.05 * 1.75 * number(at.live_min)
    assert number(made[3].strength) == pytest.approx(low, rel=1e-9)
    R = found.reactions[0]
    low = (0.9 * (number(R.DC1) + number(R.DC2)) + 0.65 * number(R.DW)) / 1.05
    assert number(least[0]) == pytest.approx(low + 1.05 * 1.75 * number(R.uplift), rel=1e-9)


def test_a_short_end_span_lifts_off() -> None:
    """Ratio 3 to 1: by judgement the short end lifts; the sheet shows a value below zero."""
    _, _, _, least = combined(spans="30, 100, 80")
    assert number(least[0]) < 0


def test_the_table_stands_for_the_lines_and_strength_one_prints(girder: Any) -> None:
    sheet, *_ = girder
    blocks = sheet_data(sheet)["blocks"]
    start = next(i for i, b in enumerate(blocks) if b.get("text") == "Combinations")
    printed = [b["path"] if "path" in b else b["kind"] for b in blocks[start:]]
    steps = [b for b in blocks[start:] if b["kind"] == "step"]
    assert len(steps) == 6, printed  # permanent loads and Strength I, three kinds of effect
    tables = [b for b in blocks[start:] if b["kind"] == "table"]
    first = [row[0] for row in tables[0]["rows"]]
    assert first[:7] == [
        "permanent, strength", "Strength I", "Strength II", "Strength III", "Strength IV",
        "Strength V", "strength",
    ]  # fmt: skip


def test_effects_of_another_kind_are_refused(girder: Any) -> None:
    _, found, _, _ = girder
    sheet = Sheet("wrong")
    factors = load_factors(sheet)
    with pytest.raises(RangeError, match="'moment' or 'shear'"):
        girder_combinations(sheet, found, [], factors)
