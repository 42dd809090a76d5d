"""The student's copy of a notebook holds no key number, in no cell, output or metadata."""

from __future__ import annotations

from pathlib import Path

import pytest

from stepcalc.classroom.student_notebook import student_notebook
from stepcalc.errors import PrintError
from stepcalc.notebook.display import sheet_bundle
from tests.unit.classroom_sheet import homework
from tests.unit.test_print_notebook import code, new_markdown_cell, new_notebook, shown, write


def instructor(folder: Path, text: str = "Find the moment.") -> Path:
    data, _ = sheet_bundle(homework())
    solved = code(2, shown(data), source="M = sheet.step('M_u', 164.8)")
    solved["metadata"]["tags"] = ["solution"]
    secret = new_markdown_cell("Watch for 891.9", metadata={"tags": ["instructor"]})
    attached = new_markdown_cell(text, attachments={"key.txt": {"text/plain": "164.8"}})
    attached["metadata"]["answer"] = "802.7"
    path = folder / "instructor.ipynb"
    cells = [attached, code(1, source="import stepcalc"), solved, secret]
    write(new_notebook(cells=cells, metadata={"key": {"M_u": 164.8}}), path)
    return path


def test_nothing_of_the_key_is_left(tmp_path: Path) -> None:
    made = student_notebook(instructor(tmp_path), tmp_path / "student.ipynb")
    text = made.read_text()
    for number in ("164.8", "891.9", "802.7", "0.7703", "0.205", "key"):
        assert number not in text
    assert "Find the moment." in text
    assert "import stepcalc" in text
    assert "# your work" in text


def test_a_solved_cell_without_a_tag_is_emptied_too(tmp_path: Path) -> None:
    """An instructor who tagged nothing must not hand out the solution."""
    data, _ = sheet_bundle(homework())
    path = tmp_path / "untagged.ipynb"
    solved = code(1, shown(data), source="M = sheet.step('M_u', w * L**2 / 8, kip_ft)")
    write(new_notebook(cells=[solved]), path)
    text = student_notebook(path, tmp_path / "student.ipynb").read_text()
    assert "L**2" not in text
    assert "# find: M_u (kip-ft)" in text, "marking looks for this name"
    assert "# given: L = 37 ft" in text
    assert "# check: Flexure" in text
    assert "164.8" not in text
    solved["metadata"]["tags"] = ["example"]
    write(new_notebook(cells=[solved]), path)
    assert "L**2" in student_notebook(path, tmp_path / "student.ipynb").read_text()


def test_a_text_that_quotes_a_result_is_refused(tmp_path: Path) -> None:
    path = instructor(tmp_path, "The moment is 164.8 kip-ft.")
    with pytest.raises(PrintError, match=r"cell 1 .* quotes the result 164\.8"):
        student_notebook(path, tmp_path / "student.ipynb")
    assert not (tmp_path / "student.ipynb").exists()
    with pytest.raises(PrintError, match="would be overwritten"):
        student_notebook(path, path)
