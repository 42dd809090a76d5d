"""What a load text means: the cases of a code, one vehicle, or a vehicle of one's own as TOML."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import lru_cache

from stepcalc.analysis.load_case import (
    LoadCase,
    Pair,
    deflection_cases,
    fatigue_cases,
    hl93_cases,
    lane_type_legal_cases,
    standard_cases,
    vehicle_case,
)
from stepcalc.analysis.vehicle_file import read_vehicle_text
from stepcalc.analysis.vehicles import LANE_LOADS, VEHICLES, vehicle
from stepcalc.errors import UnknownNameError

__all__ = ["HL93", "HL93_TANDEMS", "load_cases", "load_names"]

HL93 = "HL-93"
HL93_TANDEMS = "HL-93 with two tandems"
"""HL-93, and for negative moment and interior reactions two tandems 26 to 40 ft apart with lane."""
_HL93_ALONE = {
    "truck + lane": 0, "tandem + lane": 1, "two trucks + lane": 2, "two tandems + lane": 3,
}  # fmt: skip
_LANE = "HL-93 lane"
_STANDARD = tuple(name for name in LANE_LOADS if name in VEHICLES)


def load_names() -> tuple[str, ...]:
    """Return the texts that stand for a load, vehicles by their names among them."""
    return (
        HL93,
        *(f"{HL93}: {name}" for name in _HL93_ALONE),
        HL93_TANDEMS,
        _LANE,
        "fatigue",
        "deflection",
        "lane-type legal loads",
        *(f"{name} truck or lane" for name in _STANDARD),
        "HS20 truck, lane or military",
        *VEHICLES,
    )


@lru_cache(maxsize=128)
def load_cases(text: str, impact: float, spans: tuple[float, ...]) -> tuple[LoadCase, ...]:
    """Return the cases that a load text stands for; the largest of them governs.

    Parameters
    ----------
    text : str
        One of `load_names`, in any letter case, with ``", relieving axles kept"`` or
        ``", relieving axles dropped"`` behind it to choose other than the code does; or the TOML
        text of a vehicle with its ``[vehicle]`` table.
    impact : float
        Dynamic load allowance on axles, as a fraction.
    spans : sequence of float, ft
        Lane-type legal loads depend on them.

    Returns
    -------
    tuple of LoadCase

    Raises
    ------
    UnknownNameError, BridgeFileError, RangeError
        If the text stands for no load.
    """
    for relieving in ("kept", "dropped"):
        name, behind, _ = text.partition(f", relieving axles {relieving}")
        if behind:
            chosen = load_cases(name, impact, spans)
            return tuple(replace(case, relieving=relieving) for case in chosen)
    if "[vehicle]" in text:
        return (vehicle_case(read_vehicle_text(text), impact=impact),)
    by_lower = {name.lower(): name for name in load_names()}
    found = by_lower.get(text.strip().lower())
    if found is None:
        try:
            return (vehicle_case(vehicle(text), impact=impact),)
        except UnknownNameError as error:
            message = f"{error.args[0]}; or one of the loads {', '.join(load_names()[:10])}"
            raise UnknownNameError(message) from None
    return _cases(found, impact, spans)


def _cases(name: str, impact: float, spans: Sequence[float]) -> tuple[LoadCase, ...]:
    if name == HL93:
        return hl93_cases(impact=impact)
    if name == HL93_TANDEMS:
        return _with_tandems(impact)
    if name.startswith(f"{HL93}: "):
        return (_with_tandems(impact)[_HL93_ALONE[name.removeprefix(f"{HL93}: ")]],)
    if name == _LANE:
        lane = hl93_cases(impact=impact)[0]
        return (LoadCase("lane", lane=lane.lane, source=lane.source),)
    if name == "fatigue":
        return fatigue_cases(impact=impact)
    if name == "deflection":
        return deflection_cases(impact=impact)
    if name == "lane-type legal loads":
        return lane_type_legal_cases(impact=impact, spans=spans)
    if name.endswith(" or lane"):
        return standard_cases(name.removesuffix(" truck or lane"), impact=impact)
    if name.endswith("military"):
        return standard_cases("HS20", impact=impact, military=True)
    return (vehicle_case(vehicle(name), impact=impact),)


def _with_tandems(impact: float) -> tuple[LoadCase, ...]:
    """Return the HL-93 cases and the pair of tandems of the commentary.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), C3.6.1.3.1: two tandems 26 to 40 ft apart with all of the lane
    load; an owner may ask for it; from memory.
    """
    cases = hl93_cases(impact=impact)
    pair = replace(
        cases[1], id="two tandems + lane", pair=Pair(26.0, 40.0),
        source="AASHTO LRFD, 8th ed., 2017 (from memory), C3.6.1.3.1",
    )  # fmt: skip
    return (*cases, pair)
