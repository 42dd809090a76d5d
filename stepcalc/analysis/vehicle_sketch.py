"""Vehicles drawn with plain letters: axles as arrows to scale, forces above, spacings below."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stepcalc.analysis.vehicles import LANE_LOADS, VEHICLES

if TYPE_CHECKING:
    from collections.abc import Sequence

    from stepcalc.analysis.vehicles import Vehicle

__all__ = ["all_lines", "lane_lines", "sketch", "vehicle_lines"]

_WIDEST = 76
_FEET_PER_LETTER = 1.0


def sketch(vehicle: Vehicle) -> tuple[str, ...]:
    r"""Return a vehicle as three lines of text: forces in kip, axles, spacings in ft.

    Parameters
    ----------
    vehicle : Vehicle
        The leading axle stands at the left; a spacing that varies shows both its ends.

    Returns
    -------
    tuple of str
        Three lines.

    Examples
    --------
    >>> from stepcalc.analysis.vehicles import vehicle
    >>> print(*sketch(vehicle("HL-93 tandem")), sep="\n")
    25  25
    v   v
    | 4 |
    """
    forces = [f"{force:g}" for force in vehicle.axles]
    gaps = [_spacing_text(vehicle, i) for i in range(len(vehicle.spacings))]
    longest = max(sum(vehicle.spacings), 1.0)
    scale = min(_FEET_PER_LETTER, _WIDEST / longest)
    places = [0]
    for i, spacing in enumerate(vehicle.spacings):
        least = max(len(forces[i]) + 2, len(gaps[i]) + 3)
        places.append(places[-1] + max(round(spacing * scale), least))
    below = [text.center(z - a - 1) for text, a, z in zip(gaps, places, places[1:], strict=False)]
    return (
        _placed(forces, places),
        _placed(["v"] * len(forces), places),
        "|" + "".join(f"{text}|" for text in below),
    )


def vehicle_lines(vehicle: Vehicle) -> list[str]:
    """Return the paragraph of one vehicle: name, weight, length, sketch and source.

    Parameters
    ----------
    vehicle : Vehicle
        A code's or a user's.

    Returns
    -------
    list of str
    """
    length = f"{vehicle.length:g} ft"
    if vehicle.spacing_to is not None and vehicle.varying_spacing is not None:
        longest = vehicle.length + vehicle.spacing_to - vehicle.spacings[vehicle.varying_spacing]
        length = f"{vehicle.length:g} to {longest:g} ft"
    head = f"{vehicle.id}: {vehicle.title}, {vehicle.weight:g} kip, {length}"
    if vehicle.gauge != 6.0:
        head += f", gauge {vehicle.gauge:g} ft"
    return [head, *(f"    {line}" for line in sketch(vehicle)), f"    source: {vehicle.source}"]


def lane_lines() -> list[str]:
    """Return one line for each lane load: intensity, riding forces, source."""
    found = []
    for lane in LANE_LOADS.values():
        riding = ""
        if lane.moment_force:
            riding = f" with {lane.moment_force:g} kip for moment, {lane.shear_force:g} for shear"
        found.append(f"{lane.id}: {lane.title}, {lane.uniform:g} kip/ft{riding}")
        found.append(f"    source: {lane.source}")
    return found


def all_lines() -> list[str]:
    """Return the paragraphs of all vehicles and lane loads."""
    found: list[str] = []
    for record in VEHICLES.values():
        found += [*vehicle_lines(record), ""]
    return [*found, "Lane loads", "", *lane_lines()]


def _spacing_text(vehicle: Vehicle, index: int) -> str:
    text = f"{vehicle.spacings[index]:g}"
    if index == vehicle.varying_spacing and vehicle.spacing_to is not None:
        return f"{text} to {vehicle.spacing_to:g}"
    return text


def _placed(texts: Sequence[str], places: Sequence[int]) -> str:
    line = ""
    for text, place in zip(texts, places, strict=True):
        line = line.ljust(place) + text
    return line
