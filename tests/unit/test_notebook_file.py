"""Notebook files, one fault at a time: each is said in one paragraph, and nothing is written."""

from __future__ import annotations

import json
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import nbformat
import pytest

from stepcalc import cli
from stepcalc.errors import PrintError
from stepcalc.notebook.display import MIME, sheet_bundle
from stepcalc.print.notebook_file import read_notebook
from tests.unit.classroom_sheet import homework
from tests.unit.test_print_notebook import code, new_markdown_cell, new_notebook, shown, write

write_text: Callable[..., Any] = Path.write_text


def good() -> dict[str, Any]:
    made: dict[str, Any] = json.loads(
        json.dumps(new_notebook(cells=[
            new_markdown_cell("Words"), code(1, shown(sheet_bundle(homework())[0])),
        ]))
    )  # fmt: skip
    return made


def changed(change: Callable[[dict[str, Any]], Any]) -> str:
    notebook = good()
    change(notebook)
    return json.dumps(notebook)


def cell(notebook: dict[str, Any]) -> dict[str, Any]:
    found: dict[str, Any] = notebook["cells"][1]
    return found


def bundle(notebook: dict[str, Any]) -> dict[str, Any]:
    found: dict[str, Any] = cell(notebook)["outputs"][0]["data"][MIME]
    return found


FAULTS = {
    "cut off": (json.dumps(good())[:900], "it is no JSON, or was cut off"),
    "empty": ("", "it is no JSON"),
    "a list": ("[]", "it holds a list, not an object"),
    "no version": ("{}", "it has no nbformat"),
    "a later version": (changed(lambda n: n.update(nbformat=5)), "its nbformat is 5"),
    "an old one, damaged": ('{"nbformat": 3, "worksheets": 7}', "no Jupyter notebook"),
    "no cells": (changed(lambda n: n.pop("cells")), "no list of cells"),
    "a cell that is none": (changed(lambda n: n["cells"].insert(0, 5)), "cell 1 is no object"),
    "an unknown cell": (changed(lambda n: cell(n).update(cell_type="x")), "cell 2 has the cell_ty"),
    "a count in words": (
        changed(lambda n: cell(n).update(execution_count="two")), "the execution_count 'two'",
    ),
    "outputs that are none": (changed(lambda n: cell(n).update(outputs={})), "are no list"),
    "an unknown output": (
        changed(lambda n: cell(n)["outputs"][0].update(output_type="x")), "of the type 'x'",
    ),
    "a source that is no text": (changed(lambda n: cell(n).update(source=4)), "no text"),
    "never run": (changed(lambda n: cell(n).update(execution_count=None)), "was never run"),
    "no code": (changed(lambda n: n["cells"].pop()), "has no code cells"),
    "an error in it": (
        changed(lambda n: cell(n)["outputs"].append(
            {"output_type": "error", "ename": "ValueError", "evalue": "no", "traceback": []}
        )), "cell 2 of n.ipynb ended in an error (ValueError: no)",
    ),
    "run out of order": (
        changed(lambda n: n["cells"].insert(0, {**cell(n), "execution_count": 4, "outputs": []})),
        "run out of order",
    ),
    "an output of a later version": (
        changed(lambda n: bundle(n).update(v=9)), "in a form that this stepcalc does not print",
    ),
    "blocks that are none": (changed(lambda n: bundle(n).update(blocks=3)), "no list of blocks"),
    "an unknown block": (
        changed(lambda n: bundle(n)["blocks"].append({"kind": "spam"})), "kind 'spam'",
    ),
    "a formula that is none": (
        changed(lambda n: bundle(n)["blocks"][1].update(symbol=["spam", 1])), "spam",
    ),
    "a figure without data": (
        changed(lambda n: bundle(n)["blocks"].append({"kind": "figure", "caption": "lost"})),
        "has neither data nor a picture",
    ),
    "a figure of no kind": (
        changed(lambda n: bundle(n)["blocks"].append({"kind": "figure", "data": {"kind": "x"}})),
        "a figure has the kind 'x'",
    ),
    "a picture that is none": (
        changed(lambda n: cell(n)["outputs"].append(
            {"output_type": "display_data", "metadata": {}, "data": {"image/png": "spam"}}
        )), "png",
    ),
}  # fmt: skip


IN_EVERY_PROFILE = (
    "cut off", "never run", "run out of order", "an error in it", "an unknown block",
    "a figure without data", "a figure of no kind",
)  # fmt: skip
CASES = [
    *((name, "homework") for name in FAULTS),
    *((name, profile) for name in IN_EVERY_PROFILE for profile in ("walkthrough", "handout")),
]


@pytest.mark.parametrize(("name", "profile"), CASES)
def test_a_fault_is_said_and_nothing_written(
    name: str, profile: str, tmp_path: Path, capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
) -> None:  # fmt: skip
    monkeypatch.chdir(tmp_path)
    text, words = FAULTS[name]
    Path("n.ipynb").write_text(text)
    Path("out.pdf").write_text("yesterday's")
    assert cli.main(["print", "n.ipynb", "-o", "out.pdf", "--profile", profile]) == 2
    said = capsys.readouterr()
    assert words in said.err
    assert said.err.count("\n") == 1
    assert "Traceback" not in said.err
    assert Path("out.pdf").read_text() == "yesterday's"
    assert sorted(path.name for path in tmp_path.iterdir()) == ["n.ipynb", "out.pdf"]


def test_a_foreign_notebook_prints_and_says_that_nothing_was_checked(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "foreign.ipynb"
    write(new_notebook(cells=[new_markdown_cell("# Mine"), code(1, shown({}))]), path)
    assert cli.main(["print", str(path), "-o", str(tmp_path / "f.html")]) == 0
    assert "nothing on these pages was checked" in (tmp_path / "f.html").read_text()
    for verb in ("handout", "key"):
        assert cli.main([verb, str(path), "-o", str(tmp_path / "h.pdf")]) == 2
        assert "shows no calculation sheet" in capsys.readouterr().err


def test_what_is_read_is_what_nbformat_reads(tmp_path: Path, root: Path) -> None:
    read: Callable[..., Any] = nbformat.read
    for path in sorted(root.glob("notebooks/**/*.ipynb")):
        ours, theirs = read_notebook(path), read(path, as_version=4)
        assert len(ours["cells"]) == len(theirs["cells"])
        for one, other in zip(ours["cells"], theirs["cells"], strict=True):
            assert "".join(one["source"]) == other["source"]
            assert one["cell_type"] == other["cell_type"]
    with pytest.raises(PrintError, match="cannot read"):
        read_notebook(tmp_path / "none.ipynb")


def test_an_old_notebook_is_brought_up_to_date(tmp_path: Path) -> None:
    old = {
        "nbformat": 3, "nbformat_minor": 0, "metadata": {},
        "worksheets": [{"cells": [
            {"cell_type": "code", "language": "python", "input": "x = 1", "prompt_number": 1,
             "outputs": [], "metadata": {}, "collapsed": False},
        ], "metadata": {}}],
    }  # fmt: skip
    path = tmp_path / "old.ipynb"
    path.write_text(json.dumps(old))
    assert read_notebook(path)["cells"][0]["source"] == "x = 1"


def test_printing_loads_neither_nbformat_nor_nbconvert(root: Path, tmp_path: Path) -> None:
    source = root / "notebooks/classroom/rolled_beam_by_hand.ipynb"
    line = (
        "import sys; from stepcalc import cli; "
        f"code = cli.main(['print', {str(source)!r}, '-o', {str(tmp_path / 'o.pdf')!r}]); "
        "heavy = {'nbformat', 'nbconvert', 'nbclient', 'IPython', 'jsonschema', 'sympy'}; "
        "print(code, sorted(heavy & set(sys.modules)))"
    )
    ran = subprocess.run([sys.executable, "-c", line], capture_output=True, text=True, check=True)
    assert ran.stdout.splitlines()[-1] == "0 []"
