"""Shear connectors of a continuous girder: every stretch between bearing, peak and pier."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stepcalc.bridge.composite.elastic import cracked_section
from stepcalc.bridge.composite.geometry import section_geometry
from stepcalc.bridge.details.fatigue_loads import cycles_per_truck, traffic
from stepcalc.bridge.details.stud_fatigue import (
    extra_connectors,
    fatigue_pitch,
    shear_flow_range,
    stud_fatigue,
)
from stepcalc.bridge.details.stud_layout import StudRegion, half_inch, stud_layout
from stepcalc.bridge.details.studs import (
    StudPlace,
    greatest_pitch,
    positive_force,
    required_connectors,
    steel_force,
    stud_geometry,
    stud_strength,
    support_force,
)
from stepcalc.bridge.whole.continuous_flexure import ratio_table
from stepcalc.bridge.whole.continuous_quiet import Tabulated, check_all
from stepcalc.bridge.whole.fatigue_and_studs import stud_on_plans
from stepcalc.expr.functions import ceil, maximum, minimum
from stepcalc.units import ft, ksi

if TYPE_CHECKING:
    from collections.abc import Sequence

    from stepcalc.bridge.composite.geometry import Geometry
    from stepcalc.bridge.details.editions import EditionRules
    from stepcalc.bridge.details.stud_fatigue import StudFatigue
    from stepcalc.bridge.details.stud_layout import StudLayout
    from stepcalc.bridge.details.studs import ConnectorStrength, Stud
    from stepcalc.bridge.givens import BridgeNodes
    from stepcalc.bridge.whole.composite_section import Composite
    from stepcalc.bridge.whole.continuous_along import AtPlace, Effects
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.sheet import Sheet

__all__ = ["studs_of_line"]


@dataclass(frozen=True)
class _Stretch:
    """A length of girder from a peak of positive moment to a support, ft as first given.

    Attributes
    ----------
    span, support : int
        Counted from 1.
    inner : bool
        Whether the support is a pier.
    length : Operand, [length]
        Peak to the support, or to the last stud before a pier without studs.
    low, high : float
        Fractions of the span between which it lies.
    """

    span: int
    support: int
    inner: bool
    length: Operand
    low: float
    high: float

    @property
    def words(self) -> str:
        return f"span {self.span} to support {self.support}"


def studs_of_line(
    sheet: Sheet, bridge: BridgeNodes, composite: Composite, effects: Effects,
    peaks: Sequence[AtPlace], fractions: Sequence[Operand], rules: EditionRules, trucks: Operand,
) -> None:  # fmt: skip
    """Write strength, fatigue pitch and layout of the studs of every stretch.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the parts.
    bridge, composite, effects
        Of the girder; the horizontal shear is that of section 1, uncracked.
    peaks, fractions : sequence of AtPlace, Operand
        Greatest positive moment of every span, and where it is.
    rules : EditionRules
    trucks : Operand
        ``ADTT_SL``.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 6.10.10; from memory.
    """
    details, slab = bridge.data.details, composite.slab
    assert details is not None
    stud, across = stud_on_plans(sheet, bridge)
    with sheet.part("Strength"):
        strength = stud_strength(
            sheet, stud, concrete=composite.concrete, modulus=composite.modulus
        )
        P_s = _steel(sheet, composite.geometry)
        P_p = positive_force(sheet, concrete=composite.concrete, width=slab.width,
                             thickness=slab.thickness, steel=P_s)  # fmt: skip
        n_end = required_connectors(sheet, P_p, strength, name="n_end")
        n_pier = _to_piers(sheet, composite, effects, P_p, strength)
    with sheet.part("Fatigue of a stud"):
        cycles = cycles_per_truck(sheet, rules, "continuous span", span=bridge.span,
                                  to_support=0 * bridge.span)  # fmt: skip
        many = traffic(sheet, trucks=trucks, cycles=cycles)
        fatigue = stud_fatigue(sheet, rules, diameter=stud.diameter, traffic=many)
    flows = _flows(sheet, composite, effects, fatigue, stud)
    pitches = _layouts(sheet, bridge, composite, effects, (peaks, fractions), rules, stud,
                       (n_end, n_pier), flows)  # fmt: skip
    if not details.studs_over_piers:
        _extra(sheet, bridge, composite, effects, fatigue)
    with sheet.part("Geometry of the studs"):
        section = composite.geometry.section
        place = StudPlace(minimum(*pitches), across, section.top.width, slab.thickness,
                          slab.haunch, section.web.width)  # fmt: skip
        stud_geometry(sheet, rules, stud, place)


def _steel(sheet: Sheet, geometry: Geometry) -> Operand:
    web = geometry.piece("w")
    return steel_force(
        sheet, web=(web.area, web.strength),
        flanges=tuple((p.area, p.strength) for p in geometry.steel if p.key != "w"),
    )  # fmt: skip


def _to_piers(
    sheet: Sheet, composite: Composite, effects: Effects, P_p: Operand,
    strength: ConnectorStrength,
) -> dict[int, Operand]:  # fmt: skip
    """Write the studs between a peak and a pier, for every section over a pier."""
    found = {}
    for number in dict.fromkeys(effects.line.pier_sections):
        section = effects.sections[number - 1]
        with sheet.part(f"To a pier with section {number}"):
            force = P_p
            if section.composite:
                force = support_force(
                    sheet, P_p, concrete=composite.concrete, width=composite.slab.width,
                    thickness=composite.slab.thickness, steel=_steel(sheet, section.geometry),
                )  # fmt: skip
            found[number] = required_connectors(sheet, force, strength, name="n_pier")
    return found


def _flows(
    sheet: Sheet, composite: Composite, effects: Effects, fatigue: StudFatigue, stud: Stud
) -> dict[tuple[int, int], Operand]:
    """Write shear flow and pitch at every tenth point with studs; return the pitches."""
    n = composite.elastic.short_term
    assert n is not None
    assert n.Q is not None
    found, rows = {}, []
    with sheet.part("Fatigue pitch at tenth points", tables_only=True):
        for place in effects.line.places:
            if "tenth" not in place.kinds or not effects.sections[place.section - 1].composite:
                continue
            at = effects.write("shear", place)
            with sheet.part(f"Pitch {place.label}"):
                flow = shear_flow_range(
                    sheet, fatigue, shear=at.fatigue_max - at.fatigue_min, first_moment=n.Q,
                    inertia=n.inertia,
                )  # fmt: skip
                pitch = fatigue_pitch(sheet, fatigue, per_row=stud.per_row, flow=flow)
            found[(place.span, round(place.fraction * 10))] = pitch
            rows.append([place.label, at.fatigue_max, at.fatigue_min, flow, pitch])
        sheet.table(
            ["Place", "Vf max", "Vf min", "Vsr", "Pitch by fatigue"], rows,
            "Fatigue shear of the girder with impact, shear flow and pitch", instead=True,
        )  # fmt: skip
    return found


def _stretches(
    sheet: Sheet, effects: Effects, peaks: tuple[Sequence[AtPlace], Sequence[Operand]]
) -> list[_Stretch]:
    found = []
    for at, fraction in zip(*peaks, strict=True):
        span = at.place.span
        length, x = effects.spans[span - 1], at.place.fraction
        left: Operand = fraction * length
        right: Operand = (1 - fraction) * length
        low, high = 0.0, 1.0
        if not effects.sections[effects.line.at(span, 0.0).section - 1].composite:
            low = _ends(effects, span)[0]
            left = left - low * length
        if not effects.sections[effects.line.at(span, 1.0).section - 1].composite:
            high = _ends(effects, span)[1]
            right = right - (1 - high) * length
        count = len(effects.spans)
        found.append(_Stretch(span, span, span > 1, left, low, x))
        found.append(_Stretch(span, span + 1, span < count, right, x, high))
    return found


def _ends(effects: Effects, span: int) -> tuple[float, float]:
    """Return the fractions of a span between which its own section stands."""
    parts, low = effects.line.zones.split(";")[span - 1].split(","), 0.0
    for part in parts:
        number, _, until = part.partition(" to ")
        high = float(until) if until else 1.0
        if int(number) == 1:
            return low, high
        low = high
    return 0.0, 1.0


def _layouts(
    sheet: Sheet, bridge: BridgeNodes, composite: Composite, effects: Effects,
    peaks: tuple[Sequence[AtPlace], Sequence[Operand]], rules: EditionRules, stud: Stud,
    required: tuple[Operand, dict[int, Operand]], flows: dict[tuple[int, int], Operand],
) -> list[Operand]:  # fmt: skip
    n_end, n_pier = required
    quiet, lead, pitches = Tabulated(sheet), {}, []
    with sheet.part("Layout of every stretch", tables_only=True):
        greatest = greatest_pitch(sheet, rules, composite.geometry.section.web.width)
        grid = half_inch(sheet)
        for stretch in _stretches(sheet, effects, peaks):
            need = n_end
            if stretch.inner:
                pier = stretch.support - 2
                need = n_pier[effects.line.pier_sections[pier]]
            before = len(quiet.ratios)
            with sheet.part(stretch.words):
                made = _layout(quiet.as_sheet, stretch, need, flows, stud, greatest, grid)
            pitches += list(made.pitches)
            lead[stretch.words] = [
                stretch.words, need, made.pitches[0], made.rows[0], made.pitches[1],
                made.rows[1], made.studs,
            ]  # fmt: skip
            quiet.relocate(before, stretch.words)
        ratio_table(
            sheet, quiet.ratios, lead,
            ["Stretch", "Studs needed", "Pitch, half 1", "Rows", "Pitch, half 2", "Rows", "Studs"],
            "Layout of studs in full rows, from the greatest moment of a span to a support; half 1 "
            "lies beside the support",
        )  # fmt: skip
        check_all(sheet, quiet.ratios, where="all stretches")
    return pitches


def _layout(
    sheet: Sheet, stretch: _Stretch, required: Operand, flows: dict[tuple[int, int], Operand],
    stud: Stud, greatest: Operand, grid: Operand,
) -> StudLayout:  # fmt: skip
    half = sheet.step("l_half", stretch.length / 2, ft, "half of the stretch", ref="geometry")
    middle = (stretch.low + stretch.high) / 2
    left_support = stretch.support == stretch.span
    halves = [(stretch.low, middle), (middle, stretch.high)]
    if not left_support:
        halves.reverse()
    regions = []
    for number, (low, high) in enumerate(halves, 1):
        inside = [
            pitch for (span, tenth), pitch in flows.items()
            if span == stretch.span and low - 0.1 < tenth / 10 < high + 0.1
        ]  # fmt: skip
        least = inside[0] if len(inside) == 1 else minimum(*inside)
        regions.append(StudRegion(f"half {number}", half, least))
    return stud_layout(
        sheet, regions, required=required, per_row=stud.per_row, diameter=stud.diameter,
        greatest=greatest, grid=grid,
    )  # fmt: skip


def _extra(
    sheet: Sheet, bridge: BridgeNodes, composite: Composite, effects: Effects,
    fatigue: StudFatigue,
) -> None:  # fmt: skip
    """Write the studs to add at the points of contraflexure of piers without studs."""
    with sheet.part("Studs to add at the points of contraflexure"):
        sheet.note(
            "No studs stand over the piers: the bars are anchored by added studs at the points of "
            "contraflexure of the dead load, within a third of the effective width on either side."
        )
        bars = composite.slab.bars
        area = sheet.step("A_rs", sum((b.area for b in bars[1:]), bars[0].area), None,
                          "longitudinal bars", ref="data")  # fmt: skip
        per_row = sheet["Shear connectors/n_row"]
        for number in dict.fromkeys(effects.line.pier_sections):
            pier = effects.line.pier_sections.index(number)
            at = effects.found[("moment", (pier + 1, 1.0))]
            with sheet.part(f"Section {number}"):
                whole = effects.sections[number - 1].bare.steel.with_slab(composite.slab)
                geometry = section_geometry(sheet, whole)
                cracked = cracked_section(
                    sheet, geometry, effects.sections[number - 1].bare.elastic
                )
                assert cracked.S_bars is not None
                f_sr = sheet.step(
                    "f_sr",
                    fatigue.factor * maximum(at.fatigue_max - at.fatigue_min, 0 * at.fatigue_max)
                    / cracked.S_bars,
                    ksi, "fatigue range in the bars over the pier, steel and bars",
                    ref="LRFD 6.10.10.3",
                )  # fmt: skip
                n_ac = extra_connectors(sheet, fatigue, bars=area, stress_range=f_sr)
                sheet.step("N_ac", ceil(n_ac / per_row), None, "full rows to add at each point",
                           ref="rounded up to full rows")  # fmt: skip
