"""The verbs of course and review: papers, variants, marks, comments, the independent check."""

from __future__ import annotations

import csv
import json
from pathlib import Path
from typing import Any

import pytest

from stepcalc import Sheet, cli
from stepcalc.notebook.display import sheet_bundle
from stepcalc.units import ft, kip_ft, klf
from tests.unit.classroom_sheet import homework
from tests.unit.print_pages import page_texts
from tests.unit.test_print_notebook import code, new_notebook, shown, write


@pytest.fixture
def place(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Return a folder with a solved notebook, its sheet, and what a course needs."""
    monkeypatch.chdir(tmp_path)
    write(new_notebook(cells=[code(1, shown(sheet_bundle(homework())[0]))]), "solved.ipynb")
    Path("sheet.json").write_text(homework().to_json())
    Path("salt").write_text("not told\n")
    Path("plan.toml").write_text(
        'assignment = "HW 4"\n[ranges]\nL = ["30 ft", "50 ft", "1 ft"]\n'
        'S = ["6 ft", "8 ft", "0.25 ft"]\n[among]\nshape = ["W27X94", "W27X102"]\n'
    )
    return tmp_path


def run(*line: str) -> int:
    return cli.main(list(line))


def text_of(name: str) -> str:
    return " ".join(page_texts(Path(name).read_bytes()))


@pytest.mark.parametrize("source", ["solved.ipynb", "sheet.json"])
def test_handout_and_key(place: Path, source: str, capsys: Any) -> None:
    assert run("handout", source, "-o", "h.pdf", "--lines", "2", "--fill", "shape") == 0
    assert run("key", source, "-o", "k.pdf") == 0
    assert "164.8" not in text_of("h.pdf")
    assert "W27X94" not in text_of("h.pdf")
    assert "Tolerance band" in text_of("k.pdf")
    assert "written: k.pdf" in capsys.readouterr().out
    assert run("handout", source, "-o", "x.pdf", "--fill", "spam") == 2
    assert "no given of the sheet" in capsys.readouterr().err
    assert not Path("x.pdf").exists()


def test_print_has_four_profiles(place: Path, capsys: Any) -> None:
    for profile in ("package", "homework", "walkthrough", "handout"):
        assert run("print", "solved.ipynb", "-o", f"{profile}.html", "--profile", profile) == 0
    assert "164.8" in Path("walkthrough.html").read_text()
    assert "164.8" not in Path("handout.html").read_text()
    assert run("print", "solved.ipynb", "-o", "deck.tex", "--profile", "walkthrough") == 2
    assert ".html, .pdf or .typ" in capsys.readouterr().err


def test_a_class_gets_its_variants_and_is_marked(place: Path, capsys: Any) -> None:
    Path("class.txt").write_text("1001\n1002\n\n1003\n")
    line = ("variant", "solved.ipynb", "--plan", "plan.toml", "--salt-file", "salt")
    assert run(*line, "--students", "class.txt", "-o", "papers") == 0
    papers = sorted(path.name for path in Path("papers").iterdir())
    assert papers == ["1001.pdf", "1002.pdf", "1003.pdf", "instructor"]
    with Path("papers/instructor/variants.csv").open() as file:
        rows = list(csv.DictReader(file))
    assert [row["student"] for row in rows] == ["1001", "1002", "1003"]
    assert rows[0]["variant"] in text_of("papers/1001.pdf")
    first = Path("papers/instructor/1001.json").read_text()
    assert run(*line, "--student", "1001", "-o", "again") == 0
    assert Path("again/instructor/1001.json").read_text() == first, "the same for the same student"
    sheet = Sheet.from_json(first)
    assert sheet["M_u"].shown not in text_of("papers/1001.pdf")
    assert sheet["M_u"].shown in text_of("papers/instructor/1001.pdf")
    assert rows[0]["variant"] in text_of("papers/instructor/1001.pdf")

    Path("1001.csv").write_text(f"step,answer\nM_u,{sheet['M_u'].shown} kip-ft\nw,9 klf\n")
    Path("1002.csv").write_text("M_u\n")
    marking = ("mark", "1001.csv", "1002.csv", "--variants", "papers", "--csv", "marks.csv")
    assert run(*marking, "--step", "M_u", "--step", "w") == 2, "one cannot be read"
    with Path("marks.csv").open() as file:
        marks = list(csv.DictReader(file))
    assert [(m["step"], m["outcome"]) for m in marks] == [
        ("M_u", "right"), ("w", "wrong"), ("", "not marked"),
    ]  # fmt: skip
    assert "want a step and its answer" in marks[2]["remark"]
    shown_table = capsys.readouterr().out
    assert "50 %" in shown_table


def test_marks_of_notebooks_have_exit_codes(place: Path, capsys: Any) -> None:
    assert run("mark", "solved.ipynb", "--key", "sheet.json") == 0
    Path("one.csv").write_text('M_u,"1,978 kip-in"\n')
    assert run("mark", "one.csv", "--key", "sheet.json", "--step", "M_u") == 0
    Path("bad.csv").write_text("M_u,99 kip-ft\n=cmd,1\nw,=cmd\n")
    assert run("mark", "bad.csv", "--key", "sheet.json", "--csv", "m.csv") == 1
    table = Path("m.csv").read_text()
    assert ",=" not in table, "a spreadsheet would run it"
    assert ",'=cmd," in table
    assert "missing: Z_x, M_n, Flexure; wrong: w, M_u" in capsys.readouterr().out
    assert run("mark", "bad.csv", "--key", "sheet.json", "--within", "77") == 2
    assert run("mark", "bad.csv", "--variants", ".") == 2
    assert "holds no folder instructor" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("plan", "words"),
    [
        ("[", "no TOML"),
        ("x = 1", "has 'x'"),
        ("", "varies nothing"),
        ('[ranges]\nL = ["30 ft", "50 ft"]', "want [low, high, step]"),
        ('[ranges]\nL = ["a", "b", "c"]', "want quantities"),
        ("[among]\nshape = []", "want a list"),
        ('failing = 2\n[among]\nshape = ["W27X94"]', "a share from 0 to 1"),
        ("[ranges]\nspam = [1, 2, 1]", "spam"),
        ("[ranges]\nL = [30, 50, 2]", "each such as '37 ft'"),
        ('[ranges]\nL = ["50 ft", "30 ft", "1 ft"]', "is empty"),
        ('[ranges]\nL = ["30 kip", "50 kip", "1 kip"]', "force"),
    ],
)
def test_a_plan_that_does_not_fit_is_said(place: Path, plan: str, words: str, capsys: Any) -> None:
    Path("p.toml").write_text(plan)
    line = ("variant", "sheet.json", "--plan", "p.toml", "--salt-file", "salt", "-o", "out")
    assert run(*line, "--student", "1") == 2
    said = capsys.readouterr().err
    assert words in said
    assert said.count("\n") == 1
    assert run(*line[:-3], "salt", "-o", "out", "--student", "../x") == 2


def test_a_share_of_the_class_fails_a_check(place: Path) -> None:
    sheet = Sheet("Beam")
    L, w = sheet.given("L", 40 * ft), sheet.given("w", 1 * klf)
    sheet.check("Flexure", w * L**2 / 8 <= 200 * kip_ft)
    Path("beam.json").write_text(sheet.to_json())
    Path("p.toml").write_text('failing = 0.5\n[ranges]\nL = ["30 ft", "50 ft", "0.5 ft"]\n')
    students = [str(n) for n in range(30)]
    Path("class.txt").write_text("\n".join(students))
    line = ("variant", "beam.json", "--plan", "p.toml", "--salt-file", "salt", "-o", "out")
    assert run(*line, "--students", "class.txt") == 0
    with Path("out/instructor/variants.csv").open() as file:
        verdicts = [row["verdict"] for row in csv.DictReader(file)]
    assert 8 <= verdicts.count("N.G.") <= 22


def test_comments_are_kept_and_printed(place: Path, capsys: Any) -> None:
    assert run("comment", "add", "log.json", "M_u", "Which factor?", "--by", "R. Reader") == 1
    assert run("comment", "reply", "log.json", "1", "1.25, see 2-2", "--by", "D. Signer") == 1
    assert run("comment", "list", "log.json") == 1
    assert "answered" in capsys.readouterr().out
    assert run("comment", "close", "log.json", "1") == 2, "nobody says so"
    assert run("comment", "close", "log.json", "2", "--by", "R. Reader") == 2
    assert run("comment", "close", "log.json", "1", "--by", "R. Reader") == 0
    assert run("comment", "print", "log.json", "solved.ipynb", "-o", "out.pdf") == 0
    text = text_of("out.pdf")
    for words in ("Which factor?", "closed (R. Reader)", "2-2 M_u", "164.8"):
        assert words in text
    Path("log.json").write_text("{")
    assert run("comment", "list", "log.json") == 2
    assert Path("log.json").read_text() == "{", "nothing is written over what cannot be read"
    assert run("comment", "list", "none.json") == 2


def test_the_designer_is_hidden_until_the_checker_has_entered(place: Path, capsys: Any) -> None:
    line = ("check-form", "solved.ipynb", "--entries", "e.json")
    assert run(*line, "-o", "form.pdf", "--template", "blank.ipynb") == 1
    out = capsys.readouterr().out
    blank = json.loads(Path("blank.ipynb").read_text())
    for text in (out, text_of("form.pdf"), json.dumps(blank)):
        assert "164.8" not in text
        assert "0.205" not in text
    exec_free = "".join(blank["cells"][1]["source"])
    assert "sheet.given('L', Q_(37, 'ft'), 'span', source='plan')" in exec_free
    assert run(*line, "--enter", "M_u", "170 kip-ft", "--dispose", "M_u", "to be settled") == 1
    shown_now = capsys.readouterr().out
    assert "164.8" in shown_now
    assert "+3.17 %  (!)" in shown_now
    assert "to be settled" in shown_now
    assert run(*line, "--enter", "M_u", "165 kip-ft", "--enter", "Flexure", "0.205") == 0
    assert run(*line, "--enter", "M_u", "165 ft") == 2
    assert run("check-form", "solved.ipynb", "--enter", "M_u", "165 kip-ft") == 2
    assert "--entries" in capsys.readouterr().err


def test_the_blank_template_runs_and_has_the_inputs_only(place: Path) -> None:
    from stepcalc.print.check_template import check_template

    cell = json.loads(check_template(homework(), ["M_u"]))["cells"][1]
    names: dict[str, Any] = {}
    exec("".join(cell["source"]), names)
    made = names["sheet"]
    assert [(n.name, n.value) for n in made.givens] == [
        (n.name, n.value) for n in homework().givens
    ]
    assert not made.steps


def test_dispositions_stand_on_the_package(place: Path, capsys: Any) -> None:
    failing = homework().revise(L=100 * ft)
    write(new_notebook(cells=[code(1, shown(sheet_bundle(failing)[0]))]), "ng.ipynb")
    Path("d.toml").write_text('[Flexure]\ndisposition = "revise"\nreason = "W33 instead"\nby = "X"')
    line = ("print", "ng.ipynb", "-o", "ng.pdf")
    assert run(*line, "--dispositions", "d.toml") == 1
    assert "W33 instead" in text_of("ng.pdf")
    for text, words in (
        ('[Flexure]\ndisposition = "OK"', "want disposition"),
        ('[Flexure]\ndisposition = "accept with reason"', "none is given"),
        ('[Shear]\ndisposition = "revise"', "'Shear' has a disposition"),
        ("[", "no TOML"),
    ):
        Path("d.toml").write_text(text)
        assert run(*line, "--dispositions", "d.toml") == 2
        assert words in capsys.readouterr().err


@pytest.mark.slow
def test_the_students_copy_of_a_notebook_that_was_never_run(place: Path) -> None:
    source = (
        "from stepcalc import Sheet\nfrom stepcalc.units import ft\nsheet = Sheet('Beam')\n"
        "L = sheet.given('L', 41 * ft)\nsheet.step('a', L / 4, ft)"
    )
    write(new_notebook(cells=[code(None, source=source)]), "new.ipynb")
    assert run("handout", "new.ipynb", "-o", "student.ipynb") == 2
    assert run("handout", "new.ipynb", "--run", "-o", "student.ipynb") == 0
    assert "L / 4" not in Path("student.ipynb").read_text()
    Path("p.toml").write_text('[ranges]\nL = ["30 ft", "50 ft", "2 ft"]\n')
    line = ("variant", "new.ipynb", "--plan", "p.toml", "--salt-file", "salt", "--student", "7")
    assert run(*line, "-o", "papers") == 2
    assert run(*line, "-o", "papers", "--run", "--pledge", "I did this alone.") == 0
    assert "I did this alone." in text_of("papers/7.pdf")
