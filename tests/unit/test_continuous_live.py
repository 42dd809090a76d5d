"""Cases of HL-93, separate maxima, what acts together, and HS20 on continuous girders."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from stepcalc import Sheet
from stepcalc.bridge.continuous.effects import COMBINED, GirderShares, continuous_effects
from stepcalc.bridge.continuous.live_cases import live_case_table
from stepcalc.bridge.continuous.spans import state_spans
from stepcalc.bridge.continuous.standard_effects import standard_effects
from stepcalc.errors import RangeError
from stepcalc.sheet.proofs import proof_of
from stepcalc.units import klf
from stepcalc.units.numbers import shown_text
from tests.unit.beam_second_method import FiniteElementBeam

LAYOUT = "EI: 1 to 0.72, 1.6; 1.6 to 0.22, 1 to 0.78, 1.6; 1.6 to 0.3, 1"


def number(node: Any) -> float:
    return float(getattr(node.value, "magnitude", node.value))


def written(spans: str, *, layout: str = "prismatic", g: float = 1.0, **more: Any) -> Any:
    sheet = Sheet("live")
    L = state_spans(sheet, spans, source="invented")
    w = [sheet.given(name, v * klf) for name, v in (("w1", 1.2), ("w2", 0.2), ("w3", 0.25))]
    share = sheet.given("g", g)
    count = len(L)
    found = continuous_effects(
        sheet, L, DC1=w[0], DC2=w[1], DW=w[2], layout=layout,
        shares=GirderShares([share] * count, [share] * (count - 1), share), **more,
    )  # fmt: skip
    return sheet, L, found


def test_separate_maxima_of_a_span_of_62_ft() -> None:
    """Own computation: 1.33 * 842.32 + 307.52 = 1427.81; at one section 1426.37; within 0.1 %.

    Dead load stands where the lane load's moment is largest: at midspan.
    """
    sheet, _, found = written("62", combined=COMBINED[1])
    span = found.positive[0]
    assert number(span.lane_max) == pytest.approx(1427.81, rel=1e-5)
    assert number(sheet["Moments at the sections that govern/M_one_s1"]) == pytest.approx(
        1426.37, rel=1e-5
    )
    assert number(span.fraction) == pytest.approx(0.5, abs=1e-6)
    assert number(span.DC1) == pytest.approx(1.2 * 62**2 / 8, rel=1e-9)
    # the envelope's section is that of the largest factored total, with dead load
    _, _, plain = written("62")
    assert 1425.5 < number(plain.positive[0].lane_max) < 1426.37


def test_separate_maxima_are_those_of_hl93() -> None:
    with pytest.raises(RangeError, match="separate maxima"):
        written("62", combined=COMBINED[1], load="Type 3")
    with pytest.raises(RangeError, match="combined maximum"):
        written("62", combined="both")


def test_own_two_spans_of_80_ft() -> None:
    """Own computation, constant EI: cases over the pier -1205.8 and -1691.2; within 0.2 %."""
    sheet, _, found = written("80, 80")
    live_case_table(sheet, found, tandems=True)
    key = "pier2"
    assert number(sheet[f"M_tr_{key}"]) == pytest.approx(-1205.8, rel=2e-3)
    assert number(sheet[f"M_2tr_{key}"]) == pytest.approx(-1691.2, rel=2e-3)
    assert number(found.negative[0].lane_min) == number(sheet[f"M_2tr_{key}"])
    # contraflexure of two equal spans: a quarter of the span from the pier
    assert number(sheet["x_l2"]) == pytest.approx(60.0, rel=1e-9)
    assert number(sheet["x_r2"]) == pytest.approx(100.0, rel=1e-9)


def test_two_tandems_by_a_plain_search() -> None:
    """Ordinates of two equal spans, -(L/4)(k - k^3), and the pair moved in steps of 0.1 ft."""
    sheet, _, found = written("80, 80")
    live_case_table(sheet, found, tandems=True)

    def ordinate(x: Any) -> Any:
        k = np.where(x <= 80, x, 160 - x) / 80
        return np.where((x >= 0) & (x <= 160), -20 * (k - k**3), 0.0)

    least = 0.0
    for clear in np.arange(26.0, 40.01, 0.5):
        x = np.arange(0.0, 160.0, 0.1)[:, None] + np.array([0.0, 4.0, 4.0 + clear, 8.0 + clear])
        least = min(least, float(np.min(25 * ordinate(x).sum(axis=1))))
    expected = 1.33 * least - 0.64 * 800
    assert number(sheet["M_2ta_pier2"]) == pytest.approx(expected, rel=1e-3)


def test_the_choice_with_two_tandems_governs_where_it_is_larger() -> None:
    _, _, plain = written("40, 40", load="HL-93")
    _, _, more = written("40, 40", load="HL-93 with two tandems")
    assert number(more.negative[0].lane_min) < number(plain.negative[0].lane_min)


def test_shear_with_the_largest_moment_by_finite_elements() -> None:
    """The governing axles and lane load once more, on elements of half a foot, within 0.5 %."""
    _, _, found = written("74, 98, 62", beside=True, proof="all")
    pier = found.negative[0]
    from stepcalc.analysis.beam import Beam
    from stepcalc.analysis.live_load_envelope import live_load_envelope

    beam = Beam((74.0, 98.0, 62.0))
    envelope = live_load_envelope(beam, sections=[74.0], effects=["moment"])["moment"]
    proof = envelope.proof(0, "min")
    nodes = np.linspace(0.0, 234.0, 469)
    other = FiniteElementBeam(nodes, np.ones_like, (0.0, 74.0, 172.0, 234.0))
    factor = proof.case.axle_factor
    load = np.zeros(other.basis.N)
    for axle in (axle for axle in proof.axles if axle.counted):
        left = int(axle.position * 2)
        share = axle.position * 2 - left
        load += other.load(
            [factor * axle.force * (1 - share), factor * axle.force * share],
            [float(nodes[left]), float(nodes[left + 1])],
        )
    for region in proof.lane:
        x = nodes[(nodes >= region.start) & (nodes <= region.end)]
        load += other.load(list(np.full(len(x), 0.9 * 0.64 * 0.5)), list(x))
    moved = other.solve(load)
    left_of = other.moment_shear(moved, 74.0)[1]
    reaction = float(other.reactions(moved, load)[1])
    larger = max((left_of, left_of + reaction), key=abs)
    assert number(pier.beside_min) == pytest.approx(larger, rel=1e-2)


def test_what_acts_together_is_proved_and_never_above_the_envelope() -> None:
    for layout in ("prismatic", LAYOUT):
        sheet, _, found = written("74, 98, 62", layout=layout, beside=True, proof="all")
        for node in sheet.steps:
            if getattr(node.entry, "proof", None) is not None:
                assert proof_of(node)[1] is None, node.path
        for section in found.shear:
            moments = [number(each.lane_max) for each in found.positive]
            assert number(section.beside_max) <= max(moments) * (1 + 1e-9)


@pytest.mark.parametrize("layout", ["prismatic", LAYOUT, "ends: fixed, pinned"])
@pytest.mark.parametrize("units", ["US", "SI"])
def test_statics_gives_what_ordinates_give(layout: str, units: str) -> None:
    """Reactions by the stiffness method and one side of the section, without influence lines."""
    sheet, _, _ = written("74, 98, 62", layout=layout, form="statics", proof="all", units=units)
    proved = [node for node in sheet.steps if "statics" in (getattr(node.entry, "proof", "") or "")]
    assert len(proved) == 22
    for node in proved:
        proof, warning = proof_of(node)
        assert warning is None, (node.path, warning)
        assert proof is not None
        total = next(step for step in proof.steps if step.name == "R")
        stated = float(total.entry.description.split("are ")[1].split(" ")[0].replace(",", ""))
        assert total.number == pytest.approx(stated, rel=1e-3)
    with pytest.raises(RangeError, match="'ordinates' or 'statics'"):
        written("62", form="by eye")


def test_standard_live_load_of_two_spans_of_80_ft() -> None:
    """Own: I = 50/205; lane -0.64 * 80^2/8 and two riding forces of 18 kip at 1/sqrt(3) L.

    Each rides at the least ordinate -(L/4)(1/sqrt 3 - 1/(3 sqrt 3)) = -0.096225 L.
    """
    sheet = Sheet("standard")
    L = state_spans(sheet, "80, 80", source="invented")
    wheel_lines = sheet.given("WL", 1.5)
    found = {each.words: each for each in standard_effects(sheet, L, wheel_lines=wheel_lines)}
    pier = found["pier 2"]
    lane = -0.64 * 80**2 / 8 - 2 * 18 * 0.0962250449 * 80
    assert number(pier.lane) == pytest.approx(lane, rel=1e-8)
    assert number(pier.impact) == pytest.approx(50 / 205, rel=1e-12)
    assert number(pier.girder) == pytest.approx(0.75 * (1 + 50 / 205) * lane, rel=1e-8)
    assert number(found["span 1"].length) == 80.0
    # the truck governs at 0.4 L: 937.78 of the own computation drops axles; HS20 keeps them
    assert number(found["span 1"].lane) == pytest.approx(937.78, rel=2e-2)
    for node in sheet.steps:
        if getattr(node.entry, "proof", None) is not None:
            assert proof_of(node)[1] is None, node.path


def test_a_simple_span_by_the_standard_specifications() -> None:
    """Published table of HS20 maxima, 60 ft: 806.5 k-ft (from memory); I = 50/185."""
    sheet = Sheet("simple")
    L = state_spans(sheet, "60", source="invented")
    found = standard_effects(sheet, L, wheel_lines=sheet.given("WL", 1.0), proof="none")
    assert number(found[0].lane) == pytest.approx(806.5, rel=1e-4)
    assert number(found[0].impact) == pytest.approx(50 / 185, rel=1e-12)


def test_short_spans_take_the_greatest_impact() -> None:
    sheet = Sheet("short")
    L = state_spans(sheet, "30, 30", source="invented")
    found = standard_effects(sheet, L, wheel_lines=sheet.given("WL", 1.0), proof="none")
    assert all(number(each.impact) == 0.30 for each in found)


def test_si_sheets_hold_the_same_results() -> None:
    """What is shown in SI is the same to 1e-9, and its proofs close."""
    _, _, us = written("74, 98, 62", layout=LAYOUT, beside=True)
    sheet, L, si = written("74, 98, 62", layout=LAYOUT, beside=True, units="SI")
    for name, node in us.extremes.items():
        assert si.extremes[name].base == pytest.approx(node.base, rel=1e-9)
        assert proof_of(si.extremes[name])[1] is None
    assert si.extremes["M_max"].number == pytest.approx(
        us.extremes["M_max"].number * 4.4482216152605 * 0.3048, rel=1e-9
    )
    for one, other in zip(us.reactions, si.reactions, strict=True):
        assert other.live_impact.base == pytest.approx(one.live_impact.base, rel=1e-9)
    live_case_table(sheet, si, units="SI")
    standard_effects(sheet, L, wheel_lines=sheet.given("WL", 1.0), units="SI")
    # tables and figures too: the extreme's own number stands in the table of tenth points
    proof = proof_of(si.extremes["M_max"])[0].to_json()
    assert f'"{shown_text(si.extremes["M_max"].number)}"' in proof
    shown = {node.info.text for node in sheet.steps}
    assert shown <= {"kN·m", "kN", "m", "", "ft"}
    with pytest.raises(RangeError, match="'US' or 'SI'"):
        written("62", units="metric")
