"""A vehicle of one's own, read from a TOML table and checked."""

from __future__ import annotations

import math
import tomllib
from collections.abc import Mapping
from itertools import pairwise
from typing import Any

from stepcalc.analysis.vehicles import Vehicle
from stepcalc.errors import BridgeFileError

__all__ = ["read_vehicle", "read_vehicle_text"]

_KEYS = {
    "id", "title", "axles", "spacings", "positions", "varying", "gauge", "single_axle", "source"
}  # fmt: skip
HEAVIEST_AXLE = 1000.0
LONGEST_SPACING = 1000.0
MOST_AXLES = 100


def read_vehicle_text(text: str) -> Vehicle:
    """Return the vehicle of a TOML text with a table ``[vehicle]``.

    Parameters
    ----------
    text : str

    Returns
    -------
    Vehicle

    Raises
    ------
    BridgeFileError
        If the text is not TOML, has no table ``[vehicle]``, or the table does not make a vehicle.

    Examples
    --------
    >>> text = '''
    ... [vehicle]
    ... id = "crane carrier"
    ... axles = [18, 24, 24]
    ... spacings = [13.5, 4.5]
    ... varying = { spacing = 1, to = 20 }
    ... source = "owner's data sheet"
    ... '''
    >>> read_vehicle_text(text).weight
    66.0
    """
    try:
        tables = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise BridgeFileError(f"the vehicle file is not TOML: {error}") from None
    table = tables.get("vehicle")
    if not isinstance(table, dict):
        raise BridgeFileError("the vehicle file has no table [vehicle]; put the keys under one")
    return read_vehicle(table)


def read_vehicle(table: Mapping[str, Any], *, where: str = "[vehicle]") -> Vehicle:
    """Return the vehicle that a table describes.

    Parameters
    ----------
    table : mapping
        ``id``, ``axles`` (kip, leading axle first), either ``spacings`` (ft between axles) or
        ``positions`` (ft behind a common point, increasing), and optionally ``title``, ``source``,
        ``gauge`` (ft), ``varying`` (``spacing``: number from 1, ``to``: upper end in ft), and
        ``single_axle = true`` where one axle is really meant.
    where : str
        How messages call the table.

    Returns
    -------
    Vehicle

    Raises
    ------
    BridgeFileError
        If a key is unknown or missing, or a value cannot be meant; the message says which.
    """
    unknown = sorted(set(table) - _KEYS)
    if unknown:
        known = ", ".join(sorted(_KEYS))
        raise BridgeFileError(f"{where} has an unknown key {unknown[0]!r}; known keys: {known}")
    name = _text(table, "id", where)
    axles = _numbers(table, "axles", where, HEAVIEST_AXLE, "kip")
    if len(axles) > MOST_AXLES:
        raise BridgeFileError(f"{where} has {len(axles)} axles; at most {MOST_AXLES} are taken")
    if len(axles) == 1 and table.get("single_axle") is not True:
        msg = f"{where} has a single axle; if that is meant, add single_axle = true"
        raise BridgeFileError(msg)
    if any(force <= 0 for force in axles):
        raise BridgeFileError(f"{where} axles holds a force that is not above zero, in kip")
    spacings = _spacings(table, where, len(axles))
    index, upper = _varying(table, where, spacings)
    return Vehicle(
        name,
        str(table.get("title", name)),
        axles,
        spacings,
        str(table.get("source", "user's vehicle")),
        index,
        upper,
        _gauge(table, where),
    )


def _text(table: Mapping[str, Any], key: str, where: str) -> str:
    value = table.get(key)
    if not isinstance(value, str) or not value.strip():
        raise BridgeFileError(f"{where} needs {key}, a short text")
    return value.strip()


def _numbers(
    table: Mapping[str, Any], key: str, where: str, largest: float, unit: str
) -> tuple[float, ...]:
    values = table.get(key)
    if not isinstance(values, list) or not values:
        raise BridgeFileError(f"{where} needs {key}, a list of numbers in {unit}")
    return tuple(_number(value, f"{where} {key}", largest, unit) for value in values)


def _number(value: object, what: str, largest: float, unit: str) -> float:
    if isinstance(value, bool) or not isinstance(value, (int, float)):
        raise BridgeFileError(f"{what} holds {value!r}; give numbers in {unit}")
    if not math.isfinite(value) or abs(value) > largest:
        msg = f"{what} holds {value:g} {unit}, which cannot be meant; give at most {largest:g}"
        raise BridgeFileError(msg)
    return float(value)


def _spacings(table: Mapping[str, Any], where: str, axles: int) -> tuple[float, ...]:
    if ("spacings" in table) == ("positions" in table) and axles > 1:
        msg = f"{where} needs either spacings between axles or positions of axles, in ft"
        raise BridgeFileError(msg)
    if axles == 1:
        return ()
    if "positions" in table:
        places = _numbers(table, "positions", where, LONGEST_SPACING, "ft")
        _fits(len(places), axles, f"{where} positions")
        for one, following in pairwise(places):
            if following <= one:
                msg = (
                    f"{where} positions go from {one:g} to {following:g} ft; give them increasing, "
                    "the leading axle first"
                )
                raise BridgeFileError(msg)
        return tuple(b - a for a, b in pairwise(places))
    spacings = _numbers(table, "spacings", where, LONGEST_SPACING, "ft")
    _fits(len(spacings), axles - 1, f"{where} spacings")
    if any(spacing <= 0 for spacing in spacings):
        raise BridgeFileError(f"{where} spacings holds a distance that is not above zero, in ft")
    return spacings


def _fits(count: int, wanted: int, what: str) -> None:
    if count != wanted:
        raise BridgeFileError(f"{what} has {count} entries; these axles need {wanted}")


def _varying(
    table: Mapping[str, Any], where: str, spacings: tuple[float, ...]
) -> tuple[int | None, float | None]:
    varying = table.get("varying")
    if varying is None:
        return None, None
    if not isinstance(varying, dict) or set(varying) != {"spacing", "to"}:
        raise BridgeFileError(f"{where} varying needs spacing, counted from 1, and to, in ft")
    number = varying["spacing"]
    if isinstance(number, bool) or not isinstance(number, int) or not 1 <= number <= len(spacings):
        msg = f"{where} varying names spacing {number!r}; the vehicle has {len(spacings)}"
        raise BridgeFileError(msg)
    upper = _number(varying["to"], f"{where} varying to", LONGEST_SPACING, "ft")
    if upper < spacings[number - 1]:
        msg = (
            f"{where} spacing {number} varies from {spacings[number - 1]:g} to {upper:g} ft; the "
            "upper end must not be the smaller one"
        )
        raise BridgeFileError(msg)
    return number - 1, upper


def _gauge(table: Mapping[str, Any], where: str) -> float:
    gauge = _number(table.get("gauge", 6.0), f"{where} gauge", 50.0, "ft")
    if gauge <= 0:
        raise BridgeFileError(f"{where} gauge is {gauge:g} ft; give a distance above zero")
    return gauge
