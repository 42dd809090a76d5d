"""Operands of other sheets: taken over as a value that says where it comes from."""

from __future__ import annotations

import difflib
import itertools
from collections.abc import Mapping
from typing import Any

from stepcalc.errors import DimensionError, FormulaError, UnknownNameError
from stepcalc.expr.tree import as_operand
from stepcalc.expr.walk import names_in, with_names
from stepcalc.sheet.entries import ExternalEntry
from stepcalc.sheet.nodes import External, handle
from stepcalc.sheet.state import recompute
from stepcalc.units.info import read_unit

__all__ = ["adopt", "kernel_inputs", "substitute"]


def substitute(node: Any, replaced: Mapping[tuple[int, int], Any]) -> Any:
    """Return a tree in which named operands, keyed by (id of sheet, slot), are replaced."""
    return with_names(node, lambda name: replaced.get((id(name.sheet), name.slot), name))


def adopt(sheet: Any, formula: Any) -> Any:
    """Return the formula with every operand of another sheet taken over by this one.

    Raises
    ------
    FormulaError
        If an operand belongs to this sheet before or after a revision, or is a choice elsewhere.
    """
    wanted: dict[tuple[int, int], Any] = {}
    moved: dict[tuple[int, int], Any] = {}
    for name in names_in(formula):
        if name.sheet is sheet or (id(name.sheet), name.slot) in wanted:
            continue
        if _took_its_place(name.sheet, sheet):
            moved[id(name.sheet), name.slot] = _same_place(sheet, name)
            continue
        if name.sheet._family is sheet._family:
            message = (
                f"{name.name!r} belongs to a copy of this sheet with other givens; "
                f"use sheet[{name.name!r}] of the sheet that is written"
            )
            raise FormulaError(message)
        if name.sheet.title == sheet.title:
            message = (
                f"{name.name!r} belongs to another sheet that is titled {sheet.title!r} too; run "
                "the cell that defines it again, or give the sheets different titles"
            )
            raise FormulaError(message)
        if not hasattr(name, "info"):
            message = f"the choice {name.name!r} belongs to the sheet {name.sheet.title!r}"
            raise FormulaError(message)
        wanted[id(name.sheet), name.slot] = name
    # nothing is taken over before all of it may be
    replaced = moved | {key: _take_over(sheet, name) for key, name in wanted.items()}
    return substitute(formula, replaced) if replaced else formula


def _took_its_place(old: Any, sheet: Any) -> bool:
    """Say whether the cell of an old sheet ran again and made this one in its place."""
    while old is not None and old._family is not sheet._family:
        old = old._successor
    return old is not None and old._family is sheet._family and old is sheet


def _same_place(sheet: Any, name: Any) -> Any:
    """Return the node of the restarted sheet that stands where an old handle's node stood."""
    slot = sheet._book.by_path.get(name.path)
    found = None if slot is None else handle(sheet, sheet._book.entries[slot])
    if found is None or found.dim is not name.dim:
        message = (
            f"{name.name!r} belongs to the sheet {sheet.title!r} as it was before its cell ran "
            f"again; run the cell that defines {name.name!r} again"
        )
        raise FormulaError(message)
    return found


def _take_over(sheet: Any, name: Any) -> External:
    origin = name.sheet
    path = _free_path(sheet, origin, name.path)
    book = sheet._book
    slot = book.by_path.get(path)
    if slot is not None:
        if sheet._values[slot] != origin._values[name.slot]:
            sheet._values[slot] = origin._values[name.slot]
            recompute(sheet, slot)
        return External(sheet, book.entries[slot])
    value = origin._values[name.slot]
    entry = ExternalEntry(origin.title, name.path, name.symbol, name.info, value)
    hidden = book.root
    slot = len(book.entries)
    entry.place(name.name, path, hidden, slot, None)
    book.entries.append(entry)
    book.by_path[path] = slot
    book.foreign = True
    book.order = None
    book.programs = {}
    sheet._values.append(value)
    sheet._sources[path] = (origin, name.slot)
    return External(sheet, entry)


def _free_path(sheet: Any, origin: Any, path: str) -> str:
    """Return under which path a value of another sheet is kept; two sheets of one title differ."""
    wanted = f"{origin.title}::{path}"
    for count in itertools.count(2):
        source = sheet._sources.get(wanted)
        if wanted not in sheet._book.by_path or (
            source is not None and source[0]._family is origin._family
        ):
            return wanted
        wanted = f"{origin.title}::{path} ({count})"
    raise AssertionError


def kernel_inputs(
    sheet: Any, name: str, procedure: Any, inputs: Mapping[str, Any]
) -> dict[str, Any]:
    """Return the inputs of a numerical procedure as formulas of this sheet and fixed texts."""
    for argument in inputs:
        if argument not in procedure.inputs:
            near = difflib.get_close_matches(argument, procedure.inputs, 1)
            known = ", ".join(procedure.inputs)
            hint = f"; nearest: {near[0]!r}" if near else f"; it takes {known}"
            message = f"{name!r}: {procedure.id!r} has no input {argument!r}{hint}"
            raise UnknownNameError(message)
    missing = [argument for argument in procedure.inputs if argument not in inputs]
    if missing:
        message = f"{name!r}: {procedure.id!r} also wants {', '.join(missing)}"
        raise FormulaError(message)
    operands: dict[str, Any] = {}
    for argument, unit in procedure.inputs.items():
        value = inputs[argument]
        if unit == "choice" or (unit is None and isinstance(value, str)):
            operands[argument] = str(value)
            continue
        formula = as_operand(value)
        info = read_unit(unit)
        if formula.dim is not info.dim:
            message = (
                f"{name!r}: input {argument!r} of {procedure.id!r} is {info.dim.words}, but "
                f"{formula} is {formula.dim.words}"
            )
            raise DimensionError(message)
        operands[argument] = formula
    return {
        argument: value if isinstance(value, str) else adopt(sheet, value)
        for argument, value in operands.items()
    }
