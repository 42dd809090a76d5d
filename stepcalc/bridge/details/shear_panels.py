"""Shear of a web by panels (6.10.9): unstiffened, end panel, interior panel with tension field."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stepcalc.bridge.constants import use
from stepcalc.expr.functions import cases, sqrt
from stepcalc.units import kip

if TYPE_CHECKING:
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.nodes import Check
    from stepcalc.sheet.sheet import Sheet


@dataclass(frozen=True)
class PanelWeb:
    """The web of a panel.

    Attributes
    ----------
    depth : Operand, [length]
        ``D``, clear between the flanges; not the depth of the girder.
    thickness : Operand, [length]
        ``t_w``.
    strength : Operand, [stress]
        ``F_yw``.
    """

    depth: Operand
    thickness: Operand
    strength: Operand


@dataclass(frozen=True)
class PanelShear:
    """Shear of one panel.

    Attributes
    ----------
    demand, buckling, nominal : Operand, [force]
        ``V_u``, ``V_cr`` and ``V_n``.
    plastic : Operand, [force]
        ``V_p``.
    ratio, coefficient : Operand
        ``C`` and ``k``.
    checks : tuple of Check
        Strength first; then the spacing of an end panel.
    """

    demand: Operand
    plastic: Operand
    coefficient: Operand
    ratio: Operand
    buckling: Operand
    nominal: Operand
    checks: tuple[Check, ...]


def shear_buckling_ratio(sheet: Sheet, web: PanelWeb, coefficient: Operand) -> Operand:
    r"""Write the ratio ``C`` of shear-buckling resistance to shear yield.

    .. math:: C = 1 \;\Big(\tfrac{D}{t_w} \le 1.12\sqrt{\tfrac{E k}{F_{yw}}}\Big), \quad
        \frac{1.12}{D/t_w}\sqrt{\frac{E k}{F_{yw}}} \;\Big(\le 1.40\sqrt{\cdot}\Big), \quad
        \frac{1.57}{(D/t_w)^2}\frac{E k}{F_{yw}}

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    web : PanelWeb
        The web.
    coefficient : Operand
        Shear-buckling coefficient ``k``.

    Returns
    -------
    Operand
        The step ``C``; ``lambda_v`` and ``lambda_0`` are the other steps.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Eq. 6.10.9.3.2-4 to -6; from memory.  Editions before 2004 have
    1.10, 1.38 and 1.52.  The printed constants leave a jump of 0.1 percent at 1.40.
    """
    slender = sheet.step(
        "lambda_v", web.depth / web.thickness, None, "slenderness of the web in shear",
        ref="LRFD 6.10.9.3.2",
    )  # fmt: skip
    root = sheet.step(
        "lambda_0", sqrt(use(sheet, "E") * coefficient / web.strength), None,
        "measure of shear buckling", ref="LRFD 6.10.9.3.2-4",
    )  # fmt: skip
    return sheet.step(
        "C",
        cases(
            (slender <= 1.12 * root, 1.0, "the web yields"),
            (slender <= 1.40 * root, 1.12 / slender * root, "inelastic shear buckling"),
            otherwise=(1.57 / slender**2 * root**2, "elastic shear buckling"),
        ),
        None,
        "shear buckling over shear yield",
        ref="LRFD 6.10.9.3.2-4 to -6",
    )


def _resistance(
    sheet: Sheet, web: PanelWeb, coefficient: Operand
) -> tuple[Operand, Operand, Operand]:
    V_p = sheet.step(
        "V_p", 0.58 * web.strength * web.depth * web.thickness, kip, "plastic shear force",
        ref="LRFD 6.10.9.2-2",
    )  # fmt: skip
    C = shear_buckling_ratio(sheet, web, coefficient)
    V_cr = sheet.step("V_cr", C * V_p, kip, "shear-buckling resistance", ref="LRFD 6.10.9.2-1")
    return V_p, C, V_cr


def unstiffened_panel(
    sheet: Sheet, web: PanelWeb, *, demand: Operand, location: str | None = None
) -> PanelShear:
    r"""Write the shear resistance of a web without transverse stiffeners, and check it.

    .. math:: V_n = V_{cr} = C V_p, \quad V_p = 0.58 F_{yw} D t_w, \quad k = 5

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    web : PanelWeb
        The web.
    demand : Operand, [force]
        Factored shear ``V_u``.
    location : str, optional
        Where along the girder.

    Returns
    -------
    PanelShear
        Steps ``V_p lambda_v lambda_0 C V_cr``; where the check is OK no stiffeners are needed.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 6.10.9.2; from memory.
    """
    k = use(sheet, "k_v")
    V_p, C, V_cr = _resistance(sheet, web, k)
    check = sheet.check(
        "Shear, unstiffened web", demand <= use(sheet, "phi_v") * V_cr, ref="LRFD 6.10.9.1-1",
        location=location,
    )  # fmt: skip
    return PanelShear(demand, V_p, k, C, V_cr, V_cr, (check,))


def stiffened_coefficient(
    sheet: Sheet, web: PanelWeb, spacing: Operand, *, longitudinal: bool = False
) -> tuple[Operand, Operand]:
    """Write the aspect ratio of a panel and its shear-buckling coefficient.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    web : PanelWeb
        The web.
    spacing : Operand, [length]
        ``d_o``, between transverse stiffeners.
    longitudinal : bool
        Whether the web has longitudinal stiffeners.

    Returns
    -------
    tuple of Operand
        The steps ``alpha_d`` = d_o/D and ``k``; 5 where the spacing makes the web unstiffened.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 6.10.9.1 and Eq. 6.10.9.3.2-7; from memory.
    """
    limit = use(sheet, "r_do_l" if longitudinal else "r_do")
    aspect = sheet.step(
        "alpha_d", spacing / web.depth, None, "stiffener spacing over depth of the web",
        ref="LRFD 6.10.9.1",
    )  # fmt: skip
    k = sheet.step(
        "k",
        cases(
            (aspect <= limit, 5 + 5 / aspect**2, "stiffened panel"),
            otherwise=(use(sheet, "k_v"), "stiffeners too far apart: unstiffened web"),
        ),
        None,
        "shear-buckling coefficient",
        ref="LRFD 6.10.9.3.2-7",
    )
    return aspect, k


def end_panel(
    sheet: Sheet,
    web: PanelWeb,
    *,
    spacing: Operand,
    demand: Operand,
    longitudinal: bool = False,
    location: str | None = None,
) -> PanelShear:
    r"""Write the shear resistance of an end panel, which has no tension field, and check it.

    .. math:: V_n = V_{cr} = C V_p, \quad k = 5 + \frac{5}{(d_o/D)^2}, \quad d_o \le 1.5 D

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    web : PanelWeb
        The web.
    spacing : Operand, [length]
        ``d_o`` from the bearing to the first stiffener.
    demand : Operand, [force]
        Factored shear ``V_u``.
    longitudinal : bool
        Whether the web has longitudinal stiffeners.
    location : str, optional
        Where along the girder.

    Returns
    -------
    PanelShear
        Steps ``alpha_d k V_p lambda_v lambda_0 C V_cr``; checks of strength and spacing.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 6.10.9.3.3; from memory.
    """
    _, k = stiffened_coefficient(sheet, web, spacing, longitudinal=longitudinal)
    V_p, C, V_cr = _resistance(sheet, web, k)
    strength = sheet.check(
        "Shear, end panel", demand <= use(sheet, "phi_v") * V_cr, ref="LRFD 6.10.9.3.3-1",
        location=location,
    )  # fmt: skip
    far = sheet.check(
        "Spacing, end panel", spacing <= use(sheet, "r_do_end") * web.depth,
        ref="LRFD 6.10.9.3.3", location=location,
    )  # fmt: skip
    return PanelShear(demand, V_p, k, C, V_cr, V_cr, (strength, far))


def interior_panel(
    sheet: Sheet,
    web: PanelWeb,
    *,
    spacing: Operand,
    flanges: Operand,
    demand: Operand,
    longitudinal: bool = False,
    location: str | None = None,
) -> PanelShear:
    r"""Write the shear resistance of an interior panel with its tension field, and check it.

    .. math:: V_n = V_p\left[C + \frac{0.87 (1 - C)}{\sqrt{1 + (d_o/D)^2}}\right]
        \quad \text{if } \frac{2 D t_w}{b_{fc} t_{fc} + b_{ft} t_{ft}} \le 2.5, \quad
        \text{else}\quad
        V_n = V_p\left[C + \frac{0.87 (1 - C)}{\sqrt{1 + (d_o/D)^2} + d_o/D}\right]

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    web : PanelWeb
        The web.
    spacing : Operand, [length]
        ``d_o``; above 3 D (1.5 D with longitudinal stiffeners) the web counts as unstiffened.
    flanges : Operand, [length**2]
        Area of both flanges, the smaller ones in the panel.
    demand : Operand, [force]
        Factored shear ``V_u``.
    longitudinal : bool
        Whether the web has longitudinal stiffeners.
    location : str, optional
        Where along the girder.

    Returns
    -------
    PanelShear
        Steps ``alpha_d k V_p lambda_v lambda_0 C V_cr r_w V_n``.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Eq. 6.10.9.3.2-1, -2 and -8; from memory.  No interaction of shear
    and moment since 2004.
    """
    aspect, k = stiffened_coefficient(sheet, web, spacing, longitudinal=longitudinal)
    V_p, C, V_cr = _resistance(sheet, web, k)
    ratio = sheet.step(
        "r_w", 2 * web.depth * web.thickness / flanges, None, "twice the web over both flanges",
        ref="LRFD 6.10.9.3.2-1",
    )  # fmt: skip
    limit = use(sheet, "r_do_l" if longitudinal else "r_do")
    diagonal = sqrt(1 + aspect**2)
    V_n = sheet.step(
        "V_n",
        cases(
            (aspect > limit, V_cr, "unstiffened: no tension field"),
            (
                ratio <= use(sheet, "r_fl_w"),
                V_p * (C + 0.87 * (1 - C) / diagonal),
                "full tension field",
            ),
            otherwise=(
                V_p * (C + 0.87 * (1 - C) / (diagonal + aspect)),
                "light flanges: reduced tension field",
            ),
        ),
        kip,
        "nominal shear resistance",
        ref="LRFD 6.10.9.3.2-2, -8",
    )
    check = sheet.check(
        "Shear, interior panel", demand <= use(sheet, "phi_v") * V_n, ref="LRFD 6.10.9.1-1",
        location=location,
    )  # fmt: skip
    return PanelShear(demand, V_p, k, C, V_cr, V_n, (check,))
