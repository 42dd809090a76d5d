"""Key and handout of an executed notebook: its own text with the solution, or without.

Cells speak by their tags: one tagged ``instructor`` is not on the handout, of one tagged
``solution`` only room to work. The notebook's metadata may name givens that the student chooses:
``{"stepcalc": {"student_fills": ["shape"]}}``. Nothing is run.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Any

from stepcalc.classroom.bands import HAND_DIGITS
from stepcalc.classroom.handout import handout
from stepcalc.classroom.key import key
from stepcalc.print.notebook import notebook_document
from stepcalc.print.notebook_sheets import notebook_sheets

if TYPE_CHECKING:
    from stepcalc.render import blocks as b

__all__ = ["notebook_handout", "notebook_key"]

_WORK = "*Your work:*"


def notebook_key(
    notebook: Mapping[str, Any], source: Path, *, digits: int = HAND_DIGITS, **options: Any
) -> b.Document:
    """Return the key of a notebook: all of it, and the bands of hand work.

    Parameters
    ----------
    notebook : mapping
        As :func:`stepcalc.print.notebook.read_notebook` returns it; ``source`` is for messages.
    digits : int
        Significant digits that hand work carries.
    **options
        As :func:`stepcalc.print.notebook.notebook_document` takes them.

    Raises
    ------
    PrintError, StaleError, SheetFileError
        If the notebook was not run from top to bottom, or holds no sheet.
    """
    document, _ = notebook_document(notebook, source, **options)
    return key(document, digits=digits, sheets=notebook_sheets(notebook, source))


def notebook_handout(
    notebook: Mapping[str, Any],
    source: Path,
    *,
    blank: str = "numbers",
    lines: int = 4,
    student_fills: Iterable[str] = (),
    pledge: str = "",
) -> b.Document:
    """Return the handout of a notebook.

    Parameters
    ----------
    notebook : mapping
        As :func:`stepcalc.print.notebook.read_notebook` returns it; ``source`` is for messages.
    blank, lines, student_fills, pledge
        As in :func:`stepcalc.classroom.handout.handout`; the notebook's metadata may name more.

    Raises
    ------
    PrintError, StaleError, SheetFileError
        If the notebook was not run from top to bottom, or holds no sheet.
    FormulaError
        If a choice is none.
    """
    notebook_document(notebook, source)  # refuses what was not run from top to bottom
    document, _ = notebook_document(_for_students(notebook), source, code="none")
    return handout(
        document, blank=blank, lines=lines, sheets=notebook_sheets(notebook, source),
        student_fills={*student_fills, *_named_by(notebook)}, pledge=pledge,
    )  # fmt: skip


def _named_by(notebook: Mapping[str, Any]) -> list[str]:
    own = notebook.get("metadata", {}).get("stepcalc")
    names = own.get("student_fills") if isinstance(own, Mapping) else None
    return [str(name) for name in names] if isinstance(names, list) else []


def _for_students(notebook: Mapping[str, Any]) -> dict[str, Any]:
    cells = []
    for cell in notebook["cells"]:
        tags = (cell.get("metadata") or {}).get("tags") or []
        if "instructor" in tags:
            continue
        if "solution" in tags:
            cells.append({"cell_type": "markdown", "metadata": {}, "source": _WORK})
        else:
            cells.append(cell)
    return {**notebook, "cells": cells}
