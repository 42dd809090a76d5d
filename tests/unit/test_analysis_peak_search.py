"""Exact peaks along spans: nothing hides between sections, for many stretches at once."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stepcalc.analysis.beam import Beam
from stepcalc.analysis.beam_stiffness import solved
from stepcalc.analysis.envelope_peak import combined_peak
from stepcalc.analysis.live_load_envelope import Which, live_load_envelope
from stepcalc.analysis.load_case import hl93_cases, standard_cases
from stepcalc.analysis.peak_search import moment_curvature, peak_sections

NARROW = 4.0e4
"""Curvature of a parabola that is positive on a width of 0.007 only: between twentieth points."""


@given(
    st.lists(
        st.tuples(st.floats(0.0, 1.0), st.floats(0.0, 0.25)), min_size=1, max_size=6, unique=True
    )
)
@settings(max_examples=60)
def test_no_narrow_peak_is_passed_over(tops: list[tuple[float, float]]) -> None:
    """The largest of parabolas of one curvature over two stretches, one shifted and scaled."""
    places, heights = np.array(tops).T

    def values(which: np.ndarray, x: np.ndarray) -> np.ndarray:
        t = np.where(which == 1, x - 5.0, x)[:, None]
        f = np.max(heights + 1 - NARROW * (t - places) ** 2 / 2, axis=1)
        return np.asarray(np.where(which == 1, 3 * np.maximum(f, 0), np.maximum(f, 0)))

    found = peak_sections(
        values, np.array([0.0, 5.0]), np.array([1.0, 6.0]), np.array([NARROW, 3 * NARROW])
    )
    best = 1 + heights.max()
    size = np.array([1.0, 3.0]) * (best + 0.01 * NARROW)
    assert np.all(found.value >= np.array([1.0, 3.0]) * best - 1.01e-7 * size)
    assert np.all(found.bound >= np.array([1.0, 3.0]) * best - 1e-12)
    at = places[np.argmax(heights)]
    if np.sum(heights > heights.max() - 1e-3) == 1:
        np.testing.assert_allclose(found.section, [at, at + 5], atol=2e-5)


BEAMS = [
    Beam((62.0,)),
    Beam((72.0, 95.0, 60.0)),
    Beam((28.0, 131.0)),
    Beam((90.0, 70.0), ends=("fixed", "pinned")),
]


@pytest.mark.parametrize("beam", BEAMS)
@pytest.mark.parametrize("which", ["max", "min"])
def test_no_section_of_a_fine_grid_beats_the_peak(beam: Beam, which: Which) -> None:
    joints = beam.joints
    x = np.unique(np.concatenate([np.linspace(a, b, 501) for a, b in pairwise(joints)]))
    for cases in (hl93_cases(), standard_cases()):
        moment = live_load_envelope(beam, cases, sections=x, effects=["moment"])["moment"]
        grid = moment.maximum.max() if which == "max" else moment.minimum.min()
        if grid == 0:
            continue
        peak = combined_peak(beam, cases, which=which)
        assert abs(grid) <= abs(peak.value) * (1 + 1e-9)
        assert abs(grid) >= abs(peak.value) * (1 - 1e-4)
        assert peak.proof.value == pytest.approx(peak.value, rel=1e-9)


@pytest.mark.parametrize("beam", BEAMS)
def test_envelopes_bend_less_than_their_bound(beam: Beam) -> None:
    """Second differences of an envelope never fall below minus the bound: what the proof needs."""
    model, cases = solved(beam), hl93_cases()
    for span, (start, end) in enumerate(pairwise(beam.joints)):
        bound = float(moment_curvature(model, cases, span)[0])
        for parts in (37, 211):
            x = np.linspace(start, end, parts)
            found = live_load_envelope(beam, cases[:2], sections=x, effects=["moment"])["moment"]
            h = (end - start) / (parts - 1)
            for values in (found.maximum, -found.minimum):
                assert np.min(np.diff(values, 2)) >= -bound * h**2 * (1 + 1e-9)


def test_the_simple_span_of_the_own_example() -> None:
    """62 ft: combined maximum 1426.37 k-ft at 29.07 ft (own computation, tolerance 0.2 %)."""
    peak = combined_peak(Beam((62.0,)))
    assert peak.value == pytest.approx(1426.37, rel=1e-5)
    assert min(peak.section, 62 - peak.section) == pytest.approx(29.07, abs=0.01)
