"""Revision: the same sheet with other givens, by running the compiled program."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

from stepcalc.errors import FormulaError, FrozenError
from stepcalc.sheet import state
from stepcalc.sheet.program import scalar_program
from stepcalc.sheet.quantities import base_value
from stepcalc.sheet.writing import option_of

__all__ = ["full_precision", "given_slot", "recalculate", "revise", "twin"]


def twin(sheet: Any) -> Any:
    """Return a sheet that shares everything but its values."""
    new = object.__new__(type(sheet))
    new.__dict__.update(sheet.__dict__)
    sheet._book.shared = True
    return new


def given_slot(sheet: Any, name: str) -> int:
    """Return the slot of a given by name or path.

    Raises
    ------
    FormulaError
        If the name stands for something that is not given.
    """
    entry = sheet._book.find(name)
    if entry.kind != "given":
        where = f"the sheet {sheet.title!r}"
        message = f"{name!r} is a {entry.kind} of {where}; only givens can be changed"
        raise FormulaError(message)
    return entry.slot  # type: ignore[no-any-return]


def revise(sheet: Any, changes: Mapping[str, Any] | None, by_name: Mapping[str, Any]) -> Any:
    """Return a new sheet with other values of givens; see :meth:`Sheet.revise`."""
    if changes:
        by_name = {**changes, **by_name}
    refuse_frozen(sheet)
    values = sheet._values.copy()
    typed = sheet._typed.copy()
    for name, value in by_name.items():
        slot = given_slot(sheet, name)
        entry = sheet._book.entries[slot]
        if entry.choices is not None:
            row = option_of(entry, value)
            names = getattr(entry.choices, "names", entry.choices)
            values[slot], typed[slot] = row, (names[row], entry.info)
        else:
            number, info, values[slot] = base_value(value, entry.info, f"given {name!r}")
            typed[slot] = (number, info)
    new = twin(sheet)
    new._typed = typed
    new._values = recalculate(sheet, values)
    return new


def refuse_frozen(sheet: Any) -> None:
    """Refuse to compute anew when a procedure or table of the sheet is not known here."""
    for entry in sheet._book.entries:
        if entry is not None and entry.kind == "computed" and entry.kernel is None:
            message = (
                f"{entry.path!r} was computed by {entry.kernel_id!r}, version {entry.version}, "
                "which is not known here; the sheet shows its stored value but cannot be revised"
            )
            raise FrozenError(message)
        if entry is not None and entry.kind == "lookup" and entry.frozen:
            message = (
                f"{entry.path!r} was read in another edition of {entry.title!r}; the sheet shows "
                "the stored value but cannot be revised"
            )
            raise FrozenError(message)


def recalculate(sheet: Any, values: list[float]) -> list[float]:
    """Return all values of a sheet for the given ones in ``values``."""
    book = sheet._book
    program = book.programs.get((sheet.carry, sheet.digits))
    if program is None:
        program = book.programs[sheet.carry, sheet.digits] = scalar_program(sheet)
    try:
        result = program(values)
        if math.isfinite(sum(result)):
            return result  # type: ignore[no-any-return]
    except (ArithmeticError, ValueError):
        pass
    return _step_by_step(sheet, values)


def _step_by_step(sheet: Any, values: list[float]) -> list[float]:
    """Return all values by the walk, undefined ones as not-a-number."""
    scratch = twin(sheet)
    scratch._values = values
    stale = sheet._book.stale
    for slot in sheet._book.sorted_slots():
        entry = sheet._book.entries[slot]
        if entry.kind in ("given", "external"):
            continue
        values[slot] = math.nan if slot in stale else state.value_in(scratch, entry)[0]
    return values


def full_precision(sheet: Any) -> list[float]:
    """Return all values of a sheet with full precision carried."""
    exact = twin(sheet)
    exact.carry = "full"
    return recalculate(exact, sheet._values.copy())
