"""What the project needs to know of a unit: factor to the base, dimension, atoms, spelling.

The base is kip, inch, second, kelvin.  A unit is split into *atoms* (``ksi`` is kip per inch
squared) so that a printed substitution can show the factors a person would write, (12 in / 1 ft).
Everything is cached by the unit's container, whose hash pint caches too.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from stepcalc.errors import UnitError
from stepcalc.units.dimension import DIMENSIONLESS, Dimension, dimension
from stepcalc.units.registry import Q_, Unit, registry

__all__ = [
    "ATOMS", "KIND_MASKS", "ONE", "Atom", "UnitInfo", "own_quantity", "read_unit", "unit_info",
]  # fmt: skip


@dataclass(frozen=True, slots=True)
class Atom:
    """An indivisible unit of display: ``kind`` says with which others it can be exchanged."""

    name: str
    text: str
    kind: str
    factor: float
    bit: int


def _atoms() -> dict[str, Atom]:
    rows = [
        ("inch", "in", "length"), ("foot", "ft", "length"), ("yard", "yd", "length"),
        ("mile", "mi", "length"), ("millimetre", "mm", "length"), ("centimetre", "cm", "length"),
        ("metre", "m", "length"),
        ("kip", "kip", "force"), ("pound_force", "lb", "force"), ("ton_force", "ton", "force"),
        ("newton", "N", "force"), ("kilonewton", "kN", "force"), ("meganewton", "MN", "force"),
        ("second", "s", "time"), ("minute", "min", "time"), ("hour", "h", "time"),
        ("day", "day", "time"), ("year", "yr", "time"),
        ("degree", "°", "angle"), ("radian", "rad", "angle"), ("percent", "%", "ratio"),
    ]  # fmt: skip
    atoms = {}
    for place, (name, text, kind) in enumerate(rows):
        factor = _exact_factor(name)
        atoms[name] = Atom(name, text, kind, factor, 1 << place)
    return atoms


def _exact_factor(name: str) -> float:
    return float(Q_(1, name).to_root_units().magnitude)


ATOMS: dict[str, Atom] = _atoms()
KIND_MASKS: dict[str, int] = {}
for _atom in ATOMS.values():
    KIND_MASKS[_atom.kind] = KIND_MASKS.get(_atom.kind, 0) | _atom.bit

_SPLIT: dict[str, tuple[tuple[str, int], ...]] = {
    "kip_per_square_inch": (("kip", 1), ("inch", -2)),
    "pound_per_square_inch": (("pound_force", 1), ("inch", -2)),
    "kip_per_square_foot": (("kip", 1), ("foot", -2)),
    "pound_per_square_foot": (("pound_force", 1), ("foot", -2)),
    "pound_per_cubic_foot": (("pound_force", 1), ("foot", -3)),
    "kip_per_cubic_foot": (("kip", 1), ("foot", -3)),
    "pound_per_foot": (("pound_force", 1), ("foot", -1)),
    "kip_per_foot": (("kip", 1), ("foot", -1)),
    "megapascal": (("newton", 1), ("millimetre", -2)),
    "kilopascal": (("kilonewton", 1), ("metre", -2)),
    "pascal": (("newton", 1), ("metre", -2)),
    "mile_per_hour": (("mile", 1), ("hour", -1)),
}  # fmt: skip
_SPELLING = {
    "kip_per_square_inch": "ksi", "pound_per_square_inch": "psi", "kip_per_square_foot": "ksf",
    "pound_per_square_foot": "psf", "pound_per_cubic_foot": "pcf", "kip_per_cubic_foot": "kcf",
    "pound_per_foot": "plf", "kip_per_foot": "klf", "megapascal": "MPa", "kilopascal": "kPa",
    "pascal": "Pa", "mile_per_hour": "mph", "pound_mass": "lbm", "kilogram": "kg",
    "kelvin": "K", "vehicle": "veh", "cycle": "cycles",
}  # fmt: skip
_ORDER = {"force": 0, "length": 1, "time": 2}


#: No quantity of a calculation has more; larger ones overflow the factor.
_LARGEST_POWER = 24


class UnitInfo:
    """Facts of one unit.

    Attributes
    ----------
    unit : pint Unit of the project's registry
    text : str
        Spelling on a sheet: ``kip·ft``, ``kip/ft^2``, ``ksi``, ``in^4``; empty for a plain number.
    name : str
        Spelling in files, which reads back as the same unit: ``kip*foot``, ``inch**4``.
    factor : float
        Size of one such unit in the base (kip, inch, second, kelvin).
    dim : Dimension
    atoms : tuple of (Atom, exponent)
    mask : int
        Bits of the atoms of length and force, for the quick test "is a conversion factor due?".
    """

    __slots__ = ("atoms", "dim", "factor", "mask", "name", "text", "unit")

    def __init__(self, unit: Any) -> None:
        self.unit = unit
        if any(abs(power) > _LARGEST_POWER for power in unit._units.values()):
            raise UnitError(
                f"unit with a power of more than {_LARGEST_POWER}; want one such as 'in^4'"
            )
        one = Q_(1, unit)
        if not one._is_multiplicative:
            raise UnitError(
                f"{unit} is a temperature on a scale with its own zero, which cannot be "
                "multiplied; use kelvin, or a difference such as Q_(30, 'delta_degF')"
            )
        root = one.to_root_units()
        self.factor = _factor(unit, float(root.magnitude))
        self.dim = _dimension(root.dimensionality)
        self.atoms = _split(unit)
        self.text = _spell(unit)
        self.name = "*".join(
            name if power == 1 else f"{name}**{power}" for name, power in unit._units.items()
        )
        mask = 0
        for atom, _ in self.atoms:
            mask |= atom.bit
        self.mask = mask

    def __reduce__(self) -> tuple[Any, ...]:
        return read_unit, (self.name,)

    def __repr__(self) -> str:
        return f"<unit {self.text or 'plain number'}>"


def _factor(unit: Any, fallback: float) -> float:
    # multiply exact decimals (12, 1/1000) in one fixed order, so that equal units get equal factors
    above, below = 1.0, 1.0
    for atom, power in sorted(_split(unit), key=lambda item: item[0].name):
        if not isinstance(power, int) or atom.bit == 0:
            return fallback
        size = _size(atom)
        for _ in range(abs(power)):
            above, below = (
                (above * size[0], below * size[1])
                if power > 0
                else (above * size[1], below * size[0])
            )
    return above / below


def _size(atom: Atom) -> tuple[float, float]:
    """Return the atom's size as a quotient of two short decimals."""
    exact = {"pound_force": (1.0, 1000.0), "millimetre": (1.0, 25.4), "centimetre": (1.0, 2.54),
             "metre": (1.0, 0.0254), "newton": (1.0, 4448.2216152605),
             "kilonewton": (1.0, 4.4482216152605), "meganewton": (1000.0, 4.4482216152605),
             "percent": (1.0, 100.0)}  # fmt: skip
    return exact.get(atom.name, (atom.factor, 1.0))


def _dimension(dimensionality: Any) -> Dimension:
    powers: dict[str, int | Fraction] = {}
    for name, power in dimensionality.items():
        powers[name] = int(power) if power == int(power) else Fraction(power).limit_denominator(60)
    axes = ("[length]", "[force]", "[time]", "[temperature]")
    if set(powers) - set(axes):
        raise UnitError(f"unit with dimension {dimensionality} is not one of length, force, time")
    return dimension(tuple(powers.get(axis, 0) for axis in axes))


def _power(power: Any) -> int | Fraction:
    return int(power) if power == int(power) else Fraction(power).limit_denominator(60)


def _split(unit: Any) -> tuple[tuple[Atom, int | Fraction], ...]:
    powers: dict[Atom, int | Fraction] = {}
    for name, power in unit._units.items():
        for part, exponent in _SPLIT.get(name, ((name, 1),)):
            atom = ATOMS.get(part) or Atom(part, _word(part), part, _exact_factor(part), 0)
            powers[atom] = powers.get(atom, 0) + exponent * _power(power)
    return tuple((atom, power) for atom, power in powers.items() if power)


def _word(name: str) -> str:
    if name in ATOMS:
        return ATOMS[name].text
    return _SPELLING.get(name) or format(registry.Unit(name), "~")


def _spell(unit: Any) -> str:
    items = [(name, _power(power)) for name, power in unit._units.items()]

    def place(item: tuple[str, int | Fraction]) -> tuple[int, str]:
        atom = ATOMS.get(item[0])
        return (_ORDER.get(atom.kind, 3) if atom else 0, item[0])

    items.sort(key=place)
    above = "·".join(_raised(name, power) for name, power in items if power > 0)
    below = [_raised(name, -power) for name, power in items if power < 0]
    return (above or ("1" if below else "")) + "".join("/" + part for part in below)


def _raised(name: str, power: int | Fraction) -> str:
    text = _word(name)
    if power == 1:
        return text
    return f"{text}^{power}" if isinstance(power, int) else f"{text}^({power})"


_known: dict[Any, UnitInfo] = {}


def unit_info(unit: Any) -> UnitInfo:
    """Return the facts of a pint unit of this registry (cached)."""
    container = unit._units
    found = _known.get(container)
    if found is None:
        found = _known[container] = UnitInfo(registry.Unit(container))
    return found


ONE: UnitInfo = unit_info(Unit(""))


def read_unit(unit: Any) -> UnitInfo:
    """Return the facts of whatever a person may give as a unit.

    Parameters
    ----------
    unit : None, str, pint Unit, or a pint Quantity such as ``inch**4`` written as ``1*inch**4``

    Raises
    ------
    UnitError
        If the text names no unit, or the quantity is not one of its unit.
    """
    if unit is None:
        return ONE
    container = getattr(unit, "_units", None)
    if container is not None:
        found = _known.get(container)
        if found is not None and found.unit._REGISTRY is unit._REGISTRY:
            magnitude = getattr(unit, "_magnitude", 1)
            if magnitude == 1:
                return found
    if isinstance(unit, str):
        return _from_text(unit)
    if container is None:
        raise UnitError(f"{unit!r} is not a unit; give one such as ft, kip or 'kip/ft'")
    if getattr(unit, "_magnitude", 1) != 1:
        raise UnitError(f"{unit} is a quantity, not a unit; give the unit alone, such as ft")
    if unit._REGISTRY is not registry:
        return _from_text(str(unit.units if hasattr(unit, "_magnitude") else unit))
    return unit_info(unit if not hasattr(unit, "_magnitude") else unit.units)


def own_quantity(value: Any) -> Any:
    """Return a pint quantity or unit of any registry as one of ours, rebuilt by its unit's name.

    Raises
    ------
    UnitError
        If the unit has no counterpart here, or is a temperature on a scale with its own zero.
    """
    if value._REGISTRY is registry:
        return value
    if not hasattr(value, "_magnitude"):
        return read_unit(value).unit
    return Q_(value.magnitude, read_unit(value.units).unit)


_from_texts: dict[str, UnitInfo] = {}

_WORD = r"[A-Za-zµ_]\w*"
_POWER = r"(?: *\*\* *(?:-?\d{1,2}(?:\.\d{1,20})?|\( *-?\d{1,2} */ *\d{1,2} *\)))?"
_ITEM = rf"(?:1|{_WORD}{_POWER}|\( *{_WORD}{_POWER}(?: *[*/ ] *{_WORD}{_POWER})* *\){_POWER})"
_UNIT_TEXT = re.compile(rf"(?:{_ITEM}(?:(?: *[*/] *| +){_ITEM})*)?")


def _from_text(text: str) -> UnitInfo:
    found = _from_texts.get(text)
    if found is None:
        if len(text) > 120:
            raise UnitError(f"unit text of {len(text)} characters; want one such as 'kip/ft'")
        spelled = text.replace("·", "*").replace("^", "**").replace("°", "degree").strip()
        spelled = spelled.replace("%", "percent")
        try:
            if not _UNIT_TEXT.fullmatch(spelled):
                raise ValueError  # powers of powers would keep pint's reader busy for ever
            found = unit_info(registry.parse_units(spelled or "dimensionless"))
        except UnitError:
            raise
        except Exception as error:
            known = "ft, inch, kip, lb, ksi, psf, pcf, klf, kip*ft, m, kN, MPa"
            raise UnitError(f"no unit is called {text!r}; units are such as {known}") from error
        _from_texts[text] = found
    return found


assert ONE.dim is DIMENSIONLESS
