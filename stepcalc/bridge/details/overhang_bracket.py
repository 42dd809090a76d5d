"""Overhang brackets push the top flange of the exterior girder sideways (C6.10.3.4)."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stepcalc.bridge.constants import use
from stepcalc.expr.functions import maximum
from stepcalc.units import kip, kip_ft, klf, ksi

if TYPE_CHECKING:
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.sheet import Sheet


@dataclass(frozen=True)
class BracketLoads:
    """Unfactored vertical loads on the brackets of one overhang.

    Attributes
    ----------
    dead : Operand, [force / length]
        Wet concrete of the overhang that the brackets carry.
    construction : Operand, [force / length]
        Forms, rail, walkway, brackets, live load.
    machine : Operand, [force]
        Finishing machine, the part on this overhang.
    """

    dead: Operand
    construction: Operand
    machine: Operand


def lateral_bending_by_brackets(
    sheet: Sheet,
    loads: BracketLoads,
    *,
    reach: Operand,
    drop: Operand,
    unbraced: Operand,
    width: Operand,
    thickness: Operand,
) -> Operand:
    r"""Write the first-order lateral bending stress that brackets cause in a flange.

    .. math:: F_l = q \tan\alpha, \qquad M_l = \frac{F_l L_b^2}{12} + \frac{P_l L_b}{8}, \qquad
        f_{l1} = \frac{6 M_l}{t_f b_f^2}, \qquad \tan\alpha = \frac{\text{reach}}{\text{drop}}

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    loads : BracketLoads
        Loads on the brackets; both construction combinations are formed here.
    reach, drop : Operand, [length]
        Horizontal reach of a bracket from the web, and the height over which it braces: down to
        the web near the bottom flange.
    unbraced : Operand, [length]
        ``L_b`` between cross-frames.
    width, thickness : Operand, [length]
        Of the flange.

    Returns
    -------
    Operand
        The step ``f_l1``, [stress]; steps before it ``t_alpha q_l P_l M_lat``.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), C6.10.3.4 and Art. 3.4.2.1; from memory.
    """
    step, ref = sheet.step, "LRFD C6.10.3.4"
    g_D, g_C, g_2 = use(sheet, "gamma_cD"), use(sheet, "gamma_cC"), use(sheet, "gamma_c2")
    q, c = loads.dead, loads.construction
    q_u = step(
        "q_l", maximum(g_D * q + g_C * c, g_2 * (q + c)), klf, "factored load on the brackets",
        ref="LRFD 3.4.2.1",
    )  # fmt: skip
    P_u = step(
        "P_l", maximum(g_C, g_2) * loads.machine, kip, "factored finishing machine",
        ref="LRFD 3.4.2.1",
    )  # fmt: skip
    t_a = step(
        "t_alpha", reach / drop, None, "tangent of the bracket to the vertical", ref="geometry",
        symbol="tan alpha",
    )  # fmt: skip
    M = step(
        "M_lat", t_a * (q_u * unbraced**2 / 12 + P_u * unbraced / 8), kip_ft,
        "lateral moment of the flange between cross-frames", ref=f"{ref}-2, -3", symbol="M_l",
    )  # fmt: skip
    return step(
        "f_l1", 6 * M / (thickness * width**2), ksi, "first-order lateral bending stress", ref=ref
    )
