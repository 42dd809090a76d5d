"""Plastic moment for every place of the plastic neutral axis, positive and negative.

Tables D6.1-1 and D6.1-2 are one rule: the axis lies in the first part, counted upward from the
bottom of the steel, for which the force below it, its own included, is at least the force above
it.  The tables begin with the web; the part before (bottom flange) and, in negative bending, the
parts after the top flange (the bars) are added here by the same statics, and cover plates are
parts of their own.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stepcalc.bridge.composite.plastic_axis import (
    Force,
    branches_in_slab,
    branches_in_steel,
    chosen,
)
from stepcalc.bridge.constants import use
from stepcalc.expr.functions import absolute, cases, total
from stepcalc.units import inch, kip, kip_ft

if TYPE_CHECKING:
    from collections.abc import Iterable

    from stepcalc.bridge.composite.geometry import Geometry, Piece
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.sheet import Sheet


@dataclass(frozen=True)
class PlasticMoment:
    """Plastic moment and where its neutral axis lies.

    Attributes
    ----------
    case : Operand or None
        A number; its branch names the case of the table.  None for a rolled shape alone.
    axis : Operand, [length]
        ``y_p`` above the bottom of the steel.
    moment : Operand, [force * length]
        ``M_p``.
    web_in_compression : Operand, [length]
        ``D_cp``.
    slab_in_compression : Operand or None, [length]
        ``D_p``, from the top of the slab to the axis; positive bending with a slab only.
    composite_depth : Operand or None, [length]
        ``D_t``.
    """

    case: Operand | None
    axis: Operand
    moment: Operand
    web_in_compression: Operand
    slab_in_compression: Operand | None = None
    composite_depth: Operand | None = None


_POSITIVE = {
    "bp": "axis in the bottom cover plate (beyond the table, by statics)",
    "bf": "axis in the bottom flange (beyond the table, by statics)",
    "w": "case I: axis in the web",
    "tf": "case II: axis in the top flange",
    "tp": "axis in the top cover plate (case II)",
}
_NEGATIVE = {
    "bp": "axis in the bottom cover plate (beyond the table, by statics)",
    "bf": "axis in the bottom flange (beyond the table, by statics)",
    "w": "case I: axis in the web",
    "tf": "case II: axis in the top flange",
    "tp": "axis in the top cover plate (case II)",
    "rb": "axis at the bottom reinforcement (beyond the table, by statics)",
    "rt": "axis at the top reinforcement (beyond the table, by statics)",
}


def plastic_positive(
    sheet: Sheet, geometry: Geometry, *, reinforcement: bool = False
) -> PlasticMoment:
    r"""Write the plastic moment in positive bending, Table D6.1-1 cases I to VII.

    The axis follows from :math:`Y = \frac{h}{2}\left(\frac{P_{below} - P_{above}}{P} + 1\right)`
    from the top of the part that holds it, and
    :math:`M_p = \frac{P}{2h}[Y^2 + (h - Y)^2] + \sum P_i d_i`; in the slab
    :math:`Y = t_s P_{below} / P_s` and :math:`M_p = \frac{Y^2 P_s}{2 t_s} + \sum P_i d_i`.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    geometry : Geometry
        The parts; without a slab the steel alone is taken, a rolled shape by its ``Z_x``.
    reinforcement : bool
        Count the bars of the slab; left out otherwise, which is on the safe side.

    Returns
    -------
    PlasticMoment
        Steps ``P_..``, ``c_p`` (the case), ``y_p``, ``M_cut``, ``d_..``, ``M_p``, ``D_cp`` and,
        with a slab, ``D_p`` and ``D_t``.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Table D6.1-1, Art. D6.3.2; from memory, each case checked against
    a fibre solver.
    """
    ref = "LRFD Table D6.1-1"
    if geometry.slab_area is None and _is_bare_shape(geometry):
        return _bare_shape(sheet, geometry, positive=True)
    plates = _steel_forces(sheet, geometry.steel, _POSITIVE, ref)
    if geometry.slab_area is None:
        return _solved(sheet, geometry, plates, ref, positive=True)
    slab = geometry.section.slab
    assert slab is not None
    P_s = sheet.step(
        "P_s", use(sheet, "c_PNA") * slab.strength * geometry.slab_area, kip, "slab", ref=ref
    )
    bars = _bar_forces(sheet, geometry.bars, {}, ref) if reinforcement else []
    return _solved(sheet, geometry, plates, ref, positive=True, slab=P_s, bars=bars)


def plastic_negative(sheet: Sheet, geometry: Geometry) -> PlasticMoment:
    r"""Write the plastic moment in negative bending, Table D6.1-2; the concrete is cracked.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    geometry : Geometry
        The parts; bars of the slab, if any, are in tension.

    Returns
    -------
    PlasticMoment
        As :func:`plastic_positive`, without ``D_p`` and ``D_t``.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Table D6.1-2, Art. D6.3.2; from memory, checked against a fibre
    solver.
    """
    if not geometry.bars and _is_bare_shape(geometry):
        return _bare_shape(sheet, geometry, positive=False)
    ref = "LRFD Table D6.1-2"
    plates = _steel_forces(sheet, geometry.steel, _NEGATIVE, ref)
    bars = _bar_forces(sheet, geometry.bars, _NEGATIVE, ref)
    return _solved(sheet, geometry, [*plates, *reversed(bars)], ref, positive=False)


def _is_bare_shape(geometry: Geometry) -> bool:
    table = geometry.section.table
    return table is not None and table.plastic_modulus is not None and len(geometry.steel) == 3


def _bare_shape(sheet: Sheet, geometry: Geometry, *, positive: bool) -> PlasticMoment:
    """Write the plastic moment of a rolled shape alone: the table's modulus, fillets included."""
    section, step, ref = geometry.section, sheet.step, "LRFD D6.1"
    assert section.table is not None
    assert section.table.plastic_modulus is not None
    y_p = step("y_p", geometry.depth / 2, inch, "plastic neutral axis", ref="symmetry")
    M = section.web.strength * section.table.plastic_modulus
    M_p = step("M_p", M, kip_ft, "plastic moment", ref=ref)
    D_cp = _web_in_compression(sheet, geometry, y_p, positive=positive)
    return PlasticMoment(None, y_p, M_p, D_cp)


def _steel_forces(
    sheet: Sheet, pieces: Iterable[Piece], labels: dict[str, str], ref: str
) -> list[Force]:
    return [
        Force(
            p.key, p.words,
            _force_step(sheet, p, ref), p.centre, p.thickness, labels[p.key],
        )
        for p in pieces
    ]  # fmt: skip


def _force_step(sheet: Sheet, piece: Piece, ref: str) -> Operand:
    force, words = piece.strength * piece.area, f"plastic force, {piece.words}"
    return sheet.step(f"P_{piece.key}", force, kip, words, ref=ref)


def _bar_forces(
    sheet: Sheet, bars: Iterable[Piece], labels: dict[str, str], ref: str
) -> list[Force]:
    return [
        Force(
            p.key, p.words,
            _force_step(sheet, p, ref), p.centre, None, labels.get(p.key, ""),
        )
        for p in bars
    ]  # fmt: skip


def _solved(
    sheet: Sheet,
    geometry: Geometry,
    forces: list[Force],
    ref: str,
    *,
    positive: bool,
    slab: Operand | None = None,
    bars: list[Force] | None = None,
) -> PlasticMoment:
    bars = bars or []
    over = [*([slab] if slab is not None else []), *(b.force for b in bars)]
    branches = branches_in_steel(forces, over)
    if slab is not None:
        branches += branches_in_slab(geometry, forces, slab, bars)
    step = sheet.step
    number = step(
        "c_p",
        chosen([(b.condition, place, b.label) for place, b in enumerate(branches, 1)]),
        None,
        "case of the plastic neutral axis, counted from the bottom of the steel",
        ref=ref,
    )
    by_case = [number <= place for place in range(1, len(branches) + 1)]
    y_p = step(
        "y_p",
        chosen([(c, b.axis, b.label) for c, b in zip(by_case, branches, strict=True)]),
        inch,
        "plastic neutral axis above the bottom of the steel",
        ref=ref,
    )
    moment = _moment(sheet, geometry, forces, bars, slab, number, y_p, ref)
    D_cp = _web_in_compression(sheet, geometry, y_p, positive=positive)
    if slab is None or geometry.slab_top is None:
        return PlasticMoment(number, y_p, moment, D_cp)
    D_p = step("D_p", geometry.slab_top - y_p, inch, "top of the slab to the plastic axis", ref=ref)
    D_t = step("D_t", geometry.slab_top, inch, "composite depth", ref="LRFD 6.10.7.3")
    return PlasticMoment(number, y_p, moment, D_cp, D_p, D_t)


def _moment(
    sheet: Sheet,
    geometry: Geometry,
    forces: list[Force],
    bars: list[Force],
    slab: Operand | None,
    number: Operand,
    y_p: Operand,
    ref: str,
) -> Operand:
    """Write the arms, the moment of the part that the axis cuts, and the plastic moment."""
    step = sheet.step
    plates = [part for part in forces if part.thickness is not None]
    terms = [_cut_part(sheet, geometry, forces, slab, number, y_p, ref)]
    for place, part in enumerate(plates, 1):
        arm = cases(
            (number == place, 0 * inch, "cut by the axis"),
            otherwise=(absolute(part.centre - y_p), "whole"),
        )
        words = f"{part.words} to the plastic axis"
        terms.append(part.force * step(f"d_{part.key}", arm, inch, words, ref=ref))
    for part in (*forces[len(plates) :], *bars):
        words = f"{part.words} to the plastic axis"
        arm = absolute(part.centre - y_p)
        terms.append(part.force * step(f"d_{part.key}", arm, inch, words, ref=ref))
    if slab is not None:
        assert geometry.slab_centre is not None
        arm = cases(
            (number > len(plates), 0 * inch, "cut by the axis"),
            otherwise=(absolute(geometry.slab_centre - y_p), "whole"),
        )
        terms.append(slab * step("d_c", arm, inch, "slab to the plastic axis", ref=ref))
    return step("M_p", total(terms), kip_ft, "plastic moment", ref=ref)


def _cut_part(
    sheet: Sheet,
    geometry: Geometry,
    forces: list[Force],
    slab: Operand | None,
    number: Operand,
    y_p: Operand,
    ref: str,
) -> Operand:
    found: list[tuple[object, object, str]] = []
    for place, part in enumerate(forces, 1):
        if part.thickness is None:
            break
        h = part.thickness
        upper, lower = part.centre + h / 2 - y_p, y_p - (part.centre - h / 2)
        found.append((number <= place, part.force / (2 * h) * (upper**2 + lower**2), part.words))
    if slab is not None:
        on_girder, top = geometry.section.slab, geometry.slab_top
        assert on_girder is not None
        assert top is not None
        crushed = (top - y_p) ** 2 * slab / (2 * on_girder.thickness)
        found.append((None, crushed, "slab, its compressed part"))
    elif len(found) < len(forces):
        found.append((None, 0 * kip_ft, "axis at the reinforcement: nothing is cut"))
    words = "moment of the part that the axis cuts"
    return sheet.step("M_cut", chosen(found), kip_ft, words, ref=ref)


def _web_in_compression(
    sheet: Sheet, geometry: Geometry, y_p: Operand, *, positive: bool
) -> Operand:
    """Write ``D_cp``: the web on the compressed side of the plastic axis, from 0 to D."""
    D = geometry.section.web.width
    reach = geometry.web_top - y_p if positive else y_p - geometry.web_bottom
    far, near = ("below", "above") if positive else ("above", "below")
    return sheet.step(
        "D_cp",
        cases(
            (reach >= D, D, f"axis {far} the web: all of it in compression"),
            (reach > 0 * inch, reach, "axis in the web"),
            otherwise=(0 * inch, f"axis {near} the web: none in compression"),
        ),
        inch,
        "depth of web in compression at the plastic moment",
        ref="LRFD D6.3.2",
    )
