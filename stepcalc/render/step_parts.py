"""The parts of a step or check as they stand on the sheet, in any dialect.

Formula, substitution and result are kept apart, so that a page can break between them; a part that
would repeat its neighbour is left out.
"""

from __future__ import annotations

import operator
from collections.abc import Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Generic, TypeVar

from stepcalc.expr.walk import Undefined, names_in, value_of
from stepcalc.render.branches import Reasons, branch_of
from stepcalc.render.conversions import with_factors
from stepcalc.render.interpolation import written_out
from stepcalc.render.plan_lengths import value_as_shown
from stepcalc.render.sheet_values import SheetValues, values_of
from stepcalc.render.shown import literal_text
from stepcalc.sheet.nodes import External
from stepcalc.units.numbers import shown_text

if TYPE_CHECKING:
    from stepcalc.render.walker import Walker

F = TypeVar("F")


@dataclass(slots=True)
class Parts(Generic[F]):
    """A step in its parts; ``formula``, ``substitution`` or ``result`` is None where it repeats."""

    symbol: F
    formula: F | None
    substitution: F | None
    result: F | None
    branch: str = ""
    condition: F | None = None
    branch_formula: F | None = None
    undefined: str = ""
    has_bare_numbers: bool = False


def step_parts(node: Any, walker: Walker[F]) -> Parts[F]:
    """Return the parts of a step.

    Parameters
    ----------
    node : Step
    walker : Walker
    """
    values = values_of(node.sheet, walker.dialect.name)
    entry = node.entry
    expr = entry.expr
    symbol = walker.dialect.sym(entry.symbol)
    number, unit = values.of(node)
    if number == "undefined":
        return _undefined(node, walker, values, symbol)
    result = value_as_shown(walker, node, number, unit)
    before = walker.bare_numbers
    if expr.op == "cases":
        parts = _by_branch(node, walker, values, symbol, result)
    else:
        parts = Parts(symbol, walker.formula(expr), None, result)
        _substitute(parts, expr, node, walker, values)
    parts.has_bare_numbers = walker.bare_numbers != before
    return parts


def formula_part(node: Any, walker: Walker[F]) -> F | None:
    """Return the formula of a step as written; None where a number was typed.

    Parameters
    ----------
    node : Step
    walker : Walker
    """
    values = values_of(node.sheet, walker.dialect.name)
    expr = node.entry.expr
    value = values.of(node)
    if value[0] != "undefined":
        taken = branch_of(expr, values.numbers).value if expr.op == "cases" else expr
        typed = _number_of(taken, values) if taken.op != "name" else None
        if typed is not None and _same_number(typed, value):
            return None
    return walker.formula(expr)


def _substitute(
    parts: Parts[F], formula: Any, node: Any, walker: Walker[F], values: SheetValues
) -> None:
    """Fill in the substitution of a formula, and leave out what repeats."""
    spelled = written_out(formula, values.numbers)
    while spelled.op == "total" and len(spelled.args) == 1:
        spelled = spelled.args[0]
    folded = node.sheet.fold
    marked = spelled if folded else with_factors(spelled, node.info, values.numbers)
    numbers = _number_of(marked, values)
    if numbers is not None and _same_number(numbers, values.of(node)):
        if marked is formula and marked.op != "name":
            parts.result = None
        return
    parts.substitution = walker.substitution(marked, values)
    if parts.substitution == parts.formula:
        parts.substitution = None


def _number_of(node: Any, values: SheetValues) -> tuple[str, str] | None:
    """Return number and unit of a formula that is one name or typed number, else None."""
    if node.op == "name":
        return values.of(node)
    if node.op == "num":
        return literal_text(node.data[1]), ""
    return (literal_text(node.data[2]), node.data[1].text) if node.op == "qty" else None


def _same_number(one: tuple[str, str], other: tuple[str, str]) -> bool:
    """Tell whether two printed values are one number: 8 in and 8.000 in."""
    if one == other:
        return True
    if one[1] != other[1] or "/" in one[0]:
        return False
    return float(one[0].replace(",", "")) == float(other[0].replace(",", ""))


def _by_branch(node: Any, walker: Walker[F], values: SheetValues, symbol: F, result: F) -> Parts[F]:
    expr = node.entry.expr
    taken = branch_of(expr, values.numbers)
    parts = Parts(symbol, walker.formula(taken.value), None, result, taken.label)
    _substitute(parts, taken.value, node, walker, values)
    parts.branch_formula = parts.formula
    parts.formula = walker.formula(expr)
    parts.condition = Reasons(walker, values).line(taken.facts)
    return parts


def _undefined(node: Any, walker: Walker[F], values: SheetValues, symbol: F) -> Parts[F]:
    formula = walker.formula(node.entry.expr)
    parts = Parts(symbol, formula, None, walker.dialect.text("undefined"))
    parts.undefined = node.reason or "it has no value"
    return parts


@dataclass(slots=True)
class CheckParts(Generic[F]):
    """A check in its parts; the sides are given apart and as one comparison."""

    formula: F
    substitution: F | None
    demand: F | None
    capacity: F | None


def check_parts(check: Any, walker: Walker[F]) -> CheckParts[F]:
    """Return the parts of a check: the comparison asked for, and what the numbers say.

    Parameters
    ----------
    check : Check
    walker : Walker
    """
    entry = check.entry
    left, right = entry.condition.args
    formula = walker.formula(entry.condition)
    values = values_of(check.sheet, walker.dialect.name)
    try:
        sides = [_check_side(side, check, walker, values) for side in (left, right)]
    except Undefined:
        return CheckParts(formula, None, None, None)
    sign = _true_sign(entry.condition.op, check.passed)
    _tell_apart(sides, (left, right), sign, check, walker)
    chain = [("=", part) for part in sides[0][1:]]
    chain.append((sign, sides[1][0]))
    chain += [("=", part) for part in sides[1][1:]]
    shown = walker.dialect.rel(sides[0][0], chain)
    down = entry.demand is left
    demand, capacity = (sides[0][-1], sides[1][-1]) if down else (sides[1][-1], sides[0][-1])
    return CheckParts(formula, shown, demand, capacity)


_MOST_DIGITS = 12
_HOLDS = {"≤": operator.le, "≥": operator.ge, ">": operator.gt, "<": operator.lt}
_PASSED = {"le": "≤", "lt": "≤", "ge": "≥", "gt": "≥"}
_FAILED = {"le": ">", "lt": ">", "ge": "<", "gt": "<"}


def _true_sign(op: str, passed: bool) -> str:
    return (_PASSED if passed else _FAILED)[op]


def _check_side(side: Any, check: Any, walker: Walker[F], values: SheetValues) -> list[F]:
    """Return a side with its numbers and, unless it is one number, its value."""
    info = check.entry.info
    formula = written_out(side, values.numbers)
    marked = formula if check.sheet.fold else with_factors(formula, info, values.numbers)
    numbers = walker.substitution(marked, values)
    base = value_of(side, values.numbers)
    if marked.op in ("name", "qty", "num"):
        return [numbers]
    return [numbers, walker.value(shown_text(base / info.factor, values.digits), info.text)]


def _tell_apart(
    sides: list[list[F]], formulas: tuple[Any, Any], sign: str, check: Any, walker: Walker[F]
) -> None:
    """Add values with more digits where the rounded ones would not bear the verdict out."""
    info, numbers = check.entry.info, check.sheet._values
    exact = [value_of(formula, numbers) / info.factor for formula in formulas]
    for digits in range(check.sheet.digits, _MOST_DIGITS):
        texts = [shown_text(value, digits) for value in exact]
        left, right = (float(text.replace(",", "")) for text in texts)
        if _HOLDS[sign](left, right):
            break
    if digits > check.sheet.digits:
        for side, text in zip(sides, texts, strict=True):
            value = walker.value(text, info.text)
            if side[-1] != value:
                side.append(value)


def unit_notes(node: Any) -> list[tuple[list[Any], str]]:
    """Return in which units bare numbers are taken, as (formulas, unit): S and L in ft.

    Parameters
    ----------
    node : Operand
        A formula; ``magnitude`` nodes in it print as the plain symbol.
    """
    found: dict[str, dict[str, Any]] = {}
    pending = [node]
    while pending:
        node = pending.pop()
        if node.op == "mag":
            found.setdefault(node.data.text or "1", {}).setdefault(str(node.args[0]), node.args[0])
        pending.extend(reversed(node.args))
    return [(list(formulas.values()), unit) for unit, formulas in found.items()]


def unit_remark(node: Any, walker: Walker[F]) -> F | None:
    """Return ``with S, L in ft; K_g in in^4`` for a formula of bare numbers, else None."""
    units = unit_row(node, walker)
    d = walker.dialect
    return None if units is None else d.row([d.text("with "), units])


def unit_row(node: Any, walker: Walker[F]) -> F | None:
    """Return ``S, L in ft; K_g in in^4`` for a formula of bare numbers, else None."""
    notes = unit_notes(node)
    if not notes:
        return None
    d = walker.dialect
    row: list[F] = []
    for place, (formulas, unit) in enumerate(notes):
        if place:
            row.append(d.text("; "))
        for other, formula in enumerate(formulas):
            row += [d.text(", ")] * bool(other) + [walker.formula(formula)]
        row += [d.text(" in "), d.unit(unit)]
    return d.row(row)


def origins(formulas: Iterable[Any]) -> list[str]:
    """Return where values of other sheets come from, one line for each."""
    found: list[str] = []
    for formula in formulas:
        for name in names_in(formula):
            if isinstance(name, External):
                line = f"{name.symbol} from {name.origin}"
                if line not in found:
                    found.append(line)
    return found
