r"""Effects of a uniform load, with or without one single force riding on it, on a simple span.

Everything here is plain arithmetic, so it takes floats, arrays, or anything else with the four
operations.
"""

from __future__ import annotations

from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

__all__ = ["lane_moment", "lane_shear", "midspan_lane_moment", "uniform_midspan_deflection"]

Number = TypeVar("Number", float, NDArray[np.float64])


def lane_moment(uniform: Number, force: Number, section: Number, *, span: Number) -> Number:
    r"""Return the largest moment at a section under a lane load.

    .. math:: M = w\,\frac{c (L - c)}{2} + P\,\frac{c (L - c)}{L}

    The uniform load covers the span and the single force stands on the section.

    Parameters
    ----------
    uniform, force : float or ndarray of float, [force / length] and [force]
        The uniform load :math:`w` and the single force :math:`P` (0 if there is none).
    section, span : float or ndarray of float, [length]
        Where the moment is wanted, and the span.

    Returns
    -------
    float or ndarray of float, [force * length]

    Source
    ------
    Statics: area under, and peak of, the influence line for moment. No clause.

    Examples
    --------
    >>> lane_moment(2.0, 5.0, 4.0, span=10.0)
    36.0
    """
    return section * (span - section) * (uniform / 2 + force / span)


def midspan_lane_moment(uniform: Number, force: Number, *, span: Number) -> Number:
    r"""Return the largest moment of a lane load anywhere on the span.

    .. math:: M = w L^2/8 + P L/4

    Parameters
    ----------
    uniform, force : float or ndarray of float, [force / length] and [force]
        The uniform load and the single force (0 if there is none).
    span : float or ndarray of float, [length]
        The span.

    Returns
    -------
    float or ndarray of float, [force * length]

    Source
    ------
    Statics: `lane_moment` at midspan. No clause.

    Examples
    --------
    The lane load 0.64 kip/ft with 18 kip on 60 ft.

    >>> round(midspan_lane_moment(0.64, 18.0, span=60.0), 6)
    558.0
    """
    return uniform * span * span / 8 + force * span / 4


def lane_shear(uniform: Number, force: Number, section: Number, *, span: Number) -> Number:
    r"""Return the largest positive shear at a section under a lane load.

    .. math:: V = w\,\frac{(L - c)^2}{2 L} + P\,\frac{L - c}{L}

    The uniform load covers only what lies to the right of the section; the part to the left would
    reduce the shear.

    Parameters
    ----------
    uniform, force : float or ndarray of float, [force / length] and [force]
        The uniform load and the single force (0 if there is none).
    section, span : float or ndarray of float, [length]
        Where the shear is wanted, and the span.

    Returns
    -------
    float or ndarray of float, [force]

    Source
    ------
    Statics: positive area under, and peak of, the influence line for shear. No clause.

    Examples
    --------
    >>> lane_shear(2.0, 5.0, 4.0, span=10.0)
    6.6
    """
    return (span - section) * (uniform * (span - section) / 2 + force) / span


def uniform_midspan_deflection(uniform: Number, *, span: Number, rigidity: Number) -> Number:
    r"""Return the midspan deflection under a uniform load over the whole span.

    .. math:: \delta = \frac{5 w L^4}{384 EI}

    Parameters
    ----------
    uniform : float or ndarray of float, [force / length]
        The load.
    span : float or ndarray of float, [length]
        The span.
    rigidity : float or ndarray of float, [force * length**2]
        EI, constant over the span.

    Returns
    -------
    float or ndarray of float, [length]
        Downward positive.

    Source
    ------
    Statics: elastic line of a prismatic simple beam. No clause.

    Examples
    --------
    >>> uniform_midspan_deflection(384.0, span=2.0, rigidity=5.0)
    16.0
    """
    return 5 * uniform * span**4 / (384 * rigidity)
