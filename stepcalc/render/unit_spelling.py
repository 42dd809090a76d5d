"""Unit texts such as ``kip*ft`` or ``lb/ft^3``, split into the parts that a printer sets.

A product prints with a hyphen, as the trade writes it (``kip-ft``), a quotient with a slash.
"""

from __future__ import annotations

import re
from functools import lru_cache
from typing import NamedTuple

_TOKEN = re.compile(
    r"\s*(?:(?P<power>(?:\^|\*\*)\s*\(?\s*(?P<exponent>-?\d+(?:\.\d+)?(?:/\d+)?)\s*\)?)"
    r"|(?P<name>[A-Za-z°Ωµμ%][A-Za-z_°µμ]*)|(?P<times>[*·⋅\-])|(?P<over>/)|(?P<one>1(?=\s*/)))"
)
_SHORT = {
    "inch": "in", "inches": "in", "foot": "ft", "feet": "ft", "pound_force": "lb", "lbf": "lb",
    "kip_ft": "kip-ft", "kip_in": "kip-in", "degree": "°", "deg": "°",
}  # fmt: skip
_SPOKEN = {
    "in": ("inch", "inches"), "ft": ("foot", "feet"), "kip": ("kip", "kips"),
    "lb": ("pound", "pounds"), "ksi": ("k s i", "k s i"), "ksf": ("k s f", "k s f"),
    "psi": ("p s i", "p s i"), "psf": ("p s f", "p s f"), "pcf": ("p c f", "p c f"),
    "plf": ("p l f", "p l f"), "klf": ("k l f", "k l f"), "°": ("degree", "degrees"),
    "rad": ("radian", "radians"), "s": ("second", "seconds"), "mi": ("mile", "miles"),
    "hr": ("hour", "hours"), "mph": ("mile per hour", "miles per hour"),
    "yd": ("yard", "yards"), "ton": ("ton", "tons"), "mm": ("millimeter", "millimeters"),
    "m": ("meter", "meters"), "kN": ("kilonewton", "kilonewtons"),
    "MPa": ("megapascal", "megapascals"), "%": ("percent", "percent"),
}  # fmt: skip
_POWERS = {"2": "squared", "3": "cubed", "4": "to the fourth"}


class UnitFactor(NamedTuple):
    """One unit with its exponent; ``joint`` stands before it: nothing, a hyphen or a slash."""

    joint: str
    name: str
    exponent: str


@lru_cache(maxsize=1024)
def split_unit(text: str) -> tuple[UnitFactor, ...] | None:
    """Return the factors of a unit text, or None if the text is no unit.

    Parameters
    ----------
    text : str
        ``kip/ft^2``, ``kip*ft``, ``kip-ft``, ``in**4`` and ``lb/(ft*s)`` are understood.

    Returns
    -------
    tuple of UnitFactor, or None

    Examples
    --------
    >>> [f"{f.joint}{f.name}{f.exponent}" for f in split_unit("kip*ft/inch**4")]
    ['kip', '-ft', '/in4']
    """
    factors: list[UnitFactor] = []
    place, joint, bracket = 0, "", False
    text = text.strip()
    while place < len(text):
        if text[place] == "(" and joint == "/" and not bracket:
            bracket, place = True, place + 1
            continue
        if text[place] == ")" and bracket:
            bracket, place = False, place + 1
            continue
        found = _TOKEN.match(text, place)
        if found is None or len(factors) > 12:
            return None
        place = found.end()
        if found["name"]:
            short = _SHORT.get(found["name"], found["name"])
            factors.append(UnitFactor(joint or ("-" if factors else ""), short, ""))
            joint = "/" if bracket else ""
        elif found["power"]:
            if not factors or factors[-1].exponent:
                return None
            factors[-1] = factors[-1]._replace(exponent=found["exponent"])
        elif found["over"]:
            joint = "/"
        elif found["times"]:
            joint = "/" if bracket else "-"
        elif factors:
            return None
    return None if bracket or not factors else tuple(factors)


def spoken_unit(text: str, *, plural: bool) -> str:
    """Return a unit in words, ``kip per foot``; a text that is no unit comes back as it is."""
    factors = split_unit(text)
    if factors is None:
        return text
    words: list[str] = []
    last = max((i for i, f in enumerate(factors) if f.joint != "/"), default=-1)
    for i, (joint, name, exponent) in enumerate(factors):
        one, many = _SPOKEN.get(name, (name, name))
        word = many if plural and i == last else one
        if exponent:
            word += " " + _POWERS.get(exponent, f"to the power {exponent}")
        words.append(f"per {word}" if joint == "/" else word)
    return " ".join(words)
