"""Transverse and bearing stiffeners: the plate-girder benchmark, hand values, older codes."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any

import pytest

from stepcalc.bridge.details.bearing_stiffeners import BearingPairs, bearing_stiffener
from stepcalc.bridge.details.older_shear_panels import asd_panel
from stepcalc.bridge.details.older_stiffeners import (
    older_bearing_stiffener,
    older_transverse_stiffener,
)
from stepcalc.bridge.details.shear_panels import end_panel, interior_panel
from stepcalc.bridge.details.transverse_stiffeners import StiffenerPlate, transverse_stiffener
from stepcalc.errors import RangeError
from tests.unit.details_girder import Bench, bench

if TYPE_CHECKING:
    from stepcalc.bridge.details.shear_panels import PanelShear, PanelWeb


def plate(b: Bench, width: float, thickness: float, *, pair: bool = False) -> StiffenerPlate:
    return StiffenerPlate(
        b.put("b_t", width, "inch"),
        b.put("t_p", thickness, "inch"),
        b.put("F_ys", 50, "ksi"),
        pair,
    )


def panels(b: Bench, web: PanelWeb, left: float, right: float) -> tuple[PanelShear, PanelShear]:
    """Return an end panel and an interior panel of 66 in under shears in kip."""
    do, area = b.put("d_o", 66, "inch"), b.put("A_fl", 31.5, "inch**2")
    with b.sheet.part("Left"):
        first = end_panel(b.sheet, web, spacing=do, demand=b.put("V_u", left, "kip"))
    with b.sheet.part("Right"):
        second = interior_panel(
            b.sheet, web, spacing=do, flanges=area, demand=b.put("V_u", right, "kip")
        )
    return first, second


def stiffener(
    left: float, right: float, *, thickness: float = 0.5, pair: bool = False
) -> tuple[Bench, Any]:
    b = bench()
    web = b.web()
    beside = panels(b, web, left, right)
    return b, transverse_stiffener(
        b.sheet,
        plate(b, 5.5, thickness, pair=pair),
        web,
        spacing=b.sheet["d_o"],
        flange=b.put("b_f", 14, "inch"),
        panels=beside,
    )


def test_stiffener_of_the_benchmark() -> None:
    """Own computation: least width 3.47, 16 t_p = 8, b_f/4 = 3.5; J 0.5, 2.75, 6.71, I_t 27.73."""
    b, found = stiffener(400, 500)
    assert b.read("I_t", "inch**4") == pytest.approx(27.73, rel=2e-4)
    assert b.read("J") == 0.5
    assert b.read("I_t1", "inch**4") == pytest.approx(2.75)
    assert b.read("I_t2", "inch**4") == pytest.approx(6.71, rel=1e-3)
    ratios = [check.ratio for check in found.checks]
    assert ratios[0] == pytest.approx(3.4667 / 5.5, rel=1e-4)
    assert ratios[1] == pytest.approx(5.5 / 8)
    assert ratios[2] == pytest.approx(3.5 / 5.5)
    assert all(check.passed for check in found.checks)


def test_without_tension_field_the_smaller_inertia_is_enough() -> None:
    b, _ = stiffener(525, 525)
    assert b.read("rho_w") == 0
    assert b.read("I_treq", "inch**4") == pytest.approx(2.75)
    assert b.sheet["I_treq"].branch == "no tension field beside the stiffener"


def test_with_part_of_the_tension_field() -> None:
    """V_u 550 between 525.5 and 579.8: share 0.451; 2.75 + 3.96 x 0.451."""
    b, _ = stiffener(400, 550)
    share = (550 - 525.513) / (579.845 - 525.513)
    assert b.read("rho_w") == pytest.approx(share, rel=1e-3)
    expected = 2.75 + (b.read("I_t2", "inch**4") - 2.75) * share
    assert b.read("I_treq", "inch**4") == pytest.approx(expected, rel=1e-3)


def test_an_overloaded_end_panel_counts_as_full_tension_field() -> None:
    b, _ = stiffener(530, 400)
    assert b.read("rho_w") == 1
    assert b.read("I_treq", "inch**4") == pytest.approx(b.read("I_t2", "inch**4"))


def test_slender_stiffener_and_pair() -> None:
    """b_t/t_p = 22: F_crs = 0.31 x 29,000/484 = 18.57 ksi, rho_t = 2.692; pair: (11.5)^3/12."""
    b, found = stiffener(400, 550, thickness=0.25, pair=True)
    assert b.read("F_crs", "ksi") == pytest.approx(18.574, rel=1e-4)
    assert b.read("rho_t") == pytest.approx(50 / 18.574, rel=1e-4)
    assert b.read("I_t", "inch**4") == pytest.approx(0.25 * 11.5**3 / 12)
    hand = 44**4 * (50 / 18.574) ** 1.3 / 40 * (50 / 29000) ** 1.5
    assert b.read("I_t2", "inch**4") == pytest.approx(hand, rel=1e-4)
    assert not found.checks[1].passed


# bearing


def pairs(b: Bench, width: float = 6.0, clip: float = 1.0, **more: Any) -> BearingPairs:
    return BearingPairs(plate(b, width, 0.75), b.put("c_clip", clip, "inch"), **more)


def test_bearing_pair_of_the_benchmark() -> None:
    """Own computation: A_s 13.5, I 122.2, r 3.008, KL/r 10.97, P_e 32,106, P_o 675."""
    b = bench()
    found = bearing_stiffener(b.sheet, pairs(b), b.web(), reaction=b.put("R_u", 450, "kip"))
    assert b.read("A_s", "inch**2") == pytest.approx(13.5)
    assert b.read("I_s", "inch**4") == pytest.approx(122.2, rel=1e-3)
    assert b.read("r_s", "inch") == pytest.approx(3.008, rel=2e-4)
    assert b.read("lambda_c") == pytest.approx(10.97, rel=2e-4)
    assert b.read("P_e", "kip") == pytest.approx(32106, rel=5e-4)
    assert b.read("P_o", "kip") == pytest.approx(675)
    assert b.read("P_r", "kip") == pytest.approx(635.6, rel=2e-4)
    assert b.read("R_br", "kip") == pytest.approx(525.0, rel=2e-4)
    assert found.checks[0].ratio == pytest.approx(6 / 8.67, rel=5e-4)
    assert found.checks[1].ratio == pytest.approx(450 / 525)
    assert found.checks[2].ratio == pytest.approx(450 / 635.6, rel=2e-4)


def test_two_pairs_take_the_web_between_them() -> None:
    b = bench()
    bearing_stiffener(
        b.sheet,
        pairs(b, pairs=2, pitch=b.put("s_p", 7, "inch")),
        b.web(),
        reaction=b.put("R_u", 450, "kip"),
    )
    assert b.read("A_s", "inch**2") == pytest.approx(4 * 6 * 0.75 + (9 + 7) * 0.5)
    hand = 2 * 0.75 * 12.5**3 / 12 + (16 - 1.5) * 0.125 / 12
    assert b.read("I_s", "inch**4") == pytest.approx(hand)
    assert b.read("A_pn", "inch**2") == pytest.approx(4 * 5 * 0.75)


def test_the_weaker_of_web_and_stiffener_holds_the_column() -> None:
    b = bench()
    bearing_stiffener(b.sheet, pairs(b), b.web(strength=36), reaction=b.put("R_u", 450, "kip"))
    assert b.read("P_o", "kip") == pytest.approx(13.5 * 36)


def test_a_slender_column_buckles_elastically() -> None:
    """Plates of 1 x 3/4 in beside a 240 in deep web: P_o/P_e above 2.25."""
    b = bench()
    bearing_stiffener(
        b.sheet,
        pairs(b, 1.0, 0.25),
        b.web(depth=240),
        reaction=b.put("R_u", 10, "kip"),
    )
    area = 1.5 + 4.5
    inertia = 0.75 * 2.5**3 / 12 + (9 - 0.75) * 0.125 / 12
    slender = 180 / math.sqrt(inertia / area)
    euler = math.pi**2 * 29000 * area / slender**2
    assert 50 * area / euler > 2.25
    assert b.read("P_n", "kip") == pytest.approx(0.877 * euler)
    assert b.sheet["P_n"].branch == "elastic buckling"


# older codes


def test_older_transverse_stiffener() -> None:
    """60 x 3/8 in web, d_o 75 in, one plate 5 x 3/8 in: J = 0.5 (2.5/1.5625 - 2 < 0)."""
    b = bench()
    web = b.web(60, 0.375, 36)
    do = b.put("d_o", 75, "inch")
    panel = asd_panel(b.sheet, web, spacing=do, shear=b.put("V", 150, "kip"), interior=True)
    found = older_transverse_stiffener(
        b.sheet,
        StiffenerPlate(
            b.put("b_t", 5, "inch"), b.put("t_p", 0.375, "inch"), b.put("F_ys", 50, "ksi")
        ),
        web,
        spacing=do,
        flange=b.put("b_f", 16, "inch"),
        panel=panel,
    )
    assert b.read("I_treq", "inch**4") == pytest.approx(75 * 0.375**3 * 0.5)
    assert b.read("I_t", "inch**4") == pytest.approx(0.375 * 125 / 3)
    share = 6.66667 / 8.7152
    field = 0.15 * 2.4 * 60 * 0.375 * (1 - 0.40039) * share - 18 * 0.375**2
    assert b.read("A_treq", "inch**2") == pytest.approx(field * 36 / 50, rel=1e-4)
    assert len(found.checks) == 5
    assert found.checks[0].ratio == pytest.approx(4 / 5)


@pytest.mark.parametrize(
    ("code", "bearing", "column"),
    [
        # A_pn 7.5; x = 33/3.008 = 10.970; C_c = 107.0
        ("ASD", 0.8 * 50 * 7.5, 13.5 * 50 / 2.12 * (1 - 10.970**2 / (2 * 107.0**2))),
        (
            "LFD",
            50 * 7.5,
            0.85 * 13.5 * 50 * (1 - 50 / (4 * math.pi**2 * 29000) * 10.970**2),
        ),
    ],
)
def test_older_bearing_stiffeners(code: str, bearing: float, column: float) -> None:
    b = bench()
    found = older_bearing_stiffener(
        b.sheet, pairs(b), b.web(), reaction=b.put("R", 200, "kip"), code=code
    )
    assert b.read("R_br", "kip") == pytest.approx(bearing)
    assert b.read("P_r", "kip") == pytest.approx(column, rel=1e-4)
    assert b.read("C_c") == pytest.approx(107.0, rel=1e-4)
    # t_p at least 6/12 sqrt(50/33) = 0.6155
    assert found.checks[0].ratio == pytest.approx(0.61546 / 0.75, rel=1e-4)


@pytest.mark.parametrize("code", ["ASD", "LFD"])
def test_older_slender_columns(code: str) -> None:
    b = bench()
    older_bearing_stiffener(
        b.sheet,
        pairs(b, 1.0, 0.25),
        b.web(depth=240),
        reaction=b.put("R", 5, "kip"),
        code=code,
    )
    x = b.read("lambda_c")
    stress = math.pi**2 * 29000 / x**2
    factor = 1 / 2.12 if code == "ASD" else 0.85
    assert b.read("P_r", "kip") == pytest.approx(6.0 * stress * factor)


def test_another_code_is_refused() -> None:
    b = bench()
    with pytest.raises(RangeError, match="'ASD' or 'LFD', not 'LRFD'"):
        older_bearing_stiffener(
            b.sheet, pairs(b), b.web(), reaction=b.put("R", 5, "kip"), code="LRFD"
        )
