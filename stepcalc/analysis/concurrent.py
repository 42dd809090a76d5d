"""What else acts where an envelope has its extremes: shear with maximum moment, and the reverse."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from stepcalc.analysis.influence_lines import Effect, LineFamily, influence_lines
from stepcalc.analysis.line_signs import areas_where, positive_part
from stepcalc.analysis.train_placement import ordinates_at

if TYPE_CHECKING:
    from stepcalc.analysis.case_effect import CaseEffect
    from stepcalc.analysis.live_load_envelope import EffectEnvelope, Which

__all__ = ["Concurrent", "concurrent"]

Array = NDArray[np.float64]
Integers = NDArray[np.int64]


@dataclass(frozen=True, eq=False)
class Concurrent:
    """Another effect at the sections of an envelope, under the very loads of its extremes.

    Attributes
    ----------
    effect : "moment", "shear" or "deflection"
    left, right : ndarray of float, shape (n,)
        Just left and just right of the section. They differ for shear where an axle stands on the
        section, which is the usual place of the largest moment, and at supports.
    """

    effect: Effect
    left: Array
    right: Array

    @property
    def governing(self) -> Array:
        """The one of larger magnitude, with its sign; of equal ones, that on the left."""
        return np.where(np.abs(self.right) > np.abs(self.left), self.right, self.left)


def concurrent(envelope: EffectEnvelope, effect: Effect, which: Which = "max") -> Concurrent:
    """Return another effect at every section of an envelope, under the governing loads.

    Load factor design and allowable stress design need it: shear with maximum moment, and moment
    with maximum shear (moment and shear of one stiffened panel act together).

    Parameters
    ----------
    envelope : EffectEnvelope
        Of moment, shear or deflection, such as ``live_load_envelope(beam)["moment"]``.
    effect : "moment", "shear" or "deflection"
        The effect that is asked for.
    which : "max" or "min"
        Whose loads: those of ``envelope.maximum`` or of ``envelope.minimum``. Axles that were left
        out, and the stretches without lane load, stay empty.

    Returns
    -------
    Concurrent
        With the factors of the governing case; 0 where nothing stands.

    Source
    ------
    Superposition of influence ordinates. No clause.

    Examples
    --------
    HL-93 on 100 ft, at midspan: the shear jumps by the axle that stands there, 1.33 times 32 kip.

    >>> from stepcalc.analysis.beam import Beam
    >>> from stepcalc.analysis.live_load_envelope import live_load_envelope
    >>> moment = live_load_envelope(Beam((100.0,)), sections=[50.0])["moment"]
    >>> shear = concurrent(moment, "shear")
    >>> print(f"{shear.left[0]:.2f} {shear.right[0]:.2f}")
    32.77 -9.79
    """
    sides = {}
    for face in (-1, 1):
        at = np.full(len(envelope.sections), face, dtype=np.int64)
        # the shear of a section that is a face of a support already is the shear of that face
        faces = envelope.faces if envelope.effect == "shear" else at
        lines = influence_lines(envelope.beam, effect, envelope.sections, faces=faces)
        sides[face] = _under_governing(envelope, lines, which, face)
    return Concurrent(effect, sides[-1], sides[1])


def _under_governing(envelope: EffectEnvelope, lines: LineFamily, which: Which, face: int) -> Array:
    found = np.zeros(len(envelope.sections))
    governing = envelope.maximum_case if which == "max" else envelope.minimum_case
    first = envelope.first_row[0 if which == "max" else 1]
    sign = 1 if which == "max" else -1
    for number in np.unique(governing[governing >= 0]):
        picked = np.flatnonzero(governing == number)
        part = _under_case(
            envelope.results[number],
            first + picked,
            lines.rows(picked),
            _towards(envelope, picked, face),
        )
        case = envelope.results[number].case
        if case.lane:
            own = envelope.lines.rows(picked)
            loaded = positive_part(own if sign > 0 else own.reversed())
            part += case.lane_factor * case.lane * areas_where(lines.rows(picked), loaded)
        found[picked] = part
    return found


def _towards(envelope: EffectEnvelope, picked: Integers, face: int) -> tuple[Array, int] | None:
    """Return the sections and on which side of them an axle counts that stands on them.

    The shear just left of a section has the axle on its right. An envelope of shear says itself on
    which side its axles stand.
    """
    return None if envelope.effect == "shear" else (envelope.sections[picked], -face)


def _under_case(
    result: CaseEffect, rows: Integers, lines: LineFamily, towards: tuple[Array, int] | None
) -> Array:
    positions, sides = result.positions[rows], result.sides[rows]
    if towards is not None:
        sections, side = towards
        length = lines.breaks[:, -1] - lines.breaks[:, 0]
        on = np.abs(positions - sections[:, None]) <= 1e-9 * length[:, None]
        sides = np.where(on, side, sides)
    ordinates = ordinates_at(lines, positions, sides)
    counted = result.ordinates[rows] != 0
    if result.case.relieving == "kept" and result.case.pair is None:
        # a train that moves as a unit counts with every axle, even one at a zero of its line
        counted |= result.axles[rows, None] > 0
    case = result.case
    factor = case.axle_factor if case.vehicle is not None else case.lane_factor
    products = np.where(counted, result.forces[rows] * ordinates, 0.0)
    return np.asarray(factor * products.sum(axis=1))
