"""Elastic properties: steel alone, long-term (3n), short-term (n) and cracked with its bars."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stepcalc.expr.functions import total
from stepcalc.units import inch

if TYPE_CHECKING:
    from stepcalc.bridge.composite.geometry import Geometry
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.sheet import Sheet


@dataclass(frozen=True)
class Elastic:
    """Elastic properties of one section; the subscript is ``s``, ``3n``, ``n`` or ``r``.

    Attributes
    ----------
    words : str
        Which section it is.
    area, centroid, inertia : Operand
        ``A``, ``y`` above the bottom of the steel, ``I``; transformed to steel.
    S_bottom, S_top : Operand, [length**3]
        Moduli of the extreme steel fibres.  ``S_top`` is I/(d - y): negative where the neutral
        axis lies above the steel, so that M/S has the sign of the stress.
    S_deck : Operand or None, [length**3]
        Top of the slab, transformed to steel: the concrete stress is M/(n S_deck).
    S_bars : Operand or None, [length**3]
        Top layer of bars, cracked section only.
    Q : Operand or None, [length**3]
        First moment of the transformed slab, or of the bars, about the neutral axis.
    ratio : Operand or None
        What the slab is divided by.
    """

    words: str
    area: Operand
    centroid: Operand
    inertia: Operand
    S_bottom: Operand
    S_top: Operand
    S_deck: Operand | None = None
    S_bars: Operand | None = None
    Q: Operand | None = None
    ratio: Operand | None = None


@dataclass(frozen=True)
class ElasticSections:
    """The sections that a girder goes through: steel, then 3n and n, or cracked."""

    steel: Elastic
    long_term: Elastic | None
    short_term: Elastic | None
    cracked: Elastic | None


def elastic_sections(
    sheet: Sheet, geometry: Geometry, ratio: Operand | None = None
) -> ElasticSections:
    """Write every section of a girder: steel; 3n and n where there is a slab; cracked with bars.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    geometry : Geometry
        The parts at their heights.
    ratio : Operand, optional
        Modular ratio ``n``; without it the slab is left out (no 3n and n section).

    Returns
    -------
    ElasticSections
        Steps with the subscripts ``s``, ``3n``, ``n``, ``r``.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 6.10.1.1.1; from memory.
    """
    steel = steel_section(sheet, geometry)
    long_term = short_term = cracked = None
    if ratio is not None and geometry.slab_area is not None:
        long_term = transformed_section(sheet, geometry, steel, 3 * ratio, key="3n")
        short_term = transformed_section(sheet, geometry, steel, ratio, key="n")
    if geometry.bars:
        cracked = cracked_section(sheet, geometry, steel)
    return ElasticSections(steel, long_term, short_term, cracked)


def steel_section(sheet: Sheet, geometry: Geometry) -> Elastic:
    r"""Write the elastic properties of the steel alone.

    .. math:: y_s = \frac{\sum A y}{\sum A}, \qquad
        I_s = \sum \left[\frac{b t^3}{12} + A (y - y_s)^2\right]

    A rolled shape takes its area, inertia and modulus from the table; cover plates are added.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    geometry : Geometry
        The parts at their heights.

    Returns
    -------
    Elastic
        Steps ``A_s y_s I_s S_sb S_st``.

    Source
    ------
    Mechanics. No clause.
    """
    step, section = sheet.step, geometry.section
    if section.table and len(geometry.steel) == 3:
        table = section.table
        y = step("y_s", table.depth / 2, inch, "neutral axis of the steel", ref="symmetry")
        return Elastic("steel section", table.area, y, table.inertia, table.modulus, table.modulus)
    parts = _steel_parts(geometry)
    A = step("A_s", total(a for a, _, _ in parts), inch**2, "area of the steel", ref="geometry")
    y = step(
        "y_s",
        total(a * at for a, at, _ in parts) / A,
        inch,
        "neutral axis of the steel above its bottom",
        ref="geometry",
    )
    I_s = step(
        "I_s",
        total(own + a * (at - y) ** 2 for a, at, own in parts),
        inch**4,
        "moment of inertia of the steel",
        ref="geometry",
    )
    words = "steel section"
    S_b, S_t = _moduli(sheet, "s", words, I_s, y, geometry.depth)
    return Elastic(words, A, y, I_s, S_b, S_t)


def _steel_parts(geometry: Geometry) -> list[tuple[Operand, Operand, Operand]]:
    """Return (area, height, own inertia) of each part; a rolled shape is one part."""
    section, table = geometry.section, geometry.section.table
    plates = {
        "bp": section.bottom_cover, "bf": section.bottom, "tf": section.top,
        "tp": section.top_cover,
    }  # fmt: skip
    parts = []
    for piece in geometry.steel:
        if piece.key == "w":
            if table:
                parts.append((table.area, piece.centre, table.inertia))
            else:
                D, t = section.web.width, section.web.thickness
                parts.append((piece.area, piece.centre, t * D**3 / 12))
        elif table is None or piece.key in ("bp", "tp"):
            plate = plates[piece.key]
            assert plate is not None
            own = plate.width * plate.thickness**3 / 12
            parts.append((piece.area, piece.centre, own))
    return parts


def _moduli(
    sheet: Sheet,
    key: str,
    words: str,
    inertia: Operand,
    y: Operand,
    d: Operand,
) -> tuple[Operand, Operand]:
    step = sheet.step
    S_b = step(f"S_{key}b", inertia / y, inch**3, f"modulus, bottom of steel, {words}", ref="I/y")
    S_t = step(
        f"S_{key}t", inertia / (d - y), inch**3, f"modulus, top of steel, {words}", ref="I/y"
    )
    return S_b, S_t


def transformed_section(
    sheet: Sheet, geometry: Geometry, steel: Elastic, ratio: Operand, *, key: str
) -> Elastic:
    r"""Write the properties of steel and transformed slab.

    .. math:: A = A_s + \frac{A_c}{n}, \quad y = \frac{A_s y_s + A_c y_c / n}{A}, \quad
        I = I_s + A_s (y - y_s)^2 + \frac{b_s t_s^3}{12 n} + \frac{A_c}{n} (y_c - y)^2

    The concrete of the haunch and the bars are left out, which is on the safe side.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    geometry : Geometry
        The parts at their heights, with a slab.
    steel : Elastic
        From :func:`steel_section`.
    ratio : Operand
        What the slab is divided by: ``3 n`` or ``n``.
    key : str
        Subscript of the steps, ``"3n"`` or ``"n"``.

    Returns
    -------
    Elastic
        Steps ``A y I S_..b S_..t S_..d Q`` with the subscript.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 6.10.1.1.1b; from memory.
    """
    slab, area, centre = geometry.section.slab, geometry.slab_area, geometry.slab_centre
    assert slab is not None
    assert area is not None
    assert centre is not None
    assert geometry.slab_top is not None
    step, ref, words = sheet.step, "LRFD 6.10.1.1.1b", f"{key} section"
    A_cn = step(f"A_c{key}", area / ratio, inch**2, f"transformed slab, {words}", ref=ref)
    A = step(f"A_{key}", steel.area + A_cn, inch**2, f"area, {words}", ref=ref)
    y = step(
        f"y_{key}",
        (steel.area * steel.centroid + A_cn * centre) / A,
        inch,
        f"neutral axis, {words}",
        ref=ref,
    )
    own = A_cn * slab.thickness**2 / 12
    I_x = step(
        f"I_{key}",
        steel.inertia + steel.area * (y - steel.centroid) ** 2 + own + A_cn * (centre - y) ** 2,
        inch**4,
        f"moment of inertia, {words}",
        ref=ref,
    )
    S_b, S_t = _moduli(sheet, key, words, I_x, y, geometry.depth)
    S_d = step(
        f"S_{key}d",
        I_x / (geometry.slab_top - y),
        inch**3,
        f"modulus, top of slab in units of steel, {words}",
        ref="I/y",
    )
    Q = step(
        f"Q_{key}", A_cn * (centre - y), inch**3, f"first moment of the slab, {words}", ref=ref
    )
    return Elastic(words, A, y, I_x, S_b, S_t, S_deck=S_d, Q=Q, ratio=ratio)


def cracked_section(sheet: Sheet, geometry: Geometry, steel: Elastic) -> Elastic:
    """Write the properties of steel and longitudinal reinforcement (negative moment).

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    geometry : Geometry
        The parts at their heights, with at least one layer of bars.
    steel : Elastic
        From :func:`steel_section`.

    Returns
    -------
    Elastic
        Steps ``A_r y_r I_r S_rb S_rt S_rr Q_r``.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 6.10.1.1.1c; from memory.
    """
    step, ref, words = sheet.step, "LRFD 6.10.1.1.1c", "steel and reinforcement"
    bars = geometry.bars
    A = step(
        "A_r", total((steel.area, *(b.area for b in bars))), inch**2, f"area, {words}", ref=ref
    )
    first = total((steel.area * steel.centroid, *(b.area * b.centre for b in bars)))
    y = step("y_r", first / A, inch, f"neutral axis, {words}", ref=ref)
    I_x = step(
        "I_r",
        steel.inertia
        + steel.area * (y - steel.centroid) ** 2
        + total(b.area * (b.centre - y) ** 2 for b in bars),
        inch**4,
        f"moment of inertia, {words}",
        ref=ref,
    )
    S_b, S_t = _moduli(sheet, "r", words, I_x, y, geometry.depth)
    S_r = step(
        "S_rr", I_x / (bars[0].centre - y), inch**3, f"modulus, top reinforcement, {words}",
        ref="I/y",
    )  # fmt: skip
    Q = step(
        "Q_r",
        total(b.area * (b.centre - y) for b in bars),
        inch**3,
        "first moment of the reinforcement",
        ref=ref,
    )
    return Elastic(words, A, y, I_x, S_b, S_t, S_bars=S_r, Q=Q)
