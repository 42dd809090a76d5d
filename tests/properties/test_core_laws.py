"""Laws of evaluation: the walk, the scalar, the array and the careful program say the same."""

from __future__ import annotations

import json
import math
import warnings
from typing import Any

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from stepcalc import Sheet, cases, not_
from stepcalc.expr.code import CAREFUL, SCALAR, CodeWriter
from stepcalc.expr.codec import read_tree, tree_data
from stepcalc.expr.walk import Undefined, branch_taken, holds, names_in, value_of
from stepcalc.sheet.program import compile_source
from stepcalc.units import ft, inch
from tests.strategies import LENGTHS, NUMBERS, VALUES, exact_formulas, records, rounded_formulas

ROUNDED = 4e-15  # what NumPy's pow and sine may differ from the platform's, with one step after


def walked(sheet: Sheet, formula: Any) -> float:
    try:
        return value_of(formula, sheet._values)
    except Undefined:
        return math.nan


def compiled(sheet: Sheet, formula: Any, mode: str) -> float:
    writer = CodeWriter(mode)
    text = writer.formula(formula)
    lines = [f"v{slot} = V[{slot}]" for slot in range(len(sheet._values))] + [f"return {text}"]
    constants = {
        name: np.array(value) if mode == CAREFUL else value
        for name, value in writer.constants.items()
    }
    program = compile_source("V", lines, mode, constants)
    values: list[Any] = list(map(np.float64 if mode == CAREFUL else float, sheet._values))
    try:
        with np.errstate(all="ignore"):
            return float(program(values))
    except (ArithmeticError, ValueError):
        return math.nan


def single(values: dict[str, Any], place: int) -> dict[str, Any]:
    return {name: array[place] for name, array in values.items()}


def same(left: float, right: float, tolerance: float) -> bool:
    if left != left or right != right:
        return left != left and right != right
    return left == right or abs(left - right) <= tolerance * abs(right)


def agree(sheet: Sheet, formula: Any, values: dict[str, Any], tolerance: float) -> None:
    sheet.step("r", formula)
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        outputs = sheet.evaluate(values, ["r"])
        found = outputs["r"].to_root_units().magnitude
    missing = 0
    for place in range(len(found)):
        one = sheet.revise(single(values, place))
        expected = walked(one, formula)
        stored = one._values[one["r"].slot]
        assert same(stored, expected, tolerance), (formula, place)
        scalar = compiled(one, formula, SCALAR)
        # it may give up on a part that all_of or any_of can do without: then the walk decides
        assert scalar != scalar or same(scalar, expected, tolerance), (formula, place)
        assert same(compiled(one, formula, CAREFUL), expected, tolerance), (formula, place)
        assert same(float(found[place]), expected, tolerance), (formula, place)
        if expected != expected:
            missing += 1
            assert one["r"].reason, "a missing value has a reason in words"
    # missing values are reported with their step and how many there are; others are not
    assert outputs.undefined == ({"r": outputs.undefined["r"]} if missing else {})
    if missing:
        count, first = outputs.undefined["r"]
        assert count == missing
        assert np.isnan(found[first])
        assert not np.isnan(found[: first[0]]).any()


@settings(max_examples=250)
@given(exact_formulas(), records())
def test_exact_operations_agree_to_the_bit(made: tuple[Sheet, Any], values: Any) -> None:
    agree(*made, values, 0.0)


@settings(max_examples=80)
@given(rounded_formulas(), records())
def test_powers_and_sines_agree_to_the_last_places(made: tuple[Sheet, Any], values: Any) -> None:
    agree(*made, values, ROUNDED)


@settings(max_examples=80)
@given(exact_formulas(3), exact_formulas(3), st.lists(st.sampled_from(VALUES), min_size=5,
       max_size=5))  # fmt: skip
def test_a_branch_not_taken_has_no_effect(
    first: tuple[Sheet, Any], second: tuple[Sheet, Any], values: list[float]
) -> None:
    sheet, inner = first
    other = read_tree(tree_data(second[1]), sheet.__getitem__)
    chosen = cases((sheet["x"] <= 100, inner), otherwise=other)
    one = sheet.revise(dict(zip(NUMBERS, values, strict=False)))
    assert same(walked(one, chosen), walked(one, inner), 0.0)
    assert same(compiled(one, chosen, CAREFUL), walked(one, inner), 0.0)


@settings(max_examples=80)
@given(exact_formulas(3), exact_formulas(3), records(4))
def test_a_comparison_and_its_complement_never_hold_together(
    first: tuple[Sheet, Any], second: tuple[Sheet, Any], values: Any
) -> None:
    sheet, left = first
    right = read_tree(tree_data(second[1]), sheet.__getitem__)
    for place in range(4):
        one = sheet.revise(single(values, place))
        for test, complement in (
            (left <= right, left > right), (left < right, left >= right),
            (left == right, left != right), (left <= right, not_(left <= right)),
        ):  # fmt: skip
            try:
                assert holds(test, one._values) is not holds(complement, one._values)
            except Undefined:
                continue


@settings(max_examples=120)
@given(exact_formulas())
def test_a_tree_survives_json(made: tuple[Sheet, Any]) -> None:
    sheet, formula = made
    again = read_tree(json.loads(json.dumps(tree_data(formula))), sheet.__getitem__)
    assert again.same_as(formula)
    assert repr(again) == repr(formula)
    assert again.mask == formula.mask
    assert again.depth == formula.depth


@settings(max_examples=60)
@given(exact_formulas(), records(3))
def test_a_sheet_survives_json(made: tuple[Sheet, Any], values: Any) -> None:
    sheet, formula = made
    sheet.step("r", formula)
    sheet.check("c", sheet["r"] <= sheet["x"])
    text = sheet.to_json()
    again = Sheet.from_json(text)
    assert again.to_json() == text
    ours = sheet.evaluate(values, ["r", "c", "c.passed"])
    theirs = again.evaluate(values, ["r", "c", "c.passed"])
    for name in ours:
        assert np.array_equal(
            getattr(ours[name], "magnitude", ours[name]),
            getattr(theirs[name], "magnitude", theirs[name]), equal_nan=ours[name].dtype != bool,
        )  # fmt: skip


@settings(max_examples=60)
@given(exact_formulas(3), records(5))
def test_the_branch_of_an_array_is_the_branch_of_a_sheet(
    made: tuple[Sheet, Any], values: Any
) -> None:
    sheet, inner = made
    chosen = cases((inner < 1, 1, "low"), (inner <= sheet["y"], 2, "middle"), otherwise=(3, "high"))
    sheet.step("r", chosen)
    labels = sheet.evaluate(values, ["r.branch"])["r.branch"]
    for place, label in enumerate(labels):
        one = sheet.revise(single(values, place))
        assert (one["r"].branch or "undefined") == label
        if label != "undefined":
            assert ("low", "middle", "high")[branch_taken(chosen, one._values)] == label


@settings(max_examples=60)
@given(exact_formulas(2), records(5), st.sampled_from(VALUES))
def test_range_of_application_of_an_array_is_that_of_a_sheet(
    made: tuple[Sheet, Any], values: Any, limit: float
) -> None:
    sheet, inner = made
    x, y = sheet["x"], sheet["y"]
    narrow = sheet.given("narrow", 1.0, within=(0, limit if limit > 0 else None))
    sheet.step("inside", inner, valid=[x <= limit, y > -1])
    sheet.step("r", cases((x < y, sheet["inside"]), (y == 2, narrow), otherwise=x))
    values = {**values, "narrow": values["x"][::-1]}
    outputs = sheet.evaluate(values, ["r", "r.in_range"])
    for place in range(5):
        one = sheet.revise(single(values, place))
        if one["r"].defined:
            assert one["r"].in_range == outputs["r.in_range"][place]
            assert bool(one["r"].warnings) is not one["r"].in_range


@settings(max_examples=40)
@given(exact_formulas(3), records(6), st.sampled_from([2, 3, 4, 6]))
def test_shown_values_are_the_same_in_arrays(
    made: tuple[Sheet, Any], values: Any, digits: int
) -> None:
    _, inner = made
    sheet = Sheet("rounded", carry="shown", digits=digits)
    for name in NUMBERS:
        sheet.given(name, 1.0)
    for name in LENGTHS:
        sheet.given(name, 1.0 * ft)
    formula = read_tree(tree_data(inner), sheet.__getitem__)
    assert [n.name for n in names_in(formula)] == [n.name for n in names_in(inner)]
    sheet.step("r", formula)
    sheet.step("q", sheet["r"] * (1 * inch) / 3, inch)
    found = sheet.evaluate(values, ["r", "q"])
    for place in range(6):
        one = sheet.revise(single(values, place))
        for name in ("r", "q"):
            value = one._values[one[name].slot] / one[name].info.factor
            assert same(float(found[name].magnitude[place]), value, 0.0)
            if value == value:
                assert float(one[name].shown.replace(",", "")) == value


def test_the_strategies_reach_what_they_are_for() -> None:
    """Otherwise the laws above would hold of nothing."""
    seen: dict[str, int] = {}

    @settings(max_examples=150, database=None)
    @given(exact_formulas(), records(4))
    def look(made: tuple[Sheet, Any], values: Any) -> None:
        sheet, formula = made
        pending = [formula]
        while pending:
            node = pending.pop()
            seen[node.op] = seen.get(node.op, 0) + 1
            pending += node.args
        sheet.step("r", formula)
        found = sheet.evaluate(values, ["r"])["r"].magnitude
        seen["missing"] = seen.get("missing", 0) + int(np.isnan(found).any())
        seen["partly"] = seen.get("partly", 0) + int(np.isnan(found).any() and not
                                                     np.isnan(found).all())  # fmt: skip

    look()
    for op in ("div", "sqrt", "pow", "cases", "and", "or", "not", "between", "eq", "ne", "lt", "gt",
               "min", "max", "interp", "floor", "mag", "missing", "partly"):  # fmt: skip
        assert seen.get(op, 0) >= 3, (op, seen)
