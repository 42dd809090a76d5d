"""The largest shear that a train of axles causes at a section of a simple span, exact."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np

from stepcalc.analysis.axle_on_section import best_axle_on_section
from stepcalc.analysis.influence import Array, shear_ordinate
from stepcalc.analysis.placement import Placement, axles_of

if TYPE_CHECKING:
    from numpy.typing import ArrayLike

__all__ = ["maximum_shear"]


def maximum_shear(
    axles: Sequence[float],
    spacings: Sequence[float],
    section: ArrayLike = 0.0,
    *,
    span: ArrayLike,
    relieving: bool = False,
) -> Placement:
    r"""Return the largest positive shear at a section of a simple span, both headings.

    The shear falls while the train moves on, and jumps up by an axle's force where that axle comes
    to stand on the section, so the largest value has an axle there, an instant to the right of the
    section. With ``section = 0`` it is the left reaction. By symmetry the largest negative shear
    at :math:`c` is minus the value at :math:`L - c`.

    Parameters
    ----------
    axles : sequence of float, length n, [force]
        Axle forces, first axle first.
    spacings : sequence of float, length n - 1, [length]
        Distances between neighbouring axles.
    section : array_like of float, shape (...), [length]
        Where the shear is wanted, from the left support.
    span : array_like of float, shape (...), [length]
        The span, centre to centre of bearings.
    relieving : bool
        Whether axles to the left of the section, which reduce the shear, are counted. The design
        codes drop them (LRFD Art. 3.6.1.3.1); a real vehicle keeps them.

    Returns
    -------
    Placement
        ``value`` in [force]; ``axle`` is the axle on the section.

    Raises
    ------
    ShapeError
        If axles and spacings do not fit each other, or the arrays do not broadcast.

    Source
    ------
    Statics: influence line for shear in a simple beam. No clause.

    Examples
    --------
    8, 32 and 32 kip at 14 ft on 62 ft: 72 - 672/62 kip, the rear axle at the support.

    >>> found = maximum_shear([8, 32, 32], [14, 14], span=62.0)
    >>> print(f"{found.value:.2f} with axle {found.axle} at the support")
    61.16 with axle 2 at the support
    """
    train = axles_of(axles, spacings)
    return best_axle_on_section(train, section, span, _kept if relieving else _dropped)


def _kept(position: Array, section: Array, span: Array) -> Array:
    """Return `shear_ordinate`, axles left of the section counted."""
    return shear_ordinate(position, section, span=span)


def _dropped(position: Array, section: Array, span: Array) -> Array:
    """Return `shear_ordinate` with 0 in place of what reduces the shear."""
    return np.maximum(shear_ordinate(position, section, span=span), 0.0)
