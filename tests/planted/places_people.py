"""Errors planted in what course and review use, and the tests that must see them."""

from __future__ import annotations

from tests.planted.place import places

_UNIT = "tests/unit/"

PEOPLE = [
    *places(
        "classroom/blank_figure.py",
        f"{_UNIT}test_classroom_notebook_papers.py",
        ("        if not typed or secret.tells", "        if secret.tells"),
    ),
    *places(
        "classroom/mark_table.py",
        f"{_UNIT}test_cli_classroom.py",
        ('return f"\'{text}" if risky else text', "return text"),
    ),
    *places(
        "classroom/student_notebook.py",
        f"{_UNIT}test_classroom_student_notebook.py",
        ('(solves and "example" not in tags)', "(not shown)"),
    ),
    *places(
        "classroom/feedback.py",
        f"{_UNIT}test_classroom_feedback.py",
        ("if outcomes.get(name, \"right\") not in _FINE", "if outcomes.get(name) in _FINE"),
    ),
    *places(
        "notebook/display.py",
        f"{_UNIT}test_notebook_live_outputs.py",
        ("return left[: ends[0]] if ends else [record]", "return [record]"),
    ),
    *places(
        "classroom/marking.py",
        f"{_UNIT}test_notebook_records.py",
        ("if scheme.not_own == 1.0 or", "if scheme.not_own != 1.0 or"),
    ),
    *places(
        "notebook/live_outputs.py",
        f"{_UNIT}test_notebook_live_outputs.py",
        ("if mark(sheet, slot) != wanted", "if mark(sheet, slot) is None"),
    ),
    *places(
        "print/slides.py",
        f"{_UNIT}test_print_slides.py",
        ("last = len(work) + 1\n        result", "last = len(work)\n        result"),
    ),
    *places(
        "print/independent_check.py",
        f"{_UNIT}test_cli_classroom.py",
        (
            'return [label, unit or "–", _LINE, "", "", ""]',
            'return [label, unit or "–", _LINE, getattr(node, "shown", node.name), "", ""]',
        ),
    ),
]  # fmt: skip
