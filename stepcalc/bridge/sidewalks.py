"""Sidewalks: their weight, pedestrians as a loaded lane, and a vehicle that strays on the walk."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

from stepcalc.bridge.constants import use
from stepcalc.bridge.deck_shares import greatest, mirrored, panel, pieces, strip_widths
from stepcalc.bridge.fields import WalkSharing
from stepcalc.bridge.lanes.lever import INTERIOR_LEVER_MORE
from stepcalc.expr.functions import any_of, cases, floor, maximum
from stepcalc.sheet.kernels import Kernel, register_kernel
from stepcalc.sheet.sheet import Sheet
from stepcalc.units import ft, kip, kip_ft, klf
from stepcalc.units.numbers import shown_text

if TYPE_CHECKING:
    from stepcalc.bridge.distribution import Distribution
    from stepcalc.bridge.givens import BridgeNodes
    from stepcalc.bridge.live_load import GirderLiveLoad, LaneEffects
    from stepcalc.expr.tree import Condition, Operand

__all__ = ["WALK_WIDTH", "PedestrianEffects", "carried_width", "pedestrian_effects", "with_walks"]


@dataclass(frozen=True)
class PedestrianEffects:
    """Pedestrian load of one girder: ``w_PL`` [force / length], ``M_PL``, ``V_PL``."""

    load: Operand
    moment: Operand
    shear: Operand


def _carried(start: Any, end: Any, spacing: Any, girders: Any, walks: str, girder: str) -> Any:
    def one(a: float, z: float, S: float, N_b: float) -> float:
        widths = strip_widths(a, z, S, round(N_b))
        return greatest(mirrored(widths, walks == "2"), girder)

    if all(np.ndim(value) == 0 for value in (start, end, spacing, girders)):
        return one(float(start), float(end), float(spacing), float(girders))
    return np.vectorize(one, otypes=[np.float64])(start, end, spacing, girders)


def _table(
    start: float, end: float, spacing: float, girders: float, walks: str, girder: str
) -> Sheet:
    """Return the proof: the width on every girder, and that of the girder that carries most."""
    sheet = Sheet("width of the walk on every girder")
    widths = mirrored(strip_widths(start, end, spacing, round(girders)), walks == "2")
    rows = [[f"{n}", f"{shown_text(float(w)) if w else '0'} ft"] for n, w in enumerate(widths, 1)]
    sheet.table(["girder", "width"], rows,
                f"From {start:.4g} to {end:.4g} ft from the left exterior girder"
                f"{', and the same at the right' if walks == '2' else ''}; lever rule")  # fmt: skip
    count = round(girders)
    at = [0, count - 1] if girder == "exterior" else list(range(1, count - 1))
    worst = max(at, key=lambda place: float(widths[place]))
    S = sheet.given("S", spacing * ft, "spacing of the girders", source="as above")
    terms = _terms(S, start, end, spacing, count, worst)
    if walks == "2":
        terms += _terms(S, start, end, spacing, count, count - 1 - worst)
    formula = sum(terms[1:], terms[0]) if terms else 0 * S
    sheet.step("b_PL", formula, ft, f"on girder {worst + 1}: each piece at its middle",
               ref="lever rule")  # fmt: skip
    return sheet


def _terms(S: Any, start: float, end: float, spacing: float, count: int, girder: int) -> list[Any]:
    """Return the pieces of a walk that a girder carries, each width times its share."""
    found = []
    for a, z in pieces(start, end, spacing, count):
        left, beyond = panel((a + z) / 2, spacing, count)
        width, inner = (z - a) * ft, beyond * ft
        if girder == left:
            found.append(width * (1 - inner / S))
        elif girder == left + 1:
            found.append(width * (inner / S))
    return found


WALK_WIDTH = register_kernel(
    Kernel(
        "sidewalk: width on a girder",
        1,
        _carried,
        {"start": "ft", "end": "ft", "spacing": "ft", "girders": None, "walks": "choice",
         "girder": "choice"},
        "ft",
        {"table": _table},
        "each piece of the walk between two girders by the lever rule; the girder of the kind that "
        "carries most",
    )
)  # fmt: skip
"""Width of all sidewalks that the girder of a kind that carries most of them has."""


def carried_width(sheet: Sheet, bridge: BridgeNodes, *, exterior: bool = False) -> Operand:
    r"""Write the width of sidewalk that one girder carries.

    .. math:: b_{PL} = n_w b_w/N_b, \quad\text{or by the lever rule}

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the step.
    bridge : BridgeNodes
        A bridge with sidewalks.
    exterior : bool
        Whether it is the girder at the edge of the deck.

    Returns
    -------
    Operand
        ``b_PL``, [length].

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 4.6.2.2.1, equal shares; from memory.  Lever rule: statics.
    """
    walk = bridge.walk
    count = bridge.data.sidewalks
    if bridge.data.walk_sharing is WalkSharing.EQUAL:
        return sheet.step(
            "b_PL", (walk.width if count == 1 else 2 * walk.width) / bridge.girders, ft,
            "width of sidewalk on one girder, all girders equally", ref="LRFD 4.6.2.2.1",
        )  # fmt: skip
    start = sheet.step(
        "x_w", walk.edge - bridge.overhang, ft,
        "outer edge of the walk, from the exterior girder inward", ref="geometry",
    )  # fmt: skip
    inputs: dict[str, Any] = {
        "start": start, "end": start + walk.width, "spacing": bridge.spacing,
        "girders": bridge.girders, "walks": str(count),
        "girder": "exterior" if exterior else "interior",
    }  # fmt: skip
    found: Operand = sheet.computed(
        "b_PL", WALK_WIDTH, inputs, ft, "width of sidewalk on the girder", ref="lever rule",
        proof="table",
    )  # fmt: skip
    return found


def _loaded_width(sheet: Sheet, bridge: BridgeNodes) -> Operand:
    """Write the width of sidewalk on an interior girder, without people who would relieve it."""
    edge = next(node for node in sheet.steps if node.name == "x_w")
    start = maximum(edge, 0 * ft)
    inputs: dict[str, Any] = {
        "start": start, "end": maximum(edge + bridge.walk.width, start),
        "spacing": bridge.spacing, "girders": bridge.girders,
        "walks": str(bridge.data.sidewalks), "girder": "interior",
    }  # fmt: skip
    found: Operand = sheet.computed(
        "b_PA", WALK_WIDTH, inputs, ft,
        "width of sidewalk on the girder; people beyond the exterior girder, who relieve, left out",
        ref="lever rule", proof="table",
    )  # fmt: skip
    return found


def pedestrian_effects(sheet: Sheet, bridge: BridgeNodes, width: Operand) -> PedestrianEffects:
    r"""Write the pedestrian load of one girder, its moment at midspan and shear at the bearing.

    .. math:: w_{PL} = q_{PL}\,b_{PL} \quad (b_w > 2\,\mathrm{ft})

    By the lever rule people outside the exterior girder would lift the first interior one: a live
    load that relieves is left out, so that the walk is loaded from the exterior girder inward.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    bridge : BridgeNodes
        A bridge with sidewalks.
    width : Operand, [length]
        ``b_PL``.

    Returns
    -------
    PedestrianEffects

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 3.6.1.6; no dynamic load allowance, 3.6.2.1; from memory.
    """
    L = bridge.span
    if bridge.data.walk_sharing is not WalkSharing.EQUAL:
        width = _loaded_width(sheet, bridge)
    w = sheet.step(
        "w_PL",
        cases(
            (bridge.walk.width > 2 * ft, use(sheet, "q_PL") * width, "walk wider than 2 ft"),
            otherwise=(0 * klf, "walk of 2 ft or less"),
        ),
        klf, "pedestrian load of one girder, no dynamic load allowance", ref="LRFD 3.6.1.6",
    )  # fmt: skip
    M = sheet.step("M_PL", w * L**2 / 8, kip_ft, "its moment at midspan", ref="statics")
    V = sheet.step("V_PL", w * L / 2, kip, "its shear at the bearing", ref="statics")
    return PedestrianEffects(w, M, V)


def with_walks(
    sheet: Sheet,
    bridge: BridgeNodes,
    lane: LaneEffects,
    shares: Distribution,
    live: GirderLiveLoad,
    people: PedestrianEffects,
) -> tuple[Operand, Operand]:
    r"""Write the live load of an interior girder with pedestrians as a further loaded lane.

    .. math:: M_{LP} = \max\left[g M_{HL},\;
        m_2\left(\frac{g_1}{m_1} M_{HL} + M_{PL}\right),\; g M_{HL} + M_{PL}\right]

    The second is one lane of vehicles with the walk, two loaded lanes; the third is two or more
    lanes of vehicles with the walk: the equations hold the multiple presence of the lanes, and
    none is taken for the walk, on the safe side.  The factor of a single loaded lane is not put on
    pedestrians alone, so that they without vehicles are less than the second.  Where nothing
    separates the walk from traffic, vehicles over the whole width between the barriers are a case
    of their own, without pedestrians.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    bridge : BridgeNodes
        A bridge with sidewalks.
    lane : LaneEffects
        HL-93 of one lane, with dynamic load allowance.
    shares : Distribution
        Of the interior girder.
    live : GirderLiveLoad
        Vehicles alone.
    people : PedestrianEffects

    Returns
    -------
    tuple of Operand
        ``M_LP`` and ``V_LP``, what takes the place of live load in every combination.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 3.6.1.1.2 and C3.6.1.1.2, 3.6.1.6; from memory.
    """
    walk_lanes = None if bridge.data.sidewalk_separated else _lanes_on_the_walk(sheet, bridge)
    found, columns = [], []
    for tag, unit, one_lane, vehicles, pedestrians, pair, words in (
        ("M", kip_ft, lane.moment, live.moment, people.moment,
         (shares.moment_one, shares.moment_more), "moment"),
        ("V", kip, lane.shear, live.shear, people.shear,
         (shares.shear_one, shares.shear_more), "shear"),
    ):  # fmt: skip
        ref = "LRFD 3.6.1.1.2"
        g_1 = sheet.step(
            f"g_{tag}P",
            cases(
                (_by_lever(bridge), shares.lever.one, "lever rule"),
                otherwise=(pair[0], "equation"),
            ),
            None, f"{words}: one lane beside the walk, with m", ref="LRFD 4.6.2.2",
        )  # fmt: skip
        single = sheet.step(
            f"{tag}_P1",
            use(sheet, "m_2") * (g_1 / use(sheet, "m_1") * one_lane + pedestrians), unit,
            f"{words}: one lane and the walk, two loaded lanes", ref=ref,
        )  # fmt: skip
        several = sheet.step(
            f"{tag}_P2",
            cases((bridge.lanes <= 1, single, "there is one lane only"),
                  otherwise=(vehicles + pedestrians, "no reduction for the walk")),
            unit, f"{words}: two or more lanes and the walk", ref=ref,
        )  # fmt: skip
        column = [vehicles, single, several]
        if walk_lanes is not None:
            g_w = sheet.step(
                f"g_{tag}w",
                cases(
                    (walk_lanes[0] <= 1, g_1, "one lane"),
                    (_by_lever(bridge), maximum(g_1, walk_lanes[1]), "lever rule"),
                    otherwise=(maximum(*pair), "the greater of both equations"),
                ),
                None, f"lanes on the girder, {words}, vehicles on the walk", ref="LRFD 4.6.2.2",
            )  # fmt: skip
            column.append(sheet.step(
                f"{tag}_w", g_w * one_lane, unit, f"{words}: vehicles on the walk, no pedestrians",
                ref="LRFD 3.6.1.6",
            ))  # fmt: skip
        total = sheet.step(
            f"{tag}_LP", maximum(*column), unit, f"live-load {words} with pedestrians",
            ref="LRFD 3.6.1.1.2, 3.6.1.6",
        )  # fmt: skip
        columns.append([*column, total])
        found.append(total)
    names = ["vehicles alone", "one lane and the walk", "two or more lanes and the walk"]
    names += ["vehicles on the walk, no pedestrians"] if walk_lanes is not None else []
    rows = [list(row) for row in zip([*names, "the greatest"], *columns, strict=True)]
    sheet.table(["loaded", "moment", "shear"], rows,
                "Live load with pedestrians: every case")  # fmt: skip
    return found[0], found[1]


def _by_lever(bridge: BridgeNodes) -> Condition:
    """Return the condition on which the code puts the lever rule in the place of equations."""
    return any_of(bridge.spacing > 16 * ft, bridge.girders <= 3)


def _lanes_on_the_walk(sheet: Sheet, bridge: BridgeNodes) -> tuple[Operand, Operand]:
    """Write the lanes between the outer barriers, and their lever rule."""
    sheet.note(
        "No barrier keeps vehicles off the walk: vehicles between the outer barriers, without "
        "pedestrians, are a case of their own."
    )
    walk = bridge.walk.width if bridge.data.sidewalks == 1 else 2 * bridge.walk.width
    width = sheet.step("w_rw", bridge.roadway + walk, ft, "between the outer barriers",
                       ref="geometry")  # fmt: skip
    lanes = sheet.step(
        "N_Lw",
        cases(
            (width < 20 * ft, 1, "one lane"),
            (width < 24 * ft, 2, "two lanes of half the width"),
            otherwise=(floor(width / use(sheet, "b_lane")), "12 ft lanes"),
        ),
        None, "lanes that fit between the outer barriers", ref="LRFD 3.6.1.1.1",
    )  # fmt: skip
    inputs: dict[str, Any] = {
        "spacing": bridge.spacing, "lanes": lanes, "girders": bridge.girders
    } | {key: use(sheet, key) for key in ("m_1", "m_2", "m_3", "m_4")}  # fmt: skip
    lever: Operand = sheet.computed(
        "g_lw", INTERIOR_LEVER_MORE, inputs, None, "lever rule with vehicles on the walk, with m",
        ref="LRFD C4.6.2.2.1, 3.6.1.1.2", proof="wheels",
    )  # fmt: skip
    return lanes, lever
