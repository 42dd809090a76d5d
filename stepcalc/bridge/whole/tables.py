"""Tables of a composite girder: stresses by stage, effects along the girder, reactions."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stepcalc.bridge.constants import use
from stepcalc.bridge.whole.section_effects import HL93_MOMENT_AT, HL93_SHEAR_AT
from stepcalc.expr.functions import maximum
from stepcalc.units import kip, kip_ft, ksi

if TYPE_CHECKING:
    from stepcalc.bridge.composite.stages import StageSections
    from stepcalc.bridge.givens import BridgeNodes
    from stepcalc.bridge.whole.demands import Demands
    from stepcalc.bridge.whole.flexure import GirderFlexure
    from stepcalc.bridge.whole.outer_sections import OuterSection
    from stepcalc.bridge.whole.web_and_bearing import Shear
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.sheet import Sheet

__all__ = ["along_the_girder", "reactions", "stress_table"]


def stress_table(
    sheet: Sheet, sections: StageSections, moments: tuple[Operand, Operand, Operand, Operand],
    *, positive: bool = True, older: bool = False,
) -> None:  # fmt: skip
    """Write the unfactored stresses of every load by fibre, each on its own section.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps and the table.
    sections : StageSections
        Steel, 3n and n; over a pier steel, and steel with bars twice.
    moments : tuple of Operand, [force * length]
        DC1, DC2, DW, and live load with impact; positive in the sense that is looked at.
    positive : bool
        Whether the bottom is in tension.
    older : bool
        Cite the Standard Specifications.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 6.10.1.1.1a, -1c, and -1d for the deck; from memory.
    """
    one, two, three = sections.steel, sections.long_term, sections.short_term
    pull, push = ("tension", "compression") if positive else ("compression", "tension")
    last = ["Top of deck, compression" if positive else "Top bars, tension"]
    if one is three:
        last = []  # the steel alone: the deck takes no stress
    rows, ref = [], "Std 10.38.4" if older else "LRFD 6.10.1.1.1a"
    loads = zip(("DC1", "DC2", "DW", "LL"), moments, (one, two, two, three), strict=True)
    for name, moment, section in loads:
        words = section.words
        f_b = sheet.step(f"f_b{name}", moment / section.S_bottom, ksi,
                         f"bottom flange, {name} on the {words}", ref=ref)  # fmt: skip
        f_t = sheet.step(f"f_t{name}", moment / section.S_top, ksi,
                         f"top flange, {name} on the {words}", ref=ref)  # fmt: skip
        above: object = "0, not yet composite"
        if one is three:
            rows.append([name, words, moment_cell(sheet, name, moment), f_b, f_t])
            continue
        if name != "DC1" and three.S_deck is not None and three.ratio is not None:
            above = sheet.step(
                f"f_d{name}", moment / (three.ratio * three.S_deck), ksi,
                f"top of the deck, {name}, short-term ratio",
                ref=ref if older else "LRFD 6.10.1.1.1d",
            )  # fmt: skip
        elif name != "DC1" and three.S_bars is not None:
            above = sheet.step(f"f_r{name}", moment / three.S_bars, ksi, f"top bars, {name}",
                               ref="LRFD 6.10.1.1.1c")  # fmt: skip
        rows.append([name, words, moment_cell(sheet, name, moment), f_b, f_t, above])
    sheet.table(
        ["Load", "Section", "Moment", f"Bottom flange, {pull}", f"Top flange, {push}", *last],
        rows,
        "Unfactored stresses by load and fibre, M/S; live load with impact, distributed"
        if one is three
        else "Unfactored stresses by stage and fibre, M/S, the deck M/(n S); live load with "
        "impact, distributed",
        instead=True,
    )


def moment_cell(sheet: Sheet, name: str, moment: Operand) -> Operand:
    """Return a node that shows a moment in a table: itself, or a step for a formula.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the step.
    name : str
        Name of the load.
    moment : Operand, [force * length]
        A node or a formula.

    Returns
    -------
    Operand
    """
    if hasattr(moment, "entry"):
        return moment
    return sheet.step(f"M_{name}t", moment, kip_ft, f"moment of {name}, positive here",
                      ref="as calculated")  # fmt: skip


def along_the_girder(
    sheet: Sheet, bridge: BridgeNodes, demands: Demands,
    outer: tuple[tuple[OuterSection, GirderFlexure], ...], flexure: GirderFlexure, shear: Shear,
) -> None:  # fmt: skip
    """Write Strength I moment and shear at tenth points, to show where they do not govern.

    A package prints the point with the greatest ratio in full and the others as a table.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives a part for each tenth point of the first half.
    bridge : BridgeNodes
        Span.
    demands : Demands
        Weights and distribution factors.
    outer : tuple of (OuterSection, GirderFlexure)
        Lighter sections nearer to the bearing, with their resistance.
    flexure : GirderFlexure
        Resistance of the section at midspan.
    shear : Shear
        Resistance of the panel at the bearing.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 3.4.1, 3.6.1.3.1; from memory.  The other half is symmetrical.
    """
    L, loads, shares = bridge.span, demands.loads, demands.shares
    g_DC, g_DW, g_LL = use(sheet, "gamma_DC"), use(sheet, "gamma_DW"), use(sheet, "gamma_LL")
    inputs = {"span": L, "factor": 1 + use(sheet, "IM"), "uniform": use(sheet, "w_lane")}
    w_u = sheet.step("w_u", g_DC * (loads.DC1 + loads.DC2) + g_DW * loads.DW, None,
                     "factored dead load", ref="LRFD Table 3.4.1-1")  # fmt: skip
    phi_v, phi_f = use(sheet, "phi_v"), use(sheet, "phi_f")
    for tenth in range(6):
        mirrored = "" if tenth == 5 else f" and {1 - tenth / 10:.1f} L"
        with sheet.part(f"Strength I at 0.{tenth} L{mirrored}"):
            xi = sheet.given("xi", tenth / 10, "place along the span, x/L",
                             source="tenth point")  # fmt: skip
            at = inputs | {"fraction": xi}
            V_HL = sheet.computed("V_HL", HL93_SHEAR_AT, at, kip, "HL-93 shear of one lane here",
                                  ref="LRFD 3.6.1.3.1")  # fmt: skip
            M_HL = sheet.computed("M_HL", HL93_MOMENT_AT, at, kip_ft,
                                  "HL-93 moment of one lane here",
                                  ref="LRFD 3.6.1.3.1")  # fmt: skip
            V_u = sheet.step("V_u", w_u * L * (0.5 - xi) + g_LL * shares.shear * V_HL, kip,
                             "factored shear", ref="LRFD Table 3.4.1-1")  # fmt: skip
            M_u = sheet.step(
                "M_u", xi * (1 - xi) / 2 * w_u * L**2 + g_LL * shares.moment * M_HL, kip_ft,
                "factored moment", ref="LRFD Table 3.4.1-1",
            )  # fmt: skip
            u_V = sheet.step("u_V", V_u / (phi_v * shear.first.nominal), None,
                             "shear, demand over resistance of the end",
                             ref="LRFD 6.10.9.1-1")  # fmt: skip
            here = _section_at(bridge, outer, flexure, tenth)
            u_M = sheet.step("u_M", M_u / (phi_f * here.nominal), None,
                             "moment, demand over M_n", ref=here.ref)  # fmt: skip
            sheet.step("u", maximum(u_V, u_M), None, "the greater of both", ref="comparison")


def _section_at(
    bridge: BridgeNodes, outer: tuple[tuple[OuterSection, GirderFlexure], ...],
    flexure: GirderFlexure, tenth: int,
) -> GirderFlexure:  # fmt: skip
    """Return the strength of the section at a tenth point, as the bridge was first given."""
    x = tenth / 10 * float(bridge.data.span.to("ft").magnitude)
    return next((strength for item, strength in outer if x <= item.feet), flexure)


def reactions(sheet: Sheet, demands: Demands) -> None:
    """Write the unfactored reactions of one girder at one bearing.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the table.
    demands : Demands
        End shears of the girder.
    """
    dead, live = demands.dead, demands.live
    sheet.table(
        ["Load", "Reaction"],
        [
            ["DC1", dead.V_DC1], ["DC2", dead.V_DC2], ["DW", dead.V_DW],
            ["LL, HL-93, no impact", demands.live_reaction],
            ["LL + IM", live.shear],
            ["distribution factor used (shear)", demands.shares.shear],
        ],
        "Unfactored reactions of this girder at one bearing, for bearings and substructure; they "
        "are not added to those of another girder",
    )  # fmt: skip
