"""From a rating factor to tons: what a vehicle may weigh, and the sign that says so."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stepcalc.analysis.vehicles import vehicle
from stepcalc.expr.functions import cases, floor

if TYPE_CHECKING:
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.sheet import Sheet

__all__ = ["posted_tons", "rated_tons"]

_TON = 2  # kip


def rated_tons(sheet: Sheet, name: str, factor: Operand, record: str) -> Operand:
    r"""Write the rating in tons, :math:`RF\,W` with W in tons of 2 kip.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the step.
    name : str
        Of the step.
    factor : Operand
        ``RF``.
    record : str
        Id of the vehicle.

    Returns
    -------
    Operand
        Tons, a plain number.

    Source
    ------
    AASHTO Manual for Bridge Evaluation, 3rd ed. (2018), Eq. 6B.4.1-2; from memory.
    """
    weight = vehicle(record).weight
    return sheet.step(name, factor * (weight / _TON), None,
                      f"{record}: rating in tons, of {weight / _TON:g} tons",
                      ref="MBE 6B.4.1-2")  # fmt: skip


def posted_tons(sheet: Sheet, name: str, factor: Operand, record: str) -> Operand:
    r"""Write the safe posting load of a legal truck by LRFR, in whole tons.

    .. math:: W_p = \frac{W}{0.7}(RF - 0.3), \quad 0.3 < RF < 1

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the step.
    name : str
        Of the step.
    factor : Operand
        ``RF`` of the truck, the least of all effects.
    record : str
        Id of the vehicle.

    Returns
    -------
    Operand
        Whole tons, rounded down; the weight of the truck where none is needed; 0 where the truck
        must be kept off.

    Source
    ------
    AASHTO Manual for Bridge Evaluation, 3rd ed. (2018), Eq. 6A.8.3-1; from memory.
    """
    tons = vehicle(record).weight / _TON
    return sheet.step(
        name,
        cases(
            (factor >= 1, tons, "no posting for this truck"),
            (factor <= 0.3, 0, "this truck must be kept off"),
            otherwise=(floor(tons / 0.7 * (factor - 0.3)), "posted"),
        ),
        None, f"{record}: posting in tons, of {tons:g} tons", ref="MBE 6A.8.3-1",
    )  # fmt: skip
