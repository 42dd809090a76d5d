"""A plate girder's web and a bridge's traffic on a sheet, for the tests of details."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from stepcalc.bridge.details.editions import edition_rules
from stepcalc.bridge.details.fatigue_loads import Traffic, cycles_per_truck, traffic
from stepcalc.bridge.details.shear_panels import PanelWeb
from stepcalc.sheet.sheet import Sheet
from stepcalc.units import Q_, inch, ksi

if TYPE_CHECKING:
    from stepcalc.bridge.details.editions import EditionRules


@dataclass(frozen=True)
class Bench:
    """A sheet and short ways to put givens on it and to read it."""

    sheet: Sheet

    def put(self, name: str, value: float, unit: str = "") -> Any:
        """Write a given."""
        return self.sheet.given(name, Q_(value, unit) if unit else value)

    def read(self, name: str, unit: str = "") -> float:
        """Return the value of a node as a bare number."""
        value: Any = self.sheet[name].value
        return float(Q_(value).to(unit or "").magnitude)

    def check(self, name: str) -> Any:
        """Return a check by its name."""
        return next(check for check in self.sheet.checks if check.name == name)

    def web(self, depth: float = 44.0, thickness: float = 0.5, strength: float = 50.0) -> PanelWeb:
        """Write a web; by default the 44 x 1/2 in web of the negative section benchmark."""
        return PanelWeb(
            self.sheet.given("D", depth * inch),
            self.sheet.given("t_w", thickness * inch),
            self.sheet.given("F_yw", strength * ksi),
        )

    def rules(self, edition: str = "8th") -> EditionRules:
        """Return the rules of an edition."""
        return edition_rules(self.sheet, edition)

    def traffic(self, trucks: float = 1275.0, edition: str = "8th", span: float = 62.0) -> Traffic:
        """Write trucks a day in one lane on a simple span, ft."""
        rules = self.rules(edition)
        length = self.put("L_n", span, "ft")
        cycles = cycles_per_truck(self.sheet, rules, "simple span", span=length)
        return traffic(self.sheet, trucks=self.put("ADTT_SL", trucks), cycles=cycles)


def bench() -> Bench:
    """Return an empty sheet."""
    return Bench(Sheet("details"))
