"""HS20 live load by the Standard Specifications: wheel lines, impact, deflection share.

Shared by allowable stress design (:mod:`stepcalc.bridge.older_codes_asd`) and load factor design
(:mod:`stepcalc.bridge.older_codes_lfd`).  Distribution factors of this book count *wheel lines*:
one lane is two of them.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stepcalc.bridge.constants import use
from stepcalc.bridge.lever_rule import FIRST_LANE, SECOND_LANE, wheels_on_girder
from stepcalc.bridge.wheel_lines import interior_wheel_lines
from stepcalc.expr.functions import cases, maximum, minimum
from stepcalc.units import ft, kip, kip_ft

if TYPE_CHECKING:
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.nodes import Check
    from stepcalc.sheet.sheet import Sheet


@dataclass(frozen=True)
class HS20Lane:
    """Effects of one lane of HS20 on a simple span, without impact."""

    truck_moment: Operand
    truck_shear: Operand
    end_axle: Operand


@dataclass(frozen=True)
class GirderHS20:
    """Live load of one interior girder, with impact."""

    impact: Operand
    wheel_lines: Operand
    moment: Operand
    shear: Operand


def hs20_on_girder(
    sheet: Sheet,
    lane: HS20Lane,
    *,
    span: Operand,
    spacing: Operand,
    lanes: Operand | None = None,
) -> GirderHS20:
    r"""Write the HS20 moment and shear of an interior girder.

    .. math:: I = \frac{50}{L + 125} \le 0.30, \quad DF = S/5.5, \quad
        M_{L+I} = \frac{M_{lane}}{2}\,DF\,(1 + I)

    The wheels over the bearing are distributed to the girder as if the deck were a simple beam
    between girders, all others by S/5.5, or S/7.0 for a single lane (Std 3.23.1.2).

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    lane : HS20Lane
        Truck effects of one lane without impact.
    span, spacing : Operand, [length]
        Span and girder spacing.
    lanes : Operand or None
        Number of traffic lanes; None for two or more.

    Returns
    -------
    GirderHS20
        Impact, wheel lines, moment and shear.

    Source
    ------
    AASHTO Standard Specifications, 17th ed. (2002), Art. 3.7, 3.8.2, 3.23; from memory.
    """
    step, L, S = sheet.step, span, spacing
    w, P_M, P_V = use(sheet, "w_HS"), use(sheet, "P_HSM"), use(sheet, "P_HSV")
    M_ln = step(
        "M_ln",
        w * L**2 / 8 + P_M * L / 4,
        kip_ft,
        "HS20 lane load, moment of one lane",
        ref="Std 3.7.6",
    )
    V_ln = step("V_ln", w * L / 2 + P_V, kip, "HS20 lane load, shear of one lane", ref="Std 3.7.6")
    M_HS = step(
        "M_HS",
        maximum(lane.truck_moment, M_ln),
        kip_ft,
        "truck or lane load, whichever is greater",
        ref="Std 3.7.1.1",
    )
    impact = step(
        "I",
        minimum(use(sheet, "a_I") / (L + use(sheet, "b_I")), use(sheet, "I_max")),
        description="impact",
        ref="Std 3.8.2.1",
    )
    lines = interior_wheel_lines(sheet, spacing=S, lanes=lanes)
    moment = step(
        "M_LL",
        M_HS / 2 * lines * (1 + impact),
        kip_ft,
        "live-load moment of the girder, with impact",
        ref="Std 3.23.2.2",
    )
    one = wheels_on_girder(S, FIRST_LANE)
    both = one + wheels_on_girder(S, SECOND_LANE)
    at_end = step(
        "DF_0",
        both
        if lanes is None
        else cases((lanes <= 1, one, "one truck"), otherwise=(both, "two trucks")),
        description="wheel lines on the girder at the bearing",
        ref="Std 3.23.1.2 (lever rule)",
        valid=(S <= 10 * ft,),
    )
    rest = lane.truck_shear - lane.end_axle
    shear = step(
        "V_LL",
        maximum(
            (lane.end_axle / 2 * at_end + rest / 2 * lines) * (1 + impact),
            V_ln / 2 * lines * (1 + impact),
        ),
        kip,
        "live-load shear of the girder, with impact",
        ref="Std 3.23.1.2, 3.23.2.2",
    )
    return GirderHS20(impact, lines, moment, shear)


def hs20_deflection(
    sheet: Sheet,
    *,
    span: Operand,
    truck: Operand,
    lanes: Operand,
    girders: Operand,
    impact: Operand,
) -> Operand:
    """Write the live-load deflection of one girder times ``E I``.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    span : Operand, [length]
        Span.
    truck : Operand, [force * length**3]
        Midspan deflection of one HS20 truck without impact, times ``E I``.
    lanes, girders : Operand
        Number of lanes loaded and of girders that share them equally.
    impact : Operand
        Impact fraction.

    Returns
    -------
    Operand
        The step ``K_LL``, [force * length**3].

    Source
    ------
    AASHTO Standard Specifications, 17th ed. (2002), Art. 10.6.4 and 3.12.1; from memory.
    """
    step, unit, L = sheet.step, kip * ft**3, span
    K_ln = step(
        "K_ln",
        5 * use(sheet, "w_HS") * L**4 / 384 + use(sheet, "P_HSM") * L**3 / 48,
        unit,
        "HS20 lane load on one lane, deflection times E I",
        ref="statics",
    )
    r_N = step(
        "r_N",
        cases(
            (lanes <= 2, 1.0, "one or two lanes"),
            (lanes <= 3, use(sheet, "r_3"), "three lanes"),
            otherwise=(use(sheet, "r_4"), "four or more lanes"),
        ),
        description="reduction of load intensity",
        ref="Std 3.12.1",
    )
    share = step(
        "g_def",
        r_N * lanes / girders,
        description="lanes on one girder, shared equally",
        ref="Std 10.6.4",
    )
    return step(
        "K_LL",
        share * maximum(truck, K_ln) * (1 + impact),
        unit,
        "live-load deflection of the girder times E I",
        ref="Std 10.6.2, 10.6.4",
    )


def standard_deflection(
    sheet: Sheet, *, span: Operand, load: Operand, inertia: Operand, depth: Operand
) -> tuple[Check, Check]:
    """Check the live-load deflection and the depth of the beam.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    span, depth : Operand, [length]
        Span and depth of the steel beam.
    load : Operand, [force * length**3]
        Live-load deflection times ``E I``.
    inertia : Operand, [length**4]
        Moment of inertia of the steel section.

    Returns
    -------
    tuple of Check
        Span/800 and span/30.

    Source
    ------
    AASHTO Standard Specifications, 17th ed. (2002), Art. 10.6.2 and 10.5.2; from memory.
    """
    from stepcalc.units import inch

    delta = sheet.step(
        "Delta_LL",
        load / (use(sheet, "E_s") * inertia),
        inch,
        "live-load deflection at midspan",
        ref="Std 10.6.2",
    )
    limit = sheet.check(
        "Live-load deflection",
        delta <= span / use(sheet, "r_def"),
        ref="Std 10.6.2",
        location="midspan",
    )
    deep = sheet.check(
        "Depth of the beam", span / use(sheet, "r_ds") <= depth, ref="Std 10.5.1 (preferred)"
    )
    return limit, deep
