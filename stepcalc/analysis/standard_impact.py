"""Impact of the Standard Specifications, which depends on the loaded length."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import ArrayLike, NDArray

if TYPE_CHECKING:
    from stepcalc.analysis.beam import Beam
    from stepcalc.analysis.influence_lines import Effect

__all__ = ["loaded_length", "standard_impact"]

Array = NDArray[np.float64]


def loaded_length(beam: Beam, effect: Effect, section: float, *, sign: int, face: int = 1) -> float:
    """Return the loaded length for impact at one section.

    Parameters
    ----------
    beam : Beam
    effect : "moment", "shear", "reaction" or "deflection"
    section : float, [length]
    sign : int
        1 for the largest value, -1 for the smallest: for moment and shear another length.
    face : int
        At a support, the side whose span counts.

    Returns
    -------
    float, [length]
        The span for positive moment and deflection; the average of the two spans beside the nearer
        interior support for negative moment and interior reactions; from the section to the far
        end of its span for shear. On an overhang, from the section to its tip, and 0 for shear,
        which gives the 0.30 that the code asks for there.

    Source
    ------
    AASHTO Standard Specifications for Highway Bridges, 17th ed., 2002, Art. 3.8.2.2 (from memory);
    the length for reactions of interior supports is common practice, no source.
    """
    joints = np.asarray(beam.joints)
    index = beam.span_of(section, face)
    start, end = float(joints[index]), float(joints[index + 1])
    left_tip = index == 0 and beam.ends[0] == "free"
    if left_tip or (index == len(beam.spans) - 1 and beam.ends[1] == "free"):
        return 0.0 if effect == "shear" else abs(section - (start if left_tip else end))
    inner = np.asarray(beam.supports[1:-1])
    if len(inner) and (effect == "reaction" or (effect == "moment" and sign < 0)):
        nearest = float(inner[np.argmin(np.abs(inner - section))])
        if effect == "moment" or abs(nearest - section) <= 1e-9 * beam.length:
            return 0.5 * (beam.spans[beam.span_of(nearest, -1)] + beam.spans[beam.span_of(nearest)])
    if effect == "shear":
        return end - section if sign > 0 else section - start
    return end - start


def standard_impact(length: ArrayLike) -> Array:
    r"""Return the impact fraction for a loaded length in ft.

    .. math:: I = \frac{50}{L + 125} \le 0.30

    Parameters
    ----------
    length : array_like of float, ft
        Loaded length; this formula is bound to feet.

    Returns
    -------
    ndarray of float

    Source
    ------
    AASHTO Standard Specifications for Highway Bridges, 17th ed., 2002, Art. 3.8.2.1, Eq. 3-1 (from
    memory).

    Examples
    --------
    >>> float(standard_impact(75.0))
    0.25
    """
    return np.minimum(50.0 / (np.asarray(length, dtype=np.float64) + 125.0), 0.30)
