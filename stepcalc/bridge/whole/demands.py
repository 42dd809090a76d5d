"""Loads and effects of one girder: dead load by stage, HL-93, distribution, combinations."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stepcalc.bridge.combinations import GirderEffects, factored_effects
from stepcalc.bridge.constants import use
from stepcalc.bridge.dead_load import dead_load_effects, dead_loads
from stepcalc.bridge.distribution import fatigue_distribution, interior_distribution
from stepcalc.bridge.live_load import axle_deflection, girder_live_load, hl93_lane
from stepcalc.bridge.service import deflection_load
from stepcalc.bridge.whole.exterior_distribution import exterior_distribution
from stepcalc.bridge.whole.skewed import skewed_shares
from stepcalc.expr.functions import maximum
from stepcalc.units import kip

if TYPE_CHECKING:
    from stepcalc.bridge.combinations import FactoredEffects
    from stepcalc.bridge.dead_load import DeadLoadEffects, DeadLoads
    from stepcalc.bridge.givens import BridgeNodes
    from stepcalc.bridge.live_load import GirderLiveLoad, LaneEffects
    from stepcalc.bridge.whole.steel import Steel
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.sheet import Sheet

__all__ = ["Demands", "Shares", "girder_demands"]


@dataclass(frozen=True)
class Shares:
    """Distribution factors of one girder, in lanes."""

    moment: Operand
    shear: Operand
    fatigue_moment: Operand
    fatigue_shear: Operand
    deflection: Operand


@dataclass(frozen=True)
class Demands:
    """Everything that loads one girder.

    Attributes
    ----------
    loads, dead : DeadLoads, DeadLoadEffects
        Weights, and their moments and shears.
    lane, live : LaneEffects, GirderLiveLoad
        Of one lane, and of the girder.
    shares : Shares
        Distribution factors.
    factored : FactoredEffects
        Strength I and Service II.
    deflection : Operand, [force * length**3]
        Live-load deflection times ``E I``.
    live_reaction : Operand, [force]
        ``R_LL`` without impact.
    """

    loads: DeadLoads
    dead: DeadLoadEffects
    lane: LaneEffects
    live: GirderLiveLoad
    shares: Shares
    factored: FactoredEffects
    deflection: Operand
    live_reaction: Operand


def girder_demands(
    sheet: Sheet, bridge: BridgeNodes, steel: Steel, *, exterior: bool, proof: str | None
) -> Demands:
    """Write loads, effects and combinations of one girder.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the parts.
    bridge : BridgeNodes
        The bridge.
    steel : Steel
        The section on trial.
    exterior : bool
        Which girder.
    proof : {"statics", "ordinates"} or None
        What stands below each axle placement.

    Returns
    -------
    Demands
        All groups of nodes.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 3.4 to 3.6, 4.6.2.2; from memory.
    """
    trial = steel.trial
    with sheet.part("Dead load"):
        loads = dead_loads(sheet, bridge, trial, exterior=exterior)
    with sheet.part("Live load of one lane"):
        definition = bridge.data.live_load_maximum
        lane = hl93_lane(sheet, bridge.span, definition=definition, proof=proof)
        truck = axle_deflection(sheet, bridge.span, proof="statics" if proof else None)
    with sheet.part("Dead-load moments and shears"):
        dead = dead_load_effects(sheet, loads, span=bridge.span, section=lane.section)
    with sheet.part("Live-load distribution"):
        shares = _shares(sheet, bridge, steel, loads, exterior)
    with sheet.part("Live load of the girder"):
        live = girder_live_load(sheet, lane, moment_factor=shares.moment, shear_factor=shares.shear)
        reaction = sheet.step(
            "R_LL", shares.shear * (maximum(lane.truck_shear, lane.tandem_shear) + lane.lane_shear),
            kip, "live-load reaction of the girder, without impact", ref="LRFD 4.6.2.2.3",
        )  # fmt: skip
    with sheet.part("Factored effects"):
        effects = GirderEffects(
            dead.M_DC1, dead.M_DC2, dead.M_DW, live.moment,
            dead.V_DC1, dead.V_DC2, dead.V_DW, live.shear,
        )  # fmt: skip
        factored = factored_effects(sheet, effects)
        deflection = deflection_load(sheet, span=bridge.span, truck=truck, share=shares.deflection)
    return Demands(loads, dead, lane, live, shares, factored, deflection, reaction)


def _shares(
    sheet: Sheet, bridge: BridgeNodes, steel: Steel, loads: DeadLoads, exterior: bool
) -> Shares:
    inside = interior_distribution(sheet, bridge, steel.trial, loads.haunch)
    if not exterior:
        g_Mf, g_Vf = fatigue_distribution(sheet, inside)
        square = Shares(inside.moment, inside.shear, g_Mf, g_Vf, inside.deflection)
        return skewed_shares(sheet, bridge, square, inside.stiffness)
    with sheet.part("Exterior girder"):
        outside = exterior_distribution(sheet, bridge, inside)
    square = Shares(
        outside.moment, outside.shear, outside.fatigue, outside.fatigue, inside.deflection
    )
    return skewed_shares(sheet, bridge, square, inside.stiffness)


def impact_factor(sheet: Sheet) -> Operand:
    """Return one plus the dynamic load allowance of truck and tandem.

    Parameters
    ----------
    sheet : Sheet
        The sheet that holds the constant.

    Returns
    -------
    Operand
        ``1 + IM``.
    """
    factor: Operand = 1 + use(sheet, "IM")
    return factor
