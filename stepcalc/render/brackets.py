"""Where a printed formula needs brackets: what decides it, apart from how it is spelled."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from stepcalc.expr.walk import value_of
from stepcalc.render.shown import bare_number, literal_text
from stepcalc.render.symbols import is_primed

if TYPE_CHECKING:
    from stepcalc.render.shown import Shown

LATER_IN_BRACKETS = frozenset(("add", "sub", "neg", "total", "cases"))
BARE_BASES = frozenset(("num", "mag", "pi"))
MAY_LEAD = frozenset(("num", "mul", "div", "pow"))


def starts_with_digits(factor: Any, before: Any) -> bool:
    """Tell whether a factor would run into the number before it (5 then 1/2 reads as 5½)."""
    if factor.op == "unit":
        return False
    lead = factor.args[0]
    while lead.op in ("mul", "div", "pow"):
        lead = lead.args[0]
    return bool(lead.op == "num" and (factor.op == "pow" or before.op == "num"))


def is_negative(node: Any, shown: Shown | None) -> bool:
    """Tell whether a leaf prints with a minus sign."""
    op = node.op
    if op in ("num", "qty"):
        return bool(node.data[0] < 0.0)
    if shown is None:
        return False
    if op == "name":
        return shown.of(node)[0][0] == "-"
    if op == "mag":
        return bare_number(node, shown)[0] == "-"
    return bool(op == "interp" and value_of(node, shown.numbers) < 0.0)


def leads_with_minus(node: Any) -> bool:
    """Tell whether a product prints with a minus sign in front: ``-a b``."""
    while node.op == "mul":
        node = node.args[0]
    return bool(node.op == "neg" or (node.op == "num" and node.data[0] < 0.0))


def bare_base(base: Any, shown: Shown | None) -> bool:
    """Tell whether a base that is no name needs no brackets under its exponent."""
    op = base.op
    if op == "pi":
        return True
    if op == "num":
        return bare_in_power(literal_text(base.data[1]), "")
    if shown is None:
        return base.args[0].op == "name" and not is_primed(base.args[0].symbol)
    return bare_in_power(bare_number(base, shown), "")


def bare_in_power(number: str, unit: str) -> bool:
    """Tell whether a number needs no brackets under its exponent."""
    return not unit and number[0] != "-" and "e" not in number and "/" not in number
