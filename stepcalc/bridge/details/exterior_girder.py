"""What only an exterior girder needs: wind on the fascia, and no less resistance than within."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stepcalc.bridge.constants import use
from stepcalc.units import kip_ft, klf, ksi

if TYPE_CHECKING:
    from stepcalc.bridge.details.editions import EditionRules
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.nodes import Check
    from stepcalc.sheet.sheet import Sheet


@dataclass(frozen=True)
class WindBending:
    """Lateral bending stress of the bottom flange by wind: Strength III and Strength V."""

    strength_3: Operand
    strength_5: Operand


def fascia_wind(
    sheet: Sheet,
    rules: EditionRules,
    *,
    pressure_3: Operand,
    pressure_5: Operand,
    height: Operand,
    unbraced: Operand,
    width: Operand,
    thickness: Operand,
) -> WindBending:
    r"""Write the lateral bending of the bottom flange of the fascia girder under wind.

    .. math:: W = \gamma_{WS}\, p\, \frac{d}{2}, \qquad M_w = \frac{W L_b^2}{10}, \qquad
        f_l = \frac{6 M_w}{t_f b_f^2}

    The deck takes the upper half of the girder's wind.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    rules : EditionRules
        Load factors: from the 8th edition on the pressures belong to their limit states.
    pressure_3, pressure_5 : Operand, [stress]
        Wind pressure of Strength III and of Strength V.
    height : Operand, [length]
        Exposed depth of girder ``d``.
    unbraced : Operand, [length]
        ``L_b`` between cross-frames.
    width, thickness : Operand, [length]
        Of the bottom flange.

    Returns
    -------
    WindBending
        Steps ``W_3 M_w3 f_l3`` and ``W_5 M_w5 f_l5``.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), C4.6.2.7.1 and Table 3.4.1-1; from memory.
    """
    found = []
    cases = (
        ("3", "Strength III", rules.wind_strength_3, pressure_3),
        ("5", "Strength V", rules.wind_strength_5, pressure_5),
    )
    for key, state, factor, pressure in cases:
        W = sheet.step(
            f"W_{key}", factor * pressure * height / 2, klf, f"wind on the bottom flange, {state}",
            ref=rules.ref("C4.6.2.7.1"),
        )  # fmt: skip
        M = sheet.step(
            f"M_w{key}", W * unbraced**2 / 10, kip_ft, f"its lateral moment, {state}",
            ref="LRFD C4.6.2.7.1-2",
        )  # fmt: skip
        found.append(
            sheet.step(
                f"f_l{key}", 6 * M / (thickness * width**2), ksi,
                f"lateral bending stress, {state}", ref="LRFD C4.6.2.7.1",
            )
        )  # fmt: skip
    return WindBending(*found)


def moment_with_wind(
    sheet: Sheet,
    *,
    state: str,
    moment: Operand,
    lateral: Operand,
    modulus: Operand,
    resistance: Operand,
    location: str | None = None,
    ref: str = "LRFD 6.10.7.1.1-1",
) -> Check:
    r"""Check a section that is held by its moment under moment and wind.

    .. math:: M_u + \tfrac13 f_l S_{xt} \le \phi_f M_n

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the check.
    state : str
        ``"Strength III"`` or ``"Strength V"``: part of the name of the check.
    moment : Operand, [force * length]
        Factored moment of that limit state.
    lateral : Operand, [stress]
        ``f_l``.
    modulus : Operand, [length**3]
        ``S_xt`` = M_yt / F_yt.
    resistance : Operand, [force * length]
        ``M_n``.
    location : str, optional
        Where along the girder.
    ref : str
        Article of the resistance: of a compact composite section, or of the steel alone.

    Returns
    -------
    Check
        Of the moment with its lateral share.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Eq. 6.10.7.1.1-1, and A6.1.2-1; from memory.
    """
    return sheet.check(
        f"Flexure with wind, {state}",
        moment + lateral * modulus / 3 <= use(sheet, "phi_f") * resistance,
        ref=ref, location=location,
    )  # fmt: skip


def exterior_not_weaker(
    sheet: Sheet, *, interior: Operand, exterior: Operand, what: str = "flexure",
    older: bool = False,
) -> Check:  # fmt: skip
    """Check that the exterior girder resists no less than an interior one.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the check.
    interior, exterior : Operand
        Factored resistances of one kind.
    what : str
        ``"flexure"`` or ``"shear"``: part of the name of the check.
    older : bool
        Cite the Standard Specifications.

    Returns
    -------
    Check
        Interior over exterior resistance.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 2.5.2.7.1; Standard Specifications, 17th ed. (2002), Art.
    3.23.2.3.1.4; from memory.
    """
    return sheet.check(
        f"Exterior girder not weaker, {what}", interior <= exterior,
        ref="Std 3.23.2.3.1.4" if older else "LRFD 2.5.2.7.1",
    )  # fmt: skip
