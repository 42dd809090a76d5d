"""A given that is one of a list of texts."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from stepcalc.errors import FormulaError
from stepcalc.expr.tree import Condition
from stepcalc.sheet import ports

if TYPE_CHECKING:
    from stepcalc.sheet.entries import Entry, GivenEntry

__all__ = ["Choice"]


class Choice:
    """A given that is one of a list of texts, such as a rolled shape.

    It cannot stand in arithmetic; ``choice == "text"`` is a condition for ``cases``.
    """

    __slots__ = ("name", "sheet", "slot")
    op = "name"
    args = ()
    data = None
    depth = 0
    mask = 0
    dim = None

    def __init__(self, sheet: Any, entry: Entry) -> None:
        self.sheet = sheet
        self.slot = entry.slot
        self.name = entry.name

    @property
    def entry(self) -> GivenEntry:
        """The record that defines this node now."""
        return self.sheet._book.entries[self.slot]  # type: ignore[no-any-return]

    @property
    def path(self) -> str:
        """Where the node stands."""
        return self.entry.path

    @property
    def symbol(self) -> str:
        """The symbol as it is spelled in the trade."""
        return self.entry.symbol

    @property
    def description(self) -> str:
        """What is chosen, in words."""
        return self.entry.description

    @property
    def source(self) -> str | None:
        """Where the choice comes from."""
        return self.entry.source

    @property
    def value(self) -> str:
        """The text chosen."""
        return self.options[int(self.sheet._values[self.slot])]

    shown = value

    @property
    def options(self) -> tuple[str, ...]:
        """The texts that may be chosen."""
        choices = self.entry.choices
        return choices.names if hasattr(choices, "names") else choices  # type: ignore[no-any-return]

    @property
    def warnings(self) -> list[str]:
        """What a reader must be told about this node."""
        return self.sheet._warnings(self.slot)  # type: ignore[no-any-return]

    def __eq__(self, other: object) -> Any:
        """Build the condition that this text is chosen."""
        if isinstance(other, Choice):
            return self.sheet is other.sheet and self.slot == other.slot
        if not isinstance(other, str):
            options = self.options[:6]
            message = f"{self.name} is a choice of a text; compare it with one of {options}"
            raise FormulaError(message)
        return Condition("is", (self,), (other, self.sheet._option(self.entry, other)))

    def __hash__(self) -> int:
        """Hash by identity of the node."""
        return hash((id(self.sheet), self.slot))

    def __bool__(self) -> bool:
        """Refuse: a choice is a text for conditions."""
        message = f"{self.name} is a choice of a text; use {self.name} == 'one of them' in cases"
        raise FormulaError(message)

    def same_name(self, other: Any) -> bool:
        """Say whether another handle names the same node."""
        return isinstance(other, Choice) and self.sheet is other.sheet and self.slot == other.slot

    def __repr__(self) -> str:
        return f"{self.name} ({self.value})"

    def latex(self) -> str:
        """Return the choice as LaTeX, without delimiters."""
        return ports.call("step_latex", self)  # type: ignore[no-any-return]

    def _repr_mimebundle_(self, include: Any = None, exclude: Any = None) -> Any:
        return ports.call("node_bundle", self)

    def _ipython_display_(self) -> None:
        ports.call("display", ("node", self.sheet, self.entry))
