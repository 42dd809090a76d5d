"""Lateral bending of a flange (6.10.1.6) and bolt holes in the tension flange (6.10.1.8)."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stepcalc.bridge.constants import use
from stepcalc.expr.functions import any_of, cases, maximum, minimum, sqrt
from stepcalc.units import inch, ksi

if TYPE_CHECKING:
    from stepcalc.bridge.composite.flange_buckling import FlangeBuckling
    from stepcalc.bridge.composite.sides import Sides
    from stepcalc.bridge.composite.web import Web
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.nodes import Check
    from stepcalc.sheet.sheet import Sheet


@dataclass(frozen=True)
class LateralStress:
    """Second-order lateral bending stress and its check."""

    stress: Operand
    check: Check


def second_order_lateral(
    sheet: Sheet,
    sides: Sides,
    web: Web,
    buckling: FlangeBuckling,
    *,
    first_order: Operand,
    vertical: Operand,
    location: str | None = None,
) -> LateralStress:
    r"""Write the lateral bending stress of the compression flange with its amplification.

    .. math:: L_b \le 1.2 L_p \sqrt{\frac{C_b R_b}{f_{bu}/F_{yc}}}: \; f_l = f_{l1}; \qquad
        \text{else } f_l = \frac{0.85}{1 - f_{bu}/F_{cr}} f_{l1} \ge f_{l1}

    Where the flange is so long that the stress has to be amplified, and ``f_bu`` is not below
    ``F_cr``, there is no lateral stress: the flange buckles first. ``f_l`` is then undefined, and
    so is every check that holds it, with that reason; never a small number.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    sides : Sides
        The compression flange.
    web : Web
        ``R_b``.
    buckling : FlangeBuckling
        ``L_b``, ``L_p``, ``C_b`` and the elastic stress ``F_cr``.
    first_order, vertical : Operand, [stress]
        ``f_l1``, and ``f_bu``, the largest in the unbraced length.
    location : str, optional
        Where along the girder.

    Returns
    -------
    LateralStress
        Steps ``L_b2`` and ``f_l``, and the check against 0.6 F_yf.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Eq. 6.10.1.6-1, -2, -4; from memory.
    """
    step, F_y = sheet.step, sides.compression.strength
    none = vertical <= 0 * ksi
    length = 1.2 * buckling.compact_length
    L_b2 = step(
        "L_b2",
        cases(
            (none, buckling.unbraced, "no compression"),
            otherwise=(length * sqrt(buckling.gradient * web.shedding / (vertical / F_y)), "limit"),
        ),
        inch,
        "unbraced length up to which the first-order stress may stand",
        ref="LRFD 6.10.1.6-2",
    )
    share = vertical / buckling.elastic
    f_l = step(
        "f_l",
        cases(
            (buckling.unbraced <= L_b2, 1 * first_order, "first-order stress"),
            (
                vertical < buckling.elastic,
                maximum(0.85 / (1 - share), 1.0) * first_order,
                "amplified",
            ),
            # the root has no value here: an amplification beyond buckling is no number at all
            otherwise=(0.85 / sqrt(1 - share) * first_order, "f_bu not below F_cr: no value"),
        ),
        ksi,
        "lateral bending stress of the flange",
        ref="LRFD 6.10.1.6-4",
        valid=(any_of(buckling.unbraced <= L_b2, vertical < buckling.elastic),),
    )
    check = sheet.check(
        "Lateral bending of the flange", f_l <= use(sheet, "c_fl") * F_y, ref="LRFD 6.10.1.6-1",
        location=location,
    )  # fmt: skip
    return LateralStress(f_l, check)


def net_section(
    sheet: Sheet,
    sides: Sides,
    *,
    net_area: Operand,
    tensile: Operand,
    stress: Operand,
    location: str | None = None,
) -> Check:
    r"""Check the tension flange where holes reduce it.

    .. math:: f_t \le 0.84 \frac{A_n}{A_g} F_u \le F_{yt}

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    sides : Sides
        The tension flange.
    net_area : Operand, [length**2]
        ``A_n`` of the flange, cover plate included.
    tensile, stress : Operand, [stress]
        ``F_u``, and the stress on the gross area.
    location : str, optional
        Where along the girder.

    Returns
    -------
    Check
        Of the step ``F_tn``.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Eq. 6.10.1.8-1; from memory.
    """
    flange = sides.tension
    share = use(sheet, "c_An") * net_area / flange.area
    F_tn = sheet.step(
        "F_tn", minimum(share * tensile, flange.strength), ksi,
        "greatest stress on the gross area of a flange with holes", ref="LRFD 6.10.1.8-1",
        valid=(net_area <= flange.area,),
    )  # fmt: skip
    return sheet.check(
        "Net section of the tension flange", stress <= F_tn, ref="LRFD 6.10.1.8-1",
        location=location,
    )  # fmt: skip
