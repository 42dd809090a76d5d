"""Outputs on the screen that follow the sheet: one that no longer holds is marked STALE at once.

A cell that runs again may change what the outputs of other cells show. After every run each output
shown by this kernel is compared, by its fingerprints, with the sheet as it is now. The mark is for
the reader; the data beside it stay as they were, and printing compares them by itself.
"""

from __future__ import annotations

import weakref
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from stepcalc.notebook.fingerprints import mark
from stepcalc.render.dialects import dialect
from stepcalc.sheet import cells

__all__ = ["forget_all", "put", "refresh"]

_LATEX = dialect("latex")
_START = "$$\\begin{aligned}"


@dataclass(slots=True)
class _Shown:
    sheet: weakref.ref[Any]
    cell: Any
    handle: Any
    data: dict[str, Any]
    metadata: dict[str, Any]
    marks: Mapping[str, Any]
    told: str = ""
    state: tuple[Any, ...] = ()


_shown: list[_Shown] = []
_shell: weakref.ref[Any] | None = None


def put(sheet: Any, data: dict[str, Any], metadata: dict[str, Any], marks: Any) -> None:
    """Show an output of the running cell, and keep it up to date from now on.

    Parameters
    ----------
    sheet : Sheet
    data, metadata : dict
        What is shown, by type.
    marks : mapping
        The fingerprints of the nodes that the output shows.
    """
    from IPython.display import display

    cell = cells.current_cell()
    handle = display(data, metadata=metadata, raw=True, display_id=True)  # type: ignore[no-untyped-call]
    if cell is None or handle is None or not marks:
        return
    _listen()
    _shown[:] = [
        old for old in _shown
        if not old.cell.same_place(cell) or old.cell.same_run(cell)
    ]  # fmt: skip
    _shown.append(_Shown(weakref.ref(sheet), cell, handle, data, metadata, marks))


def _listen() -> None:
    """Have every end of a cell compared; once for a shell."""
    global _shell
    from IPython import get_ipython

    shell = get_ipython()
    if shell is None or (_shell is not None and _shell() is shell):
        return
    _shell = weakref.ref(shell)
    _shown.clear()
    shell.events.register("post_run_cell", refresh)


def refresh(_result: Any = None) -> None:
    """Mark the outputs that no longer hold, and take the mark from those that do again."""
    for shown in list(_shown):
        sheet = shown.sheet()
        if sheet is None:
            _shown.remove(shown)
            continue
        while sheet._successor is not None:
            sheet = sheet._successor
        state = _state(sheet, shown.marks)
        if state == shown.state:
            continue  # nothing that this output shows was touched
        shown.state = state
        told = _stale(sheet, shown.marks)
        if told != shown.told:
            shown.told = told
            data = _marked(shown.data, told) if told else shown.data
            shown.handle.update(data, metadata=shown.metadata, raw=True)


def forget_all() -> None:
    """Follow no output any more; for tests."""
    global _shell
    _shell = None
    _shown.clear()


def _state(sheet: Any, marks: Mapping[str, Any]) -> tuple[Any, ...]:
    """Return what changes when a node that an output rests on is replaced or has another value."""
    book = sheet._book
    names = {name for path, kept in marks.items() for name in (path, *kept["uses"])}
    slots = [book.by_path.get(name) for name in sorted(names)]
    return tuple(
        None if slot is None else (id(book.entries[slot]), repr(sheet._values[slot]),
                                   book.stale.get(slot))
        for slot in slots
    )  # fmt: skip


def _stale(sheet: Any, marks: Mapping[str, Any]) -> str:
    """Return why an output no longer holds, or nothing."""
    book = sheet._book
    for path, kept in marks.items():
        for name, wanted in ((path, kept["own"]), *kept["uses"].items()):
            slot = book.by_path.get(name)
            if slot is None or book.entries[slot] is None:
                return f"{name} is no longer defined"
            if slot in book.stale:
                return f"{name}: {book.stale[slot]}"
            if mark(sheet, slot) != wanted:
                return f"{name} has changed since this was shown"
    return ""


def _marked(data: Mapping[str, Any], told: str) -> dict[str, Any]:
    said = f"STALE: {told}; run this cell again"
    made = dict(data)
    if "text/plain" in made:
        made["text/plain"] = f"{said}\n{made['text/plain']}"
    latex = made.get("text/latex", "")
    if latex.startswith(_START):
        line = f"&\\boxed{{{_LATEX.text(said)}}} \\\\[4pt] "
        made["text/latex"] = _START + line + latex.removeprefix(_START)
    if "text/html" in made:
        import html

        made["text/html"] = f"<p><strong>{html.escape(said)}</strong></p>{made['text/html']}"
    return made
