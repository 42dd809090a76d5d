"""Fatigue constants, shear connectors and panels against published values."""

from __future__ import annotations

from functools import cache, partial
from typing import TYPE_CHECKING

from stepcalc.bridge.constants import code_constant
from stepcalc.bridge.details.fatigue_categories import chosen_category
from stepcalc.bridge.details.shear_panels import PanelWeb, unstiffened_panel
from stepcalc.bridge.details.stud_fatigue import stud_fatigue
from stepcalc.bridge.details.stud_layout import full_rows
from stepcalc.bridge.details.studs import (
    Stud,
    positive_force,
    required_connectors,
    stud_strength,
)
from stepcalc.units import Q_, inch
from tests.published.entries import assert_agrees, each, entry
from tests.unit.details_girder import Bench, bench

if TYPE_CHECKING:
    from collections.abc import Callable

    from tests.published.entries import Readings

CATEGORIES = {
    "A": "A", "B": "B", "Bp": "B'", "C": "C", "Cp": "C'", "D": "D", "E": "E", "Ep": "E'"
}  # fmt: skip


@cache
def category(name: str) -> Bench:
    """Return a sheet with what the 7th edition tabulates for a category."""
    b = bench()
    choice = b.sheet.given("category", CATEGORIES[name], choices="stress_categories")
    chosen_category(b.sheet, choice, b.rules("7th"))
    return b


def fatigue(prefix: str, node: str, unit: str) -> dict[str, Callable[[], float]]:
    return {f"{prefix}_{key}": partial(_read, key, node, unit) for key in CATEGORIES}


def _read(key: str, node: str, unit: str) -> float:
    return category(key).read(node, unit)


@cache
def studs() -> Bench:
    b = bench()
    stud = Stud(
        b.put("d_sc", 0.875, "inch"),
        b.put("h_s", 6, "inch"),
        b.put("F_u", 60, "ksi"),
        b.put("n_row", 3),
    )
    f_c = b.put("f_c", 4, "ksi")
    strength = stud_strength(b.sheet, stud, concrete=f_c, modulus=b.put("E_c", 3834, "ksi"))
    # a slab of 2802 kip beside steel of 2400 kip
    force = positive_force(
        b.sheet,
        concrete=f_c,
        width=b.put("b_s", 2802 / (0.85 * 4 * 8), "inch"),
        thickness=b.put("t_s", 8, "inch"),
        steel=b.put("P_st", 2400, "kip"),
    )
    required = required_connectors(b.sheet, force, strength)
    full_rows(b.sheet, required=required, per_row=stud.per_row)
    stud_fatigue(b.sheet, b.rules(), diameter=stud.diameter, traffic=b.traffic(4000))
    return b


OLDER_HALF = 0.5  # LRFD before 2009: 5.5 d^2/2 with the finite-life load factor
OLDER_C = 1.52 / 1.57  # coefficient of elastic shear buckling: LRFD 1994-2003 over 2004 on


@cache
def panel() -> Bench:
    """Return the 54 x 1/2 in web of the same example, by the general panel."""
    b = bench()
    web = PanelWeb(
        b.sheet.given("D", 54 * inch), b.put("t_w", 0.5, "inch"), b.put("F_yw", 50, "ksi")
    )
    unstiffened_panel(b.sheet, web, demand=b.put("V_u", 200, "kip"))
    return b


READINGS: Readings = {
    "code-constants": {"IM_fatigue": lambda: code_constant("IM_f").value},
    "fatigue-constants-and-75yr-adtt-2010s": {
        **fatigue("A", "A_FT", "ksi**3"),
        **fatigue("F_TH", "DeltaF_TH", "ksi"),
        **fatigue("ADTT_equiv", "ADTT_inf", ""),
    },
    "nhi04041-shear-studs": {
        "Zr": lambda: studs().read("Z_r", "kip") * OLDER_HALF,
        "Asc": lambda: studs().read("A_sc", "inch**2"),
        "Qn": lambda: studs().read("Q_n", "kip"),
        "Qr": lambda: studs().read("Q_r", "kip"),
        "n_studs_strength": lambda: studs().read("n_req"),
    },
}


@each(READINGS)
def test_published(entry_id: str, name: str, reading: Callable[[], float]) -> None:
    assert_agrees(entry_id, name, reading)


def test_general_panel_gives_the_published_shear_too() -> None:
    """NHI-04-041, Design Step 3.11: V_p 783 kip, V_n 295.9 kip with 1.52 for 1.57."""
    printed = entry("nhi04041-shear-unstiffened").expected
    assert abs(panel().read("V_p", "kip") - printed["Vp"].value) <= printed["Vp"].tolerance
    found = panel().read("V_cr", "kip") * OLDER_C
    assert abs(found - printed["Vn"].value) <= printed["Vn"].tolerance


def test_studs_are_welded_in_full_rows() -> None:
    assert studs().read("N_studs") == 81
    assert Q_(studs().sheet["N_rows"].value).magnitude == 27
