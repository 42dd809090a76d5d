"""Utilities that hang on girders or between them: read from one text, shared, and shown."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

import numpy as np

from stepcalc.bridge.deck_shares import Shares, greatest, line_shares, panel
from stepcalc.bridge.feet_inches import length_in_feet
from stepcalc.errors import RangeError, StepcalcError
from stepcalc.sheet.kernels import Kernel, register_kernel
from stepcalc.sheet.sheet import Sheet
from stepcalc.units import ft, klf
from stepcalc.units.numbers import shown_text

__all__ = ["UTILITY_LOAD", "Utility", "read_utilities"]

_MOST = 20
_FITS = (
    "'water main: 0.12 klf at 10 ft' (from the left exterior girder), 'duct: 0.05 klf on girders "
    "2 and 3', or 'gas: 0.08 klf on girders 2 and 3 by 70 and 30 percent', parted by ';'"
)
_ITEM = re.compile(
    r"(?:(?P<name>[^:;]{1,60}):)?\s*(?P<weight>\d+(?:\.\d+)?)\s*(?P<unit>klf|plf|kip/ft|lb/ft)\s+"
    r"(?:at\s+(?P<place>[-+]?[^;]+?)|on\s+girders?\s+(?P<girders>\d[\d,\sand]*?)"
    r"(?:\s+by\s+(?P<shares>\d[\d.,\sand]*?)\s*(?:percent|%))?)\s*",
    re.IGNORECASE,
)
_HEAVIEST = 10.0
_FARTHEST = 400.0


@dataclass(frozen=True)
class Utility:
    """One utility.

    Attributes
    ----------
    name : str
    weight : float
        kip/ft.
    place : float or None
        ft from the left exterior girder.
    shares : tuple of (int, float)
        Numbers of girders, from 1 at the left, with their shares; empty where `place` is given.
    """

    name: str
    weight: float
    place: float | None
    shares: tuple[tuple[int, float], ...] = ()

    def on(self, spacing: float, girders: int) -> Shares:
        """Return its weight on every girder, kip/ft; not a number where a girder is missing."""
        if self.place is not None:
            return self.weight * line_shares(self.place, spacing, girders)
        found = np.zeros(girders)
        for number, share in self.shares:
            if number > girders:
                return np.full(girders, np.nan)
            found[number - 1] += share * self.weight
        return found

    @property
    def where(self) -> str:
        """Where it hangs, in words."""
        if self.place is not None:
            return f"{self.place:.4g} ft from the left exterior girder"
        return "; ".join(f"girder {number}: {share:.0%}" for number, share in self.shares)


@lru_cache(maxsize=64)
def read_utilities(text: str) -> tuple[Utility, ...]:
    """Return the utilities that a text names.

    Parameters
    ----------
    text : str
        Such as ``"water main: 0.12 klf at 10 ft; duct: 0.05 klf on girders 2 and 3"``.

    Returns
    -------
    tuple of Utility

    Raises
    ------
    RangeError
        If an item cannot be read, or holds a number that cannot be meant.

    Examples
    --------
    >>> read_utilities("duct: 50 plf on girder 2")[0].weight
    0.05
    """
    items = [item.strip() for item in text.split(";") if item.strip()]
    if not 1 <= len(items) <= _MOST:
        raise RangeError(f"utilities has {len(items)} items; want 1 to {_MOST} such as {_FITS}")
    return tuple(_utility(item, number) for number, item in enumerate(items, 1))


def _utility(item: str, number: int) -> Utility:
    match = _ITEM.fullmatch(item)
    if match is None:
        raise RangeError(f"utilities has the item {item[:80]!r}; want items such as {_FITS}")
    weight = float(match["weight"]) / (1000 if match["unit"].lower() in ("plf", "lb/ft") else 1)
    if not 0 < weight <= _HEAVIEST:
        raise RangeError(f"utilities has {weight:g} klf in {item[:80]!r}; want above 0 to 10 klf")
    name = (match["name"] or f"utility {number}").strip()
    if match["place"] is not None:
        return Utility(name, weight, _place(match["place"].strip(), item))
    return Utility(name, weight, None, _owner_shares(match["girders"], match["shares"], item))


def _place(text: str, item: str) -> float:
    sign, rest = (-1.0, text[1:].strip()) if text.startswith("-") else (1.0, text.lstrip("+"))
    try:
        value = length_in_feet(rest)
    except StepcalcError:
        msg = f"utilities has the place {text!r} in {item[:80]!r}; want a length such as 10 ft"
        raise RangeError(msg) from None
    if value > _FARTHEST:
        raise RangeError(f"utilities has the place {text!r}; want a place on the deck")
    return sign * value


def _owner_shares(girders: str, shares: str | None, item: str) -> tuple[tuple[int, float], ...]:
    numbers = [int(text) for text in re.findall(r"\d+", girders)]
    if not numbers or min(numbers) < 1 or len(set(numbers)) < len(numbers):
        raise RangeError(f"utilities names girders {girders.strip()!r} in {item[:80]!r}; want each "
                         "once, from 1 at the left")  # fmt: skip
    if shares is None:
        return tuple((number, 1 / len(numbers)) for number in numbers)
    parts = [float(text) for text in re.findall(r"\d+(?:\.\d+)?", shares)]
    if len(parts) != len(numbers) or abs(sum(parts) - 100) > 1e-9:
        raise RangeError(
            f"utilities shares {item[:80]!r} by {parts}; want one percentage for each girder, 100 "
            "together"
        )
    return tuple((number, part / 100) for number, part in zip(numbers, parts, strict=True))


def _every_girder(utilities: str, spacing: float, girders: float) -> Shares:
    count = round(girders)
    total = np.zeros(count)
    for item in read_utilities(utilities):
        total += item.on(spacing, count)
    return total


def _load(utilities: str, spacing: Any, girders: Any, girder: str) -> Any:
    def one(S: float, N_b: float) -> float:
        return greatest(_every_girder(utilities, S, N_b), girder)

    if np.ndim(spacing) == 0 and np.ndim(girders) == 0:
        return one(float(spacing), float(girders))
    return np.vectorize(one, otypes=[np.float64])(spacing, girders)


def _table(utilities: str, spacing: float, girders: float, girder: str) -> Sheet:
    """Return the proof: every utility on every girder, and the girder that carries most."""
    sheet = Sheet("utilities on every girder")
    count, items = round(girders), read_utilities(utilities)
    total = _every_girder(utilities, spacing, girders)
    rows = [
        [item.name, f"{item.weight:.4g} klf", item.where,
         *(shown_text(float(w)) if w else "0" for w in item.on(spacing, count))]
        for item in items
    ]  # fmt: skip
    rows.append(["together", "", "", *(shown_text(float(w)) if w else "0" for w in total)])
    header = ["utility", "weight", "hangs", *(f"girder {n}, klf" for n in range(1, count + 1))]
    sheet.table(header, rows, "Utilities; between two girders by the lever rule")
    at = [0, count - 1] if girder == "exterior" else list(range(1, count - 1))
    worst = max(at, key=lambda place: float(total[place]))
    S = sheet.given("S", spacing * ft, "spacing of the girders", source="as above")
    terms = [term for item in items if (term := _term(S, item, spacing, count, worst)) is not None]
    formula = sum(terms[1:], terms[0]) if terms else 0 * S * klf / ft
    sheet.step("w_ut", formula, klf, f"utilities on {girder} girder {worst + 1}", ref="lever rule")
    return sheet


def _term(S: Any, item: Utility, spacing: float, count: int, girder: int) -> Any:
    """Return weight times share of a utility on a girder; None where it carries nothing."""
    weight = item.weight * klf
    if item.place is None:
        share = sum(part for number, part in item.shares if number == girder + 1)
        return share * weight if share else None
    left, beyond = panel(item.place, spacing, count)
    inner = beyond * ft
    if girder == left:
        return weight * (1 - inner / S)
    return weight * (inner / S) if girder == left + 1 else None


UTILITY_LOAD = register_kernel(
    Kernel(
        "utilities on a girder",
        1,
        _load,
        {"utilities": "choice", "spacing": "ft", "girders": None, "girder": "choice"},
        "kip/ft",
        {"table": _table},
        "each utility on the girders named, or by the lever rule on the two it hangs between; the "
        "girder of the kind that carries most",
    )
)
"""Weight of all utilities on the girder of a kind that carries most."""
