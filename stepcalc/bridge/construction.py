"""The deck pour: the bare steel beam under wet concrete and construction load (Art. 6.10.3)."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stepcalc.bridge.constants import use
from stepcalc.expr.functions import maximum, minimum
from stepcalc.units import kip, kip_ft, klf, ksi

if TYPE_CHECKING:
    from stepcalc.bridge.flexure import Buckling
    from stepcalc.bridge.section import SectionProperties
    from stepcalc.bridge.shear import ShearStrength
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.nodes import Check
    from stepcalc.sheet.sheet import Sheet


@dataclass(frozen=True)
class PourEffects:
    """Factored effects of the deck pour, the larger of the two combinations."""

    moment: Operand
    shear: Operand


def pour_effects(
    sheet: Sheet,
    *,
    span: Operand,
    width: Operand,
    construction_load: Operand,
    M_DC1: Operand,
    V_DC1: Operand,
) -> PourEffects:
    r"""Write moment and shear of both construction combinations.

    .. math:: M_{c1} = 1.25 M_{DC1} + 1.5 M_C, \qquad M_{c2} = 1.4 (M_{DC1} + M_C)

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    span, width : Operand, [length]
        Span, and the width of deck poured on one girder.
    construction_load : Operand, [stress]
        Construction live load on the forms.
    M_DC1, V_DC1 : Operand
        Moment and shear of the loads on the bare beam, the whole deck poured at once.

    Returns
    -------
    PourEffects
        The larger moment and the larger shear.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 3.4.2.1; from memory.
    """
    step = sheet.step
    g_D, g_C, g_2 = use(sheet, "gamma_cD"), use(sheet, "gamma_cC"), use(sheet, "gamma_c2")
    w_C = step(
        "w_C",
        construction_load * width,
        klf,
        "construction live load on one girder",
        ref="tributary width",
    )
    M_C = step("M_C", w_C * span**2 / 8, kip_ft, "moment of the construction load", ref="statics")
    V_C = step("V_C", w_C * span / 2, kip, "shear of the construction load", ref="statics")
    M_c1 = step(
        "M_c1",
        g_D * M_DC1 + g_C * M_C,
        kip_ft,
        "first construction combination",
        ref="LRFD 3.4.2.1",
    )
    M_c2 = step(
        "M_c2", g_2 * (M_DC1 + M_C), kip_ft, "second construction combination", ref="LRFD 3.4.2.1"
    )
    moment = step(
        "M_cu",
        maximum(M_c1, M_c2),
        kip_ft,
        "greatest factored moment of the pour",
        ref="LRFD 3.4.2.1",
    )
    shear = step(
        "V_cu",
        maximum(g_D * V_DC1 + g_C * V_C, g_2 * (V_DC1 + V_C)),
        kip,
        "greatest factored shear of the pour",
        ref="LRFD 3.4.2.1",
    )
    return PourEffects(moment, shear)


def constructibility(
    sheet: Sheet,
    section: SectionProperties,
    buckling: Buckling,
    shear: ShearStrength,
    *,
    effects: PourEffects,
) -> tuple[Check, ...]:
    r"""Check flange yield, buckling, web bend-buckling and shear of the bare beam in the pour.

    .. math:: f_{bu} + f_l \le \phi_f R_h F_{yc}, \quad
        f_{bu} + \tfrac13 f_l \le \phi_f F_{nc}, \quad f_{bu} \le \phi_f F_{crw}, \quad
        V_u \le \phi_v V_{cr}

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    section : SectionProperties
        The rolled shape.
    buckling : Buckling
        Buckling stresses between diaphragms; the top flange has no other bracing in the pour.
    shear : ShearStrength
        Shear buckling resistance of the web.
    effects : PourEffects
        From :func:`pour_effects`.

    Returns
    -------
    tuple of Check
        The four checks; the tension flange has the first in common with the compression flange.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 6.10.3.2.1, 6.10.3.2.2, 6.10.3.3; from memory.  The buckling
    resistance by Art. 6.10.8.2; Art. A6.3.3 would allow a little more.
    """
    phi_f, F_y = use(sheet, "phi_f"), buckling.flange.yield_strength
    f_l = sheet.given(
        "f_l",
        0 * ksi,
        "lateral bending stress of the flange",
        assumed="interior girder, no skew: overhang brackets load the exterior girder",
    )
    f_bu = sheet.step(
        "f_bu",
        effects.moment / section.modulus,
        ksi,
        "flange stress in the pour",
        ref="M/S, steel section",
    )
    F_ncc = sheet.step(
        "F_ncc",
        minimum(buckling.flange.flange_local, buckling.lateral.resistance),
        ksi,
        "buckling resistance between diaphragms",
        ref="LRFD 6.10.8.2.1",
        symbol="F_nc,pour",
    )
    yielding = sheet.check(
        "Flange yield, deck pour",
        f_bu + f_l <= phi_f * use(sheet, "R_h") * F_y,
        ref="LRFD 6.10.3.2.1-1",
        location="midspan",
    )
    buckles = sheet.check(
        "Flange buckling, deck pour",
        f_bu + f_l / 3 <= phi_f * F_ncc,
        ref="LRFD 6.10.3.2.1-2",
        location="midspan",
    )
    web = sheet.check(
        "Web bend-buckling, deck pour",
        f_bu <= phi_f * buckling.web_bending,
        ref="LRFD 6.10.3.2.1-3",
        location="midspan",
    )
    sheared = sheet.check(
        "Shear, deck pour",
        effects.shear <= use(sheet, "phi_v") * shear.nominal,
        ref="LRFD 6.10.3.3-1",
        location="bearing",
    )
    return yielding, buckles, web, sheared
