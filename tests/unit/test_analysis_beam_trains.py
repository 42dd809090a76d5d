"""Trains on beams: the exact search against fine stepping, in every kind of case."""

from __future__ import annotations

from itertools import product

import numpy as np
import pytest

from stepcalc.analysis.beam import Beam, Segment
from stepcalc.analysis.influence_lines import Effect, influence_line, influence_lines
from stepcalc.analysis.line_signs import areas, positive_part
from stepcalc.analysis.live_load_envelope import live_load_envelope
from stepcalc.analysis.load_case import (
    LoadCase,
    Pair,
    hl93_cases,
    lane_type_legal_cases,
    standard_cases,
    vehicle_case,
)
from stepcalc.analysis.vehicles import VEHICLES, Vehicle, vehicle

BEAM = Beam((62.0, 93.0, 48.0), (Segment(0.0, 80.0, 1.0), Segment(80.0, 203.0, 1.7)))
Array = np.ndarray


def stepped(
    lines: list[object],
    groups: list[tuple[tuple[float, ...], Array]],
    *,
    drop: bool,
    step: float,
) -> float:
    """Return the largest sum over fine steps, axles counted just left and just right of jumps."""
    s = np.arange(-120.0, BEAM.length + 120.0, step)
    best = 0.0
    for side in ("left", "right"):
        total = np.zeros_like(s)
        for line, (forces, offsets) in zip(lines, groups, strict=True):
            for force, offset in zip(forces, offsets, strict=True):
                y = line(s + offset, side=side)  # type: ignore[operator]
                total += force * (np.maximum(y, 0.0) if drop else y)
        best = max(best, float(total.max()))
    return best


def signed(effect: Effect, section: float, sign: int, face: int = 1) -> object:
    line = influence_line(BEAM, effect, section, face=face)
    return type(line)(line.breaks, sign * line.coefficients)


def trains(truck: Vehicle, spacings: tuple[float, ...]) -> list[Array]:
    behind = np.concatenate([[0.0], np.cumsum(spacings)])
    return [behind, -behind]


WANTED: list[tuple[Effect, float, int]] = [
    ("moment", 24.8, 1),
    ("moment", 24.8, -1),
    ("moment", 62.0, 1),
    ("moment", 62.0, -1),
    ("moment", 108.5, 1),
    ("moment", 150.0, -1),
    ("shear", 0.0, 1),
    ("shear", 55.0, -1),
    ("shear", 108.5, 1),
    ("reaction", 62.0, 1),
    ("reaction", 203.0, -1),
]


@pytest.mark.parametrize(("effect", "section", "sign"), WANTED)
@pytest.mark.parametrize("relieving", ["dropped", "kept"])
@pytest.mark.parametrize("name", ["HL-93 tandem", "Type 3-3", "EV3", "SU7"])
def test_rigid_trains(name: str, relieving: str, effect: Effect, section: float, sign: int) -> None:
    truck = vehicle(name)
    case = LoadCase(name, truck, relieving=relieving)  # type: ignore[arg-type]
    found = live_load_envelope(BEAM, [case], sections=[section], effects=[effect])[effect]
    at = found.index_of(section)
    value = float(found.maximum[at] if sign > 0 else -found.minimum[at])
    line = signed(effect, section, sign)
    wanted = max(
        stepped([line], [(truck.axles, way)], drop=relieving == "dropped", step=0.01)
        for way in trains(truck, truck.spacings)
    )
    assert value >= wanted - 1e-9
    assert value == pytest.approx(wanted, rel=5e-4, abs=1e-6)


@pytest.mark.parametrize(("effect", "section", "sign"), WANTED)
@pytest.mark.parametrize("relieving", ["dropped", "kept"])
def test_a_spacing_that_varies(relieving: str, effect: Effect, section: float, sign: int) -> None:
    truck = vehicle("HL-93 truck")
    case = LoadCase("truck", truck, relieving=relieving)  # type: ignore[arg-type]
    found = live_load_envelope(BEAM, [case], sections=[section], effects=[effect])[effect]
    at = found.index_of(section)
    value = float(found.maximum[at] if sign > 0 else -found.minimum[at])
    line = signed(effect, section, sign)
    wanted = max(
        stepped([line], [(truck.axles, way)], drop=relieving == "dropped", step=0.05)
        for V in np.arange(14.0, 30.01, 0.5)
        for way in trains(truck, (14.0, float(V)))
    )
    assert value >= wanted - 1e-9
    assert value == pytest.approx(wanted, rel=2e-3, abs=1e-6)


def test_a_longer_spacing_governs_where_both_spans_pull() -> None:
    """Two spans of 30 ft: the two rear axles stand near the low points of both spans."""
    moment = live_load_envelope(Beam((30.0, 30.0)), hl93_cases()[:1], effects=["moment"])["moment"]
    proof = moment.proof(moment.index_of(30.0), "min")
    rear = abs(proof.axles[2].position - proof.axles[1].position)
    assert 14.5 < rear < 29.5
    short = vehicle("HL-93 truck")
    rigid = Vehicle("short", "", short.axles, (14.0, 14.0), "")
    stiff = live_load_envelope(Beam((30.0, 30.0)), [vehicle_case(rigid)], effects=["moment"])
    assert moment.minimum[10] < stiff["moment"].minimum[10]


@pytest.mark.parametrize(
    ("effect", "section", "sign"),
    [("moment", 62.0, -1), ("moment", 150.0, -1), ("reaction", 62.0, 1), ("reaction", 155.0, 1)],
)
@pytest.mark.parametrize("adjacent", [True, False])
def test_two_trucks(effect: Effect, section: float, sign: int, adjacent: bool) -> None:
    case = hl93_cases(impact=0.0, adjacent_spans=adjacent)[2]
    found = live_load_envelope(BEAM, [case], sections=[section], effects=[effect])[effect]
    proof = found.proof(found.index_of(section), "max" if sign > 0 else "min")
    line = signed(effect, section, sign)
    pier = 62.0 if section < 100 else 155.0
    spans = (0.0, 62.0, 155.0, 203.0)
    index = spans.index(pier)
    s = np.arange(-60.0, 270.0, 0.25)
    behind = np.array([0.0, 14.0, 28.0])
    best = 0.0
    for heading in (1, -1):
        sums = []
        for low, high in ((spans[index - 1], pier), (pier, spans[index + 1])):
            x = s[:, None] + (behind if heading > 0 else behind[::-1])
            y = np.maximum(line(x), 0.0)  # type: ignore[operator]
            if adjacent:
                y = np.where((x >= low) & (x <= high), y, 0.0)
            sums.append(y @ np.array([8.0, 32.0, 32.0]))
        later = np.maximum.accumulate(sums[1][::-1])[::-1]
        start = int(78 / 0.25)
        best = max(best, float((sums[0][:-start] + later[start:]).max()))
    assert abs(proof.axle_sum) >= best - 1e-9
    assert abs(proof.axle_sum) == pytest.approx(best, rel=3e-3)
    lead, following = proof.axles[:3], proof.axles[3:]
    clear = abs(following[0].position - lead[2].position)
    assert clear >= 50 - 1e-6


def test_two_trucks_count_only_where_the_rule_says() -> None:
    found = live_load_envelope(BEAM)
    moment = found["moment"]
    counted = moment.sections[~np.isnan(moment.by_case_minimum[2])]
    assert np.isnan(moment.by_case_maximum[2]).all()
    assert np.isnan(found["shear"].by_case_maximum[2]).all()
    assert np.isnan(found["shear"].by_case_minimum[2]).all()
    np.testing.assert_array_equal(
        np.isnan(found["reaction"].by_case_maximum[2]), [True, False, False, True]
    )
    assert np.isnan(found["reaction"].by_case_minimum[2]).all()
    assert 62.0 in counted
    assert 155.0 in counted
    assert not np.any((counted < 30) | (np.abs(counted - 108) < 10) | (counted > 190))


def test_a_pair_at_a_fixed_distance() -> None:
    """Two Type 3-3 exactly 30 ft apart are one rigid train of twelve axles."""
    truck = vehicle("Type 3-3")
    [two] = lane_type_legal_cases(impact=0.0, spans=BEAM.spans)
    found = live_load_envelope(BEAM, [two], sections=[62.0], effects=["moment"])["moment"]
    train = Vehicle("train", "", truck.axles * 2, (*truck.spacings, 30.0, *truck.spacings), "")
    rigid = live_load_envelope(
        BEAM, [LoadCase("train", train, relieving="kept")], sections=[62.0], effects=["moment"]
    )["moment"]
    assert found.proof(0, "min").axle_sum == pytest.approx(float(rigid.minimum[0]), rel=1e-9)


def test_lane_type_loads_apply_by_length_and_spans() -> None:
    assert [c.id for c in lane_type_legal_cases(spans=(210.0,))] == ["75 % Type 3-3 + lane"]
    assert lane_type_legal_cases(spans=(150.0,)) == ()
    assert len(lane_type_legal_cases(spans=(150.0, 210.0))) == 2


def test_riding_forces_of_the_older_lane() -> None:
    """0.64 and 18 for moment, a second 18 in the other span for hogging; 26 for shear."""
    beam = Beam((80.0, 80.0))
    lane = standard_cases("HS20")[1]
    found = live_load_envelope(beam, [lane])
    moment, shear = found["moment"], found["shear"]
    pier = 80 * 2 / (3 * np.sqrt(3)) / 4  # largest ordinate of L (k - k^3) / 4
    assert moment.minimum[10] == pytest.approx(-(0.64 * 800 + 2 * 18 * pier), rel=1e-9)
    assert moment.maximum[4] == pytest.approx(0.64 * 608 + 18 * 16.512, rel=1e-9)
    assert shear.maximum[0] == pytest.approx(0.64 * 0.4375 * 80 + 26, rel=1e-9)
    assert found["reaction"].maximum[1] == pytest.approx(0.64 * 1.25 * 80 + 26, rel=1e-9)


def test_positive_parts_keep_every_zero_and_area() -> None:
    sections = BEAM.tenth_points()
    family = influence_lines(BEAM, "moment", sections)
    plus, minus = areas(positive_part(family)), areas(positive_part(family.reversed()))
    for row in range(len(sections)):
        assert plus[row] == pytest.approx(family.line(row).area(1), abs=1e-9)
        assert -minus[row] == pytest.approx(family.line(row).area(-1), abs=1e-9)


def test_every_vehicle_has_an_envelope_on_both_effects() -> None:
    beam = Beam((100.0, 140.0, 100.0))
    for truck in VEHICLES.values():
        found = live_load_envelope(beam, [vehicle_case(truck, impact=0.0)])
        weight = truck.weight
        assert found["moment"].maximum.max() <= weight * 140 / 4
        assert found["shear"].maximum.max() <= weight * (1 + 1e-9)
        assert found["reaction"].maximum.max() <= weight * 1.05


@pytest.mark.parametrize("kind", [("dropped", 0), ("kept", 1)])
def test_the_notional_load_drops_axles_and_legal_trucks_do_not(kind: tuple[str, int]) -> None:
    relieving, index = kind
    assert vehicle_case(vehicle(("NRL", "SU7")[index])).relieving == relieving


def test_pairs_stand_anywhere_where_the_rule_does_not_bind_them() -> None:
    """Without the rule of contraflexure every negative moment may have two trucks."""
    truck = Vehicle("t", "", (8.0, 32.0, 32.0), (14.0, 14.0), "")
    pair = Pair(50.0, adjacent_spans=False, within_contraflexure=False)
    found = live_load_envelope(BEAM, [LoadCase("two", truck, pair=pair)], effects=["moment"])
    assert not np.isnan(found["moment"].by_case_minimum).any()


def test_signs_and_faces_of_all_sections() -> None:
    shear = live_load_envelope(BEAM)["shear"]
    for index, (section, face) in enumerate(zip(shear.sections, shear.faces, strict=True)):
        assert shear.index_of(float(section), int(face)) == index
    assert list(product([62.0, 155.0], [-1, 1])) == [
        (float(x), int(f))
        for x, f in zip(shear.sections, shear.faces, strict=True)
        if x in (62.0, 155.0)
    ]
