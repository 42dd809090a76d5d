"""Outputs on the screen while cells run again, in any order: stale ones say so at once."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest

from stepcalc.notebook import live_outputs
from stepcalc.sheet import ports
from tests.unit.test_sheet_cells import Notebook
from tests.unit.test_sheet_cells import notebook as shell_of_a_notebook

notebook = shell_of_a_notebook


class Screen:
    """What stands below each cell, by the id under which it was displayed."""

    def __init__(self) -> None:
        self.outputs: dict[str, str] = {}

    def publish(self, data: Any, metadata: Any = None, *, transient: Any = None,
                update: bool = False, **_: Any) -> None:  # fmt: skip
        self.outputs[(transient or {}).get("display_id", "")] = data.get("text/plain", "")

    def text(self, part: str) -> str:
        return next(text for text in self.outputs.values() if part in text)


@pytest.fixture
def screen(notebook: Notebook, monkeypatch: pytest.MonkeyPatch) -> Iterator[Screen]:
    made = Screen()
    monkeypatch.setitem(ports._PORTS, "display", "stepcalc.notebook.display:show")
    monkeypatch.setattr(notebook.shell.display_pub, "publish", made.publish)
    live_outputs.forget_all()
    notebook.run("loads", "with s.part('Loads'):\n    L = s.given('L', 10*ft)\n"
                 "    w = s.given('w', 2*klf)")  # fmt: skip
    notebook.run("moment", "with s.part('Moment'):\n    M = s.step('M', w*L**2/8)")
    notebook.run("shear", "with s.part('Shear'):\n    V = s.step('V', w*L/2, kip)")
    yield made
    live_outputs.forget_all()


def test_what_a_cell_that_ran_again_changed_is_marked(notebook: Notebook, screen: Screen) -> None:
    assert "STALE" not in "".join(screen.outputs.values())
    notebook.run("loads", "with s.part('Loads'):\n    L = s.given('L', 12*ft)\n"
                 "    w = s.given('w', 2*klf)")  # fmt: skip
    for part in ("Moment", "Shear"):
        assert screen.text(part).startswith("STALE: ")
        assert "run this cell again" in screen.text(part)
    notebook.run("moment", "with s.part('Moment'):\n    M = s.step('M', w*L**2/8)")
    newest = [text for text in screen.outputs.values() if "Moment" in text][-1]
    assert "STALE" not in newest
    assert "36.00 kip" in newest  # 2 * 12**2 / 8
    assert screen.text("Shear").startswith("STALE")
    notebook.run("loads", "with s.part('Loads'):\n    L = s.given('L', 10*ft)\n"
                 "    w = s.given('w', 2*klf)")  # fmt: skip
    assert "STALE" not in screen.text("Shear"), "what holds again loses the mark"


def test_what_is_defined_no_more_is_said(notebook: Notebook, screen: Screen) -> None:
    notebook.run("loads", "with s.part('Loads'):\n    w = s.given('w', 2*klf)")
    assert "L" in screen.text("Moment").splitlines()[0]
    assert "no longer defined" in screen.text("Moment").splitlines()[0]


def test_a_failed_run_marks_what_it_made_before(notebook: Notebook, screen: Screen) -> None:
    notebook.run("loads", "raise ValueError", fails=True)
    first = screen.text("Loads").splitlines()[0]
    assert first.startswith("STALE: ")
    assert "failed when it was run again" in first


def test_cells_that_add_to_a_sheet_make_nothing_stale(notebook: Notebook, screen: Screen) -> None:
    notebook.run("more", "with s.part('Check'):\n    s.check('Moment is small', M <= 900*kip*ft)")
    assert "STALE" not in "".join(screen.outputs.values())


def test_a_bare_node_is_marked_too(notebook: Notebook, screen: Screen) -> None:
    """The last line of a cell is shown as an output that is followed, not as the cell's result."""
    notebook.run("bare", "M")
    assert "25.00 kip" in screen.text("M = ")
    notebook.run("double", "D = s.step('D', 2*M)\nD")
    assert "50.00 kip" in screen.text("D = ")
    notebook.run("loads", "with s.part('Loads'):\n    L = s.given('L', 12*ft)\n"
                 "    w = s.given('w', 2*klf)")  # fmt: skip
    assert screen.text("D = 2 M").startswith("STALE")
    bare = [text for text in screen.outputs.values() if "M = " in text and "Moment" not in text]
    assert all(text.startswith("STALE") for text in bare)
    assert bare


def test_a_check_stands_below_what_its_cell_wrote_before(
    notebook: Notebook, screen: Screen
) -> None:
    notebook.run("check", "F = s.given('F', 30*kip*ft)\ns.check('Moment', M <= F)")
    text = screen.text("D/C")
    assert text.index("F = 30") < text.index("D/C")
    assert sum("F = 30" in text for text in screen.outputs.values()) == 1


def test_a_whole_sheet_is_marked_too(notebook: Notebook, screen: Screen) -> None:
    before = len(screen.outputs)
    notebook.run("whole", "s")
    assert len(screen.outputs) == before + 1
    shown = list(screen.outputs)[-1]
    assert "V = " in screen.outputs[shown]
    notebook.run("loads", "with s.part('Loads'):\n    L = s.given('L', 12*ft)\n"
                 "    w = s.given('w', 2*klf)")  # fmt: skip
    assert screen.outputs[shown].startswith("STALE")
