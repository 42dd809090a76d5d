"""Where the glyphs stand: nothing runs off a sheet, words stay legible, rows and steps together."""

from __future__ import annotations

import re
from collections import Counter
from pathlib import Path
from typing import Any

import pytest

from stepcalc.print.options import Options
from stepcalc.print.typst import to_pdf
from stepcalc.render.document import read_document
from tests.unit.front_package import package
from tests.unit.print_glyphs import glyphs, page_sizes
from tests.unit.print_hostile import HOSTILE, hostile_document
from tests.unit.print_pages import page_texts
from tests.unit.print_sample import TITLE, add, frac, group, heading, mul, qty, step, sym

MM = 72 / 25.4
SIDE, EDGE = 17 * MM - 1.0, 10 * MM
WHOLE: dict[str, Any] = {"cover": True, "contents": True, "front": "all"}
LEAST_WORDS = 8.0
LEAST_SCRIPT = 5.5  # a subscript in a remark of 8.5 pt: the math face sets it at 70 %


def combination(terms: int) -> dict[str, Any]:
    """Return a load combination of so many terms, such as nobody writes on one line."""
    formula = add(*(mul(sym(f"gamma_{k}"), sym(f"M_LL{k}")) for k in range(terms)))
    numbers = add(
        *(mul(group(qty("1.75", "")), group(qty(f"1,{k}62.4", "kip*ft"))) for k in range(terms))
    )
    return step("1-1", "M_u", formula, numbers, qty("12,345.6", "kip*ft"), ref="LRFD 3.4.1-1",
                description="factored moment", boxed=True)  # fmt: skip


def wide_branches() -> dict[str, Any]:
    """Return cases whose conditions are wider than the work zone."""
    between = ["rel", qty("3.5", "ft"), [["≤", sym("S")], ["≤", qty("16", "ft")]]]
    many = ["and", [between] * 7]
    formula = ["cases", [
        [sym("g_1"), ["not", group(many)], ["text", "outside the range of the equations"]],
        [frac(add(*(sym(f"a_{k}") for k in range(30))), sym("b")), many, ["text", "within"]],
        [sym("g_2"), None, None],
    ]]  # fmt: skip
    return step("1-2", "g", formula, sym("g_1"), qty("0.65", ""), condition=["not", group(many)])


def wide_table(rows: int, columns: int = 8) -> dict[str, Any]:
    header = ["Check", "Where", "Reference", "Demand", "Capacity", "D/C", "Verdict", "Remark"]
    row = ["Flexure", "greatest moment", "LRFD 6.10.7.1.1-1", "1,633 kip-ft", "2,329 kip-ft",
           "0.701", "OK", "composite section in positive flexure"]  # fmt: skip
    return {"kind": "table", "header": header[:columns], "caption": "Demand and capacity",
            "rows": [[f"row{k}x", *row[1:columns]] for k in range(rows)]}  # fmt: skip


def stress() -> dict[str, Any]:
    deep: Any = sym("x")
    for k in range(12):
        deep = frac(add(deep, sym(f"b_{k}")), add(sym(f"c_{k}"), qty("1.234", "kip")))
    blocks = [
        heading("1", "A heading of many words " * 8), combination(12), combination(40),
        wide_branches(), wide_table(45),
        step("1-3", "x_long_name_of_a_symbol", deep, deep, qty("1", "kip"), ref="clause " * 30),
        {"kind": "check", "id": "1-4", "name": "Flexure " * 12, "location": "span " * 20,
         "formula": ["rel", combination(9)["formula"], [["≤", combination(9)["formula"]]]],
         "ratio": "0.9996", "verdict": "OK", "ref": "LRFD 6.10.7.1.1"},
    ]  # fmt: skip
    uses = {"1-2": ["1-1"], "1-3": ["1-1", "1-2"], "1-4": ["1-1", "1-2", "1-3"]}
    title = TITLE | {"subject": "a subject of many words " * 12}
    return {"title": title, "sheets": [{"title": "Stress", "blocks": blocks, "uses": uses}]}


def outside(pdf: bytes) -> list[tuple[int, str]]:
    """Return page and glyph of everything that stands in a margin."""
    sizes = page_sizes(pdf)
    found = []
    for glyph in glyphs(pdf):
        width, height = sizes[glyph.page - 1]
        across = SIDE <= glyph.left and glyph.right <= width - SIDE
        if not (across and EDGE <= glyph.bottom and glyph.top <= height - EDGE):
            found.append((glyph.page, glyph.text))
    return found


@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_no_glyph_of_the_stress_document_leaves_the_margins(paper: str) -> None:
    pdf = to_pdf(read_document(stress()), Options(paper, **WHOLE))
    assert outside(pdf) == []


@pytest.mark.parametrize("name", HOSTILE)
def test_nothing_hostile_leaves_the_front_pages(name: str) -> None:
    text = HOSTILE[name]
    data = hostile_document(text)
    data |= {"scope": text, "editions": {text[:30] or "x": text}, "revisions": [
        {"revision": text[:60], "date": text[:60], "by": text, "description": text}]}  # fmt: skip
    pdf = to_pdf(read_document(data), Options(**WHOLE, seal="every sheet", trace=True))
    assert outside(pdf) == []


@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_words_are_no_smaller_than_eight_points(paper: str, tmp_path: Path) -> None:
    target = tmp_path / "a.pdf"
    package().print(target, paper=paper, seal="every sheet", trace=True)
    printed = [target.read_bytes(), to_pdf(read_document(stress()), Options(paper, **WHOLE))]
    for pdf in printed:
        small = Counter(
            (glyph.font, round(glyph.size, 1))
            for glyph in glyphs(pdf)
            if glyph.size < (LEAST_SCRIPT if "Math" in glyph.font else LEAST_WORDS - 0.01)
        )
        assert not small


def test_the_glyph_test_can_fail() -> None:
    from stepcalc.print.typst import compile_typst

    source = b'#set page("us-letter", margin: 5mm)\n#set text(size: 5pt)\nfar out and small'
    pdf = compile_typst({"main.typ": source}, standards=())
    assert outside(pdf)
    assert all(glyph.size < LEAST_WORDS for glyph in glyphs(pdf))


@pytest.mark.parametrize("filler", range(0, 30, 3))
def test_no_row_of_a_table_is_left_alone(filler: int) -> None:
    """The table slides over the foot of the page with the lines above it."""
    blocks: list[dict[str, Any]] = [
        step(f"1-{k}", f"M_{k}", sym("a"), sym("b"), qty("1", "kip")) for k in range(filler)
    ]
    blocks += [heading("2", "Head of the table"), wide_table(14, 5)]
    data = {"title": TITLE, "sheets": [{"title": "S", "blocks": blocks}]}
    pages = page_texts(to_pdf(read_document(data)))
    rows = [len(re.findall(r"row\d+x", page)) for page in pages]
    assert sum(rows) == 14
    assert 1 not in rows
    first = next(place for place, count in enumerate(rows) if count)
    assert "Head of the table" in pages[first]
    for page, count in zip(pages, rows, strict=True):
        assert ("Check Where" in page) == bool(count)


def test_a_cell_that_fits_no_page_still_prints() -> None:
    rows = [["a", "words " * 900]] * 3
    table = {"kind": "table", "header": ["x", "y"], "rows": rows, "caption": ""}
    data = {"title": TITLE, "sheets": [{"title": "S", "blocks": [table]}]}
    pdf = to_pdf(read_document(data))
    assert sum(text.count("words") for text in page_texts(pdf)) == 2700
    assert outside(pdf) == []
