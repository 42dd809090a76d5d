"""The file that says how a homework varies from student to student."""

from __future__ import annotations

import hashlib
import tomllib
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from stepcalc.classroom.answers import read_answer
from stepcalc.classroom.variants import Variant, variants
from stepcalc.errors import FormulaError
from stepcalc.units.registry import Q_

__all__ = ["VariantPlan", "class_variants", "read_variant_plan"]

_KEYS = frozenset(("assignment", "course", "ranges", "among", "failing"))
_EXAMPLE = 'want a table such as [ranges] with L = ["36 ft", "48 ft", "2 ft"]'


@dataclass(frozen=True, slots=True)
class VariantPlan:
    """What varies: ranges and lists by given, and the share of variants with a check N.G.

    ``failing`` is None where the outcome is left to the draw.
    """

    assignment: str
    course: str
    ranges: dict[str, Any]
    failing: float | None = None


def read_variant_plan(text: str) -> VariantPlan:
    r"""Return the plan of a TOML text.

    Parameters
    ----------
    text : str
        ``assignment`` and ``course``; ``[ranges]`` with ``[low, high, step]`` for a given,
        ``[among]`` with the values that it may take; ``failing``, a share from 0 to 1, forces
        that many variants to have a check that is N.G. and all others to have none.

    Raises
    ------
    FormulaError
        If the text is no TOML, or something in it does not fit.

    Examples
    --------
    >>> plan = read_variant_plan('assignment = "HW 3"\n[ranges]\nL = ["36 ft", "48 ft", "2 ft"]')
    >>> [f"{end:~P}" for end in plan.ranges["L"]]
    ['36.0 ft', '48.0 ft', '2.0 ft']
    """
    try:
        data = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise FormulaError(f"the plan of the variants is no TOML: {error}") from error
    unknown = sorted(set(data) - _KEYS)
    if unknown:
        raise FormulaError(f"the plan of the variants has {unknown[0]!r}; it takes {sorted(_KEYS)}")
    ranges: dict[str, Any] = {
        str(name): _range(name, ends) for name, ends in _table(data, "ranges").items()
    }
    for name, values in _table(data, "among").items():
        if not isinstance(values, list) or not values:
            raise FormulaError(f"among has {name} = {values!r}; want a list of values")
        ranges[str(name)] = [_value(value) for value in values]
    if not ranges:
        raise FormulaError(f"the plan of the variants varies nothing; {_EXAMPLE}")
    failing = data.get("failing")
    if failing is not None and (
        isinstance(failing, bool)
        or not isinstance(failing, (int, float))
        or not 0.0 <= failing <= 1.0
    ):
        raise FormulaError(f"failing is {failing!r}; want a share from 0 to 1")
    share = None if failing is None else float(failing)
    return VariantPlan(_text(data, "assignment"), _text(data, "course"), ranges, share)


def _table(data: Mapping[str, Any], key: str) -> Mapping[str, Any]:
    table = data.get(key, {})
    if not isinstance(table, Mapping):
        raise FormulaError(f"{key} of the plan of the variants is {table!r}; {_EXAMPLE}"[:300])
    return table


def _text(data: Mapping[str, Any], key: str) -> str:
    text = data.get(key, "")
    if not isinstance(text, str):
        raise FormulaError(f"{key} of the plan of the variants is {text!r}; want a text")
    return text


def _range(name: str, ends: Any) -> tuple[Any, ...]:
    if not isinstance(ends, list) or len(ends) != 3:
        raise FormulaError(f"ranges has {name} = {ends!r}; want [low, high, step]"[:300])
    values = tuple(map(_value, ends))
    if any(isinstance(value, str) for value in values):
        raise FormulaError(f"ranges has {name} = {ends!r}; want quantities such as '36 ft'"[:300])
    return values


def _value(value: Any) -> Any:
    """Return a number, a quantity, or the text itself where it is neither."""
    if not isinstance(value, str):
        return value
    read = read_answer(value)
    if read.number is None or read.problem:
        return value
    return read.number if read.info is None else Q_(read.number, read.info.unit)


def class_variants(
    sheet: Any, students: Iterable[str], plan: VariantPlan, *, salt: str
) -> dict[str, Variant]:
    """Return the variant of each student of a class, no two alike.

    Parameters
    ----------
    sheet : Sheet
    students : iterable of str
    plan : VariantPlan
    salt : str
        The instructor's secret.

    Raises
    ------
    SolveError
        If the ranges hold too few variants, or none with the outcome that is wanted.
    """
    groups: dict[bool | None, list[str]] = {}
    for student in students:
        groups.setdefault(_fails(student, plan, salt), []).append(student)
    requirements: dict[bool | None, Callable[[Any], bool] | None] = {
        None: None,
        True: lambda drawn: not drawn.passed,
        False: lambda drawn: bool(drawn.passed),
    }
    found: dict[str, Variant] = {}
    for fails, names in groups.items():
        found |= variants(
            sheet, names, plan.ranges, assignment=plan.assignment or "homework", salt=salt,
            require=requirements[fails],
        )  # fmt: skip
    return dict(sorted(found.items()))


def _fails(student: str, plan: VariantPlan, salt: str) -> bool | None:
    """Say whether a student's variant is to have a check N.G.; None where it does not matter."""
    if plan.failing is None:
        return None
    seed = "\0".join((plan.assignment, student, salt, "outcome"))
    drawn = int.from_bytes(hashlib.sha256(seed.encode()).digest()[:4], "big") / 2**32
    return drawn < plan.failing
