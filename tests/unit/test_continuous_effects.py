"""The procedure of a continuous girder: statics, shares, factors, tables and figures, bad input."""

from __future__ import annotations

import json
from typing import Any

import pytest

from stepcalc import Sheet
from stepcalc.bridge.continuous.effects import GirderShares, continuous_effects
from stepcalc.bridge.continuous.spans import effect_lengths, state_spans
from stepcalc.bridge.limit_states import load_factors
from stepcalc.errors import RangeError
from stepcalc.sheet.proofs import proof_of
from stepcalc.units import ft, klf

SPANS = (74.0, 98.0, 62.0)
G: dict[str, Any] = {"positive": (0.70, 0.65, 0.74), "negative": (0.68, 0.69), "shear": 0.86}


def number(node: Any) -> Any:
    return float(getattr(node.value, "magnitude", node.value))


def written(
    *, owner: Any = None, proof: Any = "governing", spans: Any = "74, 98, 62", shears: Any = None
) -> Any:
    sheet = Sheet("girder")
    L = state_spans(sheet, spans, source="invented")
    w = [
        sheet.given(name, value * klf)
        for name, value in (("w_DC1", 1.25), ("w_DC2", 0.18), ("w_DW", 0.22))
    ]
    count = len(L)
    positive = [sheet.given(f"g_p{i}", v) for i, v in enumerate(G["positive"][:count], 1)]
    negative = [sheet.given(f"g_n{i}", v) for i, v in enumerate(G["negative"][: count - 1], 1)]
    shares = GirderShares(positive, negative, sheet.given("g_s", G["shear"]))
    factors = None if owner is None else load_factors(sheet, owner=owner)
    found = continuous_effects(
        sheet, L, DC1=w[0], DC2=w[1], DW=w[2], shares=shares, factors=factors, proof=proof,
        shears=shears,
    )  # fmt: skip
    return sheet, found


@pytest.fixture(scope="module")
def girder() -> Any:
    return written()


def test_dead_load_reactions_carry_the_weight(girder: Any) -> None:
    _, found = girder
    for name, w in (("DC1", 1.25), ("DC2", 0.18), ("DW", 0.22)):
        total = sum(number(getattr(reaction, name)) for reaction in found.reactions)
        assert total == pytest.approx(w * sum(SPANS), rel=1e-9)


def test_moments_over_piers_by_three_moment_equations(girder: Any) -> None:
    """Own solution of the two equations: 2 M1 (a + b) + M2 b = -w (a^3 + b^3)/4, and so on."""
    _, found = girder
    a, b, c = SPANS
    one, two = -(a**3 + b**3) / 4, -(b**3 + c**3) / 4
    det = 4 * (a + b) * (b + c) - b * b
    M1, M2 = (2 * (b + c) * one - b * two) / det, (2 * (a + b) * two - b * one) / det
    assert number(found.negative[0].DC1) == pytest.approx(1.25 * M1, rel=1e-9)
    assert number(found.negative[1].DW) == pytest.approx(0.22 * M2, rel=1e-9)
    # shear at the left end: w a / 2 + M1 / a
    assert number(found.shear[0].DC1) == pytest.approx(1.25 * (a / 2 + M1 / a), rel=1e-9)


def test_every_effect_takes_its_own_share(girder: Any) -> None:
    _, found = girder
    for section, g in zip(found.positive, G["positive"], strict=True):
        assert number(section.live_max) == pytest.approx(g * number(section.lane_max))
    for section, g in zip(found.negative, G["negative"], strict=True):
        assert number(section.live_min) == pytest.approx(g * number(section.lane_min))
    for section in found.shear:
        assert number(section.live_min) == pytest.approx(G["shear"] * number(section.lane_min))


def test_the_extremes_are_those_of_the_sections(girder: Any) -> Any:
    _, found = girder

    def factored(part: Any, live: Any) -> Any:
        return 1.25 * (number(part.DC1) + number(part.DC2)) + 1.5 * number(part.DW) + 1.75 * live

    largest = max(factored(part, number(part.live_max)) for part in found.positive)
    assert number(found.extremes["M_max"]) == pytest.approx(largest, rel=1e-9)
    smallest = min(factored(part, number(part.live_min)) for part in found.negative)
    assert number(found.extremes["M_min"]) == pytest.approx(smallest, rel=1e-9)
    shears = [factored(part, number(part.live_max)) for part in found.shear]
    assert number(found.extremes["V_max"]) == pytest.approx(max(shears), rel=1e-9)


def test_reactions_without_and_with_impact(girder: Any) -> None:
    sheet, found = girder
    end = found.reactions[0]
    assert number(end.live_impact) == pytest.approx(number(found.shear[0].live_max), rel=1e-9)
    for reaction in found.reactions:
        assert number(reaction.live) < number(reaction.live_impact) < 1.33 * number(reaction.live)
        assert number(reaction.uplift) <= 0
    text = sheet.to_json()
    assert "Reactions of one girder, unfactored" in text


def test_figures_are_labelled_with_the_numbers_of_the_table(girder: Any) -> None:
    _, found = girder
    for name in ("M_max", "V_max"):
        proof, warning = proof_of(found.extremes[name])
        assert warning is None
        stored = json.loads(proof.to_json())
        cells = {cell for row in _tables(stored) for cell in row if isinstance(cell, str)}
        marks = [mark["label"] for figure in _figures(stored) for mark in figure["marks"]]
        assert len(marks) == 4
        assert set(marks) <= cells


def _walk(tree: Any) -> Any:
    if isinstance(tree, dict):
        yield tree
        for value in tree.values():
            yield from _walk(value)
    elif isinstance(tree, list):
        for value in tree:
            yield from _walk(value)


def _figures(tree: Any) -> Any:
    return [item for item in _walk(tree) if item.get("kind") == "curves"]


def _tables(tree: Any) -> Any:
    return [row for item in _walk(tree) for row in item.get("table", ())]


def test_all_follows_when_a_span_changes(girder: Any) -> None:
    sheet, _ = girder
    changed = sheet.revise(L_2=110 * ft)
    _, fresh = written(spans="74, 110, 62")
    for name in ("M_max", "M_min", "V_max", "V_min"):
        path = f"Moment and shear along the girder/{name}"
        assert changed[path].base == pytest.approx(fresh.extremes[name].base, rel=1e-9)


def test_owners_factors_reach_the_envelope() -> None:
    _, plain = written(proof="none")
    _, more = written(owner={"gamma_LL": 2.0, "eta_I": 1.05}, proof="none")
    part = plain.negative[0]
    expected = 1.05 * (
        1.25 * (number(part.DC1) + number(part.DC2))
        + 1.5 * number(part.DW)
        + 2.0 * number(part.live_min)
    )
    assert number(more.extremes["M_min"]) == pytest.approx(expected, rel=1e-9)


def test_one_span_and_chosen_shears() -> None:
    _, found = written(spans="62", shears=[(1, 0)])
    assert len(found.shear) == 1
    assert found.negative == ()
    x = 62 * number(found.positive[0].fraction)
    assert number(found.positive[0].DC1) == pytest.approx(1.25 * x * (62 - x) / 2, rel=1e-9)
    # own computation: HL-93 on 62 ft, 1426.37 k-ft combined at one section, tolerance 0.2 %
    assert number(found.positive[0].lane_max) == pytest.approx(1426.37, rel=2e-3)


def test_lengths_by_effect() -> None:
    sheet = Sheet("lengths")
    found = effect_lengths(sheet, state_spans(sheet, SPANS, source="invented"))
    assert [number(L) for L in found.negative] == [86.0, 80.0]
    assert [number(L) for L in found.reaction] == [74.0, 86.0, 80.0, 62.0]


def test_input_that_cannot_be_meant() -> None:
    sheet = Sheet("wrong")
    L = state_spans(sheet, "50, 60", source="invented")
    w = sheet.given("w", 1 * klf)
    g = sheet.given("g", 0.7)
    with pytest.raises(RangeError, match="do not fit 2 spans"):
        continuous_effects(sheet, L, DC1=w, DC2=w, DW=w, shares=GirderShares([g], [g], g))
    with pytest.raises(RangeError, match="proof"):
        continuous_effects(
            sheet, L, DC1=w, DC2=w, DW=w, shares=GirderShares([g, g], [g], g), proof="some"
        )
    with pytest.raises(RangeError, match="no shear"):
        continuous_effects(
            sheet, L, DC1=w, DC2=w, DW=w, shares=GirderShares([g, g], [g], g), shears=[(3, 0)]
        )
    with pytest.raises(RangeError, match="span 2 is 0"):
        state_spans(Sheet("zero"), "50, 0", source="invented")
    assert not [node for node in sheet.steps if node.name != "g"]
