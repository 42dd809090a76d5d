"""Shear connectors of a girder over two spans: first span, end bearing to the pier."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stepcalc.bridge.constants import use
from stepcalc.bridge.continuous.kernels import span_kernels
from stepcalc.bridge.details.editions import edition_rules
from stepcalc.bridge.details.fatigue_loads import cycles_per_truck, single_lane_trucks, traffic
from stepcalc.bridge.details.stud_fatigue import fatigue_pitch, shear_flow_range, stud_fatigue
from stepcalc.bridge.details.stud_layout import StudRegion, half_inch, stud_layout
from stepcalc.bridge.details.studs import (
    StudPlace,
    greatest_pitch,
    positive_force,
    required_connectors,
    steel_force,
    stud_geometry,
    stud_strength,
    support_force,
)
from stepcalc.bridge.whole.fatigue_and_studs import stud_on_plans
from stepcalc.expr.functions import maximum, minimum
from stepcalc.units import ft, kip

if TYPE_CHECKING:
    from stepcalc.bridge.composite.geometry import Geometry
    from stepcalc.bridge.details.stud_fatigue import StudFatigue
    from stepcalc.bridge.givens import BridgeNodes
    from stepcalc.bridge.whole.composite_section import Composite
    from stepcalc.bridge.whole.continuous_demands import PierSection, TwoSpans
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.sheet import Sheet

__all__ = ["studs_over_two_spans"]


def studs_over_two_spans(
    sheet: Sheet, bridge: BridgeNodes, composite: Composite, pier: PierSection, two: TwoSpans
) -> None:
    """Write strength, fatigue pitch and layout of the studs of the first span.

    Two lengths: end bearing to greatest moment, and from there to the pier.  The horizontal shear
    is that of the uncracked section of the span, on the safe side over the pier.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the parts.
    bridge, composite, pier, two
        Of the girder.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 6.10.10; from memory.
    """
    details, slab = bridge.data.details, composite.slab
    assert details is not None
    stud, across = stud_on_plans(sheet, bridge)
    rules = edition_rules(sheet, str(details.edition.value))
    with sheet.part("Strength"):
        strength = stud_strength(
            sheet, stud, concrete=composite.concrete, modulus=composite.modulus
        )
        P_s = _steel(sheet, composite.geometry)
        P_p = positive_force(sheet, concrete=composite.concrete, width=slab.width,
                             thickness=slab.thickness, steel=P_s)  # fmt: skip
        n_end = required_connectors(sheet, P_p, strength, name="n_end")
        with sheet.part("To the pier"):
            P_T = support_force(sheet, P_p, concrete=composite.concrete, width=slab.width,
                                thickness=slab.thickness,
                                steel=_steel(sheet, pier.geometry))  # fmt: skip
            n_pier = required_connectors(sheet, P_T, strength, name="n_pier")
    with sheet.part("Fatigue"):
        ADTT = sheet.given("ADTT", details.trucks_per_day, "trucks a day in one direction",
                           source=bridge.data.source_of("trucks_per_day"))  # fmt: skip
        lanes = sheet.given("n_tl", details.truck_lanes, "lanes open to trucks",
                            source=bridge.data.source_of("truck_lanes"))  # fmt: skip
        single = single_lane_trucks(sheet, ADTT, lanes=lanes)
        cycles = cycles_per_truck(sheet, rules, "continuous span", span=bridge.span,
                                  to_support=0 * bridge.span)  # fmt: skip
        many = traffic(sheet, trucks=single, cycles=cycles)
        fatigue = stud_fatigue(sheet, rules, diameter=stud.diameter, traffic=many)
        flows = _flows(sheet, composite, two, fatigue)
        x = two.effects.positive[0].fraction * bridge.span
        ahead = sheet.step("L_e", x / 2, ft, "half of end bearing to greatest moment",
                           ref="geometry")  # fmt: skip
        behind = sheet.step("L_f", (bridge.span - x) / 2, ft, "half of greatest moment to pier",
                            ref="geometry")  # fmt: skip
        pitches = [
            fatigue_pitch(sheet, fatigue, per_row=stud.per_row, name=f"p_fat{number}",
                          flow=maximum(flows[number], flows[number + 1]))
            for number in range(4)
        ]  # fmt: skip
    places = []
    for words, length, first, required in (
        ("end bearing to greatest moment", ahead, 0, n_end),
        ("greatest moment to pier", behind, 2, n_pier),
    ):
        with sheet.part(f"Layout, {words}"):
            greatest = greatest_pitch(sheet, rules, composite.geometry.section.web.width)
            layout = stud_layout(
                sheet,
                [
                    StudRegion(f"{words}, half {half + 1}", length, pitches[first + half])
                    for half in range(2)
                ],
                required=required, per_row=stud.per_row, diameter=stud.diameter,
                greatest=greatest, grid=half_inch(sheet),
            )  # fmt: skip
            places += list(layout.pitches)
    with sheet.part("Geometry of the studs"):
        section = composite.geometry.section
        place = StudPlace(minimum(*places), across, section.top.width, slab.thickness,
                          slab.haunch, section.web.width)  # fmt: skip
        stud_geometry(sheet, rules, stud, place)


def _steel(sheet: Sheet, geometry: Geometry) -> Operand:
    web = geometry.piece("w")
    return steel_force(
        sheet, web=(web.area, web.strength),
        flanges=tuple((p.area, p.strength) for p in geometry.steel if p.key != "w"),
    )  # fmt: skip


def _flows(
    sheet: Sheet, composite: Composite, two: TwoSpans, fatigue: StudFatigue
) -> list[Operand]:
    """Write the shear flow at both ends of the span, the greatest moment, and midway between."""
    n, x = composite.elastic.short_term, two.effects.positive[0].fraction
    assert n is not None
    assert n.Q is not None
    fractions = (0.0, x / 2, 1 * x, (1 + x) / 2, 1.0)
    found = []
    for number, fraction in enumerate(fractions):
        ends = [
            sheet.computed(
                f"V_{which}{number}", span_kernels(2).live["shear"],
                two.inputs("1", fraction) | {"load": "fatigue", "impact": 0.0, "which": which},
                kip, f"fatigue truck, {words} shear at place {number}, one lane, no impact",
                ref="LRFD 3.6.1.4.1",
            )
            for which, words in (("max", "largest"), ("min", "smallest"))
        ]  # fmt: skip
        V = two.g_fatigue_shear * (1 + use(sheet, "IM_f")) * (ends[0] - ends[1])
        found.append(
            shear_flow_range(sheet, fatigue, shear=V, first_moment=n.Q, inertia=n.inertia,
                             name=f"V_sr{number}")
        )  # fmt: skip
    return found
