"""Longitudinal stiffeners of a web: their size and stress (6.10.11.3)."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stepcalc.bridge.constants import use
from stepcalc.expr.functions import minimum, sqrt
from stepcalc.units import inch

if TYPE_CHECKING:
    from stepcalc.bridge.details.shear_panels import PanelWeb
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.nodes import Check
    from stepcalc.sheet.sheet import Sheet

__all__ = ["AlongWeb", "longitudinal_stiffener"]


@dataclass(frozen=True)
class AlongWeb:
    """A longitudinal stiffener: a flat on one side of the web.

    Attributes
    ----------
    distance : Operand, [length]
        ``d_s``, from the inner face of the compression flange to the middle of the stiffener.
    width, thickness : Operand, [length]
        ``b_l`` and ``t_s``.
    strength : Operand, [stress]
        ``F_ys``.
    """

    distance: Operand
    width: Operand
    thickness: Operand
    strength: Operand


def longitudinal_stiffener(
    sheet: Sheet,
    stiffener: AlongWeb,
    web: PanelWeb,
    *,
    spacing: Operand,
    flange: Operand,
    hybrid: Operand,
    stress: Operand,
    location: str | None = None,
) -> tuple[Check, ...]:
    r"""Check width, moment of inertia, radius of gyration and stress of a longitudinal stiffener.

    .. math:: b_l \le 0.48 t_s\sqrt{\frac{E}{F_{ys}}}, \quad
        I_l \ge D t_w^3\left[2.4\left(\frac{d_o}{D}\right)^2 - 0.13\right], \quad
        r \ge \frac{0.16\, d_o\sqrt{F_{ys}/E}}{\sqrt{1 - 0.6\,F_{yc}/(R_h F_{ys})}}, \quad
        f_s \le \phi_f R_h F_{ys}

    ``I_l`` and ``r`` are those of the flat together with a strip of web 18 t_w wide, about their
    common axis; where the web is weaker than the stiffener, the strip counts with F_yw/F_ys.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    stiffener : AlongWeb
        The stiffener, on a straight girder (beta = 1).
    web : PanelWeb
        The web.
    spacing : Operand, [length]
        ``d_o`` of the transverse stiffeners.
    flange : Operand, [stress]
        ``F_yc`` of the compression flange.
    hybrid : Operand
        ``R_h``.
    stress : Operand, [stress]
        ``f_s``, the greatest factored bending stress at the stiffener.
    location : str, optional
        Where along the girder.

    Returns
    -------
    tuple of Check
        Width, moment of inertia, radius of gyration, stress.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 6.10.11.3; from memory.
    """
    step, E, D, t_w = sheet.step, use(sheet, "E"), web.depth, web.thickness
    b, t, F_s = stiffener.width, stiffener.thickness, stiffener.strength
    share = minimum(web.strength / F_s, 1)
    A_l = step("A_l", b * t, inch**2, "area of the stiffener", ref="geometry")
    A_w = step("A_lw", share * (18 * t_w**2), inch**2, "strip of web, 18 t_w wide",
               ref="LRFD 6.10.11.3.3")  # fmt: skip
    y = step("y_l", A_l * (b + t_w) / 2 / (A_l + A_w), inch,
             "their axis, from the middle of the web", ref="statics")  # fmt: skip
    I_l = step(
        "I_l",
        t * b**3 / 12 + A_l * ((b + t_w) / 2 - y) ** 2
        + share * (18 * t_w * t_w**3 / 12) + A_w * y**2,
        inch**4, "stiffener and strip about their axis", ref="LRFD 6.10.11.3.3",
    )  # fmt: skip
    r = step("r_l", sqrt(I_l / (A_l + A_w)), inch, "their radius of gyration",
             ref="LRFD 6.10.11.3.3")  # fmt: skip
    I_req = step(
        "I_lreq", D * t_w**3 * (2.4 * (spacing / D) ** 2 - 0.13), inch**4,
        "moment of inertia that the stiffener needs", ref="LRFD 6.10.11.3.3-1", symbol="I_l,req",
    )  # fmt: skip
    rest = 1 - 0.6 * flange / (hybrid * F_s)
    r_req = step(
        "r_lreq", 0.16 * spacing * sqrt(F_s / E) / sqrt(rest), inch,
        "radius of gyration that it needs", ref="LRFD 6.10.11.3.3-2", symbol="r_l,req",
    )  # fmt: skip
    rows = (
        ("Longitudinal stiffener, width", b <= 0.48 * t * sqrt(E / F_s), "6.10.11.3.2-1"),
        ("Longitudinal stiffener, inertia", I_req <= I_l, "6.10.11.3.3-1"),
        ("Longitudinal stiffener, radius", r_req <= r, "6.10.11.3.3-2"),
        ("Longitudinal stiffener, stress", stress <= use(sheet, "phi_f") * hybrid * F_s,
         "6.10.11.3.1-1"),
    )  # fmt: skip
    return tuple(
        sheet.check(name, item, ref=f"LRFD {ref}", location=location) for name, item, ref in rows
    )
