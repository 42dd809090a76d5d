"""Stresses by stage: each moment on the section that stands when it comes (6.10.1.1.1)."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from stepcalc.bridge.constants import use
from stepcalc.errors import RangeError
from stepcalc.expr.functions import cases, maximum
from stepcalc.units import inch, kip_ft, ksi

if TYPE_CHECKING:
    from stepcalc.bridge.composite.elastic import Elastic, ElasticSections
    from stepcalc.bridge.composite.geometry import Geometry
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.sheet import Sheet

STATES = ("Strength I", "Service II", "Group I", "Overload", "Working loads")
"""LRFD strength and service; load factor design and its overload; allowable stress."""


@dataclass(frozen=True)
class StageMoments:
    """Factored moments by the section that carries them, positive in the sense of bending.

    Attributes
    ----------
    on_steel, on_long_term, on_short_term : Operand, [force * length]
        ``M_D1``, ``M_D2``, ``M_L``.
    total : Operand, [force * length]
        Their sum; it may only be held against a plastic moment.
    """

    on_steel: Operand
    on_long_term: Operand
    on_short_term: Operand
    total: Operand


@dataclass(frozen=True)
class StageSections:
    """The section of each stage."""

    steel: Elastic
    long_term: Elastic
    short_term: Elastic


@dataclass(frozen=True)
class StagedStresses:
    """Stresses of one limit state, positive in the sense that bending gives them.

    Attributes
    ----------
    top, bottom : Operand, [stress]
        Extreme fibres of the steel: ``f_t``, ``f_b``.
    deck : Operand or None, [stress]
        Top of the slab, with the short-term ratio for all loads: ``f_dk``.
    bars : Operand or None, [stress]
        Top layer of bars: ``f_rt``.
    """

    top: Operand
    bottom: Operand
    deck: Operand | None = None
    bars: Operand | None = None


def stage_moments(
    sheet: Sheet, DC1: Operand, *, DC2: Operand, DW: Operand, LL: Operand, state: str,
    composite: bool = True,
) -> StageMoments:  # fmt: skip
    """Write the factored moments of the three stages.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    DC1, DC2, DW, LL : Operand, [force * length]
        Unfactored moments, positive in the sense of bending that is looked at; LL with impact.
    state : str
        One of :data:`STATES`.
    composite : bool
        Whether the stages act on different sections; in words only.

    Returns
    -------
    StageMoments
        Steps ``M_D1 M_D2 M_L M_u``.

    Raises
    ------
    RangeError
        If the limit state is another.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Table 3.4.1-1 and Art. 6.10.1.1.1a; Standard Specifications,
    17th ed. (2002), Art. 3.22.1, 10.57; from memory.
    """
    first, second, live, ref = _factored(sheet, state, DC1=DC1, DC2=DC2, DW=DW)
    step = sheet.step
    words = ("on the steel", "on the long-term section", "on the short-term section")
    if not composite:
        words = ("DC1", "DC2 and DW", "live load")
    M_1 = step("M_D1", first, kip_ft, f"{words[0]}, {state}", ref=ref)
    M_2 = step("M_D2", second, kip_ft, f"{words[1]}, {state}", ref=ref)
    M_L = step("M_L", live * LL, kip_ft, f"{words[2]}, {state}", ref=ref)
    M = step("M_u", M_1 + M_2 + M_L, kip_ft, f"sum of the factored moments, {state}", ref=ref)
    return StageMoments(M_1, M_2, M_L, M)


def _factored(
    sheet: Sheet, state: str, *, DC1: Operand, DC2: Operand, DW: Operand
) -> tuple[Operand, Operand, Any, str]:
    """Return the dead load of both stages, factored, the live-load factor and the reference."""
    if state == "Strength I":
        DC, W, live = use(sheet, "gamma_DC"), use(sheet, "gamma_DW"), use(sheet, "gamma_LL")
        return DC * DC1, DC * DC2 + W * DW, live, "LRFD Table 3.4.1-1"
    if state == "Service II":
        return 1 * DC1, DC2 + DW, use(sheet, "gamma_SII"), "LRFD Table 3.4.1-1"
    if state == "Group I":
        gamma, beta = use(sheet, "gamma_LFD"), use(sheet, "beta_LFD")
        return gamma * DC1, gamma * (DC2 + DW), gamma * beta, "Std 3.22.1"
    if state == "Overload":
        return 1 * DC1, DC2 + DW, use(sheet, "beta_LFD"), "Std 10.57"
    if state == "Working loads":
        return 1 * DC1, DC2 + DW, 1, "Std 3.22.1"
    fits = ", ".join(repr(name) for name in STATES)
    msg = f"moments are staged for one of {fits}, not {state!r}"
    raise RangeError(msg)


def stage_sections(
    elastic: ElasticSections, *, positive: bool, deck_in_tension: bool = False
) -> StageSections:
    """Choose the section of each stage.

    Parameters
    ----------
    elastic : ElasticSections
        All sections of the girder.
    positive : bool
        Whether bending puts the bottom in tension.
    deck_in_tension : bool
        Negative bending, Service II and fatigue: take the deck as effective, which asks for shear
        connectors throughout, one percent of reinforcement, and deck tension below 2 f_r.

    Returns
    -------
    StageSections
        3n and n; or the cracked section twice; or the steel where nothing else stands.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 6.10.1.1.1b, -1c, 6.10.4.2.1; from memory.
    """
    steel = elastic.steel
    if positive or deck_in_tension:
        return StageSections(steel, elastic.long_term or steel, elastic.short_term or steel)
    cracked = elastic.cracked or steel
    return StageSections(steel, cracked, cracked)


def staged_stresses(
    sheet: Sheet, sections: StageSections, moments: StageMoments, *, positive: bool
) -> StagedStresses:
    r"""Write the stresses of one limit state at the extreme fibres.

    .. math:: f = \frac{M_{D1}}{S_s} + \frac{M_{D2}}{S_{3n}} + \frac{M_L}{S_n}

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    sections : StageSections
        From :func:`stage_sections`.
    moments : StageMoments
        From :func:`stage_moments`.
    positive : bool
        Sense of bending; in words only, for compression and tension.

    Returns
    -------
    StagedStresses
        Steps ``f_b``, ``f_t`` and, where they exist, ``f_dk`` (slab) and ``f_rt`` (bars).

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 6.10.1.1.1a and, for the slab, 6.10.1.1.1d; from memory.
    """
    step, ref = sheet.step, "LRFD 6.10.1.1.1a"
    one, two, three = sections.steel, sections.long_term, sections.short_term
    M_1, M_2, M_L = moments.on_steel, moments.on_long_term, moments.on_short_term
    pull, push = "tension", "compression"
    f_b = step(
        "f_b",
        M_1 / one.S_bottom + M_2 / two.S_bottom + M_L / three.S_bottom,
        ksi,
        f"bottom flange, {pull if positive else push}",
        ref=ref,
    )
    f_t = step(
        "f_t",
        M_1 / one.S_top + M_2 / two.S_top + M_L / three.S_top,
        ksi,
        f"top flange, {push if positive else pull}",
        ref=ref,
    )
    deck = bars = None
    if three.S_deck is not None and three.ratio is not None:
        deck = step(
            "f_dk",
            (M_2 + M_L) / (three.ratio * three.S_deck),
            ksi,
            f"top of the slab, {push if positive else pull}, short-term ratio for all loads",
            ref="LRFD 6.10.1.1.1d",
        )
    if three.S_bars is not None:
        bars = step("f_rt", (M_2 + M_L) / three.S_bars, ksi, "top reinforcement, tension", ref=ref)
    return StagedStresses(f_t, f_b, deck, bars)


def compressed_web_by_stress(
    sheet: Sheet,
    geometry: Geometry,
    stresses: StagedStresses,
    section: Elastic,
    *,
    positive: bool = True,
) -> Operand:
    r"""Write the elastic depth of web in compression of a composite section by its stresses.

    Positive bending, and negative bending where the deck is taken as effective (Service II).

    .. math:: D_c = \frac{|f_c|}{|f_c| + f_t} d - t_{fc} \ge 0

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the step.
    geometry : Geometry
        Depth and edges of the web.
    stresses : StagedStresses
        Of the limit state that is looked at.
    section : Elastic
        The short-term section: its axis serves where no moment acts.
    positive : bool
        Whether the top is in compression.

    Returns
    -------
    Operand
        The step ``D_c``, [length].

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Eq. D6.3.1-1; from memory.
    """
    d, y = geometry.depth, section.centroid
    both = stresses.top + stresses.bottom
    push: Operand
    over: Operand
    if positive:
        push, over, reach = stresses.top, d - geometry.web_top, geometry.web_top - y
    else:
        push, over, reach = stresses.bottom, geometry.web_bottom, y - geometry.web_bottom
    by_axis = maximum(reach, 0 * inch)
    return sheet.step(
        "D_c",
        cases(
            (both > 0 * ksi, maximum(push / both * d - over, 0 * inch), "by the stresses"),
            otherwise=(by_axis, "no bending: axis of the short-term section"),
        ),
        inch,
        "depth of web in compression, elastic",
        ref="LRFD D6.3.1-1",
    )


def compressed_web_by_axis(
    sheet: Sheet, geometry: Geometry, section: Elastic, *, positive: bool
) -> Operand:
    """Write the elastic depth of web in compression of a section with one neutral axis.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the step.
    geometry : Geometry
        Edges of the web.
    section : Elastic
        The steel, or steel and reinforcement.
    positive : bool
        Whether the top is in compression.

    Returns
    -------
    Operand
        The step ``D_c``, [length], from 0 to ``D``.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. D6.3.1; from memory.
    """
    D, y = geometry.section.web.width, section.centroid
    reach = geometry.web_top - y if positive else y - geometry.web_bottom
    return sheet.step(
        "D_c",
        cases(
            (reach >= D, D, "all of the web in compression"),
            (reach > 0 * inch, reach, "axis in the web"),
            otherwise=(0 * inch, "none of the web in compression"),
        ),
        inch,
        "depth of web in compression, elastic",
        ref="LRFD D6.3.1",
    )
