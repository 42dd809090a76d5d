"""The cases of HL-93 side by side, and the region in which pairs of vehicles count."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from stepcalc.bridge.constants import use
from stepcalc.bridge.continuous.display_units import US, display_units
from stepcalc.bridge.continuous.kernels import span_kernels
from stepcalc.bridge.continuous.span_peaks import peak_kernels

if TYPE_CHECKING:
    from stepcalc.bridge.continuous.display_units import DisplayUnits
    from stepcalc.bridge.continuous.results import ContinuousEffects, SectionEffects
    from stepcalc.sheet.sheet import Sheet

__all__ = ["live_case_table"]

_SINGLE = (("truck + lane", "tr"), ("tandem + lane", "ta"))
_PAIRS = (("two trucks + lane", "2tr"), ("two tandems + lane", "2ta"))
_NOT = "-"


def live_case_table(
    sheet: Sheet,
    effects: ContinuousEffects,
    *,
    tandems: bool = False,
    units: str | DisplayUnits = US,
) -> None:
    r"""Write the region of the pairs, and every case of HL-93 at the sections that govern.

    .. math:: 0.9\,[(1 + IM)\,M_{two\ trucks} + M_{lane}]

    Pairs count for negative moment between the points of contraflexure under a uniform load on all
    spans, and for reactions of interior supports.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    effects : ContinuousEffects
        Of `continuous_effects` on the same sheet.
    tandems : bool
        Whether the pair of tandems of the commentary is an own case; whether it counts is the
        owner's to say, with the live load of `continuous_effects`.
    units : {"US", "SI"}

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 3.6.1.3.1 and C3.6.1.3.1; from memory.
    """
    writer = _Cases(sheet, effects, display_units(units))
    writer.region()
    writer.table(tandems=tandems)


def key_of(words: str) -> str:
    """Return the part of a name that tells sections apart, such as ``pier2``."""
    return words.replace(" ", "")


class _Cases:
    """Writes the cases of one girder."""

    def __init__(self, sheet: Sheet, effects: ContinuousEffects, units: DisplayUnits) -> None:
        self.sheet, self.effects, self.units = sheet, effects, units
        self.count = len([name for name in effects.inputs if name.startswith("span_")])
        self.impact = use(sheet, "IM")

    def region(self) -> None:
        """Write the points of contraflexure beside every interior support."""
        rows = []
        for support in range(2, self.count + 1):
            ends = [
                self.sheet.computed(
                    f"x_{side[0]}{support}", peak_kernels(self.count).contraflexure,
                    dict(self.effects.inputs) | {"place": str(support), "side": side},
                    self.units.length, f"contraflexure {side} of support {support}",
                    ref="LRFD 3.6.1.3.1", symbol=f"x_{side[0]}",
                )
                for side in ("left", "right")
            ]  # fmt: skip
            rows.append([f"{support}", *ends])
        if rows:
            caption = (
                "Points of contraflexure under a uniform load on all spans, from the left end: "
                "between them two vehicles in one lane count for negative moment"
            )
            self.sheet.table(["support", "from x", "to x"], rows, caption, instead=True)

    def table(self, *, tandems: bool) -> None:
        """Write every case at every section."""
        pairs = _PAIRS if tandems else _PAIRS[:1]
        rows: list[list[Any]] = []
        for each in self.effects.positive:
            rows.append(self._row(each, "moment", "max", each.lane_max, pairs=()))
        for each in self.effects.negative:
            rows.append(self._row(each, "moment", "min", each.lane_min, pairs=pairs))
        missing = [_NOT] * len(pairs)
        rows = [row if len(row) > 4 else [*row[:-1], *missing, row[-1]] for row in rows]
        header = ["one lane", "truck", "tandem", "2 trucks", *(["2 tandems"] * tandems), "used"]
        caption = (
            "Cases of HL-93 for moment, each with lane load and impact, 90 % of two trucks with "
            "lane; '-' where a pair does not count"
        )
        self.sheet.table(header, rows, caption, instead=True)
        self._reactions(pairs, tandems=tandems)

    def _row(
        self, each: SectionEffects, effect: str, which: str, used: Any, *, pairs: Any
    ) -> list[Any]:
        cells = [
            self._case(effect, which, str(each.span), each.fraction, case, f"{tag}_{key}")
            for case, tag in (*_SINGLE, *pairs)
            for key in (key_of(each.words),)
        ]
        return [each.words, *cells, used]

    def _reactions(self, pairs: Any, *, tandems: bool) -> None:
        """Write the cases of interior reactions."""
        rows = []
        for support in range(1, self.count + 2):
            inner = 1 < support <= self.count
            cells: list[Any] = [
                self._case("reaction", "max", str(support), 0.0, case, f"{tag}_R{support}")
                for case, tag in (*_SINGLE, *(pairs if inner else ()))
            ]
            cells += [_NOT] * (0 if inner else len(pairs))
            rows.append([f"support {support}", *cells])
        header = ["one lane", "truck", "tandem", "2 trucks", *(["2 tandems"] * tandems)]
        caption = "Cases of HL-93 for reactions, each with lane load; 90 % of two trucks with lane"
        self.sheet.table(header, rows, caption, instead=True)

    def _case(self, effect: str, which: str, place: str, fraction: Any, case: str, tag: str) -> Any:
        inputs = dict(self.effects.inputs) | {
            "place": place, "fraction": fraction, "load": f"HL-93: {case}",
            "impact": self.impact, "which": which,
        }  # fmt: skip
        letter = "R" if effect == "reaction" else "M"
        return self.sheet.computed(
            f"{letter}_{tag}", span_kernels(self.count).live[effect], inputs,
            self.units.effect(effect), case, ref="LRFD 3.6.1.3.1", symbol=letter,
        )  # fmt: skip
