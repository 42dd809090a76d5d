"""Pedestrians as a loaded lane beside vehicles, where every number of lanes is known by itself."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from stepcalc.bridge.constants import use
from stepcalc.errors import RangeError
from stepcalc.expr.functions import cases, floor, maximum
from stepcalc.units import ft

if TYPE_CHECKING:
    from stepcalc.bridge.lanes.deck import Deck
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.sheet import Sheet
    from stepcalc.units import Unit

__all__ = ["deck_with_traffic_on_the_walk", "vehicles_and_pedestrians"]

_PRESENCE = ("m_1", "m_2", "m_3", "m_4")


def vehicles_and_pedestrians(
    sheet: Sheet,
    *,
    reactions: Sequence[Operand],
    vehicle: Operand,
    pedestrians: Operand,
    lanes: Operand,
    unit: Unit,
    name: str = "Q",
) -> Operand:
    r"""Write the live load of a girder with the walk as a further loaded lane.

    .. math:: Q_n = m_n R_n Q_L, \qquad Q_{nP} = m_{n+1} (R_n Q_L + Q_{PL})

    for one lane of vehicles and every further number that fits, by the lever rule or the rigid
    cross-section, whose factors hold no multiple presence.  The factor of a single loaded lane is
    put on vehicles alone, never on pedestrians.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps and the table of all cases.
    reactions : sequence of Operand
        ``R_1``, ``R_2`` and so on: lanes on the girder, without multiple presence.
    vehicle, pedestrians : Operand
        Effect of one lane of vehicles, with impact; effect of pedestrians on the girder.
    lanes : Operand
        Number of design lanes beside the walk.
    unit : Unit
        Of the effect.
    name : str
        Beginning of the names of the steps.

    Returns
    -------
    Operand
        The greatest.

    Raises
    ------
    RangeError
        If no reaction is given, or more than ten.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 3.6.1.1.2 and its commentary, 3.6.1.6; from memory.
    """
    if not 1 <= len(reactions) <= 10:
        raise RangeError(f"{len(reactions)} reactions of lanes; give those of 1 to 10 lanes")
    ref, rows, found = "LRFD 3.6.1.1.2", [], []
    for count, R in enumerate(reactions, 1):
        alone: Any = _m(sheet, count) * R * vehicle
        both: Any = _m(sheet, count + 1) * (R * vehicle + pedestrians)
        words = "one lane" if count == 1 else f"{count} lanes"
        pair = [
            sheet.step(
                f"{name}_{count}{tag}",
                total if count == 1 else cases(
                    (lanes < count, 0 * unit, f"no {words} here"), otherwise=(total, words)
                ),
                unit, f"{words}{more}", ref=ref,
            )
            for tag, total, more in (("", alone, " of vehicles"), ("P", both, " and the walk"))
        ]  # fmt: skip
        found += pair
        rows.append([words, *pair])
    worst = sheet.step(f"{name}_LP", maximum(*found), unit, "the greatest of all cases", ref=ref)
    rows.append(["the greatest", worst, ""])
    sheet.table(["vehicles", "alone", "with the walk loaded"], rows,
                "Vehicles and pedestrians, multiple presence inside")  # fmt: skip
    return worst


def deck_with_traffic_on_the_walk(sheet: Sheet, deck: Deck, *, walk: Operand) -> Deck:
    """Write the cross-section for vehicles that stray on a walk along one edge.

    Distribution factors of this cross-section are a case of their own, without pedestrians; it is
    for walks that no barrier keeps vehicles off.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    deck : Deck
        The cross-section with its curb at the edge of the walk.
    walk : Operand, [length]
        Width of the walk.

    Returns
    -------
    Deck
        Its curb at the rail outside the walk, with the lanes that then fit.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 3.6.1.3.1, 3.6.1.1.1, 13.4; from memory.
    """
    sheet.note("Vehicles on the walk: a case of its own, without pedestrians.")
    curb = sheet.step("d_ew", deck.curb + walk, ft, "exterior girder to the rail outside the walk",
                      ref="LRFD 4.6.2.2.1")  # fmt: skip
    roadway = sheet.step("w_rw", deck.roadway + walk, ft, "between the outer barriers",
                         ref="geometry")  # fmt: skip
    lanes = sheet.step(
        "N_Lw",
        cases(
            (roadway < 20 * ft, 1, "one lane"),
            (roadway < 24 * ft, 2, "two lanes of half the width"),
            otherwise=(floor(roadway / use(sheet, "b_lane")), "12 ft lanes"),
        ),
        None, "lanes with vehicles on the walk", ref="LRFD 3.6.1.1.1",
    )  # fmt: skip
    return replace(deck, curb=curb, roadway=roadway, lanes=lanes)


def _m(sheet: Sheet, loaded: int) -> Any:
    return use(sheet, _PRESENCE[min(loaded, len(_PRESENCE)) - 1])
