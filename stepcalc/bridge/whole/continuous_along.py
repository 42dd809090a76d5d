"""Moments and shears at the places of a continuous girder: dead load by stage, live, fatigue."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from stepcalc.bridge.constants import use
from stepcalc.bridge.continuous.line_kernels import span_inputs
from stepcalc.bridge.whole.continuous_kernels import STAGES, section_kernels
from stepcalc.bridge.whole.continuous_values import ask_together
from stepcalc.expr.functions import cases, maximum, minimum
from stepcalc.units import kip, kip_ft

if TYPE_CHECKING:
    from collections.abc import Sequence

    from stepcalc.bridge.whole.continuous_line import Line, Place
    from stepcalc.bridge.whole.continuous_sections import LineSection
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.sheet import Sheet

__all__ = ["AtPlace", "Effects", "LineLoads", "LineShares"]

_LETTERS = {"moment": ("M", kip_ft), "shear": ("V", kip)}


@dataclass(frozen=True)
class LineLoads:
    """Weights on one girder, [force / length].

    Attributes
    ----------
    DC1, steel : tuple of Operand
        DC1, and its part before the deck, on every section.
    wet, DC2, DW : Operand
        Wet deck, and the later loads.
    construction : Operand
        Construction live load of the pour.
    haunch : Operand, [length]
    """

    DC1: tuple[Operand, ...]
    steel: tuple[Operand, ...]
    wet: Operand
    DC2: Operand
    DW: Operand
    construction: Operand
    haunch: Operand


@dataclass(frozen=True)
class LineShares:
    """Lanes on the girder: positive moment by span, negative by pier, and the others."""

    positive: tuple[Operand, ...]
    negative: tuple[Operand, ...]
    shear: Operand
    fatigue_moment: Operand
    fatigue_shear: Operand
    deflection: Operand


@dataclass(frozen=True)
class AtPlace:
    """One effect at one place, unfactored unless said; live load with impact and distributed.

    Attributes
    ----------
    DC1, DC2, DW, live_max, live_min : Operand
    fatigue_max, fatigue_min : Operand
        Fatigue truck on the girder, with its impact.
    lane_fatigue : tuple of Operand
        Of one lane, without impact: largest and smallest.
    largest, smallest : Operand
        Factored, Strength I.
    """

    place: Place
    DC1: Operand
    DC2: Operand
    DW: Operand
    live_max: Operand
    live_min: Operand
    fatigue_max: Operand
    fatigue_min: Operand
    largest: Operand
    smallest: Operand
    lane_fatigue: tuple[Operand, Operand]

    def dead(self, sense: int) -> tuple[Operand, Operand, Operand]:
        """Return DC1, DC2 and DW, positive in a sense of bending."""
        if sense > 0:
            return self.DC1, self.DC2, self.DW
        return -1 * self.DC1, -1 * self.DC2, -1 * self.DW

    def live(self, sense: int) -> Operand:
        """Return the live load, positive in a sense of bending."""
        return self.live_max if sense > 0 else -1 * self.live_min


class Effects:
    """Writes the effects of one girder at the places where they are asked for.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the nodes.
    line : Line
        The girder along its spans.
    spans : sequence of Operand, [length]
    sections : sequence of LineSection
        The section of the spans first.
    loads, shares : LineLoads, LineShares
    """

    def __init__(
        self, sheet: Sheet, line: Line, spans: Sequence[Operand], sections: Sequence[LineSection],
        loads: LineLoads, shares: LineShares,
    ) -> None:  # fmt: skip
        self.sheet, self.line, self.spans = sheet, line, tuple(spans)
        self.loads, self.shares, self.sections = loads, shares, tuple(sections)
        self.kernels = section_kernels(len(spans), len(sections))
        self.inertias = {
            "s": [s.elastic.steel.inertia for s in sections],
            "l": [s.late.inertia for s in sections],
            "n": [s.short.inertia for s in sections],
        }
        self.found: dict[tuple[str, tuple[int, float]], AtPlace] = {}

    def base(self, stage: str) -> dict[str, Any]:
        """Return the inputs that describe the beam in a stage: "s", "l" or "n"."""
        inertias = {f"I_{i}": of for i, of in enumerate(self.inertias[stage], 1)}
        return span_inputs(self.spans) | inertias | {"zones": self.line.zones}

    def at(self, stage: str, place: Place, fraction: Any = None) -> dict[str, Any]:
        """Return the inputs of a kernel at a place."""
        where = place.fraction if fraction is None else fraction
        return self.base(stage) | {"place": str(place.span), "fraction": where}

    def weights(self, load: Any) -> dict[str, Any]:
        """Return the inputs that hold a load on every section, the same or one for each."""
        each = load if isinstance(load, tuple) else (load,) * len(self.sections)
        return {f"w_{i}": of for i, of in enumerate(each, 1)}

    def peak(self, span: int) -> Operand:
        """Write where the factored positive moment of a span is largest, as a fraction of it."""
        use_, sheet = use, self.sheet
        staged = {
            f"{stage}_{i}": of for stage in STAGES
            for i, of in enumerate(self.inertias[stage], 1)
        }  # fmt: skip
        inputs = span_inputs(self.spans) | staged | self.weights(self.loads.DC1) | {
            "DC2": self.loads.DC2, "DW": self.loads.DW, "g": self.shares.positive[span - 1],
            "gamma_DC": use_(sheet, "gamma_DC"), "gamma_DW": use_(sheet, "gamma_DW"),
            "gamma_LL": use_(sheet, "gamma_LL"), "impact": use_(sheet, "IM"),
            "zones": self.line.zones, "place": str(span), "load": "HL-93",
        }  # fmt: skip
        return sheet.computed(
            f"x_L{span}", self.kernels.peak, inputs, None,
            f"largest factored moment of span {span}, as a fraction of it", ref="LRFD 3.4.1",
        )  # fmt: skip

    def remember(self, places: Sequence[Place]) -> None:
        """Say where live load will be asked for, so that one run of the trucks finds all of it."""
        ask_together([place.at for place in places])

    def write(
        self, effect: str, place: Place, *, part: str | None = None, fraction: Any = None,
        proof: bool = False,
    ) -> AtPlace:  # fmt: skip
        """Write one effect at one place, in a part of its own; once only.

        Parameters
        ----------
        effect : "moment" or "shear"
        place : Place
        part : str, optional
            Title of the part; the label of the place unless given.
        fraction : Operand, optional
            A node in place of the fraction of the place.
        proof : bool
            Show what stands where for the live load that governs.
        """
        key = (effect, place.at)
        if key not in self.found or fraction is not None:
            with self.sheet.part(part or place.label):
                made = self._write(effect, place, fraction, proof)
            if fraction is not None:
                return made
            self.found[key] = made
        return self.found[key]

    def _write(self, effect: str, place: Place, fraction: Any, proof: bool) -> AtPlace:
        letter, unit = _LETTERS[effect]
        sheet, dead = self.sheet, self.kernels.dead[effect]
        rows = (("DC1", "s", self.loads.DC1), ("DC2", "l", self.loads.DC2),
                ("DW", "l", self.loads.DW))  # fmt: skip
        DC1, DC2, DW = (
            sheet.computed(
                f"{letter}_{name}", dead, self.at(stage, place, fraction) | self.weights(load),
                unit, f"{effect} of {name}", ref="statics",
            )
            for name, stage, load in rows
        )  # fmt: skip
        impact = use(sheet, "IM")
        top, bottom = (
            self._live(effect, place, fraction, "HL-93", impact, which, f"{letter}_HL{tag}", proof)
            for which, tag in (("max", "p"), ("min", "n"))
        )
        g_top, g_bottom = self._shares(effect, place, fraction)
        live_max = sheet.step(f"{letter}_LLp", g_top * top, unit, "largest, of the girder",
                              ref="LRFD 4.6.2.2")  # fmt: skip
        live_min = sheet.step(f"{letter}_LLn", g_bottom * bottom, unit, "smallest, of the girder",
                              ref="LRFD 4.6.2.2")  # fmt: skip
        share = self.shares.fatigue_moment if effect == "moment" else self.shares.fatigue_shear
        lane = [
            self._live(effect, place, fraction, "fatigue", 0.0, which, f"{letter}_f{tag}")
            for which, tag in (("max", "p"), ("min", "n"))
        ]
        fatigue = [
            sheet.step(
                f"{letter}_F{tag}", share * (1 + use(sheet, "IM_f")) * one, unit,
                f"fatigue truck on the girder, {which}imum", ref="LRFD 3.6.1.4",
            )
            for one, which, tag in zip(lane, ("max", "min"), "pn", strict=True)
        ]  # fmt: skip
        largest, smallest = self._factored(letter, unit, (DC1, DC2, DW), live_max, live_min)
        return AtPlace(
            place, DC1, DC2, DW, live_max, live_min, fatigue[0], fatigue[1], largest, smallest,
            (lane[0], lane[1]),
        )  # fmt: skip

    def _live(
        self, effect: str, place: Place, fraction: Any, load: str, impact: Any, which: str,
        name: str, proof: bool = False,
    ) -> Operand:  # fmt: skip
        words = f"{which}imum {effect} of one lane, {load}"
        return self.sheet.computed(
            name, self.kernels.live[effect],
            self.at("n", place, fraction) | {"load": load, "impact": impact, "which": which},
            _LETTERS[effect][1], words, ref="LRFD 3.6.1.3.1" if load == "HL-93" else "LRFD 3.6.1.4",
            proof="ordinates" if proof else None,
        )  # fmt: skip

    def _shares(self, effect: str, place: Place, fraction: Any) -> tuple[Operand, Operand]:
        """Return the lanes for the largest and for the smallest value."""
        if effect == "shear":
            return self.shares.shear, self.shares.shear
        own, count = self.shares.positive[place.span - 1], len(self.spans)
        right = place.fraction > 0.5
        pier = place.span - 1 if right else place.span - 2
        pier = min(max(pier, 0), count - 2)
        if 1 < place.span < count:
            pier = place.span - 1 if right else place.span - 2
        inside = self.sheet.computed(
            "z_h", self.kernels.hogs, self.at("n", place, fraction), None,
            "1 between the points of contraflexure at a pier, else 0",
            ref="LRFD Table 4.6.2.2.1-2",
        )  # fmt: skip
        near = self.sheet.step(
            "g_n",
            cases(
                (inside >= 1, self.shares.negative[pier], "between the points of contraflexure"),
                otherwise=(own, "elsewhere: the factor of the span"),
            ),
            None, "lanes for negative moment", ref="LRFD Table 4.6.2.2.1-2",
        )  # fmt: skip
        return own, near

    def _factored(
        self, letter: str, unit: Any, dead: tuple[Operand, Operand, Operand], live_max: Operand,
        live_min: Operand,
    ) -> tuple[Operand, Operand]:  # fmt: skip
        sheet, (DC1, DC2, DW) = self.sheet, dead
        DC, low = use(sheet, "gamma_DC"), use(sheet, "gamma_DCn")
        W, W_low, L = use(sheet, "gamma_DW"), use(sheet, "gamma_DWn"), use(sheet, "gamma_LL")
        D = DC1 + DC2
        largest = sheet.step(
            f"{letter}_up", maximum(DC * D, low * D) + maximum(W * DW, W_low * DW) + L * live_max,
            unit, "largest factored, Strength I", ref="LRFD Table 3.4.1-1",
        )  # fmt: skip
        smallest = sheet.step(
            f"{letter}_un", minimum(DC * D, low * D) + minimum(W * DW, W_low * DW) + L * live_min,
            unit, "smallest factored, Strength I", ref="LRFD Table 3.4.1-1",
        )  # fmt: skip
        return largest, smallest
