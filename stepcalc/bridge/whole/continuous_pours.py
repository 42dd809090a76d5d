"""The deck pour on a continuous girder: parts of the deck in their order, on steel still bare."""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import accumulate
from typing import TYPE_CHECKING, Any

from stepcalc.bridge.composite.flange_buckling import flange_buckling
from stepcalc.bridge.composite.lateral_bending import second_order_lateral
from stepcalc.bridge.composite.sides import flange_sides
from stepcalc.bridge.composite.stages import compressed_web_by_axis
from stepcalc.bridge.composite.web import bend_buckling, hybrid_factor, web_in_flexure
from stepcalc.bridge.constants import use
from stepcalc.bridge.continuous.line_kernels import span_inputs
from stepcalc.bridge.details.pour_stages import (
    PourFlanges,
    PourMoments,
    deck_tension_in_pour,
    pour_checks,
    pour_moments,
)
from stepcalc.bridge.span_tables import PourTable
from stepcalc.bridge.whole.continuous_kernels import section_kernels
from stepcalc.bridge.whole.continuous_line import feet_of
from stepcalc.bridge.whole.continuous_values import zones_of
from stepcalc.bridge.whole.pour import brackets_on_girder
from stepcalc.errors import RangeError
from stepcalc.expr.functions import maximum, minimum
from stepcalc.expr.tree import as_operand
from stepcalc.units import ft, kip_ft, ksi

if TYPE_CHECKING:
    from collections.abc import Sequence

    from stepcalc.bridge.givens import BridgeNodes
    from stepcalc.bridge.whole.continuous_along import Effects
    from stepcalc.bridge.whole.continuous_line import Line, Place
    from stepcalc.bridge.whole.continuous_sections import LineSection
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.sheet import Sheet

__all__ = ["PourAtPlace", "Pours", "pour_flanges", "pour_order"]

_NEAR = 1e-6


@dataclass(frozen=True)
class PourAtPlace:
    """The pour at one place.

    Attributes
    ----------
    moments : PourMoments
        On the bare steel.
    tension : Operand or None, [stress]
        Deck tension by later pours, where the deck has hardened before them.
    """

    place: Place
    moments: PourMoments
    tension: Operand | None


def pour_order(line: Line, pours: Sequence[PourTable]) -> tuple[PourTable, ...]:
    """Return the parts of the deck in their order; the whole deck where none are stated.

    Raises
    ------
    RangeError
        If the parts leave a stretch of the deck open, overlap, or go beyond it.
    """
    whole = sum(feet_of(span) for span in line.spans)
    if not pours:
        return (PourTable(0.0, whole),)
    reached = 0.0
    for pour in sorted(pours, key=lambda pour: pour.start):
        if abs(pour.start - reached) > _NEAR:
            what = "leave open" if pour.start > reached else "cast twice"
            low, high = sorted((pour.start, reached))
            raise RangeError(
                f"the [[pours]] {what} the deck from {low:g} ft to {high:g} ft; want parts that "
                f"follow each other from 0 to {whole:g} ft"
            )
        reached = pour.end
    if abs(reached - whole) > _NEAR:
        raise RangeError(
            f"the [[pours]] end at {reached:g} ft, but the girder is {whole:g} ft long; want parts "
            "that follow each other from its first to its last bearing"
        )
    return tuple(pours)


class Pours:
    """Writes the moments of the pours at the places of a girder.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    effects : Effects
        Beam, sections and weights.
    pours : sequence of PourTable
        In the order of casting.
    """

    def __init__(self, sheet: Sheet, effects: Effects, pours: Sequence[PourTable]) -> None:
        self.sheet, self.effects, self.pours = sheet, effects, tuple(pours)
        self.sections = len(effects.sections)
        self.kernels = section_kernels(len(effects.spans), 2 * self.sections)
        self.starts = tuple(accumulate((feet_of(s) for s in effects.line.spans), initial=0.0))
        self.names = [f"pour {i}" for i in range(1, len(self.pours) + 1)]

    def cast_with(self, place: Place) -> int:
        """Return the last pour, counted from 0, that covers a place."""
        x = self.starts[place.span - 1] + place.feet
        return max(
            i for i, pour in enumerate(self.pours) if pour.start - _NEAR <= x <= pour.end + _NEAR
        )

    def zones(self, stage: int) -> str:
        """Return the zones while a pour is wet: composite where earlier pours have hardened."""
        groups = []
        for number, span in enumerate(self.effects.line.spans, 1):
            length, start = feet_of(span), self.starts[number - 1]
            cuts = {zone[2] for zone in zones_of(self.effects.line.zones) if zone[0] == number}
            cuts |= {
                round((x - start) / length, 12) for pour in self.pours
                for x in (pour.start, pour.end) if start + _NEAR < x < start + length - _NEAR
            }  # fmt: skip
            parts, low = [], 0.0
            for high in sorted(cuts):
                middle = (low + high) / 2
                section = next(
                    z[3] for z in zones_of(self.effects.line.zones)
                    if z[0] == number and z[1] <= middle <= z[2]
                )  # fmt: skip
                x = start + middle * length
                cast = next(i for i, p in enumerate(self.pours) if p.start <= x <= p.end)
                section += self.sections if cast < stage else 0
                parts.append(f"{section}" if high == 1 else f"{section} to {high!r}")
                low = high
            groups.append(", ".join(parts))
        return "; ".join(groups)

    def base(self, stage: int) -> dict[str, Any]:
        """Return the inputs that describe the beam while a pour is wet."""
        inertias = [*self.effects.inertias["s"], *self.effects.inertias["n"]]
        named = {f"I_{i}": of for i, of in enumerate(inertias, 1)}
        return span_inputs(self.effects.spans) | named | {"zones": self.zones(stage)}

    def at(self, place: Place) -> PourAtPlace:
        """Write the moments of the pours at one place."""
        sheet, loads = self.sheet, self.effects.loads
        where = {"place": str(place.span), "fraction": place.fraction}
        steel = sheet.computed(
            "M_st", self.effects.kernels.dead["moment"],
            self.effects.at("s", place) | self.effects.weights(loads.steel), kip_ft,
            "moment of the erected steel", ref="statics",
        )  # fmt: skip
        wet: list[Operand] = []
        live: list[Operand] = []
        for number, pour in enumerate(self.pours):
            part = self.base(number) | where | {"start": pour.start * ft, "end": pour.end * ft}
            for into, name, load, words in (
                (wet, "M_w", loads.wet, "wet deck"),
                (live, "M_C", loads.construction, "construction live load"),
            ):
                into.append(
                    sheet.computed(
                        f"{name}{number + 1}", self.kernels.part["moment"], part | {"load": load},
                        kip_ft, f"moment of the {words} of pour {number + 1}", ref="statics",
                    )
                )  # fmt: skip
        last = self.cast_with(place)
        stages: list[tuple[str, Operand]] = [("erected steel", steel)]
        stages += [(self.names[i], wet[i]) for i in range(last + 1)]
        bare = live[: last + 1]
        most = bare[0] if len(bare) == 1 else maximum(*bare)
        least = bare[0] if len(bare) == 1 else minimum(*bare)
        moments = pour_moments(sheet, stages, construction=(most, least))
        return PourAtPlace(place, moments, self._tension(place, wet, live, last))

    def _tension(
        self, place: Place, wet: list[Operand], live: list[Operand], last: int
    ) -> Operand | None:
        short = self.effects.sections[place.section - 1].short
        if last == len(wet) - 1 or short.S_deck is None or short.ratio is None:
            return None
        g_D, g_C, g_2 = (use(self.sheet, key) for key in ("gamma_cD", "gamma_cC", "gamma_c2"))
        later = range(last + 1, len(wet))
        sums: list[Operand] = []
        total: Operand = as_operand(0 * kip_ft)
        for i in later:
            total = total + wet[i]
            sums.append(g_D * -1 * total + g_C * -1 * live[i])
            sums.append(g_2 * (-1 * total + -1 * live[i]))
        M = self.sheet.step(
            "M_dk", maximum(0 * kip_ft, *sums), kip_ft,
            "greatest factored hogging moment of later pours", ref="LRFD 6.10.3.2.4, 3.4.2.1",
        )  # fmt: skip
        return deck_tension_in_pour(self.sheet, moment=M, modulus=short.S_deck, ratio=short.ratio)


def pour_flanges(
    sheet: Sheet, bridge: BridgeNodes, section: LineSection, *, moment: Operand,
    unbraced: Operand, gradient: Operand, positive: bool, exterior: bool, location: str,
) -> tuple[Operand, Operand]:  # fmt: skip
    """Check the flanges and the web of bare steel in the pour at one place.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    bridge : BridgeNodes
        The bridge, with brackets where they are stated.
    section : LineSection
    moment : Operand, [force * length]
        Factored, positive.
    unbraced, gradient : Operand
        ``L_b`` and ``C_b`` of the compressed flange.
    positive : bool
        Whether the top flange is compressed.
    exterior : bool
        Brackets push the flanges of the exterior girder sideways.
    location : str

    Returns
    -------
    tuple of Operand, [stress]
        Stress of the compressed flange, and ``F_nc``.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 6.10.3.2; from memory.
    """
    bare, step = section.bare, sheet.step
    geometry, steel = bare.geometry, bare.elastic
    sides = flange_sides(sheet, geometry, positive=positive)
    depth = compressed_web_by_axis(sheet, geometry, steel, positive=positive)
    hybrid = hybrid_factor(sheet, geometry, steel)
    web = web_in_flexure(sheet, geometry, sides, depth=depth, hybrid=hybrid)
    sheet.note("In the pour the load-shedding factor R_b is 1.0 (LRFD 6.10.1.10.2).")
    web = replace(web, shedding=as_operand(1.0))
    buckling = flange_buckling(sheet, geometry, sides, web, unbraced=unbraced, gradient=gradient)
    F_crw = bend_buckling(sheet, geometry, sides, depth=depth, hybrid=hybrid)
    push, pull = (steel.S_top, steel.S_bottom) if positive else (steel.S_bottom, steel.S_top)
    f_c = step("f_buc", moment / push, ksi, "compression flange in the pour", ref="M/S, steel")
    f_t = step("f_but", moment / pull, ksi, "tension flange in the pour", ref="M/S, steel")
    details = bridge.data.details
    if exterior and details is not None and details.brackets:
        first = brackets_on_girder(sheet, replace(bridge, brace_spacing=unbraced), sides)
        f_l = second_order_lateral(
            sheet, sides, web, buckling, first_order=first, vertical=f_c, location=location
        ).stress
    else:
        f_l = sheet.given(
            "f_l", 0 * ksi, "lateral bending stress of the flanges",
            assumed="no overhang brackets in the data: their lateral bending is taken as 0 here"
            if exterior else "interior girder, no skew: brackets load the exterior girder",
        )  # fmt: skip
    pour_checks(
        sheet,
        PourFlanges(
            f_c, f_t, f_l, f_l, buckling.resistance, F_crw, sides.compression.strength,
            sides.tension.strength, hybrid,
        ),
        location=location,
    )  # fmt: skip
    return f_c, buckling.resistance
