"""Planted errors: a wrong constant, a dropped 12, a swapped unit; some test must fail for each.

Each place of ``places.py`` is changed in a copy of the project, and the tests named beside it are
run on the copy, as many copies at a time as there are cores. A place that no longer reads as
written there is an error of this list. All of them take a quarter of an hour: the whole test
command plants one in four, spread over the list, and ``STEPCALC_PLANT_ALL=1`` all: before a
release, and with ``-k`` for the places that a change touches.
"""

from __future__ import annotations

import os
import queue
import shutil
import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from tests.planted.places import PLACES

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tests.planted.place import Place

    Run = subprocess.CompletedProcess[str]

pytestmark = pytest.mark.slow

PLANTED = PLACES if os.environ.get("STEPCALC_PLANT_ALL") else PLACES[::4]

COPIED = ("stepcalc", "templates", "tests", "notebooks", "pyproject.toml", "README.md")
SEEN = {1, 2}  # pytest's exit codes: a test failed; a test module could not even be imported


def copied(root: Path, folder: Path) -> Path:
    """Return `folder` with a copy of the project, whose code the tests there import."""
    ignored = shutil.ignore_patterns("__pycache__", ".ipynb_checkpoints")
    for name in COPIED:
        if (root / name).is_dir():
            shutil.copytree(root / name, folder / name, ignore=ignored)
        else:
            shutil.copy(root / name, folder / name)
    where = [sys.executable, "-c", "import stepcalc; print(stepcalc.__path__[0])"]
    asked = subprocess.run(where, cwd=folder, capture_output=True, text=True, check=True)
    assert Path(asked.stdout.strip()) == folder / "stepcalc"
    return folder


def run_tests(copy: Path, tests: tuple[str, ...]) -> Run:
    """Run tests of the copy on the copy's own code, up to the first that fails.

    Only the plugin that our options name is loaded: others take seconds to start.
    """
    plugins = ("-p", "no:cacheprovider", "-p", "pytest_benchmark.plugin")
    settings = {
        "PYTEST_DISABLE_PLUGIN_AUTOLOAD": "1",
        "PYTHONDONTWRITEBYTECODE": "1",
        "PYTHONPATH": str(copy),
    }
    return subprocess.run(
        [sys.executable, "-m", "pytest", "-x", "-q", *plugins, *tests],
        cwd=copy,
        env={**os.environ, **settings},
        capture_output=True,
        text=True,
        check=False,
    )


def stands(place: Place, package: Path) -> int:
    """Return how often the text of a place stands in its file."""
    return (package / place.file).read_text("utf-8").count(place.old)


@contextmanager
def planted(place: Place, copy: Path) -> Iterator[None]:
    """Plant the error in the copy, and take it out again."""
    path = copy / "stepcalc" / place.file
    sound = path.read_text("utf-8")
    changed = sound.replace(place.old, place.new)
    if path.suffix == ".py":
        compile(changed, str(path), "exec")  # a slip of the pen would be seen by any test
    path.write_text(changed, "utf-8")
    try:
        yield
    finally:
        path.write_text(sound, "utf-8")


@pytest.fixture(scope="session")
def runs(
    root: Path, tmp_path_factory: pytest.TempPathFactory, request: pytest.FixtureRequest
) -> dict[Place | tuple[str, ...], Run]:
    """Return what the named tests said of every chosen place, and of the sound copy."""
    named = [getattr(item, "callspec", None) for item in request.session.items]
    chosen = dict.fromkeys(
        call.params["place"] for call in named if call and "place" in call.params
    )
    cores = os.cpu_count() or 1
    copies: queue.Queue[Path] = queue.Queue()
    for _ in range(cores):
        copies.put(copied(root, tmp_path_factory.mktemp("planted")))

    def run(job: Place | tuple[str, ...]) -> Run:
        copy = copies.get()
        try:
            if isinstance(job, tuple):
                return run_tests(copy, job)
            with planted(job, copy):
                return run_tests(copy, job.tests)
        finally:
            copies.put(copy)

    jobs: list[Place | tuple[str, ...]] = [*dict.fromkeys(place.tests for place in chosen), *chosen]
    with ThreadPoolExecutor(cores) as pool:
        return dict(zip(jobs, pool.map(run, jobs), strict=True))


def test_there_are_enough_places_of_every_kind() -> None:
    assert len(PLACES) >= 30
    assert len({place.file for place in PLACES}) >= 10
    assert len({(place.file, place.old, place.new) for place in PLACES}) == len(PLACES)


@pytest.mark.parametrize("place", PLACES, ids=lambda place: place.id)
def test_every_place_is_where_it_says(place: Place, root: Path) -> None:
    times = stands(place, root / "stepcalc")
    assert times == 1, f"{place.old!r} stands {times} times in {place.file}"


@pytest.mark.parametrize("place", PLANTED, ids=lambda place: place.id)
def test_some_test_fails(place: Place, runs: dict[Place | tuple[str, ...], Run]) -> None:
    assert place in runs, f"{place.old!r} does not stand once in {place.file}"
    sound = runs[place.tests]
    assert sound.returncode == 0, f"fails without the error, too:\n{sound.stdout[-2000:]}"
    assert runs[place].returncode in SEEN, f"nobody saw it:\n{runs[place].stdout[-1500:]}"
