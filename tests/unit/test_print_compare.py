"""Two states of a calculation: exactly the dependants of a change are listed."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

import pytest

from stepcalc import Package, Sheet, TitleBlock, cli
from stepcalc.errors import SheetFileError
from stepcalc.print.compare import compare
from stepcalc.print.notebook_document import MIME
from stepcalc.units import ft, kip, kip_ft, klf
from tests.unit.print_pages import page_texts
from tests.unit.print_sample import qty, step, sym
from tests.unit.test_print_notebook import W, bundle, code, new_notebook, shown, write


def beam(load: float = 1.5, span: float = 40, *, factor: float = 8) -> Sheet:
    sheet = Sheet("Beam")
    with sheet.part("Data"):
        L = sheet.given("L", span * ft)
        w = sheet.given("w", load * klf)
        shape = sheet.given("shape", "W24X76", choices="w_shapes")
        sheet.lookup("A", "w_shapes", shape, "area", "inch**2")
    M = sheet.step("M_u", w * L**2 / factor, kip_ft)
    sheet.step("a", L / 4, ft)
    sheet.check("Flexure", M <= 350 * kip_ft)
    sheet.check("Shear", w * L / 2 <= 60 * kip)
    return sheet


def test_the_same_calculation_has_an_empty_comparison() -> None:
    found = compare(beam(), beam())
    assert not found.changed
    assert "no input, result or check differs" in found.text()


def test_one_changed_load_lists_exactly_its_dependants() -> None:
    found = compare(beam(), beam(2.0))
    assert [change.name for change in found.inputs] == ["Data/w"]
    assert [change.name for change in found.results] == ["M_u"]
    assert [change.name for change in found.checks] == ["Flexure", "Shear"]
    (moment,) = found.results
    assert (moment.old, moment.new, moment.remark) == ("300.0 kip-ft", "400.0 kip-ft", "+33.3 %")
    assert [change.name for change in found.verdicts] == ["Flexure"]
    assert found.checks[0].old == "0.857 OK"  # 300 / 350
    assert found.checks[0].new == "1.143 N.G."  # 400 / 350


def test_a_changed_choice_and_what_is_read_by_it() -> None:
    sheet = beam()
    found = compare(sheet, sheet.revise(shape="W24X84"))
    assert [(c.name, c.old, c.new) for c in found.inputs] == [("Data/shape", "W24X76", "W24X84")]
    assert [change.name for change in found.results] == ["Data/A"]
    assert not found.checks


def test_another_formula_is_named_though_the_value_stays() -> None:
    other = Sheet("Beam")
    L = other.given("L", 40 * ft)
    other.step("a", L - 30 * ft, ft)
    same = Sheet("Beam")
    L = same.given("L", 40 * ft)
    same.step("a", L / 4, ft)
    (change,) = compare(same, other).results
    assert change.remark == "defined differently"


def test_what_comes_and_goes() -> None:
    more = beam()
    more.check("Depth", more["L"] <= 50 * ft)
    assert [(c.name, c.remark) for c in compare(beam(), more).checks] == [("Depth", "added")]
    assert [(c.name, c.remark) for c in compare(more, beam()).checks] == [("Depth", "removed")]


def test_packages_name_their_sheets() -> None:
    def package(load: float) -> Package:
        other = Sheet("Other")
        other.given("w", 3 * klf)
        return Package(TitleBlock(), [beam(load), other])

    found = compare(package(1.5), package(1.6))
    assert [change.name for change in found.inputs] == ["Beam: Data/w"]


def written(path: Path, text: str) -> str:
    path.write_text(text)
    return str(path)


def test_the_command_compares_sheets_and_prints(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    old = written(tmp_path / "old.json", beam().to_json())
    new = written(tmp_path / "new.json", beam(2.0).to_json())
    assert cli.main(["compare", old, old]) == 0
    assert cli.main(["compare", old, new, "-o", str(tmp_path / "c.pdf")]) == 1
    told = capsys.readouterr().out
    assert "now N.G." in told
    page = " ".join(page_texts((tmp_path / "c.pdf").read_bytes()))
    assert "Changed results" in page
    assert "+33.3 %" in page
    # marks on the new sheets: the load, the moment, both checks, and nothing else
    assert page.count("since old.json") == 4
    assert "it was 300.0 kip-ft" in page


def results(path: Path, moment: float | None, ratio: float | None) -> str:
    verdict = "OK" if ratio is not None and ratio <= 1 else "N.G."
    data = {
        "schema": "stepcalc girder results 1",
        "givens": {"shape": {"value": "W24X76", "unit": ""}},
        "results": {"M_u": {"value": moment, "unit": "kip-ft", "ref": None}},
        "checks": [{"name": "Flexure", "ratio": ratio, "verdict": verdict}],
    }
    return written(path, json.dumps(data))


def test_results_of_the_girder_command(tmp_path: Path) -> None:
    old, new = results(tmp_path / "a.json", 300.0, 0.9), results(tmp_path / "b.json", 400.0, None)
    found = compare(old, new)
    assert [(c.old, c.new) for c in found.results] == [("300.0 kip-ft", "400.0 kip-ft")]
    (check,) = found.checks
    assert (check.old, check.new) == ("0.900 OK", "undefined N.G.")
    assert check.remark.startswith("now N.G.")
    assert not compare(old, old).changed


def test_executed_notebooks(tmp_path: Path) -> None:
    moment = step("1-2", "M_u", sym("w"), sym("w"), qty("300.1", "kip*ft"))
    for name, value in (("a", "270.3"), ("b", "300.1")):
        blocks = [W, moment | {"result": qty(value, "kip*ft")}]
        write(
            new_notebook(cells=[code(1, shown({MIME: bundle(*blocks)}))]),
            tmp_path / f"{name}.ipynb",
        )
    found = compare(tmp_path / "a.ipynb", tmp_path / "b.ipynb")
    assert [change.name for change in found.results] == ["M_u"]
    assert "270.3" in found.results[0].old


@pytest.mark.parametrize(
    ("name", "text", "words"),
    [
        ("x.json", "{", "is no JSON, or it was cut off"),
        ("x.json", "[1]", "neither a sheet nor results"),
        ("x.json", '{"schema": "stepcalc girder results 1"}', "are damaged"),
        ("x.json", '{"format": "stepcalc sheet", "version": 1}', "damaged"),
        ("missing.json", None, "cannot read"),
    ],
)
def test_other_files_are_refused_in_one_paragraph(
    name: str, text: str | None, words: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    if text is not None:
        (tmp_path / name).write_text(text)
    good = written(tmp_path / "good.json", beam().to_json())
    assert cli.main(["compare", good, str(tmp_path / name)]) == 2
    told = capsys.readouterr().err
    assert words in told
    assert told.count("\n") == 1


def test_unlike_kinds_and_sheetless_notebooks_are_refused(tmp_path: Path) -> None:
    good = written(tmp_path / "good.json", beam().to_json())
    with pytest.raises(SheetFileError, match="holds a sheet and r\\.json a results"):
        compare(good, results(tmp_path / "r.json", 1.0, 0.5))
    write(new_notebook(cells=[code(1, shown({}))]), tmp_path / "n.ipynb")
    with pytest.raises(SheetFileError, match="shows no calculation sheet"):
        compare(tmp_path / "n.ipynb", tmp_path / "n.ipynb")
    odd: Any = 3
    with pytest.raises(SheetFileError, match="cannot compare a int"):
        compare(odd, odd)


@pytest.mark.slow
def test_two_bridge_files_are_calculated_and_compared(tmp_path: Path, capsys: Any) -> None:
    source = Path(__file__).parents[2] / "notebooks/sheets/alder_creek.toml"
    old, new = tmp_path / "old.toml", tmp_path / "new.toml"
    old.write_text(source.read_text())
    text = re.sub(r"(?m)^roadway = .*$", "", source.read_text())
    new.write_text(re.sub(r'(?m)^girder_spacing = "7.*$', 'girder_spacing = "8.5 ft"', text))
    assert cli.main(["compare", str(old), str(new), "-o", str(tmp_path / "c.pdf")]) == 1
    said = capsys.readouterr().out
    assert said.startswith("old: old.toml\nnew: new.toml\n")
    assert re.search(r"/S +7\.75 ft +8\.5 ft +\+9\.68 %", said)  # 8.5/7.75 = 1.0968
    assert "Flexure, Strength I" in said
    pages = " ".join(page_texts((tmp_path / "c.pdf").read_bytes()))
    assert "since old.toml: it was 7.75 ft" in pages
