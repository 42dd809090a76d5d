"""Dead and pedestrian load shared among girders: barriers, wearing surface, sidewalks."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING, Any

from stepcalc.bridge.constants import use
from stepcalc.errors import RangeError
from stepcalc.expr.functions import cases, maximum
from stepcalc.units import ft, klf

if TYPE_CHECKING:
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.sheet import Sheet

__all__ = [
    "SharedLoad",
    "Sharing",
    "edge_load",
    "pedestrian_load",
    "surface_load",
    "tributary_deck",
]


class Sharing(StrEnum):
    """Who carries a load along the edge of the deck."""

    EQUAL = "all girders equally"
    FIRST = "the first girders from the edge equally"
    SHARES = "the first girders from the edge by percentages"


@dataclass(frozen=True)
class SharedLoad:
    """A load on girders, [force / length]: ``exterior``, ``first`` interior, other ``interior``."""

    exterior: Operand
    first: Operand
    interior: Operand


def edge_load(
    sheet: Sheet,
    weight: Operand,
    *,
    girders: Operand,
    rule: Sharing | str = Sharing.EQUAL,
    first: int = 3,
    percentages: Sequence[float] = (),
    tag: str = "bar",
    what: str = "barrier",
) -> SharedLoad:
    r"""Write how a load on both edges of the deck is shared.

    .. math:: w = \frac{2 w_{bar}}{N_b}, \qquad w = \frac{w_{bar}}{n}, \qquad w_i = p_i\,w_{bar}

    The second and the third rule hold for each edge.  Where the groups of both edges meet, a
    girder of both carries from both; with percentages the steps are then outside their range.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    weight : Operand, [force / length]
        On one edge.
    girders : Operand
        ``N_b``.
    rule : Sharing or str
        Which rule; the sheet says it.
    first : int
        Girders that share with ``Sharing.FIRST``.
    percentages : sequence of float
        With ``Sharing.SHARES``: of exterior, first interior and next girder, 100 together.
    tag, what : str
        Part of the names of the steps; what it is, in words.

    Returns
    -------
    SharedLoad

    Raises
    ------
    RangeError
        If the rule is unknown, fewer than one girder shares, or percentages do not add up.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 4.6.2.2.1, equal shares; from memory.  The others are owners'
    rules: common practice, no source.
    """
    try:
        chosen = Sharing(rule)
    except ValueError:
        known = ", ".join(repr(item.value) for item in Sharing)
        raise RangeError(f"the sharing rule is {rule!r}; give one of {known}") from None
    parts: list[Any]
    if chosen is Sharing.EQUAL:
        ref, room = "LRFD 4.6.2.2.1", girders >= 2
        parts = [2 / girders * weight] * 3
    elif chosen is Sharing.FIRST:
        if not 1 <= first <= 3:
            raise RangeError(f"{first} girders share a {what}; give 1 to 3")
        ref, room = "owner's rule", girders >= 2
        parts = [_of_both_edges(girders, weight, first, place) for place in range(3)]
    else:
        ref, room = "owner's rule", girders >= 2 * len(percentages)
        parts = [share * weight for share in _fractions(percentages, what)]
    sheet.note(f"Sharing of the {what} on each edge: {chosen.value}.")
    names = ("exterior", "first interior", "further interior")
    found = [
        sheet.step(
            f"w_{tag}{mark}", part, klf, f"{what} on the {name} girder", ref=ref,
            valid=(room,),
        )
        for mark, name, part in zip(("e", "1", "i"), names, parts, strict=True)
    ]  # fmt: skip
    return SharedLoad(*found)


def _of_both_edges(girders: Operand, weight: Operand, first: int, place: int) -> Any:
    """Return a girder's part of one edge's load, and of the other's where that reaches it."""
    own = weight / first if place < first else 0 * weight
    both = 2 * weight / first if place < first else weight / first
    reached = (girders - place if place else girders) <= first
    return cases(
        (reached, both, "the groups of both edges meet here"), otherwise=(own, "from its own edge")
    )


def _fractions(percentages: Sequence[float], what: str) -> list[float]:
    right = all(math.isfinite(share) and 0 <= share <= 100 for share in percentages)
    if not right or not 1 <= len(percentages) <= 3 or abs(sum(percentages) - 100) > 1e-9:
        msg = (
            f"the percentages of the {what} are {list(percentages)}; give 1 to 3 of them from the "
            "edge inward, 100 together"
        )
        raise RangeError(msg)
    return [share / 100 for share in (*percentages, 0.0, 0.0)][:3]


def surface_load(
    sheet: Sheet,
    pressure: Operand,
    *,
    spacing: Operand,
    curb: Operand,
    roadway: Operand,
    girders: Operand,
    equal: bool = True,
    tag: str = "ws",
) -> SharedLoad:
    r"""Write how a wearing surface from curb to curb is shared.

    .. math:: w = \frac{q\,w_r}{N_b} \quad\text{or}\quad w_{int} = q S,\;
        w_{ext} = q \left(\frac S2 + d_e\right)

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    pressure : Operand, [force / length**2]
        Weight on the area.
    spacing, curb, roadway : Operand, [length]
        ``S``, ``d_e``, ``w_r``.
    girders : Operand
        ``N_b``.
    equal : bool
        All girders equally, or each its own width.
    tag : str
        Part of the names of the steps.

    Returns
    -------
    SharedLoad

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 4.6.2.2.1; from memory.  By width: common practice, no source.
    """
    if equal:
        one = sheet.step(
            f"w_{tag}", pressure * roadway / girders, klf,
            "wearing surface curb to curb, all girders equally", ref="LRFD 4.6.2.2.1",
        )  # fmt: skip
        return SharedLoad(one, one, one)
    exterior = sheet.step(
        f"w_{tag}e", pressure * maximum(spacing / 2 + curb, 0 * ft), klf,
        "wearing surface on the exterior girder", ref="tributary width",
    )  # fmt: skip
    interior = sheet.step(
        f"w_{tag}i", pressure * spacing, klf, "wearing surface on an interior girder",
        ref="tributary width",
    )  # fmt: skip
    return SharedLoad(exterior, interior, interior)


def pedestrian_load(sheet: Sheet, *, width: Operand, girders: Operand, walks: int = 1) -> Operand:
    r"""Write the pedestrian load of one girder; the walk's own weight is a dead load.

    .. math:: w_{PL} = n\,q_{PL}\,b_w/N_b \quad (b_w > 2\,\mathrm{ft})

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    width : Operand, [length]
        Of one sidewalk.
    girders : Operand
        ``N_b``.
    walks : int
        Sidewalks, 1 or 2.

    Returns
    -------
    Operand
        ``w_PL``, [force / length], without dynamic load allowance.

    Raises
    ------
    RangeError
        If there are other than one or two sidewalks.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 3.6.1.6; from memory.  Equal shares: common practice, no
    source.
    """
    if walks not in (1, 2):
        raise RangeError(f"{walks} sidewalks; give 1 or 2")
    sheet.note(
        "Pedestrian load counts as one loaded lane for multiple presence and takes no dynamic load "
        "allowance; vehicles on a walk without barrier are a case of their own, without it."
    )
    return sheet.step(
        "w_PL",
        cases(
            (width > 2 * ft, walks * use(sheet, "q_PL") * width / girders, "walk wider than 2 ft"),
            otherwise=(0 * klf, "walk of 2 ft or less"),
        ),
        klf, "pedestrian load of one girder", ref="LRFD 3.6.1.6",
    )  # fmt: skip


def tributary_deck(
    sheet: Sheet,
    *,
    spacing: Operand,
    overhang: Operand,
    thickness: Operand,
    unit_weight: Operand,
    edge_area: Operand | None = None,
) -> SharedLoad:
    r"""Write the weight of the deck on exterior and interior girders by tributary width.

    .. math:: w_{ext} = \gamma_c \left[t \left(\frac S2 + OH\right) + A_{edge}\right], \qquad
        w_{int} = \gamma_c\,t\,S

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    spacing, overhang, thickness : Operand, [length]
        ``S``; girder to edge of deck; total thickness, sacrificial surface included.
    unit_weight : Operand, [force / length**3]
        Of reinforced concrete.
    edge_area : Operand, optional, [length**2]
        What a thicker overhang has beyond ``t OH``.

    Returns
    -------
    SharedLoad

    Source
    ------
    Tributary width: common practice, no source.
    """
    area: Any = thickness * (spacing / 2 + overhang)
    if edge_area is not None:
        area = area + edge_area
    exterior = sheet.step(
        "w_de", unit_weight * area, klf, "deck on the exterior girder", ref="tributary width"
    )
    interior = sheet.step(
        "w_di", unit_weight * thickness * spacing, klf, "deck on an interior girder",
        ref="tributary width",
    )  # fmt: skip
    return SharedLoad(exterior, interior, interior)
