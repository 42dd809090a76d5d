"""Tables that stand for the lines of their nodes, and inputs of procedures that are said once."""

from __future__ import annotations

from typing import Any

from stepcalc import Sheet
from stepcalc.bridge.continuous.kernels import span_kernels
from stepcalc.render.build import sheet_data
from stepcalc.units import ft, kip_ft, klf


def kinds(sheet: Any) -> list[str]:
    return [block["kind"] for block in sheet_data(sheet)["blocks"]]


def written(*, instead: bool = True) -> Any:
    sheet = Sheet("table")
    L = sheet.given("L", 30 * ft)
    w = sheet.given("w", 2 * klf)
    M = sheet.step("M", w * L**2 / 8, kip_ft, valid=(L <= 40 * ft,))
    M_5 = sheet.step("M_5", w * L**2 / 5, kip_ft)
    sheet.table(["place", "moment"], [["midspan", M], ["no", M_5]], "Moments", instead=instead)
    return sheet


def test_nodes_of_the_table_have_no_lines_of_their_own() -> None:
    assert kinds(written()) == ["given", "given", "table"]
    assert kinds(written(instead=False)) == ["given", "given", "step", "step", "table"]


def test_units_stand_in_the_heads_or_in_the_caption() -> None:
    table = sheet_data(written())["blocks"][-1]
    assert table["header"] == ["place", "moment, kip-ft"]
    assert "kip" not in str(table["rows"])
    sheet = Sheet("two columns")
    a, b = sheet.given("A_1", 2 * ft**2), sheet.given("A_2", 3 * ft**2)
    sheet.table(["one", "two"], [[a, b]], "Areas", instead=True)
    [block] = sheet_data(sheet)["blocks"]
    assert block["header"] == ["one", "two"]
    assert block["caption"] == "Areas; in ft\u00b2"


def test_what_carries_a_warning_prints_by_itself_too() -> None:
    sheet = written().revise(L=50 * ft)
    # both are out of the range of M, which M_5 does not use
    assert kinds(sheet) == ["given", "given", "step", "table"]


def test_json_keeps_it() -> None:
    again = Sheet.from_json(written().to_json())
    assert kinds(again) == ["given", "given", "table"]


def test_inputs_of_a_procedure_are_said_once() -> None:
    sheet = Sheet("once")
    L, w = sheet.given("L", 30 * ft), sheet.given("w", 2 * klf)
    dead = span_kernels(1).dead["moment"]
    for name, fraction in (("M_4", 0.4), ("M_5", 0.5)):
        inputs = {"span_1": L, "layout": "prismatic", "place": "1", "fraction": fraction, "load": w}
        sheet.computed(name, dead, inputs, kip_ft, "moment")
    first, second = (block["method"] for block in sheet_data(sheet)["blocks"][-2:])
    assert "span 1 30 ft" in first
    assert "load 2 kip/ft" in first
    assert second.endswith("(fraction 0.5)")
