"""A bare rolled beam on a sheet, for the tests of the checks that need nothing of a bridge."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from stepcalc.bridge.flexure import Buckling, buckling_between_diaphragms
from stepcalc.bridge.section import SectionProperties, section_properties, trial_shape
from stepcalc.sheet.entries import Part, TableEntry
from stepcalc.sheet.sheet import Sheet
from stepcalc.units import Q_, ft, kip, kip_ft, ksi

if TYPE_CHECKING:
    from stepcalc.expr.tree import Operand


@dataclass(frozen=True)
class Beam:
    """A sheet that holds a shape, its yield strength and its buckling between diaphragms."""

    sheet: Sheet
    section: SectionProperties
    buckling: Buckling
    F_y: Operand
    L_b: Operand
    C_b: Operand
    M: Operand
    V: Operand


def beam(
    shape: str = "W36X135",
    *,
    fy: float = 50.0,
    braces: float = 15.5,
    gradient: float = 1.0,
    moment: float = 1000.0,
    shear: float = 100.0,
) -> Beam:
    """Return a beam under a moment (kip-ft) and a shear (kip); `braces` in ft."""
    sheet = Sheet("beam")
    F_y = sheet.given("F_y", fy * ksi)
    L_b = sheet.given("L_b", braces * ft)
    C_b = sheet.given("C_b", gradient)
    M = sheet.given("M", moment * kip_ft)
    V = sheet.given("V", shear * kip)
    chosen = sheet.given("shape", shape, choices="w_shapes")
    section = section_properties(sheet, trial_shape(sheet, chosen))
    buckling = buckling_between_diaphragms(
        sheet, section, yield_strength=F_y, unbraced=L_b, gradient=C_b
    )
    return Beam(sheet, section, buckling, F_y, L_b, C_b, M, V)


def number(sheet: Sheet, name: str, unit: str = "") -> float:
    """Return the value of a node as a bare number in a unit."""
    value: Any = sheet[name].value
    if unit:
        return float(Q_(value).to(unit).magnitude)
    return float(getattr(value, "magnitude", value))


def tables_on(sheet: Sheet) -> list[TableEntry]:
    """Return the tables of a sheet, in order."""
    found: list[TableEntry] = []

    def walk(part: Part) -> None:
        for block in part.blocks:
            if isinstance(block, Part):
                walk(block)
            elif isinstance(block, TableEntry):
                found.append(block)

    walk(sheet._book.root)
    return found
