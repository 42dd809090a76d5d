"""A variant for each student: the same sheet with other givens, the same for the same student.

The numbers come from SHA-256 over assignment, student and the instructor's salt, so that they do
not depend on a version of Python or on the machine, and nobody without the salt can foresee them.
"""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from stepcalc.errors import FormulaError, SolveError, StepcalcError
from stepcalc.sheet.quantities import base_value
from stepcalc.units.info import ONE
from stepcalc.units.registry import Q_

__all__ = ["Variant", "variant", "variants"]

_ATTEMPTS = 2_000


@dataclass(frozen=True, slots=True)
class Variant:
    """One student's sheet.

    Attributes
    ----------
    student : str
    code : str
        Eight characters that name the variant on its sheets; it does not tell the salt.
    sheet : Sheet
    changes : dict
        The givens that differ from the source sheet.
    """

    student: str
    code: str
    sheet: Any
    changes: dict[str, Any]


def variant(
    sheet: Any,
    student: str,
    ranges: Mapping[str, Any],
    *,
    assignment: str,
    salt: str,
    require: Callable[[Any], bool] | None = None,
) -> Variant:
    """Return the variant of one student.

    Parameters
    ----------
    sheet : Sheet
    student : str
        An identity that stays, such as a number of enrolment.
    ranges : mapping of a given to ``(low, high, step)`` or to a list of values
        Both ends belong to the range; a list may hold quantities, or texts of a choice.
    assignment, salt : str
        The salt is the instructor's secret; neither stands in the variant.
    require : function of a sheet that returns whether it will do, optional
        Draws are repeated until it does, such as ``lambda s: not s.passed``.

    Raises
    ------
    FormulaError
        If a range is empty, or the student or the salt is no text.
    SolveError
        If no draw meets the requirement.
    """
    return next(_draws(sheet, student, ranges, assignment, salt, require))


def variants(
    sheet: Any,
    students: Iterable[str],
    ranges: Mapping[str, Any],
    *,
    assignment: str,
    salt: str,
    require: Callable[[Any], bool] | None = None,
) -> dict[str, Variant]:
    """Return a variant for each student of a class, no two alike; see :func:`variant`.

    Students are served in alphabetical order, so that the order of the list does not matter.

    Raises
    ------
    SolveError
        If the ranges hold too few different variants for the class.
    """
    taken: set[str] = set()
    found = {}
    for student in sorted(set(students)):
        for draw in _draws(sheet, student, ranges, assignment, salt, require):
            key = repr(sorted((name, str(value)) for name, value in draw.changes.items()))
            if key not in taken:
                taken.add(key)
                found[student] = draw
                break
    return found


def _draws(
    sheet: Any,
    student: str,
    ranges: Mapping[str, Any],
    assignment: str,
    salt: str,
    require: Callable[[Any], bool] | None,
) -> Iterator[Variant]:
    """Yield the draws of a student that meet the requirement, in their order."""
    for words, name in ((student, "student"), (assignment, "assignment"), (salt, "salt")):
        if not isinstance(words, str) or not words.strip():
            message = f"the {name} is a text that is not empty, not {words!r}"
            raise FormulaError(message[:200])
    spaces = {name: _space(sheet, name, ranges[name]) for name in sorted(ranges)}
    for attempt in range(_ATTEMPTS):
        seed = "\0".join((assignment, student, salt, str(attempt)))
        changes = {
            name: values[_number(f"{seed}\0{name}", len(values))] for name, values in spaces.items()
        }
        drawn = sheet.revise(changes)
        if require is None or require(drawn):
            code = hashlib.sha256(f"{seed}\0code".encode()).hexdigest()[:8]
            yield Variant(student, code, drawn, changes)
    message = f"none of {_ATTEMPTS} draws for {student!r} will do; widen the ranges or ask for less"
    raise SolveError(message)


def _number(seed: str, below: int) -> int:
    return int.from_bytes(hashlib.sha256(seed.encode()).digest(), "big") % below


def _space(sheet: Any, name: str, choices: Any) -> Sequence[Any]:
    """Return all values that a given may take."""
    if isinstance(choices, tuple):
        if len(choices) != 3:
            message = f"the range of {name!r} has {len(choices)} items; want (low, high, step)"
            raise FormulaError(message)
        return _steps(sheet, name, choices)
    values = list(choices)
    if not values:
        message = f"the list of values of {name!r} is empty"
        raise FormulaError(message)
    return values


def _steps(sheet: Any, name: str, ends: tuple[Any, Any, Any]) -> list[Any]:
    node = sheet[name]
    info = node.sheet._typed_of(node.slot)[1]
    try:
        low, high, step = (
            base_value(end, info, f"the range of {name!r}")[2] / info.factor for end in ends
        )
    except StepcalcError as error:
        wanted = f"{node.shown} {info.text}".strip()
        raise type(error)(f"{error}; want low, high and step, each such as '{wanted}'") from error
    if step <= 0 or high < low:
        message = f"the range of {name!r} is empty: {low:g} to {high:g} by {step:g}"
        raise FormulaError(message)
    count = int((high - low) / step + 1e-9)  # the upper end belongs to the range
    numbers = [float(f"{low + k * step:.10g}") for k in range(count + 1)]
    whole = info is ONE and all(number == int(number) for number in (low, step))
    if info is ONE:
        return [int(number) for number in numbers] if whole else list(numbers)
    return [Q_(number, info.unit) for number in numbers]
