"""The web of a girder of a simple span in shear, and the girder at its bearing."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stepcalc.bridge.bearing import web_at_bearing
from stepcalc.bridge.constants import use
from stepcalc.bridge.details.bearing_stiffeners import BearingPairs, bearing_stiffener
from stepcalc.bridge.details.editions import edition_rules
from stepcalc.bridge.details.fatigue import web_fatigue
from stepcalc.bridge.details.pour_stages import pour_shear
from stepcalc.bridge.details.shear_panels import (
    PanelWeb,
    end_panel,
    interior_panel,
    unstiffened_panel,
)
from stepcalc.bridge.details.transverse_stiffeners import StiffenerPlate, transverse_stiffener
from stepcalc.bridge.moving_loads import AXLE_SHEAR
from stepcalc.bridge.section import TrialShape, section_properties
from stepcalc.bridge.whole.section_effects import HL93_SHEAR_AT
from stepcalc.units import kip

if TYPE_CHECKING:
    from stepcalc.bridge.details.shear_panels import PanelShear
    from stepcalc.bridge.givens import BridgeNodes
    from stepcalc.bridge.whole.composite_section import GirderSection
    from stepcalc.bridge.whole.demands import Demands
    from stepcalc.bridge.whole.outer_sections import OuterSection
    from stepcalc.bridge.whole.pour import Pour
    from stepcalc.bridge.whole.steel import Steel
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.sheet import Sheet

__all__ = ["Shear", "bearing_of_girder", "shear_of_girder"]


@dataclass(frozen=True)
class Shear:
    """The web in shear: the panel at the bearing, and where stiffened the next one."""

    web: PanelWeb
    first: PanelShear
    second: PanelShear | None


def shear_of_girder(
    sheet: Sheet, bridge: BridgeNodes, whole: GirderSection, demands: Demands, pour: Pour,
    outer: tuple[OuterSection, ...] = (),
) -> Shear:  # fmt: skip
    """Write Strength I shear: unstiffened where rolled; end and next panel where welded.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    bridge, whole, demands, pour
        Of the girder.
    outer : tuple of OuterSection
        Lighter sections nearer to the bearing, whose flanges stand beside the first panels.

    Returns
    -------
    Shear
        Web and panels.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 6.10.9, 6.10.3.3, 6.10.11.1; from memory.
    """
    plate = whole.geometry.section.web
    web = PanelWeb(plate.width, plate.thickness, plate.strength)
    V_u, details = demands.factored.V_u, bridge.data.details
    assert details is not None
    if not details.welded:
        first = unstiffened_panel(sheet, web, demand=V_u, location="bearing")
        pour_shear(sheet, demand=pour.effects.shear, buckling=first.buckling, location="bearing")
        return Shear(web, first, None)
    d_1 = sheet.given("d_o1", details.end_panel, "bearing to the first stiffener",
                      source=bridge.data.source_of("end_panel"))  # fmt: skip
    d_2 = sheet.given("d_o2", details.panel, "stiffener spacing elsewhere",
                      source=bridge.data.source_of("panel"))  # fmt: skip
    with sheet.part("End panel"):
        first = end_panel(sheet, web, spacing=d_1, demand=V_u, location="bearing")
        pour_shear(sheet, demand=pour.effects.shear, buckling=first.buckling, location="bearing")
    with sheet.part("First interior panel"):
        V_1 = _shear_at(sheet, bridge, demands, d_1)
        section = whole.geometry.section if not outer else outer[0].section
        flanges = (
            section.top.width * section.top.thickness
            + section.bottom.width * section.bottom.thickness
        )
        second = interior_panel(
            sheet, web, spacing=d_2, flanges=flanges, demand=V_1, location="first stiffener",
            longitudinal=details.longitudinal_distance is not None,
        )  # fmt: skip
        _web_fatigue(sheet, bridge, demands, d_1, second)
    with sheet.part("Transverse stiffeners"):
        stiffener = _stiffener(sheet, bridge, web)
        transverse_stiffener(
            sheet, stiffener, web, spacing=d_1, flange=section.top.width, panels=(first, second),
            location="first stiffener",
        )  # fmt: skip
    return Shear(web, first, second)


def _shear_at(sheet: Sheet, bridge: BridgeNodes, demands: Demands, x: Operand) -> Operand:
    L, use_ = bridge.span, use
    V_HL = sheet.computed(
        "V_HLx", HL93_SHEAR_AT,
        {"span": L, "fraction": x / L, "factor": 1 + use_(sheet, "IM"),
         "uniform": use_(sheet, "w_lane")},
        kip, "HL-93 shear of one lane at the first stiffener", ref="LRFD 3.6.1.3.1",
    )  # fmt: skip
    loads, away = demands.loads, L / 2 - x
    return sheet.step(
        "V_ux",
        use_(sheet, "gamma_DC") * (loads.DC1 + loads.DC2) * away
        + use_(sheet, "gamma_DW") * loads.DW * away
        + use_(sheet, "gamma_LL") * demands.shares.shear * V_HL,
        kip, "factored shear at the first stiffener, Strength I", ref="LRFD Table 3.4.1-1",
    )  # fmt: skip


def _web_fatigue(
    sheet: Sheet, bridge: BridgeNodes, demands: Demands, x: Operand, panel: PanelShear
) -> None:
    details, loads, L = bridge.data.details, demands.loads, bridge.span
    assert details is not None
    V_f = sheet.computed(
        "V_fx", AXLE_SHEAR, {"vehicle": "fatigue truck", "span": L, "section": 1 * x}, kip,
        "fatigue truck at the first stiffener, one lane, no impact", ref="LRFD 3.6.1.4.1",
    )  # fmt: skip
    V_D = sheet.step(
        "V_Dx", (loads.DC1 + loads.DC2 + loads.DW) * (L / 2 - x), kip,
        "permanent shear at the first stiffener, unfactored", ref="statics",
    )  # fmt: skip
    live = demands.shares.fatigue_shear * (1 + use(sheet, "IM_f")) * V_f
    rules = edition_rules(sheet, str(details.edition.value))
    web_fatigue(sheet, rules, permanent=V_D, live=live, buckling=panel.buckling,
                location="first stiffener")  # fmt: skip


def _stiffener(sheet: Sheet, bridge: BridgeNodes, web: PanelWeb) -> StiffenerPlate:
    details, source_of = bridge.data.details, bridge.data.source_of
    assert details is not None
    width = sheet.given("b_t", details.stiffener_width, "projecting width of a stiffener",
                        source=source_of("stiffener_width"))  # fmt: skip
    thick = sheet.given("t_p", details.stiffener_thickness, "thickness of a stiffener",
                        source=source_of("stiffener_thickness"))  # fmt: skip
    return StiffenerPlate(width, thick, web.strength)


def bearing_of_girder(
    sheet: Sheet, bridge: BridgeNodes, steel: Steel, shear: Shear, demands: Demands
) -> None:
    """Check the web of a rolled beam over its bearing, or the bearing stiffeners of a welded one.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    bridge, steel, shear, demands
        Of the girder.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. D6.5, 6.10.11.2; from memory.
    """
    reaction, data = demands.factored.V_u, bridge.data
    if bridge.chosen is not None:
        section = section_properties(sheet, _bare_shape(sheet, bridge, steel))
        web_at_bearing(
            sheet, section, yield_strength=bridge.yield_strength, reaction=reaction,
            length=bridge.bearing_length,
        )  # fmt: skip
        return
    details = data.details
    assert details is not None
    put = sheet.given
    plate = StiffenerPlate(
        put("b_tb", details.bearing_width, "projecting width of a bearing stiffener",
            source=data.source_of("bearing_width")),
        put("t_pb", details.bearing_thickness, "its thickness",
            source=data.source_of("bearing_thickness")),
        shear.web.strength,
        pair=True,
    )  # fmt: skip
    clip = put("c_clip", details.bearing_clip, "corner cut off",
               source=data.source_of("bearing_clip"))  # fmt: skip
    bearing_stiffener(
        sheet, BearingPairs(plate, clip), shear.web, reaction=reaction, location="bearing"
    )


def _bare_shape(sheet: Sheet, bridge: BridgeNodes, steel: Steel) -> TrialShape:
    """Return the rolled shape at the bearing, where a cover plate has ended."""
    if bridge.data.details is None or bridge.data.details.cover_start is None:
        return steel.trial
    table = steel.section.table
    assert table is not None
    return TrialShape(bridge.chosen, steel.trial.weight, table.area, table.depth,
                      steel.section.top.width, table.inertia)  # fmt: skip
