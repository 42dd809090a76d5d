"""Deck of a continuous girder: tension under Service II and later pours, one percent of bars."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stepcalc.bridge.composite.service import deck_reinforcement
from stepcalc.bridge.constants import use
from stepcalc.bridge.whole.continuous_flexure import ratio_table
from stepcalc.bridge.whole.continuous_quiet import Tabulated, check_all, greatest
from stepcalc.expr.functions import maximum, total
from stepcalc.units import inch, ksi

if TYPE_CHECKING:
    from collections.abc import Sequence

    from stepcalc.bridge.composite.service import DeckTension
    from stepcalc.bridge.whole.composite_section import Composite
    from stepcalc.bridge.whole.continuous_along import AtPlace, Effects
    from stepcalc.bridge.whole.continuous_pours import PourAtPlace
    from stepcalc.sheet.sheet import Sheet

__all__ = ["deck_of_line"]


def deck_of_line(
    sheet: Sheet, composite: Composite, effects: Effects, moments: Sequence[AtPlace],
    pours: dict[tuple[int, float], PourAtPlace], *, full: bool = True,
) -> None:  # fmt: skip
    """Check the longitudinal bars where the deck is in tension: a table, the governing in full.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the parts.
    composite : Composite
        Slab and concrete.
    effects : Effects
    moments : sequence of AtPlace
    pours : dict of place to PourAtPlace
    full : bool
        Whether the governing place is written in full below the table.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 6.10.1.7, 6.10.3.2.4, 6.10.1.1.1d; from memory.
    """
    sheet.note(
        "Tension at the top of the deck by the short-term section, permanent load included "
        "(6.10.1.1.1d). Where it exceeds phi f_r the bars of the data are needed: two thirds in "
        "the top layer, no larger than No. 6, no farther apart than 12 in, and anchored beyond "
        "the last such place. The bars are taken to run over all of these places."
    )
    quiet, lead, found = Tabulated(sheet), {}, {}
    with sheet.part("Every place with tension", tables_only=True):
        for at in moments:
            section = effects.sections[at.place.section - 1]
            bends = (at.DC2.number + at.DW.number + 1.3 * at.live_min.number) < 0  # type: ignore[attr-defined]  # nodes
            if not bends or not section.composite:
                continue
            label = at.place.label
            with sheet.part(label):
                made = _place(quiet.as_sheet, composite, effects, at, pours, label)
            found[label] = at
            lead[label] = [label, made.stress, made.required]
        if found:
            ratio_table(
                sheet, quiet.ratios, lead, ["Place", "Deck tension", "As needed"],
                "Deck in tension; no bars are asked for where A_s needed is 0",
            )  # fmt: skip
            check_all(sheet, quiet.ratios, where="all places with tension")
    if found and full:
        worst = greatest(quiet.ratios).location
        with sheet.part("Governing place"):
            sheet.note(f"The greatest ratio of the table above, {worst}, in full.")
            _place(sheet, composite, effects, found[worst], pours, worst)


def _place(
    sheet: Sheet, composite: Composite, effects: Effects, at: AtPlace,
    pours: dict[tuple[int, float], PourAtPlace], location: str,
) -> DeckTension:  # fmt: skip
    section = effects.sections[at.place.section - 1]
    short, slab = section.short, composite.slab
    assert short.S_deck is not None
    assert short.ratio is not None
    f_2 = sheet.step(
        "f_d2",
        -1 * (at.DC2 + at.DW + use(sheet, "gamma_SII") * at.live_min)
        / (short.ratio * short.S_deck),
        ksi, "tension at the top of the deck, Service II", ref="LRFD 6.10.1.7, 6.10.1.1.1d",
    )  # fmt: skip
    pour = pours.get(at.place.at)
    later = None if pour is None else pour.tension
    worst = f_2 if later is None else maximum(f_2, later)
    f_d = sheet.step("f_deck", maximum(worst, 0 * ksi), ksi,
                     "greatest tension, Service II or pours", ref="LRFD 6.10.1.7")  # fmt: skip
    A_r = sheet.step("A_bars", total(layer.area for layer in slab.bars), inch**2,
                     "longitudinal bars of the data", ref="data")  # fmt: skip
    return deck_reinforcement(
        sheet, slab, stress=f_d, width=slab.width, thickness=slab.thickness, provided=A_r,
        location=location,
    )  # fmt: skip
