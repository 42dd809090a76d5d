"""Laws of the resistance checks that hold for every shape: units, scale, order, one and many."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stepcalc.bridge.flexure import strength_flexure
from stepcalc.bridge.girder import girder_sheet
from stepcalc.bridge.service import service_two
from stepcalc.bridge.shear import strength_shear
from stepcalc.data.tables import table
from stepcalc.units import Q_, ft, kip_ft, ksi, psf
from tests.unit.bridge_beam import Beam, beam
from tests.unit.bridge_loads import bridge_62_ft

SHAPES = table("w_shapes").names
METHODS = st.sampled_from(["LRFD", "ASD", "LFD"])


def loaded(shape: str, *, braces: float = 15.5) -> Beam:
    b = beam(shape, braces=braces)
    strength_flexure(b.sheet, b.section, b.buckling, demand=b.M, top_flange="resting")
    strength_shear(b.sheet, b.section, yield_strength=b.F_y, demand=b.V)
    service_two(b.sheet, b.section, b.buckling, moment=b.M)
    return b


def in_metric(quantity: Any, unit: str) -> Any:
    return Q_(quantity.to(unit).magnitude, unit)


@settings(max_examples=6)
@given(method=METHODS, spacing=st.floats(5.0, 10.0), span=st.floats(30.0, 100.0))
def test_data_in_metric_units_give_the_same_ratios(
    method: str, spacing: float, span: float
) -> None:
    us: dict[str, Any] = {"span": span * ft, "girder_spacing": spacing * ft}
    si = {key: in_metric(value, "m") for key, value in us.items()}
    si["deck_thickness"] = in_metric(8.5 * ft / 12, "mm")
    si["wearing_surface"] = in_metric(25 * psf, "kPa")
    one = girder_sheet(bridge_62_ft(**us), method, proof=None)
    other = girder_sheet(bridge_62_ft(**si), method, proof=None)
    for a, b in zip(one.checks, other.checks, strict=True):
        assert b.ratio == pytest.approx(a.ratio, rel=1e-9), a.name


@settings(max_examples=20)
@given(shape=st.sampled_from(SHAPES), factor=st.floats(0.1, 20.0))
def test_ratios_are_proportional_to_the_demand(shape: str, factor: float) -> None:
    b = loaded(shape)
    more = b.sheet.revise(M=b.M.value * factor, V=b.V.value * factor)  # type: ignore[attr-defined]  # a given
    for before, after in zip(b.sheet.checks, more.checks, strict=True):
        assert after.ratio == pytest.approx(factor * before.ratio, rel=1e-9), before.name


@settings(max_examples=20)
@given(shape=st.sampled_from(SHAPES), braces=st.floats(1.0, 60.0))
def test_neither_route_exceeds_its_ceiling(shape: str, braces: float) -> None:
    """6.10.8 stops at yield, Appendix A6 at the plastic moment."""
    b = loaded(shape, braces=braces)
    value = {name: b.sheet[name].value.to("kip*ft").magnitude
             for name in ("M_n8", "M_nA6", "M_y", "M_p", "M_n")}  # fmt: skip
    assert value["M_n8"] <= value["M_y"] * (1 + 1e-12)
    assert value["M_nA6"] <= value["M_p"] * (1 + 1e-12)
    assert value["M_n"] == value["M_nA6"]


@settings(max_examples=15)
@given(shape=st.sampled_from(SHAPES), braces=st.floats(3.0, 40.0))
def test_a_moment_gradient_never_hurts_and_never_passes_the_ceiling(
    shape: str, braces: float
) -> None:
    b = loaded(shape, braces=braces)
    out = b.sheet.evaluate({"C_b": np.array([1.0, 1.2, 1.75, 2.3])}, outputs=["M_n8", "M_nA6"])
    for values in out.values():
        assert (np.diff(values.magnitude) >= -1e-9).all()


@settings(max_examples=15)
@given(shape=st.sampled_from(SHAPES))
def test_where_nothing_buckles_resistance_is_proportional_to_strength(shape: str) -> None:
    """Below the strength at which any class changes, resistance is proportional to strength."""
    b = loaded(shape, braces=0.5)
    out = b.sheet.evaluate({"F_y": np.array([10.0, 20.0]) * ksi}, outputs=["M_n8", "V_n", "M_p"])
    for values in out.values():
        assert values.magnitude[1] == pytest.approx(2 * values.magnitude[0], rel=1e-9)


@settings(max_examples=10)
@given(method=METHODS, shape=st.sampled_from(SHAPES), dead=st.floats(0.0, 60.0))
def test_one_and_many_agree(method: str, shape: str, dead: float) -> None:
    sheet = girder_sheet(bridge_62_ft(), method, proof=None)
    row = SHAPES.index(shape)
    names = [check.path for check in sheet.checks]
    many = sheet.evaluate(
        {"shape": np.arange(len(SHAPES)), "q_ws": np.full(len(SHAPES), dead) * psf}, outputs=names
    )
    one = sheet.revise(shape=shape, q_ws=dead * psf)
    for check in one.checks:
        found = np.broadcast_to(many[check.path], (len(SHAPES),))[row]
        assert found == pytest.approx(check.ratio, rel=1e-12), check.name


@settings(max_examples=10)
@given(method=METHODS, more=st.floats(0.0, 80.0))
def test_more_dead_load_never_helps(method: str, more: float) -> None:
    sheet = girder_sheet(bridge_62_ft(), method, proof=None)
    heavier = sheet.revise(q_ws=(25.0 + more) * psf)
    for before, after in zip(sheet.checks, heavier.checks, strict=True):
        assert after.ratio >= before.ratio * (1 - 1e-12), before.name


def test_solve_returns_the_passing_side() -> None:
    sheet = girder_sheet(bridge_62_ft(shape="W40X199"), proof=None)
    longest = sheet.solve("L", check="Live-load deflection", within=(40 * ft, 100 * ft))
    at = sheet.revise(L=longest)["Live-load deflection"]
    assert at.passed
    assert at.ratio == pytest.approx(1.0, abs=1e-6)
    assert sheet["M_u"].value > 0 * kip_ft
