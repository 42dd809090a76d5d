"""A compact index of a sheet: its parts and its checks, kept up to date while cells run."""

from __future__ import annotations

import html
from collections.abc import Iterator
from typing import Any

from stepcalc.notebook.display import MIME
from stepcalc.sheet.entries import Part

__all__ = ["Index", "index"]

_COUNTED = (("givens", ("given",)), ("steps", ("step", "lookup", "computed")))
_live: dict[str, Index] = {}


def index(sheet: Any) -> Index:
    """Return the index of a sheet; a cell that shows it keeps it up to date.

    Parameters
    ----------
    sheet : Sheet
    """
    return Index(sheet)


class Index:
    """Parts with what they hold, checks with ratio and verdict; see :func:`index`."""

    def __init__(self, sheet: Any) -> None:
        self._sheet = sheet
        self._handle: Any = None
        self._last = ""

    def rows(self) -> list[tuple[str, str, str]]:
        """Return number, title or name, and contents or verdict of each line."""
        while self._sheet._successor is not None:
            self._sheet = self._sheet._successor
        return list(_rows(self._sheet, self._sheet._book.root))

    def bundle(self) -> dict[str, Any]:
        """Return the index as a plain table, as text, and as nothing to print."""
        rows = self.rows()
        widths = [max((len(row[k]) for row in rows), default=0) for k in (0, 1)]
        lines = [f"{a:{widths[0]}}  {b:{widths[1]}}  {c}".rstrip() for a, b, c in rows]
        title = f"{self._sheet.title}: {self._verdict()}"
        body = "".join(
            "<tr>" + "".join(f"<td>{html.escape(cell)}</td>" for cell in row) + "</tr>"
            for row in rows
        )
        head = "".join(f"<th scope='col'>{name}</th>" for name in ("no.", "part or check", ""))
        return {
            "text/html": f"<table><caption>{html.escape(title)}</caption>"
            f"<thead><tr>{head}</tr></thead><tbody>{body}</tbody></table>",
            "text/plain": "\n".join([title, *lines]),
            MIME: {"v": 1, "sheet": None, "title_block": None, "blocks": [], "marks": {}},
        }

    def _verdict(self) -> str:
        checks = self._sheet.checks
        failed = sum(not check.passed for check in checks)
        if not checks:
            return "no check yet"
        if failed:
            return f"{failed} of {len(checks)} checks N.G."
        return "the one check OK" if len(checks) == 1 else f"all {len(checks)} checks OK"

    def refresh(self, _result: Any = None) -> None:
        """Show the index as it is now, where it was shown before."""
        data = self.bundle()
        if self._handle is not None and data["text/plain"] != self._last:
            self._last = data["text/plain"]
            self._handle.update(data, raw=True)

    def _ipython_display_(self) -> None:
        from IPython import get_ipython
        from IPython.display import display

        data = self.bundle()
        self._last = data["text/plain"]
        self._handle = display(data, raw=True, display_id=True)  # type: ignore[no-untyped-call]
        events = get_ipython().events
        before = _live.get(self._sheet.title)
        if before is not None and before.refresh in events.callbacks["post_run_cell"]:
            events.unregister("post_run_cell", before.refresh)
        _live[self._sheet.title] = self
        events.register("post_run_cell", self.refresh)


def _rows(sheet: Any, part: Part) -> Iterator[tuple[str, str, str]]:
    if part.parent is not None:
        own = [block.kind for block in part.blocks if not isinstance(block, Part)]
        counts = ((name, sum(kind in kinds for kind in own)) for name, kinds in _COUNTED)
        said = ", ".join(f"{n} {name if n != 1 else name[:-1]}" for name, n in counts if n)
        yield part.number, part.title, said
    for block in part.blocks:
        if isinstance(block, Part):
            yield from _rows(sheet, block)
        elif block.kind == "check":
            check = sheet[block.path]
            mark = "; see its warnings" if check.warnings else ""
            where = f", {check.location}" if check.location else ""
            yield "", check.name + where, f"{check.shown_ratio} {check.verdict}{mark}"
