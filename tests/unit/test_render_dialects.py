"""Dialects: one spelling of each kind, nothing that a user wrote taken for code, plug-ins."""

from __future__ import annotations

import re
import subprocess
import tempfile
import xml.etree.ElementTree as ET
from pathlib import Path
from typing import Any

import pytest

from stepcalc.errors import LayoutError, NameTakenError, UnknownNameError
from stepcalc.render.dialects import (
    Text,
    break_at_terms,
    check_layout,
    dialect,
    dialect_names,
    math_element,
    register_dialect,
    replay,
)
from stepcalc.render.dialects.vocabulary import KINDS, MAX_DEPTH
from stepcalc.render.node_blocks import node_block
from tests.golden.formulas import formulas

HOSTILE = [
    r"\input{/etc/hostname}", r"\end{aligned}$$ \write18{ls}", "a}{b", "$x$ $$y$$", r"\\ \\",
    "{" * 20,
    "<script>alert(1)</script>", "<img src=x onerror=y>", "&amp; &lt;", '"quoted" \'single\'',
    'a] #read("/etc/hostname") [b', '#import "@preview/x:1.0.0"', '"); #panic("x"); ("',
    "// comment", "/* open", "100 % _of_ ^it^ ~ #1 & more", "new\nline\ttab",
    "\x00\x07\u202e reversed",
    "中文 emoji \N{GRINNING FACE}", "é ü ñ", "`code`", "\\", "a\\", '\\"', "]]>", "<!-- x", "--> y",
]  # fmt: skip

#: one layout of every kind
EVERY: dict[str, list[Any]] = {
    "sym": ["sym", "M_DC1"], "num": ["num", "-1,234.5"], "unit": ["unit", "kip/ft^2"],
    "qty": ["qty", "1.2", "kip/ft"], "text": ["text", "span of girder"], "op": ["op", "·"],
    "mul": ["mul", [["num", "5"], ["op", "·"], ["num", "2"], ["sym", "w"]]],
    "add": ["add", [["-", ["sym", "a"]], ["+", ["sym", "b"]], ["-", ["num", "3"]]]],
    "frac": ["frac", ["sym", "M"], ["num", "8"]], "pow": ["pow", ["sym", "f'_c"], ["num", "2"]],
    "sqrt": ["sqrt", ["sym", "x"]], "root": ["root", ["num", "3"], ["sym", "x"]],
    "group": ["group", ["sym", "x"]], "abs": ["abs", ["sym", "x"]],
    "floor": ["floor", ["sym", "x"]], "ceil": ["ceil", ["sym", "x"]],
    "call": ["call", "min", [["sym", "a"], ["sym", "b"]]],
    "rel": ["rel", ["sym", "a"], [["<", ["sym", "b"]], ["≤", ["num", "3"]], ["≠", ["num", "4"]]]],
    "and": ["and", [["sym", "a"], ["sym", "b"]]], "or": ["or", [["sym", "a"], ["sym", "b"]]],
    "not": ["not", ["group", ["sym", "a"]]],
    "cases": ["cases", [
        [["sym", "a"], ["rel", ["sym", "x"], [["<", ["num", "1"]]]], ["text", "low"]],
        [["sym", "b"], None, None],
    ]],
    "row": ["row", [["text", "with "], ["sym", "x"], ["op", "+"], ["sym", "y"]]],
    "box": ["box", ["num", "3"]], "sub": ["sub", ["sym", "x"], ["num", "1"]],
    "subsup": ["subsup", ["op", "∫"], ["num", "0"], ["sym", "L"]],
    "sum": ["sum", ["rel", ["sym", "i"], [["=", ["num", "1"]]]], ["sym", "n"], ["sym", "P_i"]],
    "accent": ["accent", "bar", ["sym", "y"]],
}  # fmt: skip


def golden_layouts() -> list[list[Any]]:
    """Return every layout of the kept formulas."""
    _, nodes = formulas()
    found = []
    for node in nodes.values():
        block = node_block(node)
        found += [block[key] for key in ("formula", "condition", "substitution", "result")
                  if block.get(key)]  # fmt: skip
    return found


def hostile_layouts() -> list[list[Any]]:
    """Return layouts with hostile text in every place that takes text."""
    found: list[list[Any]] = []
    for text in HOSTILE:
        found += [
            ["sym", text], ["text", text], ["unit", text], ["op", text], ["num", text],
            ["qty", text, text], ["call", text, [["sym", text], ["text", text]]],
            ["pow", ["group", ["frac", ["sym", text], ["text", text]]], ["num", "2"]],
            ["cases", [[["sym", "x"], None, ["text", text]]]],
        ]  # fmt: skip
    return found


def test_every_kind_of_the_vocabulary_is_tried_here() -> None:
    assert EVERY.keys() == KINDS.keys()


@pytest.mark.parametrize("name", dialect_names())
@pytest.mark.parametrize("kind", KINDS)
def test_every_dialect_spells_every_kind(name: str, kind: str) -> None:
    assert replay(EVERY[kind], dialect(name))


def test_a_layout_replayed_as_layout_is_itself() -> None:
    for layout in [*EVERY.values(), *golden_layouts()]:
        assert replay(layout, dialect("layout")) == layout


SPELLINGS = {
    "pow": (r"{f'_{c}}^{2}", "f'_c^2"),
    "add": ("-a + b - 3", "-a + b - 3"),
    "mul": (r"5 \cdot 2\,w", "5 * 2 w"),
    "call": (r"\min(a,\; b)", "min(a, b)"),
    "rel": (r"a < b \le 3 \ne 4", "a < b ≤ 3 ≠ 4"),
    "root": (r"\sqrt[{3}]{x}", "root(3, x)"),
    "floor": (r"\left\lfloor x\right\rfloor ", "floor(x)"),
    "sum": (r"\sum_{i = 1}^{n} P_{i}", "sum[i = 1 to n] P_i"),
    "box": (r"\boxed{3}", "3"),
    "accent": (r"\bar{y}", "y-bar"),
}


@pytest.mark.parametrize("kind", SPELLINGS)
def test_spellings(kind: str) -> None:
    latex, text = SPELLINGS[kind]
    assert replay(EVERY[kind], dialect("latex")) == latex
    assert replay(EVERY[kind], dialect("text")) == text


def test_the_words_of_a_formula() -> None:
    moment = ["rel", ["sym", "M_u"], [["=", ["frac", ["mul", [["sym", "w"], ["pow", ["sym", "L"],
              ["num", "2"]]]], ["num", "8"]]]]]  # fmt: skip
    assert replay(moment, dialect("speech")) == "M sub u equals w times L squared over 8"
    nested = ["frac", ["num", "1"], ["add", [["", ["num", "1"]], ["+", ["sym", "x"]]]]]
    assert replay(nested, dialect("speech")) == "the fraction 1, over 1 plus x, end fraction"
    assert replay(["qty", "1", "ft"], dialect("speech")) == "1 foot"


def test_text_brackets_what_a_fraction_bar_would_show() -> None:
    quotient = ["frac", ["frac", ["sym", "a"], ["sym", "b"]], ["mul", [["sym", "c"], ["sym", "d"]]]]
    assert replay(quotient, dialect("text")) == "(a/b)/(c d)"
    product = ["mul", [["sym", "a"], ["frac", ["sym", "b"], ["sym", "c"]], ["sym", "d"]]]
    assert replay(product, dialect("text")) == "a (b/c) d"
    factor = ["mul", [["group", ["qty", "8", "in"]],
                      ["group", ["frac", ["qty", "1", "ft"], ["qty", "12", "in"]]]]]  # fmt: skip
    assert replay(factor, dialect("text")) == "(8 in)(1 ft/12 in)"
    ratio = ["frac", ["qty", "551", "kip·ft"], ["qty", "439", "in^3"]]
    assert replay(ratio, dialect("text")) == "(551 kip-ft)/(439 in^3)"
    negative = ["add", [["", ["sym", "a"]], ["+", ["frac", ["num", "-2"], ["num", "3"]]]]]
    assert replay(negative, dialect("text")) == "a + (-2/3)"
    first = ["mul", [["frac", ["num", "-2"], ["num", "3"]], ["sym", "b"]]]
    assert replay(first, dialect("text")) == "(-2/3) b"


# what a user wrote ------------------------------------------------------------------------------

_SAFE_TEXT = re.compile(r"\\text\{[^{}\\$%#&_^~<>]*\}")
_SAFE_COMMANDS = re.compile(
    r"\\(?:backslash|text|mathrm|frac|left|right|operatorname|begin\{cases\}|end\{cases\}|displaystyle|"
    r"quad|wedge|sim|cdot|times|circ|alpha|[{}$%&#_,;|!]|le|ge|to|ldots|pm|approx|ne|infty|surd|\\)"
)


@pytest.mark.parametrize("layout", hostile_layouts(), ids=repr)
def test_hostile_text_is_inert_in_latex(layout: list[Any]) -> None:
    latex = replay(layout, dialect("latex"))
    rest = _SAFE_TEXT.sub("", latex)
    assert not re.search(r"<[a-zA-Z/!]", latex), "could be taken for a tag by a page"
    assert "\\" not in _SAFE_COMMANDS.sub("", rest), rest
    depth = 0
    for mark in re.sub(r"\\[{}\\]", "", latex):
        depth += (mark == "{") - (mark == "}")
        assert depth >= 0, latex
    assert depth == 0, latex
    assert not re.search(r"(?<!\\)[$%#&~]", latex.replace(" & ", "")), latex


@pytest.mark.parametrize("layout", hostile_layouts(), ids=repr)
def test_hostile_text_is_inert_in_mathml(layout: list[Any]) -> None:
    element = ET.fromstring(math_element(replay(layout, dialect("mathml")), alt=HOSTILE[6]))
    tags = {item.tag for item in element.iter()}
    assert tags <= {"math", "mrow", "mi", "mn", "mo", "mtext", "msup", "msub", "msubsup", "mfrac",
                    "mspace", "mtable", "mtr", "mtd"}  # fmt: skip


def test_hostile_text_is_inert_in_typst_and_shows() -> None:
    typst = pytest.importorskip("typst")
    layouts = [*hostile_layouts(), *EVERY.values(), *golden_layouts()]
    lines = [f"$ {replay(layout, dialect('typst'))} $" for layout in layouts]
    with tempfile.TemporaryDirectory() as root:
        source = "#set page(height: auto)\n" + "\n".join(lines)
        pdf = typst.compile(
            {"main.typ": source.encode()}, root=root, ignore_system_fonts=True, timestamp=0
        )
    text = _text_of(pdf)
    assert "#read" in text
    assert "hostname" in text
    assert "U+202E" in text


def _text_of(pdf: bytes) -> str:
    import io

    from pypdf import PdfReader

    return "".join(page.extract_text() for page in PdfReader(io.BytesIO(pdf)).pages)


@pytest.mark.latex
@pytest.mark.slow
def test_every_layout_compiles_with_plain_latex(tmp_path: Path) -> None:
    layouts = [*hostile_layouts(), *EVERY.values(), *golden_layouts()]
    lines = [f"\\[ {replay(layout, dialect('latex-file'))} \\]" for layout in layouts]
    head = (
        r"\documentclass{article}\usepackage[T1]{fontenc}\usepackage[utf8]{inputenc}"
        r"\usepackage{amsmath,amssymb,lmodern}\begin{document}"
    )
    (tmp_path / "all.tex").write_text(
        "\n".join([head, *lines, r"\end{document}"]), encoding="utf-8"
    )
    run = subprocess.run(
        ["pdflatex", "-no-shell-escape", "-halt-on-error", "-interaction=nonstopmode", "all.tex"],
        cwd=tmp_path,
        capture_output=True,
        text=True,
        errors="replace",
        check=False,
    )
    assert run.returncode == 0, run.stdout[-1500:]


@pytest.mark.parametrize("text", HOSTILE)
def test_text_is_one_line_without_controls(text: str) -> None:
    shown = replay(["row", [["text", text], ["sym", text], ["qty", text, text]]], dialect("text"))
    assert "\n" not in shown
    assert all(character.isprintable() for character in shown)


# the vocabulary ---------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("layout", "words"),
    [
        (None, "no layout"),
        ([], "no layout"),
        (["frac", ["sym", "a"]], "'frac' has 1 parts; 2"),
        (["nope", 1], "unknown layout kind 'nope'"),
        (["sym", 3], "where a text belongs"),
        (["mul", ["sym", "a"]], "no layout"),
        (["add", [["*", ["sym", "a"]]]], "no sign of a sum"),
        (["rel", ["sym", "a"], [["=>", ["sym", "b"]]]], "no comparison sign"),
        (["rel", ["sym", "a"], [["<"]]], "where 2 parts belong"),
        (["text", "x" * 6000], "6000 characters"),
        (["accent", "fire", ["sym", "a"]], "no accent"),
        (["sym", ["sym", "a"]], "where a text belongs"),
        (["mul", "ab"], "where a list belongs"),
        ({"kind": "sym"}, "no layout"),
    ],
)
def test_what_is_no_layout_is_refused_in_words(layout: Any, words: str) -> None:
    with pytest.raises(LayoutError, match=re.escape(words)):
        check_layout(layout)
    with pytest.raises(LayoutError):
        replay(layout, dialect("text"))


def test_a_layout_is_neither_endlessly_deep_nor_long() -> None:
    deep: list[Any] = ["sym", "x"]
    for _ in range(MAX_DEPTH):
        deep = ["group", deep]
    with pytest.raises(LayoutError, match="deep"):
        check_layout(deep)
    with pytest.raises(LayoutError, match="parts"):
        check_layout(["row", [["sym", "x"]] * 20_001])


def test_a_sum_breaks_before_its_signs() -> None:
    pieces = break_at_terms(EVERY["add"])
    assert [replay(piece, dialect("text")) for piece in pieces] == ["-a", "+ b", "- 3"]
    assert break_at_terms(EVERY["frac"]) == [EVERY["frac"]]


# plug-ins ---------------------------------------------------------------------------------------


class Shouted(Text):
    """A dialect of somebody else."""

    name = "shouted"

    def sym(self, spelling: str) -> str:
        return super().sym(spelling.upper())


class Imposter(Text):
    """Another class of the same name."""

    name = "shouted"


def test_a_dialect_can_be_added_and_is_used() -> None:
    register_dialect(Shouted())
    register_dialect(Shouted())
    assert replay(EVERY["frac"], dialect("shouted")) == "M/8"
    assert dialect("shouted").sym("phi_f") == "PHI_F"
    assert "shouted" in dialect_names()
    with pytest.raises(NameTakenError, match="'shouted' exists already"):
        register_dialect(Imposter())


def test_a_name_that_no_dialect_has_is_answered_with_those_that_exist() -> None:
    with pytest.raises(UnknownNameError, match=r"latex.*typst"):
        dialect("troff")
