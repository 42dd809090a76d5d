"""The student's copy of a notebook: the instructor's work, every output and every trace taken out.

A cell tagged ``solution`` keeps its place and loses its text; one tagged ``instructor`` is left
out.  What stays is searched for every number that the instructor's outputs show as a result.
"""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

from stepcalc.errors import PrintError
from stepcalc.print.notebook import notebook_document, read_notebook
from stepcalc.print.notebook_document import source_of
from stepcalc.print.package import write_whole
from stepcalc.print.prepared import every_block
from stepcalc.render import blocks as b
from stepcalc.render.dialects import dialect, replay

__all__ = ["student_notebook"]

_TEXT = dialect("text")
_NUMBER = re.compile(r"\d[\d,]*(?:\.\d+)?")
_STUBS = {"code": "# your work", "markdown": "*Your work*", "raw": ""}


def student_notebook(source: str | Path, out: str | Path) -> Path:
    """Write the student's copy of an executed notebook; nothing is run.

    Parameters
    ----------
    source : str or Path
        The instructor's notebook, run from top to bottom.
    out : str or Path
        The file to write; another one than ``source``.

    Returns
    -------
    Path
        Where the file is.

    Raises
    ------
    PrintError
        If the notebook was not run, if the files are the same, or if a cell that stays quotes a
        result; nothing is written then.
    """
    origin, target = Path(source), Path(out)
    if origin.resolve() == target.resolve():
        raise PrintError(f"{origin} would be overwritten by the student's copy; name another file")
    notebook = read_notebook(origin)
    document, _ = notebook_document(notebook, origin)
    secret = _results(document)
    cells = [_stripped(cell) for cell in notebook["cells"] if "instructor" not in _tags(cell)]
    for number, cell in enumerate(cells, 1):
        quoted = secret.intersection(found.replace(",", "") for found in
                                     _NUMBER.findall(cell["source"]))  # fmt: skip
        if quoted:
            raise PrintError(
                f"cell {number} of the student's copy quotes the result {min(quoted)}; tag it "
                "'solution' or 'instructor', or reword it"
            )
    kernel = {k: v for k, v in notebook.get("metadata", {}).items() if k == "kernelspec"}
    minor = 5 if all("id" in cell for cell in cells) else 4  # ids came with the fifth
    made = {"cells": cells, "metadata": kernel, "nbformat": 4, "nbformat_minor": minor}
    write_whole(target, (json.dumps(made, ensure_ascii=False, indent=1) + "\n").encode())
    return target


def _tags(cell: Any) -> list[str]:
    tags = (cell.get("metadata") or {}).get("tags", [])
    return [str(tag) for tag in tags] if isinstance(tags, list) else []


def _stripped(cell: Any) -> dict[str, Any]:
    """Return a cell made new: its text or a stub, its id, and nothing else."""
    kind = cell["cell_type"]
    text = _STUBS[kind] if "solution" in _tags(cell) else source_of(cell)
    made: dict[str, Any] = {"cell_type": kind, "metadata": {}, "source": text}
    if "id" in cell:
        made["id"] = cell["id"]
    if kind == "code":
        made |= {"outputs": [], "execution_count": None}
    return made


def _results(document: b.Document) -> set[str]:
    """Return the results shown, as plain numbers of at least three digits; givens are none."""
    found: set[str] = set()
    known: set[str] = set()
    for sheet in document.sheets:
        for block in every_block(sheet.blocks):
            if isinstance(block, b.Given):
                known |= set(_NUMBER.findall(replay(block.value, _TEXT)))
            elif isinstance(block, (b.Step, b.Computed, b.Lookup)):
                found |= set(_NUMBER.findall(replay(block.result, _TEXT))[:1])
            elif isinstance(block, b.Check):
                found.add(block.ratio)
    plain = {number.replace(",", "") for number in found - known}
    return {number for number in plain if len(re.sub(r"\D", "", number).lstrip("0")) >= 3}
