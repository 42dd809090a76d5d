"""Where a cover plate is no longer needed, from the end of the span."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stepcalc.expr.functions import sqrt
from stepcalc.units import ft, kip, kip_ft

if TYPE_CHECKING:
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.sheet import Sheet


@dataclass(frozen=True)
class CutOff:
    """Moment capacity without the plate and the distance at which it is reached."""

    capacity: Operand
    distance: Operand


def theoretical_cutoff(
    sheet: Sheet,
    *,
    modulus: Operand,
    allowable: Operand,
    reaction: Operand,
    uniform: Operand,
    force: Operand | None = None,
    force_at: Operand | None = None,
) -> CutOff:
    r"""Write the theoretical end of a cover plate under a uniform load.

    With the reaction R, a uniform load w and one force P at a before the cut-off,

    .. math:: M(x) = R x - P (x - a) - \tfrac12 w x^2 = M_w
        \;\Rightarrow\; x = \frac{R' - \sqrt{R'^2 - 2 w (M_w - P a)}}{w}, \quad R' = R - P

    The plate runs on beyond this point by what its end weld and fatigue category ask for.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    modulus : Operand, [length**3]
        Of the section without the plate.
    allowable : Operand, [stress]
        Stress that it may have.
    reaction : Operand, [force]
        At the end from which is measured.
    uniform : Operand, [force / length]
        Load per length.
    force, force_at : Operand, optional
        One concentrated load between support and cut-off, and its distance from the support.

    Returns
    -------
    CutOff
        Steps ``M_w`` and ``x_c``; ``x_c`` has no value where the plate is not needed at all.

    Source
    ------
    Statics. No clause.
    """
    step = sheet.step
    M_w = step("M_w", modulus * allowable, kip_ft, "moment capacity without the plate", ref="S F")
    R, M = reaction, M_w
    if force is not None and force_at is not None:
        R = step("R_1", reaction - force, kip, "reaction less the concentrated load", ref="statics")
        M = step("M_1", M_w - force * force_at, kip_ft, "capacity less its moment", ref="statics")
    root = sqrt(R**2 - 2 * uniform * M)
    x = step("x_c", (R - root) / uniform, ft, "theoretical cut-off from the support", ref="statics")
    return CutOff(M_w, x)
