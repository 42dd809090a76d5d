"""Where formulas may break, and the bound on their width against the typesetter's own measure."""

from __future__ import annotations

import json
import random
import tempfile
from typing import Any

import pytest
import typst

from stepcalc.print.lines import LONG_PIECE, TYPST, Line, cell_rows, equation, finest, line
from stepcalc.print.widths import breakable, width, words_width
from stepcalc.render.dialects import Text, replay
from tests.unit.print_sample import add, frac, group, mul, num, power, qty, sym

TEXT = Text()
SYMBOLS = ["M_u", "w", "L", "f'_c", "gamma_DC1", "M_LL+IM", "Delta", "sigma_x,req", "W", "phi_f",
           "MMWW", "hello_world", "lambda_pf", "m", "中"]  # fmt: skip
UNITS = ["kip/ft", "kip*ft", "inch^4", "lb/ft^3", "ksi", "ft", "mm", "1/ft", "odd unit"]
NUMBERS = ["1", "-2", "1,234.5", "0.0023", "1.2e-5", "-1,234.5", "8"]
LEAVES = ("sym", "num", "qty", "unit", "text")
BRANCHES = (*LEAVES[:3], "mul", "add", "frac", "pow", "sqrt", "root", "group", "abs", "floor",
            "ceil", "cases", "sum", "call", "rel", "and", "or", "not", "row", "box", "sub",
            "subsup", "accent", "op")  # fmt: skip


def random_layout(dice: random.Random, depth: int) -> list[Any]:
    kind = dice.choice(LEAVES if depth <= 0 else BRANCHES)

    def inner() -> list[Any]:
        return random_layout(dice, depth - 1)

    def several(most: int) -> list[Any]:
        return [inner() for _ in range(dice.randint(1, most))]

    parts: dict[str, Any] = {
        "sym": lambda: [dice.choice(SYMBOLS)], "num": lambda: [dice.choice(NUMBERS)],
        "qty": lambda: [dice.choice(NUMBERS), dice.choice(UNITS)],
        "unit": lambda: [dice.choice(UNITS)],
        "text": lambda: [dice.choice(["if", "some WIDE text", "x", "iiii", "MMMM"])],
        "op": lambda: [dice.choice(["·", "=", "+", " ", "  ", "≤", "→"])],
        "add": lambda: [[[dice.choice("+-") if i else "", x] for i, x in enumerate(several(4))]],
        "rel": lambda: [inner(), [[dice.choice("<≤=≥>≠≈"), x] for x in several(2)]],
        "call": lambda: [dice.choice(["min", "max", "sin", "interpolate"]), several(3)],
        "accent": lambda: [dice.choice(["bar", "hat", "vec"]), inner()],
        "subsup": lambda: [inner(), inner(), inner()],
        "sum": lambda: [dice.choice([None, inner()]), dice.choice([None, inner()]), inner()],
        "cases": lambda: [
            [[x, dice.choice([None, inner()]), dice.choice([None, inner()])] for x in several(3)]
        ],
    }  # fmt: skip
    if kind in parts:
        return [kind, *parts[kind]()]
    if kind in ("mul", "and", "or", "row"):
        return [kind, several(4)]
    if kind in ("frac", "pow", "root", "sub"):
        return [kind, inner(), inner()]
    return [kind, inner()]


def test_the_bound_is_never_below_the_measured_width() -> None:
    dice = random.Random(5)  # the same formulas every time
    layouts = [random_layout(dice, dice.choice([1, 2, 3, 4])) for _ in range(400)]
    fonts = (
        '("New Computer Modern Math","New Computer Modern","Libertinus Serif","DejaVu Sans Mono")'
    )
    measured = ", ".join(
        f"measure(math.equation(math.display(${replay(t, TYPST)}$.body))).width.pt()"
        for t in layouts
    )
    source = (
        '#set page("us-letter")\n#set text(font: "New Computer Modern", size: 10pt)\n'
        f"#show math.equation: set text(font: {fonts})\n"
        f"#context [#metadata(({measured})) <w>]"
    )
    with tempfile.TemporaryDirectory() as empty:
        query: Any = typst.query
        found = query(
            {"main.typ": source.encode()}, "<w>", field="value", one=True, root=empty,
            ignore_system_fonts=True,
        )  # fmt: skip
    ratios = []
    for layout, points in zip(layouts, json.loads(found), strict=True):
        ems = points / 10.0
        assert width(layout) >= ems, layout
        ratios.append(width(layout) / ems if ems else 1.0)
    assert sorted(ratios)[len(ratios) // 2] < 1.5  # a bound twice too wide would help nobody


def shown(made: Line) -> list[str]:
    return [str(replay(piece.layout, TEXT)) for piece in made.pieces]


def test_a_short_line_is_one_piece() -> None:
    made = equation(sym("M"), frac(mul(sym("w"), power(sym("L"), "2")), num("8")))
    assert shown(made) == ["M = w L^2/8"]
    assert made.alt.startswith("M equals")
    assert made.width < LONG_PIECE


def test_a_long_line_breaks_at_relations_and_signs() -> None:
    terms = [mul(num(f"{k}.25"), sym(f"M_{k}"), sym(f"eta_{k}")) for k in range(1, 9)]
    made = equation(sym("M_u"), add(*terms, signs="+-+-+-+"))
    pieces = shown(made)
    assert pieces[0] == "M_u"
    assert pieces[1] == "= 1.25 M_1 eta_1"
    assert pieces[2] == "+ 2.25 M_2 eta_2"
    assert pieces[3].startswith("- 3.25")
    assert len(pieces) == 9


def test_a_wide_fraction_can_be_spelled_on_one_level() -> None:
    over = add(*(mul(sym(f"P_{k}"), group(qty(f"{k}00.5", "kip*ft"))) for k in range(1, 8)))
    made = line(frac(over, sym("L")), "=")
    parts = [str(replay(part.layout, TEXT)) for part in made.pieces[0].parts]
    assert parts[0].replace(" ", "").startswith("=(P_1")
    assert parts[-1].replace(" ", "") == "/(L)"
    assert "".join(parts).count("P_") == 7


def test_wide_cases_begin_each_branch_on_a_line() -> None:
    holds = ["rel", sym("lambda_f"), [["≤", sym("lambda_pf,longest")]]]
    rows = [[frac(sym("F_yr,compact"), num(str(k))), holds, ["text", "words " * 4]] for k in (1, 2)]
    made = equation(sym("F"), ["cases", [*rows, [sym("c"), None, None]]])
    parts = [part for piece in made.pieces for part in piece.parts]
    assert sum(part.anew for part in parts) == 3
    assert "otherwise" in str(replay(parts[-1].layout, TEXT))


def test_a_label_longer_than_the_room_is_cut_at_its_spaces_and_keeps_its_words() -> None:
    words = "beyond the range: the greater of equations and lever rule, no verdict"
    branch = [sym("g"), ["rel", sym("S"), [["≤", qty("16", "ft")]]], ["text", words]]
    (row,) = cell_rows(["cases", [branch]], 20.0)
    assert all(width(part) <= 20.0 for part in row)
    said = " ".join(" ".join(str(replay(part, TEXT)) for part in row).split())
    assert said.endswith(f"({words})")


@pytest.mark.parametrize("text", ["constructibility", "LRFD 6.10.8.2.2", "4.6.2.2.2b-1", ""])
def test_ordinary_words_are_left_alone(text: str) -> None:
    assert breakable(text, 9.0) == text


def test_a_long_word_may_break_anywhere() -> None:
    broken = breakable("W" * 100, 10.0)
    assert broken.replace("\u200b", "") == "W" * 100
    assert max(words_width(piece) for piece in broken.split("\u200b")) <= 10.0


def test_words_in_a_formula_are_cut_at_spaces() -> None:
    words = "a long remark " * 20
    parts = [part[1] for part in finest(["text", words], 10.0)]
    assert "".join(parts) == words
    assert all(len(part) <= 11 for part in parts)


def test_every_random_formula_falls_into_parts_that_hold_all_of_it() -> None:
    dice = random.Random(11)
    for _ in range(300):
        layout = random_layout(dice, 4)
        parts = finest(layout, 6.0)
        held = sorted(_leaves(parts))
        assert [leaf for leaf in sorted(_leaves([layout])) if leaf not in held] == []


def _leaves(layouts: Any) -> list[str]:
    """Return the numbers and symbols in layouts."""
    if not isinstance(layouts, list) or not layouts:
        return []
    if layouts[0] in ("sym", "num", "qty", "unit"):
        return [str(layouts[1])]
    return [leaf for part in layouts for leaf in _leaves(part)]
