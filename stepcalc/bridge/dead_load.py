"""Dead load of a girder as it is taught: psf, plf, klf, then moment and shear."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from stepcalc.bridge.deck_load_checks import barrier_percentages
from stepcalc.bridge.fields import BarrierSharing, HaunchDatum, WearingBasis
from stepcalc.bridge.givens import article
from stepcalc.bridge.shared_loads import edge_load
from stepcalc.bridge.sidewalks import carried_width
from stepcalc.bridge.utilities import UTILITY_LOAD
from stepcalc.expr.functions import maximum
from stepcalc.units import inch, kip, kip_ft, klf, percent, plf, psf
from stepcalc.units.info import read_unit

if TYPE_CHECKING:
    from stepcalc.bridge.givens import BridgeNodes
    from stepcalc.bridge.section import TrialShape
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.sheet import Sheet

__all__ = ["DeadLoadEffects", "DeadLoads", "dead_load_effects", "dead_loads"]


@dataclass(frozen=True)
class DeadLoads:
    """Weights on one girder, [force / length].

    Attributes
    ----------
    before_deck, wet_deck : Operand
        ``w_st`` steel with its details, ``w_wet`` deck, haunch and forms.
    DC1, DC2, DW : Operand
        ``w_DC1``, ``w_DC2``, ``w_DW``.
    haunch : Operand
        ``t_h`` from the bottom of the slab to the top of the top flange, [length].
    walk : Operand or None
        ``b_PL``, width of sidewalk that the girder carries, [length].
    """

    before_deck: Operand
    wet_deck: Operand
    DC1: Operand
    DC2: Operand
    DW: Operand
    haunch: Operand
    walk: Operand | None = None


@dataclass(frozen=True)
class DeadLoadEffects:
    """Dead-load moments [force * length] and shears [force] of one girder, on the bare beam."""

    M_DC1: Operand
    M_DC2: Operand
    M_DW: Operand
    V_DC1: Operand
    V_DC2: Operand
    V_DW: Operand


def dead_loads(
    sheet: Sheet, bridge: BridgeNodes, trial: TrialShape, *, exterior: bool = False
) -> DeadLoads:
    r"""Write the weights on one girder, from the area to the line.

    .. math:: w_d = (t\,\gamma_c)\,S, \quad w_h = b_f t_h \gamma_c, \quad
        w_f = q_f (S - b_f), \quad w_{DC2} = 2 w_{bar}/N_b, \quad w_{DW} = q_{ws} w_r/N_b

    The total deck thickness weighs, with its sacrificial surface.  The forms span between flange
    edges.  Barriers are shared by all girders; so is the wearing surface over the roadway, unless
    the data say that each girder carries its tributary width.  An exterior girder carries half a
    bay and the overhang, and forms on its inner side only.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    bridge : BridgeNodes
        The bridge.
    trial : TrialShape
        The steel section on trial.
    exterior : bool
        Whether it is the girder at the edge of the deck.

    Returns
    -------
    DeadLoads
        Weights per length, and the haunch above the flange.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 3.5.1 (unit weights) and 4.6.2.2.1 (sharing); from memory.
    Take-off by tributary width: common practice, no source.
    """
    step, b_f, gamma_c, S = sheet.step, trial.flange_width, bridge.concrete_weight, bridge.spacing
    q_d = step(
        "q_d",
        bridge.deck * gamma_c,
        psf,
        "deck, weight on the area",
        ref=article(bridge.data, "3.5.1", "3.3.6"),
    )
    width, words = (S / 2 + bridge.overhang, "S/2 + OH") if exterior else (S, "S")
    w_d = step("w_d", q_d * width, plf, "deck on one girder", ref=f"tributary width {words}")
    t_h = _haunch(sheet, bridge, trial)
    w_h = step("w_h", b_f * t_h * gamma_c, plf, "haunch", ref="width of the flange")
    w_f = step(
        "w_f",
        bridge.forms * ((S - b_f) / 2 if exterior else S - b_f),
        plf,
        "forms and the concrete in their valleys, between flange edges"
        + (", inner bay only" if exterior else ""),
        ref="clear width of the bay",
    )
    w_m = _miscellaneous(sheet, bridge, trial)
    before = step("w_st", trial.weight + w_m, plf, "steel, on the beam before the deck", ref="sum")
    wet = step("w_wet", w_d + w_h + w_f, plf, "wet deck, poured on the bare beam", ref="sum")
    DC1 = step(
        "w_DC1",
        before + wet,
        klf,
        "DC1: steel and deck",
        ref=article(bridge.data, "3.3.2, 3.5.1", "3.3"),
    )
    walk = None
    if bridge.sidewalk is not None:
        walk = carried_width(sheet, bridge, exterior=exterior)
    DC2 = _after_deck(sheet, bridge, exterior, walk)
    surface = _wearing_surface(sheet, bridge, exterior)
    return DeadLoads(before, wet, DC1, DC2, surface, t_h, walk)


def dead_load_effects(
    sheet: Sheet, loads: DeadLoads, *, span: Operand, section: Operand | None = None
) -> DeadLoadEffects:
    r"""Write dead-load moments and end shears of a simple span.

    .. math:: M = w L^2/8 \quad\text{or}\quad M(x) = w\,x (L - x)/2, \qquad V = w L/2

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    loads : DeadLoads
        Weights per length.
    span : Operand, [length]
        Span.
    section : Operand or None, [length]
        Where the moment is wanted; None for midspan.  The combined maximum at one section goes
        with the section of the live load, the sum of separate maxima with midspan.

    Returns
    -------
    DeadLoadEffects
        ``M_DC1``, ``M_DC2``, ``M_DW``, ``V_DC1``, ``V_DC2``, ``V_DW``.

    Source
    ------
    Statics: uniform load on a simple beam. No clause.
    """
    step, L = sheet.step, span
    where = "midspan" if section is None else "the section of the live-load maximum"

    def moment(name: str, w: Operand, what: str) -> Operand:
        formula = w * L**2 / 8 if section is None else w * section * (L - section) / 2
        return step(name, formula, kip_ft, f"moment of {what} at {where}", ref="statics")

    def shear(name: str, w: Operand, what: str) -> Operand:
        return step(name, w * L / 2, kip, f"shear of {what} at the bearing", ref="statics")

    rows = (
        ("DC1", loads.DC1, "DC1"),
        ("DC2", loads.DC2, "DC2"),
        ("DW", loads.DW, "DW"),
    )
    moments = [moment(f"M_{name}", w, what) for name, w, what in rows]
    shears = [shear(f"V_{name}", w, what) for name, w, what in rows]
    return DeadLoadEffects(*moments, *shears)


def _after_deck(
    sheet: Sheet, bridge: BridgeNodes, exterior: bool, width: Operand | None
) -> Operand:
    """Write DC2: barriers by the owner's rule, sidewalks and their rails."""
    parts: list[Any] = []
    data = bridge.data
    if data.barrier_sharing is BarrierSharing.EQUAL:
        barriers: Any = 2 * bridge.barrier_weight / bridge.girders
        words = "DC2: both barriers, shared by all girders"
    else:
        found = edge_load(
            sheet, bridge.barrier_weight, girders=bridge.girders,
            rule=data.barrier_sharing.value, first=data.barrier_girders or 1,
            percentages=barrier_percentages(data.barrier_shares) if data.barrier_shares else (),
        )  # fmt: skip
        barriers = found.exterior if exterior else maximum(found.first, found.interior)
        words = "DC2: barriers" + ("" if exterior else ", the interior girder that carries most")
    if width is not None:
        walk = sheet.step(
            "w_wk", bridge.concrete_weight * bridge.walk.thickness * width, plf,
            "sidewalk above the deck", ref=article(bridge.data, "3.5.1", "3.3.6"),
        )  # fmt: skip
        parts.append(walk)
        words += ", and the sidewalk"
        if bridge.walk.rail_weight is not None:
            rail = sheet.step(
                "w_rl",
                (bridge.walk.rail_weight if data.sidewalks == 1 else 2 * bridge.walk.rail_weight)
                / bridge.girders, plf,
                "rails outside the walks, shared by all girders",
                ref=article(bridge.data, "4.6.2.2.1", "3.23.2.3.1.1"),
            )  # fmt: skip
            parts.append(rail)
    total = barriers
    for part in parts:
        total = total + part
    equal = article(data, "4.6.2.2.1", "3.23.2.3.1.1")
    ref = equal if data.barrier_sharing is BarrierSharing.EQUAL else "sum"
    return sheet.step("w_DC2", total, klf, words, ref=ref)


def _haunch(sheet: Sheet, bridge: BridgeNodes, trial: TrialShape) -> Operand:
    if bridge.data.haunch_datum is HaunchDatum.TOP_OF_FLANGE:
        return bridge.haunch
    t_ft = trial.flange_thickness
    if t_ft is None:
        t_ft = sheet.lookup(
            "t_ft",
            "w_shapes",
            trial.shape,
            "tf",
            inch,
            "thickness of the top flange, within the haunch",
            ref="shape table",
        )
    return sheet.step(
        "t_h",
        bridge.haunch - t_ft,
        inch,
        "haunch, bottom of slab to top of the top flange",
        ref="geometry",
        valid=(bridge.haunch >= t_ft,),
    )


def _miscellaneous(sheet: Sheet, bridge: BridgeNodes, trial: TrialShape) -> Operand:
    if read_unit(bridge.data.miscellaneous.units).dim is not read_unit(percent).dim:
        return bridge.miscellaneous
    return sheet.step(
        "w_m",
        bridge.miscellaneous * trial.weight,
        plf,
        "diaphragms, stiffeners, bolts",
        ref="share of the beam",
    )


def _wearing_surface(sheet: Sheet, bridge: BridgeNodes, exterior: bool) -> Operand:
    q = bridge.wearing_surface
    if bridge.data.wearing_basis is WearingBasis.SHARED:
        w = sheet.step(
            "w_ws",
            q * bridge.roadway / bridge.girders,
            plf,
            "wearing surface curb to curb, shared by all girders",
            ref=article(bridge.data, "4.6.2.2.1", "3.23.2.3.1.1"),
        )
    else:
        S, inner = bridge.spacing, _curb(bridge)
        w = sheet.step(
            "w_ws",
            q * (S / 2 + inner if exterior else S),
            plf,
            "wearing surface on one girder",
            ref="tributary width, curb to half a bay" if exterior else "tributary width S",
        )
    utilities = bridge.data.utilities
    if utilities is None:
        return sheet.step(
            "w_DW", w, klf, "DW: wearing surface", ref=article(bridge.data, "3.3.2", "3.3")
        )
    hung = sheet.computed(
        "w_ut", UTILITY_LOAD,
        {"utilities": utilities, "spacing": bridge.spacing, "girders": bridge.girders,
         "girder": "exterior" if exterior else "interior"},
        klf, f"utilities on the {'exterior' if exterior else 'interior'} girder that carries most",
        ref="as hung", proof="table",
    )  # fmt: skip
    return sheet.step(
        "w_DW",
        w + hung,
        klf,
        "DW: wearing surface and utilities",
        ref=article(bridge.data, "3.3.2", "3.3"),
    )


def _curb(bridge: BridgeNodes) -> Any:
    """Return the distance from the exterior girder to the face of its curb."""
    curb: Any = bridge.overhang - bridge.barrier_width
    walk = bridge.sidewalk
    if walk is not None:
        curb = curb - walk.width
        if walk.rail_width is not None:
            curb = curb - walk.rail_width
    return curb
