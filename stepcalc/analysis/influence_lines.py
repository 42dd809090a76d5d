r"""Influence lines of beams, exact: piecewise cubics.

Signs: moment positive sagging, shear positive where the part to the left tends to move up, a
reaction positive upward, deflection positive downward. The unit load acts downward.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from stepcalc.analysis.batch_lines import deflection_lines, reaction_lines, section_lines
from stepcalc.analysis.beam_stiffness import solved
from stepcalc.analysis.line_family import EFFECTS, Effect, LineFamily
from stepcalc.errors import RangeError

if TYPE_CHECKING:
    from numpy.typing import ArrayLike

    from stepcalc.analysis.beam import Beam
    from stepcalc.analysis.piecewise import PiecewisePolynomial

__all__ = ["Effect", "LineFamily", "influence_line", "influence_lines", "support_index"]


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
    own = np.zeros(len(x), dtype=np.int64)
    if effect == "deflection":
        varying = [part for part in beam.segments if callable(part.rigidity)]
        inside = [any(part.start <= c <= part.end for part in varying) for c in x]
        return deflection_lines(solved(beam, tuple(np.unique(x[inside]).tolist())), own, x)
    if effect == "reaction":
        numbers = np.array([support_index(beam, float(position)) for position in x], dtype=np.int64)
        return reaction_lines(solved(beam), own, numbers)
    return section_lines(solved(beam), effect, own, x, np.broadcast_to(sides, x.shape))


def support_index(beam: Beam, position: float) -> int:
    """Return which support stands at a position, or raise."""
    supports = np.asarray(beam.supports)
    nearest = int(np.argmin(np.abs(supports - position))) if len(supports) else -1
    if nearest < 0 or abs(supports[nearest] - position) > 1e-9 * beam.length:
        listed = ", ".join(f"{x:g}" for x in supports)
        raise RangeError(f"no support stands at {position:g}; the supports are at {listed}")
    return nearest
