"""The largest effect of one case of a live load on many influence lines at once."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from stepcalc.analysis.contraflexure import hogging_zones, in_zones, interior_supports
from stepcalc.analysis.influence_lines import LineFamily
from stepcalc.analysis.line_signs import areas, positive_part, restricted
from stepcalc.analysis.train_placement import Halves, Placed, ordinates_at, place, place_rigid
from stepcalc.analysis.train_search import AxleGroup, best_position

if TYPE_CHECKING:
    from stepcalc.analysis.beam import Beam
    from stepcalc.analysis.load_case import LoadCase, Pair
    from stepcalc.analysis.vehicles import Vehicle

__all__ = ["CaseEffect", "EffectRows", "case_effect"]

Array = NDArray[np.float64]
Integers = NDArray[np.int64]


@dataclass(frozen=True, eq=False)
class EffectRows:
    """What is wanted: lines whose largest value is sought, and what they belong to.

    Attributes
    ----------
    beam : Beam
    effects : ndarray of str, shape (rows,)
    sections : ndarray of float, shape (rows,), [length]
    faces : ndarray of int, shape (rows,)
    signs : ndarray of int, shape (rows,)
        1 where the maximum is wanted, -1 for the minimum.
    lines : LineFamily
        Influence lines times the sign.
    adding : LineFamily
        Their positive part.
    """

    beam: Beam
    effects: NDArray[np.str_]
    sections: Array
    faces: Integers
    signs: Integers
    lines: LineFamily
    adding: LineFamily

    @classmethod
    def of(
        cls, beam: Beam, effects: Sequence[str], sections: Array, faces: Integers, lines: LineFamily
    ) -> EffectRows:
        """Return the rows of both signs: first all maxima, then all minima."""
        count = len(lines)
        turned = lines.reversed()
        both = LineFamily(
            np.concatenate([lines.breaks, turned.breaks]),
            np.concatenate([lines.coefficients, turned.coefficients]),
        )
        return cls(
            beam,
            np.tile(np.array(effects, dtype=np.str_), 2),
            np.tile(sections, 2),
            np.tile(faces, 2),
            np.repeat([1, -1], count),
            both,
            positive_part(both),
        )


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
        ordinates = _kept_ordinates(case, rows.lines, placed)
        return _result(case, lane, forces, placed, ordinates)
    return _riding_effect(case, rows, lane)


def _result(
    case: LoadCase, lane: Array, forces: Array, placed: Placed, ordinates: Array
) -> CaseEffect:
    axles = np.einsum("rn,rn->r", forces, ordinates)
    # a train that does not help at all stands off the beam
    off = axles <= 0
    axles, ordinates = np.where(off, 0.0, axles), np.where(off[:, None], 0.0, ordinates)
    factor = case.axle_factor if case.vehicle is not None else case.lane_factor
    total = factor * axles + case.lane_factor * lane
    return CaseEffect(
        case, total, axles, lane, forces, placed.positions, ordinates, placed.sides, placed.heading
    )


def _kept_ordinates(case: LoadCase, lines: LineFamily, placed: Placed) -> Array:
    ordinates = ordinates_at(lines, placed.positions, placed.sides)
    return np.maximum(ordinates, 0.0) if case.relieving == "dropped" else ordinates


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
    picked, left, right = _pair_rows(pair, rows)
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
    ordinates = _kept_ordinates(case, rows.lines.rows(picked), placed)
    if pair.adjacent_spans:
        ordinates = ordinates * _in_own_span(placed, left, right, middle, len(truck.axles))
    part = _result(case, lane[picked], forces[picked], placed, ordinates)
    # a row may stand beside two piers: the better of its entries is written last
    order = np.argsort(part.total, kind="stable")
    for name in ("total", "axles", "positions", "ordinates", "sides", "heading"):
        getattr(empty, name)[picked[order]] = getattr(part, name)[order]
    return empty


def _in_own_span(
    placed: Placed, left: Array, right: Array, middle: Array, axles: int
) -> NDArray[np.bool_]:
    """Return which axles stand in the span their vehicle belongs to, its two supports included."""
    x = placed.positions
    near = 1e-9 * float(np.max(right, initial=1.0))
    in_left = (x >= left[:, :1] - near) & (x <= middle[:, None] + near)
    in_right = (x >= middle[:, None] - near) & (x <= right[:, 1:] + near)
    lead = np.arange(x.shape[1]) < axles
    lead_is_left = placed.heading[:, None] < 0
    return np.where(lead == lead_is_left, in_left, in_right)


def _pair_rows(pair: Pair, rows: EffectRows) -> tuple[Integers, Array, Array]:
    """Return the rows for which two vehicles count, and the two spans beside their pier."""
    beam = rows.beam
    inner, supports = np.asarray(interior_supports(beam)), np.asarray(beam.supports)
    distance = np.abs(rows.sections - inner[:, None])
    reaction = (rows.effects == "reaction") & (rows.signs > 0)
    counts = reaction & (distance <= 1e-9 * beam.length)
    hogging = (rows.effects == "moment") & (rows.signs < 0)
    if pair.within_contraflexure:
        for zone, inside in zip(hogging_zones(beam), in_zones(beam, rows.sections), strict=True):
            counts[inner == zone.support] |= hogging & inside
    elif len(inner):
        nearest = np.argmin(distance, axis=0)
        counts |= hogging & (np.arange(len(inner))[:, None] == nearest)
    pier, picked = np.nonzero(counts)
    left = np.stack([supports[pier], supports[pier + 1]], axis=1)
    right = np.stack([supports[pier + 1], supports[pier + 2]], axis=1)
    return picked, left, right


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
    return _result(case, lane, forces, placed, ordinates)


def _peak_of_every_span(rows: EffectRows) -> tuple[Array, Array, Integers]:
    joints = np.asarray(rows.beam.joints)
    found = []
    for start, end in itertools.pairwise(joints):
        ends = np.full(len(rows.lines), start), np.full(len(rows.lines), end)
        lines = restricted(rows.adding, *ends)
        found.append(best_position([AxleGroup(lines, (1.0,), (0.0,))]))
    return (
        np.array([one.value for one in found]),
        np.array([one.position for one in found]),
        np.array([one.side for one in found]),
    )
