"""Strength I shear of an unstiffened web."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stepcalc.bridge.constants import use
from stepcalc.expr.functions import cases, sqrt
from stepcalc.units import kip

if TYPE_CHECKING:
    from stepcalc.bridge.section import SectionProperties
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.nodes import Check
    from stepcalc.sheet.sheet import Sheet


@dataclass(frozen=True)
class ShearStrength:
    """Plastic shear force, buckling ratio, nominal resistance, and the check."""

    plastic: Operand
    ratio: Operand
    nominal: Operand
    check: Check


def strength_shear(
    sheet: Sheet, section: SectionProperties, *, yield_strength: Operand, demand: Operand
) -> ShearStrength:
    r"""Write the shear resistance of an unstiffened web and check Strength I.

    .. math:: V_n = C V_p, \quad V_p = 0.58 F_{yw} D t_w, \quad
        C = \begin{cases}
        1 & D/t_w \le 1.12\sqrt{E k/F_{yw}} \\
        \frac{1.12}{D/t_w}\sqrt{E k/F_{yw}} & D/t_w \le 1.40\sqrt{E k/F_{yw}} \\
        \frac{1.57}{(D/t_w)^2}\frac{E k}{F_{yw}} & \text{otherwise}\end{cases}

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    section : SectionProperties
        The rolled shape.
    yield_strength : Operand, [stress]
        Yield strength of the web.
    demand : Operand, [force]
        Factored shear ``V_u`` at the bearing.

    Returns
    -------
    ShearStrength
        ``V_p``, ``C``, ``V_n`` and the check.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 6.10.9.2 and 6.10.9.3.2; from memory.  Editions before 2004
    have
    1.10, 1.38 and 1.52.
    """
    step, E, k_v, F_y = sheet.step, use(sheet, "E"), use(sheet, "k_v"), yield_strength
    lambda_v = step(
        "lambda_v",
        section.web_depth / section.web,
        description="slenderness of the web in shear",
        ref="LRFD 6.10.9.3.2",
    )
    root = step(
        "lambda_0",
        sqrt(E * k_v / F_y),
        description="measure of shear buckling",
        ref="LRFD 6.10.9.3.2-4",
    )
    V_p = step(
        "V_p",
        0.58 * F_y * section.web_depth * section.web,
        kip,
        "plastic shear force",
        ref="LRFD 6.10.9.2-2",
    )
    C = step(
        "C",
        cases(
            (lambda_v <= 1.12 * root, 1.0, "the web yields"),
            (lambda_v <= 1.40 * root, 1.12 / lambda_v * root, "inelastic shear buckling"),
            otherwise=(1.57 / lambda_v**2 * root**2, "elastic shear buckling"),
        ),
        description="shear buckling over shear yield",
        ref="LRFD 6.10.9.3.2-4 to -6",
    )
    V_n = step(
        "V_n", C * V_p, kip, "nominal shear resistance, unstiffened web", ref="LRFD 6.10.9.2-1"
    )
    check = sheet.check(
        "Shear, Strength I",
        demand <= use(sheet, "phi_v") * V_n,
        ref="LRFD 6.10.9.1-1",
        location="bearing",
    )
    return ShearStrength(V_p, C, V_n, check)
