"""Strength I of every unbraced length of a simple span whose top flange only the braces hold."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stepcalc.bridge.composite.gradient import moment_gradient
from stepcalc.bridge.constants import use
from stepcalc.bridge.whole.continuous_flexure import ratio_table
from stepcalc.bridge.whole.continuous_quiet import Tabulated, check_all
from stepcalc.bridge.whole.flexure import greatest_moments, moments_at, steel_flexure
from stepcalc.bridge.whole.section_effects import HL93_MOMENT_AT
from stepcalc.expr.functions import maximum, minimum
from stepcalc.units import ft, kip_ft, ksi

if TYPE_CHECKING:
    from collections.abc import Sequence

    from stepcalc.bridge.composite.assembled import BucklingFlexure
    from stepcalc.bridge.composite.elastic import ElasticSections
    from stepcalc.bridge.composite.geometry import Geometry
    from stepcalc.bridge.givens import BridgeNodes
    from stepcalc.bridge.whole.composite_section import GirderSection
    from stepcalc.bridge.whole.demands import Demands
    from stepcalc.bridge.whole.flexure import StageLoads
    from stepcalc.bridge.whole.outer_sections import OuterSection
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.sheet import Sheet

__all__ = ["UnbracedLengths"]

_SAME = 1e-6
_NEAR_MIDSPAN = 0.1
"""Within this share of the span of midspan the greatest moment of the span is taken."""


@dataclass(frozen=True)
class _Stretch:
    """A section over a stretch of the girder, in ft as first given, its end nearest midspan."""

    number: int
    geometry: Geometry
    elastic: ElasticSections
    start: float
    end: float
    inner: Operand | None


@dataclass(frozen=True)
class _Length:
    """The space between two braces, as first given in ft."""

    number: int
    start: float
    end: float


class UnbracedLengths:
    """The unbraced lengths of the top flange in the finished bridge.

    Parameters
    ----------
    bridge, whole, demands
        Of the girder; the sections are steel alone.
    outer : tuple of OuterSection
        Lighter sections nearer to the bearing.
    """

    def __init__(
        self, bridge: BridgeNodes, whole: GirderSection, outer: tuple[OuterSection, ...],
        demands: Demands,
    ) -> None:  # fmt: skip
        self.bridge = bridge
        self.demands = demands
        self.span = float(bridge.span.value.to(ft).magnitude)  # type: ignore[attr-defined]  # given
        spacing = float(bridge.brace_spacing.value.to(ft).magnitude)  # type: ignore[attr-defined]
        self.stretches = self._stretches(whole, outer)
        self.lengths: list[_Length] = []
        start = 0.0
        while start < self.span - _SAME:
            end = min(start + spacing, self.span)
            self.lengths.append(_Length(len(self.lengths) + 1, start, end))
            start = end

    def _stretches(self, whole: GirderSection, outer: tuple[OuterSection, ...]) -> list[_Stretch]:
        found, before = [], 0.0
        for number, item in enumerate(outer, 1):
            far = self.bridge.span - item.at
            found.append(_Stretch(number, item.geometry, item.elastic, before, item.feet, item.at))
            found.append(_Stretch(number, item.geometry, item.elastic, self.span - item.feet,
                                  self.span - before, far))  # fmt: skip
            before = item.feet
        found.append(_Stretch(len(outer) + 1, whole.geometry, whole.elastic, before,
                              self.span - before, None))  # fmt: skip
        return sorted(found, key=lambda stretch: stretch.start)

    def at_midspan(self, sheet: Sheet) -> Operand:
        """Write ``C_b`` of the unbraced length at midspan.

        Parameters
        ----------
        sheet : Sheet
            The sheet that receives the steps.

        Returns
        -------
        Operand

        Source
        ------
        AASHTO LRFD, 8th ed. (2017), Art. 6.10.8.2.3; from memory.
        """
        length = next(item for item in self.lengths if item.end >= self.span / 2 - _SAME)
        sheet.note(f"Unbraced length {length.number}, counted from the bearing, holds midspan.")
        return self._gradient(sheet, length)[1]

    def every_length(self, sheet: Sheet, *, along: Operand | None) -> None:
        """Check every unbraced length at its greatest moment, with its own ``L_b`` and ``C_b``.

        A length with a change of flanges has the least resistance of its sections against the
        greatest of its stresses, ``C_b`` 1.0.

        Parameters
        ----------
        sheet : Sheet
            The sheet that receives steps, table and checks, within a part with tables only.
        along : Operand, [length], or None
            ``d_s`` of a longitudinal stiffener.

        Source
        ------
        AASHTO LRFD, 8th ed. (2017), Art. 6.10.8.2.3, 6.10.8.1; from memory.
        """
        quiet, lead = Tabulated(sheet), {}
        for length in self.lengths:
            with sheet.part(f"Length {length.number}"):
                L_b, C_b = self._gradient(sheet, length)
                inside = self._inside(length)
                made = []
                for stretch in inside:
                    where = f"length {length.number}"
                    if len(inside) > 1:
                        where += f", section {stretch.number} from {stretch.start:.4g} ft"
                    with sheet.part(f"Section {stretch.number} from {stretch.start:.4g} ft"):
                        found = steel_flexure(
                            quiet.as_sheet, self.bridge, stretch.geometry, stretch.elastic,
                            self._moments(sheet, length, stretch), location=where, along=along,
                            gradient=C_b, unbraced=L_b,
                        )  # fmt: skip
                    made.append(found)
                    lead[where] = [
                        str(length.number), f"{length.start:.5g} to {length.end:.5g}",
                        str(stretch.number), L_b, C_b, found.stresses.top, found.strength.F_nc,
                    ]  # fmt: skip
                if len(made) > 1:
                    self._over_change(sheet, quiet, made, where)
        ratio_table(
            sheet, quiet.ratios, lead,
            ["Length", "From, to, ft", "Sec.", "Lb", "Cb", "fbu", "Fnc"],
            "Unbraced lengths of the top flange, Strength I, at the greatest moment of each; "
            "sections counted from the bearing, stress by Article 6.10.8",
        )  # fmt: skip
        check_all(sheet, quiet.ratios, where="all unbraced lengths")

    def _over_change(
        self, sheet: Sheet, quiet: Tabulated, made: Sequence[BucklingFlexure], where: str
    ) -> None:
        f = sheet.step("f_bm", maximum(*(found.stresses.top for found in made)), ksi,
                       "greatest stress of the compressed flange in this length",
                       ref="LRFD 6.10.8.1.1")  # fmt: skip
        F = sheet.step("F_ncm", minimum(*(found.strength.F_nc for found in made)), ksi,
                       "least resistance of its sections", ref="LRFD 6.10.8.2.3")  # fmt: skip
        quiet.check("Flange over a change of section, Strength I", f <= use(sheet, "phi_f") * F,
                    ref="LRFD 6.10.8.1.1-1", location=where)  # fmt: skip

    def _inside(self, length: _Length) -> list[_Stretch]:
        return [
            item for item in self.stretches
            if item.start < length.end - _SAME and item.end > length.start + _SAME
        ]  # fmt: skip

    def _gradient(self, sheet: Sheet, length: _Length) -> tuple[Operand, Operand]:
        """Write L_b, and C_b by the Strength I envelope of the top flange."""
        bridge, L = self.bridge, self.bridge.span
        first = minimum((length.number - 1) * bridge.brace_spacing, L)
        a = sheet.step("x_a", first, ft, "brace point, from the bearing", ref="framing plan")
        b = sheet.step("x_b", minimum(length.number * bridge.brace_spacing, L), ft,
                       "next brace point", ref="framing plan")  # fmt: skip
        L_b = sheet.step("l_b", b - a, ft, "unbraced length", ref="framing plan")
        middle = (length.start + length.end) / 2
        stresses = [
            self._stress(sheet, key, x, feet)
            for key, x, feet in (
                ("a", 1 * a, length.start), ("m", (a + b) / 2, middle), ("b", 1 * b, length.end),
            )
        ]  # fmt: skip
        gradient = moment_gradient(
            sheet, first=stresses[0], middle=stresses[1], second=stresses[2]
        ).modifier
        if len(self._inside(length)) > 1:
            gradient = sheet.step("C_bt", 1.0, None, "the flange changes within this length",
                                  ref="LRFD 6.10.8.2.3")  # fmt: skip
        return L_b, gradient

    def _stress(self, sheet: Sheet, key: str, x: Operand, feet: float) -> Operand:
        L, loads = self.bridge.span, self.demands.loads
        M_HL = sheet.computed(
            f"M_HL{key}", HL93_MOMENT_AT,
            {"span": L, "fraction": x / L, "factor": 1 + use(sheet, "IM"),
             "uniform": use(sheet, "w_lane")},
            kip_ft, "HL-93 moment of one lane here", ref="LRFD 3.6.1.3.1",
        )  # fmt: skip
        w_u = use(sheet, "gamma_DC") * (loads.DC1 + loads.DC2) + use(sheet, "gamma_DW") * loads.DW
        M = sheet.step(
            f"M_u{key}",
            x * (L - x) / 2 * w_u + use(sheet, "gamma_LL") * self.demands.shares.moment * M_HL,
            kip_ft, "factored moment here, Strength I", ref="LRFD Table 3.4.1-1",
        )  # fmt: skip
        here = next(item for item in self.stretches if feet <= item.end + _SAME)
        return sheet.step(f"f_{key}", M / here.elastic.steel.S_top, ksi,
                          "top flange here, compression", ref="M/S")  # fmt: skip

    def _moments(self, sheet: Sheet, length: _Length, stretch: _Stretch) -> StageLoads:
        """Return the moments where they are greatest within a length and a section."""
        start, end = max(length.start, stretch.start), min(length.end, stretch.end)
        half, near = self.span / 2, _NEAR_MIDSPAN * self.span
        if start < half + near and end > half - near:
            return greatest_moments(self.demands)
        L, spacing = self.bridge.span, self.bridge.brace_spacing
        before = end < half
        brace = length.number if before else length.number - 1
        at: Operand = minimum(brace * spacing, L)
        if stretch.inner is not None and (
            stretch.end < length.end - _SAME if before else stretch.start > length.start + _SAME
        ):
            at = 1 * stretch.inner
        x = sheet.step("x_s", at, ft, "where its moment is greatest", ref="framing plan")
        return moments_at(sheet, self.bridge, self.demands, x)
