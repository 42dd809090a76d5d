"""An influence line on a proof: its ordinates and areas as nodes, and its figure."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

from stepcalc.bridge.continuous.display_units import US
from stepcalc.bridge.continuous.layout import beam_of
from stepcalc.bridge.continuous.line_kernels import line_kernels, span_inputs
from stepcalc.bridge.continuous.values import line_at
from stepcalc.sheet.formula_cell import symbol_cell
from stepcalc.sheet.sheet import Sheet
from stepcalc.units import ft
from stepcalc.units.numbers import shown_text

if TYPE_CHECKING:
    from stepcalc.analysis.piecewise import PiecewisePolynomial
    from stepcalc.bridge.continuous.display_units import DisplayUnits

__all__ = ["LineBody", "place_words"]

_SYMBOLS = {"moment": "M", "shear": "V", "reaction": "R", "deflection": "K"}
_POINTS = 181


def place_words(
    effect: str, spans: tuple[float, ...], place: int, fraction: float, units: DisplayUnits = US
) -> str:
    """Return where an effect is, in words of the trade: span and fraction, or the support."""
    if effect == "reaction":
        return f"at support {place}"
    if fraction < 1e-9 or fraction > 1 - 1e-9:
        number = place + (fraction > 0.5)
        if effect == "shear":
            return f"at support {number}, on the side of span {place}"
        return f"at support {number}"
    away = units.feet_words(fraction * spans[place - 1])
    return f"in span {place} at {shown_text(fraction)} L, {away} from its left end"


class LineBody:
    """One influence line, with nodes for its ordinates and areas."""

    def __init__(
        self,
        title: str,
        effect: Any,
        spans: tuple[float, ...],
        texts: dict[str, Any],
        units: DisplayUnits = US,
    ) -> None:
        self.sheet = Sheet(title)
        self.effect, self.spans, self.units = effect, spans, units
        self.layout, self.place = texts["layout"], int(texts["place"])
        self.fraction = float(texts["fraction"])
        self.line = line_at(effect, spans, self.layout, self.place, self.fraction)
        self.unit = units.effect(effect)
        self.symbol = _SYMBOLS[effect]
        self.inputs = span_inputs([span * ft for span in spans]) | {
            "layout": self.layout, "place": str(self.place), "fraction": self.fraction
        }  # fmt: skip
        self.kernels = line_kernels(len(spans))
        self._power = {"moment": 1, "deflection": 3}.get(effect, 0)

    @property
    def where(self) -> str:
        """Where the effect is, in words."""
        return place_words(self.effect, self.spans, self.place, self.fraction, self.units)

    def ordinate(self, name: str, position: float, side: int, what: str) -> Any:
        """Write the ordinate at a position."""
        inputs = self.inputs | {"position": position * ft, "side": side}
        unit = self.units.length**self._power if self._power else None
        kernel = self.kernels.ordinate[self.effect]
        return self.sheet.computed(name, kernel, inputs, unit, what, ref="influence line")

    def area(self, name: str, start: float, end: float) -> Any:
        """Write the area of a stretch."""
        inputs = self.inputs | {"start": start * ft, "end": end * ft}
        what = f"area from {self.units.feet_words(start)} to {self.units.feet_words(end)}"
        kernel = self.kernels.area[self.effect]
        unit = self.units.length ** (self._power + 1)
        return self.sheet.computed(name, kernel, inputs, unit, what, ref="influence line")

    def areas_table(self, stretches: list[tuple[float, float]], caption: str) -> list[Any]:
        """Write the areas of some stretches as one table, from the left end; return them."""
        areas = [self.area(f"A_{i}", *ends) for i, ends in enumerate(stretches, 1)]
        words = self.units.feet_words
        rows = [
            [symbol_cell(f"A_{i}"), f"{words(start)} to {words(end)}", area]
            for i, ((start, end), area) in enumerate(zip(stretches, areas, strict=True), 1)
        ]
        self.sheet.table(["", "stretch, from the left end", "area"], rows, caption, instead=True)
        return areas

    def figure(self, loads: list[dict[str, Any]], caption: str) -> None:
        """Draw the line with what stands on it; positions in ft."""
        units = self.units
        x, y = _drawn(self.line, beam_of(self.spans, self.layout).supports)
        scale = units.feet**self._power
        text = {1: units.length_text, 3: f"{units.length_text}^3, times EI"}.get(self._power, "")
        data = {
            "kind": "influence",
            "x": [at * units.feet for at in x],
            "y": [value * scale for value in y],
            "loads": [
                {**load, "x": load["x"] * units.feet, "y": load["y"] * scale} for load in loads
            ],
            "x_label": f"distance from the left end, {units.length_text}",
            "y_label": f"ordinate, {text}" if text else "ordinate",
        }
        self.sheet.figure(data, caption)


def _drawn(
    line: PiecewisePolynomial, supports: tuple[float, ...]
) -> tuple[list[float], list[float]]:
    """Return points of the line, both sides of every break, so that a jump is drawn upright."""
    ends = float(line.breaks[0]), float(line.breaks[-1])
    breaks = np.unique(np.r_[line.breaks, supports])
    inner = np.linspace(*ends, _POINTS)
    inner = inner[np.min(np.abs(inner[:, None] - breaks), axis=1) > 1e-9 * ends[1]]
    x = np.r_[inner, breaks, breaks]
    y = np.r_[line(inner), line(breaks, side="left"), line(breaks, side="right")]
    order = np.argsort(x, kind="stable")
    return x[order].tolist(), y[order].tolist()
