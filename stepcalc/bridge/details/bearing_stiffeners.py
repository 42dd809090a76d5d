"""Bearing stiffeners (6.10.11.2): projecting width, bearing, and the column with its web strip."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stepcalc.bridge.constants import use
from stepcalc.expr.functions import cases, minimum, pi, sqrt
from stepcalc.units import inch, kip, ksi

if TYPE_CHECKING:
    from stepcalc.bridge.details.shear_panels import PanelWeb
    from stepcalc.bridge.details.transverse_stiffeners import StiffenerPlate
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.nodes import Check
    from stepcalc.sheet.sheet import Sheet


@dataclass(frozen=True)
class BearingPairs:
    """Pairs of plates over a bearing.

    Attributes
    ----------
    plate : StiffenerPlate
        One plate of a pair.
    clip : Operand, [length]
        Cut at the corner, which does not bear.
    pairs : int
        Pairs along the girder.
    pitch : Operand or None, [length]
        Between pairs, where there is more than one.
    """

    plate: StiffenerPlate
    clip: Operand
    pairs: int = 1
    pitch: Operand | None = None


@dataclass(frozen=True)
class BearingColumn:
    """The column of stiffeners and web strip.

    Attributes
    ----------
    area, inertia, radius, slenderness : Operand
        ``A_s``, ``I_s``, ``r_s``, ``lambda_c`` = K L/r.
    strength : Operand, [stress]
        Smaller yield strength of stiffener and web.
    """

    area: Operand
    inertia: Operand
    radius: Operand
    slenderness: Operand
    strength: Operand


@dataclass(frozen=True)
class BearingStiffener:
    """Factored resistances of bearing stiffeners and their checks."""

    bearing: Operand
    column: Operand
    checks: tuple[Check, ...]


def bearing_area(sheet: Sheet, pairs: BearingPairs, ref: str) -> Operand:
    """Write the area that bears on the flange, outside the clips.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the step.
    pairs : BearingPairs
        The stiffeners.
    ref : str
        Article.

    Returns
    -------
    Operand
        The step ``A_pn``, [length**2].

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 6.10.11.2.3; from memory.
    """
    plate = pairs.plate
    return sheet.step(
        "A_pn", 2 * pairs.pairs * (plate.width - pairs.clip) * plate.thickness, inch**2,
        "projecting area outside the clips", ref=ref,
    )  # fmt: skip


def bearing_column(
    sheet: Sheet, pairs: BearingPairs, web: PanelWeb, *, effective: Operand, ref: str
) -> BearingColumn:
    r"""Write the properties of the column: stiffeners and a strip of web.

    .. math:: A_s = 2 m b_t t_p + (18 t_w + (m - 1) s) t_w, \quad
        I_s = \frac{m t_p (2 b_t + t_w)^3}{12} + \frac{(18 t_w + (m - 1) s - m t_p) t_w^3}{12}

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    pairs : BearingPairs
        The stiffeners, m pairs at ``s``.
    web : PanelWeb
        The web.
    effective : Operand
        Effective length over the depth of the web, ``K``.
    ref : str
        Article.

    Returns
    -------
    BearingColumn
        Steps ``b_s A_s I_s r_s lambda_c F_col``.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 6.10.11.2.4; from memory.
    """
    step, plate, m = sheet.step, pairs.plate, pairs.pairs
    t_w = web.thickness
    strip = 18 * t_w if pairs.pitch is None else 18 * t_w + (m - 1) * pairs.pitch
    b_s = step("b_ws", strip, inch, "strip of web, 9 t_w on either side", ref=ref)
    A = step(
        "A_s", 2 * m * plate.width * plate.thickness + b_s * t_w, inch**2,
        "stiffeners and strip of web", ref=ref,
    )  # fmt: skip
    inertia = step(
        "I_s",
        m * plate.thickness * (2 * plate.width + t_w) ** 3 / 12
        + (b_s - m * plate.thickness) * t_w**3 / 12,
        inch**4,
        "about the middle of the web",
        ref=ref,
    )
    r = step("r_s", sqrt(inertia / A), inch, "radius of gyration", ref=ref)
    slender = step(
        "lambda_c", effective * web.depth / r, None, "slenderness of the column, K L / r", ref=ref
    )
    F = step(
        "F_col", minimum(plate.strength, web.strength), ksi,
        "smaller yield strength of stiffener and web", ref=ref,
    )  # fmt: skip
    return BearingColumn(A, inertia, r, slender, F)


def column_resistance(sheet: Sheet, column: BearingColumn) -> Operand:
    r"""Write the nominal compressive resistance of the column.

    .. math:: P_o = F_y A_s, \quad P_e = \frac{\pi^2 E A_s}{(K L/r)^2}, \quad
        P_n = 0.658^{P_o/P_e} P_o \;(P_o/P_e \le 2.25), \quad 0.877 P_e

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    column : BearingColumn
        From :func:`bearing_column`.

    Returns
    -------
    Operand
        The step ``P_n``; ``P_o`` and ``P_e`` are the other steps.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 6.9.4.1.1 and Eq. 6.9.4.1.2-1; from memory.
    """
    step, ref = sheet.step, "LRFD 6.9.4.1.1"
    P_o = step("P_o", column.strength * column.area, kip, "yield of the column", ref=ref)
    P_e = step(
        "P_e", pi**2 * use(sheet, "E") * column.area / column.slenderness**2, kip,
        "elastic buckling of the column", ref="LRFD 6.9.4.1.2-1",
    )  # fmt: skip
    exponent = P_o / P_e
    return step(
        "P_n",
        cases(
            (exponent <= 2.25, 0.658**exponent * P_o, "inelastic buckling"),
            otherwise=(0.877 * P_e, "elastic buckling"),
        ),
        kip,
        "nominal compressive resistance",
        ref=f"{ref}-1, -2",
    )


def bearing_stiffener(
    sheet: Sheet,
    pairs: BearingPairs,
    web: PanelWeb,
    *,
    reaction: Operand,
    location: str | None = None,
) -> BearingStiffener:
    r"""Check bearing stiffeners: width, bearing on the flange, column.

    .. math:: b_t \le 0.48 t_p \sqrt{E/F_{ys}}, \qquad R_u \le \phi_b 1.4 A_{pn} F_{ys}, \qquad
        R_u \le \phi_c P_n

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    pairs : BearingPairs
        The stiffeners.
    web : PanelWeb
        The web.
    reaction : Operand, [force]
        Factored reaction ``R_u``.
    location : str, optional
        Where along the girder.

    Returns
    -------
    BearingStiffener
        Steps ``R_br`` and ``P_r``, and three checks.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 6.10.11.2.2 to .4; from memory.  Built-up girders have them
    at every bearing; a rolled beam where its web fails Art. D6.5.
    """
    plate, article = pairs.plate, "LRFD 6.10.11.2"
    root = sqrt(use(sheet, "E") / plate.strength)
    width = sheet.check(
        "Bearing stiffener width", plate.width <= 0.48 * plate.thickness * root,
        ref=f"{article}.2-1", location=location,
    )  # fmt: skip
    A_pn = bearing_area(sheet, pairs, f"{article}.3")
    R_br = sheet.step(
        "R_br", use(sheet, "phi_b") * use(sheet, "c_brg_s") * A_pn * plate.strength, kip,
        "factored bearing resistance", ref=f"{article}.3-1",
    )  # fmt: skip
    bears = sheet.check(
        "Bearing stiffener, bearing", reaction <= R_br, ref=f"{article}.3", location=location
    )
    column = bearing_column(sheet, pairs, web, effective=use(sheet, "K_brg"), ref=f"{article}.4")
    P_r = sheet.step(
        "P_r", use(sheet, "phi_ac") * column_resistance(sheet, column), kip,
        "factored compressive resistance", ref="LRFD 6.9.2.1-1",
    )  # fmt: skip
    stands = sheet.check(
        "Bearing stiffener, column", reaction <= P_r, ref=f"{article}.4", location=location
    )
    return BearingStiffener(R_br, P_r, (width, bears, stands))
