"""The option that writes lengths in feet as plans do, beside the number that formulas use."""

from __future__ import annotations

import json
import re
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stepcalc import Sheet, cases
from stepcalc.bridge.feet_inches import parse_feet_inches
from stepcalc.errors import SheetFileError
from stepcalc.render.build import step_latex, step_text
from stepcalc.render.plan_lengths import plan_form
from stepcalc.render.sheet_blocks import sheet_blocks
from stepcalc.units import Q_, ft, inch, kip, kip_ft

_BESIDE = re.compile(r" \((?:about )?-?\d[^()]* in\)")


def lengths(span: float = 62.5, *, feet_inches: bool = True) -> tuple[Sheet, dict[str, Any]]:
    """Return a sheet with lengths given and computed."""
    sheet = Sheet("plan", feet_inches=feet_inches)
    L, P = sheet.given("L", Q_(span, "ft"), source="framing plan"), sheet.given("P", 32 * kip)
    steps = {
        "third": sheet.step("a", L / 3, ft),
        "inches": sheet.step("b", L, inch),
        "moment": sheet.step("M", P * L / 4, kip_ft),
        "longer": sheet.step("d", cases((L >= 60 * ft, L - 60 * ft, "long"), otherwise=L), ft),
        "square": sheet.step("A", L * L, ft**2),
    }
    sheet.table(["place", "from the left"], [["here", steps["third"]], ["end", L]], "Places")
    return sheet, {"L": L, **steps}


@pytest.mark.parametrize(
    ("name", "line"),
    [
        ("L", "L = 62.5 ft (62 ft-6 in)   [framing plan]"),
        ("third", "a = L/3 = (62.5 ft)/3 = 20.83 ft (20 ft-10 in)"),
        ("inches", "b = L = (62.5 ft)(12 in/1 ft) = 750.0 in"),
        ("moment", "M = P L/4 = (32 kip)(62.5 ft)/4 = 500.0 kip-ft"),
        ("square", "A = L L = (62.5 ft)(62.5 ft) = 3,906 ft^2"),
    ],
)
def test_the_plans_form_stands_behind_a_length_in_feet_and_nowhere_else(
    name: str, line: str
) -> None:
    assert step_text(lengths()[1][name]) == line


def test_latex_and_blocks_hold_it_too() -> None:
    sheet, nodes = lengths()
    assert step_latex(nodes["third"]).endswith(r"20.83\,\mathrm{ft} \text{ (20 ft-10 in)}")
    kept = json.dumps(sheet_blocks(sheet))
    assert kept.count("(62 ft-6 in)") >= 2  # the given and its cell of the table
    assert "62 ft-6 in" not in json.dumps(sheet_blocks(lengths(feet_inches=False)[0]))


def test_a_branch_and_a_revised_sheet_show_their_own_length() -> None:
    sheet, nodes = lengths()
    assert step_text(nodes["longer"]).endswith("62.5 ft - 60 ft = 2.500 ft (2 ft-6 in)")
    revised = sheet.revise({"L": 70.3 * ft})
    assert step_text(revised["L"]).startswith("L = 70.3 ft (about 70 ft-3 5/8 in)")


def test_the_option_goes_through_json_and_is_not_written_where_it_is_off() -> None:
    sheet, _ = lengths()
    again = Sheet.from_json(sheet.to_json())
    assert again.feet_inches
    assert again.to_json() == sheet.to_json()
    off = lengths(feet_inches=False)[0].to_json()
    assert "feet_inches" not in off
    assert not Sheet.from_json(off).feet_inches
    with pytest.raises(SheetFileError, match="feet_inches of the sheet are true or false"):
        Sheet.from_json(json.dumps(json.loads(off) | {"feet_inches": 1}))


@given(st.floats(-9999, 9999).map(lambda feet: round(feet, 4)))
def test_without_the_words_the_lines_are_those_of_the_plain_sheet(span: float) -> None:
    told, plain = lengths(span)[1], lengths(span, feet_inches=False)[1]
    for name, node in told.items():
        assert _BESIDE.sub("", step_text(node)) == step_text(plain[name])


@given(st.floats(0.02, 9999))
def test_the_words_are_the_length_to_half_a_sixteenth(feet: float) -> None:
    words = plan_form(feet)
    read = float(parse_feet_inches(words.removeprefix("about ")).to("ft").magnitude)
    assert abs(read - feet) * 12 <= 1 / 32 + 1e-6
    assert words.startswith("about ") or read == pytest.approx(feet, rel=1e-8)


@pytest.mark.parametrize("feet", [0.0, 0.002, -0.002, 2e6, float("nan"), float("inf")])
def test_what_no_plan_would_write_gets_no_words(feet: float) -> None:
    assert plan_form(feet) == ""
