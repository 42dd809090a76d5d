"""Fatigue of a continuous girder: connection plates, bottom flange and studs at every place."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from stepcalc.bridge.constants import use
from stepcalc.bridge.details.fatigue import fatigue_check
from stepcalc.bridge.details.fatigue_categories import chosen_category
from stepcalc.bridge.details.fatigue_loads import (
    cycles_per_truck,
    fatigue_range,
    single_lane_trucks,
    traffic,
)
from stepcalc.bridge.whole.continuous_flexure import ratio_table
from stepcalc.bridge.whole.continuous_quiet import Tabulated, check_all, greatest
from stepcalc.expr.functions import absolute, cases, minimum, total
from stepcalc.units import ft, inch, kip_ft, ksi

if TYPE_CHECKING:
    from collections.abc import Sequence

    from stepcalc.bridge.details.editions import EditionRules
    from stepcalc.bridge.givens import BridgeNodes
    from stepcalc.bridge.whole.continuous_along import AtPlace, Effects
    from stepcalc.bridge.whole.continuous_sections import LineSection
    from stepcalc.expr.condition import Condition
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.sheet import Sheet

__all__ = ["fatigue_of_line", "truck_count"]

_PLATE, _BASE, _STUDS = (
    "Fatigue, connection plate, bottom flange", "Fatigue, bottom flange",
    "Fatigue, top flange at the studs",
)  # fmt: skip


def truck_count(sheet: Sheet, bridge: BridgeNodes) -> Operand:
    """Write the trucks a day in one lane.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives givens and steps.
    bridge : BridgeNodes

    Returns
    -------
    Operand
        ``ADTT_SL``.
    """
    details, data = bridge.data.details, bridge.data
    assert details is not None
    ADTT = sheet.given("ADTT", details.trucks_per_day, "trucks a day in one direction",
                       source=data.source_of("trucks_per_day"))  # fmt: skip
    lanes = sheet.given("n_tl", details.truck_lanes, "lanes open to trucks",
                        source=data.source_of("truck_lanes"))  # fmt: skip
    return single_lane_trucks(sheet, ADTT, lanes=lanes)


def fatigue_of_line(
    sheet: Sheet, bridge: BridgeNodes, effects: Effects, moments: Sequence[AtPlace],
    rules: EditionRules, trucks: Operand,
) -> None:  # fmt: skip
    """Check the usual details at every place: a table, and the governing one in full.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the parts.
    bridge, effects
        Of the girder.
    moments : sequence of AtPlace
        All places; the greatest positive moments among them.
    rules : EditionRules
    trucks : Operand
        ``ADTT_SL``.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 6.6.1.2, 3.6.1.4; from memory.
    """
    sheet.note(
        "The truck's stresses are those of the short-term section, in both senses, where studs "
        "stand throughout and the bars are one percent of the deck (6.6.1.2.1); with fewer bars, "
        "steel and bars resist where the later permanent load hogs. The permanent stress there is "
        "that of steel and bars. A detail in permanent compression that the truck does not "
        "overcome is not checked."
    )
    quiet, lead, found = Tabulated(sheet), {}, {}
    with sheet.part("Every place", tables_only=True):
        for at in moments:
            label = at.place.label
            with sheet.part(label):
                ranges = _place(quiet.as_sheet, bridge, effects, at, rules, trucks, label)
            found[label] = at
            lead[label] = [label, *ranges]
        ratio_table(
            sheet, quiet.ratios, lead, ["Place", "Δf bottom", "Δf top"],
            "Fatigue at every place; a ratio of 0 stands where the detail sees no net tension",
        )  # fmt: skip
        check_all(sheet, quiet.ratios, where="all places")
    worst = greatest(quiet.ratios)
    with sheet.part("Governing detail"):
        sheet.note(f"The greatest ratio of the table above: {worst.name}, {worst.location}.")
        _place(sheet, bridge, effects, found[worst.location], rules, trucks, worst.location,
               only=worst.name)  # fmt: skip


def _place(
    sheet: Sheet, bridge: BridgeNodes, effects: Effects, at: AtPlace, rules: EditionRules,
    trucks: Operand, location: str, *, only: str | None = None,
) -> list[Any]:  # fmt: skip
    details = bridge.data.details
    assert details is not None
    section = effects.sections[at.place.section - 1]
    span = effects.spans[at.place.span - 1]
    cycles = cycles_per_truck(sheet, rules, "continuous span", span=span,
                              to_support=_to_pier(sheet, effects, at))  # fmt: skip
    many = traffic(sheet, trucks=trucks, cycles=cycles)
    late = at.DC2 + at.DW
    rows: list[tuple[str, Any, bool]] = [(_BASE, details.base_metal_category, True)]
    if "cross-frame" in at.place.kinds:
        rows.insert(0, (_PLATE, details.connection_plate_category, True))
    if section.composite:
        rows.append((_STUDS, details.stud_flange_category, False))
    ranges: dict[bool, Any] = {}
    enough = _enough_bars(sheet, effects)
    for name, category, bottom in rows:
        if only is not None and name != only:
            continue
        with sheet.part(name.removeprefix("Fatigue, ")):
            stress, permanent = _stress(sheet, section, at, late, enough, bottom=bottom)
            ranges.setdefault(bottom, stress.range)
            chosen = sheet.given("category", str(category.value), "detail category",
                                 choices="stress_categories",
                                 source="LRFD Table 6.6.1.2.3-1 (from memory)")  # fmt: skip
            fatigue_check(
                sheet, chosen_category(sheet, chosen, rules), rules, stress=stress,
                permanent=permanent, traffic=many, name=name, location=location,
            )  # fmt: skip
    return [ranges.get(True, ""), ranges.get(False, "")]


def _to_pier(sheet: Sheet, effects: Effects, at: AtPlace) -> Operand:
    """Write the distance to the nearest interior support."""
    place, count = at.place, len(effects.spans)
    span = effects.spans[place.span - 1]
    ways = []
    if place.span > 1:
        ways.append(place.fraction * span)
    if place.span < count:
        ways.append((1 - place.fraction) * span)
    nearest = ways[0] if len(ways) == 1 else minimum(*ways)
    return sheet.step("x_p", nearest, ft, "to the nearest interior support", ref="geometry")


def _enough_bars(sheet: Sheet, effects: Effects) -> Condition:
    """Return whether the bars are one percent of the deck."""
    slab = effects.sections[0].bare.steel.slab or effects.sections[0].geometry.section.slab
    assert slab is not None
    bars = total(layer.area for layer in slab.bars)
    enough: Condition = bars >= use(sheet, "r_As") * slab.width * slab.thickness
    return enough


def _stress(
    sheet: Sheet, section: LineSection, at: AtPlace, late: Operand, enough: Condition, *,
    bottom: bool,
) -> tuple[Any, Operand]:  # fmt: skip
    """Write the stress range of the truck and the permanent stress of one flange."""
    steel, three, one, hog = section.elastic.steel, section.late, section.short, section.hogging

    def modulus(of: Any) -> Operand:
        found: Operand = of.S_bottom if bottom else absolute(of.S_top)
        return found

    sign = 1 if bottom else -1
    ref = "LRFD 6.6.1.2.1"
    sags = late >= 0 * kip_ft
    S = sheet.step(
        "S_f",
        cases((sags, modulus(one), "later dead load sags: short-term section"),
              (enough, modulus(one), "one percent of bars: short-term section"),
              otherwise=(modulus(hog), "fewer bars, later dead load hogs: steel and bars")),
        inch**3, "modulus for the truck", ref=ref,
    )  # fmt: skip
    S_l = sheet.step(
        "S_l",
        cases((sags, modulus(three), "later dead load sags: long-term section"),
              otherwise=(modulus(hog), "later dead load hogs: steel and bars")),
        inch**3, "modulus for the later dead load", ref=ref,
    )  # fmt: skip
    f_p = sheet.step("f_p", sign * (at.DC1 / modulus(steel) + late / S_l), ksi,
                     "permanent stress, tension positive", ref="LRFD 6.10.1.1.1a")  # fmt: skip
    stress = fatigue_range(
        sheet, sagging=at.lane_fatigue[0], hogging=at.lane_fatigue[1],
        share=_share(sheet), modulus=S, bottom=bottom,
    )  # fmt: skip
    return stress, f_p


def _share(sheet: Sheet) -> Operand:
    share: Operand = sheet["Live-load distribution/g_fM"]
    return share
