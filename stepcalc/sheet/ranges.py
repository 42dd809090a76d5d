"""The range of application as source for the array programs."""

from __future__ import annotations

from typing import Any

from stepcalc.expr.code import CAREFUL, CodeWriter

__all__ = ["Ranges"]


class Ranges:
    """Writes, for records of a book, source that is true where they lie in their ranges.

    Attributes
    ----------
    lines : list of str
        One assignment ``r<slot> = ...`` for each record that has a range or follows from one.
    """

    def __init__(self, writer: CodeWriter, book: Any) -> None:
        self.writer = writer
        self.book = book
        self.lines: list[str] = []
        self._known: dict[int, str] = {}

    def of_slot(self, slot: int) -> str:
        """Return source for a record and all it follows from; ``lines`` must run before it."""
        for needed in self.book.ancestors({slot}):
            if needed not in self._known:
                self._known[needed] = self._named(needed)
        return self._known[slot] or "True"

    def _named(self, slot: int) -> str:
        text = _all(self._parts(self.book.entries[slot]))
        if not text or text.isidentifier():
            return text
        self.lines.append(f"r{slot} = {text}")
        return f"r{slot}"

    def _parts(self, entry: Any) -> list[str]:
        parts = []
        if entry.kind == "given" and entry.within is not None:
            parts += self._limits(entry)
        for condition in getattr(entry, "valid", ()):
            parts.append(self._truth(condition))
        formulas = (entry.expr,) if entry.kind == "step" else entry.operands()
        for formula in formulas:
            parts += self._of_formula(formula)
        return parts

    def _of_formula(self, node: Any) -> list[str]:
        parts = []
        pending = [node]
        while pending:
            node = pending.pop()
            if node.op == "name":
                parts.append(self._known[node.slot])
            elif node.op == "cases":
                parts.append(self._of_cases(node))
            else:
                pending += reversed(node.args)
        return [part for part in parts if part]

    def _of_cases(self, node: Any) -> str:
        text = _all(self._of_formula(node.args[-1])) or "True"
        for place in range(len(node.args) - 3, -1, -2):
            condition, value = node.args[place], node.args[place + 1]
            inside = _all(self._of_formula(value)) or "True"
            asked = self._of_formula(condition)
            if inside == text == "True":
                text = _all(asked) or "True"
            else:
                chosen = f"_choose({self._truth(condition)}, {inside}, {text})"
                text = _all([*asked, chosen])
        return "" if text == "True" else text

    def _truth(self, condition: Any) -> str:
        text = self.writer.condition(condition)
        return f"({text} == 1)" if self.writer.mode == CAREFUL else f"({text})"

    def _limits(self, entry: Any) -> list[str]:
        low, high = entry.within
        parts = []
        if low is not None:
            parts.append(f"(v{entry.slot} >= {low[0] - 1e-9 * abs(low[0])!r})")
        if high is not None:
            parts.append(f"(v{entry.slot} <= {high[0] + 1e-9 * abs(high[0])!r})")
        return parts


def _all(parts: list[str]) -> str:
    distinct = list(dict.fromkeys(parts))
    return f"_both({', '.join(distinct)})" if len(distinct) > 1 else "".join(distinct)
