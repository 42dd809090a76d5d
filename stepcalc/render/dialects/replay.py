"""A stored layout, spelled in any dialect."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, TypeVar

from stepcalc.render.dialects.base import Dialect, Layout
from stepcalc.render.dialects.vocabulary import check_layout

F = TypeVar("F")
_Again = Callable[[Layout], Any]

_SPELL: dict[str, Callable[[Layout, Dialect[Any], _Again], Any]] = {
    "sym": lambda x, d, again: d.sym(x[1]),
    "num": lambda x, d, again: d.num(x[1]),
    "unit": lambda x, d, again: d.unit(x[1]),
    "qty": lambda x, d, again: d.qty(x[1], x[2]),
    "text": lambda x, d, again: d.text(x[1]),
    "op": lambda x, d, again: d.op(x[1]),
    "mul": lambda x, d, again: d.mul([again(i) for i in x[1]]),
    "add": lambda x, d, again: d.add([(sign, again(i)) for sign, i in x[1]]),
    "frac": lambda x, d, again: d.frac(again(x[1]), again(x[2])),
    "pow": lambda x, d, again: d.pow(again(x[1]), again(x[2])),
    "sqrt": lambda x, d, again: d.sqrt(again(x[1])),
    "root": lambda x, d, again: d.root(again(x[1]), again(x[2])),
    "group": lambda x, d, again: d.group(again(x[1])),
    "abs": lambda x, d, again: d.abs(again(x[1])),
    "floor": lambda x, d, again: d.floor(again(x[1])),
    "ceil": lambda x, d, again: d.ceil(again(x[1])),
    "call": lambda x, d, again: d.call(x[1], [again(i) for i in x[2]]),
    "rel": lambda x, d, again: d.rel(again(x[1]), [(sign, again(i)) for sign, i in x[2]]),
    "and": lambda x, d, again: d.and_([again(i) for i in x[1]]),
    "or": lambda x, d, again: d.or_([again(i) for i in x[1]]),
    "not": lambda x, d, again: d.not_(again(x[1])),
    "cases": lambda x, d, again: d.cases(
        [(again(v), _maybe(c, again), _maybe(n, again)) for v, c, n in x[1]]
    ),
    "row": lambda x, d, again: d.row([again(i) for i in x[1]]),
    "box": lambda x, d, again: d.box(again(x[1])),
    "sub": lambda x, d, again: d.sub(again(x[1]), again(x[2])),
    "subsup": lambda x, d, again: d.subsup(again(x[1]), again(x[2]), again(x[3])),
    "sum": lambda x, d, again: d.sum(_maybe(x[1], again), _maybe(x[2], again), again(x[3])),
    "accent": lambda x, d, again: d.accent(x[1], again(x[2])),
}


def _maybe(layout: Layout | None, again: _Again) -> Any:
    return None if layout is None else again(layout)


def replay(layout: Layout, dialect: Dialect[F]) -> F:
    """Return a layout in a dialect's spelling.

    Parameters
    ----------
    layout : list
        See :mod:`stepcalc.render.dialects.vocabulary`; it is checked first.
    dialect : Dialect
        For example ``dialect("latex")``.

    Returns
    -------
    fragment
        What the dialect's methods return.

    Raises
    ------
    LayoutError
        If the layout is not well formed.
    """
    check_layout(layout)
    return spell(layout, dialect)


def spell(layout: Layout, dialect: Dialect[F]) -> F:
    """Return a layout in a dialect's spelling, unchecked: for layouts made here or read already."""

    def again(inner: Layout) -> Any:
        return _SPELL[inner[0]](inner, dialect, again)

    fragment: F = again(layout)
    return fragment
