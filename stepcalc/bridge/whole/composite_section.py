"""The composite section of a girder: slab, bars, elastic properties, drawn section."""

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
    from stepcalc.bridge.composite.geometry import Geometry
    from stepcalc.bridge.composite.plates import Slab
    from stepcalc.bridge.givens import BridgeNodes
    from stepcalc.bridge.whole.steel import Steel
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.sheet import Sheet

__all__ = ["Composite", "composite_section"]


@dataclass(frozen=True)
class Composite:
    """The composite section of a girder.

    Attributes
    ----------
    slab, geometry, elastic
        The slab, all parts at their heights, and steel, 3n and n.
    concrete, modulus : Operand, [stress]
        ``f'_c`` and ``E_c``, the latter for shear connectors.
    """

    slab: Slab
    geometry: Geometry
    elastic: ElasticSections
    concrete: Operand
    modulus: Operand


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
    return Composite(slab, geometry, ElasticSections(bare, late, short, None), concrete, E_c)


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
