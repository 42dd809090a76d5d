"""Allowable stress design of a non-composite rolled beam (Standard Specifications)."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stepcalc.bridge.constants import use
from stepcalc.bridge.flexure import BRACING_IN_WORDS, bracing_basis, is_continuously_braced
from stepcalc.bridge.older_codes_shear import shear_buckling_ratio
from stepcalc.expr.functions import minimum, sqrt
from stepcalc.units import inch, kip, kip_ft, ksi

if TYPE_CHECKING:
    from stepcalc.bridge.fields import TopFlange
    from stepcalc.bridge.section import SectionProperties
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.nodes import Check
    from stepcalc.sheet.sheet import Sheet


def total_effects(
    sheet: Sheet, *, moments: tuple[Operand, ...], shears: tuple[Operand, ...]
) -> tuple[Operand, Operand]:
    """Write the total moment and shear, Group I: dead load, live load and impact, not factored.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    moments, shears : tuple of Operand
        DC1, DC2, DW and live load with impact.

    Returns
    -------
    tuple of Operand
        ``M_T`` and ``V_T``.

    Source
    ------
    AASHTO Standard Specifications, 17th ed. (2002), Table 3.22.1A; from memory.
    """
    M_T = sheet.step(
        "M_T", sum(moments[1:], moments[0]), kip_ft, "total moment, Group I", ref="Std 3.22"
    )
    V_T = sheet.step("V_T", sum(shears[1:], shears[0]), kip, "total shear, Group I", ref="Std 3.22")
    return M_T, V_T


def buckling_allowable(
    sheet: Sheet,
    section: SectionProperties,
    *,
    yield_strength: Operand,
    unbraced: Operand,
    gradient: Operand,
) -> Operand:
    r"""Write the allowable bending stress of a flange braced at intervals.

    .. math:: F_b = \frac{50\,000\,C_b}{S_{xc}}\frac{I_{yc}}{L_b}
        \sqrt{0.772\frac{J}{I_{yc}} + 9.87\left(\frac{d}{L_b}\right)^2} \le 0.55 F_y

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the step.
    section : SectionProperties
        The rolled shape.
    yield_strength : Operand, [stress]
        Yield strength.
    unbraced : Operand, [length]
        Distance between brace points.
    gradient : Operand
        Moment gradient modifier ``C_b``.

    Returns
    -------
    Operand
        The step ``F_b1``, [stress].

    Source
    ------
    AASHTO Standard Specifications, 17th ed. (2002), Table 10.32.1A (50,000 ksi for 50 million
    psi); from
    memory.
    """
    I_yc, L_b = section.flange_inertia, unbraced
    root = sqrt(0.772 * section.torsion / I_yc + 9.87 * (section.depth / L_b) ** 2)
    formula = 50000 * ksi * gradient / section.modulus * (I_yc / L_b) * root
    return sheet.step(
        "F_b1",
        minimum(formula, use(sheet, "c_Fb") * yield_strength),
        ksi,
        "allowable bending stress between diaphragms",
        ref="Std Table 10.32.1A",
    )


def allowable_flexure(
    sheet: Sheet,
    section: SectionProperties,
    *,
    yield_strength: Operand,
    between_diaphragms: Operand,
    moment: Operand,
    top_flange: TopFlange | str,
) -> Check:
    """Write the allowable bending stress, the required section modulus and the stress, and check.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    section : SectionProperties
        The rolled shape.
    yield_strength : Operand, [stress]
        Yield strength.
    between_diaphragms : Operand, [stress]
        From :func:`buckling_allowable`; used where the deck does not hold the flange.
    moment : Operand, [force * length]
        Total moment.
    top_flange : TopFlange or str
        The bracing basis.

    Returns
    -------
    Check
        Bending stress against the allowable.

    Raises
    ------
    RangeError
        If the bracing basis is not one of the three.

    Source
    ------
    AASHTO Standard Specifications, 17th ed. (2002), Table 10.32.1A; from memory.
    """
    braced = is_continuously_braced(top_flange)
    sheet.note(BRACING_IN_WORDS[bracing_basis(top_flange)])
    allowable = use(sheet, "c_Fb") * yield_strength if braced else between_diaphragms
    F_b = sheet.step("F_b", allowable, ksi, "allowable bending stress", ref="Std Table 10.32.1A")
    S_req = sheet.step(
        "S_req",
        moment / F_b,
        inch**3,
        "required section modulus",
        ref="moment over allowable stress",
    )
    sheet.step(
        "r_S",
        section.modulus / S_req,
        description="section modulus given over required",
        ref="comparison",
    )
    f_b = sheet.step(
        "f_b", moment / section.modulus, ksi, "bending stress", ref="moment over section modulus"
    )
    return sheet.check("Bending stress", f_b <= F_b, ref="Std 10.32.1", location="greatest moment")


def allowable_shear(
    sheet: Sheet, section: SectionProperties, *, yield_strength: Operand, shear: Operand
) -> tuple[Check, Check]:
    r"""Check the average shear stress of the web, and whether it does without bearing stiffeners.

    .. math:: f_v = \frac{V}{d t_w} \le F_v = \min(0.33 F_y,\; C F_y / 3)

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    section : SectionProperties
        The rolled shape.
    yield_strength : Operand, [stress]
        Yield strength.
    shear : Operand, [force]
        Total shear at the bearing.

    Returns
    -------
    tuple of Check
        Shear stress; and 75 percent of the allowable, beyond which bearing stiffeners are needed.

    Source
    ------
    AASHTO Standard Specifications, 17th ed. (2002), Table 10.32.1A, Art. 10.34.4.1, 10.33.2;
    from memory.
    """
    F_y = yield_strength
    C = shear_buckling_ratio(sheet, section, F_y)
    F_v = sheet.step(
        "F_v",
        minimum(use(sheet, "c_Fv") * F_y, C * F_y / 3),
        ksi,
        "allowable shear stress",
        ref="Std Table 10.32.1A, 10.34.4.1",
    )
    f_v = sheet.step(
        "f_v",
        shear / (section.depth * section.web),
        ksi,
        "average shear stress",
        ref="shear over depth times web",
    )
    check = sheet.check("Shear stress", f_v <= F_v, ref="Std 10.32.1", location="bearing")
    plain = sheet.check(
        "No bearing stiffeners",
        f_v <= use(sheet, "c_brg") * F_v,
        ref="Std 10.33.2",
        location="bearing",
    )
    return check, plain


def allowable_pour(
    sheet: Sheet,
    section: SectionProperties,
    *,
    between_diaphragms: Operand,
    M_DC1: Operand,
    M_C: Operand,
) -> Check:
    """Check the bare beam under wet concrete and construction load.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    section : SectionProperties
        The rolled shape.
    between_diaphragms : Operand, [stress]
        From :func:`buckling_allowable`: in the pour the deck does not hold the flange.
    M_DC1, M_C : Operand, [force * length]
        Moment of the loads on the bare beam and of the construction live load.

    Returns
    -------
    Check
        Bending stress in the pour against the allowable.

    Source
    ------
    Common practice, no source; the allowable is that of Std Table 10.32.1A (from memory).
    """
    f_p = sheet.step(
        "f_p",
        (M_DC1 + M_C) / section.modulus,
        ksi,
        "bending stress in the pour",
        ref="moment over section modulus",
    )
    return sheet.check(
        "Bending stress, deck pour",
        f_p <= between_diaphragms,
        ref="Std Table 10.32.1A",
        location="midspan",
    )
