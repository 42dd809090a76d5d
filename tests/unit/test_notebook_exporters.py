"""Exporters of nbconvert: the four forms, the choices, and refusals without a stack trace."""

from __future__ import annotations

import tomllib
from importlib import import_module
from pathlib import Path
from typing import Any

import nbformat
import pytest
from jupyter_core.application import JupyterApp
from nbconvert.nbconvertapp import NbConvertApp

from stepcalc.classroom.exporters import SheetHandoutExporter, SheetKeyExporter
from stepcalc.errors import PrintError, StaleError
from stepcalc.notebook.exporters import (
    SheetExporter,
    SheetHTMLExporter,
    SheetPDFExporter,
    SheetTeXExporter,
    SheetTypstExporter,
    SheetWalkthroughExporter,
    SheetWalkthroughPDFExporter,
)
from stepcalc.print.notebook_document import MIME
from tests.unit.print_pages import page_texts
from tests.unit.print_sample import TITLE, heading
from tests.unit.test_print_notebook import (
    M,
    W,
    bundle,
    code,
    new_markdown_cell,
    new_notebook,
    shown,
    write,
)

FIGURE = {
    "kind": "figure",
    "caption": "Moment",
    "data": {"kind": "curves", "x": [0, 31, 62], "x_label": "x, ft", "y_label": "M, kip-ft",
             "series": [{"label": "dead load", "y": [0, 461.3, 0]}], "marks": []},
}  # fmt: skip


def notebook(*more: Any) -> Any:
    title: dict[str, Any] = {"v": 1, "sheet": None, "title_block": TITLE, "blocks": []}
    return new_notebook(
        cells=[
            code(1, shown({MIME: title})),
            code(2, shown({MIME: bundle(heading("1", "Deck"), W)}), source="w = secret_code"),
            code(3, shown({MIME: bundle(M, FIGURE)})),
            *more,
        ]
    )


def exported(exporter: type[SheetExporter], **choices: Any) -> tuple[Any, dict[str, Any]]:
    return printed(exporter, notebook(), **choices)


def printed(exporter: Any, cells: Any, **choices: Any) -> tuple[Any, dict[str, Any]]:
    resources = {"metadata": {"name": "girder"}, "unique_key": "girder"}
    made: tuple[Any, dict[str, Any]] = exporter(**choices).from_notebook_node(cells, resources)
    return made


def test_entry_points_name_classes_that_exist() -> None:
    root = Path(__file__).parents[2]
    project = tomllib.loads((root / "pyproject.toml").read_text())["project"]
    points = project["entry-points"]["nbconvert.exporters"]
    # the export menu knows names of letters, digits and underscores only
    assert sorted(points) == [
        "sheet_handout", "sheet_html", "sheet_key", "sheet_pdf", "sheet_tex", "sheet_typst",
        "sheet_walkthrough", "sheet_walkthrough_pdf",
    ]  # fmt: skip
    for target in points.values():
        module, _, name = target.partition(":")
        assert issubclass(getattr(import_module(module), name), SheetExporter)


def test_pdf_has_the_results_and_not_the_code() -> None:
    content, resources = exported(SheetPDFExporter)
    assert resources["output_extension"] == ".pdf"
    text = " ".join(page_texts(content))
    assert "270.3" in text
    assert "girder.ipynb, as last run" in text
    assert "secret_code" not in text


def test_code_shows_when_asked_for() -> None:
    content, _ = exported(SheetHTMLExporter, code="all", profile="homework")
    assert "secret_code" in content
    assert "Course" in content
    assert "Course" not in exported(SheetHTMLExporter)[0]
    assert "secret_code" not in exported(SheetHTMLExporter)[0]


def test_tex_names_its_figures_as_they_are_handed_over() -> None:
    source, resources = exported(SheetTeXExporter)
    assert r"\jobname-figures/" in source or "jobname" in source
    assert resources["outputs"]
    for name, content in resources["outputs"].items():
        assert name.startswith("girder-figures/")
        assert name.rpartition("/")[2].partition(".")[0] in source
        assert content.startswith(b"%PDF")


def test_typst_source_stands_with_its_figures() -> None:
    source, resources = exported(SheetTypstExporter)
    assert "270.3" in source
    assert all(name in source for name in resources["outputs"])
    assert resources["outputs"]


def course_notebook() -> Any:
    source = Path(__file__).parents[2] / "notebooks/classroom/rolled_beam_by_hand.ipynb"
    read: Any = nbformat.read(source, as_version=4)
    return read


def test_the_walkthrough_is_slides() -> None:
    page, resources = printed(SheetWalkthroughExporter, course_notebook())
    assert resources["output_extension"] == ".slides.html"
    assert page.count('class="slide') > 40
    assert "hw.step" not in page
    whole, resources = printed(SheetWalkthroughPDFExporter, course_notebook(), reveal=False)
    assert resources["output_extension"] == ".slides.pdf"
    assert len(page_texts(whole)) == page.count('<section class="slide')


def test_handout_and_key_are_the_two_papers_of_a_course() -> None:
    paper, _ = printed(SheetHandoutExporter, course_notebook(), blank="formulas")
    solved, _ = printed(SheetKeyExporter, course_notebook())
    assert "264.9" not in " ".join(page_texts(paper))
    assert "264.9" in " ".join(page_texts(solved))
    assert "Tolerance band" in " ".join(page_texts(solved))


def test_stale_and_unrun_are_refused_as_by_the_command() -> None:
    disorder = notebook(code(2, source="y = 2"))
    with pytest.raises(StaleError, match="out of order"):
        printed(SheetPDFExporter, disorder)
    marked, _ = printed(SheetHTMLExporter, disorder, allow_stale=True)
    assert "STALE" in marked
    with pytest.raises(PrintError, match="was not run"):
        printed(SheetPDFExporter, notebook(code(None)))


def test_a_notebook_without_a_sheet_says_that_nothing_was_checked() -> None:
    foreign = new_notebook(cells=[new_markdown_cell("# Mine"), code(1, shown({}))])
    page, _ = printed(SheetHTMLExporter, foreign)
    assert "nothing on these pages was checked" in page
    assert "plain words" in page
    ours, _ = exported(SheetHTMLExporter)
    assert "was checked" not in ours


def test_the_command_writes_or_ends_in_one_paragraph(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("JUPYTER_CONFIG_DIR", str(tmp_path))
    write(notebook(), tmp_path / "good.ipynb")
    write(notebook(code(None)), tmp_path / "bad.ipynb")
    form = "stepcalc.notebook.exporters.SheetPDFExporter"
    try:
        NbConvertApp.launch_instance(["--to", form, "good.ipynb", "--SheetExporter.paper=a4"])
        assert "270.3" in " ".join(page_texts((tmp_path / "good.pdf").read_bytes()))
        NbConvertApp.clear_instance()
        with pytest.raises(SystemExit, match=r"nbconvert: cell 4 of bad\.ipynb was not run"):
            NbConvertApp.launch_instance(["--to", form, "bad.ipynb"])
    finally:
        NbConvertApp.clear_instance()
    assert not (tmp_path / "bad.pdf").exists()


def test_a_server_gets_the_error_and_is_not_ended(monkeypatch: pytest.MonkeyPatch) -> None:
    """The server's application shares a base with nbconvert's: it must not be taken for it."""
    JupyterApp.clear_instance()
    if "_instance" in vars(NbConvertApp):  # another test has run the command
        monkeypatch.delattr(NbConvertApp, "_instance")
    JupyterApp.instance()
    try:
        assert NbConvertApp.initialized()
        with pytest.raises(PrintError, match="was not run"):
            printed(SheetPDFExporter, notebook(code(None)))
    finally:
        JupyterApp.clear_instance()
