"""Loads and effects of a girder continuous over one pier, from the kernels for continuous beams."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from stepcalc.bridge.composite.elastic import elastic_sections
from stepcalc.bridge.composite.geometry import section_geometry
from stepcalc.bridge.composite.plates import PlateSizes, plate_girder
from stepcalc.bridge.continuous.effects import GirderShares, continuous_effects
from stepcalc.bridge.continuous.kernels import span_kernels
from stepcalc.bridge.dead_load import dead_loads
from stepcalc.bridge.distribution import fatigue_distribution, interior_distribution
from stepcalc.bridge.whole.exterior_distribution import exterior_distribution
from stepcalc.units import Q_, ft, inch, kip_ft, plf

if TYPE_CHECKING:
    from stepcalc.bridge.composite.elastic import ElasticSections
    from stepcalc.bridge.composite.geometry import Geometry
    from stepcalc.bridge.composite.plates import ISection, Slab
    from stepcalc.bridge.continuous.effects import ContinuousEffects
    from stepcalc.bridge.dead_load import DeadLoads
    from stepcalc.bridge.givens import BridgeNodes
    from stepcalc.bridge.whole.steel import Steel
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.sheet import Sheet

__all__ = ["PierSection", "TwoSpans", "analyse", "pier_steel", "weights"]


@dataclass(frozen=True)
class PierSection:
    """The section over the pier: steel, and steel with slab and bars."""

    section: ISection
    geometry: Geometry
    elastic: ElasticSections


@dataclass(frozen=True)
class TwoSpans:
    """Effects of one girder over two spans.

    Attributes
    ----------
    spans : pair of Operand, [length]
    effects : ContinuousEffects
        Moments, shears and reactions.
    M_DC1, M_DC1_pier : Operand, [force * length]
        DC1 where the moment of span 1 is largest, and over the pier: by the stiffness of the
        steel.
    g_shear, g_fatigue, g_fatigue_shear : Operand
        Lanes on the girder.
    layouts : tuple of str
        Relative stiffness of the composite girder and of the steel, as texts.
    """

    spans: tuple[Operand, Operand]
    effects: ContinuousEffects
    M_DC1: Operand
    M_DC1_pier: Operand
    g_shear: Operand
    g_fatigue: Operand
    g_fatigue_shear: Operand
    layouts: tuple[str, str]

    def inputs(self, place: str, fraction: Any, *, steel: bool = False) -> dict[str, Any]:
        """Return the inputs of a kernel at a section."""
        layout = self.layouts[1] if steel else self.layouts[0]
        first, second = self.spans
        return {
            "span_1": first, "span_2": second, "layout": layout, "place": place,
            "fraction": fraction,
        }  # fmt: skip


def pier_steel(sheet: Sheet, bridge: BridgeNodes) -> ISection:
    """Write the plates of the section over the pier.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the givens.
    bridge : BridgeNodes
        The bridge.

    Returns
    -------
    ISection
        No slab yet.
    """
    details, F = bridge.data.details, bridge.data.grade_strength
    assert details is not None
    return plate_girder(
        sheet,
        PlateSizes(
            (details.pier_top_width, details.pier_top_thickness),
            (details.web_depth, details.pier_web_thickness),
            (details.pier_bottom_width, details.pier_bottom_thickness),
            F, F, F, bridge.data.source_of("pier_length"),
        ),
    )  # fmt: skip


def pier_section(sheet: Sheet, section: ISection, slab: Slab, ratio: Operand) -> PierSection:
    """Write geometry and elastic properties over the pier: steel, 3n, n and cracked.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    section : ISection
        The plates.
    slab : Slab
        With its bars.
    ratio : Operand
        ``n``.

    Returns
    -------
    PierSection
    """
    whole = section.with_slab(slab)
    geometry = section_geometry(sheet, whole)
    return PierSection(whole, geometry, elastic_sections(sheet, geometry, ratio))


def weights(
    sheet: Sheet, bridge: BridgeNodes, steel: Steel, pier: ISection,
    spans: tuple[Operand, Operand], *, exterior: bool,
) -> DeadLoads:  # fmt: skip
    r"""Write the weights, the steel averaged over both spans.

    .. math:: w_s = \gamma_s \frac{A_1 (L_1 + L_2 - 2 \ell) + A_2\, 2 \ell}{L_1 + L_2}

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    bridge, steel, pier
        Bridge, section in the spans, section over the pier.
    spans : pair of Operand, [length]
        Both spans.
    exterior : bool
        Which girder.

    Returns
    -------
    DeadLoads
        Uniform over both spans.
    """
    details = bridge.data.details
    assert details is not None
    near = sheet.given("l_p", details.pier_length, "pier section, to either side of the pier",
                       source=bridge.data.source_of("pier_length"))  # fmt: skip
    A_p = sheet.step(
        "A_pier",
        pier.top.width * pier.top.thickness + pier.web.width * pier.web.thickness
        + pier.bottom.width * pier.bottom.thickness,
        inch**2, "steel over the pier", ref="geometry",
    )  # fmt: skip
    gamma = sheet.given("gamma_s2", Q_(490, "pcf"), "unit weight of steel", symbol="gamma_s",
                        source="LRFD Table 3.5.1-1 (from memory)")  # fmt: skip
    both = spans[0] + spans[1]
    w_s = sheet.step(
        "w_sa", gamma * (steel.trial.area * (both - 2 * near) + A_p * 2 * near) / both, plf,
        "steel of the girder, averaged over both spans", ref="geometry",
    )  # fmt: skip
    return dead_loads(sheet, bridge, replace(steel.trial, weight=w_s), exterior=exterior)


def analyse(
    sheet: Sheet, bridge: BridgeNodes, steel: Steel, loads: DeadLoads,
    spans: tuple[Operand, Operand], layouts: tuple[str, str], *, exterior: bool, proof: str | None,
) -> TwoSpans:  # fmt: skip
    """Write distribution, moments, shears and reactions of one girder.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the parts.
    bridge, steel, loads
        Of the girder; the stiffness parameter is of the section in the spans.
    spans : pair of Operand, [length]
        Both spans.
    layouts : pair of str
        Relative stiffness along the girder: composite, and steel alone.
    exterior : bool
        Which girder.
    proof : str or None
        None leaves out the proofs of the axle placements.

    Returns
    -------
    TwoSpans

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Table 4.6.2.2.1-2, Art. 3.6.1.3.1, 6.10.1.5; from memory.
    """
    with sheet.part("Live-load distribution"):
        average = sheet.step("L_n", (spans[0] + spans[1]) / 2, ft, "average of both spans",
                             ref="LRFD Table 4.6.2.2.1-2")  # fmt: skip
        found = []
        for words, length in (("span 1", spans[0]), ("span 2", spans[1]), ("pier", average)):
            with sheet.part(f"Moment, {words}"):
                found.append(_factors(sheet, replace(bridge, span=length), steel, loads, exterior))
    shares = GirderShares((found[0][0], found[1][0]), (found[2][0],), found[0][1])
    effects = continuous_effects(
        sheet, spans, DC1=loads.DC1, DC2=loads.DC2, DW=loads.DW, shares=shares, layout=layouts[0],
        proof="governing" if proof else "none",
    )  # fmt: skip
    two = TwoSpans(
        spans, effects, effects.positive[0].DC1, effects.negative[0].DC1, *found[0][1:], layouts
    )  # fmt: skip
    with sheet.part("DC1 on the steel girder"):
        sheet.note("Until the deck hardens the steel alone bends, by its own stiffness.")
        dead = span_kernels(2).dead["moment"]
        at_x = effects.positive[0].fraction
        moments = [
            sheet.computed(
                name, dead, two.inputs("1", fraction, steel=True) | {"load": loads.DC1}, kip_ft,
                f"moment of DC1, {words}", ref="statics",
            )
            for name, fraction, words in (
                ("M_DC1x", at_x, "where that of span 1 is largest"),
                ("M_DC1p", 1.0, "over the pier"),
            )
        ]  # fmt: skip
    return replace(two, M_DC1=moments[0], M_DC1_pier=moments[1])


def _factors(
    sheet: Sheet, bridge: BridgeNodes, steel: Steel, loads: DeadLoads, exterior: bool
) -> tuple[Operand, Operand, Operand, Operand]:
    """Return the factors of moment, shear and fatigue for one length L."""
    inside = interior_distribution(sheet, bridge, steel.trial, loads.haunch)
    if not exterior:
        g_Mf, g_Vf = fatigue_distribution(sheet, inside)
        return inside.moment, inside.shear, g_Mf, g_Vf
    with sheet.part("Exterior girder"):
        outside = exterior_distribution(sheet, bridge, inside)
    return outside.moment, outside.shear, outside.fatigue, outside.fatigue
