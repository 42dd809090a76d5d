"""One girder of a simple span by AASHTO LRFD, composite or of plates alone, in order."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stepcalc.bridge.composite.stages import stage_sections
from stepcalc.bridge.constants import use
from stepcalc.bridge.details.camber import CamberStage, simple_span_camber
from stepcalc.bridge.details.depth import least_depths
from stepcalc.bridge.details.editions import edition_rules
from stepcalc.bridge.details.exterior_girder import fascia_wind, moment_with_wind
from stepcalc.bridge.details.longitudinal_stiffeners import AlongWeb, longitudinal_stiffener
from stepcalc.bridge.details.plate_proportions import FlangePlate, plate_proportions
from stepcalc.bridge.flexure import BRACING_IN_WORDS, bracing_basis, is_continuously_braced
from stepcalc.bridge.givens import state_bridge
from stepcalc.bridge.section_figure import draw_cross_section
from stepcalc.bridge.whole.assumptions import state_assumptions
from stepcalc.bridge.whole.composite_section import Composite, bare_section, composite_section
from stepcalc.bridge.whole.demands import girder_demands
from stepcalc.bridge.whole.fatigue_and_studs import fatigue_of_girder, studs_of_girder
from stepcalc.bridge.whole.flexure import greatest_moments, service_stresses, strength_flexure
from stepcalc.bridge.whole.outer_sections import equivalent_inertia, outer_sections
from stepcalc.bridge.whole.pour import brace_points, deck_pour, stiffener_distance
from stepcalc.bridge.whole.pour_order import pour_order_of_simple_span
from stepcalc.bridge.whole.scope import conclude_girder
from stepcalc.bridge.whole.section_changes import cover_plate_ends, section_changes
from stepcalc.bridge.whole.steel import trial_steel
from stepcalc.bridge.whole.tables import along_the_girder, reactions, stress_table
from stepcalc.bridge.whole.unbraced_lengths import UnbracedLengths
from stepcalc.bridge.whole.web_and_bearing import bearing_of_girder, shear_of_girder
from stepcalc.expr.functions import maximum
from stepcalc.units import inch, kip_ft, ksi

if TYPE_CHECKING:
    from stepcalc.bridge.data import BridgeData
    from stepcalc.bridge.givens import BridgeNodes
    from stepcalc.bridge.whole.composite_section import GirderSection
    from stepcalc.bridge.whole.demands import Demands
    from stepcalc.bridge.whole.flexure import GirderFlexure
    from stepcalc.bridge.whole.outer_sections import OuterSection
    from stepcalc.bridge.whole.steel import Steel
    from stepcalc.bridge.whole.web_and_bearing import Shear
    from stepcalc.sheet.sheet import Sheet

__all__ = ["write_girder"]


def write_girder(
    sheet: Sheet, data: BridgeData, *, exterior: bool, proof: str | None = "statics"
) -> None:
    """Write the whole calculation of one girder of a simple span, composite or of plates alone.

    Parameters
    ----------
    sheet : Sheet
        An empty sheet.
    data : BridgeData
        The bridge, with `details`.
    exterior : bool
        The exterior girder; otherwise an interior one.
    proof : {"statics", "ordinates"} or None
        What stands below each axle placement.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017); articles beside each step; from memory.
    """
    with sheet.part("Assumptions"):
        state_assumptions(sheet, data, exterior=exterior)
    with sheet.part("Bridge data"):
        bridge = state_bridge(sheet, data)
    with sheet.part("Trial section"):
        steel = trial_steel(sheet, bridge)
        draw_cross_section(sheet, bridge, steel.trial)
    demands = girder_demands(sheet, bridge, steel, exterior=exterior, proof=proof)
    with sheet.part("Section properties"):
        section = _section(sheet, bridge, steel, demands, exterior=exterior)
        outer = outer_sections(sheet, bridge, steel, section)
    with sheet.part("Stresses by stage" if data.composite else "Stresses by load"):
        dead = demands.dead
        stress_table(
            sheet,
            stage_sections(section.elastic, positive=True),
            (dead.M_DC1, dead.M_DC2, dead.M_DW, demands.live.moment),
        )
    with sheet.part("Proportion limits"):
        _proportions(sheet, bridge, steel)
    with sheet.part("Constructibility"):
        pour = deck_pour(sheet, bridge, steel, demands, exterior=exterior)
    if data.details is not None and data.details.pours:
        with sheet.part("Pour sequence"):
            pour_order_of_simple_span(sheet, bridge, demands)
    with sheet.part("Brace points"):
        brace_points(sheet, bridge, steel, pour)
    with sheet.part("Service II"):
        service_stresses(sheet, bridge, section.geometry, section.elastic,
                         greatest_moments(demands),
                         along=stiffener_distance(sheet, bridge))  # fmt: skip
    with sheet.part("Fatigue"):
        basis = fatigue_of_girder(sheet, bridge, section, demands)
    with sheet.part("Strength I, flexure"):
        flexure = _flexure(sheet, bridge, section, outer, demands)
    lighter: tuple[GirderFlexure, ...] = ()
    if outer:
        with sheet.part("Where the section changes"):
            lighter = section_changes(sheet, bridge, outer, demands, pour, basis, exterior=exterior)
            if outer[0].cover:
                with sheet.part("Ends of the cover plate"):
                    cover_plate_ends(sheet, bridge, steel, outer[0], demands, lighter[0])
    if exterior and data.details is not None and data.details.wind:
        with sheet.part("Wind on the fascia"):
            _wind(sheet, bridge, steel, demands, flexure)
    with sheet.part("Strength I, shear"):
        shear = shear_of_girder(sheet, bridge, section, demands, pour, outer)
    if stiffener_distance(sheet, bridge) is not None:
        with sheet.part("Longitudinal stiffener"):
            _longitudinal(sheet, bridge, shear, flexure)
    with sheet.part("Along the girder"):
        along_the_girder(sheet, bridge, demands, tuple(zip(outer, lighter, strict=True)), flexure,
                         shear)  # fmt: skip
    with sheet.part("At the bearing"):
        bearing_of_girder(sheet, bridge, steel, shear, demands)
    if isinstance(section, Composite):
        with sheet.part("Shear connectors"):
            studs_of_girder(sheet, bridge, section, demands, basis, outer)
    with sheet.part("Deflection and depth"):
        _deflection(sheet, bridge, section, demands, outer)
    with sheet.part("Camber"):
        _camber(sheet, bridge, section, demands, outer)
    with sheet.part("Reactions"):
        reactions(sheet, demands)
    with sheet.part("Verdict"):
        conclude_girder(sheet, data, exterior=exterior)


def _section(
    sheet: Sheet, bridge: BridgeNodes, steel: Steel, demands: Demands, *, exterior: bool
) -> GirderSection:
    if bridge.data.composite:
        return composite_section(sheet, bridge, steel, demands.loads.haunch, exterior=exterior)
    return bare_section(sheet, steel)


def _flexure(
    sheet: Sheet, bridge: BridgeNodes, section: GirderSection, outer: tuple[OuterSection, ...],
    demands: Demands,
) -> GirderFlexure:  # fmt: skip
    """Write Strength I at the greatest moment, and where nothing else braces, of every length."""
    along, gradient, lengths = stiffener_distance(sheet, bridge), None, None
    if not bridge.data.composite:
        sheet.note(BRACING_IN_WORDS[bracing_basis(bridge.data.top_flange)])
        if not is_continuously_braced(bridge.data.top_flange):
            lengths = UnbracedLengths(bridge, section, outer, demands)
            with sheet.part("Unbraced length at midspan"):
                gradient = lengths.at_midspan(sheet)
    flexure = strength_flexure(
        sheet, bridge, section.geometry, section.elastic, greatest_moments(demands), along=along,
        gradient=gradient,
    )  # fmt: skip
    if lengths is not None:
        with sheet.part("Every unbraced length", tables_only=True):
            lengths.every_length(sheet, along=along)
    return flexure


def _proportions(sheet: Sheet, bridge: BridgeNodes, steel: Steel) -> None:
    section = steel.section
    plate_proportions(
        sheet, web_depth=section.web.width, web=section.web.thickness,
        compression=FlangePlate(section.top.width, section.top.thickness),
        tension=FlangePlate(section.bottom.width, section.bottom.thickness),
        longitudinal=stiffener_distance(sheet, bridge) is not None,
    )  # fmt: skip


def _longitudinal(sheet: Sheet, bridge: BridgeNodes, shear: Shear, flexure: GirderFlexure) -> None:
    details, source = bridge.data.details, bridge.data.source_of
    distance = stiffener_distance(sheet, bridge)
    assert details is not None
    assert distance is not None
    put = sheet.given
    stiffener = AlongWeb(
        distance,
        put("b_l", details.longitudinal_width, "projecting width of the longitudinal stiffener",
            source=source("longitudinal_width")),
        put("t_sl", details.longitudinal_thickness, "its thickness",
            source=source("longitudinal_thickness")),
        bridge.yield_strength,
    )  # fmt: skip
    f_s = sheet.step(
        "f_s", maximum(flexure.stresses.top, sheet["Constructibility/f_buc"]), ksi,
        "greatest factored stress of the compression flange, on the safe side for the stiffener",
        ref="LRFD 6.10.11.3.1",
    )  # fmt: skip
    longitudinal_stiffener(
        sheet, stiffener, shear.web, spacing=sheet["d_o2"], flange=bridge.yield_strength,
        hybrid=flexure.web.hybrid, stress=f_s, location="whole length",
    )  # fmt: skip


def _wind(
    sheet: Sheet, bridge: BridgeNodes, steel: Steel, demands: Demands, flexure: GirderFlexure
) -> None:
    data, dead = bridge.data, demands.dead
    details = data.details
    assert details is not None
    rules = edition_rules(sheet, str(details.edition.value))
    pressures = [
        sheet.given(f"p_{key}", getattr(details, name), f"wind pressure, {state}",
                    source=data.source_of(name))
        for key, name, state in (
            ("3", "wind_strength_3", "Strength III"), ("5", "wind_strength_5", "Strength V"),
        )
    ]  # fmt: skip
    bottom = steel.section.bottom
    wind = fascia_wind(
        sheet, rules, pressure_3=pressures[0], pressure_5=pressures[1],
        height=steel.geometry.depth, unbraced=bridge.brace_spacing, width=bottom.width,
        thickness=bottom.thickness,
    )  # fmt: skip
    S_xt = sheet.step("S_xt", flexure.yielding.tension / bottom.strength, inch**3,
                      "M_yt over F_yt", ref=flexure.ref)  # fmt: skip
    dead_only = (
        use(sheet, "gamma_DC") * (dead.M_DC1 + dead.M_DC2) + use(sheet, "gamma_DW") * dead.M_DW
    )
    for name, state, moment, lateral in (
        ("M_u3", "Strength III", dead_only, wind.strength_3),
        ("M_u5", "Strength V", dead_only + use(sheet, "gamma_LL5") * demands.live.moment,
         wind.strength_5),
    ):  # fmt: skip
        M = sheet.step(name, moment, kip_ft, f"factored moment, {state}", ref="LRFD Table 3.4.1-1")
        moment_with_wind(
            sheet, state=state, moment=M, lateral=lateral, modulus=S_xt,
            resistance=flexure.stretched, location="greatest moment", ref=flexure.ref,
        )  # fmt: skip


def _deflection(
    sheet: Sheet, bridge: BridgeNodes, section: GirderSection, demands: Demands,
    outer: tuple[OuterSection, ...],
) -> None:  # fmt: skip
    words = "short-term section" if bridge.data.composite else "steel alone"
    inertia = equivalent_inertia(sheet, bridge.span, outer, section.live, key="n", words=words)
    delta = sheet.step(
        "Delta_LL", demands.deflection / (use(sheet, "E") * inertia), inch,
        f"live-load deflection at midspan, {words}", ref="LRFD 2.5.2.6.2",
    )  # fmt: skip
    sheet.check("Live-load deflection", delta <= bridge.span / use(sheet, "r_LL"),
                ref="LRFD 2.5.2.6.2 (optional)", location="midspan")  # fmt: skip
    geometry = section.geometry
    least_depths(sheet, span=bridge.span, steel=geometry.depth, whole=geometry.slab_top,
                 continuous=False)  # fmt: skip


def _camber(
    sheet: Sheet, bridge: BridgeNodes, section: GirderSection, demands: Demands,
    outer: tuple[OuterSection, ...],
) -> None:  # fmt: skip
    details, elastic, loads = bridge.data.details, section.elastic, demands.loads
    assert details is not None
    size = sheet.given("r_C", details.camber_step, "camber is rounded up to a multiple of",
                       assumed="shop practice")  # fmt: skip
    L = bridge.span
    first = equivalent_inertia(sheet, L, outer, elastic.steel, key="s", words="steel alone")
    late = first
    if elastic.long_term is not None:
        late = equivalent_inertia(sheet, L, outer, elastic.long_term, key="3n",
                                  words="long-term section")  # fmt: skip
    if outer:
        sheet.note(
            "The shape of the deflection line between the ends is that of a plain beam; midspan is "
            "exact for the stepped one."
        )
    simple_span_camber(
        sheet,
        (
            CamberStage("DC1", loads.DC1, first),
            CamberStage("DC2", loads.DC2, late),
            CamberStage("DW", loads.DW, late),
        ),
        span=bridge.span, step_size=size, composite=bridge.data.composite,
    )  # fmt: skip
