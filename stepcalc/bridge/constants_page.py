"""The page "Code constants used": every factor, limit and number of a code in a calculation.

Two tables.  The first has the factors and limits that stand as givens; the second has the formulas
of the codes that hold numbers of their own, found by reading the formulas that were in fact used.
Each row ends in an empty box for the checker, who ticks it against the code book.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from stepcalc.bridge.constants import (
    FROM_MEMORY,
    LRFD_EDITION,
    STANDARD_EDITION,
    used_constants,
)
from stepcalc.expr.source import source
from stepcalc.sheet.sheet import Sheet
from stepcalc.units.numbers import typed_text

if TYPE_CHECKING:
    from collections.abc import Iterable

    from stepcalc.bridge.constants import CodeConstant

EMPTY_BOX = "☐"
_EDITIONS = {"LRFD": LRFD_EDITION, "Std": STANDARD_EDITION}
_ORDINARY = frozenset((0.0, 1.0))


@dataclass(frozen=True)
class FormulaConstants:
    """The numbers that stand inside one formula of a code.

    Parameters
    ----------
    symbol, formula : str
        The step and its formula as written.
    numbers : tuple of str
        Its numbers, in the order of the formula; 0 and 1 are left out.
    article, edition : str
        Where the formula stands.
    """

    symbol: str
    formula: str
    numbers: tuple[str, ...]
    article: str
    edition: str


def formula_constants(sheet: Sheet) -> tuple[FormulaConstants, ...]:
    """Return the formulas of a code on a sheet that hold numbers of their own.

    Parameters
    ----------
    sheet : Sheet
        Any sheet; steps whose reference names no code are left out.

    Returns
    -------
    tuple of FormulaConstants
        One record for each such step and each range of application, in the order of the sheet.
    """
    found = []
    for step in sheet.steps:
        edition = _EDITIONS.get((step.ref or "").split(" ")[0])
        expr = getattr(step.entry, "expr", None)
        if edition is None or expr is None:
            continue
        conditions = getattr(step.entry, "valid", ())
        for formula in (expr, *conditions):
            numbers = tuple(dict.fromkeys(_numbers(formula)))
            if numbers:
                text = _as_text(formula)
                found.append(FormulaConstants(step.symbol, text, numbers, step.ref, edition))
    return tuple(found)


def constants_sheet(sheets: Iterable[Sheet]) -> Sheet:
    """Return the page of code constants that entered some sheets.

    Parameters
    ----------
    sheets : iterable of Sheet
        The sheets of one calculation.

    Returns
    -------
    Sheet
        A sheet of two tables without values of its own.
    """
    page = Sheet("Code constants used")
    page.note(
        "Every factor, limit and number of a code that entered this calculation. "
        f'"{FROM_MEMORY.capitalize()}" means that nobody had the text open when the value was '
        "entered: the checker compares each with the code and ticks the box. The governing "
        "edition and the owner's rules come first."
    )
    listed = list(sheets)
    constants: dict[str, CodeConstant] = {}
    formulas: dict[tuple[str, str], FormulaConstants] = {}
    for sheet in listed:
        constants |= {constant.symbol: constant for constant in used_constants(sheet)}
        formulas |= {(item.article, item.formula): item for item in formula_constants(sheet)}
    with page.part("Factors and limits"):
        page.table(
            ["Symbol", "Meaning", "Value", "Article", "Edition", "Entered", "Checked"],
            [_constant_row(constant) for constant in constants.values()],
        )
    with page.part("Numbers inside formulas"):
        page.table(
            ["Step", "Formula or range", "Numbers", "Article", "Edition", "Entered", "Checked"],
            [
                [item.symbol, item.formula, ", ".join(item.numbers), item.article, item.edition,
                 FROM_MEMORY, EMPTY_BOX]
                for item in formulas.values()
            ],
        )  # fmt: skip
    return page


def _constant_row(constant: CodeConstant) -> list[str]:
    value = f"{constant.value:.10g}" + (f" {_unit(constant.unit)}" if constant.unit else "")
    return [constant.symbol, constant.description, value, constant.article, constant.edition,
            constant.provenance, EMPTY_BOX]  # fmt: skip


def _unit(text: str) -> str:
    return "in" if text == "inch" else text


def _numbers(node: Any) -> Iterator[str]:
    if node.op == "num":
        if node.data[0] not in _ORDINARY:
            yield typed_text(node.data[1])
    elif node.op == "qty":
        yield f"{typed_text(node.data[2])} {node.data[1].text}"
    elif node.args:
        for arg in node.args:
            yield from _numbers(arg)


def _as_text(formula: Any) -> str:
    """Return the formula in one line, powers with a caret and products without a star."""
    text = source(formula).replace("**", "^")
    return (
        re.sub(r"(?<=[\w)])\*(?=[\w(])", " ", text)
        .replace("minimum", "min")
        .replace("maximum", "max")
    )
