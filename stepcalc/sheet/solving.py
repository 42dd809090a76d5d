"""The value of a given at which a check is just met, and how a check reacts to every given."""

from __future__ import annotations

import math
import warnings
from collections.abc import Callable
from typing import Any

import numpy as np

from stepcalc.errors import SolveError, StepcalcError
from stepcalc.sheet.evaluation import given_slot, recalculate, refuse_frozen
from stepcalc.sheet.quantities import base_value
from stepcalc.units.registry import Q_

__all__ = ["Sensitivity", "SolveWarning", "sensitivity", "solve"]

_POINTS = 241
_LIMIT = 1.0 + 1e-9


class SolveWarning(UserWarning):
    """Said when a solution is the edge of a jump, not a point at which D/C = 1."""


def solve(sheet: Any, name: str, check: str | None, within: Any) -> Any:
    """Return the value of a given at which D/C = 1; see :meth:`Sheet.solve`.

    The range is scanned for changes of the verdict, the one nearest to the present value is
    refined by bisection, and the passing side is returned after a full run.

    Raises
    ------
    SolveError
        If the check does not depend on the given, or its verdict does not change in the range.
    """
    refuse_frozen(sheet)
    slot = given_slot(sheet, name)
    entry = sheet._book.entries[slot]
    if entry.choices is not None:
        message = f"{name!r} is a choice of a text; solve wants a given with a number"
        raise SolveError(message)
    checks = _checks(sheet, check)
    ratio = _ratio_function(sheet, slot, checks)
    label = " and ".join(repr(sheet._book.entries[item].name) for item in checks[:3])
    if not any(slot in sheet._book.ancestors({item}) for item in checks):
        message = f"the check {label} does not depend on {name!r}; solve for a given that enters it"
        raise SolveError(message)
    low, high = _range(sheet, entry, within)
    start = sheet._values[slot]
    crossing = _nearest_change(ratio, _scan(low, high, start), start)
    if crossing is None:
        state = "passes" if ratio(start) <= _LIMIT else "is N.G."
        message = (
            f"the check {label} {state} for every {name!r} from {_text(low, entry)} to "
            f"{_text(high, entry)} that was tried; give another range by within=(low, high)"
        )
        raise SolveError(message)
    passing, failing = _bisect(ratio, *crossing)
    if abs(ratio(failing) - ratio(passing)) > 1e-6:
        message = (
            f"at {name} = {_text(passing, entry)} the ratio of {label} jumps from "
            f"{ratio(passing):.4f} to {ratio(failing):.4f}; the passing edge is returned"
        )
        warnings.warn(message, SolveWarning, stacklevel=3)
    info = entry.info
    found = Q_(_still_passing(ratio, passing, info.factor), info.unit)
    found.explained_by = lambda: sheet.rearrange(name, check=check)
    return found


def _checks(sheet: Any, check: str | None) -> list[int]:
    if check is None:
        slots = [item.slot for item in sheet.checks]
        if not slots:
            message = f"the sheet {sheet.title!r} has no check to solve for"
            raise SolveError(message)
        return slots
    entry = sheet._book.find(check)
    if entry.kind != "check":
        message = f"{check!r} is a {entry.kind}, not a check"
        raise SolveError(message)
    return [entry.slot]


def _ratio_function(sheet: Any, slot: int, checks: list[int]) -> Callable[[float], float]:
    def ratio(base: float) -> float:
        values = sheet._values.copy()
        values[slot] = base
        result = recalculate(sheet, values)
        found = [result[item] for item in checks]
        return math.inf if any(x != x for x in found) else max(found)

    return ratio


def _range(sheet: Any, entry: Any, within: Any) -> tuple[float, float]:
    if within is None and entry.within is not None and None not in entry.within:
        return entry.within[0][0], entry.within[1][0]
    if within is not None:
        try:
            low, high = within
        except (TypeError, ValueError):
            message = f"within is a pair (low, high) of values of {entry.name!r}, not {within!r}"
            raise SolveError(message) from None
        what = f"a limit for {entry.name!r}"
        ends = [base_value(end, entry.info, what)[2] for end in (low, high)]
        if not ends[0] < ends[1]:
            message = f"within for {entry.name!r} wants the smaller value first"
            raise SolveError(message)
        return ends[0], ends[1]
    start = sheet._values[entry.slot]
    if start == 0.0:
        message = f"{entry.name!r} is zero now; say where to look by within=(low, high)"
        raise SolveError(message)
    return (start / 20, start * 20) if start > 0 else (start * 20, start / 20)


def _scan(low: float, high: float, start: float) -> list[float]:
    if low > 0:
        points = list(np.geomspace(low, high, _POINTS))
    elif high < 0:
        points = list(-np.geomspace(-high, -low, _POINTS))[::-1]
    else:
        points = list(np.linspace(low, high, _POINTS))
    points[0], points[-1] = low, high
    if low <= start <= high:
        points = sorted({*points, start})
    return [float(point) for point in points]


def _nearest_change(
    ratio: Callable[[float], float], points: list[float], start: float
) -> tuple[float, float] | None:
    states = [ratio(point) <= _LIMIT for point in points]
    changes = [
        (points[k], points[k + 1]) if states[k] else (points[k + 1], points[k])
        for k in range(len(points) - 1)
        if states[k] != states[k + 1]
    ]
    return min(changes, key=lambda pair: abs(sum(pair) / 2 - start)) if changes else None


def _bisect(ratio: Callable[[float], float], passing: float, failing: float) -> tuple[float, float]:
    """Return the two neighbouring numbers between which the verdict changes."""
    for _ in range(200):
        middle = (passing + failing) / 2
        if middle in (passing, failing):
            break
        if ratio(middle) <= 1.0:
            passing = middle
        else:
            failing = middle
    return passing, failing


def _still_passing(ratio: Callable[[float], float], base: float, factor: float) -> float:
    """Return the number in the given's unit that comes back to a passing base value."""
    number = base / factor
    for candidate in (number, math.nextafter(number, 0.0), math.nextafter(number, math.inf)):
        if ratio(candidate * factor) <= _LIMIT:
            return candidate
    message = "the value found does not pass when it is entered in the unit of the given"
    raise SolveError(message)


def _text(base: float, entry: Any) -> str:
    return f"{base / entry.info.factor:.4g} {entry.info.text}".strip()


class Sensitivity(float):
    """The change of D/C for an increase of a given by 1 %; ``note`` says what is special."""

    note: str

    def __new__(cls, value: float, note: str = "") -> Sensitivity:
        """Make the number with its note."""
        new = super().__new__(cls, value)
        new.note = note
        return new

    def __reduce__(self) -> tuple[Any, ...]:
        return Sensitivity, (float(self), self.note)


def sensitivity(sheet: Any, check: str) -> dict[str, Sensitivity]:
    """Return the change of D/C per 1 % of every given; see :meth:`Sheet.sensitivity`.

    The step is taken to both sides; where the two slopes differ there is a kink, which is said.

    Raises
    ------
    UnknownNameError
        If there is no such check.
    StepcalcError
        If the check has no ratio now.
    """
    refuse_frozen(sheet)
    (item,) = _checks(sheet, check)
    now = sheet._values[item]
    if now != now:
        message = f"the check {check!r} has no ratio now: {sheet._reason(item)}"
        raise StepcalcError(message)
    found: dict[str, Sensitivity] = {}
    for given in sheet.givens:
        entry = given.entry
        name = entry.name if len(sheet._book.by_name[entry.name]) == 1 else entry.path
        found[name] = _slope(sheet, entry, item, now)
    return found


def _slope(sheet: Any, entry: Any, item: int, now: float) -> Sensitivity:
    if entry.choices is not None:
        return Sensitivity(0.0, "a choice of a text: it has no slope; try other choices")
    base = sheet._values[entry.slot]
    if base == 0.0:
        return Sensitivity(0.0, "zero now, so 1 % of it is nothing")
    ratio = _ratio_function(sheet, entry.slot, [item])
    up, down = ratio(base * 1.01) - now, now - ratio(base * 0.99)
    notes = []
    if not math.isfinite(up) or not math.isfinite(down):
        return Sensitivity(math.nan, "within 1 % the check has no ratio")
    if abs(up - down) > 0.05 * max(abs(up), abs(down)) and max(abs(up), abs(down)) > 1e-9:
        notes.append(f"a kink: {up:+.4g} upward, {-down:+.4g} downward")
    if isinstance(sheet._typed_of(entry.slot)[0], int) and entry.info.text == "":
        notes.append("a whole number: the next one may matter more than 1 %")
    return Sensitivity((up + down) / 2, "; ".join(notes))
