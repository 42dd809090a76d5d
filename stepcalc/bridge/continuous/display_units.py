"""The units in which a sheet of a continuous girder shows lengths, forces and moments."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from stepcalc.errors import RangeError
from stepcalc.units import Q_, ft, kip, kip_ft, klf, kN, m
from stepcalc.units.numbers import shown_text

__all__ = ["SI", "US", "DisplayUnits", "display_units"]


@dataclass(frozen=True)
class DisplayUnits:
    """What a sheet shows; the calculation is the same.

    Attributes
    ----------
    name : str
    length, force, moment, line : Unit
        Of lengths, forces, moments, and forces per length.
    length_text, force_text, moment_text, line_text : str
        As heads of tables and axes spell them.
    feet, kips : float
        One foot and one kip in these units.
    """

    name: str
    length: Any
    force: Any
    moment: Any
    line: Any
    length_text: str
    force_text: str
    moment_text: str
    line_text: str
    feet: float
    kips: float

    def effect(self, effect: str) -> Any:
        """Return the unit of moment, shear, reaction, or of a deflection times EI."""
        special = {"moment": self.moment, "deflection": self.force * self.length**3}
        return special.get(effect, self.force)

    def effect_text(self, effect: str) -> str:
        """Return how the unit of an effect is spelled."""
        cubed = f"{self.force_text}-{self.length_text}^3"
        return {"moment": self.moment_text, "deflection": cubed}.get(effect, self.force_text)

    def effect_factor(self, effect: str) -> float:
        """Return kip-ft, kip or kip-ft^3 in these units."""
        powers = {"moment": 1, "deflection": 3}
        return self.kips * self.feet ** powers.get(effect, 0)

    def in_length(self, feet: float) -> Any:
        """Return a length given in ft as a quantity of these units."""
        return feet * self.feet * self.length

    def in_force(self, kips: float) -> Any:
        """Return a force given in kip as a quantity of these units."""
        return kips * self.kips * self.force

    def in_line(self, klf: float) -> Any:
        """Return a force per length given in kip/ft as a quantity of these units."""
        return klf * self.kips / self.feet * self.line

    def feet_words(self, x: float) -> str:
        """Return a length given in ft, with its unit."""
        return f"{shown_text(x * self.feet)} {self.length_text}"

    def kips_words(self, force: float) -> str:
        """Return a force given in kip, with its unit."""
        return f"{shown_text(force * self.kips)} {self.force_text}"


US = DisplayUnits("US", ft, kip, kip_ft, klf, "ft", "kip", "kip-ft", "kip/ft", 1.0, 1.0)
SI = DisplayUnits(
    "SI", m, kN, kN * m, kN / m, "m", "kN", "kN-m", "kN/m",
    float(Q_(1, ft).to(m).magnitude), float(Q_(1, kip).to(kN).magnitude),
)  # fmt: skip


def display_units(name: str | DisplayUnits) -> DisplayUnits:
    """Return the units of this name.

    Parameters
    ----------
    name : {"US", "SI"} or DisplayUnits

    Returns
    -------
    DisplayUnits

    Raises
    ------
    RangeError
        If the name is another.
    """
    if isinstance(name, DisplayUnits):
        return name
    found = {"US": US, "SI": SI}.get(str(name))
    if found is None:
        raise RangeError(f"the units of the sheet are {name!r}; give 'US' or 'SI'")
    return found
