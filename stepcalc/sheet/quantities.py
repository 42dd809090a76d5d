"""What a person may give as a quantity, and the unit in which a formula is best shown."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from typing import TYPE_CHECKING, Any

import numpy as np

from stepcalc.errors import DimensionError, FormulaError, RangeError
from stepcalc.units.dimension import DIMENSIONLESS
from stepcalc.units.info import ONE, UnitInfo, own_quantity, read_unit
from stepcalc.units.registry import Q_, registry

if TYPE_CHECKING:
    from stepcalc.units.numbers import Typed

__all__ = ["base_array", "base_value", "display_unit", "read_typed"]

_USUAL = {
    (1, 0, 0, 0): "ft", (2, 0, 0, 0): "inch**2", (3, 0, 0, 0): "inch**3", (4, 0, 0, 0): "inch**4",
    (0, 1, 0, 0): "kip", (1, 1, 0, 0): "kip*ft", (-1, 1, 0, 0): "klf", (-2, 1, 0, 0): "ksi",
    (-3, 1, 0, 0): "pcf", (2, 1, 0, 0): "kip*inch**2", (0, 0, 1, 0): "second",
}  # fmt: skip


def read_typed(value: Any, what: str) -> tuple[Typed, UnitInfo]:
    """Return the magnitude as it was typed and its unit.

    Raises
    ------
    FormulaError
        If it is not one number or quantity.
    RangeError
        If it is not finite.
    UnitError
        If it is a temperature on a scale with its own zero.
    """
    info = ONE
    if hasattr(value, "_units"):
        value = own_quantity(value)
        if not hasattr(value, "_magnitude"):
            value = Q_(1, value)
        info = read_unit(value.units)
        value = value._magnitude
    if isinstance(value, np.generic) or (isinstance(value, np.ndarray) and not value.ndim):
        value = value.item()
    if isinstance(value, bool) or not isinstance(value, int | float | Decimal | Fraction):
        kind = "an array" if isinstance(value, np.ndarray | list) else f"{value!r}"[:60]
        message = f"{what} is {kind}; want one number or quantity, such as 8*inch"
        raise FormulaError(message)
    try:
        number = float(value)
    except (OverflowError, ValueError):
        number = float("nan")
    if not -1e300 < number < 1e300 or (number == 0.0) != (value == 0):
        message = f"{what} is {str(value)[:60]}; want a finite number"
        raise RangeError(message)
    return value, info


def base_value(value: Any, info: UnitInfo, what: str) -> tuple[Typed, UnitInfo, float]:
    """Return (typed, unit, base value) of a new value for something measured in ``info``."""
    typed, own = read_typed(value, what)
    if own.dim is not info.dim:
        message = (
            f"{what} is {info.dim.words}, shown in {info.text or 'plain numbers'}; "
            f"{_spelled(typed, own)} is {own.dim.words}"
        )
        raise DimensionError(message)
    return typed, own, float(typed) * own.factor


def base_array(value: Any, info: UnitInfo, what: str) -> Any:
    """Return an array of values in base units for something measured in ``info``."""
    own = ONE
    if hasattr(value, "_units"):
        value = own_quantity(value)
        own = read_unit(value.units if hasattr(value, "_magnitude") else value)
        value = getattr(value, "_magnitude", 1)
    if own.dim is not info.dim:
        message = (
            f"{what} is {info.dim.words}, shown in {info.text or 'plain numbers'}; "
            f"an array of {own.text or 'plain numbers'} is {own.dim.words}"
        )
        raise DimensionError(message)
    try:
        if np.asarray(value).dtype.kind not in "iufO":
            raise TypeError  # texts and truth values would become numbers by themselves
        array = np.asarray(value, dtype=float)
    except (TypeError, ValueError) as error:
        message = f"{what} wants an array of numbers with a unit, such as np.linspace(6, 12, 7)*ft"
        raise FormulaError(message) from error
    if not np.isfinite(array).all():
        message = f"{what} has values that are not finite numbers"
        raise RangeError(message)
    return array if own.factor == 1.0 else array * own.factor


def _spelled(typed: Typed, info: UnitInfo) -> str:
    return f"{typed} {info.text}".strip()


def display_unit(node: Any) -> UnitInfo:
    """Return the unit in which a formula without a stated one is shown: that of a bare term."""
    found = _term_unit(node)
    if found is not None:
        return found
    if node.dim is DIMENSIONLESS:
        return ONE
    usual = _USUAL.get(node.dim.exponents)
    if usual is not None:
        return read_unit(usual)
    length, force, time, temperature = node.dim.exponents
    powers = {"kip": force, "inch": length, "second": time, "kelvin": temperature}
    unit = registry.Unit("")
    for name, power in powers.items():
        if power:
            unit = unit * registry.Unit(name) ** (power if isinstance(power, int) else float(power))
    return read_unit(unit)


def _term_unit(node: Any) -> UnitInfo | None:
    pending = [node]
    while pending:
        node = pending.pop()
        op = node.op
        if op == "name":
            return node.info  # type: ignore[no-any-return]  # a name's own unit
        if op == "qty":
            return node.data[1]  # type: ignore[no-any-return]  # a quantity's own unit
        if op == "unit":
            return node.data  # type: ignore[no-any-return]  # the unit itself
        if op in ("add", "sub", "min", "max", "total", "neg", "abs"):
            pending += reversed(node.args)
        elif op == "cases":
            pending += reversed((*node.args[1::2], node.args[-1]))
        elif op in ("mul", "div") and node.dim is not DIMENSIONLESS:
            sides = node.args if op == "mul" else node.args[:1]
            pending += [side for side in reversed(sides) if side.dim is node.dim]
    return None
