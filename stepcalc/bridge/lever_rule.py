"""The lever rule for an interior girder: the deck as simple spans between girders."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stepcalc.bridge.constants import use
from stepcalc.expr.functions import cases, maximum
from stepcalc.units import ft

if TYPE_CHECKING:
    from stepcalc.expr.tree import Expr, Operand
    from stepcalc.sheet.sheet import Sheet

__all__ = ["FIRST_LANE", "SECOND_LANE", "LeverRule", "lever_rule", "wheels_on_girder"]

# Distance in ft of each wheel line from the girder, by lanes loaded: wheels 6 ft apart in a truck,
# 4 ft between trucks in neighbouring lanes, the first wheel over the girder.
FIRST_LANE = (0, 6)
SECOND_LANE = (4, 10)
THIRD_LANE = (10, 16)


@dataclass(frozen=True)
class LeverRule:
    """Reactions of an interior girder in lanes, multiple presence applied.

    Attributes
    ----------
    one, more, governing : Operand
        ``g_l1`` one lane, ``g_l2`` the largest of two and three lanes, ``g_l`` the one to use.
    """

    one: Operand
    more: Operand
    governing: Operand


def lever_rule(sheet: Sheet, *, spacing: Operand, lanes: Operand) -> LeverRule:
    r"""Write the lever-rule reactions of an interior girder with equal bays.

    .. math:: R = \frac12 \sum_i \max\left(1 - \frac{x_i}{S},\; 0\right)

    over the wheel lines: one stands on the girder with the other 6 ft beyond, the next lane's at
    4 and 10 ft on the other side, a third lane's at 10 and 16 ft.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    spacing : Operand, [length]
        Girder spacing on both sides.
    lanes : Operand
        Number of design lanes.

    Returns
    -------
    LeverRule
        In lanes, with multiple presence.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), C4.6.2.2.1, 3.6.1.3.1 (wheels 2 ft from the lane edge), 3.6.1.1.2;
    from memory.  A fourth lane (m = 0.65) does not govern up to 30 ft of spacing.
    """
    step, ref = sheet.step, "LRFD C4.6.2.2.1"
    R_1 = step(
        "R_l1",
        wheels_on_girder(spacing, FIRST_LANE) / 2,
        None,
        "lever rule, one lane: wheels at 0 and 6 ft",
        ref=ref,
    )
    R_2 = step(
        "R_l2",
        R_1 + wheels_on_girder(spacing, SECOND_LANE) / 2,
        None,
        "lever rule, a second lane: wheels at 4 and 10 ft",
        ref=ref,
    )
    R_3 = step(
        "R_l3",
        R_2 + wheels_on_girder(spacing, THIRD_LANE) / 2,
        None,
        "lever rule, a third lane: wheels at 10 and 16 ft",
        ref=ref,
    )
    m_1, m_2, m_3 = (use(sheet, f"m_{lane}") for lane in (1, 2, 3))
    presence = "LRFD 3.6.1.1.2"
    one = step("g_l1", m_1 * R_1, None, "lever rule, one lane, with m", ref=presence)
    more = step(
        "g_l2",
        cases(
            (lanes <= 2, m_2 * R_2, "two lanes"),
            otherwise=(maximum(m_2 * R_2, m_3 * R_3), "two or three lanes"),
        ),
        None,
        "lever rule, two or more lanes, with m",
        ref=presence,
    )
    governing = step(
        "g_l",
        cases(
            (lanes <= 1, one, "one lane"),
            otherwise=(maximum(one, more), "the greater"),
        ),
        None,
        "lever rule, governing",
        ref=presence,
    )
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
