"""The one unit registry of the project, and the quantity class that makes room for operands.

pint does not defer to foreign classes by itself: ``(2*ft) * node`` would wrap the node into a
quantity, and ``(2*ft) <= node`` would raise.  The cure has two parts, both held by tests: the
exact operand classes are entered in pint's map of classes to defer to, and comparison returns
``NotImplemented`` for them, so that Python asks the node.
"""

from __future__ import annotations

from typing import Any

import pint
from pint import compat

from stepcalc.units.definitions import DEFINITIONS

__all__ = ["Q_", "Quantity", "Unit", "defer_to", "registry"]

_deferred: set[type] = set()


class Quantity(pint.registry.Quantity):  # type: ignore[type-arg]  # any magnitude
    """A pint quantity of the project's registry that lets formulas take over an operation."""

    def compare(self, other: Any, op: Any) -> Any:
        """Compare by value; leave it to the other operand when that is part of a formula."""
        if type(other) in _deferred:
            return NotImplemented
        return super().compare(other, op)

    def _explanation(self) -> str | None:
        # a solved value carries the way to its rearranged formula; it is asked for only on display
        explained_by = self.__dict__.get("explained_by")
        step = explained_by() if explained_by is not None else None
        return None if step is None else f"$${step.latex()}$$"

    def _repr_latex_(self) -> str:
        """Show the rearranged formula of a solved value, else the quantity."""
        return self._explanation() or str(super()._repr_latex_())

    def _repr_html_(self) -> str | None:  # type: ignore[override]  # None leaves it to LaTeX
        """Leave a solved value to LaTeX; front ends would prefer HTML to it."""
        return None if "explained_by" in self.__dict__ else str(super()._repr_html_())

    def __reduce__(self) -> tuple[Any, ...]:
        # pint's own pickle comes back in the application registry, which is not ours
        return _rebuild, (self._magnitude, str(self._units))


class _Unit(pint.registry.Unit):
    """A pint unit of the project's registry that lets formulas take over ``==`` and ``!=``."""

    def __eq__(self, other: Any) -> Any:
        return NotImplemented if type(other) in _deferred else super().__eq__(other)

    def __ne__(self, other: Any) -> Any:
        return NotImplemented if type(other) in _deferred else super().__ne__(other)

    __hash__ = pint.registry.Unit.__hash__

    def __reduce__(self) -> tuple[Any, ...]:
        # as for a quantity: not into the application registry
        return _rebuild_unit, (str(self._units),)


class Registry(pint.UnitRegistry):  # type: ignore[type-arg]  # any magnitude
    """pint's registry with the project's classes of quantity and unit."""

    Quantity = Quantity
    Unit = _Unit


registry: Any = Registry(DEFINITIONS.splitlines())
registry.formatter.default_format = "~P"
Q_: Any = registry.Quantity
Unit: Any = registry.Unit


def _rebuild(magnitude: Any, unit: str) -> Any:
    return Q_(magnitude, unit)


def _rebuild_unit(unit: str) -> Any:
    return Unit(unit)


def defer_to(*classes: type) -> None:
    """Make quantities of the registry give way to operands of exactly these classes."""
    for cls in classes:
        _deferred.add(cls)
        compat.upcast_type_map[f"{cls.__module__}.{cls.__qualname__}"] = cls  # type: ignore[index]
