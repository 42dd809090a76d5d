"""Texts that try to break a form print harmlessly and visibly in all of them."""

from __future__ import annotations

import html
import re
from html.parser import HTMLParser
from typing import TYPE_CHECKING, Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stepcalc.print.html import to_html
from stepcalc.print.tex import to_tex
from stepcalc.print.typst import to_pdf, typst_files
from stepcalc.render.characters import _COVERED, harmless, printable
from stepcalc.render.document import read_document
from tests.unit.print_hostile import HOSTILE, hostile_document
from tests.unit.print_pages import ink_outside, page_count, page_texts
from tests.unit.print_sample import step, sym

if TYPE_CHECKING:
    from stepcalc.render import blocks as b

# what must be readable in the PDF, spaces apart
VISIBLE = {
    "tex": r"\input{/etc/hostname}", "html": "<script>alert(1)</script>",
    "typst": '#read("/etc/hostname")', "jinja": "{{7*7}}", "css": "display:none",
    "markdown": "<b>y</b>", "rtl": "[U+202E]reversed", "cjk": "[U+6F22][U+5B57]",
    "emoji": "[U+1F6A7]work", "control": "a[U+0000]b[U+0007]c", "combining": "Z[U+0338]",
    "long word": "W" * 30, "long text": "quitealongtitle", "empty": "",
}  # fmt: skip


@pytest.mark.parametrize("name", sorted(HOSTILE))
def test_it_stands_in_the_pdf_as_it_is(name: str) -> None:
    pdf = to_pdf(read_document(hostile_document(HOSTILE[name])))
    pages = page_texts(pdf, 12)  # of the 2,000-character word there are 160
    text = "".join(pages).replace(" ", "")
    assert text.count(VISIBLE[name]) > 5
    assert all(f"Sheet {n} of {page_count(pdf)}" in page for n, page in enumerate(pages, 1))


@pytest.mark.parametrize("name", sorted(set(HOSTILE) - {"long word"}))
def test_nothing_leaves_the_page(name: str) -> None:
    assert ink_outside(typst_files(read_document(hostile_document(HOSTILE[name])))) == []


@pytest.mark.slow
def test_a_very_long_word_does_not_leave_the_page() -> None:
    assert ink_outside(typst_files(read_document(hostile_document(HOSTILE["long word"])))) == []


class Tags(HTMLParser):
    """Collects what no printed sheet has: scripts, handlers, and addresses to fetch from."""

    def __init__(self) -> None:
        super().__init__()
        self.harmful: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if tag in ("script", "iframe", "object", "embed", "link", "base", "form"):
            self.harmful.append(tag)
        inside = "#" if tag == "a" else "data:image/"  # a link leads within the file
        for name, value in attrs:
            fetched = name in ("src", "href", "data") and not (value or "").startswith(inside)
            if name.startswith("on") or fetched:
                self.harmful.append(f"{tag} {name}={value}")


@pytest.mark.parametrize("name", sorted(HOSTILE))
def test_it_is_escaped_in_the_html(name: str) -> None:
    text = HOSTILE[name]
    page = to_html(read_document(hostile_document(text)))
    page.encode()
    own = re.sub(r"<style>.*?</style>", "", page, flags=re.DOTALL)
    tags = Tags()
    tags.feed(own)
    assert tags.harmful == []
    assert not re.search("[\u202a-\u202e\u2066-\u2069\x00-\x08\ud800-\udfff]", own)
    if name != "empty":
        shown = harmless(text.replace("\ud800", "\ufffd"))
        assert (
            html.escape(shown.strip()).replace("&#x27;", "&#39;").replace("&quot;", "&#34;") in own
        )


def test_a_template_in_a_text_is_not_run() -> None:
    for made in (to_html(read_document(hostile_document("{{ 7*7 }}-((( 7*7 )))"))),):
        assert "49" not in re.sub('base64,[^)"]*', "", made).replace("449", "")


def test_what_the_fonts_lack_is_said_on_the_first_page() -> None:
    text = page_texts(to_pdf(read_document(hostile_document("漢字"))))[0]
    assert "2 characters that the print fonts lack are shown by their Unicode number" in text


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("f'c ≥ 4 ksi", "f'c ≥ 4 ksi"),
        ("Ångström é", "Ångström é"),
        ("e\u0301", "é"),
        ("a\tb\r\nc", "a    b\nc"),
        ("\u202e", "[U+202E]"),
        ("\U0001f6a7", "[U+1F6A7]"),
    ],
)
def test_characters_without_a_glyph_are_named(text: str, shown: str) -> None:
    assert printable(text) == shown


def test_every_covered_character_prints_in_every_style() -> None:
    letters = [chr(code) for first, last in _COVERED for code in range(first, last + 1)]
    words = "".join(f"{letter} " for letter in letters)
    pieces = [words[start : start + 4_000] for start in range(0, len(words), 4_000)]
    blocks: list[dict[str, Any]] = []
    for piece in pieces:
        blocks += [{"kind": "heading", "text": piece}, {"kind": "note", "text": piece}]
        blocks += [
            {"kind": "code", "text": piece},
            {"kind": "given", "name": "g", "symbol": ["sym", "g"], "value": ["text", piece]}
            | {"description": piece},
        ]
    assert to_pdf(read_document({"sheets": [{"title": "S", "blocks": blocks}]}))


@given(st.lists(st.text(max_size=30), min_size=3, max_size=3))
@settings(max_examples=30)
def test_any_text_prints(texts: list[str]) -> None:
    one, two, three = texts
    step = {
        "kind": "step", "name": one, "symbol": ["sym", one], "result": ["qty", "1", two],
        "formula": ["mul", [["text", three], ["call", two, [["sym", three]]]]], "ref": three,
    }  # fmt: skip
    blocks = [step, {"kind": "markdown", "text": one}, {"kind": "output", "text": two}]
    document = read_document(
        {"title": {"project": three}, "sheets": [{"title": two, "blocks": blocks}]}
    )
    assert to_pdf(document)
    to_html(document).encode()
    to_tex(document).source.encode()


def wide_document() -> b.Document:
    """Return a 12-term combination, a product and a fraction that are all wider than a page."""
    terms = [["+" if k else "", ["mul", [sym(f"gamma_{k}"), sym(f"M_term{k}")]]] for k in range(12)]
    combination = ["add", terms]
    product = ["mul", [sym(f"k_{k},factor") for k in range(40)]]
    fraction = ["frac", combination, ["mul", [sym(f"c_{k},lower") for k in range(30)]]]
    steps = [
        step(f"1-{place}", f"x_{place}", wide, wide, ["num", "8"])
        for place, wide in enumerate((combination, product, fraction), 1)
    ]
    return read_document({"sheets": [{"title": "Wide formulas", "blocks": steps}]})


def test_formulas_wider_than_a_page_break_and_lose_nothing() -> None:
    document = wide_document()
    assert ink_outside(typst_files(document)) == []
    text = "".join(page_texts(to_pdf(document))).replace(" ", "").replace("\n", "")
    page = to_html(document)
    for name, words in (("39,factor", "k sub 39 factor"), ("29,lower", "c sub 29 lower")):
        assert name in text
        assert words in page
    assert page.count("<math") > 100  # each term and factor may come to stand on another line
