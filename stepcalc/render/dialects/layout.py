# ruff: noqa: D102  # Dialect says what each method returns
"""The dialect that returns the layout itself: what documents and notebooks store."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from stepcalc.render.dialects.base import Dialect, Layout


class LayoutDialect(Dialect[Layout]):
    """Returns each part as its nested list, safe for JSON."""

    name = "layout"

    def sym(self, spelling: str) -> Layout:
        return ["sym", spelling]

    def num(self, number: str) -> Layout:
        return ["num", number]

    def unit(self, unit: str) -> Layout:
        return ["unit", unit]

    def qty(self, number: str, unit: str) -> Layout:
        return ["qty", number, unit]

    def text(self, text: str) -> Layout:
        return ["text", text]

    def op(self, sign: str) -> Layout:
        return ["op", sign]

    def mul(self, items: Sequence[Layout]) -> Layout:
        return ["mul", list(items)]

    def add(self, terms: Sequence[tuple[str, Layout]]) -> Layout:
        return ["add", [[sign, term] for sign, term in terms]]

    def frac(self, over: Layout, under: Layout) -> Layout:
        return ["frac", over, under]

    def pow(self, base: Layout, exponent: Layout) -> Layout:
        return ["pow", base, exponent]

    def sqrt(self, inside: Layout) -> Layout:
        return ["sqrt", inside]

    def root(self, degree: Layout, inside: Layout) -> Layout:
        return ["root", degree, inside]

    def group(self, inside: Layout) -> Layout:
        return ["group", inside]

    def abs(self, inside: Layout) -> Layout:
        return ["abs", inside]

    def floor(self, inside: Layout) -> Layout:
        return ["floor", inside]

    def ceil(self, inside: Layout) -> Layout:
        return ["ceil", inside]

    def call(self, function: str, arguments: Sequence[Layout]) -> Layout:
        return ["call", function, list(arguments)]

    def rel(self, left: Layout, rest: Sequence[tuple[str, Layout]]) -> Layout:
        return ["rel", left, [[sign, right] for sign, right in rest]]

    def and_(self, items: Sequence[Layout]) -> Layout:
        return ["and", list(items)]

    def or_(self, items: Sequence[Layout]) -> Layout:
        return ["or", list(items)]

    def not_(self, inside: Layout) -> Layout:
        return ["not", inside]

    def cases(self, rows: Sequence[tuple[Layout, Layout | None, Layout | None]]) -> Layout:
        return ["cases", [list(row) for row in rows]]

    def row(self, items: Sequence[Layout]) -> Layout:
        return ["row", list(items)]

    def box(self, inside: Layout) -> Layout:
        return ["box", inside]

    def sub(self, base: Layout, lower: Layout) -> Layout:
        return ["sub", base, lower]

    def subsup(self, base: Layout, lower: Layout, upper: Layout) -> Layout:
        return ["subsup", base, lower, upper]

    def sum(self, lower: Layout | None, upper: Layout | None, body: Layout) -> Layout:
        return ["sum", lower, upper, body]

    def accent(self, mark: str, base: Layout) -> Layout:
        return ["accent", mark, base]


def break_at_terms(layout: Layout) -> list[Any]:
    """Split a sum, a product or the sides of a row so that a long line can be broken.

    Parameters
    ----------
    layout : list
        Any layout.

    Returns
    -------
    list of layouts
        One per term of a top-level sum, each later one beginning with its sign as an ``op``;
        a layout that is no sum comes back alone.
    """
    if layout[0] != "add":
        return [layout]
    pieces: list[Layout] = []
    for place, (sign, term) in enumerate(layout[1]):
        if place == 0:
            pieces.append(term if sign != "-" else ["add", [["-", term]]])
        else:
            pieces.append(["row", [["op", sign or "+"], term]])
    return pieces
