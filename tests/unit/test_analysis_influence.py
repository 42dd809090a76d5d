"""Ordinates and standing loads against hand values and against SymPy's general beam."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest
import sympy as sp
from sympy.physics.continuum_mechanics.beam import Beam

from stepcalc.analysis.influence import (
    left_reaction_ordinate,
    midspan_deflection_ordinate,
    moment_ordinate,
    placed_midspan_deflection,
    placed_moment,
    placed_shear,
    shear_ordinate,
)
from stepcalc.analysis.uniform import (
    lane_moment,
    lane_shear,
    midspan_lane_moment,
    uniform_midspan_deflection,
)


def test_ordinates_by_hand() -> None:
    # 10 long, load at 4, read at 6: left reaction 0.6, so 0.6 * 6 - 1 * 2
    assert left_reaction_ordinate(4.0, span=10.0) == pytest.approx(0.6)
    assert moment_ordinate(4.0, 6.0, span=10.0) == pytest.approx(0.6 * 6 - 2)
    assert moment_ordinate(7.0, 6.0, span=10.0) == pytest.approx(0.3 * 6)
    assert shear_ordinate(4.0, 6.0, span=10.0) == pytest.approx(-0.4)
    assert shear_ordinate(6.0, 6.0, span=10.0) == pytest.approx(0.4)
    assert shear_ordinate(7.0, 6.0, span=10.0) == pytest.approx(0.3)
    # a = 4 and a = 3: a (3 L^2 - 4 a^2) / 48
    assert midspan_deflection_ordinate(4.0, span=10.0) == pytest.approx(4 * (300 - 64) / 48)
    assert midspan_deflection_ordinate(7.0, span=10.0) == pytest.approx(3 * (300 - 36) / 48)


@pytest.mark.parametrize("position", [-0.01, 10.01, -50.0])
def test_a_load_off_the_span_adds_nothing(position: float) -> None:
    assert left_reaction_ordinate(position, span=10.0) == 0
    assert moment_ordinate(position, 6.0, span=10.0) == 0
    assert shear_ordinate(position, 6.0, span=10.0) == 0
    assert shear_ordinate(position, 0.0, span=10.0) == 0
    assert midspan_deflection_ordinate(position, span=10.0) == 0


def _beam(span: int, loads: list[tuple[int, sp.Rational]]) -> Beam:
    E, inertia, left, right = sp.symbols("E I A B")
    beam = Beam(span, E, inertia)
    beam.apply_support(0, "pin")
    beam.apply_support(span, "roller")
    for force, position in loads:
        beam.apply_load(force, position, -1)  # SymPy: downward loads are positive here
    beam.apply_load(left, 0, -1)
    beam.apply_load(right, span, -1)
    beam.bc_deflection = [(0, 0), (span, 0)]
    beam.solve_for_reaction_loads(left, right)
    return beam


@pytest.mark.parametrize(
    ("span", "loads"),
    [
        (62, [(8, sp.Rational(44, 3)), (32, sp.Rational(86, 3)), (32, sp.Rational(128, 3))]),
        (41, [(25, sp.Rational(17)), (25, sp.Rational(21))]),
        (90, [(16, sp.Rational(7, 2)), (17, sp.Rational(37, 2)), (17, sp.Rational(45, 2))]),
    ],
)
def test_placed_axles_against_a_general_beam(
    span: int, loads: list[tuple[int, sp.Rational]]
) -> None:
    beam = _beam(span, loads)
    x = beam.variable
    forces = [float(force) for force, _ in loads]
    positions = [float(position) for _, position in loads]
    moment, shear = beam.bending_moment(), beam.shear_force()
    for section in (sp.Rational(span, 7), sp.Rational(span, 2), sp.Rational(5 * span, 6)):
        here = abs(float(moment.subs(x, section)))
        assert placed_moment(forces, positions, float(section), span=span) == pytest.approx(here)
        here = abs(float(shear.subs(x, section)))
        assert abs(placed_shear(forces, positions, float(section), span=span)) == pytest.approx(
            here
        )
    middle = beam.deflection().subs(x, sp.Rational(span, 2))
    scaled = abs(float(middle.subs(dict.fromkeys(middle.free_symbols, 1))))
    found = placed_midspan_deflection(forces, positions, span=float(span), rigidity=1.0)
    assert found == pytest.approx(scaled)


def test_moment_is_the_area_of_the_shear_diagram() -> None:
    forces, positions, span = [11.0, 23.0, 5.0], [3.0, 11.0, 19.0], 26.0
    cuts = [0.0, *positions, 20.0]
    area = sum(
        float(placed_shear(forces, positions, (a + b) / 2, span=span)) * (b - a)
        for a, b in pairwise(cuts)
    )
    assert placed_moment(forces, positions, 20.0, span=span) == pytest.approx(area)


def test_lane_loads_by_hand() -> None:
    # w = 2 on 10, P = 5, at 4: reaction of w is 10, so 10 * 4 - 2 * 4 * 2, and 5 * 4 * 6 / 10
    assert lane_moment(2.0, 5.0, 4.0, span=10.0) == pytest.approx(24 + 12)
    # w on the right 6: 12 * 3 / 10 ; P * 6 / 10
    assert lane_shear(2.0, 5.0, 4.0, span=10.0) == pytest.approx(3.6 + 3.0)
    assert midspan_lane_moment(2.0, 5.0, span=10.0) == pytest.approx(25 + 12.5)
    whole = uniform_midspan_deflection(3.0, span=7.0, rigidity=11.0)
    assert whole == pytest.approx(5 * 3 * 7**4 / 384 / 11)


def test_lane_shear_is_the_positive_area_of_the_influence_line() -> None:
    span, section = 17.0, 6.0
    edges = np.linspace(0, span, 170_001)
    middles = (edges[1:] + edges[:-1]) / 2
    ordinates = np.maximum(shear_ordinate(middles, section, span=span), 0)
    assert lane_shear(1.0, 0.0, section, span=span) == pytest.approx(
        float(ordinates.mean()) * span, rel=1e-7
    )
    whole = np.mean(moment_ordinate(middles, section, span=span)) * span
    assert lane_moment(1.0, 0.0, section, span=span) == pytest.approx(float(whole), rel=1e-7)


def test_the_deflection_of_many_small_loads_is_that_of_a_uniform_load() -> None:
    span, count = 31.0, 4000
    positions = (np.arange(count) + 0.5) * span / count
    small = placed_midspan_deflection(
        np.full(count, 2.0 * span / count), positions, span=span, rigidity=9.0
    )
    assert small == pytest.approx(
        uniform_midspan_deflection(2.0, span=span, rigidity=9.0), rel=1e-6
    )
