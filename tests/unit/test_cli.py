"""The command line: what each ending is worth, and that no failure shows a stack trace."""

from __future__ import annotations

import json
import re
import sys
from types import ModuleType, SimpleNamespace
from typing import TYPE_CHECKING, Any

import pytest

from stepcalc import cli
from stepcalc.errors import BridgeFileError, StaleError

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

OK = {"name": "Flexure", "ratio": 0.708, "verdict": "OK"}
NG = {"name": "Shear", "ratio": 1.2, "verdict": "N.G."}
UNDEFINED = {"name": "Bearing", "ratio": None, "verdict": "N.G."}


class Printed:
    """A stand-in for a package: printing writes a line."""

    def print(self, path: Path, **options: object) -> None:
        path.write_text("printed")


@pytest.fixture
def girder(monkeypatch: pytest.MonkeyPatch) -> Callable[..., None]:
    """Return a function that decides what the girder calculation answers."""

    def answers(*checks: dict[str, Any], error: BaseException | None = None) -> None:
        def calculation(path: Path) -> SimpleNamespace:
            if error:
                raise error
            results = {"checks": list(checks), "governing": checks[-1]["name"], "file": str(path)}
            return SimpleNamespace(package=Printed, to_json_dict=lambda: results)

        module = ModuleType("stepcalc.bridge.whole.any_girder")
        module.__dict__["calculation_of"] = calculation
        monkeypatch.setitem(sys.modules, "stepcalc.bridge.whole.any_girder", module)
        reader = ModuleType("stepcalc.bridge.bridge_file")
        reader.__dict__["read_bridge_file"] = lambda path: path
        monkeypatch.setitem(sys.modules, "stepcalc.bridge.bridge_file", reader)

    return answers


@pytest.fixture
def notebook(monkeypatch: pytest.MonkeyPatch) -> Callable[..., None]:
    """Return a function that decides what printing a notebook answers."""

    def answers(*verdicts: str, error: BaseException | None = None) -> None:
        def print_notebook(
            path: Path, out: Path, *, run: bool = False, **choices: Any
        ) -> list[str]:
            if error:
                raise error
            out.write_text(f"{path} {run}")
            return list(verdicts)

        module = ModuleType("stepcalc.print")
        module.__dict__["print_notebook"] = print_notebook
        monkeypatch.setitem(sys.modules, "stepcalc.print", module)

    return answers


@pytest.mark.parametrize(
    ("checks", "code"), [([OK], 0), ([OK, OK], 0), ([OK, NG], 1), ([UNDEFINED, OK], 1)]
)
def test_exit_code_of_a_girder(
    girder: Callable[..., None], checks: list[dict[str, Any]], code: int
) -> None:
    girder(*checks)
    assert cli.main(["girder", "bridge.toml"]) == code


def test_a_girder_is_summed_up_and_written(
    girder: Callable[..., None], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    girder(OK, UNDEFINED, NG)
    pdf, results = tmp_path / "out.pdf", tmp_path / "out.json"
    code = cli.main(["girder", "bridge.toml", "-o", str(pdf), "--json", str(results)])
    shown = capsys.readouterr().out
    assert code == 1
    assert pdf.read_text() == "printed"
    assert json.loads(results.read_text())["checks"][0] == OK
    assert sorted(tmp_path.iterdir()) == [results, pdf]
    lines = [line.split() for line in shown.splitlines()]
    assert ["Flexure", "0.708", "OK"] in lines
    assert ["Bearing", "undefined", "N.G."] in lines
    assert ["Shear", "1.200", "N.G.", "governs"] in lines
    assert "licensed engineer" in shown


def test_a_ratio_outside_a_range_is_warned_of_and_is_not_all_ok(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """One cause and what follows from it; 1.0004 is shown with the digits that tell its side."""
    results = {
        "checks": [OK, {"name": "Span", "ratio": 1.0004, "verdict": "N.G."}],
        "governing": "Span",
        "passed": False,
        "verdict": "beam: no verdict",
        "recommendation": ["Lightest W shape: none."],
        "warnings": [
            {"where": "Loads/g", "text": "outside the range of application: L is too short"},
            {"where": "Loads/M", "text": "follows from a value outside its range: g"},
        ],
    }
    module, reader = (
        ModuleType("stepcalc.bridge.whole.any_girder"),
        ModuleType("stepcalc.bridge.bridge_file"),
    )
    module.__dict__["calculation_of"] = lambda _: SimpleNamespace(to_json_dict=lambda: results)
    reader.__dict__["read_bridge_file"] = lambda path: path
    monkeypatch.setitem(sys.modules, module.__name__, module)
    monkeypatch.setitem(sys.modules, reader.__name__, reader)
    assert cli.main(["girder", "bridge.toml"]) == 1
    shown = capsys.readouterr().out
    assert "WARNING Loads/g: outside the range of application: L is too short" in shown
    assert "WARNING 1 more values follow from these" in shown
    assert "Loads/M" not in shown
    assert "1.0004" in shown
    assert "Lightest W shape: none." in shown
    results["checks"] = [OK]
    assert cli.main(["girder", "bridge.toml"]) == 1


@pytest.mark.parametrize(
    ("error", "words"),
    [
        (BridgeFileError("key 'spam' is not known in [girders];\n  want 'span'"), "want 'span'"),
        (FileNotFoundError(2, "No such file or directory", "b.toml"), "b.toml: No such file"),
        (KeyError("E"), "went wrong in 'girder': KeyError"),
        (KeyboardInterrupt(), "interrupted"),
    ],
)
def test_a_failure_is_one_paragraph(
    girder: Callable[..., None],
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
    error: BaseException,
    words: str,
) -> None:
    girder(OK, error=error)
    code = cli.main(["girder", "bridge.toml", "-o", str(tmp_path / "out.pdf")])
    shown = capsys.readouterr()
    assert code == 2
    assert shown.out == ""
    assert shown.err.startswith("stepcalc: ")
    assert shown.err.count("\n") == 1
    assert words in shown.err
    assert "Traceback" not in shown.err
    assert list(tmp_path.iterdir()) == []


def test_a_failed_print_keeps_the_old_file(
    notebook: Callable[..., None], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "package.pdf"
    out.write_text("yesterday's")
    notebook(error=StaleError("cell 3 was changed after it was run; run the notebook again"))
    assert cli.main(["print", "n.ipynb", "-o", str(out)]) == 2
    assert out.read_text() == "yesterday's"
    assert list(tmp_path.iterdir()) == [out]
    assert "cell 3 was changed" in capsys.readouterr().err


@pytest.mark.parametrize(("verdicts", "code"), [((), 0), (("OK",), 0), (("OK", "N.G."), 1)])
def test_exit_code_of_a_notebook(
    notebook: Callable[..., None], tmp_path: Path, verdicts: tuple[str, ...], code: int
) -> None:
    notebook(*verdicts)
    out = tmp_path / "package.html"
    assert cli.main(["print", "n.ipynb", "-o", str(out), "--run"]) == code
    assert out.read_text() == "n.ipynb True"


@pytest.mark.parametrize(
    ("place", "words"),
    [
        (
            "package.docx",
            r"ends in '\.docx'; want a name that ends in \.pdf, \.html, \.tex or \.typ",
        ),
        ("package", r"ends in 'nothing'; want"),
        ("none/package.pdf", "none does not exist; make it"),
        (".", "is a folder"),
    ],
)
def test_a_place_that_cannot_be_written_is_refused_before_the_work(
    notebook: Callable[..., None],
    girder: Callable[..., None],
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
    place: str,
    words: str,
) -> None:
    reached = AssertionError("the work was begun")
    notebook(error=reached)
    girder(OK, error=reached)
    for verb in (["print", "n.ipynb"], ["girder", "b.toml"]):
        assert cli.main([*verb, "-o", str(tmp_path / place)]) == 2
        shown = capsys.readouterr().err
        assert "the work was begun" not in shown
        assert re.search(words, shown)


def test_shapes(capsys: pytest.CaptureFixture[str]) -> None:
    assert cli.main(["shapes", "w36"]) == 0
    family = capsys.readouterr().out
    assert "W36X135" in family
    assert "W33X130" not in family
    assert "v16.0" in family
    assert cli.main(["shapes"]) == 0
    assert sum(line.startswith("W") for line in capsys.readouterr().out.splitlines()) == 289 + 1
    assert cli.main(["shapes", "W 36 x 135"]) == 0
    assert "Ix           7800 in^4" in capsys.readouterr().out


@pytest.mark.parametrize("which", ["W35", "W36X134", "spam"])
def test_a_shape_that_is_not_there(which: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert cli.main(["shapes", which]) == 2
    assert which in capsys.readouterr().err


@pytest.mark.parametrize("verb", [[], ["girder"], ["print"], ["shapes"]])
def test_help_of_every_verb(verb: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as stop:
        cli.main([*verb, "--help"])
    assert stop.value.code == 0
    shown = capsys.readouterr().out
    assert "usage: stepcalc" in shown
    assert "exit codes" in shown or "VERB" in shown


@pytest.mark.parametrize("line", [[], ["design"], ["girder"], ["print", "n.ipynb"]])
def test_a_command_line_that_does_not_fit_ends_with_2(line: list[str]) -> None:
    with pytest.raises(SystemExit) as stop:
        cli.main(line)
    assert stop.value.code == 2
