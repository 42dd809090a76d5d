"""The handle of a check: demand over capacity, and the verdict."""

from __future__ import annotations

from typing import Any

from stepcalc.expr.walk import Undefined, value_of
from stepcalc.sheet import ports
from stepcalc.units.numbers import ratio_text
from stepcalc.units.registry import Q_

__all__ = ["Check"]


class Check:
    """A comparison of a demand with a capacity."""

    __slots__ = ("name", "sheet", "slot")

    def __init__(self, sheet: Any, entry: Any) -> None:
        self.sheet = sheet
        self.slot = entry.slot
        self.name = entry.name

    @property
    def entry(self) -> Any:
        """The record that defines this check now."""
        return self.sheet._book.entries[self.slot]

    @property
    def path(self) -> str:
        """Where the check stands: the titles of its parts and its name."""
        return self.entry.path  # type: ignore[no-any-return]

    @property
    def ref(self) -> str | None:
        """The clause that asks for it."""
        return self.entry.ref  # type: ignore[no-any-return]

    @property
    def location(self) -> str | None:
        """Where along the member it is made."""
        return self.entry.location  # type: ignore[no-any-return]

    @property
    def ratio(self) -> float:
        """Demand over capacity; not a number when undefined."""
        return self.sheet._values[self.slot]  # type: ignore[no-any-return]

    @property
    def defined(self) -> bool:
        """Whether the ratio has a value for the present givens."""
        ratio = self.ratio
        return ratio == ratio

    @property
    def reason(self) -> str | None:
        """Why the check has no ratio; None when it has one."""
        return self.sheet._reason(self.slot)  # type: ignore[no-any-return]

    @property
    def passed(self) -> bool:
        """Whether demand does not exceed capacity, equal up to 1e-9; False when undefined."""
        return bool(self.ratio <= 1.0 + 1e-9)

    @property
    def verdict(self) -> str:
        """``OK`` or ``N.G.``."""
        return "OK" if self.passed else "N.G."

    @property
    def shown_ratio(self) -> str:
        """The ratio as it stands on the sheet."""
        return ratio_text(self.ratio)

    def _side(self, formula: Any) -> Any:
        try:
            base = value_of(formula, self.sheet._values)
        except Undefined:
            return None
        return Q_(base / self.entry.info.factor, self.entry.info.unit)

    @property
    def demand(self) -> Any:
        """The demand as a quantity; None when undefined."""
        return self._side(self.entry.demand)

    @property
    def capacity(self) -> Any:
        """The capacity as a quantity; None when undefined."""
        return self._side(self.entry.capacity)

    @property
    def in_range(self) -> bool:
        """Whether demand and capacity lie in their ranges of application."""
        return self.sheet._in_range(self.slot)  # type: ignore[no-any-return]

    @property
    def warnings(self) -> list[str]:
        """What a reader must be told about this check."""
        return self.sheet._warnings(self.slot)  # type: ignore[no-any-return]

    def __repr__(self) -> str:
        return f"<check {self.name}: {self.shown_ratio} {self.verdict}>"

    def latex(self) -> str:
        """Return the comparison with its numbers, ratio and verdict as LaTeX."""
        return ports.call("step_latex", self)  # type: ignore[no-any-return]

    def text(self) -> str:
        """Return the comparison with its numbers, ratio and verdict as plain text."""
        return ports.call("step_text", self)  # type: ignore[no-any-return]

    def _repr_mimebundle_(self, include: Any = None, exclude: Any = None) -> Any:
        return ports.call("node_bundle", self)

    def _ipython_display_(self) -> None:
        ports.call("display", ("node", self.sheet, self.entry))
