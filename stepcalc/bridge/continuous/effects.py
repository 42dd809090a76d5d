"""Force effects of one girder over any spans: tables, diagrams, governing sections, reactions."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from stepcalc.bridge.constants import use
from stepcalc.bridge.continuous.envelopes import girder_kernels
from stepcalc.bridge.continuous.kernels import span_kernels
from stepcalc.bridge.continuous.layout import PRISMATIC
from stepcalc.bridge.continuous.line_kernels import span_inputs
from stepcalc.bridge.continuous.loads import HL93
from stepcalc.errors import RangeError
from stepcalc.units import kip, kip_ft

if TYPE_CHECKING:
    from stepcalc.bridge.limit_states import LoadFactors
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.sheet import Sheet

__all__ = [
    "ContinuousEffects",
    "GirderReaction",
    "GirderShares",
    "SectionEffects",
    "continuous_effects",
]


@dataclass(frozen=True)
class GirderShares:
    """Lanes on the girder, by effect.

    Attributes
    ----------
    positive : sequence of Operand
        For positive moment, one for each span.
    negative : sequence of Operand
        For negative moment, one for each interior support.
    shear : Operand
        For shear and reactions.
    """

    positive: Sequence[Operand]
    negative: Sequence[Operand]
    shear: Operand


@dataclass(frozen=True)
class SectionEffects:
    """Moments or shears of the girder at one section.

    Attributes
    ----------
    span, fraction : int, Operand
        Where: the span, counted from 1, and the fraction of it.
    DC1, DC2, DW : Operand
        Unfactored.
    lane_max, lane_min, live_max, live_min : Operand
        Live load with impact, of one lane and of the girder.
    """

    span: int
    fraction: Operand | float
    DC1: Operand
    DC2: Operand
    DW: Operand
    lane_max: Operand
    lane_min: Operand
    live_max: Operand
    live_min: Operand


@dataclass(frozen=True)
class GirderReaction:
    """Unfactored reactions of the girder at one support, [force].

    Attributes
    ----------
    DC1, DC2, DW : Operand
    live, live_impact : Operand
        ``R_LL`` without and ``R_LLIM`` with dynamic load allowance.
    uplift : Operand
        Smallest live-load reaction with impact; zero or negative.
    """

    DC1: Operand
    DC2: Operand
    DW: Operand
    live: Operand
    live_impact: Operand
    uplift: Operand


@dataclass(frozen=True)
class ContinuousEffects:
    """Everything `continuous_effects` writes.

    Attributes
    ----------
    positive : tuple of SectionEffects
        Moments where the factored positive moment of each span is largest.
    negative : tuple of SectionEffects
        Moments over each interior support.
    shear : tuple of SectionEffects
        Shears at the ends of spans.
    reactions : tuple of GirderReaction
        By support.
    extremes : dict of str to Operand
        ``M_max``, ``M_min``, ``V_max``, ``V_min``: factored, along the whole girder.
    """

    positive: tuple[SectionEffects, ...]
    negative: tuple[SectionEffects, ...]
    shear: tuple[SectionEffects, ...]
    reactions: tuple[GirderReaction, ...]
    extremes: dict[str, Operand]


def continuous_effects(
    sheet: Sheet,
    spans: Sequence[Operand],
    *,
    DC1: Operand,
    DC2: Operand,
    DW: Operand,
    shares: GirderShares,
    layout: str = PRISMATIC,
    load: str = HL93,
    factors: LoadFactors | None = None,
    proof: str = "governing",
    shears: Sequence[tuple[int, int]] | None = None,
) -> ContinuousEffects:
    r"""Write moments, shears and reactions of one girder under dead and live load.

    .. math:: M_{LL} = g\,M_{HL}, \qquad
        M_u = \eta\,[\gamma_{DC}(M_{DC1} + M_{DC2}) + \gamma_{DW} M_{DW} + \gamma_{LL} M_{LL}]

    Each dead load takes its largest or its smallest factor on the whole girder, whichever is
    worse for the sign that is sought.  Negative live-load moment between the points of
    contraflexure beside a pier takes that pier's lanes, elsewhere the span's.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the parts.
    spans : sequence of Operand, [length]
        The spans from left to right, 1 to 20.
    DC1, DC2, DW : Operand, [force / length]
        Dead loads of the girder, uniform over all spans.
    shares : GirderShares
        Lanes on the girder.
    layout : str
        EI, ends and hinges: see `continuous.layout`.
    load : str
        The live load: see `continuous.loads`.
    factors : LoadFactors, optional
        Of `limit_states.load_factors`; those of the code for Strength I unless given.
    proof : {"all", "governing", "none"}
        Which live-load values show axles, ordinates and areas: all of them, those of positive
        moment in each span, negative moment over each pier and the first shear, or none.
    shears : sequence of (int, int), optional
        Which shears are written: span, and its end 0 or 1; both ends of each span unless given.

    Returns
    -------
    ContinuousEffects

    Raises
    ------
    RangeError
        If the numbers of shares and of spans do not fit, `proof` is another word, or a shear is
        asked for at an end that does not exist.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 3.4.1, 3.6.1.2, 3.6.1.3.1, 3.6.2.1, 4.6.2.2.1; from memory.
    """
    if len(shares.positive) != len(spans) or len(shares.negative) != len(spans) - 1:
        msg = (
            f"{len(shares.positive)} lanes for positive and {len(shares.negative)} for negative "
            f"moment do not fit {len(spans)} spans; give one for each span and one for each "
            "interior support"
        )
        raise RangeError(msg)
    if proof not in ("all", "governing", "none"):
        raise RangeError(f"the proof is {proof!r}; give 'all', 'governing' or 'none'")
    ends = [(i, end) for i in range(1, len(spans) + 1) for end in (0, 1)]
    if shears is not None:
        wrong = [place for place in shears if tuple(place) not in ends]
        if wrong:
            raise RangeError(f"there is no shear {wrong[0]!r}; give a span and its end, 0 or 1")
        ends = list(shears)
    writer = _Writer(
        sheet, tuple(spans), {"DC1": DC1, "DC2": DC2, "DW": DW}, shares, layout, load, factors,
        proof,
    )  # fmt: skip
    with sheet.part("Moment and shear along the girder"):
        extremes = writer.extremes()
    positive = tuple(writer.positive(span) for span in range(1, len(spans) + 1))
    negative = tuple(writer.negative(pier) for pier in range(1, len(spans)))
    shear = tuple(writer.shear(span, end) for span, end in ends)
    with sheet.part("Reactions of the girder, unfactored"):
        reactions = writer.reactions()
    return ContinuousEffects(positive, negative, shear, reactions, extremes)


class _Writer:
    """Writes the steps of one girder."""

    def __init__(
        self,
        sheet: Sheet,
        spans: tuple[Operand, ...],
        dead: dict[str, Operand],
        shares: GirderShares,
        layout: str,
        load: str,
        factors: LoadFactors | None,
        proof: str,
    ) -> None:
        self.sheet, self.spans, self.dead, self.shares = sheet, spans, dead, shares
        self.base = span_inputs(spans) | {"layout": layout}
        self.load, self.proof = load, proof
        self.impact = use(sheet, "IM")
        self.kernels = span_kernels(len(spans))
        self.girder = girder_kernels(len(spans))
        numbers: dict[str, Any] = dict(dead) | {"impact": self.impact, "load": load}
        for i, g in enumerate(shares.positive, 1):
            numbers[f"g_positive_{i}"] = g
        for i, g in enumerate(shares.negative, 1):
            numbers[f"g_negative_{i}"] = g
        numbers["g_shear"] = shares.shear
        self.numbers = self.base | numbers | _strength_one(sheet, factors)

    def extremes(self) -> dict[str, Operand]:
        """Write the four extremes; the first of moment and of shear shows tables and diagrams."""
        found: dict[str, Operand] = {}
        for letter, effect, unit in (("M", "moment", kip_ft), ("V", "shear", kip)):
            for which, word in (("max", "largest"), ("min", "smallest")):
                found[f"{letter}_{which}"] = self.sheet.computed(
                    f"{letter}_{which}",
                    getattr(self.girder, effect),
                    self.numbers | {"which": which},
                    unit,
                    f"{word} factored {effect} along the girder, Strength I",
                    ref="LRFD 3.4.1-1",
                    proof="tenth points" if which == "max" and self.proof != "none" else None,
                )
        return found

    def positive(self, span: int) -> SectionEffects:
        """Write the moments where the positive moment of a span is largest."""
        with self.sheet.part(f"Span {span}: positive moment"):
            fraction = self.sheet.computed(
                "x_L", self.girder.section, self.numbers | {"place": str(span)},
                None, f"section, as a fraction of span {span}", ref="largest factored moment",
            )  # fmt: skip
            g = self.shares.positive[span - 1]
            return self._section("M", "moment", kip_ft, span, fraction, (g, g), shown=("max",))

    def negative(self, pier: int) -> SectionEffects:
        """Write the moments over an interior support."""
        with self.sheet.part(f"Support {pier + 1}: negative moment"):
            g = self.shares.negative[pier - 1]
            of_span = self.shares.positive[pier - 1]
            return self._section("M", "moment", kip_ft, pier, 1.0, (of_span, g), shown=("min",))

    def shear(self, span: int, end: int) -> SectionEffects:
        """Write the shears at one end of a span."""
        with self.sheet.part(f"Span {span}: shear at its {'right' if end else 'left'} end"):
            g = self.shares.shear
            first = span == 1 and not end
            shown = ("max",) if first else ()
            return self._section("V", "shear", kip, span, float(end), (g, g), shown=shown)

    def _section(
        self,
        letter: str,
        effect: str,
        unit: Any,
        span: int,
        fraction: Any,
        shares: tuple[Any, Any],
        *,
        shown: Sequence[str],
    ) -> SectionEffects:
        place = self.base | {"place": str(span), "fraction": fraction}
        dead = {
            name: self.sheet.computed(
                f"{letter}_{name}", self.kernels.dead[effect], place | {"load": w}, unit,
                f"{effect} by {name}", ref="statics",
                proof="ordinates" if self.proof == "all" else None,
            )
            for name, w in self.dead.items()
        }  # fmt: skip
        lanes, live = [], []
        for which, tag, g in (("max", "p", shares[0]), ("min", "n", shares[1])):
            moving = place | {"load": self.load, "impact": self.impact, "which": which}
            prove = self.proof == "all" or (self.proof == "governing" and which in shown)
            lane = self.sheet.computed(
                f"{letter}_HL{tag}", self.kernels.live[effect], moving, unit,
                f"{'largest' if which == 'max' else 'smallest'} {effect} by {self.load[:40]}, one "
                "lane, with impact",
                ref="LRFD 3.6.1.3.1", proof="ordinates" if prove else None,
            )  # fmt: skip
            lanes.append(lane)
            live.append(
                self.sheet.step(
                    f"{letter}_LL{tag}", g * lane, unit, "of the girder", ref="LRFD 4.6.2.2"
                )
            )
        return SectionEffects(span, fraction, dead["DC1"], dead["DC2"], dead["DW"], *lanes, *live)

    def reactions(self) -> tuple[GirderReaction, ...]:
        """Write the reactions of every support and their table."""
        sheet, found, rows = self.sheet, [], []
        for number in range(1, len(self.spans) + 2):
            place = self.base | {"place": str(number), "fraction": 0.0}
            values: list[Any] = [
                sheet.computed(
                    f"R_{name}_{number}", self.kernels.dead["reaction"], place | {"load": w}, kip,
                    f"{name}, support {number}", ref="statics",
                )
                for name, w in self.dead.items()
            ]  # fmt: skip
            for tag, impact, which, words in (
                ("LL", 0.0, "max", "live load without impact"),
                ("LLIM", self.impact, "max", "live load with impact"),
                ("up", self.impact, "min", "uplift by live load with impact"),
            ):
                lane = sheet.computed(
                    f"R_{tag}1_{number}",
                    self.kernels.live["reaction"],
                    place | {"load": self.load, "impact": impact, "which": which},
                    kip,
                    f"one lane, {words}, support {number}",
                    ref="LRFD 3.6.1.3.1",
                    proof="ordinates" if self.proof == "all" else None,
                )
                values.append(
                    sheet.step(
                        f"R_{tag}_{number}", self.shares.shear * lane, kip,
                        f"of the girder, {words}", ref="LRFD 4.6.2.2.3",
                    )
                )  # fmt: skip
            found.append(GirderReaction(*values))
            rows.append([f"{number}", *values, self.shares.shear])
        header = ["support", "DC1", "DC2", "DW", "LL", "LL+IM", "uplift LL+IM", "g"]
        sheet.table(header, rows, "Reactions of one girder, unfactored, kip; g is that of shear")
        return tuple(found)


def _strength_one(sheet: Sheet, factors: LoadFactors | None) -> dict[str, Any]:
    """Return the factors of Strength I as inputs."""
    if factors is None:
        names = ("gamma_DC", "gamma_DCn", "gamma_DW", "gamma_DWn", "gamma_LL", "eta")
        return {name: use(sheet, name) for name in names} | {"eta_i": use(sheet, "eta")}
    return {
        "gamma_DC": factors.DC,
        "gamma_DCn": factors.DC_least,
        "gamma_DW": factors.DW,
        "gamma_DWn": factors.DW_least,
        "gamma_LL": factors.live["Strength I"],
        "eta": factors.modifier,
        "eta_i": factors.modifier_least,
    }
