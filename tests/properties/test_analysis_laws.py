"""Laws that every moving-load result obeys, whatever the vehicle and the span."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from stepcalc.analysis.influence import placed_midspan_deflection, placed_moment, placed_shear
from stepcalc.analysis.train_deflection import maximum_midspan_deflection
from stepcalc.analysis.train_moment import maximum_moment, maximum_moment_at
from stepcalc.analysis.train_shear import maximum_shear

forces = st.floats(0.5, 60.0)
gaps = st.floats(0.5, 40.0)
spans = st.floats(5.0, 300.0)
Train = tuple[list[float], list[float]]


@st.composite
def trains(draw: st.DrawFn) -> Train:
    count = draw(st.integers(1, 6))
    return (
        draw(st.lists(forces, min_size=count, max_size=count)),
        draw(st.lists(gaps, min_size=count - 1, max_size=count - 1)),
    )


@given(trains(), spans, st.floats(0, 3))
def test_the_mirrored_vehicle_has_the_same_maximum(
    train: Train, span: float, uniform: float
) -> None:
    axles, spacings = train
    turned = (axles[::-1], spacings[::-1])
    straight = maximum_moment(*train, span=span, factor=1.33, uniform=uniform)
    mirrored = maximum_moment(*turned, span=span, factor=1.33, uniform=uniform)
    assert mirrored.value == pytest.approx(float(straight.value), rel=1e-9)
    for search in (maximum_shear, maximum_moment):
        assert search(*turned, span=span).value == pytest.approx(
            float(search(*train, span=span).value), rel=1e-9
        )
    bend = maximum_midspan_deflection(*train, span=span, rigidity=7.0).value
    other = maximum_midspan_deflection(*turned, span=span, rigidity=7.0).value
    assert other == pytest.approx(float(bend), rel=1e-7)


@given(trains(), spans, st.floats(0.01, 0.99))
def test_mirrored_section_has_the_same_moment(train: Train, span: float, share: float) -> None:
    left = maximum_moment_at(*train, share * span, span=span).value
    right = maximum_moment_at(*train, (1 - share) * span, span=span).value
    assert right == pytest.approx(float(left), rel=1e-7, abs=1e-9)


@given(trains(), spans, st.floats(0.1, 10), st.floats(0.1, 10))
def test_scaling_forces_and_lengths(
    train: Train, span: float, heavier: float, longer: float
) -> None:
    axles, spacings = train
    scaled = ([heavier * a for a in axles], [longer * s for s in spacings])
    moment = maximum_moment(*train, span=span).value * heavier * longer
    assert maximum_moment(*scaled, span=longer * span).value == pytest.approx(float(moment))
    shear = maximum_shear(*train, 0.3 * span, span=span).value * heavier
    again = maximum_shear(*scaled, 0.3 * longer * span, span=longer * span).value
    assert again == pytest.approx(float(shear), rel=1e-6, abs=1e-9)
    bend = maximum_midspan_deflection(*train, span=span, rigidity=3.0).value * heavier * longer**3
    bent = maximum_midspan_deflection(*scaled, span=longer * span, rigidity=3.0).value
    assert bent == pytest.approx(float(bend), rel=1e-6)


@given(trains(), spans, st.floats(0, 1), st.floats(-0.5, 1.5), st.floats(0, 1))
def test_no_position_beats_the_maximum(
    train: Train, span: float, share: float, start: float, combined: float
) -> None:
    axles, spacings = train
    offsets = np.concatenate([[0.0], np.cumsum(spacings)])
    positions, section = start * span + offsets - offsets[-1] / 2, share * span
    slack = 1e-9 * span * sum(axles)
    moment = float(placed_moment(axles, positions, section, span=span))
    assert moment <= float(maximum_moment_at(*train, section, span=span).value) + slack
    lane = combined * section * (span - section) / 2
    best = maximum_moment(*train, span=span, factor=1.2, uniform=combined)
    assert 1.2 * moment + lane <= float(best.value) + slack
    shear = float(placed_shear(axles, positions, section, span=span))
    kept = float(maximum_shear(*train, section, span=span, relieving=True).value)
    assert shear <= kept + slack / span
    assert kept <= float(maximum_shear(*train, section, span=span).value) + slack / span
    bend = float(placed_midspan_deflection(axles, positions, span=span, rigidity=1.0))
    most = float(maximum_midspan_deflection(*train, span=span, rigidity=1.0).value)
    assert bend <= most * (1 + 1e-9)


@given(trains(), spans, st.floats(0, 2))
def test_the_maximum_is_reached_where_it_says(train: Train, span: float, uniform: float) -> None:
    axles, spacings = train
    found = maximum_moment(*train, span=span, factor=1.3, uniform=uniform)
    section = float(found.section)
    positions = found.positions(spacings)
    moment = 1.3 * placed_moment(axles, positions, section, span=span)
    lane = uniform * section * (span - section) / 2
    assert moment + lane == pytest.approx(float(found.value), rel=1e-9)
    assert positions[int(found.axle)] == pytest.approx(section)


@given(trains(), st.floats(0.1, 5), spans, st.floats(0, 1))
def test_superposition(train: Train, factor: float, span: float, share: float) -> None:
    axles, spacings = train
    offsets = np.concatenate([[0.0], np.cumsum(spacings)])
    other = [factor * a + 1 for a in axles]
    both = [a + b for a, b in zip(axles, other, strict=True)]
    section = share * span
    for effect in (placed_moment, placed_shear):
        apart = effect(axles, offsets, section, span=span) + effect(
            other, offsets, section, span=span
        )
        assert effect(both, offsets, section, span=span) == pytest.approx(float(apart), abs=1e-9)
    together = float(maximum_moment(both, spacings, span=span).value)
    apart_max = maximum_moment(axles, spacings, span=span).value
    apart_max = apart_max + maximum_moment(other, spacings, span=span).value
    assert together <= float(apart_max) * (1 + 1e-12)
