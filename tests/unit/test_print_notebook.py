"""An executed notebook as sheets: read from its stored outputs, refused in plain words."""

from __future__ import annotations

import copy
from collections.abc import Callable
from pathlib import Path
from typing import Any

import nbformat.v4
import pytest

from stepcalc.errors import PrintError, SheetFileError, StaleError
from stepcalc.print.notebook import print_notebook
from stepcalc.print.notebook_document import MIME
from tests.unit.print_pages import page_texts
from tests.unit.print_sample import TITLE, heading, qty, step, sym

PIXEL = (
    "iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAAAAAA6fptVAAAACklEQVR4nGNgAAAAAgABSK+kcQAAAABJRU5ErkJggg=="
)
W = step("1-1", "w", sym("q"), qty("1.5", "klf"), qty("1.5", "klf"))
M = step("1-2", "M_u", sym("w"), sym("w"), qty("270.3", "kip*ft"))


# nbformat ships without type information
new_output: Callable[..., Any] = nbformat.v4.new_output
new_code_cell: Callable[..., Any] = nbformat.v4.new_code_cell
new_markdown_cell: Callable[..., Any] = nbformat.v4.new_markdown_cell
new_notebook: Callable[..., Any] = nbformat.v4.new_notebook
write: Callable[..., Any] = nbformat.write


def bundle(*blocks: dict[str, Any], sheet: str = "Loads", **more: Any) -> dict[str, Any]:
    about = {"title": sheet, "id": sheet, "carry": "full", "digits": 4}
    return {"v": 1, "sheet": about, "title_block": None, "blocks": list(blocks), **more}


def shown(data: dict[str, Any]) -> Any:
    return new_output("display_data", data={"text/plain": "plain words", **data})


def code(count: int | None, *outputs: Any, source: str = "x = 1") -> Any:
    return new_code_cell(source, execution_count=count, outputs=list(outputs))


def written(folder: Path, *cells: Any) -> Path:
    path = folder / "girder.ipynb"
    write(new_notebook(cells=list(cells)), path)
    return path


def printed(folder: Path) -> str:
    return " ".join(page_texts((folder / "out.pdf").read_bytes()))


#: without the pages before the sheets, which would say some things twice
SHEETS_ONLY: dict[str, Any] = {"cover": False, "contents": False, "front": "none"}


def text_of(folder: Path, *cells: Any, **options: Any) -> str:
    print_notebook(written(folder, *cells), folder / "out.pdf", **SHEETS_ONLY | options)
    return printed(folder)


def test_stored_data_print_in_order_without_a_kernel(tmp_path: Path) -> None:
    text = text_of(
        tmp_path,
        new_markdown_cell("The load by $w = q\\,s$ comes *first*."),
        code(1, shown({MIME: {"v": 1, "sheet": None, "title_block": TITLE, "blocks": []}})),
        code(2, shown({MIME: bundle(heading("1", "Deck"), W)})),
        new_markdown_cell("Now the moment."),
        code(3, shown({MIME: bundle(M)})),
    )
    places = [text.index(x) for x in ("Loads", "comes first", "Deck", "1.5", "Now the", "270.3")]
    assert places == sorted(places)
    assert "Mill Lane over Otter Creek" in text
    assert "girder.ipynb, as last run" in text
    assert "plain words" not in text
    assert "Results show 4 significant digits" in text


def test_what_was_shown_before_is_not_printed_again(tmp_path: Path) -> None:
    again = bundle(heading("1", "Deck"), W | {"boxed": True}, M)
    text = text_of(
        tmp_path,
        code(1, shown({MIME: bundle(heading("1", "Deck"), W)})),
        code(2, shown({MIME: again})),
        code(3, shown({MIME: bundle(heading("1", "Deck"), W, M)})),
    )
    assert text.count("270.3") == 1
    assert text.count("Deck") == 1


def test_each_sheet_begins_a_page_and_a_return_says_so(tmp_path: Path) -> None:
    print_notebook(
        written(
            tmp_path,
            code(1, shown({MIME: bundle(W)})),
            new_markdown_cell("about resistance"),
            code(2, shown({MIME: bundle(M, sheet="Resistance")})),
            code(3, shown({MIME: bundle(heading("2", "More"), M | {"id": "2-1"})})),
        ),
        tmp_path / "out.pdf",
        **SHEETS_ONLY,
    )
    pages = page_texts((tmp_path / "out.pdf").read_bytes())
    assert len(pages) == 3
    assert "about resistance" in pages[1]
    assert "Loads (continued)" in pages[2]


def test_other_outputs_print_in_their_best_form(tmp_path: Path) -> None:
    svg = '<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"></svg>'
    text = text_of(
        tmp_path,
        code(1, new_output("stream", name="stdout", text="printed \x1b[31mwords\n")),
        code(2, shown({"image/svg+xml": svg}), shown({"image/png": PIXEL})),
        code(3, shown({"text/markdown": "some **marked** words"})),
        code(4, shown({"text/latex": "$$\\frac{M_u}{8}$$"})),
        code(5, shown({"text/html": "<b>loud</b>"})),
        code(6, shown({"application/vnd.jupyter.widget-view+json": {"model_id": "1"}})),
        code(7, new_output("display_data", data={"text/html": "<i>only</i>"})),
    )
    for words in ("printed words", "some marked words", "plain words", "controls are not printed",
                  "an output of cell 7 of girder.ipynb has no form that prints"):  # fmt: skip
        assert words in text, words
    assert "loud" not in text


def test_the_verdicts_are_returned(tmp_path: Path) -> None:
    check = {"kind": "check", "formula": sym("a"), "substitution": sym("b")}
    blocks = [check | {"name": n, "verdict": v} for n, v in (("Flexure", "OK"), ("Shear", "N.G."))]
    path = written(tmp_path, code(1, shown({MIME: bundle(*blocks)})))
    assert print_notebook(path, tmp_path / "out.html") == ["OK", "N.G."]


def test_code_prints_only_when_asked_for(tmp_path: Path) -> None:
    cell = code(1, shown({MIME: bundle(W)}), source="secret_name = 7")
    assert "secret_name" not in text_of(tmp_path, cell)
    assert "secret_name" in text_of(tmp_path, cell, code=True)


def test_hidden_cells_do_not_print(tmp_path: Path) -> None:
    hidden = code(1, shown({MIME: bundle(M)}))
    hidden["metadata"]["tags"] = ["hide"]
    assert "270.3" not in text_of(tmp_path, hidden, code(2, shown({MIME: bundle(W)})))


@pytest.mark.parametrize(
    ("cells", "words"),
    [
        ([new_markdown_cell("a")], "has no code cells"),
        ([code(None), code(None)], "was never run, so it holds no results"),
        ([code(1), code(None, source="y = load(2)")],
         "cell 2 of girder.ipynb was not run (it begins 'y = load(2)')"),
        ([code(1, new_output("error", ename="UnitError", evalue="kips?", traceback=[]))],
         "cell 1 of girder.ipynb ended in an error (UnitError: kips?)"),
    ],
)  # fmt: skip
def test_an_unfinished_notebook_is_refused(cells: list[Any], words: str, tmp_path: Path) -> None:
    with pytest.raises(PrintError) as caught:
        print_notebook(written(tmp_path, *cells), tmp_path / "out.pdf")
    assert words in str(caught.value)
    assert not (tmp_path / "out.pdf").exists()


def test_cells_run_out_of_order_are_refused_or_marked(tmp_path: Path) -> None:
    cells: list[Any] = [code(5, shown({MIME: bundle(W)})), code(4, shown({MIME: bundle(M)}))]
    with pytest.raises(StaleError, match="cell 2 as number 4, cell 1 above it as number 5"):
        text_of(tmp_path, *cells)
    assert "STALE: the cells of girder.ipynb were run" in text_of(
        tmp_path, *cells, allow_stale=True
    )


def test_results_that_no_longer_follow_are_found_by_their_fingerprints(tmp_path: Path) -> None:
    first = bundle(W, marks={"Deck/w": {"own": "aaaa", "uses": {}}})
    later = bundle(M, marks={"M_u": {"own": "mmmm", "uses": {"Deck/w": "aaaa"}}})
    cells = [code(1, shown({MIME: first})), code(2, shown({MIME: later}))]
    assert "STALE" not in text_of(tmp_path, *cells)
    changed = copy.deepcopy(first)
    changed["marks"]["Deck/w"]["own"] = "bbbb"
    cells[0] = code(1, shown({MIME: changed}))
    with pytest.raises(StaleError, match="'M_u' of sheet 'Loads'"):
        text_of(tmp_path, *cells)


def test_a_checker_who_prepared_is_warned_of(tmp_path: Path) -> None:
    title = TITLE | {"checked_by": "a. preparer"}
    data: dict[str, Any] = {"v": 1, "sheet": None, "title_block": title, "blocks": []}
    text = text_of(tmp_path, code(1, shown({MIME: data})), code(2, shown({MIME: bundle(W)})))
    assert "an independent check is still open" in text


@pytest.mark.parametrize(
    ("data", "words"),
    [
        ([], "version 1 is wanted"),
        (bundle(W) | {"v": 9}, "version 1 is wanted"),
        (bundle(W) | {"blocks": {}}, "stored no list of blocks"),
        (bundle(W | {"result": ["boom"]}), "cell 1 of girder.ipynb (step 'w')"),
        (bundle({"kind": "run", "text": "x"}), "has the kind 'run'"),
        (bundle(W, title_block={"project": 7}), "'project' in the title block is 7"),
        (bundle(W, marks=[1]) | {"sheet": {"a": 1}}, ""),
    ],
)
def test_what_a_cell_stored_is_not_trusted(data: Any, words: str, tmp_path: Path) -> None:
    cell = code(1, shown({MIME: data}))
    if not words:
        text_of(tmp_path, cell)
        return
    with pytest.raises(SheetFileError) as caught:
        text_of(tmp_path, cell)
    assert words in str(caught.value)


@pytest.mark.parametrize("content", ["", "{", "[]", "{}", '{"cells": 7, "nbformat": 4}'])
def test_other_files_are_no_notebooks(content: str, tmp_path: Path) -> None:
    path = tmp_path / "a.ipynb"
    path.write_text(content)
    with pytest.raises(PrintError, match="is no Jupyter notebook"):
        print_notebook(path, tmp_path / "out.pdf")


def test_a_missing_file_is_said(tmp_path: Path) -> None:
    with pytest.raises(PrintError, match="no such file or directory"):
        print_notebook(tmp_path / "none.ipynb", tmp_path / "out.pdf")


SOURCES = (
    "from stepcalc import Sheet, TitleBlock\nfrom stepcalc.units import ft, klf, kip_ft\n"
    "TitleBlock(project='Mill Lane')",
    "s = Sheet('Girder')\nw = s.given('w', 1.2*klf, 'load', source='plans')\nw",
    "L = s.given('L', 54*ft, 'span', source='plans')\nM = s.step('M_D', w*L**2/8, kip_ft)\nM",
)


@pytest.mark.slow
def test_run_executes_in_a_fresh_kernel_and_leaves_the_file(tmp_path: Path) -> None:
    path = written(tmp_path, *(code(None, source=source) for source in SOURCES))
    before = path.read_bytes()
    print_notebook(path, tmp_path / "out.pdf", run=True)
    text = printed(tmp_path)
    assert "437.4" in text  # 1.2 x 54^2 / 8 = 437.4, by hand
    assert "Mill Lane" in text
    assert "girder.ipynb, run for this print" in text
    assert path.read_bytes() == before


@pytest.mark.slow
def test_an_error_while_running_is_told_in_one_line(tmp_path: Path) -> None:
    path = written(tmp_path, code(None, source="raise ValueError('no such girder')"))
    with pytest.raises(PrintError) as caught:
        print_notebook(path, tmp_path / "out.pdf", run=True)
    assert str(caught.value) == (
        "girder.ipynb stopped while it was run: ValueError: no such girder"
    )
