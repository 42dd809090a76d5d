"""Checks of a composite girder by the Standard Specifications: flexure, shear, fatigue, studs."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from stepcalc.bridge.composite.plastic import plastic_positive
from stepcalc.bridge.composite.sides import flange_sides
from stepcalc.bridge.composite.stages import stage_moments, stage_sections, staged_stresses
from stepcalc.bridge.composite.standard import (
    composite_allowable_stress,
    composite_load_factor,
    composite_overload,
)
from stepcalc.bridge.composite.standard_steel import (
    allowable_between_braces,
    bend_buckling_lfd,
    strength_braced,
)
from stepcalc.bridge.composite.yielding import yield_moment
from stepcalc.bridge.constants import use
from stepcalc.bridge.details.bearing_stiffeners import BearingPairs
from stepcalc.bridge.details.older_shear_panels import (
    OlderPanel,
    asd_interaction,
    asd_panel,
    lfd_interaction,
    lfd_panel,
)
from stepcalc.bridge.details.older_stiffeners import (
    older_bearing_stiffener,
    older_transverse_stiffener,
)
from stepcalc.bridge.details.shear_panels import PanelWeb
from stepcalc.bridge.details.transverse_stiffeners import StiffenerPlate
from stepcalc.bridge.whole.standard_demands import hs20_at
from stepcalc.units import kip, kip_ft, ksi

if TYPE_CHECKING:
    from stepcalc.bridge.composite.stages import StagedStresses, StageMoments
    from stepcalc.bridge.givens import BridgeNodes
    from stepcalc.bridge.whole.composite_section import Composite
    from stepcalc.bridge.whole.standard_demands import StandardDemands
    from stepcalc.bridge.whole.steel import Steel
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.sheet import Sheet

__all__ = ["Method", "bearing_by", "flexure_by", "pour_by", "shear_by"]


@dataclass(frozen=True)
class Method:
    """Allowable stress or load factor design, for one girder.

    Attributes
    ----------
    allowable : bool
        Allowable stress design; otherwise load factor design.
    """

    allowable: bool

    @property
    def code(self) -> str:
        """``"ASD"`` or ``"LFD"``."""
        return "ASD" if self.allowable else "LFD"

    @property
    def state(self) -> str:
        """Name of the combination whose moments are staged."""
        return "Working loads" if self.allowable else "Group I"

    def factored(self, sheet: Sheet, dead: Operand, live: Operand) -> Operand:
        """Return dead and live load effect together, factored where the method does.

        Parameters
        ----------
        sheet : Sheet
            The sheet that holds the factors.
        dead, live : Operand
            Effects.

        Returns
        -------
        Operand
        """
        if self.allowable:
            return dead + live
        gamma, beta = use(sheet, "gamma_LFD"), use(sheet, "beta_LFD")
        return gamma * (dead + beta * live)  # type: ignore[no-any-return]  # an operand


def flexure_by(
    sheet: Sheet, method: Method, composite: Composite, demands: StandardDemands
) -> Operand | None:
    """Write flexure at midspan, and overload where the method knows it.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the parts.
    method, composite, demands
        Of the girder.

    Returns
    -------
    Operand or None
        Moment strength by load factor design; None for allowable stress.

    Source
    ------
    AASHTO Standard Specifications, 17th ed. (2002), Art. 10.32.1, 10.38.4, 10.50, 10.57; from
    memory.
    """
    geometry = composite.geometry
    sections = stage_sections(composite.elastic, positive=True)

    def staged(state: str) -> tuple[StageMoments, StagedStresses]:
        dead = demands.dead
        moments = stage_moments(sheet, dead.M_DC1, DC2=dead.M_DC2, DW=dead.M_DW,
                                LL=demands.live.moment, state=state)  # fmt: skip
        return moments, staged_stresses(sheet, sections, moments, positive=True)

    with sheet.part(f"Flexure, {method.state}"):
        sides = flange_sides(sheet, geometry, positive=True)
        moments, stresses = staged(method.state)
        if method.allowable:
            composite_allowable_stress(sheet, geometry, sides, stresses=stresses,
                                       location="midspan")  # fmt: skip
            return None
        plastic = plastic_positive(sheet, geometry)
        yielding = yield_moment(sheet, geometry, sides, sections, moments)
        strength = composite_load_factor(
            sheet, geometry, sides, plastic=plastic, yielding=yielding, stresses=stresses,
            demand=moments.total, continuous=False, location="midspan",
        )  # fmt: skip
    with sheet.part("Overload"):
        _, stresses = staged("Overload")
        composite_overload(sheet, sides, stresses=stresses, location="midspan")
    return strength.nominal


def pour_by(
    sheet: Sheet, method: Method, bridge: BridgeNodes, steel: Steel, demands: StandardDemands
) -> None:
    """Check the bare steel while the whole deck is wet.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    method, bridge, steel, demands
        Of the girder.

    Source
    ------
    AASHTO Standard Specifications, 17th ed. (2002), Table 10.32.1A, Art. 10.61; from memory.
    """
    C_b = sheet.given("C_b", 1.0, "moment gradient modifier",
                      assumed="uniform moment between the braces next to midspan, on the safe "
                      "side")  # fmt: skip
    sides = flange_sides(sheet, steel.geometry, positive=True)
    M = demands.dead.M_DC1 + demands.pour_moment
    if method.allowable:
        F_b = allowable_between_braces(
            sheet, steel.geometry, sides, steel.elastic, unbraced=bridge.brace_spacing, gradient=C_b
        )
        f_t = sheet.step("f_tp", M / steel.elastic.S_top, ksi, "top flange in the pour",
                         ref="M/S, steel section")  # fmt: skip
        f_b = sheet.step("f_bp", M / steel.elastic.S_bottom, ksi, "bottom flange in the pour",
                         ref="M/S, steel section")  # fmt: skip
        sheet.check("Top flange, pour", f_t <= F_b, ref="Std Table 10.32.1A", location="midspan")
        sheet.check("Bottom flange, pour", f_b <= use(sheet, "c_Fb") * sides.tension.strength,
                    ref="Std Table 10.32.1A", location="midspan")  # fmt: skip
        return
    strength = strength_braced(
        sheet, steel.geometry, sides, steel.elastic, unbraced=bridge.brace_spacing, gradient=C_b
    )
    M_p = sheet.step("M_pour", use(sheet, "gamma_LFD") * M, kip_ft, "factored moment in the pour",
                     ref="Std 10.61")  # fmt: skip
    sheet.check("Top flange, pour", M_p <= strength, ref="Std 10.61, 10.48.4", location="midspan")
    f_b = sheet.step("f_bp", M_p / steel.elastic.S_bottom, ksi, "bottom flange in the pour",
                     ref="M/S, steel section")  # fmt: skip
    sheet.check("Bottom flange, pour", f_b <= sides.tension.strength, ref="Std 10.61",
                location="midspan")  # fmt: skip
    F_crw = bend_buckling_lfd(sheet, steel.geometry, sheet["D_cb"])
    f_t = sheet.step("f_tp", M_p / steel.elastic.S_top, ksi, "top flange in the pour",
                     ref="M/S, steel section")  # fmt: skip
    sheet.check("Web bend-buckling, pour", f_t <= F_crw, ref="Std 10.61.1", location="midspan")


def shear_by(
    sheet: Sheet, method: Method, bridge: BridgeNodes, composite: Composite,
    demands: StandardDemands, strength: Operand | None,
) -> None:  # fmt: skip
    """Write the shear of the web at the bearing and, where it is stiffened, of the next panel.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    method, bridge, composite, demands
        Of the girder.
    strength : Operand or None, [force * length]
        Moment strength beside the shear, load factor design.

    Source
    ------
    AASHTO Standard Specifications, 17th ed. (2002), Art. 10.33.2, 10.34.4, 10.48.8; from memory.
    """
    plate, details = composite.geometry.section.web, bridge.data.details
    assert details is not None
    web, dead = PanelWeb(plate.width, plate.thickness, plate.strength), demands.dead
    V_D = dead.V_DC1 + dead.V_DC2 + dead.V_DW
    V = sheet.step("V_T", method.factored(sheet, V_D, demands.live.shear), kip,
                   f"end shear, {method.state}", ref="Std 3.22")  # fmt: skip
    panel = asd_panel if method.allowable else lfd_panel
    if not details.welded:
        found = panel(sheet, web, spacing=None, shear=V, interior=False, location="bearing")
        share = found.demand / found.capacity
        sheet.check("Web without bearing stiffeners", share <= use(sheet, "c_brg"),
                    ref="Std 10.33.2", location="bearing")  # fmt: skip
        return
    put, source = sheet.given, bridge.data.source_of
    d_1 = put("d_o1", details.end_panel, "bearing to the first stiffener",
              source=source("end_panel"))  # fmt: skip
    d_2 = put("d_o2", details.panel, "stiffener spacing elsewhere", source=source("panel"))
    with sheet.part("End panel"):
        first = panel(sheet, web, spacing=d_1, shear=V, interior=False, location="bearing")
    with sheet.part("First interior panel"):
        second = _interior(sheet, method, bridge, web, demands, panel, (d_1, d_2), strength,
                           composite)  # fmt: skip
    with sheet.part("Transverse stiffeners"):
        stiffener = StiffenerPlate(
            put("b_t", details.stiffener_width, "projecting width of a stiffener",
                source=source("stiffener_width")),
            put("t_p", details.stiffener_thickness, "thickness of a stiffener",
                source=source("stiffener_thickness")),
            web.strength,
        )  # fmt: skip
        worse = second if method.allowable else first
        older_transverse_stiffener(
            sheet, stiffener, web, spacing=d_1, flange=composite.geometry.section.top.width,
            panel=worse, location="first stiffener",
        )  # fmt: skip


def _interior(
    sheet: Sheet, method: Method, bridge: BridgeNodes, web: PanelWeb, demands: StandardDemands,
    panel: Any, spaces: tuple[Operand, Operand], strength: Operand | None, composite: Composite,
) -> OlderPanel:  # fmt: skip
    d_1, d_2 = spaces
    L, loads = bridge.span, demands.loads
    w = loads.DC1 + loads.DC2 + loads.DW
    _, V_L = hs20_at(sheet, bridge, demands.live, d_1, name="x", words="at the first stiffener")
    V = sheet.step("V_x", method.factored(sheet, w * (L / 2 - d_1), V_L), kip,
                   "shear at the first stiffener", ref="Std 3.22")  # fmt: skip
    found: OlderPanel = panel(sheet, web, spacing=d_2, shear=V, interior=True,
                              location="first interior panel")  # fmt: skip
    end = sheet.step("x_e", d_1 + d_2, None, "far end of the panel", ref="geometry")
    M_L, _ = hs20_at(sheet, bridge, demands.live, end, name="e", words="at the end of the panel")
    sheet.note(
        "The moment at the far end of the panel is taken with the shear at its near end: they do "
        "not occur together, which is on the safe side."
    )
    n = composite.elastic.short_term
    assert n is not None
    if strength is None:
        steel, late = composite.elastic.steel, composite.elastic.long_term
        assert late is not None
        at = end * (L - end) / 2
        f = sheet.step(
            "f_e", loads.DC1 * at / steel.S_bottom + (loads.DC2 + loads.DW) * at / late.S_bottom
            + M_L / n.S_bottom, ksi, "bottom flange there", ref="M/S, each stage on its section",
        )  # fmt: skip
        bottom = composite.geometry.section.bottom.strength
        asd_interaction(sheet, found, bending=f, yield_strength=bottom,
                        location="first interior panel")  # fmt: skip
        return found
    M = sheet.step("M_e", method.factored(sheet, w * end * (L - end) / 2, M_L), kip_ft,
                   "moment there", ref="Std 3.22")  # fmt: skip
    lfd_interaction(sheet, found, moment=M, strength=strength, location="first interior panel")
    return found


def bearing_by(sheet: Sheet, method: Method, bridge: BridgeNodes, composite: Composite) -> None:
    """Check the bearing stiffeners of a welded girder.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps; the end shear ``V_T`` stands there.
    method, bridge, composite
        Of the girder.

    Source
    ------
    AASHTO Standard Specifications, 17th ed. (2002), Art. 10.34.6, 10.48.7; from memory.
    """
    details, source = bridge.data.details, bridge.data.source_of
    assert details is not None
    plate, put = composite.geometry.section.web, sheet.given
    stiffener = StiffenerPlate(
        put("b_tb", details.bearing_width, "projecting width of a bearing stiffener",
            source=source("bearing_width")),
        put("t_pb", details.bearing_thickness, "its thickness", source=source("bearing_thickness")),
        plate.strength, pair=True,
    )  # fmt: skip
    clip = put("c_clip", details.bearing_clip, "corner cut off", source=source("bearing_clip"))
    web = PanelWeb(plate.width, plate.thickness, plate.strength)
    older_bearing_stiffener(
        sheet, BearingPairs(stiffener, clip), web, reaction=sheet["V_T"],
        code=method.code, location="bearing",
    )  # fmt: skip
