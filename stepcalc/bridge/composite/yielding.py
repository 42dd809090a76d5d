"""Yield moment by stages (Article D6.2)."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stepcalc.expr.functions import cases, minimum
from stepcalc.units import kip_ft

if TYPE_CHECKING:
    from stepcalc.bridge.composite.geometry import Geometry
    from stepcalc.bridge.composite.sides import Sides
    from stepcalc.bridge.composite.stages import StageMoments, StageSections
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.sheet import Sheet


@dataclass(frozen=True)
class YieldMoment:
    """Moments at first yield.

    Attributes
    ----------
    compression, tension : Operand, [force * length]
        ``M_yc`` and ``M_yt``; the latter with the bars, in negative bending.
    least : Operand, [force * length]
        ``M_y``.
    """

    compression: Operand
    tension: Operand
    least: Operand


def yield_moment(
    sheet: Sheet,
    geometry: Geometry,
    sides: Sides,
    sections: StageSections,
    moments: StageMoments,
) -> YieldMoment:
    r"""Write the moment at which each flange first yields, with the dead load in place.

    .. math:: F_{yf} = \frac{M_{D1}}{S_{NC}} + \frac{M_{D2}}{S_{LT}} + \frac{M_{AD}}{S_{ST}},
        \qquad M_y = M_{D1} + M_{D2} + M_{AD}

    In negative bending the tension side is also limited by the yield of the top reinforcement.
    Yielding of a weaker web is disregarded, as the article says.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    geometry : Geometry
        Depth, and the strength of the bars.
    sides : Sides
        Which flange is compressed.
    sections : StageSections
        The section of each stage.
    moments : StageMoments
        Factored; only the dead load enters.

    Returns
    -------
    YieldMoment
        Steps ``M_yc M_yt M_y``.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. D6.2.1 to D6.2.3; from memory.
    """
    step, positive = sheet.step, sides.positive
    ref = "LRFD D6.2.2" if positive else "LRFD D6.2.3"
    bottom = sides.tension if positive else sides.compression
    top = sides.compression if positive else sides.tension
    at_bottom = _at_fibre(sections, moments, bottom.strength, top=False)
    at_top = _at_fibre(sections, moments, top.strength, top=True)
    if positive:
        M_yt = step("M_yt", at_bottom, kip_ft, "yield of the bottom flange", ref=ref)
        higher = cases(
            (sections.short_term.centroid < geometry.depth, at_top, "axis below the top of steel"),
            otherwise=(M_yt, "axis above the steel: the bottom flange yields first"),
        )
        M_yc = step("M_yc", higher, kip_ft, "yield of the top flange", ref=ref)
    else:
        M_yc = step("M_yc", at_bottom, kip_ft, "yield of the bottom flange", ref=ref)
        bars = sections.short_term.S_bars
        if bars is None:
            M_yt = step("M_yt", at_top, kip_ft, "yield of the top flange", ref=ref)
        else:
            M_ytf = step("M_ytf", at_top, kip_ft, "yield of the top flange", ref=ref)
            M_yr = step(
                "M_yr",
                moments.on_steel + bars * geometry.bars[0].strength,
                kip_ft,
                "yield of the top reinforcement",
                ref=ref,
            )
            M_yt = step("M_yt", minimum(M_ytf, M_yr), kip_ft, "yield of the tension side", ref=ref)
    M_y = step("M_y", minimum(M_yc, M_yt), kip_ft, "yield moment", ref=ref)
    return YieldMoment(M_yc, M_yt, M_y)


def _at_fibre(
    sections: StageSections, moments: StageMoments, strength: Operand, *, top: bool
) -> Operand:
    S_1, S_2, S_3 = (
        section.S_top if top else section.S_bottom
        for section in (sections.steel, sections.long_term, sections.short_term)
    )
    M_1, M_2 = moments.on_steel, moments.on_long_term
    if sections.steel is sections.short_term:
        return strength * S_1
    return M_1 + M_2 + S_3 * (strength - M_1 / S_1 - M_2 / S_2)
