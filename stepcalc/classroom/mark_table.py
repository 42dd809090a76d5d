"""Marks of a whole class as a table: one submission after the other, none of them ever run."""

from __future__ import annotations

import csv
import io
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from stepcalc.classroom.marking import Marks, Scheme, mark
from stepcalc.errors import FormulaError, StepcalcError

__all__ = ["Marked", "mark_class", "marks_csv", "read_answer_file"]

_LARGEST = 2_000_000
_HEADER = ("submission", "step", "outcome", "credit", "answer", "expected", "remark")


@dataclass(frozen=True, slots=True)
class Marked:
    """One submission: its marks, or why it could not be marked."""

    name: str
    marks: Marks | None
    problem: str = ""


def mark_class(
    submissions: Sequence[Path],
    keys: Mapping[str, Any],
    names: Sequence[str] = (),
    *,
    scheme: Scheme | None = None,
) -> list[Marked]:
    """Return the marks of submissions in their order.

    Parameters
    ----------
    submissions : sequence of Path
        Executed notebooks, or ``.csv`` files with a step and its answer on each line.
    keys : mapping of a submission's name to its sheet
        Under ``""`` the sheet of all others. The name is that of the file without its suffix.
    names : sequence of str
        Steps and checks to mark; all when empty.
    scheme : Scheme, optional

    Notes
    -----
    A submission that cannot be read is listed with the reason; the others are marked.
    """
    found = []
    for path in submissions:
        sheet = keys.get(path.stem, keys.get(""))
        if sheet is None:
            found.append(Marked(path.name, None, f"there is no key for {path.stem!r}"))
            continue
        try:
            answers: Any = path if path.suffix.lower() == ".ipynb" else read_answer_file(path)
            found.append(Marked(path.name, mark(answers, sheet, names, scheme=scheme)))
        except StepcalcError as error:
            found.append(Marked(path.name, None, " ".join(str(error).split())))
    return found


def read_answer_file(path: Path) -> dict[str, str]:
    """Return the answers of a ``.csv`` file: a step and its answer on each line.

    Raises
    ------
    FormulaError
        If the file cannot be read, is too large, or a line is something else.
    """
    try:
        text = path.read_text(encoding="utf-8-sig")
    except (OSError, UnicodeDecodeError) as error:
        reason = getattr(error, "strerror", None) or "it is not UTF-8 text"
        raise FormulaError(f"cannot read {path.name}: {reason.lower()}") from error
    if len(text) > _LARGEST:
        raise FormulaError(f"{path.name} is larger than {_LARGEST} characters")
    answers: dict[str, str] = {}
    for number, row in enumerate(csv.reader(io.StringIO(text)), 1):
        cells = [cell.strip() for cell in row]
        if not any(cells) or (number == 1 and cells[0].lower() == "step"):
            continue
        if len(cells) < 2:
            raise FormulaError(
                f"line {number} of {path.name} is {row!r}; want a step and its answer, such as "
                "M_u,165 kip-ft"
            )
        # 1,963 kip-ft without quotes is cut at its comma
        answers[cells[0]] = ",".join(cells[1:]).strip(",")
    return answers


def marks_csv(marked: Sequence[Marked]) -> str:
    """Return all marks as CSV text, with the notices of each submission as lines of their own."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(_HEADER)
    for one in marked:
        if one.marks is None:
            writer.writerow([one.name, "", "not marked", "", "", "", _plain(one.problem)])
            continue
        for notice in one.marks.notices:
            writer.writerow([one.name, "", "notice", "", "", "", _plain(notice)])
        for found in one.marks.marks:
            writer.writerow(
                [one.name, _plain(found.name), found.outcome, f"{found.credit:g}",
                 _plain(found.answer), found.expected, _plain(found.remark)]
            )  # fmt: skip
    return out.getvalue()


def _plain(text: str) -> str:
    """Return a text that a spreadsheet does not take for a formula."""
    risky = text.startswith(("=", "+", "@", "\t")) or (text[:1] == "-" and not text[1:2].isdigit())
    return f"'{text}" if risky else text
