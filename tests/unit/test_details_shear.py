"""Shear of stiffened webs: the plate-girder benchmark, plain floats, edges, older codes."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest

from stepcalc.bridge.details.older_shear_panels import (
    asd_interaction,
    asd_panel,
    lfd_interaction,
    lfd_panel,
)
from stepcalc.bridge.details.shear_panels import end_panel, interior_panel, unstiffened_panel
from stepcalc.units import Q_
from tests.unit.details_girder import Bench, bench


def ratio(slender: float, k: float, fy: float) -> float:
    """Return C by plain floats."""
    root = math.sqrt(29000 * k / fy)
    if slender <= 1.12 * root:
        return 1.0
    if slender <= 1.40 * root:
        return 1.12 / slender * root
    return 1.57 / slender**2 * root**2


def nominal(D: float, tw: float, fy: float, do: float, flanges: float) -> float:
    """Return V_n of an interior panel by plain floats, kip."""
    vp, a = 0.58 * fy * D * tw, do / D
    if a > 3:
        return vp * ratio(D / tw, 5, fy)
    C = ratio(D / tw, 5 + 5 / a**2, fy)
    root = math.sqrt(1 + a * a)
    extra = root if 2 * D * tw / flanges <= 2.5 else root + a
    return vp * (C + 0.87 * (1 - C) / extra)


def test_web_44_by_a_half_without_stiffeners() -> None:
    """Own computation: D/t_w 88, C 0.5879, 375.1 kip."""
    b = bench()
    found = unstiffened_panel(b.sheet, b.web(), demand=b.put("V_u", 300, "kip"))
    assert b.read("C") == pytest.approx(0.5879, rel=2e-4)
    assert b.read("V_cr", "kip") == pytest.approx(375.1, rel=2e-4)
    assert found.checks[0].ratio == pytest.approx(300 / 375.1, rel=2e-4)
    assert found.nominal is found.buckling


def test_end_panel_at_66_in() -> None:
    """Own computation: d_o = 1.5 D, k 7.222, C 0.8237, 525.5 kip."""
    b = bench()
    found = end_panel(
        b.sheet, b.web(), spacing=b.put("d_o", 66, "inch"), demand=b.put("V_u", 400, "kip")
    )
    assert b.read("k") == pytest.approx(7.222, rel=2e-4)
    assert b.read("C") == pytest.approx(0.8237, rel=2e-4)
    assert b.read("V_cr", "kip") == pytest.approx(525.5, rel=2e-4)
    assert found.checks[0].ratio == pytest.approx(400 / 525.5, rel=2e-4)
    assert found.checks[1].ratio == pytest.approx(1.0)
    assert found.checks[1].passed


def interior(b: Bench, spacing: float, *, flanges: float = 31.5, **more: Any) -> Any:
    return interior_panel(
        b.sheet,
        b.web(),
        spacing=b.put("d_o", spacing, "inch"),
        flanges=b.put("A_fl", flanges, "inch**2"),
        demand=b.put("V_u", 400, "kip"),
        **more,
    )


def test_interior_panel_at_66_in() -> None:
    """Own computation: 2 D t_w over the flanges 1.397, V_n 579.8 kip."""
    b = bench()
    found = interior(b, 66)
    assert b.read("r_w") == pytest.approx(1.397, rel=2e-4)
    assert b.read("V_n", "kip") == pytest.approx(579.8, rel=2e-4)
    assert b.sheet["V_n"].branch == "full tension field"
    assert found.checks[0].ratio == pytest.approx(400 / 579.8, rel=2e-4)


def test_interior_panels_against_plain_floats() -> None:
    b = bench()
    interior(b, 66)
    spacing = np.array([22.0, 44.0, 66.0, 100.0, 131.9, 132.0, 140.0])
    flanges = np.array([12.0, 17.6, 17.7, 40.0])
    thickness = np.array([0.375, 0.5, 0.875])
    out = b.sheet.evaluate(
        {
            "d_o": Q_(spacing, "inch")[:, None, None],
            "A_fl": Q_(flanges, "inch**2")[None, :, None],
            "t_w": Q_(thickness, "inch")[None, None, :],
        },
        outputs=["V_n"],
    )["V_n"].magnitude
    for i, do in enumerate(spacing):
        for j, area in enumerate(flanges):
            for m, tw in enumerate(thickness):
                assert out[i, j, m] == pytest.approx(nominal(44, tw, 50, do, area))


def test_light_flanges_have_less_tension_field() -> None:
    b = bench()
    interior(b, 66, flanges=17.5)
    assert b.sheet["V_n"].branch == "light flanges: reduced tension field"
    expected = 638 * (0.82369 + 0.87 * (1 - 0.82369) / (math.sqrt(3.25) + 1.5))
    assert b.read("V_n", "kip") == pytest.approx(expected, rel=1e-4)


def test_stiffeners_too_far_apart_are_none() -> None:
    """Beyond 3 D: k = 5, no tension field; with longitudinal stiffeners beyond 1.5 D."""
    b = bench()
    interior(b, 132.1)
    assert b.read("k") == 5
    assert b.read("V_n", "kip") == pytest.approx(375.1, rel=2e-4)
    along = bench()
    interior(along, 66.1, longitudinal=True)
    assert along.read("k") == 5
    assert "unstiffened" in str(along.sheet["V_n"].branch)


def test_end_panel_beyond_one_and_a_half_depths_fails_by_its_spacing() -> None:
    b = bench()
    found = end_panel(
        b.sheet, b.web(), spacing=b.put("d_o", 70, "inch"), demand=b.put("V_u", 10, "kip")
    )
    assert found.checks[0].passed
    assert not found.checks[1].passed
    assert found.checks[1].ref == "LRFD 6.10.9.3.3"


def test_depth_of_the_girder_has_no_place_in_the_panel() -> None:
    """The web is asked for by its own record: d cannot be taken for D by an argument's order."""
    b = bench()
    with pytest.raises(TypeError, match="positional argument"):
        interior_panel(b.sheet, b.web(), b.put("d", 46.25, "inch"))  # type: ignore[call-arg]  # the point of the test


# older codes


def test_working_stress_interior_panel() -> None:
    """By hand, 36 ksi: 60 x 3/8 in, d_o 75 in, k 8.2; C = 4.5e7 x 8.2/(160^2 x 36,000) = 0.4004."""
    b = bench()
    web = b.web(60, 0.375, 36)
    panel = asd_panel(
        b.sheet,
        web,
        spacing=b.put("d_o", 75, "inch"),
        shear=b.put("V", 150, "kip"),
        interior=True,
    )
    assert b.read("C") == pytest.approx(0.40039, rel=1e-4)
    assert b.read("f_v", "ksi") == pytest.approx(150 / 22.5)
    # 12 x (0.40039 + 0.87 x 0.59961 / 1.60078) = 8.7152
    assert b.read("F_v", "ksi") == pytest.approx(8.7152, rel=1e-4)
    assert panel.checks[0].ratio == pytest.approx(6.66667 / 8.7152, rel=1e-4)
    # d_o/D = 1.25 against min(3, 67,600/160^2 = 2.6406)
    assert panel.checks[1].ratio == pytest.approx(1.25 / 2.640625)


def test_working_stress_end_panel_has_no_tension_field() -> None:
    b = bench()
    asd_panel(
        b.sheet,
        b.web(60, 0.375, 36),
        spacing=b.put("d_o", 75, "inch"),
        shear=b.put("V", 90, "kip"),
        interior=False,
    )
    assert b.read("F_v", "ksi") == pytest.approx(12 * 0.40039, rel=1e-4)
    assert b.check("Spacing, end panel").ratio == pytest.approx(75 / 90)


def test_load_factor_panel_and_its_interaction() -> None:
    """V_p = 0.58 x 36 x 22.5 = 469.8; V_u = 469.8 x 0.72627 = 341.2; V/V_u = 0.879."""
    b = bench()
    panel = lfd_panel(
        b.sheet,
        b.web(60, 0.375, 36),
        spacing=b.put("d_o", 75, "inch"),
        shear=b.put("V", 300, "kip"),
        interior=True,
    )
    assert b.read("V_us", "kip") == pytest.approx(469.8 * 8.7152 / 12, rel=1e-4)
    assert panel.checks[0].ratio == pytest.approx(300 / (469.8 * 8.7152 / 12), rel=1e-4)
    check = lfd_interaction(
        b.sheet, panel, moment=b.put("M", 800, "kip*ft"), strength=b.put("M_us", 1000, "kip*ft")
    )
    allowed = 1.375 - 0.625 * 300 / (469.8 * 8.7152 / 12)
    assert check.ratio == pytest.approx(0.8 / allowed, rel=1e-4)
    assert b.sheet["r_M"].branch == "reduced by the shear"


def test_load_factor_web_without_stiffeners() -> None:
    b = bench()
    panel = lfd_panel(b.sheet, b.web(), spacing=None, shear=b.put("V", 300, "kip"), interior=False)
    # 4.5e7 x 5/(88^2 x 50,000) = 0.58110
    assert b.read("V_us", "kip") == pytest.approx(638 * 0.58110, rel=1e-4)
    assert len(panel.checks) == 1


def test_working_stress_interaction_meets_the_full_allowable() -> None:
    """0.754 - 0.34 x 0.6 = 0.55: no jump where the interaction begins."""
    b = bench()
    panel = asd_panel(
        b.sheet,
        b.web(60, 0.375, 36),
        spacing=b.put("d_o", 75, "inch"),
        shear=b.put("V", 150, "kip"),
        interior=True,
    )
    check = asd_interaction(
        b.sheet,
        panel,
        bending=b.put("f_s", 18, "ksi"),
        yield_strength=b.put("F_y", 36, "ksi"),
    )
    # 0.754 - 0.34 x 6.66667/8.7152 = 0.49392
    assert check.ratio == pytest.approx(18 / (0.49392 * 36), rel=1e-4)
    edge = 0.6 * b.read("F_v", "ksi") * 22.5
    shears = Q_(np.array([edge * (1 - 1e-9), edge * (1 + 1e-9), edge / 0.6]), "kip")
    low, high, full = b.sheet.evaluate({"V": shears}, outputs=["F_s"])["F_s"].magnitude
    assert low == pytest.approx(19.8)
    assert high == pytest.approx(19.8, rel=1e-8)
    assert full == pytest.approx(0.414 * 36)
