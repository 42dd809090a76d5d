"""The vehicles and lane loads of US highway-bridge codes, as records.

A record holds its axle forces in kip and its axle spacings in ft, leading axle first, and says
where the numbers come from. The numerical procedures of this package take the two sequences as
plain floats and do not mind the unit.
"""

from __future__ import annotations

import difflib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from itertools import accumulate
from types import MappingProxyType
from typing import TypeVar

from stepcalc.errors import RangeError, UnknownNameError

__all__ = ["LANE_LOADS", "VEHICLES", "LaneLoad", "Vehicle", "lane_load", "vehicle"]

_EDITIONS = {
    "LRFD": "AASHTO LRFD Bridge Design Specifications, 8th ed., 2017",
    "Std": "AASHTO Standard Specifications for Highway Bridges, 17th ed., 2002",
    "MBE": "AASHTO Manual for Bridge Evaluation, 3rd ed., 2018",
    "FHWA": "FHWA memorandum on FAST Act emergency vehicles, 2016",
    "owners' rule": "owners' rule, 1.25 times HS20",
}

WRITTEN_OUT = "as written out"
"""Source of a vehicle that is no row of the table: its axles stand in the text that names it."""

HEAVIEST = 1e5
"""An axle or a distance above this is taken for a mistake."""


@dataclass(frozen=True)
class Vehicle:
    """A row of axles that crosses a bridge as one.

    Attributes
    ----------
    id : str
        Short name used in sheets and files.
    title : str
        The name in words.
    axles : tuple of float
        Axle forces in kip, leading axle first.
    spacings : tuple of float
        Distances between neighbouring axles in ft; one fewer than the axles.
    ref : str
        Short name of the code and its article, such as ``"LRFD 3.6.1.2.2"``; for a vehicle of
        one's own, where it comes from.
    source : str
        The publication in full, and that the numbers are from memory.
    varying_spacing : int or None
        Index of the spacing that the code lets vary; the record holds the lower end of its range.
        On a simple span the shortest spacing always governs moment, shear and deflection (see
        `train_moment`); on continuous beams the whole range is searched.
    spacing_to : float or None
        Upper end of that range, ft.
    gauge : float
        Distance between the two wheels of an axle, ft.

    Raises
    ------
    RangeError
        If the numbers make no vehicle; the message says which.
    """

    id: str
    title: str
    axles: tuple[float, ...]
    spacings: tuple[float, ...]
    ref: str
    varying_spacing: int | None = None
    spacing_to: float | None = None
    gauge: float = 6.0

    def __post_init__(self) -> None:
        if not self.axles or len(self.spacings) != len(self.axles) - 1:
            msg = (
                f"vehicle {self.id!r} has {len(self.axles)} axles and {len(self.spacings)} "
                "spacings; give at least one axle, and one spacing fewer than axles"
            )
            raise RangeError(msg)
        for what, values in (("axles", self.axles), ("spacings", self.spacings)):
            wrong = [value for value in values if not 0 < value <= HEAVIEST]
            if wrong:
                msg = (
                    f"vehicle {self.id!r} holds {wrong[0]:g} in its {what}, which cannot be meant; "
                    f"give numbers above zero, at most {HEAVIEST:g}"
                )
                raise RangeError(msg)
        number, upper = self.varying_spacing, self.spacing_to
        if number is None and upper is None:
            return
        known = number is not None and 0 <= number < len(self.spacings)
        if not known or upper is None or not self.spacings[number or 0] <= upper <= HEAVIEST:
            msg = (
                f"vehicle {self.id!r} varies spacing {number} up to {upper}; name one of its "
                "spacings, counted from 0, and a distance that is not smaller"
            )
            raise RangeError(msg)

    @property
    def source(self) -> str:
        """The publication in full, and that the numbers are from memory; else `ref` as it is."""
        return _in_full(self.ref)

    @property
    def offsets(self) -> tuple[float, ...]:
        """Distance of each axle behind the leading one, ft; the first is 0."""
        return tuple(accumulate(self.spacings, initial=0.0))

    @property
    def weight(self) -> float:
        """Sum of the axle forces, kip."""
        return sum(self.axles)

    @property
    def length(self) -> float:
        """Distance between the first and the last axle, ft."""
        return sum(self.spacings)


@dataclass(frozen=True)
class LaneLoad:
    """A uniform load over one lane, with the single forces that may ride on it.

    Attributes
    ----------
    id, title, ref, source : str
        As for `Vehicle`.
    uniform : float
        kip/ft of lane.
    moment_force, shear_force : float
        The single force for moment and for shear, kip; 0 where the code has none.
    """

    id: str
    title: str
    uniform: float
    moment_force: float
    shear_force: float
    ref: str

    @property
    def source(self) -> str:
        """The publication in full, and that the numbers are from memory."""
        return _in_full(self.ref)


def _in_full(ref: str) -> str:
    code = next((code for code in _EDITIONS if ref.startswith(code)), None)
    if code is None:  # a vehicle of the user's own
        return ref
    article = ref.removeprefix(code).strip()
    where = article if article.startswith("App.") or not article else f"Art. {article}"
    return f"{_EDITIONS[code]}{', ' if where else ''}{where} (from memory)"


_LEGAL, _EMERGENCY, _OWNERS = "MBE App. D6A", "FHWA", "owners' rule"

# id, title, axles kip, spacings ft, reference; which spacing varies, and up to what
_VEHICLE_ROWS = (
    Vehicle("HL-93 truck", "LRFD design truck", (8, 32, 32), (14, 14), "LRFD 3.6.1.2.2", 1, 30.0),
    Vehicle("HL-93 tandem", "LRFD design tandem", (25, 25), (4,), "LRFD 3.6.1.2.3"),
    Vehicle("fatigue truck", "LRFD fatigue truck", (8, 32, 32), (14, 30), "LRFD 3.6.1.4.1"),
    Vehicle("HS20", "HS20-44 truck", (8, 32, 32), (14, 14), "Std 3.7.6", 1, 30.0),
    Vehicle("HS15", "HS15-44 truck", (6, 24, 24), (14, 14), "Std 3.7.6", 1, 30.0),
    Vehicle("HS25", "HS25 truck", (10, 40, 40), (14, 14), _OWNERS, 1, 30.0),
    Vehicle("H20", "H20-44 truck", (8, 32), (14,), "Std 3.7.5"),
    Vehicle("H15", "H15-44 truck", (6, 24), (14,), "Std 3.7.5"),
    Vehicle("military", "alternate military load", (24, 24), (4,), "Std 3.7.4"),
    Vehicle("Type 3", "legal truck", (16, 17, 17), (15, 4), _LEGAL),
    Vehicle("Type 3S2", "legal truck", (10, 15.5, 15.5, 15.5, 15.5), (11, 4, 22, 4), _LEGAL),
    Vehicle("Type 3-3", "legal truck", (12, 12, 12, 16, 14, 14), (15, 4, 15, 16, 4), _LEGAL),
    Vehicle("SU4", "specialized hauling vehicle", (12, 8, 17, 17), (10, 4, 4), _LEGAL),
    Vehicle("SU5", "specialized hauling vehicle", (12, 8, 8, 17, 17), (10, 4, 4, 4), _LEGAL),
    Vehicle(
        "SU6", "specialized hauling vehicle", (11.5, 8, 8, 17, 17, 8), (10, 4, 4, 4, 4), _LEGAL
    ),
    Vehicle(
        "SU7", "specialized hauling vehicle", (11.5, 8, 8, 17, 17, 8, 8), (10, *[4] * 5), _LEGAL
    ),
    Vehicle(
        "NRL", "notional rating load", (6, 8, 8, 17, 17, 8, 8, 8), (6, *[4] * 6), _LEGAL, 0, 14.0
    ),
    Vehicle("EV2", "emergency vehicle, single rear axle", (24, 33.5), (15,), _EMERGENCY),
    Vehicle("EV3", "emergency vehicle, tandem rear axle", (24, 31, 31), (15, 4), _EMERGENCY),
)

# id, title, kip/ft of lane, single force for moment and for shear in kip, reference
_LANE_ROWS = (
    LaneLoad("HL-93 lane", "LRFD design lane load", 0.64, 0.0, 0.0, "LRFD 3.6.1.2.4"),
    LaneLoad("legal lane", "lane load beside legal trucks", 0.2, 0.0, 0.0, "MBE 6A.4.4.2.1a"),
    LaneLoad("HS20", "HS20-44 lane load", 0.640, 18.0, 26.0, "Std 3.7.6"),
    LaneLoad("HS15", "HS15-44 lane load", 0.480, 13.5, 19.5, "Std 3.7.6"),
    LaneLoad("HS25", "HS25 lane load", 0.800, 22.5, 32.5, _OWNERS),
    LaneLoad("H20", "H20-44 lane load", 0.640, 18.0, 26.0, "Std 3.7.6"),
    LaneLoad("H15", "H15-44 lane load", 0.480, 13.5, 19.5, "Std 3.7.6"),
)

VEHICLES: Mapping[str, Vehicle] = MappingProxyType({row.id: row for row in _VEHICLE_ROWS})
"""Every vehicle by its id."""
LANE_LOADS: Mapping[str, LaneLoad] = MappingProxyType({row.id: row for row in _LANE_ROWS})
"""Every lane load by its id."""

_Record = TypeVar("_Record", Vehicle, LaneLoad)


def vehicle(name: str) -> Vehicle:
    """Return the vehicle with this id, in any letter case.

    Parameters
    ----------
    name : str
        Such as ``"HL-93 truck"`` or ``"hs20"``; or a vehicle written out, a name, its axles in kip
        and its spacings in ft, ``"crane: 18, 24, 24 @ 13.5, 4.5"``.

    Returns
    -------
    Vehicle

    Raises
    ------
    UnknownNameError
        If no vehicle has that id; the message names the nearest ones.

    Examples
    --------
    >>> vehicle("hs20").axles
    (8, 32, 32)
    >>> vehicle("crane: 18, 24, 24 @ 13.5, 4.5").weight
    66.0
    """
    return _written_out(name) if "@" in name else _find(name, VEHICLES, "vehicle")


@lru_cache(maxsize=64)
def _written_out(text: str) -> Vehicle:
    name, _, rest = text.rpartition(":")
    try:
        axles, spacings = (
            tuple(float(number) for number in part.replace(",", " ").split())
            for part in rest.split("@")
        )
    except ValueError:
        axles, spacings = (), ()
    fits = all(0 < force <= 1000 for force in axles) and all(0 < s <= 1000 for s in spacings)
    if not (name.strip() and fits and 2 <= len(axles) <= 100 and len(spacings) == len(axles) - 1):
        msg = (
            f"the vehicle {text[:80]!r} cannot be read; want a name, axles in kip and one spacing "
            "in ft fewer, such as 'crane: 18, 24, 24 @ 13.5, 4.5'"
        )
        raise UnknownNameError(msg)
    return Vehicle(text, name.strip(), axles, spacings, WRITTEN_OUT)


def lane_load(name: str) -> LaneLoad:
    """Return the lane load with this id, in any letter case.

    Parameters
    ----------
    name : str
        Such as ``"HL-93 lane"`` or ``"HS20"``.

    Returns
    -------
    LaneLoad

    Raises
    ------
    UnknownNameError
        If no lane load has that id; the message names the nearest ones.
    """
    return _find(name, LANE_LOADS, "lane load")


def _find(name: str, records: Mapping[str, _Record], what: str) -> _Record:
    by_lower = {key.lower(): record for key, record in records.items()}
    found = by_lower.get(name.strip().lower())
    if found is not None:
        return found
    near = difflib.get_close_matches(name.strip().lower(), by_lower, n=3, cutoff=0.4)
    fits = ", ".join(repr(by_lower[key].id) for key in near or by_lower)
    msg = f"no {what} is called {name!r}; {'nearest names' if near else 'known'}: {fits}"
    raise UnknownNameError(msg)
