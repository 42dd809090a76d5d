"""README: its Quick start is what CI runs, and its screen of code prints what it says."""

from __future__ import annotations

import doctest
import os
import re
import shutil
import subprocess
from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    from pathlib import Path


@pytest.fixture
def readme(root: Path) -> str:
    return (root / "README.md").read_text("utf-8")


def quick_start(readme: str) -> list[str]:
    """Return the lines of the one code block of the Quick start."""
    section = readme.split("\n## Quick start\n")[1].split("\n## ")[0]
    blocks = re.findall(r"^```(\w*)\n(.*?)^```$", section, re.S | re.M)
    assert len(blocks) == 1
    assert blocks[0][0] == "bash"
    return str(blocks[0][1]).splitlines()


def test_quick_start_is_two_lines_with_an_environment_each(readme: str) -> None:
    main_job, tests = quick_start(readme)
    assert re.search(r"-m venv \S+ .*stepcalc girder (\S+\.toml) -o \S+\.pdf$", main_job)
    assert re.search(r"-m venv \S+ .*\[test\].*-m tests\.run$", tests)
    assert re.findall(r"venv (\S+)", main_job) != re.findall(r"venv (\S+)", tests)


def test_the_demo_bridge_is_there(readme: str, root: Path) -> None:
    found = re.search(r"stepcalc girder (\S+)", quick_start(readme)[0])
    assert found
    assert (root / found[1]).is_file()


@pytest.mark.skipif(not shutil.which("bash"), reason="no bash on this machine")
def test_ci_runs_exactly_the_second_line(readme: str, root: Path, tmp_path: Path) -> None:
    """Run .ci/run beside a stand-in for python3 that only notes how it is called."""
    real, called = shutil.which("python3"), tmp_path / "called"
    stand_in = tmp_path / "python3"
    stand_in.write_text(
        f'#!/bin/sh\nif [ "$2" = venv ]; then echo "$@" >> {called}; exit 7; fi\nexec {real} "$@"\n'
    )
    stand_in.chmod(0o755)
    for program in ("pdflatex", "pdftoppm", "chromium", "apt-get"):
        (tmp_path / program).write_text("#!/bin/sh\n")
        (tmp_path / program).chmod(0o755)
    path = f"{tmp_path}:{os.environ['PATH']}"
    ran = subprocess.run(
        ["bash", str(root / ".ci" / "run")],
        env={**os.environ, "PATH": path},
        capture_output=True,
        text=True,
        check=False,
    )
    assert ran.returncode == 7, ran.stderr
    assert ran.stdout.splitlines()[-1] == f"$ {quick_start(readme)[1]}"
    assert called.read_text().split()[:2] == ["-m", "venv"]


@pytest.mark.parametrize("page", ["README.md", "DEVELOPERS.md"])
def test_code_in_prose_prints_what_it_says(page: str, root: Path) -> None:
    text = (root / page).read_text("utf-8")
    blocks = re.findall(r"^```(?:python|pycon)\n(.*?)^```$", text, re.S | re.M)
    parser, runner = doctest.DocTestParser(), doctest.DocTestRunner()
    names: dict[str, object] = {}
    for block in blocks:
        test = parser.get_doctest(block, names, page, page, 0)
        runner.run(test, clear_globs=False)
        names = test.globs
    assert runner.summarize(verbose=False).failed == 0
    assert page != "README.md" or runner.tries > 5


def test_the_notice_comes_before_the_first_command(readme: str) -> None:
    before = readme.split("## Quick start")[0]
    assert "licensed" in before
    assert "governing code" in before
    assert "owner" in before
