"""What is printed says what is computed: formulas and substitutions read back by another reader."""

from __future__ import annotations

import re
from collections.abc import Callable
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from stepcalc import Sheet, StepcalcError, cases
from stepcalc.render.conversions import with_factors
from stepcalc.render.dialects import Latex, Text
from stepcalc.render.sheet_values import SheetValues
from stepcalc.render.step_lines import step_latex, step_text
from stepcalc.render.walker import Walker
from stepcalc.units.info import read_unit
from tests.formulas import Maker, formulas, sheets
from tests.measure import Measure, NoBoundsError, number, separate
from tests.reader import exact, read_latex, read_text

Reads = Callable[..., Measure]

LATEX, TEXT = Walker(Latex()), Walker(Text())
NOTATIONS = pytest.mark.parametrize(
    ("walker", "read"), [(TEXT, read_text), (LATEX, read_latex)], ids=["text", "latex"]
)
UNITS = [
    "ft", "inch", "kip", "lb", "kip*ft", "kip*inch", "ksi", "psf", "klf", "plf", "pcf",
    "inch**2", "ft**2", "inch**4", "ft**4",
]  # fmt: skip

many = settings(
    max_examples=150, suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much]
)


def names_of(sheet: Sheet, *, latex: bool) -> dict[str, Measure]:
    """Return the value of every given by the symbol that is printed."""
    found = {}
    for node in sheet.givens:
        base, _, sub = node.symbol.partition("_")
        name = node.symbol if latex or "+" not in sub else f"{base}_{{{sub}}}"
        powers = zip(("in", "kip", "s"), map(Fraction, node.dim.exponents), strict=False)
        dim = tuple((kind, power) for kind, power in powers if power)
        found[name] = Measure(node.base, node.base, dim)
    return found


def stepped(sheet: Sheet, formula: Any, unit: str | None, name: str = "result") -> Any:
    """Return the formula as a step with a finite value, or reject the example."""
    if unit is not None:
        assume(read_unit(unit).dim is formula.dim)
    try:
        step = sheet.step(name, formula, unit)
    except StepcalcError:
        assume(False)
        raise
    assume(step.defined and 1e-12 < abs(step.base) < 1e12)
    return step


def bounded(read: Reads, printed: str, *details: Any) -> Measure:
    """Return what is read, or reject the example if rounding leaves its value open."""
    try:
        return read(printed, *details)
    except NoBoundsError:
        assume(False)
        raise


class Unrounded(SheetValues):
    """Numbers in the units shown, with all their digits."""

    def of(self, node: Any) -> tuple[str, str]:
        value = self.numbers[node.slot] / node.info.factor
        return f"{value:.17g}", node.info.text


@NOTATIONS
@many
@given(drawn=formulas())
def test_the_printed_formula_has_the_value_of_the_formula(
    walker: Walker[str], read: Reads, drawn: tuple[Sheet, Any]
) -> None:
    sheet, formula = drawn
    step = stepped(sheet, formula, None)
    printed = walker.formula(step.expr)
    value = bounded(read, printed, names_of(sheet, latex=walker is LATEX))
    assert value.low == pytest.approx(step.base, rel=1e-9), printed


@NOTATIONS
@many
@given(drawn=formulas(), unit=st.sampled_from([None, *UNITS]))
def test_numbers_and_factors_alone_give_the_result_in_its_unit(
    walker: Walker[str], read: Reads, drawn: tuple[Sheet, Any], unit: str | None
) -> None:
    """Each unit is a kind of its own here, so a factor that is missing or wrong is found out."""
    sheet, formula = drawn
    step = stepped(sheet, formula, unit)
    shown = Unrounded(sheet)
    printed = walker.substitution(with_factors(step.expr, step.info, shown.numbers), shown)
    value = bounded(read, printed, {}, exact, separate)
    assert value.low == pytest.approx(step.number, rel=1e-9), printed
    assert value.dim == read(walker.value("1", step.info.text), {}, exact, separate).dim, printed


@st.composite
def chains(draw: Any) -> tuple[Sheet, Any]:
    """A sheet whose last step follows from steps that are shown rounded."""
    sheet, nodes = draw(sheets())
    maker = Maker(draw, nodes)
    for place, kind in enumerate(("force", "length", "moment", "stress", "number")):
        if draw(st.booleans()):
            step = stepped(sheet, maker.make(kind, 2), None, f"r_{place}")
            nodes[kind] = [step, *nodes[kind][:1]]
    kind = draw(st.sampled_from(["force", "length", "moment", "stress", "number", "line load"]))
    return sheet, maker.make(kind, 2)


@NOTATIONS
@many
@given(drawn=chains(), unit=st.sampled_from([None, None, *UNITS]))
def test_the_numbers_shown_give_the_result_shown(
    walker: Walker[str], read: Reads, drawn: tuple[Sheet, Any], unit: str | None
) -> None:
    sheet, formula = drawn
    step = stepped(sheet, formula, unit)
    rounded = {node.shown.lstrip("-") for node in sheet.steps}
    parts = segments(step_text(step) if walker is TEXT else step_latex(step))
    assume(len(parts) == 4)
    _, _, substitution, result = parts

    def numbers(text: str) -> Measure:
        return number(text, rounded=text in rounded)

    value = bounded(read, substitution, {}, numbers, separate)
    shown = read(result, {}, lambda text: number(text, rounded=True), separate)
    slack = 1e-9 * abs(step.number)
    assert value.dim == shown.dim, parts
    assert value.low - slack <= shown.high, parts
    assert shown.low <= value.high + slack, parts


def segments(printed: str) -> list[str]:
    """Return symbol, formula, substitution and result of a printed step."""
    bare = printed.replace(r"\begin{aligned}", "").replace(r"\end{aligned}", "")
    return re.split(r"(?: \\\\ )? ?&?= ", bare)


@NOTATIONS
@many
@given(drawn=chains(), data=st.data())
def test_the_branch_that_is_printed_is_the_branch_that_counts(
    walker: Walker[str], read: Reads, drawn: tuple[Sheet, Any], data: Any
) -> None:
    sheet, one = drawn
    lengths = [sheet["L"], sheet["S"], sheet["L_b"]]
    low, x, high = data.draw(st.permutations(lengths))
    formula = cases((x <= low, one, "a"), (x <= high, 2 * one, "b"), otherwise=(3 * one, "c"))
    step = stepped(sheet, formula, None)
    lines = step_text(step).split("\n")
    if walker is LATEX:
        head, _, rest = step_latex(step).partition(r"\end{cases} \\ ")
        lines = [head, *rest.removesuffix(r"\end{aligned}").split(r" \\ ")]
    parts = segments(lines[2])
    rounded = {node.shown.lstrip("-") for node in sheet.steps}
    value = bounded(read, parts[-2], {}, lambda text: number(text, rounded=text in rounded))
    slack = 1e-9 * abs(step.base)
    assert value.low - slack <= step.base <= value.high + slack, lines
    assert re.sub(r"&\\text\{", "", lines[1]).split(":")[0].strip() == step.branch
    if walker is TEXT:
        assert_chain_holds(lines[1].partition(": ")[2])


def assert_chain_holds(printed: str) -> None:
    """Every comparison in ``L_p = 5 ft < L = 6 ft ≤ L_r = 7 ft`` is true of the numbers shown."""
    for statement in printed.split(" and "):
        sides = [side for side in re.split(r" ([<>≤≥]) ", statement) if side]
        values = [read_text(side.split(" = ")[-1], {}).low for side in sides[::2]]
        for place, sign in enumerate(sides[1::2]):
            left, right = values[place], values[place + 1]
            holds = {"<": left < right, ">": left > right, "≤": left <= right * (1 + 1e-9),
                     "≥": left >= right * (1 - 1e-9)}[sign]  # fmt: skip
            assert holds, printed
