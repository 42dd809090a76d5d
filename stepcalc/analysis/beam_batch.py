"""Beams that differ in lengths and EI but are made alike, solved together."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache
from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import ArrayLike, NDArray

from stepcalc.analysis.beam_element import UNIFORM, UnitElement, unit_element
from stepcalc.errors import RangeError

if TYPE_CHECKING:
    from stepcalc.analysis.beam import Beam, End, Rigidity

__all__ = [
    "BeamBatch",
    "SolvedBeams",
    "batch_of_one",
    "laws_between",
    "numbered",
    "of_rows",
    "same_make",
    "solved_batch",
]

Array = NDArray[np.float64]
Integers = NDArray[np.int64]


@dataclass(frozen=True, eq=False)
class BeamBatch:
    """Beams with the same number of spans, the same ends, and hinges and steps of EI in one order.

    Attributes
    ----------
    nodes : ndarray of float, shape (beams, n + 1), [length]
        Joints, hinges and ends of EI segments, ascending, none twice.
    ends : pair of "pinned", "fixed" or "free"
    joint_nodes, hinge_nodes : ndarray of int
        Which nodes are ends of spans, and which are hinges.
    laws : tuple of UnitElement, length n
        How EI runs between two nodes.
    rigidity : ndarray of float, shape (beams, n), [force * length**2]
        EI where the law says 1.
    """

    nodes: Array
    ends: tuple[End, End]
    joint_nodes: Integers
    hinge_nodes: Integers
    laws: tuple[UnitElement, ...]
    rigidity: Array

    def __len__(self) -> int:
        return len(self.nodes)

    @property
    def length(self) -> Array:
        """Distance between the two ends, shape (beams,)."""
        return np.asarray(self.nodes[:, -1])

    @cached_property
    def joints(self) -> Array:
        """Ends of spans, free ends included, shape (beams, spans + 1)."""
        return self.nodes[:, self.joint_nodes]

    @property
    def spans(self) -> Array:
        """Lengths of the spans, shape (beams, spans)."""
        return np.diff(self.joints)

    @property
    def support_joints(self) -> slice:
        """Which joints are supports."""
        return slice(
            1 if self.ends[0] == "free" else 0,
            len(self.joint_nodes) - (1 if self.ends[1] == "free" else 0),
        )

    @property
    def supports(self) -> Array:
        """Positions of the supports, shape (beams, supports)."""
        return self.joints[:, self.support_joints]

    def part(self, beams: slice) -> BeamBatch:
        """Return some of the beams."""
        return BeamBatch(
            self.nodes[beams],
            self.ends,
            self.joint_nodes,
            self.hinge_nodes,
            self.laws,
            self.rigidity[beams],
        )


def batch_of_one(beam: Beam, extra_nodes: Sequence[float] = ()) -> BeamBatch:
    """Return one beam as a batch.

    Parameters
    ----------
    beam : Beam
    extra_nodes : sequence of float, [length]
        Further positions that become nodes.

    Raises
    ------
    UndefinedError
        If a varying EI is too rough.
    """
    nodes = _merged(beam, extra_nodes)
    found = [unit_element(a, b, law) for a, b, law in laws_between(beam, nodes)]
    near = 1e-9 * beam.length
    hinged = np.abs(nodes[:, None] - np.asarray(beam.hinges)).min(axis=1, initial=np.inf) <= near
    return BeamBatch(
        nodes[None],
        beam.ends,
        np.searchsorted(nodes, np.asarray(beam.joints) - near),
        np.flatnonzero(hinged),
        tuple(unit for unit, _ in found),
        np.array([[size for _, size in found]]),
    )


Law = tuple[float, ArrayLike, ArrayLike]
"""Up to which fraction of a span, and EI at the start and at the end of that stretch."""


def same_make(
    spans: Array,
    *,
    ends: tuple[End, End] = ("pinned", "pinned"),
    hinges: Sequence[tuple[int, float]] = (),
    laws: Sequence[Sequence[Law]] | None = None,
    extra: Sequence[tuple[int, float]] = (),
) -> BeamBatch:
    """Return beams whose hinges and stretches of EI stand at the same fractions of their spans.

    Parameters
    ----------
    spans : ndarray of float, shape (beams, spans), [length]
    ends : pair of "pinned", "fixed" or "free"
    hinges : sequence of (int, float)
        Span, counted from 0, and fraction of it.
    laws : sequence of sequences of (float, EI, EI), optional
        For every span its stretches: up to which fraction, and EI at their two ends, between which
        it runs straight. An EI may be one for all beams or one for each; it must be the same at
        both ends where it differs between beams. EI is 1 unless given.
    extra : sequence of (int, float)
        Further places that become nodes.

    Returns
    -------
    BeamBatch
    """
    count = spans.shape[1]
    places: list[tuple[int, float]] = []
    stretches: list[tuple[UnitElement, ArrayLike]] = []
    for span, law in enumerate(laws or [[(1.0, 1.0, 1.0)]] * count):
        cuts = {end for end, _, _ in law} | {at for where, at in (*hinges, *extra) if where == span}
        marks = [0.0]
        marks += [cut for cut in sorted(cuts) if 1e-9 < cut < 1 - 1e-9 and cut - marks[-1] > 1e-9]
        places += [(span, mark) for mark in marks]
        stretches += [_stretch(law, a, b) for a, b in pairwise([*marks, 1.0])]
    joints = np.concatenate([np.zeros((len(spans), 1)), np.cumsum(spans, axis=1)], axis=1)
    inside = [joints[:, span] + mark * spans[:, span] for span, mark in places]
    on_hinge = [
        any(abs(span + mark - where - at) <= 1e-9 for where, at in hinges) for span, mark in places
    ]
    sizes = [np.broadcast_to(np.asarray(size, float), len(spans)) for _, size in stretches]
    return BeamBatch(
        np.stack([*inside, joints[:, -1]], axis=1),
        ends,
        np.array([*(i for i, (_, mark) in enumerate(places) if mark == 0), len(places)]),
        np.flatnonzero(on_hinge),
        tuple(unit for unit, _ in stretches),
        np.stack(sizes, axis=1),
    )


def _stretch(law: Sequence[Law], start: float, end: float) -> tuple[UnitElement, ArrayLike]:
    """Return the unit stretch between two marks of a span, and its size."""
    begins = 0.0
    for until, first, last in law:
        if start < until - 1e-9:
            if first is last or np.all(np.asarray(first) == np.asarray(last)):
                return UNIFORM, first
            a, b = float(np.asarray(first)), float(np.asarray(last))
            at = [a + (b - a) * (x - begins) / (until - begins) for x in (start, end)]
            return _straight(*at)
        begins = until
    raise RangeError(f"EI ends before {start:g} of the span; give it up to 1")


@lru_cache(maxsize=64)
def _straight(first: float, last: float) -> tuple[UnitElement, float]:
    return unit_element(0.0, 1.0, lambda t: first + (last - first) * t)


def _merged(beam: Beam, extra: Sequence[float]) -> Array:
    """Return the nodes, joints first where two nearly coincide."""
    merged = np.array(beam.joints)
    ends = (segment.end for segment in beam.segments)
    for position in (*beam.hinges, *ends, *extra):
        if np.min(np.abs(position - merged)) > 1e-9 * beam.length:
            merged = np.append(merged, position)
    return np.sort(merged)


def laws_between(beam: Beam, nodes: Array) -> list[tuple[float, float, Rigidity]]:
    """Return start, end and EI of every stretch between two nodes of one beam."""
    found, laws = [], iter(beam.segments)
    law = next(laws)
    for a, b in pairwise(nodes.tolist()):
        while law.end < 0.5 * (a + b):
            law = next(laws)
        found.append((a, b, law.rigidity))
    return found


@dataclass(frozen=True, eq=False)
class SolvedBeams:
    """Beams of one make with the inverses of their stiffness.

    Attributes
    ----------
    batch : BeamBatch
    freedoms : ndarray of int, shape (n, 4)
        Degrees of freedom of every element.
    displacement : ndarray of int, shape (n + 1,)
        The vertical degree of freedom of every node.
    free : ndarray of int
        Degrees of freedom that are not held.
    held : ndarray of int, shape (supports,)
        The vertical degree of freedom of every support.
    element_stiffness : ndarray of float, shape (beams, n, 4, 4)
    stiffness : ndarray of float, shape (beams, d, d)
    inverse : ndarray of float, shape (beams, f, f)
        Inverse of the stiffness of the free degrees of freedom.
    owner : ndarray of int, shape (p,)
        The element of every piece: several pieces where EI varies.
    breaks : ndarray of float, shape (beams, p + 1), [length]
    shapes : ndarray of float, shape (beams, p, 4, 4)
        Power, degree of freedom.
    """

    batch: BeamBatch
    freedoms: Integers
    displacement: Integers
    free: Integers
    held: Integers
    element_stiffness: Array
    stiffness: Array
    inverse: Array
    owner: Integers
    breaks: Array
    shapes: Array

    def elements_at(self, beams: Integers, sections: Array, faces: Integers) -> Integers:
        """Return the element of every section of its beam, on the side of its face (-1 or 1)."""
        near = 1e-9 * of_rows(self.batch.length, beams) * np.where(faces > 0, 1, -1)
        nodes = of_rows(self.batch.nodes, beams)
        index = np.sum(nodes <= (sections + near)[:, None], axis=1) - 1
        return np.asarray(np.clip(index, 0, len(self.batch.laws) - 1))


def of_rows(values: Array, beams: Integers) -> Array:
    """Return what belongs to the beam of every row, without copies where there is one beam."""
    if len(values) == 1:
        return np.broadcast_to(values[0], (len(beams), *values.shape[1:]))
    return np.asarray(values[beams])


def solved_batch(batch: BeamBatch) -> SolvedBeams:
    """Return the beams with their stiffness inverted; they must not be mechanisms.

    Source
    ------
    Direct stiffness method. No clause.
    """
    freedoms, displacement, free, held, count = numbered(batch)
    lengths = np.diff(batch.nodes)
    elements = np.empty((len(batch), len(batch.laws), 4, 4))
    breaks, shapes, owner = [batch.nodes[:, :1]], [], []
    for i, law in enumerate(batch.laws):
        elements[:, i] = law.stiffness_of(lengths[:, i], batch.rigidity[:, i])
        shapes.append(law.shapes_of(lengths[:, i]))
        inner = batch.nodes[:, i, None] + law.breaks[1:-1] * lengths[:, i, None]
        breaks += [inner, batch.nodes[:, i + 1, None]]
        owner += [i] * len(law.shapes)
    stiffness = np.zeros((len(batch), count, count))
    for i, dofs in enumerate(freedoms):
        stiffness[:, dofs[:, None], dofs] += elements[:, i]
    return SolvedBeams(
        batch,
        freedoms,
        displacement,
        free,
        held,
        elements,
        stiffness,
        _inverse(stiffness[:, free[:, None], free]),
        np.array(owner),
        np.concatenate(breaks, axis=1),
        np.concatenate(shapes, axis=1),
    )


def numbered(batch: BeamBatch) -> tuple[Integers, Integers, Integers, Integers, int]:
    """Return the degrees of freedom: of elements, vertical ones of nodes, free, held; their number.

    A node has one rotation, at a hinge one on either side.
    """
    displacement, left, right, count = [], [], [], 0
    hinged = np.isin(np.arange(batch.nodes.shape[1]), batch.hinge_nodes)
    for hinge in hinged.tolist():
        displacement.append(count)
        left.append(count + 1)
        right.append(count + 1 + hinge)
        count += 2 + hinge
    columns = (displacement[:-1], right[:-1], displacement[1:], left[1:])
    lifts = np.array(displacement, dtype=np.int64)
    held = lifts[batch.joint_nodes[batch.support_joints]]
    fixed = set(held.tolist())
    if batch.ends[0] == "fixed":
        fixed.add(right[0])
    if batch.ends[1] == "fixed":
        fixed.add(left[-1])
    free = np.array([dof for dof in range(count) if dof not in fixed], dtype=np.int64)
    return np.array(columns, dtype=np.int64).T, lifts, free, held, count


def _inverse(stiffness: Array) -> Array:
    """Return the inverses, scaled by the diagonal: displacements and rotations differ in size."""
    if not stiffness.shape[1]:
        return stiffness
    scale = 1 / np.sqrt(np.diagonal(stiffness, axis1=1, axis2=2))
    both = scale[:, None, :] * scale[:, :, None]
    return np.asarray(np.linalg.inv(stiffness * both) * both)
