"""Sources of givens: each is kept, and one that many share is said once on paper."""

from __future__ import annotations

from pathlib import Path

from stepcalc import Package, Sheet
from stepcalc.bridge.bridge_file import read_bridge_file
from stepcalc.bridge.girder import girder_calculation
from stepcalc.print.prepared import prepare
from stepcalc.render import blocks as b
from stepcalc.render.document import read_document
from stepcalc.render.package_document import package_document
from stepcalc.render.sheet_blocks import sheet_blocks
from stepcalc.sheet.titles import TitleBlock
from stepcalc.units import ft

DEMOS = Path(__file__).parents[2] / "notebooks" / "sheets"


def printed(sheet: Sheet) -> tuple[str, list[str]]:
    """Return what is said once for a sheet, and what stands beside its givens."""
    document = read_document(package_document(Package(TitleBlock(project="Heron Slough"), [sheet])))
    ready, first = prepare(document, "svg"), document.sheets[0]
    givens = [block for block in first.blocks if isinstance(block, b.Given)]
    return ready.source_notes[id(first)], [ready.sources[id(given)] for given in givens]


def lengths(count: int, source: str | None = "plans") -> Sheet:
    sheet = Sheet("lengths")
    for number in range(count):
        sheet.given(f"L_{number}", number * ft, source=source)
    return sheet


def test_a_source_of_many_givens_is_said_once_and_others_stay() -> None:
    sheet = lengths(5)
    sheet.given("S", 7 * ft, source="survey")
    sheet.given("E", 2 * ft, source="plans; LRFD 6.4.1 (from memory)")
    note, beside = printed(sheet)
    assert note == "Givens with no source beside them: plans."
    assert beside == [""] * 5 + ["survey", "LRFD 6.4.1 (from memory)"]


def test_few_givens_keep_their_source_and_a_missing_one_hides_nothing() -> None:
    assert printed(lengths(4)) == ("", ["plans"] * 4)
    sheet = lengths(5)
    sheet.given("S", 7 * ft)  # has no source: an empty place must not speak for it
    assert printed(sheet) == ("", ["plans"] * 5 + [""])


def test_values_of_codes_are_said_once_to_be_from_memory() -> None:
    note, beside = printed(lengths(5, "LRFD 3.4.1 (from memory)"))
    assert note == "Values that name a code are from memory, to be compared with its text."
    assert beside == ["LRFD 3.4.1"] * 5
    note, beside = printed(lengths(5, "a lecture (from memory)"))  # no code: the mark stays
    assert note == "Givens with no source beside them: a lecture (from memory)."


def test_sources_of_a_file_reach_owners_factors_words_and_the_rating() -> None:
    found = girder_calculation(read_bridge_file(DEMOS / "willow_ford.toml"))
    sheet, rating = found.sheet, found.rating
    assert rating is not None
    assert sheet["eta_R"].source == "owner's rule: owner's letter, invented"
    assert rating["ADTT"].source == "traffic count, invented"
    assert rating["IM_r"].source == "MBE C6A.4.4.3 (from memory)"  # the file says nothing of it
    assert rating["W_P"].source == "invented for this example"
    notes = " ".join(block["text"] for block in sheet_blocks(sheet) if block["kind"] == "note")
    assert "utility owner's letter, invented" in notes


def test_no_words_on_values_of_a_sheet_that_is_printed_along() -> None:
    found = girder_calculation(read_bridge_file(DEMOS / "willow_ford.toml"))
    rating = read_document(package_document(found.package())).sheets[1]
    assert [x for x in rating.blocks if getattr(x, "origin", ())] == []
    assert any("Interior girder, LRFD::" in use for uses in rating.uses.values() for use in uses)
