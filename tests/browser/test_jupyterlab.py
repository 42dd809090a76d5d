"""JupyterLab in a real browser: run all, move a slider, export, run a cell out of order."""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Iterator
from pathlib import Path
from statistics import median
from typing import Any

import pytest

from stepcalc.errors import StaleError
from stepcalc.print.notebook import print_notebook
from tests.browser import jupyter
from tests.browser.jupyter import is_run, outputs_text, picture
from tests.unit.print_pages import page_texts

pytestmark = [pytest.mark.slow, pytest.mark.browser]

jupyter.need("jupyterlab", "notebook", "playwright")


#: milliseconds from a press of a key on the slider until the steps below it show other numbers
REDRAWN = """async () => {
  const handle = document.querySelector('.noUi-handle');
  const cell = handle.closest('.jp-Cell');
  const all = () => [...cell.querySelectorAll('.jp-RenderedLatex')];
  const shown = () => all().map(x => x.textContent).join();
  const times = [];
  for (let k = 0; k < 12; k++) {
    const before = shown(), start = performance.now();
    handle.dispatchEvent(new KeyboardEvent('keydown', {key: 'ArrowRight', bubbles: true}));
    await new Promise(done => {
      const look = () => {
        const now = shown();
        if ((now && now !== before) || performance.now() - start > 5000) { done(); }
        else { setTimeout(look, 2); }
      };
      look();
    });
    times.push(performance.now() - start);
    await new Promise(done => setTimeout(done, 60));
  }
  return times;
}"""


@pytest.fixture(scope="module")
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[str, Path]]:
    with jupyter.jupyter(tmp_path_factory.mktemp("jupyter")) as started:
        yield started


@pytest.fixture(scope="module")
def browser() -> Iterator[Any]:
    with jupyter.chromium() as started:
        yield started


@pytest.fixture
def page(browser: Any) -> Iterator[Any]:
    opened = browser.new_page(viewport={"width": 1280, "height": 1500})
    opened.set_default_timeout(90_000)
    yield opened
    opened.close()


def menu(page: Any, *path: str) -> None:
    page.locator("#jp-MainMenu").get_by_text(path[0], exact=True).click()
    for name in path[1:]:
        page.locator(".lm-Menu").get_by_text(name, exact=True).first.click()


def save(page: Any) -> None:
    page.keyboard.press("Escape")
    menu(page, "File", "Save Notebook")


def saved(page: Any, path: Path, until: Callable[[list[Any]], bool]) -> list[Any]:
    return jupyter.saved(page, path, save, until)


def open_lab(page: Any, address: str, name: str) -> None:
    page.goto(f"{address}/lab/tree/{name}?reset")
    page.wait_for_selector(".jp-NotebookPanel .jp-CodeCell")
    page.wait_for_selector('.jp-Notebook-ExecutionIndicator[data-status="idle"]')


def run_all(page: Any, command: tuple[str, str]) -> None:
    """Run all cells; right after the page has opened the command may come before the kernel."""
    from playwright.sync_api import TimeoutError as PlaywrightTimeout

    for _ in range(5):
        page.wait_for_timeout(1500)
        menu(page, *command)
        try:
            page.wait_for_selector(".noUi-handle", timeout=25_000)
        except PlaywrightTimeout:
            page.keyboard.press("Escape")
            continue
        return
    pytest.fail("the cells were never run")


def exported(page: Any, address: str, form: str) -> tuple[int, bytes]:
    """Ask for what the menu File, Save and Export As asks for, with the page's own cookies."""
    url = f"{address}/nbconvert/{form}/beam.ipynb?download=true"
    answer = page.request.get(url, headers={"Referer": f"{address}/lab"}, timeout=90_000)
    return answer.status, answer.body()


def test_a_sheet_lives_in_jupyterlab(server: tuple[str, Path], page: Any, tmp_path: Path) -> None:
    address, folder = server
    path = jupyter.unrun(folder / "beam.ipynb")
    open_lab(page, address, "beam.ipynb")
    run_all(page, ("Run", "Run All Cells"))
    page.wait_for_selector(".jp-RenderedLatex mjx-container", state="attached")
    cells = saved(page, path, is_run)
    picture(page, "lab-run-all")
    assert "300.0 kip-ft" in outputs_text(cells[2])
    assert "300.0 kip-ft" in outputs_text(cells[3])
    assert not page.locator(".jp-OutputArea-output [data-mml-node='merror'], mjx-merror").count()

    handle = page.locator(".noUi-handle").first
    handle.focus()
    for _ in range(4):
        handle.press("ArrowRight")
    moved = saved(page, path, lambda found: "300.0" not in outputs_text(found[3]))
    picture(page, "lab-slider-moved")
    lengths = re.search(r"L = ([\d.]+) ft", outputs_text(moved[3]))
    assert lengths is not None
    length = float(lengths[1])
    assert length > 40
    assert f"{1.5 * length**2 / 8:,.1f}" in outputs_text(moved[3])
    assert "300.0 kip-ft" in outputs_text(moved[2])

    times = page.evaluate(REDRAWN)
    print(f"slider to redrawn steps in the browser: median {median(times):.0f} ms of {len(times)}")
    assert median(times) < 2000, "on a busy machine; on a quiet one it is some tens of ms"

    status, content = exported(page, address, "sheet_pdf")
    assert status == 200, content[-800:]
    text = " ".join(page_texts(content))
    assert "Browser test (invented)" in text
    assert "trial values" in text

    page.locator(".jp-Cell:nth-child(2) .cm-content").click()
    page.keyboard.press("Control+a")
    page.keyboard.type(
        "with sheet.part('Loads'): L = sheet.given('L', 48 * ft, 'span'); "
        "w = sheet.given('w', 1.5 * klf)"
    )
    page.keyboard.press("Control+Enter")
    rerun = saved(
        page, path,
        lambda found: "48 ft" in outputs_text(found[1]) and "N.G." in outputs_text(found[4]),
    )  # fmt: skip
    picture(page, "lab-out-of-order")
    assert "STALE" in outputs_text(rerun[2]), "the old moment says that it no longer holds"
    assert "STALE" not in outputs_text(rerun[1])
    with pytest.raises(StaleError, match="out of order"):
        print_notebook(path, tmp_path / "out.pdf")
    status, told = exported(page, address, "sheet_pdf")
    assert status == 500
    assert b"out of order" in told


def test_notebook_7_runs_the_same_file(server: tuple[str, Path], page: Any, tmp_path: Path) -> None:
    address, folder = server
    path = jupyter.unrun(folder / "seven.ipynb")
    page.goto(f"{address}/notebooks/seven.ipynb")
    page.wait_for_selector(".jp-NotebookPanel .jp-CodeCell")
    run_all(page, ("Run", "Run All Cells"))
    page.wait_for_selector(".jp-RenderedLatex mjx-container", state="attached")
    cells = saved(page, path, is_run)
    picture(page, "notebook-7")
    assert "300.0 kip-ft" in outputs_text(cells[2])
    assert "all 1 checks" in outputs_text(cells[4]) or "the one check OK" in outputs_text(cells[4])
    assert print_notebook(path, tmp_path / "seven.pdf") == ["OK"]


def test_an_untrusted_notebook_is_legible(server: tuple[str, Path], page: Any) -> None:
    """A file of somebody else, opened for the first time: steps stand as mathematics.

    The file is the course's own, as VS Code would have saved it: with its metadata, and cells of
    which the server has seen none.
    """
    address, folder = server
    source = Path(__file__).parents[2] / "notebooks/classroom/rolled_beam_by_hand.ipynb"
    notebook = json.loads(source.read_text())
    for cell in notebook["cells"]:
        cell["metadata"]["vscode"] = {"languageId": "python"}
    (folder / "foreign.ipynb").write_text(json.dumps(notebook))
    open_lab(page, address, "foreign.ipynb")
    page.wait_for_selector(".jp-RenderedLatex mjx-container", state="attached")
    page.wait_for_timeout(1000)
    picture(page, "lab-untrusted")
    assert page.locator(".jp-RenderedLatex mjx-container").count() >= 3
    assert not page.locator("[data-mml-node='merror'], mjx-merror").count()
