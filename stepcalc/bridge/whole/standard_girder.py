"""One composite girder of a simple span by the Standard Specifications, in the usual order."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stepcalc.bridge.composite.slab import WidthRule
from stepcalc.bridge.composite.stages import stage_sections
from stepcalc.bridge.constants import use
from stepcalc.bridge.details.camber import CamberStage, simple_span_camber
from stepcalc.bridge.details.depth import older_least_depths
from stepcalc.bridge.fields import Specification
from stepcalc.bridge.givens import state_bridge
from stepcalc.bridge.section_figure import draw_cross_section
from stepcalc.bridge.verdict import REVIEW
from stepcalc.bridge.whole.composite_section import composite_section
from stepcalc.bridge.whole.standard_checks import (
    Method,
    bearing_by,
    flexure_by,
    pour_by,
    shear_by,
)
from stepcalc.bridge.whole.standard_demands import standard_demands
from stepcalc.bridge.whole.standard_fatigue import fatigue_by, studs_by
from stepcalc.bridge.whole.standard_scope import standard_assumptions, standard_not_checked
from stepcalc.bridge.whole.steel import trial_steel
from stepcalc.bridge.whole.tables import stress_table
from stepcalc.units import inch

if TYPE_CHECKING:
    from stepcalc.bridge.data import BridgeData
    from stepcalc.bridge.givens import BridgeNodes
    from stepcalc.bridge.whole.composite_section import Composite
    from stepcalc.bridge.whole.standard_demands import StandardDemands
    from stepcalc.sheet.sheet import Sheet

__all__ = ["write_standard"]


def write_standard(
    sheet: Sheet, data: BridgeData, *, exterior: bool, proof: str | None = "statics"
) -> None:
    """Write the whole calculation of one composite girder by allowable stress or load factors.

    Parameters
    ----------
    sheet : Sheet
        An empty sheet.
    data : BridgeData
        The bridge, with `details`; its specification is ASD or LFD.
    exterior : bool
        The exterior girder; otherwise an interior one.
    proof : {"statics", "ordinates"} or None
        What stands below each axle placement.

    Source
    ------
    AASHTO Standard Specifications, 17th ed. (2002); articles beside each step; from memory.
    """
    method = Method(data.specification is Specification.ASD)
    with sheet.part("Assumptions"):
        standard_assumptions(sheet, data, exterior=exterior)
    with sheet.part("Bridge data"):
        bridge = state_bridge(sheet, data)
    with sheet.part("Trial section"):
        steel = trial_steel(sheet, bridge)
        draw_cross_section(sheet, bridge, steel.trial)
    demands = standard_demands(sheet, bridge, steel, exterior=exterior, proof=proof)
    with sheet.part("Section properties"):
        composite = composite_section(
            sheet, bridge, steel, demands.loads.haunch, exterior=exterior, rule=WidthRule.STANDARD
        )
    with sheet.part("Stresses by stage"):
        dead = demands.dead
        stress_table(
            sheet, stage_sections(composite.elastic, positive=True),
            (dead.M_DC1, dead.M_DC2, dead.M_DW, demands.live.moment), older=True,
        )  # fmt: skip
    strength = flexure_by(sheet, method, composite, demands)
    with sheet.part("Shear"):
        shear_by(sheet, method, bridge, composite, demands, strength)
    if data.welded:
        with sheet.part("Bearing stiffeners"):
            bearing_by(sheet, method, bridge, composite)
    with sheet.part("Pour of the deck"):
        pour_by(sheet, method, bridge, steel, demands)
    with sheet.part("Fatigue"):
        fatigue_by(sheet, bridge, composite, demands, exterior=exterior)
    with sheet.part("Shear connectors"):
        studs_by(sheet, bridge, composite, demands)
    with sheet.part("Deflection and depth"):
        _deflection(sheet, bridge, composite, demands)
    with sheet.part("Camber"):
        _camber(sheet, bridge, composite, demands)
    with sheet.part("Reactions"):
        _reactions(sheet, demands)
    with sheet.part("Verdict"):
        which = "exterior" if exterior else "interior"
        sheet.conclude(
            f"The verdict speaks of one {which} girder and of the checks listed here, by "
            f"{data.specification.value}, and of nothing else. {REVIEW}",
            checked=(
                f"the {len(sheet.checks)} checks of the summary below, each with its place and "
                "article",
            ),
            not_checked=standard_not_checked(data, exterior=exterior),
            recommendation=('see the sheet "Summary of both girders"',),
        )  # fmt: skip


def _deflection(
    sheet: Sheet, bridge: BridgeNodes, composite: Composite, demands: StandardDemands
) -> None:
    n = composite.elastic.short_term
    assert n is not None
    delta = sheet.step(
        "Delta_LL", demands.deflection / (use(sheet, "E_s") * n.inertia), inch,
        "live-load deflection at midspan, short-term section", ref="Std 10.6.2",
    )  # fmt: skip
    sheet.check("Live-load deflection", delta <= bridge.span / use(sheet, "r_def"),
                ref="Std 10.6.2", location="midspan")  # fmt: skip
    geometry = composite.geometry
    older_least_depths(sheet, span=bridge.span, steel=geometry.depth, whole=geometry.slab_top)


def _camber(
    sheet: Sheet, bridge: BridgeNodes, composite: Composite, demands: StandardDemands
) -> None:
    details, elastic, loads = bridge.data.details, composite.elastic, demands.loads
    assert details is not None
    assert elastic.long_term is not None
    size = sheet.given("r_C", details.camber_step, "camber is rounded up to a multiple of",
                       assumed="shop practice")  # fmt: skip
    late = elastic.long_term.inertia
    stages = (
        CamberStage("DC1", loads.DC1, elastic.steel.inertia),
        CamberStage("DC2", loads.DC2, late),
        CamberStage("DW", loads.DW, late),
    )
    simple_span_camber(sheet, stages, span=bridge.span, step_size=size, composite=True)


def _reactions(sheet: Sheet, demands: StandardDemands) -> None:
    dead, live = demands.dead, demands.live
    sheet.table(
        ["Load", "Reaction"],
        [["DC1", dead.V_DC1], ["DC2", dead.V_DC2], ["DW", dead.V_DW],
         ["HS20, with impact", live.shear], ["wheel lines used", live.wheel_lines]],
        "Unfactored reactions of this girder at one bearing; they are not added to those of "
        "another girder",
    )  # fmt: skip
