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
_GREEK = {
    "lambda": "λ", "gamma": "γ", "beta": "β", "phi": "φ", "pi": "π", "Delta": "Δ",
}  # fmt: skip
_EDITIONS = {"LRFD": LRFD_EDITION, "Std": STANDARD_EDITION}
_ORDINARY = frozenset((0.0, 1.0))


@dataclass(frozen=True)
class FormulaConstants:
    """The numbers that stand inside one formula of a code.

    Parameters
    ----------
    symbol, formula : str
        The step and its formula as written, with its range of application.
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
        One record for each such step, in the order of the sheet.
    """
    found = []
    for step in sheet.steps:
        edition = _EDITIONS.get((step.ref or "").split(" ")[0])
        expr = getattr(step.entry, "expr", None)
        if edition is None or expr is None:
            continue
        ranges = tuple(getattr(step.entry, "valid", ()))
        numbers = dict.fromkeys(text for part in (expr, *ranges) for text in _numbers(part))
        if numbers:
            text = "; for ".join([_in_words(expr), *map(_in_words, ranges)])
            found.append(FormulaConstants(step.name, text, tuple(numbers), step.ref, edition))
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
    formulas: dict[tuple[str, str], FormulaConstants] = {}
    for sheet in sheets:
        constants |= {constant.symbol: constant for constant in used_constants(sheet)}
        formulas |= {(item.article, item.formula): item for item in formula_constants(sheet)}
    with page.part("Factors and limits"):
        page.table(
            ["Symbol", "Meaning", "Value", "Article", "Checked"],
            [_constant_row(constant) for constant in constants.values()],
            _caption(constants.values()),
        )
    with page.part("Numbers inside formulas"):
        page.table(
            ["Step", "Formula, with its range of application", "Numbers", "Article", "Checked"],
            [
                [greek_letters(item.symbol), item.formula, ", ".join(item.numbers), item.article,
                 EMPTY_BOX]
                for item in formulas.values()
            ],
            _caption(formulas.values()),
        )  # fmt: skip
    return page


def _caption(items: Iterable[CodeConstant | FormulaConstants]) -> str:
    editions = " and ".join(dict.fromkeys(item.edition for item in items))
    return f"{editions}; every value {FROM_MEMORY}." if editions else "None."


def _constant_row(constant: CodeConstant) -> list[str]:
    value = f"{constant.value:.10g}" + (f" {_unit(constant.unit)}" if constant.unit else "")
    return [
        greek_letters(constant.symbol),
        constant.description,
        value,
        constant.article,
        EMPTY_BOX,
    ]


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


def _in_words(node: Any) -> str:
    """Return a formula or condition in one line: ``a if b <= c; otherwise d``."""
    if node.op == "cases":
        *branches, last = node.args
        pairs = zip(branches[::2], branches[1::2], strict=True)
        told = [f"{_in_words(value)} if {_in_words(condition)}" for condition, value in pairs]
        return "; ".join([*told, f"otherwise {_in_words(last)}"])
    if node.op == "between":
        x, low, high = map(_plain, node.args)
        return f"{low} ≤ {x} ≤ {high}"
    if node.op in ("and", "or"):
        parts = [f"({_in_words(arg)})" if arg.op == "or" else _in_words(arg) for arg in node.args]
        return f" {node.op} ".join(parts)
    return _plain(node)


def _plain(node: Any) -> str:
    """Return a formula as text, powers with a caret and products without a star."""
    text = re.sub(r"\.magnitude\([^)]*\)", "", source(node)).replace("**", "^")
    text = re.sub(r"(?<=[\w)])\*(?=[\w(])", " ", text)
    text = text.replace("minimum(", "min(").replace("maximum(", "max(")
    return greek_letters(text.replace("<=", "≤").replace(">=", "≥"))


def greek_letters(text: str) -> str:
    """Return a text with the names of Greek letters spelled as letters.

    Parameters
    ----------
    text : str
        Such as ``"lambda_pf <= phi_f"``.

    Returns
    -------
    str
        Such as ``"λ_pf <= φ_f"``.

    Examples
    --------
    >>> greek_letters("gamma_DC, gamma_total, pigment")
    'γ_DC, γ_total, pigment'
    """
    return re.sub(rf"\b({'|'.join(_GREEK)})(?=_|\b)", lambda found: _GREEK[found.group(1)], text)
