"""The factors of a product in reading order, each with the side of the bar it stands on."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import TYPE_CHECKING, Any

from stepcalc.render.conversion_units import ATOM_OF, CONVERTIBLE, tidy
from stepcalc.units.numbers import typed_text

if TYPE_CHECKING:
    from stepcalc.units.info import Atom

SUMS = frozenset(("add", "sub", "total", "min", "max"))
PRODUCTS = frozenset(("mul", "div"))


class Marked:
    """A node of the copied tree; it prints and evaluates as a node of the tree does."""

    __slots__ = ("args", "data", "op")

    def __init__(self, op: str, args: tuple[Any, ...], data: Any = None) -> None:
        self.op = op
        self.args = args
        self.data = data


_NOTHING: dict[Any, Any] = {}


class Place:
    """One occurrence in a product.

    Attributes
    ----------
    node : Operand
        What stands there.
    side : int
        1 over the bar, -1 under it.
    unit : dict
        Its unit, exponents by atom, filled in when it has been fitted.
    factors : tuple
        Conversion factors that go right behind it.
    """

    __slots__ = ("factors", "node", "side", "unit")

    def __init__(self, node: Any, side: int) -> None:
        self.node = node
        self.side = side
        self.unit: dict[Any, Any] = _NOTHING
        self.factors: tuple[Any, ...] = ()


def places_of(node: Any) -> list[Place]:
    """Return the occurrences below nested products and quotients, left to right."""
    places: list[Place] = []
    _collect(node, 1, places)
    return places


def _collect(node: Any, side: int, places: list[Place]) -> None:
    op = node.op
    if op == "mul" or op == "div":
        left, right = node.args
        if left.op in PRODUCTS:
            _collect(left, side, places)
        else:
            places.append(Place(left, side))
        if op == "div":
            side = -side
        if right.op in PRODUCTS:
            _collect(right, side, places)
        else:
            places.append(Place(right, side))


def lone_sum(places: list[Place]) -> Place | None:
    """Return the sum over the bar whose co-factors carry no unit, if there is one."""
    found: Place | None = None
    for place in places:
        if place.node.op in SUMS or place.node.op in ("cases", "abs"):
            if found is not None or place.side < 0:
                return None
            found = place
        elif place.node.mask & CONVERTIBLE:
            return None
    return found


def carrier_of(places: list[Place], bit: int, net: Any) -> Place | None:
    """Return the factor of a product behind which a conversion factor goes; None: at the end."""
    carriers = [place for place in places if place.unit.get(bit)]
    if len(carriers) == 1:
        return carriers[0]
    for place in carriers:
        if place.side * place.unit[bit] == net:
            return place
    sides = {place.side for place in carriers}
    return carriers[-1] if len(sides) == 1 else None


def rebuilt(node: Any, places: Iterator[Place], at_end: tuple[Marked, ...] = ()) -> Any:
    """Return the product again, with the factors behind their carriers."""
    op = node.op
    if op == "div":
        above = rebuilt(node.args[0], places, at_end)
        return Marked("div", (above, rebuilt(node.args[1], places)))
    if op == "mul":
        left = rebuilt(node.args[0], places)
        right = node.args[1]
        if right.op in PRODUCTS:
            new = Marked("mul", (left, rebuilt(right, places)))
        else:
            place = next(places)
            new = Marked("mul", (left, place.node))
            at_end = place.factors + at_end
    else:
        place = next(places)
        new = place.node
        at_end = place.factors + at_end
    for one in at_end:
        new = Marked("mul", (new, one))
    return new


_made: dict[tuple[int, int, Any], Marked] = {}


def factor(bit: int, into: int, net: Any) -> Marked:
    """Return the factor that turns one atom to the power ``net`` into another."""
    key = (bit, into, net)
    made = _made.get(key)
    if made is None:
        made = _made[key] = _new_factor(ATOM_OF[bit], ATOM_OF[into], net)
    return made


def _new_factor(atom: Atom, into: Atom, net: Any) -> Marked:
    ratio = float(f"{atom.factor / into.factor:.15g}")
    inverse = float(f"{into.factor / atom.factor:.15g}")
    old, new = ("1", typed_text(ratio)) if ratio >= 1 else (typed_text(inverse), "1")
    net = tidy(Fraction(net))
    if net > 0:
        return Marked("factor", (), (new, into.text, old, atom.text, net))
    return Marked("factor", (), (old, atom.text, new, into.text, -net))
