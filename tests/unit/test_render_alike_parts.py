"""Alike places: the one that governs in full, the others as a table, nothing lost."""

from __future__ import annotations

from typing import Any

from stepcalc import Package, Sheet, TitleBlock
from stepcalc.render.build import build_document
from stepcalc.units import ft, kip, kip_ft

PLACES = ("0.1 L", "0.2 L", "0.3 L", "0.4 L")


def beam(loads: tuple[float, ...], *, limit: float = 100, after: bool = False) -> Sheet:
    sheet = Sheet("beam")
    L = sheet.given("L", 40 * ft, "span")
    M_r = sheet.given("M_r", limit * kip_ft, "resistance")
    with sheet.part("Places"):
        for place, load in zip(PLACES, loads, strict=False):
            with sheet.part(place):
                P = sheet.given("P", load * kip, "load here")
                M = sheet.step("M", P * L / 4, kip_ft, "moment")
                sheet.check("Moment", M <= M_r, location=place)
        if after:
            sheet.step("M_0", M_r / 2, kip_ft, "half of the resistance")
    return sheet


def blocks_of(sheet: Sheet) -> list[dict[str, Any]]:
    package = Package(TitleBlock(), [sheet], told_once=True)
    return list(build_document(package)["sheets"][0]["blocks"])


def headings(blocks: list[dict[str, Any]]) -> list[str]:
    return [b["text"] for b in blocks if b["kind"] == "heading"]


def test_the_governing_place_is_in_full_and_the_others_in_a_table() -> None:
    blocks = blocks_of(beam((3, 9, 7, 5)))
    assert headings(blocks) == ["Places", "0.2 L"]
    (table,) = (b for b in blocks if b["kind"] == "table")
    assert table["header"] == ["Place", "P", "M", "Moment: D/C"]
    assert [row[0] for row in table["rows"]] == ["1.1 0.1 L", "1.3 0.3 L", "1.4 0.4 L"]
    assert [row[3] for row in table["rows"]] == ["0.300 OK", "0.700 OK", "0.500 OK"]
    assert any(b.get("text") == "0.2 L governs here." for b in blocks)


def test_a_place_that_is_not_ok_is_in_full_too() -> None:
    blocks = blocks_of(beam((12, 9, 17, 5)))
    assert headings(blocks) == ["Places", "0.1 L", "0.3 L"]


def test_two_places_stand_as_they_are() -> None:
    blocks = blocks_of(beam((3, 9)))
    assert headings(blocks) == ["Places", "0.1 L", "0.2 L"]
    assert not any(b["kind"] == "table" for b in blocks)


def test_what_follows_the_last_place_stays() -> None:
    blocks = blocks_of(beam((3, 9, 7, 5), after=True))
    assert blocks[-1]["name"] == "M_0"


def test_another_formula_is_another_kind_of_place() -> None:
    sheet = beam((3, 9))
    with sheet.part("Places"), sheet.part("end"):
        P = sheet.given("P", 4 * kip)
        sheet.check("Moment", sheet.step("M", P * sheet["L"] / 8, kip_ft) <= sheet["M_r"])
    assert headings(blocks_of(sheet)) == ["Places", "0.1 L", "0.2 L", "end"]


def test_without_checks_the_greatest_last_value_governs() -> None:
    sheet = Sheet("beam")
    for place, load in zip(PLACES, (3, -11, 7, 5), strict=True):
        with sheet.part(place):
            P = sheet.given("P", load * kip)
            sheet.step("Q", 2 * P, kip)
    assert headings(blocks_of(sheet)) == ["0.2 L"]
