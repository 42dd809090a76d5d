"""Flexure at one place of a girder, from the section to the Strength I checks.

Each function writes the whole chain in parts of the sheet and returns the groups of nodes, so that
the caller can go on with service, fatigue and shear on the same section.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stepcalc.bridge.composite.flange_buckling import flange_buckling
from stepcalc.bridge.composite.negative import (
    Bracing,
    FlexuralResistance,
    FlexureDemand,
    flexural_resistance,
)
from stepcalc.bridge.composite.plastic import PlasticMoment, plastic_negative, plastic_positive
from stepcalc.bridge.composite.positive import PositiveStrength, positive_strength
from stepcalc.bridge.composite.sides import Sides, flange_sides
from stepcalc.bridge.composite.stages import (
    StagedStresses,
    StageMoments,
    compressed_web_by_axis,
    compressed_web_by_stress,
    stage_sections,
    staged_stresses,
)
from stepcalc.bridge.composite.web import (
    CompositeSlab,
    Web,
    WebEdition,
    hybrid_factor,
    web_in_flexure,
)
from stepcalc.bridge.composite.yielding import YieldMoment, yield_moment
from stepcalc.errors import RangeError
from stepcalc.units import ksi

if TYPE_CHECKING:
    from stepcalc.bridge.composite.elastic import ElasticSections
    from stepcalc.bridge.composite.flange_buckling import FlangeBuckling
    from stepcalc.bridge.composite.geometry import Geometry
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.sheet import Sheet


@dataclass(frozen=True)
class PositiveFlexure:
    """All nodes of a composite section in positive bending."""

    sides: Sides
    stresses: StagedStresses
    web: Web
    plastic: PlasticMoment
    yielding: YieldMoment
    strength: PositiveStrength


@dataclass(frozen=True)
class BucklingFlexure:
    """All nodes of a section in negative bending, or of a non-composite one in either.

    ``buckling`` is None where the compression flange is continuously braced.
    """

    sides: Sides
    stresses: StagedStresses
    web: Web
    plastic: PlasticMoment
    yielding: YieldMoment
    buckling: FlangeBuckling | None
    strength: FlexuralResistance


def composite_positive_flexure(
    sheet: Sheet,
    geometry: Geometry,
    elastic: ElasticSections,
    moments: StageMoments,
    *,
    continuous: bool,
    reinforcement: bool = False,
    lateral: Operand | None = None,
    edition: WebEdition | str = WebEdition.EIGHTH,
    location: str | None = None,
    along: Operand | None = None,
) -> PositiveFlexure:
    """Write Strength I flexure of a composite section in positive bending.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps; open a part for each place of the girder.
    geometry : Geometry
        With a slab.
    elastic : ElasticSections
        With 3n and n.
    moments : StageMoments
        Strength I.
    continuous : bool
        Whether 1.3 R_h M_y limits the moment.
    reinforcement : bool
        Count the bars of the slab in the plastic moment.
    lateral : Operand, [stress], optional
        ``f_l`` of the bottom flange.
    edition : WebEdition or str
        Of the limit of a noncompact web.
    location : str, optional
        Where along the girder.
    along : Operand, [length], optional
        ``d_s`` of a longitudinal stiffener.

    Returns
    -------
    PositiveFlexure
        The groups of nodes.

    Raises
    ------
    RangeError
        If there is no slab or no modular ratio.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 6.10.7; from memory.
    """
    if elastic.short_term is None or elastic.long_term is None:
        raise RangeError("positive bending of a composite section wants a slab and its ratio n")
    sections = stage_sections(elastic, positive=True)
    with sheet.part("Staged stresses, Strength I"):
        sides = flange_sides(sheet, geometry, positive=True)
        stresses = staged_stresses(sheet, sections, moments, positive=True)
    with sheet.part("Plastic moment"):
        plastic = plastic_positive(sheet, geometry, reinforcement=reinforcement)
    with sheet.part("Yield moment"):
        yielding = yield_moment(sheet, geometry, sides, sections, moments)
    with sheet.part("Web and factors of the flange stress"):
        depth = compressed_web_by_stress(sheet, geometry, stresses, elastic.short_term)
        hybrid = hybrid_factor(sheet, geometry, elastic.short_term)
        f_D1 = sheet.step(
            "f_DC1",
            moments.on_steel / elastic.steel.S_top,
            ksi,
            "top flange before the slab is composite",
            ref="LRFD 6.10.1.10.2",
        )
        slab = CompositeSlab(f_D1, elastic.long_term)
        web = web_in_flexure(
            sheet, geometry, sides, depth=depth, hybrid=hybrid, slab=slab, edition=edition,
            along=along,
        )  # fmt: skip
    with sheet.part("Strength, Article 6.10.7"):
        strength = positive_strength(
            sheet,
            geometry,
            sides,
            web,
            plastic=plastic,
            yielding=yielding,
            stresses=stresses,
            demand=moments.total,
            lateral=lateral,
            continuous=continuous,
            location=location,
        )
    return PositiveFlexure(sides, stresses, web, plastic, yielding, strength)


def flexure_with_buckling(
    sheet: Sheet,
    geometry: Geometry,
    elastic: ElasticSections,
    moments: StageMoments,
    *,
    positive: bool,
    unbraced: Operand | None,
    gradient: Operand | None,
    bracing: Bracing,
    lateral: Operand | None = None,
    edition: WebEdition | str = WebEdition.EIGHTH,
    location: str | None = None,
    along: Operand | None = None,
    skew: Operand | None = None,
) -> BucklingFlexure:
    """Write Strength I flexure by 6.10.8 and Appendix A6.

    For negative bending (steel and bars), and for non-composite sections of either sense; give
    those a geometry without a slab.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps; open a part for each place of the girder.
    geometry, elastic
        The section.
    moments : StageMoments
        Strength I, positive in the sense that is looked at.
    positive : bool
        Whether the top flange is compressed; non-composite sections only.
    unbraced : Operand or None, [length]
        ``L_b`` of the compression flange.
    gradient : Operand or None
        ``C_b``; None with `unbraced` where the compression flange is braced: nothing buckles.
    bracing : Bracing
        Which flanges are continuously braced.
    lateral : Operand, [stress], optional
        ``f_l`` of the compression flange, second order included.
    edition : WebEdition or str
        Of the limit of a noncompact web.
    location : str, optional
        Where along the girder.
    along : Operand, [length], optional
        ``d_s`` of a longitudinal stiffener.
    skew : Operand, optional
        Skew of the supports, an angle.

    Returns
    -------
    BucklingFlexure
        The groups of nodes.

    Raises
    ------
    RangeError
        If positive bending is asked for with a slab, or a flange that is not braced has no
        unbraced length.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 6.10.8 and Appendix A6; from memory.
    """
    if positive and geometry.slab_area is not None:
        msg = (
            "positive bending with a slab is composite; give the bare steel, or use Article 6.10.7"
        )
        raise RangeError(msg)
    sections = stage_sections(elastic, positive=positive)
    with sheet.part("Staged stresses, Strength I"):
        sides = flange_sides(sheet, geometry, positive=positive)
        stresses = staged_stresses(sheet, sections, moments, positive=positive)
    with sheet.part("Plastic moment"):
        plastic = (plastic_positive if positive else plastic_negative)(sheet, geometry)
    with sheet.part("Yield moment"):
        yielding = yield_moment(sheet, geometry, sides, sections, moments)
    with sheet.part("Web and factors of the flange stress"):
        whole = sections.short_term
        depth = compressed_web_by_axis(sheet, geometry, whole, positive=positive)
        hybrid = hybrid_factor(sheet, geometry, whole)
        web = web_in_flexure(
            sheet, geometry, sides, depth=depth, hybrid=hybrid, edition=edition, along=along
        )
    buckling = None
    if unbraced is not None and gradient is not None:
        with sheet.part("Buckling of the compression flange"):
            buckling = flange_buckling(
                sheet, geometry, sides, web, unbraced=unbraced, gradient=gradient
            )
    elif not bracing.compression:
        raise RangeError("a compression flange that is not braced has an unbraced length and C_b")
    push, pull = (stresses.top, stresses.bottom) if positive else (stresses.bottom, stresses.top)
    strength = flexural_resistance(
        sheet,
        geometry,
        sides,
        web,
        plastic=plastic,
        yielding=yielding,
        buckling=buckling,
        demand=FlexureDemand(moments.total, push, pull, lateral),
        bracing=bracing,
        location=location,
        skew=skew,
    )
    return BucklingFlexure(sides, stresses, web, plastic, yielding, buckling, strength)
