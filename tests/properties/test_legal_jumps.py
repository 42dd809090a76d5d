"""The jumps that the code makes, each with its article and the test that holds it at its place.

Continuity everywhere is no law of the code. What is listed here may jump; what stands in
`CONTINUOUS` may not, and its tests compare both sides of the branch point.
"""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from stepcalc import Sheet
from stepcalc.bridge.lanes.deck import Deck
from stepcalc.bridge.lanes.skew import skew_corrections, state_skew
from stepcalc.units import Q_, ft, inch
from tests.unit.whole_bridge import benchmark

TESTS = Path(__file__).parents[1]

JUMPS = {
    "6.10.6.2.2, compact to noncompact composite web": (
        "properties/test_composite_laws.py",
        "test_jump_compact_to_noncompact_composite_6_10_6_2_2",
    ),
    "6.10.6.2.3, loss of Appendix A6 at I_yc/I_yt = 0.3": (
        "properties/test_composite_laws.py",
        "test_jump_loss_of_appendix_a6_6_10_6_2_3",
    ),
    "6.10.7.3, ductility": (
        "properties/test_composite_laws.py",
        "test_jump_ductility_6_10_7_3_is_a_verdict_only",
    ),
    "6.10.1.10.2, web limit of two editions": (
        "properties/test_composite_laws.py",
        "test_jump_of_the_two_editions_at_the_web_limit",
    ),
    "6.10.9.3.2, flange area 2.5 times smaller than the web's": (
        "properties/test_details_laws.py",
        "test_light_flanges_lose_part_of_the_tension_field_at_once",
    ),
    "6.10.9.3.3, end against interior panel": (
        "properties/test_details_laws.py",
        "test_interior_panel_resists_no_less_than_an_end_panel",
    ),
    "6.10.9.1, d_o = 3 D": (
        "properties/test_details_laws.py",
        "test_tension_field_ends_at_three_depths",
    ),
    "6.10.9.3.2-6, C where 1.40 meets 1.57": (
        "properties/test_details_laws.py",
        "test_printed_constants_jump_by_a_thousandth_at_elastic_buckling",
    ),
    "3.6.1.1.1, number of design lanes": (
        "properties/test_legal_jumps.py",
        "test_lanes_jump_at_whole_widths",
    ),
    "4.6.2.2.2e, skew of 30 degrees": (
        "properties/test_legal_jumps.py",
        "test_skew_reduces_from_thirty_degrees_on",
    ),
}
CONTINUOUS = {
    "flange local buckling, lateral-torsional buckling, web slenderness of A6, R_b": (
        "properties/test_composite_laws.py",
        "test_continuous_where_the_code_is",
    ),
    "plastic moment at every case": (
        "properties/test_composite_laws.py",
        "test_the_plastic_moment_never_jumps",
    ),
    "D_p/D_t = 0.1": (
        "properties/test_composite_laws.py",
        "test_full_plastic_moment_meets_its_reduction",
    ),
    "columns": (
        "properties/test_details_laws.py",
        "test_column_is_continuous_where_buckling_becomes_elastic",
    ),
    "C at 1.12": (
        "properties/test_details_laws.py",
        "test_panel_is_continuous_where_the_web_begins_to_buckle",
    ),
    "D6.5.3 at N/d = 0.2": (
        "properties/test_legal_jumps.py",
        "test_crippling_is_continuous_at_a_fifth_of_the_depth",
    ),
}


@pytest.mark.parametrize("what", [*JUMPS, *CONTINUOUS])
def test_every_jump_and_every_continuity_has_its_test(what: str) -> None:
    file, name = (JUMPS | CONTINUOUS)[what]
    assert f"def {name}(" in (TESTS / file).read_text("utf-8")


@pytest.mark.parametrize(("overhang", "lanes"), [(3.0, 3), (2.874, 2), (8.874, 3), (8.876, 4)])
def test_lanes_jump_at_whole_widths(overhang: float, lanes: int) -> None:
    """3.6.1.1.1: 33 ft between outer girders, barriers of 1.375 ft; lanes change at 36, 48 ft."""
    roadway = 33 + 2 * overhang - 2.75
    assert int(roadway / 12) == lanes
    sheet = benchmark().interior.revise(OH=overhang * ft)
    assert float(sheet["N_L"].value) == lanes


def test_skew_reduces_from_thirty_degrees_on() -> None:
    """c_1 = 0.25 (K_g/12 L t_s³)^0.25 (S/L)^0.5 at once: tan 30^1.5 = 0.4387."""
    sheet = Sheet("skew")
    put = sheet.given
    deck = Deck(
        put("S", 8.25 * ft), put("t_s", 8 * inch), put("d_e", 1.6 * ft), put("N_b", 5),
        put("N_L", 3), put("w_r", 36.25 * ft), put("K_g", Q_(235_690, "inch**4")),
        put("L", 62 * ft),
    )  # fmt: skip
    skew = state_skew(sheet, 30.0, source="plan")
    skew_corrections(sheet, deck, skew, reduce_moment=True)
    below, at = (
        float(sheet.revise(theta=Q_(angle, "degree"))["k_sM"].value) for angle in (29.9999, 30.0)
    )
    c_1 = 0.25 * 0.61875**0.25 * np.sqrt(8.25 / 62)
    assert below == 1
    assert at == pytest.approx(1 - c_1 * np.tan(np.pi / 6) ** 1.5, rel=1e-4)


def test_crippling_is_continuous_at_a_fifth_of_the_depth() -> None:
    """D6.5.3: 3 N/d and 4 N/d - 0.2 are both 0.6 at N/d = 0.2."""
    edge = 0.2 * 35.6
    short, long = (
        float(benchmark().interior.revise(N=edge * f * inch)["R_nc"].value.to("kip").magnitude)
        for f in (1 - 1e-9, 1 + 1e-9)
    )
    assert long == pytest.approx(short, rel=1e-7)
    assert benchmark().interior.revise(N=edge * 0.99 * inch)["R_nc"].branch.startswith("short")
