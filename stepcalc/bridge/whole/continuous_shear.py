"""Shear of a continuous girder: every panel and stiffener, the governing ones in full."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from stepcalc.bridge.constants import use
from stepcalc.bridge.details.fatigue import web_fatigue
from stepcalc.bridge.details.pour_stages import pour_shear
from stepcalc.bridge.details.shear_panels import (
    PanelWeb,
    end_panel,
    interior_panel,
    unstiffened_panel,
)
from stepcalc.bridge.details.transverse_stiffeners import StiffenerPlate, transverse_stiffener
from stepcalc.bridge.whole.continuous_flexure import ratio_table
from stepcalc.bridge.whole.continuous_line import sections_between
from stepcalc.bridge.whole.continuous_quiet import Tabulated, check_all, greatest
from stepcalc.expr.functions import absolute, maximum, minimum
from stepcalc.units import ft, inch, kip

if TYPE_CHECKING:
    from stepcalc.bridge.composite.plates import ISection
    from stepcalc.bridge.details.editions import EditionRules
    from stepcalc.bridge.details.shear_panels import PanelShear
    from stepcalc.bridge.givens import BridgeNodes
    from stepcalc.bridge.whole.continuous_along import AtPlace, Effects
    from stepcalc.bridge.whole.continuous_line import Panel, Place
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.sheet import Sheet

__all__ = ["shear_of_line", "stiffener_plate"]


@dataclass(frozen=True)
class _Demand:
    """What the ends of a panel ask of it: Strength I, pour, permanent, fatigue."""

    strength: Operand
    pour: Operand
    permanent: Operand
    fatigue: Operand


def stiffener_plate(sheet: Sheet, bridge: BridgeNodes, strength: Operand) -> StiffenerPlate:
    """Write the transverse stiffener of the plans.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the givens.
    bridge : BridgeNodes
    strength : Operand, [stress]

    Returns
    -------
    StiffenerPlate
    """
    details, source_of = bridge.data.details, bridge.data.source_of
    assert details is not None
    width = sheet.given("b_t", details.stiffener_width, "projecting width of a stiffener",
                        source=source_of("stiffener_width"))  # fmt: skip
    thick = sheet.given("t_p", details.stiffener_thickness, "thickness of a stiffener",
                        source=source_of("stiffener_thickness"))  # fmt: skip
    return StiffenerPlate(width, thick, strength)


def shear_of_line(
    sheet: Sheet, bridge: BridgeNodes, effects: Effects, rules: EditionRules, *, full: bool = True
) -> None:
    """Write shear of every panel of a welded girder, or at every tenth point of a rolled one.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the parts.
    bridge, effects
        Of the girder.
    rules : EditionRules
        Edition of the fatigue factors.
    full : bool
        Whether the governing panels and stiffener are written in full below their tables.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 6.10.9, 6.10.5.3, 6.10.3.3, 6.10.11.1; from memory.
    """
    if not effects.line.panels:
        _unstiffened(sheet, effects)
        return
    found: dict[int, PanelShear] = {}
    quiet, lead = Tabulated(sheet), {}
    with sheet.part("Every panel", tables_only=True):
        for panel in effects.line.panels:
            with sheet.part(f"Panel {panel.number}"):
                demand = _demand(quiet.as_sheet, effects, panel)
                made = _panel(quiet.as_sheet, effects, panel, demand, rules, _name(panel))
            found[panel.number] = made
            lead[_name(panel)] = [
                str(panel.number), f"{panel.start.label} to {panel.end.label}",
                f"{panel.length:.4g}", demand.strength, made.ratio, made.buckling, made.nominal,
            ]  # fmt: skip
        ratio_table(
            sheet, quiet.ratios, lead,
            ["No.", "From and to", "do, ft", "Vu", "C", "Vcr", "Vn"],
            "Every panel of the web; V_u is the greater of its two ends",
        )  # fmt: skip
        check_all(sheet, quiet.ratios, where="all panels")
    for words, names in (
        ("End panel", ("Shear, end panel",)), ("Interior panel", ("Shear, interior panel",)),
    ):  # fmt: skip
        ratios = [ratio for ratio in quiet.ratios if ratio.name in names]
        if not ratios:
            continue
        worst = greatest(ratios).location
        panel = next(p for p in effects.line.panels if _name(p) == worst)
        with sheet.part(words, tables_only=not full):
            sheet.note(
                f"The governing one of the table above, panel {panel.number}, from "
                f"{panel.start.label} to {panel.end.label}"
                + (", in full." if full else "; its formulas are those of the interior girder.")
            )
            _panel(sheet, effects, panel, _demand(sheet, effects, panel), rules, _name(panel))
    _stiffeners(sheet, bridge, effects, found, full=full)


def _name(panel: Panel) -> str:
    return f"panel {panel.number}"


def _section_of(effects: Effects, panel: Panel) -> ISection:
    """Return the lighter section within a panel."""
    numbers = sections_between(effects.line.zones, panel.start, panel.end)
    return effects.sections[min(numbers) - 1].bare.steel


def _demand(sheet: Sheet, effects: Effects, panel: Panel) -> _Demand:
    ends = [effects.write("shear", place) for place in (panel.start, panel.end)]
    step = sheet.step
    V = step(
        "V_u", maximum(*(of for at in ends for of in (at.largest, -1 * at.smallest))), kip,
        "greatest factored shear of both ends", ref="LRFD Table 3.4.1-1",
    )  # fmt: skip
    pours = [_pour(sheet, effects, at, tag) for at, tag in zip(ends, "ab", strict=True)]
    V_c = step("V_cu", maximum(*pours), kip, "greatest factored shear of the pour",
               ref="LRFD 3.4.2.1")  # fmt: skip
    V_D = step(
        "V_D", maximum(*(absolute(at.DC1 + at.DC2 + at.DW) for at in ends)), kip,
        "permanent shear, unfactored", ref="statics",
    )  # fmt: skip
    V_f = step(
        "V_f", maximum(*(of for at in ends for of in (at.fatigue_max, -1 * at.fatigue_min))), kip,
        "shear of the fatigue truck on the girder, with its impact", ref="LRFD 3.6.1.4",
    )  # fmt: skip
    return _Demand(V, V_c, V_D, V_f)


def _pour(sheet: Sheet, effects: Effects, at: AtPlace, tag: str) -> Operand:
    V_C = sheet.computed(
        f"V_C{tag}", effects.kernels.dead["shear"],
        effects.at("s", at.place) | effects.weights(effects.loads.construction), kip,
        f"shear of the construction live load at {at.place.label}", ref="statics",
    )  # fmt: skip
    g_D, g_C, g_2 = use(sheet, "gamma_cD"), use(sheet, "gamma_cC"), use(sheet, "gamma_c2")
    dead, more = absolute(at.DC1), absolute(V_C)
    return maximum(g_D * dead + g_C * more, g_2 * (dead + more))


def _panel(
    sheet: Sheet, effects: Effects, panel: Panel, demand: _Demand, rules: EditionRules,
    location: str,
) -> PanelShear:  # fmt: skip
    section = _section_of(effects, panel)
    web = PanelWeb(section.web.width, section.web.thickness, section.web.strength)
    d_o = sheet.given("d_o", round(panel.length, 10) * ft, "between stiffeners",
                      source="girder elevation")  # fmt: skip
    if panel.outer:
        made = end_panel(sheet, web, spacing=d_o, demand=demand.strength, location=location)
    else:
        flanges = sheet.step(
            "A_fl",
            section.top.width * section.top.thickness
            + section.bottom.width * section.bottom.thickness,
            inch**2, "both flanges of the lighter section in the panel", ref="geometry",
        )  # fmt: skip
        made = interior_panel(
            sheet, web, spacing=d_o, flanges=flanges, demand=demand.strength, location=location
        )
        web_fatigue(sheet, rules, permanent=demand.permanent, live=demand.fatigue,
                    buckling=made.buckling, location=location)  # fmt: skip
    pour_shear(sheet, demand=demand.pour, buckling=made.buckling, location=location)
    return made


def _stiffeners(
    sheet: Sheet, bridge: BridgeNodes, effects: Effects, found: dict[int, PanelShear], *,
    full: bool,
) -> None:  # fmt: skip
    quiet, lead, pairs = Tabulated(sheet), {}, {}
    with sheet.part("Every transverse stiffener", tables_only=True):
        for left, right in zip(effects.line.panels, effects.line.panels[1:], strict=False):
            if left.start.span != right.start.span:
                continue
            name = f"stiffener {left.number}/{right.number}"
            with sheet.part(f"Stiffener between panels {left.number} and {right.number}"):
                made = _stiffener(quiet.as_sheet, bridge, effects, (left, right), found, name)
            pairs[name] = (left, right)
            lead[name] = [f"{left.number}, {right.number}", left.end.label, made.required,
                          made.inertia]  # fmt: skip
        if not pairs:
            return
        ratio_table(
            sheet, quiet.ratios, lead, ["Panels", "Place", "It needed", "It"],
            "Every transverse stiffener between two panels",
        )  # fmt: skip
        check_all(sheet, quiet.ratios, where="all stiffeners")
    inertia = [ratio for ratio in quiet.ratios if ratio.name == "Stiffener inertia"]
    left, right = pairs[greatest(inertia).location]
    if not full:
        return
    with sheet.part("Governing stiffener"):
        sheet.note(f"Between panels {left.number} and {right.number}, at {left.end.label}.")
        _stiffener(sheet, bridge, effects, (left, right), found, left.end.label)


def _stiffener(
    sheet: Sheet, bridge: BridgeNodes, effects: Effects, pair: tuple[Panel, Panel],
    found: dict[int, PanelShear], location: str,
) -> Any:  # fmt: skip
    sections = [_section_of(effects, panel) for panel in pair]
    lighter = sections[0]
    web = PanelWeb(
        lighter.web.width,
        minimum(*(section.web.thickness for section in sections))
        if sections[0] is not sections[1] else lighter.web.thickness,
        lighter.web.strength,
    )  # fmt: skip
    flange = maximum(*(f.width for s in sections for f in (s.top, s.bottom)))
    d_o = sheet.given("d_o", round(min(panel.length for panel in pair), 10) * ft,
                      "the closer spacing beside it", source="girder elevation")  # fmt: skip
    return transverse_stiffener(
        sheet, stiffener_plate(sheet, bridge, web.strength), web, spacing=d_o, flange=flange,
        panels=(found[pair[0].number], found[pair[1].number]), location=location,
    )  # fmt: skip


def _unstiffened(sheet: Sheet, effects: Effects) -> None:
    quiet, lead = Tabulated(sheet), {}
    places: dict[str, Place] = {}

    def at_place(to: Sheet, place: Place) -> PanelShear:
        at = effects.write("shear", place)
        V = to.step("V_u", maximum(at.largest, -1 * at.smallest), kip, "greatest factored shear",
                    ref="LRFD Table 3.4.1-1")  # fmt: skip
        section = effects.sections[place.section - 1].bare.steel
        web = PanelWeb(section.web.width, section.web.thickness, section.web.strength)
        made = unstiffened_panel(to, web, demand=V, location=place.label)
        V_c = to.step("V_cu", _pour(to, effects, at, ""), kip, "factored shear of the pour",
                      ref="LRFD 3.4.2.1")  # fmt: skip
        pour_shear(to, demand=V_c, buckling=made.buckling, location=place.label)
        return made

    with sheet.part("Every tenth point", tables_only=True):
        for place in effects.line.places:
            if "tenth" not in place.kinds:
                continue
            with sheet.part(place.label):
                made = at_place(quiet.as_sheet, place)
            places[place.label] = place
            lead[place.label] = [place.label, made.demand, made.nominal]
        ratio_table(sheet, quiet.ratios, lead, ["Place", "Vu", "Vn"],
                    "Shear at every tenth point; the web has no stiffeners")  # fmt: skip
        check_all(sheet, quiet.ratios, where="all tenth points")
    worst = places[greatest(quiet.ratios).location]
    with sheet.part("Governing place"):
        sheet.note(f"The governing place of the table above, {worst.label}, in full.")
        at_place(sheet, worst)
