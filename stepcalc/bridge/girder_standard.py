"""The interior girder by the Standard Specifications: allowable stress or load factor design."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stepcalc.bridge import older_codes_asd as asd
from stepcalc.bridge import older_codes_lfd as lfd
from stepcalc.bridge.dead_load import dead_load_effects, dead_loads
from stepcalc.bridge.fields import Specification
from stepcalc.bridge.givens import state_bridge
from stepcalc.bridge.live_load import axle_deflection, standard_lane
from stepcalc.bridge.older_codes import hs20_deflection, hs20_on_girder, standard_deflection
from stepcalc.bridge.older_codes_lfd_flexure import strength_flexure_lfd
from stepcalc.bridge.older_groups import (
    GroupLoads,
    allowable_stress_groups,
    load_factor_groups,
)
from stepcalc.bridge.section import section_properties, trial_shape
from stepcalc.bridge.section_figure import draw_cross_section
from stepcalc.bridge.verdict import conclude
from stepcalc.units import kip, kip_ft, klf

if TYPE_CHECKING:
    from collections.abc import Callable

    from stepcalc.bridge.data import BridgeData
    from stepcalc.bridge.dead_load import DeadLoadEffects
    from stepcalc.bridge.givens import BridgeNodes
    from stepcalc.bridge.older_codes import GirderHS20
    from stepcalc.bridge.section import SectionProperties, TrialShape
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.sheet import Sheet


@dataclass(frozen=True)
class _Parts:
    """What both designs have in common."""

    bridge: BridgeNodes
    trial: TrialShape
    dead: DeadLoadEffects
    live: GirderHS20
    deflection: Operand
    M_C: Operand

    @property
    def dead_moments(self) -> tuple[Operand, ...]:
        return (self.dead.M_DC1, self.dead.M_DC2, self.dead.M_DW)

    @property
    def dead_shears(self) -> tuple[Operand, ...]:
        return (self.dead.V_DC1, self.dead.V_DC2, self.dead.V_DW)


def write_allowable_stress(
    sheet: Sheet, data: BridgeData, *, proof: str | None = "statics"
) -> None:
    """Write the whole allowable stress calculation of an interior girder on a sheet.

    Parameters
    ----------
    sheet : Sheet
        An empty sheet.
    data : BridgeData
        The bridge; the same data as for LRFD.
    proof : {"statics", "ordinates"} or None
        What stands below each axle placement.

    Source
    ------
    AASHTO Standard Specifications, 17th ed. (2002); articles beside each step; from memory.
    """
    parts = _loads(sheet, data, proof)
    bridge, F_y = parts.bridge, parts.bridge.yield_strength
    with sheet.part("Total effects, Group I"):
        M_T, V_T = asd.total_effects(
            sheet,
            moments=(*parts.dead_moments, parts.live.moment),
            shears=(*parts.dead_shears, parts.live.shear),
        )
    M_G, V_G = _groups(sheet, parts, allowable_stress_groups, (M_T, V_T))
    section = _section(sheet, parts)
    with sheet.part("Bending stress"):
        between = asd.buckling_allowable(
            sheet,
            section,
            yield_strength=F_y,
            unbraced=bridge.brace_spacing,
            gradient=_gradient(sheet),
        )
        asd.allowable_flexure(
            sheet,
            section,
            yield_strength=F_y,
            between_diaphragms=between,
            moment=M_G,
            top_flange=data.top_flange,
        )
    with sheet.part("Shear stress"):
        asd.allowable_shear(sheet, section, yield_strength=F_y, shear=V_G)
    _deflection(sheet, parts, section)
    with sheet.part("Deck pour"):
        asd.allowable_pour(
            sheet, section, between_diaphragms=between, M_DC1=parts.dead.M_DC1, M_C=parts.M_C
        )
    with sheet.part("Verdict"):
        conclude(sheet, Specification.ASD, rated=data.condition is not None)


def write_load_factor(sheet: Sheet, data: BridgeData, *, proof: str | None = "statics") -> None:
    """Write the whole load factor calculation of an interior girder on a sheet.

    Parameters
    ----------
    sheet : Sheet
        An empty sheet.
    data : BridgeData
        The bridge; the same data as for LRFD.
    proof : {"statics", "ordinates"} or None
        What stands below each axle placement.

    Source
    ------
    AASHTO Standard Specifications, 17th ed. (2002); articles beside each step; from memory.
    """
    parts = _loads(sheet, data, proof)
    bridge, F_y = parts.bridge, parts.bridge.yield_strength
    with sheet.part("Factored effects, Group I"):
        M_u = lfd.group_one(
            sheet,
            dead=parts.dead_moments,
            live=parts.live.moment,
            name="M_u",
            unit=kip_ft,
            what="factored moment, Group I",
        )
        V_u = lfd.group_one(
            sheet,
            dead=parts.dead_shears,
            live=parts.live.shear,
            name="V_u",
            unit=kip,
            what="factored shear, Group I",
        )
    M_G, V_G = _groups(sheet, parts, load_factor_groups, (M_u, V_u))
    with sheet.part("Required section modulus"):
        lfd.required_modulus(sheet, yield_strength=F_y, demand=M_G)
    section = _section(sheet, parts)
    with sheet.part("Flexure"):
        strength = strength_flexure_lfd(
            sheet,
            section,
            yield_strength=F_y,
            unbraced=bridge.brace_spacing,
            gradient=_gradient(sheet),
            demand=M_G,
            top_flange=data.top_flange,
        )
    with sheet.part("Shear"):
        lfd.strength_shear_lfd(sheet, section, yield_strength=F_y, demand=V_G)
    with sheet.part("Overload"):
        lfd.overload(
            sheet,
            section,
            yield_strength=F_y,
            dead=parts.dead_moments,
            live=parts.live.moment,
        )
    _deflection(sheet, parts, section)
    with sheet.part("Deck pour"):
        lfd.pour_lfd(
            sheet,
            section,
            partially=strength.partially_braced,
            M_DC1=parts.dead.M_DC1,
            M_C=parts.M_C,
        )
    with sheet.part("Verdict"):
        conclude(sheet, Specification.LFD, rated=data.condition is not None)


def _loads(sheet: Sheet, data: BridgeData, proof: str | None) -> _Parts:
    with sheet.part("Bridge data"):
        bridge = state_bridge(sheet, data)
    L, S = bridge.span, bridge.spacing
    with sheet.part("Trial shape"):
        trial = trial_shape(sheet, bridge.shape)
        draw_cross_section(sheet, bridge, trial)
    with sheet.part("Dead load"):
        weights = dead_loads(sheet, bridge, trial)
        dead = dead_load_effects(sheet, weights, span=L)
        w_C = sheet.step(
            "w_C",
            bridge.construction_load * S,
            klf,
            "construction live load on one girder",
            ref="tributary width S",
        )
        M_C = sheet.step("M_C", w_C * L**2 / 8, kip_ft, "its moment at midspan", ref="statics")
    with sheet.part("Live load, HS20"):
        lane = standard_lane(sheet, L, proof=proof)
        live = hs20_on_girder(sheet, lane, span=L, spacing=S, lanes=bridge.lanes)
        truck = axle_deflection(sheet, L, name="HS20", proof="statics" if proof else None)
        deflection = hs20_deflection(
            sheet,
            span=L,
            truck=truck,
            lanes=bridge.lanes,
            girders=bridge.girders,
            impact=live.impact,
        )
    return _Parts(bridge, trial, dead, live, deflection, M_C)


def _groups(
    sheet: Sheet, parts: _Parts, write: Callable[..., Operand], first: tuple[Operand, Operand]
) -> tuple[Operand, Operand]:
    """Write moment and shear in every group of loads, as tables; return the greatest."""
    found = []
    for name, unit, dead, live, one, words in (
        ("M", kip_ft, parts.dead_moments, parts.live.moment, first[0], "Moment in every group"),
        ("V", kip, parts.dead_shears, parts.live.shear, first[1], "Shear in every group"),
    ):
        with sheet.part(words, tables_only=True):
            loads = GroupLoads(sum(dead[1:], dead[0]), live)
            found.append(write(sheet, loads, name=name, unit=unit, first=one))
    return found[0], found[1]


def _section(sheet: Sheet, parts: _Parts) -> SectionProperties:
    with sheet.part("Section properties"):
        return section_properties(sheet, parts.trial, standard=True)


def _gradient(sheet: Sheet) -> Operand:
    gradient: Operand = sheet.given(
        "C_b",
        1.0,
        "moment gradient modifier",
        assumed="uniform moment between the diaphragms next to midspan, on the safe side",
    )
    return gradient


def _deflection(sheet: Sheet, parts: _Parts, section: SectionProperties) -> None:
    with sheet.part("Deflection and depth"):
        standard_deflection(
            sheet,
            span=parts.bridge.span,
            load=parts.deflection,
            inertia=section.inertia,
            depth=section.depth,
        )
