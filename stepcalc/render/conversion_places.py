"""The factors of a product in reading order, each with the side of the bar it stands on."""

from __future__ import annotations

from typing import Any


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
    factors : list
        Conversion factors that go right behind it.
    """

    __slots__ = ("factors", "node", "side", "unit")

    def __init__(self, node: Any, side: int) -> None:
        self.node = node
        self.side = side
        self.unit: dict[Any, Any] = {}
        self.factors: list[Any] = []


def places_of(node: Any) -> list[Place]:
    """Return the occurrences below nested products and quotients, left to right."""
    places: list[Place] = []
    _collect(node, 1, places)
    return places


def _collect(node: Any, side: int, places: list[Place]) -> None:
    if node.op == "mul":
        _collect(node.args[0], side, places)
        _collect(node.args[1], side, places)
    elif node.op == "div":
        _collect(node.args[0], side, places)
        _collect(node.args[1], -side, places)
    else:
        places.append(Place(node, side))
