"""Influence lines against closed forms, SymPy's beams, and finite elements with stepped EI."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest
import sympy
from sympy.physics.continuum_mechanics.beam import Beam as SymbolicBeam

from stepcalc.analysis.beam import Beam, Segment
from stepcalc.analysis.influence import moment_ordinate, shear_ordinate
from stepcalc.analysis.influence_lines import Effect, influence_line, influence_lines
from tests.unit.beam_second_method import FiniteElementBeam

STEPPED = Beam(
    (60.0, 85.0, 50.0),
    (Segment(0.0, 40.0, 3.0e4), Segment(40.0, 75.0, 8.0e4), Segment(75.0, 195.0, 4.5e4)),
)


def stepped_rigidity(x: np.ndarray) -> np.ndarray:
    return np.where(x < 40, 3.0e4, np.where(x < 75, 8.0e4, 4.5e4))


def test_a_simple_span_has_the_lines_of_statics() -> None:
    beam, x = Beam((37.0,)), np.linspace(0, 37, 83)
    moment, shear = influence_line(beam, "moment", 11.0), influence_line(beam, "shear", 11.0)
    np.testing.assert_allclose(moment(x), moment_ordinate(x, 11.0, span=37.0), atol=1e-12)
    np.testing.assert_allclose(shear(x), shear_ordinate(x, 11.0, span=37.0), atol=1e-12)


def test_two_spans_by_the_three_moment_equation() -> None:
    """Unequal spans a, b: 2 M (a + b) = -P x (a^2 - x^2) / a for a load in the left one."""
    a, b, x = 70.0, 110.0, np.linspace(0, 70, 29)
    line = influence_line(Beam((a, b)), "moment", a)
    np.testing.assert_allclose(line(x), -x * (a**2 - x**2) / a / (2 * (a + b)), atol=1e-12)
    assert line.area() == pytest.approx(-(a**3 + b**3) / (8 * (a + b)), rel=1e-12)


@pytest.mark.parametrize(("section", "plus", "minus"), [(32.0, 608.0, -160.0), (80.0, 0.0, -800.0)])
def test_areas_of_two_equal_spans(section: float, plus: float, minus: float) -> None:
    """0.095 L^2, -0.025 L^2 and -L^2 / 8 for L = 80, own computation by statics."""
    line = influence_line(Beam((80.0, 80.0)), "moment", section)
    assert line.area(1) == pytest.approx(plus, abs=1e-9)
    assert line.area(-1) == pytest.approx(minus, abs=1e-9)


def symbolic(load: sympy.Rational) -> SymbolicBeam:
    """Spans 6 and 9, EI = 1, fixed at the right end, a unit load; SymPy solves it."""
    beam = SymbolicBeam(15, 1, 1)
    beam.apply_load(1, load, -1)
    at_left, middle, right, clamp = sympy.symbols("A B C M")
    for symbol, at in ((at_left, 0), (middle, 6), (right, 15)):
        beam.apply_load(symbol, at, -1)
        beam.bc_deflection.append((at, 0))
    beam.apply_load(clamp, 15, -2)
    beam.bc_slope.append((15, 0))
    beam.solve_for_reaction_loads(at_left, middle, right, clamp)
    return beam


@pytest.mark.parametrize("load", [sympy.Rational(2), sympy.Rational(17, 2), sympy.Rational(13)])
def test_a_fixed_end_as_sympy_solves_it(load: sympy.Rational) -> None:
    ours = Beam((6.0, 9.0), ends=("pinned", "fixed"))
    theirs = symbolic(load)
    reactions = {str(k): float(v) for k, v in theirs.reaction_loads.items()}
    for name, at in (("A", 0.0), ("B", 6.0), ("C", 15.0)):
        # SymPy counts loads downward here, and gives reactions with the opposite sign
        found = float(influence_line(ours, "reaction", at)(float(load)))
        assert found == pytest.approx(-reactions[name], abs=1e-12)
    x = sympy.Symbol("x")
    for section in (3.0, 7.25, 11.5):
        # a load positive downward makes SymPy's moment and deflection the opposite of ours
        theirs_moment = float(theirs.bending_moment().subs(x, section))
        theirs_lift = float(theirs.deflection().subs(x, section))
        moment = float(influence_line(ours, "moment", section)(float(load)))
        deflection = float(influence_line(ours, "deflection", section)(float(load)))
        assert abs(moment) == pytest.approx(abs(theirs_moment), abs=1e-11)
        assert abs(deflection) == pytest.approx(abs(theirs_lift), abs=1e-10)


def finite_elements(sections: list[float], loads: list[float]) -> FiniteElementBeam:
    nodes = np.unique(np.round([*sections, *loads, *STEPPED.joints, 40.0, 75.0], 9))
    return FiniteElementBeam(nodes, stepped_rigidity, STEPPED.supports)


@pytest.mark.parametrize("effect", ["moment", "shear", "deflection"])
def test_stepped_rigidity_as_finite_elements_solve_it(effect: Effect) -> None:
    sections, loads = [17.0, 44.0, 60.0, 99.5, 180.0], [8.0, 41.0, 73.0, 120.0, 171.0]
    model = finite_elements(sections, loads)
    for load in loads:
        vector = model.load([1.0], [load])
        moved = model.solve(vector)
        for section in sections:
            found = float(influence_line(STEPPED, effect, section, face=-1)(load))
            moment, shear = model.moment_shear(moved, section)
            wanted = {
                "moment": moment,
                "shear": shear,
                "deflection": model.deflection(moved, section),
            }
            assert found == pytest.approx(wanted[effect], rel=1e-8, abs=1e-10)
        for at, reaction in zip(STEPPED.supports, model.reactions(moved, vector), strict=True):
            assert influence_line(STEPPED, "reaction", at)(load) == pytest.approx(
                float(reaction), abs=1e-9
            )


def tapered(x: np.ndarray) -> np.ndarray:
    return 2.0e4 * (1 + 2 * (x / 100.0) ** 2)


def test_varying_rigidity_as_a_fine_mesh_solves_it() -> None:
    """The mesh is fine enough for five digits; the moment is read from reactions by statics."""
    beam = Beam((60.0, 40.0), (Segment(0.0, 100.0, tapered),))
    model = FiniteElementBeam(np.linspace(0, 100, 401), tapered, beam.supports)
    for load in (15.0, 45.0, 82.5):
        vector = model.load([1.0], [load])
        moved = model.solve(vector)
        left = model.reactions(moved, vector)[0]
        for section in (20.0, 60.0):
            wanted = left * section - max(section - load, 0.0)
            assert influence_line(beam, "moment", section)(load) == pytest.approx(wanted, rel=1e-5)
        bend = float(influence_line(beam, "deflection", 25.0)(load))
        assert bend == pytest.approx(model.deflection(moved, 25.0), rel=1e-5)


def test_a_varying_law_that_is_constant_changes_nothing() -> None:
    plain = Beam((50.0, 30.0, 70.0), 7.0)
    varying = Beam((50.0, 30.0, 70.0), (Segment(0.0, 150.0, lambda x: np.full_like(x, 7.0)),))
    x = np.linspace(0, 150, 61)
    for effect, section in (("moment", 21.0), ("shear", 61.0), ("reaction", 80.0)):
        one, other = (influence_line(b, effect, section) for b in (plain, varying))  # type: ignore[arg-type]
        np.testing.assert_allclose(one(x), other(x), atol=2e-6 * np.max(np.abs(one(x))))


def test_a_cantilever_and_an_overhang() -> None:
    """Fixed at 0, tip at 10: M(0) = -x, V = 1. Overhang of 6 beside a span of 20: R = 1 + x / L."""
    cantilever = Beam((10.0,), ends=("fixed", "free"))
    assert influence_line(cantilever, "moment", 0.0)(7.0) == pytest.approx(-7.0)
    assert influence_line(cantilever, "shear", 4.0)(9.0) == pytest.approx(1.0)
    assert influence_line(cantilever, "shear", 4.0)(3.0) == pytest.approx(0.0, abs=1e-12)
    overhang = Beam((6.0, 20.0), ends=("free", "pinned"))
    assert influence_line(overhang, "reaction", 6.0)(2.0) == pytest.approx(1 + 4 / 20)
    assert influence_line(overhang, "moment", 6.0)(1.5) == pytest.approx(-4.5)
    assert influence_line(overhang, "moment", 16.0)(0.0) == pytest.approx(-3.0)


def test_a_hinge_makes_a_determinate_beam() -> None:
    """Spans 30, 40 with a hinge 10 into the second one: the part beyond it is a simple span of 30.

    A load 12 beyond the hinge sends 18/30 to it: the moment at the pier is -10 * 18/30 = -6.
    """
    beam = Beam((30.0, 40.0), hinges=(40.0,))
    assert influence_line(beam, "moment", 30.0)(52.0) == pytest.approx(-6.0)
    assert influence_line(beam, "reaction", 70.0)(52.0) == pytest.approx(12 / 30)
    assert influence_line(beam, "moment", 40.0)(35.0) == pytest.approx(0.0, abs=1e-12)
    assert influence_line(beam, "moment", 15.0)(52.0) == pytest.approx(-3.0)
    assert influence_line(beam, "reaction", 70.0)(20.0) == 0.0


def test_shear_on_both_faces_of_a_pier_differs_by_the_reaction() -> None:
    beam = Beam((40.0, 65.0, 30.0))
    x = np.array([3.0, 25.0, 39.0, 41.0, 77.0, 120.0])
    left = influence_line(beam, "shear", 40.0, face=-1)
    right = influence_line(beam, "shear", 40.0, face=1)
    reaction = influence_line(beam, "reaction", 40.0)
    np.testing.assert_allclose(right(x) - left(x), reaction(x), atol=1e-12)
    assert left(40.0, side="left") == pytest.approx(-1.0)
    assert right(40.0) == pytest.approx(1.0)


def test_twenty_unequal_spans() -> None:
    spans = tuple(30.0 + 7 * (k % 5) for k in range(20))
    beam = Beam(spans)
    family = influence_lines(beam, "reaction", beam.supports)
    x = np.linspace(0, beam.length, 501)
    total = sum(family.line(row)(x) for row in range(21))
    np.testing.assert_allclose(total, 1.0, atol=1e-9)
    turning = sum(at * family.line(row)(x) for row, at in enumerate(beam.supports))
    np.testing.assert_allclose(turning, x, atol=1e-7)


def test_family_and_single_lines_agree() -> None:
    sections = STEPPED.tenth_points()
    family = influence_lines(STEPPED, "moment", sections)
    x = np.linspace(0, 195, 79)
    for row, section in enumerate(sections):
        single = influence_line(STEPPED, "moment", float(section))
        np.testing.assert_allclose(family.line(row)(x), single(x), atol=1e-10)


def test_roots_and_extremes_are_those_of_a_fine_grid() -> None:
    line = influence_line(STEPPED, "moment", 99.5)
    x = np.linspace(0, 195, 195001)
    y = line(x)
    assert line.maximum().value == pytest.approx(y.max(), rel=1e-7)
    assert line.minimum().value == pytest.approx(y.min(), rel=1e-6)
    assert line.area(1) == pytest.approx(np.trapezoid(np.maximum(y, 0), x), rel=1e-6)
    assert line.area(-1) == pytest.approx(np.trapezoid(np.minimum(y, 0), x), rel=1e-6)
    for one, other in pairwise(line.regions(1)):
        assert one.end < other.start
