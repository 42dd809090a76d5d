"""Why a branch of ``cases`` is taken, with the numbers: ``L_p = 5.9 ft < L_b = 15 ft ≤ L_r``.

The condition that is met and those that failed before it are put as true statements. Where the
one met and the last that failed bound the same quantity, they form one chain.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any, Generic, NamedTuple, TypeVar

from stepcalc.expr.arithmetic import compare_values
from stepcalc.expr.sameness import same_tree
from stepcalc.expr.walk import branch_taken, holds, value_of
from stepcalc.render.shown import literal_text, short_number
from stepcalc.sheet.quantities import display_unit
from stepcalc.units.numbers import shown_text

if TYPE_CHECKING:
    from stepcalc.render.shown import Shown
    from stepcalc.render.walker import Walker

F = TypeVar("F")

_SIGN = {"lt": "<", "le": "≤", "gt": ">", "ge": "≥", "eq": "=", "ne": "≠"}
_OPPOSITE = {"lt": "ge", "le": "gt", "gt": "le", "ge": "lt", "eq": "ne", "ne": "eq"}
_TURNED = {"lt": "gt", "le": "ge", "gt": "lt", "ge": "le", "eq": "eq", "ne": "ne"}
_MOST_DIGITS = 12


class Fact(NamedTuple):
    """A true comparison, ``left op right``, or a choice that was made (``op`` is or not)."""

    op: str
    left: Any
    right: Any


class Taken(NamedTuple):
    """The branch of a ``cases`` that applies: its value, its label, and what is true there."""

    value: Any
    label: str
    facts: list[Fact]


def branch_of(node: Any, numbers: Any) -> Taken:
    """Return the branch that applies, through cases directly inside cases.

    Raises
    ------
    Undefined
        If a condition has no value.
    """
    labels: list[str] = []
    facts: list[Fact] = []
    while node.op == "cases":
        taken = branch_taken(node, numbers)
        conditions = node.args[:-1:2]
        failed = [list(_facts(item, False, numbers)) for item in conditions[:taken]]
        met = list(_facts(conditions[taken], True, numbers)) if taken < len(conditions) else []
        facts += _telling(failed, met)
        labels.append(node.data[taken] or f"case {taken + 1}")
        node = node.args[min(2 * taken + 1, len(node.args) - 1)]
    return Taken(node, ": ".join(labels), facts)


def _facts(condition: Any, truth: bool, numbers: Any) -> Iterator[Fact]:
    """Yield comparisons that are true and make the condition hold, or fail."""
    op, args = condition.op, condition.args
    if op == "not":
        yield from _facts(args[0], not truth, numbers)
    elif op in ("and", "or"):
        if (op == "and") == truth:
            for part in args:
                yield from _facts(part, truth, numbers)
        else:
            decisive = next(part for part in args if holds(part, numbers) is truth)
            yield from _facts(decisive, truth, numbers)
    elif op == "is":
        yield Fact("is" if truth else "not", args[0], condition.data[0])
    elif op == "between":
        x, low, high = args
        below = not compare_values("le", value_of(low, numbers), value_of(x, numbers))
        if truth:
            yield Fact("ge", x, low)
            yield Fact("le", x, high)
        else:
            yield Fact("lt", x, low) if below else Fact("gt", x, high)
    else:
        yield Fact(op if truth else _OPPOSITE[op], *args)


def _telling(failed: list[list[Fact]], met: list[Fact]) -> list[Fact]:
    """Return what failed, the last of each subject, then what is met."""
    last: list[Fact] = []
    for facts in failed:
        for fact in facts:
            last = [other for other in last if not same_tree(other.left, fact.left)]
            last.append(fact)
    if not met:
        return last
    same = [fact for fact in last if any(same_tree(fact.left, other.left) for other in met)]
    return [*(same or last), *met]


class Reasons(Generic[F]):
    """Prints facts in one dialect, each quantity with its number."""

    __slots__ = ("_dialect", "_shown", "_walker")

    def __init__(self, walker: Walker[F], shown: Shown) -> None:
        self._walker = walker
        self._dialect = walker.dialect
        self._shown = shown

    def line(self, facts: list[Fact]) -> F | None:
        """Return all facts as one line; None if there are none."""
        parts: list[F] = []
        place = 0
        while place < len(facts):
            pair = facts[place : place + 2]
            if len(pair) == 2 and _chain(*pair):
                parts.append(self._chained(*pair))
                place += 2
            else:
                parts.append(self._single(pair[0]))
                place += 1
        if not parts:
            return None
        return parts[0] if len(parts) == 1 else self._dialect.and_(parts)

    def stated(self, condition: Any) -> F:
        """Return a condition as it was asked, true or not, each quantity with its number."""
        op, args = condition.op, condition.args
        if op in _SIGN:
            return self._single(Fact(op, *args))
        if op == "between":
            x, low, high = args
            return self._chained(Fact("ge", x, low), Fact("le", x, high))
        if op in ("and", "or"):
            parts = [self.stated(part) for part in args]
            return self._dialect.and_(parts) if op == "and" else self._dialect.or_(parts)
        if op == "not":
            return self._dialect.not_(self._dialect.group(self.stated(args[0])))
        return self._walker.substitution(condition, self._shown)

    def _single(self, fact: Fact) -> F:
        if fact.op in ("is", "not"):
            sign = "=" if fact.op == "is" else "≠"
            symbol = self._dialect.sym(fact.left.symbol)
            return self._dialect.rel(symbol, [(sign, self._dialect.text(str(fact.right)))])
        info = _unit_for(fact)
        digits = self._digits(info, fact)
        first, *rest = self._side(fact.left, info, digits)
        right = self._side(fact.right, info, digits)
        chain = [("=", item) for item in rest]
        chain.append((_SIGN[fact.op], right[0]))
        chain += [("=", item) for item in right[1:]]
        return self._dialect.rel(first, chain)

    def _chained(self, low: Fact, high: Fact) -> F:
        """Return ``bound < value ≤ bound``."""
        info = _unit_for(high)
        digits = max(self._digits(info, low), self._digits(info, high))
        first, *rest = self._side(low.right, info, digits)
        chain = [("=", item) for item in rest]
        for op, node in ((_TURNED[low.op], low.left), (high.op, high.right)):
            head, *tail = self._side(node, info, digits)
            chain.append((_SIGN[op], head))
            chain += [("=", item) for item in tail]
        return self._dialect.rel(first, chain)

    def _side(self, node: Any, info: Any, digits: int) -> list[F]:
        number = self._number(node, info, digits)
        value = self._walker.value(number, info.text)
        if node.op in ("num", "qty", "unit"):
            return [value]
        return [self._walker.formula(node), value]

    def _number(self, node: Any, info: Any, digits: int) -> str:
        if node.op == "name" and digits == self._shown.digits:
            number, unit = self._shown.of(node)
            if unit == info.text:
                return number
        value = value_of(node, self._shown.numbers)
        if node.op == "num" or (node.op == "qty" and node.data[1] is info):
            return literal_text(node.data[1] if node.op == "num" else node.data[2])
        spell = short_number if node.op in ("name", "qty") else shown_text
        return spell(value / info.factor, digits)

    def _digits(self, info: Any, fact: Fact) -> int:
        """Return how many digits it takes for the numbers shown to bear the comparison out."""
        for digits in range(self._shown.digits, _MOST_DIGITS):
            left, right = (_read(self._number(x, info, digits)) for x in (fact.left, fact.right))
            if compare_values(fact.op, left, right):
                return digits
        return _MOST_DIGITS


def _read(text: str) -> float:
    above, _, below = text.replace(",", "").partition("/")
    return float(above) / float(below or 1)


def _chain(low: Fact, high: Fact) -> bool:
    """Tell whether two facts bound one quantity from both sides."""
    if low.op in ("is", "not") or high.op in ("is", "not") or not same_tree(low.left, high.left):
        return False
    return {low.op, high.op} in ({"gt", "le"}, {"gt", "lt"}, {"ge", "le"}, {"ge", "lt"})


def _unit_for(fact: Fact) -> Any:
    """Return the unit in which both sides are shown: that of the bound, else of what it bounds."""
    for node in (fact.right, fact.left):
        if node.op == "name":
            return node.info
        if node.op == "qty":
            return node.data[1]
    return display_unit(fact.right)
