"""One solved beam: nodes, degrees of freedom, the inverse of its stiffness; mechanisms refused."""

from __future__ import annotations

from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from stepcalc.analysis.beam import Beam
from stepcalc.analysis.beam_batch import SolvedBeams, batch_of_one, numbered, solved_batch
from stepcalc.analysis.beam_element import UNIFORM
from stepcalc.errors import UndefinedError

__all__ = ["refuse_mechanism", "solved"]

Array = NDArray[np.float64]


@lru_cache(maxsize=128)
def solved(beam: Beam, extra_nodes: tuple[float, ...] = ()) -> SolvedBeams:
    """Return the beam with its stiffness inverted, as a batch of one.

    Parameters
    ----------
    beam : Beam
    extra_nodes : tuple of float, [length]
        Further positions that become nodes.

    Returns
    -------
    SolvedBeams

    Raises
    ------
    UndefinedError
        If a part of the beam can move without bending; the message names the spans.

    Source
    ------
    Direct stiffness method. No clause.
    """
    refuse_mechanism(beam)
    return solved_batch(batch_of_one(beam, extra_nodes))


def refuse_mechanism(beam: Beam) -> None:
    """Raise if some motion bends nothing: EI does not matter for that, hinges and supports do.

    Raises
    ------
    UndefinedError
        The message names the spans that can move.
    """
    if beam.ends == ("pinned", "pinned") and not beam.hinges:
        return
    plain = batch_of_one(Beam(beam.spans, 1.0, beam.ends, beam.hinges))
    freedoms, _, free, _, count = numbered(plain)
    if not len(free):
        return
    stiffness = np.zeros((count, count))
    lengths = np.diff(plain.nodes[0])
    for dofs, length in zip(freedoms, lengths, strict=True):
        stiffness[np.ix_(dofs, dofs)] += UNIFORM.stiffness_of(length, np.asarray(1.0))
    part = stiffness[np.ix_(free, free)]
    scale = 1 / np.sqrt(np.diagonal(part))
    sizes, shapes = np.linalg.eigh(part * scale * scale[:, None])
    if sizes[0] > 1e-10 * sizes[-1]:
        return
    motions = np.zeros((count, int(np.sum(sizes <= 1e-10 * sizes[-1]))))
    motions[free] = shapes[:, : motions.shape[1]]
    motion = np.max(np.abs(motions[freedoms]), axis=(1, 2))
    moving = _moving_spans(beam, plain.nodes[0], motion)
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
