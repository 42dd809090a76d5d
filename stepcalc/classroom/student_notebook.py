"""The student's copy of a notebook: the instructor's work, every output and every trace taken out.

A cell that shows results, or is tagged ``solution``, keeps its place and loses its text: it names
what is given and what is to be found, by the names that marking looks for.  One tagged
``instructor`` is left out, one tagged ``example`` is handed out as it is.  What stays is searched
for every number that the instructor's outputs show as a result.
"""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

from stepcalc.errors import PrintError
from stepcalc.print.notebook import notebook_document, read_notebook, run_notebook
from stepcalc.print.notebook_document import source_of
from stepcalc.print.notebook_sheets import bundles_of
from stepcalc.print.package import write_whole
from stepcalc.print.prepared import every_block
from stepcalc.render import blocks as b
from stepcalc.render.dialects import dialect, replay
from stepcalc.render.document import read_block

__all__ = ["student_notebook"]

_TEXT = dialect("text")
_NUMBER = re.compile(r"\d[\d,]*(?:\.\d+)?")
_STUBS = {"code": "# your work", "markdown": "*Your work*", "raw": ""}
_RESULTS = (b.Step, b.Computed, b.Lookup, b.Check, b.Conclusion)


def student_notebook(source: str | Path, out: str | Path, *, run: bool = False) -> Path:
    """Write the student's copy of an executed notebook.

    Parameters
    ----------
    source : str or Path
        The instructor's notebook, run from top to bottom.
    out : str or Path
        The file to write; another one than ``source``.
    run : bool
        Run the instructor's notebook first, in a fresh kernel; its file stays as it is.

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
    notebook = run_notebook(read_notebook(origin), origin) if run else read_notebook(origin)
    document, _ = notebook_document(notebook, origin)
    secret = _results(document)
    cells = _student_cells(notebook)
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


def _student_cells(notebook: Any) -> list[dict[str, Any]]:
    shown: dict[int, list[b.Block]] = {}
    for number, bundle in bundles_of(notebook):
        blocks = tuple(map(read_block, bundle.get("blocks") or ()))
        shown.setdefault(number, []).extend(every_block(blocks))
    return [
        _stripped(cell, shown.get(number, []))
        for number, cell in enumerate(notebook["cells"], 1)
        if "instructor" not in _tags(cell)
    ]


def _stripped(cell: Any, shown: list[b.Block]) -> dict[str, Any]:
    """Return a cell made new: its text or a stub, its id, and nothing else."""
    kind, tags = cell["cell_type"], _tags(cell)
    solves = any(isinstance(block, _RESULTS) for block in shown)
    if "solution" in tags or (solves and "example" not in tags):
        text = "\n".join((_STUBS[kind], *filter(None, map(_task, shown))))
    else:
        text = source_of(cell)
    made: dict[str, Any] = {"cell_type": kind, "metadata": {}, "source": text}
    if "id" in cell:
        made["id"] = cell["id"]
    if kind == "code":
        made |= {"outputs": [], "execution_count": None}
    return made


def _task(block: b.Block) -> str:
    """Return the line that says what a block gives or asks for, without its answer."""
    if isinstance(block, b.Heading):
        return f"# {block.text}"
    if isinstance(block, b.Given):
        said = f"# given: {block.name} = {replay(block.value, _TEXT)}"
    elif isinstance(block, (b.Step, b.Computed, b.Lookup)):
        unit = _NUMBER.sub("", replay(block.result, _TEXT), count=1).strip(" -−")
        said = f"# find: {block.name}" + (f" ({unit})" if unit else "")
    elif isinstance(block, b.Check):
        return f"# check: {block.name}"
    elif isinstance(block, b.Conclusion):
        return "# conclude: what holds, and what was not checked"
    else:
        return ""
    return " ".join((said + (f", {block.description}" if block.description else "")).split())


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
