"""Envelopes and peaks by own examples worked elsewhere, and the proofs that come with them."""

from __future__ import annotations

import numpy as np
import pytest

from stepcalc.analysis.beam import Beam
from stepcalc.analysis.envelope_peak import combined_peak, separate_peaks
from stepcalc.analysis.influence_lines import influence_line
from stepcalc.analysis.live_load_envelope import live_load_envelope
from stepcalc.analysis.load_case import (
    LoadCase,
    deflection_cases,
    fatigue_cases,
    hl93_cases,
    standard_cases,
    vehicle_case,
)
from stepcalc.analysis.load_proof import LoadProof, concurrent_effect
from stepcalc.analysis.standard_impact import loaded_length, standard_impact
from stepcalc.analysis.train_deflection import maximum_midspan_deflection
from stepcalc.analysis.train_moment import maximum_moment_at
from stepcalc.analysis.train_shear import maximum_shear
from stepcalc.analysis.vehicles import vehicle

TWO = Beam((80.0, 80.0))
SIMPLE = Beam((62.0,))
WITHIN = 2e-3  # own example: a general stiffness program stepped at 0.25 ft


def axle_extremes(section: float, name: str) -> tuple[float, float]:
    truck = vehicle(name)
    moment = live_load_envelope(
        TWO, [LoadCase(name, truck)], sections=[section], effects=["moment"]
    )["moment"]
    return float(moment.maximum[0]), float(moment.minimum[0])


def test_two_spans_of_eighty_feet() -> None:
    """Own computation by direct stiffness, HL-93 per lane, constant EI."""
    assert axle_extremes(32.0, "HL-93 truck") == pytest.approx((937.78, -208.69), rel=WITHIN)
    assert axle_extremes(80.0, "HL-93 truck") == pytest.approx((0.0, -521.73), rel=WITHIN)
    assert axle_extremes(32.0, "HL-93 tandem") == pytest.approx((781.02, -153.52), rel=WITHIN)
    assert axle_extremes(80.0, "HL-93 tandem") == pytest.approx((0.0, -383.81), rel=WITHIN)
    moment = live_load_envelope(TWO)["moment"]
    near, pier = moment.index_of(32.0), moment.index_of(80.0)
    assert moment.maximum[near] == pytest.approx(1636.4, rel=1e-4)
    assert moment.minimum[near] == pytest.approx(-379.9, rel=WITHIN)
    assert moment.by_case_minimum[0, pier] == pytest.approx(-1205.8, rel=WITHIN)
    assert moment.proof(pier, "min").axle_sum == pytest.approx(-1027.97, rel=WITHIN)
    assert moment.minimum[pier] == pytest.approx(-1691.2, rel=WITHIN)
    assert moment.cases[moment.minimum_case[pier]].id.startswith("90 %")


def test_tenth_points_of_a_simple_span() -> None:
    """Own computation by statics: 62 ft, per lane, IM 33 %."""
    found = live_load_envelope(SIMPLE)
    np.testing.assert_allclose(
        found["moment"].maximum[:6],
        [0, 555.67, 968.00, 1236.98, 1392.42, 1419.40],
        rtol=1e-5,
        atol=1e-12,
    )
    np.testing.assert_allclose(
        found["shear"].maximum[:6],
        [101.18, 87.84, 74.89, 62.34, 50.18, 38.42],
        rtol=0,
        atol=0.00501,
    )
    np.testing.assert_allclose(found["shear"].minimum[5:], -found["shear"].maximum[5::-1])


def test_both_definitions_of_a_combined_maximum() -> None:
    """Own computation: 1427.81 as a sum of separate maxima, 1426.37 at x = 29.07 or 32.93."""
    one, sums = combined_peak(SIMPLE), separate_peaks(SIMPLE)
    assert one.value == pytest.approx(1426.37, abs=0.01)
    assert min(one.section, 62 - one.section) == pytest.approx(29.07, abs=0.01)
    assert sums.value == pytest.approx(1427.81, abs=0.01)
    assert sums.axles is not None
    assert sums.lane is not None
    assert sums.axles.value / 1.33 == pytest.approx(842.32, abs=0.01)
    assert sums.lane.section == pytest.approx(31.0, abs=1e-4)
    shear = separate_peaks(SIMPLE, effect="shear")
    assert shear.value == pytest.approx(101.18, abs=0.01)
    assert separate_peaks(TWO, which="min").value == pytest.approx(
        combined_peak(TWO, which="min").value
    )


def test_the_fatigue_truck() -> None:
    """Own computation: 620.27 at 25.11 ft, 580.00 at midspan, 50.83 kip."""
    cases = fatigue_cases(impact=0.0)
    peak = combined_peak(SIMPLE, cases)
    assert peak.value == pytest.approx(620.27, abs=0.01)
    assert min(peak.section, 62 - peak.section) == pytest.approx(25.11, abs=0.01)
    found = live_load_envelope(SIMPLE, cases)
    assert found["moment"].maximum[5] == pytest.approx(580.0)
    assert found["shear"].maximum[0] == pytest.approx(50.83, abs=0.01)


@pytest.mark.parametrize(
    ("name", "moment"),
    # own computation by the critical-position theorem: 62 ft, per lane, no impact
    [
        ("Type 3", 623.4),
        ("Type 3S2", 653.9),
        ("Type 3-3", 598.5),
        ("SU4", 704.3),
        ("SU5", 774.9),
        ("SU6", 861.4),
        ("SU7", 936.0),
        ("NRL", 977.0),
        ("EV2", 720.3),
        ("EV3", 1093.6),
        ("HL-93 truck", 842.3),
    ],
)
def test_legal_trucks_on_a_simple_span(name: str, moment: float) -> None:
    peak = combined_peak(SIMPLE, [vehicle_case(vehicle(name), impact=0.0)])
    assert peak.value == pytest.approx(moment, abs=0.06)


def test_simple_spans_agree_with_the_search_written_for_them() -> None:
    truck = vehicle("HL-93 truck")
    axles = truck.axles, truck.spacings
    found = live_load_envelope(SIMPLE, [LoadCase("truck", truck)])
    x = SIMPLE.tenth_points()
    at = maximum_moment_at(*axles, x[1:-1], span=62.0).value
    np.testing.assert_allclose(found["moment"].maximum[1:-1], at, rtol=1e-9)
    assert found["reaction"].maximum[0] == pytest.approx(
        float(maximum_shear(*axles, span=62.0).value)
    )
    stiff = Beam((62.0,), 5.0e5)
    bend = live_load_envelope(
        stiff, [LoadCase("t", truck)], sections=[31.0], effects=["deflection"]
    )
    wanted = maximum_midspan_deflection(*axles, span=62.0, rigidity=5.0e5).value
    assert bend["deflection"].maximum[0] == pytest.approx(float(wanted), rel=1e-9)


def proofs(beam: Beam, cases: tuple[LoadCase, ...]) -> list[tuple[float, LoadProof]]:
    found = live_load_envelope(beam, cases, effects=("moment", "shear", "reaction", "deflection"))
    gathered: list[tuple[float, LoadProof]] = []
    for envelope in found.effects.values():
        for index in range(len(envelope.sections)):
            gathered.append((float(envelope.maximum[index]), envelope.proof(index, "max")))
            gathered.append((float(envelope.minimum[index]), envelope.proof(index, "min")))
    return gathered


@pytest.mark.parametrize(
    "cases",
    [hl93_cases(), fatigue_cases(), deflection_cases(), standard_cases("HS20", military=True)],
)
def test_every_value_follows_from_its_proof(cases: tuple[LoadCase, ...]) -> None:
    beam = Beam((70.0, 95.0, 55.0), 3.0e6)
    for value, proof in proofs(beam, cases):
        own = influence_line(beam, proof.effect, proof.section, face=proof.face)
        for axle in proof.axles:
            side = "left" if axle.side < 0 else "right"
            ordinate = float(own(axle.position, side=side))  # type: ignore[arg-type]
            if axle.counted:
                assert axle.ordinate == pytest.approx(ordinate, rel=1e-7, abs=1e-12)
                assert axle.product == pytest.approx(axle.force * axle.ordinate)
        case = proof.case
        axles = sum(axle.product for axle in proof.axles)
        lane = case.lane * sum(region.area for region in proof.lane)
        factor = case.axle_factor if case.vehicle else case.lane_factor
        assert value == pytest.approx(factor * axles + case.lane_factor * lane, rel=1e-8, abs=1e-10)
        assert proof.value == pytest.approx(value, rel=1e-8, abs=1e-10)


def test_spacings_in_a_proof_are_those_of_the_vehicle() -> None:
    moment = live_load_envelope(TWO, hl93_cases()[:1])["moment"]
    for index in range(len(moment.sections)):
        proof = moment.proof(index, "min")
        places = [axle.position for axle in proof.axles]
        way = -1 if proof.heading == "right" else 1
        assert way * (places[1] - places[0]) == pytest.approx(14.0)
        assert 14 - 1e-6 <= way * (places[2] - places[1]) <= 30 + 1e-6


def test_concurrent_effects_are_those_of_the_same_loads() -> None:
    """62 ft, truck at the peak of moment: axles by hand, shear left and right of the section."""
    proof = combined_peak(SIMPLE, [LoadCase("truck", vehicle("HL-93 truck"))]).proof
    forces = np.array([axle.force for axle in proof.axles])
    places = np.array([axle.position for axle in proof.axles])
    right = float(forces @ places) / 62
    assert concurrent_effect(SIMPLE, proof, "reaction", section=62.0) == pytest.approx(right)
    assert concurrent_effect(SIMPLE, proof, "moment") == pytest.approx(proof.value)
    away = proof.section + 1.0
    by_hand = 72 - right - forces[places < away].sum()
    assert concurrent_effect(SIMPLE, proof, "shear", section=away) == pytest.approx(by_hand)


def test_concurrent_moment_at_the_pier_shear() -> None:
    """Two equal spans: with the largest shear right of the pier goes a hogging moment."""
    shear = live_load_envelope(TWO, hl93_cases()[:1])["shear"]
    proof = shear.proof(shear.index_of(80.0, 1), "max")
    moment = concurrent_effect(TWO, proof, "moment")
    least = live_load_envelope(TWO, hl93_cases()[:1])["moment"].minimum[10]
    assert least < moment < 0


def test_symmetric_beams_have_symmetric_envelopes() -> None:
    beam = Beam((66.0, 91.0, 66.0))
    found = live_load_envelope(beam)
    moment, shear = found["moment"], found["shear"]
    np.testing.assert_allclose(moment.maximum, moment.maximum[::-1], rtol=1e-9, atol=1e-9)
    np.testing.assert_allclose(moment.minimum, moment.minimum[::-1], rtol=1e-9, atol=1e-9)
    np.testing.assert_allclose(shear.maximum, -shear.minimum[::-1], rtol=1e-9, atol=1e-9)


def test_impact_by_loaded_length() -> None:
    """Art. 3.8.2 of the 17th edition, from memory: 62 ft gives 50 / 187."""
    assert float(standard_impact(62.0)) == pytest.approx(50 / 187)
    assert float(standard_impact(20.0)) == 0.30
    beam = Beam((60.0, 100.0, 20.0), ends=("pinned", "free"))
    assert loaded_length(beam, "moment", 30.0, sign=1) == 60.0
    assert loaded_length(beam, "moment", 50.0, sign=-1) == 80.0
    assert loaded_length(beam, "shear", 75.0, sign=1) == 85.0
    assert loaded_length(beam, "shear", 75.0, sign=-1) == 15.0
    assert loaded_length(beam, "reaction", 60.0, sign=1) == 80.0
    assert loaded_length(beam, "reaction", 0.0, sign=1) == 60.0
    assert loaded_length(beam, "moment", 165.0, sign=-1) == 15.0
    assert loaded_length(beam, "shear", 165.0, sign=1) == 0.0


def test_scaling_units_scales_results() -> None:
    """In inches every moment is twelve times as many kip-inches."""
    feet = live_load_envelope(TWO, [vehicle_case(vehicle("EV3"))])["moment"]
    ev3 = vehicle("EV3")
    inches = type(ev3)("EV3", "", ev3.axles, tuple(12 * s for s in ev3.spacings), "")
    other = live_load_envelope(Beam((960.0, 960.0)), [vehicle_case(inches)])["moment"]
    np.testing.assert_allclose(other.maximum, 12 * feet.maximum, rtol=1e-9, atol=1e-9)
