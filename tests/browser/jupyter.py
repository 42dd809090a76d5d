"""A Jupyter server and a browser for the tests, and what a person does in a notebook.

Set ``STEPCALC_SCREENSHOTS`` to a folder to keep the pictures.
"""

from __future__ import annotations

import importlib.util
import json
import os
import shutil
import socket
import subprocess
import sys
import time
import urllib.request
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import nbformat.v4
import pytest

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
BROWSERS = ("chromium", "chromium-browser", "google-chrome")
CHROMIUM = [
    "--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-background-networking",
    "--disable-component-update", "--disable-sync",
]  # fmt: skip
_STARTS = 3
_PATIENCE = 90.0  # seconds for a server to answer on a busy machine


def need(*modules: str) -> None:
    """Skip the tests of a module for what is not installed; in CI, where it must be, fail."""
    for name in modules:
        if importlib.util.find_spec(name) is None:
            if os.environ.get("CI"):
                pytest.fail(f"{name} is not installed; the extra 'test' brings it")
            pytest.skip(f"{name} is not installed", allow_module_level=True)


@contextmanager
def jupyter(place: Path) -> Iterator[tuple[str, Path]]:
    """Start a server over an empty folder; give its address and the folder."""
    folder = place / "work"
    folder.mkdir()
    for start in range(1, _STARTS + 1):
        server, address, log = _started(place, folder, start)
        if _answers(address, server):
            break
        _ended(server)
    else:
        pytest.fail(f"no Jupyter server started: {log.read_text()[-800:]}")
    try:
        yield address, folder
    finally:
        _ended(server)


def _started(place: Path, folder: Path, start: int) -> tuple[subprocess.Popen[bytes], str, Path]:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    own = {f"JUPYTER_{name}_DIR": str(place / name) for name in ("CONFIG", "DATA", "RUNTIME")}
    command = [
        sys.executable, "-m", "jupyterlab", "--no-browser", "--allow-root", f"--port={port}",
        "--ServerApp.port_retries=0", "--IdentityProvider.token=", "--ServerApp.password=",
        f"--ServerApp.root_dir={folder}",
        "--LabApp.check_for_updates_class=jupyterlab.NeverCheckForUpdate",
    ]  # fmt: skip
    log = place / f"server-{start}.log"
    with log.open("w") as stream:
        server = subprocess.Popen(
            command,
            stdout=stream,
            stderr=stream,
            env=os.environ | own | {"PYDEVD_DISABLE_FILE_VALIDATION": "1"},
        )
    return server, f"http://127.0.0.1:{port}", log


def _answers(address: str, server: subprocess.Popen[bytes]) -> bool:
    until = time.monotonic() + _PATIENCE
    while time.monotonic() < until and server.poll() is None:
        try:
            with urllib.request.urlopen(f"{address}/api", timeout=2):
                return True
        except OSError:
            time.sleep(0.25)
    return False


def _ended(server: subprocess.Popen[bytes]) -> None:
    server.terminate()
    try:
        server.wait(timeout=20)
    except subprocess.TimeoutExpired:
        server.kill()
        server.wait()


@contextmanager
def chromium() -> Iterator[Any]:
    """Start the browser of the machine."""
    from playwright.sync_api import sync_playwright

    program = next(filter(None, map(shutil.which, BROWSERS)))
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=program, args=CHROMIUM)
        try:
            yield browser
        finally:
            browser.close()


def unrun(path: Path) -> Path:
    """Write the notebook of the tests, never run."""
    kernel = {"name": "python3", "display_name": "Python 3", "language": "python"}
    cells = [new_code_cell(source) for source in CELLS]
    write(new_notebook(cells=cells, metadata={"kernelspec": kernel}), path)
    return path


def picture(page: Any, name: str) -> None:
    """Keep what the browser shows, if a folder for it is named."""
    folder = os.environ.get("STEPCALC_SCREENSHOTS")
    if folder:
        page.screenshot(path=str(Path(folder) / f"{name}.png"))


def saved(
    page: Any, path: Path, save: Callable[[Any], None], until: Callable[[list[Any]], bool]
) -> list[Any]:
    """Save until the file holds what is waited for; return its cells."""
    cells: list[Any] = []
    for _ in range(90):
        save(page)
        time.sleep(0.4)
        try:
            cells = json.loads(path.read_text())["cells"]
        except ValueError:  # it is being written
            continue
        if until(cells):
            return cells
    pytest.fail(f"the saved notebook never held what was waited for: {str(cells)[-1500:]}")


def outputs_text(cell: Any) -> str:
    """Return the plain text of a cell's outputs."""
    texts = [o.get("data", {}).get("text/plain", "") for o in cell["outputs"]]
    return "\n".join("".join(text) for text in texts)


def is_run(cells: list[Any]) -> bool:
    """Say whether all cells were run and the last has its output."""
    return all(c["execution_count"] for c in cells) and "no." in json.dumps(cells[4]["outputs"])
