"""Composite girders of a simple span by allowable stress and load factor design, from data."""

from __future__ import annotations

import math
from functools import lru_cache
from pathlib import Path
from typing import Any

import pytest

from stepcalc import Sheet
from stepcalc.bridge.bridge_file import parse_bridge
from stepcalc.bridge.composite.elastic import steel_section
from stepcalc.bridge.composite.geometry import section_geometry
from stepcalc.bridge.composite.plates import PlateSizes, plate_girder
from stepcalc.bridge.composite.sides import flange_sides
from stepcalc.bridge.composite.standard_steel import (
    allowable_between_braces,
    bend_buckling_lfd,
    strength_braced,
)
from stepcalc.bridge.composite_fields import Widening
from stepcalc.bridge.fields import Specification
from stepcalc.bridge.whole.any_girder import calculation_of
from stepcalc.bridge.whole.calculation import CompositeCalculation, composite_calculation
from stepcalc.bridge.whole.summary import check_labels
from stepcalc.units import ft, inch, ksi
from tests.unit.whole_bridge import (
    PLATES,
    STIFFENERS,
    check,
    composite_bridge,
    details,
    number,
)

SHEETS = Path(__file__).parents[2] / "notebooks" / "sheets"


@lru_cache(maxsize=4)
def by(code: Specification) -> CompositeCalculation:
    return composite_calculation(composite_bridge(specification=code), proof=None)


def transformed(width: float, ratio: float) -> tuple[float, float, float]:
    """W36X135 under 8 in of slab, 1.5 in above it: bottom modulus, centroid, inertia by hand."""
    A, y, inertia = 39.9, 17.8, 7800.0
    slab, at = width * 8 / ratio, 35.6 + 1.5 + 4
    centroid = (A * y + slab * at) / (A + slab)
    own = inertia + A * (y - centroid) ** 2 + slab * 64 / 12 + slab * (at - centroid) ** 2
    return own / centroid, centroid, own


IMPACT = 50 / (62 + 125)
DEAD = {"interior": (551.21, 80.72, 87.09), "exterior": (467.65, 80.72, 87.09)}
LINES = {"interior": 8.25 / 5.5, "exterior": 8.25 / (4 + 0.25 * 8.25)}
WIDTH = {"interior": 96.0, "exterior": 48 + 36.0}
"""min(62 ft/4, 12 x 8 in, 99 in); min(62 ft/12, 48 in, 49.5 in) + min(48 in, 36 in)."""


@pytest.mark.parametrize("which", ["interior", "exterior"])
def test_working_stress_by_hand(which: str) -> None:
    sheet = getattr(by(Specification.ASD), which)
    live = 842.32 * LINES[which] / 2 * (1 + IMPACT)
    D1, D2, DW = DEAD[which]
    assert number(sheet, "Section properties/b_s", "inch") == pytest.approx(WIDTH[which])
    stress = (
        D1 * 12 / 438.2
        + (D2 + DW) * 12 / transformed(WIDTH[which], 24)[0]
        + live * 12 / transformed(WIDTH[which], 8)[0]
    )
    found = check(sheet, "Bottom flange, working stress")
    assert found.ratio == pytest.approx(stress / 27.5, rel=2e-3)
    assert found.ref == "Std 10.32.1"


@pytest.mark.parametrize("which", ["interior", "exterior"])
def test_load_factor_strength_by_hand(which: str) -> None:
    """Steel 1968.6 kip in three plates; its axis 17.8 in below the top; D' = 0.7 x 45.1/7.5."""
    sheet, b = getattr(by(Specification.LFD), which), WIDTH[which]
    Y = 8 * 1968.6 / (0.85 * 4 * b * 8)
    M_p = 1968.6 * (17.8 + 1.5 + 8 - Y / 2) / 12
    D1, D2, DW = (1.3 * M for M in DEAD[which])
    S_n, S_3n = transformed(b, 8)[0], transformed(b, 24)[0]
    M_y = D1 + D2 + DW + S_n / 12 * (50 - D1 * 12 / 438.2 - (D2 + DW) * 12 / S_3n)
    D_prime = 0.7 * 45.1 / 7.5
    M_u = (5 * M_p - 0.85 * M_y) / 4 + (0.85 * M_y - M_p) / 4 * Y / D_prime
    assert number(sheet, "Flexure, Group I/M_p", "kip*ft") == pytest.approx(M_p, rel=1e-3)
    assert number(sheet, "Flexure, Group I/M_uS", "kip*ft") == pytest.approx(M_u, rel=2e-3)
    live = 842.32 * LINES[which] / 2 * (1 + IMPACT)
    demand = 1.3 * (sum(DEAD[which]) + 5 / 3 * live)
    found = check(sheet, "Flexure, positive, Group I")
    assert found.ratio == pytest.approx(demand / M_u, rel=2e-3)


@pytest.mark.parametrize("code", [Specification.ASD, Specification.LFD])
def test_all_limit_states_of_a_welded_girder_are_there(code: Specification) -> None:
    data = composite_bridge(details(**PLATES, **STIFFENERS), shape="", specification=code)
    names = {item.name for item in composite_calculation(data, proof=None).exterior.checks}
    wanted = {
        "Shear of the panel", "Spacing, end panel", "Spacing of stiffeners", "Stiffener inertia",
        "Stiffener area", "Bearing stiffener, column", "Top flange, pour", "Bottom flange, pour",
        "Fatigue, truck loading", "Studs for strength", "Live-load deflection",
        "Depth of the composite girder",
    }  # fmt: skip
    wanted |= (
        {"Bottom flange, working stress", "Slab, working stress", "Bending beside shear"}
        if code is Specification.ASD
        else {"Flexure, positive, Group I", "Bottom flange, overload", "Moment beside shear",
              "Web bend-buckling, pour"}
    )  # fmt: skip
    assert wanted <= names
    refs = [str(item.ref) for item in composite_calculation(data, proof=None).interior.checks]
    assert all("LRFD" not in ref or "6.10.10.1" in ref for ref in refs)


@pytest.mark.parametrize("code", ["ASD", "LFD"])
@pytest.mark.parametrize("stem", ["heron_slough", "quarry_gulch"])
def test_bridge_files_choose_the_older_codes(stem: str, code: str) -> None:
    text = (SHEETS / f"{stem}.toml").read_text("utf-8")
    found = calculation_of(parse_bridge(f'{text}\n[design]\nspecification = "{code}"\n'))
    assert isinstance(found, CompositeCalculation)
    assert f"composite, {code}" in str(found.verdict)
    record = found.to_json_dict()
    assert record["specification"] == code
    titles = [sheet.title for sheet in found.package().sheets]
    assert titles[0] == f"Interior girder, composite, {code}"
    hands = next(sheet for sheet in found.sheets if sheet.title.startswith("Hand checks"))
    for exact in (1, 2, 3, 4, 5, 6, 7, 8):
        assert number(hands, f"d_{exact}") == 0


def bare(D: float, t_w: float, b: float, t: float) -> tuple[Sheet, Any, Any, Any]:
    sheet = Sheet("bare")
    F = 50 * ksi
    sizes = PlateSizes(
        (b * inch, t * inch), (D * inch, t_w * inch), (16 * inch, 1.5 * inch), F, F, F
    )
    geometry = section_geometry(sheet, plate_girder(sheet, sizes))
    return (
        sheet,
        geometry,
        flange_sides(sheet, geometry, positive=True),
        steel_section(sheet, geometry),
    )


@pytest.mark.parametrize(
    ("D", "t_w", "b", "t", "L_b"),
    [(30, 0.625, 12, 1.0, 15), (60, 0.4375, 14, 0.875, 5), (60, 0.4375, 14, 0.875, 18),
     (60, 0.4375, 14, 0.875, 40)],
)  # fmt: skip
def test_strength_between_braces_against_floats(
    D: float, t_w: float, b: float, t: float, L_b: float
) -> None:
    """All branches of 10.48.4.1, with the psi constants of the book."""
    sheet, geometry, sides, steel = bare(D, t_w, b, t)
    strength_braced(
        sheet, geometry, sides, steel, unbraced=sheet.given("L_b", L_b * ft),
        gradient=sheet.given("C_b", 1.0),
    )  # fmt: skip
    areas = [(b * t, 1.5 + D + t / 2), (D * t_w, 1.5 + D / 2), (24.0, 0.75)]
    A = sum(a for a, _ in areas)
    y = sum(a * at for a, at in areas) / A
    inertia = sum(a * (at - y) ** 2 for a, at in areas) + (b * t**3 + t_w * D**3 + 16 * 1.5**3) / 12
    d = D + t + 1.5
    S, D_c, I_yc, Fy = inertia / (d - y), D + 1.5 - y, t * b**3 / 12, 50_000.0
    lam = 15_400 if D_c <= D / 2 else 12_500
    M_y, L = Fy * S, L_b * 12
    J = (b * t**3 + D * t_w**3 + 16 * 1.5**3) / 3
    r = math.sqrt(I_yc / (b * t))
    L_p, L_r = 9500 * r / math.sqrt(Fy), math.sqrt(572e6 * I_yc * d / (Fy * S))
    if D_c / t_w <= lam / math.sqrt(Fy):
        M_r = 91e6 * I_yc / L * math.sqrt(0.772 * J / I_yc + 9.87 * (d / L) ** 2)
    elif L <= L_p:
        M_r = M_y
    elif L <= L_r:
        M_r = M_y * (1 - 0.5 * (L - L_p) / (L_r - L_p))
    else:
        M_r = M_y / 2 * (L_r / L) ** 2
    M_r = min(M_r, M_y)
    R_b = min(1 - 0.002 * D_c * t_w / (b * t) * (D_c / t_w - lam / math.sqrt(M_r / S)), 1)
    M_u = R_b * min(M_r, min((4400 * t / b) ** 2, Fy) * S)
    assert number(sheet, "M_ur", "kip*ft") == pytest.approx(M_u / 12_000, rel=1e-9)


def test_allowable_between_braces_against_floats() -> None:
    sheet, geometry, sides, steel = bare(30, 0.625, 12, 1.0)
    allowable_between_braces(
        sheet, geometry, sides, steel, unbraced=sheet.given("L_b", 25 * ft),
        gradient=sheet.given("C_b", 1.0),
    )  # fmt: skip
    S = number(sheet, "S_st", "inch**3")
    J = (12 + 30 * 0.625**3 + 16 * 1.5**3) / 3
    stress = 50e6 / S * 144 / 300 * math.sqrt(0.772 * J / 144 + 9.87 * (32.5 / 300) ** 2) / 1000
    assert number(sheet, "F_b1", "ksi") == pytest.approx(min(stress, 27.5))


def test_web_in_the_pour_against_floats() -> None:
    sheet, geometry, _, _ = bare(60, 0.4375, 14, 0.875)
    bend_buckling_lfd(sheet, geometry, sheet.given("D_c", 33 * inch))
    stress = 26.2e6 * 1.3 * 9 * (60 / 33) ** 2 / (60 / 0.4375) ** 2 / 1000
    assert number(sheet, "F_crw", "ksi") == pytest.approx(min(stress, 50))


@pytest.mark.parametrize("code", list(Specification))
def test_exterior_girder_against_interior(code: Specification) -> None:
    """The narrower slab of the exterior girder: N.G. with its article, or nothing by exception."""
    found = by(code)
    flexure = check(found.summary, "Exterior girder not weaker, flexure")
    shear = check(found.summary, "Exterior girder not weaker, shear")
    assert flexure.ratio > 1
    assert not flexure.passed
    assert shear.ratio == pytest.approx(1)
    assert shear.passed
    assert flexure.ref == ("LRFD 2.5.2.7.1" if code is Specification.LRFD else "Std 3.23.2.3.1.4")
    assert not found.passed
    assert any("wider overhang" in line for line in found.to_json_dict()["recommendation"])
    free = composite_bridge(details(widening=Widening.INCONCEIVABLE), specification=code)
    assert composite_calculation(free, proof=None).summary.checks == []


def test_a_wide_overhang_makes_the_exterior_girder_no_weaker() -> None:
    data = composite_bridge(overhang=4.125 * ft, barrier_width=2.5 * ft)
    assert composite_calculation(data, proof=None).summary.passed


@pytest.mark.parametrize("code", list(Specification))
def test_no_check_is_lost_in_the_matrix(code: Specification) -> None:
    """Each check of either girder has a row of its own, whatever it is called."""
    data = composite_bridge(details(**PLATES, **STIFFENERS), shape="", specification=code)
    found = composite_calculation(data, proof=None)
    for sheet in (found.interior, found.exterior):
        labels = [label for label, _ in check_labels(sheet)]
        assert len(set(labels)) == len(labels) == len(sheet.checks)
