"""The title block that stands on every sheet, as rows of cells for any printed form."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

COLUMNS = 24
# A longer value is shortened, and printed in full on the first sheet.
LONGEST_VALUE = 84
LETTERS_IN_A_COLUMN = 9
MOST_OTHERS = 8  # fields of the user's own that stand on every sheet


class TitleCell(NamedTuple):
    """One field: its label, its value (empty: a line to fill in), its width in columns."""

    label: str
    value: str
    span: int
    sheet_number: bool = False


_LABELS = {
    "project": "Project", "subject": "Subject", "structure": "Structure", "job": "Job no.",
    "owner": "Owner", "student": "Name", "revision": "Revision", "prepared_by": "Prepared by",
    "prepared_on": "Date", "checked_by": "Checked by", "checked_on": "Date",
    "reviewed_by": "Reviewed by", "reviewed_on": "Date", "course": "Course",
    "assignment": "Assignment", "date": "Date", "instructor": "Instructor",
}  # fmt: skip
# (field, columns); a row adds up to twenty-four. "#" is the sheet number.
_PACKAGE = (
    (("project", 10), ("subject", 10), ("#", 4)),
    (("structure", 8), ("owner", 7), ("job", 5), ("revision", 4)),
    (("prepared_by", 5), ("prepared_on", 3), ("checked_by", 5), ("checked_on", 3),
     ("reviewed_by", 5), ("reviewed_on", 3)),
)  # fmt: skip
_HOMEWORK = (
    (("course", 10), ("assignment", 10), ("#", 4)),
    (("student", 14), ("date", 6), ("revision", 4)),
)
_IN_A_ROW = 4


def title_rows(title: Mapping[str, str], profile: str) -> list[list[TitleCell]]:
    """Return the rows of the title block.

    Parameters
    ----------
    title : mapping
        Fields by name. A field that the profile does not place gets a row after the others, if
        it holds anything.
    profile : {"package", "homework"}

    Returns
    -------
    list of list of TitleCell
        The spans of each row add up to 24 columns.
    """
    rows = [[_cell(title, name, span) for name, span in row] for row in _placed(profile)]
    others = _others(title, profile)[:MOST_OTHERS]
    for start in range(0, len(others), _IN_A_ROW):
        names = others[start : start + _IN_A_ROW]
        rows.append([_cell(title, name, COLUMNS // len(names)) for name in names])
    return rows


def long_fields(title: Mapping[str, str], profile: str) -> list[tuple[str, str]]:
    """Return label and full value of each field that the title block has to shorten or leave out.

    They are printed on the first sheet.
    """
    shown = {cell.value for row in title_rows(title, profile) for cell in row}
    return [
        (_label(name), value)
        for name, value in title.items()
        if value.strip() and " ".join(value.split()) not in shown
    ]


def _placed(profile: str) -> tuple[tuple[tuple[str, int], ...], ...]:
    return _HOMEWORK if profile == "homework" else _PACKAGE


def _others(title: Mapping[str, str], profile: str) -> list[str]:
    known = {name for row in _placed(profile) for name, _ in row}
    return [name for name, value in title.items() if name not in known and value.strip()]


def _cell(title: Mapping[str, str], name: str, span: int) -> TitleCell:
    if name == "#":
        return TitleCell("Sheet", "", span, sheet_number=True)
    value = " ".join(title.get(name, "").split())
    longest = min(LONGEST_VALUE, LETTERS_IN_A_COLUMN * span)
    if len(value) > longest:
        value = value[: longest - 1] + "…"
    return TitleCell(_label(name), value, span)


def _label(name: str) -> str:
    words = name.replace("_", " ").strip()
    label = _LABELS.get(name) or words[:1].upper() + words[1:]
    return label if len(label) <= 24 else label[:23] + "…"
