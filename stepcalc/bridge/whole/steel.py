"""The steel of a girder on trial, rolled or welded, as the loads and the section see it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stepcalc.bridge.composite.elastic import steel_section
from stepcalc.bridge.composite.geometry import section_geometry
from stepcalc.bridge.composite.plates import (
    PlateSizes,
    add_cover_plate,
    plate_girder,
    rolled_girder,
)
from stepcalc.bridge.section import TABLE, TABLE_REF, TrialShape
from stepcalc.units import Q_, plf

if TYPE_CHECKING:
    from stepcalc.bridge.composite.elastic import Elastic
    from stepcalc.bridge.composite.geometry import Geometry
    from stepcalc.bridge.composite.plates import ISection
    from stepcalc.bridge.givens import BridgeNodes
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.sheet import Sheet

__all__ = ["Steel", "trial_steel"]


@dataclass(frozen=True)
class Steel:
    """The bare steel section.

    Attributes
    ----------
    section : ISection
        Plates or shape, no slab.
    geometry, elastic
        Its parts at their heights, and its elastic properties.
    trial : TrialShape
        What loads and distribution need.
    """

    section: ISection
    geometry: Geometry
    elastic: Elastic
    trial: TrialShape


def trial_steel(sheet: Sheet, bridge: BridgeNodes) -> Steel:
    """Write the steel section on trial: a shape of the table, or the plates of a welded girder.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives look-ups or givens, and the properties of the bare steel.
    bridge : BridgeNodes
        The bridge.

    Returns
    -------
    Steel
        Section, geometry, elastic properties, and what the loads need.

    Raises
    ------
    RangeError
        For plates that are not positive, or a web thicker than a flange is wide.

    Source
    ------
    Mechanics.  Weight of welded steel 490 pcf: AASHTO LRFD, 8th ed. (2017), Table 3.5.1-1, from
    memory.
    """
    if bridge.chosen is not None:
        beam = sheet.lookup(
            "w_s", TABLE, bridge.chosen, "weight", plf, "weight of the beam", ref=TABLE_REF,
            neighbours=True,
        )  # fmt: skip
        section = rolled_girder(sheet, bridge.chosen, bridge.yield_strength)
        if bridge.data.details is not None and bridge.data.details.cover_start is not None:
            return _covered(sheet, bridge, section, beam)
        geometry = section_geometry(sheet, section)
        elastic = steel_section(sheet, geometry)
        trial = TrialShape(
            bridge.chosen, beam, elastic.area, geometry.depth, section.top.width,
            elastic.inertia, section.top.thickness,
        )  # fmt: skip
        return Steel(section, geometry, elastic, trial)
    details, F = bridge.data.details, bridge.data.grade_strength
    assert details is not None
    sizes = PlateSizes(
        (details.top_flange_width, details.top_flange_thickness),
        (details.web_depth, details.web_thickness),
        (details.bottom_flange_width, details.bottom_flange_thickness),
        F, bridge.data.web_strength, F, bridge.data.source_of("web_depth"),
    )  # fmt: skip
    section = plate_girder(sheet, sizes)
    geometry = section_geometry(sheet, section)
    elastic = steel_section(sheet, geometry)
    gamma_s = sheet.given(
        "gamma_s", Q_(490, "pcf"), "unit weight of steel",
        source="LRFD Table 3.5.1-1 (from memory)",
    )  # fmt: skip
    weight = sheet.step("w_s", gamma_s * elastic.area, plf, "weight of the girder",
                        ref="LRFD Table 3.5.1-1")  # fmt: skip
    if details.changes:
        sheet.note(
            "The flanges of midspan are taken to weigh and to stiffen over the whole span in dead "
            "load and distribution: on the safe side for the weight."
        )
    trial = TrialShape(
        None, weight, elastic.area, geometry.depth, section.top.width, elastic.inertia,
        section.top.thickness, elastic.centroid,
    )  # fmt: skip
    return Steel(section, geometry, elastic, trial)


def _covered(sheet: Sheet, bridge: BridgeNodes, section: ISection, beam: Operand) -> Steel:
    """Return a rolled beam with a cover plate below its bottom flange, as it is at midspan."""
    details = bridge.data.details
    assert details is not None
    whole = add_cover_plate(
        sheet, section, (details.cover_width, details.cover_thickness), bridge.data.grade_strength,
        source=bridge.data.source_of("cover_width"),
    )  # fmt: skip
    geometry = section_geometry(sheet, whole)
    elastic = steel_section(sheet, geometry)
    gamma_s = sheet.given("gamma_s", Q_(490, "pcf"), "unit weight of steel",
                          source="LRFD Table 3.5.1-1 (from memory)")  # fmt: skip
    weight = sheet.step(
        "w_sc", beam + gamma_s * geometry.piece("bp").area, plf,
        "weight of the beam with its cover plate, taken over the whole span", ref="sum",
    )  # fmt: skip
    trial = TrialShape(
        bridge.chosen, weight, elastic.area, geometry.depth, section.top.width, elastic.inertia,
        section.top.thickness, elastic.centroid,
    )  # fmt: skip
    return Steel(whole, geometry, elastic, trial)
