"""The bare steel of a girder between its braces, by the Standard Specifications."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stepcalc.bridge.constants import use
from stepcalc.expr.functions import cases, minimum, sqrt
from stepcalc.units import inch, kip_ft, ksi

if TYPE_CHECKING:
    from stepcalc.bridge.composite.elastic import Elastic
    from stepcalc.bridge.composite.geometry import Geometry
    from stepcalc.bridge.composite.sides import Sides
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.sheet import Sheet

__all__ = ["allowable_between_braces", "bare_torsion", "bend_buckling_lfd", "strength_braced"]


def bare_torsion(sheet: Sheet, geometry: Geometry) -> Operand:
    r"""Write the torsional constant of the plates, :math:`J = \frac13 \sum b t^3`.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the step.
    geometry : Geometry
        The steel.

    Returns
    -------
    Operand
        The step ``J``, [length**4].

    Source
    ------
    AASHTO Standard Specifications, 17th ed. (2002), Table 10.32.1A; from memory.
    """
    section = geometry.section
    J = section.web.width * section.web.thickness**3 / 3
    for plate in (section.top, section.bottom, section.top_cover, section.bottom_cover):
        if plate is not None:
            J = J + plate.width * plate.thickness**3 / 3
    return sheet.step("J", J, inch**4, "torsional constant", ref="Std Table 10.32.1A")


def allowable_between_braces(
    sheet: Sheet,
    geometry: Geometry,
    sides: Sides,
    steel: Elastic,
    *,
    unbraced: Operand,
    gradient: Operand,
) -> Operand:
    r"""Write the allowable stress of the compression flange between braces.

    .. math:: F_b = \frac{50\,000\,C_b}{S_{xc}}\frac{I_{yc}}{L_b}
        \sqrt{0.772\frac{J}{I_{yc}} + 9.87\left(\frac{d}{L_b}\right)^2} \le 0.55 F_y

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    geometry, sides, steel
        The bare steel; the top is compressed.
    unbraced : Operand, [length]
        ``L_b``.
    gradient : Operand
        ``C_b``.

    Returns
    -------
    Operand
        The step ``F_b1``, [stress].

    Source
    ------
    AASHTO Standard Specifications, 17th ed. (2002), Table 10.32.1A (50,000 ksi for 50 million
    psi); from memory.
    """
    flange = sides.compression
    J, I_yc = bare_torsion(sheet, geometry), flange.weak_inertia
    root = sqrt(0.772 * J / I_yc + 9.87 * (geometry.depth / unbraced) ** 2)
    formula = 50_000 * ksi * gradient / steel.S_top * (I_yc / unbraced) * root
    return sheet.step(
        "F_b1", minimum(formula, use(sheet, "c_Fb") * flange.strength), ksi,
        "allowable bending stress between braces", ref="Std Table 10.32.1A",
    )  # fmt: skip


def strength_braced(
    sheet: Sheet,
    geometry: Geometry,
    sides: Sides,
    steel: Elastic,
    *,
    unbraced: Operand,
    gradient: Operand,
) -> Operand:
    r"""Write the moment strength of the bare steel between braces, load factor design.

    .. math:: M_r = 91\,000\,C_b \frac{I_{yc}}{L_b}
        \sqrt{0.772\frac{J}{I_{yc}} + 9.87\left(\frac{d}{L_b}\right)^2} \le M_y
        \quad (D_c/t_w \le \lambda/\sqrt{F_y})

        \text{else } M_r = M_y, \; C_b M_y\left[1 - \tfrac12\frac{L_b - L_p}{L_r - L_p}\right], \;
        \tfrac12 C_b M_y (L_r/L_b)^2, \qquad
        R_b = 1 - 0.002\frac{D_c t_w}{A_{fc}}
        \left(\frac{D_c}{t_w} - \frac{\lambda}{\sqrt{M_r/S_{xc}}}\right) \le 1

    with :math:`\lambda` = 487 ksi^0.5 up to :math:`D_c = D/2` and 395 beyond (15,400 and 12,500 in
    psi), and the flange held to :math:`(139 t/b)^2` ksi.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    geometry, sides, steel
        The bare steel; the top is compressed.
    unbraced : Operand, [length]
        ``L_b``.
    gradient : Operand
        ``C_b``.

    Returns
    -------
    Operand
        The step ``M_ur``, [force * length].

    Source
    ------
    AASHTO Standard Specifications, 17th ed. (2002), Art. 10.48.2.1, 10.48.4.1, Eq. 10-103b to
    -103g; from memory.
    """
    step, flange, web = sheet.step, sides.compression, geometry.section.web
    F, I_yc, S = flange.strength.magnitude(ksi), flange.weak_inertia, steel.S_top
    J = bare_torsion(sheet, geometry)
    D_c = step("D_cb", geometry.web_top - steel.centroid, inch,
               "web in compression, bare steel", ref="geometry")  # fmt: skip
    limit = step(
        "lambda_b",
        cases((D_c <= web.width / 2, 15_400 / 1000**0.5, "not more than half of the web"),
              otherwise=(12_500 / 1000**0.5, "more than half of the web")),
        None, "limit of the web, root of ksi", ref="Std 10.48.4.1",
    )  # fmt: skip
    M_y = step("M_yb", flange.strength * S, kip_ft, "yield of the compression flange",
               ref="Std 10.48.4.1")  # fmt: skip
    r = step("r_b", sqrt(I_yc / flange.area), inch, "compression flange about the web's axis",
             ref="Std 10.48.4.1", symbol="r'")  # fmt: skip
    L_p = step("L_p", 9500 / 1000**0.5 * r / sqrt(F), inch, "no buckling up to",
               ref="Std 10.48.4.1")  # fmt: skip
    L_r = step(
        "L_r", sqrt(572_000 * ksi * I_yc * geometry.depth / (flange.strength * S)), inch,
        "elastic buckling from", ref="Std 10.48.4.1",
    )  # fmt: skip
    root = sqrt(0.772 * J / I_yc + 9.87 * (geometry.depth / unbraced) ** 2)
    torsion = 91_000 * ksi * gradient * (I_yc / unbraced) * root
    straight = gradient * M_y * (1 - 0.5 * (unbraced - L_p) / (L_r - L_p))
    M_r = step(
        "M_r",
        cases(
            (D_c / web.thickness <= limit / sqrt(F), minimum(torsion, M_y), "stocky web"),
            (unbraced <= L_p, 1 * M_y, "slender web, short"),
            (unbraced <= L_r, minimum(straight, M_y), "slender web, inelastic"),
            otherwise=(
                minimum(gradient * M_y / 2 * (L_r / unbraced) ** 2, M_y), "slender web, elastic",
            ),
        ),
        kip_ft, "lateral-torsional strength", ref="Std 10.48.4.1",
    )  # fmt: skip
    stress = (M_r / S).magnitude(ksi)
    lost = (
        0.002 * (D_c * web.thickness / flange.area) * (D_c / web.thickness - limit / sqrt(stress))
    )
    R_b = step("R_b", minimum(1 - lost, 1), None, "flange-stress reduction of a slender web",
               ref="Std 10.48.4.1")  # fmt: skip
    slender = flange.width / flange.thickness
    F_cr = step(
        "F_crf", minimum((4400 / slender) ** 2 / 1000 * ksi, flange.strength), ksi,
        "local buckling stress of the flange, (4400 t/b)² in psi", ref="Std 10.48.2.1",
        valid=(slender <= 24,),
    )  # fmt: skip
    return step(
        "M_ur", minimum(M_r * R_b, F_cr * S * R_b), kip_ft, "strength between braces",
        ref="Std 10.48.4.1",
    )  # fmt: skip


def bend_buckling_lfd(
    sheet: Sheet, geometry: Geometry, depth: Operand, *, longitudinal: bool = False
) -> Operand:
    r"""Write the bend-buckling stress of the web in the pour.

    .. math:: F_{cr} = \frac{26\,200\,\alpha k}{(D/t_w)^2} \le F_{yw}, \quad k = 9 (D/D_c)^2

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    geometry : Geometry
        The web.
    depth : Operand, [length]
        ``D_c`` of the bare steel.
    longitudinal : bool
        Whether the web has a longitudinal stiffener; ``alpha`` is 1.0 then, else 1.3.

    Returns
    -------
    Operand
        The step ``F_crw``, [stress].

    Source
    ------
    AASHTO Standard Specifications, 17th ed. (2002), Art. 10.61.1; from memory, alpha with doubt.
    """
    web = geometry.section.web
    alpha = sheet.given(
        "alpha_w", 1.0 if longitudinal else 1.3, "edge factor of the web",
        assumed="Std 10.61.1 as remembered: 1.3, or 1.0 with a longitudinal stiffener",
    )  # fmt: skip
    k = sheet.step("k_w", 9 * (web.width / depth) ** 2, None, "bend-buckling coefficient",
                   ref="Std 10.61.1")  # fmt: skip
    formula = 26_200 * ksi * alpha * k / (web.width / web.thickness) ** 2
    return sheet.step("F_crw", minimum(formula, web.strength), ksi, "web bend-buckling stress",
                      ref="Std 10.61.1")  # fmt: skip
