"""Comparisons of operands and their combinations, as written."""

from __future__ import annotations

from typing import Any, NoReturn

from stepcalc.errors import FormulaError
from stepcalc.expr.refusals import MAX_DEPTH, TOO_DEEP
from stepcalc.expr.sameness import same_tree

__all__ = ["Condition"]


class Condition:
    """A comparison of operands, or a combination of comparisons; never true or false by itself."""

    __slots__ = ("args", "data", "depth", "mask", "op")

    def __init__(self, op: str, args: tuple[Any, ...], data: Any = None) -> None:
        self.op = op
        self.args = args
        self.data = data
        self.mask = 0
        depth = 0
        for arg in args:
            self.mask |= arg.mask
            depth = max(depth, arg.depth + 1)
        self.depth = depth
        if depth > MAX_DEPTH:
            raise FormulaError(TOO_DEEP)

    def __bool__(self) -> NoReturn:
        message = (
            f"{self} is a comparison and is neither true nor false while it is written; use it in"
            " cases(...), sheet.check(...) or step(valid=...), between(x, low, high) or all_of(...)"
            " in place of a chain or of 'and', minimum or maximum in place of min or max"
        )
        raise FormulaError(message)

    def __repr__(self) -> str:
        from stepcalc.expr.source import source

        return source(self)

    def same_as(self, other: Any) -> bool:
        """Say whether two conditions are the same in structure, order, literals and names."""
        return same_tree(self, other)

    def __and__(self, other: Any) -> Condition:
        from stepcalc.expr.functions import all_of

        return all_of(self, other)

    def __or__(self, other: Any) -> Condition:
        from stepcalc.expr.functions import any_of

        return any_of(self, other)

    def __invert__(self) -> Condition:
        from stepcalc.expr.functions import not_

        return not_(self)
