"""Planted errors: a wrong constant, a dropped 12, a swapped unit; some test must fail for each.

Each place in ``places.py`` is changed in a copy of the project, and the tests named beside it are
run on the copy. A place that no longer reads as written there is an error of this list.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from tests.planted.places import PLACES

if TYPE_CHECKING:
    from tests.planted.place import Place

pytestmark = pytest.mark.slow

COPIED = ("stepcalc", "templates", "tests", "notebooks", "pyproject.toml", "README.md")
SEEN = {1, 2}  # pytest's exit codes: a test failed; a test module could not even be imported


def run_tests(copy: Path, *selection: str) -> subprocess.CompletedProcess[str]:
    """Run tests of the copy on the copy's own code."""
    return subprocess.run(
        [sys.executable, "-m", "pytest", "-x", "-q", "-p", "no:cacheprovider", *selection],
        cwd=copy,
        env={**os.environ, "PYTHONDONTWRITEBYTECODE": "1", "PYTHONPATH": str(copy)},
        capture_output=True,
        text=True,
        check=False,
    )


@pytest.fixture(scope="session")
def copy(root: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return a copy of the project in which the named tests pass."""
    folder = tmp_path_factory.mktemp("planted")
    for name in COPIED:
        source = root / name
        if source.is_dir():
            ignore = shutil.ignore_patterns("__pycache__", ".ipynb_checkpoints")
            shutil.copytree(source, folder / name, ignore=ignore)
        else:
            shutil.copy(source, folder / name)
    where = "import stepcalc; print(stepcalc.__path__[0])"
    asked = subprocess.run(
        [sys.executable, "-c", where], cwd=folder, capture_output=True, text=True, check=True
    )
    assert Path(asked.stdout.strip()) == folder / "stepcalc"
    named = sorted({test for place in PLACES for test in place.tests})
    sound = run_tests(folder, *named)
    assert sound.returncode == 0, sound.stdout[-3000:]
    return folder


def test_there_are_enough_places_of_every_kind() -> None:
    assert len(PLACES) >= 30
    assert len({place.file for place in PLACES}) >= 10
    assert len({(place.file, place.old, place.new) for place in PLACES}) == len(PLACES)


@pytest.mark.parametrize("place", PLACES, ids=lambda place: place.id)
def test_some_test_fails(place: Place, copy: Path) -> None:
    path = copy / "stepcalc" / place.file
    sound = path.read_text("utf-8")
    assert sound.count(place.old) == 1, f"{place.old!r} stands {sound.count(place.old)} times"
    planted = sound.replace(place.old, place.new)
    if path.suffix == ".py":
        compile(planted, str(path), "exec")  # a slip of the pen would be seen by any test
    path.write_text(planted, "utf-8")
    try:
        ran = run_tests(copy, *place.tests)
    finally:
        path.write_text(sound, "utf-8")
    assert ran.returncode in SEEN, f"nobody saw it: {place}\n{ran.stdout[-1500:]}"
