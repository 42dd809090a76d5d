"""The axles of a vehicle that stand on the span in its governing position, from left to right."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from stepcalc.analysis.placement import Placement
    from stepcalc.analysis.vehicles import Vehicle

__all__ = ["PlacedAxles", "on_the_span"]


@dataclass(frozen=True)
class PlacedAxles:
    """Axles that count, from left to right.

    Attributes
    ----------
    forces, positions : tuple of float
        kip, and ft from the left support.
    offsets : tuple of float
        Distance of each behind the first of them, by the vehicle's own spacings, ft.
    governing : int
        Index in these tuples of the axle on the section; -1 if none needs to stand there.
    section : float
        Governing section, ft.
    left_out : int
        Axles of the vehicle that stand off the span or would reduce the effect.
    """

    forces: tuple[float, ...]
    positions: tuple[float, ...]
    offsets: tuple[float, ...]
    governing: int
    section: float
    left_out: int


def on_the_span(
    record: Vehicle, found: Placement, span: float, *, least: float = 0.0
) -> PlacedAxles:
    """Return the axles of a single placement that stand from `least` to the end of the span.

    Parameters
    ----------
    record : Vehicle
        The vehicle.
    found : Placement
        The result of a search for one span.
    span, least : float
        Span, and where axles begin to count, ft.

    Returns
    -------
    PlacedAxles
        From left to right.
    """
    order = sorted(enumerate(found.positions(record.spacings)), key=lambda item: float(item[1]))
    slack = 1e-9 * span
    free = int(found.axle) < 0  # no axle stands on the section, so none counts over a support
    first = slack if free else least - slack
    counted = [(i, float(x)) for i, x in order if first <= x < span - slack]
    indices = [i for i, _ in counted]
    offsets = [abs(record.offsets[i] - record.offsets[indices[0]]) for i in indices]
    axle = int(found.axle)
    return PlacedAxles(
        tuple(float(record.axles[i]) for i in indices),
        tuple(x for _, x in counted),
        tuple(float(offset) for offset in offsets),
        indices.index(axle) if axle in indices else -1,
        float(found.section),
        len(record.axles) - len(counted),
    )
