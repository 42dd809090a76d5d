"""The rating factor, and the effect of one vehicle on a girder."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from stepcalc.analysis.vehicles import vehicle
from stepcalc.bridge.moving_loads import AXLE_MOMENT, AXLE_SHEAR
from stepcalc.units import ft, kip, kip_ft

if TYPE_CHECKING:
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.sheet import Sheet

__all__ = ["rating_factor", "vehicle_on_girder"]


def rating_factor(
    sheet: Sheet, name: str, words: str, *, capacity: Operand, dead: Any, live: Any, ref: str
) -> Operand:
    r"""Write a rating factor.

    .. math:: RF = \frac{C - \gamma_{DC} DC - \gamma_{DW} DW}{\gamma_{LL}\,(LL + IM)}

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the step.
    name, words, ref : str
        Of the step.
    capacity : Operand
        ``C``, with condition and system.
    dead, live : formula
        Factored dead load, None where the capacity is what it leaves; factored live load with
        impact, distributed to the girder.

    Returns
    -------
    Operand
        ``RF``: how many times the vehicle fits; below zero where dead load alone is too much.

    Source
    ------
    AASHTO Manual for Bridge Evaluation, 3rd ed. (2018), Eq. 6A.4.2.1-1 and 6B.4.1-1; from memory.
    """
    left = capacity if dead is None else capacity - dead
    return sheet.step(name, left / live, None, words, ref=ref)


def vehicle_on_girder(
    sheet: Sheet, name: str, *, span: Operand, shares: tuple[Operand, Operand], impact: Any,
    tag: str = "", end_share: Operand | None = None, proof: str | None = None,
) -> tuple[Operand, Operand]:  # fmt: skip
    r"""Write moment and end shear of a girder under one vehicle, with impact.

    .. math:: M = g_M (1 + IM) M_v, \qquad V = g_V (1 + IM) V_v

    By the Standard Specifications the axle over the bearing, taken as the heaviest, has lanes of
    its own: :math:`V = (1 + I) [g_0 P_e + g_V (V_v - P_e)]`.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    name : str
        Id of the vehicle.
    span : Operand, [length]
        Simple span.
    shares : tuple of Operand
        Lanes on the girder for moment and shear.
    impact : Operand
        Dynamic load allowance.
    tag : str
        Behind the names of the steps.
    end_share : Operand, optional
        ``g_0``, lanes of the axle over the bearing.
    proof : {"statics", "ordinates"} or None
        What stands below the axle placement.

    Returns
    -------
    tuple of Operand
        ``M_LL`` and ``V_LL`` of the girder.

    Source
    ------
    AASHTO Manual for Bridge Evaluation, 3rd ed. (2018), Art. 6A.4.4; Standard
    Specifications, 17th ed. (2002), Art. 3.23.1.2; from memory.  Statics.
    """
    record = vehicle(name)
    ref, words = "MBE 6A.4.4.2.1", record.title if "@" in name else record.id
    M_v: Any = sheet.computed(
        f"M_v{tag}", AXLE_MOMENT, {"vehicle": name, "span": span}, kip_ft,
        f"{words}: greatest moment of one lane, no impact", ref=ref, proof=proof,
    )  # fmt: skip
    V_v: Any = sheet.computed(
        f"V_v{tag}", AXLE_SHEAR, {"vehicle": name, "span": span, "section": 0 * ft}, kip,
        f"{words}: greatest shear at the bearing, one lane, no impact", ref=ref, proof=proof,
    )  # fmt: skip
    M = sheet.step(f"M_LL{tag}", shares[0] * (1 + impact) * M_v, kip_ft,
                   f"{words}: moment of the girder with impact", ref="MBE 6A.4.4")  # fmt: skip
    shear: Any = shares[1] * (1 + impact) * V_v
    if end_share is not None:
        heaviest = max(record.axles) * kip
        shear = (end_share * heaviest + shares[1] * (V_v - heaviest)) * (1 + impact)
    V = sheet.step(f"V_LL{tag}", shear, kip, f"{words}: shear of the girder with impact",
                   ref="MBE 6A.4.4")  # fmt: skip
    return M, V
