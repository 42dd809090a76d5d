"""Cost of a live-load envelope, as ratios taken in one run.

The envelope: HL-93 on three continuous spans, all its cases, both headings, every spacing, at every
tenth point, for moment, shear on both faces of piers, and reactions; exact, not stepped.

Positions: every foot, the truck in both headings with rear spacings of 14 to 30 ft by 1 ft, the
tandem, and two trucks 50 ft apart in both headings. They are what scikit-fem solves one by one (its
matrix assembled once, which flatters it), and what the bare NumPy product of ordinates and axles is
taken over, with the ordinates already there.

Run with ``pytest tests/benchmarks --benchmark-enable`` or with ``-s`` for the table.
"""

from __future__ import annotations

import gc
from collections.abc import Callable
from functools import partial
from itertools import product
from time import perf_counter

import numpy as np
import pytest
from skfem import condense, solve

from stepcalc.analysis.beam import Beam, Segment
from stepcalc.analysis.influence_lines import influence_lines
from stepcalc.analysis.live_load_envelope import LiveLoadEnvelope, live_load_envelope
from stepcalc.analysis.load_case import LoadCase, hl93_cases
from stepcalc.analysis.vehicles import Vehicle
from tests.unit.beam_second_method import FiniteElementBeam

SPANS = (80.0, 100.0, 80.0)
LENGTH = sum(SPANS)
BEAM = Beam(
    SPANS, (Segment(0.0, 60.0, 4.0e6), Segment(60.0, 200.0, 6.0e6), Segment(200.0, 260.0, 4.0e6))
)
TRUCK, TANDEM = ((8.0, 32.0, 32.0), (14.0,)), ((25.0, 25.0), (4.0,))
SPACINGS = tuple(float(V) for V in range(14, 31))

Train = tuple[tuple[float, ...], tuple[float, ...]]


def rigidity(x: np.ndarray) -> np.ndarray:
    return np.where((x < 60) | (x > 200), 4.0e6, 6.0e6)


def trains() -> list[Train]:
    """Return forces and offsets of every train that is stepped, headings included."""
    found: list[Train] = []
    for V, way in product(SPACINGS, (1.0, -1.0)):
        found.append((TRUCK[0], (0.0, 14.0 * way, (14.0 + V) * way)))
    pair = np.array([0.0, 14.0, 28.0, 78.0, 92.0, 106.0])
    found += [(TRUCK[0] * 2, tuple((way * pair).tolist())) for way in (1.0, -1.0)]
    return [*found, (TANDEM[0], (0.0, 4.0))]


def starts(offsets: tuple[float, ...]) -> np.ndarray:
    return np.arange(-max(offsets), LENGTH - min(offsets) + 0.5, 1.0)


def best_of(repeats: int, run: Callable[[], object], *, warm: bool = True) -> float:
    """Return the shortest of several times, seconds."""
    if warm:
        run()
    times = []
    gc.disable()
    for _ in range(repeats):
        begin = perf_counter()
        run()
        times.append(perf_counter() - begin)
    gc.enable()
    return min(times)


def in_turn(repeats: int, *runs: Callable[[], object]) -> list[float]:
    """Return the shortest time of each of some runs that take turns: a busy moment meets all."""
    for run in runs:
        run()
    times = [[best_of(1, run, warm=False) for run in runs] for _ in range(repeats)]
    return [min(column) for column in zip(*times, strict=True)]


def finite_element_envelope() -> tuple[np.ndarray, np.ndarray, np.ndarray, np.ndarray]:
    """Return extremes of moment at tenth points and of reactions, one solution a position.

    Every axle is kept, as in `kept_cases`: dropping axles would need a solution for every subset.
    """
    model = FiniteElementBeam(np.arange(0.0, LENGTH + 0.5, 1.0), rigidity, BEAM.supports)
    tenths = BEAM.tenth_points()[1:]
    unit = np.eye(model.basis.N)
    recovery = np.array([model.moment_shear(unit, float(x))[0] for x in tenths])
    high, low = np.full(len(tenths), -np.inf), np.full(len(tenths), np.inf)
    top, bottom = np.zeros(4), np.zeros(4)
    for forces, offsets in trains():
        for start in starts(offsets):
            vector = model.load(forces, [start + d for d in offsets])
            moved = solve(*condense(model.matrix, vector, D=model.held))
            moment, reaction = recovery @ moved, model.reactions(moved, vector)
            high, low = np.maximum(high, moment), np.minimum(low, moment)
            top, bottom = np.maximum(top, reaction), np.minimum(bottom, reaction)
    return high, low, top, bottom


def kept_cases() -> list[LoadCase]:
    """Return the trains that are stepped, as cases: rigid, with every axle kept."""
    cases = [
        LoadCase(f"V = {V}", Vehicle("t", "t", TRUCK[0], (14.0, V), "as stepped"), relieving="kept")
        for V in SPACINGS
    ]
    tandem = Vehicle("d", "d", *TANDEM, "as stepped")
    pair = Vehicle("p", "p", TRUCK[0] * 2, (14.0, 14.0, 50.0, 14.0, 14.0), "as stepped")
    return [*cases, *(LoadCase(t.id, t, relieving="kept") for t in (tandem, pair))]


def bare_product() -> Callable[[], object]:
    """Return the product of ordinates and axles at every position, its inputs made beforehand."""
    x = BEAM.tenth_points()
    inner = np.isin(x, SPANS[0]) | np.isin(x, SPANS[0] + SPANS[1])
    families = [
        influence_lines(BEAM, "moment", x),
        influence_lines(BEAM, "shear", x),
        influence_lines(BEAM, "shear", x[inner], faces=[-1, -1]),
        influence_lines(BEAM, "reaction", BEAM.supports),
    ]
    lines = [family.line(row) for family in families for row in range(len(family))]
    placed = []
    for forces, offsets in trains():
        places = starts(offsets)[:, None] + np.asarray(offsets)
        ordinates = np.array([line(places) for line in lines])
        placed.append((np.asarray(forces), np.maximum(ordinates, 0), np.minimum(ordinates, 0)))

    def run() -> list[np.ndarray]:
        return [
            extreme
            for forces, plus, minus in placed
            for extreme in ((plus @ forces).max(axis=1), (minus @ forces).min(axis=1))
        ]

    return run


def envelope() -> LiveLoadEnvelope:
    return live_load_envelope(BEAM, hl93_cases())


@pytest.mark.slow
def test_a_hundred_times_faster_than_finite_elements_and_within_a_thousandth() -> None:
    begin = perf_counter()
    high, low, top, bottom = finite_element_envelope()
    theirs = perf_counter() - begin
    found = live_load_envelope(BEAM, kept_cases())
    moment, reaction = found["moment"], found["reaction"]
    scale = np.max(np.abs(high))
    np.testing.assert_allclose(moment.maximum[1:], high, rtol=1e-3, atol=1e-3 * scale)
    np.testing.assert_allclose(moment.minimum[1:], low, rtol=1e-3, atol=1e-3 * scale)
    np.testing.assert_allclose(reaction.maximum, top, rtol=1e-3)
    np.testing.assert_allclose(reaction.minimum, bottom, rtol=1e-3, atol=1e-3 * top.max())
    ours = best_of(5, envelope)
    print(f"\nfinite elements / envelope: {theirs / ours:.0f}")
    assert theirs / ours >= 100


@pytest.mark.slow
def test_at_most_five_times_the_bare_product() -> None:
    floor, ours = in_turn(15, bare_product(), envelope)
    print(f"\nenvelope / bare product: {ours / floor:.2f}")
    assert ours / floor <= 5


@pytest.mark.slow
def test_linear_in_spans_times_sections() -> None:
    """Five to twenty spans: sixteen times the spans times sections, at most 24 times the time."""
    beams = Beam((90.0, 110.0, 70.0, 90.0, 110.0)), Beam((90.0, 110.0, 70.0, 90.0) * 5)
    few, many = in_turn(4, *(partial(live_load_envelope, beam) for beam in beams))
    print(f"\n20 spans / 5 spans: {many / few:.1f}")
    assert many / few <= 24
