"""The unstiffened web of a rolled beam at its bearing: yielding and crippling (Art. D6.5)."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stepcalc.bridge.constants import use
from stepcalc.expr.functions import cases, sqrt
from stepcalc.units import kip

if TYPE_CHECKING:
    from stepcalc.bridge.section import SectionProperties
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.nodes import Check
    from stepcalc.sheet.sheet import Sheet


def web_at_bearing(
    sheet: Sheet,
    section: SectionProperties,
    *,
    yield_strength: Operand,
    reaction: Operand,
    length: Operand,
) -> tuple[Check, Check]:
    r"""Check local yielding and crippling of the web over an end bearing.

    .. math:: R_n = (2.5 k + N) F_{yw} t_w, \qquad
        R_n = 0.4 t_w^2 \left[1 + \left(\frac{4N}{d} - 0.2\right)
        \left(\frac{t_w}{t_f}\right)^{1.5}\right]\sqrt{\frac{E F_{yw} t_f}{t_w}}
        \quad (N/d > 0.2)

    and, for ``N/d <= 0.2``, ``3 N/d`` in place of ``4 N/d - 0.2``.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    section : SectionProperties
        The rolled shape.
    yield_strength : Operand, [stress]
        Yield strength of the web.
    reaction : Operand, [force]
        Factored reaction, equal to the shear at the bearing.
    length : Operand, [length]
        Length of bearing along the girder ``N``.

    Returns
    -------
    tuple of Check
        Yielding and crippling.  If either is N.G. the beam needs bearing stiffeners (6.10.11.2).

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. D6.5.2 and D6.5.3, reaction at the end; from memory.
    """
    step, E, F_y = sheet.step, use(sheet, "E"), yield_strength
    t_w, t_f = section.web, section.flange
    R_yw = step(
        "R_ny",
        (2.5 * section.fillet + length) * F_y * t_w,
        kip,
        "web yielding at an end reaction",
        ref="LRFD D6.5.2-3",
    )
    yielding = sheet.check(
        "Web yielding at the bearing",
        reaction <= use(sheet, "phi_b") * R_yw,
        ref="LRFD D6.5.2-1",
        location="bearing",
    )
    r_N = step(
        "r_N", length / section.depth, description="bearing length over depth", ref="LRFD D6.5.3"
    )
    r_t = step("r_wf", (t_w / t_f) ** 1.5, description="web against flange", ref="LRFD D6.5.3")
    root = step(
        "Q_w",
        t_w**2 * sqrt(E * F_y * t_f / t_w),
        kip,
        "crippling strength of the web alone",
        ref="LRFD D6.5.3",
    )
    R_nc = step(
        "R_nc",
        cases(
            (r_N <= 0.2, 0.4 * (1 + 3 * r_N * r_t) * root, "short bearing, N/d up to 0.2"),
            otherwise=(0.4 * (1 + (4 * r_N - 0.2) * r_t) * root, "long bearing, N/d over 0.2"),
        ),
        kip,
        "web crippling at an end reaction",
        ref="LRFD D6.5.3-3, -4",
    )
    crippling = sheet.check(
        "Web crippling at the bearing",
        reaction <= use(sheet, "phi_w") * R_nc,
        ref="LRFD D6.5.3-1",
        location="bearing",
    )
    return yielding, crippling
