"""Parts that print their tables only: what stays silent, what does not, and that it is stored."""

from __future__ import annotations

from stepcalc import Sheet
from stepcalc.notebook.display import sheet_bundle
from stepcalc.render.sheet_blocks import sheet_blocks
from stepcalc.sheet import codec
from stepcalc.units import ft


def sheet_with_silent_part() -> Sheet:
    """Return a sheet with a part whose two inner places print as one table."""
    sheet = Sheet("places")
    a = sheet.given("a", 3 * ft, "length")
    with sheet.part("Places", tables_only=True):
        cells = []
        for place in ("one", "two"):
            with sheet.part(place):
                b = sheet.step("b", 2 * a, ft, "twice the length")
                cells.append([place, b])
        sheet.table(["Place", "b"], cells, "both", instead=True)
        sheet.check("Long enough", a <= 4 * ft)
    with sheet.part("Odd", tables_only=True):
        sheet.step("c", a, ft, valid=(a <= 1 * ft,))
    return sheet


def test_only_tables_checks_and_warnings_print() -> None:
    for sheet in (sheet_with_silent_part(), codec.load(codec.dump(sheet_with_silent_part()))):
        kinds = [block["kind"] for block in sheet_blocks(sheet)]
        assert kinds == ["given", "heading", "table", "check", "heading", "step"]
        assert len(sheet.steps) == 3


def test_values_follow_and_a_copy_stays_silent() -> None:
    sheet = sheet_with_silent_part().revise(a=5 * ft)
    table = next(block for block in sheet_blocks(sheet) if block["kind"] == "table")
    assert "10" in str(table["rows"][0][1])
    sheet.step("later", sheet["a"] * 1, ft)
    assert sum(block["kind"] == "step" for block in sheet_blocks(sheet)) == 2


def test_a_notebook_shows_the_same() -> None:
    sheet = sheet_with_silent_part()
    data = sheet_bundle(sheet)[0]["application/vnd.stepcalc+json"]
    kinds = [block["kind"] for block in data["blocks"]]
    assert kinds == [block["kind"] for block in sheet_blocks(sheet)]
