"""Sheets joined into one graph, so that evaluation and solving reach across them."""

from __future__ import annotations

import copy
from collections.abc import Sequence
from typing import Any

from stepcalc.errors import FormulaError
from stepcalc.expr.walk import with_names
from stepcalc.sheet.nodes import Choice, handle

__all__ = ["in_order", "merged"]


def in_order(sheets: Sequence[Any]) -> list[Any]:
    """Return the sheets so that each follows those whose values it takes.

    Raises
    ------
    FormulaError
        If two take values from each other.
    """
    by_id = {id(sheet): sheet for sheet in sheets}
    by_family = {id(sheet._family): sheet for sheet in sheets}
    done: dict[int, bool] = {}
    order: list[Any] = []

    def visit(sheet: Any) -> None:
        state = done.get(id(sheet))
        if state is False:
            message = f"the sheet {sheet.title!r} takes values from one that takes values from it"
            raise FormulaError(message)
        if state:
            return
        done[id(sheet)] = False
        for origin, _ in sheet._sources.values():
            member = by_id.get(id(origin)) or by_family.get(id(origin._family))
            if member is not None:
                visit(member)
        done[id(sheet)] = True
        order.append(sheet)

    for sheet in sheets:
        visit(sheet)
    return order


def merged(sheets: Sequence[Any]) -> Any:
    """Return one sheet with a part for each of the sheets, in which their graph is whole."""
    from stepcalc.sheet.sheet import Sheet

    whole = Sheet("package")
    titles = [sheet.title for sheet in sheets]
    if len(set(titles)) < len(titles):
        twice = next(title for title in titles if titles.count(title) > 1)
        message = f"two sheets of the package are titled {twice!r}; give each a title of its own"
        raise FormulaError(message)
    if len({sheet.carry for sheet in sheets}) > 1:
        message = "some sheets of the package carry full values and some the shown ones; choose one"
        raise FormulaError(message)
    places: dict[tuple[int, int], int] = {}
    for sheet in in_order(sheets):
        for slot in sheet._book.sorted_slots():
            entry = sheet._book.entries[slot]
            source = sheet._sources.get(entry.path) if entry.kind == "external" else None
            if source is not None and (id(source[0]), source[1]) in places:
                places[id(sheet), slot] = places[id(source[0]), source[1]]
            else:
                places[id(sheet), slot] = _take_in(whole, sheet, entry, places)
    return whole


def _take_in(whole: Any, sheet: Any, entry: Any, places: dict[tuple[int, int], int]) -> int:
    book = whole._book
    new = copy.copy(entry)

    def moved(node: Any) -> Any:
        if isinstance(node, str):
            return node
        return with_names(
            node, lambda name: handle(whole, book.entries[places[id(sheet), name.slot]])
        )

    if entry.kind == "step":
        new.expr, new.valid = moved(entry.expr), tuple(moved(item) for item in entry.valid)
        new.digits = entry.digits or sheet.digits
    elif entry.kind == "check":
        new.demand, new.capacity = moved(entry.demand), moved(entry.capacity)
        new.condition = moved(entry.condition)
    elif entry.kind == "lookup" and isinstance(entry.key, Choice):
        new.key = moved(entry.key)
    elif entry.kind == "computed":
        new.inputs = {name: moved(value) for name, value in entry.inputs.items()}
    slot = len(book.entries)
    path = f"{sheet.title}/{entry.path}"
    new.place(entry.name, path, book.root, slot, None)
    book.entries.append(new)
    book.by_path[path] = slot
    book.by_name.setdefault(entry.name, []).append(slot)
    book.root.blocks.append(new)
    whole._values.append(sheet._values[entry.slot])
    if entry.slot in sheet._typed:
        whole._typed[slot] = sheet._typed[entry.slot]
    book.foreign = book.foreign or entry.kind == "external"
    if sheet.carry == "shown":
        whole.carry = "shown"
    return slot
