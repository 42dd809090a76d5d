"""Dead loads and settlements against hand values, SymPy, and finite elements."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest
import sympy
from sympy.physics.continuum_mechanics.beam import Beam as SymbolicBeam

from stepcalc.analysis.beam import Beam, Segment
from stepcalc.analysis.beam_loads import Concentrated, Distributed, Load, uniform_on_all_spans
from stepcalc.analysis.beam_response import response
from stepcalc.analysis.contraflexure import hogging_zones, interior_supports
from stepcalc.analysis.influence_lines import influence_line

LOADS: list[Load] = [
    Distributed(5.0, 120.0, 1.2, 3.4),
    Concentrated(150.0, 17.0),
    Concentrated(33.0, 11.0),
    Concentrated(40.0, 6.0),
    Distributed(100.0, 175.0, 0.7),
]
BEAM = Beam(
    (60.0, 65.0, 50.0),
    (Segment(0.0, 40.0, 3.0e4), Segment(40.0, 75.0, 8.0e4), Segment(75.0, 175.0, 4.5e4)),
    ends=("pinned", "fixed"),
)


def test_a_triangle_on_a_simple_span() -> None:
    """From 0 to w = 3 over L = 12: R = wL/6 and wL/3; M max = wL^2 / (9 sqrt 3) at L / sqrt 3."""
    found = response(Beam((12.0,), 100.0), Distributed(0.0, 12.0, 0.0, 3.0))
    np.testing.assert_allclose(found.reactions, [6.0, 12.0])
    top = found.moment.maximum()
    assert top.position == pytest.approx(12 / np.sqrt(3))
    assert top.value == pytest.approx(3 * 144 / (9 * np.sqrt(3)))
    # the elastic line of a triangle: w x (7 L^4 - 10 L^2 x^2 + 3 x^4) / (360 EI L)
    x = 5.0
    by_hand = 3 * x * (7 * 12**4 - 10 * 144 * x**2 + 3 * x**4) / (360 * 100.0 * 12)
    assert found.deflection(x) == pytest.approx(by_hand, rel=1e-12)


def test_a_force_on_a_propped_cantilever() -> None:
    """L = 10, force 16 at midspan: M fixed = -3PL/16 = -30, R prop = 5P/16 = 5."""
    found = response(Beam((10.0,), ends=("pinned", "fixed")), Concentrated(5.0, 16.0))
    assert found.moment(10.0) == pytest.approx(-30.0)
    np.testing.assert_allclose(found.reactions, [5.0, 11.0])
    assert found.shear(5.0, side="left") == pytest.approx(5.0)
    assert found.shear(5.0, side="right") == pytest.approx(-11.0)


def test_an_overhang_with_a_force_at_its_tip() -> None:
    """8 at the tip of 5, beside 20: M = -40, R = 8 * 25/20 and -8 * 5/20."""
    found = response(Beam((20.0, 5.0), ends=("pinned", "free")), Concentrated(25.0, 8.0))
    np.testing.assert_allclose(found.reactions, [-2.0, 10.0])
    assert found.moment(20.0) == pytest.approx(-40.0)
    assert found.shear(24.0) == pytest.approx(8.0)


def test_a_force_on_a_hinge_is_not_lost() -> None:
    """Pier at 30, hinge at 40: 9 there gives -90 over the pier."""
    found = response(Beam((30.0, 40.0), hinges=(40.0,)), Concentrated(40.0, 9.0))
    assert found.moment(30.0) == pytest.approx(-90.0)
    assert found.reactions.sum() == pytest.approx(9.0)


def test_settlement_of_the_middle_of_two_spans() -> None:
    """Equal spans L: M = 3 EI d / L^2, sagging where the middle goes down."""
    found = response(Beam((80.0, 80.0), 1.0e6), settlements={80.0: 0.1})
    assert found.moment(80.0) == pytest.approx(3 * 1e6 * 0.1 / 80**2)
    assert found.deflection(80.0) == pytest.approx(0.1)
    assert found.reactions.sum() == pytest.approx(0.0, abs=1e-12)


def test_settlement_of_a_determinate_beam_bends_nothing() -> None:
    found = response(Beam((30.0, 40.0), hinges=(40.0,)), settlements={30.0: 0.2})
    assert abs(found.moment.maximum().value) < 1e-12
    assert abs(found.moment.minimum().value) < 1e-12


def by_influence(effect: str, at: float, side: str) -> float:
    line = influence_line(BEAM, effect, at, face=-1 if side == "left" else 1)  # type: ignore[arg-type]
    total = 0.0
    for load in LOADS:
        if isinstance(load, Concentrated):
            # the force on the section belongs to the far side of the face that is wanted
            other = "right" if side == "left" else "left"
            total += load.force * float(line(load.position, side=other))  # type: ignore[arg-type]
        else:
            first, last = load.ends
            total += line.integral(load.start, load.end, at_start=first, at_end=last)
    return total


@pytest.mark.parametrize("at", [0.0, 21.0, 33.0, 40.0, 60.0, 75.0, 111.0, 125.0, 150.0, 174.0])
def test_every_effect_is_the_influence_line_under_the_loads(at: float) -> None:
    found = response(BEAM, LOADS)
    assert found.moment(at) == pytest.approx(by_influence("moment", at, "right"), abs=1e-8)
    assert found.deflection(at) == pytest.approx(by_influence("deflection", at, "right"), abs=1e-9)
    for side in ("left", "right"):
        if (at, side) not in ((0.0, "left"), (175.0, "right")):
            assert found.shear(at, side=side) == pytest.approx(
                by_influence("shear", at, side), abs=1e-9
            )


def test_equilibrium_of_the_whole_beam() -> None:
    found = response(BEAM, LOADS)
    total = 0.5 * (1.2 + 3.4) * 115 + 17 + 11 + 6 + 0.7 * 75
    assert found.reactions.sum() == pytest.approx(total, rel=1e-12)


def test_shear_is_the_slope_of_the_moment_and_load_that_of_shear() -> None:
    found = response(BEAM, LOADS)
    x = np.array([3.0, 17.0, 55.0, 90.0, 140.0, 160.0])
    np.testing.assert_allclose(found.moment.derivative()(x), found.shear(x), atol=1e-9)
    curvature = -found.deflection.derivative().derivative()(x)
    rigidity = np.where(x < 40, 3.0e4, np.where(x < 75, 8.0e4, 4.5e4))
    np.testing.assert_allclose(curvature * rigidity, found.moment(x), rtol=1e-8, atol=1e-6)


def test_a_uniform_load_as_sympy_solves_it() -> None:
    """Spans 4, 6 with 3 on the stretch from 2 to 7, EI = 5."""
    theirs = SymbolicBeam(10, 5, 1)
    a, b, c = sympy.symbols("A B C")
    for symbol, at in ((a, 0), (b, 4), (c, 10)):
        theirs.apply_load(symbol, at, -1)
        theirs.bc_deflection.append((at, 0))
    theirs.apply_load(3, 2, 0, end=7)
    theirs.solve_for_reaction_loads(a, b, c)
    wanted = [-float(theirs.reaction_loads[symbol]) for symbol in (a, b, c)]
    found = response(Beam((4.0, 6.0), 5.0), Distributed(2.0, 7.0, 3.0))
    np.testing.assert_allclose(found.reactions, wanted, rtol=1e-10)
    bend = abs(float(theirs.deflection().subs(sympy.Symbol("x"), sympy.Rational(13, 2))))
    assert abs(float(found.deflection(6.5))) == pytest.approx(bend, rel=1e-9)


def test_deflection_with_varying_rigidity_is_that_of_many_steps() -> None:
    """EI (1 + x/50)^2 against 400 constant steps of it, by a second model of the same beam."""

    def law(x: np.ndarray) -> np.ndarray:
        return 500.0 * (1 + x / 50) ** 2

    smooth = Beam((30.0, 20.0), (Segment(0.0, 50.0, law),))
    ends = np.linspace(0, 50, 401)
    steps = tuple(
        Segment(float(p), float(q), float(law(np.array(0.5 * (p + q))))) for p, q in pairwise(ends)
    )
    stepped = Beam((30.0, 20.0), steps)
    loads = Distributed(0.0, 50.0, 2.0, 1.0)
    one, other = response(smooth, loads), response(stepped, loads)
    np.testing.assert_allclose(one.reactions, other.reactions, rtol=1e-5)
    assert one.deflection(13.0) == pytest.approx(float(other.deflection(13.0)), rel=2e-5)


def test_hogging_zones_of_three_equal_spans() -> None:
    """Roots of the printed moments: 0.8 L, and (5 - sqrt 5) / 10 L into the middle span."""
    first, second = hogging_zones(Beam((100.0, 100.0, 100.0)))
    assert first.start == pytest.approx(80.0)
    assert first.end == pytest.approx(100 * (1.5 - np.sqrt(0.05)))
    assert second.start == pytest.approx(300 - first.end)
    assert interior_supports(Beam((20.0, 80.0, 80.0), ends=("free", "pinned"))) == (100.0,)


def test_no_zone_where_a_hinge_stands_on_the_pier() -> None:
    assert hogging_zones(Beam((40.0, 50.0), hinges=(40.0,))) == ()


def test_a_uniform_load_covers_overhangs() -> None:
    beam = Beam((10.0, 30.0), ends=("free", "pinned"))
    assert response(beam, uniform_on_all_spans(beam, 2.0)).moment(10.0) == pytest.approx(-100.0)
