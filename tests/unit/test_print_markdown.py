"""Markdown cells as structured text: formulas are read, everything else is shown, nothing runs."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from stepcalc.print.markdown import read_markdown
from stepcalc.render.dialects import Text, replay

if TYPE_CHECKING:
    from stepcalc.print.rich_text import Inline, Rich

TEXT = Text()


def read(text: str) -> tuple[tuple[Rich, ...], list[str]]:
    notices: list[str] = []
    return read_markdown(text, notices.append), notices


def words(items: tuple[Inline, ...]) -> str:
    found = ""
    for item in items:
        if item.kind == "math":
            found += f"<{replay(item.layout, TEXT)}>"
        elif item.kind == "break":
            found += "/"
        else:
            found += item.text + words(item.items)
    return found


def test_paragraphs_and_formulas() -> None:
    blocks, notices = read("The load $w = q\\,s$ acts\non **the** *beam*.  \nIt is `uniform`.")
    assert [block.kind for block in blocks] == ["paragraph"]
    assert words(blocks[0].items) == "The load <w = q s> acts on the beam./It is uniform."
    assert notices == []


def test_a_displayed_formula_is_a_line_for_each_of_its_lines() -> None:
    blocks, _ = read("$$\n\\begin{aligned} M &= \\frac{w L^2}{8} \\\\ V &= w L \\end{aligned}\n$$")
    assert [block.kind for block in blocks] == ["math", "math"]
    spelled = [replay(block.line.layout, TEXT) for block in blocks if block.line is not None]
    assert [line.replace(" ", "") for line in spelled] == ["M=(wL^2)/8", "V=wL"]


@pytest.mark.parametrize("text", ["$\\unknowncommand{x}$", "$$\n\\frac{a\n$$"])
def test_a_formula_that_cannot_be_read_prints_as_its_source_and_says_so(text: str) -> None:
    blocks, notices = read(text)
    shown = blocks[0].text or words(blocks[0].items)
    assert shown.startswith("$ \\")
    assert len(notices) == 1
    assert notices[0].startswith("a formula prints as its source, \\")


def test_lists_nest_and_count() -> None:
    [block], _ = read("3. first\n4. second\n   * inner\n")
    assert (block.kind, block.ordered, block.start, len(block.children)) == ("list", True, 3, 2)
    inner = block.children[1][1]
    assert (inner.kind, inner.ordered) == ("list", False)


def test_tables_keep_their_alignment() -> None:
    [block], _ = read("| a | b | c |\n|:--|--:|:-:|\n| 1 | $x$ | *y* |\n")
    assert block.align == ("left", "right", "center")
    assert [words(cell) for cell in block.rows[0]] == ["1", "<x>", "y"]
    assert [words(cell) for cell in block.header] == ["a", "b", "c"]


def test_headings_quotes_code_and_rules() -> None:
    blocks, _ = read("## Loads\n\n> said\n\n```python\nx = 1\n```\n\n---\n")
    assert [block.kind for block in blocks] == ["heading", "quote", "code", "rule"]
    assert (blocks[0].level, blocks[2].text) == (2, "x = 1")
    assert words(blocks[1].children[0][0].items) == "said"


def test_html_is_shown_as_the_characters_it_is_made_of() -> None:
    blocks, _ = read("a <b onclick=x>bold</b>\n\n<div>block</div>\n")
    assert words(blocks[0].items) == "a <b onclick=x>bold</b>"
    assert words(blocks[1].items) == "<div>block</div>"


def test_links_and_pictures_are_named() -> None:
    blocks, notices = read("[a page](https://example.org/x) ![a beam](beam.png) ~~gone~~")
    assert words(blocks[0].items) == "a page [https://example.org/x] [picture: a beam] gone"
    assert notices == ["a picture linked from text is named, not shown"]


def test_deep_nesting_ends() -> None:
    blocks, _ = read("> " * 300 + "deep")
    assert blocks
    read("*" * 400 + "x" + "*" * 400)
    read("[" * 300 + "x")
