"""Where the plastic neutral axis lies: the branches of Tables D6.1-1 and D6.1-2."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stepcalc.expr.functions import cases

if TYPE_CHECKING:
    from stepcalc.bridge.composite.geometry import Geometry
    from stepcalc.expr.tree import Operand


@dataclass(frozen=True)
class Force:
    """The plastic force of one part; a layer of bars has no thickness.

    Attributes
    ----------
    key, words : str
        Subscript, and name in words.
    force : Operand, [force]
    centre, thickness : Operand, [length]
        Height of its middle above the bottom of the steel, and its vertical size.
    label : str
        The case that holds when the axis lies in it.
    """

    key: str
    words: str
    force: Operand
    centre: Operand
    thickness: Operand | None
    label: str


@dataclass(frozen=True)
class Branch:
    """One place of the axis: when it holds (None: otherwise), its height, its name."""

    condition: object
    axis: Operand
    label: str


def chosen(branches: list[tuple[object, object, str]]) -> Operand:
    """Return the first of several values whose condition holds; the last needs none.

    Parameters
    ----------
    branches : list of (condition, value, label)
        In order.

    Returns
    -------
    Operand
        Cases, or the only value.
    """
    *most, (_, value, label) = branches
    if not most:
        return value  # type: ignore[return-value]  # one part alone: no choice to make
    return cases(*most, otherwise=(value, label))


def branches_in_steel(forces: list[Force], over: list[Operand]) -> list[Branch]:
    """Return a branch for each part of the steel (and, in negative bending, for the bars).

    Parameters
    ----------
    forces : list of Force
        From the bottom up.
    over : list of Operand, [force]
        What stands above them: slab and bars in positive bending.

    Returns
    -------
    list of Branch
        The last has no condition when nothing stands above.
    """
    found = []
    for place, part in enumerate(forces):
        below = [f.force for f in forces[:place]]
        above = [f.force for f in forces[place + 1 :]] + over
        least = _total([*below, part.force])
        condition = least >= _total(above) if above else None
        axis = part.centre
        if part.thickness is not None:
            h = part.thickness
            Y = h / 2 * _share(below, above, part.force)
            axis = part.centre + h / 2 - Y
        found.append(Branch(condition, axis, part.label))
    return found


def _share(below: list[Operand], above: list[Operand], force: Operand) -> Operand:
    """Return (P_below - P_above) / P + 1, without the terms that are not there."""
    if below and above:
        return (_total(below) - _total(above)) / force + 1
    return _total(below) / force + 1 if below else 1 - _total(above) / force


def _total(items: list[Operand]) -> Operand:
    found = items[0]
    for item in items[1:]:
        found = found + item
    return found


def branches_in_slab(
    geometry: Geometry, forces: list[Force], P_s: Operand, bars: list[Force]
) -> list[Branch]:
    """Return the branches III to VII, the axis moving up through the slab and past the bars.

    Parameters
    ----------
    geometry : Geometry
        With a slab.
    forces : list of Force
        The steel.
    P_s : Operand, [force]
        The slab.
    bars : list of Force
        Layers of bars, the top one first; may be empty.

    Returns
    -------
    list of Branch
        The last has no condition.
    """
    slab, top = geometry.section.slab, geometry.slab_top
    assert slab is not None
    assert top is not None
    t_s = slab.thickness
    steel = _total([f.force for f in forces])

    def axis(pull: list[Operand], push: list[Operand]) -> Operand:
        net = _total([steel, *pull])
        for force in push:
            net = net - force
        return top - t_s * net / P_s

    if not bars:
        return [Branch(None, axis([], []), "case III: axis in the slab")]
    found = []
    upward = list(reversed(bars))
    names = ("III", "IV", "V", "VI", "VII") if len(bars) == 2 else ("III", "VI", "VII")
    for place, layer in enumerate(upward):
        pull, push = [b.force for b in upward[:place]], [b.force for b in upward[place:]]
        crushed = (top - layer.centre) / t_s * P_s
        below = _total([steel, *pull]) >= _total([crushed, *push])
        at = _total([steel, *pull, layer.force]) >= _total([crushed, *push[1:]])
        first, second = names[2 * place], names[2 * place + 1]
        words = f"case {first}: axis in the slab, below the {layer.words}"
        found.append(Branch(below, axis(pull, push), words))
        found.append(Branch(at, layer.centre, f"case {second}: axis at the {layer.words}"))
    words = f"case VII: axis in the slab, above the {upward[-1].words}"
    found.append(Branch(None, axis([b.force for b in upward], []), words))
    return found
