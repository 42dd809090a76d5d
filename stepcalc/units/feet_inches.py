"""Lengths as plans write them: feet, inches and sixteenths."""

from __future__ import annotations

import math
from fractions import Fraction

from stepcalc.errors import RangeError

__all__ = ["feet_and_inches"]


def feet_and_inches(feet: float, parts: int = 16) -> str:
    """Return a length as feet, inches and a fraction of an inch.

    Parameters
    ----------
    feet : float
    parts : int
        Into how many parts an inch is divided; the length is rounded to the nearest, half away
        from zero, and what rounds up to a whole inch or foot is carried.

    Returns
    -------
    str
        Such as ``62 ft-6 in``; inches alone below a foot. A length that rounds to nothing has no
        sign.

    Raises
    ------
    RangeError
        If the length is not a finite number, or an inch has no parts.

    Examples
    --------
    >>> feet_and_inches(62.5), feet_and_inches(7.7552), feet_and_inches((11 + 15.97 / 16) / 12)
    ('62 ft-6 in', '7 ft-9 1/16 in', '1 ft-0 in')
    """
    if not math.isfinite(feet) or parts < 1:
        msg = f"a length of {feet} ft to 1/{parts} in cannot be written; want finite numbers"
        raise RangeError(msg)
    count = math.floor(abs(feet) * 12 * parts + 0.5 + 1e-9)  # half of a part as typed goes up
    whole, rest = divmod(count, 12 * parts)
    inches, part = divmod(rest, parts)
    fraction = Fraction(part, parts)
    words = f"{inches} {fraction}" if fraction and inches else str(fraction or inches)
    sign = "-" if feet < 0 and count else ""
    return f"{sign}{whole} ft-{words} in" if whole else f"{sign}{words} in"
