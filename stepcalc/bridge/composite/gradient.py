"""Moment gradient modifier between two brace points: C_b of Articles 6.10.8.2.3 and A6.3.3."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stepcalc.bridge.constants import use
from stepcalc.expr.functions import any_of, cases, maximum, minimum
from stepcalc.units import Q_

if TYPE_CHECKING:
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.sheet import Sheet


@dataclass(frozen=True)
class MomentGradient:
    """Values at the brace points, and the modifier.

    Attributes
    ----------
    greater, lesser, chord : Operand
        ``f_2``, ``f_0`` and ``f_1``, stresses or moments.
    modifier : Operand
        ``C_b``.
    """

    greater: Operand
    lesser: Operand
    chord: Operand
    modifier: Operand


def moment_gradient(
    sheet: Sheet, *, first: Operand, middle: Operand, second: Operand, cantilever: bool = False
) -> MomentGradient:
    r"""Write ``C_b`` from the envelope at two brace points and midway between them.

    .. math:: C_b = 1.75 - 1.05\frac{f_1}{f_2} + 0.3\left(\frac{f_1}{f_2}\right)^2 \le 2.3,
        \qquad f_1 = \max(2 f_{mid} - f_2,\; f_0)

    ``C_b`` is 1 where ``f_mid`` exceeds ``f_2``, where neither end is compressed, and in an
    unbraced cantilever.  Where the diagram is concave throughout, the larger of the two values of
    ``f_1`` is ``f_0``, as the article says.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    first, middle, second : Operand
        Stresses (or moments, for Appendix A6) of the flange: compression positive.  Each is the
        envelope value that gives the largest compression, or the smallest tension, at its place.
    cantilever : bool
        Whether one end is free and unbraced.

    Returns
    -------
    MomentGradient
        Steps ``f_2 f_0 f_1 C_b``.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Eq. 6.10.8.2.3-6, -7, -10 to -12; from memory.
    """
    step, ref = sheet.step, "LRFD 6.10.8.2.3-10 to -12"
    f_2 = step("f_2", maximum(first, second), None, "greater compression at a brace", ref=ref)
    f_0 = step("f_0", minimum(first, second), None, "value at the other brace", ref=ref)
    f_1 = step("f_1", maximum(2 * middle - f_2, f_0), None, "opposite end of the chord", ref=ref)
    why = "LRFD 6.10.8.2.3-6, -7"
    if cantilever:
        C_b = step("C_b", 1.0, None, "unbraced cantilever", ref=why)
        return MomentGradient(f_2, f_0, f_1, C_b)
    ratio = f_1 / f_2
    curve = minimum(1.75 - 1.05 * ratio + 0.3 * ratio**2, use(sheet, "C_b_max"))
    C_b = step(
        "C_b",
        cases(
            (f_2 <= Q_(0, f_2.info.unit), 1.0, "neither end in compression"),
            (middle > f_2, 1.0, "the middle exceeds both ends"),
            otherwise=(curve, "moment gradient"),
        ),
        None,
        "moment gradient modifier",
        ref=why,
    )
    return MomentGradient(f_2, f_0, f_1, C_b)


def gradient_over_transition(
    sheet: Sheet,
    gradient: MomentGradient,
    *,
    distance: Operand,
    unbraced: Operand,
    smaller: Operand,
    larger: Operand,
) -> Operand:
    """Write the modifier of an unbraced length with a change of the compression flange.

    A change within 20 percent of the unbraced length from the brace point with the smaller moment
    may be ignored where the smaller flange has at least half the weak-axis inertia of the larger;
    otherwise ``C_b`` is 1, and the resistance is that of the smallest section.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the step.
    gradient : MomentGradient
        Of the prismatic length.
    distance, unbraced : Operand, [length]
        From the brace point with the smaller moment to the change, and ``L_b``.
    smaller, larger : Operand, [length**4]
        Weak-axis inertia of the flange on either side.

    Returns
    -------
    Operand
        The step ``C_bt``.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 6.10.8.2.3; from memory, the inertia condition doubtful.
    """
    ignored = any_of(distance > 0.2 * unbraced, smaller < 0.5 * larger)
    return sheet.step(
        "C_bt",
        cases(
            (ignored, 1.0, "the change of flange counts"),
            otherwise=(gradient.modifier, "the change of flange may be ignored"),
        ),
        None,
        "moment gradient modifier with a change of flange",
        ref="LRFD 6.10.8.2.3",
    )
