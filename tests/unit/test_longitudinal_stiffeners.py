"""Longitudinal stiffeners: bend-buckling by hand, size by hand, continuity at d_s/D_c = 0.4."""

from __future__ import annotations

import math
from typing import Any

import pytest

from stepcalc import Sheet
from stepcalc.bridge.composite.stiffened_web import stiffened_coefficient
from stepcalc.bridge.details.longitudinal_stiffeners import AlongWeb, longitudinal_stiffener
from stepcalc.bridge.details.shear_panels import PanelWeb
from stepcalc.units import Q_, inch, ksi


def coefficient(d_s: float, D_c: float, D: float = 90.0) -> float:
    sheet = Sheet("web")
    put = sheet.given
    stiffened_coefficient(
        sheet,
        put("D", D * inch),
        distance=put("d_s", d_s * inch),
        compressed=put("D_c", D_c * inch),
    )
    return float(sheet["k_w"].value)


@pytest.mark.parametrize(
    ("d_s", "D_c", "by_hand"),
    [
        (18, 45, 5.17 / 0.2**2),  # two fifths of D_c: 129.25
        (12, 45, 11.64 / (33 / 90) ** 2),  # too near the flange
        (40, 45, 9 / 0.5**2),  # too near the axis: never less than without it
        (18, 95, 7.2),
    ],
)
def test_coefficient_by_hand(d_s: float, D_c: float, by_hand: float) -> None:
    assert coefficient(d_s, D_c) == pytest.approx(by_hand)


def test_both_formulas_meet_at_two_fifths() -> None:
    """5.17/0.4² = 32.31 and 11.64/0.6² = 32.33, times (D/D_c)²: 0.06 % apart, as printed."""
    below, at = coefficient(0.4 * 45 * (1 - 1e-12), 45), coefficient(18, 45)
    assert below == pytest.approx(at, rel=1e-3)


def girder(**changes: Any) -> Sheet:
    sheet = Sheet("stiffener")
    values = {
        "D": 90 * inch, "t_w": 0.4375 * inch, "F_yw": 50 * ksi, "d_s": 18 * inch, "b_l": 6 * inch,
        "t_s": 0.5 * inch, "F_ys": 50 * ksi, "d_o": 90 * inch, "F_yc": 50 * ksi, "R_h1": 1.0,
        "f_s": 30 * ksi,
    }  # fmt: skip
    put = {name: sheet.given(name, value) for name, value in (values | changes).items()}
    longitudinal_stiffener(
        sheet, AlongWeb(put["d_s"], put["b_l"], put["t_s"], put["F_ys"]),
        PanelWeb(put["D"], put["t_w"], put["F_yw"]), spacing=put["d_o"], flange=put["F_yc"],
        hybrid=put["R_h1"], stress=put["f_s"],
    )  # fmt: skip
    return sheet


def ratio(sheet: Sheet, name: str) -> float:
    return float(sheet[f"Longitudinal stiffener, {name}"].ratio)


def test_size_by_hand() -> None:
    """6 x 1/2 on a 7/16 web, strip 18 x 0.4375 = 7.875 in wide."""
    A, strip, arm = 3.0, 7.875 * 0.4375, (6 + 0.4375) / 2
    y = A * arm / (A + strip)
    inertia = 0.5 * 6**3 / 12 + A * (arm - y) ** 2 + 7.875 * 0.4375**3 / 12 + strip * y**2
    sheet = girder()
    assert ratio(sheet, "width") == pytest.approx(6 / (0.48 * 0.5 * math.sqrt(580)))
    assert ratio(sheet, "inertia") == pytest.approx(90 * 0.4375**3 * (2.4 - 0.13) / inertia)
    r = math.sqrt(inertia / (A + strip))
    need = 0.16 * 90 * math.sqrt(50 / 29000) / math.sqrt(1 - 0.6)
    assert ratio(sheet, "radius") == pytest.approx(need / r)
    assert ratio(sheet, "stress") == pytest.approx(30 / 50)


def test_a_weaker_web_counts_less() -> None:
    weak = girder(F_yw=36 * ksi)
    assert float(weak["A_lw"].value.to("inch**2").magnitude) == pytest.approx(0.72 * 18 * 0.4375**2)
    assert float(Q_(weak["I_l"].value).to("inch**4").magnitude) < float(
        Q_(girder()["I_l"].value).to("inch**4").magnitude
    )


def test_a_stiffener_much_weaker_than_the_flange_has_no_radius() -> None:
    """0.6 F_yc/(R_h F_ys) of 1 and more: no stiffener of this strength is stiff enough."""
    sheet = girder(F_ys=36 * ksi, F_yc=70 * ksi)
    assert not sheet["Longitudinal stiffener, radius"].defined
    assert not sheet["Longitudinal stiffener, radius"].passed
