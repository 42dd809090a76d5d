"""Fatigue and shear connectors of a composite girder by the Standard Specifications."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stepcalc.bridge.constants import use
from stepcalc.bridge.details.editions import edition_rules
from stepcalc.bridge.details.older_fatigue import TABLE, OlderRanges, older_fatigue
from stepcalc.bridge.details.older_studs import (
    older_pitch,
    older_required_connectors,
    older_stud_fatigue,
    older_stud_strength,
)
from stepcalc.bridge.details.stud_layout import StudRegion, half_inch, stud_layout
from stepcalc.bridge.details.studs import StudPlace, steel_force, stud_geometry
from stepcalc.bridge.whole.fatigue_and_studs import stud_on_plans
from stepcalc.bridge.whole.section_effects import SHEAR_RANGE_AT
from stepcalc.expr.functions import maximum, minimum
from stepcalc.units import ft, kip, kip_ft, ksi

if TYPE_CHECKING:
    from stepcalc.bridge.givens import BridgeNodes
    from stepcalc.bridge.whole.composite_section import Composite
    from stepcalc.bridge.whole.standard_demands import StandardDemands
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.sheet import Sheet

__all__ = ["fatigue_by", "studs_by"]

_REGIONS = 5
_MANY_TRUCKS = 2500
"""Trucks a day from which the table of cycles takes Case I."""


def fatigue_by(
    sheet: Sheet, bridge: BridgeNodes, composite: Composite, demands: StandardDemands,
    *, exterior: bool,
) -> None:  # fmt: skip
    """Check the stress ranges of the usual details against the allowable ones.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the parts.
    bridge, composite, demands
        Of the girder.
    exterior : bool
        Which girder: one lane reaches it by the lever rule, here by the wheel lines of all lanes.

    Source
    ------
    AASHTO Standard Specifications, 17th ed. (2002), Art. 10.3, Tables 10.3.1A and 10.3.2A; from
    memory.
    """
    data, live, at = bridge.data, demands.live, "Live load, HS20"
    details, n = data.details, composite.elastic.short_term
    assert details is not None
    assert n is not None
    ADTT = sheet.given("ADTT", details.trucks_per_day, "trucks a day in one direction",
                       source=data.source_of("trucks_per_day"))  # fmt: skip
    share = live.wheel_lines / 2 * (1 + live.impact)
    if exterior:
        sheet.note(
            "One lane on the exterior girder: the wheel lines of all lanes, on the safe side."
        )
        one: Operand = live.wheel_lines
    else:
        S = bridge.spacing.magnitude(ft)
        one = sheet.step("DF_1", S / use(sheet, "D_wl_1").magnitude(ft), None,
                         "wheel lines, one lane loaded", ref="Std 3.23.2.2",
                         valid=(bridge.spacing <= 10 * ft,))  # fmt: skip
    M_t = sheet.step("M_rt", demands.lane.truck_moment * share, kip_ft,
                     "moment range, truck loading", ref="Std 10.3.1")  # fmt: skip
    M_l = sheet.step("M_rl", sheet[f"{at}/M_ln"] * share, kip_ft, "moment range, lane loading",
                     ref="Std 10.3.1")  # fmt: skip
    M_1 = sheet.step("M_r1", demands.lane.truck_moment * one / 2 * (1 + live.impact), kip_ft,
                     "moment range, truck on one lane", ref="Std 10.3.2A")  # fmt: skip
    for name, category, modulus in (
        ("connection plate, bottom flange", details.connection_plate_category, n.S_bottom),
        ("bottom flange, base metal and web weld", details.base_metal_category, n.S_bottom),
    ):
        with sheet.part(f"Fatigue: {name}"):
            chosen = sheet.given(
                "category", str(category.value), f"detail category, {name}", choices=TABLE,
                source="Std Table 10.3.1B (from memory)",
            )  # fmt: skip
            ranges = OlderRanges(*(
                sheet.step(f"f_r{key}", M / modulus, ksi, f"stress range, {words}",
                           ref="short-term section")
                for key, words, M in (("t", "truck loading", M_t), ("l", "lane loading", M_l),
                                      ("1", "truck on one lane", M_1))
            ))  # fmt: skip
            older_fatigue(
                sheet, chosen, trucks=ADTT, ranges=ranges, location=f"greatest moment, {name}"
            )


def studs_by(
    sheet: Sheet, bridge: BridgeNodes, composite: Composite, demands: StandardDemands
) -> None:
    """Write fatigue pitch, ultimate strength and layout of the studs.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    bridge, composite, demands
        Of the girder.

    Source
    ------
    AASHTO Standard Specifications, 17th ed. (2002), Art. 10.38.5.1; from memory.
    """
    details = bridge.data.details
    assert details is not None
    stud, across = stud_on_plans(sheet, bridge)
    section, slab = composite.geometry.section, composite.slab
    with sheet.part("Strength"):
        S_u = older_stud_strength(sheet, diameter=stud.diameter, concrete=composite.concrete,
                                  modulus=composite.modulus)  # fmt: skip
        web = composite.geometry.piece("w")
        force = steel_force(
            sheet, web=(web.area, web.strength),
            flanges=tuple((p.area, p.strength) for p in composite.geometry.steel if p.key != "w"),
        )  # fmt: skip
        required = older_required_connectors(
            sheet, S_u, steel=force, concrete=composite.concrete, width=slab.width,
            thickness=slab.thickness,
        )  # fmt: skip
    with sheet.part("Fatigue"):
        busy = details.trucks_per_day is not None and details.trucks_per_day >= _MANY_TRUCKS
        Z_r = older_stud_fatigue(sheet, diameter=stud.diameter,
                                 cycles=2_000_000 if busy else 500_000)  # fmt: skip
        regions = _regions(sheet, bridge, composite, demands, Z_r, stud.per_row)
    with sheet.part("Layout"):
        layout = stud_layout(
            sheet, regions, required=required, per_row=stud.per_row, diameter=stud.diameter,
            greatest=use(sheet, "p_max_s"), grid=half_inch(sheet), older=True,
        )  # fmt: skip
        sheet.note("The layout of the other half of the span is symmetrical.")
    with sheet.part("Geometry of the studs"):
        place = StudPlace(minimum(*layout.pitches), across, section.top.width, slab.thickness,
                          slab.haunch, section.web.width)  # fmt: skip
        sheet.note("The limits of LRFD 6.10.10.1 serve here as well.")
        stud_geometry(sheet, edition_rules(sheet, str(details.edition.value)), stud, place)


def _regions(
    sheet: Sheet, bridge: BridgeNodes, composite: Composite, demands: StandardDemands,
    resistance: Operand, per_row: Operand,
) -> list[StudRegion]:  # fmt: skip
    n, L = composite.elastic.short_term, bridge.span
    assert n is not None
    assert n.Q is not None
    length = sheet.step("L_10", L / 10, None, "length of a region", ref="tenth of the span")
    w, P_V = use(sheet, "w_HS"), use(sheet, "P_HSV")
    share = demands.live.wheel_lines / 2 * (1 + demands.live.impact)
    use(sheet, "p_max_s")
    found = []
    for number in range(_REGIONS):
        name = f"0.{number} L to 0.{number + 1} L"
        with sheet.part(name):
            xi = sheet.given("xi", number / 10, "place along the span, x/L", source="tenth point")
            V_t = sheet.computed(
                "V_rt", SHEAR_RANGE_AT, {"vehicle": "HS20", "span": L, "fraction": xi}, kip,
                "shear range of the HS20 truck, one lane, no impact", ref="Std 3.7.6",
            )  # fmt: skip
            lane = w * L / 2 * ((1 - xi) ** 2 + xi**2) + P_V
            V_r = sheet.step(
                "V_r", maximum(V_t, lane) * share, kip, "shear range of the girder, with impact",
                ref="Std 10.38.5.1.1",
            )  # fmt: skip
            pitch = older_pitch(sheet, resistance, per_row=per_row, shear=V_r, first_moment=n.Q,
                                inertia=n.inertia)  # fmt: skip
            sheet.step("n_1", 1 / pitch, None, "rows per length that fatigue needs", ref="1/p")
        found.append(StudRegion(name, length, pitch))
    return found
