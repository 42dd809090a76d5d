"""Random formulas with mixed units that make sense dimensionally, as hypothesis strategies."""

from __future__ import annotations

from collections.abc import Callable
from decimal import Decimal
from fractions import Fraction
from typing import Any

from hypothesis import strategies as st

from stepcalc import Sheet, absolute, ceil, cos, exp, floor, maximum, minimum, sin, sqrt, total
from stepcalc.expr.tree import as_operand
from stepcalc.units import Q_

Draw = Callable[[st.SearchStrategy[Any]], Any]

UNITS = {
    "length": ("ft", "inch", "yard"),
    "force": ("kip", "lb"),
    "moment": ("kip*ft", "kip*inch", "lb*ft"),
    "line load": ("kip/ft", "klf", "plf", "lb/ft", "kip/inch"),
    "stress": ("ksi", "psf", "ksf", "psi", "kip/ft**2"),
    "weight": ("pcf", "lb/ft**3"),
    "area": ("inch**2", "ft**2"),
    "inertia": ("inch**4",),
    "number": (None,),
    "angle": ("degree",),
}  # fmt: skip
NAMES = {
    "length": ("L", "S", "t_s", "L_b", "d"), "force": ("P", "V_DC1", "R_LL+IM"),
    "moment": ("M_u", "M_DW"), "line load": ("w", "w_deck"), "stress": ("F_y", "f'_c", "E"),
    "weight": ("gamma_c",), "area": ("A_s",), "inertia": ("I_x", "K_g"),
    "number": ("k", "phi_f", "n", "RF"), "angle": ("theta",),
}  # fmt: skip

#: how a quantity of a kind may be made of others
MAKINGS: dict[str, tuple[tuple[str, ...], ...]] = {
    "length": (("over", "area", "length"), ("over", "moment", "force"),
               ("over", "force", "line load"), ("root", "area")),
    "force": (("times", "stress", "area"), ("times", "line load", "length"),
              ("over", "moment", "length")),
    "moment": (("times", "force", "length"), ("wl2",), ("times", "length", "force")),
    "line load": (("over", "force", "length"), ("deck",), ("times", "stress", "length")),
    "stress": (("over", "force", "area"), ("over", "moment", "area length"),
               ("times", "weight", "length")),
    "weight": (("over", "stress", "length"),),
    "area": (("times", "length", "length"), ("square", "length"), ("over", "force", "stress")),
    "inertia": (("times", "area", "area"), ("fourth", "length")),
    "number": (("ratio", "length"), ("ratio", "force"), ("ratio", "stress"), ("ratio", "inertia"),
               ("power", "number"), ("root", "number"), ("times", "number", "number"),
               ("over", "number", "number"), ("round", "number"), ("exp", "number"),
               ("sine", "angle")),
    "angle": (),
}  # fmt: skip


@st.composite
def typed_numbers(draw: Draw) -> Any:
    """A number as a person types it."""
    kind = draw(st.sampled_from(["int", "float", "decimal", "fraction"]))
    if kind == "int":
        return draw(st.integers(1, 9000))
    if kind == "decimal":
        return Decimal(draw(st.integers(1, 99999))).scaleb(-draw(st.integers(0, 3)))
    if kind == "fraction":
        return Fraction(draw(st.integers(1, 15)), draw(st.sampled_from([2, 3, 4, 8, 16])))
    return round(draw(st.floats(0.05, 900)), draw(st.integers(0, 3))) or 0.5


@st.composite
def sheets(draw: Draw) -> tuple[Sheet, dict[str, list[Any]]]:
    """A sheet with givens of every kind in units of its own choice."""
    sheet = Sheet("random")
    nodes: dict[str, list[Any]] = {}
    for kind, names in NAMES.items():
        for name in names:
            unit = draw(st.sampled_from(UNITS[kind]))
            value = draw(typed_numbers())
            if kind == "number" and draw(st.integers(0, 4)) == 0:
                value = -value
            if kind == "angle":
                value = draw(st.sampled_from([10, 22.5, 30, 45, 60]))
            quantity = value if unit is None else Q_(value, unit)
            nodes.setdefault(kind, []).append(sheet.given(name, quantity))
    return sheet, nodes


class Maker:
    """Draws formulas over the names of a sheet."""

    def __init__(self, draw: Draw, nodes: dict[str, list[Any]]) -> None:
        self.draw = draw
        self.nodes = nodes

    def make(self, kind: str, depth: int) -> Any:
        if kind == "area length":
            return self.make("area", 0) * self.make("length", 0)
        if depth <= 0 or (kind == "angle" and depth < 2):
            return self.leaf(kind)
        choice = self.draw(st.integers(0, 9))
        if choice < 5 and MAKINGS[kind]:
            return self.made(self.draw(st.sampled_from(MAKINGS[kind])), depth - 1)
        return self.same_kind(kind, depth - 1, choice)

    def leaf(self, kind: str) -> Any:
        if self.draw(st.integers(0, 4)) < 4 or kind == "angle":
            return self.draw(st.sampled_from(self.nodes[kind]))
        value = self.draw(typed_numbers())
        unit = self.draw(st.sampled_from(UNITS[kind]))
        return as_operand(value if unit is None else Q_(value, unit))

    def same_kind(self, kind: str, depth: int, choice: int) -> Any:
        one = self.make(kind, depth)
        if choice == 5:
            return self.number() * one if self.draw(st.booleans()) else one * self.number()
        if choice == 6:
            return one / self.number()
        other = self.make(kind, depth)
        if choice == 7:
            if self.draw(st.booleans()):
                return one + other
            return one - other
        if choice == 8:
            make = self.draw(st.sampled_from([minimum, maximum]))
            return make(one, other)
        extra = self.draw(st.integers(0, 2))
        if extra == 0:
            return -one
        if extra == 1:
            return absolute(one - other)
        return total([one, other, self.leaf(kind)])

    def number(self) -> Any:
        return as_operand(self.draw(typed_numbers()))

    def made(self, making: tuple[str, ...], depth: int) -> Any:
        how, *kinds = making
        if how == "wl2":
            return self.make("line load", depth) * self.make("length", 0) ** 2 / 8
        if how == "deck":
            return self.make("weight", 0) * self.make("length", depth) * self.make("length", 0)
        if how == "ratio":
            over = self.make(kinds[0], depth)
            return over / self.make(kinds[0], depth)
        one = self.make(kinds[0], depth)
        if how == "root":
            return sqrt(one)
        if how in ("square", "fourth"):
            return one ** (2 if how == "square" else 4)
        if how == "power":
            return one ** self.draw(st.sampled_from([2, 3, -1, 0.4, -2, 1.5, Fraction(1, 3)]))
        if how == "round":
            return self.draw(st.sampled_from([floor, ceil]))(one)
        if how == "exp":
            return exp(-absolute(one) / 50)
        if how == "sine":
            return self.draw(st.sampled_from([sin, cos]))(one)
        other = self.make(kinds[1], depth)
        return one * other if how == "times" else one / other


@st.composite
def formulas(draw: Draw, depth: int = 3) -> tuple[Sheet, Any]:
    """A sheet and a formula over its givens."""
    sheet, nodes = draw(sheets())
    kind = draw(st.sampled_from([kind for kind in UNITS if kind != "angle"]))
    return sheet, Maker(draw, nodes).make(kind, depth)
