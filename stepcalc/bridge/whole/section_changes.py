"""Every limit state where the section changes: a flange change, or the end of a cover plate."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stepcalc.bridge.composite.stages import stage_sections
from stepcalc.bridge.constants import use
from stepcalc.bridge.details.fatigue import FatigueRow, fatigue_check
from stepcalc.bridge.details.fatigue_categories import chosen_category, cover_plate_end_category
from stepcalc.bridge.details.fatigue_loads import fatigue_range
from stepcalc.bridge.details.plate_proportions import FlangePlate, plate_proportions
from stepcalc.bridge.section_fields import EndWeld
from stepcalc.bridge.whole.flexure import moments_at, service_stresses, strength_flexure
from stepcalc.bridge.whole.pour import bare_steel_checks, stiffener_distance
from stepcalc.bridge.whole.section_effects import AXLE_MOMENT_AT
from stepcalc.expr.functions import cases, sqrt
from stepcalc.units import ft, kip_ft, ksi

if TYPE_CHECKING:
    from stepcalc.bridge.givens import BridgeNodes
    from stepcalc.bridge.whole.demands import Demands
    from stepcalc.bridge.whole.fatigue_and_studs import FatigueBasis
    from stepcalc.bridge.whole.flexure import GirderFlexure, StageLoads
    from stepcalc.bridge.whole.outer_sections import OuterSection
    from stepcalc.bridge.whole.pour import Pour
    from stepcalc.bridge.whole.steel import Steel
    from stepcalc.sheet.sheet import Sheet

__all__ = ["cover_plate_ends", "section_changes"]


def section_changes(
    sheet: Sheet,
    bridge: BridgeNodes,
    outer: tuple[OuterSection, ...],
    demands: Demands,
    pour: Pour,
    basis: FatigueBasis,
    *,
    exterior: bool,
) -> tuple[GirderFlexure, ...]:
    """Check every lighter section at its inner end, where its moments are greatest.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives a part for each.
    bridge, demands, pour, basis
        Of the girder.
    outer : tuple of OuterSection
        The sections, from the bearing inwards.
    exterior : bool
        Which girder.

    Returns
    -------
    tuple of GirderFlexure
        Strength of each section.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 6.10.2 to 6.10.8, 6.6.1.2; from memory.
    """
    found = []
    for item in outer:
        with sheet.part(f"At the {item.words}"):
            found.append(_at(sheet, bridge, item, demands, pour, basis, exterior=exterior))
    return tuple(found)


def _at(
    sheet: Sheet,
    bridge: BridgeNodes,
    item: OuterSection,
    demands: Demands,
    pour: Pour,
    basis: FatigueBasis,
    *,
    exterior: bool,
) -> GirderFlexure:
    L, x, where = bridge.span, item.at, item.words
    if not item.section.rolled:
        with sheet.part("Proportion limits"):
            top, bottom = item.section.top, item.section.bottom
            plate_proportions(
                sheet, web_depth=item.section.web.width, web=item.section.web.thickness,
                compression=FlangePlate(top.width, top.thickness),
                tension=FlangePlate(bottom.width, bottom.thickness),
                longitudinal=stiffener_distance(sheet, bridge) is not None, location=where,
            )  # fmt: skip
    with sheet.part("Moments, unfactored"):
        moments = moments_at(sheet, bridge, demands, 1 * x)
    along = stiffener_distance(sheet, bridge)
    with sheet.part("Strength I"):
        flexure = strength_flexure(sheet, bridge, item.geometry, item.elastic, moments,
                                   location=where, draw=False, along=along)  # fmt: skip
    with sheet.part("Service II"):
        service_stresses(sheet, bridge, item.geometry, item.elastic, moments, location=where,
                         along=along)  # fmt: skip
    with sheet.part("Constructibility"):
        M = sheet.step("M_cux", 4 * x * (L - x) / L**2 * pour.effects.moment, kip_ft,
                 "factored moment of the pour here", ref="uniform load")  # fmt: skip
        sheet.note(
            "The unbraced length that holds the change has the resistance of the lighter section, "
            "its gradient modifier 1.0."
        )
        bare_steel_checks(
            sheet, bridge, item.bare, item.elastic.steel, moment=M, gradient=pour.gradient,
            exterior=exterior, location=where,
        )  # fmt: skip
    with sheet.part("Fatigue"):
        _fatigue(sheet, bridge, item, demands, basis, moments)
    return flexure


def _fatigue(
    sheet: Sheet, bridge: BridgeNodes, item: OuterSection, demands: Demands, basis: FatigueBasis,
    moments: StageLoads,
) -> FatigueRow:  # fmt: skip
    sections = stage_sections(item.elastic, positive=True)
    steel, late, n = sections.steel, sections.long_term, sections.short_term
    M_f = sheet.computed(
        "M_fx", AXLE_MOMENT_AT,
        {"vehicle": "fatigue truck", "span": bridge.span, "fraction": item.at / bridge.span},
        kip_ft, "fatigue truck here, one lane, no impact", ref="LRFD 3.6.1.4.1",
    )  # fmt: skip
    f_p = sheet.step(
        "f_px", moments.DC1 / steel.S_bottom + (moments.DC2 + moments.DW) / late.S_bottom, ksi,
        "bottom flange, permanent, tension positive", ref="LRFD 6.10.1.1.1a",
    )  # fmt: skip
    if item.cover:
        what, category = "end of the cover plate", "E or E'"
        detail = cover_plate_end_category(sheet, basis.rules, flange=item.section.bottom.thickness)
    else:
        what, category = "flange butt weld", "B"
        chosen = sheet.given(
            "category", "B", "detail category, butt weld of the flanges",
            choices="stress_categories",
            assumed="groove weld with a ground transition not steeper than 1 to 2.5, LRFD Table "
            "6.6.1.2.3-1, 5.2, from memory",
        )  # fmt: skip
        detail = chosen_category(sheet, chosen, basis.rules)
    stress = fatigue_range(
        sheet, sagging=M_f, hogging=0 * M_f, share=demands.shares.fatigue_moment,
        modulus=n.S_bottom, bottom=True,
    )  # fmt: skip
    result = fatigue_check(
        sheet, detail, basis.rules, stress=stress, permanent=f_p, traffic=basis.traffic,
        name=f"Fatigue, {what}", location=item.words,
    )  # fmt: skip
    return FatigueRow(what, item.words, category, stress, result)


def cover_plate_ends(
    sheet: Sheet,
    bridge: BridgeNodes,
    steel: Steel,
    item: OuterSection,
    demands: Demands,
    flexure: GirderFlexure,
) -> None:
    r"""Check where the cover plate ends: beyond its theoretical end, and long enough.

    .. math:: x_t = \frac L2\left(1 - \sqrt{1 - \frac{\phi_f M_n}{M_u}}\right), \qquad
        x_c + c\,b_{cp} \le x_t, \qquad L - 2 x_c \ge 2 d + 3\,\mathrm{ft}

    The parabola through the greatest moment stands for the envelope here; the section at the end
    itself is checked with the moments of the envelope.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    bridge, steel, demands
        Of the girder.
    item : OuterSection
        The beam without the plate.
    flexure : PositiveFlexure
        Its strength.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 6.10.12.1 (length); terminal distance of Standard
    Specifications, 17th ed. (2002), Art. 10.13.4; from memory.
    """
    details = bridge.data.details
    assert details is not None
    cover = steel.section.bottom_cover
    assert cover is not None
    L, step, M_u = bridge.span, sheet.step, demands.factored.M_u
    M_r = use(sheet, "phi_f") * flexure.nominal
    x_t = step(
        "x_t",
        cases(
            (M_r >= M_u, L / 2, "the beam alone would do: no theoretical end"),
            otherwise=(L / 2 * (1 - sqrt(1 - M_r / M_u)), "plate needed beyond"),
        ),
        ft, "theoretical end of the cover plate, Strength I", ref="parabola of the moments",
    )  # fmt: skip
    across = details.cover_end is EndWeld.ACROSS
    factor = sheet.given(
        "c_t", 1.5 if across else 2.0,
        f"terminal distance over the width, {details.cover_end.value}",
        source="Std 10.13.4 (from memory)",
    )  # fmt: skip
    sheet.check(
        "Terminal distance of the cover plate", item.at + factor * cover.width <= x_t,
        ref="Std 10.13.4", location=item.words,
    )  # fmt: skip
    table = steel.section.table
    assert table is not None
    needed = step("l_cmin", 2 * table.depth + 3 * ft, ft, "least length of the cover plate",
                  ref="LRFD 6.10.12.1", symbol="l_c,min")  # fmt: skip
    sheet.check("Length of the cover plate", needed <= L - 2 * item.at, ref="LRFD 6.10.12.1",
                location="midspan")  # fmt: skip
