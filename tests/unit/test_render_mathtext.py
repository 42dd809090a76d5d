"""LaTeX math in notes: what is read, what is refused by name, and that nothing gets through."""

from __future__ import annotations

import contextlib
import time
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stepcalc.errors import MathTextError
from stepcalc.render.dialects import check_layout, dialect, dialect_names, replay
from stepcalc.render.mathtext import parse_math, parse_math_lines
from stepcalc.render.mathtext_tokens import MAX_SOURCE
from tests.measure import Measure
from tests.reader import read_latex

READ: dict[str, list[Any]] = {
    r"M_u": ["sym", "M_u"],
    r"M_{DC1}": ["sym", "M_DC1"],
    r"M_\mathrm{LL+IM}": ["sym", "M_LL+IM"],
    r"S_{x,req}": ["sym", "S_x,req"],
    r"f'_c": ["sym", "f'_c"],
    r"f_c'": ["sym", "f'_c"],
    r"\gamma_{DC}": ["sym", "gamma_DC"],
    r"\varphi_f": ["sym", "phi_f"],
    r"1{,}234.5": ["num", "1,234.5"],
    r"375\,\mathrm{kip\text{-}ft}": ["qty", "375", "kip-ft"],
    r"x^23": ["row", [["pow", ["sym", "x"], ["num", "2"]], ["num", "3"]]],
    r"x_1^2": ["pow", ["sym", "x_1"], ["num", "2"]],
    r"\bar{y}_b": ["sub", ["accent", "bar", ["sym", "y"]], ["sym", "b"]],
    r"\frac12": ["frac", ["num", "1"], ["num", "2"]],
    r"\sqrt[3]{x}": ["root", ["num", "3"], ["sym", "x"]],
    r"a \le b < c": ["rel", ["sym", "a"], [["≤", ["sym", "b"]], ["<", ["sym", "c"]]]],
    r"-a + b - c": ["add", [["-", ["sym", "a"]], ["+", ["sym", "b"]], ["-", ["sym", "c"]]]],
    r"(a+b)": ["group", ["add", [["", ["sym", "a"]], ["+", ["sym", "b"]]]]],
    r"\left|x\right|": ["abs", ["sym", "x"]],
    r"\left\lfloor x \right\rfloor": ["floor", ["sym", "x"]],
    r"\max(a, b)": ["call", "max", [["sym", "a"], ["sym", "b"]]],
    r"\boxed{x}": ["box", ["sym", "x"]],
    r"\text{span } L": ["row", [["text", "span "], ["sym", "L"]]],
    r"\text{50\% of \_x}": ["text", "50% of _x"],
    r"30^\circ": ["row", [["num", "30"], ["op", "°"]]],
    r"\sum_{i=1}^{n} P_i": [
        "sum", ["rel", ["sym", "i"], [["=", ["num", "1"]]]], ["sym", "n"], ["sym", "P_i"],
    ],
    r"\int_0^L": ["subsup", ["op", "∫"], ["num", "0"], ["sym", "L"]],
    r"\begin{cases} 1 & \text{if } x < 2 \\ 0 & \text{otherwise} \end{cases}": [
        "cases",
        [
            [["num", "1"], ["rel", ["sym", "x"], [["<", ["num", "2"]]]], None],
            [["num", "0"], None, None],
        ],
    ],
    "": ["row", []],
}  # fmt: skip

REFUSED = {
    r"\foo x": r"\\foo",
    r"\input{x}": r"\\input",
    r"\def\x{y}": r"\\def",
    r"\write18{ls}": r"\\write",
    r"\text{\input{x}}": r"\\input inside words",
    r"x_1_2": "two subscripts",
    r"x^1^2": "two exponents",
    r"{a": "not closed",
    r"a}": "without an opening one",
    r"\text{a": "not closed",
    r"\text": "without braces",
    r"\frac{a}": "ends where a part of it is missing",
    r"\left( a": r"\\left without",
    r"\left< a \right>": "no bracket",
    r"\begin{tikzpicture}x\end{tikzpicture}": "environment 'tikzpicture'",
    r"\begin{cases} 1": "not closed by",
    r"\end{cases}": r"\\end\{cases\} without",
    "{" * 40 + "x" + "}" * 40: "nested more than",
    "x" * (MAX_SOURCE + 1): "characters",
}  # fmt: skip


@pytest.mark.parametrize(("source", "layout"), READ.items())
def test_what_is_read(source: str, layout: list[Any]) -> None:
    assert parse_math(source) == layout
    check_layout(parse_math(source))


@pytest.mark.parametrize(("source", "words"), REFUSED.items(), ids=lambda text: str(text)[:30])
def test_what_is_refused_is_named(source: str, words: str) -> None:
    with pytest.raises(MathTextError, match=words):
        parse_math(source)


def test_lines_are_read_one_by_one() -> None:
    source = r"\begin{aligned} M &= w L^2/8 \\ &= 375\,\mathrm{kip\text{-}ft} \end{aligned}"
    first, second = parse_math_lines(source)
    assert replay(first, dialect("text")) == "M = w L^2 / 8"
    assert replay(second, dialect("text")) == "= 375 kip-ft"
    assert replay(parse_math(source), dialect("text")) == "M = w L^2 / 8 = 375 kip-ft"


def test_what_is_read_has_its_value_when_it_is_printed_again() -> None:
    source = r"\frac{5 w L^4}{384 E I} + \sqrt{1 + \left(\frac{w}{L}\right)^2} - (w - L)"
    names = {name: Measure(value, value) for name, value in
             {"w": 1.5, "L": 3.0, "E": 7.0, "I": 0.25}.items()}  # fmt: skip
    printed = replay(parse_math(source), dialect("latex"))
    expected = 5 * 1.5 * 81 / (384 * 7 * 0.25) + (1 + 0.25) ** 0.5 + 1.5
    assert read_latex(printed, names).low == pytest.approx(expected, rel=1e-12)


_PIECES = [*r"ab1+-=_^'{}()[]&\,. <>$%#~", r"\frac", r"\left", r"\right", r"\text", r"\sum",
           r"\sqrt", r"\begin", r"\end", "{cases}", "{aligned}", r"\\", "é", "\n"]  # fmt: skip


@given(st.lists(st.sampled_from(_PIECES), max_size=40))
def test_any_text_is_either_read_or_refused(pieces: list[str]) -> None:
    source = "".join(pieces)
    try:
        layout = parse_math(source)
    except MathTextError:
        return
    check_layout(layout)
    for name in dialect_names():
        replay(layout, dialect(name))


@pytest.mark.parametrize(
    "source",
    ["(" * 2000, "(" * 1000 + ")" * 1000, "{" * 2000, r"\frac" * 800, "x^" * 2000, "x_{" * 900,
     r"\left(" * 600, "a," * 2000, r"\min(" * 700, "'" * 4000, "1" * 4000],
)  # fmt: skip
def test_long_input_takes_no_long_time(source: str) -> None:
    start = time.perf_counter()
    with contextlib.suppress(MathTextError):
        parse_math(source)
    assert time.perf_counter() - start < 2.0
