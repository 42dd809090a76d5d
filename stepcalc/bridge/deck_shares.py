"""What each girder carries of a line or a strip on the deck, hinged over every inner girder."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import numpy.typing as npt

from stepcalc.errors import RangeError

__all__ = ["greatest", "line_shares", "mirrored", "panel", "pieces", "strip_widths"]

Shares = npt.NDArray[np.float64]


def line_shares(position: float, spacing: float, girders: int) -> Shares:
    """Return the share of every girder in a line load.

    Parameters
    ----------
    position : float
        From the left exterior girder; negative, or beyond the last girder, on an overhang.
    spacing : float
        Girder spacing, in the same unit.
    girders : int
        Number of girders, 2 or more.

    Returns
    -------
    array, shape (girders,)
        They add up to one; a load on an overhang lifts the next girder.

    Raises
    ------
    RangeError
        If a number is none that can be meant.

    Source
    ------
    Statics: the lever rule, deck simply supported between girders. No clause.

    Examples
    --------
    >>> line_shares(10.0, 8.0, 4).tolist()
    [0.0, 0.75, 0.25, 0.0]
    """
    if girders < 2 or not spacing > 0 or not math.isfinite(position):
        msg = f"no shares at {position:g} among {girders} girders at {spacing:g}; want 2 or more"
        raise RangeError(msg)
    left, beyond = panel(position, spacing, girders)
    inner = beyond / spacing
    shares = np.zeros(girders)
    shares[left], shares[left + 1] = 1 - inner, inner
    return shares


def panel(position: float, spacing: float, girders: int) -> tuple[int, float]:
    """Return the girder to the left of a place, from 0, and how far beyond it the place lies.

    Parameters
    ----------
    position, spacing, girders : float, float, int
        As for `line_shares`.

    Returns
    -------
    tuple of int and float
        Of the panel that carries the load; on an overhang the panel next to it.
    """
    left = min(max(math.floor(position / spacing), 0), girders - 2)
    return left, position - left * spacing


def strip_widths(start: float, end: float, spacing: float, girders: int) -> Shares:
    """Return the width of a strip that every girder carries.

    Parameters
    ----------
    start, end : float
        From the left exterior girder.
    spacing, girders : float, int
        As for `line_shares`.

    Returns
    -------
    array, shape (girders,)
        They add up to the width of the strip; each piece between girders acts at its middle.

    Source
    ------
    Statics: the lever rule. No clause.
    """
    total = np.zeros(girders)
    for a, z in pieces(start, end, spacing, girders):
        total += (z - a) * line_shares((a + z) / 2, spacing, girders)
    return total


def pieces(start: float, end: float, spacing: float, girders: int) -> list[tuple[float, float]]:
    """Return a strip cut over every girder."""
    inner = [place * spacing for place in range(girders) if start < place * spacing < end]
    return list(pairwise([start, *inner, end]))


def mirrored(shares: Shares, both: bool) -> Shares:
    """Return the shares of a load on one side, or of the same load on both sides of the deck."""
    return shares + shares[::-1] if both else shares


def greatest(shares: Shares, girder: str) -> float:
    """Return the greatest share of the girders of a kind.

    Parameters
    ----------
    shares : array
        Of every girder.
    girder : {"interior", "exterior"}

    Returns
    -------
    float

    Raises
    ------
    RangeError
        If the kind is another.
    """
    if girder == "exterior":
        return float(max(shares[0], shares[-1]))
    if girder == "interior":
        return float(np.max(shares[1:-1]))
    raise RangeError(f"the girder is {girder!r}; give 'interior' or 'exterior'")
