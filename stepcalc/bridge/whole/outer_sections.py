"""The lighter sections nearer to the bearings: other flanges, or a beam without its cover plate."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from stepcalc.bridge.composite.elastic import (
    ElasticSections,
    steel_section,
    transformed_section,
)
from stepcalc.bridge.composite.geometry import section_geometry
from stepcalc.bridge.composite.plates import ISection, Plate
from stepcalc.bridge.whole.composite_section import Composite
from stepcalc.expr.functions import total
from stepcalc.units import inch

if TYPE_CHECKING:
    from stepcalc.bridge.composite.elastic import Elastic
    from stepcalc.bridge.composite.geometry import Geometry
    from stepcalc.bridge.composite.plates import Slab
    from stepcalc.bridge.givens import BridgeNodes
    from stepcalc.bridge.section_fields import ChangeTable
    from stepcalc.bridge.whole.composite_section import GirderSection
    from stepcalc.bridge.whole.steel import Steel
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.sheet import Sheet

__all__ = ["OuterSection", "equivalent_inertia", "outer_sections"]


@dataclass(frozen=True)
class OuterSection:
    """A section from the bearing, or the change before, to a place.

    Attributes
    ----------
    section, bare : ISection, Geometry
        The steel without a slab.
    geometry, elastic : Geometry, ElasticSections
        With the slab; steel, 3n and n.  The steel alone where the girder is not composite.
    at : Operand, [length]
        Its inner end, from the bearing.
    feet : float
        The same in ft, as first given.
    words : str
        Place in words.
    cover : bool
        Whether a cover plate begins at its inner end.
    """

    section: ISection
    bare: Geometry
    geometry: Geometry
    elastic: ElasticSections
    at: Operand
    feet: float
    words: str
    cover: bool


def outer_sections(
    sheet: Sheet, bridge: BridgeNodes, steel: Steel, whole: GirderSection
) -> tuple[OuterSection, ...]:
    """Write the properties of every section nearer to the bearing than that at midspan.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives a part for each.
    bridge, steel, whole
        Of the girder.

    Returns
    -------
    tuple of OuterSection
        From the bearing inwards; none for a girder of one section.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 6.10.1.1.1; mechanics; from memory.
    """
    details, source = bridge.data.details, bridge.data.source_of
    assert details is not None
    rows: list[tuple[Any, str, ISection, bool]] = []
    if details.cover_start is not None:
        bare = ISection(
            steel.section.top, steel.section.web, steel.section.bottom, table=steel.section.table
        )
        rows.append((details.cover_start, source("cover_start"), bare, True))
    found = []
    for to, where, section, cover in rows:
        slab = whole.slab if isinstance(whole, Composite) else None
        found.append(_outer(sheet, bridge, slab, to, where, section, cover=cover))
    for change in details.changes:
        found.append(_changed(sheet, bridge, whole, steel, change, source("changes")))
    return tuple(found)


def _changed(
    sheet: Sheet, bridge: BridgeNodes, whole: GirderSection, steel: Steel, change: ChangeTable,
    source: str,
) -> OuterSection:  # fmt: skip
    with sheet.part(_title(change.to)):
        put = sheet.given
        top = Plate(
            put("b_tf", change.top_width, "width of the top flange", source=source),
            put("t_tf", change.top_thickness, "thickness of the top flange", source=source),
            steel.section.top.strength,
        )
        bottom = Plate(
            put("b_bf", change.bottom_width, "width of the bottom flange", source=source),
            put("t_bf", change.bottom_thickness, "thickness of the bottom flange", source=source),
            steel.section.bottom.strength,
        )
    section = ISection(top, steel.section.web, bottom)
    slab = None
    if isinstance(whole, Composite):
        # the slab stays at its height over the web
        haunch = whole.slab.haunch + steel.section.top.thickness - top.thickness
        slab = replace(whole.slab, haunch=haunch)
    return _outer(sheet, bridge, slab, change.to, source, section, cover=False)


def _title(to: Any) -> str:
    return f"Section from the bearing to {float(to.to('ft').magnitude):.5g} ft"


def _outer(
    sheet: Sheet, bridge: BridgeNodes, slab: Slab | None, to: Any, source: str, section: ISection,
    *, cover: bool,
) -> OuterSection:  # fmt: skip
    feet = float(to.to("ft").magnitude)
    with sheet.part(_title(to)):
        what = f"bearing to the end of {'the cover plate' if cover else 'these flanges'}"
        at: Operand = sheet.given("x_c", to, what, source=source)
        geometry = section_geometry(sheet, section.with_slab(slab) if slab else section)
        steel = steel_section(sheet, geometry)
        n, late, short = bridge.modular_ratio, None, None
        if slab is not None:
            late = transformed_section(sheet, geometry, steel, 3 * n, key="3n")
            short = transformed_section(sheet, geometry, steel, n, key="n")
    elastic = ElasticSections(steel, late, short, None)
    where = "end of the cover plate" if cover else "flange change"
    bare = replace(
        geometry, section=section, bars=(), slab_centre=None, slab_top=None, slab_area=None
    )
    return OuterSection(
        section, bare, geometry, elastic, at, feet, f"{where}, {feet:.5g} ft", cover
    )


def equivalent_inertia(
    sheet: Sheet, span: Operand, outer: tuple[OuterSection, ...], inner: Elastic, *, key: str,
    words: str,
) -> Operand:  # fmt: skip
    r"""Write the inertia of a plain beam that deflects as the stepped one does.

    .. math:: \frac{1}{I_{eq}} = \sum_i \frac{F(x_i) - F(x_{i-1})}{I_i}, \quad
        F(x) = \frac{192}{5}\left(\frac{\xi^3}{3} - \frac{\xi^4}{4}\right), \quad \xi = x/L

    Exact at midspan under a uniform load; for axles near midspan, whose moment is greater there,
    it gives a little more than the true deflection.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the step.
    span : Operand, [length]
        Simple span; both halves alike.
    outer : tuple of OuterSection
        From the bearing inwards.
    inner : Elastic
        Section at midspan.
    key : {"s", "3n", "n"}
        Which section of a stage.
    words : str
        The stage in words.

    Returns
    -------
    Operand
        The step ``I_eq<key>``, or the inertia itself where there is one section only.

    Source
    ------
    Statics: unit-load integral of the moment of a uniform load. No clause.
    """
    if not outer:
        return inner.inertia

    def up_to(x: Operand) -> Operand:
        xi = x / span
        return 38.4 * (xi**3 / 3 - xi**4 / 4)

    shares, before = [], None
    for item in outer:
        stage = _stage(item.elastic, key)
        reached = up_to(item.at)
        shares.append((reached if before is None else reached - before) / stage.inertia)
        before = reached
    assert before is not None
    shares.append((1 - before) / inner.inertia)
    return sheet.step(
        f"I_eq{key}", 1 / total(shares), inch**4,
        f"inertia of a plain beam with the midspan deflection of the stepped one, {words}",
        ref="unit-load integral, uniform load", symbol=f"I_eq,{key}",
    )  # fmt: skip


def _stage(elastic: ElasticSections, key: str) -> Elastic:
    found = {"s": elastic.steel, "3n": elastic.long_term, "n": elastic.short_term}[key]
    return found or elastic.steel
