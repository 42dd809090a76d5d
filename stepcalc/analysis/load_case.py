"""What stands on a beam in one case of a live load, and the cases of the codes, as data.

Forces are in kip and lengths in ft where a case comes from a code; a case of one's own may use any
coherent unit.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal

from stepcalc.analysis.vehicles import LaneLoad, Vehicle, lane_load, vehicle
from stepcalc.errors import RangeError

__all__ = [
    "LoadCase",
    "Pair",
    "deflection_cases",
    "fatigue_cases",
    "hl93_cases",
    "lane_type_legal_cases",
    "standard_cases",
    "vehicle_case",
]

Relieving = Literal["dropped", "kept"]


@dataclass(frozen=True)
class Pair:
    """Two equal vehicles in one lane, and the effects for which they count.

    Attributes
    ----------
    clear_from, clear_to : float, [length]
        Distance from the rear axle of the leading vehicle to the lead axle of the other.
    adjacent_spans : bool
        Each vehicle counts only in its own one of the two spans beside the pier.
    within_contraflexure : bool
        Negative moment counts only between the points of contraflexure beside an interior pier
        under a uniform load on all spans; else wherever it is negative. Reactions of interior
        supports count in either case, nothing else does.
    """

    clear_from: float
    clear_to: float = math.inf
    adjacent_spans: bool = True
    within_contraflexure: bool = True


@dataclass(frozen=True)
class LoadCase:
    """One case of a live load in one lane.

    Attributes
    ----------
    id : str
        Name shown beside results.
    vehicle : Vehicle or None
    axle_factor : float
        On axles only: impact, and any reduction.
    lane : float, [force / length]
        A uniform load; it stands only where it adds.
    lane_factor : float
    relieving : "dropped" or "kept"
        Whether axles that reduce the effect are left out.
    pair : Pair or None
        Two vehicles instead of one.
    riding : LaneLoad or None
        The single forces that ride on the lane load of older codes: one, and for negative moment a
        second one in another span. They take the lane's factor.
    source : str
    """

    id: str
    vehicle: Vehicle | None = None
    axle_factor: float = 1.0
    lane: float = 0.0
    lane_factor: float = 1.0
    relieving: Relieving = "dropped"
    pair: Pair | None = None
    riding: LaneLoad | None = None
    source: str = ""

    def __post_init__(self) -> None:
        for name in ("axle_factor", "lane", "lane_factor"):
            value = getattr(self, name)
            if not (math.isfinite(value) and 0 <= value < 1e6):
                msg = f"{name} of load case {self.id!r} is {value}; give a number from 0 on"
                raise RangeError(msg)
        if self.pair is not None and not 0 <= self.pair.clear_from <= self.pair.clear_to:
            msg = (
                f"load case {self.id!r} has vehicles {self.pair.clear_from:g} to "
                f"{self.pair.clear_to:g} apart; give a distance from 0 on, the smaller one first"
            )
            raise RangeError(msg)


_MEMORY = "8th ed., 2017 (from memory)"


def hl93_cases(
    *, impact: float = 0.33, relieving: Relieving = "dropped", adjacent_spans: bool = True
) -> tuple[LoadCase, ...]:
    """Return the three cases of the LRFD design live load.

    Parameters
    ----------
    impact : float
        Dynamic load allowance on axles, as a fraction.
    relieving : "dropped" or "kept"
        The code drops axles that reduce the effect.
    adjacent_spans : bool
        Whether the two trucks must stand in adjacent spans.

    Returns
    -------
    tuple of LoadCase

    Source
    ------
    AASHTO LRFD Bridge Design Specifications, 8th ed., 2017, Art. 3.6.1.3.1 (from memory).
    """
    truck, tandem = vehicle("HL-93 truck"), vehicle("HL-93 tandem")
    lane = lane_load("HL-93 lane").uniform
    source = f"AASHTO LRFD, {_MEMORY}, Art. 3.6.1.3.1"
    one = LoadCase("truck + lane", truck, 1 + impact, lane, 1.0, relieving, source=source)
    short = replace(truck, varying_spacing=None, spacing_to=None)
    return (
        one,
        replace(one, id="tandem + lane", vehicle=tandem),
        LoadCase(
            "90 % (two trucks + lane)",
            short,
            0.9 * (1 + impact),
            lane,
            0.9,
            relieving,
            Pair(50.0, adjacent_spans=adjacent_spans),
            source=source,
        ),
    )


def fatigue_cases(*, impact: float = 0.15) -> tuple[LoadCase, ...]:
    """Return the fatigue truck, without lane load; it moves as a unit.

    Source
    ------
    AASHTO LRFD Bridge Design Specifications, 8th ed., 2017, Art. 3.6.1.4 (from memory).
    """
    source = f"AASHTO LRFD, {_MEMORY}, Art. 3.6.1.4"
    truck = vehicle("fatigue truck")
    return (LoadCase("fatigue truck", truck, 1 + impact, relieving="kept", source=source),)


def deflection_cases(*, impact: float = 0.33) -> tuple[LoadCase, ...]:
    """Return the two cases of the optional deflection check: truck, and 25 % truck with lane.

    Source
    ------
    AASHTO LRFD Bridge Design Specifications, 8th ed., 2017, Art. 3.6.1.3.2 (from memory).
    """
    source = f"AASHTO LRFD, {_MEMORY}, Art. 3.6.1.3.2"
    truck, lane = vehicle("HL-93 truck"), lane_load("HL-93 lane").uniform
    return (
        LoadCase("truck", truck, 1 + impact, source=source),
        LoadCase("25 % truck + lane", truck, 0.25 * (1 + impact), lane, source=source),
    )


def standard_cases(
    name: str = "HS20", *, impact: float = 0.0, military: bool = False
) -> tuple[LoadCase, ...]:
    """Return truck and lane of the Standard Specifications, which are never added.

    Parameters
    ----------
    name : str
        "HS20", "HS15", "HS25", "H20" or "H15".
    impact : float
        Impact fraction, on truck and lane alike; it depends on the loaded length (Art. 3.8.2), so
        that it is usually applied to the results of 0.
    military : bool
        Whether the alternate military load is a case too.

    Returns
    -------
    tuple of LoadCase

    Source
    ------
    AASHTO Standard Specifications for Highway Bridges, 17th ed., 2002, Art. 3.7 and 3.11 (from
    memory).
    """
    source = "AASHTO Standard Specifications, 17th ed., 2002, Art. 3.7 and 3.11 (from memory)"
    factor, load = 1 + impact, lane_load(name)
    cases = [
        LoadCase(f"{load.id} truck", vehicle(name), factor, source=source),
        LoadCase(
            f"{load.id} lane",
            lane=load.uniform,
            lane_factor=factor,
            riding=load,
            source=source,
        ),
    ]
    if military:
        cases.append(LoadCase("alternate military", vehicle("military"), factor, source=source))
    return tuple(cases)


def vehicle_case(
    truck: Vehicle, *, impact: float = 0.33, relieving: Relieving | None = None
) -> LoadCase:
    """Return a vehicle alone in its lane.

    Parameters
    ----------
    truck : Vehicle
    impact : float
        As a fraction.
    relieving : "dropped" or "kept", optional
        By default kept, as the truck moves as a unit; dropped for the notional rating load.

    Returns
    -------
    LoadCase
    """
    chosen = relieving or ("dropped" if truck.id == "NRL" else "kept")
    return LoadCase(truck.id, truck, 1 + impact, relieving=chosen, source=truck.source)


def lane_type_legal_cases(*, impact: float = 0.33, spans: Sequence[float]) -> tuple[LoadCase, ...]:
    """Return the lane-type legal loads that apply to these spans.

    75 % of a Type 3-3 with 0.2 kip/ft where a span is longer than 200 ft; 75 % of two of them,
    30 ft apart, with 0.2 kip/ft for negative moment and reactions of interior supports.

    Source
    ------
    AASHTO Manual for Bridge Evaluation, 3rd ed., 2018, Art. 6A.4.4.2.1a (from memory).
    """
    source = "AASHTO MBE, 3rd ed., 2018, Art. 6A.4.4.2.1a (from memory)"
    truck, lane = vehicle("Type 3-3"), lane_load("legal lane").uniform
    pair = Pair(30.0, 30.0, adjacent_spans=False, within_contraflexure=False)
    one = LoadCase(
        "75 % Type 3-3 + lane", truck, 0.75 * (1 + impact), lane, 1.0, "kept", source=source
    )
    two = replace(one, id="75 % two Type 3-3 + lane", pair=pair)
    return (*([one] if max(spans) > 200 else []), *([two] if len(spans) > 1 else []))
