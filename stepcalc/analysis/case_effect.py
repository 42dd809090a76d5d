"""The largest effect of one case of a live load on many influence lines at once."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, fields
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from stepcalc.analysis.beam_batch import SolvedBeams, of_rows
from stepcalc.analysis.effect_rows import EffectRows, pair_rows
from stepcalc.analysis.line_signs import ROUND_OFF, areas, restricted
from stepcalc.analysis.train_placement import Halves, Placed, ordinates_at, place, place_rigid
from stepcalc.analysis.train_search import AxleGroup, best_position

if TYPE_CHECKING:
    from stepcalc.analysis.line_family import LineFamily
    from stepcalc.analysis.load_case import LoadCase, Pair
    from stepcalc.analysis.vehicles import Vehicle

__all__ = ["CaseEffect", "case_effect", "case_effects"]

Array = NDArray[np.float64]
Integers = NDArray[np.int64]

_EVENTS = 24_000
"""Events of all rows of a piece: some forty arrays of that many doubles are alive at once."""


@dataclass(frozen=True, eq=False)
class CaseEffect:
    """The largest effect of one case on every row, as a positive number, and how it comes about.

    Attributes
    ----------
    case : LoadCase
    total : ndarray of float, shape (rows,)
        Axles and lane with their factors; -inf where the case does not apply.
    axles, lane : ndarray of float, shape (rows,)
        Sum of forces times ordinates, and intensity times area, both without factors.
    forces, positions, ordinates : ndarray of float, shape (rows, n)
        What stands where; the ordinate of an axle that is left out is 0.
    sides : ndarray of int, shape (rows, n)
    heading : ndarray of int, shape (rows,)
        -1 to the left, 1 to the right, 0 without a vehicle.
    """

    case: LoadCase
    total: Array
    axles: Array
    lane: Array
    forces: Array
    positions: Array
    ordinates: Array
    sides: Integers
    heading: Integers


def case_effect(case: LoadCase, rows: EffectRows) -> CaseEffect:
    """Return the largest effect of one case on every row.

    Parameters
    ----------
    case : LoadCase
    rows : EffectRows

    Returns
    -------
    CaseEffect

    Source
    ------
    Superposition of influence ordinates. No clause.
    """
    lane = case.lane * areas(rows.adding) if case.lane else np.zeros(len(rows.lines))
    if case.pair is not None and case.vehicle is not None:
        return _pair_effect(case, case.vehicle, case.pair, rows, lane)
    if case.vehicle is not None:
        lines = rows.adding if case.relieving == "dropped" else rows.lines
        placed = _placed_vehicle(lines, case.vehicle, _worth(case))
        forces = np.broadcast_to(np.asarray(case.vehicle.axles, float), placed.positions.shape)
        return _result(
            case,
            lane,
            forces,
            placed,
            ordinates_at(lines, placed.positions, placed.sides),
            lines.size,
        )
    return _riding_effect(case, rows, lane)


def case_effects(
    cases: Sequence[LoadCase],
    model: SolvedBeams,
    beams: Integers,
    effects: NDArray[np.str_],
    sections: Array,
    faces: Integers,
    signs: Integers,
    lines: LineFamily,
) -> tuple[CaseEffect, ...]:
    """Return the largest effect of every case on every row, in pieces that fit into a cache.

    Parameters
    ----------
    cases : sequence of LoadCase
    model, beams, effects, sections, faces, signs : as in `EffectRows`
    lines : LineFamily
        With their own sign.

    Returns
    -------
    tuple of CaseEffect
    """
    axles = max([2, *(_axle_count(case) for case in cases)])
    step = max(16, _EVENTS // (axles * lines.breaks.shape[1]))
    found: list[list[CaseEffect]] = []
    for start in range(0, len(beams), step):
        cut = slice(start, start + step)
        rows = EffectRows.of(
            model,
            beams[cut],
            effects[cut],
            sections[cut],
            faces[cut],
            signs[cut],
            lines.rows(cut),
        )
        found.append([case_effect(case, rows) for case in cases])
    return tuple(_joined(parts) for parts in zip(*found, strict=True))


def _axle_count(case: LoadCase) -> int:
    return (2 if case.pair else 1) * (len(case.vehicle.axles) if case.vehicle else 1)


def _joined(parts: Sequence[CaseEffect]) -> CaseEffect:
    if len(parts) == 1:
        return parts[0]
    arrays = [field.name for field in fields(CaseEffect) if field.name != "case"]
    return CaseEffect(
        parts[0].case,
        **{name: np.concatenate([getattr(part, name) for part in parts]) for name in arrays},
    )


def _result(
    case: LoadCase, lane: Array, forces: Array, placed: Placed, ordinates: Array, size: Array
) -> CaseEffect:
    axles = np.einsum("rn,rn->r", forces, ordinates)
    # a train that does not help, or by no more than round-off of its sum, stands off the beam
    off = axles <= ROUND_OFF * forces.sum(axis=1) * size
    axles, ordinates = np.where(off, 0.0, axles), np.where(off[:, None], 0.0, ordinates)
    factor = case.axle_factor if case.vehicle is not None else case.lane_factor
    total = factor * axles + case.lane_factor * lane
    return CaseEffect(
        case, total, axles, lane, forces, placed.positions, ordinates, placed.sides, placed.heading
    )


def _worth(case: LoadCase) -> float | None:
    return 1e-7 if case.relieving == "dropped" else None


def _placed_vehicle(lines: LineFamily, truck: Vehicle, worth: float | None) -> Placed:
    if truck.varying_spacing is None or truck.spacing_to is None:
        return place_rigid(lines, truck.axles, truck.offsets)
    cut, offsets = truck.varying_spacing + 1, truck.offsets
    rear = tuple(d - offsets[cut] for d in offsets[cut:])
    halves = Halves(
        (truck.axles[:cut], offsets[:cut]),
        (truck.axles[cut:], rear),
        truck.spacings[cut - 1],
        truck.spacing_to,
    )
    return _both_headings(lines, lines, halves, worth)


def _both_headings(
    left: LineFamily, right: LineFamily, halves: Halves, worth: float | None
) -> Placed:
    """Return the better heading; the front group stands on the left lines when heading left."""
    one = place(left, right, halves, -1, worth=worth)
    return one.better(place(right, left, halves, 1, worth=worth))


def _pair_effect(
    case: LoadCase, truck: Vehicle, pair: Pair, rows: EffectRows, lane: Array
) -> CaseEffect:
    """Return the effect of two vehicles on the rows for which they count, -inf on the others."""
    picked, left, right = pair_rows(pair, rows)
    count, axles = len(rows.lines), 2 * len(truck.axles)
    forces = np.broadcast_to(np.tile(np.asarray(truck.axles, float), 2), (count, axles))
    empty = CaseEffect(
        case,
        np.full(count, -np.inf),
        np.zeros(count),
        np.where(np.isin(np.arange(count), picked), lane, 0.0),
        forces,
        np.full((count, axles), np.nan),
        np.zeros((count, axles)),
        np.ones((count, axles), dtype=np.int64),
        np.zeros(count, dtype=np.int64),
    )
    if not len(picked):
        return empty
    lines = (rows.adding if case.relieving == "dropped" else rows.lines).rows(picked)
    middle = 0.5 * (left[:, 1] + right[:, 0])
    halves = Halves(
        (truck.axles, truck.offsets), (truck.axles, truck.offsets), pair.clear_from, pair.clear_to
    )
    if pair.adjacent_spans:
        sides = restricted(lines, *left.T), restricted(lines, *right.T)
        placed = _both_headings(*sides, halves, _worth(case))
    else:
        placed = _both_headings(lines, lines, halves, _worth(case))
    ordinates = ordinates_at(lines, placed.positions, placed.sides)
    if pair.adjacent_spans:
        ordinates = ordinates * _in_own_span(
            placed, (left, middle, right), rows.near[picked], len(truck.axles)
        )
    part = _result(case, lane[picked], forces[picked], placed, ordinates, lines.size)
    # a row may stand beside two piers: the better of its entries is written last
    order = np.argsort(part.total, kind="stable")
    for name in ("total", "axles", "positions", "ordinates", "sides", "heading"):
        getattr(empty, name)[picked[order]] = getattr(part, name)[order]
    return empty


def _in_own_span(
    placed: Placed, spans: tuple[Array, Array, Array], reach: Array, axles: int
) -> NDArray[np.bool_]:
    """Return which axles stand in the span their vehicle belongs to, its two supports included."""
    left, middle, right = spans
    x, near = placed.positions, reach[:, None]
    in_left = (x >= left[:, :1] - near) & (x <= middle[:, None] + near)
    in_right = (x >= middle[:, None] - near) & (x <= right[:, 1:] + near)
    lead = np.arange(x.shape[1]) < axles
    lead_is_left = placed.heading[:, None] < 0
    return np.where(lead == lead_is_left, in_left, in_right)


def _riding_effect(case: LoadCase, rows: EffectRows, lane: Array) -> CaseEffect:
    """Return lane load with its riding forces: one, or two in different spans for hogging."""
    count = len(rows.lines)
    forces = np.zeros((count, 2))
    peaks, places, sides = _peak_of_every_span(rows)
    order = np.argsort(-peaks, axis=0, kind="stable")[:2]
    columns = np.arange(count)
    positions = np.stack([places[span, columns] for span in order], axis=1)
    limits = np.stack([sides[span, columns] for span in order], axis=1)
    ordinates = np.stack([peaks[span, columns] for span in order], axis=1)
    if positions.shape[1] == 1:
        positions, limits = np.repeat(positions, 2, axis=1), np.repeat(limits, 2, axis=1)
        ordinates = np.concatenate([ordinates, np.zeros((count, 1))], axis=1)
    if case.riding is not None:
        shears = np.isin(rows.effects, ("shear", "reaction"))
        forces[:, 0] = np.where(shears, case.riding.shear_force, case.riding.moment_force)
        hogging = (rows.effects == "moment") & (rows.signs < 0)
        forces[:, 1] = np.where(hogging, case.riding.moment_force, 0.0)
    ordinates = np.where(forces > 0, ordinates, 0.0)
    placed = Placed(np.zeros(count), positions, limits, np.zeros(count, dtype=np.int64))
    return _result(case, lane, forces, placed, ordinates, rows.lines.size)


def _peak_of_every_span(rows: EffectRows) -> tuple[Array, Array, Integers]:
    joints = of_rows(rows.model.batch.joints, rows.beams)
    found = []
    for span in range(joints.shape[1] - 1):
        lines = restricted(rows.adding, joints[:, span], joints[:, span + 1])
        found.append(best_position([AxleGroup(lines, (1.0,), (0.0,))]))
    return (
        np.array([one.value for one in found]),
        np.array([one.position for one in found]),
        np.array([one.side for one in found]),
    )
