"""What loads one composite girder of a simple span by the Standard Specifications: HS20."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stepcalc.bridge.constants import use
from stepcalc.bridge.dead_load import dead_load_effects, dead_loads
from stepcalc.bridge.lanes.wheel_lines import exterior_wheel_lines
from stepcalc.bridge.live_load import axle_deflection, standard_lane
from stepcalc.bridge.moving_loads import AXLE_SHEAR
from stepcalc.bridge.older_codes import GirderHS20, hs20_deflection, hs20_on_girder
from stepcalc.bridge.whole.section_effects import AXLE_MOMENT_AT
from stepcalc.expr.functions import maximum, minimum
from stepcalc.units import ft, kip, kip_ft, klf

if TYPE_CHECKING:
    from stepcalc.bridge.dead_load import DeadLoadEffects, DeadLoads
    from stepcalc.bridge.givens import BridgeNodes
    from stepcalc.bridge.older_codes import HS20Lane
    from stepcalc.bridge.whole.steel import Steel
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.sheet import Sheet

__all__ = ["StandardDemands", "hs20_at", "standard_demands"]


@dataclass(frozen=True)
class StandardDemands:
    """Everything that loads one girder by the Standard Specifications.

    Attributes
    ----------
    loads, dead : DeadLoads, DeadLoadEffects
        Weights, and their moments and shears.
    lane : HS20Lane
        Truck effects of one lane; the lane load stands in the steps ``M_ln`` and ``V_ln``.
    live : GirderHS20
        Moment and shear of the girder with impact.
    deflection : Operand, [force * length**3]
        Live-load deflection times ``E I``.
    pour_moment, pour_shear : Operand
        Construction live load.
    """

    loads: DeadLoads
    dead: DeadLoadEffects
    lane: HS20Lane
    live: GirderHS20
    deflection: Operand
    pour_moment: Operand
    pour_shear: Operand


def standard_demands(
    sheet: Sheet, bridge: BridgeNodes, steel: Steel, *, exterior: bool, proof: str | None
) -> StandardDemands:
    """Write weights, HS20 effects and distribution of one girder.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the parts.
    bridge, steel
        The bridge, and the steel on trial.
    exterior : bool
        Which girder.
    proof : {"statics", "ordinates"} or None
        What stands below each axle placement.

    Returns
    -------
    StandardDemands

    Source
    ------
    AASHTO Standard Specifications, 17th ed. (2002), Art. 3.7, 3.8, 3.23; from memory.
    """
    L, step = bridge.span, sheet.step
    with sheet.part("Dead load"):
        loads = dead_loads(sheet, bridge, steel.trial, exterior=exterior)
        dead = dead_load_effects(sheet, loads, span=L)
        width: Operand = bridge.spacing
        if exterior:
            width = bridge.spacing / 2 + bridge.overhang
        w_C = step("w_C", bridge.construction_load * width, klf,
                   "construction live load on one girder", ref="tributary width")  # fmt: skip
        M_C = step("M_C", w_C * L**2 / 8, kip_ft, "its moment at midspan", ref="statics")
        V_C = step("V_C", w_C * L / 2, kip, "its end shear", ref="statics")
    with sheet.part("Live load, HS20"):
        lane = standard_lane(sheet, L, proof=proof)
        live = hs20_on_girder(sheet, lane, span=L, spacing=bridge.spacing, lanes=bridge.lanes)
        if exterior:
            with sheet.part("Exterior girder"):
                live = _exterior(sheet, bridge, lane, live, proof)
        truck = axle_deflection(sheet, L, name="HS20", proof="statics" if proof else None)
        deflection = hs20_deflection(
            sheet, span=L, truck=truck, lanes=bridge.lanes, girders=bridge.girders,
            impact=live.impact,
        )  # fmt: skip
    return StandardDemands(loads, dead, lane, live, deflection, M_C, V_C)


def _exterior(
    sheet: Sheet, bridge: BridgeNodes, lane: HS20Lane, inner: GirderHS20, proof: str | None
) -> GirderHS20:
    curb = sheet.step("d_e", bridge.overhang - bridge.barrier_width, ft,
                      "exterior girder to the face of the barrier", ref="geometry")  # fmt: skip
    lines = exterior_wheel_lines(
        sheet, spacing=bridge.spacing, curb=curb, girders=bridge.girders, lanes=bridge.lanes,
        proof="wheels" if proof else None,
    )  # fmt: skip
    half, at = (1 + inner.impact) / 2, "Live load, HS20"
    moment = sheet.step("M_LLe", sheet[f"{at}/M_HS"] * lines * half, kip_ft,
                        "live-load moment of the exterior girder, with impact",
                        ref="Std 3.23.2.3")  # fmt: skip
    shear = sheet.step(
        "V_LLe", maximum(lane.truck_shear, sheet[f"{at}/V_ln"]) * lines * half, kip,
        "live-load shear of the exterior girder, with impact; all wheels by the same factor",
        ref="Std 3.23.2.3",
    )  # fmt: skip
    return GirderHS20(inner.impact, lines, moment, shear)


def hs20_at(
    sheet: Sheet, bridge: BridgeNodes, live: GirderHS20, x: Operand, *, name: str, words: str
) -> tuple[Operand, Operand]:
    """Write HS20 moment and shear of the girder at a section, with impact.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    bridge : BridgeNodes
        Span.
    live : GirderHS20
        Wheel lines and impact.
    x : Operand, [length]
        Distance from the nearer bearing.
    name, words : str
        End of the names of the steps, and where they are.

    Returns
    -------
    tuple of Operand
        Greatest moment and greatest shear there; they need not occur together.

    Source
    ------
    AASHTO Standard Specifications, 17th ed. (2002), Art. 3.7, 3.8.2, 3.23; from memory.
    """
    L, share = bridge.span, live.wheel_lines / 2 * (1 + live.impact)
    M_t = sheet.computed(
        f"M_t{name}", AXLE_MOMENT_AT, {"vehicle": "HS20", "span": L, "fraction": x / L}, kip_ft,
        f"HS20 truck {words}, one lane, no impact", ref="Std 3.7.6",
    )  # fmt: skip
    V_t = sheet.computed(
        f"V_t{name}", AXLE_SHEAR, {"vehicle": "HS20", "span": L, "section": 1 * x}, kip,
        f"HS20 truck {words}, one lane, no impact", ref="Std 3.7.6",
    )  # fmt: skip
    w = use(sheet, "w_HS")
    near = minimum(x, L - x)
    M_n = w * x * (L - x) / 2 + use(sheet, "P_HSM") * x * (L - x) / L
    V_n = w * (L - near) ** 2 / (2 * L) + use(sheet, "P_HSV") * (L - near) / L
    M = sheet.step(f"M_L{name}", maximum(M_t, M_n) * share, kip_ft,
                   f"live-load moment of the girder {words}", ref="Std 3.7.1.1")  # fmt: skip
    V = sheet.step(f"V_L{name}", maximum(V_t, V_n) * share, kip,
                   f"live-load shear of the girder {words}", ref="Std 3.7.1.1")  # fmt: skip
    return M, V
