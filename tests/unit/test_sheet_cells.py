"""Cells of a notebook, in a real IPython shell: what runs again replaces, what is dropped goes."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest
from IPython.core.interactiveshell import InteractiveShell

from stepcalc import Sheet
from stepcalc.errors import NameTakenError, UnknownNameError
from stepcalc.sheet import cells, ports
from stepcalc.units import ft, kip

FIRST = "from stepcalc import Sheet\nfrom stepcalc.units import ft, kip, klf\ns = Sheet('notebook')"


class Notebook:
    """Cells by id, run in an in-process shell."""

    def __init__(self, shell: Any) -> None:
        self.shell = shell

    def run(self, cell: str | None, code: str, *, fails: bool = False) -> Any:
        result = self.shell.run_cell(code, cell_id=cell, silent=False, store_history=True)
        error = result.error_before_exec or result.error_in_exec
        assert (error is not None) is fails, error
        return error

    @property
    def sheet(self) -> Sheet:
        made: Sheet = self.shell.user_ns["s"]
        return made


@pytest.fixture
def notebook(monkeypatch: pytest.MonkeyPatch, capsys: Any) -> Iterator[Notebook]:
    monkeypatch.setitem(ports._PORTS, "display", lambda *_: None)
    monkeypatch.setattr(cells, "_tracker", None)
    InteractiveShell.clear_instance()
    shell: Any = InteractiveShell.instance(cache_size=0)
    shell.history_manager.enabled = False
    made = Notebook(shell)
    made.run("head", FIRST)
    try:
        yield made
    finally:
        InteractiveShell.clear_instance()
        monkeypatch.setattr("IPython.get_ipython", lambda: None)
        cells._tracker = None


def names(sheet: Sheet) -> list[str]:
    return [node.name for node in (*sheet.givens, *sheet.steps, *sheet.checks)]


def test_a_cell_that_runs_again_replaces_in_place(notebook: Notebook) -> None:
    notebook.run("a", "L = s.given('L', 10*ft); s.note('first')")
    notebook.run("b", "w = s.given('w', 2*klf)")
    notebook.run("c", "P = s.step('P', w*L, kip); s.check('strength', P <= 25*kip)")
    assert notebook.sheet["P"].value == 20 * kip
    notebook.run("a", "L = s.given('L', 15*ft); s.note('second')")
    sheet = notebook.sheet
    assert names(sheet) == ["L", "w", "P", "strength"]
    assert sheet["P"].value == 30 * kip
    assert not sheet["strength"].passed
    assert not sheet["P"].warnings
    kinds = [(block.kind, getattr(block, "text", block.name)) for block in sheet._book.root.blocks]
    assert kinds == [("given", "L"), ("note", "second"), ("given", "w"), ("step", "P"),
                     ("check", "strength")]  # fmt: skip
    assert sheet.revise(L=10 * ft)["P"].value == 20 * kip


def test_a_step_that_runs_again_may_have_another_formula(notebook: Notebook) -> None:
    notebook.run("a", "L = s.given('L', 10*ft); k = s.given('k', 2.0)")
    notebook.run("b", "d = s.step('d', L/k, ft)")
    notebook.run("c", "e = s.step('e', 3*d, ft)")
    notebook.run("b", "d = s.step('d', L*k, ft)")
    assert notebook.sheet["e"].value == 60 * ft
    assert notebook.shell.user_ns["e"].value == 60 * ft, "old handles follow the new definition"


def test_one_name_in_two_cells_names_both(notebook: Notebook) -> None:
    notebook.run("a", "L = s.given('L', 10*ft)")
    error = notebook.run("b", "L = s.given('L', 11*ft)", fails=True)
    assert isinstance(error, NameTakenError)
    assert "cell [2] and cell [3]" in str(error), "as the prompts of the notebook number them"
    assert notebook.sheet["L"].value == 10 * ft


def test_twice_in_one_cell_is_an_error(notebook: Notebook) -> None:
    error = notebook.run("a", "s.given('L', 10*ft); s.given('L', 11*ft)", fails=True)
    assert isinstance(error, NameTakenError)
    assert "twice in one cell" in str(error)


def test_what_a_cell_makes_no_more_is_removed_and_its_dependants_are_stale(
    notebook: Notebook,
) -> None:
    notebook.run("a", "L = s.given('L', 10*ft); b = s.given('b', 2*ft)")
    notebook.run("c", "A = s.step('A', L*b); B = s.step('B', 2*L, ft); s.check('c', A <= 9*ft**2)")
    notebook.run("a", "L = s.given('L', 12*ft)")
    sheet = notebook.sheet
    assert names(sheet) == ["L", "A", "B", "c"]
    assert "stale" in sheet["A"].warnings[0]
    assert "'b'" in sheet["A"].warnings[0]
    assert not sheet["A"].defined
    assert not sheet["c"].passed
    assert sheet["B"].value == 24 * ft
    assert not sheet["B"].warnings
    with pytest.raises(UnknownNameError):
        sheet["b"]
    # and the sheet still works as a whole
    assert sheet.revise(L=5 * ft)["B"].value == 10 * ft
    assert "b" in sheet["A"].latex()
    with pytest.raises(UnknownNameError, match="no longer defined"):
        sheet.to_json()  # the formula of A could not be read again
    error = notebook.run("d", "s.step('C', 2*b, ft)", fails=True)
    assert isinstance(error, UnknownNameError)
    assert "no longer defined" in str(error)
    # made again and its dependants run again, all is well
    notebook.run("a", "L = s.given('L', 12*ft); b = s.given('b', 2*ft)")
    notebook.run("c", "A = s.step('A', L*b); B = s.step('B', 2*L, ft); s.check('c', A <= 99*ft**2)")
    assert not sheet.warnings
    assert sheet["c"].passed


def test_a_failed_run_keeps_the_old_blocks_marked_stale(notebook: Notebook) -> None:
    notebook.run("a", "L = s.given('L', 10*ft); d = s.step('d', 2*L, ft)")
    notebook.run("a", "L = s.given('L', 11*ft); 1/0", fails=True)
    sheet = notebook.sheet
    assert names(sheet) == ["L", "d"]
    assert not sheet["L"].warnings
    assert any("failed" in text for text in sheet["d"].warnings)
    notebook.run("a", "L = s.given('L', 11*ft); d = s.step('d', 3*L, ft)")
    assert not sheet.warnings
    assert sheet["d"].value == 33 * ft


def test_a_changed_dimension_makes_dependants_stale_until_it_fits_again(notebook: Notebook) -> None:
    notebook.run("a", "L = s.given('L', 10*ft)")
    notebook.run("b", "d = s.step('d', 2*L, ft); s.check('c', d <= 30*ft)")
    notebook.run("a", "L = s.given('L', 10*kip)")
    sheet = notebook.sheet
    assert not sheet["d"].defined
    assert any("force" in text and "length" in text for text in sheet["d"].warnings)
    assert not sheet["c"].passed
    assert sheet.governing is not None
    assert sheet.governing.name == "c"
    notebook.run("a", "L = s.given('L', 12*ft)")
    assert sheet["d"].value == 24 * ft
    assert not sheet.warnings
    assert sheet["c"].passed


def test_a_circle_is_refused_and_the_old_step_stays(notebook: Notebook) -> None:
    notebook.run("a", "L = s.given('L', 10*ft)")
    notebook.run("b", "p = s.step('p', 2*L, ft)")
    notebook.run("c", "q = s.step('q', 3*p, ft)")
    error = notebook.run("b", "p = s.step('p', q/2, ft)", fails=True)
    assert "circle" in str(error)
    assert repr(notebook.sheet["p"].expr) == "2*L"
    assert notebook.sheet["q"].value == 60 * ft


def test_revised_copies_are_not_touched_by_cells_that_run_again(notebook: Notebook) -> None:
    notebook.run("a", "L = s.given('L', 10*ft); d = s.step('d', 2*L, ft); z = s.given('z', 1.0)")
    notebook.run("b", "r = s.revise(L=1*ft)")
    notebook.run("a", "L = s.given('L', 10*ft); d = s.step('d', 5*L, ft)")
    revised: Sheet = notebook.shell.user_ns["r"]
    assert names(revised) == ["L", "z", "d"]
    assert revised["d"].value == 2 * ft
    assert names(notebook.sheet) == ["L", "d"]
    assert notebook.sheet["d"].value == 50 * ft


def test_without_cell_ids_every_execution_is_a_cell_of_its_own(notebook: Notebook) -> None:
    notebook.run(None, "L = s.given('L', 10*ft)")
    error = notebook.run(None, "L = s.given('L', 10*ft)", fails=True)
    assert isinstance(error, NameTakenError)
    notebook.run(None, "d = s.step('d', 2*L, ft)")
    assert names(notebook.sheet) == ["L", "d"]


def test_values_of_another_sheet_go_stale_with_it(notebook: Notebook) -> None:
    notebook.run("a", "L = s.given('L', 10*ft); d = s.step('d', 2*L, ft)")
    notebook.run("b", "t = Sheet('second'); e = t.step('e', 3*d, ft); t.check('c', e <= 70*ft)")
    other: Sheet = notebook.shell.user_ns["t"]
    assert other["e"].value == 60 * ft
    assert not other.warnings
    notebook.run("a", "L = s.given('L', 20*ft); d = s.step('d', 2*L, ft)")
    assert any("stale" in text and "'d'" in text for text in other["e"].warnings)
    assert any("stale" in text for text in other["c"].warnings)
    # another use of the node takes the new value over for all of its uses
    notebook.run("f", "t.step('f', 1*d, ft)")
    assert other["e"].value == 120 * ft
    assert not other["c"].passed
    assert not other.warnings


def test_many_steps_are_replaced_in_reasonable_time(notebook: Notebook) -> None:
    code = "x = s.given('x', 1.0)\n" + "\n".join(
        f"x = s.step('x{n}', x*1.0 + 1, None)" for n in range(150)
    )
    notebook.run("a", code)
    notebook.run("a", code.replace("*1.0 + 1", "*1.0 + 2"))
    assert notebook.sheet["x149"].value.magnitude == 301


def test_outside_ipython_there_are_no_cells() -> None:
    sheet = Sheet("script")
    sheet.given("L", 1 * ft)
    assert cells.current_cell() is None
    with pytest.raises(NameTakenError, match="already"):
        sheet.given("L", 1 * ft)
