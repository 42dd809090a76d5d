"""The interior girder by AASHTO LRFD: every part of the calculation, in the engineer's order."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stepcalc.bridge.bearing import web_at_bearing
from stepcalc.bridge.combinations import (
    FactoredEffects,
    GirderEffects,
    factored_effects,
    reaction_table,
)
from stepcalc.bridge.constants import state_owner_factors
from stepcalc.bridge.construction import constructibility, pour_effects
from stepcalc.bridge.dead_load import dead_load_effects, dead_loads
from stepcalc.bridge.distribution import interior_distribution
from stepcalc.bridge.fields import Specification
from stepcalc.bridge.flexure import (
    buckling_between_diaphragms,
    required_section,
    strength_flexure,
)
from stepcalc.bridge.givens import state_bridge
from stepcalc.bridge.live_load import axle_deflection, girder_live_load, hl93_lane
from stepcalc.bridge.proportions import proportion_limits
from stepcalc.bridge.section import section_properties, trial_shape
from stepcalc.bridge.section_figure import draw_cross_section
from stepcalc.bridge.service import (
    deflection_load,
    live_load_deflection,
    required_inertia,
    service_two,
    span_depth,
)
from stepcalc.bridge.shear import strength_shear
from stepcalc.bridge.sidewalks import pedestrian_effects, with_walks
from stepcalc.bridge.verdict import conclude
from stepcalc.expr.functions import maximum
from stepcalc.units import kip

if TYPE_CHECKING:
    from stepcalc.bridge.data import BridgeData
    from stepcalc.bridge.dead_load import DeadLoadEffects
    from stepcalc.bridge.givens import BridgeNodes
    from stepcalc.bridge.section import TrialShape
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.sheet import Sheet


EDITION = (
    "Edition: AASHTO LRFD, 8th edition (2017), no interims. Another edition may have other factors "
    "and articles: compare each with the list of code constants."
)


def write_lrfd(sheet: Sheet, data: BridgeData, *, proof: str | None = "statics") -> None:
    """Write the whole LRFD calculation of an interior girder on a sheet.

    Parameters
    ----------
    sheet : Sheet
        An empty sheet.
    data : BridgeData
        The bridge.
    proof : {"statics", "ordinates"} or None
        What stands below each axle placement.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017); articles beside each step; from memory.
    """
    with sheet.part("Bridge data"):
        bridge = state_bridge(sheet, data)
        state_owner_factors(sheet, data.owner_factors, data.sources)
        sheet.note(EDITION)
    with sheet.part("Trial shape"):
        trial = trial_shape(sheet, bridge.shape)
        draw_cross_section(sheet, bridge, trial)
    dead, factored, deflection = _demands(sheet, bridge, trial, proof)
    with sheet.part("Required section properties"):
        required_section(sheet, factored, bridge.yield_strength)
        required_inertia(
            sheet, span=bridge.span, load=deflection, pedestrians=bridge.sidewalk is not None
        )
    _checks(sheet, bridge, trial, dead, factored, deflection)
    with sheet.part("Verdict"):
        conclude(sheet, Specification.LRFD, rated=data.condition is not None)


def _demands(
    sheet: Sheet, bridge: BridgeNodes, trial: TrialShape, proof: str | None
) -> tuple[DeadLoadEffects, FactoredEffects, Operand]:
    with sheet.part("Dead load"):
        loads = dead_loads(sheet, bridge, trial)
    with sheet.part("Live load of one lane"):
        definition = bridge.data.live_load_maximum
        lane = hl93_lane(sheet, bridge.span, definition=definition, proof=proof)
        truck = axle_deflection(sheet, bridge.span, proof="statics" if proof else None)
    with sheet.part("Dead-load moments and shears"):
        dead = dead_load_effects(sheet, loads, span=bridge.span, section=lane.section)
    with sheet.part("Live-load distribution"):
        shares = interior_distribution(sheet, bridge, trial, loads.haunch)
        live = girder_live_load(sheet, lane, moment_factor=shares.moment, shear_factor=shares.shear)
    moment, shear, people = live.moment, live.shear, None
    if loads.walk is not None:
        with sheet.part("Pedestrians"):
            people = pedestrian_effects(sheet, bridge, loads.walk)
            moment, shear = with_walks(sheet, bridge, lane, shares, live, people)
    with sheet.part("Factored effects"):
        effects = GirderEffects(
            dead.M_DC1, dead.M_DC2, dead.M_DW, moment,
            dead.V_DC1, dead.V_DC2, dead.V_DW, shear,
        )  # fmt: skip
        factored = factored_effects(sheet, effects, bridge.data.owner_factors)
        reaction = sheet.step(
            "R_LL", shares.shear * (maximum(lane.truck_shear, lane.tandem_shear) + lane.lane_shear),
            kip, "live-load reaction of the girder, without impact", ref="LRFD 4.6.2.2.3",
        )  # fmt: skip
        reaction_table(
            sheet, effects, without_impact=reaction, share=shares.shear,
            pedestrians=None if people is None else people.shear,
        )  # fmt: skip
        deflection = deflection_load(sheet, span=bridge.span, truck=truck, share=shares.deflection)
    return dead, factored, deflection


def _checks(
    sheet: Sheet,
    bridge: BridgeNodes,
    trial: TrialShape,
    dead: DeadLoadEffects,
    factored: FactoredEffects,
    deflection: Operand,
) -> None:
    F_y, L = bridge.yield_strength, bridge.span
    with sheet.part("Section properties"):
        section = section_properties(sheet, trial)
    with sheet.part("Proportion limits"):
        proportion_limits(sheet, section)
    with sheet.part("Buckling between diaphragms"):
        C_b = sheet.given(
            "C_b",
            1.0,
            "moment gradient modifier",
            assumed="uniform moment between the diaphragms next to midspan, on the safe side",
        )
        buckling = buckling_between_diaphragms(
            sheet, section, yield_strength=F_y, unbraced=bridge.brace_spacing, gradient=C_b
        )
    with sheet.part("Strength I, flexure"):
        strength_flexure(
            sheet, section, buckling, demand=factored.M_u, top_flange=bridge.data.top_flange
        )
    with sheet.part("Strength I, shear"):
        shear = strength_shear(sheet, section, yield_strength=F_y, demand=factored.V_u)
    with sheet.part("Service II"):
        service_two(sheet, section, buckling, moment=factored.M_SII)
    with sheet.part("Deflection and depth"):
        live_load_deflection(
            sheet, section, span=L, load=deflection, pedestrians=bridge.sidewalk is not None
        )
        span_depth(sheet, section, span=L)
    with sheet.part("Deck pour"):
        pour = pour_effects(
            sheet,
            span=L,
            width=bridge.spacing,
            construction_load=bridge.construction_load,
            M_DC1=dead.M_DC1,
            V_DC1=dead.V_DC1,
        )
        constructibility(sheet, section, buckling, shear, effects=pour)
    with sheet.part("Web at the bearing"):
        web_at_bearing(
            sheet,
            section,
            yield_strength=F_y,
            reaction=factored.V_u,
            length=bridge.bearing_length,
        )
