"""The range of application as source for the array programs."""

from __future__ import annotations

from typing import Any

from stepcalc.expr.code import CAREFUL, CodeWriter

__all__ = ["source"]


def source(writer: CodeWriter, book: Any, slot: int) -> str:
    """Return source that is true where a record and all it follows from lie in their ranges."""
    return _Ranges(writer, book).of_slot(slot) or "True"


class _Ranges:
    def __init__(self, writer: CodeWriter, book: Any) -> None:
        self.writer = writer
        self.book = book
        self.known: dict[int, str] = {}

    def of_slot(self, slot: int) -> str:
        known = self.known.get(slot)
        if known is not None:
            return known
        self.known[slot] = ""
        entry = self.book.entries[slot]
        parts = []
        if entry.kind == "given" and entry.within is not None:
            parts += self._limits(entry)
        for condition in getattr(entry, "valid", ()):
            parts.append(self._truth(condition))
        formulas = (entry.expr,) if entry.kind == "step" else entry.operands()
        parts += [text for text in map(self.of_formula, formulas) if text]
        self.known[slot] = text = _all(parts)
        return text

    def of_formula(self, node: Any) -> str:
        if node.op == "name":
            return self.of_slot(node.slot)
        if node.op != "cases":
            return _all([text for text in map(self.of_formula, node.args) if text])
        text = self.of_formula(node.args[-1]) or "True"
        for place in range(len(node.args) - 3, -1, -2):
            condition, value = node.args[place], node.args[place + 1]
            inside = self.of_formula(value) or "True"
            asked = self.of_formula(condition) or "True"
            if inside == text == "True":
                text = asked
            else:
                chosen = f"_choose({self._truth(condition)}, {inside}, {text})"
                text = chosen if asked == "True" else _all([asked, chosen])
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
    text = ""
    for part in dict.fromkeys(parts):
        text = f"_both({text}, {part})" if text else part
    return text
