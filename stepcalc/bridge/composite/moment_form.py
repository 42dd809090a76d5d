"""Resistance in terms of moment of a section with a compact or noncompact web: Appendix A6."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stepcalc.bridge.constants import use
from stepcalc.expr.functions import all_of, cases, maximum, minimum, pi, sqrt
from stepcalc.units import inch, kip_ft, ksi

if TYPE_CHECKING:
    from stepcalc.bridge.composite.flange_buckling import FlangeBuckling
    from stepcalc.bridge.composite.geometry import Geometry
    from stepcalc.bridge.composite.plastic import PlasticMoment
    from stepcalc.bridge.composite.sides import Sides
    from stepcalc.bridge.composite.web import Web
    from stepcalc.bridge.composite.yielding import YieldMoment
    from stepcalc.expr.tree import Condition, Operand
    from stepcalc.sheet.sheet import Sheet


@dataclass(frozen=True)
class MomentForm:
    """Resistance by Appendix A6.

    Attributes
    ----------
    eligible : Condition
        Whether the appendix may be used.
    R_pc, R_pt : Operand
        Web plastification factors.
    greatest, compression, tension : Operand, [force * length]
        ``R_pc M_yc``, ``M_nc``, ``M_nt``; of a braced flange the second is the first.
    local, lateral : Operand or None, [force * length]
        ``M_FLB``, ``M_LTB``; a braced flange has neither.
    modulus : Operand, [length**3]
        ``S_xc`` = M_yc / F_yc.
    """

    eligible: Condition
    R_pc: Operand
    R_pt: Operand
    greatest: Operand
    local: Operand | None
    lateral: Operand | None
    compression: Operand
    tension: Operand
    modulus: Operand


def eligible_for_appendix_a6(
    sheet: Sheet, sides: Sides, web: Web, skew: Operand | None = None
) -> Condition:
    """Return the condition under which Appendix A6 may be used (straight girder, little skew).

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the step ``r_Iy``.
    sides : Sides
        Flanges.
    web : Web
        Its class.
    skew : Operand, optional
        Skew of the supports, an angle; none of a square bridge.

    Returns
    -------
    Condition
        Flange strength, web slenderness, the ratio of the flanges, and a skew up to 20 degrees.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 6.10.6.2.3; from memory.
    """
    r_Iy = sheet.step(
        "r_Iy", sides.compression.weak_inertia / sides.tension.weak_inertia, None,
        "I_yc / I_yt", ref="LRFD 6.10.6.2.3-2",
    )  # fmt: skip
    most = use(sheet, "F_A6_max")
    little = () if skew is None else (skew <= use(sheet, "theta_A6"),)
    return all_of(
        *little,
        sides.compression.strength <= most,
        sides.tension.strength <= most,
        web.slenderness < web.limit,
        r_Iy >= use(sheet, "r_A6_min"),
    )


def moment_form(
    sheet: Sheet,
    geometry: Geometry,
    sides: Sides,
    web: Web,
    *,
    plastic: PlasticMoment,
    yielding: YieldMoment,
    buckling: FlangeBuckling | None,
    skew: Operand | None = None,
) -> MomentForm:
    r"""Write plastification factors, local and lateral-torsional buckling in terms of moment.

    .. math:: \lambda_{pw(Dcp)} = \frac{\sqrt{E/F_{yc}}}{(0.54 M_p / (R_h M_y) - 0.09)^2}, \quad
        R_{pc} = \left[1 - \left(1 - \frac{R_h M_{yc}}{M_p}\right)
        \frac{\lambda_w - \lambda_{pw(Dc)}}{\lambda_{rw} - \lambda_{pw(Dc)}}\right]
        \frac{M_p}{M_{yc}} \le \frac{M_p}{M_{yc}}

    A slender web, for which the appendix is not permitted, has the factor ``R_h`` at which the
    formula ends; only ``u_M`` says that it is outside its range.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    geometry : Geometry
        The parts.
    sides : Sides
        Flanges.
    web : Web
        Its class, ``D_c`` and ``R_h``.
    plastic : PlasticMoment
        ``M_p`` and ``D_cp``.
    yielding : YieldMoment
        ``M_yc``, ``M_yt``, ``M_y``.
    buckling : FlangeBuckling or None
        Slenderness of the flange, ``r_t``, ``L_b``, ``L_p``, ``C_b``; None of a braced flange.
    skew : Operand, optional
        Skew of the supports, an angle.

    Returns
    -------
    MomentForm
        Steps ``lambda_wp lambda_pw R_pc R_pt M_max S_xc F_yr6 M_FLB J h_f L_r6 F_cr6 M_LTB M_nc
        M_nt``.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. A6.2, A6.3; from memory.
    """
    step = sheet.step
    eligible = eligible_for_appendix_a6(sheet, sides, web, skew)
    R_pc, R_pt = _plastification(sheet, geometry, sides, web, plastic, yielding)
    greatest = step(
        "M_max", R_pc * yielding.compression, kip_ft, "greatest nominal moment, Appendix A6",
        ref="LRFD A6.3.2-1",
    )  # fmt: skip
    S_xc = step(
        "S_xc", yielding.compression / sides.compression.strength, inch**3, "M_yc/F_yc",
        ref="LRFD A6.1.1",
    )  # fmt: skip
    local = lateral = None
    M_nc = greatest
    if buckling is not None:
        F_yr = _residual(sheet, geometry, sides, web, yielding, S_xc)
        local = _local(sheet, geometry, buckling, greatest, F_yr, S_xc)
        lateral = _lateral(sheet, geometry, sides, buckling, greatest, F_yr, S_xc)
        M_nc = step(
            "M_nc", minimum(local, lateral), kip_ft, "compression flange, Appendix A6",
            ref="LRFD A6.3.1",
        )  # fmt: skip
    M_nt = step(
        "M_nt", R_pt * yielding.tension, kip_ft, "tension flange, Appendix A6", ref="LRFD A6.4-1"
    )
    return MomentForm(eligible, R_pc, R_pt, greatest, local, lateral, M_nc, M_nt, S_xc)


def _plastification(
    sheet: Sheet,
    geometry: Geometry,
    sides: Sides,
    web: Web,
    plastic: PlasticMoment,
    yielding: YieldMoment,
) -> tuple[Operand, Operand]:
    step, R_h, M_p = sheet.step, web.hybrid, plastic.moment
    D_c, D_cp = web.depth, plastic.web_in_compression
    t_w = geometry.section.web.thickness
    root = sqrt(use(sheet, "E") / sides.compression.strength)
    lambda_wp = step(
        "lambda_wp", 2 * D_cp / t_w, None, "slenderness of the web at the plastic moment",
        ref="LRFD A6.2.1-1",
    )  # fmt: skip
    curve = root / (0.54 * M_p / (R_h * yielding.least) - 0.09) ** 2
    none = D_c <= 0 * inch
    limit = step(
        "lambda_pw",
        cases(
            (none, curve, "elastic axis outside the web"),
            otherwise=(minimum(curve, web.limit * D_cp / D_c), "axis in the web"),
        ),
        None,
        "limit of a compact web, for D_cp",
        ref="LRFD A6.2.1-2",
    )
    elastic_limit = step(
        "lambda_pwc",
        cases(
            (D_cp <= 0 * inch, web.limit, "plastic axis outside the web"),
            otherwise=(minimum(limit * D_c / D_cp, web.limit), "axis in the web"),
        ),
        None,
        "the same for D_c",
        ref="LRFD A6.2.2-6",
    )
    share = (web.slenderness - elastic_limit) / (web.limit - elastic_limit)

    def factor(name: str, M_y: Operand, words: str, ref: str) -> Operand:
        reduced = minimum((1 - (1 - R_h * M_y / M_p) * share) * M_p / M_y, M_p / M_y)
        return step(
            name,
            cases(
                (web.slenderness >= web.limit, 1 * R_h, "slender web: no plastification"),
                (lambda_wp <= limit, M_p / M_y, "compact web"),
                otherwise=(reduced, "noncompact"),
            ),
            None,
            words,
            ref=ref,
        )

    R_pc = factor(
        "R_pc", yielding.compression, "web plastification, compression", "LRFD A6.2.1-4, A6.2.2-4"
    )
    R_pt = factor(
        "R_pt", yielding.tension, "web plastification, tension", "LRFD A6.2.1-5, A6.2.2-5"
    )
    return R_pc, R_pt


def _residual(
    sheet: Sheet,
    geometry: Geometry,
    sides: Sides,
    web: Web,
    yielding: YieldMoment,
    S_xc: Operand,
) -> Operand:
    F_yc = sides.compression.strength
    pulled = web.hybrid * yielding.tension / S_xc  # M_yt = F_yt S_xt
    least = minimum(0.7 * F_yc, pulled, geometry.section.web.strength)
    return sheet.step(
        "F_yr6", maximum(least, 0.5 * F_yc), ksi,
        "compression flange stress at the onset of yielding, Appendix A6",
        ref="LRFD A6.3.2", symbol="F_yr,A6",
    )  # fmt: skip


def _local(
    sheet: Sheet,
    geometry: Geometry,
    buckling: FlangeBuckling,
    greatest: Operand,
    F_yr: Operand,
    S_xc: Operand,
) -> Operand:
    step, section = sheet.step, geometry.section
    if section.rolled:
        k_c = use(sheet, "k_c")
    else:
        by_web = 4 / sqrt(section.web.width / section.web.thickness)
        k_c = step(
            "k_cb", minimum(maximum(by_web, 0.35), 0.76), None,
            "flange local buckling coefficient, built-up section", ref="LRFD A6.3.2-6",
            symbol="k_c",
        )  # fmt: skip
    limit = step(
        "lambda_rf6", 0.95 * sqrt(use(sheet, "E") * k_c / F_yr), None,
        "limit of a noncompact flange, Appendix A6", ref="LRFD A6.3.2-5", symbol="lambda_rf,A6",
    )  # fmt: skip
    share = (buckling.slenderness - buckling.compact_limit) / (limit - buckling.compact_limit)
    return step(
        "M_FLB",
        cases(
            (buckling.slenderness <= buckling.compact_limit, greatest, "compact flange"),
            otherwise=((1 - (1 - F_yr * S_xc / greatest) * share) * greatest, "noncompact flange"),
        ),
        kip_ft,
        "flange local buckling, Appendix A6",
        ref="LRFD A6.3.2-1, -2",
        valid=(buckling.slenderness <= use(sheet, "lambda_f_max"),),
    )


def _torsion(sheet: Sheet, geometry: Geometry, sides: Sides) -> tuple[Operand, Operand]:
    """Write ``J`` of the plates and the distance between the flange plates."""
    web = geometry.section.web
    J = web.width * web.thickness**3 / 3
    for plate in (*sides.compression.plates, *sides.tension.plates):
        b, t = plate.width, plate.thickness
        J = J + b * t**3 / 3 * (1 - 0.63 * t / b)
    constant = sheet.step("J", J, inch**4, "St. Venant torsional constant", ref="LRFD A6.3.3-9")
    top, bottom = geometry.piece("tf"), geometry.piece("bf")
    h = sheet.step("h_f", top.centre - bottom.centre, inch, "between the flanges", ref="geometry")
    return constant, h


def _lateral(
    sheet: Sheet,
    geometry: Geometry,
    sides: Sides,
    buckling: FlangeBuckling,
    greatest: Operand,
    F_yr: Operand,
    S_xc: Operand,
) -> Operand:
    step, E = sheet.step, use(sheet, "E")
    J, h = _torsion(sheet, geometry, sides)
    X = step("X_J", J / (S_xc * h), None, "torsion against warping", ref="LRFD A6.3.3-5")
    L_b, L_p, r_t, C_b = (
        buckling.unbraced, buckling.compact_length, buckling.radius, buckling.gradient
    )  # fmt: skip
    root = sqrt(1 + sqrt(1 + 6.76 * (F_yr / (E * X)) ** 2))
    L_r = step(
        "L_r6", 1.95 * r_t * (E / F_yr) * sqrt(X) * root, inch,
        "elastic buckling beyond, Appendix A6", ref="LRFD A6.3.3-5", symbol="L_r,A6",
    )  # fmt: skip
    F_cr = step(
        "F_cr6", C_b * pi**2 * E / (L_b / r_t) ** 2 * sqrt(1 + 0.078 * X * (L_b / r_t) ** 2), ksi,
        "elastic lateral-torsional buckling stress, Appendix A6", ref="LRFD A6.3.3-8",
        symbol="F_cr,A6",
    )  # fmt: skip
    drop = 1 - F_yr * S_xc / greatest
    inelastic = C_b * (1 - drop * ((L_b - L_p) / (L_r - L_p))) * greatest
    M_0 = step(
        "M_0",
        cases(
            (L_b <= L_p, greatest, "compact unbraced length"),
            (L_b <= L_r, inelastic, "inelastic buckling"),
            otherwise=(F_cr * S_xc, "elastic buckling"),
        ),
        kip_ft,
        "buckling moment before its upper bound",
        ref="LRFD A6.3.3-1 to -3",
    )
    return step(
        "M_LTB", minimum(M_0, greatest), kip_ft, "lateral-torsional buckling, Appendix A6",
        ref="LRFD A6.3.3-1 to -3",
    )  # fmt: skip
