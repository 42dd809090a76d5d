"""Areas and heights of the parts of a section, from the bottom of the steel upward."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stepcalc.expr.functions import total
from stepcalc.units import inch

if TYPE_CHECKING:
    from stepcalc.bridge.composite.plates import ISection, Plate
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.sheet import Sheet


@dataclass(frozen=True)
class Piece:
    """One plate or one layer of bars at its height.

    Attributes
    ----------
    key, words : str
        Subscript, and name in words.
    area, centre : Operand
        ``A``, and the height ``y`` of its middle above the bottom of the steel.
    strength : Operand, [stress]
    thickness : Operand or None, [length]
        Its vertical size; None for a layer of bars.
    """

    key: str
    words: str
    area: Operand
    centre: Operand
    strength: Operand
    thickness: Operand | None

    @property
    def upper(self) -> Operand:
        """Height of its upper face."""
        return self.centre if self.thickness is None else self.centre + self.thickness / 2


@dataclass(frozen=True)
class Geometry:
    """The parts of a section at their heights.

    Attributes
    ----------
    steel : tuple of Piece
        Plates from bottom to top: (cover plate,) bottom flange, web, top flange(, cover plate).
    bars : tuple of Piece
        Layers of reinforcement, the top one first.
    depth : Operand, [length]
        ``d`` of the steel, cover plates included.
    web_bottom, web_top : Operand, [length]
        Heights of the two edges of the web.
    slab_centre, slab_top : Operand or None, [length]
        ``y_c`` and ``y_top``.
    slab_area : Operand or None, [length**2]
        ``A_c`` of the concrete, not transformed.
    """

    section: ISection
    steel: tuple[Piece, ...]
    bars: tuple[Piece, ...]
    depth: Operand
    web_bottom: Operand
    web_top: Operand
    slab_centre: Operand | None
    slab_top: Operand | None
    slab_area: Operand | None

    def piece(self, key: str) -> Piece:
        """Return a plate by its subscript: ``bp bf w tf tp``."""
        return next(piece for piece in self.steel if piece.key == key)

    def flange(self, *, top: bool) -> tuple[Piece, ...]:
        """Return the plates of one flange, the flange itself first."""
        keys = ("tf", "tp") if top else ("bf", "bp")
        return tuple(piece for key in keys for piece in self.steel if piece.key == key)


_WORDS = {
    "bp": "bottom cover plate",
    "bf": "bottom flange",
    "w": "web",
    "tf": "top flange",
    "tp": "top cover plate",
}


def section_geometry(sheet: Sheet, section: ISection) -> Geometry:
    r"""Write the areas of the parts and the heights of their middles.

    Heights are measured from the bottom of the steel, cover plate included.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    section : ISection
        The section.

    Returns
    -------
    Geometry
        Steps ``d``, ``A_bf y_bf``, ``A_w y_w``, ``A_tf y_tf`` and, where they exist, those of the
        cover plates, the slab (``A_c y_c y_top``) and the layers of bars (``y_rt y_rb``).

    Source
    ------
    Geometry. No clause.
    """
    plates: list[tuple[str, Plate, Operand]] = [
        ("bf", section.bottom, section.bottom.thickness),
        ("w", section.web, section.web.width),
        ("tf", section.top, section.top.thickness),
    ]
    if section.bottom_cover:
        plates.insert(0, ("bp", section.bottom_cover, section.bottom_cover.thickness))
    if section.top_cover:
        plates.append(("tp", section.top_cover, section.top_cover.thickness))
    steel: list[Piece] = []
    below: list[Operand] = []
    for key, plate, height in plates:
        steel.append(_piece(sheet, key, plate, height, below))
        below.append(height)
    depth = _depth(sheet, section, below)
    under = 2 if section.bottom_cover else 1
    web_bottom = _sum(below[:under])
    slab_area = centre = upper = None
    bars: list[Piece] = []
    if section.slab:
        slab, step = section.slab, sheet.step
        slab_area = step(
            "A_c", slab.width * slab.thickness, inch**2, "concrete of the slab", ref="geometry"
        )
        centre = step(
            "y_c",
            depth + slab.haunch + slab.thickness / 2,
            inch,
            "height of the middle of the slab",
            ref="geometry",
        )
        upper = step("y_top", centre + slab.thickness / 2, inch, "top of the slab", ref="geometry")
        for key, words, layer in zip(("rt", "rb"), ("top", "bottom"), slab.bars, strict=False):
            words = f"{words} reinforcement"
            y = step(
                f"y_{key}", upper - layer.depth, inch, f"height of the {words}", ref="geometry"
            )
            bars.append(Piece(key, words, layer.area, y, layer.strength, None))
    return Geometry(
        section,
        tuple(steel),
        tuple(bars),
        depth,
        web_bottom,
        web_bottom + section.web.width,
        centre,
        upper,
        slab_area,
    )


def _piece(sheet: Sheet, key: str, plate: Plate, height: Operand, below: list[Operand]) -> Piece:
    words = _WORDS[key]
    A = sheet.step(
        f"A_{key}", plate.width * plate.thickness, inch**2, f"area of the {words}", ref="geometry"
    )
    at = height / 2 if not below else _sum(below) + height / 2
    y = sheet.step(f"y_{key}", at, inch, f"height of the middle of the {words}", ref="geometry")
    return Piece(key, words, A, y, plate.strength, height)


def _depth(sheet: Sheet, section: ISection, heights: list[Operand]) -> Operand:
    if section.table and not (section.top_cover or section.bottom_cover):
        return section.table.depth
    name = "d_s" if section.table else "d"
    return sheet.step(name, _sum(heights), inch, "depth of the steel section", ref="geometry")


def _sum(items: list[Operand]) -> Operand:
    found = items[0]
    for item in items[1:]:
        found = found + item
    return found


def flange_area(pieces: tuple[Piece, ...]) -> Operand:
    """Return the area of a flange with its cover plates.

    Parameters
    ----------
    pieces : tuple of Piece
        The plates of one flange.

    Returns
    -------
    Operand
        Their area, [length**2].
    """
    return pieces[0].area if len(pieces) == 1 else total(piece.area for piece in pieces)
