"""Live load of the Standard Specifications on a continuous girder: truck or lane, and impact."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from stepcalc.bridge.constants import use
from stepcalc.bridge.continuous.display_units import US, display_units
from stepcalc.bridge.continuous.kernels import span_kernels
from stepcalc.bridge.continuous.layout import PRISMATIC
from stepcalc.bridge.continuous.line_kernels import span_inputs
from stepcalc.bridge.continuous.span_peaks import peak_kernels
from stepcalc.expr.functions import minimum

if TYPE_CHECKING:
    from stepcalc.bridge.continuous.display_units import DisplayUnits
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.sheet import Sheet

__all__ = ["StandardEffect", "standard_effects"]

_HS20 = "HS20 truck or lane"
_SYMBOLS = {"moment": "M", "shear": "V", "reaction": "R"}


@dataclass(frozen=True)
class StandardEffect:
    """One effect of the Standard Specifications' live load.

    Attributes
    ----------
    words : str
        Which, and where.
    length : Operand, [length]
        Loaded length for impact.
    impact : Operand
        ``I``.
    lane : Operand
        Of one lane, without impact.
    girder : Operand
        Of the girder, with impact.
    section : Operand or str
        Fraction of the span, where it is found by a search.
    """

    words: str
    length: Operand
    impact: Operand
    lane: Operand
    girder: Operand
    section: Operand | str = ""


@dataclass(frozen=True)
class _Place:
    words: str
    effect: str
    which: str
    place: int
    fraction: Any
    length: Any
    shown: bool


def standard_effects(
    sheet: Sheet,
    spans: Sequence[Operand],
    *,
    wheel_lines: Operand,
    layout: str = PRISMATIC,
    load: str = _HS20,
    proof: str = "governing",
    units: str | DisplayUnits = US,
) -> tuple[StandardEffect, ...]:
    r"""Write moments, shears and reactions of the Standard Specifications' live load.

    .. math:: I = \frac{50}{L + 125} \le 0.30, \qquad M_{L+I} = \frac{WL}{2} (1 + I)\, M_{lane}

    Truck or lane load governs, never both; the lane load has one riding force, and for negative
    moment a second one in another span; impact is on either. The loaded length is the span for
    positive moment, the average of both spans over a pier, and the loaded part of the span for
    shear.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    spans : sequence of Operand, [length]
        From left to right.
    wheel_lines : Operand
        Wheel lines on the girder; half of them are lanes.
    layout : str
        EI, ends and hinges: see `continuous.layout`.
    load : str
        Such as ``"HS20 truck or lane"`` or ``"HS15 truck or lane"``: see `continuous.loads`.
    proof : {"governing", "none"}
        Whether the first negative moment, of one span its moment, shows loads and ordinates.
    units : {"US", "SI"}

    Returns
    -------
    tuple of StandardEffect
        Positive moments by span, negative moments and reactions by support, shears by end.

    Source
    ------
    AASHTO Standard Specifications, 17th ed. (2002), Art. 3.7, 3.8.2, 3.11, 3.23; from memory. That
    reactions over piers take the average of both spans is common practice, no source.
    """
    shown = display_units(units)
    writer = _Standard(sheet, tuple(spans), wheel_lines, layout, load, shown)
    places = writer.places(prove=proof != "none")
    found = tuple(writer.one(number, place) for number, place in enumerate(places, 1))
    for effect in _SYMBOLS:
        picked = [each for each, place in zip(found, places, strict=True) if place.effect == effect]
        at = ["x/L"] * (effect == "moment")
        header = ["", *at, "loaded length L", "I", "one lane, without I", "girder, with I"]
        rows = [
            [
                each.words,
                *([each.section] * len(at)),
                each.length,
                each.impact,
                each.lane,
                each.girder,
            ]
            for each in picked
        ]
        caption = (
            f"{effect.capitalize()}s by {load}; I = 50/(L + 125) with L in ft, 0.30 at most; "
            "girder = half the wheel lines times (1 + I) times one lane"
        )
        sheet.table(header, rows, caption, instead=True)
    return found


@dataclass(frozen=True)
class _Standard:
    """Writes the effects of one girder."""

    sheet: Sheet
    spans: tuple[Operand, ...]
    wheel_lines: Operand
    layout: str
    load: str
    units: DisplayUnits

    def places(self, *, prove: bool) -> list[_Place]:
        """Return what is written, with the formula of each loaded length."""
        spans, count = self.spans, len(self.spans)
        single = count == 1
        averages = [(spans[i - 1] + spans[i]) / 2 for i in range(1, count)]
        found = [
            _Place(f"span {i}", "moment", "max", i, self._peak(i), 1 * L, prove and single)
            for i, L in enumerate(spans, 1)
        ]
        found += [
            _Place(f"pier {i + 1}", "moment", "min", i, 1.0, L, prove and i == 1)
            for i, L in enumerate(averages, 1)
        ]
        for i, L in enumerate(spans, 1):
            for end, which in ((0.0, "max"), (1.0, "min")):
                side = "right" if end else "left"
                words = f"span {i} {side}"
                found.append(_Place(words, "shear", which, i, end, 1 * L, shown=False))
        ends = [1 * spans[0], *averages, 1 * spans[-1]]
        found += [
            _Place(f"support {i}", "reaction", "max", i, 0.0, L, shown=False)
            for i, L in enumerate(ends, 1)
        ]
        return found

    def _peak(self, span: int) -> Any:
        """Write where in a span the moment is largest."""
        inputs = span_inputs(self.spans) | {
            "layout": self.layout, "load": self.load, "impact": 0.0, "place": str(span)
        }  # fmt: skip
        return self.sheet.computed(
            f"x_HS_s{span}", peak_kernels(len(self.spans)).section, inputs, None,
            f"section of span {span}, as a fraction of it", ref="largest moment", symbol="x_HS",
        )  # fmt: skip

    def one(self, number: int, place: _Place) -> StandardEffect:
        """Write one effect."""
        sheet, unit = self.sheet, self.units.effect(place.effect)
        symbol = _SYMBOLS[place.effect]
        length = sheet.step(
            f"L_I_{number}", place.length, self.units.length, f"loaded length, {place.words}",
            ref="Std 3.8.2.2", symbol="L_I",
        )  # fmt: skip
        a, b, most = (use(sheet, name) for name in ("a_I", "b_I", "I_max"))
        impact = sheet.step(
            f"I_{number}", minimum(a / (length + b), most), None, f"impact, {place.words}",
            ref="Std 3.8.2.1", symbol="I",
        )  # fmt: skip
        inputs = span_inputs(self.spans) | {
            "layout": self.layout, "place": str(place.place), "fraction": place.fraction,
            "load": self.load, "impact": 0.0, "which": place.which,
        }  # fmt: skip
        name = "ordinates" if self.units.name == "US" else f"ordinates, {self.units.name}"
        lane = sheet.computed(
            f"{symbol}_HS_{number}", span_kernels(len(self.spans)).live[place.effect], inputs, unit,
            f"{place.effect} by {self.load}, one lane, without impact, {place.words}",
            ref="Std 3.7, 3.11", proof=name if place.shown else None, symbol=f"{symbol}_HS",
        )  # fmt: skip
        girder = sheet.step(
            f"{symbol}_LI_{number}", self.wheel_lines / 2 * (1 + impact) * lane, unit,
            f"of the girder with impact, {place.words}", ref="Std 3.23", symbol=f"{symbol}_LI",
        )  # fmt: skip
        section = place.fraction if hasattr(place.fraction, "sheet") else ""
        return StandardEffect(place.words, length, impact, lane, girder, section)
