"""Flexure of a section of a simple span: Strength I and Service II, composite or of steel alone."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stepcalc.bridge.composite.assembled import composite_positive_flexure, flexure_with_buckling
from stepcalc.bridge.composite.figure import draw_girder_section
from stepcalc.bridge.composite.negative import Bracing
from stepcalc.bridge.composite.service import service_two_general
from stepcalc.bridge.composite.sides import flange_sides
from stepcalc.bridge.composite.stages import (
    compressed_web_by_axis,
    compressed_web_by_stress,
    stage_moments,
    stage_sections,
    staged_stresses,
)
from stepcalc.bridge.composite.web import bend_buckling, hybrid_factor
from stepcalc.bridge.constants import use
from stepcalc.bridge.flexure import is_continuously_braced
from stepcalc.bridge.whole.section_effects import HL93_MOMENT_AT
from stepcalc.expr.functions import cases, minimum
from stepcalc.units import kip_ft

if TYPE_CHECKING:
    from stepcalc.bridge.composite.assembled import BucklingFlexure
    from stepcalc.bridge.composite.elastic import ElasticSections
    from stepcalc.bridge.composite.geometry import Geometry
    from stepcalc.bridge.composite.stages import StagedStresses, StageMoments
    from stepcalc.bridge.composite.web import Web
    from stepcalc.bridge.composite.yielding import YieldMoment
    from stepcalc.bridge.givens import BridgeNodes
    from stepcalc.bridge.whole.demands import Demands
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.sheet import Sheet

__all__ = [
    "GirderFlexure", "StageLoads", "greatest_moments", "moments_at", "nominal_moment",
    "service_stresses", "steel_flexure", "strength_flexure", "supports_skew",
]  # fmt: skip


@dataclass(frozen=True)
class GirderFlexure:
    """Strength I of one section, as the other parts of the calculation use it.

    Attributes
    ----------
    stresses : StagedStresses
    web : Web
    yielding : YieldMoment
    nominal : Operand, [force * length]
        ``M_n``.
    stretched : Operand, [force * length]
        The nominal moment of the stretched flange: ``M_n``, or of steel alone its own.
    ref : str
        Article of the check that holds ``M_n`` against a moment.
    """

    stresses: StagedStresses
    web: Web
    yielding: YieldMoment
    nominal: Operand
    stretched: Operand
    ref: str


@dataclass(frozen=True)
class StageLoads:
    """Unfactored moments of one section: DC1, DC2, DW, and live load with impact."""

    DC1: Operand
    DC2: Operand
    DW: Operand
    LL: Operand

    def factored(self, sheet: Sheet, state: str, *, composite: bool = True) -> StageMoments:
        """Write the factored moments of a limit state.

        Parameters
        ----------
        sheet : Sheet
            The sheet that receives the steps.
        state : str
            Name of the limit state.
        composite : bool
            Whether the stages act on different sections.

        Returns
        -------
        StageMoments
        """
        return stage_moments(
            sheet, self.DC1, DC2=self.DC2, DW=self.DW, LL=self.LL, state=state,
            composite=composite,
        )  # fmt: skip


def greatest_moments(demands: Demands) -> StageLoads:
    """Return the moments where they are greatest.

    Parameters
    ----------
    demands : Demands
        Of the girder.

    Returns
    -------
    StageLoads
    """
    dead = demands.dead
    return StageLoads(dead.M_DC1, dead.M_DC2, dead.M_DW, demands.live.moment)


def moments_at(sheet: Sheet, bridge: BridgeNodes, demands: Demands, x: Operand) -> StageLoads:
    r"""Write the unfactored moments at a place.

    .. math:: M = \tfrac12 w x (L - x), \qquad M_{LL} = g M_{HL}(x)

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    bridge, demands
        Of the girder.
    x : Operand, [length]
        From the bearing.

    Returns
    -------
    StageLoads
        Steps ``M_HL M_DC1 M_DC2 M_DW M_LL``.

    Source
    ------
    Statics; AASHTO LRFD, 8th ed. (2017), Art. 3.6.1.3.1; from memory.
    """
    L, loads, step, ref = bridge.span, demands.loads, sheet.step, "w x (L - x)/2"
    parabola = x * (L - x) / 2
    M_HL = sheet.computed(
        "M_HL", HL93_MOMENT_AT,
        {"span": L, "fraction": x / L, "factor": 1 + use(sheet, "IM"),
         "uniform": use(sheet, "w_lane")},
        kip_ft, "HL-93 moment of one lane here", ref="LRFD 3.6.1.3.1",
    )  # fmt: skip
    return StageLoads(
        step("M_DC1", loads.DC1 * parabola, kip_ft, "DC1", ref=ref),
        step("M_DC2", loads.DC2 * parabola, kip_ft, "DC2", ref=ref),
        step("M_DW", loads.DW * parabola, kip_ft, "DW", ref=ref),
        step("M_LL", demands.shares.moment * M_HL, kip_ft, "live load of the girder",
             ref="LRFD 4.6.2.2"),
    )  # fmt: skip


def strength_flexure(
    sheet: Sheet,
    bridge: BridgeNodes,
    geometry: Geometry,
    elastic: ElasticSections,
    loads: StageLoads,
    *,
    location: str = "greatest moment",
    draw: bool = True,
    along: Operand | None = None,
    gradient: Operand | None = None,
) -> GirderFlexure:
    """Write Strength I flexure of one section.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the parts.
    bridge : BridgeNodes
        Whether the girder is composite, how the deck holds its top flange, and its braces.
    geometry, elastic
        The section.
    loads : StageLoads
        Moments.
    location : str
        Where along the girder.
    draw : bool
        Draw the plastic axis and the stress blocks.
    along : Operand, [length], optional
        ``d_s`` of a longitudinal stiffener.
    gradient : Operand, optional
        ``C_b`` of the unbraced length, where nothing but the braces holds the top flange.

    Returns
    -------
    GirderFlexure
        Composite: compact or noncompact by the branch, bars left out of the plastic moment.
        Otherwise the steel alone, by Article 6.10.8 or Appendix A6.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 6.10.7, 6.10.8, Appendix A6; from memory.
    """
    if not bridge.data.composite:
        found = steel_flexure(sheet, bridge, geometry, elastic, loads, location=location,
                              along=along, gradient=gradient)  # fmt: skip
        M_n, M_nb = nominal_moment(sheet, found, elastic)
        if draw:
            draw_girder_section(
                sheet, geometry, plastic=found.plastic,
                caption="Plastic axis and stress blocks of the steel, as first given.",
            )  # fmt: skip
        return GirderFlexure(found.stresses, found.web, found.yielding, M_n, M_nb,
                             "LRFD 6.10.8.1, A6.1")  # fmt: skip
    flexure = composite_positive_flexure(
        sheet, geometry, elastic, loads.factored(sheet, "Strength I"), continuous=False,
        location=location, along=along,
    )  # fmt: skip
    if draw:
        draw_girder_section(
            sheet, geometry, plastic=flexure.plastic,
            caption="Plastic axis and stress blocks, as first given.",
        )  # fmt: skip
    return GirderFlexure(
        flexure.stresses, flexure.web, flexure.yielding, flexure.strength.nominal,
        flexure.strength.nominal,
        "LRFD 6.10.7.1.1-1",
    )  # fmt: skip


def steel_flexure(
    sheet: Sheet,
    bridge: BridgeNodes,
    geometry: Geometry,
    elastic: ElasticSections,
    loads: StageLoads,
    *,
    location: str,
    along: Operand | None = None,
    gradient: Operand | None = None,
    unbraced: Operand | None = None,
) -> BucklingFlexure:
    """Write Strength I of a section of steel alone, by Article 6.10.8 and Appendix A6.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the parts.
    bridge, geometry, elastic, loads, location, along, gradient
        As for :func:`strength_flexure`.
    unbraced : Operand, [length], optional
        ``L_b``; by default the spacing of the braces.

    Returns
    -------
    BucklingFlexure
        Without buckling where the hardened deck braces the top flange.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 6.10.8, Appendix A6; from memory.
    """
    braced = is_continuously_braced(bridge.data.top_flange)
    C_b, L_b = gradient, bridge.brace_spacing if unbraced is None else unbraced
    if not braced and C_b is None:
        C_b = sheet.given("C_b", 1.0, "moment gradient modifier",
                          assumed="uniform moment, on the safe side")  # fmt: skip
    return flexure_with_buckling(
        sheet, geometry, elastic, loads.factored(sheet, "Strength I", composite=False),
        positive=True, unbraced=None if braced else L_b,
        gradient=None if braced else C_b, bracing=Bracing(compression=braced, tension=False),
        location=location, along=along, skew=supports_skew(sheet, bridge),
    )  # fmt: skip


def nominal_moment(
    sheet: Sheet, found: BucklingFlexure, elastic: ElasticSections
) -> tuple[Operand, Operand]:
    r"""Write the moment at which the form that decides reaches its limit, both flanges and one.

    .. math:: M_{nb} = F_{nt} S_{xt} \;\text{or}\; M_{nt}, \qquad
        M_n = \min(F_{nc} S_{xc} \;\text{or}\; M_{nc},\; M_{nb})

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    found : BucklingFlexure
        Strength of a section of steel alone in positive bending.
    elastic : ElasticSections
        Its moduli.

    Returns
    -------
    tuple of Operand, [force * length]
        The steps ``M_n``, and ``M_nb`` of the stretched flange; ``M_na`` is that of the other.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 6.10.6.2.3, 6.10.8.1, A6.1; from memory.  All loads act on
    one section, so that stress and moment are the same limit.
    """
    strength, steel = found.strength, elastic.steel
    form = strength.moment
    allowed = "Appendix A6 is permitted and decides"
    refused = "Appendix A6 is not permitted; Article 6.10.8 decides"
    M_nb = sheet.step(
        "M_nb",
        cases(
            (form.eligible, form.tension, allowed),
            otherwise=(strength.F_nt * steel.S_bottom, refused),
        ),
        kip_ft, "nominal moment of the stretched flange", ref="LRFD 6.10.6.2.3",
        symbol="M_n,bot",
    )  # fmt: skip
    M_na = sheet.step(
        "M_na",
        cases(
            (form.eligible, form.compression, allowed),
            otherwise=(strength.F_nc * steel.S_top, refused),
        ),
        kip_ft, "nominal moment of the compressed flange", ref="LRFD 6.10.6.2.3",
        symbol="M_n,top",
    )  # fmt: skip
    M_n = sheet.step(
        "M_n", minimum(M_na, M_nb), kip_ft, "nominal moment of the steel, the lesser flange",
        ref="LRFD 6.10.6.2.3",
    )  # fmt: skip
    return M_n, M_nb


def supports_skew(sheet: Sheet, bridge: BridgeNodes) -> Operand | None:
    """Return the skew of the supports, where there is one; the distribution has stated it.

    Parameters
    ----------
    sheet : Sheet
        The sheet.
    bridge : BridgeNodes
        The bridge.

    Returns
    -------
    Operand or None
        ``theta``.
    """
    details = bridge.data.details
    if details is None or details.skew_angle is None:
        return None
    stated: Operand = sheet["Live-load distribution/Skew/theta"]
    return stated


def service_stresses(
    sheet: Sheet,
    bridge: BridgeNodes,
    geometry: Geometry,
    elastic: ElasticSections,
    loads: StageLoads,
    *,
    location: str = "greatest moment",
    along: Operand | None = None,
) -> None:
    """Write Service II of one section.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    bridge : BridgeNodes
        Whether the girder is composite.
    geometry, elastic
        The section.
    loads : StageLoads
        Moments.
    location : str
        Where along the girder.
    along : Operand, [length], optional
        ``d_s`` of a longitudinal stiffener.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 6.10.4.2; from memory.
    """
    composite = bridge.data.composite
    moments = loads.factored(sheet, "Service II", composite=composite)
    sections = stage_sections(elastic, positive=True)
    sides = flange_sides(sheet, geometry, positive=True)
    stresses = staged_stresses(sheet, sections, moments, positive=True)
    if composite:
        depth = compressed_web_by_stress(sheet, geometry, stresses, sections.short_term)
    else:
        depth = compressed_web_by_axis(sheet, geometry, sections.steel, positive=True)
    hybrid = hybrid_factor(sheet, geometry, sections.short_term)
    F_crw = bend_buckling(sheet, geometry, sides, depth=depth, hybrid=hybrid, along=along)
    service_two_general(
        sheet, geometry, sides, stresses=stresses, hybrid=hybrid, bending=F_crw,
        composite=composite, location=location,
    )  # fmt: skip
