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

__all__ = ["SHAPE_TOLERANCE", "Element", "element"]

Array = NDArray[np.float64]

SHAPE_TOLERANCE = 1e-7
_MOST_PIECES = 512
_GAUSS_T, _GAUSS_W = np.polynomial.legendre.leggauss(8)
_GAUSS_T, _GAUSS_W = 0.5 * (_GAUSS_T + 1), 0.5 * _GAUSS_W


@dataclass(frozen=True, eq=False)
class Element:
    """A stretch between two nodes.

    Degrees of freedom are upward displacement and anticlockwise rotation at the left end, then at
    the right end.

    Attributes
    ----------
    start, end : float, [length]
        From the left end of the beam.
    rigidity : float or callable
        EI, as given to the beam.
    stiffness : ndarray of float, shape (4, 4)
        End forces of unit end displacements.
    breaks : ndarray of float, shape (m + 1,), [length]
        Points between which a shape is one cubic.
    shapes : ndarray of float, shape (m, 4, 4)
        Piece, ascending power about the piece's left point, degree of freedom.
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
    length = end - start
    if not callable(rigidity):
        flexibility = length / rigidity * np.array([[1 / 3, -1 / 6], [-1 / 6, 1 / 3]])
        breaks = np.array([start, end])
        shapes = _hermite(np.eye(4)[None, 0::2], np.eye(4)[None, 1::2], np.array([length]))
        return Element(start, end, rigidity, _stiffness(flexibility, length), breaks, shapes)
    return _varying(start, end, rigidity)


def _stiffness(flexibility: Array, length: float) -> Array:
    """Return the 4 x 4 stiffness from the 2 x 2 end-rotation flexibility."""
    turn = np.array([[1 / length, 1, -1 / length, 0], [1 / length, 0, -1 / length, 1]])
    return np.asarray(turn.T @ np.linalg.inv(flexibility) @ turn)


def _hermite(values: Array, slopes: Array, lengths: Array) -> Array:
    """Return cubics from values and slopes (piece, end, ...) at both ends, powers on axis 1."""
    h = lengths[:, None]
    a, b = values[:, 0], values[:, 1]
    da, db = slopes[:, 0], slopes[:, 1]
    c2 = (3 * (b - a) / h - 2 * da - db) / h
    c3 = (2 * (a - b) / h + da + db) / h**2
    return np.stack([a, da, c2, c3], axis=1)


def _varying(start: float, end: float, rigidity: Callable[[Array], Array]) -> Element:
    pieces = 8
    while pieces <= _MOST_PIECES:
        breaks = np.linspace(start, end, 2 * pieces + 1)
        stiffness, values, slopes = _integrated(breaks, rigidity)
        coarse = _hermite(_pairs(values[::2]), _pairs(slopes[::2]), np.diff(breaks[::2]))
        middle = np.diff(breaks)[::2, None]
        guess = coarse[:, 0] + middle * (
            coarse[:, 1] + middle * (coarse[:, 2] + middle * coarse[:, 3])
        )
        error = np.max(np.abs(guess - values[1::2]), axis=0)
        if np.all(error <= SHAPE_TOLERANCE * np.max(np.abs(values), axis=0)):
            return Element(start, end, rigidity, stiffness, breaks[::2], coarse)
        pieces *= 2
    msg = (
        f"EI between {start:g} and {end:g} varies too roughly for {_MOST_PIECES} points; "
        "begin a new segment where it jumps or kinks"
    )
    raise UndefinedError(msg)


def _pairs(values: Array) -> Array:
    return np.stack([values[:-1], values[1:]], axis=1)


def _integrated(breaks: Array, rigidity: Callable[[Array], Array]) -> tuple[Array, Array, Array]:
    """Return the stiffness, and value and slope of the four shapes at every break."""
    length = breaks[-1] - breaks[0]
    h = np.diff(breaks)
    x = breaks[:-1, None] + h[:, None] * _GAUSS_T
    weight = h[:, None] * _GAUSS_W / np.asarray(rigidity(x.ravel())).reshape(x.shape)
    t = (x - breaks[0]) / length
    unit_moments = np.stack([t - 1, t])
    flexibility = np.einsum("ipg,jpg,pg->ij", unit_moments, unit_moments, weight)
    stiffness = _stiffness(flexibility, float(length))
    # bending moment along the member for each of the four unit end displacements
    moments = np.einsum("ipg,ia->pga", unit_moments, stiffness[1::2])
    curvature = moments * weight[..., None]
    turned = curvature.sum(axis=1)
    moved = np.sum(curvature * (breaks[1:, None] - x)[..., None], axis=1)
    slopes = np.vstack([np.eye(4)[1], np.eye(4)[1] + np.cumsum(turned, axis=0)])
    steps = slopes[:-1] * h[:, None] + moved
    values = np.vstack([np.eye(4)[0], np.eye(4)[0] + np.cumsum(steps, axis=0)])
    return stiffness, values, slopes
