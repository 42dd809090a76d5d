"""The two flanges of a section by what bending does to them: compressed and stretched."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stepcalc.bridge.composite.geometry import flange_area
from stepcalc.expr.functions import minimum
from stepcalc.units import inch

if TYPE_CHECKING:
    from stepcalc.bridge.composite.geometry import Geometry
    from stepcalc.bridge.composite.plates import Plate
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.sheet import Sheet


@dataclass(frozen=True)
class Flange:
    """One flange.

    Attributes
    ----------
    plates : tuple of Plate
        The flange plate, and its cover plate if any.
    area : Operand, [length**2]
        Cover plate included.
    strength : Operand, [stress]
        The least of its plates.
    weak_inertia : Operand, [length**4]
        About the axis of the web.
    """

    plates: tuple[Plate, ...]
    area: Operand
    strength: Operand
    weak_inertia: Operand

    @property
    def width(self) -> Operand:
        """Width of the flange plate."""
        return self.plates[0].width

    @property
    def thickness(self) -> Operand:
        """Thickness of the flange plate."""
        return self.plates[0].thickness


@dataclass(frozen=True)
class Sides:
    """Compressed and stretched flange; ``positive`` when the top is compressed."""

    positive: bool
    compression: Flange
    tension: Flange


def flange_sides(sheet: Sheet, geometry: Geometry, *, positive: bool) -> Sides:
    """Write the weak-axis inertia of both flanges and say which is compressed.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    geometry : Geometry
        The parts.
    positive : bool
        Whether the top flange is compressed.

    Returns
    -------
    Sides
        With steps ``I_yc`` and ``I_yt``.

    Source
    ------
    Geometry. No clause.
    """
    push = _flange(sheet, geometry, top=positive, name="I_yc", words="compression flange")
    pull = _flange(sheet, geometry, top=not positive, name="I_yt", words="tension flange")
    return Sides(positive, push, pull)


def _flange(sheet: Sheet, geometry: Geometry, *, top: bool, name: str, words: str) -> Flange:
    section = geometry.section
    plate, cover = (
        (section.top, section.top_cover) if top else (section.bottom, section.bottom_cover)
    )
    plates: tuple[Plate, ...] = (plate,)
    inertia, strength = plate.thickness * plate.width**3 / 12, plate.strength
    if cover:
        inertia = inertia + cover.thickness * cover.width**3 / 12
        strength, plates = minimum(plate.strength, cover.strength), (plate, cover)
    I_y = sheet.step(name, inertia, inch**4, f"{words} about the axis of the web", ref="geometry")
    return Flange(plates, flange_area(geometry.flange(top=top)), strength, I_y)
