r"""Influence ordinates of a simple span, and the effects of loads that stand still on it.

The span runs from 0 to :math:`L`; a load outside it adds nothing. Moment is positive sagging,
shear is positive where the part to the left of the section tends to move up, deflection is
positive downward. All arguments broadcast.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

__all__ = [
    "left_reaction_ordinate",
    "midspan_deflection_ordinate",
    "moment_ordinate",
    "placed_midspan_deflection",
    "placed_moment",
    "placed_shear",
    "shear_ordinate",
]

Array = NDArray[np.float64]


def left_reaction_ordinate(position: ArrayLike, *, span: ArrayLike) -> Array:
    r"""Return the left reaction under a unit load.

    .. math:: y = (L - x)/L, \quad 0 \le x \le L

    Parameters
    ----------
    position, span : array_like of float, [length]
        Position :math:`x` of the unit load from the left support, and the span :math:`L`.

    Returns
    -------
    ndarray of float, broadcast shape
        Dimensionless; 0 for a load off the span.

    Source
    ------
    Statics: influence line for the reaction of a simple beam. No clause.

    Examples
    --------
    >>> float(left_reaction_ordinate(3.0, span=12.0))
    0.75
    """
    x, L = _floats(position, span)
    return np.where((x < 0) | (x > L), 0.0, (L - x) / L)


def moment_ordinate(position: ArrayLike, section: ArrayLike, *, span: ArrayLike) -> Array:
    r"""Return the bending moment at a section under a unit load.

    .. math:: y = \frac{\min(x, c)\,\bigl(L - \max(x, c)\bigr)}{L}, \quad 0 \le x \le L

    Parameters
    ----------
    position, section, span : array_like of float, [length]
        Position :math:`x` of the load and :math:`c` of the section from the left support, and the
        span :math:`L`.

    Returns
    -------
    ndarray of float, broadcast shape, [length]
        Sagging positive; 0 for a load off the span.

    Source
    ------
    Statics: influence line for moment in a simple beam. No clause.

    Examples
    --------
    A unit load at 4, read at 6, on 10: 4 (10 - 6) / 10.

    >>> float(moment_ordinate(4.0, 6.0, span=10.0))
    1.6
    """
    x, c, L = _floats(position, section, span)
    return np.where((x < 0) | (x > L), 0.0, np.minimum(x, c) * (L - np.maximum(x, c)) / L)


def shear_ordinate(position: ArrayLike, section: ArrayLike, *, span: ArrayLike) -> Array:
    r"""Return the shear just left of a load that stands on the section, under a unit load.

    .. math:: y = -x/L \;\; (x < c), \qquad y = (L - x)/L \;\; (x \ge c)

    A load on the section itself counts as standing to the right of it, which is where the positive
    shear is largest.

    Parameters
    ----------
    position, section, span : array_like of float, [length]
        Position :math:`x` of the load and :math:`c` of the section from the left support, and the
        span :math:`L`.

    Returns
    -------
    ndarray of float, broadcast shape
        Dimensionless; 0 for a load off the span.

    Source
    ------
    Statics: influence line for shear in a simple beam. No clause.

    Examples
    --------
    >>> float(shear_ordinate(3.0, 5.0, span=12.0)), float(shear_ordinate(9.0, 5.0, span=12.0))
    (-0.25, 0.25)
    """
    x, c, L = _floats(position, section, span)
    return np.where((x < 0) | (x > L), 0.0, np.where(x < c, -x, L - x) / L)


def midspan_deflection_ordinate(position: ArrayLike, *, span: ArrayLike) -> Array:
    r"""Return EI times the midspan deflection under a unit load.

    .. math:: EI\,y = \frac{a\,(3 L^2 - 4 a^2)}{48}, \quad a = \min(x, L - x)

    Parameters
    ----------
    position, span : array_like of float, [length]
        Position :math:`x` of the load from the left support, and the span :math:`L`.

    Returns
    -------
    ndarray of float, broadcast shape, [length**3]
        Downward positive; 0 for a load off the span. Divide by EI for a deflection.

    Source
    ------
    Statics: elastic line of a prismatic simple beam, shear deformation left out. No clause.

    Examples
    --------
    At midspan of 12 it is L**3 / 48.

    >>> float(midspan_deflection_ordinate(6.0, span=12.0))
    36.0
    """
    x, L = _floats(position, span)
    a = np.minimum(x, L - x)
    return np.where(a < 0, 0.0, a * (3 * L * L - 4 * a * a) / 48)


def placed_moment(
    forces: ArrayLike, positions: ArrayLike, section: ArrayLike, *, span: ArrayLike
) -> Array:
    """Return the moment at a section under loads that stand still.

    Parameters
    ----------
    forces, positions : array_like of float, shape (..., n), [force] and [length]
        The loads, on the last axis, and where they stand.
    section, span : array_like of float, shape (...), [length]
        Where the moment is wanted, and the span.

    Returns
    -------
    ndarray of float, shape (...), [force * length]

    Source
    ------
    Statics: superposition of `moment_ordinate`. No clause.

    Examples
    --------
    >>> float(placed_moment([10.0, 20.0], [4.0, 7.0], 6.0, span=10.0))
    52.0
    """
    c, L = _floats(section, span)
    return _summed(forces, moment_ordinate(positions, c[..., None], span=L[..., None]))


def placed_shear(
    forces: ArrayLike, positions: ArrayLike, section: ArrayLike, *, span: ArrayLike
) -> Array:
    """Return the shear at a section under loads that stand still; arguments as for `placed_moment`.

    A load on the section counts as standing to the right of it.

    Parameters
    ----------
    forces, positions : array_like of float, shape (..., n), [force] and [length]
        The loads, on the last axis, and where they stand.
    section, span : array_like of float, shape (...), [length]
        Where the shear is wanted, and the span.

    Returns
    -------
    ndarray of float, shape (...), [force]

    Source
    ------
    Statics: superposition of `shear_ordinate`. No clause.

    Examples
    --------
    >>> float(placed_shear([10.0, 20.0], [4.0, 7.0], 6.0, span=10.0))
    2.0
    """
    c, L = _floats(section, span)
    return _summed(forces, shear_ordinate(positions, c[..., None], span=L[..., None]))


def placed_midspan_deflection(
    forces: ArrayLike, positions: ArrayLike, *, span: ArrayLike, rigidity: ArrayLike
) -> Array:
    """Return the midspan deflection under loads that stand still.

    Parameters
    ----------
    forces, positions : array_like of float, shape (..., n), [force] and [length]
        The loads, on the last axis, and where they stand.
    span : array_like of float, shape (...), [length]
        The span.
    rigidity : array_like of float, shape (...), [force * length**2]
        EI, constant over the span.

    Returns
    -------
    ndarray of float, shape (...), [length]
        Downward positive.

    Source
    ------
    Statics: superposition of `midspan_deflection_ordinate`. No clause.

    Examples
    --------
    48 at midspan of 10 with EI = 1000: 48 * 10**3 / (48 * 1000).

    >>> float(placed_midspan_deflection([48.0], [5.0], span=10.0, rigidity=1000.0))
    1.0
    """
    (L,) = _floats(span)
    rigid = _summed(forces, midspan_deflection_ordinate(positions, span=L[..., None]))
    return np.asarray(rigid / np.asarray(rigidity, float))


def _summed(forces: ArrayLike, ordinates: Array) -> Array:
    return np.asarray(np.sum(np.asarray(forces, float) * ordinates, axis=-1))


def _floats(*values: ArrayLike) -> tuple[Array, ...]:
    return tuple(np.asarray(value, dtype=np.float64) for value in values)
