"""The handles that a sheet gives out: a given, a step, a check, bound to (sheet, slot).

A handle holds no value of its own: it reads the sheet's list of values, so that it follows a cell
that is run again.  All but checks and choices may stand in formulas.
"""

from __future__ import annotations

import operator
from collections.abc import Iterator
from typing import Any

from stepcalc.errors import UndefinedError, UnknownNameError
from stepcalc.expr.tree import Operand, register_operand
from stepcalc.expr.walk import Undefined, branch_taken
from stepcalc.sheet import ports
from stepcalc.sheet.check import Check
from stepcalc.sheet.choice import Choice
from stepcalc.units.numbers import shown_text, typed_measure, typed_text
from stepcalc.units.registry import Q_

__all__ = ["Check", "Choice", "Computed", "External", "Given", "Lookup", "Named", "Step", "handle"]


class Named(Operand):
    """Base of the named operands of a sheet.

    Attributes
    ----------
    sheet : Sheet
    slot : int
        Place in the sheet's list of values.
    name : str
    info : UnitInfo
        The unit in which the value is shown.
    """

    __slots__ = ()
    op = "name"
    args = ()
    data = None
    depth = 0
    sheet: Any
    slot: int
    name: str
    info: Any

    def __init__(self, sheet: Any, entry: Any) -> None:
        self.sheet = sheet
        self.slot = entry.slot  # type: ignore[misc]  # the slots are those of the concrete classes
        self.name = entry.name  # type: ignore[misc]
        info = self.info = entry.info
        self.dim = info.dim  # type: ignore[misc]
        self.mask = info.mask  # type: ignore[misc]

    @property
    def entry(self) -> Any:
        """The record that defines this node now."""
        entry = self.sheet._book.entries[self.slot]
        if entry is None:
            message = f"{self.name!r} is no longer defined; its cell was run without it"
            raise UnknownNameError(message)
        return entry

    @property
    def path(self) -> str:
        """Where the node stands: the titles of its parts and its name."""
        return self.entry.path  # type: ignore[no-any-return]

    @property
    def symbol(self) -> str:
        """The symbol as it is spelled in the trade, such as ``M_DC1``."""
        entry = self.sheet._book.entries[self.slot]
        # what is dropped still has its name in the formulas that go stale with it
        return self.name if entry is None else str(entry.symbol)

    @property
    def description(self) -> str:
        """What the quantity is, in words."""
        return getattr(self.entry, "description", "")

    @property
    def ref(self) -> str | None:
        """The clause or other source of the formula."""
        return getattr(self.entry, "ref", None)

    @property
    def base(self) -> float:
        """The value in base units (kip, inch, second); not a number when undefined."""
        return self.sheet._values[self.slot]  # type: ignore[no-any-return]

    @property
    def number(self) -> float:
        """The value in the unit in which it is shown."""
        number: float = self.base / self.info.factor
        return number

    @property
    def defined(self) -> bool:
        """Whether the node has a value for the present givens."""
        value = self.base
        return value == value

    @property
    def reason(self) -> str | None:
        """Why the node has no value; None when it has one."""
        return self.sheet._reason(self.slot)  # type: ignore[no-any-return]

    @property
    def value(self) -> Any:
        """The value as a quantity in the unit in which it is shown.

        Raises
        ------
        UndefinedError
            If the node has no value for the present givens.
        """
        number = self.sheet._values[self.slot]
        if number != number:
            message = f"{self.path!r} has no value for the present givens: {self.reason}"
            raise UndefinedError(message)
        info = self.info
        return Q_(number / info.factor, info.unit)

    @property
    def shown(self) -> str:
        """The number as it stands on the sheet, without its unit."""
        number = self.number
        if getattr(self.entry, "whole", False) and number == number:
            return typed_text(round(number))
        return shown_text(number, self.digits)

    @property
    def digits(self) -> int:
        """How many significant digits are shown."""
        digits: int = getattr(self.entry, "digits", None) or self.sheet.digits
        return digits

    @property
    def in_range(self) -> bool:
        """Whether this value and all it follows from lie in their ranges of application."""
        return self.sheet._in_range(self.slot)  # type: ignore[no-any-return]

    @property
    def warnings(self) -> list[str]:
        """What a reader must be told about this node: ranges left, stale, frozen."""
        return self.sheet._warnings(self.slot)  # type: ignore[no-any-return]

    def __reduce__(self) -> tuple[Any, ...]:
        return operator.getitem, (self.sheet, self.path)

    def same_name(self, other: Any) -> bool:
        """Say whether another handle names the same node."""
        return self.sheet is other.sheet and self.slot == other.slot

    def latex(self) -> str:
        """Return formula = substitution = result as LaTeX, without delimiters."""
        return ports.call("step_latex", self)  # type: ignore[no-any-return]

    def text(self) -> str:
        """Return the step as plain text: name = formula = substitution = result."""
        return ports.call("step_text", self)  # type: ignore[no-any-return]

    def _repr_mimebundle_(self, include: Any = None, exclude: Any = None) -> Any:
        return ports.call("node_bundle", self)

    def _ipython_display_(self) -> None:
        ports.call("display", ("node", self.sheet, self.entry))


class Given(Named):
    """A given quantity or number."""

    __slots__ = ("dim", "info", "mask", "name", "sheet", "slot")

    @property
    def typed(self) -> Any:
        """The magnitude as it was typed."""
        return self.sheet._typed_of(self.slot)[0]

    @property
    def value(self) -> Any:
        """The value as it was given."""
        typed, info = self.sheet._typed_of(self.slot)
        return Q_(typed if isinstance(typed, int | float) else float(typed), info.unit)

    @property
    def shown(self) -> str:
        """The number as it was typed."""
        typed, own = self.sheet._typed_of(self.slot)
        return typed_measure(typed, own.text)

    @property
    def source(self) -> str | None:
        """Where the value comes from."""
        return self.entry.source  # type: ignore[no-any-return]


class Step(Named):
    """A named formula with its value."""

    __slots__ = ("dim", "info", "mask", "name", "sheet", "slot")

    @property
    def expr(self) -> Any:
        """The formula as written."""
        return self.entry.expr

    @property
    def branch(self) -> str | None:
        """The label of the branch taken, when the formula is a ``cases``; None otherwise."""
        expr = self.entry.expr
        if expr.op != "cases":
            return None
        try:
            taken = branch_taken(expr, self.sheet._values)
        except Undefined:
            return None
        label = expr.data[taken]
        return label if label is not None else f"case {taken + 1}"


class Lookup(Named):
    """A value read in a table."""

    __slots__ = ("dim", "info", "mask", "name", "sheet", "slot")

    @property
    def shown(self) -> str:
        """The number as the table has it."""
        column, key = self.entry.column_values, self.sheet._row_of(self.entry)
        return typed_text(column[key])


class Computed(Named):
    """The result of a numerical procedure."""

    __slots__ = ("dim", "info", "mask", "name", "sheet", "slot")


class External(Named):
    """A value of another sheet, as it was when it was taken over."""

    __slots__ = ("dim", "info", "mask", "name", "sheet", "slot")

    @property
    def origin(self) -> str:
        """Where the value comes from, in words."""
        return f"{self.entry.origin}: {self.entry.origin_path}"


for _cls in (Given, Step, Lookup, Computed, External):
    register_operand(_cls)


_CLASSES: dict[str, Any] = {
    "step": Step, "lookup": Lookup, "computed": Computed, "external": External, "check": Check,
}  # fmt: skip


def handle(sheet: Any, entry: Any) -> Any:
    """Return the handle for a record of a sheet."""
    if entry.kind == "given":
        return Given(sheet, entry) if entry.choices is None else Choice(sheet, entry)
    return _CLASSES[entry.kind](sheet, entry)


def handles(sheet: Any, *kinds: str) -> Iterator[Any]:
    """Yield the handles of all records of these kinds, in the order of the sheet."""
    for entry in sheet._book.in_order():
        if entry.kind in kinds:
            yield handle(sheet, entry)
