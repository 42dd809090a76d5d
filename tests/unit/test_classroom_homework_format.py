"""The format of a homework: what is missing is named, nothing is refused."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from stepcalc import cli
from stepcalc.classroom.homework_format import format_warnings
from stepcalc.print.notebook import notebook_document, read_notebook
from stepcalc.render import blocks as b

SOURCE = Path(__file__).parents[2] / "notebooks/classroom/rolled_beam_by_hand.ipynb"


def paper(*blocks: b.Block, student: str = "A. Student") -> b.Document:
    return b.Document({"student": student}, "homework", (b.SheetPages("Homework", blocks),))


GIVEN = b.Given("L", ["sym", "L"], ["qty", "40", "ft"])
STEP = b.Step("M", ["sym", "M"], ["qty", "300", "kip*ft"], boxed=True)
WHOLE = (
    b.Markdown("**Given.** A beam.\n\n**Find.** Its moment."), GIVEN,
    b.Figure({"kind": "free_body"}), b.Markdown("### Assumptions\n\nNone."),
    b.Heading("Properties"), b.Heading("Solution"), STEP, b.Heading("Answer"),
)  # fmt: skip


def test_a_whole_homework_has_nothing_to_say() -> None:
    assert format_warnings(paper(*WHOLE)) == []


@pytest.mark.parametrize(
    ("blocks", "student", "words"),
    [
        (WHOLE[1:], "A", "there is no part 'Find'"),
        (WHOLE[:2] + WHOLE[3:], "A", "there is no part 'Sketch'"),
        (WHOLE[:3] + WHOLE[4:], "A", "there is no part 'Assumptions'"),
        (WHOLE[:-1], "A", "there is no part 'Answer'"),
        ((WHOLE[-1], *WHOLE[:-1]), "A", "'Answer' stands before 'Solution'"),
        (WHOLE, " ", "the title block has no name"),
        ((*WHOLE[:6], WHOLE[7]), "A", "no result is boxed"),
    ],
)
def test_what_is_missing_is_named(blocks: Any, student: str, words: str) -> None:
    said = format_warnings(paper(*blocks, student=student))
    assert any(line.startswith(words) for line in said), said


def test_the_course_notebook_lacks_a_name_only() -> None:
    document, _ = notebook_document(read_notebook(SOURCE), SOURCE)
    assert format_warnings(document) == ["the title block has no name"]


def test_the_command_says_it_and_leaves_a_line_for_the_pledge(tmp_path: Path, capsys: Any) -> None:
    line = ["print", str(SOURCE), "-o", str(tmp_path / "h.html"), "--profile", "homework"]
    assert cli.main(line) == 0
    assert "homework format: the title block has no name" in capsys.readouterr().out
    out = tmp_path / "handout.html"
    assert cli.main(["handout", str(SOURCE), "-o", str(out), "--pledge", "This is my work."]) == 0
    assert "This is my work.  Name: ____" in out.read_text()
