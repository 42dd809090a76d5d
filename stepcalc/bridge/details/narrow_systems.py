"""Narrow systems of two or three girders buckle as a whole (6.10.3.4.2)."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stepcalc.bridge.constants import use
from stepcalc.errors import RangeError
from stepcalc.expr.functions import pi, sqrt
from stepcalc.units import inch, kip_ft

if TYPE_CHECKING:
    from stepcalc.bridge.details.editions import EditionRules
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.nodes import Check
    from stepcalc.sheet.sheet import Sheet


@dataclass(frozen=True)
class BareGirder:
    """Bare steel section of one girder.

    Attributes
    ----------
    inertia : Operand, [length**4]
        ``I_x``.
    I_yc, I_yt : Operand, [length**4]
        Compression and tension flange about the axis of the web.
    to_compression, to_tension : Operand, [length]
        Neutral axis to the middle of either flange, ``c`` and ``t``.
    """

    inertia: Operand
    I_yc: Operand
    I_yt: Operand
    to_compression: Operand
    to_tension: Operand


def global_buckling(
    sheet: Sheet,
    rules: EditionRules,
    girder: BareGirder,
    *,
    girders: int,
    spacing: Operand,
    span: Operand,
    moments: Operand,
    continuous_erected: bool = False,
) -> Check:
    r"""Check the global lateral-torsional buckling of two or three girders during the pour.

    .. math:: \sum M_u \le c\, M_{gs}, \qquad
        M_{gs} = C_{bs} \frac{\pi^2 w_g E}{L^2}\sqrt{I_{eff} I_x}, \quad
        I_{eff} = I_{yc} + \frac{t}{c} I_{yt}

    Three girders: twice the spacing and 3/2 of ``I_eff``.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    rules : EditionRules
        ``c`` = 0.70; 0.50 in the 7th edition.
    girder : BareGirder
        One girder.
    girders : int
        2 or 3; wider systems do not need the check.
    spacing, span : Operand, [length]
        ``w_g`` and ``L``.
    moments : Operand, [force * length]
        Sum of the factored moments of all girders at the greatest section.
    continuous_erected : bool
        A continuous unit whose steel stands completely: C_bs = 2.0, else 1.1.

    Returns
    -------
    Check
        Of the step ``M_gs``; ``I_eff`` is the other.

    Raises
    ------
    RangeError
        If the number of girders is not 2 or 3.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Eq. 6.10.3.4.2-1; from memory, share and commentary with doubt.
    """
    if girders not in (2, 3):
        msg = f"global buckling is checked for systems of 2 or 3 girders, not {girders!r}"
        raise RangeError(msg)
    step, ref = sheet.step, rules.ref("6.10.3.4.2-1")
    I_one = girder.I_yc + girder.to_tension / girder.to_compression * girder.I_yt
    I_eff = step(
        "I_eff", 1 * I_one if girders == 2 else 1.5 * I_one, inch**4,
        f"effective weak-axis inertia, {girders} girders", ref=ref,
    )  # fmt: skip
    w = spacing if girders == 2 else 2 * spacing
    C_bs = use(sheet, "C_bs2" if continuous_erected else "C_bs1")
    M_gs = step(
        "M_gs",
        C_bs * (pi**2 * w * use(sheet, "E") / span**2) * sqrt(I_eff * girder.inertia),
        kip_ft, "global buckling moment of the system", ref=ref,
    )  # fmt: skip
    return sheet.check("Global buckling, pour", moments <= rules.global_share * M_gs, ref=ref)
