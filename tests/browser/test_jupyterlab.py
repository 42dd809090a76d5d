"""JupyterLab in a real browser: run all, move a slider, export, run a cell out of order.

Set ``STEPCALC_SCREENSHOTS`` to a folder to keep the pictures.
"""

from __future__ import annotations

import importlib.util
import json
import os
import re
import shutil
import socket
import subprocess
import sys
import time
import urllib.request
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import nbformat.v4
import pytest

from stepcalc.errors import StaleError
from stepcalc.print.notebook import print_notebook
from tests.unit.print_pages import page_texts

pytestmark = [pytest.mark.slow, pytest.mark.browser]

for _module in ("jupyterlab", "playwright"):
    if importlib.util.find_spec(_module) is None:
        pytest.skip(f"{_module} is not installed", allow_module_level=True)

# nbformat ships without type information
new_code_cell: Callable[..., Any] = nbformat.v4.new_code_cell
new_notebook: Callable[..., Any] = nbformat.v4.new_notebook
write: Callable[..., Any] = nbformat.write

CELLS = [
    "from stepcalc import Sheet, TitleBlock\nfrom stepcalc.units import ft, kip_ft, klf\n"
    "from stepcalc.notebook.controls import controls\nfrom stepcalc.notebook.index import index\n"
    "sheet = Sheet('Beam')\nTitleBlock(project='Browser test (invented)')",
    "with sheet.part('Loads'):\n"
    "    L = sheet.given('L', 40 * ft, 'span', within=(20 * ft, 80 * ft))\n"
    "    w = sheet.given('w', 1.5 * klf, 'load')",
    "with sheet.part('Moment'):\n"
    "    M = sheet.step('M_u', w * L**2 / 8, kip_ft, 'moment', ref='statics')\n"
    "    sheet.check('Flexure', M <= 350 * kip_ft)",
    "controls(sheet, 'L', show=['M_u', 'Flexure'])",
    "index(sheet)",
]
CHROMIUM = [
    "--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-background-networking",
    "--disable-component-update", "--disable-sync",
]  # fmt: skip


@pytest.fixture
def lab(tmp_path: Path) -> Iterator[tuple[str, Path]]:
    """Start JupyterLab over a folder that holds one notebook, never run."""
    folder = tmp_path / "work"
    folder.mkdir()
    kernel = {"name": "python3", "display_name": "Python 3", "language": "python"}
    cells = [new_code_cell(source) for source in CELLS]
    write(new_notebook(cells=cells, metadata={"kernelspec": kernel}), folder / "beam.ipynb")
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    own = {f"JUPYTER_{name}_DIR": str(tmp_path / name) for name in ("CONFIG", "DATA", "RUNTIME")}
    command = [
        sys.executable, "-m", "jupyterlab", "--no-browser", "--allow-root", f"--port={port}",
        "--ServerApp.port_retries=0", "--IdentityProvider.token=", "--ServerApp.password=",
        f"--ServerApp.root_dir={folder}",
        "--LabApp.check_for_updates_class=jupyterlab.NeverCheckForUpdate",
    ]  # fmt: skip
    log = (tmp_path / "lab.log").open("w")
    server = subprocess.Popen(
        command,
        stdout=log,
        stderr=log,
        env=os.environ | own | {"PYDEVD_DISABLE_FILE_VALIDATION": "1"},
    )
    address = f"http://127.0.0.1:{port}"
    try:
        _wait_for(address, server, tmp_path / "lab.log")
        yield address, folder / "beam.ipynb"
    finally:
        server.terminate()
        try:
            server.wait(timeout=20)
        except subprocess.TimeoutExpired:
            server.kill()
            server.wait()
        log.close()


def _wait_for(address: str, server: subprocess.Popen[bytes], log: Path) -> None:
    for _ in range(240):
        if server.poll() is not None:
            pytest.fail(f"JupyterLab did not start: {log.read_text()[-800:]}")
        try:
            with urllib.request.urlopen(f"{address}/api", timeout=2):
                return
        except OSError:
            time.sleep(0.25)
    pytest.fail("JupyterLab did not answer within a minute")


@pytest.fixture
def page(lab: tuple[str, Path]) -> Iterator[Any]:
    from playwright.sync_api import sync_playwright

    program = next(filter(None, map(shutil.which, ("chromium", "chromium-browser"))))
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=program, args=CHROMIUM)
        opened = browser.new_page(viewport={"width": 1280, "height": 1500})
        opened.set_default_timeout(60_000)
        opened.goto(f"{lab[0]}/lab/tree/beam.ipynb?reset")
        opened.wait_for_selector(".jp-NotebookPanel .jp-CodeCell")
        opened.wait_for_selector('.jp-Notebook-ExecutionIndicator[data-status="idle"]')
        yield opened
        browser.close()


def menu(page: Any, *path: str) -> None:
    page.locator("#jp-MainMenu").get_by_text(path[0], exact=True).click()
    for name in path[1:]:
        page.locator(".lm-Menu").get_by_text(name, exact=True).first.click()


def run_all(page: Any) -> None:
    """Run all cells; right after the page has opened the command may come before the kernel."""
    from playwright.sync_api import TimeoutError as PlaywrightTimeout

    for _ in range(4):
        page.wait_for_timeout(2000)
        menu(page, "Run", "Run All Cells")
        try:
            page.wait_for_selector(".jp-Cell:nth-child(4) .noUi-handle", timeout=20_000)
        except PlaywrightTimeout:
            page.keyboard.press("Escape")
            continue
        return
    pytest.fail("the cells were never run")


def picture(page: Any, name: str) -> None:
    folder = os.environ.get("STEPCALC_SCREENSHOTS")
    if folder:
        page.screenshot(path=str(Path(folder) / f"{name}.png"))


def saved(page: Any, path: Path, until: Callable[[list[Any]], bool]) -> list[Any]:
    """Save until the file holds what is waited for; return its code cells."""
    cells: list[Any] = []
    for _ in range(60):
        page.keyboard.press("Escape")
        menu(page, "File", "Save Notebook")
        time.sleep(0.5)
        cells = json.loads(path.read_text())["cells"]
        if until(cells):
            return cells
    pytest.fail(f"the saved notebook never held what was waited for: {str(cells)[-1500:]}")


def outputs_text(cell: Any) -> str:
    texts = [o.get("data", {}).get("text/plain", "") for o in cell["outputs"]]
    return "\n".join("".join(text) for text in texts)


def is_run(cells: list[Any]) -> bool:
    return all(c["execution_count"] for c in cells) and "no." in json.dumps(cells[4]["outputs"])


def exported(page: Any, address: str, form: str) -> tuple[int, bytes]:
    """Ask for what the menu File, Save and Export As asks for, with the page's own cookies."""
    url = f"{address}/nbconvert/{form}/beam.ipynb?download=true"
    answer = page.request.get(url, headers={"Referer": f"{address}/lab"}, timeout=60_000)
    return answer.status, answer.body()


def test_a_sheet_lives_in_jupyterlab(lab: tuple[str, Path], page: Any, tmp_path: Path) -> None:
    address, path = lab
    status, told = exported(page, address, "sheet_pdf")
    assert status == 500
    assert b"was never run" in told

    run_all(page)
    page.wait_for_selector(".jp-Cell:nth-child(4) .noUi-handle")
    page.wait_for_selector(".jp-RenderedLatex mjx-container", state="attached")
    picture(page, "run-all")
    cells = saved(page, path, is_run)
    assert "300.0 kip-ft" in outputs_text(cells[2])
    assert "300.0 kip-ft" in outputs_text(cells[3])
    assert not page.locator(".jp-OutputArea-output [data-mml-node='merror'], mjx-merror").count()

    handle = page.locator(".noUi-handle").first
    handle.focus()
    for _ in range(4):
        handle.press("ArrowRight")
    moved = saved(page, path, lambda found: "300.0" not in outputs_text(found[3]))
    picture(page, "slider-moved")
    lengths = re.search(r"L = ([\d.]+) ft", outputs_text(moved[3]))
    assert lengths is not None
    length = float(lengths[1])
    assert length > 40
    assert f"{1.5 * length**2 / 8:,.1f}" in outputs_text(moved[3])
    assert "300.0 kip-ft" in outputs_text(moved[2])

    status, content = exported(page, address, "sheet_pdf")
    assert status == 200, content[-800:]
    text = " ".join(page_texts(content))
    assert "Browser test (invented)" in text
    assert "trial values" in text

    page.locator(".jp-Cell:nth-child(2) .cm-content").click()
    page.keyboard.press("Control+a")
    page.keyboard.type("L = sheet.given('L', 48 * ft, 'span'); w = sheet.given('w', 1.5 * klf)")
    page.keyboard.press("Control+Enter")
    rerun = saved(page, path, lambda found: "48 ft" in outputs_text(found[1]))
    picture(page, "out-of-order")
    assert "N.G." in outputs_text(rerun[4]), "the index follows the cell that ran again"
    with pytest.raises(StaleError, match="out of order"):
        print_notebook(path, tmp_path / "out.pdf")
    status, told = exported(page, address, "sheet_pdf")
    assert status == 500
    assert b"out of order" in told


def test_an_untrusted_notebook_is_legible(lab: tuple[str, Path], page: Any) -> None:
    """A file of somebody else, opened for the first time: steps stand as mathematics."""
    address, path = lab
    run_all(page)
    page.wait_for_selector(".jp-Cell:nth-child(4) .noUi-handle")
    notebook = json.loads(json.dumps({"cells": saved(page, path, is_run)}))
    whole = json.loads(path.read_text()) | notebook
    (path.parent / "foreign.ipynb").write_text(json.dumps(whole))
    page.goto(f"{address}/lab/tree/foreign.ipynb?reset")
    page.wait_for_selector(".jp-RenderedLatex mjx-container", state="attached")
    page.wait_for_timeout(3000)
    picture(page, "untrusted")
    assert page.locator(".jp-RenderedLatex mjx-container").count() >= 3
