"""Loads that stand still on a beam."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from stepcalc.errors import RangeError

if TYPE_CHECKING:
    from stepcalc.analysis.beam import Beam

__all__ = ["Concentrated", "Distributed", "Load", "checked_loads", "uniform_on_all_spans"]

HEAVIEST = 1e8
"""A force, or force per length, above this is taken for a mistake."""


@dataclass(frozen=True)
class Distributed:
    """A load that runs linearly from one end of a stretch to the other: uniform or trapezoidal.

    Attributes
    ----------
    start, end : float, [length]
        From the left end of the beam.
    at_start : float, [force / length]
        Downward positive.
    at_end : float or None, [force / length]
        None for a uniform load.
    """

    start: float
    end: float
    at_start: float
    at_end: float | None = None

    @property
    def ends(self) -> tuple[float, float]:
        """Intensity at both ends."""
        return self.at_start, self.at_start if self.at_end is None else self.at_end


@dataclass(frozen=True)
class Concentrated:
    """A single force.

    Attributes
    ----------
    position : float, [length]
        From the left end of the beam.
    force : float, [force]
        Downward positive.
    """

    position: float
    force: float


Load = Distributed | Concentrated


def uniform_on_all_spans(beam: Beam, intensity: float = 1.0) -> Distributed:
    """Return a uniform load over the whole beam, overhangs included."""
    return Distributed(0.0, beam.length, intensity)


def checked_loads(beam: Beam, loads: object) -> tuple[Load, ...]:
    """Return the loads, or raise if one is not a load on this beam.

    Raises
    ------
    RangeError
        If a load is off the beam, runs backwards, or is not a finite number in size.
    """
    given = tuple(loads) if isinstance(loads, (list, tuple)) else (loads,)
    near = 1e-9 * beam.length
    for load in given:
        if isinstance(load, Distributed):
            sizes, places = load.ends, (load.start, load.end)
        elif isinstance(load, Concentrated):
            sizes, places = (load.force, load.force), (load.position, load.position)
        else:
            raise RangeError(f"{load!r} is not a load; give Distributed or Concentrated loads")
        if not all(math.isfinite(size) and abs(size) <= HEAVIEST for size in sizes):
            msg = f"the size of {load!r} cannot be meant; give finite values up to {HEAVIEST:g}"
            raise RangeError(msg)
        if not (-near <= places[0] <= places[1] <= beam.length + near):
            msg = (
                f"{load!r} does not stand on the beam, which runs from 0 to {beam.length:g}; give "
                "positions from its left end, start before end"
            )
            raise RangeError(msg)
    return given
