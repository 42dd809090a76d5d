"""Every group of the Standard Specifications by hand, and which governs."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stepcalc import Sheet
from stepcalc.bridge.girder import girder_sheet
from stepcalc.bridge.older_groups import (
    GroupLoads,
    allowable_stress_groups,
    load_factor_groups,
)
from stepcalc.units import kip_ft
from tests.unit.bridge_loads import bridge_62_ft


def number(node: Any) -> float:
    return float(node.value.magnitude)


def groups(write: Any, D: Any, L: Any, *, light: Any = False, **more: Any) -> Any:
    sheet = Sheet("groups")
    give = sheet.given
    loads = GroupLoads(
        give("D", D * kip_ft), give("L", L * kip_ft),
        **{key: give(key, value * kip_ft) for key, value in more.items()},
    )  # fmt: skip
    factor, beta = (1.0, 1.0) if write is allowable_stress_groups else (1.3, 5 / 3)
    first = sheet.step("M_first", factor * (loads.dead + beta * loads.live), kip_ft, "Group I",
                       ref="Std 3.22")  # fmt: skip
    worst = write(sheet, loads, name="M", unit=kip_ft, first=first, light=light)
    return sheet, worst


def of(sheet: Any, tag: str) -> float:
    return number(sheet[f"M_G{tag}"])


def test_allowable_stress_groups_by_hand() -> None:
    """D 300, L 450, permit 900, W 100, WL 40, T 60; Group I 750.

    IA (300 + 900)/1.5 = 800; IB (300 + 900)/(0.75/0.55) = 880; II 400/1.25 = 320;
    III (300 + 450 + 30 + 40)/1.25 = 656; IV (750 + 60)/1.25 = 648; V (400 + 60)/1.4 = 328.57;
    VI (750 + 30 + 40 + 60)/1.4 = 628.57.
    """
    sheet, worst = groups(
        allowable_stress_groups, 300, 450, light=True, permit=900, wind=100, wind_on_live=40,
        thermal=60,
    )  # fmt: skip
    expected = {
        "IA": 800, "IB": 880, "II": 320, "III": 656, "IV": 648, "V": 460 / 1.4, "VI": 880 / 1.4,
    }  # fmt: skip
    for tag, value in expected.items():
        assert of(sheet, tag) == pytest.approx(value), tag
    assert number(worst) == pytest.approx(880)


def test_load_factor_groups_by_hand() -> None:
    """The same loads; Group I 1.3 (300 + 750) = 1365.

    IA 1.3 (300 + 990) = 1677; IB 1.3 (300 + 900) = 1560; II 1.3 x 400 = 520;
    III 1.3 x 820 = 1066; IV 1.3 x 810 = 1053; V 1.25 x 460 = 575; VI 1.25 x 880 = 1100.
    """
    sheet, worst = groups(
        load_factor_groups, 300, 450, light=True, permit=900, wind=100, wind_on_live=40, thermal=60
    )
    expected = {
        "IA": 1677, "IB": 1560, "II": 520, "III": 1066, "IV": 1053, "V": 575, "VI": 1100,
    }  # fmt: skip
    for tag, value in expected.items():
        assert of(sheet, tag) == pytest.approx(value), tag
    assert number(worst) == pytest.approx(1677)


@settings(max_examples=40)
@given(st.floats(0, 2000), st.floats(0, 2000))
def test_group_one_governs_under_gravity_alone(D: Any, L: Any) -> None:
    """No wind, no temperature, no permit: every other group is a part of it over more stress."""
    for write in (allowable_stress_groups, load_factor_groups):
        sheet, worst = groups(write, D, L)
        assert number(worst) == pytest.approx(number(sheet["M_first"]))


def test_the_rolled_beam_shows_every_group() -> None:
    for method in ("ASD", "LFD"):
        sheet = girder_sheet(bridge_62_ft(), method, proof=None)
        text = sheet.to_json()
        for words in ("Moment in every group", "VIII, IX", "no overload vehicle", "free to move"):
            assert words in text
        first = "M_T" if method == "ASD" else "M_u"
        (total,) = [node for node in sheet.steps if node.name == first]
        (worst,) = [node for node in sheet.steps if node.name == "M_G"]
        assert number(worst) == number(total)
