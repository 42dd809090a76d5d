"""The wheel, installed in an environment of its own and run from outside the checkout.

Inside the checkout, even the wheel's interpreter would import the checkout: a wheel without its
templates or tables would pass.
"""

from __future__ import annotations

import subprocess
import sys
import tarfile
import zipfile
from pathlib import Path

import pytest

pytestmark = pytest.mark.slow


def run(*command: str | Path, cwd: Path, exit_code: int = 0) -> str:
    """Run a command and return what it printed; it must end with `exit_code`."""
    ran = subprocess.run(
        list(map(str, command)), cwd=cwd, capture_output=True, text=True, check=False
    )
    assert ran.returncode == exit_code, f"{command}: {ran.returncode}\n{ran.stdout}\n{ran.stderr}"
    return ran.stdout + ran.stderr


@pytest.fixture(scope="session")
def built(root: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return a folder with the sdist and the wheel that was built from it."""
    folder = tmp_path_factory.mktemp("built")
    run(sys.executable, "-m", "build", "--no-isolation", "--outdir", folder, root, cwd=folder)
    return folder


@pytest.fixture(scope="session")
def away(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return an empty folder outside the checkout."""
    return tmp_path_factory.mktemp("away")


@pytest.fixture(scope="session")
def python(built: Path, away: Path) -> Path:
    """Return the interpreter of a fresh environment that holds the wheel.

    The run-time dependencies are those of the environment that runs the tests, lent by a path
    file: the wheel itself must bring all that is ours, and nothing is fetched again.
    """
    environment = away / "environment"
    run(sys.executable, "-m", "venv", environment, cwd=away)
    interpreter = next(environment.glob("*/python"))
    (wheel,) = built.glob("*.whl")
    run(interpreter, "-m", "pip", "install", "-q", "--no-deps", "--no-index", wheel, cwd=away)
    lend = f"""
import sysconfig, pathlib
here = pathlib.Path(sysconfig.get_path("purelib"))
(here / "lent").mkdir()
for item in pathlib.Path({sysconfig_purelib()!r}).iterdir():
    if "stepcalc" not in item.name and item.suffix != ".pth" and not (here / item.name).exists():
        (here / "lent" / item.name).symlink_to(item)
(here / "lent.pth").write_text(str(here / "lent"))
"""
    run(interpreter, "-c", lend, cwd=away)
    return interpreter


def sysconfig_purelib() -> str:
    """Return where the environment that runs the tests keeps its packages."""
    import sysconfig

    return sysconfig.get_path("purelib")


def test_the_wheel_holds_the_code_the_tables_and_the_templates(built: Path) -> None:
    (wheel,) = built.glob("*.whl")
    with zipfile.ZipFile(wheel) as archive:
        names = archive.namelist()
    assert {
        "stepcalc/cli/girder.py",
        "stepcalc/data/w_shapes.csv",
        "stepcalc/data/w_shapes.toml",
    } <= {*names}
    assert {name.split("/")[2] for name in names if name.startswith("stepcalc/templates/")} >= {
        "html",
        "latex",
        "typst",
    }
    assert not [name for name in names if name.startswith(("tests/", "notebooks/", "templates/"))]


def test_the_sdist_holds_what_the_tests_need(built: Path, root: Path) -> None:
    (sdist,) = built.glob("*.tar.gz")
    with tarfile.open(sdist) as archive:
        names = {name.partition("/")[2] for name in archive.getnames()}
    wanted = {"README.md", "DEVELOPERS.md", "pyproject.toml", "tests/conftest.py"}
    templates = {str(p.relative_to(root)) for p in (root / "templates").rglob("*.j2")}
    notebooks = {str(p.relative_to(root)) for p in (root / "notebooks").rglob("*.toml")}
    assert not (wanted | templates | notebooks) - names


def test_it_is_the_wheel_that_is_imported(python: Path, away: Path) -> None:
    where = run(python, "-c", "import stepcalc; print(stepcalc.__file__)", cwd=away).strip()
    assert Path(where).is_relative_to(away)


def test_tables_and_sheets_work_from_the_wheel(python: Path, away: Path) -> None:
    code = """
from stepcalc import Sheet
from stepcalc.data.tables import table
from stepcalc.units import ft, kip_ft, klf
sheet = Sheet("away")
w, L = sheet.given("w", 1.3 * klf), sheet.given("L", 62 * ft)
print(f"{sheet.step('M', w * L**2 / 8, kip_ft).value.magnitude:.2f}", len(table("w_shapes").names))
"""
    assert run(python, "-c", code, cwd=away).split() == ["624.65", "289"]


def test_the_command_prints_a_bridge(python: Path, away: Path, root: Path) -> None:
    program = python.with_name("stepcalc")
    bridge = root / "notebooks" / "sheets" / "alder_creek.toml"
    for ending in ("pdf", "html", "tex"):
        run(program, "girder", bridge, "-o", f"out.{ending}", cwd=away)
        assert (away / f"out.{ending}").stat().st_size > 10_000
    assert (away / "out.pdf").read_bytes().startswith(b"%PDF-")


def test_the_command_answers(python: Path, away: Path) -> None:
    program = python.with_name("stepcalc")
    assert "W24X68" in run(program, "shapes", "w24", cwd=away)
    assert "289" not in run(program, "--version", cwd=away)
    answer = run(program, "girder", "none.toml", cwd=away, exit_code=2)
    assert "none.toml" in answer
    assert "Traceback" not in answer
