"""The formula that solves a check for a given, where algebra finds one.

Solving is numerical and always verified; this is the page's explanation of it: the comparison as an
equation, the steps between put in, rearranged by SymPy for the unknown.
"""

from __future__ import annotations

from typing import Any

from stepcalc.errors import StepcalcError
from stepcalc.expr.tree import Expr
from stepcalc.expr.walk import names_in
from stepcalc.sheet import cells
from stepcalc.sheet.foreign import substitute
from stepcalc.sheet.nodes import handle

__all__ = ["rearrangement"]

_PLAIN = frozenset(
    ("name", "num", "qty", "unit", "pi", "add", "sub", "mul", "div", "pow", "neg", "sqrt", "total")
)
#: Beyond this, what algebra finds is no explanation any more, and may take minutes.
_LARGEST = 40


def rearrangement(sheet: Any, name: str, check: str | None = None) -> Any:
    """Return the given's formula as a step on a copy of the sheet, or None.

    Parameters
    ----------
    sheet : Sheet
    name : str
        The unknown.
    check : str, optional
        The check that is met exactly; the governing one when left out.

    Returns
    -------
    Step or None
        Its ``latex()`` shows unknown = formula = numbers = result.  None where the way from the
        given to the check is no plain algebra, or SymPy finds no single formula.
    """
    from stepcalc.expr.algebra import rearranged

    item = sheet.governing if check is None else sheet[check]
    if item is None:
        return None
    unknown = sheet[name]
    needed = {unknown.slot} | sheet._book.dependants({unknown.slot})
    left = _spread(sheet, item.entry.demand, needed)
    right = _spread(sheet, item.entry.capacity, needed)
    if not _plain(left) or not _plain(right):
        return None
    formula = rearranged(left, right, unknown)
    if formula is None:
        return None
    with cells.muted():
        return _written(sheet, unknown, formula, item.name)


def _written(sheet: Any, unknown: Any, formula: Any, check: str) -> Any:
    copy = sheet.revise()
    copy._cell = None
    copy._part = copy._book.root
    moved = {(id(part.sheet), part.slot): handle(copy, part.entry) for part in names_in(formula)}
    try:
        return copy.step(
            f"{unknown.name}, rearranged",
            substitute(formula, moved),
            unknown.info.unit,
            f"value at which {check} is just met",
            ref="rearranged",
            symbol=unknown.symbol,
        )
    except StepcalcError:
        return None


def _spread(sheet: Any, node: Any, needed: set[int]) -> Any:
    """Return the formula with every step that follows from the unknown put in."""
    if node.op == "name":
        entry = sheet._book.entries[node.slot]
        if node.slot in needed and entry.kind == "step":
            return _spread(sheet, entry.expr, needed)
        return handle(sheet, entry)
    if not node.args:
        return node
    args = tuple(_spread(sheet, arg, needed) for arg in node.args)
    if isinstance(node, Expr):
        return Expr(node.op, args, node.dim, node.mask, node.data)
    return node


def _plain(node: Any) -> bool:
    count = 0
    pending = [node]
    while pending:
        node = pending.pop()
        count += 1
        if node.op not in _PLAIN or count > _LARGEST:
            return False
        pending.extend(node.args)
    return True
