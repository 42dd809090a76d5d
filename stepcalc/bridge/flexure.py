"""Strength I flexure of a non-composite rolled beam: Art. 6.10.8 and Appendix A6 side by side."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stepcalc.bridge.appendix_a6 import flange_moment, lateral_moment, web_plastification
from stepcalc.bridge.buckling import (
    flange_stress,
    lateral_stress,
    web_bend_buckling,
    web_class,
)
from stepcalc.bridge.constants import use
from stepcalc.bridge.fields import TopFlange
from stepcalc.bridge.section import yield_and_plastic_moment
from stepcalc.errors import RangeError
from stepcalc.expr.functions import all_of, cases, minimum
from stepcalc.units import inch, kip_ft, ksi

if TYPE_CHECKING:
    from stepcalc.bridge.buckling import FlangeStress, LateralStress, WebClass
    from stepcalc.bridge.combinations import FactoredEffects
    from stepcalc.bridge.section import SectionProperties
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.nodes import Check
    from stepcalc.sheet.sheet import Sheet

BRACING_IN_WORDS = {
    TopFlange.ANCHORED: "The deck is anchored to the top flange by connectors that hold it "
    "sideways: the flange counts as continuously braced (LRFD C6.10.1.6). The connectors are not "
    "counted as composite action.",
    TopFlange.EMBEDDED: "The top flange is embedded in the deck, and the owner accepts it as "
    "continuously braced (LRFD C6.10.1.6; owners differ).",
    TopFlange.RESTING: "The deck only rests on the top flange: by the text of the code the flange "
    "is not continuously braced. The unbraced length is the diaphragm spacing.",
}


@dataclass(frozen=True)
class Buckling:
    """Buckling of the bare steel beam between diaphragms; the deck pour uses it too."""

    web: WebClass
    flange: FlangeStress
    lateral: LateralStress
    web_bending: Operand


@dataclass(frozen=True)
class FlexuralStrength:
    """Nominal moments by both routes, the one that decides, and the check."""

    by_stress: Operand
    by_moment: Operand
    nominal: Operand
    check: Check


def bracing_basis(top_flange: TopFlange | str) -> TopFlange:
    """Return the bracing basis of the top flange from its text.

    Parameters
    ----------
    top_flange : TopFlange or str
        ``"anchored"``, ``"embedded, owner accepts"`` or ``"resting"``.

    Returns
    -------
    TopFlange
        The basis.

    Raises
    ------
    RangeError
        For any other text: the basis has no default.
    """
    try:
        return TopFlange(top_flange)
    except ValueError:
        fits = ", ".join(repr(basis.value) for basis in TopFlange)
        msg = f"the bracing basis of the top flange is {top_flange!r}; want one of {fits}"
        raise RangeError(msg) from None


def is_continuously_braced(top_flange: TopFlange | str) -> bool:
    """Tell whether a bracing basis counts as continuous bracing.

    Parameters
    ----------
    top_flange : TopFlange or str
        The bracing basis.

    Returns
    -------
    bool
        True unless the deck only rests on the flange.

    Raises
    ------
    RangeError
        If the text is none of the three bases.
    """
    return bracing_basis(top_flange) is not TopFlange.RESTING


def required_section(
    sheet: Sheet, factored: FactoredEffects, yield_strength: Operand
) -> tuple[Operand, Operand]:
    """Write the section properties that the moments ask for, before the shape is verified.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    factored : FactoredEffects
        Strength I and Service II moments.
    yield_strength : Operand, [stress]
        Specified minimum yield strength.

    Returns
    -------
    tuple of Operand
        ``Z_req`` (a compact, continuously braced section) and ``S_req`` (Service II), [length**3].

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. A6.1 and 6.10.4.2.2 solved for the property; from memory.
    """
    Z_req = sheet.step(
        "Z_req",
        factored.M_u / (use(sheet, "phi_f") * yield_strength),
        inch**3,
        "plastic modulus that Strength I needs of a compact, braced section",
        ref="LRFD A6.1",
    )
    S_req = sheet.step(
        "S_req",
        factored.M_SII / (use(sheet, "c_SII") * use(sheet, "R_h") * yield_strength),
        inch**3,
        "elastic modulus that Service II needs",
        ref="LRFD 6.10.4.2.2-3",
    )
    return Z_req, S_req


def buckling_between_diaphragms(
    sheet: Sheet,
    section: SectionProperties,
    *,
    yield_strength: Operand,
    unbraced: Operand,
    gradient: Operand,
) -> Buckling:
    """Write web class, flange buckling and lateral-torsional buckling of the bare beam.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    section : SectionProperties
        The rolled shape.
    yield_strength : Operand, [stress]
        Yield strength of flange and web.
    unbraced : Operand, [length]
        Distance between diaphragms.
    gradient : Operand
        Moment gradient modifier ``C_b``.

    Returns
    -------
    Buckling
        The groups of steps, web bend-buckling among them.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 6.10.8.2; from memory.
    """
    web = web_class(sheet, section, yield_strength)
    flange = flange_stress(sheet, section, yield_strength, web.shedding)
    lateral = lateral_stress(
        sheet, section, flange, shedding=web.shedding, unbraced=unbraced, gradient=gradient
    )
    return Buckling(web, flange, lateral, web_bend_buckling(sheet, section, yield_strength))


def strength_flexure(
    sheet: Sheet,
    section: SectionProperties,
    buckling: Buckling,
    *,
    demand: Operand,
    top_flange: TopFlange | str,
) -> FlexuralStrength:
    """Write the Strength I resistance by both routes, say which decides, and check it.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    section : SectionProperties
        The rolled shape.
    buckling : Buckling
        From :func:`buckling_between_diaphragms`.
    demand : Operand, [force * length]
        Factored moment ``M_u``.
    top_flange : TopFlange or str
        The bracing basis; see :func:`bracing_basis`.

    Returns
    -------
    FlexuralStrength
        ``M_n`` by stress, by moment, the deciding one, and the check.

    Raises
    ------
    RangeError
        If the bracing basis is not one of the three.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 6.10.6.2.3, 6.10.8.1, A6.1; from memory.
    """
    braced = is_continuously_braced(top_flange)
    sheet.note(BRACING_IN_WORDS[bracing_basis(top_flange)])
    F_y = buckling.flange.yield_strength
    M_y, M_p = yield_and_plastic_moment(sheet, section, F_y)
    with sheet.part("By stress, Article 6.10.8"):
        by_stress = _moment_by_stress(sheet, section, buckling, braced=braced)
    with sheet.part("By moment, Appendix A6"):
        plastic = web_plastification(sheet, buckling.web, yield_strength=F_y, M_y=M_y, M_p=M_p)
        if braced:
            moment, why = plastic.moment, "continuously braced flange, Appendix A6"
        else:
            moment = minimum(
                flange_moment(sheet, section, buckling.flange, plastic),
                lateral_moment(sheet, section, buckling.flange, plastic, buckling.lateral),
            )
            why = "the lesser of the two buckling moments, Appendix A6"
        ref = "LRFD A6.1.3" if braced else "LRFD A6.1.1, A6.3.1"
        by_moment = sheet.step("M_nA6", moment, kip_ft, why, ref=ref, symbol="M_n,A6")
    with sheet.part("Which of the two decides"):
        nominal = _deciding_moment(sheet, buckling, by_stress, by_moment, F_y)
        check = sheet.check(
            "Flexure, Strength I",
            demand <= use(sheet, "phi_f") * nominal,
            ref="LRFD A6.1.3, 6.10.8.1.3" if braced else "LRFD A6.1.1, 6.10.8.1.1",
            location="greatest moment",
        )
    return FlexuralStrength(by_stress, by_moment, nominal, check)


def _moment_by_stress(
    sheet: Sheet, section: SectionProperties, buckling: Buckling, *, braced: bool
) -> Operand:
    flange = buckling.flange
    if braced:
        stress = use(sheet, "R_h") * flange.yield_strength
        why, ref = "continuously braced flange", "LRFD 6.10.8.1.3-1"
    else:
        stress = minimum(flange.flange_local, buckling.lateral.resistance)
        why, ref = "the lesser of the two buckling stresses", "LRFD 6.10.8.2.1"
    F_nc = sheet.step("F_nc", stress, ksi, why, ref=ref)
    return sheet.step(
        "M_n8",
        F_nc * section.modulus,
        kip_ft,
        "nominal moment by Article 6.10.8",
        ref="LRFD 6.10.8.1",
        symbol="M_n,8",
    )


def _deciding_moment(
    sheet: Sheet, buckling: Buckling, by_stress: Operand, by_moment: Operand, F_y: Operand
) -> Operand:
    r_Iy = sheet.given(
        "r_Iy",
        1.0,
        "inertia of the compression flange over that of the tension flange",
        source="doubly symmetric rolled shape",
    )
    permitted = all_of(
        F_y <= use(sheet, "F_A6_max"),
        buckling.web.slenderness < buckling.web.limit,
        r_Iy >= use(sheet, "r_A6_min"),
    )
    sheet.note(
        "The tension flange yields at the same moment as the compression flange of a doubly "
        "symmetric section and cannot buckle: it is never the more critical of the two."
    )
    sheet.note(
        "Appendix A6 may be used for a straight bridge without skew if the flange yield strength, "
        "the web slenderness and the flange ratio keep its three limits. It lets a compact web go "
        "beyond yield, up to the plastic moment, where Article 6.10.8 stops at yield. Where it is "
        "permitted it decides; elsewhere Article 6.10.8 does."
    )
    return sheet.step(
        "M_n",
        cases(
            (permitted, by_moment, "Appendix A6 is permitted and decides"),
            otherwise=(by_stress, "Appendix A6 is not permitted; Article 6.10.8 decides"),
        ),
        kip_ft,
        "nominal moment",
        ref="LRFD 6.10.6.2.3",
    )
