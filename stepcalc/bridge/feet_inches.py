r"""Lengths as they stand on plans: ``8'-3"``, ``8'-3 1/2"``, ``8 ft 3 in``, ``3 1/2"``."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Any

from stepcalc.errors import UnitError
from stepcalc.units import Q_
from stepcalc.units.info import read_unit

__all__ = [
    "feet_inches_text",
    "length_in_feet",
    "looks_like_feet_and_inches",
    "parse_feet_inches",
]

_WHAT_FITS = "8'-3\", 8'-3 1/2\", 8 ft 3 in, or a decimal such as 8.25 ft"

_FOOT = r"(?:'|ft\.?|feet|foot)"
_INCH = r"(?:\"|''|in\.?|inch|inches)"
_NUMBER = r"\d+(?:\.\d+)?"
_FRACTION = r"(?P<over>\d+)\s*/\s*(?P<under>\d+)"
_INCHES = rf"(?:(?P<inches>{_NUMBER})|(?:(?P<whole>\d+)(?:\s+|\s*-\s*))?{_FRACTION})\s*{_INCH}"
_PATTERN = re.compile(
    rf"(?P<feet>{_NUMBER})\s*{_FOOT}(?:\s*-?\s*{_INCHES})?|{_INCHES.replace('?P<', '?P<lone_')}",
    re.IGNORECASE,
)
_DECIMAL = re.compile(r"(\d+(?:\.\d+)?)\s*([^\d\s].*)")
_FRACTION_OF_INCH = re.compile(r"\d\s*/\s*\d")
_BOTH = re.compile(rf"{_NUMBER}\s*{_FOOT}[\s-]*\d", re.IGNORECASE)
_SIGNS = str.maketrans(
    {"′": "'", "’": "'", "‘": "'", "″": '"', "”": '"', "“": '"', "–": "-"}
    | {"¼": " 1/4", "½": " 1/2", "¾": " 3/4", "⅛": " 1/8", "⅜": " 3/8", "⅝": " 5/8", "⅞": " 7/8"}
)


def looks_like_feet_and_inches(text: str) -> bool:
    """Tell whether a text uses foot or inch marks, or both words, or a fraction of an inch.

    Parameters
    ----------
    text : str
        Any text.

    Returns
    -------
    bool
        True for what `parse_feet_inches` should read; ``8.25 ft`` is left to the unit reader.
    """
    plain = text.translate(_SIGNS).lower().strip()
    marked = "'" in plain or '"' in plain
    return marked or _FRACTION_OF_INCH.search(plain) is not None or _BOTH.match(plain) is not None


def parse_feet_inches(text: str) -> Any:  # Any: pint's quantity, untyped
    r"""Return the length that a text in feet and inches states.

    Parameters
    ----------
    text : str
        Feet with the mark ``'`` or a word, inches with the mark ``"`` or a word and, if wanted, a
        fraction; typographic marks are read too.

    Returns
    -------
    Quantity, [length]
        In ft if feet were given, otherwise in inches.

    Raises
    ------
    UnitError
        If the text is not such a length, its fraction is not below one, or 12 inches or more
        follow the feet.

    Examples
    --------
    >>> print(parse_feet_inches("8'-3\""), parse_feet_inches("3 1/2 in"))
    8.25 ft 3.5 in
    """
    match = _PATTERN.fullmatch(text.translate(_SIGNS).strip().replace("- ", "-"))
    if match is None:
        raise _refusal(text, "is not a length in feet and inches")
    parts = match.groupdict()
    lone = "" if parts["feet"] else "lone_"
    inches = _inches(text, *(parts[lone + name] for name in ("inches", "whole", "over", "under")))
    if parts["feet"] is None:
        return Q_(float(inches), "inch")
    if inches >= 12:
        raise _refusal(text, f"has {float(inches):g} inches behind the feet, a foot or more")
    if inches and "." in parts["feet"]:
        raise _refusal(text, "has a decimal point in the feet and inches behind them")
    return Q_(float(Fraction(parts["feet"]) + inches / 12), "foot")


def length_in_feet(text: str) -> float:
    r"""Return a length in feet: in feet and inches, or a number with any unit of length.

    Parameters
    ----------
    text : str
        Without a sign.

    Returns
    -------
    float

    Raises
    ------
    UnitError
        If the text is no such length.

    Examples
    --------
    >>> length_in_feet("8'-3\""), length_in_feet("8.25 ft"), length_in_feet("99 in")
    (8.25, 8.25, 8.25)
    """
    if looks_like_feet_and_inches(text):
        return float(parse_feet_inches(text).to("ft").magnitude)
    match = _DECIMAL.fullmatch(text.strip())
    unit = read_unit(match[2]) if match else None
    if match is None or unit is None or unit.dim != read_unit("ft").dim:
        raise _refusal(text, "is not a length")
    return float(match[1]) * unit.factor / read_unit("ft").factor


def feet_inches_text(feet: float) -> str:
    r"""Return a length in feet as plans write it, to the sixteenth of an inch; "" if it is none.

    Parameters
    ----------
    feet : float
        Not negative.

    Returns
    -------
    str

    Examples
    --------
    >>> print(feet_inches_text(47 / 3), feet_inches_text(1.28125))
    15'-8" 1'-3 3/8"
    >>> feet_inches_text(0.3)
    ''
    """
    sixteenths = round(feet * 192)
    if abs(feet * 192 - sixteenths) > 1e-6:
        return ""
    whole, rest = divmod(sixteenths, 192)
    inches, part = divmod(rest, 16)
    fraction = f" {Fraction(part, 16)}" if part else ""
    return f"{whole}'-{inches}{fraction}\""


def _inches(
    text: str, inches: str | None, whole: str | None, over: str | None, under: str | None
) -> Fraction:
    if over is None or under is None:
        return Fraction(inches or 0)
    if int(over) >= int(under):
        raise _refusal(text, f"has the fraction {over}/{under}, which is one or more")
    return Fraction(whole or 0) + Fraction(int(over), int(under))


def _refusal(text: str, why: str) -> UnitError:
    return UnitError(f"{text!r} {why}; want a length such as {_WHAT_FITS}")
