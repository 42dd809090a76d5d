"""Key and handout of the course's own notebook: one source, nothing of the solution handed out."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

import pytest

from stepcalc.classroom.blank_figure import blank_figure
from stepcalc.classroom.notebook_papers import notebook_handout, notebook_key
from stepcalc.classroom.secrets import Secret, key_numbers
from stepcalc.errors import FormulaError
from stepcalc.print import print_document
from stepcalc.print.notebook import print_notebook, read_notebook
from stepcalc.print.notebook_sheets import sheets_of_file
from stepcalc.render import blocks as b
from tests.unit.print_pages import page_texts
from tests.unit.test_classroom_papers import everything_in, readable

SOURCE = Path(__file__).parents[2] / "notebooks/classroom/rolled_beam_by_hand.ipynb"


@pytest.mark.parametrize("blank", ["numbers", "formulas"])
@pytest.mark.parametrize("form", ["pdf", "html", "typ"])
def test_nothing_of_the_solution_is_handed_out(blank: str, form: str, tmp_path: Path) -> None:
    made = notebook_handout(read_notebook(SOURCE), SOURCE, blank=blank)
    target = tmp_path / f"handout.{form}"
    print_document(made, target)
    (sheet,) = sheets_of_file(SOURCE)
    content = target.read_bytes()
    text = everything_in(content)
    if form == "pdf":
        text = " ".join(page_texts(content)) + readable(text)
    text = re.sub(r"base64,[A-Za-z0-9+/=]+|<style>.*?</style>", "", text, flags=re.DOTALL)
    if form == "typ":  # sizes of the layout are no numbers of the sheet
        text = " ".join(re.findall(r'"((?:[^"\\]|\\.)*)"', text))
    found = {
        number for number in key_numbers(sheet)
        if re.search(rf"(?<![\d.]){re.escape(number)}(?!\d|\.\d)", text)
    }  # fmt: skip
    assert not found
    assert "W27X102" not in text, "the shape is the student's to choose"
    assert "42 ft centre to centre" in text.replace("\n", " ")
    assert "hw.step" not in text


def test_a_figure_keeps_what_is_given() -> None:
    (figure,) = [
        block
        for pages in notebook_handout(read_notebook(SOURCE), SOURCE).sheets
        for block in pages.blocks
        if isinstance(block, b.Figure)
    ]
    assert figure.data is not None
    assert figure.data["supports"] == [0.0, 42.0]
    assert figure.data["loads"] == [], "where the axles stand is a result"
    assert figure.data["reactions"] == [{"x": 0.0, "label": "________ kip"}]
    assert figure.caption == "HS20 truck placed for the greatest moment, to complete"


def test_figures_of_results_are_left_to_draw() -> None:
    secret = Secret(frozenset({"164.8"}))
    series = [{"label": "M", "y": [0, 164.8]}]
    curves = {"kind": "curves", "x": [0, 1], "x_label": "x", "y_label": "M", "series": series}
    assert blank_figure(curves, secret) is None
    section = {
        "kind": "girder_section", "plates": [{"bottom": 0, "height": 1, "width": 12}],
        "elastic": [{"x": 21.337, "label": "n = 8"}], "stress": [{"bottom": 0, "height": 1,
        "width": 1}], "depths": [{"start": 0, "end": 21.337, "label": "164.8 in"}],
    }  # fmt: skip
    made = blank_figure(section, secret)
    assert made is not None
    assert made == ({"kind": "girder_section", "plates": section["plates"], "depths": []}, True)


def test_tags_say_what_students_get() -> None:
    notebook: Any = json.loads(json.dumps(read_notebook(SOURCE)))
    bending = next(c for c in notebook["cells"] if 'part("Bending")' in "".join(c["source"]))
    bending["metadata"]["tags"] = ["solution"]
    shear = next(c for c in notebook["cells"] if 'part("Shear")' in "".join(c["source"]))
    shear["metadata"]["tags"] = ["instructor"]
    made = notebook_handout(notebook, SOURCE)
    said = [x for pages in made.sheets for x in pages.blocks]
    headings = [x.text for x in said if isinstance(x, b.Heading)]
    assert "Bending" not in headings
    assert "Shear" not in headings
    assert b.Markdown("*Your work:*") in said
    with pytest.raises(FormulaError, match="'spam', which is no given"):
        notebook_handout(notebook, SOURCE, student_fills=["spam"])


def test_the_key_of_the_notebook_has_text_solution_and_bands(tmp_path: Path) -> None:
    print_document(notebook_key(read_notebook(SOURCE), SOURCE), tmp_path / "key.pdf")
    text = " ".join(page_texts((tmp_path / "key.pdf").read_bytes()))
    for words in ("KEY: for the instructor", "lightest economical", "264.9", "Tolerance band"):
        assert words in text
    # S_req = 264.94 in full, 266 by hand: 1.06 apart, and one unit of the third figure
    assert "262.9" in text
    assert "267.0" in text


@pytest.mark.parametrize(
    ("choice", "profile", "shown"),
    [
        (None, "homework", [True, False]),
        (None, "package", [False, False]),
        ("none", "homework", [False, False]),
        ("tagged", "package", [True, False]),
        ("all", "package", [True, True]),
        (True, "package", [True, True]),
        (False, "homework", [False, False]),
    ],
)
def test_which_code_is_printed(
    choice: Any, profile: str, shown: list[bool], tmp_path: Path
) -> None:
    print_notebook(SOURCE, tmp_path / "out.html", code=choice, profile=profile)
    page = (tmp_path / "out.html").read_text()
    assert ["hw.step(&#34;f_b" in page, "hw.step(&#34;V_L" in page] == shown
    assert "264.9" in page
