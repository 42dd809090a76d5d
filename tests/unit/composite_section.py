"""Girder sections on a sheet, and the same sections by other means, for the tests."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

from stepcalc.bridge.composite.elastic import ElasticSections, elastic_sections
from stepcalc.bridge.composite.geometry import Geometry, section_geometry
from stepcalc.bridge.composite.plates import (
    ISection,
    PlateSizes,
    add_cover_plate,
    plate_girder,
    rolled_girder,
)
from stepcalc.bridge.composite.slab import slab_on_girder
from stepcalc.bridge.composite.stages import StageMoments, stage_moments
from stepcalc.sheet.sheet import Sheet
from stepcalc.units import inch, kip_ft, ksi

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from stepcalc.expr.tree import Operand

    Floats = NDArray[np.float64]

TOP, WEB, BOTTOM = (14.0, 1.0), (44.0, 0.5), (14.0, 1.25)
"""Plates of the negative benchmark of `tests/unit/test_composite_flexure.py`."""


@dataclass(frozen=True)
class Girder:
    """A sheet with a section, its geometry and its elastic properties."""

    sheet: Sheet
    section: ISection
    geometry: Geometry
    elastic: ElasticSections

    def number(self, name: str, unit: str = "") -> float:
        """Return the value of a node in a unit."""
        value = self.sheet[name].value
        return float(value.to(unit).magnitude if unit else value.magnitude)

    def given(self, name: str, value: Any) -> Operand:
        """Write a given on the sheet."""
        node: Operand = self.sheet.given(name, value)
        return node

    def moments(
        self, DC1: float, DC2: float, DW: float, LL: float, state: str = "Strength I"
    ) -> StageMoments:
        """Write four moments in kip-ft and stage them."""
        names = {"M_DC1": DC1, "M_DC2": DC2, "M_DW": DW, "M_LL": LL}
        M = {name: self.given(name, value * kip_ft) for name, value in names.items()}
        return stage_moments(
            self.sheet, M["M_DC1"], DC2=M["M_DC2"], DW=M["M_DW"], LL=M["M_LL"], state=state
        )


def inches(plate: tuple[float, float]) -> tuple[Any, Any]:
    """Return width and thickness as quantities."""
    return plate[0] * inch, plate[1] * inch


def welded(
    top: tuple[float, float] = TOP,
    web: tuple[float, float] = WEB,
    bottom: tuple[float, float] = BOTTOM,
    *,
    strengths: tuple[float, float, float] = (50.0, 50.0, 50.0),
    slab: tuple[float, float, float] | None = None,
    concrete: float = 4.0,
    layers: Sequence[tuple[float, float]] = (),
    ratio: float | None = None,
    covers: tuple[tuple[float, float] | None, tuple[float, float] | None] = (None, None),
) -> Girder:
    """Return a plate girder in inches and ksi; ``slab`` is width, thickness, haunch.

    ``covers`` are the bottom and the top cover plate; ``layers`` are (area, depth).
    """
    sheet = Sheet("section")
    a, b, c = strengths
    sizes = PlateSizes(
        inches(top), inches(web), inches(bottom), F_top=a * ksi, F_web=b * ksi, F_bottom=c * ksi
    )
    section = plate_girder(sheet, sizes)
    for cover, over in zip(covers, (False, True), strict=True):
        if cover:
            section = add_cover_plate(sheet, section, inches(cover), 50 * ksi, top=over)
    return finished(sheet, section, slab=slab, concrete=concrete, layers=layers, ratio=ratio)


def rolled(
    shape: str = "W36X135",
    *,
    slab: tuple[float, float, float] | None = None,
    ratio: float | None = None,
    cover: tuple[float, float] | None = None,
) -> Girder:
    """Return a rolled girder of 50 ksi."""
    sheet = Sheet("section")
    F_y = sheet.given("F_y", 50 * ksi)
    section = rolled_girder(sheet, sheet.given("shape", shape, choices="w_shapes"), F_y)
    if cover:
        section = add_cover_plate(sheet, section, inches(cover), 50 * ksi)
    return finished(sheet, section, slab=slab, concrete=4.0, layers=(), ratio=ratio)


def finished(
    sheet: Sheet,
    section: ISection,
    *,
    slab: tuple[float, float, float] | None,
    concrete: float,
    layers: Sequence[tuple[float, float]],
    ratio: float | None,
) -> Girder:
    """Return the girder with its slab, geometry and elastic properties."""
    if slab:
        b_s, t_s, t_h = (
            sheet.given(name, value * inch)
            for name, value in zip(("b_s", "t_s", "t_h"), slab, strict=True)
        )
        on_top = slab_on_girder(
            sheet, width=b_s, thickness=t_s, haunch=t_h,
            strength=sheet.given("f_c", concrete * ksi),
            layers=[(area * inch**2, depth * inch) for area, depth in layers],
            bar_strength=60 * ksi if layers else None,
        )  # fmt: skip
        section = section.with_slab(on_top)
    geometry = section_geometry(sheet, section)
    n = None if ratio is None else sheet.given("n", ratio)
    return Girder(sheet, section, geometry, elastic_sections(sheet, geometry, n))


@dataclass(frozen=True)
class Part:
    """Part of a section for :func:`plastic_by_bisection`: heights and full-yield forces."""

    low: Floats
    high: Floats
    push: Floats
    pull: Floats


def plastic_by_bisection(parts: Sequence[Part], *, positive: bool) -> tuple[Floats, Floats]:
    """Return plastic moment and axis of many sections, by halving until the forces balance.

    Knows nothing of cases: each part is cut at a trial axis; compression above it in positive
    bending, below it in negative.  A part of no height is a layer of bars.
    """
    shape = np.broadcast_shapes(*(p.low.shape for p in parts))
    low = np.broadcast_to(np.min([p.low for p in parts], axis=0), shape).copy()
    high = np.broadcast_to(np.max([p.high for p in parts], axis=0), shape).copy()

    def cut(part: Part, axis: Floats) -> Floats:
        tall = part.high - part.low
        share = (axis - part.low) / np.where(tall > 0, tall, 1.0)
        return np.where(tall > 0, np.clip(share, 0, 1), (axis > part.low) * 1.0)

    for _ in range(200):
        axis = (low + high) / 2
        excess = np.zeros(shape)
        for part in parts:
            below = cut(part, axis)
            pushed = 1 - below if positive else below
            excess += part.push * pushed - part.pull * (1 - pushed)
        down = excess < 0 if positive else excess > 0
        high = np.where(down, axis, high)
        low = np.where(down, low, axis)
    axis, moment = (low + high) / 2, np.zeros(shape)
    for part in parts:
        below = cut(part, axis)
        middle = np.clip(axis, part.low, part.high)
        over = part.push if positive else part.pull
        under = part.pull if positive else part.push
        moment += over * (1 - below) * ((middle + part.high) / 2 - axis)
        moment += under * below * (axis - (part.low + middle) / 2)
    return moment, axis
