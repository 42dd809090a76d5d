"""Moving loads on a simple span, and uniform loads, against printed tables and problems."""

from __future__ import annotations

import re
from functools import partial
from typing import TYPE_CHECKING

import pytest

from stepcalc.analysis.train_moment import maximum_moment
from stepcalc.analysis.train_shear import maximum_shear
from stepcalc.analysis.uniform import lane_shear, midspan_lane_moment
from stepcalc.analysis.vehicles import lane_load, vehicle
from tests.published.entries import assert_agrees, each, entry

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from tests.published.entries import Readings

FEET = re.compile(r"_(\d+)ft$")


def truck_moment(truck: str, span: float) -> float:
    found = vehicle(truck)
    return float(maximum_moment(found.axles, found.spacings, span=span).value)


def truck_shear(truck: str, span: float) -> float:
    found = vehicle(truck)
    return float(maximum_shear(found.axles, found.spacings, span=span).value)


def lane_moment(name: str, span: float) -> float:
    load = lane_load(name)
    return midspan_lane_moment(load.uniform, load.moment_force, span=span)


def lane_end_shear(name: str, span: float) -> float:
    load = lane_load(name)
    return lane_shear(load.uniform, load.shear_force, 0.0, span=span)


def governing_moment(name: str, span: float) -> float:
    """Return the larger of truck and lane, which are never added."""
    return max(truck_moment(name, span), lane_moment(name, span))


def governing_shear(name: str, span: float) -> float:
    return max(truck_shear(name, span), lane_end_shear(name, span))


def reading(
    name: str, load: str, kinds: Mapping[str, Callable[[str, float], float]]
) -> partial[float]:
    """Return the reading of a name such as ``M_40ft``: its kind and its span."""
    found = FEET.search(name)
    assert found
    return partial(kinds[name[: found.start()]], load, float(found[1]))


HS20 = {"M": governing_moment, "V": governing_shear}
H20 = {
    "M_lane_midspan": lane_moment,
    "V_lane_end": lane_end_shear,
    "M_H20_governing": governing_moment,
}

TWO_AXLES = partial(maximum_moment, (24.0, 6.0), (14.0,), span=48.0)


def distance_to_heavier_axle() -> float:
    """Return the distance from the nearer support: the train may head either way."""
    section = float(TWO_AXLES().section)
    return min(section, 48.0 - section)


def reaction_near_heavier_axle() -> float:
    """Return the reaction of the support nearer to the heavier axle, by moments about the other."""
    placed = TWO_AXLES()
    forces, positions = (24.0, 6.0), placed.positions((14.0,))
    right = sum(P * float(x) for P, x in zip(forces, positions, strict=True)) / 48.0
    return right if float(placed.section) > 24.0 else sum(forces) - right


READINGS: Readings = {
    "aashto-std-hs20-simple-span": {
        name: reading(name, "HS20", HS20) for name in entry("aashto-std-hs20-simple-span").expected
    },
    "khan-table-6.7-h20": {
        name: reading(name, "H20", H20) for name in entry("khan-table-6.7-h20").expected
    },
    "beer-johnston-5.105-two-axle-truck": {
        "M_live_max": lambda: float(TWO_AXLES().value),
        "M_live_max_kip_in": lambda: 12 * float(TWO_AXLES().value),
        "x_from_A": distance_to_heavier_axle,
        "reaction_A_live": reaction_near_heavier_axle,
    },
    "continuous-udl-1-to-4-spans": {
        "spans1.R_end": lambda: lane_shear(1.0, 0.0, 0.0, span=1.0),
        "spans1.M_max": lambda: midspan_lane_moment(1.0, 0.0, span=1.0),
    },
}


@each(READINGS)
def test_published(entry_id: str, name: str, reading: Callable[[], float]) -> None:
    assert_agrees(entry_id, name, reading)


@pytest.mark.parametrize(
    ("span", "one_axle", "two_axle_formula"),
    [(20.0, 160.0, 147.92), (22.0, 176.0, 167.56), (24.0, 192.0, 187.27), (26.0, 208.0, 207.02)],
)
def test_misprinted_short_spans(span: float, one_axle: float, two_axle_formula: float) -> None:
    """Khan, Table 6.7, prints 40 (L/2 - 1.4)^2 / L below 28 ft although one axle governs there.

    The AASHTO table has 160.0 at 20 ft (entry aashto-std-hs20-simple-span).
    """
    assert 40 * (span / 2 - 1.4) ** 2 / span == pytest.approx(two_axle_formula, abs=0.01)
    assert governing_moment("H20", span) == pytest.approx(one_axle)


def test_the_truck_governs_short_span_shear() -> None:
    """Khan's governing shear is the lane's; at 20 ft the H20 truck gives 32 + 8 (20 - 14) / 20."""
    assert governing_shear("H20", 20.0) == pytest.approx(34.4)
    assert governing_shear("H20", 34.0) == pytest.approx(36.88)


def test_the_concentrated_load_for_moment_is_18_kip() -> None:
    """The heading of Khan's table prints 418 kip; 0.64 * 20^2 / 8 + 18 * 20 / 4 = 122."""
    assert lane_load("H20").moment_force == 18.0
    assert lane_moment("H20", 20.0) == pytest.approx(122.0)


@pytest.mark.parametrize(("effect", "changes_at"), [("M", 145.0), ("V", 128.0)])
def test_where_lane_overtakes_truck(effect: str, changes_at: float) -> None:
    """Notes of the entry aashto-std-hs20-simple-span: about 145 ft for moment, 128 ft for shear."""
    truck, lane = (truck_moment, lane_moment) if effect == "M" else (truck_shear, lane_end_shear)
    assert truck("HS20", changes_at - 2) > lane("HS20", changes_at - 2)
    assert truck("HS20", changes_at + 2) < lane("HS20", changes_at + 2)
