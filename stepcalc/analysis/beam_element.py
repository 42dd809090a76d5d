"""The stiffness of one stretch of beam, and the shapes it takes when its ends move.

Constant EI: cubic shapes, exact. EI that varies along the stretch: the flexibility is integrated
numerically (Gauss), and the shapes are cubics between points that are doubled until a value midway
between them changes by less than `SHAPE_TOLERANCE` of the largest.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from stepcalc.errors import UndefinedError

if TYPE_CHECKING:
    from stepcalc.analysis.beam import Rigidity

__all__ = ["SHAPE_TOLERANCE", "UNIFORM", "Element", "UnitElement", "element", "unit_element"]

Array = NDArray[np.float64]

SHAPE_TOLERANCE = 1e-7
_MOST_PIECES = 512
_GAUSS_T, _GAUSS_W = np.polynomial.legendre.leggauss(8)
_GAUSS_T, _GAUSS_W = 0.5 * (_GAUSS_T + 1), 0.5 * _GAUSS_W
_TURNS = np.array([0, 1, 0, 1])
"""Which of the four degrees of freedom are rotations."""


@dataclass(frozen=True, eq=False)
class UnitElement:
    """A stretch of length 1, and of EI 1 times a law; every longer one is this one, scaled.

    Degrees of freedom are upward displacement and anticlockwise rotation at the left end, then at
    the right end.

    Attributes
    ----------
    stiffness : ndarray of float, shape (4, 4)
        End forces of unit end displacements.
    breaks : ndarray of float, shape (m + 1,)
        Points between which a shape is one cubic, 0 to 1.
    shapes : ndarray of float, shape (m, 4, 4)
        Piece, ascending power about the piece's left point, degree of freedom.
    """

    stiffness: Array
    breaks: Array
    shapes: Array

    def stiffness_of(self, length: Array, rigidity: Array) -> Array:
        """Return the stiffness of stretches of some lengths and EI, shape (..., 4, 4)."""
        turned = length[..., None] ** _TURNS
        size = (rigidity / length**3)[..., None, None]
        return np.asarray(size * turned[..., :, None] * turned[..., None, :] * self.stiffness)

    def shapes_of(self, length: Array) -> Array:
        """Return the shapes of stretches of some lengths, shape (..., m, 4, 4)."""
        power = _TURNS - np.arange(4.0)[:, None]
        return np.asarray(length[..., None, None, None] ** power * self.shapes)


@dataclass(frozen=True, eq=False)
class Element:
    """A stretch between two nodes of one beam.

    Attributes
    ----------
    start, end : float, [length]
        From the left end of the beam.
    rigidity : float or callable
        EI, as given to the beam.
    stiffness, breaks, shapes : ndarray of float
        As of a `UnitElement`, in the beam's own lengths; breaks from the left end of the beam.
    """

    start: float
    end: float
    rigidity: Rigidity
    stiffness: Array
    breaks: Array
    shapes: Array


def element(start: float, end: float, rigidity: Rigidity) -> Element:
    """Return a stretch of beam with its stiffness and its shapes.

    Parameters
    ----------
    start, end : float, [length]
        From the left end of the beam.
    rigidity : float or callable, [force * length**2]
        EI.

    Returns
    -------
    Element

    Raises
    ------
    UndefinedError
        If a varying EI is too rough for its shapes to converge.

    Source
    ------
    Flexibility of a simply supported member under end moments; Hermite cubics. No clause.
    """
    unit, size = unit_element(start, end, rigidity)
    length = np.asarray(end - start)
    breaks = start + unit.breaks * (end - start)
    breaks[-1] = end
    return Element(
        start,
        end,
        rigidity,
        unit.stiffness_of(length, np.asarray(size)),
        breaks,
        unit.shapes_of(length),
    )


def unit_element(start: float, end: float, rigidity: Rigidity) -> tuple[UnitElement, float]:
    """Return the unit stretch that a stretch of beam is a multiple of, and the EI of its law's 1.

    Raises
    ------
    UndefinedError
        If a varying EI is too rough for its shapes to converge.
    """
    if not callable(rigidity):
        return UNIFORM, float(rigidity)
    law = rigidity
    size = float(np.asarray(law(np.array([0.5 * (start + end)])), dtype=np.float64)[0])
    found = _varying(lambda t: np.asarray(law(start + t * (end - start))) / size)
    if found is None:
        msg = (
            f"EI between {start:g} and {end:g} varies too roughly for {_MOST_PIECES} points; "
            "begin a new segment where it jumps or kinks"
        )
        raise UndefinedError(msg)
    return found, size


def _stiffness(flexibility: Array) -> Array:
    """Return the 4 x 4 stiffness from the 2 x 2 end-rotation flexibility, of length 1."""
    turn = np.array([[1, 1, -1, 0], [1, 0, -1, 1]])
    return np.asarray(turn.T @ np.linalg.inv(flexibility) @ turn)


def _hermite(values: Array, slopes: Array, lengths: Array) -> Array:
    """Return cubics from values and slopes (piece, end, ...) at both ends, powers on axis 1."""
    h = lengths[:, None]
    a, b = values[:, 0], values[:, 1]
    da, db = slopes[:, 0], slopes[:, 1]
    c2 = (3 * (b - a) / h - 2 * da - db) / h
    c3 = (2 * (a - b) / h + da + db) / h**2
    return np.stack([a, da, c2, c3], axis=1)


UNIFORM = UnitElement(
    np.array([[12.0, 6, -12, 6], [6, 4, -6, 2], [-12, -6, 12, -6], [6, 2, -6, 4]]),
    np.array([0.0, 1.0]),
    _hermite(np.eye(4)[None, 0::2], np.eye(4)[None, 1::2], np.array([1.0])),
)
"""The stretch of constant EI."""


def _varying(law: Callable[[Array], Array]) -> UnitElement | None:
    pieces = 8
    while pieces <= _MOST_PIECES:
        breaks = np.linspace(0.0, 1.0, 2 * pieces + 1)
        stiffness, values, slopes = _integrated(breaks, law)
        coarse = _hermite(_pairs(values[::2]), _pairs(slopes[::2]), np.diff(breaks[::2]))
        middle = np.diff(breaks)[::2, None]
        guess = coarse[:, 0] + middle * (
            coarse[:, 1] + middle * (coarse[:, 2] + middle * coarse[:, 3])
        )
        error = np.max(np.abs(guess - values[1::2]), axis=0)
        if np.all(error <= SHAPE_TOLERANCE * np.max(np.abs(values), axis=0)):
            return UnitElement(stiffness, breaks[::2], coarse)
        pieces *= 2
    return None


def _pairs(values: Array) -> Array:
    return np.stack([values[:-1], values[1:]], axis=1)


def _integrated(breaks: Array, law: Callable[[Array], Array]) -> tuple[Array, Array, Array]:
    """Return the stiffness, and value and slope of the four shapes at every break."""
    h = np.diff(breaks)
    x = breaks[:-1, None] + h[:, None] * _GAUSS_T
    weight = h[:, None] * _GAUSS_W / np.asarray(law(x.ravel())).reshape(x.shape)
    unit_moments = np.stack([x - 1, x])
    flexibility = np.einsum("ipg,jpg,pg->ij", unit_moments, unit_moments, weight)
    stiffness = _stiffness(flexibility)
    # bending moment along the member for each of the four unit end displacements
    moments = np.einsum("ipg,ia->pga", unit_moments, stiffness[1::2])
    curvature = moments * weight[..., None]
    turned = curvature.sum(axis=1)
    moved = np.sum(curvature * (breaks[1:, None] - x)[..., None], axis=1)
    slopes = np.vstack([np.eye(4)[1], np.eye(4)[1] + np.cumsum(turned, axis=0)])
    steps = slopes[:-1] * h[:, None] + moved
    values = np.vstack([np.eye(4)[0], np.eye(4)[0] + np.cumsum(steps, axis=0)])
    return stiffness, values, slopes
