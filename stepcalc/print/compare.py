"""Two states of a calculation beside each other: changed inputs, results and verdicts."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from stepcalc.errors import SheetFileError
from stepcalc.print.package import print_document
from stepcalc.print.snapshot import Item, NoFormulasError, Snapshot, snapshot
from stepcalc.render.document import read_document

__all__ = ["Change", "Comparison", "compare"]

_SAME = 1e-12
_SYMBOL = re.compile(r"[A-Za-z]\w{0,30}")
_TITLES = ("Changed inputs", "Changed results", "Changed checks")


@dataclass(frozen=True, slots=True)
class Change:
    """One line: a name, what was shown, what is shown now, and the kind of change in words."""

    name: str
    old: str
    new: str
    remark: str


@dataclass(frozen=True, slots=True)
class Comparison:
    """What differs between two states; see :func:`compare`.

    Attributes
    ----------
    inputs, results, checks : tuple of Change
        In the order of the new state; what is gone stands last.
    source : Sheet, Package or path
        The new state.
    """

    old: str
    new: str
    inputs: tuple[Change, ...]
    results: tuple[Change, ...]
    checks: tuple[Change, ...]
    source: Any = None

    @property
    def changed(self) -> bool:
        """Whether anything differs."""
        return bool(self.inputs or self.results or self.checks)

    @property
    def verdicts(self) -> tuple[Change, ...]:
        """The checks whose verdict turned."""
        return tuple(change for change in self.checks if "now " in change.remark)

    def text(self) -> str:
        """Return the comparison as aligned plain text."""
        lines = [f"old: {self.old}", f"new: {self.new}"]
        if not self.changed:
            return "\n".join([*lines, "no input, result or check differs"])
        for title, changes in self._groups():
            lines += ["", f"{title}: {len(changes)}"]
            rows = [("", "old", "new", "")]
            rows += [(c.name, c.old, c.new, c.remark) for c in changes]
            widths = [max(len(row[k]) for row in rows) for k in range(4)]
            if changes:
                lines += [
                    "  ".join(cell.ljust(w) for cell, w in zip(row, widths, strict=True)).rstrip()
                    for row in rows
                ]
        return "\n".join(lines)

    def document(self) -> dict[str, Any]:
        """Return the comparison as a document that prints."""
        blocks: list[dict[str, Any]] = [{"kind": "note", "text": self._verdict()}]
        for number, (title, changes) in enumerate(self._groups(), 1):
            blocks.append({"kind": "heading", "level": 1, "number": str(number), "text": title})
            if not changes:
                blocks.append({"kind": "note", "text": "None."})
                continue
            rows = [
                [_name_cell(c.name) if number < 3 else c.name, c.old, c.new, c.remark]
                for c in changes
            ]
            header = ["", "Old", "New", "Change"]
            blocks.append({"kind": "table", "header": header, "rows": rows, "align": "lrrl"})
        sheet = {"title": "Comparison", "blocks": blocks}
        return {"v": 1, "title": {"subject": f"{self.old} and {self.new}"}, "sheets": [sheet]}

    def print(self, path: str | Path, **options: Any) -> Path:
        """Write the comparison as ``.pdf``, ``.html`` or ``.tex``; return the path.

        The new sheets follow, each changed line marked with what it was; bare results have none.

        Raises
        ------
        PrintError
            If the suffix is another, or the file cannot be written.
        """
        from stepcalc.print.change_marks import marked, printable

        table = read_document(self.document())
        new = printable(self.source) if self.changed else None
        if new is not None:
            pages = marked(new, self)
            table = replace(pages, sheets=(*table.sheets, *pages.sheets))
        return print_document(table, path, **options)

    def _groups(self) -> list[tuple[str, tuple[Change, ...]]]:
        return list(zip(_TITLES, (self.inputs, self.results, self.checks), strict=True))

    def _verdict(self) -> str:
        turned = self.verdicts
        said = f"Old: {self.old}. New: {self.new}. "
        if not self.changed:
            return said + "No input, result or check differs."
        names = ", ".join(f"{change.name} ({change.remark})" for change in turned)
        counts = (
            f"{len(self.inputs)} inputs, {len(self.results)} results, {len(self.checks)} checks"
        )
        return said + f"Changed: {counts}. Verdicts that turned: {names or 'none'}."


def _name_cell(name: str) -> Any:
    """Return a symbol as mathematics, and any longer name as it is."""
    return ["sym", name] if _SYMBOL.fullmatch(name) else name


def compare(old: Any, new: Any) -> Comparison:
    """Return what differs between two states of a calculation.

    Parameters
    ----------
    old, new : Sheet, Package, or path
        Both of one kind: sheets or packages, files of ``to_json``, files of ``--json``, or
        executed notebooks. Nothing in them is executed.

    Returns
    -------
    Comparison

    Raises
    ------
    SheetFileError
        If a file cannot be read, or the two are of different kinds.
    PrintError, StaleError
        If a notebook was not run from top to bottom.
    """
    before, after = _snapshots(old, new)
    if before.kind != after.kind:
        raise SheetFileError(
            f"{before.origin} holds a {before.kind} and {after.origin} a {after.kind}; compare two "
            "sheets, two files of results, or two notebooks"
        )
    return Comparison(
        before.origin, after.origin,
        _changes(before.inputs, after.inputs), _changes(before.results, after.results),
        _checks(before, after), new,
    )  # fmt: skip


def _snapshots(old: Any, new: Any) -> tuple[Snapshot, Snapshot]:
    """Return both states; of notebooks with their formulas where both hold them."""
    try:
        return snapshot(old, formulas=True), snapshot(new, formulas=True)
    except NoFormulasError:
        return snapshot(old), snapshot(new)


def _changes(old: Mapping[str, Item], new: Mapping[str, Item]) -> tuple[Change, ...]:
    found = []
    for name, item in new.items():
        before = old.get(name)
        if before is None:
            found.append(Change(name, "", item.shown, "added"))
            continue
        remarks = _remarks(before, item)
        if remarks:
            found.append(Change(name, before.shown, item.shown, "; ".join(remarks)))
    found += [Change(n, item.shown, "", "removed") for n, item in old.items() if n not in new]
    return tuple(found)


def _remarks(before: Item, after: Item) -> list[str]:
    remarks = []
    if _differs(before, after):
        remarks.append(_share(before, after))
    if before.definition != after.definition:
        remarks.append("defined differently")
    return remarks


def _differs(before: Item, after: Item) -> bool:
    if before.number is None or after.number is None or before.unit != after.unit:
        return (before.shown, before.number) != (after.shown, after.number)
    return not math.isclose(before.number, after.number, rel_tol=_SAME, abs_tol=0.0)


def _share(before: Item, after: Item) -> str:
    """Return the change in per cent where both are numbers of one unit."""
    if before.number is None or after.number is None or before.unit != after.unit:
        return "changed"
    if before.number == 0.0:
        return "changed from 0"
    return f"{100 * (after.number - before.number) / abs(before.number):+.3g} %"


def _checks(before: Snapshot, after: Snapshot) -> tuple[Change, ...]:
    turned = {
        name
        for name, verdict in after.verdicts.items()
        if before.verdicts.get(name, verdict) != verdict
    }
    found = []
    listed = {change.name: change for change in _changes(before.checks, after.checks)}
    for name in [*after.checks, *(name for name in before.checks if name not in after.checks)]:
        change = listed.get(name)
        if change is None and name not in turned:
            continue
        old, new = (_with_verdict(state, name) for state in (before, after))
        remarks = [f"now {after.verdicts[name]}"] if name in turned else []
        remarks += [change.remark] if change is not None else []
        found.append(Change(name, old, new, "; ".join(remarks)))
    return tuple(found)


def _with_verdict(state: Snapshot, name: str) -> str:
    item = state.checks.get(name)
    return "" if item is None else f"{item.shown} {state.verdicts[name]}"
