"""Sheets as documents: every block says what the sheet says, and reads back through the schema."""

from __future__ import annotations

import json
from typing import Any

import pytest

from stepcalc import Package, Sheet, TitleBlock, between, cases, interpolate, sqrt
from stepcalc.render.build import (
    build_document,
    node_data,
    part_data,
    rounding_rule,
    step_latex,
    step_text,
)
from stepcalc.render.dialects import dialect, replay
from stepcalc.render.document import read_document
from stepcalc.sheet.kernels import Kernel, register_kernel
from stepcalc.units import ft, inch, kip, kip_ft, klf, ksi, pcf


def girder(**options: Any) -> Sheet:
    """Return a small sheet with a node of every kind."""
    s = Sheet("girder", **options)
    with s.part("Loads"):
        S = s.given("S", 7.25 * ft, "spacing", source="framing plan", within=(3.5 * ft, 16 * ft))
        t = s.given("t_s", 8.25 * inch, "slab", assumed="no survey yet")
        with s.part("Dead"):
            g = s.given("gamma_c", 150 * pcf)
            w = s.step("w", S * t * g, klf, "deck", ref="tributary width")
        L = s.given("L", 53 * ft, "span")
        M = s.step("M_D", w * L**2 / 8, kip_ft, "moment")
    with s.part("Section"):
        shape = s.given("shape", "W36X160", choices="w_shapes")
        s.lookup("S_x", "w_shapes", shape, "Sx", neighbours=True, ref="shape table")
        grade = s.given("grade", "50", choices=["36", "50"])
        s.step("F_y", cases((grade == "36", 36 * ksi), otherwise=(50 * ksi, "high")), ksi)
    s.note("see $M = w L^2/8$")
    s.note("plain words")
    s.check("Flexure", M <= 300 * kip_ft, ref="handbook", location="midspan")
    s.check("Spacing", S <= 7 * ft)
    s.table(["what", "value"], [["moment", M], ["slab", 8.25 * inch], ["n", 3]], "values")
    s.figure({"kind": "curves", "x": [0, 1], "series": [{"label": "a", "y": [0, 1]}]}, "figure")
    s.conclude("More is to come.", not_checked=["fatigue"], recommendation=["closer girders"])
    return s


def text(layout: Any) -> str:
    return str(replay(layout, dialect("text")))


def blocks(sheet: Sheet) -> dict[str, dict[str, Any]]:
    data = build_document(sheet)["sheets"][0]["blocks"]
    return {block.get("name") or block["kind"]: block for block in data}


def test_a_document_is_json_and_reads_back_through_its_schema() -> None:
    s = girder()
    document = build_document(Package(TitleBlock(project="bridge"), [s, girder(carry="shown")]))
    again = json.loads(json.dumps(document, allow_nan=False))
    read = read_document(again)
    assert [sheet.title for sheet in read.sheets] == ["girder", "girder"]
    assert read.title["project"] == "bridge"
    assert any("licensed engineer" in notice for notice in read.notices)
    assert any("full precision" in notice for notice in read.notices)
    assert any("rounded value that is shown" in notice for notice in read.notices)


def test_every_record_of_the_sheet_is_a_block_in_its_order() -> None:
    kinds = [block["kind"] for block in build_document(girder())["sheets"][0]["blocks"]]
    assert kinds == [
        "heading", "given", "given", "heading", "given", "step", "given", "step",
        "heading", "given", "lookup", "given", "step",
        "markdown", "note", "check", "check", "table", "figure", "conclusion",
    ]  # fmt: skip


def test_headings_and_blocks_are_numbered() -> None:
    found = build_document(girder())["sheets"][0]["blocks"]
    headings = [(b["number"], b["text"], b["level"]) for b in found if b["kind"] == "heading"]
    assert headings == [("1", "Loads", 1), ("1.1", "Dead", 2), ("2", "Section", 1)]
    ids = {block["name"]: block["id"] for block in found if "id" in block}
    assert (ids["t_s"], ids["w"], ids["L"], ids["M_D"]) == ("1-2", "1.1-2", "1-3", "1-4")
    assert (ids["Flexure"], ids["Spacing"]) == ("1", "2")


def test_a_step_is_formula_substitution_and_result() -> None:
    block = blocks(girder())["w"]
    assert text(block["formula"]) == "S t_s gamma_c"
    assert text(block["substitution"]) == (
        "(7.25 ft)(8.25 in)(1 ft/12 in)(150 pcf)(1 kip/1,000 lb)"
    )
    assert text(block["result"]) == "0.7477 klf"
    assert (block["description"], block["ref"]) == ("deck", "tributary width")
    assert block["alt"].startswith("w equals S times t sub s times gamma sub c equals 7.25 feet")


def test_results_are_boxed_and_intermediate_values_are_not() -> None:
    found = blocks(girder())
    assert found["M_D"]["boxed"] is True
    assert "boxed" not in found["w"]
    assert found["F_y"]["boxed"] is True


def test_givens_say_where_they_come_from_and_when_they_leave_their_range() -> None:
    found = blocks(girder())
    assert found["S"]["source"] == "framing plan"
    assert found["t_s"]["assumed"] == "no survey yet"
    assert found["shape"]["choices"].startswith("one of 289 rows of")
    assert found["grade"]["choices"] == "one of 36, 50"
    outside = blocks(girder().revise(S=20 * ft))
    assert "outside its range" in outside["S"]["warnings"][0]
    assert "S" in outside["M_D"]["warnings"][0]


def test_a_lookup_shows_the_rows_beside_it() -> None:
    block = blocks(girder())["S_x"]
    assert (block["row"], block["column"]) == ("W36X160", "Sx")
    assert text(block["result"]) == "542 in^3"
    words = [(row[0], row[1], row[2]) for row in block["neighbours"]]
    assert words[1] == ("read", "W36X160", "160")
    assert {words[0][0], words[2][0]} == {"next lighter", "next heavier"}
    assert len(block["header"]) == len(block["neighbours"][0])


def test_the_branch_of_cases_is_said_with_its_reason() -> None:
    block = blocks(girder())["F_y"]
    assert block["branch"] == "high"
    assert text(block["condition"]) == "grade ≠ 36"


def test_checks_show_what_is_true_of_the_numbers() -> None:
    found = blocks(girder())
    assert text(found["Flexure"]["formula"]) == "M_D ≤ 300 kip-ft"
    assert text(found["Flexure"]["substitution"]) == "262.5 kip-ft ≤ 300 kip-ft"
    assert found["Flexure"]["ratio"] == "0.875"
    assert text(found["Spacing"]["substitution"]) == "7.25 ft > 7 ft"
    assert found["Spacing"]["verdict"] == "N.G."


def test_the_summary_has_every_check_once_and_marks_the_governing_one() -> None:
    conclusion = blocks(girder())["conclusion"]
    rows = {row["name"]: row for row in conclusion["summary"]}
    assert list(rows) == ["Flexure", "Spacing"]
    assert [row["governs"] for row in rows.values()] == [False, True]
    assert rows["Flexure"]["location"] == "midspan"
    assert text(rows["Flexure"]["demand"]) == "262.5 kip-ft"
    assert text(rows["Flexure"]["capacity"]) == "300 kip-ft"
    assert conclusion["verdict"].startswith("N.G.: 1 of 2 checks: Spacing.")
    assert conclusion["governing"] == "Spacing: D/C = 1.036, N.G."
    assert conclusion["scope_not_checked"] == ["fatigue"]


def test_a_verdict_never_says_more_than_its_checks() -> None:
    s = girder().revise(S=6 * ft)
    assert blocks(s)["conclusion"]["verdict"] == "All 2 checks are OK. More is to come."
    empty = Sheet("empty")
    empty.conclude()
    assert blocks(empty)["conclusion"]["verdict"] == "No check was made."


def test_tables_show_present_values() -> None:
    s = girder()
    rows = [[text(cell) if isinstance(cell, list) else cell for cell in row]
            for row in blocks(s)["table"]["rows"]]  # fmt: skip
    assert rows == [["moment", "262.5 kip-ft"], ["slab", "8.25 in"], ["n", "3"]]
    revised = blocks(s.revise(L=60 * ft))["table"]["rows"][0][1]
    assert text(revised) == text(blocks(s.revise(L=60 * ft))["M_D"]["result"]) != "262.5 kip-ft"


def test_mathematics_in_a_note_is_marked_as_such() -> None:
    kinds = [block["kind"] for block in build_document(girder())["sheets"][0]["blocks"]]
    assert kinds.count("markdown") == 1
    assert kinds.count("note") == 1


def test_what_is_undefined_says_why() -> None:
    s = Sheet("undefined")
    n = s.given("n", 3)
    x = s.step("x", 1 / (n - 3))
    s.check("c", x <= 5)
    found = blocks(s)
    assert found["x"]["undefined"] == "division by zero: n - 3 is zero"
    assert text(found["x"]["result"]) == "undefined"
    assert found["c"]["verdict"] == "N.G."
    assert found["c"]["undefined"]
    assert "undefined" in step_text(s["c"])
    assert "division by zero" in step_latex(x)


def test_ranges_of_application_are_ticked_with_numbers() -> None:
    s = Sheet("valid")
    S = s.given("S", 20 * ft)
    s.step("g", S / (14 * ft), valid=[between(S, 3.5 * ft, 16 * ft), S >= 1 * ft])
    first, second = blocks(s)["g"]["valid"]
    assert (text(first["condition"]), first["ok"]) == ("3.5 ft ≤ S = 20 ft ≤ 16 ft", False)
    assert (text(second["condition"]), second["ok"]) == ("S = 20 ft ≥ 1 ft", True)
    assert "Warning: outside the range" in step_text(s["g"])
    assert "Warning: outside the range" in step_latex(s["g"])


def test_bare_numbers_say_their_unit() -> None:
    s = Sheet("bare")
    L = s.given("L", 50 * ft)
    x = s.step("x", sqrt(L.magnitude(ft)) + L.magnitude(inch), None, "empirical")
    assert blocks(s)["x"]["description"] == "empirical"
    assert replay(blocks(s)["x"]["units"], dialect("text")) == "L in ft; L in in"
    assert step_text(x).endswith("(with L in ft; L in in)")
    assert r"\text{ in }" in step_latex(x)


def test_an_interpolation_is_written_out() -> None:
    s = Sheet("points")
    L = s.given("L", 62 * ft)
    x = s.step("x", interpolate(L, [50 * ft, 70 * ft], [1.0, 1.5]))
    assert "1 + (62 ft - 50 ft)(1.5 - 1)/(70 ft - 50 ft) = 1.300" in step_text(x)
    at_point = s.step("y", interpolate(L, [62 * ft, 70 * ft], [1.25, 1.5]))
    assert step_text(at_point) == "y = interpolate(L, points given) = 1.250"
    assert step_text(s.step("z", L / L * 0 + 1.5)).endswith("= 1.500")


def _double(span: float) -> float:
    return 2 * span


def _proof(span: float) -> Sheet:
    s = Sheet("proof")
    L = s.given("L", span * ft)
    s.step("twice", L + L, ft)
    return s


def test_a_computed_value_shows_method_inputs_and_proof() -> None:
    register_kernel(
        Kernel("render test: twice", 1, _double, {"span": "ft"}, "ft", {"sum": _proof}, "doubling")
    )
    s = Sheet("computed")
    L = s.given("L", 600 * inch)
    s.computed("D", "render test: twice", {"span": L}, "ft", "double", proof="sum")
    block = blocks(s)["D"]
    assert text(block["result"]) == "100.0 ft"
    assert block["method"] == "doubling (span 50 ft)"
    assert [inner["kind"] for inner in block["proof"]] == ["given", "step"]
    assert text(block["proof"][1]["substitution"]) == "50 ft + 50 ft"


def test_a_value_of_another_sheet_says_where_it_comes_from() -> None:
    loads, other = girder(), Sheet("resistance")
    step = other.step("M_u", 1.25 * loads["M_D"], kip_ft)
    assert blocks(other)["M_u"]["origin"] == ["M_D from girder: Loads/M_D"]
    assert "M_D from girder: Loads/M_D" in step_text(step)
    assert "girder" in step_latex(step)


def test_parts_and_nodes_have_the_blocks_they_have_in_the_document() -> None:
    s = girder()
    whole = build_document(s)["sheets"][0]["blocks"]
    assert part_data(s, "Loads") == whole[:8]
    assert part_data(s, "Loads/Dead") == whole[3:6]
    assert node_data(s["w"]) == whole[5]


def test_the_rounding_rule_is_stated() -> None:
    assert "3 significant digits" in rounding_rule(Sheet("a", digits=3))
    assert "rounded value" in rounding_rule(Sheet("a", carry="shown"))


def test_shown_values_follow_a_revision_and_leave_the_old_sheet_alone() -> None:
    s = girder()
    before = step_latex(s["M_D"])
    assert step_latex(s.revise(L=70 * ft)["M_D"]) != before
    assert step_latex(s["M_D"]) == before


@pytest.mark.parametrize("digits", [3, 5])
def test_digits_of_a_step_and_of_the_sheet(digits: int) -> None:
    s = Sheet("digits", digits=digits)
    P = s.given("P", 32 * kip)
    x, y = s.step("x", P / 3, kip), s.step("y", P / 3, kip, digits=6)
    assert step_text(x).endswith({3: "= 10.7 kip", 5: "= 10.667 kip"}[digits])
    assert step_text(y).endswith("= 10.6667 kip")
    assert {3: "10.7 kip", 5: "10.667 kip"}[digits] in step_text(s.step("z", 2 * x, kip))
