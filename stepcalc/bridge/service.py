"""Service checks of a non-composite rolled beam: Service II, live-load deflection, depth."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stepcalc.bridge.constants import use
from stepcalc.expr.functions import maximum
from stepcalc.units import ft, inch, kip, ksi

if TYPE_CHECKING:
    from stepcalc.bridge.flexure import Buckling
    from stepcalc.bridge.section import SectionProperties
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.nodes import Check
    from stepcalc.sheet.sheet import Sheet


def service_two(
    sheet: Sheet, section: SectionProperties, buckling: Buckling, *, moment: Operand
) -> tuple[Check, Check]:
    r"""Check permanent deformation under Service II, and bend-buckling of the web.

    .. math:: f_f + \tfrac12 f_l \le 0.80 R_h F_{yf}, \qquad f_c \le F_{crw}

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    section : SectionProperties
        The rolled shape; all stages act on the bare steel section.
    buckling : Buckling
        Yield strength of the flange and bend-buckling stress of the web.
    moment : Operand, [force * length]
        Service II moment.

    Returns
    -------
    tuple of Check
        Flange stress and web bend-buckling.  The lateral flange stress ``f_l`` of a straight
        interior girder without skew is 0.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Eq. 6.10.4.2.2-3 and -4; from memory.
    """
    f_f = sheet.step(
        "f_f", moment / section.modulus, ksi, "flange stress, Service II", ref="M/S, steel section"
    )
    flange = sheet.check(
        "Flange stress, Service II",
        f_f <= use(sheet, "c_SII") * use(sheet, "R_h") * buckling.flange.yield_strength,
        ref="LRFD 6.10.4.2.2-3",
        location="greatest moment",
    )
    web = sheet.check(
        "Web bend-buckling, Service II",
        f_f <= buckling.web_bending,
        ref="LRFD 6.10.4.2.2-4",
        location="greatest moment",
    )
    return flange, web


def deflection_load(sheet: Sheet, *, span: Operand, truck: Operand, share: Operand) -> Operand:
    r"""Write the live-load deflection times the stiffness of the girder.

    .. math:: K = g\,\max\bigl((1 + IM) K_{tr},\; 0.25 (1 + IM) K_{tr} + K_{ln}\bigr), \quad
        K_{ln} = \frac{5 w L^4}{384}

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    span : Operand, [length]
        Span.
    truck : Operand, [force * length**3]
        Greatest midspan deflection of one design truck without impact, times ``E I``.
    share : Operand
        Lanes carried by one girder: multiple presence times lanes over girders.

    Returns
    -------
    Operand
        The step ``K_LL`` = deflection times ``E I``, [force * length**3].

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 3.6.1.3.2 and 2.5.2.6.2; from memory.
    """
    step, IM = sheet.step, use(sheet, "IM")
    unit = kip * ft**3
    K_ln = step(
        "K_ln",
        5 * use(sheet, "w_lane") * span**4 / 384,
        unit,
        "design lane load on one lane, deflection times E I",
        ref="statics",
    )
    K_1 = step("K_1", (1 + IM) * truck, unit, "truck alone, with impact", ref="LRFD 3.6.1.3.2")
    K_2 = step(
        "K_2",
        use(sheet, "r_truck") * (1 + IM) * truck + K_ln,
        unit,
        "a quarter of the truck with the lane load",
        ref="LRFD 3.6.1.3.2",
    )
    return step(
        "K_LL",
        share * maximum(K_1, K_2),
        unit,
        "live-load deflection of the girder times E I",
        ref="LRFD 2.5.2.6.2, 3.6.1.3.2",
    )


def required_inertia(
    sheet: Sheet, *, span: Operand, load: Operand, pedestrians: bool = False
) -> Operand:
    """Write the moment of inertia that the deflection limit asks for.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the step.
    span : Operand, [length]
        Span.
    load : Operand, [force * length**3]
        Live-load deflection times ``E I``, from :func:`deflection_load`.
    pedestrians : bool
        Whether the bridge has a sidewalk.

    Returns
    -------
    Operand
        The step ``I_req``, [length**4].

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 2.5.2.6.2 solved for the inertia; from memory.
    """
    return sheet.step(
        "I_req",
        load / (use(sheet, "E") * span / use(sheet, "r_LLp" if pedestrians else "r_LL")),
        inch**4,
        "moment of inertia that the deflection limit needs",
        ref="LRFD 2.5.2.6.2",
    )


def live_load_deflection(
    sheet: Sheet,
    section: SectionProperties,
    *,
    span: Operand,
    load: Operand,
    pedestrians: bool = False,
) -> Check:
    """Check the optional live-load deflection limit on the steel section.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    section : SectionProperties
        The rolled shape.
    span : Operand, [length]
        Span.
    load : Operand, [force * length**3]
        Live-load deflection times ``E I``.
    pedestrians : bool
        Whether the bridge has a sidewalk.

    Returns
    -------
    Check
        Deflection at midspan against span/800, span/1000 with pedestrians.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 2.5.2.6.2 (optional, the owner decides); from memory.
    """
    delta = sheet.step(
        "Delta_LL",
        load / (use(sheet, "E") * section.inertia),
        inch,
        "live-load deflection at midspan",
        ref="LRFD 2.5.2.6.2",
    )
    return sheet.check(
        "Live-load deflection",
        delta <= span / use(sheet, "r_LLp" if pedestrians else "r_LL"),
        ref="LRFD 2.5.2.6.2 (optional)",
        location="midspan",
    )


def span_depth(sheet: Sheet, section: SectionProperties, *, span: Operand) -> Check:
    """Check the optional least depth of a simple span of steel I-beams.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the check.
    section : SectionProperties
        The rolled shape.
    span : Operand, [length]
        Span.

    Returns
    -------
    Check
        ``0.033 L`` against the depth of the steel beam.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Table 2.5.2.6.3-1 (optional, the owner decides); from memory.
    """
    return sheet.check(
        "Depth of the beam",
        use(sheet, "r_depth") * span <= section.depth,
        ref="LRFD 2.5.2.6.3 (optional)",
    )
