"""One girder under dead and live load, as floats: unfactored and factored values along the beam."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

import numpy as np
from numpy.typing import NDArray

from stepcalc.analysis.beam_stiffness import solved
from stepcalc.analysis.contraflexure import hogging_zones
from stepcalc.analysis.live_load_envelope import live_load_envelope
from stepcalc.analysis.peak_search import moment_curvature, peak_sections
from stepcalc.bridge.continuous.layout import beam_of
from stepcalc.bridge.continuous.loads import load_cases
from stepcalc.bridge.continuous.stage_values import along_response, settled_response, stage_along
from stepcalc.bridge.continuous.values import tenth_envelope

__all__ = ["Along", "GirderLoads", "Settled", "Staged", "along", "moment_peak"]

Array = NDArray[np.float64]
Integers = NDArray[np.int64]


@dataclass(frozen=True)
class Staged:
    """One stage of dead load: stiffness that carries it, its loads, its uniform load, kip/ft."""

    layout: str
    loads: str
    load: float


@dataclass(frozen=True)
class Settled:
    """Settlements: the stiffness that resists them, which they are, and the EI of 1, kip-ft^2."""

    layout: str
    settlements: str
    rigidity: float


@dataclass(frozen=True)
class GirderLoads:
    """What stands on one girder, in kip and ft, and the factors.

    Attributes
    ----------
    stages : tuple of Staged
        DC1, DC2 and DW.
    settled : Settled or None
    positive : tuple of float
        Lanes on the girder for positive moment, by span.
    negative : tuple of float
        Lanes for negative moment, by interior support; it counts between the points of
        contraflexure beside it, elsewhere the span's own factor does.
    shear : float
        Lanes for shear.
    factors : tuple of float
        DC largest and smallest, DW largest and smallest, settlement, live load; the load
        modifiers of largest and of smallest loads.
    """

    stages: tuple[Staged, ...]
    settled: Settled | None
    positive: tuple[float, ...]
    negative: tuple[float, ...]
    shear: float
    factors: tuple[float, ...]

    def permanent(self, effect: str, spans: tuple[float, ...], x: Array, faces: Integers) -> Array:
        """Return DC1, DC2, DW and settlement at sections, one row each."""
        rows = [
            stage_along(effect, spans, stage.layout, stage.loads, stage.load, x, faces)
            for stage in self.stages
        ]
        settled = np.zeros(len(x))
        if self.settled is not None:
            found = settled_response(
                spans, self.settled.layout, self.settled.settlements, self.settled.rigidity
            )
            settled = along_response(found, effect, x, faces)
        return np.array([*rows, settled])


@dataclass(frozen=True, eq=False)
class Along:
    """Values along the girder, one entry a section; at supports shear stands twice.

    Attributes
    ----------
    x : ndarray of float, ft
    spans, fractions : ndarray
        Span of each section, counted from 1, and the fraction of it.
    DC1, DC2, DW, SE, live_max, live_min : ndarray of float
        Unfactored; SE by settlement; live load of the girder, with impact.
    largest, smallest : ndarray of float
        Factored.
    share_max, share_min : ndarray of float
        Lanes on the girder in ``live_max`` and ``live_min``.
    """

    x: Array
    spans: NDArray[np.int64]
    fractions: Array
    DC1: Array
    DC2: Array
    DW: Array
    SE: Array
    live_max: Array
    live_min: Array
    largest: Array
    smallest: Array
    share_max: Array
    share_min: Array


def along(
    effect: str,
    loads: GirderLoads,
    spans: tuple[float, ...],
    *,
    layout: str,
    load: str,
    impact: float,
) -> Along:
    """Return moment or shear of the girder at tenth points, and moment at its exact peaks.

    Parameters
    ----------
    effect : "moment" or "shear"
    loads : GirderLoads
    spans : tuple of float, ft
    layout, load, impact : as for the kernels

    Returns
    -------
    Along
    """
    beam = beam_of(spans, layout)
    if effect == "shear":
        envelope = tenth_envelope(load, impact, spans, layout)["shear"]
        x, faces = envelope.sections, envelope.faces
        share_max = share_min = np.full(len(x), loads.shear)
    else:
        peaks = [
            moment_peak(loads, spans, span, layout=layout, load=load, impact=impact)
            for span in range(1, len(spans) + 1)
        ]
        x = np.unique(np.r_[beam.tenth_points(), peaks])
        faces = np.ones(len(x), dtype=np.int64)
        envelope = live_load_envelope(
            beam, load_cases(load, impact, spans), sections=x, effects=["moment"]
        )["moment"]
        share_max, share_min = _shares(loads, spans, layout, x)
    top, bottom = share_max * envelope.maximum, share_min * envelope.minimum
    permanent = loads.permanent(effect, spans, x, faces)
    number = (
        np.array([beam.span_of(float(at), int(face)) for at, face in zip(x, faces, strict=True)])
        + 1
    )
    joints = np.asarray(beam.joints)
    fractions = (x - joints[number - 1]) / np.asarray(spans)[number - 1]
    largest, smallest = factored(loads.factors, permanent, top, bottom)
    DC1, DC2, DW, SE = permanent
    return Along(
        x, number, fractions, DC1, DC2, DW, SE, top, bottom, largest, smallest, share_max, share_min
    )


def factored(
    factors: Sequence[Any], permanent: Array, top: Array, bottom: Array
) -> tuple[Array, Array]:
    """Return the factored extremes; each dead load takes the factor that is worse for the sign.

    Settlement counts where it is worse, and not where it would help. Factors are those of
    `GirderLoads`, floats or one for each section.
    """
    dc_max, dc_min, dw_max, dw_min, se, live, eta, eta_i = factors
    dc_max, dw_max, live, se = eta * dc_max, eta * dw_max, eta * live, eta * se
    dc_min, dw_min = eta_i * dc_min, eta_i * dw_min
    DC, DW, SE = permanent[0] + permanent[1], permanent[2], permanent[3]
    high = np.maximum(dc_max * DC, dc_min * DC) + np.maximum(dw_max * DW, dw_min * DW)
    low = np.minimum(dc_max * DC, dc_min * DC) + np.minimum(dw_max * DW, dw_min * DW)
    high, low = high + se * np.maximum(SE, 0.0), low + se * np.minimum(SE, 0.0)
    return high + live * top, low + live * bottom


@lru_cache(maxsize=512)
def moment_peak(
    loads: GirderLoads,
    spans: tuple[float, ...],
    span: int,
    *,
    layout: str,
    load: str,
    impact: float,
) -> float:
    """Return where the factored positive moment of a span is largest, ft from the left end.

    To a millionth of the span; nothing larger is passed over (`peak_sections`).
    """
    beam, cases = beam_of(spans, layout), load_cases(load, impact, spans)
    start, end = beam.joints[span - 1], beam.joints[span]

    def value(_: NDArray[np.int64], x: Array) -> Array:
        envelope = live_load_envelope(beam, cases, sections=x, effects=["moment"])["moment"]
        share_max, share_min = _shares(loads, spans, layout, x)
        top, bottom = share_max * envelope.maximum, share_min * envelope.minimum
        permanent = loads.permanent("moment", spans, x, np.ones(len(x), dtype=np.int64))
        return factored(loads.factors, permanent, top, bottom)[0]

    dc_max, dc_min, dw_max, dw_min, _, gamma, eta, eta_i = loads.factors
    dc, dw = max(dc_max, dc_min), max(dw_max, dw_min)
    stages = zip(loads.stages, (dc, dc, dw), strict=True)
    bends = gamma * loads.positive[span - 1] * moment_curvature(solved(beam), cases, span - 1)
    bends += sum(abs(stage.load) * factor for stage, factor in stages)
    inset = 1e-9 * (end - start)
    low, high = np.array([start + inset]), np.array([end - inset])
    found = peak_sections(value, low, high, max(eta, eta_i) * bends)
    share = round((float(found.section[0]) - start) / (end - start), 6)
    return start + share * (end - start)


def _shares(
    loads: GirderLoads, spans: tuple[float, ...], layout: str, x: Array
) -> tuple[Array, Array]:
    """Return the lanes on the girder for the largest and for the smallest moment."""
    beam = beam_of(spans, layout)
    span = np.array([beam.span_of(float(at)) for at in x])
    positive = np.asarray(loads.positive)[span]
    negative = positive.copy()
    near = 1e-9 * beam.length
    inner = beam.joints[1:-1]
    for zone in hogging_zones(beam):
        inside = (x >= zone.start - near) & (x <= zone.end + near)
        nearest = int(np.argmin(np.abs(np.asarray(inner) - zone.support)))
        negative = np.where(inside, loads.negative[nearest], negative)
    return positive, negative
