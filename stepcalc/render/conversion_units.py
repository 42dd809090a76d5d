"""Units in the terms of conversion factors: exponents by atom, and which atoms are of a kind."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING, Any, TypeAlias

from stepcalc.expr.refusals import exponent_value
from stepcalc.units.info import ATOMS, KIND_MASKS, UnitInfo

if TYPE_CHECKING:
    from stepcalc.units.dimension import Dimension

# exponents by the bit of the atom: an int is the cheapest key there is
Exponents: TypeAlias = "dict[int, Any]"

LEAVES = frozenset(("name", "qty", "unit", "num", "pi", "mag"))
_KINDS = ("length", "force", "time")
_LENGTH, _FORCE, _TIME = (KIND_MASKS[kind] for kind in _KINDS)
CONVERTIBLE = _LENGTH | _FORCE | _TIME
ATOM_OF = {atom.bit: atom for atom in ATOMS.values()}


class _Mixtures(dict[int, bool]):
    """Which masks hold two units of one kind, so that a factor may be due; filled as it goes."""

    def __missing__(self, mask: int) -> bool:
        mixed = self[mask] = _two_of_a_kind(mask)
        return mixed


MIXED = _Mixtures()


def needs_factors(mask: int) -> bool:
    """Tell whether two units of one kind meet, so that a factor may be due."""
    return MIXED[mask]


def _two_of_a_kind(mask: int) -> bool:
    one = mask & _LENGTH
    if one & (one - 1):
        return True
    one = mask & _FORCE
    if one & (one - 1):
        return True
    one = mask & _TIME
    return bool(one & (one - 1))


_units: dict[UnitInfo, Exponents] = {}


def unit_of(info: UnitInfo) -> Exponents:
    """Return the exponents of a unit; nobody changes the dict returned."""
    known = _units.get(info)
    if known is None:
        atoms = {atom.bit: power for atom, power in info.atoms if atom.bit & CONVERTIBLE}
        known = _units[info] = atoms
    return known


def leaf_unit(node: Any) -> Exponents:
    """Return the unit in which a leaf is printed."""
    op = node.op
    if op == "name":
        return unit_of(node.info)
    if op == "qty":
        return unit_of(node.data[1])
    return unit_of(node.data) if op == "unit" else {}


def kind_of(bit: int) -> int:
    """Return the bits of all atoms that can be exchanged with this one."""
    return _LENGTH if bit & _LENGTH else _FORCE if bit & _FORCE else _TIME


def size_of(bit: int) -> float:
    """Return how large an atom is, in the base."""
    return ATOM_OF[bit].factor


_singles: dict[tuple[Dimension, int], Exponents] = {}


def single_unit(dim: Dimension, mask: int) -> Exponents:
    """Return the unit of a node in which each kind has one atom, from its dimension."""
    known = _singles.get((dim, mask))
    if known is None:
        known = _singles[dim, mask] = {}
        for kind, power in zip(_KINDS, dim.exponents, strict=False):
            bit = mask & KIND_MASKS[kind]
            if power and bit:
                known[bit] = power
    return known


def numeric(exponent: Any) -> Any:
    """Return the value of an exponent; the base of another kind of exponent has no unit."""
    if exponent.op == "num" and exponent.data[1].__class__ is int:
        return exponent.data[1]
    power = exponent_value(exponent)
    return 0 if power is None else power


def tidy(power: Fraction) -> int | Fraction:
    """Return a whole exponent as an int."""
    return int(power) if power.denominator == 1 else power
