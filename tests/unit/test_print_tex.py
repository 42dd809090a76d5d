"""The TeX file: harmless text, the same under every name, and it compiles with a plain TeX."""

from __future__ import annotations

import re
import subprocess
from pathlib import Path

import pytest

from stepcalc.print.package import print_document
from stepcalc.print.tex import tex_text, to_tex
from stepcalc.render.document import read_document
from tests.unit.front_package import package
from tests.unit.print_hostile import HOSTILE, hostile_document
from tests.unit.print_pages import page_texts
from tests.unit.print_sample import TITLE, sample_document

_RECOMMENDED = frozenset(
    ("fontenc", "inputenc", "textcomp", "lmodern", "amsmath", "amssymb", "graphicx", "xcolor",
     "array", "longtable", "calc", "geometry", "fancyhdr", "hyperref")
)  # fmt: skip


def compiled(folder: Path, name: str) -> bytes:
    for _ in range(2):
        done = subprocess.run(
            ["pdflatex", "-interaction=nonstopmode", "-halt-on-error", "-no-shell-escape",
             f"{name}.tex"],
            cwd=folder, capture_output=True, text=True, errors="replace", timeout=120, check=False,
        )  # fmt: skip
        assert done.returncode == 0, done.stdout[-2000:]
    assert "Missing character" not in done.stdout
    return (folder / f"{name}.pdf").read_bytes()


def test_only_base_and_recommended_packages_are_used() -> None:
    source = to_tex(read_document(sample_document())).source
    used = re.findall(r"\\usepackage(?:\[[^]]*\])?\{([^}]*)\}", source)
    assert {name for names in used for name in names.split(",")} <= _RECOMMENDED


def test_the_source_does_not_depend_on_the_name(tmp_path: Path) -> None:
    one = print_document(sample_document(), tmp_path / "a.tex", allow_stale=True)
    two = print_document(sample_document(), tmp_path / "b.tex", allow_stale=True)
    assert one.read_bytes() == two.read_bytes()
    figures = sorted(path.name for path in (tmp_path / "a-figures").iterdir())
    assert figures == [f"figure-{k}.pdf" for k in range(1, 5)]
    for name in figures:
        assert (tmp_path / "a-figures" / name).read_bytes() == (
            tmp_path / "b-figures" / name
        ).read_bytes()


@pytest.mark.parametrize(
    ("text", "tex"),
    [
        (r"\input{x}", r"\textbackslash{}input\{x\}"),
        ("50% & #1_2^3~$", r"50\% \& \#1\_2\textasciicircum{}3\textasciitilde{}\$"),
        ("7'-9\"", r"7\textquotesingle{}{-}9\textquotedbl{}"),
        ("β ≤ 8 ft²", r"$\beta$ $\le$ 8 ft\texttwosuperior{}"),
        ("Müller", "Müller"),
        ("中", r"\hskip0pt{[}U+4E2D{]}"),
    ],
)
def test_text_is_spelled_so_that_tex_shows_it(text: str, tex: str) -> None:
    assert tex_text(text) == tex


def test_no_command_of_a_user_reaches_tex() -> None:
    source = to_tex(read_document(hostile_document(HOSTILE["tex"]))).source
    body = source.partition(r"\begin{document}")[2]
    assert r"\input" not in body
    assert r"\def" not in body
    assert body.count(r"\end{document}") == 1


@pytest.mark.latex
@pytest.mark.slow
def test_the_sample_compiles(tmp_path: Path) -> None:
    print_document(sample_document(), tmp_path / "package.tex", allow_stale=True)
    pages = page_texts(compiled(tmp_path, "package"))
    assert len(pages) >= 5
    for number, text in enumerate(pages, 1):
        assert f"Sheet {number} of {len(pages)}" in text
        assert all(value in text for value in filter(None, TITLE.values()))
        assert "licensed engineer" in text
    whole = " ".join(pages)
    for words in ("462.4", "N.G.", "OUTSIDE RANGE", "(governs)", "inelastic", "otherwise",
                  "Live-load deflection", "girder spacing"):  # fmt: skip
        assert words in whole, words


@pytest.mark.latex
@pytest.mark.slow
def test_a_text_is_not_taken_for_the_end_of_a_length_or_a_row(tmp_path: Path) -> None:
    # "1fil" before "Less" would make "1fill"; glue looks for "plus", the end of a row for "*"
    blocks = [
        {"kind": "note", "text": "Less is more"},
        {"kind": "markdown", "text": "> plus a quotation\n\n* minus a list\n\n1. plus 2em"},
        {"kind": "table", "header": ["a", "b"], "rows": [["* star", "1"], ["[2mm] x", ",,y"]]},
    ]
    titles = [f"{word} dead load" for word in ("plus", "minus", "by")]
    sheets = [{"title": title, "blocks": blocks} for title in titles]
    print_document({"sheets": sheets}, tmp_path / "words.tex")
    text = " ".join(page_texts(compiled(tmp_path, "words")))
    shown = ("Less is more", "plus a quotation", "minus a list", "plus 2em", "* star", "[2mm] x",
             ",,y", *titles)  # fmt: skip
    for words in shown:
        assert text.count(words) >= 1, words


@pytest.mark.latex
@pytest.mark.slow
def test_without_its_figures_it_still_compiles(tmp_path: Path) -> None:
    source = to_tex(read_document(sample_document())).source
    (tmp_path / "alone.tex").write_text(source)
    text = " ".join(page_texts(compiled(tmp_path, "alone")))
    assert "is not beside this file. It shows: Section of a bridge deck" in text


@pytest.mark.latex
@pytest.mark.slow
@pytest.mark.parametrize("name", sorted(HOSTILE))
def test_hostile_text_compiles(name: str, tmp_path: Path) -> None:
    print_document(hostile_document(HOSTILE[name]), tmp_path / "h.tex")
    assert page_texts(compiled(tmp_path, "h"))


@pytest.mark.latex
def test_a_package_has_its_front_pages_and_links_in_tex(tmp_path: Path) -> None:
    package().print(tmp_path / "a.tex", seal="cover", trace=True)
    compiled(tmp_path, "a")  # twice; the page numbers of the contents settle in the third run
    pages = page_texts(compiled(tmp_path, "a"))
    first, text = pages[0], " ".join(pages)
    for words in ("Prepared by", "Scope", "8th edition", "first issue", "Seal and signature"):
        assert words in first
    for words in ("Contents", "Summary of checks", "UNSOURCED", "Nomenclature", "Used in"):
        assert words in text
    [deck] = [
        n for n, page in enumerate(pages, 1) if "girder spacing" in page and "Used in" in page
    ]
    contents = next(page for page in pages if "Contents" in page)
    assert re.search(rf"1 Deck[ .]*{deck}\b", contents)
