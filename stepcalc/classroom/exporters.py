"""Exporters for ``jupyter nbconvert --to sheet_handout`` and ``sheet_key``, the papers of a course.

They read what the cells stored, as the verbs ``handout`` and ``key`` do; nothing is run unless
``--execute`` asks for it.
"""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Any

from traitlets import Enum, Int, List, Unicode

from stepcalc.classroom.notebook_papers import notebook_handout, notebook_key
from stepcalc.notebook.exporters import SheetPDFExporter

if TYPE_CHECKING:
    from stepcalc.render import blocks as b

__all__ = ["SheetHandoutExporter", "SheetKeyExporter"]


class SheetHandoutExporter(SheetPDFExporter):
    """The student's paper of a homework as PDF, nothing of the solution in it."""

    export_from_notebook = "Homework: handout (PDF)"

    blank = Enum(
        ("numbers", "formulas"), default_value="numbers",
        help="what the student fills in: numbers, or formulas too",
    ).tag(config=True)  # fmt: skip
    lines = Int(4, min=0, max=60, help="lines of room to work below each step").tag(config=True)
    student_fills = List(
        Unicode(), help="givens that the student chooses, such as a shape"
    ).tag(config=True)  # fmt: skip

    def _document(self, notebook: Mapping[str, Any], source: Path) -> tuple[b.Document, str]:
        made = notebook_handout(
            notebook, source, blank=self.blank, lines=self.lines, student_fills=self.student_fills
        )
        return made, ""


class SheetKeyExporter(SheetPDFExporter):
    """The instructor's key as PDF, with the band that hand rounding allows."""

    export_from_notebook = "Homework: key (PDF)"

    digits = Int(
        3, min=2, max=8, help="significant figures that hand work carries"
    ).tag(config=True)  # fmt: skip

    def _document(self, notebook: Mapping[str, Any], source: Path) -> tuple[b.Document, str]:
        return notebook_key(notebook, source, digits=self.digits), ""
