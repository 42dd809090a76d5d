"""Random formulas for laws of evaluation: they divide by zero and take roots of negatives freely.

``tests/formulas.py`` has the ones for printing, which always have a value; here it is the missing
values, the branches and the comparisons at equality that matter.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np
from hypothesis import strategies as st

from stepcalc import (
    Sheet,
    absolute,
    all_of,
    any_of,
    between,
    cases,
    ceil,
    cos,
    exp,
    floor,
    interpolate,
    log,
    maximum,
    minimum,
    not_,
    sin,
    sqrt,
    total,
)
from stepcalc.units import ft, inch

Draw = Callable[[st.SearchStrategy[Any]], Any]

#: few values, so that equal ones, zeros and the ends of ranges are met all the time
VALUES = (-2.0, -0.5, 0.0, 0.25, 1.0, 2.0, 3.25, 12.0)
NUMBERS = ("x", "y", "z")
LENGTHS = ("a", "b")
_MORE = ("compare", "between", "both", "either", "not")


def sheet_of_givens() -> Sheet:
    """Return a sheet with three numbers and two lengths in different units."""
    sheet = Sheet("random")
    for name in NUMBERS:
        sheet.given(name, 1.0)
    sheet.given("a", 2.0 * ft)
    sheet.given("b", 7.0 * inch)
    return sheet


@st.composite
def exact_formulas(draw: Draw, depth: int = 4) -> tuple[Sheet, Any]:
    """A formula of operations that every program must compute to the same bit, on its sheet."""
    sheet = sheet_of_givens()
    return sheet, _number(draw, sheet, depth)


@st.composite
def rounded_formulas(draw: Draw) -> tuple[Sheet, Any]:
    """One power, exponential or sine of an exact formula: NumPy's may differ in the last place."""
    sheet, inner = draw(exact_formulas(3))
    inner = cases((between(inner, -8, 8), inner), otherwise=3)
    outer = draw(st.sampled_from([
        lambda x: abs(x) ** 0.4, lambda x: x**5, lambda x: 0.658**x, exp, sin, cos,
        lambda x: log(abs(x) + 2), lambda x: x ** (-1 / 3),
    ]))  # fmt: skip
    return sheet, outer(inner)


@st.composite
def records(draw: Draw, size: int = 9) -> dict[str, Any]:
    """Values of the five givens for some records."""
    one = st.lists(st.sampled_from(VALUES), min_size=size, max_size=size)
    found: dict[str, Any] = {name: np.array(draw(one)) for name in NUMBERS}
    found["a"] = np.array(draw(one)) * ft
    found["b"] = np.array(draw(one)) * inch
    return found


def _number(draw: Draw, sheet: Sheet, depth: int) -> Any:
    if depth == 0:
        kind = draw(st.sampled_from(["name", "name", "literal"]))
        if kind == "name":
            return sheet[draw(st.sampled_from(NUMBERS))]
        return draw(st.sampled_from([1, 2, 0.5, 3.25, 0])) + 0 * sheet["x"]

    def again() -> Any:
        return _number(draw, sheet, depth - 1)

    kind = draw(st.sampled_from([
        "sum", "difference", "product", "quotient", "quotient", "ratio", "magnitude", "square",
        "cube", "root", "three halves", "reciprocal", "negative", "absolute", "smallest",
        "largest", "total", "whole", "cases", "cases", "interpolation", "leaf",
    ]))  # fmt: skip
    if kind == "ratio":
        return _length(draw, sheet, depth - 1) / _length(draw, sheet, depth - 1)
    if kind == "magnitude":
        return _length(draw, sheet, depth - 1).magnitude(draw(st.sampled_from([ft, inch])))
    if kind == "cases":
        return _cases(draw, sheet, depth, again)
    if kind == "leaf":
        return _number(draw, sheet, 0)
    makings: dict[str, Callable[[], Any]] = {
        "sum": lambda: again() + again(), "difference": lambda: again() - again(),
        "product": lambda: again() * again(), "quotient": lambda: again() / again(),
        "square": lambda: again() ** 2, "cube": lambda: again() ** 3,
        "root": lambda: sqrt(again()), "three halves": lambda: again() ** 1.5,
        "reciprocal": lambda: again() ** -2, "negative": lambda: -again(),
        "absolute": lambda: absolute(again()), "smallest": lambda: minimum(again(), again()),
        "largest": lambda: maximum(again(), again(), 1), "total": lambda: total([again(), again()]),
        "whole": lambda: draw(st.sampled_from([floor, ceil]))(again()),
        "interpolation": lambda: interpolate(again(), [-1, 0, 2.5, 4], [3, 1, 7, 7.5]),
    }  # fmt: skip
    return makings[kind]()


def _length(draw: Draw, sheet: Sheet, depth: int) -> Any:
    if depth <= 0:
        return sheet[draw(st.sampled_from(LENGTHS))]

    def again() -> Any:
        return _length(draw, sheet, depth - 1)

    kind = draw(st.sampled_from(["leaf", "sum", "scaled", "root", "cases", "smallest"]))
    makings: dict[str, Callable[[], Any]] = {
        "leaf": lambda: _length(draw, sheet, 0), "sum": lambda: again() + again(),
        "scaled": lambda: again() * _number(draw, sheet, depth - 1),
        "root": lambda: sqrt(again() * again()),
        "cases": lambda: _cases(draw, sheet, depth, again),
        "smallest": lambda: minimum(again(), 30 * inch),
    }  # fmt: skip
    return makings[kind]()


def _cases(draw: Draw, sheet: Sheet, depth: int, again: Callable[[], Any]) -> Any:
    count = draw(st.integers(1, 3))
    branches = [(_condition(draw, sheet, depth - 1), again(), f"branch {k}") for k in range(count)]
    return cases(*branches, otherwise=(again(), "last"))


def _condition(draw: Draw, sheet: Sheet, depth: int) -> Any:
    kind = draw(st.sampled_from(_MORE if depth > 0 else _MORE[:2]))
    make = draw(st.sampled_from([_number, _length]))
    below = max(depth - 1, 0)
    if kind == "compare":
        left, right = make(draw, sheet, below), make(draw, sheet, below)
        signs: list[Callable[[Any, Any], Any]] = [
            lambda a, b: a < b, lambda a, b: a <= b, lambda a, b: a > b, lambda a, b: a >= b,
            lambda a, b: a == b, lambda a, b: a != b,
        ]  # fmt: skip
        return draw(st.sampled_from(signs))(left, right)
    if kind == "between":
        return between(*(make(draw, sheet, below) for _ in range(3)))
    if kind == "not":
        return not_(_condition(draw, sheet, below))
    join = all_of if kind == "both" else any_of
    return join(*(_condition(draw, sheet, below) for _ in range(2)))
