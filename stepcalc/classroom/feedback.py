"""What a student is told about a marked submission: right or not, and a hint, never the answer."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from stepcalc.classroom.marking import Mark, Marks

__all__ = ["feedback"]

_FINE = ("right", "follow-through")


def feedback(marks: Marks, sheet: Any) -> str:
    """Return the words for the student, one line for each step that was marked.

    Parameters
    ----------
    marks : Marks
        As :func:`stepcalc.classroom.marking.mark` returns them.
    sheet : Sheet
        The key; only names are taken from it.

    Returns
    -------
    str
        Lines of text; no value of the key is among them.
    """
    outcomes = {found.name: found.outcome for found in marks.marks}
    nodes = {node.name: node for node in (*sheet.steps, *sheet.checks)}
    right = sum(found.credit == 1.0 for found in marks.marks)
    width = max((len(name) for name in outcomes), default=0)
    lines = [f"{right} of {len(marks.marks)} have full credit. No answer stands here.", ""]
    lines += [
        f"{found.name:{width}}  {_said(found, _used(sheet, nodes[found.name]), outcomes)}"
        for found in marks.marks
    ]
    if marks.notices:
        lines += ["", *marks.notices]
    return "\n".join(lines) + "\n"


def _used(sheet: Any, node: Any) -> list[str]:
    """Return the names of the steps that a node of the key uses."""
    entries = [sheet._book.entries[slot] for slot in sorted(sheet._book.uses(node.slot))]
    return [entry.name for entry in entries if entry.kind != "given"]


def _said(found: Mark, used: list[str], outcomes: dict[str, str]) -> str:
    if found.outcome == "right":
        return "right"
    if found.outcome == "follow-through":
        return "follows rightly from your own earlier value, which is not right"
    if found.outcome == "missing":
        return "no answer of this name"
    if found.remark:
        return f"not right: {found.remark}"
    faulty = [name for name in used if outcomes.get(name, "right") not in _FINE]
    if faulty:
        return f"not right: set {_listed(faulty)} right first, then work it again"
    if used:
        return (
            f"not right, though {_listed(used)} can be used as you have it: look at the formula, "
            "its factors and its units"
        )
    return "not right: look at the givens, the formula, its factors and its units"


def _listed(names: list[str]) -> str:
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"
