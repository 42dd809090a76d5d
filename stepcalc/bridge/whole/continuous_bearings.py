"""Reactions of a continuous girder, its bearing stiffeners or its web over the supports, uplift."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from stepcalc.bridge.bearing import web_at_bearing
from stepcalc.bridge.constants import use
from stepcalc.bridge.details.bearing_stiffeners import BearingPairs, bearing_stiffener
from stepcalc.bridge.details.shear_panels import PanelWeb
from stepcalc.bridge.details.transverse_stiffeners import StiffenerPlate
from stepcalc.bridge.section import section_properties
from stepcalc.bridge.whole.continuous_flexure import ratio_table
from stepcalc.bridge.whole.continuous_quiet import Tabulated, check_all, greatest
from stepcalc.expr.functions import maximum, sqrt
from stepcalc.units import kip

if TYPE_CHECKING:
    from stepcalc.bridge.givens import BridgeNodes
    from stepcalc.bridge.section import SectionProperties
    from stepcalc.bridge.whole.continuous_along import Effects
    from stepcalc.bridge.whole.steel import Steel
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.sheet import Sheet

__all__ = ["Reaction", "bearings_of_line", "reactions_of_line", "web_over_pier"]


@dataclass(frozen=True)
class Reaction:
    """Reactions of the girder at one support, [force]; unfactored but the last.

    Attributes
    ----------
    support : int
    DC1, DC2, DW, live, live_impact, uplift : Operand
        The last one is the least live-load reaction with impact, zero or negative.
    factored : Operand
        Strength I.
    """

    support: int
    DC1: Operand
    DC2: Operand
    DW: Operand
    live: Operand
    live_impact: Operand
    uplift: Operand
    factored: Operand


def reactions_of_line(sheet: Sheet, effects: Effects) -> tuple[Reaction, ...]:
    """Write the reactions of every support, their table, and the check against uplift.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives them, within a part with tables only.
    effects : Effects
        Of the girder.

    Returns
    -------
    tuple of Reaction

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 3.4.1, 3.6.1.3.1; from memory.
    """
    found, rows, quiet = [], [], Tabulated(sheet)
    for support in range(1, len(effects.spans) + 2):
        with sheet.part(f"Support {support}"):
            reaction = _reaction(sheet, effects, support)
            D = use(sheet, "gamma_DCn") * (reaction.DC1 + reaction.DC2)
            quiet.check(
                "Uplift at a bearing",
                -1 * use(sheet, "gamma_LL") * reaction.uplift
                <= D + use(sheet, "gamma_DWn") * reaction.DW,
                ref="LRFD Table 3.4.1-1, -2", location=f"support {support}",
            )  # fmt: skip
        found.append(reaction)
        rows.append([
            str(support), reaction.DC1, reaction.DC2, reaction.DW, reaction.live,
            reaction.live_impact, reaction.uplift, reaction.factored,
        ])  # fmt: skip
    sheet.table(
        ["Support", "DC1", "DC2", "DW", "LL", "LL + IM", "Least LL + IM", "Ru, Strength I"],
        rows,
        "Reactions of this girder, unfactored but the last, for bearings and substructure; live "
        "load with the distribution factor of shear; they are not added to those of another girder",
        instead=True,
    )  # fmt: skip
    check_all(sheet, quiet.ratios, where="all supports")
    return tuple(found)


def _reaction(sheet: Sheet, effects: Effects, support: int) -> Reaction:
    loads, kernels = effects.loads, effects.kernels

    def inputs(stage: str) -> dict[str, Any]:
        return effects.base(stage) | {"place": str(support), "fraction": 0.0}

    dead = [
        sheet.computed(f"R_{name}", kernels.dead["reaction"], inputs(stage) | effects.weights(load),
                       kip, f"reaction of {name}", ref="statics")
        for name, stage, load in (
            ("DC1", "s", loads.DC1), ("DC2", "l", loads.DC2), ("DW", "l", loads.DW),
        )
    ]  # fmt: skip
    live = []
    for tag, impact, which, words in (
        ("LL", 0.0, "max", "largest, no impact"), ("LI", use(sheet, "IM"), "max", "largest"),
        ("up", use(sheet, "IM"), "min", "smallest"),
    ):  # fmt: skip
        lane = sheet.computed(
            f"R_{tag}1", kernels.live["reaction"],
            inputs("n") | {"load": "HL-93", "impact": impact, "which": which}, kip,
            f"HL-93 of one lane, {words}", ref="LRFD 3.6.1.3.1",
        )  # fmt: skip
        live.append(
            sheet.step(
                f"R_{tag}",
                effects.shares.shear * lane,
                kip,
                f"of the girder, {words}",
                ref="LRFD 4.6.2.2.3",
            )
        )
    R_u = sheet.step(
        "R_u",
        use(sheet, "gamma_DC") * (dead[0] + dead[1]) + use(sheet, "gamma_DW") * dead[2]
        + use(sheet, "gamma_LL") * live[1],
        kip, "factored reaction, Strength I", ref="LRFD Table 3.4.1-1",
    )  # fmt: skip
    return Reaction(support, *dead, *live, R_u)  # type: ignore[call-arg]  # three of each


def bearings_of_line(
    sheet: Sheet, bridge: BridgeNodes, effects: Effects, steel: Steel,
    reactions: tuple[Reaction, ...], *, full: bool = True,
) -> None:  # fmt: skip
    """Check bearing stiffeners of a welded girder, or the web of a rolled one, at every support.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the parts.
    bridge, effects, steel, reactions
        Of the girder.
    full : bool
        Whether the governing support is written in full below the table.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 6.10.11.2, D6.5; from memory.
    """
    if bridge.chosen is not None:
        _rolled(sheet, bridge, steel, reactions)
        return
    quiet, lead = Tabulated(sheet), {}
    with sheet.part("Every support", tables_only=True):
        for reaction in reactions:
            location = f"support {reaction.support}"
            with sheet.part(f"Support {reaction.support}"):
                made = _stiffener(quiet.as_sheet, bridge, effects, reaction, location)
            lead[location] = [str(reaction.support), reaction.factored, made.bearing, made.column]
        ratio_table(sheet, quiet.ratios, lead, ["Support", "Ru", "Bearing", "Column"],
                    "Bearing stiffeners at every support")  # fmt: skip
        check_all(sheet, quiet.ratios, where="all supports")
    if not full:
        return
    worst = greatest(quiet.ratios).location
    reaction = next(r for r in reactions if f"support {r.support}" == worst)
    with sheet.part("Governing support"):
        sheet.note(f"Support {reaction.support}, counted from the left.")
        _stiffener(sheet, bridge, effects, reaction, worst)


def _stiffener(
    sheet: Sheet, bridge: BridgeNodes, effects: Effects, reaction: Reaction, location: str
) -> Any:
    details, source_of = bridge.data.details, bridge.data.source_of
    assert details is not None
    inner = 1 < reaction.support <= len(effects.spans)
    number = effects.line.pier_sections[reaction.support - 2] if inner else 1
    section = effects.sections[number - 1].bare.steel
    web = PanelWeb(section.web.width, section.web.thickness, section.web.strength)
    plate = StiffenerPlate(
        sheet.given("b_tb", details.bearing_width, "projecting width of a bearing stiffener",
                    source=source_of("bearing_width")),
        sheet.given("t_pb", details.bearing_thickness, "its thickness",
                    source=source_of("bearing_thickness")),
        web.strength,
        pair=True,
    )  # fmt: skip
    clip = sheet.given("c_clip", details.bearing_clip, "corner cut off",
                       source=source_of("bearing_clip"))  # fmt: skip
    return bearing_stiffener(
        sheet, BearingPairs(plate, clip), web, reaction=reaction.factored, location=location
    )


def _rolled(
    sheet: Sheet, bridge: BridgeNodes, steel: Steel, reactions: tuple[Reaction, ...]
) -> None:
    section = section_properties(sheet, steel.trial)
    ends = (reactions[0].factored, reactions[-1].factored)
    with sheet.part("End bearings"):
        web_at_bearing(
            sheet, section, yield_strength=bridge.yield_strength, reaction=maximum(*ends),
            length=bridge.bearing_length,
        )  # fmt: skip
    with sheet.part("Piers"):
        inner = [reaction.factored for reaction in reactions[1:-1]]
        web_over_pier(
            sheet, section, yield_strength=bridge.yield_strength,
            reaction=inner[0] if len(inner) == 1 else maximum(*inner),
            length=bridge.bearing_length,
        )  # fmt: skip


def web_over_pier(
    sheet: Sheet, section: SectionProperties, *, yield_strength: Operand, reaction: Operand,
    length: Operand,
) -> None:  # fmt: skip
    r"""Check local yielding and crippling of a web without bearing stiffeners over a pier.

    .. math:: R_n = (5 k + N) F_{yw} t_w, \qquad
        R_n = 0.8 t_w^2 \left[1 + 3\frac{N}{d}\left(\frac{t_w}{t_f}\right)^{1.5}\right]
        \sqrt{\frac{E F_{yw} t_f}{t_w}}

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    section : SectionProperties
        The rolled shape.
    yield_strength, reaction, length : Operand
        ``F_yw``, ``R_u`` and the length of bearing ``N``.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Eq. D6.5.2-2 and D6.5.3-2: the reaction stands more than the depth
    of the beam from its end; from memory.
    """
    step, E, F_y = sheet.step, use(sheet, "E"), yield_strength
    t_w, t_f, N, d = section.web, section.flange, length, section.depth
    R_y = step("R_niy", (5 * section.fillet + N) * F_y * t_w, kip, "web yielding over a pier",
               ref="LRFD D6.5.2-2")  # fmt: skip
    sheet.check("Web yielding over a pier", reaction <= use(sheet, "phi_b") * R_y,
                ref="LRFD D6.5.2-1", location="pier")  # fmt: skip
    R_c = step(
        "R_nic",
        0.8 * t_w**2 * (1 + 3 * N / d * (t_w / t_f) ** 1.5) * sqrt(E * F_y * t_f / t_w),
        kip, "web crippling over a pier", ref="LRFD D6.5.3-2",
    )  # fmt: skip
    sheet.check("Web crippling over a pier", reaction <= use(sheet, "phi_w") * R_c,
                ref="LRFD D6.5.3-1", location="pier")  # fmt: skip
