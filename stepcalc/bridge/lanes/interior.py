"""Lanes on an interior girder for the lengths of every effect, and what follows for fatigue."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from stepcalc.bridge.constants import use
from stepcalc.bridge.distribution import (
    governing_moment,
    governing_shear,
    moment_equations,
    shear_equations,
)
from stepcalc.bridge.lever_rule import lever_rule

if TYPE_CHECKING:
    from stepcalc.bridge.lanes.deck import Deck
    from stepcalc.bridge.lever_rule import LeverRule
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.sheet import Sheet

__all__ = ["InteriorMoment", "InteriorShear", "interior_moments", "interior_shear"]


@dataclass(frozen=True)
class InteriorMoment:
    """Lanes on an interior girder for moment of one length.

    Attributes
    ----------
    one, more, governing : Operand
        ``g_M1``, ``g_M2``, ``g_M``; multiple presence is inside.
    fatigue : Operand
        ``g_Mf``: one lane, multiple presence taken out.
    """

    one: Operand
    more: Operand
    governing: Operand
    fatigue: Operand


@dataclass(frozen=True)
class InteriorShear:
    """Lanes on an interior girder for shear: as `InteriorMoment`, and the lever rule."""

    one: Operand
    more: Operand
    governing: Operand
    fatigue: Operand
    lever: LeverRule


def interior_shear(sheet: Sheet, deck: Deck) -> InteriorShear:
    """Write the lanes for shear and reactions, with the lever rule for what is out of range.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    deck : Deck
        The cross-section.

    Returns
    -------
    InteriorShear

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Table 4.6.2.2.3a-1, Art. 3.6.1.1.2; from memory.
    """
    with sheet.part("Lever rule, where the equations do not reach"):
        lever = lever_rule(sheet, spacing=deck.spacing, lanes=deck.lanes, girders=deck.girders)
    one, more = shear_equations(sheet, deck)
    governing = governing_shear(sheet, deck, (one, more), lever)
    return InteriorShear(one, more, governing, _without_m(sheet, "g_Vf", one, "shear"), lever)


def interior_moments(
    sheet: Sheet, deck: Deck, lengths: Sequence[tuple[str, Operand]], lever: LeverRule
) -> tuple[InteriorMoment, ...]:
    """Write the lanes for moment, in a part of its own for each length.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the parts.
    deck : Deck
        The cross-section.
    lengths : sequence of (str, Operand)
        Title of the part and length L, [length]: see `continuous.spans.effect_lengths`.
    lever : LeverRule
        Of `interior_shear`.

    Returns
    -------
    tuple of InteriorMoment

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Table 4.6.2.2.2b-1, Table 4.6.2.2.1-2; from memory.
    """
    found, rows = [], []
    for title, length in lengths:
        with sheet.part(title):
            at = deck.at_length(length)
            one, more = moment_equations(sheet, at, deck.stiffness)
            governing = governing_moment(sheet, at, (one, more), lever, deck.stiffness)
            fatigue = _without_m(sheet, "g_Mf", one, "moment")
        found.append(InteriorMoment(one, more, governing, fatigue))
        rows.append([title, one, more, governing, fatigue])
    header = ["interior girder, moment", "one lane", "two or more", "governs", "fatigue"]
    sheet.table(header, rows, "Lanes on an interior girder; m inside, but not for fatigue")
    return tuple(found)


def _without_m(sheet: Sheet, name: str, one: Operand, what: str) -> Operand:
    return sheet.step(
        name, one / use(sheet, "m_1"), None,
        f"fatigue, {what}: one lane, multiple presence taken out", ref="LRFD 3.6.1.1.2",
    )  # fmt: skip
