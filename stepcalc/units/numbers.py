"""Digits: the one place that decides how a number is rounded and spelled on a sheet.

Rounding is half away from zero on the decimal form, by significant digits.  The rounded value and
the spelled one come from the same function, so that a carried "shown" value is the printed one.
"""

from __future__ import annotations

import math
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction
from typing import Any

__all__ = [
    "Typed",
    "ratio_text",
    "round_array",
    "round_shown",
    "shown_text",
    "typed_measure",
    "typed_text",
]

Typed = int | float | Decimal | Fraction

#: Scaled by a power of ten, a float and its decimal form differ by less than this share; closer
#: to a tie than that, the decimal form itself decides.
_DOUBT = 4e-16
_POWERS = [float(10**k) for k in range(23)]


def round_shown(value: float, digits: int = 4) -> float:
    """Return ``value`` rounded to significant digits, half away from zero on the decimal form."""
    if value == 0.0 or not math.isfinite(value):
        return value
    size = abs(value)
    exponent = math.floor(math.log10(size))
    if exponent < 300 and size >= 10.0 ** (exponent + 1):
        exponent += 1
    elif exponent > -300 and size < 10.0**exponent:  # the logarithm was rounded up
        exponent -= 1
    places = digits - 1 - exponent
    if places > 22 or places < -22:
        rounded = _by_decimal_form(size, digits)
    else:
        scaled = size * _POWERS[places] if places >= 0 else size / _POWERS[-places]
        whole = math.floor(scaled)
        rest = scaled - whole
        if abs(rest - 0.5) <= _DOUBT * scaled:
            rounded = _by_decimal_form(size, digits)
        else:
            whole += rest > 0.5
            rounded = whole / _POWERS[places] if places >= 0 else whole * _POWERS[-places]
    return rounded if value > 0 else -rounded


def _by_decimal_form(size: float, digits: int) -> float:
    number = Decimal(repr(size))
    step = Decimal(1).scaleb(number.adjusted() - digits + 1)
    return float(number.quantize(step, ROUND_HALF_UP))


def round_array(values: Any, digits: int = 4) -> Any:
    """Return an array rounded as :func:`round_shown` does, element by element, same bits."""
    import numpy as np

    array = np.asarray(values, dtype=float)
    size = np.abs(array)
    good = np.isfinite(size) & (size > 0)
    safe = np.where(good, size, 1.0)
    with np.errstate(over="ignore", under="ignore"):  # far from one the decimal form decides
        exponent = np.floor(np.log10(safe)).astype(int)
        exponent = np.where(safe >= 10.0 ** (exponent + 1.0), exponent + 1, exponent)
        exponent = np.where(safe < 10.0 ** exponent.astype(float), exponent - 1, exponent)
        places = digits - 1 - exponent
        power = np.array(_POWERS)[np.clip(np.abs(places), 0, 22)]
        scaled = np.where(places >= 0, safe * power, safe / power)
        whole = np.floor(scaled)
        rest = scaled - whole
        whole = whole + (rest > 0.5)
        rounded = np.where(places >= 0, whole / power, whole * power)
    doubtful = (np.abs(rest - 0.5) <= _DOUBT * scaled) | (np.abs(places) > 22)
    if doubtful.any():
        rounded = np.array(rounded)  # a scalar too becomes an array that can be written to
        rounded[doubtful] = [_by_decimal_form(x, digits) for x in safe[doubtful].tolist()]
    return np.where(good, np.copysign(rounded, array), array)


def shown_text(value: float, digits: int = 4) -> str:
    """Return a result as it stands on the sheet: ``262.5``, ``1,963``, ``-0.06187``, ``1.234e9``.

    Zeros that the digits call for are kept (``1.200``).  From 1e7 on and below 1e-4 the form is
    scientific.  A negative zero loses its sign.
    """
    if value - value != 0.0:
        return "undefined"
    rounded = round_shown(value, digits)
    size = abs(rounded)
    if size == 0.0:
        return "0"
    if size >= 1e7 or size < 1e-4:
        mantissa, exponent = f"{rounded:.{digits - 1}e}".split("e")
        return f"{mantissa}e{int(exponent)}"
    places = digits - 1 - math.floor(math.log10(size))
    if size >= 10.0 ** (digits - places):
        places -= 1
    return f"{rounded:,.{places}f}" if places > 0 else f"{rounded:,.0f}"


def typed_text(value: Typed) -> str:
    """Return a number as it was typed: shortest form of a float, a Decimal's or Fraction's own."""
    if isinstance(value, Fraction):
        return (
            f"{value.numerator}/{value.denominator}"
            if value.denominator != 1
            else _grouped(str(value.numerator))
        )
    if isinstance(value, Decimal):
        return _grouped(format(value, "f"))
    if isinstance(value, int):
        return _grouped(str(value))
    value = float(value)
    if abs(value) < 1e16 and value == int(value):
        return _grouped(str(int(value)))
    text = repr(value)
    if "e" in text:
        mantissa, exponent = text.split("e")
        return f"{mantissa.removesuffix('.0')}e{int(exponent)}"
    if len(text) > 9:
        fraction = Fraction(value).limit_denominator(999)
        if abs(fraction.numerator) < 10000 and float(fraction) == value:
            return f"{fraction.numerator}/{fraction.denominator}"
    return _grouped(text)


def typed_measure(value: Typed, unit: str) -> str:
    """Return the number of a typed quantity: as typed, but a float of whole inches in decimals.

    1 ft 4 in of a plan is the float 4/3 ft: nobody writes that on a sheet, so it reads 1.333. A
    fraction that somebody typed as one stays.
    """
    text = typed_text(value)
    if unit != "ft" or isinstance(value, Fraction) or "/" not in text:
        return text
    return shown_text(float(value))


def _grouped(text: str) -> str:
    sign = "-" if text.startswith("-") else ""
    whole, point, rest = text.lstrip("-").partition(".")
    return sign + f"{int(whole or 0):,}" + point + rest


def ratio_text(ratio: float) -> str:
    """Return a demand to capacity ratio: three decimals, more when it lies close to one.

    Between 0.995 and 1.005 as many decimals are shown as it takes to see the side it is on.
    """
    if ratio != ratio:
        return "undefined"
    if not 0.995 <= ratio <= 1.005 or abs(ratio - 1.0) <= 1e-9:
        return f"{ratio:.3f}" if abs(ratio) < 1e6 else f"{ratio:.3e}"
    for places in range(3, 11):
        text = f"{ratio:.{places}f}"
        if float(text) != 1.0:
            return text
    return f"{ratio:.10f}"
