"""Stages of dead load and settlement: by finite elements, by closed forms, proofs, bad input."""

from __future__ import annotations

from itertools import accumulate
from typing import Any

import numpy as np
import pytest

from stepcalc import Sheet
from stepcalc.bridge.continuous.effects import GirderShares, continuous_effects
from stepcalc.bridge.continuous.line_kernels import span_inputs
from stepcalc.bridge.continuous.spans import state_spans
from stepcalc.bridge.continuous.stage_kernels import stage_kernels
from stepcalc.bridge.continuous.stage_loads import read_settlements, stage_loads
from stepcalc.bridge.continuous.stages import DeadStage, Settlement, state_stiffness
from stepcalc.errors import RangeError
from stepcalc.sheet.proofs import proof_of
from stepcalc.units import ft, inch, kip, kip_ft, klf
from tests.unit.beam_second_method import FiniteElementBeam

SPANS = (72.0, 96.0, 60.0)
STEEL = "EI: 1 to 0.75, 2; 2 to 0.25, 1 to 0.75, 2; 2 to 0.3, 1"
LONG = "EI: 1 to 0.75, 1.5; 1.5 to 0.25, 1 to 0.75, 1.5; 1.5 to 0.3, 1"
PARTIAL = "from 1.0 to 1.7; from 3.1 to 4.0"
SETTLED = "0.5 in at support 2; 0.2 in at support 3"
LOADS = "all spans; 6 kip at 2.5; 0.1 to 0.3 klf from 1.25 to 2.25; 0.2 klf from 12 ft to 48 ft"


def number(node: Any) -> float:
    return float(getattr(node.value, "magnitude", node.value))


def staged(effect: str, place: str, fraction: float, *, layout: str, loads: str) -> float:
    inputs = span_inputs(SPANS) | {
        "layout": layout, "place": place, "fraction": fraction, "load": 1.3, "loads": loads,
    }  # fmt: skip
    return float(stage_kernels(3).loads[effect].function(**inputs))


def second_method(layout_of_spans: Any) -> FiniteElementBeam:
    """Return the girder by general finite elements on half-foot elements."""
    starts = tuple(accumulate(SPANS, initial=0.0))

    def rigidity(x: Any) -> Any:
        found = np.ones_like(x)
        for start, end, value in layout_of_spans:
            found = np.where((x >= start) & (x < end), value, found)
        return found

    nodes = np.linspace(0.0, starts[-1], int(2 * starts[-1]) + 1)
    return FiniteElementBeam(nodes, rigidity, starts)


def distributed(beam: FiniteElementBeam, ends: tuple[float, float], sizes: Any) -> Any:
    """Return the load vector of a linear load by equal forces at closely spaced nodes."""
    inside = (beam.nodes >= ends[0]) & (beam.nodes <= ends[1])
    x = beam.nodes[inside]
    w = np.interp(x, ends, sizes)
    share = np.full(len(x), 0.5)
    share[[0, -1]] = 0.25
    return beam.load(list(w * share), list(x))


@pytest.mark.parametrize(
    ("place", "fraction", "x"), [("1", 0.4, 29.0), ("1", 1.0, 72.0), ("2", 0.5, 120.0)]
)
def test_a_stage_by_finite_elements(place: str, fraction: float, x: float) -> None:
    """Half-foot elements with lumped loads: within 0.1 %."""
    zones = [(54.0, 96.0, 2.0), (144.0, 186.0, 2.0)]
    beam = second_method(zones)
    load = distributed(beam, (0.0, 228.0), (1.3, 1.3)) + beam.load([6.0], [120.0])
    load = (
        load
        + distributed(beam, (18.0, 96.0), (0.1, 0.3))
        + distributed(beam, (12.0, 48.0), (0.2, 0.2))
    )
    moved = beam.solve(load)
    fraction = fraction if place != "1" or fraction == 1.0 else x / 72.0
    found = staged("moment", place, fraction, layout=STEEL, loads=LOADS)
    assert found == pytest.approx(beam.moment_shear(moved, x)[0], rel=2e-3)


def test_reactions_carry_all_loads() -> None:
    """Own sum: 1.3 * 228 + 6 + 0.2 * 78 + 0.2 * 36 = 325.2 kip."""
    total = sum(staged("reaction", str(i), 0.0, layout=STEEL, loads=LOADS) for i in (1, 2, 3, 4))
    assert total == pytest.approx(1.3 * 228 + 6 + 0.2 * 78 + 0.2 * 36, rel=1e-9)


def test_settlement_of_the_middle_of_two_equal_spans() -> None:
    """Closed form: M = 3 EI d / L^2 over the pier, here 3 * 4e6 * 0.05 / 80^2 = 93.75 k-ft."""
    inputs = {
        "span_1": 80.0, "span_2": 80.0, "layout": "prismatic", "place": "1", "fraction": 1.0,
        "settlements": "0.6 in at support 2", "rigidity": 4e6,
    }  # fmt: skip
    found = stage_kernels(2).settlement["moment"].function(**inputs)
    assert found == pytest.approx(3 * 4e6 * 0.05 / 80**2, rel=1e-9)


@pytest.mark.parametrize("effect", ["moment", "shear", "reaction"])
@pytest.mark.parametrize(("place", "fraction"), [("1", 0.4), ("2", 0.0), ("2", 0.31), ("3", 1.0)])
@pytest.mark.parametrize("units", ["", ", SI"])
def test_proofs_end_in_the_value(effect: str, place: str, fraction: float, units: str) -> None:
    sheet = Sheet("stages")
    L = [sheet.given(f"L_{i}", v * ft) for i, v in enumerate(SPANS, 1)]
    w = sheet.given("w", 1.3 * klf)
    base = span_inputs(L) | {"layout": STEEL, "place": place, "fraction": fraction}
    unit = kip_ft if effect == "moment" else kip
    for name, kernel, more in (
        ("A", stage_kernels(3).loads[effect], {"load": w, "loads": LOADS}),
        ("B", stage_kernels(3).loads[effect], {"load": w, "loads": PARTIAL}),
        ("C", stage_kernels(3).settlement[effect],
         {"settlements": SETTLED, "rigidity": 4e6 * kip * ft**2}),
    ):  # fmt: skip
        proof = ("statics" if name == "C" else "ordinates") + units
        node = sheet.computed(name, kernel, base | more, unit, proof=proof)
        shown, warning = proof_of(node)
        assert warning is None
        assert shown.steps[-1].base == pytest.approx(node.base, rel=1e-9, abs=1e-12)


def written(**more: Any) -> Any:
    sheet = Sheet("girder")
    L = state_spans(sheet, SPANS, source="invented")
    w = {name: sheet.given(name, v * klf) for name, v in (("w1", 1.25), ("w2", 0.18), ("w3", 0.22))}
    g = sheet.given("g", 0.7)
    stages = {
        "DC1": DeadStage(w["w1"], STEEL, LOADS), "DC2": DeadStage(w["w2"], LONG),
        "DW": w["w3"],
    }  # fmt: skip
    EI = sheet.given("EI", 4e6 * kip * ft**2)
    found = continuous_effects(
        sheet, L, **stages, shares=GirderShares([g] * 3, [g] * 2, g),
        settlement=Settlement("0.5 in at support 2", EI), shears=[(1, 0), (2, 0)], **more,
    )  # fmt: skip
    return sheet, found


@pytest.fixture(scope="module")
def girder() -> Any:
    return written()


def test_every_stage_has_its_own_stiffness_and_loads(girder: Any) -> None:
    _, found = girder
    pier = found.negative[0]
    both = staged("moment", "1", 1.0, layout=STEEL, loads=LOADS)
    uniform = staged("moment", "1", 1.0, layout=STEEL, loads="all spans")
    assert number(pier.DC1) == pytest.approx(both - 0.05 / 1.3 * uniform, rel=1e-9)
    assert number(pier.DC2) == pytest.approx(
        0.18 / 1.3 * staged("moment", "1", 1.0, layout=LONG, loads="all spans"), rel=1e-9
    )
    assert number(pier.DW) == pytest.approx(
        0.22 / 1.3 * staged("moment", "1", 1.0, layout="prismatic", loads="all spans"), rel=1e-9
    )


def test_the_envelope_adds_stages_and_settlement_where_it_is_worse(girder: Any) -> None:
    """Positive moment: settlement of the pier sags the girder there, so it counts; over it, not."""
    _, found = girder
    best = max(
        1.25 * (number(s.DC1) + number(s.DC2)) + 1.5 * number(s.DW)
        + 1.0 * max(number(s.SE), 0.0) + 1.75 * number(s.live_max)
        for s in found.positive
    )  # fmt: skip
    assert number(found.extremes["M_max"]) == pytest.approx(best, rel=1e-9)
    worst = min(
        1.25 * (number(s.DC1) + number(s.DC2)) + 1.5 * number(s.DW)
        + 1.0 * min(number(s.SE), 0.0) + 1.75 * number(s.live_min)
        for s in found.negative
    )  # fmt: skip
    assert number(found.extremes["M_min"]) == pytest.approx(worst, rel=1e-9)
    for name in ("M_max", "V_max"):
        assert proof_of(found.extremes[name])[1] is None


def test_stiffness_from_inertias_warns_when_they_change() -> None:
    sheet = Sheet("stiffness")
    L = state_spans(sheet, SPANS, source="invented")
    one = sheet.given("I_1", 20000 * inch**4)
    two = sheet.given("I_2", 40000 * inch**4)
    zones = "1 to 0.75, 2; 2 to 0.25, 1 to 0.75, 2; 2 to 0.3, 1"
    layouts = state_stiffness(sheet, L, zones, {"steel": [one, two]})
    expected = staged("moment", "1", 1.0, layout=STEEL, loads="all spans")
    assert staged("moment", "1", 1.0, layout=layouts["steel"], loads="all spans") == expected
    assert not sheet.warnings
    assert sheet.revise(I_2=41000 * inch**4).warnings


@pytest.mark.parametrize(
    "text",
    ["", "2 kips at 2.5", "0.1 klf from 2.5 to 2.1", "5 kip at 4.5", "from 1.2", "3 kip at 999 ft"],
)
def test_loads_that_cannot_be_read(text: str) -> None:
    with pytest.raises(RangeError):
        stage_loads(text, SPANS)


@pytest.mark.parametrize(
    "text", ["", "0.5 in", "0.5 in at support 9", "1 in at support 2; 2 in at support 2"]
)
def test_settlements_that_cannot_be_read(text: str) -> None:
    with pytest.raises(RangeError):
        read_settlements(text, 4)


def test_simple_for_dead_load_and_continuous_for_live_load() -> None:
    """Hinges at the piers for DC1: w L^2/8 at midspan, nothing over the pier."""
    sheet = Sheet("made continuous")
    L = state_spans(sheet, "60, 80", source="invented")
    w, g = sheet.given("w", 1.2 * klf), sheet.given("g", 0.7)
    found = continuous_effects(
        sheet, L, DC1=DeadStage(w, "hinges: 2.0"), DC2=w, DW=w,
        shares=GirderShares([g, g], [g], g),
    )  # fmt: skip
    assert number(found.negative[0].DC1) == 0.0
    assert number(found.negative[0].DC2) == pytest.approx(
        -1.2 * (60**3 + 80**3) / 8 / 140, rel=1e-9
    )
    assert number(found.reactions[0].DC1) == pytest.approx(1.2 * 30, rel=1e-9)
    assert number(found.negative[0].lane_min) < 0


def test_a_stiffness_that_runs_straight() -> None:
    """EI from 1 to 3 over span 1: by finite elements with that law."""
    inputs = {
        "span_1": 60.0, "span_2": 60.0, "layout": "EI: 1..3; 3..1", "place": "1", "fraction": 1.0,
        "load": 1.0, "loads": "all spans",
    }  # fmt: skip
    found = stage_kernels(2).loads["moment"].function(**inputs)
    nodes = np.linspace(0.0, 120.0, 481)
    beam = FiniteElementBeam(nodes, lambda x: 3 - np.abs(x - 60) / 30, (0.0, 60.0, 120.0))
    moved = beam.solve(beam.load([0.25] * 479, [float(x) for x in nodes[1:-1]]))
    reactions = beam.reactions(moved, beam.load([0.25] * 479, [float(x) for x in nodes[1:-1]]))
    by_statics = (reactions[0] + 0.125) * 60 - 1.0 * 60**2 / 2
    assert found == pytest.approx(by_statics, rel=1e-3)


def test_a_wrong_stage_is_refused_before_anything_is_written() -> None:
    with pytest.raises(RangeError, match="load of a stage"):
        written_wrong("nonsense")
    sheet = Sheet("zones")
    L = state_spans(sheet, (50, 60), source="invented")
    inertia = sheet.given("I_1", 1000 * inch**4)
    with pytest.raises(RangeError, match="section '3'"):
        state_stiffness(sheet, L, "3; 1", {"steel": [inertia, inertia]})


def written_wrong(loads: str) -> None:
    sheet = Sheet("wrong")
    L = state_spans(sheet, "50, 60", source="invented")
    w, g = sheet.given("w", 1 * klf), sheet.given("g", 0.7)
    continuous_effects(
        sheet, L, DC1=DeadStage(w, None, loads), DC2=w, DW=w, shares=GirderShares([g, g], [g], g)
    )
