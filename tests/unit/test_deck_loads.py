"""Utilities, sidewalks, pedestrians, barriers by owners' rules, owner's factors in a file."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stepcalc import Sheet
from stepcalc.bridge.bridge_file import parse_bridge
from stepcalc.bridge.deck_shares import greatest, line_shares, mirrored, strip_widths
from stepcalc.bridge.girder import girder_calculation, girder_sheet
from stepcalc.bridge.shared_loads import Sharing, edge_load
from stepcalc.bridge.utilities import UTILITY_LOAD, read_utilities
from stepcalc.errors import BridgeFileError, RangeError
from stepcalc.render.sheet_blocks import sheet_blocks
from stepcalc.sheet.proofs import proof_of
from stepcalc.units import ft, klf

ALDER = (Path(__file__).parents[2] / "notebooks/sheets/alder_creek.toml").read_text("utf-8")
WALK = """
[sidewalk]
sidewalk_width = "5 ft"
sidewalk_thickness = "6 in"
sidewalks = 1
sidewalk_separated = false
"""


def number(sheet: Any, name: str, unit: str = "") -> float:
    (node,) = [node for node in sheet.steps if node.name == name]
    return float(node.value.to(unit).magnitude)


def number_of(node: Any) -> float:
    return float(node.value.magnitude)


def alder(*changes: tuple[str, str], more: str = "") -> Any:
    """The rolled-beam bridge, 4 girders at 7.75 ft, with changes of its text."""
    text = ALDER.replace('roadway = "25\'-7\\""\n', "")
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    return parse_bridge(text + more)


def calculated(*changes: tuple[str, str], more: str = "") -> Any:
    return girder_sheet(alder(*changes, more=more), proof=None)


@settings(max_examples=60)
@given(st.floats(-6, 90), st.floats(2, 16), st.integers(2, 9))
def test_shares_of_a_line_balance(position: Any, spacing: Any, girders: Any) -> None:
    """Sum of forces, and of moments about the first girder."""
    shares = line_shares(position, spacing, girders)
    assert shares.sum() == pytest.approx(1.0)
    assert (shares * spacing * np.arange(girders)).sum() == pytest.approx(position, abs=1e-9)


@settings(max_examples=60)
@given(st.floats(-6, 60), st.floats(0, 20), st.floats(2, 16), st.integers(2, 9))
def test_shares_of_a_strip_balance(start: Any, width: Any, spacing: Any, girders: Any) -> None:
    widths = strip_widths(start, start + width, spacing, girders)
    assert widths.sum() == pytest.approx(width, abs=1e-9)
    moment = (widths * spacing * np.arange(girders)).sum()
    assert moment == pytest.approx(width * (start + width / 2), abs=1e-7)
    both = mirrored(widths, both=True)
    assert both == pytest.approx(both[::-1])


def test_a_load_on_the_overhang_lifts_the_next_girder() -> None:
    """2 ft outside, S 8: 1.25 on the first girder, -0.25 on the next."""
    assert line_shares(-2.0, 8.0, 4).tolist() == [1.25, -0.25, 0.0, 0.0]
    assert greatest(line_shares(-2.0, 8.0, 4), "interior") == 0.0


def test_utilities_by_hand() -> None:
    """S 8, four girders.

    0.12 klf at 10 ft: 0.09 and 0.03 on girders 2 and 3; 0.05 klf on girders 2 and 3: 0.025 each;
    0.08 klf by 70 and 30 percent: 0.056 and 0.024.  Girder 2 has 0.171.
    """
    text = (
        "water main: 0.12 klf at 10 ft; duct: 50 plf on girders 2 and 3; "
        "gas: 0.08 klf on girders 2, 3 by 70 and 30 percent"
    )
    sheet = Sheet("utilities")
    inputs: dict[str, Any] = {
        "utilities": text, "spacing": sheet.given("S", 8 * ft), "girders": sheet.given("N_b", 4),
    }  # fmt: skip
    for girder, expected in (("interior", 0.171), ("exterior", 0.0)):
        node: Any = sheet.computed(f"w_{girder}", UTILITY_LOAD, inputs | {"girder": girder}, klf,
                              "utilities", ref="as hung", proof="table")  # fmt: skip
        assert float(node.value.magnitude) == pytest.approx(expected)
        proof, warning = proof_of(node)
        assert warning is None
        assert "water main" in proof.to_json()
    grid = UTILITY_LOAD.function(
        utilities=text, spacing=np.array([8.0, 16.0]), girders=np.array([4.0, 4.0]),
        girder="interior",
    )  # fmt: skip
    assert grid == pytest.approx([0.171, 0.12 * 0.625 + 0.025 + 0.056])


def test_all_girders_together_carry_all_utilities() -> None:
    text = "a: 0.1 klf at -1 ft; b: 0.2 klf at 13 ft; c: 0.3 klf on girders 1, 4 by 25, 75 %"
    total = np.sum([item.on(7.75, 4) for item in read_utilities(text)], axis=0)
    assert total.sum() == pytest.approx(0.6)


@pytest.mark.parametrize(
    "text",
    ["x", "a: 0.1 klf at 3 kip", "a: 0.1 klf on girders 1 and 1", "a: 0 klf at 1 ft", "", ";",
     "a: 0.1 klf on girder 2 by 50 percent", "a: 99 klf at 1 ft", "a: 1 klf at 9000 ft",
     "a: 1 kip at 3 ft"],
)  # fmt: skip
def test_utilities_that_cannot_be_meant(text: Any) -> None:
    with pytest.raises(RangeError, match="utilities"):
        read_utilities(text)


@settings(max_examples=40)
@given(st.integers(3, 12), st.integers(1, 3))
def test_barriers_on_the_first_girders_are_carried_whole(girders: Any, first: Any) -> None:
    """Exterior and first interior girder twice, the others by position: together both barriers."""
    sheet = Sheet("barriers")
    found = edge_load(
        sheet, sheet.given("w_bar", 0.4 * klf), girders=sheet.given("N_b", girders),
        rule=Sharing.FIRST, first=first,
    )  # fmt: skip
    exterior, second, third = (
        number_of(node) for node in (found.exterior, found.first, found.interior)
    )
    middle = girders - 4  # girders beyond the first two of each edge
    if girders == 3:
        total = 2 * exterior + second
    else:
        total = 2 * exterior + 2 * second + min(middle, 2) * third
    assert total == pytest.approx(0.8)


def test_barriers_in_a_file() -> None:
    """Four girders, the first two from each edge: 0.37/2 on each; by 60 and 40: 0.148 inside."""
    rule = 'barrier_sharing = "the first girders from the edge equally"\nbarrier_girders = 2\n'
    assert number(calculated(("forms =", rule + "forms =")), "w_DC2", "klf") == pytest.approx(0.185)
    rule = (
        'barrier_sharing = "the first girders from the edge by percentages"\n'
        'barrier_shares = "60, 40"\n'
    )
    found = number(calculated(("forms =", rule + "forms =")), "w_DC2", "klf")
    assert found == pytest.approx(0.4 * 0.37)


def test_utilities_in_a_file_join_the_wearing_surface() -> None:
    """25 psf on 25.583 ft, four girders: 0.15990; 0.06 klf at 11 ft: 0.0348 on girder 2."""
    sheet = calculated(("forms =", 'utilities = "main: 0.06 klf at 11 ft"\nforms ='))
    share = 0.06 * (1 - 3.25 / 7.75)
    assert number(sheet, "w_DW", "klf") == pytest.approx(0.025 * 25.58333333 / 4 + share)


def test_sidewalk_by_hand() -> None:
    """Deck 28.25 ft, barriers 1'-4", walk 5 ft: roadway 20.583 ft, two narrow lanes.

    Weight 0.5 ft x 150 pcf = 75 psf on 5 ft; equal shares of 1.25 ft: 0.09375 klf beside the
    barriers' 0.185.  Pedestrians 0.075 x 1.25 = 0.09375 klf, 25.89 k-ft, 2.203 kip.
    """
    sheet = calculated(more=WALK)
    assert number(sheet, "w_r", "ft") == pytest.approx(28.25 - 8 / 3 - 5)
    assert number(sheet, "w_DC2", "klf") == pytest.approx(0.185 + 0.09375)
    assert number(sheet, "w_PL", "klf") == pytest.approx(0.09375)
    M_PL = 0.09375 * 47**2 / 8
    assert number(sheet, "M_PL", "kip*ft") == pytest.approx(M_PL)
    assert number(sheet, "V_PL", "kip") == pytest.approx(0.09375 * 23.5)
    g_1, M_HL = number(sheet, "g_M1"), number(sheet, "M_HL", "kip*ft")
    M_LL = number(sheet, "M_LL", "kip*ft")
    assert number(sheet, "M_P1", "kip*ft") == pytest.approx(g_1 / 1.2 * M_HL + M_PL)
    assert number(sheet, "M_P2", "kip*ft") == pytest.approx(M_LL + M_PL)
    assert number(sheet, "N_Lw") == 2  # 25.58 ft between the barriers
    assert number(sheet, "M_w", "kip*ft") == pytest.approx(M_LL)
    assert number(sheet, "M_LP", "kip*ft") == pytest.approx(M_LL + M_PL)
    dead = sum(number(sheet, f"M_{tag}", "kip*ft") for tag in ("DC1", "DC2"))
    strength = 1.25 * dead + 1.5 * number(sheet, "M_DW", "kip*ft") + 1.75 * (M_LL + M_PL)
    assert number(sheet, "M_u", "kip*ft") == pytest.approx(strength)
    check = next(check for check in sheet.checks if check.name == "Live-load deflection")
    assert float(check.capacity.to("ft").magnitude) == pytest.approx(47 / 1000)


def test_sidewalk_by_the_lever_rule() -> None:
    """The walk from 1'-4" to 6'-4" of the edge, girder 2'-6" from it: -1.1667 to 3.8333 ft.

    On the second girder: middle 1.3333 ft, 5 x 1.3333/7.75 = 0.86022 ft.
    """
    sheet = calculated(more=WALK + 'walk_sharing = "lever rule"\n')
    (node,) = [node for node in sheet.steps if node.name == "b_PL"]
    assert float(node.value.magnitude) == pytest.approx(5 * (4 / 3) / 7.75)


def test_people_who_relieve_an_interior_girder_do_not_stand_there() -> None:
    """From 0 to 3.8333 ft: middle 1.9167 ft, 3.8333 x 1.9167/7.75 = 0.94803 ft, x 0.075 ksf.

    A walk that ends outside the exterior girder puts nobody on the interior ones.
    """
    sheet = calculated(more=WALK + 'walk_sharing = "lever rule"\n')
    inner = 23 / 6
    assert number(sheet, "w_PL", "klf") == pytest.approx(0.075 * inner * inner / 2 / 7.75)
    assert number(sheet, "w_PL", "klf") > 0.075 * 5 * (4 / 3) / 7.75
    outside = calculated(
        ('overhang = "2\'-6\\""', 'overhang = "7 ft"'), more=WALK + 'walk_sharing = "lever rule"\n'
    )
    assert number(outside, "w_PL", "klf") == 0


def test_a_walk_on_three_girders_takes_the_lever_rule() -> None:
    """S 9 ft, three girders: one lane (1 + 3/9)/2 x 1.2 = 0.8; two 0.6667 + (5/9)/2 = 0.9444."""
    sheet = calculated(
        ("girders = 4", "girders = 3"), ('girder_spacing = "7\'-9\\""', 'girder_spacing = "9 ft"'),
        ('"15\'-8\\""', '"15 ft"'), more=WALK,
    )  # fmt: skip
    for tag in "MV":
        assert number(sheet, f"g_{tag}P") == pytest.approx(1.2 * 2 / 3)
    assert number(sheet, "N_L") == 1  # 23 - 8/3 - 5 = 15.33 ft
    assert number(sheet, "w_rw", "ft") == pytest.approx(23 - 8 / 3)
    assert number(sheet, "N_Lw") == 2  # 20.33 ft: two lanes of half of it
    assert number(sheet, "g_Vw") == pytest.approx(2 / 3 + 5 / 18)
    M = number(sheet, "M_HL", "kip*ft")
    assert number(sheet, "M_w", "kip*ft") == pytest.approx((2 / 3 + 5 / 18) * M)


def test_one_lane_beside_the_walk() -> None:
    """A walk of 9 ft leaves 16.58 ft, one lane: vehicles alone, with m 1.20, or with the walk."""
    sheet = calculated(more=WALK.replace("5 ft", "9 ft"))
    assert number(sheet, "N_L") == 1
    single = number(sheet, "M_P1", "kip*ft")
    alone, astray = number(sheet, "M_LL", "kip*ft"), number(sheet, "M_w", "kip*ft")
    assert number(sheet, "M_P2", "kip*ft") == pytest.approx(single)
    assert number(sheet, "M_LP", "kip*ft") == pytest.approx(max(single, alone, astray))
    assert number(sheet, "N_Lw") == 2
    assert astray > alone  # two lanes between the barriers


def test_a_separated_walk_has_a_rail_and_no_stray_vehicle() -> None:
    more = WALK.replace("false", "true") + 'rail_width = "8 in"\nrail_weight = "0.06 klf"\n'
    sheet = calculated(more=more)
    assert number(sheet, "w_r", "ft") == pytest.approx(28.25 - 8 / 3 - 5 - 2 / 3)
    assert number(sheet, "w_DC2", "klf") == pytest.approx(0.185 + 0.09375 + 0.015)
    assert not [node for node in sheet.steps if node.name == "M_w"]


def test_owners_factors_and_load_modifiers() -> None:
    """eta = 1.05 x 1.05 = 1.1025 on strength alone; gamma_LL 1.9; Strength II written at 1.5."""
    plain = calculated()
    more = "[factors]\neta_D = 1.05\neta_R = 1.05\ngamma_LL = 1.9\ngamma_LL2 = 1.5\n"
    sheet = calculated(more=more)
    D = number(plain, "M_DC1", "kip*ft") + number(plain, "M_DC2", "kip*ft")
    W, LL = number(plain, "M_DW", "kip*ft"), number(plain, "M_LL", "kip*ft")
    assert number(plain, "M_1", "kip*ft") == pytest.approx(1.25 * D + 1.5 * W + 1.75 * LL)
    assert number(plain, "M_4", "kip*ft") == pytest.approx(1.5 * (D + W))
    assert number(plain, "M_u", "kip*ft") == number(plain, "M_1", "kip*ft")
    assert number(sheet, "M_1", "kip*ft") == pytest.approx(1.1025 * (1.25 * D + 1.5 * W + 1.9 * LL))
    assert number(sheet, "M_2", "kip*ft") == pytest.approx(1.1025 * (1.25 * D + 1.5 * W + 1.5 * LL))
    assert number(sheet, "M_SII", "kip*ft") == number(plain, "M_SII", "kip*ft")
    (given_,) = [node for node in sheet.givens if node.name == "gamma_LL"]
    assert given_.source == "owner's rule"
    assert "the code has 1.75" in given_.description


def test_every_limit_state_is_named_on_the_sheet() -> None:
    text = calculated().to_json()
    for state in ("Strength II", "Strength III", "Strength IV", "Strength V", "Extreme Event",
                  "Service I", "Service II", "Fatigue", "Construction"):  # fmt: skip
        assert f'"{state}' in text
    assert "Unfactored reactions" in text


@pytest.mark.parametrize(
    ("changes", "more", "words"),
    [
        ((), WALK.replace("sidewalks = 1\n", ""), "sidewalks in .sidewalk. is missing"),
        ((), WALK + 'rail_width = "8 in"\n', "rail_width"),
        ((), WALK.replace("false", "true"), "rail_width"),
        ((('"LRFD"', '"ASD"'),), WALK, "sidewalk"),
        ((('"LRFD"', '"LFD"'),), "[factors]\ngamma_LL = 2.0\n", "gamma_LL"),
        ((), "[factors]\ngamma_LL = 9\n", "gamma_LL"),
        ((("forms =", "barrier_girders = 2\nforms ="),), "", "barrier_girders"),
        ((("forms =", 'utilities = "a: 0.1 klf on girder 7"\nforms ='),), "", "girder 7"),
        ((("forms =", 'utilities = "a pipe"\nforms ='),), "", "utilities"),
        (
            (("forms =", 'barrier_sharing = "the first girders from the edge by percentages"\n'
              'barrier_shares = "60, 50"\nforms ='),),
            "", "barrier_shares",
        ),
        (
            (("forms =", 'barrier_sharing = "the first girders from the edge by percentages"\n'
              'barrier_shares = "50, 30, 20"\nforms ='),),
            "", "6 or more",
        ),
        ((), WALK.replace("5 ft", "16 ft"), "roadway"),
    ],
)  # fmt: skip
def test_files_that_cannot_be_meant(changes: Any, more: Any, words: Any) -> None:
    with pytest.raises(BridgeFileError, match=words):
        alder(*changes, more=more)


def test_the_demo_with_a_sidewalk_draws_it_and_rates_the_beam() -> None:
    """Willow Ford: walk and rail at the left, the barrier between walk and roadway."""
    place = Path(__file__).parents[2] / "notebooks/sheets/willow_ford.toml"
    found = girder_calculation(parse_bridge(place.read_text("utf-8")), proof=None)
    assert found.passed
    assert found.rating is not None
    assert found.sheet.warnings == []
    (figure,) = [
        block["data"] for block in sheet_blocks(found.sheet)
        if block["kind"] == "figure" and block["data"]["kind"] == "bridge_section"
    ]  # fmt: skip
    rail = 10 / 12
    assert figure["walks"][0]["start"] == pytest.approx(rail)
    assert figure["barriers"] == pytest.approx([rail + 5, 35.0])
    assert figure["roadway"] == pytest.approx([rail + 5 + 4 / 3, 35 - 4 / 3])
    width = figure["roadway"][1] - figure["roadway"][0]
    assert width == pytest.approx(number(found.sheet, "w_r", "ft"))
