"""What one stage of dead load, or a settlement, does to a girder, as floats."""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from stepcalc.analysis.beam import Beam, Segment
from stepcalc.analysis.beam_loads import Distributed
from stepcalc.analysis.beam_response import Response, response
from stepcalc.bridge.continuous.layout import beam_of, section_of
from stepcalc.bridge.continuous.stage_loads import read_settlements, stage_loads
from stepcalc.bridge.continuous.stages_at_once import stage_at_once
from stepcalc.bridge.continuous.values import face_at
from stepcalc.errors import RangeError

if TYPE_CHECKING:
    from stepcalc.analysis.line_family import Effect

__all__ = [
    "along_response",
    "fixed_response",
    "own_response",
    "settled_response",
    "stage_along",
    "stage_value",
    "value_in",
]

Spans = tuple[float, ...]
Array = NDArray[np.float64]
Integers = NDArray[np.int64]


@lru_cache(maxsize=256)
def own_response(spans: Spans, layout: str, loads: str) -> Response:
    """Return what 1 kip/ft does where the stage's uniform load lies."""
    beam = beam_of(spans, layout)
    stretches = stage_loads(loads, spans).stretches
    return response(beam, [Distributed(start, end, 1.0) for start, end in stretches])


@lru_cache(maxsize=256)
def fixed_response(spans: Spans, layout: str, loads: str) -> Response:
    """Return what the loads with a size of their own do."""
    return response(beam_of(spans, layout), list(stage_loads(loads, spans).fixed))


@lru_cache(maxsize=128)
def settled_response(spans: Spans, layout: str, settlements: str, rigidity: float) -> Response:
    """Return what settlements do; `rigidity` is the EI, kip-ft^2, for which the layout says 1."""
    beam = beam_of(spans, layout)
    true = Beam(
        beam.spans,
        [Segment(part.start, part.end, _times(part.rigidity, rigidity)) for part in beam.segments],
        beam.ends,
        beam.hinges,
    )
    moved = {
        beam.supports[support - 1]: inches / 12
        for support, inches in read_settlements(settlements, len(beam.supports))
    }
    return response(true, (), settlements=moved)


def _times(
    law: float | Callable[[Array], Array], factor: float
) -> float | Callable[[Array], Array]:
    if not callable(law):
        return law * factor
    return lambda x: factor * law(x)


def value_in(found: Response, effect: str, spans: Spans, place: int, fraction: float) -> float:
    """Return an effect at a section of a span, or the reaction of a support.

    Raises
    ------
    RangeError
        If there is no such support.
    """
    if effect == "reaction":
        if not 1 <= place <= len(found.reactions):
            msg = f"there is no support {place}; the beam has {len(found.reactions)}"
            raise RangeError(msg)
        return float(found.reactions[place - 1])
    x = section_of(spans, place, fraction)
    if effect == "shear":
        return float(found.shear(x, side="left" if face_at(fraction) < 0 else "right"))
    if effect == "deflection":
        return float(found.deflection(x))
    value = float(found.moment(x))
    # what is left at an end support is round-off, no moment
    most = float(np.abs(found.moment.coefficients[:, 0]).max(initial=0.0))
    return 0.0 if abs(value) <= 1e-11 * most else value


@lru_cache(maxsize=1024)
def stage_value(
    effect: Effect,
    spans: Spans,
    layout: str,
    place: int,
    fraction: float,
    load: float,
    loads: str,
) -> float:
    """Return an effect of a stage at a section of a span, or the reaction of a support."""
    beam = beam_of(spans, layout)
    if effect != "reaction":
        section_of(spans, place, fraction)
    elif not 1 <= place <= len(beam.supports):
        raise RangeError(f"there is no support {place}; the beam has {len(beam.supports)}")
    found = stage_at_once(
        effect, np.array([spans]), layout, place, np.array([fraction]), np.array([load]), loads
    )
    return float(found[0])


def stage_along(
    effect: str, spans: Spans, layout: str, loads: str, load: float, x: Array, faces: Integers
) -> Array:
    """Return moment or shear of one stage at many sections."""
    total = np.zeros(len(x))
    for found, times in (
        (own_response(spans, layout, loads), load),
        (fixed_response(spans, layout, loads), 1.0),
    ):
        total += times * along_response(found, effect, x, faces)
    return total


def along_response(found: Response, effect: str, x: Array, faces: Integers) -> Array:
    """Return moment or shear of a response at many sections; round-off at supports is 0."""
    if effect == "shear":
        return np.where(faces < 0, found.shear(x, side="left"), found.shear(x, side="right"))
    values = np.asarray(found.moment(x))
    most = float(np.abs(values).max(initial=0.0))
    return np.where(np.abs(values) <= 1e-11 * most, 0.0, values)
