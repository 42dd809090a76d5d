"""The deck pour on the bare steel of a girder over two spans, one section at a time (6.10.3)."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from stepcalc.bridge.composite.flange_buckling import flange_buckling
from stepcalc.bridge.composite.sides import flange_sides
from stepcalc.bridge.composite.stages import compressed_web_by_axis
from stepcalc.bridge.composite.web import bend_buckling, hybrid_factor, web_in_flexure
from stepcalc.bridge.constants import use
from stepcalc.bridge.details.pour_stages import PourFlanges, pour_checks
from stepcalc.expr.functions import maximum
from stepcalc.expr.tree import as_operand
from stepcalc.units import kip_ft, klf, ksi

if TYPE_CHECKING:
    from stepcalc.bridge.composite.elastic import Elastic
    from stepcalc.bridge.composite.geometry import Geometry
    from stepcalc.bridge.givens import BridgeNodes
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.sheet import Sheet

__all__ = ["pour_at_section"]


def pour_at_section(
    sheet: Sheet, bridge: BridgeNodes, geometry: Geometry, steel: Elastic, *,
    moment: Operand, weight: Operand, unbraced: Operand, positive: bool, exterior: bool,
    location: str,
) -> None:  # fmt: skip
    r"""Check one section of bare steel while the deck of both spans is wet.

    .. math:: M_C = M_{DC1} \frac{w_C}{w_{DC1}}, \qquad
        M_{cu} = \max(1.25 M_{DC1} + 1.5 M_C,\; 1.4 (M_{DC1} + M_C))

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    bridge : BridgeNodes
        The bridge.
    geometry, steel
        Of the section; the slab is not looked at.
    moment : Operand, [force * length]
        ``M_DC1`` as a positive number.
    weight : Operand, [force / length]
        ``w_DC1``.
    unbraced : Operand, [length]
        Of the compression flange.
    positive : bool
        Whether the top flange is compressed.
    exterior : bool
        Which girder; its brackets are not looked at here, which the scope says.
    location : str
        Where along the girder.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 3.4.2.1, 6.10.3.2; from memory.
    """
    step = sheet.step
    width: Operand = bridge.spacing
    if exterior:
        width = bridge.spacing / 2 + bridge.overhang
    w_C = step("w_C", bridge.construction_load * width, klf,
               "construction live load on one girder", ref="tributary width")  # fmt: skip
    M_C = step("M_C", moment * w_C / weight, kip_ft, "its moment, uniform as DC1", ref="statics")
    g_D, g_C, g_2 = use(sheet, "gamma_cD"), use(sheet, "gamma_cC"), use(sheet, "gamma_c2")
    M_cu = step(
        "M_cu", maximum(g_D * moment + g_C * M_C, g_2 * (moment + M_C)), kip_ft,
        "greatest factored moment of the pour", ref="LRFD 3.4.2.1",
    )  # fmt: skip
    C_b = sheet.given("C_b", 1.0, "moment gradient modifier", assumed="on the safe side")
    sides = flange_sides(sheet, geometry, positive=positive)
    depth = compressed_web_by_axis(sheet, geometry, steel, positive=positive)
    hybrid = hybrid_factor(sheet, geometry, steel)
    web = web_in_flexure(sheet, geometry, sides, depth=depth, hybrid=hybrid)
    web = replace(web, shedding=as_operand(1.0))
    buckling = flange_buckling(sheet, geometry, sides, web, unbraced=unbraced, gradient=C_b)
    F_crw = bend_buckling(sheet, geometry, sides, depth=depth, hybrid=hybrid)
    push, pull = (steel.S_top, steel.S_bottom) if positive else (steel.S_bottom, steel.S_top)
    f_c = step("f_buc", M_cu / push, ksi, "compression flange in the pour", ref="M/S")
    f_t = step("f_but", M_cu / pull, ksi, "tension flange in the pour", ref="M/S")
    f_l = sheet.given(
        "f_l", 0 * ksi, "lateral bending stress of the flanges",
        assumed="overhang brackets are not looked at in continuous girders"
        if exterior else "interior girder, no skew: brackets load the exterior girder",
    )  # fmt: skip
    pour_checks(
        sheet,
        PourFlanges(
            f_c, f_t, f_l, f_l, buckling.resistance, F_crw, sides.compression.strength,
            sides.tension.strength, hybrid,
        ),
        location=location,
    )  # fmt: skip
