"""Which notebook cell is running: so that a cell that runs again replaces what it made before.

Outside IPython there are no cells, and a second definition of a name is an error.  Front ends that
send a cell id (JupyterLab, Notebook 7) give each cell an identity of its own; where none is sent
(a plain run by nbclient or nbval), every execution counts as a cell of its own.
"""

from __future__ import annotations

import sys
import weakref
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, replace
from typing import Any

__all__ = [
    "Cell", "author", "current_cell", "is_watched", "muted", "restarted", "unshown", "was_shown",
    "watch",
]  # fmt: skip


@dataclass(frozen=True, slots=True)
class Cell:
    """One execution of one cell: ``place`` names the cell, ``run`` the execution.

    ``by_procedure`` says of a record that a procedure of this package wrote it, not the cell.
    """

    place: str
    run: int
    count: int
    by_procedure: bool = False

    def same_place(self, other: Cell) -> bool:
        """Say whether two executions are of one cell."""
        return self.place == other.place

    def same_run(self, other: Cell) -> bool:
        """Say whether two are the same execution."""
        return self.run == other.run

    def __str__(self) -> str:
        return f"cell [{self.count}]"


class _Tracker:
    """Follows one IPython shell through its pre-run and post-run events."""

    def __init__(self, shell: Any) -> None:
        self.shell = weakref.ref(shell)
        self.run = 0
        self.cell: Cell | None = self._cell(_place_from_header(shell))
        self.watched: weakref.WeakSet[Any] = weakref.WeakSet()
        self.shown: set[int] = set()
        #: the sheet that each cell made last, by cell and title
        self.made: dict[tuple[str, str], tuple[int, weakref.ref[Any]]] = {}
        shell.events.register("pre_run_cell", self.before)
        shell.events.register("post_run_cell", self.after)

    def _cell(self, place: str | None) -> Cell:
        shell = self.shell()
        # the prompt's number; execution_count is one ahead of it where IPython counts at the start
        count = getattr(getattr(shell, "displayhook", None), "prompt_count", 0) or 0
        self.run += 1
        return Cell(place or f"run {self.run}", self.run, count)

    def before(self, info: Any) -> None:
        """Take note of the cell that starts."""
        self.shown = set()
        self.cell = self._cell(getattr(info, "cell_id", None))

    def after(self, result: Any) -> None:
        """Tell the sheets that wrote in the cell whether it went through."""
        cell = self.cell
        if cell is None:
            return
        failed = not getattr(result, "success", True)
        for sheet in list(self.watched):
            sheet._cell_ended(cell, failed)


_tracker: _Tracker | None = None


def _place_from_header(shell: Any) -> str | None:
    try:
        parent = shell.get_parent()
        place = parent.get("metadata", {}).get("cellId")
    except Exception:
        return None
    return place if isinstance(place, str) else None


_muted = 0


@contextmanager
def muted() -> Iterator[None]:
    """Write sheets that no cell shows: scratch copies, and the proofs below a computed step."""
    global _muted
    _muted += 1
    try:
        yield
    finally:
        _muted -= 1


def current_cell() -> Cell | None:
    """Return the cell that is running; None outside IPython, and for sheets that none shows."""
    global _tracker
    if _muted:
        return None
    ipython = sys.modules.get("IPython")
    if ipython is None:
        return None
    shell = ipython.get_ipython()
    if shell is None:
        return None
    if _tracker is None or _tracker.shell() is not shell:
        _tracker = _Tracker(shell)
    return _tracker.cell


def author(cell: Cell) -> Cell:
    """Return the cell as the author of a record that is about to be written.

    The nearest caller outside of this floor decides: a procedure of the package, or the cell.
    """
    frame = sys._getframe(2)
    while frame is not None and frame.f_globals.get("__name__", "").startswith("stepcalc.sheet"):
        frame = frame.f_back  # type: ignore[assignment]
    module = "" if frame is None else str(frame.f_globals.get("__name__", ""))
    return replace(cell, by_procedure=True) if module.startswith("stepcalc.") else cell


def watch(sheet: Any) -> None:
    """Have a sheet told when the running cell ends."""
    if _tracker is not None:
        _tracker.watched.add(sheet)


def was_shown(sheet: Any, entry: Any) -> None:
    """Take note that the running cell has shown a record, so that its end need not."""
    if _tracker is not None and is_watched(sheet):
        _tracker.shown.add(id(entry))


def is_watched(sheet: Any) -> bool:
    """Say whether the running cell, or one before it, has written on a sheet."""
    return _tracker is not None and sheet in _tracker.watched


def unshown(blocks: list[Any]) -> list[Any]:
    """Return the records that the running cell wrote and has not shown."""
    tracker = _tracker
    if tracker is None or tracker.cell is None:
        return []
    return [
        block
        for block in blocks
        if getattr(block, "cell", None) is not None
        and block.cell.same_run(tracker.cell)
        and id(block) not in tracker.shown
    ]


def restarted(sheet: Any) -> Any:
    """Return the sheet of this title that an earlier run of the running cell made, if any."""
    cell = current_cell()
    if cell is None or _tracker is None:
        return None
    key = (cell.place, sheet.title)
    run, reference = _tracker.made.get(key, (cell.run, None))
    _tracker.made[key] = (cell.run, weakref.ref(sheet))
    return None if run == cell.run or reference is None else reference()
