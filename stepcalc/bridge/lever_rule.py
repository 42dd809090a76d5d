"""The lever rule for an interior girder: the deck as simple spans between girders."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from stepcalc.bridge.constants import use
from stepcalc.bridge.lanes.lever import INTERIOR_LEVER_MORE
from stepcalc.expr.functions import cases, maximum
from stepcalc.units import ft

if TYPE_CHECKING:
    from stepcalc.expr.tree import Expr, Operand
    from stepcalc.sheet.sheet import Sheet

__all__ = ["FIRST_LANE", "SECOND_LANE", "LeverRule", "lever_rule", "wheels_on_girder"]

FIRST_LANE = (0, 6)
"""Distance in ft of the wheel lines of the first lane from the girder."""
SECOND_LANE = (4, 10)
"""Those of a second lane: 4 ft between trucks, each wheel 2 ft from the edge of its lane."""


@dataclass(frozen=True)
class LeverRule:
    """Reactions of an interior girder in lanes, multiple presence applied.

    Attributes
    ----------
    one, more, governing : Operand
        ``g_l1`` one lane, ``g_l2`` the worst of two and more lanes, ``g_l`` the one to use.
    """

    one: Operand
    more: Operand
    governing: Operand


def lever_rule(
    sheet: Sheet,
    *,
    spacing: Operand,
    lanes: Operand,
    girders: Operand,
    proof: str | None = "wheels",
) -> LeverRule:
    r"""Write the lever-rule reactions of an interior girder with equal bays.

    .. math:: R = \frac12 \sum_i \max\left(1 - \frac{x_i}{S},\; 0\right)

    over the wheel lines: one stands on the girder with the other 6 ft beyond, the next lane's at
    4 and 10 ft on the other side, further lanes by turns on the two sides, 12 ft on.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    spacing : Operand, [length]
        Girder spacing on both sides.
    lanes, girders : Operand
        Number of design lanes, and of girders: the wheels are drawn where the rule decides.
    proof : {"wheels"} or None
        Whether the reactions of every number of lanes are shown.

    Returns
    -------
    LeverRule
        In lanes, with multiple presence.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), C4.6.2.2.1, 3.6.1.3.1 (wheels 2 ft from the lane edge), 3.6.1.1.2;
    from memory.
    """
    presence = {key: use(sheet, key) for key in ("m_1", "m_2", "m_3", "m_4")}
    one = sheet.step(
        "g_l1", presence["m_1"] * (wheels_on_girder(spacing, FIRST_LANE) / 2), None,
        "lever rule, one lane with m: wheels at 0 and 6 ft", ref="LRFD C4.6.2.2.1, 3.6.1.1.2",
    )  # fmt: skip
    inputs: dict[str, Any] = {"spacing": spacing, "lanes": lanes, "girders": girders}
    more = sheet.computed(
        "g_l2", INTERIOR_LEVER_MORE, inputs | presence, None,
        "lever rule, two or more lanes, with m", ref="LRFD C4.6.2.2.1, 3.6.1.1.2", proof=proof,
    )  # fmt: skip
    governing = sheet.step(
        "g_l",
        cases((lanes <= 1, one, "one lane"), otherwise=(maximum(one, more), "the greater")),
        None, "lever rule, governing", ref="LRFD 3.6.1.1.2",
    )  # fmt: skip
    return LeverRule(one, more, governing)


def wheels_on_girder(spacing: Operand, distances: tuple[int, int]) -> Expr:
    """Return the wheel lines that one truck puts on a girder, the deck simple between girders.

    Parameters
    ----------
    spacing : Operand, [length]
        Girder spacing.
    distances : tuple of int
        Distance of its two wheel lines from the girder, ft; 0 for a wheel over it.

    Returns
    -------
    Expr
        Wheel lines; a wheel beyond the next girder adds nothing.
    """
    near, far = distances
    second = maximum(1 - far * ft / spacing, 0)
    return (1 + second) if near == 0 else maximum(1 - near * ft / spacing, 0) + second
