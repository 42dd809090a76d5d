"""Compression flange of a general section in terms of stress: Article 6.10.8.2."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stepcalc.bridge.constants import use
from stepcalc.expr.functions import cases, maximum, minimum, pi, sqrt
from stepcalc.units import inch, ksi

if TYPE_CHECKING:
    from stepcalc.bridge.composite.geometry import Geometry
    from stepcalc.bridge.composite.sides import Sides
    from stepcalc.bridge.composite.web import Web
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.sheet import Sheet


@dataclass(frozen=True)
class FlangeBuckling:
    """Nominal resistance of the compression flange in stress.

    Attributes
    ----------
    ceiling : Operand, [stress]
        ``R_b R_h F_yc``.
    slenderness, compact_limit : Operand
        ``lambda_f``, ``lambda_pf``.
    local, lateral, resistance : Operand, [stress]
        ``F_FLB``, ``F_LTB``, ``F_nc``.
    elastic : Operand, [stress]
        ``F_cr``, not cut off at yield.
    radius, unbraced, compact_length, noncompact_length : Operand, [length]
        ``r_t``, ``L_b``, ``L_p``, ``L_r``.
    gradient : Operand
        ``C_b``.
    """

    ceiling: Operand
    slenderness: Operand
    compact_limit: Operand
    local: Operand
    lateral: Operand
    resistance: Operand
    elastic: Operand
    radius: Operand
    unbraced: Operand
    compact_length: Operand
    noncompact_length: Operand
    gradient: Operand


def flange_buckling(
    sheet: Sheet,
    geometry: Geometry,
    sides: Sides,
    web: Web,
    *,
    unbraced: Operand,
    gradient: Operand,
) -> FlangeBuckling:
    r"""Write local and lateral-torsional buckling of the compression flange.

    .. math:: F_{nc} = \left[1 - \left(1 - \frac{F_{yr}}{R_h F_{yc}}\right)
        \frac{\lambda - \lambda_p}{\lambda_r - \lambda_p}\right] R_b R_h F_{yc}, \quad
        r_t = \frac{b_{fc}}{\sqrt{12\left(1 + \frac{D_c t_w}{3 A_{fc}}\right)}}

    with the flange's width over thickness, or the unbraced length (then times ``C_b``, not above
    the ceiling); beyond ``L_r``, :math:`F_{cr} = C_b R_b \pi^2 E / (L_b/r_t)^2`.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    geometry : Geometry
        The web.
    sides : Sides
        The compression flange.
    web : Web
        ``D_c``, ``R_h`` and ``R_b``.
    unbraced : Operand, [length]
        ``L_b``.
    gradient : Operand
        ``C_b``.

    Returns
    -------
    FlangeBuckling
        Steps ``F_yr F_max lambda_f lambda_pf lambda_rf F_FLB r_t L_p L_r F_cr F_0 F_LTB F_nc``.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 6.10.8.2.2 and 6.10.8.2.3; from memory.
    """
    step, E, F_yc = sheet.step, use(sheet, "E"), sides.compression.strength
    R_h, R_b = web.hybrid, web.shedding
    F_yr = step(
        "F_yr", maximum(minimum(0.7 * F_yc, geometry.section.web.strength), 0.5 * F_yc), ksi,
        "compression flange stress at the onset of yielding", ref="LRFD 6.10.8.2.2",
    )  # fmt: skip
    ceiling = step(
        "F_max", R_b * R_h * F_yc, ksi, "greatest nominal resistance", ref="LRFD 6.10.8.2.2-1"
    )
    drop = 1 - F_yr / (R_h * F_yc)
    lambda_f, lambda_pf, local = _local(sheet, sides, ceiling=ceiling, drop=drop, residual=F_yr)
    r_t = _radius(sheet, geometry, sides, web)
    ref = "LRFD 6.10.8.2.3"
    L_p = step("L_p", 1.0 * r_t * sqrt(E / F_yc), inch, "no buckling up to here", ref=f"{ref}-4")
    L_r = step("L_r", pi * r_t * sqrt(E / F_yr), inch, "elastic buckling beyond", ref=f"{ref}-5")
    F_cr = step(
        "F_cr", gradient * R_b * pi**2 * E / (unbraced / r_t) ** 2, ksi,
        "elastic lateral-torsional buckling stress", ref=f"{ref}-8",
    )  # fmt: skip
    inelastic = gradient * (1 - drop * ((unbraced - L_p) / (L_r - L_p))) * ceiling
    F_0 = step(
        "F_0",
        cases(
            (unbraced <= L_p, ceiling, "compact unbraced length"),
            (unbraced <= L_r, inelastic, "inelastic buckling"),
            otherwise=(F_cr, "elastic buckling"),
        ),
        ksi,
        "buckling stress before its upper bound",
        ref=f"{ref}-1 to -3",
    )
    F_LTB = step(
        "F_LTB", minimum(F_0, ceiling), ksi, "lateral-torsional buckling", ref=f"{ref}-1 to -3"
    )
    F_nc = step(
        "F_nc", minimum(local, F_LTB), ksi, "the lesser of the two buckling stresses",
        ref="LRFD 6.10.8.2.1",
    )  # fmt: skip
    return FlangeBuckling(
        ceiling, lambda_f, lambda_pf, local, F_LTB, F_nc, F_cr, r_t, unbraced, L_p, L_r, gradient
    )


def _local(
    sheet: Sheet, sides: Sides, *, ceiling: Operand, drop: Operand, residual: Operand
) -> tuple[Operand, Operand, Operand]:
    step, E, F_yc = sheet.step, use(sheet, "E"), sides.compression.strength
    flange, ref = sides.compression, "LRFD 6.10.8.2.2"
    lambda_f = step(
        "lambda_f", flange.width / (2 * flange.thickness), None, "slenderness of the flange",
        ref=f"{ref}-3",
    )  # fmt: skip
    lambda_pf = step(
        "lambda_pf", 0.38 * sqrt(E / F_yc), None, "limit of a compact flange", ref=f"{ref}-4"
    )
    lambda_rf = step(
        "lambda_rf", 0.56 * sqrt(E / residual), None, "limit of a noncompact flange",
        ref=f"{ref}-5",
    )  # fmt: skip
    share = (lambda_f - lambda_pf) / (lambda_rf - lambda_pf)
    local = step(
        "F_FLB",
        cases(
            (lambda_f <= lambda_pf, ceiling, "compact flange"),
            otherwise=((1 - drop * share) * ceiling, "noncompact flange"),
        ),
        ksi,
        "flange local buckling",
        ref=f"{ref}-1, -2",
        valid=(lambda_f <= use(sheet, "lambda_f_max"),),
    )
    return lambda_f, lambda_pf, local


def _radius(sheet: Sheet, geometry: Geometry, sides: Sides, web: Web) -> Operand:
    flange, t_w = sides.compression, geometry.section.web.thickness
    return sheet.step(
        "r_t",
        flange.width / sqrt(12 * (1 + web.depth * t_w / (3 * flange.area))),
        inch,
        "effective radius of gyration for lateral-torsional buckling",
        ref="LRFD 6.10.8.2.3-9",
    )
