"""The page "Code constants used": every factor, limit and number of a code in a calculation.

Two tables.  The first has the factors and limits that stand as givens; the second has the formulas
of the codes that hold numbers of their own, found by reading the formulas that were in fact used.
Each number has an empty box for the checker, who ticks it against the code book.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from stepcalc.bridge.constants import (
    FROM_MEMORY,
    LRFD_EDITION,
    STANDARD_EDITION,
    used_constants,
)
from stepcalc.sheet.formula_cell import FormulaCell, formula_cell, symbol_cell
from stepcalc.sheet.sheet import Sheet
from stepcalc.units import Q_
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
    symbol : str
        The step.
    formula : FormulaCell
        Its formula as written, with its range of application.
    numbers : tuple of str
        Its numbers, in the order of the formula; 0 and 1 are left out.
    boxed : FormulaCell
        The numbers, each with an empty box.
    article, edition : str
        Where the formula stands.
    """

    symbol: str
    formula: FormulaCell
    numbers: tuple[str, ...]
    boxed: FormulaCell
    article: str
    edition: str


FormulaKey = tuple[str, str, tuple[str, ...]]


def formula_constants(
    sheet: Sheet, known: set[FormulaKey] | None = None
) -> tuple[FormulaConstants, ...]:
    """Return the formulas of a code on a sheet that hold numbers of their own.

    Parameters
    ----------
    sheet : Sheet
        Any sheet; steps whose reference names no code are left out.
    known : set of (article, symbol, numbers), optional
        Formulas that are not to be returned again; those returned are added.

    Returns
    -------
    tuple of FormulaConstants
        One record for each such step, in the order of the sheet.
    """
    found = []
    for step in sheet.steps:
        edition = _EDITIONS.get((step.ref or "").split(" ")[0])
        expr = getattr(step.entry, "expr", None)
        if edition is None or expr is None:
            continue
        ranges = tuple(getattr(step.entry, "valid", ()))
        numbers = {text: node for part in (expr, *ranges) for text, node in _numbers(part)}
        key = (step.ref, step.entry.symbol, tuple(numbers))
        if numbers and (known is None or key not in known):
            if known is not None:
                known.add(key)
            formula = formula_cell([[expr]], *_conditions(ranges), units_of=expr)
            boxed = formula_cell([[node, f" {EMPTY_BOX}  "] for node in numbers.values()])
            found.append(FormulaConstants(
                step.entry.symbol, formula, tuple(numbers), boxed, step.ref, edition
            ))  # fmt: skip
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
    constants: dict[str, CodeConstant] = {}
    # a formula that stands at several places, with the length of each, is one formula of the code
    known: set[FormulaKey] = set()
    formulas: list[FormulaConstants] = []
    for sheet in sheets:
        constants |= {constant.symbol: constant for constant in used_constants(sheet)}
        formulas += formula_constants(sheet, known)
    with page.part("Factors and limits"):
        page.table(
            ["Symbol", "Meaning", "Value", "Article", "Checked"],
            [_constant_row(constant) for constant in constants.values()],
            _caption(constants.values()),
        )
    with page.part("Numbers inside formulas"):
        page.table(
            ["Step", "Formula, with its range of application", "Numbers, each checked", "Article"],
            [
                [symbol_cell(item.symbol), item.formula, item.boxed, item.article]
                for item in formulas
            ],
            _caption(formulas),
        )
    return page


def _caption(items: Iterable[CodeConstant | FormulaConstants]) -> str:
    editions = " and ".join(dict.fromkeys(item.edition for item in items))
    return f"{editions}; every value {FROM_MEMORY}." if editions else "None."


def _constant_row(constant: CodeConstant) -> list[Any]:
    value = Q_(constant.value, constant.unit) if constant.unit else constant.value
    return [
        symbol_cell(constant.symbol), constant.description, value, constant.article, EMPTY_BOX,
    ]  # fmt: skip


def _conditions(ranges: Sequence[Any]) -> list[list[list[Any]]]:
    """Return the range of application as a row, or no row."""
    last = len(ranges) - 1
    pieces = [
        ["for "] * (not place) + [item] + ["; "] * (place < last)
        for place, item in enumerate(ranges)
    ]
    return [pieces] if pieces else []


def _numbers(node: Any) -> Iterator[tuple[str, Any]]:
    """Yield text and node of each number in a formula."""
    if node.op == "num":
        if node.data[0] not in _ORDINARY:
            yield typed_text(node.data[1]), node
    elif node.op == "qty":
        yield f"{typed_text(node.data[2])} {node.data[1].text}", node
    elif node.args:
        for arg in node.args:
            yield from _numbers(arg)
