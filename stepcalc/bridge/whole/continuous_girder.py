"""A girder continuous over piers by AASHTO LRFD: every place in tables, governing ones in full."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stepcalc.bridge.composite.figure import draw_girder_section
from stepcalc.bridge.composite.stages import stage_sections
from stepcalc.bridge.details.editions import edition_rules
from stepcalc.bridge.details.plate_proportions import FlangePlate, plate_proportions
from stepcalc.bridge.givens import state_bridge
from stepcalc.bridge.section_figure import draw_cross_section
from stepcalc.bridge.whole.assumptions import state_assumptions
from stepcalc.bridge.whole.continuous_along import Effects
from stepcalc.bridge.whole.continuous_bearings import bearings_of_line, reactions_of_line
from stepcalc.bridge.whole.continuous_braces import negative_places, pour_everywhere
from stepcalc.bridge.whole.continuous_deck import deck_of_line
from stepcalc.bridge.whole.continuous_deflection import camber_of_line, live_deflection
from stepcalc.bridge.whole.continuous_fatigue import fatigue_of_line, truck_count
from stepcalc.bridge.whole.continuous_flexure import (
    negative_at,
    negative_everywhere,
    positive_at,
    positive_everywhere,
)
from stepcalc.bridge.whole.continuous_line import girder_line
from stepcalc.bridge.whole.continuous_quiet import (
    Tabulated,
    check_all,
    state_constants,
    state_other_constants,
)
from stepcalc.bridge.whole.continuous_sections import bare_sections, state_line, whole_sections
from stepcalc.bridge.whole.continuous_shares import line_loads, line_shares
from stepcalc.bridge.whole.continuous_shear import shear_of_line
from stepcalc.bridge.whole.continuous_studs import studs_of_line
from stepcalc.bridge.whole.continuous_tables import (
    moment_figure,
    moment_table,
    shear_table,
)
from stepcalc.bridge.whole.continuous_wind import wind_on_line
from stepcalc.bridge.whole.scope import conclude_girder
from stepcalc.bridge.whole.steel import trial_steel
from stepcalc.bridge.whole.tables import stress_table

if TYPE_CHECKING:
    from stepcalc.bridge.data import BridgeData
    from stepcalc.bridge.whole.continuous_along import AtPlace
    from stepcalc.bridge.whole.continuous_flexure import Unbraced
    from stepcalc.bridge.whole.continuous_sections import BareSection, LineSection
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.sheet import Sheet

__all__ = ["write_continuous"]


def write_continuous(
    sheet: Sheet, data: BridgeData, *, exterior: bool, proof: str | None = "statics"
) -> None:
    """Write the calculation of one girder over two to eight spans, welded or rolled.

    Parameters
    ----------
    sheet : Sheet
        An empty sheet.
    data : BridgeData
        The bridge, with `details` of a continuous girder.
    exterior : bool
        The exterior girder; otherwise an interior one.
    proof : str or None
        None leaves out the proofs of the axle placements.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017); articles beside each step; from memory.
    """
    details = data.details
    assert details is not None
    line = girder_line(data)
    with sheet.part("Assumptions"):
        state_assumptions(sheet, data, exterior=exterior)
    with sheet.part("Bridge data"):
        bridge = state_bridge(sheet, data)
        spans = state_line(sheet, bridge, line)
    with sheet.part("Factors and limits of the code", tables_only=True):
        state_constants(sheet)
    with sheet.part("Trial section"):
        steel = trial_steel(sheet, bridge)
        draw_cross_section(sheet, bridge, steel.trial)
    with sheet.part("Sections over the piers"):
        bare = bare_sections(sheet, bridge, line, steel)
        if len(bare) == 1:
            sheet.note("Section 1 runs on over the piers.")
    with sheet.part("Dead load"):
        loads = line_loads(sheet, bridge, steel, bare, exterior=exterior)
    with sheet.part("Section properties"):
        composite, sections = whole_sections(
            sheet, bridge, steel, bare, loads.haunch, line, exterior=exterior
        )
    with sheet.part("Proportion limits", tables_only=True):
        _proportions(sheet, bare)
    with sheet.part("Live-load distribution"):
        shares = line_shares(sheet, bridge, steel, loads.haunch, line, spans, exterior=exterior)
    effects = Effects(sheet, line, spans, sections, loads, shares)
    rules = edition_rules(sheet, str(details.edition.value))
    with sheet.part("Effects along the girder"):
        moments, peaks, fractions = _effects(sheet, effects, proof)
    with sheet.part("Reactions", tables_only=True):
        reactions = reactions_of_line(sheet, effects)
    with sheet.part("Constructibility"):
        pours = pour_everywhere(sheet, bridge, effects, exterior=exterior)
    everywhere = [*moments, *peaks]
    with sheet.part("Positive moment"):
        governing = _positive(sheet, sections, everywhere)
    with sheet.part("Negative moment"):
        hogging = _negative(sheet, sections, effects)
    if exterior and details.wind:
        with sheet.part("Wind on the fascia"):
            wind_on_line(sheet, bridge, sections, rules, governing, hogging)
    with sheet.part("Deck reinforcement"):
        deck_of_line(sheet, composite, effects, moments, pours, full=not exterior)
    with sheet.part("Fatigue"):
        trucks = truck_count(sheet, bridge)
        fatigue_of_line(
            sheet, bridge, effects, [at for at in everywhere if _listed(at)], rules, trucks
        )
    with sheet.part("Shear"):
        shear_of_line(sheet, bridge, effects, rules, full=not exterior)
    with sheet.part("At the bearings"):
        bearings_of_line(sheet, bridge, effects, steel, reactions, full=not exterior)
    with sheet.part("Shear connectors"):
        studs_of_line(sheet, bridge, composite, effects, peaks, fractions, rules, trucks)
    with sheet.part("Live-load deflection and depth"):
        live_deflection(sheet, effects)
    with sheet.part("Dead-load deflection and camber", tables_only=True):
        camber_of_line(sheet, bridge, effects)
    with sheet.part("Further factors and limits"):
        state_other_constants(sheet)
    with sheet.part("Verdict"):
        conclude_girder(sheet, data, exterior=exterior)


def _listed(at: AtPlace) -> bool:
    """Say whether a place is more than the middle of an unbraced length."""
    return at.place.kinds != ("middle",)


def _proportions(sheet: Sheet, bare: tuple[BareSection, ...]) -> None:
    quiet = Tabulated(sheet, sides=True)
    for item in bare:
        section = item.steel
        if item.number > 1 and section is bare[0].steel:
            continue
        top = FlangePlate(section.top.width, section.top.thickness)
        bottom = FlangePlate(section.bottom.width, section.bottom.thickness)
        positive = item.number == 1
        with sheet.part(f"Section {item.number}"):
            plate_proportions(
                quiet.as_sheet, web_depth=section.web.width, web=section.web.thickness,
                compression=top if positive else bottom, tension=bottom if positive else top,
                location=item.words,
            )  # fmt: skip
    sheet.table(
        ["Section", "Check", "Demand", "Capacity", "D/C", "Article"],
        [
            [r.location.removeprefix("section "), r.name, r.sides[0], r.sides[1], r.node, r.ref]
            for r in quiet.ratios
        ],
        "Proportions of every section; over the piers the bottom flange is the compressed one",
    )  # fmt: skip
    check_all(sheet, quiet.ratios, where="all sections")


def _effects(
    sheet: Sheet, effects: Effects, proof: str | None
) -> tuple[list[AtPlace], list[AtPlace], list[Operand]]:
    line = effects.line
    sheet.note(
        "DC1 bends the steel by its own stiffness; DC2 and DW the long-term and live load the "
        "short-term section over all spans, also over the piers (LRFD 6.10.1.5). Each dead load "
        "acts on all spans at once, with its largest or its least factor, whichever is worse."
    )
    shears = [place for panel in line.panels for place in (panel.start, panel.end)]
    effects.remember([*line.places, *shears])
    with sheet.part("Moments", tables_only=True):
        moments = [effects.write("moment", place) for place in line.places]
        fractions = [effects.peak(span) for span in range(1, line.count + 1)]
        peaks = []
        for span, fraction in enumerate(fractions, 1):
            place = line.place(span, fraction.number, "greatest")  # type: ignore[attr-defined]  # a node
            peaks.append(
                effects.write("moment", place, part=f"Greatest of span {span}", fraction=fraction)
            )
        moment_table(sheet, [*moments, *peaks])
        moment_figure(sheet, effects, moments)
    with sheet.part("Shears", tables_only=True):
        tenths = [place for place in line.places if "tenth" in place.kinds]
        shear_table(sheet, [effects.write("shear", place) for place in tenths])
    if proof is not None:
        with sheet.part("Placement of the live load"):
            _placements(sheet, effects, peaks, fractions)
    return moments, peaks, fractions


def _placements(
    sheet: Sheet, effects: Effects, peaks: list[AtPlace], fractions: list[Operand]
) -> None:
    """Show what stands where for the greatest moment of span 1 and over the first pier."""
    sheet.note(
        "Two placements in full, for one lane: the greatest positive moment of span 1, and the "
        "greatest negative moment over support 2. All others are found alike."
    )
    from stepcalc.bridge.constants import use
    from stepcalc.units import kip_ft

    for name, place, fraction, which, words in (
        ("M_1", peaks[0].place, fractions[0], "max", "greatest positive moment of span 1"),
        ("M_2", effects.line.at(1, 1.0), 1.0, "min", "greatest negative moment over support 2"),
    ):  # fmt: skip
        sheet.computed(
            name, effects.kernels.live["moment"],
            effects.at("n", place, fraction)
            | {"load": "HL-93", "impact": use(sheet, "IM"), "which": which},
            kip_ft, f"{words}, one lane, with impact", ref="LRFD 3.6.1.3.1", proof="ordinates",
        )  # fmt: skip


def _positive(
    sheet: Sheet, sections: tuple[LineSection, ...], places: list[AtPlace]
) -> AtPlace | None:
    with sheet.part("Every place", tables_only=True):
        at = positive_everywhere(sheet, sections, [p for p in places if _listed(p)])
    if at is None:
        return None
    section = sections[at.place.section - 1]
    with sheet.part("Governing place"):
        sheet.note(f"The governing place of the table above, {at.place.label}, in full.")
        with sheet.part("Stresses by stage"):
            stress_table(
                sheet, stage_sections(section.elastic, positive=True),
                (at.DC1, at.DC2, at.DW, at.live_max),
            )  # fmt: skip
        flexure = positive_at(sheet, section, at, location=at.place.label)
        draw_girder_section(
            sheet, section.geometry, plastic=flexure.plastic,
            caption="Plastic axis and stress blocks, as first given.",
        )  # fmt: skip
    return at


def _negative(
    sheet: Sheet, sections: tuple[LineSection, ...], effects: Effects
) -> tuple[AtPlace, int, Unbraced] | None:
    with sheet.part("Unbraced lengths of the bottom flange", tables_only=True):
        places = negative_places(sheet, effects)
    with sheet.part("Every place", tables_only=True):
        governing = negative_everywhere(sheet, sections, places)
    if governing is None:
        return None
    at, number, unbraced = governing
    section = sections[number - 1]
    dead = at.dead(-1)
    with sheet.part("Governing place"):
        sheet.note(
            f"The governing place of the table above, {at.place.label} in section {number} and "
            f"unbraced length {unbraced.number}, in full."
        )
        with sheet.part("Stresses by stage"):
            stress_table(
                sheet, stage_sections(section.elastic, positive=False),
                (dead[0], dead[1], dead[2], at.live(-1)), positive=False,
            )  # fmt: skip
        negative_at(sheet, section, at, unbraced, location=at.place.label)
    return governing
