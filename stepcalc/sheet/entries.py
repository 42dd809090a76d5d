"""What a sheet holds: one record for each given, step, check, note and so on.

Records are made once and never changed afterwards; a cell that is run again makes new ones.
Those with a number own a *slot*, their place in the sheet's list of values.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from stepcalc.units.info import ONE

if TYPE_CHECKING:
    from stepcalc.units.info import UnitInfo
    from stepcalc.units.numbers import Typed

__all__ = [
    "CheckEntry", "ComputedEntry", "ConclusionEntry", "Entry", "ExternalEntry", "FigureEntry",
    "GivenEntry", "LookupEntry", "NoteEntry", "Part", "StepEntry", "TableEntry",
]  # fmt: skip


class Entry:
    """Base of the records: where it stands and which cell made it."""

    __slots__ = ("cell", "name", "part", "path", "slot")
    kind = ""
    name: str
    path: str
    slot: int
    part: Part
    cell: Any

    def place(self, name: str, path: str, part: Part, slot: int, cell: Any) -> None:
        """Say where the record stands; called once by the book that takes it up."""
        self.name = name
        self.path = path
        self.part = part
        self.slot = slot
        self.cell = cell

    def operands(self) -> tuple[Any, ...]:
        """Return the formulas and conditions from which the value follows."""
        return ()


class Part:
    """A numbered heading and what stands below it.

    In a part with `tables_only` the lines of givens, steps and look-ups are not printed, nor those
    of the parts below it: its tables hold what a reader needs of them.
    """

    __slots__ = ("blocks", "level", "parent", "path", "tables_only", "title")

    def __init__(self, title: str, parent: Part | None, tables_only: bool = False) -> None:
        self.title = title
        self.tables_only = tables_only
        self.parent: Part | None = parent
        self.level: int = 0 if parent is None else parent.level + 1
        above = "" if parent is None or not parent.path else parent.path + "/"
        self.path: str = "" if parent is None else above + title
        self.blocks: list[Entry | Part] = []

    def child(self, title: str) -> Part:
        """Return the part of this title below this one, which is made when there is none."""
        for block in self.blocks:
            if isinstance(block, Part) and block.title == title:
                return block
        part = Part(title, self)
        self.blocks.append(part)
        return part

    @property
    def number(self) -> str:
        """The number of the heading, such as ``2.1``; empty for the sheet itself."""
        if self.parent is None:
            return ""
        parts = [block for block in self.parent.blocks if isinstance(block, Part)]
        own = next(place for place, part in enumerate(parts, 1) if part is self)
        above = self.parent.number
        return f"{above}.{own}" if above else str(own)


class GivenEntry(Entry):
    """A given quantity, number, or choice of a text."""

    __slots__ = ("assumed", "choices", "description", "info", "source", "symbol", "typed", "within")
    kind = "given"

    def __init__(
        self,
        typed: Typed | str,
        info: UnitInfo,
        description: str,
        source: str | None,
        assumed: str | None,
        within: tuple[Any, Any] | None,
        choices: Any,
        symbol: str,
    ) -> None:
        self.typed = typed
        self.info = info
        self.description = description
        self.source = source
        self.assumed = assumed
        self.within = within
        self.choices = choices
        self.symbol = symbol


class ExternalEntry(Entry):
    """A value taken from another sheet."""

    __slots__ = ("info", "origin", "origin_path", "symbol", "value")
    kind = "external"

    def __init__(
        self, origin: str, origin_path: str, symbol: str, info: UnitInfo, value: float
    ) -> None:
        self.origin = origin
        self.origin_path = origin_path
        self.symbol = symbol
        self.info = info
        self.value = value


_COUNTS = frozenset(("floor", "ceil", "cases", "name", "num", "min", "max"))


def _is_whole(node: Any) -> bool:
    """Say whether a formula can only give whole numbers."""
    op = node.op
    if op in ("floor", "ceil"):
        return True
    if op == "num":
        return isinstance(node.data[1], int)
    if op == "cases":
        return all(map(_is_whole, (*node.args[1::2], node.args[-1])))
    if op in ("add", "sub", "mul", "min", "max", "total", "neg"):
        return all(map(_is_whole, node.args))
    if op == "name":
        entry = node.entry
        return (entry.kind == "step" and entry.whole) or (
            entry.kind == "given" and entry.info is ONE and isinstance(entry.typed, int)
        )  # fmt: skip
    return False


class StepEntry(Entry):
    """A named formula."""

    __slots__ = ("description", "digits", "expr", "info", "ref", "symbol", "valid", "whole")
    kind = "step"

    def __init__(
        self,
        expr: Any,
        info: UnitInfo,
        description: str,
        ref: str | None,
        symbol: str,
        digits: int | None,
        valid: tuple[Any, ...],
    ) -> None:
        self.expr = expr
        self.info = info
        self.description = description
        self.ref = ref
        self.symbol = symbol
        self.digits = digits
        self.valid = valid
        #: a count, such as a number of lanes, which is shown without decimals
        self.whole: bool = expr.op in _COUNTS and info is ONE and _is_whole(expr)

    def operands(self) -> tuple[Any, ...]:
        """Return the formula and the conditions of its range."""
        return (self.expr, *self.valid)


class LookupEntry(Entry):
    """A value read in a table, in the row that a text or a choice names."""

    __slots__ = (
        "column", "column_values", "description", "digest", "frozen", "info", "key", "neighbours",
        "ref", "row_number", "symbol", "table_id", "title",
    )  # fmt: skip
    kind = "lookup"
    key: Any

    def __init__(self, **fields: Any) -> None:
        for field, value in fields.items():
            setattr(self, field, value)

    def operands(self) -> tuple[Any, ...]:
        """Return the choice that names the row, if it is one."""
        return () if isinstance(self.key, str) else (self.key,)


class ComputedEntry(Entry):
    """The result of a registered numerical procedure."""

    __slots__ = (
        "description", "digits", "info", "inputs", "kernel", "kernel_id", "last", "proof", "ref",
        "symbol", "version",
    )  # fmt: skip
    kind = "computed"

    def __init__(self, **fields: Any) -> None:
        for field, value in fields.items():
            setattr(self, field, value)

    inputs: Mapping[str, Any]

    def operands(self) -> tuple[Any, ...]:
        """Return the formulas that are handed to the procedure."""
        return tuple(value for value in self.inputs.values() if hasattr(value, "op"))


class CheckEntry(Entry):
    """A comparison of demand and capacity; its slot holds the ratio."""

    __slots__ = ("capacity", "condition", "demand", "info", "location", "ref")
    kind = "check"

    def __init__(
        self, condition: Any, info: UnitInfo, ref: str | None, location: str | None
    ) -> None:
        self.condition = condition
        left, right = condition.args
        down = condition.op in ("le", "lt")
        self.demand, self.capacity = (left, right) if down else (right, left)
        self.info = info
        self.ref = ref
        self.location = location

    def operands(self) -> tuple[Any, ...]:
        """Return demand and capacity."""
        return (self.demand, self.capacity)


class NoteEntry(Entry):
    """A paragraph of text."""

    __slots__ = ("text",)
    kind = "note"

    def __init__(self, text: str) -> None:
        self.text = text


class TableEntry(Entry):
    """A table of texts, numbers and nodes; `instead` where it stands for the lines of its nodes."""

    __slots__ = ("caption", "header", "instead", "rows")
    kind = "table"

    def __init__(
        self, header: list[str], rows: list[list[Any]], caption: str, instead: bool = False
    ) -> None:
        self.header = header
        self.rows = rows
        self.caption = caption
        self.instead = instead


class FigureEntry(Entry):
    """A figure as data; a higher floor draws it."""

    __slots__ = ("caption", "data")
    kind = "figure"

    def __init__(self, data: Mapping[str, Any], caption: str) -> None:
        self.data = data
        self.caption = caption


class ConclusionEntry(Entry):
    """The verdict with its scope."""

    __slots__ = ("checked", "not_checked", "recommendation", "text")
    kind = "conclusion"

    def __init__(
        self,
        text: str,
        checked: tuple[str, ...],
        not_checked: tuple[str, ...],
        recommendation: tuple[str, ...],
    ) -> None:
        self.text = text
        self.checked = checked
        self.not_checked = not_checked
        self.recommendation = recommendation
