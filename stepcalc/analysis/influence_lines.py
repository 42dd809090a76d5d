r"""Influence lines of beams, exact: piecewise cubics from the shapes of the stiffness method.

A load at :math:`x` in an element moves the nodes by :math:`-K^{-1} N(x)`, where :math:`N` are the
element's shapes; an effect is a row of end forces times that, and the load's own part where it
stands in the element of the section. On every piece this is a combination of four cubics.

Signs: moment positive sagging, shear positive where the part to the left tends to move up, a
reaction positive upward, deflection positive downward. The unit load acts downward.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, Literal

import numpy as np
from numpy.typing import ArrayLike, NDArray

from stepcalc.analysis.beam_stiffness import SolvedBeam, solved
from stepcalc.analysis.piecewise import PiecewisePolynomial, shifted
from stepcalc.errors import RangeError

if TYPE_CHECKING:
    from stepcalc.analysis.beam import Beam

__all__ = ["Effect", "LineFamily", "influence_line", "influence_lines"]

Array = NDArray[np.float64]
Integers = NDArray[np.int64]
Effect = Literal["moment", "shear", "reaction", "deflection"]

EFFECTS: tuple[Effect, ...] = ("moment", "shear", "reaction", "deflection")
_NOISE = 1e-13
"""Coefficients below this share of a line's size are round-off, and become zero."""


@dataclass(frozen=True, eq=False)
class LineFamily:
    """Influence lines with the same number of pieces, one a row.

    Attributes
    ----------
    breaks : ndarray of float, shape (rows, k + 1), [length]
        Ascending; pieces may have no length.
    coefficients : ndarray of float, shape (rows, k, 4)
        Ascending coefficients about each piece's left break.
    """

    breaks: Array
    coefficients: Array

    def __len__(self) -> int:
        return len(self.breaks)

    @cached_property
    def jumps(self) -> Array:
        """How the cubics change at every break, shape (4, rows, k + 1), about the middle."""
        ended = shifted(self.coefficients, np.diff(self.breaks))
        change = np.zeros((len(self.breaks), self.breaks.shape[1], 4))
        change[:, :-1] = self.coefficients
        change[:, 1:] -= ended
        about_middle = shifted(change, self.breaks[0, -1] / 2 - self.breaks)
        return np.ascontiguousarray(np.moveaxis(about_middle, -1, 0))

    def line(self, row: int) -> PiecewisePolynomial:
        """Return one row as a function."""
        return PiecewisePolynomial(self.breaks[row], self.coefficients[row])

    def rows(self, index: Integers) -> LineFamily:
        """Return the rows of an index."""
        return LineFamily(self.breaks[index], self.coefficients[index])

    def reversed(self) -> LineFamily:
        """Return the same lines with the sign turned."""
        return LineFamily(self.breaks, -self.coefficients)


def influence_line(
    beam: Beam, effect: Effect, section: float, *, face: int = 1
) -> PiecewisePolynomial:
    """Return one influence line as an exact piecewise cubic.

    Parameters
    ----------
    beam : Beam
    effect : "moment", "shear", "reaction" or "deflection"
    section : float, [length]
        From the left end; for a reaction, the position of a support.
    face : int
        For shear: -1 just left, 1 just right of the section; it matters at supports.

    Returns
    -------
    PiecewisePolynomial
        Ordinates per unit load: [length], [1], [1] or [length / force]. Breakpoints where EI steps
        or varies, at joints, hinges and the section; areas, extremes and roots are its methods.

    Raises
    ------
    RangeError
        If the section is off the beam, or not a support where a reaction is asked for.
    UndefinedError
        If the beam is a mechanism.

    Source
    ------
    Direct stiffness method and reciprocity (Maxwell, Betti). No clause.

    Examples
    --------
    Two spans of 80: the moment at the pier for a uniform load is -L**2 / 8.

    >>> from stepcalc.analysis.beam import Beam
    >>> line = influence_line(Beam((80.0, 80.0)), "moment", 80.0)
    >>> round(line.area(), 9)
    -800.0
    """
    return influence_lines(beam, effect, [section], faces=[face]).line(0)


def influence_lines(
    beam: Beam, effect: Effect, sections: ArrayLike, *, faces: ArrayLike | None = None
) -> LineFamily:
    """Return the influence lines of many sections at once.

    Parameters
    ----------
    beam : Beam
    effect : "moment", "shear", "reaction" or "deflection"
    sections : array_like of float, shape (n,), [length]
        For reactions, positions of supports.
    faces : array_like of int, shape (n,), optional
        For shear: -1 or 1, the side of the section; 1 unless given.

    Returns
    -------
    LineFamily, n rows

    Raises
    ------
    RangeError, UndefinedError
        As for `influence_line`.

    Source
    ------
    As for `influence_line`.
    """
    if effect not in EFFECTS:
        raise RangeError(f"no influence line for {effect!r}; give one of {', '.join(EFFECTS)}")
    x = beam.checked_sections(sections)
    sides = np.ones(len(x), dtype=np.int64) if faces is None else np.asarray(faces, dtype=np.int64)
    if effect == "deflection":
        return _deflection_lines(beam, x)
    model = solved(beam)
    if effect == "reaction":
        return _reaction_lines(model, x)
    return _section_lines(model, effect, x, np.broadcast_to(sides, x.shape))


def support_index(beam: Beam, position: float) -> int:
    """Return which support stands at a position, or raise."""
    supports = np.asarray(beam.supports)
    nearest = int(np.argmin(np.abs(supports - position))) if len(supports) else -1
    if nearest < 0 or abs(supports[nearest] - position) > 1e-9 * beam.length:
        listed = ", ".join(f"{x:g}" for x in supports)
        raise RangeError(f"no support stands at {position:g}; the supports are at {listed}")
    return nearest


def _reaction_lines(model: SolvedBeam, x: Array) -> LineFamily:
    held = model.held[[support_index(model.beam, float(position)) for position in x]]
    shape = np.zeros((len(x), len(model.stiffness)))
    shape[:, model.free] = -model.stiffness[np.ix_(held, model.free)] @ model.inverse
    shape[np.arange(len(x)), held] = 1.0
    breaks, coefficients = _combined(model, shape)
    # same number of breaks as the lines of sections, so that all can be searched together
    first = np.repeat(breaks[:, :1], 2, axis=1)
    none = np.zeros((len(x), 1, 4))
    return _cleaned(
        np.concatenate([first, breaks[:, 1:]], axis=1),
        np.concatenate([none, coefficients], axis=1),
        1.0,
    )


def _deflection_lines(beam: Beam, x: Array) -> LineFamily:
    """Return deflection lines; sections become nodes where EI varies."""
    varying = [part for part in beam.segments if callable(part.rigidity)]
    inside = [any(part.start <= c <= part.end for part in varying) for c in x]
    model = solved(beam, tuple(np.unique(x[inside]).tolist()))
    where = model.elements_at(x, np.ones(len(x), dtype=np.int64))
    starts, ends = model.nodes[where], model.nodes[where + 1]
    c = np.clip(x, starts, ends)
    moves = np.zeros((len(x), len(model.stiffness)))
    np.put_along_axis(moves, model.freedoms[where], _shapes_at(c - starts, ends - starts), axis=1)
    shape = np.zeros_like(moves)
    shape[:, model.free] = moves[:, model.free] @ model.inverse
    breaks, coefficients = _combined(model, shape)
    piece = _piece_of(breaks[0], c, at_end=c >= ends)
    breaks, coefficients = _split(breaks, coefficients, piece, c)
    _add_clamped(model, where, c, piece, coefficients)
    return _cleaned(breaks, coefficients)


def _shapes_at(t: Array, length: Array) -> Array:
    """Return the four cubic shapes of a stretch of constant EI; at its nodes, of any stretch."""
    r = t / length
    columns = ((1 - r) ** 2 * (1 + 2 * r), t * (1 - r) ** 2, r * r * (3 - 2 * r), t * r * (r - 1))
    return np.stack(columns, axis=1)


def _add_clamped(
    model: SolvedBeam, where: Integers, c: Array, piece: Integers, coefficients: Array
) -> None:
    """Add the deflection of the clamped element itself, a cubic on either side of the load."""
    for row, index in enumerate(where):
        part = model.elements[index]
        a, length = c[row] - part.start, part.end - part.start
        b = length - a
        if callable(part.rigidity) or min(a, b) <= 0:
            continue
        scale = 1 / (6 * part.rigidity * length**3)
        left = np.array([0.0, 0.0, 3 * b * b * a * length, -b * b * (3 * a + b)])
        # seen from the right end, and then expanded about the section towards the right
        right = np.array([0.0, 0.0, 3 * a * a * b * length, -a * a * (3 * b + a)])
        mirrored = shifted(right, b) * np.array([1.0, -1.0, 1.0, -1.0])
        coefficients[row, piece[row]] += scale * left
        coefficients[row, piece[row] + 1] += scale * mirrored


def _section_lines(model: SolvedBeam, effect: Effect, x: Array, faces: Integers) -> LineFamily:
    where = model.elements_at(x, faces)
    starts, ends = model.nodes[where], model.nodes[where + 1]
    c = np.clip(x, starts, ends)
    own = np.zeros((len(x), 4))
    own[:, 0] = c - starts if effect == "moment" else 1.0
    own[:, 1] = -1.0 if effect == "moment" else 0.0
    forces = np.einsum("ra,rab->rb", own, np.array([e.stiffness for e in model.elements])[where])
    spread = np.zeros((len(x), len(model.stiffness)))
    np.put_along_axis(spread, model.freedoms[where], forces, axis=1)
    shape = np.zeros_like(spread)
    shape[:, model.free] = -spread[:, model.free] @ model.inverse
    breaks, coefficients = _combined(model, shape, where, own)
    piece = _piece_of(breaks[0], c, at_end=c >= ends)
    breaks, coefficients = _split(breaks, coefficients, piece, c)
    # left of the section the unit load itself is part of the free body
    left_of = (breaks[:, 1:] <= c[:, None]) & (breaks[:, :-1] >= starts[:, None])
    left_of &= np.arange(breaks.shape[1] - 1) <= piece[:, None]
    if effect == "moment":
        coefficients[..., 0] -= np.where(left_of, c[:, None] - breaks[:, :-1], 0.0)
        coefficients[..., 1] += left_of
    else:
        coefficients[..., 0] -= left_of
    return _cleaned(breaks, coefficients, max(model.beam.spans) if effect == "moment" else 1.0)


def _piece_of(breaks: Array, c: Array, *, at_end: NDArray[np.bool_]) -> Integers:
    """Return the piece that holds each section; at the end of its element, the last one there."""
    right_of = np.searchsorted(breaks[1:], c, side="left")
    last = np.searchsorted(breaks[1:], c, side="right") - 1
    return np.clip(np.where(at_end, last, right_of), 0, len(breaks) - 2)


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
    model: SolvedBeam, shape: Array, where: Integers | None = None, own: Array | None = None
) -> tuple[Array, Array]:
    """Return breaks and cubics of shapes given by nodal values, the own element's part added."""
    counts = [len(part.shapes) for part in model.elements]
    owner = np.repeat(np.arange(len(counts)), counts)
    nodal = shape[:, model.freedoms]
    if where is not None and own is not None:
        nodal[np.arange(len(shape)), where] += own
    shapes = np.concatenate([part.shapes for part in model.elements])
    coefficients = np.einsum("rpa,pja->rpj", nodal[:, owner], shapes)
    breaks = np.concatenate([[0.0], *(part.breaks[1:] for part in model.elements)])
    breaks[0] = model.nodes[0]
    return np.repeat(breaks[None], len(shape), axis=0), coefficients


def _cleaned(breaks: Array, coefficients: Array, size_of_one: float = 0.0) -> LineFamily:
    """Return the lines with round-off set to zero, so that it does not look like a sign."""
    lengths = np.diff(breaks)[..., None] ** np.arange(4)
    size = np.abs(coefficients) * lengths
    largest = np.maximum(np.max(size, axis=(1, 2), keepdims=True), size_of_one)
    noise = size <= _NOISE * largest
    noise[..., 0] |= np.abs(coefficients[..., 0]) <= _NOISE * largest[..., 0]
    noise |= (np.max(size, axis=2, keepdims=True) <= 100 * _NOISE * largest) & (
        lengths[..., 1:2] > 0
    )
    return LineFamily(breaks, np.where(noise, 0.0, coefficients))


def stacked(families: Sequence[LineFamily]) -> LineFamily:
    """Return the rows of several families one after the other; they have the same pieces."""
    return LineFamily(
        np.concatenate([family.breaks for family in families]),
        np.concatenate([family.coefficients for family in families]),
    )
