"""Buckling of the bare steel section in terms of stress: flange, lateral-torsional, web.

AASHTO LRFD Art. 6.10.8.2, 6.10.1.9 and 6.10.1.10 for a homogeneous rolled shape.  The values serve
Strength I (where the top flange is not held along its length) and the deck pour.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stepcalc.bridge.constants import use
from stepcalc.bridge.section import radius_for_buckling
from stepcalc.expr.functions import cases, minimum, pi, sqrt
from stepcalc.units import inch, ksi

if TYPE_CHECKING:
    from stepcalc.bridge.section import SectionProperties
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.sheet import Sheet


@dataclass(frozen=True)
class WebClass:
    """Slenderness of the web in flexure and what follows from it."""

    slenderness: Operand
    limit: Operand
    shedding: Operand


@dataclass(frozen=True)
class FlangeStress:
    """Nominal flexural resistance of the compression flange, in terms of stress."""

    yield_strength: Operand
    residual: Operand
    ceiling: Operand
    slenderness: Operand
    compact_limit: Operand
    flange_local: Operand


@dataclass(frozen=True)
class LateralStress:
    """Lateral-torsional buckling resistance and the lengths that divide its branches."""

    radius: Operand
    unbraced: Operand
    gradient: Operand
    compact_length: Operand
    noncompact_length: Operand
    resistance: Operand


def web_class(sheet: Sheet, section: SectionProperties, yield_strength: Operand) -> WebClass:
    r"""Write the slenderness of the web in flexure and the web load-shedding factor.

    .. math:: \lambda_{rw} = 5.7\sqrt{E/F_{yc}}, \quad
        R_b = 1 - \frac{a_{wc}}{1200 + 300 a_{wc}}\left(\frac{2 D_c}{t_w} - \lambda_{rw}\right)

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    section : SectionProperties
        The rolled shape.
    yield_strength : Operand, [stress]
        Yield strength of the compression flange.

    Returns
    -------
    WebClass
        ``2 D_c / t_w``, its noncompact limit, and ``R_b``; all plain numbers.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Eq. 6.10.1.10.2-3 and -4 (the 9th ed. has another
    limit); from memory.
    """
    E = use(sheet, "E")
    D_c, t_w = section.compressed_web, section.web
    lambda_w = sheet.step(
        "lambda_w",
        2 * D_c / t_w,
        description="slenderness of the web in flexure",
        ref="LRFD 6.10.6.2.3-1",
    )
    lambda_rw = sheet.step(
        "lambda_rw",
        5.7 * sqrt(E / yield_strength),
        description="limit of a noncompact web",
        ref="LRFD 6.10.1.10.2-4",
    )
    a_wc = sheet.step(
        "a_wc",
        2 * D_c * t_w / (section.flange_width * section.flange),
        description="twice the web in compression over the flange",
        ref="LRFD 6.10.1.10.2-5",
    )
    reduced = 1 - a_wc / (1200 + 300 * a_wc) * (lambda_w - lambda_rw)
    R_b = sheet.step(
        "R_b",
        cases(
            (lambda_w <= lambda_rw, 1.0, "web does not bend-buckle"),
            otherwise=(reduced, "slender web"),
        ),
        description="web load-shedding factor",
        ref="LRFD 6.10.1.10.2-3",
    )
    return WebClass(lambda_w, lambda_rw, R_b)


def flange_stress(
    sheet: Sheet, section: SectionProperties, yield_strength: Operand, shedding: Operand
) -> FlangeStress:
    r"""Write the local buckling resistance of the compression flange.

    .. math:: F_{nc} = \left[1 - \left(1 - \frac{F_{yr}}{R_h F_{yc}}\right)
        \frac{\lambda_f - \lambda_{pf}}{\lambda_{rf} - \lambda_{pf}}\right] R_b R_h F_{yc}

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    section : SectionProperties
        The rolled shape.
    yield_strength : Operand, [stress]
        Yield strength of flange and web.
    shedding : Operand
        Web load-shedding factor ``R_b``.

    Returns
    -------
    FlangeStress
        ``F_FLB`` and the parts that lateral-torsional buckling shares with it.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 6.10.8.2.2; from memory.
    """
    step, E, R_h, F_y = sheet.step, use(sheet, "E"), use(sheet, "R_h"), yield_strength
    F_yr = step(
        "F_yr",
        0.7 * F_y,
        ksi,
        "compression flange stress at the onset of yielding",
        ref="LRFD 6.10.8.2.2 (homogeneous)",
    )
    ceiling = step(
        "F_max", shedding * R_h * F_y, ksi, "greatest nominal resistance", ref="LRFD 6.10.8.2.2-1"
    )
    lambda_f = step(
        "lambda_f",
        section.flange_width / (2 * section.flange),
        description="slenderness of the flange",
        ref="LRFD 6.10.8.2.2-3",
    )
    lambda_pf = step(
        "lambda_pf",
        0.38 * sqrt(E / F_y),
        description="limit of a compact flange",
        ref="LRFD 6.10.8.2.2-4",
    )
    lambda_rf = step(
        "lambda_rf",
        0.56 * sqrt(E / F_yr),
        description="limit of a noncompact flange",
        ref="LRFD 6.10.8.2.2-5",
    )
    slope = (lambda_f - lambda_pf) / (lambda_rf - lambda_pf)
    local = step(
        "F_FLB",
        cases(
            (lambda_f <= lambda_pf, ceiling, "compact flange"),
            otherwise=((1 - (1 - F_yr / (R_h * F_y)) * slope) * ceiling, "noncompact flange"),
        ),
        ksi,
        "flange local buckling resistance",
        ref="LRFD 6.10.8.2.2-1, -2",
        valid=(lambda_f <= use(sheet, "lambda_f_max"),),
    )
    return FlangeStress(F_y, F_yr, ceiling, lambda_f, lambda_pf, local)


def lateral_stress(
    sheet: Sheet,
    section: SectionProperties,
    flange: FlangeStress,
    *,
    shedding: Operand,
    unbraced: Operand,
    gradient: Operand,
) -> LateralStress:
    r"""Write the lateral-torsional buckling resistance.

    .. math:: F_{nc} = C_b\left[1 - \left(1 - \frac{F_{yr}}{R_h F_{yc}}\right)
        \frac{L_b - L_p}{L_r - L_p}\right] R_b R_h F_{yc} \le R_b R_h F_{yc}, \qquad
        F_{cr} = \frac{C_b R_b \pi^2 E}{(L_b / r_t)^2}

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    section : SectionProperties
        The rolled shape.
    flange : FlangeStress
        From :func:`flange_stress`.
    shedding : Operand
        Web load-shedding factor ``R_b``.
    unbraced : Operand, [length]
        Distance between brace points ``L_b``.
    gradient : Operand
        Moment gradient modifier ``C_b``.

    Returns
    -------
    LateralStress
        ``F_LTB``, ``L_p``, ``L_r`` and ``r_t``.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 6.10.8.2.3; from memory.
    """
    step, E, R_h, F_y = sheet.step, use(sheet, "E"), use(sheet, "R_h"), flange.yield_strength
    r_t = radius_for_buckling(sheet, section)
    L_p = step(
        "L_p",
        r_t * sqrt(E / F_y),
        inch,
        "greatest unbraced length without buckling",
        ref="LRFD 6.10.8.2.3-4",
    )
    L_r = step(
        "L_r",
        pi * r_t * sqrt(E / flange.residual),
        inch,
        "unbraced length at which buckling becomes elastic",
        ref="LRFD 6.10.8.2.3-5",
    )
    fraction = (unbraced - L_p) / (L_r - L_p)
    inelastic = gradient * (1 - (1 - flange.residual / (R_h * F_y)) * fraction) * flange.ceiling
    elastic = gradient * shedding * pi**2 * E / (unbraced / r_t) ** 2
    F_0 = step(
        "F_0",
        cases(
            (unbraced <= L_p, flange.ceiling, "compact unbraced length"),
            (unbraced <= L_r, inelastic, "inelastic buckling"),
            otherwise=(elastic, "elastic buckling"),
        ),
        ksi,
        "buckling stress before its upper bound",
        ref="LRFD 6.10.8.2.3-1 to -3, -8",
    )
    F_LTB = step(
        "F_LTB",
        minimum(F_0, flange.ceiling),
        ksi,
        "lateral-torsional buckling resistance",
        ref="LRFD 6.10.8.2.3-1 to -3",
    )
    return LateralStress(r_t, unbraced, gradient, L_p, L_r, F_LTB)


def web_bend_buckling(sheet: Sheet, section: SectionProperties, yield_strength: Operand) -> Operand:
    r"""Write the nominal bend-buckling resistance of the web.

    .. math:: F_{crw} = \frac{0.9 E k}{(D/t_w)^2} \le \min(R_h F_{yc},\, F_{yw}/0.7),
        \quad k = \frac{9}{(D_c/D)^2}

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    section : SectionProperties
        The rolled shape.
    yield_strength : Operand, [stress]
        Yield strength of flange and web.

    Returns
    -------
    Operand
        The step ``F_crw``, [stress].

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Eq. 6.10.1.9.1-1 and -2; from memory.
    """
    E, R_h, F_y = use(sheet, "E"), use(sheet, "R_h"), yield_strength
    k = sheet.step(
        "k_w",
        9 / (section.compressed_web / section.web_depth) ** 2,
        description="bend-buckling coefficient",
        ref="LRFD 6.10.1.9.1-2",
    )
    buckling = 0.9 * E * k / (section.web_depth / section.web) ** 2
    return sheet.step(
        "F_crw",
        minimum(buckling, R_h * F_y, F_y / 0.7),
        ksi,
        "web bend-buckling resistance",
        ref="LRFD 6.10.1.9.1-1",
    )
