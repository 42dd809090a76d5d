"""Lanes on an exterior girder: equations, lever rule, rigid cross-section; which one governs."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from stepcalc.bridge.constants import use
from stepcalc.bridge.lanes.lever import EXTERIOR_LEVER, EXTERIOR_LEVER_MORE
from stepcalc.bridge.lanes.rigid import FIRST_TRUCK, RIGID_SECTION
from stepcalc.expr.functions import all_of, between, cases, maximum, minimum
from stepcalc.units import ft

if TYPE_CHECKING:
    from stepcalc.bridge.lanes.deck import Deck
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.sheet import Sheet

__all__ = ["ExteriorLanes", "exterior_lanes"]

_PRESENCE = ("m_1", "m_2", "m_3", "m_4")


@dataclass(frozen=True)
class ExteriorLanes:
    """Lanes on an exterior girder.

    Attributes
    ----------
    moment, shear : Operand
        ``g_Me``, ``g_Ve``: governing, multiple presence inside.
    moment_more, shear_more : Operand
        ``g_Me2``, ``g_Ve2``: two or more lanes by e times the interior factor, or what takes its
        place.
    lever_one, lever_more : Operand
        ``g_e1``, ``g_e2``, with multiple presence.
    rigid : Operand or None
        ``g_r``; None without cross-frames.
    fatigue : Operand
        ``g_ef``: one lane without multiple presence, the greater of lever rule and rigid section.
    """

    moment: Operand
    shear: Operand
    moment_more: Operand
    shear_more: Operand
    lever_one: Operand
    lever_more: Operand
    rigid: Operand | None
    fatigue: Operand


def exterior_lanes(
    sheet: Sheet,
    deck: Deck,
    *,
    interior_moment: Operand,
    interior_shear: Operand,
    cross_frames: bool = True,
    proof: str | None = "wheels",
) -> ExteriorLanes:
    r"""Write the lanes on an exterior girder by every rule, and pick the greatest.

    .. math:: e_M = 0.77 + \frac{d_e}{9.1}, \quad e_V = 0.6 + \frac{d_e}{10}, \quad
        R = \frac{N}{N_b} + \frac{X_{ext} \sum e}{\sum x^2}

    With three girders the moment of two or more lanes is the lesser of equation and lever rule,
    the shear that of the lever rule.  Outside the range of d_e the lever rule takes the place of
    the equation.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    deck : Deck
        The cross-section.
    interior_moment, interior_shear : Operand
        ``g_M2`` and ``g_V2`` of an interior girder, two or more lanes loaded.
    cross_frames : bool
        Whether cross-frames or diaphragms make the cross-section deflect as a rigid one.
    proof : {"wheels"} or None
        Whether the lever rule shows its wheels.

    Returns
    -------
    ExteriorLanes

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Tables 4.6.2.2.2d-1 and 4.6.2.2.3b-1, C4.6.2.2.1, C4.6.2.2.2d-1,
    Art. 3.6.1.1.2, 3.6.1.3.1; from memory.
    """
    with sheet.part("Lever rule, exterior girder"):
        lane = _lane_width(sheet, deck)
        R_1, g_1, g_2 = _lever(sheet, deck, lane, proof)
    rigid: tuple[Operand, Operand] | None = None
    if cross_frames:
        with sheet.part("Rigid cross-section, exterior girder"):
            rigid = _rigid(sheet, deck, lane, proof)
    else:
        sheet.note("No cross-frames or diaphragms: the rigid cross-section is not applied.")
    more = _equations(sheet, deck, g_2, interior_moment, interior_shear)
    single = g_1 if rigid is None else maximum(g_1, rigid[1])
    governing = [
        sheet.step(
            name,
            cases((deck.lanes <= 1, single, "one lane"), *_winners(found, g_1, rigid),
                  otherwise=(found, "two or more lanes")),
            None, f"{words} of an exterior girder, lanes", ref=ref,
        )
        for name, found, words, ref in (
            ("g_Me", more[0], "moment", "LRFD 4.6.2.2.2d"),
            ("g_Ve", more[1], "shear", "LRFD 4.6.2.2.3b"),
        )
    ]  # fmt: skip
    fatigue = sheet.step(
        "g_ef", R_1 if rigid is None else maximum(R_1, rigid[0]), None,
        "fatigue: one lane, no multiple presence", ref="LRFD 3.6.1.1.2",
    )  # fmt: skip
    rows: list[list[Any]] = [
        ["two or more lanes: e times interior, or its stand-in", *more],
        ["lever rule, one lane, m = 1.20", g_1, g_1],
        ["lever rule, two lanes or more, worst number", g_2, g_2],
    ]
    if rigid is not None:
        rows.append(["rigid cross-section, worst number of lanes", rigid[1], rigid[1]])
    rows.append(["governs", *governing])
    sheet.table(
        ["exterior girder, lanes", "moment", "shear"],
        rows,
        "Distribution factors of the exterior girder, multiple presence inside",
    )
    return ExteriorLanes(
        governing[0], governing[1], *more, g_1, g_2, None if rigid is None else rigid[1], fatigue
    )


def _winners(
    more: Operand, lever: Operand, rigid: tuple[Operand, Operand] | None
) -> list[tuple[Any, Any, str]]:
    if rigid is None:
        return [(lever >= more, lever, "the lever rule governs")]
    both = all_of(rigid[1] >= more, rigid[1] >= lever)
    return [
        (both, rigid[1], "the rigid cross-section governs"),
        (lever >= more, lever, "the lever rule governs"),
    ]


def _equations(
    sheet: Sheet, deck: Deck, lever: Operand, moment: Operand, shear: Operand
) -> tuple[Operand, Operand]:
    step, x = sheet.step, deck.curb.magnitude(ft)
    inside = between(deck.curb, -1 * ft, 5.5 * ft)
    found = []
    for key, words, e, g, table in (
        ("M", "moment", 0.77 + x / 9.1, moment, "LRFD Table 4.6.2.2.2d-1"),
        ("V", "shear", 0.6 + x / 10, shear, "LRFD Table 4.6.2.2.3b-1"),
    ):
        factor = step(f"e_{key}", e, None, f"correction, {words}", ref=table, valid=(inside,))
        few = minimum(factor * g, lever) if key == "M" else lever
        words_few = "the lesser of equation and lever rule" if key == "M" else "lever rule"
        found.append(
            step(
                f"g_{key}e2",
                cases(
                    (deck.curb < -1 * ft, lever, "lever rule, d_e below -1 ft"),
                    (deck.curb > 5.5 * ft, lever, "lever rule, d_e above 5.5 ft"),
                    (deck.spacing > 16 * ft, lever, "lever rule, S above 16 ft"),
                    (deck.girders <= 3, few, f"three girders: {words_few}"),
                    otherwise=(factor * g, "equation"),
                ),
                None, f"{words}, two or more lanes loaded, lanes", ref=table,
            )
        )  # fmt: skip
    return found[0], found[1]


def _lever(
    sheet: Sheet, deck: Deck, lane: Operand, proof: str | None
) -> tuple[Operand, Operand, Operand]:
    inputs: dict[str, Any] = {
        "spacing": deck.spacing, "curb": deck.curb, "first": use(sheet, "b_wheel"), "lane": lane
    }  # fmt: skip
    R_1 = sheet.computed(
        "R_e1", EXTERIOR_LEVER, inputs | {"lanes": "1"}, None,
        "lever rule, one lane loaded, without multiple presence", ref="LRFD C4.6.2.2.1",
        proof=proof,
    )  # fmt: skip
    presence = {key: use(sheet, key) for key in _PRESENCE}
    g_1 = sheet.step("g_e1", presence["m_1"] * R_1, None, "one lane, with m", ref="LRFD 3.6.1.1.2")
    g_2 = sheet.computed(
        "g_e2", EXTERIOR_LEVER_MORE, inputs | presence | {"lanes": deck.lanes}, None,
        "lever rule, two or more lanes, with m", ref="LRFD 3.6.1.1.2", proof=proof,
    )  # fmt: skip
    return R_1, g_1, g_2


def _lane_width(sheet: Sheet, deck: Deck) -> Operand:
    return sheet.step(
        "s_lane",
        cases(
            (all_of(deck.lanes >= 2, deck.roadway < 24 * ft), deck.roadway / 2, "narrow lanes"),
            otherwise=(1 * use(sheet, "b_lane"), "12 ft lanes"),
        ),
        ft, "from truck to truck", ref="LRFD 3.6.1.1.1",
    )  # fmt: skip


def _rigid(sheet: Sheet, deck: Deck, away: Operand, proof: str | None) -> tuple[Operand, Operand]:
    step, N_b, S, ref = sheet.step, deck.girders, deck.spacing, "LRFD C4.6.2.2.2d-1"
    X = step("X_ext", (N_b - 1) * S / 2, ft, "exterior girder to the middle of the deck", ref=ref)
    squares = step(
        "Sigma_x2", S**2 * N_b * (N_b**2 - 1) / 12, ft**2,
        "sum of the squares of the distances of all girders", ref=ref,
    )  # fmt: skip
    first = step(
        "e_1", X + deck.curb - FIRST_TRUCK * ft, ft,
        "first truck, 5 ft from the curb, to the middle of the deck", ref="LRFD 3.6.1.3.1",
    )  # fmt: skip
    R_1 = step("R_r1", 1 / N_b + X * first / squares, None, "1 lane loaded, without m", ref=ref)
    inputs: dict[str, Any] = {
        "spacing": S, "girders": N_b, "curb": deck.curb, "lane": away, "lanes": deck.lanes
    }  # fmt: skip
    g_r = sheet.computed(
        "g_r", RIGID_SECTION, inputs | {key: use(sheet, key) for key in _PRESENCE}, None,
        "rigid cross-section, worst number of lanes, with m", ref=ref,
        proof="table" if proof else None,
    )  # fmt: skip
    return R_1, g_r
