"""A plate girder continuous over one pier: both governing sections in full, by AASHTO LRFD."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from stepcalc.bridge.composite.assembled import composite_positive_flexure, flexure_with_buckling
from stepcalc.bridge.composite.figure import draw_girder_section
from stepcalc.bridge.composite.gradient import moment_gradient
from stepcalc.bridge.composite.negative import Bracing
from stepcalc.bridge.composite.service import service_two_general
from stepcalc.bridge.composite.sides import flange_sides
from stepcalc.bridge.composite.stages import (
    compressed_web_by_axis,
    compressed_web_by_stress,
    stage_moments,
    stage_sections,
    staged_stresses,
)
from stepcalc.bridge.composite.web import bend_buckling, hybrid_factor
from stepcalc.bridge.constants import use
from stepcalc.bridge.continuous.kernels import span_kernels
from stepcalc.bridge.details.bearing_stiffeners import BearingPairs, bearing_stiffener
from stepcalc.bridge.details.plate_proportions import FlangePlate, plate_proportions
from stepcalc.bridge.details.shear_panels import PanelWeb, end_panel, interior_panel
from stepcalc.bridge.details.transverse_stiffeners import StiffenerPlate
from stepcalc.bridge.givens import state_bridge
from stepcalc.bridge.section_figure import draw_cross_section
from stepcalc.bridge.whole.assumptions import state_assumptions
from stepcalc.bridge.whole.composite_section import composite_section
from stepcalc.bridge.whole.continuous_demands import analyse, pier_section, pier_steel, weights
from stepcalc.bridge.whole.continuous_fatigue import fatigue_over_two_spans
from stepcalc.bridge.whole.continuous_pour import pour_at_section
from stepcalc.bridge.whole.continuous_studs import studs_over_two_spans
from stepcalc.bridge.whole.scope import conclude_girder
from stepcalc.bridge.whole.section_change import section_change
from stepcalc.bridge.whole.steel import trial_steel
from stepcalc.bridge.whole.tables import stress_table
from stepcalc.expr.functions import maximum
from stepcalc.units import inch, kip, kip_ft

if TYPE_CHECKING:
    from stepcalc.bridge.composite.stages import StageMoments
    from stepcalc.bridge.data import BridgeData
    from stepcalc.bridge.givens import BridgeNodes
    from stepcalc.bridge.whole.composite_section import Composite
    from stepcalc.bridge.whole.continuous_demands import PierSection, TwoSpans
    from stepcalc.bridge.whole.steel import Steel
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.sheet import Sheet

__all__ = ["write_continuous"]


def write_continuous(
    sheet: Sheet, data: BridgeData, *, exterior: bool, proof: str | None = "statics"
) -> None:
    """Write the calculation of one plate girder over two spans.

    Parameters
    ----------
    sheet : Sheet
        An empty sheet.
    data : BridgeData
        The bridge, with `details` that name a second span.
    exterior : bool
        The exterior girder; otherwise an interior one.
    proof : str or None
        None leaves out the proofs of the axle placements.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017); articles beside each step; from memory.
    """
    details = data.details
    assert details is not None
    with sheet.part("Assumptions"):
        state_assumptions(sheet, data, exterior=exterior)
    with sheet.part("Bridge data"):
        bridge = state_bridge(sheet, data)
        L_2 = sheet.given("L_2", details.second_span, "second span",
                          source=data.source_of("second_span"))  # fmt: skip
    with sheet.part("Trial section"):
        steel = trial_steel(sheet, bridge)
        draw_cross_section(sheet, bridge, steel.trial)
    with sheet.part("Pier section"):
        plates = pier_steel(sheet, bridge)
    spans = (bridge.span, L_2)
    with sheet.part("Dead load"):
        loads = weights(sheet, bridge, steel, plates, spans, exterior=exterior)
    with sheet.part("Section properties, span"):
        composite = composite_section(sheet, bridge, steel, loads.haunch, exterior=exterior)
    with sheet.part("Section properties, pier"):
        pier = pier_section(sheet, plates, composite.slab, bridge.modular_ratio)
        draw_girder_section(sheet, pier.geometry, positive=False,
                            elastic=tuple(e for e in (pier.elastic.cracked,) if e))  # fmt: skip
    layouts = _layouts(sheet, bridge, composite, pier)
    two = analyse(sheet, bridge, steel, loads, spans, layouts, exterior=exterior, proof=proof)
    with sheet.part("Proportion limits, span"):
        _proportions(sheet, steel.section, positive=True)
    with sheet.part("Proportion limits, pier"):
        _proportions(sheet, pier.section, positive=False)
    with sheet.part("Constructibility"):
        _pour(sheet, bridge, steel, pier, two, loads.DC1, exterior)
    with sheet.part("Positive moment, span 1"):
        _positive(sheet, composite, two)
    with sheet.part("Negative moment, pier"):
        _negative(sheet, bridge, pier, two)
    with sheet.part("Section change"):
        section_change(sheet, bridge, composite, two, loads)
    with sheet.part("Fatigue"):
        fatigue_over_two_spans(sheet, bridge, composite, pier, two)
    with sheet.part("Strength I, shear"):
        web = _shear(sheet, bridge, composite, pier, two)
    with sheet.part("At the pier"):
        _pier_bearing(sheet, bridge, web, two)
    with sheet.part("Shear connectors"):
        studs_over_two_spans(sheet, bridge, composite, pier, two)
    with sheet.part("Verdict"):
        conclude_girder(sheet, data, exterior=exterior)


def _layouts(
    sheet: Sheet, bridge: BridgeNodes, composite: Composite, pier: PierSection
) -> tuple[str, str]:
    """Return the relative stiffness along the girder as texts: composite, and steel alone."""
    details = bridge.data.details
    assert details is not None
    near = float(details.pier_length.to("ft").magnitude)
    L_1 = float(bridge.data.span.to("ft").magnitude)
    L_2 = float(details.second_span.to("ft").magnitude)

    def text(inner: Any, outer: Any) -> str:
        ratio = float(inner.value.magnitude) / float(outer.value.magnitude)
        return f"EI: 1 to {1 - near / L_1:.8g}, {ratio:.8g}; {ratio:.8g} to {near / L_2:.8g}, 1"

    n, n_pier = composite.elastic.short_term, pier.elastic.short_term
    assert n is not None
    assert n_pier is not None
    sheet.note(
        "The girder is analysed with the uncracked short-term section over both spans, also over "
        "the pier (LRFD 6.10.1.5), DC1 once more with the steel alone. The relative stiffness is "
        "that of the plates as first given; after a revision of plates write the sheet anew."
    )
    return text(n_pier.inertia, n.inertia), text(
        pier.elastic.steel.inertia, composite.elastic.steel.inertia
    )


def _proportions(sheet: Sheet, section: Any, *, positive: bool) -> None:
    top = FlangePlate(section.top.width, section.top.thickness)
    bottom = FlangePlate(section.bottom.width, section.bottom.thickness)
    plate_proportions(
        sheet, web_depth=section.web.width, web=section.web.thickness,
        compression=top if positive else bottom, tension=bottom if positive else top,
        location="span" if positive else "pier",
    )  # fmt: skip


def _pour(
    sheet: Sheet, bridge: BridgeNodes, steel: Steel, pier: PierSection, two: TwoSpans,
    weight: Operand, exterior: bool,
) -> None:  # fmt: skip
    details = bridge.data.details
    assert details is not None
    with sheet.part("Pour, span"):
        pour_at_section(
            sheet, bridge, steel.geometry, steel.elastic, moment=two.M_DC1, weight=weight,
            unbraced=bridge.brace_spacing, positive=True, exterior=exterior, location="span 1",
        )  # fmt: skip
    with sheet.part("Pour, pier"):
        L_b = sheet.given("L_bp", details.pier_brace, "pier to the next cross-frame",
                          source=bridge.data.source_of("pier_brace"))  # fmt: skip
        pour_at_section(
            sheet, bridge, pier.geometry, pier.elastic.steel, moment=-1 * two.M_DC1_pier,
            weight=weight, unbraced=L_b, positive=False, exterior=exterior, location="pier",
        )  # fmt: skip


def _positive(sheet: Sheet, composite: Composite, two: TwoSpans) -> None:
    at = two.effects.positive[0]
    geometry = composite.geometry

    def staged(state: str) -> StageMoments:
        return stage_moments(sheet, two.M_DC1, DC2=at.DC2, DW=at.DW, LL=at.live_max, state=state)

    with sheet.part("Stresses by stage"):
        stress_table(
            sheet,
            stage_sections(composite.elastic, positive=True),
            (two.M_DC1, at.DC2, at.DW, at.live_max),
        )
    with sheet.part("Strength I"):
        composite_positive_flexure(
            sheet, geometry, composite.elastic, staged("Strength I"), continuous=True,
            location="span 1, greatest moment",
        )  # fmt: skip
    with sheet.part("Service II"):
        sections = stage_sections(composite.elastic, positive=True)
        sides = flange_sides(sheet, geometry, positive=True)
        stresses = staged_stresses(sheet, sections, staged("Service II"), positive=True)
        depth = compressed_web_by_stress(sheet, geometry, stresses, sections.short_term)
        hybrid = hybrid_factor(sheet, geometry, sections.short_term)
        F_crw = bend_buckling(sheet, geometry, sides, depth=depth, hybrid=hybrid)
        service_two_general(
            sheet, geometry, sides, stresses=stresses, hybrid=hybrid, bending=F_crw,
            composite=True, location="span 1, greatest moment",
        )  # fmt: skip


def _negative(sheet: Sheet, bridge: BridgeNodes, pier: PierSection, two: TwoSpans) -> None:
    at, geometry, details = two.effects.negative[0], pier.geometry, bridge.data.details
    assert details is not None
    L_b = sheet.given("L_bp", details.pier_brace, "pier to the next cross-frame",
                      source=bridge.data.source_of("pier_brace"))  # fmt: skip

    def staged(state: str) -> StageMoments:
        return stage_moments(
            sheet, -1 * two.M_DC1_pier, DC2=-1 * at.DC2, DW=-1 * at.DW, LL=-1 * at.live_min,
            state=state,
        )  # fmt: skip

    with sheet.part("Stresses by stage"):
        moments = tuple(-1 * M for M in (two.M_DC1_pier, at.DC2, at.DW, at.live_min))
        stress_table(
            sheet,
            stage_sections(pier.elastic, positive=False),
            (moments[0], moments[1], moments[2], moments[3]),
            positive=False,
        )
    with sheet.part("Moment gradient"):
        gradient = _gradient(sheet, two, L_b)
    with sheet.part("Strength I"):
        flexure_with_buckling(
            sheet, geometry, pier.elastic, staged("Strength I"), positive=False, unbraced=L_b,
            gradient=gradient, bracing=Bracing(compression=False, tension=True), location="pier",
        )  # fmt: skip
    with sheet.part("Service II"):
        sections = stage_sections(pier.elastic, positive=False)
        sides = flange_sides(sheet, geometry, positive=False)
        stresses = staged_stresses(sheet, sections, staged("Service II"), positive=False)
        depth = compressed_web_by_axis(sheet, geometry, sections.short_term, positive=False)
        hybrid = hybrid_factor(sheet, geometry, sections.short_term)
        F_crw = bend_buckling(sheet, geometry, sides, depth=depth, hybrid=hybrid)
        service_two_general(
            sheet, geometry, sides, stresses=stresses, hybrid=hybrid, bending=F_crw,
            composite=True, location="pier",
        )  # fmt: skip


def _gradient(sheet: Sheet, two: TwoSpans, L_b: Operand) -> Operand:
    """Write C_b from the Strength I envelope at the pier, the next brace and midway."""
    L, at = two.spans[0], two.effects.negative[0]
    kernels = span_kernels(2)
    g = at.live_min / at.lane_min
    moments = []
    for tag, part, words in (("2", 0, "pier"), ("m", 0.5, "midway"), ("0", 1, "next brace")):
        place = two.inputs("1", 1 - part * L_b / L if part else 1.0)
        DC = sheet.computed(
            f"M_g{tag}", kernels.dead["moment"],
            place | {"load": _weight(sheet)}, kip_ft, f"factored dead load, {words}", ref="statics",
        )  # fmt: skip
        LL = sheet.computed(
            f"M_h{tag}", kernels.live["moment"],
            place | {"load": "HL-93", "impact": use(sheet, "IM"), "which": "min"}, kip_ft,
            f"smallest moment of one lane, {words}", ref="LRFD 3.6.1.3.1",
        )  # fmt: skip
        moments.append(
            sheet.step(f"M_c{tag}", -1 * (DC + use(sheet, "gamma_LL") * g * LL), kip_ft,
                       f"factored moment, bottom flange in compression positive, {words}",
                       ref="LRFD Table 3.4.1-1")
        )  # fmt: skip
    return moment_gradient(sheet, first=moments[2], middle=moments[1], second=moments[0]).modifier


def _weight(sheet: Sheet) -> Operand:
    DC = sheet["Dead load/w_DC1"] + sheet["Dead load/w_DC2"]
    weight: Operand = use(sheet, "gamma_DC") * DC + use(sheet, "gamma_DW") * sheet["Dead load/w_DW"]
    return weight


def _factored_shear(sheet: Sheet, name: str, shear: Any, words: str) -> Operand:
    g_DC, g_DW, g_LL = use(sheet, "gamma_DC"), use(sheet, "gamma_DW"), use(sheet, "gamma_LL")
    up = g_DC * (shear.DC1 + shear.DC2) + g_DW * shear.DW + g_LL * shear.live_max
    down = -1 * (g_DC * (shear.DC1 + shear.DC2) + g_DW * shear.DW + g_LL * shear.live_min)
    return sheet.step(name, maximum(up, down), kip, f"factored shear, {words}",
                      ref="LRFD Table 3.4.1-1")  # fmt: skip


def _shear(
    sheet: Sheet, bridge: BridgeNodes, composite: Composite, pier: PierSection, two: TwoSpans
) -> PanelWeb:
    details, source_of = bridge.data.details, bridge.data.source_of
    assert details is not None
    plate, over = composite.geometry.section.web, pier.section.web
    shears = two.effects.shear
    with sheet.part("End panel"):
        d_1 = sheet.given("d_o1", details.end_panel, "bearing to the first stiffener",
                          source=source_of("end_panel"))  # fmt: skip
        V = maximum(
            _factored_shear(sheet, "V_u1", shears[0], "first bearing"),
            _factored_shear(sheet, "V_u4", shears[3], "last bearing"),
        )
        web = PanelWeb(plate.width, plate.thickness, plate.strength)
        end_panel(sheet, web, spacing=d_1, demand=V, location="end bearing")
    with sheet.part("Panel beside the pier"):
        d_p = sheet.given("d_op", details.pier_panel, "stiffener spacing beside the pier",
                          source=source_of("pier_panel"))  # fmt: skip
        V_p = maximum(
            _factored_shear(sheet, "V_u2", shears[1], "pier, side of span 1"),
            _factored_shear(sheet, "V_u3", shears[2], "pier, side of span 2"),
        )
        pier_web = PanelWeb(over.width, over.thickness, over.strength)
        flanges = sheet.step(
            "A_fl",
            pier.section.top.width * pier.section.top.thickness
            + pier.section.bottom.width * pier.section.bottom.thickness,
            inch**2, "both flanges over the pier", ref="geometry",
        )  # fmt: skip
        interior_panel(sheet, pier_web, spacing=d_p, flanges=flanges, demand=V_p, location="pier")
    return pier_web


def _pier_bearing(sheet: Sheet, bridge: BridgeNodes, web: PanelWeb, two: TwoSpans) -> None:
    details, source_of = bridge.data.details, bridge.data.source_of
    assert details is not None
    found = two.effects.reactions[1]
    R_u = sheet.step(
        "R_u",
        use(sheet, "gamma_DC") * (found.DC1 + found.DC2) + use(sheet, "gamma_DW") * found.DW
        + use(sheet, "gamma_LL") * found.live_impact,
        kip, "factored reaction of the pier, Strength I", ref="LRFD Table 3.4.1-1",
    )  # fmt: skip
    plate = StiffenerPlate(
        sheet.given("b_tb", details.bearing_width, "projecting width of a bearing stiffener",
                    source=source_of("bearing_width")),
        sheet.given("t_pb", details.bearing_thickness, "its thickness",
                    source=source_of("bearing_thickness")),
        web.strength,
        pair=True,
    )  # fmt: skip
    clip = sheet.given("c_clip", details.bearing_clip, "corner cut off",
                       source=source_of("bearing_clip"))  # fmt: skip
    bearing_stiffener(sheet, BearingPairs(plate, clip), web, reaction=R_u, location="pier")
