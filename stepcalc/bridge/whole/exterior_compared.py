"""Whether the exterior girder resists no less than an interior one (2.5.2.7.1)."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stepcalc.bridge.composite_fields import Widening
from stepcalc.bridge.constants import use
from stepcalc.bridge.details.exterior_girder import exterior_not_weaker
from stepcalc.bridge.fields import Specification
from stepcalc.units import kip, kip_ft

if TYPE_CHECKING:
    from stepcalc.bridge.data import BridgeData
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.sheet import Sheet

__all__ = ["compare_girders"]

_FLEXURE = {
    Specification.LRFD: (
        "Strength I, flexure/Strength, Article 6.10.7/M_n",
        "Positive moment/Governing place/Strength I/Strength, Article 6.10.7/M_n",
    ),
    Specification.LFD: ("Flexure, Group I/M_uS",),
}
_SHEAR = {
    Specification.LRFD: (
        "Strength I, shear/End panel/V_cr",
        "Strength I, shear/V_cr",
        "Shear/End panel/V_cr",
        "Shear/Governing place/V_cr",
    ),
    Specification.LFD: ("Shear/End panel/V_us", "Shear/V_us"),
}


_WITH_SLAB = (
    "The article: an exterior girder carries no less than an interior one, unless a later "
    "widening is virtually inconceivable. Resistances are compared, not loads, and each girder "
    "counts with the slab that it has now. Widened, the exterior girder would get the slab of "
    "an interior one, and with the same steel the same resistance. Where the check below is "
    "N.G. by the narrower slab alone, that is what the engineer and the owner have to weigh "
    "in its disposition; a wider overhang or a heavier exterior girder would make it OK."
)
_BARE = (
    "No check is made: without shear connectors the slab adds nothing, and every girder of the "
    "bridge has the same plates, braces and stiffeners, so that an exterior girder resists what an "
    "interior one does."
)


def compare_girders(page: Sheet, interior: Sheet, exterior: Sheet, data: BridgeData) -> None:
    """Check the resistances of both girders against each other, or say why that is not asked for.

    Each girder counts with the slab that it has now: an exterior girder with a narrower slab
    resists a little less than an interior one of the same steel, and the check says so.

    Parameters
    ----------
    page : Sheet
        The page that receives the steps and the checks.
    interior, exterior : Sheet
        The calculations of both girders.
    data : BridgeData
        The bridge; ``widening`` is the article's own exception.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 2.5.2.7.1; Standard Specifications, 17th ed. (2002), Art.
    3.23.2.3.1.4; from memory.
    """
    assert data.details is not None
    if data.details.widening is Widening.INCONCEIVABLE:
        page.note(
            "No check is made: the article makes an exception where a later widening of the deck "
            f"is virtually inconceivable, and the data say so ({data.source_of('widening')})."
        )
        return
    if not data.composite:
        page.note(_BARE)
        return
    page.note(_WITH_SLAB)
    for what, symbol, (inner, outer), unit in _resistances(page, interior, exterior, data):
        inside = page.step(f"{symbol}i", inner, unit, f"{what}, interior, its own slab",
                           ref="as calculated")  # fmt: skip
        outside = page.step(f"{symbol}e", outer, unit, f"{what}, exterior, its own slab",
                            ref="as calculated")  # fmt: skip
        exterior_not_weaker(page, interior=inside, exterior=outside, what=what,
                            older=data.specification is not Specification.LRFD)  # fmt: skip


def _resistances(
    page: Sheet, interior: Sheet, exterior: Sheet, data: BridgeData
) -> list[tuple[str, str, tuple[Operand, Operand], object]]:
    code = data.specification
    if code is Specification.ASD:
        web = "Section properties/A_w"
        bending, shear = use(page, "c_Fb"), use(page, "c_Fv")
        flexure = tuple(
            bending * sheet[_strength(sheet)] * sheet["Section properties/S_nb"]
            for sheet in (interior, exterior)
        )
        sheared = tuple(shear * sheet[_web(sheet)] * sheet[web] for sheet in (interior, exterior))
        return [
            ("flexure", "M_a", flexure, kip_ft), ("shear", "V_a", sheared, kip),
        ]  # fmt: skip
    return [
        (what, symbol, (_first(interior, paths), _first(exterior, paths)), unit)
        for what, symbol, paths, unit in (
            ("flexure", "M_n", _FLEXURE[code], kip_ft), ("shear", "V_n", _SHEAR[code], kip),
        )
    ]  # fmt: skip


def _first(sheet: Sheet, paths: tuple[str, ...]) -> Operand:
    found: Operand = sheet[next(path for path in paths if path in sheet)]
    return found


def _strength(sheet: Sheet) -> str:
    return next(p for p in ("Trial section/F_ybf", "Bridge data/F_y") if p in sheet)


def _web(sheet: Sheet) -> str:
    return next(p for p in ("Trial section/F_yw", "Bridge data/F_y") if p in sheet)
