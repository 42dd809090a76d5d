"""What the outputs of a notebook tell of where its values come from."""

from __future__ import annotations

from typing import Any

import pytest

from stepcalc import Revision, Sheet, TitleBlock
from stepcalc.errors import SheetFileError
from stepcalc.notebook.display import part_bundle, title_bundle
from stepcalc.print.notebook_document import MIME, NotebookReader
from stepcalc.print.notebook_traces import with_traces
from stepcalc.render import blocks as b
from stepcalc.units import ft, kip
from tests.unit.front_package import sheets


def notebook(bundles: list[dict[str, Any]]) -> dict[str, Any]:
    """Return a notebook of one cell for each output."""
    cells = [
        {"cell_type": "code", "execution_count": count, "source": "x", "metadata": {},
         "outputs": [{"output_type": "display_data", "data": bundle, "metadata": {}}]}
        for count, bundle in enumerate(bundles, 1)
    ]  # fmt: skip
    return {"cells": cells}


def document(bundles: list[dict[str, Any]]) -> b.Document:
    made = notebook(bundles)
    reader = NotebookReader("n.ipynb")
    reader.read(made["cells"])
    return with_traces(reader.document(), made)


def test_uses_go_over_parts_and_sheets() -> None:
    loads, girder = sheets()
    made = document([
        part_bundle(loads, "Deck")[0], part_bundle(girder, "Effects")[0],
        part_bundle(girder, "Checks")[0],
    ])  # fmt: skip
    first, second = made.sheets
    assert first.uses == {"1-5": ("1-1", "1-2", "1-3")}
    assert set(second.uses["1-2"]) == {"Permanent loads::1-5", "1-1"}
    assert set(second.uses["2-1"]) == {"1-2", "2.1-1"}


def test_two_nodes_of_one_name_are_told_apart_by_their_headings() -> None:
    sheet = Sheet("S")
    for title in ("Left", "Right"):
        with sheet.part(title):
            P = sheet.given("P", 3 * kip, source="x")
            sheet.step("M", P * 2 * ft)
    bundles = [part_bundle(sheet, "Left")[0], part_bundle(sheet, "Right")[0]]
    assert document(bundles).sheets[0].uses == {"1-2": ("1-1",), "2-2": ("2-1",)}


def test_a_step_that_is_used_later_has_no_frame() -> None:
    sheet = Sheet("S")
    with sheet.part("One"):
        P = sheet.given("P", 3 * kip, source="x")
        M = sheet.step("M", P * 2 * ft)
    early = part_bundle(sheet, "One")[0]
    with sheet.part("Two"):
        sheet.step("R", M / 4 / ft)
    made = document([early, part_bundle(sheet, "Two")[0]])
    steps = {x.name: x.boxed for x in made.sheets[0].blocks if isinstance(x, b.Step)}
    assert early[MIME]["blocks"][-1]["boxed"]
    assert steps == {"M": False, "R": True}


def test_the_revision_table_of_a_title_block_is_read() -> None:
    title = TitleBlock(project="x", revisions=(Revision("1", "2026-11-25", "A. P.", "span"),))
    made = document([title_bundle(title)[0]])
    assert made.revisions == (b.RevisionRow("1", "2026-11-25", "A. P.", "span"),)
    damaged = title_bundle(title)[0]
    damaged[MIME]["revisions"] = [{"number": 1}]
    with pytest.raises(SheetFileError, match="unknown field 'number'"):
        document([damaged])
