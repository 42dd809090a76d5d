"""Exact maxima of moving loads: closed forms over 40 spans, brute force, and printed tables."""

from __future__ import annotations

import numpy as np
import pytest

from stepcalc.analysis.influence import (
    midspan_deflection_ordinate,
    moment_ordinate,
    placed_midspan_deflection,
    placed_moment,
    placed_shear,
    shear_ordinate,
)
from stepcalc.analysis.train_deflection import maximum_midspan_deflection
from stepcalc.analysis.train_moment import maximum_moment, maximum_moment_at, moment_peaks
from stepcalc.analysis.train_shear import maximum_shear
from stepcalc.analysis.uniform import lane_shear, midspan_lane_moment
from stepcalc.analysis.vehicles import LANE_LOADS, VEHICLES, Vehicle, lane_load, vehicle
from stepcalc.errors import ShapeError, UnknownNameError

TRUCK, TANDEM = vehicle("HL-93 truck"), vehicle("HL-93 tandem")
SPANS = np.linspace(10.0, 300.0, 40)


def truck_moment(L: float) -> float:
    """Statics by hand: the most of one 32, two 32, and all three axles, where they may stand."""
    best = 8 * L
    if L >= 21:
        best = max(best, 64 * (L / 2 - 3.5) ** 2 / L)
    if L / 2 - 7 / 3 >= 14:
        best = max(best, 72 * (L / 2 - 7 / 3) ** 2 / L - 112)
    return best


def tandem_moment(L: float) -> float:
    return 50 * (L / 2 - 1) ** 2 / L


def truck_shear(L: float) -> float:
    if L >= 28:
        return 72 - 672 / L
    return 64 - 448 / L if L >= 14 else 32.0


@pytest.mark.parametrize("span", SPANS)
def test_closed_forms(span: float) -> None:
    assert maximum_moment(*_axles(TRUCK), span=span).value == pytest.approx(truck_moment(span))
    assert maximum_moment(*_axles(TANDEM), span=span).value == pytest.approx(tandem_moment(span))
    assert maximum_shear(*_axles(TRUCK), span=span).value == pytest.approx(truck_shear(span))
    assert maximum_shear(*_axles(TANDEM), span=span).value == pytest.approx(50 - 100 / span)
    assert midspan_lane_moment(0.64, 0.0, span=span) == pytest.approx(0.08 * span**2)
    assert lane_shear(0.64, 0.0, 0.0, span=span) == pytest.approx(0.32 * span)


def _axles(record: Vehicle) -> tuple[tuple[float, ...], tuple[float, ...]]:
    return record.axles, record.spacings


@pytest.mark.parametrize(
    ("span", "moment", "shear"),
    # own computation by the closed forms of statics, IM 33 %, sum of separate maxima
    [
        (20, 301.3, 66.25),
        (24, 381.4, 68.64),
        (30, 506.5, 75.57),
        (40, 728.2, 86.22),
        (60, 1360.7, 100.06),
        (80, 2061.3, None),
        (100, 2826.8, 118.82),
        (150, 5022.1, None),
        (200, 7618.2, 155.29),
    ],
)
def test_design_load_per_lane(span: float, moment: float, shear: float | None) -> None:
    axle_moment = max(float(maximum_moment(*_axles(v), span=span).value) for v in (TRUCK, TANDEM))
    axle_shear = max(float(maximum_shear(*_axles(v), span=span).value) for v in (TRUCK, TANDEM))
    assert 1.33 * axle_moment + 0.08 * span**2 == pytest.approx(moment, rel=2e-4)
    if shear is not None:
        assert 1.33 * axle_shear + 0.32 * span == pytest.approx(shear, rel=2e-4)


def test_the_truck_on_62_ft_and_where_it_stands() -> None:
    found = maximum_moment(*_axles(TRUCK), span=62.0)
    assert found.value == pytest.approx(72 * (31 - 7 / 3) ** 2 / 62 - 112)
    assert found.section == pytest.approx(31 - 7 / 3)
    assert found.axle == 1
    assert found.positions(TRUCK.spacings) == pytest.approx([44 / 3, 86 / 3, 128 / 3])
    standing = placed_moment(TRUCK.axles, found.positions(TRUCK.spacings), found.section, span=62.0)
    assert standing == pytest.approx(float(found.value))
    assert maximum_moment_at(*_axles(TRUCK), 31.0, span=62.0).value == pytest.approx(836.0)


def test_every_candidate_says_whether_it_stays_on_the_span() -> None:
    peaks = moment_peaks(*_axles(TRUCK), span=30.0)
    stays = {(peak.first, peak.last, peak.axle): peak.stays for peak in peaks}
    # all three: 15 - 7/3 = 12.67 < 14 puts the first axle off, 15 - 28/3 the last one
    assert not any(stays[0, 2, axle] for axle in range(3))
    # the two heavy axles: 15 - 3.5 = 11.5 and 15 + 3.5 = 18.5, with 14 ft to the other
    assert stays[1, 2, 1]
    assert stays[1, 2, 2]
    assert len(peaks) == 3 + 2 * 2 + 3
    found = max(peak.moment for peak in peaks if peak.stays)
    assert found == pytest.approx(64 * 11.5**2 / 30)


def test_combined_maximum_at_one_section() -> None:
    found = maximum_moment(*_axles(TRUCK), span=62.0, factor=1.33, uniform=0.64)
    assert found.value == pytest.approx(1426.37, abs=0.005)
    assert found.section == pytest.approx(29.07, abs=0.005)
    sections = np.linspace(25, 35, 100_001)
    both = 1.33 * maximum_moment_at(*_axles(TRUCK), sections, span=62.0).value
    both = both + 0.64 * sections * (62 - sections) / 2
    assert found.value == pytest.approx(float(both.max()), rel=1e-9)


def test_the_heaviest_axle_stands_on_the_support() -> None:
    found = maximum_shear(*_axles(TRUCK), span=62.0)
    assert found.axle == 2
    assert found.turned
    assert found.positions(TRUCK.spacings) == pytest.approx([28.0, 14.0, 0.0])
    standing = placed_shear(TRUCK.axles, found.positions(TRUCK.spacings), 0.0, span=62.0)
    assert standing == pytest.approx(72 - 672 / 62)


def test_axles_that_reduce_the_shear_are_dropped_or_kept() -> None:
    # dropped: 32 at 40 and 8 at 54, the 32 at 10 ignored; kept: a 32 at 40, the others off the end
    record = vehicle("fatigue truck")
    dropped = maximum_shear(*_axles(record), 40.0, span=62.0)
    kept = maximum_shear(*_axles(record), 40.0, span=62.0, relieving=True)
    assert dropped.value == pytest.approx((32 * 22 + 8 * 8) / 62)
    assert kept.value == pytest.approx(32 * 22 / 62)


@pytest.mark.parametrize("name", list(VEHICLES))
@pytest.mark.parametrize("span", [9.0, 21.5, 33.0, 47.0, 62.0, 118.0])
def test_against_a_sweep(name: str, span: float) -> None:
    record = vehicle(name)
    offsets = np.asarray(record.offsets)
    starts = np.arange(-offsets[-1], span, 0.05)[:, None]
    trains = np.concatenate([starts + offsets, starts - offsets + offsets[-1]])
    peaks = [
        (placed_moment(record.axles, trains, trains[:, axle], span=span)).max()
        for axle in range(len(offsets))
    ]
    exact = float(maximum_moment(*_axles(record), span=span).value)
    assert max(peaks) <= exact * (1 + 1e-12)
    assert max(peaks) >= exact * (1 - 2e-4)
    for share in (0.0, 0.13, 0.4):
        section = share * span
        at = float(maximum_moment_at(*_axles(record), section, span=span).value)
        swept = placed_moment(record.axles, trains, section, span=span).max()
        assert swept <= at * (1 + 1e-12) + 1e-12
        assert swept >= at * (1 - 0.01) - 1e-12
        shear = float(maximum_shear(*_axles(record), section, span=span, relieving=True).value)
        swept = placed_shear(record.axles, trains, section, span=span).max()
        assert swept <= shear * (1 + 1e-12)
        assert swept >= shear - 0.05 * record.weight / span - 1e-9
    bend = maximum_midspan_deflection(*_axles(record), span=span, rigidity=1.0)
    swept = placed_midspan_deflection(record.axles, trains, span=span, rigidity=1.0).max()
    assert swept <= float(bend.value) * (1 + 1e-12)
    assert swept >= float(bend.value) * (1 - 1e-4)
    there = placed_midspan_deflection(
        record.axles, bend.positions(record.spacings), span=span, rigidity=1.0
    )
    assert there == pytest.approx(float(bend.value))


def test_arrays_agree_with_scalars_and_broadcast() -> None:
    spans = np.array([[20.0], [62.0], [20.0], [150.0]])
    factors = np.array([1.0, 1.33, 1.15])
    grid = maximum_moment(*_axles(TRUCK), span=spans, factor=factors, uniform=0.64)
    assert grid.value.shape == (4, 3)
    for i, j in np.ndindex(4, 3):
        one = maximum_moment(
            *_axles(TRUCK), span=float(spans[i, 0]), factor=float(factors[j]), uniform=0.64
        )
        assert grid.value[i, j] == pytest.approx(float(one.value), rel=1e-13)
        assert grid.section[i, j] == pytest.approx(float(one.section), rel=1e-13)
        assert grid.first_axle[i, j] == pytest.approx(float(one.first_axle), rel=1e-13)
        assert grid.axle[i, j] == one.axle
    shears = maximum_shear(*_axles(TRUCK), np.array([0.0, 8.0]), span=spans)
    bends = maximum_midspan_deflection(*_axles(TRUCK), span=spans, rigidity=np.array([2.0, 3.0]))
    for i, j in np.ndindex(4, 2):
        section, span = float([0.0, 8.0][j]), float(spans[i, 0])
        at = maximum_shear(*_axles(TRUCK), section, span=span)
        assert shears.value[i, j] == pytest.approx(float(at.value), rel=1e-13)
        assert shears.positions(TRUCK.spacings)[i, j] == pytest.approx(at.positions([14, 14]))
        bend = maximum_midspan_deflection(*_axles(TRUCK), span=span, rigidity=float(j + 2))
        assert bends.value[i, j] == pytest.approx(float(bend.value), rel=1e-13)


def test_repeated_and_distinct_spans_give_the_same() -> None:
    few = np.tile([20.0, 62.0, 150.0], 200)
    many = np.linspace(20.0, 150.0, 600)
    for spans in (few, many, np.concatenate([few, many]).reshape(2, 600)):
        found = maximum_moment(*_axles(TRUCK), span=spans)
        for index in ((0,) * spans.ndim, tuple(size // 3 for size in spans.shape)):
            assert found.value[index] == pytest.approx(truck_moment(float(spans[index])))


def test_231200_values_keep_the_shape_of_a_broadcast_view() -> None:
    spans = np.broadcast_to(np.linspace(20, 200, 20), (289, 40, 20))
    found = maximum_moment(*_axles(TRUCK), span=spans)
    assert found.value.shape == (289, 40, 20)
    assert found.value[288, 39, 19] == pytest.approx(truck_moment(200.0))
    assert found.positions(TRUCK.spacings).shape == (289, 40, 20, 3)


def test_the_shortest_rear_spacing_governs_a_simple_span() -> None:
    for rear in np.arange(14.0, 30.5, 0.5):
        for span in (25.0, 62.0, 140.0):
            longer = maximum_moment(TRUCK.axles, (14.0, rear), span=span).value
            assert longer <= maximum_moment(*_axles(TRUCK), span=span).value + 1e-9
            longer = maximum_shear(TRUCK.axles, (14.0, rear), span=span).value
            assert longer <= maximum_shear(*_axles(TRUCK), span=span).value + 1e-9


def test_crossings_that_practice_knows() -> None:
    """Where one load begins to govern, from the closed forms by statics."""
    tandem = maximum_moment(*_axles(TANDEM), span=[40.26, 40.28]).value
    truck = maximum_moment(*_axles(TRUCK), span=[40.26, 40.28]).value
    assert list(tandem > truck) == [True, False]
    lane = np.array([midspan_lane_moment(0.64, 18.0, span=L) for L in (144.7, 144.9)])
    hs20 = maximum_moment(*_axles(vehicle("HS20")), span=[144.7, 144.9]).value
    assert list(lane > hs20) == [False, True]


def test_no_span_no_number() -> None:
    for search in (maximum_moment, maximum_shear):
        assert np.isnan(search(*_axles(TRUCK), span=0.0).value)
        assert np.isnan(search(*_axles(TRUCK), span=[-5.0, 3.0]).value).tolist() == [True, False]
    assert np.isnan(maximum_midspan_deflection(*_axles(TRUCK), span=-1.0, rigidity=1.0).value)


def test_an_axle_without_a_force_changes_nothing() -> None:
    alone = maximum_moment([32.0, 24.0], [14.0], span=40.0)
    with_empty = maximum_moment([0.0, 32.0, 24.0], [6.0, 14.0], span=40.0)
    assert with_empty.value == pytest.approx(float(alone.value))
    nothing = maximum_moment(*_axles(TRUCK), span=40.0, factor=0.0)
    assert np.isnan(nothing.value)
    assert np.isnan(maximum_moment(*_axles(TRUCK), span=[40.0, 50.0], factor=0.0).value).all()


def test_axles_and_spacings_must_fit() -> None:
    with pytest.raises(ShapeError, match="2 axles with 2 spacings"):
        maximum_moment([8.0, 32.0], [14.0, 14.0], span=62.0)
    with pytest.raises(ShapeError, match="negative"):
        maximum_shear([8.0, -32.0], [14.0], span=62.0)
    with pytest.raises(ShapeError, match="weigh nothing"):
        maximum_shear([0.0, 0.0], [14.0], span=62.0)
    with pytest.raises(ShapeError, match=r"\(2,\), \(3,\)"):
        maximum_moment_at([8.0], [], [1.0, 2.0], span=[1.0, 2.0, 3.0])


def test_vehicle_records() -> None:
    weights = {"Type 3": 50, "Type 3S2": 72, "Type 3-3": 80, "SU4": 54, "SU5": 62, "SU6": 69.5,
               "SU7": 77.5, "NRL": 80, "EV2": 57.5, "EV3": 86, "HL-93 truck": 72}  # fmt: skip
    for name, weight in weights.items():
        assert vehicle(name).weight == pytest.approx(weight)
    assert all(record.source for record in VEHICLES.values())
    assert all(record.source for record in LANE_LOADS.values())
    assert vehicle(" hs20 ").offsets == (0, 14, 28)
    assert vehicle("fatigue truck").length == 44
    assert lane_load("hs15").shear_force == 19.5
    with pytest.raises(UnknownNameError, match="nearest names: 'HS20'"):
        vehicle("HS-20")


def test_ordinates_are_what_the_searches_add_up() -> None:
    found = maximum_moment_at(*_axles(TRUCK), 20.0, span=62.0)
    ordinates = moment_ordinate(found.positions([14, 14]), 20.0, span=62.0)
    assert found.value == pytest.approx(float(np.dot([8, 32, 32], ordinates)))
    ordinates = shear_ordinate([20.0, 34.0, 48.0], 20.0, span=62.0)
    assert maximum_shear(*_axles(TRUCK), 20.0, span=62.0).value == pytest.approx(
        float(np.dot([32, 32, 8], ordinates))
    )
    assert midspan_deflection_ordinate(31.0, span=62.0) == pytest.approx(62**3 / 48)
