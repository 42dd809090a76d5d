"""What several sheets share is printed once; what needs attention is printed every time."""

from __future__ import annotations

from typing import Any

from stepcalc import Package, Sheet, TitleBlock
from stepcalc.render.build import build_document
from stepcalc.units import ft, inch, kip, kip_ft


def girder(title: str, load: float, *, limit: float = 200) -> Sheet:
    sheet = Sheet(title)
    with sheet.part("Data"):
        L = sheet.given("L", 40 * ft, "span", source="plans")
        sheet.given("b", 12 * inch, "width", source="plans")
        sheet.given("t", 1 * inch, "thickness", source="plans")
        L_max = sheet.given("L_max", 50 * ft, "longest piece", source="plans")
        sheet.check("Length", L <= L_max, ref="shipping")
    with sheet.part("Load"):
        P = sheet.given("P", load * kip, "load", source="plans")
        M = sheet.step("M", P * L / 4, kip_ft, "moment")
        sheet.check("Moment", M <= limit * kip_ft)
    return sheet


def blocks_of(*sheets: Sheet, told_once: bool = True) -> list[list[dict[str, Any]]]:
    package = Package(TitleBlock(project="x"), list(sheets), told_once=told_once)
    return [page["blocks"] for page in build_document(package)["sheets"]]


def test_shared_lines_stand_on_the_first_sheet_only() -> None:
    first, second = blocks_of(girder("one", 8), girder("two", 9))
    assert [b["kind"] for b in first[:6]] == [
        "heading", "given", "given", "given", "given", "check",
    ]  # fmt: skip
    assert [b["kind"] for b in second] == ["heading", "note", "heading", "given", "step", "check"]
    assert second[1]["text"] == (
        "As in part 1 of the sheet “one”, the same in every line: L, b, t, L_max, Length. "
        "The check is OK and in the summary of this sheet."
    )


def test_without_the_wish_every_sheet_is_whole() -> None:
    whole = blocks_of(girder("one", 8), girder("two", 9), told_once=False)
    assert len(whole[0]) == len(whole[1]) == 10


def test_a_value_that_differs_is_printed() -> None:
    second = girder("two", 8).revise(L=41 * ft)
    names = [b.get("name") for b in blocks_of(girder("one", 8), second)[1]]
    assert "L" in names
    assert "M" in names
    assert "Length" in names


def test_one_line_is_no_longer_than_its_pointer() -> None:
    """P and M are two lines and become one; the check that differs stands again."""
    _, second = blocks_of(girder("one", 8), girder("two", 8, limit=90))
    assert [b["kind"] for b in second[-2:]] == ["note", "check"]
    _, third = blocks_of(girder("one", 8), girder("two", 9, limit=190))
    assert [b.get("name") for b in third[-3:]] == ["P", "M", "Moment"]


def test_a_check_that_is_not_ok_is_printed_on_every_sheet() -> None:
    _, second = blocks_of(girder("one", 30), girder("two", 30))
    assert second[-1]["verdict"] == "N.G."


def test_a_revised_package_still_prints_shared_lines_once() -> None:
    package = Package(TitleBlock(), [girder("one", 8), girder("two", 9)], told_once=True)
    assert package.revise({"two/P": 10 * kip}).told_once


def two_girders(load: float, depth: float) -> Sheet:
    """The same formulas, other numbers: three steps and a check below them."""
    sheet = Sheet(f"girder {load:g}")
    with sheet.part("Effects"):
        P = sheet.given("P", load * kip, "load", source="plans")
        d = sheet.given("d", depth * inch, "depth", source="plans")
    with sheet.part("Strength"):
        M = sheet.step("M", P * (10 * ft), kip_ft, "moment")
        R = sheet.step("R", d * (40 * kip), kip_ft, "resistance")
        u = sheet.step("u", M / R, None, "their ratio")
        sheet.check("Moment", M <= R, location="midspan")
        sheet.step("u_2", 2 * u, None, "twice that")
    return sheet


def test_the_same_formulas_with_other_numbers_become_a_table() -> None:
    _, second = blocks_of(two_girders(8, 30), two_girders(7, 29))
    strength = second[second.index(next(b for b in second if b.get("text") == "Strength")) :]
    assert [b["kind"] for b in strength] == ["heading", "note", "table"]
    assert strength[1]["text"].startswith("By the formulas of part 2 of the sheet “girder 8”")
    rows = strength[2]["rows"]
    assert len(rows) == 5
    assert rows[3][0] == "Moment: D/C"
    assert rows[3][2:] == ["0.724 OK", "0.800 OK"]


def test_the_girder_that_governs_is_printed_in_full() -> None:
    _, second = blocks_of(two_girders(8, 30), two_girders(8, 29))
    assert [b.get("name") for b in second if b["kind"] in ("step", "check")] == [
        "M", "R", "u", "Moment", "u_2",
    ]  # fmt: skip


def test_data_that_differ_are_never_told_by_formula() -> None:
    _, second = blocks_of(two_girders(8, 30), two_girders(7, 29))
    assert [b["name"] for b in second if b["kind"] == "given"] == ["P", "d"]


def test_a_second_place_of_one_sheet_is_told_by_the_formulas_of_the_first() -> None:
    """Two sections of one girder: the second does not govern and becomes a table."""
    sheet = two_girders(8, 30)
    with sheet.part("Second section"), sheet.part("Strength"):
        M = sheet.step("M", sheet["P"] * (10 * ft) - 20 * kip_ft, kip_ft, "moment")
        R = sheet.step("R", sheet["d"] * (40 * kip), kip_ft, "resistance")
        u = sheet.step("u", M / R, None, "their ratio")
        sheet.check("Moment", M <= R, location="end")
        sheet.step("u_2", 2 * u, None, "twice that")
    (blocks,) = blocks_of(sheet)
    tail = blocks[-3:]
    assert [b["kind"] for b in tail] == ["step", "note", "table"]
    assert tail[0]["name"] == "M"
    assert tail[1]["text"].startswith("By the formulas of part 2 above")
    assert [row[0] for row in tail[2]["rows"]][2] == "Moment: D/C"
