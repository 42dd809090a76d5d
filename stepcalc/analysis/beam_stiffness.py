"""The solved beam: nodes, degrees of freedom, the inverse of its stiffness; mechanisms refused."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from stepcalc.analysis.beam import Beam
from stepcalc.analysis.beam_element import Element, element
from stepcalc.errors import UndefinedError

__all__ = ["SolvedBeam", "solved"]

Array = NDArray[np.float64]
Integers = NDArray[np.int64]


@dataclass(frozen=True, eq=False)
class SolvedBeam:
    """A beam with the inverse of its stiffness.

    Attributes
    ----------
    beam : Beam
    nodes : ndarray of float, shape (n + 1,), [length]
        Joints, hinges, ends of EI segments, and nodes asked for.
    elements : tuple of Element, length n
    freedoms : ndarray of int, shape (n, 4)
        Degrees of freedom of every element.
    displacement : ndarray of int, shape (n + 1,)
        The vertical degree of freedom of every node.
    free : ndarray of int
        Degrees of freedom that are not held.
    held : ndarray of int, shape (supports,)
        The vertical degree of freedom of every support.
    stiffness : ndarray of float, shape (d, d)
    inverse : ndarray of float, shape (f, f)
        Inverse of the stiffness of the free degrees of freedom.
    """

    beam: Beam
    nodes: Array
    elements: tuple[Element, ...]
    freedoms: Integers
    displacement: Integers
    free: Integers
    held: Integers
    stiffness: Array
    inverse: Array

    def elements_at(self, sections: Array, faces: Integers) -> Integers:
        """Return the index of the element of every section, on the side of its face (-1 or 1)."""
        near = 1e-9 * self.beam.length * np.where(faces > 0, 1, -1)
        index = np.searchsorted(self.nodes, sections + near, side="right") - 1
        return np.clip(index, 0, len(self.elements) - 1)


@lru_cache(maxsize=128)
def solved(beam: Beam, extra_nodes: tuple[float, ...] = ()) -> SolvedBeam:
    """Return the beam with its stiffness inverted.

    Parameters
    ----------
    beam : Beam
    extra_nodes : tuple of float, [length]
        Further positions that become nodes.

    Returns
    -------
    SolvedBeam

    Raises
    ------
    UndefinedError
        If a part of the beam can move without bending; the message names the spans.

    Source
    ------
    Direct stiffness method. No clause.
    """
    _refuse_mechanism(beam)
    nodes = _nodes(beam, extra_nodes)
    elements = tuple(_elements(beam, nodes))
    numbering = _numbered(beam, nodes)
    stiffness = _assembled(numbering, elements)
    free = numbering.free
    inverse = _inverse(stiffness[np.ix_(free, free)])
    return SolvedBeam(
        beam,
        nodes,
        elements,
        numbering.freedoms,
        numbering.displacement,
        free,
        numbering.held,
        stiffness,
        inverse,
    )


@dataclass(frozen=True, eq=False)
class _Numbering:
    freedoms: Integers
    displacement: Integers
    free: Integers
    held: Integers
    count: int


def _nodes(beam: Beam, extra: tuple[float, ...]) -> Array:
    """Return the nodes, joints first where two nearly coincide."""
    merged = np.array(beam.joints)
    ends = (segment.end for segment in beam.segments)
    for position in (*beam.hinges, *ends, *extra):
        if np.min(np.abs(position - merged)) > 1e-9 * beam.length:
            merged = np.append(merged, position)
    return np.sort(merged)


def _elements(beam: Beam, nodes: Array) -> Iterator[Element]:
    laws = iter(beam.segments)
    law = next(laws)
    for a, b in pairwise(nodes.tolist()):
        while law.end < 0.5 * (a + b):
            law = next(laws)
        yield element(a, b, law.rigidity)


def _numbered(beam: Beam, nodes: Array) -> _Numbering:
    """Return the degrees of freedom: a node has one rotation, at a hinge one on either side."""
    near = 1e-9 * beam.length
    hinges = np.asarray(beam.hinges)
    displacement, left, right, count = [], [], [], 0
    for x in nodes:
        hinged = bool(np.any(np.abs(hinges - x) <= near))
        displacement.append(count)
        left.append(count + 1)
        right.append(count + 1 + hinged)
        count += 2 + hinged
    columns = (displacement[:-1], right[:-1], displacement[1:], left[1:])
    held = [displacement[int(np.argmin(np.abs(nodes - x)))] for x in beam.supports]
    fixed = set(held)
    if beam.ends[0] == "fixed":
        fixed.add(right[0])
    if beam.ends[1] == "fixed":
        fixed.add(left[-1])
    free = [dof for dof in range(count) if dof not in fixed]
    return _Numbering(
        np.array(columns, dtype=np.int64).T,
        np.array(displacement, dtype=np.int64),
        np.array(free, dtype=np.int64),
        np.array(held, dtype=np.int64),
        count,
    )


def _assembled(numbering: _Numbering, elements: Sequence[Element]) -> Array:
    stiffness = np.zeros((numbering.count, numbering.count))
    for part, dofs in zip(elements, numbering.freedoms, strict=True):
        stiffness[np.ix_(dofs, dofs)] += part.stiffness
    return stiffness


def _inverse(stiffness: Array) -> Array:
    """Return the inverse, scaled by the diagonal: displacements and rotations differ in size."""
    if not len(stiffness):
        return stiffness
    scale = 1 / np.sqrt(np.diagonal(stiffness))
    return np.asarray(np.linalg.inv(stiffness * scale * scale[:, None]) * scale * scale[:, None])


def _refuse_mechanism(beam: Beam) -> None:
    """Raise if some motion bends nothing: EI does not matter for that, hinges and supports do."""
    if beam.ends == ("pinned", "pinned") and not beam.hinges:
        return
    plain = Beam(beam.spans, 1.0, beam.ends, beam.hinges)
    nodes = _nodes(plain, ())
    numbering = _numbered(plain, nodes)
    stiffness = _assembled(numbering, tuple(_elements(plain, nodes)))
    free = numbering.free
    if not len(free):
        return
    part = stiffness[np.ix_(free, free)]
    scale = 1 / np.sqrt(np.diagonal(part))
    sizes, shapes = np.linalg.eigh(part * scale * scale[:, None])
    if sizes[0] > 1e-10 * sizes[-1]:
        return
    motions = np.zeros((len(stiffness), int(np.sum(sizes <= 1e-10 * sizes[-1]))))
    motions[free] = shapes[:, : motions.shape[1]]
    moving = _moving_spans(plain, nodes, np.max(np.abs(motions[numbering.freedoms]), axis=(1, 2)))
    raise UndefinedError(_mechanism_in_words(beam, moving))


def _moving_spans(beam: Beam, nodes: Array, motion: Array) -> list[int]:
    middles = 0.5 * (nodes[:-1] + nodes[1:])
    return sorted({beam.span_of(float(x)) + 1 for x in middles[motion > 1e-6 * motion.max()]})


def _mechanism_in_words(beam: Beam, moving: list[int]) -> str:
    numbers = [str(number) for number in moving]
    spans = f"span {numbers[0]}" if len(numbers) == 1 else f"spans {', '.join(numbers)}"
    if beam.hinges:
        hinges = ", ".join(f"{x:g}" for x in beam.hinges)
        cause = (
            f"the hinges at {hinges} leave it"
            if len(beam.hinges) > 1
            else (f"the hinge at {hinges} leaves it")
        )
    else:
        ends = f"a {beam.ends[0]} and a {beam.ends[1]} end"
        cause = f"{len(beam.supports)} support(s) and {ends} leave it"
    return (
        f"the beam is a mechanism: {cause} free to move in {spans} without bending; "
        "take a hinge away there, or add a support or a fixed end"
    )
