"""The tags of a PDF, read by an engine that is not ours: what PDF/UA-1 asks of the structure.

Source: ISO 14289-1:2014 (PDF/UA-1), clauses 7.1 to 7.5, 7.7 and 7.18 (from memory); the matching
checks of the Matterhorn Protocol 1.1 (from memory). No program here stands for a validator: it is
a structural test beside the one that Typst makes while it writes.
"""

from __future__ import annotations

import io
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

import pikepdf
import pytest

from stepcalc.errors import PrintError
from stepcalc.print.options import Options
from stepcalc.print.typst import compile_typst, to_pdf
from stepcalc.render.document import read_document
from tests.unit.front_package import package
from tests.unit.print_sample import sample_document

_SHOWS = frozenset(
    ("Tj", "TJ", "'", '"', "S", "s", "f", "F", "f*", "B", "b", "B*", "b*", "Do", "sh")
)


@pytest.fixture(scope="module", params=["package", "sample"])
def pdf(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> pikepdf.Pdf:
    if request.param == "package":
        target = tmp_path_factory.mktemp("tags") / "a.pdf"
        package().print(target, seal="every sheet", trace=True)
        return pikepdf.open(target)
    whole = Options(cover=True, contents=True, front="all", seal="cover")
    return pikepdf.open(io.BytesIO(to_pdf(read_document(sample_document()), whole)))


def elements(node: pikepdf.Object) -> Iterator[pikepdf.Object]:
    """Yield the elements of the structure tree in reading order."""
    if isinstance(node, pikepdf.Array):
        for kid in node:
            yield from elements(kid)
    elif isinstance(node, pikepdf.Dictionary) and "/S" in node:
        yield node
        yield from elements(node.get("/K", pikepdf.Array()))


def tagged(pdf: pikepdf.Pdf) -> Iterator[pikepdf.Object]:
    return elements(pdf.Root.StructTreeRoot.K)


def test_the_document_says_that_it_is_tagged_its_title_and_its_language(pdf: pikepdf.Pdf) -> None:
    assert pdf.Root.MarkInfo.Marked
    assert not pdf.Root.MarkInfo.get("/Suspects", False)
    assert str(pdf.Root.Lang) == "en"
    assert pdf.Root.ViewerPreferences.DisplayDocTitle
    with pdf.open_metadata() as metadata:
        assert metadata["dc:title"].startswith("Mill Lane over Otter Creek")
        assert metadata["pdfuaid:part"] == "1"
        assert metadata["pdfaid:part"] == "3"
        assert metadata["pdfaid:conformance"] == "A"


def test_formulas_and_figures_have_words_in_their_place(pdf: pikepdf.Pdf) -> None:
    found = Counter(str(element.S) for element in tagged(pdf))
    assert found["/Formula"] > 20
    for element in tagged(pdf):
        if str(element.S) in ("/Formula", "/Figure"):
            assert str(element.get("/Alt", "")).strip(), element.S


def test_headings_leave_out_no_level(pdf: pikepdf.Pdf) -> None:
    last = 0
    for element in tagged(pdf):
        kind = str(element.S)
        if kind[:2] == "/H" and kind[2:].isdigit():
            assert int(kind[2:]) <= last + 1
            last = int(kind[2:])
    assert last


def test_tables_have_heads_with_a_scope_and_rows_of_one_length(pdf: pikepdf.Pdf) -> None:
    tables = [element for element in tagged(pdf) if str(element.S) == "/Table"]
    assert len(tables) > 4
    for table in tables:
        heads = [cell for cell in elements(table.K) if str(cell.S) == "/TH"]
        assert heads
        assert all("/Scope" in _attributes(cell) for cell in heads)
        rows = [row for row in elements(table.K) if str(row.S) == "/TR"]
        assert len({_cells(row) for row in rows}) == 1


def _attributes(element: pikepdf.Object) -> set[str]:
    owned = element.get("/A", pikepdf.Array())
    several = owned if isinstance(owned, pikepdf.Array) else [owned]
    return {str(key) for item in several if isinstance(item, pikepdf.Dictionary) for key in item}


def _cells(row: pikepdf.Object) -> int:
    return sum(1 for cell in elements(row.K) if str(cell.S) in ("/TH", "/TD"))


def test_lists_and_contents_are_built_of_their_own_parts(pdf: pikepdf.Pdf) -> None:
    wanted = {
        "/L": {"/LI"},
        "/LI": {"/Lbl", "/LBody"},
        "/TOC": {"/TOCI", "/TOC"},
        "/TR": {"/TH", "/TD"},
    }
    seen = set()
    for element in tagged(pdf):
        kind = str(element.S)
        if kind in wanted:
            seen.add(kind)
            kids = element.get("/K", pikepdf.Array())
            several = kids if isinstance(kids, pikepdf.Array) else [kids]
            names = {
                str(kid.S) for kid in several if isinstance(kid, pikepdf.Dictionary) if "/S" in kid
            }
            assert names <= wanted[kind], kind
    assert {"/TOC", "/TR"} <= seen


def test_all_that_is_drawn_is_tagged_or_marked_as_no_content(pdf: pikepdf.Pdf) -> None:
    for number, page in enumerate(pdf.pages, 1):
        depth = 0
        for instruction in pikepdf.parse_content_stream(page):
            operands, name = instruction.operands, str(instruction.operator)
            if name in ("BDC", "BMC"):
                depth += 1
                if name == "BDC" and str(operands[0]) != "/Artifact":
                    assert "/MCID" in operands[1] or str(operands[0]) == "/Span"
            elif name == "EMC":
                depth -= 1
            elif name in _SHOWS:
                assert depth > 0, (number, name)
        assert depth == 0


def test_links_say_where_they_lead_and_belong_to_the_structure(pdf: pikepdf.Pdf) -> None:
    links = [note for page in pdf.pages for note in page.get("/Annots", [])]
    for link in links:
        assert str(link.Contents).strip()
        assert "/StructParent" in link
    assert all(str(page.get("/Tabs")) == "/S" for page in pdf.pages if "/Annots" in page)
    assert any(str(element.S) == "/Link" for element in tagged(pdf)) == bool(links)


def test_a_formula_without_words_is_refused() -> None:
    source = b"#set document(title: [x], date: none)\n$ a + b $"
    with pytest.raises(PrintError, match="alt"):
        compile_typst({"main.typ": source})


def test_poppler_finds_nothing_to_complain_of(tmp_path: Path) -> None:
    raw = package().print(tmp_path / "a.pdf").read_bytes()
    assert b"/Suspects" not in raw  # what Poppler calls an error of syntax; see compile_typst
    assert pikepdf.open(io.BytesIO(raw)).check_pdf_syntax() == []
