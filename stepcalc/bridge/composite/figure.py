"""The girder section as a figure: plates, slab, bars, neutral axes, plastic stress blocks.

Figure data of the kind ``girder_section``; every height is measured from the bottom of the steel,
in inches::

    {"kind": "girder_section", "length_unit": "in",
     "plates": [{"bottom": 0, "height": 1.25, "width": 14, "label": "bottom flange 14 x 1.25"}],
     "slab":   [{"bottom": 48.25, "height": 8, "width": 90, "label": "slab 90 x 8"}],
     "bars":   [{"x": 54.25, "label": "top reinforcement"}],
     "elastic": [{"x": 26.0, "label": "elastic axis, steel and reinforcement"}],
     "plastic": [{"x": 29.9, "label": "plastic axis"}],
     "stress": [{"bottom": 0, "height": 1.25, "width": -50, "label": "50 ksi"}],
     "depths": [{"start": 0, "end": 46.25, "label": "46.25 in"}]}

``slab`` has at most one item.  The ``width`` of a stress block is its stress in ksi, tension
positive; a part that the plastic axis cuts gives two blocks.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from stepcalc.units import inch, ksi

if TYPE_CHECKING:
    from stepcalc.bridge.composite.elastic import Elastic
    from stepcalc.bridge.composite.geometry import Geometry, Piece
    from stepcalc.bridge.composite.plastic import PlasticMoment
    from stepcalc.sheet.sheet import Sheet

_CONCRETE = 0.85  # of f'_c, for the drawing only


def draw_girder_section(
    sheet: Sheet,
    geometry: Geometry,
    *,
    elastic: tuple[Elastic, ...] = (),
    plastic: PlasticMoment | None = None,
    positive: bool = True,
    caption: str = "",
) -> None:
    """Put the section on the sheet, with the axes that are given.

    A figure holds numbers, not formulas: it shows the section as first given, and is not drawn
    again by a revision.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the figure.
    geometry : Geometry
        The parts at their heights.
    elastic : tuple of Elastic
        Sections whose neutral axis is drawn.
    plastic : PlasticMoment, optional
        Its axis and its stress blocks.
    positive : bool
        Whether the top is compressed in the stress blocks.
    caption : str
        Words under the figure; by default the sense of bending.

    Source
    ------
    Geometry. No clause.
    """
    sense = "positive" if positive else "negative"
    sheet.figure(
        section_figure(geometry, elastic=elastic, plastic=plastic, positive=positive),
        caption or f"Girder section in {sense} bending, as first given.",
    )


def section_figure(
    geometry: Geometry,
    *,
    elastic: tuple[Elastic, ...] = (),
    plastic: PlasticMoment | None = None,
    positive: bool = True,
) -> dict[str, Any]:
    """Return the figure data of a section; see the module.

    Parameters
    ----------
    geometry, elastic, plastic, positive
        As in :func:`draw_girder_section`.

    Returns
    -------
    dict
        Of the kind ``girder_section``.
    """
    section = geometry.section
    plates = [_plate(geometry, piece) for piece in geometry.steel]
    depth = _inches(geometry.depth)
    depths = [{"start": 0.0, "end": depth, "label": f"{depth:.5g} in"}]
    slab = []
    if section.slab and geometry.slab_top is not None:
        top, thick = _inches(geometry.slab_top), _inches(section.slab.thickness)
        width = _inches(section.slab.width)
        block = {"bottom": top - thick, "height": thick, "width": width}
        slab = [{**block, "label": f"slab {width:.5g} × {thick:.5g} in"}]
        depths.append({"start": 0.0, "end": top, "label": f"{top:.5g} in"})
    return {
        "kind": "girder_section",
        "length_unit": "in",
        "plates": plates,
        "slab": slab,
        "bars": [{"x": _inches(bar.centre), "label": bar.words} for bar in geometry.bars],
        "elastic": [
            {"x": _inches(item.centroid), "label": f"elastic axis, {item.words}"}
            for item in elastic
        ],
        "plastic": [{"x": _inches(plastic.axis), "label": "plastic axis"}] if plastic else [],
        "stress": _blocks(geometry, plates, slab, plastic, positive=positive) if plastic else [],
        "depths": depths,
    }


def _plate(geometry: Geometry, piece: Piece) -> dict[str, Any]:
    section = geometry.section
    plate = {
        "bp": section.bottom_cover, "bf": section.bottom, "w": section.web, "tf": section.top,
        "tp": section.top_cover,
    }[piece.key]  # fmt: skip
    assert plate is not None
    assert piece.thickness is not None
    wide, thick, tall = map(_inches, (plate.width, plate.thickness, piece.thickness))
    return {
        "bottom": _inches(piece.centre) - tall / 2,
        "height": tall,
        "width": thick if piece.key == "w" else wide,
        "label": f"{piece.words} {wide:.5g} × {thick:.4g} in",
    }


def _blocks(
    geometry: Geometry,
    plates: list[dict[str, Any]],
    slab: list[dict[str, Any]],
    plastic: PlasticMoment,
    *,
    positive: bool,
) -> list[dict[str, Any]]:
    axis, found = _inches(plastic.axis), []
    for piece, plate in zip(geometry.steel, plates, strict=True):
        found += _cut(plate, axis, _number(piece.strength, ksi), positive)
    if slab and positive and geometry.section.slab:
        stress = _CONCRETE * _number(geometry.section.slab.strength, ksi)
        found += [b for b in _cut(slab[0], axis, stress, positive) if b["width"] < 0]
    return found


def _cut(part: dict[str, Any], axis: float, stress: float, positive: bool) -> list[dict[str, Any]]:
    """Return the blocks of one part: below and above the axis."""
    low, high = part["bottom"], part["bottom"] + part["height"]
    sign = 1.0 if positive else -1.0
    pieces = ((low, min(high, axis), sign), (max(low, axis), high, -sign))
    return [
        {"bottom": a, "height": z - a, "width": s * stress, "label": f"{stress:.3g} ksi"}
        for a, z, s in pieces
        if z - a > 1e-9
    ]


def _inches(node: Any) -> float:
    return _number(node, inch)


def _number(node: Any, unit: Any) -> float:
    """Return the number of an operand, whether it is a node of the sheet or a formula of nodes."""
    from stepcalc.expr.walk import value_of
    from stepcalc.units.info import read_unit

    info = read_unit(unit)
    if hasattr(node, "base"):
        return float(node.base) / info.factor
    sheet = next(iter(_sheets(node)))
    return float(value_of(node, sheet._values, sheet)) / info.factor


def _sheets(node: Any) -> Any:
    if hasattr(node, "sheet"):
        yield node.sheet
    for part in node.args:
        yield from _sheets(part)
