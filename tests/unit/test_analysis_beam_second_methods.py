"""Fixed ends, overhangs, hinges, settlements and trapezoids by finite elements and by SymPy.

Neither shares code with stepcalc. A hinge is the force method's: two finite-element beams that
exchange the shear at which their ends move alike.
"""

from __future__ import annotations

import numpy as np
import pytest
import sympy
from skfem import LinearForm
from sympy.physics.continuum_mechanics.beam import Beam as SymbolicBeam

from stepcalc.analysis.beam import Beam, Segment
from stepcalc.analysis.beam_loads import Concentrated, Distributed
from stepcalc.analysis.beam_response import response
from stepcalc.analysis.influence_lines import Effect, influence_line
from stepcalc.analysis.live_load_envelope import live_load_envelope
from stepcalc.analysis.load_case import LoadCase
from stepcalc.analysis.vehicles import Vehicle
from tests.unit.beam_second_method import FiniteElementBeam

# overhang of 15, spans 60 and 70, fixed at the right end, three stretches of EI
MIXED = Beam(
    (15.0, 60.0, 70.0),
    (Segment(0.0, 50.0, 3.0e4), Segment(50.0, 100.0, 8.0e4), Segment(100.0, 145.0, 4.5e4)),
    ends=("free", "fixed"),
)
LOADS = [2.0, 9.5, 31.0, 52.0, 74.0, 98.5, 130.0]
SECTIONS = [6.0, 28.0, 50.0, 88.0, 121.5, 145.0]


def mixed_rigidity(x: np.ndarray) -> np.ndarray:
    return np.where(x < 50, 3.0e4, np.where(x < 100, 8.0e4, 4.5e4))


def mixed_model(more: tuple[float, ...] = ()) -> FiniteElementBeam:
    nodes = np.unique([*LOADS, *SECTIONS, *MIXED.joints, 50.0, 100.0, *more])
    return FiniteElementBeam(nodes, mixed_rigidity, MIXED.supports, clamps=(145.0,))


@pytest.mark.parametrize("effect", ["moment", "shear", "deflection"])
def test_a_fixed_end_and_an_overhang(effect: Effect) -> None:
    model = mixed_model()
    for load in LOADS:
        moved = model.solve(model.load([1.0], [load]))
        for section in SECTIONS:
            moment, shear = model.moment_shear(moved, section)
            bend = model.deflection(moved, section)
            wanted = {"moment": moment, "shear": shear, "deflection": bend}[effect]
            found = float(influence_line(MIXED, effect, section, face=-1)(load))
            assert found == pytest.approx(wanted, rel=1e-8, abs=1e-10)


def test_reactions_of_both_signs_and_uplift_by_a_truck() -> None:
    """The truck on the overhang lifts the next support: each position solved, every half foot."""
    model = mixed_model(tuple(np.arange(0.0, 145.5, 0.5).tolist()))
    forces, gaps = (8.0, 32.0, 32.0), (14.0, 14.0)
    lows, highs = np.zeros(3), np.zeros(3)
    for way in (1.0, -1.0):
        offsets = way * np.array([0.0, 14.0, 28.0])
        for start in np.arange(-28.0, 174.0, 0.5):
            vector = model.load(forces, (start + offsets).tolist())
            found = model.reactions(model.solve(vector), vector)
            lows, highs = np.minimum(lows, found), np.maximum(highs, found)
    truck = LoadCase("t", Vehicle("t", "t", forces, gaps, "own"), relieving="kept")
    ours = live_load_envelope(MIXED, [truck], effects=["reaction"])["reaction"]
    assert lows[1] < -5  # the overhang lifts it
    np.testing.assert_allclose(ours.maximum, highs, rtol=1e-3)
    np.testing.assert_allclose(ours.minimum, lows, rtol=1e-3, atol=1e-3 * highs.max())
    assert np.all(ours.maximum >= highs * (1 - 1e-9))
    assert np.all(ours.minimum <= lows + 1e-9 * highs)


def test_a_settlement_beside_a_fixed_end() -> None:
    model, down = mixed_model(), 0.04
    moved = np.zeros(model.basis.N)
    moved[model.basis.nodal_dofs[0][model.node(75.0)]] = -down
    residual = -(model.matrix @ moved)
    moved[model.free] += model.factor.solve(residual[model.free])
    ours = response(MIXED, settlements={75.0: down})
    np.testing.assert_allclose(ours.reactions, model.reactions(moved, 0 * moved), rtol=1e-8)
    for section in SECTIONS:
        moment, _ = model.moment_shear(moved, section)
        assert float(ours.moment(section)) == pytest.approx(moment, rel=1e-8, abs=1e-8)
        assert float(ours.deflection(section)) == pytest.approx(
            model.deflection(moved, section), rel=1e-8, abs=1e-12
        )


def test_a_trapezoid_over_a_step_of_rigidity() -> None:
    """1.5 at 5 to 4.0 at 130; SciKit-FEM integrates it with its own shapes."""
    model = mixed_model((5.0, 130.0))

    def push(v: np.ndarray, w: object) -> np.ndarray:
        x = w.x[0]  # type: ignore[attr-defined]
        inside = (x >= 5) & (x <= 130)
        return np.asarray(-np.where(inside, 1.5 + 2.5 * (x - 5) / 125, 0.0) * v)

    vector = LinearForm(push).assemble(model.basis)
    moved = model.solve(vector)
    ours = response(MIXED, Distributed(5.0, 130.0, 1.5, 4.0))
    np.testing.assert_allclose(ours.reactions, model.reactions(moved, vector), rtol=1e-8)
    for section in SECTIONS[:-1]:
        bend = model.deflection(moved, section)
        assert float(ours.deflection(section)) == pytest.approx(bend, rel=1e-8, abs=1e-12)


def test_a_hinge_by_two_finite_element_beams() -> None:
    """Spans 60, 80, 70 with a hinge at 90: what the two sides exchange makes their ends agree."""
    beam = Beam((60.0, 80.0, 70.0), 2.0e4, hinges=(90.0,))
    loads, sections = [22.0, 75.0, 110.0, 171.0], [35.0, 60.0, 120.0, 155.0]

    def rigidity(x: np.ndarray) -> np.ndarray:
        return np.full_like(x, 2.0e4)

    def side(start: float, end: float, supports: tuple[float, ...]) -> FiniteElementBeam:
        places = [start, end, *supports, *(x for x in (*loads, *sections) if start < x < end)]
        return FiniteElementBeam(np.unique(places), rigidity, supports)

    left, right = side(0.0, 90.0, (0.0, 60.0)), side(90.0, 210.0, (140.0, 210.0))
    tips = [
        model.deflection(model.solve(model.load([1.0], [90.0])), 90.0) for model in (left, right)
    ]
    for load in loads:
        own, other = (left, right) if load < 90 else (right, left)
        alone = own.deflection(own.solve(own.load([1.0], [load])), 90.0)
        passed = alone / sum(tips)  # the force on the other side, upward on the own one
        for section in sections:
            model = left if section < 90 else right
            forces = ([1.0, -passed], [load, 90.0]) if model is own else ([passed], [90.0])
            moved = model.solve(model.load(*forces))
            moment, shear = model.moment_shear(moved, section)
            for effect, wanted in (("moment", moment), ("shear", shear)):
                line = influence_line(beam, effect, section, face=-1)  # type: ignore[arg-type]
                assert float(line(load)) == pytest.approx(wanted, rel=1e-8, abs=1e-9)
            bend = float(influence_line(beam, "deflection", section)(load))
            assert bend == pytest.approx(model.deflection(moved, section), rel=1e-8, abs=1e-12)
    assert other is left


def test_settlement_and_triangle_as_sympy_solves_them() -> None:
    """Spans 5 and 7: the middle goes down 0.2 (EI = 1: SymPy leaves EI out of a settlement).

    By hand M = 3 EI 0.2/(5*7) and the left reaction M/5. Then a load 0 to 3 on the first span.
    """
    a, b, c = sympy.symbols("A B C")

    def theirs(EI: int) -> SymbolicBeam:
        beam = SymbolicBeam(12, EI, 1)
        for symbol, at in ((a, 0), (b, 5), (c, 12)):
            beam.apply_load(symbol, at, -1)
        return beam

    ours = Beam((5.0, 7.0), 9.0)
    settled = theirs(1)
    # SymPy's deflection of loads that are positive downward is positive downward
    settled.bc_deflection = [(0, 0), (5, sympy.Rational(1, 5)), (12, 0)]
    settled.solve_for_reaction_loads(a, b, c)
    wanted = [-float(settled.reaction_loads[symbol]) for symbol in (a, b, c)]
    found = response(Beam((5.0, 7.0), 1.0), settlements={5.0: 0.2}).reactions
    assert found[0] == pytest.approx(3 * 0.2 / 35 / 5, rel=1e-12)
    np.testing.assert_allclose(np.abs(found), np.abs(wanted), rtol=1e-10)
    assert found[1] < 0 < found[0]
    loaded = theirs(9)
    loaded.bc_deflection = [(0, 0), (5, 0), (12, 0)]
    loaded.apply_load(sympy.Rational(3, 5), 0, 1, end=5)
    loaded.solve_for_reaction_loads(a, b, c)
    wanted = [-float(loaded.reaction_loads[symbol]) for symbol in (a, b, c)]
    triangle = response(ours, Distributed(0.0, 5.0, 0.0, 3.0))
    np.testing.assert_allclose(triangle.reactions, wanted, rtol=1e-10)
    assert triangle.reactions[2] < 0  # the far end is held down
    bend = abs(float(loaded.deflection().subs(sympy.Symbol("x"), sympy.Rational(5, 2))))
    assert float(triangle.deflection(2.5)) == pytest.approx(bend, rel=1e-9)


def test_a_force_on_an_overhang_lifts_the_far_support() -> None:
    """Overhang 6 beside 20: 10 at the tip presses with 13 and lifts with 3."""
    found = response(Beam((6.0, 20.0), ends=("free", "pinned")), Concentrated(0.0, 10.0))
    np.testing.assert_allclose(found.reactions, [13.0, -3.0], rtol=1e-12)
