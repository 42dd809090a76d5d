"""Whether a value fits its key of a bridge file, and what would fit if it does not."""

from __future__ import annotations

from decimal import Decimal
from numbers import Real
from typing import TYPE_CHECKING, Any

from stepcalc.bridge.fields import Choice
from stepcalc.errors import DimensionError, RangeError
from stepcalc.units import Q_, Quantity
from stepcalc.units.info import read_unit

if TYPE_CHECKING:
    from stepcalc.bridge.fields import Field

__all__ = ["checked"]

_ROUND_OFF = 1e-9
_WHOLE = frozenset(
    ("girders", "studs_per_row", "truck_lanes", "trucks_per_day", "barrier_girders", "sidewalks")
)
"""Keys whose value is a count."""


def checked(rule: Field, value: Any) -> Any:
    """Return the value of a field, or raise with a message that names the key and what fits.

    Parameters
    ----------
    rule : Field
        The field.
    value : object
        What was given; a quantity of another pint registry is rebuilt by the name of its unit.

    Returns
    -------
    object
        The value, a quantity of this package's registry where the field is a quantity.

    Raises
    ------
    RangeError
        If the value is impossible.
    DimensionError
        If it is not a quantity, or one of another dimension.
    """
    if rule.flag:
        if not isinstance(value, bool):
            raise RangeError(f"{rule.key} is {_shown(value)}; want true or false ({rule.meaning})")
    elif rule.options is not None:
        if not isinstance(value, rule.options):
            fits = " | ".join(repr(str(option.value)) for option in rule.options)
            raise RangeError(f"{rule.key} is {_shown(value)}; want one of {fits} ({rule.meaning})")
    elif rule.units:
        return _checked_quantity(rule, value)
    elif rule.low:
        _check_number(rule, value)
    elif not isinstance(value, str) or not value.strip():
        raise RangeError(
            f"{rule.key} is {_shown(value)}; want text such as {rule.example!r} ({rule.meaning})"
        )
    return value


def _check_number(rule: Field, value: object) -> None:
    whole = rule.key in _WHOLE
    kinds = (int,) if whole else (int, float)
    fits = (
        f"want {'a whole number' if whole else 'a number'} from {rule.low[0]:g} to "
        f"{rule.high[0]:g} ({rule.meaning})"
    )
    if isinstance(value, bool) or not isinstance(value, kinds):
        raise RangeError(f"{rule.key} is {_shown(value)}; {fits}")
    if not rule.low[0] <= value <= rule.high[0]:
        raise RangeError(f"{rule.key} is {value:g}; {fits}")


def _checked_quantity(rule: Field, value: Any) -> Any:
    wanted = " or ".join(repr(text) for text in _examples(rule))
    if not hasattr(value, "units") or not isinstance(value.magnitude, (Real, Decimal)):
        raise DimensionError(
            f"{rule.key} is {_shown(value)}, which has no unit; want {wanted} ({rule.meaning})"
        )
    info = read_unit(value.units)
    own = value if isinstance(value, Quantity) else Q_(value.magnitude, info.unit)
    for unit, low, high in zip(rule.units, rule.low, rule.high, strict=True):
        if read_unit(unit).dim is not info.dim:
            continue
        number = float(own.to(unit).magnitude)
        least = "more than" if rule.above_low else "from"
        inside = low * (1 - _ROUND_OFF) <= number <= high * (1 + _ROUND_OFF)
        if not inside or (rule.above_low and number <= low):
            raise RangeError(
                f"{rule.key} is {own:.6g~P}; want {least} {low:g} to {high:g} "
                f"{read_unit(unit).text} ({rule.meaning}), such as {wanted}"
            )
        return own
    raise DimensionError(
        f"{rule.key} is {own:.6g~P}, {info.dim.words}; want {wanted} ({rule.meaning})"
    )


def _examples(rule: Field) -> tuple[str, ...]:
    others = {"plf": "6 plf"}
    return (rule.example, *(others[unit] for unit in rule.units[1:]))


def _shown(value: object) -> str:
    if isinstance(value, Choice):
        return repr(value.value)
    return "missing" if value is None else repr(value)
