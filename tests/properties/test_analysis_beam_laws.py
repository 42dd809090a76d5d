"""Laws that every beam obeys, whatever its spans, rigidity and loads."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stepcalc.analysis.beam import Beam, Segment
from stepcalc.analysis.beam_loads import Concentrated, Distributed, Load
from stepcalc.analysis.beam_response import response
from stepcalc.analysis.influence_lines import Effect, influence_line, influence_lines
from stepcalc.analysis.line_signs import positive_part
from stepcalc.analysis.live_load_envelope import live_load_envelope
from stepcalc.analysis.load_case import LoadCase, hl93_cases
from stepcalc.analysis.train_placement import Halves, ordinates_at, place, place_rigid
from stepcalc.analysis.vehicles import Vehicle

lengths = st.floats(15.0, 160.0)
shares = st.floats(0.02, 0.98)


@st.composite
def beams(draw: st.DrawFn) -> Beam:
    """Draw one to five spans with steps of EI, and any ends that hold the beam."""
    spans = draw(st.lists(lengths, min_size=1, max_size=5))
    ends = (
        draw(st.sampled_from(["pinned", "fixed", "free"])),
        draw(st.sampled_from(["pinned", "fixed", "free"])),
    )
    supports = len(spans) + 1 - ends.count("free")
    if supports < 2 and "fixed" not in ends:
        ends = ("pinned", "pinned")
    length = sum(spans)
    cuts = sorted(draw(st.sets(st.integers(1, 19), max_size=3)))
    places = [0.0, *(length * cut / 20 for cut in cuts), length]
    laws = draw(st.lists(st.floats(0.3, 3.0), min_size=len(places) - 1, max_size=len(places) - 1))
    parts = tuple(
        Segment(a, b, law * 1e5) for a, b, law in zip(places[:-1], places[1:], laws, strict=True)
    )
    return Beam(tuple(spans), parts, ends=ends)  # type: ignore[arg-type]


@given(beams(), shares, shares)
def test_maxwell(beam: Beam, one: float, other: float) -> None:
    a, b = one * beam.length, other * beam.length
    there = float(influence_line(beam, "deflection", a)(b))
    back = float(influence_line(beam, "deflection", b)(a))
    scale = float(influence_line(beam, "deflection", a)(a))
    assert there == pytest.approx(back, rel=1e-7, abs=1e-9 * abs(scale) + 1e-15)


@given(beams(), shares, st.floats(1.0, 50.0))
def test_the_whole_beam_is_in_equilibrium(beam: Beam, share: float, force: float) -> None:
    at = share * beam.length
    found = response(beam, Concentrated(at, force))
    assert found.reactions.sum() == pytest.approx(force, rel=1e-8)
    ends = [0.0, 0.0]
    if beam.ends[0] == "fixed":
        ends[0] = float(found.moment(0.0))
    if beam.ends[1] == "fixed":
        ends[1] = float(found.moment(beam.length))
    about_left = float(found.reactions @ np.asarray(beam.supports)) - force * at
    assert about_left - ends[0] + ends[1] == pytest.approx(0.0, abs=1e-7 * force * beam.length)


@given(beams(), shares, shares, st.floats(0.1, 9.0), st.floats(0.1, 9.0))
def test_superposition(beam: Beam, one: float, other: float, p: float, w: float) -> None:
    at, far = one * beam.length, max(one, other) * beam.length
    first: Load = Concentrated(at, p)
    second: Load = Distributed(min(one, other) * beam.length, far, w, 2 * w)
    both, apart = response(beam, [first, second]), [response(beam, q) for q in (first, second)]
    x = np.linspace(0.01, 0.99, 23) * beam.length
    for name in ("moment", "shear", "deflection"):
        total = sum(getattr(q, name)(x) for q in apart)
        size = float(np.max(np.abs(total))) + 1e-12
        np.testing.assert_allclose(getattr(both, name)(x), total, atol=1e-8 * size)


@given(beams(), shares)
def test_the_mirrored_beam_has_mirrored_lines(beam: Beam, share: float) -> None:
    length = beam.length
    parts = tuple(
        Segment(length - s.end, length - s.start, s.rigidity) for s in beam.segments[::-1]
    )
    parts = (Segment(0.0, parts[0].end, parts[0].rigidity), *parts[1:])
    mirror = Beam(beam.spans[::-1], parts, ends=beam.ends[::-1])
    at, x = share * length, np.linspace(0.003, 0.997, 31) * length
    one, other = (influence_line(b, "moment", c) for b, c in ((beam, at), (mirror, length - at)))
    size = float(np.max(np.abs(one(x)))) + 1e-9
    np.testing.assert_allclose(one(x), other(length - x), atol=1e-7 * size)


@given(beams(), st.floats(0.05, 0.95))
def test_moments_are_areas_of_shears_and_lines_agree_with_loads(beam: Beam, share: float) -> None:
    at = share * beam.length
    found = response(beam, Distributed(0.0, beam.length, 1.5))
    line = influence_line(beam, "moment", at)
    size = abs(found.moment.maximum().value) + abs(found.moment.minimum().value)
    assert 1.5 * line.area() == pytest.approx(float(found.moment(at)), abs=1e-8 * size)
    assert line.area(1) + line.area(-1) == pytest.approx(line.area(), abs=1e-8 * size)


@st.composite
def vehicles(draw: st.DrawFn) -> Vehicle:
    count = draw(st.integers(1, 5))
    forces = draw(st.lists(st.floats(1.0, 40.0), min_size=count, max_size=count))
    gaps = draw(st.lists(st.floats(2.0, 30.0), min_size=count - 1, max_size=count - 1))
    return Vehicle("drawn", "drawn", tuple(forces), tuple(gaps), "drawn for a test")


def values(beam: Beam, case: LoadCase, effect: Effect) -> np.ndarray:
    found = live_load_envelope(beam, [case], effects=[effect])[effect]
    return np.concatenate([found.maximum, found.minimum])


@settings(max_examples=40)
@given(beams(), vehicles(), st.sampled_from(["moment", "shear", "reaction"]))
def test_no_placement_beats_the_envelope(beam: Beam, truck: Vehicle, effect: Effect) -> None:
    found = live_load_envelope(beam, [LoadCase("t", truck, relieving="kept")], effects=[effect])
    envelope = found[effect]
    rng = np.random.default_rng(len(beam.spans))
    for index in range(0, len(envelope.sections), 3):
        line = envelope.lines.line(index)
        starts = rng.uniform(-truck.length, beam.length + truck.length, 200)
        offsets = np.asarray(truck.offsets)
        for way in (1, -1):
            sums = line(starts[:, None] + way * offsets) @ np.asarray(truck.axles)
            slack = 1e-8 * max(1.0, float(np.max(np.abs(sums))))
            assert sums.max() <= envelope.maximum[index] + slack
            assert sums.min() >= envelope.minimum[index] - slack


@settings(max_examples=40)
@given(beams(), vehicles(), st.sampled_from(["moment", "shear"]))
def test_the_search_finds_what_the_proof_adds_up(
    beam: Beam, truck: Vehicle, effect: Effect
) -> None:
    for relieving in ("dropped", "kept"):
        case = LoadCase("t", truck, relieving=relieving)
        envelope = live_load_envelope(beam, [case], effects=[effect])[effect]
        for index in range(0, len(envelope.sections), 4):
            for which, value in (("max", envelope.maximum), ("min", envelope.minimum)):
                proof = envelope.proof(index, which)  # type: ignore[arg-type]
                assert proof.value == pytest.approx(float(value[index]), rel=1e-9, abs=1e-12)


@settings(max_examples=25)
@given(beams(), vehicles(), st.floats(1.1, 4.0))
def test_heavier_is_never_less_and_scales(beam: Beam, truck: Vehicle, times: float) -> None:
    heavy = Vehicle("h", "h", tuple(times * f for f in truck.axles), truck.spacings, "for a test")
    light, heavier = (values(beam, LoadCase("t", t), "moment") for t in (truck, heavy))
    np.testing.assert_allclose(heavier, times * light, rtol=1e-7, atol=1e-9)


@settings(max_examples=25)
@given(beams(), vehicles())
def test_dropping_axles_never_gives_less(beam: Beam, truck: Vehicle) -> None:
    dropped = values(beam, LoadCase("t", truck), "moment")
    kept = values(beam, LoadCase("t", truck, relieving="kept"), "moment")
    assert np.all(np.abs(dropped) >= np.abs(kept) - 1e-9)


@settings(max_examples=25)
@given(beams(), vehicles(), st.floats(1.0, 25.0))
def test_a_wider_range_of_spacing_never_gives_less(
    beam: Beam, truck: Vehicle, wider: float
) -> None:
    if len(truck.axles) < 2:
        return
    free = Vehicle(
        "v", "v", truck.axles, truck.spacings, "for a test", 0, truck.spacings[0] + wider
    )
    rigid = Vehicle(
        "r", "r", truck.axles, (truck.spacings[0] + wider / 3, *truck.spacings[1:]), "for a test"
    )
    for relieving in ("dropped", "kept"):
        most, some = (
            np.abs(values(beam, LoadCase("t", t, relieving=relieving), "moment"))
            for t in (free, rigid)
        )
        assert np.all(most >= some - 1e-7 * (1 + some))


@settings(max_examples=20)
@given(beams())
def test_mirrored_beams_have_mirrored_envelopes(beam: Beam) -> None:
    plain = Beam(beam.spans, 1.0, beam.ends)
    mirror = Beam(beam.spans[::-1], 1.0, beam.ends[::-1])
    one, other = (
        live_load_envelope(b, hl93_cases(), effects=["moment"])["moment"] for b in (plain, mirror)
    )
    size = float(np.max(np.abs(np.concatenate([one.maximum, one.minimum]))))
    np.testing.assert_allclose(one.maximum, other.maximum[::-1], atol=1e-7 * size)
    np.testing.assert_allclose(one.minimum, other.minimum[::-1], atol=1e-7 * size)


@settings(max_examples=40)
@given(beams(), vehicles(), st.integers(0, 3), st.floats(1.0, 40.0))
def test_what_the_search_found_is_the_sum_of_ordinates(
    beam: Beam, truck: Vehicle, cut: int, wider: float
) -> None:
    """Rigid and with a spacing that varies: the position found gives the value found."""
    x = beam.tenth_points()
    for effect, at in (("moment", x), ("shear", x), ("reaction", np.asarray(beam.supports))):
        family = influence_lines(beam, effect, at)  # type: ignore[arg-type]
        for lines in (family, positive_part(family), positive_part(family.reversed())):
            found = [place_rigid(lines, truck.axles, truck.offsets)]
            if len(truck.axles) > 1:
                at_axle = 1 + cut % (len(truck.axles) - 1)
                rear = tuple(d - truck.offsets[at_axle] for d in truck.offsets[at_axle:])
                gap = truck.spacings[at_axle - 1]
                halves = Halves(
                    (truck.axles[:at_axle], truck.offsets[:at_axle]),
                    (truck.axles[at_axle:], rear),
                    gap,
                    gap + wider,
                )
                found += [place(lines, lines, halves, way, worth=None) for way in (-1, 1)]
            for placed in found:
                total = ordinates_at(lines, placed.positions, placed.sides) @ np.asarray(
                    truck.axles
                )
                size = float(np.max(np.abs(placed.value)))
                round_off = 1e-14 * truck.weight * beam.length
                np.testing.assert_allclose(
                    np.maximum(total, 0),
                    np.maximum(placed.value, 0),
                    atol=1e-9 * size + round_off,
                )
