"""The writer of the force effects of one girder: envelopes, then the sections that govern."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from stepcalc.bridge.constants import use
from stepcalc.bridge.continuous.beside import beside_kernels
from stepcalc.bridge.continuous.envelopes import girder_kernels
from stepcalc.bridge.continuous.girder_reactions import write_reactions
from stepcalc.bridge.continuous.kernels import span_kernels
from stepcalc.bridge.continuous.line_kernels import span_inputs
from stepcalc.bridge.continuous.loads import HL93
from stepcalc.bridge.continuous.results import ContinuousEffects, SectionEffects
from stepcalc.bridge.continuous.separate_maxima import separate_maximum
from stepcalc.bridge.continuous.stage_kernels import stage_kernels
from stepcalc.bridge.continuous.stages import girder_inputs_of, state_stages

if TYPE_CHECKING:
    from stepcalc.bridge.continuous.display_units import DisplayUnits
    from stepcalc.bridge.continuous.results import GirderShares
    from stepcalc.bridge.continuous.stages import DeadStage, Settlement
    from stepcalc.bridge.limit_states import LoadFactors
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.sheet import Sheet

__all__ = ["EffectsWriter", "Options"]

_NAMED = (
    "maximum of the sum, at one section",
    "sum of separate maxima, each where it is largest",
)
"""What the sheet calls the two ways in which axles and lane load give the positive moment."""
_OTHER = {"moment": "shear", "shear": "moment"}
_SIGNS = (("max", "p"), ("min", "n"))


@dataclass(frozen=True)
class Options:
    """What is written, and how; see `continuous_effects`."""

    layout: str
    load: str
    proof: str
    separate: bool
    beside: bool
    units: DisplayUnits
    stiffness: str = ""
    form: str = "ordinates"


@dataclass(frozen=True)
class _Place:
    """A section whose effects are written: its tag in names, its words, and what is proved."""

    tag: str
    words: str
    effect: str
    span: int
    fraction: Any
    shares: tuple[Any, Any]
    shown: tuple[str, ...]


class EffectsWriter:
    """Writes the steps of one girder."""

    def __init__(
        self,
        sheet: Sheet,
        spans: tuple[Operand, ...],
        stages: Mapping[str, DeadStage],
        settlement: Settlement | None,
        shares: GirderShares,
        factors: LoadFactors | None,
        options: Options,
    ) -> None:
        self.sheet, self.spans, self.stages, self.shares = sheet, spans, dict(stages), shares
        self.settlement, self.options, self.units = settlement, options, options.units
        self.where = span_inputs(spans)
        self.base = self.where | {"layout": options.layout}
        self.impact = use(sheet, "IM")
        self.kernels = span_kernels(len(spans))
        self.staged = stage_kernels(len(spans))
        self.girder = girder_kernels(len(spans))
        lengths = tuple(_feet(span) for span in spans)
        given = girder_inputs_of(lengths, stages, settlement, options.layout)
        numbers: dict[str, Any] = given | {"impact": self.impact, "load": options.load}
        for i, g in enumerate(shares.positive, 1):
            numbers[f"g_positive_{i}"] = g
        for i, g in enumerate(shares.negative, 1):
            numbers[f"g_negative_{i}"] = g
        numbers["g_shear"] = shares.shear
        self.given = given
        self.numbers = self.base | numbers | _strength_one(sheet, factors)

    def write(self, ends: tuple[tuple[int, int], ...]) -> ContinuousEffects:
        """Write everything; `ends` are the spans and ends at which shear is written."""
        sheet, options = self.sheet, self.options
        with sheet.part("Moment and shear along the girder"):
            if options.proof != "none":
                state_stages(
                    sheet,
                    self.stages,
                    self.settlement,
                    layout=options.layout,
                    live=options.load,
                    stiffness=options.stiffness,
                )
            extremes = self.extremes()
        with sheet.part("Moments at the sections that govern"):
            if options.load.startswith(HL93):
                chosen, other = _NAMED[::-1] if options.separate else _NAMED
                sheet.note(f"Axles with lane load are the {chosen}, not the {other}.")
            positive = tuple(self.positive(span) for span in range(1, len(self.spans) + 1))
            negative = tuple(self.negative(pier) for pier in range(1, len(self.spans)))
            self._table((*positive, *negative), "moment")
        with sheet.part("Shears at the ends of the spans"):
            shear = tuple(self.shear(span, end) for span, end in ends)
            self._table(shear, "shear")
        with sheet.part("Reactions of the girder, unfactored"):
            reactions = write_reactions(self)
        return ContinuousEffects(positive, negative, shear, reactions, extremes, self.base)

    def proof_name(self, name: str) -> str:
        """Return the name of a proof in the units of the sheet."""
        return name if self.units.name == "US" else f"{name}, {self.units.name}"

    def extremes(self) -> dict[str, Operand]:
        """Write the four extremes; the first of moment and of shear shows tables and diagrams."""
        found: dict[str, Operand] = {}
        for letter, effect in (("M", "moment"), ("V", "shear")):
            for which, word in (("max", "largest"), ("min", "smallest")):
                shown = which == "max" and self.options.proof != "none"
                found[f"{letter}_{which}"] = self.sheet.computed(
                    f"{letter}_{which}",
                    getattr(self.girder, effect),
                    self.numbers | {"which": which},
                    self.units.effect(effect),
                    f"{word} factored {effect} along the girder, Strength I",
                    ref="LRFD 3.4.1-1",
                    proof=self.proof_name("tenth points") if shown else None,
                )
        return found

    def positive(self, span: int) -> SectionEffects:
        """Write the moments where the positive moment of a span is largest."""
        g = self.shares.positive[span - 1]
        if self.options.separate:
            return self._separate(span, g)
        fraction = self.sheet.computed(
            f"x_L_s{span}", self.girder.section, self.numbers | {"place": str(span)},
            None, f"section of span {span}, as a fraction of it", ref="largest factored moment",
            symbol="x_L",
        )  # fmt: skip
        place = _Place(f"s{span}", f"span {span}", "moment", span, fraction, (g, g), ("max",))
        return self._section(place)

    def _separate(self, span: int, g: Any) -> SectionEffects:
        """Write the positive moment of a span as the sum of separate maxima."""
        fraction, lane = separate_maximum(
            self.sheet, self.base, span, load=self.options.load, impact=self.impact,
            units=self.units, proof=self.options.proof != "none",
        )  # fmt: skip
        place = _Place(f"s{span}", f"span {span}", "moment", span, fraction, (g, g), ())
        return self._section(place, lane_max=lane)

    def negative(self, pier: int) -> SectionEffects:
        """Write the moments over an interior support."""
        shares = (self.shares.positive[pier - 1], self.shares.negative[pier - 1])
        place = _Place(f"p{pier + 1}", f"pier {pier + 1}", "moment", pier, 1.0, shares, ("min",))
        return self._section(place)

    def shear(self, span: int, end: int) -> SectionEffects:
        """Write the shears at one end of a span."""
        g = self.shares.shear
        side = "right" if end else "left"
        shown = ("max",) if span == 1 and not end else ()
        place = _Place(
            f"{span}{side[0]}", f"span {span} {side}", "shear", span, float(end), (g, g), shown
        )
        return self._section(place)

    def _section(self, place: _Place, lane_max: Any = None) -> SectionEffects:
        at = {"place": str(place.span), "fraction": place.fraction}
        letter = "M" if place.effect == "moment" else "V"
        dead = {name: self._stage(letter, place, name, at) for name in self.stages}
        settled = self._settled(letter, place, at)
        lanes, live = [], []
        for (which, tag), g in zip(_SIGNS, place.shares, strict=True):
            lane = lane_max if which == "max" and lane_max is not None else None
            if lane is None:
                lane = self._lane(letter, place, at, which, tag)
            lanes.append(lane)
            live.append(
                self.sheet.step(
                    f"{letter}_LL{tag}_{place.tag}", g * lane, self.units.effect(place.effect),
                    f"of the girder, {place.words}", ref="LRFD 4.6.2.2",
                    symbol=f"{letter}_LL{tag}",
                )
            )  # fmt: skip
        besides = [
            self._beside(place, at, which, tag) if self.options.beside else (None, None)
            for which, tag in _SIGNS
        ]
        return SectionEffects(
            place.span, place.fraction, dead["DC1"], dead["DC2"], dead["DW"],
            lanes[0], lanes[1], live[0], live[1], place.words, settled,
            besides[0][1], besides[1][1], besides[0][0], besides[1][0],
        )  # fmt: skip

    def _stage(self, letter: str, place: _Place, name: str, at: dict[str, Any]) -> Any:
        """Write the effect of one stage of dead load."""
        texts = {"layout": self.given[f"layout_{name}"], "loads": self.given[f"loads_{name}"]}
        return self.sheet.computed(
            f"{letter}_{name}_{place.tag}",
            self.staged.loads[place.effect],
            self.where | at | texts | {"load": self.stages[name].load},
            self.units.effect(place.effect),
            f"{place.effect} by {name}, {place.words}",
            ref="statics",
            proof=self.proof_name("ordinates") if self.options.proof == "all" else None,
            symbol=f"{letter}_{name}",
        )

    def _settled(self, letter: str, place: _Place, at: dict[str, Any]) -> Any:
        """Write the effect of settlement, or return None where there is none."""
        if self.settlement is None:
            return None
        texts = {"layout": self.given["layout_SE"], "settlements": self.given["settlements"]}
        return self.sheet.computed(
            f"{letter}_SE_{place.tag}",
            self.staged.settlement[place.effect],
            self.where | at | texts | {"rigidity": self.given["rigidity"]},
            self.units.effect(place.effect),
            f"{place.effect} by settlement, {place.words}",
            ref="statics",
            proof=self.proof_name("statics") if self.options.proof == "all" else None,
            symbol=f"{letter}_SE",
        )

    def _lane(self, letter: str, place: _Place, at: dict[str, Any], which: str, tag: str) -> Any:
        """Write the extreme effect of one lane; its proof where it governs."""
        prove = self.options.proof == "all" or (
            self.options.proof == "governing" and which in place.shown
        )
        kind = "largest" if which == "max" else "smallest"
        return self.sheet.computed(
            f"{letter}_HL{tag}_{place.tag}",
            self.kernels.live[place.effect],
            self.base | at | self._moving(which),
            self.units.effect(place.effect),
            f"{kind} {place.effect} by {self.options.load[:40]}, one lane, with impact, "
            f"{place.words}",
            ref="LRFD 3.6.1.3.1",
            proof=self.proof_name(self.options.form) if prove else None,
            symbol=f"{letter}_HL{tag}",
        )

    def _moving(self, which: str) -> dict[str, Any]:
        return {"load": self.options.load, "impact": self.impact, "which": which}

    def _beside(self, place: _Place, at: dict[str, Any], which: str, tag: str) -> tuple[Any, Any]:
        """Write the other effect under the same loads, of one lane and of the girder."""
        other = _OTHER[place.effect]
        letter, unit = ("M" if other == "moment" else "V"), self.units.effect(other)
        lane = self.sheet.computed(
            f"{letter}_with{tag}_{place.tag}", beside_kernels(len(self.spans))[other],
            self.base | at | self._moving(which), unit,
            f"{other} of one lane with it, {place.words}", ref="same loads",
            proof=self.proof_name("ordinates") if self.options.proof == "all" else None,
            symbol=f"{letter}_HLw",
        )  # fmt: skip
        g = self.shares.shear if other == "shear" else self._moment_share(place)
        girder = self.sheet.step(
            f"{letter}_LLwith{tag}_{place.tag}", g * lane, unit, f"{other} of the girder with it",
            ref="LRFD 4.6.2.2", symbol=f"{letter}_LLw",
        )  # fmt: skip
        return lane, girder

    def _moment_share(self, place: _Place) -> Any:
        """Return the lanes for the moment beside a shear: of the pier there, else of the span."""
        pier = place.span - 2 if place.fraction == 0.0 else place.span - 1
        if 0 <= pier < len(self.shares.negative):
            return self.shares.negative[pier]
        return self.shares.positive[place.span - 1]

    def _table(self, sections: tuple[SectionEffects, ...], effect: str) -> None:
        """Write the table that stands for the lines of these sections."""
        settled = self.settlement is not None
        at = effect == "moment"
        header = ["", *(["x/L"] * at), "DC1", "DC2", "DW", *(["SE"] * settled),
                  "lane +", "lane -", "LL +", "LL -"]  # fmt: skip
        rows = [
            [
                each.words,
                *([each.fraction if hasattr(each.fraction, "sheet") else ""] * at),
                each.DC1, each.DC2, each.DW, *([each.SE] * settled),
                each.lane_max, each.lane_min, each.live_max, each.live_min,
            ]
            for each in sections
        ]  # fmt: skip
        places = ", where positive moment of a span is largest, and over the piers" if at else ""
        caption = (
            f"Unfactored {effect}s of the girder{places}; lane: one lane with impact; LL: lanes g "
            "of the effect times one lane"
        )
        self.sheet.table(header, rows, caption, instead=True)
        if self.options.beside:
            self._beside_table(sections, effect)

    def _beside_table(self, sections: tuple[SectionEffects, ...], effect: str) -> None:
        other = _OTHER[effect]
        rows = [
            [each.words, each.live_max, each.lane_beside_max, each.beside_max,
             each.live_min, each.lane_beside_min, each.beside_min]
            for each in sections
        ]  # fmt: skip
        letters = {"moment": "M", "shear": "V"}
        own, with_it = letters[effect], letters[other]
        header = ["", f"largest {own}", f"{with_it}, lane", f"{with_it}, girder",
                  f"least {own}", f"{with_it}, lane", f"{with_it}, girder"]  # fmt: skip
        caption = (
            f"Live load with impact: the {other} {letters[other]} that acts with each extreme "
            f"{effect} {letters[effect]} of the girder, under the same axles and lane load"
        )
        if effect == "moment":
            caption += "; where an axle stands on the section, the larger side"
        self.sheet.table(header, rows, caption, instead=True)


def _feet(span: Any) -> float:
    """Return the present length of a span, in ft."""
    return float(span.base / 12.0)


def _strength_one(sheet: Sheet, factors: LoadFactors | None) -> dict[str, Any]:
    """Return the factors of Strength I as inputs."""
    names = ("gamma_DC", "gamma_DCn", "gamma_DW", "gamma_DWn", "gamma_SE", "gamma_LL", "eta")
    if factors is None:
        return {name: use(sheet, name) for name in names} | {"eta_i": use(sheet, "eta")}
    return {
        "gamma_DC": factors.DC,
        "gamma_DCn": factors.DC_least,
        "gamma_DW": factors.DW,
        "gamma_DWn": factors.DW_least,
        "gamma_SE": use(sheet, "gamma_SE"),
        "gamma_LL": factors.live["Strength I"],
        "eta": factors.modifier,
        "eta_i": factors.modifier_least,
    }
