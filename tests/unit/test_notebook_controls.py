"""Controls bound to givens, and the index of a sheet."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest
from IPython.core.interactiveshell import InteractiveShell

from stepcalc import Sheet
from stepcalc.errors import DimensionError, FormulaError, UnknownNameError
from stepcalc.notebook.controls import controls
from stepcalc.notebook.display import MIME
from stepcalc.notebook.index import Index, index
from stepcalc.render.document import read_block
from stepcalc.sheet import cells
from stepcalc.units import ft, inch, kip_ft, klf


def beam() -> Sheet:
    sheet = Sheet("Beam")
    with sheet.part("Loads"):
        L = sheet.given("L", 62 * ft, "span", within=(40 * ft, 80 * ft))
        w = sheet.given("w", 1.5 * klf, "load")
        n = sheet.given("n", 3, "girders")
        shape = sheet.given("shape", "W36X135", choices="w_shapes")
        sheet.lookup("Z_x", "w_shapes", shape, "Zx", inch**3)
    with sheet.part("Moment"):
        M = sheet.step("M_u", w * L**2 / 8 * n / 3, kip_ft)
        sheet.check("Flexure", M <= (800 * kip_ft), location="midspan")
    return sheet


def plain(made: Any) -> str:
    return str(made.bundles()[0][0]["text/plain"])


def test_a_slider_takes_the_range_of_its_given_and_moves_what_depends() -> None:
    sheet = beam()
    made = controls(sheet, "L", show=["M_u", "Flexure"])
    slider = made.widgets["L"]
    assert (slider.min, slider.max, slider.value) == (40, 80, 62)
    assert slider.description == "L, ft"
    assert "720.8" in plain(made)  # 1.5 * 62**2 / 8 = 720.75
    slider.value = 70.0
    assert "918.8" in plain(made)  # 1.5 * 70**2 / 8 = 918.75
    assert "N.G." in plain(made)
    assert sheet["L"].value == 62 * ft
    assert made.sheet["M_u"].number == pytest.approx(918.75, rel=1e-12)


def test_what_is_stored_prints_as_trial_values_beside_those_of_the_sheet() -> None:
    made = controls(beam(), "L", show=["M_u", "Flexure"])
    made.widgets["L"].value = 70.0
    (block,) = made.bundles()[0][0][MIME]["blocks"]
    read_block(block)
    assert "trial" in block["caption"]
    rows = {str(row[0]): row[1:] for row in block["rows"]}
    assert rows["Flexure"] == ["1.148 N.G.", "0.901 OK"]


def test_a_whole_number_gets_whole_steps_and_a_choice_its_list() -> None:
    made = controls(beam(), "n", "shape", ranges={"n": (2, 6)}, show=["Z_x"])
    assert made.widgets["n"].value == 3
    assert isinstance(made.widgets["n"].value, int)
    assert "509" in plain(made)  # AISC Shapes Database v16.0: W36X135, Zx = 509 in^3
    made.widgets["shape"].value = "W36X150"
    assert "581" in plain(made)  # AISC Shapes Database v16.0: W36X150, Zx = 581 in^3


def test_the_governing_check_shows_when_nothing_is_named() -> None:
    assert "Flexure" in plain(controls(beam(), "w"))


@pytest.mark.parametrize(
    ("names", "options", "error", "words"),
    [
        ((), {}, FormulaError, "at least one given"),
        (("M_u",), {}, FormulaError, "'M_u' is a step; a control sets a given"),
        (("Q",), {}, UnknownNameError, "Q"),
        (("L",), {"show": ["nothing"]}, UnknownNameError, "nothing"),
        (("L",), {"ranges": {"L": (80 * ft, 40 * ft)}}, FormulaError, "runs from 80 to 40"),
        (("L",), {"ranges": {"L": (1 * klf, 2 * klf)}}, DimensionError, "range of 'L'"),
        (("L",), {"ranges": {"w": (1 * klf, 2 * klf)}}, FormulaError, "but no control"),
    ],
)
def test_wrong_names_and_ranges_are_refused(
    names: tuple[str, ...], options: dict[str, Any], error: type[Exception], words: str
) -> None:
    with pytest.raises(error, match=words):
        controls(beam(), *names, **options)


def test_values_without_a_result_do_not_leave_the_old_ones() -> None:
    sheet = Sheet("Ratio")
    a = sheet.given("a", 2, "divisor")
    sheet.step("r", 1 / (a - 3))
    made = controls(sheet, "a", show=["r"], ranges={"a": (1, 5)})
    made.widgets["a"].value = 3
    assert "undefined" in plain(made)

    def broken(_: Any) -> Any:
        sheet["lost"]

    failing = controls(sheet, "a", show=["r"], figure=broken)
    steps, drawn = failing.bundles()
    assert "r = " in steps[0]["text/plain"], "the steps have their values all the same"
    assert "no result for these values" in drawn[0]["text/plain"]


def test_a_figure_is_drawn_anew() -> None:
    def figure(sheet: Any) -> dict[str, Any]:
        top = sheet["M_u"].number
        return {"kind": "curves", "x": [0, 1, 2], "x_label": "x", "y_label": "M",
                "series": [{"label": "M", "y": [0, top, 0]}], "marks": []}  # fmt: skip

    made = controls(beam(), "L", figure=figure)
    before = made.bundles()[1][0]["image/png"]
    made.widgets["L"].value = 50.0
    assert made.bundles()[1][0]["image/png"] != before


def test_the_index_names_parts_and_checks_and_follows_the_sheet() -> None:
    sheet = beam()
    made = index(sheet)
    assert made.rows() == [
        ("1", "Loads", "4 givens, 1 step"),
        ("2", "Moment", "1 step"),
        ("", "Flexure, midspan", "0.901 OK"),
    ]
    sheet.check("Depth", sheet["L"] <= 50 * ft)
    data = made.bundle()
    assert "Beam: 1 of 2 checks N.G." in data["text/plain"]
    assert "<td>1.240 N.G.</td>" in data["text/html"]
    assert data[MIME]["blocks"] == []


@pytest.fixture
def shell(monkeypatch: pytest.MonkeyPatch) -> Iterator[Any]:
    monkeypatch.setattr(cells, "_tracker", None)
    InteractiveShell.clear_instance()
    made: Any = InteractiveShell.instance(cache_size=0)
    made.history_manager.enabled = False
    try:
        yield made
    finally:
        InteractiveShell.clear_instance()
        monkeypatch.setattr("IPython.get_ipython", lambda: None)
        cells._tracker = None


def test_a_shown_index_is_updated_by_the_cells_that_follow(
    shell: Any, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    told: list[str] = []
    monkeypatch.setattr(Index, "refresh", _telling(Index.refresh, told))
    shell.run_cell(
        "from stepcalc import Sheet\nfrom stepcalc.units import ft\n"
        "from stepcalc.notebook.index import index\ns = Sheet('S')"
    )
    shell.run_cell("index(s)")
    shell.run_cell("L = s.given('L', 3*ft)")
    shell.run_cell("c = s.check('Length', L <= 2*ft)")
    assert "no check yet" in told[0]
    assert "Length" in told[-1]
    assert "N.G." in told[-1]
    capsys.readouterr()


def _telling(refresh: Any, told: list[str]) -> Any:
    def telling(self: Any, _result: Any = None) -> None:
        refresh(self)
        told.append(self._last)

    return telling


def test_the_steps_are_on_the_screen_before_the_figure_is_drawn() -> None:
    sheet = Sheet("Beam")
    L = sheet.given("L", 40 * ft)
    sheet.step("M", 1.5 * klf * L**2 / 8, kip_ft)
    done: list[str] = []

    def figure(revised: Any) -> Any:
        done.append(f"draw {revised['L'].value:~P}")
        return {"kind": "free_body", "span": revised["L"].number, "supports": [0.0]}

    class Handle:
        def __init__(self, name: str) -> None:
            self.name = name

        def update(self, data: Any, **_: Any) -> None:
            done.append(f"{self.name} {'M' if '315.2' in data['text/plain'] else ''}".strip())

    made = controls(sheet, "L", show=["M"], figure=figure)
    made._handles = [Handle("steps"), Handle("figure")]
    made.widgets["L"].value = 41.0  # 1.5 * 41**2 / 8 = 315.2
    assert done == ["steps M", "draw 41.0 ft", "figure"]
