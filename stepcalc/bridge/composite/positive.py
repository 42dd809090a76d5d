"""Strength of a composite section in positive bending: Article 6.10.7."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stepcalc.bridge.constants import use
from stepcalc.expr.functions import all_of, cases, maximum, minimum, sqrt
from stepcalc.units import inch, kip_ft, ksi

if TYPE_CHECKING:
    from stepcalc.bridge.composite.geometry import Geometry
    from stepcalc.bridge.composite.plastic import PlasticMoment
    from stepcalc.bridge.composite.sides import Sides
    from stepcalc.bridge.composite.stages import StagedStresses
    from stepcalc.bridge.composite.web import Web
    from stepcalc.bridge.composite.yielding import YieldMoment
    from stepcalc.expr.tree import Condition, Operand
    from stepcalc.sheet.nodes import Check
    from stepcalc.sheet.sheet import Sheet


@dataclass(frozen=True)
class PositiveStrength:
    """Resistance in positive bending by both forms, and the checks.

    Attributes
    ----------
    nominal : Operand, [force * length]
        ``M_n`` of a compact section.
    by_moment, by_stress : Operand
        Demand over resistance by 6.10.7.1 and by 6.10.7.2: ``u_M``, ``u_F``.
    ratio : Operand
        ``u_f``: the one that decides; its branch says which and why.
    flexure, slab, ductility : Check
    """

    nominal: Operand
    by_moment: Operand
    by_stress: Operand
    ratio: Operand
    flexure: Check
    slab: Check
    ductility: Check


def positive_strength(
    sheet: Sheet,
    geometry: Geometry,
    sides: Sides,
    web: Web,
    *,
    plastic: PlasticMoment,
    yielding: YieldMoment,
    stresses: StagedStresses,
    demand: Operand,
    lateral: Operand | None = None,
    continuous: bool,
    location: str | None = None,
) -> PositiveStrength:
    r"""Write the resistance of a straight composite section in positive bending, and check it.

    Compact: :math:`M_u + \tfrac13 f_l S_{xt} \le \phi_f M_n`.  Noncompact:
    :math:`f_{bu} \le \phi_f R_b R_h F_{yc}` and
    :math:`f_{bu} + \tfrac13 f_l \le \phi_f R_h F_{yt}`.  Both are printed; the class decides.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    geometry : Geometry
        The parts, with a slab.
    sides : Sides
        Top compressed, bottom stretched.
    web : Web
        Hybrid and load-shedding factors.
    plastic : PlasticMoment
        Positive, with ``D_p`` and ``D_t``.
    yielding : YieldMoment
        By stages.
    stresses : StagedStresses
        Strength I.
    demand : Operand, [force * length]
        ``M_u``.
    lateral : Operand, [stress], optional
        Lateral bending stress of the bottom flange ``f_l``; none when left out.
    continuous : bool
        Whether the span is continuous: the cap 1.3 R_h M_y then holds.
    location : str, optional
        Where along the girder.

    Returns
    -------
    PositiveStrength
        Steps ``lambda_cp M_n u_M u_F u_f``.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 6.10.6.2.2, 6.10.7.1 to 6.10.7.3; from memory.
    """
    assert plastic.slab_in_compression is not None
    assert plastic.composite_depth is not None
    step, phi = sheet.step, use(sheet, "phi_f")
    D_p, D_t = plastic.slab_in_compression, plastic.composite_depth
    compact = _compact(sheet, geometry, sides, plastic)
    M_n = _nominal(sheet, plastic, yielding, web, continuous=continuous)
    F_yt = sides.tension.strength
    push, pull = stresses.top, stresses.bottom
    moment, tension = demand, pull
    if lateral is not None:
        S_xt = step("S_xt", yielding.tension / F_yt, inch**3, "M_yt/F_yt", ref="LRFD 6.10.7.1.1")
        moment, tension = demand + lateral * S_xt / 3, pull + lateral / 3
    u_M = step(
        "u_M", moment / (phi * M_n), None, "demand over resistance, compact",
        ref="LRFD 6.10.7.1.1-1",
    )  # fmt: skip
    F_nc = step(
        "F_nc", web.shedding * web.hybrid * sides.compression.strength, ksi,
        "compression flange", ref="LRFD 6.10.7.2.2-1",
    )  # fmt: skip
    F_nt = step("F_nt", web.hybrid * F_yt, ksi, "tension flange", ref="LRFD 6.10.7.2.2-2")
    u_F = step(
        "u_F", maximum(push / (phi * F_nc), tension / (phi * F_nt)), None,
        "demand over resistance, noncompact", ref="LRFD 6.10.7.2.1-1, -2",
    )  # fmt: skip
    u_f = step(
        "u_f",
        cases(
            (compact, u_M, "compact: the plastic moment, 6.10.7.1"),
            otherwise=(u_F, "noncompact: flange stresses, 6.10.7.2"),
        ),
        None,
        "demand over resistance of the class that holds",
        ref="LRFD 6.10.6.2.2",
    )
    flexure = sheet.check(
        "Flexure, positive, Strength I", u_f <= 1.0, ref="LRFD 6.10.7.1.1-1, 6.10.7.2.1",
        location=location,
    )  # fmt: skip
    crushing = _slab_check(sheet, geometry, stresses, compact, location)
    ductility = sheet.check(
        "Ductility", D_p <= use(sheet, "r_duct") * D_t, ref="LRFD 6.10.7.3-1", location=location
    )
    return PositiveStrength(M_n, u_M, u_F, u_f, flexure, crushing, ductility)


def _compact(sheet: Sheet, geometry: Geometry, sides: Sides, plastic: PlasticMoment) -> Condition:
    F_max, web = use(sheet, "F_cp_max"), geometry.section.web
    slender = sheet.step(
        "lambda_cp", 2 * plastic.web_in_compression / web.thickness, None,
        "slenderness of the web at the plastic moment", ref="LRFD 6.10.6.2.2-1",
    )  # fmt: skip
    root = sqrt(use(sheet, "E") / sides.compression.strength)
    limit = sheet.step(
        "lambda_cpw", 3.76 * root, None, "limit of a compact web", ref="LRFD 6.10.6.2.2-1"
    )
    return all_of(
        sides.compression.strength <= F_max,
        sides.tension.strength <= F_max,
        web.width / web.thickness <= use(sheet, "lambda_w_max"),
        slender <= limit,
    )


def _nominal(
    sheet: Sheet, plastic: PlasticMoment, yielding: YieldMoment, web: Web, *, continuous: bool
) -> Operand:
    M_p, D_p, D_t = plastic.moment, plastic.slab_in_compression, plastic.composite_depth
    assert D_p is not None
    assert D_t is not None
    full = cases(
        (D_p <= use(sheet, "r_Dp") * D_t, M_p, "axis high: the full plastic moment"),
        otherwise=(M_p * (1.07 - 0.7 * D_p / D_t), "reduced for the depth of the axis"),
    )
    words, ref = "nominal moment, compact section", "LRFD 6.10.7.1.2-1, -2"
    if not continuous:
        sheet.note("Simple span: the limit of 1.3 times the yield moment does not apply.")
        return sheet.step("M_n", full, kip_ft, words, ref=ref)
    M_n0 = sheet.step("M_n0", full, kip_ft, f"{words}, before the limit", ref=ref)
    cap = use(sheet, "c_My") * web.hybrid * yielding.least
    return sheet.step(
        "M_n",
        minimum(M_n0, cap),
        kip_ft,
        f"{words}, continuous span",
        ref="LRFD 6.10.7.1.2-3",
    )


def _slab_check(
    sheet: Sheet,
    geometry: Geometry,
    stresses: StagedStresses,
    compact: Condition,
    location: str | None,
) -> Check:
    slab = geometry.section.slab
    assert slab is not None
    assert stresses.deck is not None
    f_s = sheet.step(
        "f_slab",
        cases(
            (compact, 0 * ksi, "compact section: not asked for"),
            otherwise=(stresses.deck, "noncompact section"),
        ),
        ksi,
        "slab stress to be held against its limit",
        ref="LRFD 6.10.7.2.1",
    )
    return sheet.check(
        "Slab stress, Strength I", f_s <= use(sheet, "c_slab") * slab.strength,
        ref="LRFD 6.10.7.2.1", location=location,
    )  # fmt: skip
