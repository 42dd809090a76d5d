"""Flexure by Appendix A6: moments of straight I-sections with a compact or noncompact web."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stepcalc.bridge.constants import use
from stepcalc.expr.functions import cases, minimum, pi, sqrt
from stepcalc.units import inch, kip_ft, ksi

if TYPE_CHECKING:
    from stepcalc.bridge.buckling import FlangeStress, LateralStress, WebClass
    from stepcalc.bridge.section import SectionProperties
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.sheet import Sheet


@dataclass(frozen=True)
class WebPlastification:
    """How far beyond yield the web lets the section go."""

    factor: Operand
    moment: Operand


def web_plastification(
    sheet: Sheet, web: WebClass, *, yield_strength: Operand, M_y: Operand, M_p: Operand
) -> WebPlastification:
    r"""Write the web plastification factor and the greatest moment it allows.

    .. math:: \lambda_{pw} = \frac{\sqrt{E/F_{yc}}}{\left(0.54\frac{M_p}{R_h M_y} - 0.09\right)^2}
        \le \lambda_{rw}, \quad R_{pc} = \left[1 - \left(1 - \frac{R_h M_{yc}}{M_p}\right)
        \frac{\lambda_w - \lambda_{pw}}{\lambda_{rw} - \lambda_{pw}}\right]\frac{M_p}{M_{yc}}

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    web : WebClass
        Slenderness of the web and its noncompact limit.
    yield_strength : Operand, [stress]
        Yield strength of the compression flange.
    M_y, M_p : Operand, [force * length]
        Yield and plastic moment.

    Returns
    -------
    WebPlastification
        ``R_pc`` and ``R_pc M_yc``.  In a doubly symmetric section ``R_pt`` is the same.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. A6.2.1 and A6.2.2; from memory.
    """
    step, E, R_h = sheet.step, use(sheet, "E"), use(sheet, "R_h")
    curve = sqrt(E / yield_strength) / (0.54 * M_p / (R_h * M_y) - 0.09) ** 2
    lambda_pw = step(
        "lambda_pw",
        minimum(curve, web.limit),
        description="limit of a compact web",
        ref="LRFD A6.2.1-2",
    )
    slope = (web.slenderness - lambda_pw) / (web.limit - lambda_pw)
    R_pc = step(
        "R_pc",
        cases(
            (web.slenderness <= lambda_pw, M_p / M_y, "compact web"),
            otherwise=((1 - (1 - R_h * M_y / M_p) * slope) * (M_p / M_y), "noncompact web"),
        ),
        description="web plastification factor",
        ref="LRFD A6.2.1-4, A6.2.2-4",
        valid=(web.slenderness < web.limit,),
    )
    moment = step(
        "M_max", R_pc * M_y, kip_ft, "greatest nominal moment by Appendix A6", ref="LRFD A6.3.2-1"
    )
    return WebPlastification(R_pc, moment)


def flange_moment(
    sheet: Sheet,
    section: SectionProperties,
    flange: FlangeStress,
    web: WebPlastification,
) -> Operand:
    r"""Write the flange local buckling moment.

    .. math:: M_{nc} = \left[1 - \left(1 - \frac{F_{yr} S_{xc}}{R_{pc} M_{yc}}\right)
        \frac{\lambda_f - \lambda_{pf}}{\lambda_{rf} - \lambda_{pf}}\right] R_{pc} M_{yc},
        \quad \lambda_{rf} = 0.95\sqrt{E k_c / F_{yr}}

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    section : SectionProperties
        The rolled shape.
    flange : FlangeStress
        Slenderness of the flange, its compact limit and ``F_yr``.
    web : WebPlastification
        The greatest moment.

    Returns
    -------
    Operand
        The step ``M_FLB``, [force * length].

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. A6.3.2; from memory.
    """
    E, k_c = use(sheet, "E"), use(sheet, "k_c")
    limit = sheet.step(
        "lambda_rf6",
        0.95 * sqrt(E * k_c / flange.residual),
        description="limit of a noncompact flange, Appendix A6",
        ref="LRFD A6.3.2-5",
        symbol="lambda_rf,A6",
    )
    slope = (flange.slenderness - flange.compact_limit) / (limit - flange.compact_limit)
    onset = flange.residual * section.modulus / web.moment
    return sheet.step(
        "M_FLB",
        cases(
            (flange.slenderness <= flange.compact_limit, web.moment, "compact flange"),
            otherwise=((1 - (1 - onset) * slope) * web.moment, "noncompact flange"),
        ),
        kip_ft,
        "flange local buckling, Appendix A6",
        ref="LRFD A6.3.2-1, -2",
        valid=(flange.slenderness <= use(sheet, "lambda_f_max"),),
    )


def lateral_moment(
    sheet: Sheet,
    section: SectionProperties,
    flange: FlangeStress,
    web: WebPlastification,
    lateral: LateralStress,
) -> Operand:
    r"""Write the lateral-torsional buckling moment.

    .. math:: L_r = 1.95 r_t \frac{E}{F_{yr}} \sqrt{\frac{J}{S_{xc} h}}
        \sqrt{1 + \sqrt{1 + 6.76\left(\frac{F_{yr} S_{xc} h}{E J}\right)^2}}, \quad
        F_{cr} = \frac{C_b \pi^2 E}{(L_b/r_t)^2}
        \sqrt{1 + 0.078\frac{J}{S_{xc} h}\left(\frac{L_b}{r_t}\right)^2}

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    section : SectionProperties
        The rolled shape.
    flange : FlangeStress
        ``F_yr``.
    web : WebPlastification
        The greatest moment.
    lateral : LateralStress
        ``L_b``, ``L_p``, ``r_t``, ``C_b``.

    Returns
    -------
    Operand
        The step ``M_LTB``, [force * length].

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. A6.3.3; from memory.
    """
    step, E = sheet.step, use(sheet, "E")
    F_yr, S_x, L_b, r_t = flange.residual, section.modulus, lateral.unbraced, lateral.radius
    X = step(
        "X_J",
        section.torsion / (S_x * section.flange_distance),
        description="torsion against warping",
        ref="LRFD A6.3.3-5",
    )
    root = sqrt(1 + sqrt(1 + 6.76 * (F_yr / (E * X)) ** 2))
    L_r = step(
        "L_r6",
        1.95 * r_t * (E / F_yr) * sqrt(X) * root,
        inch,
        "unbraced length at which buckling becomes elastic, Appendix A6",
        ref="LRFD A6.3.3-5",
        symbol="L_r,A6",
    )
    F_cr = step(
        "F_cr6",
        lateral.gradient * pi**2 * E / (L_b / r_t) ** 2 * sqrt(1 + 0.078 * X * (L_b / r_t) ** 2),
        ksi,
        "elastic lateral-torsional buckling stress, Appendix A6",
        ref="LRFD A6.3.3-8",
        symbol="F_cr,A6",
    )
    onset = F_yr * S_x / web.moment
    slope = (L_b - lateral.compact_length) / (L_r - lateral.compact_length)
    M_0 = step(
        "M_0",
        cases(
            (L_b <= lateral.compact_length, web.moment, "compact unbraced length"),
            (
                L_b <= L_r,
                lateral.gradient * (1 - (1 - onset) * slope) * web.moment,
                "inelastic buckling",
            ),
            otherwise=(F_cr * S_x, "elastic buckling"),
        ),
        kip_ft,
        "buckling moment before its upper bound",
        ref="LRFD A6.3.3-1 to -3",
    )
    return step(
        "M_LTB",
        minimum(M_0, web.moment),
        kip_ft,
        "lateral-torsional buckling, Appendix A6",
        ref="LRFD A6.3.3-1 to -3",
    )
