"""Flexure of a continuous girder: every place in tables, the governing ones in full."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from stepcalc.bridge.composite.assembled import composite_positive_flexure, flexure_with_buckling
from stepcalc.bridge.composite.negative import Bracing
from stepcalc.bridge.composite.service import service_two_general
from stepcalc.bridge.composite.sides import flange_sides
from stepcalc.bridge.composite.stages import (
    StageMoments,
    compressed_web_by_axis,
    compressed_web_by_stress,
    stage_sections,
    staged_stresses,
)
from stepcalc.bridge.composite.web import bend_buckling, hybrid_factor
from stepcalc.bridge.constants import use
from stepcalc.bridge.whole.continuous_quiet import Ratio, Tabulated, check_all, greatest
from stepcalc.expr.functions import maximum
from stepcalc.expr.tree import as_operand
from stepcalc.units import kip_ft

if TYPE_CHECKING:
    from collections.abc import Sequence

    from stepcalc.bridge.composite.assembled import BucklingFlexure, PositiveFlexure
    from stepcalc.bridge.whole.continuous_along import AtPlace
    from stepcalc.bridge.whole.continuous_sections import LineSection
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.sheet import Sheet

__all__ = [
    "Unbraced", "negative_at", "negative_everywhere", "positive_at", "positive_everywhere",
    "ratio_table", "service_moments", "strength_moments",
]  # fmt: skip


@dataclass(frozen=True)
class Unbraced:
    """The unbraced length that a place is looked at in.

    Attributes
    ----------
    number : int
    length : Operand, [length]
    gradient : Operand
        ``C_b``.
    """

    number: int
    length: Operand
    gradient: Operand


def strength_moments(sheet: Sheet, at: AtPlace, sense: int) -> StageMoments:
    r"""Write the factored moments of Strength I in one sense of bending.

    .. math:: M_{D1} = \max(\gamma_{DC} M, \gamma_{DC,min} M)

    Dead load that bends the other way takes its least factor.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    at : AtPlace
        Moments.
    sense : int
        1 sagging, -1 hogging.

    Returns
    -------
    StageMoments

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Table 3.4.1-1 and -2; from memory.
    """
    (DC1, DC2, DW), ref = at.dead(sense), "LRFD Table 3.4.1-1"
    DC, low, step = use(sheet, "gamma_DC"), use(sheet, "gamma_DCn"), sheet.step
    W, W_low = use(sheet, "gamma_DW"), use(sheet, "gamma_DWn")
    M_1 = step("M_D1", maximum(DC * DC1, low * DC1), kip_ft, "on the steel, Strength I", ref=ref)
    M_2 = step(
        "M_D2", maximum(DC * DC2, low * DC2) + maximum(W * DW, W_low * DW), kip_ft,
        "on the long-term section, Strength I", ref=ref,
    )  # fmt: skip
    M_L = step("M_L", use(sheet, "gamma_LL") * at.live(sense), kip_ft,
               "on the short-term section, Strength I", ref=ref)  # fmt: skip
    M = step("M_u", M_1 + M_2 + M_L, kip_ft, "sum of the factored moments", ref=ref)
    return StageMoments(M_1, M_2, M_L, M)


def service_moments(sheet: Sheet, at: AtPlace, sense: int) -> StageMoments:
    """Write the moments of Service II in one sense of bending.

    Parameters
    ----------
    sheet, at, sense
        As for `strength_moments`.

    Returns
    -------
    StageMoments

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Table 3.4.1-1; from memory.
    """
    (DC1, DC2, DW), ref, step = at.dead(sense), "LRFD Table 3.4.1-1", sheet.step
    M_1 = step("M_D1", 1 * DC1, kip_ft, "on the steel, Service II", ref=ref)
    M_2 = step("M_D2", DC2 + DW, kip_ft, "on the long-term section, Service II", ref=ref)
    M_L = step("M_L", use(sheet, "gamma_SII") * at.live(sense), kip_ft,
               "on the short-term section, Service II", ref=ref)  # fmt: skip
    M = step("M_u", M_1 + M_2 + M_L, kip_ft, "sum of the moments", ref=ref)
    return StageMoments(M_1, M_2, M_L, M)


def positive_at(
    sheet: Sheet,
    section: LineSection,
    at: AtPlace,
    *,
    location: str,
    lateral: Operand | None = None,
) -> PositiveFlexure:
    """Write Strength I and Service II of a composite section in positive bending at one place.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the parts.
    section, at
        Section and moments.
    location : str
        Where along the girder.
    lateral : Operand, [stress], optional
        Lateral bending stress of the bottom flange.

    Returns
    -------
    PositiveFlexure

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 6.10.7 and 6.10.4.2; from memory.
    """
    geometry, elastic = section.geometry, section.elastic
    with sheet.part("Strength I"):
        flexure = composite_positive_flexure(
            sheet, geometry, elastic, strength_moments(sheet, at, 1), continuous=True,
            location=location, lateral=lateral,
        )  # fmt: skip
    with sheet.part("Service II"):
        sections = stage_sections(elastic, positive=True)
        sides = flange_sides(sheet, geometry, positive=True)
        stresses = staged_stresses(sheet, sections, service_moments(sheet, at, 1), positive=True)
        depth = compressed_web_by_stress(sheet, geometry, stresses, sections.short_term)
        hybrid = hybrid_factor(sheet, geometry, sections.short_term)
        F_crw = bend_buckling(sheet, geometry, sides, depth=depth, hybrid=hybrid)
        service_two_general(
            sheet, geometry, sides, stresses=stresses, hybrid=hybrid, bending=F_crw,
            composite=True, location=location,
        )  # fmt: skip
    return flexure


def negative_at(
    sheet: Sheet, section: LineSection, at: AtPlace, unbraced: Unbraced, *, location: str,
) -> BucklingFlexure:  # fmt: skip
    """Write Strength I and Service II in negative bending at one place.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the parts.
    section, at
        Section and moments; steel and bars resist, or the steel alone where no studs stand.
    unbraced : Unbraced
        Of the bottom flange.
    location : str
        Where along the girder.

    Returns
    -------
    BucklingFlexure

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 6.10.8, Appendix A6 and 6.10.4.2; from memory.
    """
    geometry, elastic = section.geometry, section.elastic
    with sheet.part("Strength I"):
        found = flexure_with_buckling(
            sheet, geometry, elastic, strength_moments(sheet, at, -1), positive=False,
            unbraced=unbraced.length, gradient=unbraced.gradient,
            bracing=Bracing(compression=False, tension=section.composite), location=location,
        )  # fmt: skip
    with sheet.part("Service II"):
        sections = stage_sections(elastic, positive=False)
        sides = flange_sides(sheet, geometry, positive=False)
        stresses = staged_stresses(sheet, sections, service_moments(sheet, at, -1), positive=False)
        depth = compressed_web_by_axis(sheet, geometry, sections.short_term, positive=False)
        hybrid = hybrid_factor(sheet, geometry, sections.short_term)
        F_crw = bend_buckling(sheet, geometry, sides, depth=depth, hybrid=hybrid)
        service_two_general(
            sheet, geometry, sides, stresses=stresses, hybrid=hybrid, bending=F_crw,
            composite=section.composite, location=location,
        )  # fmt: skip
    return found


_SHORT = {
    "Flexure, positive, Strength I": "flexure",
    "Flexure, negative, Strength I": "flexure",
    "Slab stress, Strength I": "slab",
    "Flange over a change of section, Strength I": "change",
    "Ductility": "Dp",
    "Top flange, Service II": "top II",
    "Bottom flange, Service II": "bottom II",
    "Web bend-buckling, Service II": "web II",
    "Compression flange yield, pour": "yield",
    "Compression flange buckling, pour": "buckling",
    "Web bend-buckling, pour": "web",
    "Tension flange yield, pour": "tension",
    "Lateral bending of the flange": "fl",
    "Shear, end panel": "shear",
    "Shear, interior panel": "shear",
    "Shear, unstiffened web": "shear",
    "Spacing, end panel": "spacing",
    "Shear, pour": "pour",
    "Web fatigue": "fatigue",
    "Stiffener width, web": "b, web",
    "Stiffener width, thickness": "b, tp",
    "Stiffener width, flange": "b, flange",
    "Stiffener inertia": "It",
    "Bearing stiffener width": "width",
    "Bearing stiffener, bearing": "bearing",
    "Bearing stiffener, column": "column",
    "Fatigue, connection plate, bottom flange": "plate",
    "Fatigue, bottom flange": "flange",
    "Fatigue, top flange at the studs": "studs",
    "One-percent deck reinforcement": "As",
    "Least pitch, half 1": "pitch 1",
    "Least pitch, half 2": "pitch 2",
    "Studs for strength": "studs",
}
"""Heads of narrow columns; the caption says what they are."""


def ratio_table(
    sheet: Sheet, ratios: Sequence[Ratio], lead: dict[str, list[Any]], head: Sequence[str],
    caption: str,
) -> None:  # fmt: skip
    """Write demand over capacity by place and check, the place of the greatest ratio marked.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the table.
    ratios : sequence of Ratio
        Their locations are the keys of `lead`.
    lead : dict of location to cells
        What stands before the ratios, the name of the place first.
    head : sequence of str
        Headings of these cells.
    caption : str
    """
    names = list(dict.fromkeys(ratio.name for ratio in ratios))
    columns: dict[str, list[str]] = {}
    for name in names:
        columns.setdefault(_SHORT.get(name, name), []).append(name)
    worst = greatest(ratios).location
    rows = []
    for location, cells in lead.items():
        here = {ratio.name: ratio.node for ratio in ratios if ratio.location == location}
        found = [
            next((here[name] for name in group if name in here), "") for group in columns.values()
        ]
        first = f"{cells[0]}, GOVERNS" if location == worst else cells[0]
        rows.append([first, *cells[1:], *found])
    meant = "; ".join(f"{short}: {' or '.join(group)}" for short, group in columns.items())
    sheet.table(
        [*head, *columns], rows,
        f"{caption}. The last columns are demand over capacity: {meant}", instead=True,
    )  # fmt: skip


def positive_everywhere(
    sheet: Sheet, sections: Sequence[LineSection], places: Sequence[AtPlace]
) -> AtPlace | None:
    """Write positive bending at every place that sags, and return the governing one.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives steps, table and checks; within a part with tables only.
    sections : sequence of LineSection
    places : sequence of AtPlace
        All places; those that sag as first given are looked at.

    Returns
    -------
    AtPlace or None
        None where nothing sags.
    """
    quiet, lead = Tabulated(sheet), {}
    sags = {}
    for at in places:
        section = sections[at.place.section - 1]
        if at.largest.number <= 0 or not section.composite:  # type: ignore[attr-defined]  # a step
            continue
        location = at.place.label
        with sheet.part(location):
            flexure = positive_at(quiet.as_sheet, section, at, location=location)
        sags[location] = at
        lead[location] = [location, at.largest, flexure.strength.nominal]
    if not sags:
        return None
    ratio_table(
        sheet, quiet.ratios, lead, ["Place", "Mu", "Mn"],
        "Positive bending at every place that sags",
    )  # fmt: skip
    check_all(sheet, quiet.ratios, where="all places that sag")
    return sags[greatest(quiet.ratios).location]


def negative_everywhere(
    sheet: Sheet, sections: Sequence[LineSection],
    places: Sequence[tuple[AtPlace, int, Unbraced]],
) -> tuple[AtPlace, int, Unbraced] | None:  # fmt: skip
    """Write negative bending at every place that hogs, in every unbraced length it belongs to.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives steps, table and checks; within a part with tables only.
    sections : sequence of LineSection
    places : sequence of (AtPlace, section, Unbraced)

    Returns
    -------
    (AtPlace, section, Unbraced) or None
        The governing one; None where nothing hogs.
    """
    quiet, lead = Tabulated(sheet), {}
    hogs = {}
    for at, number, unbraced in places:
        if at.smallest.number >= 0:  # type: ignore[attr-defined]  # a step
            continue
        location = f"{at.place.label}, section {number}, length {unbraced.number}"
        with sheet.part(location):
            found = negative_at(
                quiet.as_sheet, sections[number - 1], at, unbraced, location=location
            )
        hogs[location] = (at, number, unbraced)
        lead[location] = [
            at.place.label, str(number), str(unbraced.number), at.smallest,
            found.stresses.bottom, found.strength.F_nc,
        ]  # fmt: skip
    if not hogs:
        return None
    ratio_table(
        sheet, quiet.ratios, lead,
        ["Place", "Sec.", "Len.", "Mu", "fc", "Fnc"],
        "Negative bending at every place that hogs: section, number of the unbraced length, stress "
        "of the bottom flange",
    )  # fmt: skip
    check_all(sheet, quiet.ratios, where="all places that hog")
    return hogs[greatest(quiet.ratios).location]


def one() -> Operand:
    """Return 1 as an operand: a moment gradient on the safe side."""
    gradient: Operand = as_operand(1.0)
    return gradient
