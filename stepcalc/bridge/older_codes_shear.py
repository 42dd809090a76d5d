"""Shear buckling of an unstiffened web by the Standard Specifications."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stepcalc.bridge.constants import use
from stepcalc.expr.functions import cases, sqrt
from stepcalc.units import ksi

if TYPE_CHECKING:
    from stepcalc.bridge.section import SectionProperties
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.sheet import Sheet


def shear_buckling_ratio(
    sheet: Sheet, section: SectionProperties, yield_strength: Operand
) -> Operand:
    r"""Write the ratio ``C`` of shear buckling to shear yield, ``k = 5``.

    .. math:: C = 1 \;\Big(\tfrac{D}{t_w} \le \tfrac{6000\sqrt k}{\sqrt{F_y}}\Big), \quad
        \frac{6000\sqrt k}{(D/t_w)\sqrt{F_y}} \;\Big(\le \tfrac{7500\sqrt k}{\sqrt{F_y}}\Big), \quad
        \frac{4.5\times 10^7 k}{(D/t_w)^2 F_y} \quad (F_y \text{ in psi})

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    section : SectionProperties
        The rolled shape.
    yield_strength : Operand, [stress]
        Yield strength of the web.

    Returns
    -------
    Operand
        The step ``C``, a plain number.

    Source
    ------
    AASHTO Standard Specifications, 17th ed. (2002), Art. 10.48.8.1 and 10.34.4.1; from memory.
    With
    ``F_y`` in ksi the constants are 190, 237 and 45,000.
    """
    step, k = sheet.step, use(sheet, "k_s")
    F = 1000 * yield_strength.magnitude(ksi)
    lambda_v = step(
        "lambda_v",
        section.web_depth / section.web,
        description="slenderness of the web in shear",
        ref="Std 10.48.8.1",
    )
    root = step(
        "lambda_0",
        sqrt(k / F),
        description="measure of shear buckling, yield strength in psi",
        ref="Std 10.48.8.1",
    )
    return step(
        "C",
        cases(
            (lambda_v <= 6000 * root, 1.0, "the web yields"),
            (lambda_v <= 7500 * root, 6000 * root / lambda_v, "inelastic shear buckling"),
            otherwise=(45_000_000 * root**2 / lambda_v**2, "elastic shear buckling"),
        ),
        description="shear buckling over shear yield",
        ref="Std 10.48.8.1, 10.34.4.1",
    )
