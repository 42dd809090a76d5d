"""The title block that stands on every sheet, as rows of cells for any printed form."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

COLUMNS = 24
LONGEST_VALUE = 84  # characters; a longer value is printed in full on the first sheet


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
    placed = _HOMEWORK if profile == "homework" else _PACKAGE
    rows = [[_cell(title, name, span) for name, span in row] for row in placed]
    known = {name for row in placed for name, _ in row}
    others = [name for name, value in title.items() if name not in known and value.strip()]
    for start in range(0, len(others), _IN_A_ROW):
        names = others[start : start + _IN_A_ROW]
        rows.append([_cell(title, name, COLUMNS // len(names)) for name in names])
    return rows


def long_fields(title: Mapping[str, str]) -> list[tuple[str, str]]:
    """Return label and full value of each field that the title block has to shorten."""
    return [(_label(n), v) for n, v in title.items() if len(v) > LONGEST_VALUE]


def _cell(title: Mapping[str, str], name: str, span: int) -> TitleCell:
    if name == "#":
        return TitleCell("Sheet", "", span, sheet_number=True)
    value = " ".join(title.get(name, "").split())
    if len(value) > LONGEST_VALUE:
        value = value[: LONGEST_VALUE - 1] + "…"
    return TitleCell(_label(name), value, span)


def _label(name: str) -> str:
    words = name.replace("_", " ").strip()
    label = _LABELS.get(name) or words[:1].upper() + words[1:]
    return label if len(label) <= 24 else label[:23] + "…"
