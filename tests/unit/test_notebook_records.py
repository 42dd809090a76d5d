"""What a notebook stores of its sheets gives them back, formulas and all; edits are seen."""

from __future__ import annotations

import json
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest

from stepcalc.classroom.marking import Scheme, mark
from stepcalc.errors import SheetFileError, StaleError
from stepcalc.notebook.display import node_bundle, part_bundle, sheet_bundle
from stepcalc.print.compare import compare
from stepcalc.print.notebook import print_notebook
from stepcalc.print.notebook_document import MIME
from stepcalc.print.notebook_file import read_notebook
from stepcalc.print.notebook_sheets import notebook_sheets, sheets_of_file
from stepcalc.sheet import cells
from tests.unit.classroom_sheet import homework
from tests.unit.test_print_notebook import code, new_notebook, shown, write
from tests.unit.test_sheet_cells import notebook  # noqa: F401  (a fixture)

if TYPE_CHECKING:
    from tests.unit.test_sheet_cells import Notebook


def stored(folder: Path, *bundles: Any) -> Path:
    path = folder / "beam.ipynb"
    outputs = [code(number, shown(data)) for number, data in enumerate(bundles, 1)]
    write(new_notebook(cells=outputs), path)
    return path


def test_a_notebook_gives_its_sheet_back(tmp_path: Path) -> None:
    sheet = homework()
    path = stored(tmp_path, sheet_bundle(sheet)[0])
    (again,) = sheets_of_file(path)
    assert again.to_json() == sheet.to_json()
    longer = again.revise(L=40 * sheet["L"].value.units)
    assert longer["M_u"].number == pytest.approx(again["M_u"].number * (40 / 37) ** 2)


def test_parts_shown_by_several_cells_are_one_sheet(tmp_path: Path) -> None:
    sheet = homework()
    first, second = (part_bundle(sheet, title)[0] for title in ("Given", "Solution"))
    path = stored(tmp_path, first, second, node_bundle(sheet["M_u"]), second)
    (again,) = sheets_of_file(path)
    for name in ("Z_x", "w", "M_u", "M_n"):
        assert again[name].number == sheet[name].number
    assert again["Flexure"].verdict == sheet["Flexure"].verdict
    assert len(again._book.root.blocks) == 2
    assert len(again.steps) == len(sheet.steps)


def test_what_is_missing_or_damaged_is_said(tmp_path: Path) -> None:
    sheet = homework()
    half = stored(tmp_path, part_bundle(sheet, "Solution")[0])
    with pytest.raises(StaleError, match="uses 'Given/L', which no cell shows"):
        sheets_of_file(half)
    with pytest.raises(SheetFileError, match="which no earlier entry defines"):
        notebook_sheets(read_notebook(half), half)
    older = {k: v for k, v in sheet_bundle(sheet)[0].items() if k != MIME}
    older[MIME] = {k: v for k, v in sheet_bundle(sheet)[0][MIME].items() if k != "records"}
    with pytest.raises(SheetFileError, match=r"cell 1 of beam\.ipynb .* run the notebook again"):
        sheets_of_file(stored(tmp_path, older))
    for records in ("[", "[]", '{"entries": 1}', '{"entries": [], "layout": [3]}', 7):
        bundle = sheet_bundle(sheet)[0]
        bundle[MIME] = bundle[MIME] | {"records": records}
        with pytest.raises(SheetFileError):
            sheets_of_file(stored(tmp_path, bundle))
    nothing: dict[str, Any] = {MIME: {"v": 1, "sheet": None, "title_block": None, "blocks": []}}
    with pytest.raises(SheetFileError, match="shows no calculation sheet"):
        sheets_of_file(stored(tmp_path, nothing))


def test_a_step_whose_given_was_deleted_is_refused_or_marked(tmp_path: Path) -> None:
    sheet = homework()
    path = stored(tmp_path, part_bundle(sheet, "Solution")[0])
    with pytest.raises(StaleError, match="its cell was deleted"):
        print_notebook(path, tmp_path / "out.html")
    assert not (tmp_path / "out.html").exists()
    print_notebook(path, tmp_path / "out.html", allow_stale=True)
    assert "STALE" in (tmp_path / "out.html").read_text()
    hidden = json.loads(stored(tmp_path, *(part_bundle(sheet, t)[0] for t in
                                           ("Given", "Solution"))).read_text())  # fmt: skip
    hidden["cells"][0]["metadata"]["tags"] = ["hide-cell"]
    path.write_text(json.dumps(hidden))
    assert print_notebook(path, tmp_path / "out.html") == ["OK"], "hidden is not deleted"


def test_notebooks_compare_by_their_values(tmp_path: Path) -> None:
    """(40 / 37)**2 - 1 = 16.9 %, by hand."""
    sheet = homework()
    old = stored(tmp_path, sheet_bundle(sheet)[0]).rename(tmp_path / "old.ipynb")
    longer = sheet.revise(L=40 * sheet["L"].value.units)
    new = stored(tmp_path, sheet_bundle(longer)[0])
    found = compare(old, new)
    assert [c.name for c in found.inputs] == ["Given/L"]
    moment = next(c for c in found.results if c.name == "Solution/M_u")
    assert moment.remark == "+16.9 %"
    assert len(compare(old, old).results) == 0


def test_json_of_a_sheet_and_other_files(tmp_path: Path) -> None:
    path = tmp_path / "sheet.json"
    path.write_text(homework().to_json())
    assert sheets_of_file(path)[0]["M_u"].shown == "164.8"
    path.write_text("{}")
    with pytest.raises(SheetFileError, match="holds no sheet"):
        sheets_of_file(path)
    path.write_bytes(b"\xff\xfe")
    with pytest.raises(SheetFileError, match="not UTF-8"):
        sheets_of_file(path)


def test_an_edited_output_is_noticed(tmp_path: Path) -> None:
    sheet = homework()
    path = stored(tmp_path, sheet_bundle(sheet)[0])
    honest = mark(path, sheet)
    assert not honest.notices
    path.write_text(path.read_text().replace('"164.8"', '"165.1"'))
    print_notebook(path, tmp_path / "out.html")
    assert "was edited after it was made" in (tmp_path / "out.html").read_text()
    edited = mark(path, sheet, ["M_u", "w"], scheme=Scheme(not_own=0.0))
    assert "cell 1: its stored output was edited after it was made" in edited.notices
    assert edited["M_u"].outcome == "not own work"
    assert edited["M_u"].credit == 0
    assert mark(path, sheet, ["M_u"])["M_u"].credit == 1, "the instructor decides what it costs"


def test_steps_of_a_procedure_are_told_from_those_of_a_cell(
    notebook: Notebook,  # noqa: F811
    tmp_path: Path,
) -> None:
    notebook.run("a", "L = s.given('L', 10*ft); x = s.step('x', L / 2, ft)")
    auto = (
        "g = {'__name__': 'stepcalc.bridge.some_procedure', 's': s, 'L': L}\n"
        "exec(\"y = s.step('y', L / 4)\", g)"
    )
    notebook.run("b", auto)
    sheet = notebook.sheet
    assert not sheet["x"].entry.cell.by_procedure
    assert sheet["y"].entry.cell.by_procedure
    data = sheet_bundle(sheet)[0]
    assert data[MIME]["procedures"] == ["y"]
    print_notebook(stored(tmp_path, data), tmp_path / "out.html", profile="homework")
    told = "cells of the notebook: 2; by procedures of stepcalc: 1"
    assert told in (tmp_path / "out.html").read_text()
    marks = mark(stored(tmp_path, data), sheet, ["x", "y"], scheme=Scheme(not_own=0.0))
    assert [m.outcome for m in marks.marks] == ["right", "not own work"]
    assert "written by procedures" in marks.notices[0]
    assert json.dumps(data), "what a notebook stores is JSON"
    assert cells.current_cell() is not None
