"""Load factor design of a rolled beam: Group I, shear, overload, deck pour (10.48, 10.57)."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stepcalc.bridge.constants import use
from stepcalc.bridge.older_codes_shear import shear_buckling_ratio
from stepcalc.units import inch, kip, kip_ft, ksi

if TYPE_CHECKING:
    from stepcalc.bridge.section import SectionProperties
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.nodes import Check
    from stepcalc.sheet.sheet import Sheet


def group_one(
    sheet: Sheet, *, dead: tuple[Operand, ...], live: Operand, name: str, unit: object, what: str
) -> Operand:
    r"""Write a Group I effect, :math:`1.3[D + \tfrac53 (L + I)]`.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the step.
    dead : tuple of Operand
        Dead-load effects.
    live : Operand
        Live-load effect with impact.
    name, what : str
        Name and description of the step.
    unit : unit
        Unit of the result.

    Returns
    -------
    Operand
        The step.

    Source
    ------
    AASHTO Standard Specifications, 17th ed. (2002), Table 3.22.1A; from memory.
    """
    formula = use(sheet, "gamma_LFD") * (sum(dead[1:], dead[0]) + use(sheet, "beta_LFD") * live)
    return sheet.step(name, formula, unit, what, ref="Std Table 3.22.1A")


def required_modulus(sheet: Sheet, *, yield_strength: Operand, demand: Operand) -> Operand:
    """Write the plastic modulus that a compact, braced section needs.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the step.
    yield_strength : Operand, [stress]
        Yield strength.
    demand : Operand, [force * length]
        Factored moment, Group I.

    Returns
    -------
    Operand
        The step ``Z_req``, [length**3].

    Source
    ------
    AASHTO Standard Specifications, 17th ed. (2002), Art. 10.48.1 solved for the modulus; from
    memory.
    """
    return sheet.step(
        "Z_req",
        demand / yield_strength,
        inch**3,
        "plastic modulus that a compact, braced section needs",
        ref="Std 10.48.1",
    )


def strength_shear_lfd(
    sheet: Sheet, section: SectionProperties, *, yield_strength: Operand, demand: Operand
) -> Check:
    """Check the factored shear against the unstiffened web.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    section : SectionProperties
        The rolled shape.
    yield_strength : Operand, [stress]
        Yield strength of the web.
    demand : Operand, [force]
        Factored shear, Group I.

    Returns
    -------
    Check
        Shear against ``C V_p``.

    Source
    ------
    AASHTO Standard Specifications, 17th ed. (2002), Art. 10.48.8.1; from memory.
    """
    C = shear_buckling_ratio(sheet, section, yield_strength)
    V_p = sheet.step(
        "V_p",
        0.58 * yield_strength * section.web_depth * section.web,
        kip,
        "plastic shear force",
        ref="Std 10.48.8.1",
    )
    V_n = sheet.step("V_n", C * V_p, kip, "shear resistance, unstiffened web", ref="Std 10.48.8.1")
    return sheet.check("Shear, Group I", demand <= V_n, ref="Std 10.48.8.1", location="bearing")


def overload(
    sheet: Sheet,
    section: SectionProperties,
    *,
    yield_strength: Operand,
    dead: tuple[Operand, ...],
    live: Operand,
) -> Check:
    r"""Check permanent deformation under overload, :math:`D + \tfrac53 (L + I)`.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    section : SectionProperties
        The rolled shape.
    yield_strength : Operand, [stress]
        Yield strength.
    dead : tuple of Operand, [force * length]
        Dead-load moments.
    live : Operand, [force * length]
        Live-load moment with impact.

    Returns
    -------
    Check
        Flange stress against 0.80 of yield.

    Source
    ------
    AASHTO Standard Specifications, 17th ed. (2002), Art. 10.57.1; from memory.
    """
    total = sum(dead[1:], dead[0]) + use(sheet, "beta_LFD") * live
    f_o = sheet.step(
        "f_o",
        total / section.modulus,
        ksi,
        "flange stress, overload",
        ref="moment over section modulus",
    )
    return sheet.check(
        "Flange stress, overload",
        f_o <= use(sheet, "c_over") * yield_strength,
        ref="Std 10.57.1",
        location="greatest moment",
    )


def pour_lfd(
    sheet: Sheet,
    section: SectionProperties,
    *,
    partially: Operand,
    M_DC1: Operand,
    M_C: Operand,
) -> Check:
    """Check the bare beam under wet concrete and construction load, factored by 1.3.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    section : SectionProperties
        The rolled shape.
    partially : Operand, [force * length]
        Moment resistance between diaphragms.
    M_DC1, M_C : Operand, [force * length]
        Moment of the loads on the bare beam and of the construction live load.

    Returns
    -------
    Check
        Factored moment in the pour against the lesser of buckling and flange buckling.

    Source
    ------
    AASHTO Standard Specifications, 17th ed. (2002), Art. 10.61; from memory.
    """
    M_p = sheet.step(
        "M_pour",
        use(sheet, "gamma_LFD") * (M_DC1 + M_C),
        kip_ft,
        "factored moment in the pour",
        ref="Std 10.61",
    )
    return sheet.check(
        "Flexure, deck pour", M_p <= partially, ref="Std 10.61, 10.48.4.1", location="midspan"
    )
