"""What a girder section is made of: plates, cover plates, slab and reinforcement, as operands.

A section is a welded plate girder (:func:`plate_girder`) or a rolled W shape
(:func:`rolled_girder`), either with cover plates.  A rolled shape is three plates where the code
asks for plates; its own area, inertia and moduli come from the shape table.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from stepcalc.bridge.section import TABLE, TABLE_REF
from stepcalc.errors import RangeError
from stepcalc.units import Q_, inch

if TYPE_CHECKING:
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.nodes import Choice
    from stepcalc.sheet.sheet import Sheet


@dataclass(frozen=True)
class Plate:
    """One plate: for a flange width and thickness, for the web its depth ``D`` and thickness."""

    width: Operand
    thickness: Operand
    strength: Operand


@dataclass(frozen=True)
class Bars:
    """A layer of longitudinal reinforcement within the effective width.

    Attributes
    ----------
    area : Operand, [length**2]
    depth : Operand, [length]
        From the top of the structural slab to the middle of the layer.
    strength : Operand, [stress]
    """

    area: Operand
    depth: Operand
    strength: Operand


@dataclass(frozen=True)
class Slab:
    """The structural slab over the girder.

    Attributes
    ----------
    width, thickness, haunch : Operand, [length]
        Effective width ``b_s``, structural thickness ``t_s``, and from the top of the top flange
        (cover plate included) to the soffit ``t_h``.
    strength : Operand, [stress]
        ``f_c`` of the concrete.
    bars : tuple of Bars
        None, one layer, or the top layer and then the bottom layer.
    """

    width: Operand
    thickness: Operand
    haunch: Operand
    strength: Operand
    bars: tuple[Bars, ...] = ()


@dataclass(frozen=True)
class Tabulated:
    """Properties of the bare rolled shape from the table."""

    depth: Operand
    area: Operand
    inertia: Operand
    modulus: Operand
    plastic_modulus: Operand | None = None


@dataclass(frozen=True)
class ISection:
    """A steel I-section, with or without a slab.

    Attributes
    ----------
    top, web, bottom : Plate
    top_cover, bottom_cover : Plate or None
    slab : Slab or None
    table : Tabulated or None
        Set for a rolled shape.
    """

    top: Plate
    web: Plate
    bottom: Plate
    top_cover: Plate | None = None
    bottom_cover: Plate | None = None
    slab: Slab | None = None
    table: Tabulated | None = None

    @property
    def rolled(self) -> bool:
        """Whether the steel is a rolled shape."""
        return self.table is not None

    @property
    def bars(self) -> tuple[Bars, ...]:
        """The reinforcement of the slab."""
        return self.slab.bars if self.slab else ()

    def with_slab(self, slab: Slab | None) -> ISection:
        """Return the same steel under another slab, or none."""
        return replace(self, slab=slab)


@dataclass(frozen=True)
class PlateSizes:
    """The sizes of a welded girder as quantities; strengths may differ (hybrid)."""

    top: tuple[Any, Any]
    web: tuple[Any, Any]
    bottom: tuple[Any, Any]
    F_top: Any
    F_web: Any
    F_bottom: Any
    source: str = "girder elevation"


def plate_girder(sheet: Sheet, sizes: PlateSizes) -> ISection:
    """Write the plates of a welded girder as givens.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the givens.
    sizes : PlateSizes
        Widths, thicknesses and yield strengths.

    Returns
    -------
    ISection
        ``b_tf t_tf D t_w b_bf t_bf F_ytf F_yw F_ybf``; no slab yet.

    Raises
    ------
    RangeError
        For a plate that is not positive, or a web thicker than a flange is wide.
    """
    for name, (width, thickness) in (
        ("top flange", sizes.top),
        ("web", sizes.web),
        ("bottom flange", sizes.bottom),
    ):
        refuse_flat(name, width, thickness)
    for name, flange in (("top", sizes.top), ("bottom", sizes.bottom)):
        refuse_thick_web(sizes.web[1], flange[0], name)
    put = _writer(sheet, sizes.source)
    top = Plate(
        put("b_tf", sizes.top[0], "width of the top flange"),
        put("t_tf", sizes.top[1], "thickness of the top flange"),
        put("F_ytf", sizes.F_top, "yield strength of the top flange"),
    )
    web = Plate(
        put("D", sizes.web[0], "depth of the web"),
        put("t_w", sizes.web[1], "thickness of the web"),
        put("F_yw", sizes.F_web, "yield strength of the web"),
    )
    bottom = Plate(
        put("b_bf", sizes.bottom[0], "width of the bottom flange"),
        put("t_bf", sizes.bottom[1], "thickness of the bottom flange"),
        put("F_ybf", sizes.F_bottom, "yield strength of the bottom flange"),
    )
    return ISection(top, web, bottom)


def rolled_girder(sheet: Sheet, shape: Choice, yield_strength: Operand) -> ISection:
    """Look up a rolled shape, idealised as three plates where the code asks for plates.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the look-ups.
    shape : Choice
        A given whose choices are the W shapes.
    yield_strength : Operand, [stress]
        Of the whole shape.

    Returns
    -------
    ISection
        Look-ups ``d b_f t_f t_w A I_x S_x Z_x`` and the step ``D``; no slab yet.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017): ``D`` clear between the flanges; from memory.
    """
    read = sheet.lookup
    d = read("d", TABLE, shape, "d", inch, "depth", ref=TABLE_REF)
    b_f = read("b_f", TABLE, shape, "bf", inch, "flange width", ref=TABLE_REF)
    t_f = read("t_f", TABLE, shape, "tf", inch, "flange thickness", ref=TABLE_REF)
    t_w = read("t_w", TABLE, shape, "tw", inch, "web thickness", ref=TABLE_REF)
    table = Tabulated(
        d,
        read("A", TABLE, shape, "area", inch**2, "area", ref=TABLE_REF),
        read("I_x", TABLE, shape, "Ix", inch**4, "moment of inertia", ref=TABLE_REF),
        read("S_x", TABLE, shape, "Sx", inch**3, "elastic section modulus", ref=TABLE_REF),
        read("Z_x", TABLE, shape, "Zx", inch**3, "plastic section modulus", ref=TABLE_REF),
    )
    D = sheet.step("D", d - 2 * t_f, inch, "web depth, clear between the flanges", ref="geometry")
    flange = Plate(b_f, t_f, yield_strength)
    return ISection(flange, Plate(D, t_w, yield_strength), flange, table=table)


def add_cover_plate(
    sheet: Sheet, section: ISection, size: tuple[Any, Any], strength: Any, *, top: bool = False,
    source: str = "girder elevation",
) -> ISection:  # fmt: skip
    """Write a cover plate on the bottom (or top) flange as givens.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the givens.
    section : ISection
        The section without it.
    size : pair of quantities
        Width and thickness.
    strength : quantity
        Yield strength.
    top : bool
        On the top flange instead.
    source : str
        Where the plate was read.

    Returns
    -------
    ISection
        With the plate; its givens are ``b_bp t_bp F_ybp`` (``b_tp t_tp F_ytp``).

    Raises
    ------
    RangeError
        For a plate that is not positive.
    """
    where = "top" if top else "bottom"
    refuse_flat(f"{where} cover plate", *size)
    put, s = _writer(sheet, source), where[0]
    plate = Plate(
        put(f"b_{s}p", size[0], f"width of the {where} cover plate"),
        put(f"t_{s}p", size[1], f"thickness of the {where} cover plate"),
        put(f"F_y{s}p", strength, f"yield strength of the {where} cover plate"),
    )
    return replace(section, top_cover=plate) if top else replace(section, bottom_cover=plate)


def refuse_flat(what: str, width: Any, thickness: Any) -> None:
    """Refuse a plate whose width or thickness is not above zero.

    Parameters
    ----------
    what : str
        Name of the plate.
    width, thickness : quantity, [length]
        Its sizes.

    Raises
    ------
    RangeError
        If one of them is not positive.
    """
    for side, size in (("width", width), ("thickness", thickness)):
        if not Q_(size).to(inch).magnitude > 0:
            msg = f"the {side} of the {what} is {size}; want a length above 0"
            raise RangeError(msg)


def refuse_thick_web(web: Any, flange: Any, where: str) -> None:
    """Refuse a web that is thicker than a flange is wide.

    Parameters
    ----------
    web, flange : quantity, [length]
        Thickness of the web and width of the flange.
    where : str
        ``"top"`` or ``"bottom"``.

    Raises
    ------
    RangeError
        If it is.
    """
    if Q_(web).to(inch).magnitude >= Q_(flange).to(inch).magnitude:
        msg = (
            f"the web is {web} thick and the {where} flange {flange} wide; a flange is wider than "
            "the web is thick"
        )
        raise RangeError(msg)


def _writer(sheet: Sheet, source: str) -> Any:
    def put(name: str, value: Any, description: str) -> Any:
        return sheet.given(name, value, description, source=source)

    return put
