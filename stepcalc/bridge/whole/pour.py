"""The deck pour on the bare steel of one girder, rolled or welded (6.10.3)."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from stepcalc.bridge.composite.flange_buckling import flange_buckling
from stepcalc.bridge.composite.lateral_bending import second_order_lateral
from stepcalc.bridge.composite.sides import flange_sides
from stepcalc.bridge.composite.stages import compressed_web_by_axis
from stepcalc.bridge.composite.web import bend_buckling, hybrid_factor, web_in_flexure
from stepcalc.bridge.construction import pour_effects
from stepcalc.bridge.details.overhang_bracket import BracketLoads, lateral_bending_by_brackets
from stepcalc.bridge.details.pour_stages import PourFlanges, pour_checks
from stepcalc.expr.functions import minimum
from stepcalc.expr.tree import as_operand
from stepcalc.units import ft, klf, ksi

if TYPE_CHECKING:
    from stepcalc.bridge.composite.elastic import Elastic
    from stepcalc.bridge.composite.geometry import Geometry
    from stepcalc.bridge.composite.sides import Sides
    from stepcalc.bridge.construction import PourEffects
    from stepcalc.bridge.givens import BridgeNodes
    from stepcalc.bridge.whole.demands import Demands
    from stepcalc.bridge.whole.steel import Steel
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.sheet import Sheet

__all__ = [
    "Pour", "bare_steel_checks", "brace_points", "brackets_on_girder", "deck_pour",
    "stiffener_distance",
]  # fmt: skip


@dataclass(frozen=True)
class Pour:
    """The pour: factored effects, buckling resistance, gradient modifier."""

    effects: PourEffects
    resistance: Operand
    gradient: Operand


def deck_pour(
    sheet: Sheet, bridge: BridgeNodes, steel: Steel, demands: Demands, *, exterior: bool
) -> Pour:
    """Check the bare steel girder while the whole deck is wet.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    bridge : BridgeNodes
        The bridge.
    steel : Steel
        The bare section.
    demands : Demands
        Dead load of the stage.
    exterior : bool
        Which girder; overhang brackets push the exterior one sideways.

    Returns
    -------
    Pour
        Factored effects and the buckling resistance.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 3.4.2.1, 6.10.3.2; from memory.
    """
    given = sheet.given
    width: Operand = bridge.spacing
    if exterior:
        width = bridge.spacing / 2 + bridge.overhang
    effects = pour_effects(
        sheet, span=bridge.span, width=width, construction_load=bridge.construction_load,
        M_DC1=bridge.span**2 * demands.loads.DC1 / 8, V_DC1=demands.dead.V_DC1,
    )  # fmt: skip
    C_b = given(
        "C_b", 1.0, "moment gradient modifier",
        assumed="uniform moment between the braces next to midspan, on the safe side",
    )  # fmt: skip
    resistance = bare_steel_checks(
        sheet, bridge, steel.geometry, steel.elastic, moment=effects.moment, gradient=C_b,
        exterior=exterior, location="midspan",
    )  # fmt: skip
    return Pour(effects, resistance, C_b)


def bare_steel_checks(
    sheet: Sheet,
    bridge: BridgeNodes,
    geometry: Geometry,
    elastic: Elastic,
    *,
    moment: Operand,
    gradient: Operand,
    exterior: bool,
    location: str,
) -> Operand:
    """Check flanges and web of a bare steel section in the pour.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    bridge : BridgeNodes
        Brace spacing, brackets and longitudinal stiffener.
    geometry, elastic : Geometry, Elastic
        The bare steel.
    moment : Operand, [force * length]
        Factored moment of the pour there.
    gradient : Operand
        ``C_b``.
    exterior : bool
        Which girder; overhang brackets push the exterior one sideways.
    location : str
        Where along the girder.

    Returns
    -------
    Operand, [stress]
        Buckling resistance of the compression flange.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 6.10.3.2; from memory.
    """
    step = sheet.step
    sides = flange_sides(sheet, geometry, positive=True)
    depth = compressed_web_by_axis(sheet, geometry, elastic, positive=True)
    hybrid = hybrid_factor(sheet, geometry, elastic)
    web = web_in_flexure(sheet, geometry, sides, depth=depth, hybrid=hybrid)
    sheet.note("In the pour the load-shedding factor R_b is 1.0 (LRFD 6.10.1.10.2).")
    web = replace(web, shedding=as_operand(1.0))
    buckling = flange_buckling(
        sheet, geometry, sides, web, unbraced=bridge.brace_spacing, gradient=gradient
    )
    F_crw = bend_buckling(sheet, geometry, sides, depth=depth, hybrid=hybrid,
                          along=stiffener_distance(sheet, bridge))  # fmt: skip
    f_c = step("f_buc", moment / elastic.S_top, ksi, "top flange in the pour",
               ref="M/S, steel section")  # fmt: skip
    f_t = step("f_but", moment / elastic.S_bottom, ksi, "bottom flange in the pour",
               ref="M/S, steel section")  # fmt: skip
    details = bridge.data.details
    if exterior and details is not None and details.brackets:
        first = brackets_on_girder(sheet, bridge, sides)
        f_l = second_order_lateral(
            sheet, sides, web, buckling, first_order=first, vertical=f_c, location=location
        ).stress
    else:
        why = (
            "no overhang brackets in the data: their lateral bending is taken as 0 here"
            if exterior
            else "interior girder: overhang brackets load the exterior girder"
        )
        f_l = sheet.given("f_l", 0 * ksi, "lateral bending stress of the flanges", assumed=why)
    pour_checks(
        sheet,
        PourFlanges(
            f_c, f_t, f_l, f_l, buckling.resistance, F_crw,
            sides.compression.strength, sides.tension.strength, hybrid,
        ),
        location=location,
    )  # fmt: skip
    return buckling.resistance


def stiffener_distance(sheet: Sheet, bridge: BridgeNodes) -> Operand | None:
    """Return the distance of the longitudinal stiffener from the top flange, if there is one.

    Parameters
    ----------
    sheet : Sheet
        The sheet, which receives the given the first time.
    bridge : BridgeNodes
        The bridge.

    Returns
    -------
    Operand or None
        ``d_s``, [length].
    """
    details = bridge.data.details
    if details is None or details.longitudinal_distance is None:
        return None
    if "d_s" in sheet:
        known: Operand = sheet["d_s"]
        return known
    given: Operand = sheet.given(
        "d_s", details.longitudinal_distance,
        "inner face of the top flange to the longitudinal stiffener",
        source=bridge.data.source_of("longitudinal_distance"),
    )  # fmt: skip
    return given


def brackets_on_girder(sheet: Sheet, bridge: BridgeNodes, sides: Sides) -> Operand:
    """Write the first-order lateral stress of the compressed flange by the overhang brackets.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives givens and steps.
    bridge : BridgeNodes
        With its details; the brace spacing is the unbraced length.
    sides : Sides
        Which flange is compressed.

    Returns
    -------
    Operand, [stress]

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), C6.10.3.4; from memory.
    """
    details, data = bridge.data.details, bridge.data
    assert details is not None

    def put(name: str, key: str, words: str) -> Operand:
        node: Operand = sheet.given(name, getattr(details, key), words, source=data.source_of(key))
        return node

    reach = put("l_br", "bracket_reach", "horizontal reach of a bracket")
    drop = put("h_br", "bracket_drop", "height over which it braces")
    load = put("w_br", "bracket_load", "forms, walkway and live load on the brackets")
    machine = put("P_br", "machine_load", "finishing machine on one overhang")
    wet = sheet.step(
        "w_ov",
        bridge.deck * bridge.concrete_weight * (bridge.overhang - sides.compression.width / 2),
        klf, "wet deck of the overhang, beyond the flange", ref="geometry",
    )  # fmt: skip
    sheet.note(
        "The brackets push the bottom flange the other way; the same lateral stress is taken for "
        "it, on the safe side where it is no narrower than the top flange."
    )
    return lateral_bending_by_brackets(
        sheet, BracketLoads(wet, load, machine), reach=reach, drop=drop,
        unbraced=bridge.brace_spacing, width=sides.compression.width,
        thickness=sides.compression.thickness,
    )  # fmt: skip


def brace_points(sheet: Sheet, bridge: BridgeNodes, steel: Steel, pour: Pour) -> None:
    r"""List the brace points with unbraced length, gradient modifier and stress in the pour.

    .. math:: f(x) = \frac{4 x (L - x)}{L^2} \frac{M_{cu}}{S}

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives a part for each brace point.
    bridge : BridgeNodes
        Span and spacing of the braces; as many as there are when the sheet is written.
    steel : Steel
        The bare section.
    pour : Pour
        Moment of the pour.

    Source
    ------
    Statics: uniform load on a simple beam. No clause.
    """
    span = float(bridge.span.value.to(ft).magnitude)  # type: ignore[attr-defined]  # a given
    spacing = float(bridge.brace_spacing.value.to(ft).magnitude)  # type: ignore[attr-defined]
    count = max(1, round(span / spacing + 0.499_999))
    for number in range(count + 1):
        with sheet.part(f"Brace point {number}"):
            k = sheet.given("k", number, "spaces from the bearing", source="framing plan")
            at = minimum(k * bridge.brace_spacing, bridge.span)
            x = sheet.step("x", at, ft, "from the bearing", ref="framing plan")
            sheet.step("l_b", minimum(bridge.brace_spacing, bridge.span - x), ft,
                       "unbraced length to the next brace point", ref="framing plan")  # fmt: skip
            sheet.step(
                "C_b", pour.gradient, None, "moment gradient modifier", ref="as stated above"
            )
            sheet.step(
                "f",
                4 * x * (bridge.span - x) / bridge.span**2
                * pour.effects.moment / steel.elastic.S_top,
                ksi, "top flange in the pour, factored", ref="uniform load",
            )  # fmt: skip
