"""A notebook file read as data, checked as far as printing needs it.

nbformat would do as much, but it takes seconds to load; it is asked only for files of an older
format, which it brings up to date.
"""

from __future__ import annotations

import json
import warnings
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from stepcalc.errors import PrintError

__all__ = ["read_notebook"]

_FORMAT = 4
_KINDS = ("code", "markdown", "raw")
_OUTPUTS = ("stream", "display_data", "execute_result", "error", "update_display_data")


def read_notebook(source: Path) -> Mapping[str, Any]:
    """Return a notebook file; nothing in it is run.

    Parameters
    ----------
    source : Path

    Returns
    -------
    mapping
        ``cells`` and ``metadata`` in the fourth major version of the format.

    Raises
    ------
    PrintError
        If the file cannot be read or is no notebook.
    """
    try:
        text = source.read_text(encoding="utf-8-sig")
    except (OSError, UnicodeDecodeError) as error:
        reason = getattr(error, "strerror", None) or "it is not UTF-8 text"
        raise PrintError(f"cannot read {source}: {reason[:1].lower()}{reason[1:]}") from error
    try:
        notebook = json.loads(text)
    except (ValueError, RecursionError) as error:
        words = " ".join(str(error).split())[:160]
        raise PrintError(
            f"{source} is no Jupyter notebook: it is no JSON, or was cut off ({words})"
        ) from error
    if isinstance(notebook, Mapping) and notebook.get("nbformat") in (1, 2, 3):
        return _brought_up_to_date(text, source)
    problem = _problem(notebook)
    if problem:
        raise PrintError(f"{source} is no Jupyter notebook: {problem}")
    read: Mapping[str, Any] = notebook
    return read


def _brought_up_to_date(text: str, source: Path) -> Mapping[str, Any]:
    import nbformat

    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # older files lack cell ids, which nothing here needs
            notebook = nbformat.reads(text, as_version=_FORMAT)
            nbformat.validate(notebook)
    except Exception as error:  # nbformat raises whatever json and jsonschema raise
        words = " ".join(str(error).split())[:160]
        raise PrintError(f"{source} is no Jupyter notebook: {words}") from error
    read: Mapping[str, Any] = notebook
    return read


def _problem(notebook: Any) -> str:
    """Return what keeps JSON data from being a notebook, or nothing."""
    if not isinstance(notebook, Mapping):
        return f"it holds a {type(notebook).__name__}, not an object"
    version = notebook.get("nbformat")
    if version != _FORMAT:
        return f"its nbformat is {version!r}; want {_FORMAT}" if version else "it has no nbformat"
    cells = notebook.get("cells")
    if not isinstance(cells, list) or not isinstance(notebook.get("metadata", {}), Mapping):
        return "it has no list of cells, or its metadata is no object"
    for number, cell in enumerate(cells, 1):
        problem = _problem_of_cell(cell)
        if problem:
            return f"cell {number} {problem}"
    return ""


def _problem_of_cell(cell: Any) -> str:
    if not isinstance(cell, Mapping):
        return "is no object"
    if cell.get("cell_type") not in _KINDS:
        return f"has the cell_type {cell.get('cell_type')!r}; want {', '.join(_KINDS)}"
    if not _is_text(cell.get("source", "")) or not isinstance(cell.get("metadata", {}), Mapping):
        return "has a source that is no text, or metadata that is no object"
    if cell["cell_type"] != "code":
        return ""
    count = cell.get("execution_count")
    if count is not None and (isinstance(count, bool) or not isinstance(count, int)):
        return f"has the execution_count {count!r}; want a whole number or null"
    outputs = cell.get("outputs", [])
    if not isinstance(outputs, list):
        return "has outputs that are no list"
    for output in outputs:
        if not isinstance(output, Mapping) or output.get("output_type") not in _OUTPUTS:
            kind = output.get("output_type") if isinstance(output, Mapping) else output
            return f"has an output of the type {str(kind)[:40]!r}; want {', '.join(_OUTPUTS)}"
        if not isinstance(output.get("data", {}), Mapping) or not _is_text(output.get("text", "")):
            return "has an output whose data is no object, or whose text is no text"
    return ""


def _is_text(value: Any) -> bool:
    return isinstance(value, str) or (
        isinstance(value, list) and all(isinstance(line, str) for line in value)
    )
