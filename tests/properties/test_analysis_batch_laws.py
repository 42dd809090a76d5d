"""Laws of beams solved together: each is what it is alone, and obeys what every beam obeys."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from stepcalc.analysis.batch_lines import lines_of
from stepcalc.analysis.batch_values import live_values, ordinate_values, uniform_values
from stepcalc.analysis.beam_batch import SolvedBeams, solved_batch
from stepcalc.analysis.influence_lines import Effect, influence_line
from stepcalc.analysis.live_load_envelope import live_load_envelope
from stepcalc.analysis.load_case import fatigue_cases, hl93_cases, standard_cases, vehicle_case
from stepcalc.analysis.vehicles import vehicle
from stepcalc.bridge.continuous.layout import batch_of, beam_of
from stepcalc.errors import UndefinedError

ROWS = 4
EFFECTS: tuple[Effect, ...] = ("moment", "shear", "reaction", "deflection")
shares = st.floats(0.02, 0.98)


@dataclass
class Many:
    """Some beams of one layout, solved together, and one place in each."""

    spans: np.ndarray
    layout: str
    model: SolvedBeams
    beams: np.ndarray
    x: np.ndarray
    faces: np.ndarray


@st.composite
def batches(draw: st.DrawFn, layouts: tuple[str, ...] = ("plain", "ends", "steps")) -> Many:
    """Draw one to five spans, four beams of them, ends and steps of EI, and a section."""
    count = draw(st.integers(1, 5))
    each = st.lists(st.floats(25.0, 140.0), min_size=count, max_size=count)
    spans = np.array(draw(st.lists(each, min_size=ROWS, max_size=ROWS)))
    parts = []
    kinds = draw(st.sets(st.sampled_from(layouts)))
    if "ends" in kinds:
        ends = [draw(st.sampled_from(["pinned", "fixed", "free"])) for _ in range(2)]
        if count + 1 - ends.count("free") >= 2 or "fixed" in ends:
            parts.append(f"ends: {ends[0]}, {ends[1]}")
    if "steps" in kinds:
        groups = [f"{draw(st.floats(0.4, 3))} to {draw(shares)}, 1" for _ in range(count)]
        parts.append("EI: " + "; ".join(groups))
    layout = " | ".join(parts) or "prismatic"
    try:
        model = solved_batch(batch_of(spans, layout))
    except UndefinedError:
        layout, model = "prismatic", solved_batch(batch_of(spans))
    joints = model.batch.joints
    span, share = draw(st.integers(0, count - 1)), draw(shares)
    x = joints[:, span] + share * (joints[:, span + 1] - joints[:, span])
    return Many(spans, layout, model, np.arange(ROWS), x, np.ones(ROWS, dtype=np.int64))


def beam_at(many: Many, row: int) -> Any:
    return beam_of(tuple(many.spans[row].tolist()), many.layout)


@given(batches(), shares, st.sampled_from(EFFECTS))
def test_each_line_is_that_of_the_beam_alone(many: Many, share: float, effect: Effect) -> None:
    sections = many.model.batch.supports[:, 0] if effect == "reaction" else many.x
    lines = lines_of(many.model, effect, many.beams, sections, many.faces)
    for row in range(ROWS):
        alone = influence_line(beam_at(many, row), effect, float(sections[row]))
        x = share * many.model.batch.length[row]
        size = float(np.max(np.abs(alone.coefficients[:, 0]))) or 1.0
        np.testing.assert_allclose(lines.line(row)(x), alone(x), rtol=1e-11, atol=1e-11 * size)


@given(batches(), shares)
def test_maxwell(many: Many, share: float) -> None:
    other = share * many.model.batch.length
    sides = np.ones(ROWS, dtype=np.int64)
    there, back = (
        ordinate_values(many.model, "deflection", at, many.faces, many.beams, (to, sides))
        for at, to in ((many.x, other), (other, many.x))
    )
    size = ordinate_values(
        many.model, "deflection", many.x, many.faces, many.beams, (many.x, sides)
    )
    np.testing.assert_allclose(there, back, rtol=1e-7, atol=1e-9 * float(np.max(np.abs(size))))


@given(batches(layouts=("plain", "steps")), shares)
def test_equilibrium(many: Many, share: float) -> None:
    """On pinned supports a unit load at x: the reactions sum to 1, and their moments to x."""
    x, supports = share * many.model.batch.length, many.model.batch.supports
    side = np.ones(ROWS, dtype=np.int64)
    found = np.array([
        ordinate_values(many.model, "reaction", supports[:, i], many.faces, many.beams, (x, side))
        for i in range(supports.shape[1])
    ])  # fmt: skip
    np.testing.assert_allclose(found.sum(axis=0), 1.0, rtol=1e-9)
    np.testing.assert_allclose((found.T * supports).sum(axis=1), x, rtol=1e-8, atol=1e-8)


@given(batches(layouts=("plain",)), shares, st.sampled_from(["moment", "shear", "deflection"]))
def test_mirrored_beams_have_mirrored_lines(many: Many, share: float, effect: Effect) -> None:
    turned = solved_batch(batch_of(many.spans[:, ::-1]))
    length, side = many.model.batch.length, np.ones(ROWS, dtype=np.int64)
    x = share * length
    one = ordinate_values(many.model, effect, many.x, many.faces, many.beams, (x, side))
    other = ordinate_values(
        turned, effect, length - many.x, -many.faces, many.beams, (length - x, -side)
    )
    sign = -1.0 if effect == "shear" else 1.0
    size = float(np.max(np.abs(one))) + 1e-12
    np.testing.assert_allclose(one, sign * other, rtol=1e-7, atol=1e-7 * size)


@given(batches(layouts=("plain", "ends")), st.floats(0.2, 5.0))
def test_longer_in_all_spans_scales(many: Many, times: float) -> None:
    longer = solved_batch(batch_of(times * many.spans, many.layout))
    for effect, power in (("moment", 2), ("shear", 1)):
        one, other = (
            uniform_values(model, effect, x, many.faces, many.beams)  # type: ignore[arg-type]
            for model, x in ((many.model, many.x), (longer, times * many.x))
        )
        size = np.max(many.spans, axis=1) ** power
        np.testing.assert_allclose(other / times**power / size, one / size, atol=1e-9)


@given(batches(), st.sampled_from([1, -1]), st.sampled_from(["HL-93", "HS20", "fatigue"]))
@settings(max_examples=30)
def test_live_load_is_that_of_each_beam_alone(many: Many, sign: int, name: str) -> None:
    cases = {
        "HL-93": hl93_cases(),
        "HS20": standard_cases("HS20", impact=0.2),
        "fatigue": fatigue_cases(),
    }[name]
    supports = many.model.batch.supports
    for effect in EFFECTS[:3]:
        sections = supports[:, -1] if effect == "reaction" else many.x
        found = live_values(many.model, cases, effect, sections, many.faces, many.beams, sign=sign)
        for row in range(ROWS):
            at = None if effect == "reaction" else [float(sections[row])]
            alone = live_load_envelope(beam_at(many, row), cases, sections=at, effects=[effect])
            values = alone[effect].maximum if sign > 0 else alone[effect].minimum
            np.testing.assert_allclose(found[row], values[-1], rtol=1e-10, atol=1e-9)


@given(batches(), st.permutations(range(ROWS)))
@settings(max_examples=20)
def test_the_company_of_other_beams_changes_nothing(many: Many, order: list[int]) -> None:
    cases, index = hl93_cases(), np.array(order)
    mixed = solved_batch(batch_of(many.spans[index], many.layout))
    one = live_values(many.model, cases, "moment", many.x, many.faces, many.beams, sign=1)
    other = live_values(mixed, cases, "moment", many.x[index], many.faces, many.beams, sign=1)
    np.testing.assert_allclose(other, one[index], rtol=1e-12, atol=1e-12)


@given(
    st.lists(st.tuples(st.floats(20.0, 200.0), st.floats(20.0, 200.0)), min_size=3, max_size=9),
    st.sampled_from(["HL-93", "HS20", "fatigue", "legal"]),
)
@settings(max_examples=40)
def test_round_off_is_no_moment(pairs: list[tuple[float, float]], name: str) -> None:
    """Two spans never sag over their pier, and no span has a moment at its end: exactly 0."""
    cases = {
        "HL-93": hl93_cases(),
        "HS20": standard_cases("HS20", impact=0.2),
        "fatigue": fatigue_cases(),
        "legal": (vehicle_case(vehicle("Type 3S2")),),
    }[name]
    spans = np.array(pairs)
    model = solved_batch(batch_of(spans))
    beams, faces = np.arange(len(spans)), np.ones(len(spans), dtype=np.int64)
    joints = model.batch.joints
    assert np.all(live_values(model, cases, "moment", joints[:, 1], faces, beams, sign=1) == 0)
    assert np.all(live_values(model, cases, "moment", joints[:, 1], faces, beams, sign=-1) < -1)
    for end in (0, 2):
        for sign in (1, -1):
            found = live_values(model, cases, "moment", joints[:, end], faces, beams, sign=sign)
            assert np.all(found == 0)
