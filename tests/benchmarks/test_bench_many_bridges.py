"""Cost of a thousand bridges of different spans in one call, as ratios taken in one run.

A bridge: three spans of 60 to 120 ft; HL-93 with all its cases, both headings and every spacing,
for positive moment in the first span, negative moment over a pier, shear at the abutment and the
reaction of the pier.

The loop asks for the same values bridge by bridge. The floor is the bare NumPy product of ordinates
and axles, every foot, with the ordinates already there; what is found is exact, not stepped.

Run with ``pytest tests/benchmarks -m bench -s`` for the table.
"""

from __future__ import annotations

import tracemalloc
from functools import partial
from time import perf_counter

import numpy as np
import pytest

from stepcalc import Sheet
from stepcalc.analysis.beam import Beam
from stepcalc.analysis.influence_lines import influence_line
from stepcalc.analysis.live_load_envelope import live_load_envelope
from stepcalc.analysis.load_case import LoadCase
from stepcalc.analysis.vehicles import Vehicle
from stepcalc.bridge.continuous.kernels import span_kernels
from stepcalc.bridge.continuous.line_kernels import span_inputs
from stepcalc.units import ft, kip, kip_ft
from tests.benchmarks.test_bench_moving_loads import best_of, in_turn, trains
from tests.unit.test_continuous_at_once import whole_sheet

BRIDGES = 1000
PLACES = (
    ("M_p", "moment", "max", "1", 0.4, kip_ft), ("M_n", "moment", "min", "1", 1.0, kip_ft),
    ("V", "shear", "max", "1", 0.0, kip), ("R", "reaction", "max", "2", 0.0, kip),
)  # fmt: skip
NAMES = [name for name, *_ in PLACES]


def bridge() -> Sheet:
    sheet = Sheet("three spans")
    spans = [sheet.given(f"L_{i}", 80 * ft) for i in (1, 2, 3)]
    kernels = span_kernels(3).live
    for name, effect, which, place, fraction, unit in PLACES:
        inputs = span_inputs(spans) | {
            "layout": "prismatic", "place": place, "fraction": fraction,
            "load": "HL-93", "impact": 0.33, "which": which,
        }  # fmt: skip
        sheet.computed(name, kernels[effect], inputs, unit, "x")
    return sheet


def spans_of(count: int, seed: int = 4) -> np.ndarray:
    return np.random.default_rng(seed).uniform(60.0, 120.0, (3, count))


def at_once(sheet: Sheet, L: np.ndarray) -> dict[str, np.ndarray]:
    found = sheet.evaluate({f"L_{i + 1}": L[i] * ft for i in range(3)}, NAMES)
    return {name: found[name].magnitude for name in NAMES}


@pytest.mark.slow
def test_a_thousand_bridges_at_once_and_in_a_loop() -> None:
    sheet, L = bridge(), spans_of(BRIDGES)
    found = at_once(sheet, L)
    some = 25
    begin = perf_counter()
    singly = [sheet.revise(L_1=a * ft, L_2=b * ft, L_3=c * ft) for a, b, c in L[:, :some].T]
    values = {name: [one[name].value.magnitude for one in singly] for name in NAMES}
    loop = (perf_counter() - begin) / some * BRIDGES
    for name in NAMES:
        np.testing.assert_allclose(found[name][:some], values[name], rtol=1e-12)
    together = best_of(3, partial(at_once, sheet, L))
    print(f"\n1,000 bridges, loop / one call: {loop / together:.0f} ({together:.2f} s)")
    assert loop / together >= 20


@pytest.mark.slow
def test_a_thousand_bridges_in_bounded_memory() -> None:
    sheet, few, many = bridge(), spans_of(BRIDGES), spans_of(8 * BRIDGES, 5)
    peaks = []
    at_once(sheet, few)
    for L in (few, many):
        tracemalloc.start()
        at_once(sheet, L)
        peaks.append(tracemalloc.get_traced_memory()[1] / 1e6)
        tracemalloc.stop()
    print(f"\nmemory of 1,000 and 8,000 bridges: {peaks[0]:.0f} MB, {peaks[1]:.0f} MB")
    assert peaks[1] <= 150


@pytest.mark.slow
def test_a_thousand_bridges_beside_the_bare_product() -> None:
    sheet, some = bridge(), 20
    L = spans_of(some)
    lines = []
    for spans in L.T:
        beam = Beam(tuple(spans.tolist()))
        lines += [
            influence_line(beam, "moment", 0.4 * spans[0]),
            influence_line(beam, "moment", spans[0]),
            influence_line(beam, "shear", 0.0),
            influence_line(beam, "reaction", spans[0]),
        ]
    placed = []
    for forces, offsets in trains():
        for line in lines:
            end = float(line.breaks[-1])
            starts = np.arange(-max(offsets), end - min(offsets) + 0.5, 1.0)
            ordinates = np.maximum(line(starts[:, None] + np.asarray(offsets)), 0.0)
            placed.append((np.asarray(forces), ordinates))
    many = spans_of(BRIDGES)
    floor, together = in_turn(
        4, lambda: [(o @ f).max() for f, o in placed], partial(at_once, sheet, many)
    )
    ratio = together / (floor / some * BRIDGES)
    print(f"\n1,000 bridges / bare product: {ratio:.2f}")
    assert ratio <= 5


@pytest.mark.slow
def test_linear_in_axles() -> None:
    """Three to twelve axles that move as a unit: at most six times the time for four times."""
    beam, runs = Beam((90.0, 110.0, 70.0, 90.0, 110.0)), []
    for count in (3, 12):
        truck = Vehicle("t", "t", (10.0, *[16.0] * (count - 1)), (8.0, *[4.5] * (count - 2)), "own")
        runs.append(partial(live_load_envelope, beam, [LoadCase("t", truck, relieving="dropped")]))
    few, many = in_turn(4, *runs)
    print(f"\n12 axles / 3 axles: {many / few:.1f}")
    assert many / few <= 6


@pytest.mark.slow
def test_whole_sheets_of_girders() -> None:
    """Every step of a girder over three spans: effects, combinations, governing sections."""
    sheet, names = whole_sheet()
    L, some = spans_of(400), 3
    begin = perf_counter()
    for a, b, c in L[:, :some].T:
        one = sheet.revise(L_1=a * ft, L_2=b * ft, L_3=c * ft)
        assert all(one[name].value is not None for name in names)
    loop = (perf_counter() - begin) / some
    begin = perf_counter()
    sheet.evaluate({f"L_{i + 1}": L[i] * ft for i in range(3)}, names)
    together = (perf_counter() - begin) / L.shape[1]
    print(f"\n{len(names)} steps, one by one / 400 girders at once: {loop / together:.0f}")
    assert loop / together >= 10
