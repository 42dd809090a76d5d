"""Skew: what it adds to shear, and what an owner may let it take off moment."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from stepcalc.errors import RangeError
from stepcalc.expr.functions import cases, minimum, tan
from stepcalc.units import Q_, ft, inch

if TYPE_CHECKING:
    from stepcalc.bridge.lanes.deck import Deck
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.sheet import Sheet

__all__ = ["SkewCorrections", "skew_corrections", "state_skew"]


@dataclass(frozen=True)
class SkewCorrections:
    """Factors on the lanes of a girder.

    Attributes
    ----------
    moment : Operand
        ``k_sM``, 1 where the reduction is not taken.
    shear : Operand
        ``k_sV``, for the exterior girder at an obtuse corner.
    """

    moment: Operand
    shear: Operand


def state_skew(sheet: Sheet, degrees: float, *, source: str) -> Operand:
    """Write the skew angle as a given.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives it.
    degrees : float
        From a line at right angles to the girders, 0 to less than 90.
    source : str
        Where it comes from.

    Returns
    -------
    Given
        ``theta``.

    Raises
    ------
    RangeError
        If the angle is not a finite number from 0 to less than 90 degrees.
    """
    if not (math.isfinite(degrees) and 0 <= degrees < 90):
        msg = (
            f"the skew is {degrees:g} degrees; give the angle between the support line and a line "
            "at right angles to the girders, 0 to less than 90"
        )
        raise RangeError(msg)
    return sheet.given(  # type: ignore[no-any-return]  # a given of the sheet
        "theta", Q_(degrees, "degree"), "skew of the support lines", source=source
    )


def skew_corrections(
    sheet: Sheet, deck: Deck, skew: Operand, *, reduce_moment: bool
) -> SkewCorrections:
    r"""Write the skew corrections of moment and shear.

    .. math::
        k_{sM} = 1 - c_1 (\tan\theta)^{1.5}, \qquad
        c_1 = 0.25 \left(\frac{K_g}{12 L t_s^3}\right)^{0.25} \left(\frac{S}{L}\right)^{0.5}

        k_{sV} = 1 + 0.20 \left(\frac{12 L t_s^3}{K_g}\right)^{0.3} \tan\theta

    with no reduction below 30 degrees, and 60 degrees in place of more for moment.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    deck : Deck
        The cross-section, with the length L of the effect.
    skew : Operand
        ``theta``.
    reduce_moment : bool
        Whether the reduction of moment is taken: the owner's choice, printed.

    Returns
    -------
    SkewCorrections

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Tables 4.6.2.2.2e-1 and 4.6.2.2.3c-1; from memory.
    """
    step, S, L = sheet.step, deck.spacing.magnitude(ft), deck.span.magnitude(ft)
    t_s, K_g = deck.slab.magnitude(inch), deck.stiffness.magnitude(inch**4)
    k = K_g / (12 * L * t_s**3)
    degree = Q_(1, "degree")
    if reduce_moment:
        sheet.note("Option taken: skew reduces the lanes for moment.")
        c_1 = step(
            "c_1",
            cases(
                (skew < 30 * degree, 0, "skew below 30 degrees"),
                otherwise=(0.25 * k**0.25 * (S / L) ** 0.5, "30 degrees and more"),
            ),
            None, "skew coefficient", ref="LRFD Table 4.6.2.2.2e-1",
        )  # fmt: skip
        limited = minimum(skew, 60 * degree)
        k_M = step(
            "k_sM", 1 - c_1 * tan(limited) ** 1.5, None, "skew reduction of moment",
            ref="LRFD Table 4.6.2.2.2e-1",
        )  # fmt: skip
    else:
        sheet.note("Option not taken: the lanes for moment are not reduced by skew.")
        k_M = sheet.given(
            "k_sM", 1.0, "skew reduction of moment", assumed="not taken, on the safe side"
        )
    sheet.note(
        "The skew correction of shear belongs to the exterior girder at the obtuse corner; used "
        "for all girders and along the whole girder it is on the safe side."
    )
    k_V = step(
        "k_sV", 1 + 0.20 * (1 / k) ** 0.3 * tan(skew), None, "skew correction of shear",
        ref="LRFD Table 4.6.2.2.3c-1", valid=(skew <= 60 * degree,),
    )  # fmt: skip
    return SkewCorrections(k_M, k_V)
