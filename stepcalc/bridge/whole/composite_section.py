"""The section of a girder, with its slab or the steel alone: elastic properties, drawn section."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stepcalc.bridge.composite.elastic import ElasticSections, transformed_section
from stepcalc.bridge.composite.figure import draw_girder_section
from stepcalc.bridge.composite.geometry import section_geometry
from stepcalc.bridge.composite.slab import WidthRule, effective_width, slab_on_girder
from stepcalc.bridge.fields import FIELDS
from stepcalc.expr.functions import sqrt
from stepcalc.units import Q_, kcf, ksi

if TYPE_CHECKING:
    from stepcalc.bridge.composite.elastic import Elastic
    from stepcalc.bridge.composite.geometry import Geometry
    from stepcalc.bridge.composite.plates import Slab
    from stepcalc.bridge.givens import BridgeNodes
    from stepcalc.bridge.whole.steel import Steel
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.sheet import Sheet

__all__ = ["Composite", "GirderSection", "bare_section", "composite_section"]


@dataclass(frozen=True)
class GirderSection:
    """The section of a girder that carries live load.

    Attributes
    ----------
    geometry, elastic
        All parts at their heights; steel, 3n and n, or the steel alone.
    """

    geometry: Geometry
    elastic: ElasticSections

    @property
    def live(self) -> Elastic:
        """What carries live load: the short-term section, or the steel alone."""
        return self.elastic.short_term or self.elastic.steel


@dataclass(frozen=True)
class Composite(GirderSection):
    """The composite section of a girder.

    Attributes
    ----------
    slab : Slab
        The slab over the girder.
    concrete, modulus : Operand, [stress]
        ``f'_c`` and ``E_c``, the latter for shear connectors.
    """

    slab: Slab
    concrete: Operand
    modulus: Operand


def bare_section(sheet: Sheet, steel: Steel) -> GirderSection:
    """Draw the steel section of a girder without shear connectors, on which every load acts.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the figure.
    steel : Steel
        The steel, whose properties stand with the trial section.

    Returns
    -------
    GirderSection

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 6.10.1.1: a section without connectors is non-composite; from
    memory.
    """
    sheet.note(
        "No shear connectors: the slab is load, and the steel alone resists it and every other "
        "load. The properties of the steel stand with the trial section."
    )
    draw_girder_section(
        sheet, steel.geometry, elastic=(steel.elastic,),
        caption="Steel section with its elastic axis, as first given.",
    )  # fmt: skip
    return GirderSection(steel.geometry, ElasticSections(steel.elastic, None, None, None))


def composite_section(
    sheet: Sheet, bridge: BridgeNodes, steel: Steel, haunch: Operand, *, exterior: bool,
    rule: WidthRule = WidthRule.TRIBUTARY,
) -> Composite:  # fmt: skip
    """Write the slab over the girder and the elastic properties of every stage.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    bridge : BridgeNodes
        The bridge.
    steel : Steel
        The steel.
    haunch : Operand, [length]
        Bottom of slab to top of the top flange: in the lever arms, not in the areas.
    exterior : bool
        Which girder: half a bay and the overhang.
    rule : WidthRule
        Of the effective width; with that of the Standard Specifications the modulus of the concrete
        is that of the same book.

    Returns
    -------
    Composite
        Slab, geometry, elastic properties, concrete.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 4.6.2.6.1, 6.10.1.1.1, 5.4.2.4; from memory.
    """
    data = bridge.data
    assert data.details is not None
    concrete = _concrete(sheet, bridge)
    weight = sheet.given(
        "w_cE", Q_(0.145, "kcf"), "unit weight of the concrete alone, for its modulus",
        assumed="normal-weight concrete without its bars, LRFD Table 3.5.1-1, from memory",
    )  # fmt: skip
    E_c = _modulus(sheet, concrete, weight, rule)
    width = effective_width(
        sheet, rule, spacing=bridge.spacing, slab=bridge.slab, span=bridge.span,
        overhang=bridge.overhang if exterior else None,
    )  # fmt: skip
    details = data.details
    slab = slab_on_girder(
        sheet, width=width, thickness=bridge.slab, haunch=haunch, strength=concrete,
        layers=details.layers, bar_strength=details.bar_strength if details.layers else None,
    )  # fmt: skip
    geometry = section_geometry(sheet, steel.section.with_slab(slab))
    n, bare = bridge.modular_ratio, steel.elastic
    late = transformed_section(sheet, geometry, bare, 3 * n, key="3n")
    short = transformed_section(sheet, geometry, bare, n, key="n")
    draw_girder_section(
        sheet, geometry, elastic=(bare, late, short),
        caption="Composite section with the elastic axes of steel, 3n and n, as first given.",
    )  # fmt: skip
    elastic = ElasticSections(bare, late, short, None)
    return Composite(geometry, elastic, slab, concrete, E_c)


def _modulus(sheet: Sheet, concrete: Operand, weight: Operand, rule: WidthRule) -> Operand:
    w, f = weight.magnitude(kcf), concrete.magnitude(ksi)
    if rule is WidthRule.STANDARD:
        return sheet.step(
            "E_c", 33_000 * w**1.5 * sqrt(f) * (1 * ksi), ksi,
            "modulus of the concrete (33 w^1.5 times the root of f'_c, pcf and psi)",
            ref="Std 8.7.1",
        )  # fmt: skip
    return sheet.step(
        "E_c", 120_000 * w**2 * f**0.33 * (1 * ksi), ksi, "modulus of the concrete, K_1 = 1",
        ref="LRFD 5.4.2.4-1",
    )  # fmt: skip


def _concrete(sheet: Sheet, bridge: BridgeNodes) -> Operand:
    if "f'_c" in sheet:
        stated: Operand = sheet["f'_c"]
        return stated
    data = bridge.data
    given: Operand = sheet.given(
        "f'_c", data.concrete_strength, FIELDS["concrete_strength"].meaning,
        source=data.source_of("concrete_strength"),
    )  # fmt: skip
    return given
