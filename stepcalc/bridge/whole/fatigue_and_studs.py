"""Fatigue of the details of a simple-span girder, and its shear connectors."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from stepcalc.bridge.composite.stages import stage_sections
from stepcalc.bridge.constants import use
from stepcalc.bridge.details.editions import edition_rules
from stepcalc.bridge.details.fatigue import FatigueRow, fatigue_check, fatigue_table
from stepcalc.bridge.details.fatigue_categories import chosen_category
from stepcalc.bridge.details.fatigue_loads import (
    cycles_per_truck,
    fatigue_range,
    single_lane_trucks,
    traffic,
)
from stepcalc.bridge.details.stud_fatigue import fatigue_pitch, shear_flow_range, stud_fatigue
from stepcalc.bridge.details.stud_layout import StudRegion, half_inch, stud_layout
from stepcalc.bridge.details.studs import (
    Stud,
    StudPlace,
    greatest_pitch,
    positive_force,
    required_connectors,
    steel_force,
    stud_geometry,
    stud_strength,
)
from stepcalc.bridge.moving_loads import AXLE_MOMENT
from stepcalc.bridge.whole.section_effects import AXLE_MOMENT_AT, SHEAR_RANGE_AT
from stepcalc.expr.functions import minimum
from stepcalc.units import inch, kip, kip_ft, ksi

if TYPE_CHECKING:
    from stepcalc.bridge.composite.elastic import Elastic
    from stepcalc.bridge.details.editions import EditionRules
    from stepcalc.bridge.details.fatigue_loads import Traffic
    from stepcalc.bridge.givens import BridgeNodes
    from stepcalc.bridge.whole.composite_section import Composite, GirderSection
    from stepcalc.bridge.whole.demands import Demands
    from stepcalc.bridge.whole.outer_sections import OuterSection
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.sheet import Sheet

__all__ = ["FatigueBasis", "fatigue_of_girder", "stud_on_plans", "studs_of_girder"]

_TRUCK = "fatigue truck"
_REGIONS = 5


@dataclass(frozen=True)
class FatigueBasis:
    """Edition and traffic, for details and for studs."""

    rules: EditionRules
    traffic: Traffic


def fatigue_of_girder(
    sheet: Sheet, bridge: BridgeNodes, whole: GirderSection, demands: Demands
) -> FatigueBasis:
    """Check the usual details: connection plate, bottom flange, top flange at the studs if any.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    bridge, whole, demands
        Of the girder.

    Returns
    -------
    FatigueBasis
        Edition and traffic.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 6.6.1.2, 3.6.1.4; from memory.
    """
    data, L = bridge.data, bridge.span
    details = data.details
    assert details is not None
    rules = edition_rules(sheet, str(details.edition.value))
    with sheet.part("Traffic and fatigue truck"):
        ADTT = sheet.given("ADTT", details.trucks_per_day, "trucks a day in one direction",
                           source=data.source_of("trucks_per_day"))  # fmt: skip
        lanes = sheet.given("n_tl", details.truck_lanes, "lanes open to trucks",
                            source=data.source_of("truck_lanes"))  # fmt: skip
        single = single_lane_trucks(sheet, ADTT, lanes=lanes)
        cycles = cycles_per_truck(sheet, rules, "simple span", span=L)
        basis = FatigueBasis(rules, traffic(sheet, trucks=single, cycles=cycles))
        middle = sheet.computed(
            "M_f5", AXLE_MOMENT_AT, {"vehicle": _TRUCK, "span": L, "fraction": 0.5}, kip_ft,
            "fatigue truck at midspan, one lane, no impact", ref="LRFD 3.6.1.4.1",
        )  # fmt: skip
        most = sheet.computed(
            "M_f", AXLE_MOMENT, {"vehicle": _TRUCK, "span": L}, kip_ft,
            "fatigue truck, greatest on the span, one lane, no impact", ref="LRFD 3.6.1.4.1",
        )  # fmt: skip
    with sheet.part("Permanent stresses, unfactored"):
        f_b, f_t = _permanent(sheet, whole, demands)
    n, rows = whole.live, []
    looked_at: list[tuple[str, Any, str, Operand, Operand, Operand, bool]] = [
        ("connection plate, bottom flange", details.connection_plate_category, "midspan", middle,
         n.S_bottom, f_b, True),
        ("bottom flange, base metal and web weld", details.base_metal_category,
         "greatest moment", most, n.S_bottom, f_b, True),
    ]  # fmt: skip
    if bridge.data.composite:
        looked_at.append(("top flange at the studs", details.stud_flange_category, "midspan",
                          middle, n.S_top, f_t, False))  # fmt: skip
    for name, category, place, moment, modulus, permanent, bottom in looked_at:
        with sheet.part(f"Fatigue: {name}"):
            chosen = sheet.given("category", str(category.value), f"detail category, {name}",
                                 choices="stress_categories",
                                 source=_category_source(bridge, name))  # fmt: skip
            detail = chosen_category(sheet, chosen, rules)
            stress = fatigue_range(
                sheet, sagging=moment, hogging=0 * moment, share=demands.shares.fatigue_moment,
                modulus=modulus, bottom=bottom,
            )  # fmt: skip
            result = fatigue_check(
                sheet, detail, rules, stress=stress, permanent=permanent, traffic=basis.traffic,
                name=f"Fatigue, {name}", location=place,
            )  # fmt: skip
        rows.append(FatigueRow(name, place, str(category.value), stress, result))
    fatigue_table(sheet, rows)
    return basis


def _category_source(bridge: BridgeNodes, name: str) -> str:
    key = {
        "connection plate, bottom flange": "connection_plate_category",
        "top flange at the studs": "stud_flange_category",
    }.get(name, "base_metal_category")
    return f"{bridge.data.source_of(key)}; LRFD Table 6.6.1.2.3-1 (from memory)"


def _permanent(sheet: Sheet, whole: GirderSection, demands: Demands) -> tuple[Operand, Operand]:
    sections, dead = stage_sections(whole.elastic, positive=True), demands.dead
    steel, long_term = sections.steel, sections.long_term
    late = dead.M_DC2 + dead.M_DW
    f_b = sheet.step(
        "f_pb", dead.M_DC1 / steel.S_bottom + late / long_term.S_bottom, ksi,
        "bottom flange, tension positive", ref="LRFD 6.10.1.1.1a",
    )  # fmt: skip
    f_t = sheet.step(
        "f_pt", -1 * (dead.M_DC1 / steel.S_top + late / long_term.S_top), ksi,
        "top flange, tension positive", ref="LRFD 6.10.1.1.1a",
    )  # fmt: skip
    return f_b, f_t


def studs_of_girder(
    sheet: Sheet, bridge: BridgeNodes, composite: Composite, demands: Demands, basis: FatigueBasis,
    outer: tuple[OuterSection, ...] = (),
) -> None:  # fmt: skip
    """Write strength, fatigue pitch, layout in rows and geometry of the studs.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    bridge, composite, demands
        Of the girder.
    basis : FatigueBasis
        Edition and traffic.
    outer : tuple of OuterSection
        Lighter sections nearer to the bearing.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 6.10.10; from memory.
    """
    stud, across = stud_on_plans(sheet, bridge)
    section, slab = composite.geometry.section, composite.slab
    with sheet.part("Strength"):
        strength = stud_strength(
            sheet, stud, concrete=composite.concrete, modulus=composite.modulus
        )
        pieces = composite.geometry.steel
        web = composite.geometry.piece("w")
        P_s = steel_force(
            sheet, web=(web.area, web.strength),
            flanges=tuple((p.area, p.strength) for p in pieces if p.key != "w"),
        )  # fmt: skip
        P_p = positive_force(
            sheet, concrete=composite.concrete, width=slab.width, thickness=slab.thickness,
            steel=P_s,
        )  # fmt: skip
        required = required_connectors(sheet, P_p, strength)
    with sheet.part("Fatigue"):
        regions = _regions(sheet, bridge, composite, demands, basis, stud, outer)
    with sheet.part("Layout"):
        greatest = greatest_pitch(sheet, basis.rules, section.web.width)
        layout = stud_layout(
            sheet, regions, required=required, per_row=stud.per_row, diameter=stud.diameter,
            greatest=greatest, grid=half_inch(sheet),
        )  # fmt: skip
        sheet.note("The layout of the other half of the span is symmetrical.")
    with sheet.part("Geometry of the studs"):
        pitch = minimum(*layout.pitches)
        place = StudPlace(
            pitch, across, section.top.width, slab.thickness, slab.haunch, section.web.width
        )
        stud_geometry(sheet, basis.rules, stud, place)


def stud_on_plans(sheet: Sheet, bridge: BridgeNodes) -> tuple[Stud, Operand]:
    """Write the stud as it stands on the plans.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the givens.
    bridge : BridgeNodes
        The bridge, with its details.

    Returns
    -------
    Stud, Operand
        The stud, and the spacing across the flange.
    """
    data = bridge.data
    details = data.details
    assert details is not None

    def put(name: str, key: str, words: str) -> Any:
        return sheet.given(name, getattr(details, key), words, source=data.source_of(key))

    stud = Stud(
        put("d_sc", "stud_diameter", "diameter of a stud"),
        put("h_sc0", "stud_height", "height of a stud after welding"),
        put("F_u", "stud_strength", "tensile strength of a stud"),
        put("n_row", "studs_per_row", "studs in one row"),
    )
    return stud, put("s_sc", "stud_spacing", "spacing of the studs across the flange")


def _regions(
    sheet: Sheet, bridge: BridgeNodes, composite: Composite, demands: Demands,
    basis: FatigueBasis, stud: Stud, outer: tuple[OuterSection, ...],
) -> list[StudRegion]:  # fmt: skip
    fatigue = stud_fatigue(sheet, basis.rules, diameter=stud.diameter, traffic=basis.traffic)
    L = bridge.span
    length = sheet.step("L_10", L / 10, None, "length of a region", ref="tenth of the span")
    found = []
    for number in range(_REGIONS):
        name = f"0.{number} L to 0.{number + 1} L"
        with sheet.part(name):
            xi = sheet.given("xi", number / 10, "place along the span, x/L", source="tenth point")
            V = sheet.computed(
                "V_f", SHEAR_RANGE_AT, {"vehicle": _TRUCK, "span": L, "fraction": xi}, kip,
                "shear range of the fatigue truck, one lane, no impact", ref="LRFD 3.6.1.4.1",
            )  # fmt: skip
            share = demands.shares.fatigue_shear * (1 + use(sheet, "IM_f")) * V
            pitches = []
            for count, n in enumerate(_sections_in(bridge, composite, outer, number)):
                key = "" if count == 0 else "abcd"[count]
                assert n.Q is not None
                flow = shear_flow_range(
                    sheet, fatigue, shear=share, first_moment=n.Q, inertia=n.inertia,
                    name=f"V_sr{key}",
                )  # fmt: skip
                pitches.append(
                    fatigue_pitch(sheet, fatigue, per_row=stud.per_row, flow=flow,
                                  name=f"p_fat{key}")
                )  # fmt: skip
            pitch = pitches[0] if len(pitches) == 1 else minimum(*pitches)
            if len(pitches) > 1:
                pitch = sheet.step("p_fatl", pitch, inch, "the least of both sections",
                                   ref="the section changes here")  # fmt: skip
            sheet.step("n_1", 1 / pitch, None, "rows per length that fatigue needs", ref="1/p")
        found.append(StudRegion(name, length, pitch))
    return found


def _sections_in(
    bridge: BridgeNodes, composite: Composite, outer: tuple[OuterSection, ...], number: int
) -> list[Elastic]:
    """Return the short-term sections within a tenth of the span, as the bridge was first given."""
    span = float(bridge.data.span.to("ft").magnitude)
    start, end = number / 10 * span, (number + 1) / 10 * span
    found, before = [], 0.0
    for item in (*outer, None):
        to = span / 2 if item is None else item.feet
        if before < end and to > start:
            n = (composite if item is None else item).elastic.short_term
            assert n is not None
            found.append(n)
        before = to
    return found
