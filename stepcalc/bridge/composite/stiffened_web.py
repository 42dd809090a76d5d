"""Bend-buckling of a web with a longitudinal stiffener (6.10.1.9.2)."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stepcalc.expr.functions import cases, maximum

if TYPE_CHECKING:
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.sheet import Sheet

__all__ = ["stiffened_coefficient"]


def stiffened_coefficient(
    sheet: Sheet, depth: Operand, *, distance: Operand, compressed: Operand
) -> Operand:
    r"""Write the bend-buckling coefficient of a web with a longitudinal stiffener.

    .. math:: k = \frac{5.17}{(d_s/D)^2} \ge \frac{9}{(D_c/D)^2} \; (d_s/D_c \ge 0.4), \qquad
        k = \frac{11.64}{\left((D_c - d_s)/D\right)^2} \; (d_s/D_c < 0.4)

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the step.
    depth : Operand, [length]
        ``D``.
    distance, compressed : Operand, [length]
        ``d_s``, from the inner face of the compression flange to the middle of the stiffener, and
        ``D_c`` of the stage that is looked at.

    Returns
    -------
    Operand
        The step ``k_w``.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Eq. 6.10.1.9.2-1 and -2; from memory.
    """
    return sheet.step(
        "k_w",
        cases(
            (compressed >= depth, 7.2, "both edges of the web in compression"),
            (compressed <= depth / 100, 90_000, "hardly any web in compression: the bound decides"),
            (
                distance / compressed >= 0.4,
                maximum(5.17 / (distance / depth) ** 2, 9 / (compressed / depth) ** 2),
                "the panel beside the compression flange buckles",
            ),
            otherwise=(
                11.64 / ((compressed - distance) / depth) ** 2,
                "the panel beyond the stiffener buckles",
            ),
        ),
        None,
        "bend-buckling coefficient, web with a longitudinal stiffener",
        ref="LRFD 6.10.1.9.2-1, -2",
    )
