"""Fatigue of a girder over two spans: bottom flange in the span, top flange over the pier."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stepcalc.bridge.continuous.kernels import span_kernels
from stepcalc.bridge.details.editions import edition_rules
from stepcalc.bridge.details.fatigue import FatigueRow, fatigue_check, fatigue_table
from stepcalc.bridge.details.fatigue_categories import chosen_category
from stepcalc.bridge.details.fatigue_loads import (
    cycles_per_truck,
    fatigue_range,
    single_lane_trucks,
    traffic,
)
from stepcalc.units import ft, kip_ft, ksi

if TYPE_CHECKING:
    from stepcalc.bridge.givens import BridgeNodes
    from stepcalc.bridge.whole.composite_section import Composite
    from stepcalc.bridge.whole.continuous_demands import PierSection, TwoSpans
    from stepcalc.sheet.sheet import Sheet

__all__ = ["fatigue_over_two_spans"]


def fatigue_over_two_spans(
    sheet: Sheet, bridge: BridgeNodes, composite: Composite, pier: PierSection, two: TwoSpans
) -> None:
    """Check the connection plate in span 1 and the flange with studs over the pier.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    bridge, composite, pier, two
        Of the girder; over the pier the steel with the bars resists.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 6.6.1.2, 3.6.1.4; from memory.
    """
    data, details = bridge.data, bridge.data.details
    assert details is not None
    n, late, steel = (
        composite.elastic.short_term, composite.elastic.long_term, composite.elastic.steel,
    )  # fmt: skip
    cracked, bare = pier.elastic.cracked, pier.elastic.steel
    assert n is not None
    assert late is not None
    assert cracked is not None
    rules = edition_rules(sheet, str(details.edition.value))
    ADTT = sheet.given("ADTT", details.trucks_per_day, "trucks a day in one direction",
                       source=data.source_of("trucks_per_day"))  # fmt: skip
    lanes = sheet.given("n_tl", details.truck_lanes, "lanes open to trucks",
                        source=data.source_of("truck_lanes"))  # fmt: skip
    single = single_lane_trucks(sheet, ADTT, lanes=lanes)
    at, over = two.effects.positive[0], two.effects.negative[0]
    rows = []
    for name, category, place, bottom, fraction, modulus in (
        ("connection plate, bottom flange", details.connection_plate_category,
         "span 1, greatest moment", True, at.fraction, n.S_bottom),
        ("top flange at the studs", details.stud_flange_category, "pier", False, 1.0,
         cracked.S_top),
    ):  # fmt: skip
        with sheet.part(f"Fatigue: {name}"):
            if bottom:
                permanent = two.M_DC1 / steel.S_bottom + (at.DC2 + at.DW) / late.S_bottom
            else:
                permanent = -1 * (
                    two.M_DC1_pier / bare.S_top + (over.DC2 + over.DW) / cracked.S_top
                )
            f_p = sheet.step("f_p", permanent, ksi, "permanent stress, tension positive",
                             ref="LRFD 6.10.1.1.1a")  # fmt: skip
            away = sheet.step("x_p", (1 - fraction) * bridge.span, ft, "detail to the pier",
                              ref="geometry")  # fmt: skip
            cycles = cycles_per_truck(sheet, rules, "continuous span", span=bridge.span,
                                      to_support=away)  # fmt: skip
            many = traffic(sheet, trucks=single, cycles=cycles)
            moments = [
                sheet.computed(
                    f"M_f{which}", span_kernels(2).live["moment"],
                    two.inputs("1", fraction)
                    | {"load": "fatigue", "impact": 0.0, "which": which},
                    kip_ft, f"fatigue truck, {words} moment, one lane, no impact",
                    ref="LRFD 3.6.1.4.1",
                )
                for which, words in (("max", "largest"), ("min", "smallest"))
            ]  # fmt: skip
            chosen = sheet.given("category", str(category.value), f"detail category, {name}",
                                 choices="stress_categories",
                                 source="LRFD Table 6.6.1.2.3-1 (from memory)")  # fmt: skip
            stress = fatigue_range(
                sheet, sagging=moments[0], hogging=moments[1], share=two.g_fatigue,
                modulus=modulus, bottom=bottom,
            )  # fmt: skip
            result = fatigue_check(
                sheet, chosen_category(sheet, chosen, rules), rules, stress=stress, permanent=f_p,
                traffic=many, name=f"Fatigue, {name}", location=place,
            )  # fmt: skip
        rows.append(FatigueRow(name, place, str(category.value), stress, result))
    fatigue_table(sheet, rows)
