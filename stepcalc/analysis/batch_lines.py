r"""Influence lines of many beams at once, exact: cubics from the shapes of the stiffness method.

A load at :math:`x` in an element moves the nodes by :math:`-K^{-1} N(x)`, where :math:`N` are the
element's shapes; an effect is a row of end forces times that, and the load's own part where it
stands in the element of the section. On every piece this is a combination of four cubics.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from stepcalc.analysis.beam_batch import of_rows
from stepcalc.analysis.beam_element import UNIFORM
from stepcalc.analysis.line_family import Effect, LineFamily, cleaned
from stepcalc.analysis.piecewise import shifted

if TYPE_CHECKING:
    from stepcalc.analysis.beam_batch import SolvedBeams

__all__ = ["deflection_lines", "lines_of", "reaction_lines", "section_lines"]

Array = NDArray[np.float64]
Integers = NDArray[np.int64]


def reaction_lines(model: SolvedBeams, beams: Integers, numbers: Integers) -> LineFamily:
    """Return the influence lines of reactions of beams of one make.

    Parameters
    ----------
    model : SolvedBeams
    beams : ndarray of int, shape (rows,)
        Which beam each row belongs to.
    numbers : ndarray of int, shape (rows,)
        Which support, counted from 0.

    Returns
    -------
    LineFamily
    """
    held = model.held[numbers]
    spread = of_rows(model.stiffness, beams)[np.arange(len(beams)), held][:, model.free]
    shape = _freed(model, beams, -spread)
    shape[np.arange(len(beams)), held] = 1.0
    breaks, coefficients = _combined(model, beams, shape)
    # same number of breaks as the lines of sections, so that all can be searched together
    first = np.repeat(breaks[:, :1], 2, axis=1)
    none = np.zeros((len(beams), 1, 4))
    return cleaned(
        np.concatenate([first, breaks[:, 1:]], axis=1),
        np.concatenate([none, coefficients], axis=1),
        np.ones(len(beams)),
    )


def deflection_lines(model: SolvedBeams, beams: Integers, x: Array) -> LineFamily:
    """Return the influence lines of deflection of beams of one make.

    Parameters
    ----------
    model : SolvedBeams
        Sections where EI varies along an element must be nodes.
    beams : ndarray of int, shape (rows,)
        Which beam each row belongs to.
    x : ndarray of float, shape (rows,), [length]

    Returns
    -------
    LineFamily
    """
    where, starts, ends = _element_of(model, beams, x, np.ones(len(x), dtype=np.int64))
    c = np.clip(x, starts, ends)
    moves = np.zeros((len(x), model.stiffness.shape[1]))
    own = _shapes_at(c - starts, ends - starts)
    np.put_along_axis(moves, model.freedoms[where], own, axis=1)
    shape = _freed(model, beams, moves[:, model.free])
    breaks, coefficients = _combined(model, beams, shape)
    piece = _piece_of(breaks, c, at_end=c >= ends)
    breaks, coefficients = _split(breaks, coefficients, piece, c)
    uniform = np.array([law is UNIFORM for law in model.batch.laws])[where]
    rows = np.flatnonzero(uniform & (c > starts) & (c < ends))
    EI = of_rows(model.batch.rigidity, beams)[rows, where[rows]]
    left, right = _clamped(c[rows] - starts[rows], ends[rows] - c[rows], EI)
    coefficients[rows, piece[rows]] += left
    coefficients[rows, piece[rows] + 1] += right
    return cleaned(breaks, coefficients, np.zeros(len(x)))


def _shapes_at(t: Array, length: Array) -> Array:
    """Return the four cubic shapes of a stretch of constant EI; at its nodes, of any stretch."""
    r = t / length
    columns = ((1 - r) ** 2 * (1 + 2 * r), t * (1 - r) ** 2, r * r * (3 - 2 * r), t * r * (r - 1))
    return np.stack(columns, axis=1)


def _clamped(a: Array, b: Array, EI: Array) -> tuple[Array, Array]:
    """Return the deflection of clamped elements at `a` from one end and `b` from the other.

    A cubic in the position of the load on either side, each about its own left end.
    """
    length, zero = a + b, np.zeros_like(a)
    scale = (1 / (6 * EI * length**3))[:, None]
    left = np.stack([zero, zero, 3 * b * b * a * length, -b * b * (3 * a + b)], axis=1)
    # seen from the right end, and then expanded about the section towards the right
    right = np.stack([zero, zero, 3 * a * a * b * length, -a * a * (3 * b + a)], axis=1)
    return scale * left, scale * shifted(right, b) * np.array([1.0, -1.0, 1.0, -1.0])


def section_lines(
    model: SolvedBeams, effect: Effect, beams: Integers, x: Array, faces: Integers
) -> LineFamily:
    """Return the influence lines of moment or shear at sections of beams of one make.

    Parameters
    ----------
    model : SolvedBeams
    effect : "moment" or "shear"
    beams : ndarray of int, shape (rows,)
        Which beam each row belongs to.
    x : ndarray of float, shape (rows,), [length]
    faces : ndarray of int, shape (rows,)

    Returns
    -------
    LineFamily
    """
    where, starts, ends = _element_of(model, beams, x, faces)
    c = np.clip(x, starts, ends)
    own = np.zeros((len(x), 4))
    own[:, 0] = c - starts if effect == "moment" else 1.0
    own[:, 1] = -1.0 if effect == "moment" else 0.0
    stiffness = of_rows(model.element_stiffness, beams)[np.arange(len(x)), where]
    spread = np.zeros((len(x), model.stiffness.shape[1]))
    forces = np.einsum("ra,rab->rb", own, stiffness)
    np.put_along_axis(spread, model.freedoms[where], forces, axis=1)
    shape = _freed(model, beams, -spread[:, model.free])
    breaks, coefficients = _combined(model, beams, shape, where, own)
    piece = _piece_of(breaks, c, at_end=c >= ends)
    breaks, coefficients = _split(breaks, coefficients, piece, c)
    # left of the section the unit load itself is part of the free body
    left_of = (breaks[:, 1:] <= c[:, None]) & (breaks[:, :-1] >= starts[:, None])
    left_of &= np.arange(breaks.shape[1] - 1) <= piece[:, None]
    if effect == "moment":
        coefficients[..., 0] -= np.where(left_of, c[:, None] - breaks[:, :-1], 0.0)
        coefficients[..., 1] += left_of
        size = of_rows(model.batch.spans.max(axis=1), beams)
    else:
        coefficients[..., 0] -= left_of
        size = np.ones(len(x))
    return cleaned(breaks, coefficients, size)


def _element_of(
    model: SolvedBeams, beams: Integers, x: Array, faces: Integers
) -> tuple[Integers, Array, Array]:
    """Return the element of every section, and where it starts and ends."""
    where = model.elements_at(beams, x, faces)
    nodes, row = of_rows(model.batch.nodes, beams), np.arange(len(x))
    return where, nodes[row, where], nodes[row, where + 1]


def _freed(model: SolvedBeams, beams: Integers, forces: Array) -> Array:
    """Return displacements of all degrees of freedom under forces at the free ones."""
    shape = np.zeros((len(beams), model.stiffness.shape[1]))
    if len(model.inverse) == 1:
        shape[:, model.free] = forces @ model.inverse[0]
    else:
        shape[:, model.free] = np.einsum("rf,rfg->rg", forces, model.inverse[beams])
    return shape


def _piece_of(breaks: Array, c: Array, *, at_end: NDArray[np.bool_]) -> Integers:
    """Return the piece that holds each section; at the end of its element, the last one there."""
    right_of = np.sum(breaks[:, 1:] < c[:, None], axis=1)
    last = np.sum(breaks[:, 1:] <= c[:, None], axis=1) - 1
    return np.asarray(np.clip(np.where(at_end, last, right_of), 0, breaks.shape[1] - 2))


def _split(breaks: Array, coefficients: Array, piece: Integers, c: Array) -> tuple[Array, Array]:
    """Cut one piece of every row in two at `c`."""
    rows, pieces = np.arange(len(c)), coefficients.shape[1]
    number = np.arange(pieces + 2)
    source = number - (number > piece[:, None])
    cut = np.take_along_axis(breaks, source, axis=1)
    cut[rows, piece + 1] = c
    parts = np.take_along_axis(coefficients, source[:, :-1, None], axis=1)
    parts[rows, piece + 1] = shifted(coefficients[rows, piece], c - breaks[rows, piece])
    return cut, parts


def _combined(
    model: SolvedBeams,
    beams: Integers,
    shape: Array,
    where: Integers | None = None,
    own: Array | None = None,
) -> tuple[Array, Array]:
    """Return breaks and cubics of shapes given by nodal values, the own element's part added."""
    nodal = shape[:, model.freedoms]
    if where is not None and own is not None:
        nodal[np.arange(len(shape)), where] += own
    shapes = of_rows(model.shapes, beams)
    coefficients = np.einsum("rpa,rpja->rpj", nodal[:, model.owner], shapes)
    return np.array(of_rows(model.breaks, beams)), coefficients


def lines_of(
    model: SolvedBeams, effect: Effect, beams: Integers, sections: Array, faces: Integers
) -> LineFamily:
    """Return the influence lines at sections of beams of one make; see `section_lines`.

    Reactions are those of the support that stands nearest to the section.
    """
    if effect == "deflection":
        return deflection_lines(model, beams, sections)
    if effect == "reaction":
        distance = np.abs(of_rows(model.batch.supports, beams) - sections[:, None])
        return reaction_lines(model, beams, np.argmin(distance, axis=1))
    return section_lines(model, effect, beams, sections, faces)
