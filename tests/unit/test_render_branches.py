"""Why a branch is taken, with numbers that bear it out."""

from __future__ import annotations

from typing import Any

import pytest

from stepcalc import Sheet, all_of, any_of, between, cases, not_
from stepcalc.render.build import step_text
from stepcalc.units import ft, inch, kip


def reason(**values: Any) -> Any:
    """Return a function that gives the line saying why a branch applies."""
    s = Sheet("branches")
    names = {name: s.given(name, value) for name, value in values.items()}

    def line(*branches: Any, otherwise: Any = (0, "rest")) -> str:
        step = s.step(f"x{len(s.steps)}", cases(*branches, otherwise=otherwise))
        return step_text(step).split("\n")[1].strip()

    return names, line


def test_bounds_of_one_quantity_form_a_chain_in_the_unit_of_the_bound() -> None:
    n, line = reason(L=15.5 * ft, p=71.57 * inch, r=268.7 * inch)
    assert line((n["L"] <= n["p"], 1, "a"), (n["L"] <= n["r"], 2, "b")) == (
        "b: p = 71.57 in < L = 186 in ≤ r = 268.7 in"
    )
    assert line((n["L"] > n["r"], 1, "a"), (n["L"] > n["p"], 2, "b")) == (
        "b: r = 268.7 in ≥ L = 186 in > p = 71.57 in"
    )
    assert line((n["L"] <= n["p"], 1), (n["L"] <= 100 * inch, 2)) == "rest: L = 186 in > 100 in"


def test_of_several_failed_bounds_on_one_side_the_last_is_said() -> None:
    n, line = reason(k=5.0)
    assert line((n["k"] <= 1, 1), (n["k"] <= 2, 1), (n["k"] <= 9, 1, "c")) == "c: 2 < k = 5 ≤ 9"


def test_failed_conditions_on_other_quantities_are_all_said() -> None:
    n, line = reason(a=1.0, b=2.0, c=3.0)
    assert line((n["a"] > 5, 1), (n["b"] > 5, 1), (n["c"] > 5, 1)) == (
        "rest: a = 1 ≤ 5 and b = 2 ≤ 5 and c = 3 ≤ 5"
    )
    assert line((n["a"] > 5, 1), (n["b"] < 5, 1, "met")) == "met: a = 1 ≤ 5 and b = 2 < 5"


def test_combined_conditions_say_the_part_that_decides() -> None:
    n, line = reason(a=1.0, b=2.0)
    a, b = n["a"], n["b"]
    assert line((all_of(a > 0, b > 1), 1, "both")) == "both: a = 1 > 0 and b = 2 > 1"
    assert line((all_of(a > 0, b > 5), 1)) == "rest: b = 2 ≤ 5"
    assert line((any_of(a > 5, b > 1), 1, "one")) == "one: b = 2 > 1"
    assert line((any_of(a > 5, b > 5), 1)) == "rest: a = 1 ≤ 5 and b = 2 ≤ 5"
    assert line((not_(a > 5), 1, "not")) == "not: a = 1 ≤ 5"
    assert line((between(a, 0, 3), 1, "in")) == "in: 0 ≤ a = 1 ≤ 3"
    assert line((between(a, 2, 3), 1)) == "rest: a = 1 < 2"
    assert line((between(b, 0, 1), 1)) == "rest: b = 2 > 1"


def test_formulas_in_a_condition_show_their_value() -> None:
    n, line = reason(P=30 * kip, Q=20 * kip)
    assert line((n["P"] + n["Q"] <= 2 * n["Q"], 1)) == "rest: P + Q = 50.00 kip > 2 Q = 40.00 kip"


def test_a_choice_is_said_by_its_text() -> None:
    s = Sheet("choice")
    grade = s.given("grade", "50", choices=["36", "50"])
    step = s.step("F", cases((grade == "36", 36), (grade == "50", 50, "high"), otherwise=0))
    assert step_text(step).split("\n")[1].strip() == "high: grade ≠ 36 and grade = 50"


def test_cases_inside_cases_give_both_reasons() -> None:
    n, line = reason(a=1.0, b=2.0)
    inner = cases((n["b"] > 1, 7, "inner"), otherwise=8)
    assert line((n["a"] > 0, inner, "outer")) == "outer: inner: a = 1 > 0 and b = 2 > 1"


@pytest.mark.parametrize("excess", [1e-3, 1e-5, 1e-7])
def test_numbers_are_given_as_many_digits_as_the_comparison_needs(excess: float) -> None:
    s = Sheet("close")
    a = s.given("a", 3)
    x = s.step("x", a * (1 + excess) / 3)
    step = s.step("y", cases((x <= 1, 1), otherwise=(2, "above")))
    words = step_text(step).split("\n")[1]
    assert float(words.split("x = ")[1].split(" >")[0]) > 1


@pytest.mark.parametrize(
    "name", ["<b>x", r"\frac{a}{b}", "a $x$ b", '#read("x")', "%", "two words", "中"]
)
def test_hostile_names_and_labels_stay_text_in_a_step(name: str) -> None:
    s = Sheet("hostile")
    x = s.given(name, 3.0, description=name, source=name)
    step = s.step(f"{name} 2", cases((x > 1, 2 * x, name), otherwise=x))
    latex, text = step.latex(), step_text(step)
    assert name in text
    assert "<b>" not in latex
    assert r"\frac" not in latex
    assert "$" not in latex.replace(r"\$", "")
