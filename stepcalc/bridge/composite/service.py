"""Service II of a general section, deck in tension, one-percent reinforcement."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stepcalc.bridge.constants import use
from stepcalc.expr.functions import cases, maximum, sqrt
from stepcalc.units import inch, ksi

if TYPE_CHECKING:
    from stepcalc.bridge.composite.geometry import Geometry
    from stepcalc.bridge.composite.plates import Slab
    from stepcalc.bridge.composite.sides import Sides
    from stepcalc.bridge.composite.stages import StagedStresses
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.nodes import Check
    from stepcalc.sheet.sheet import Sheet


@dataclass(frozen=True)
class ServiceStresses:
    """Limits of Service II and the checks of both flanges and the web."""

    top_limit: Operand
    bottom_limit: Operand
    top: Check
    bottom: Check
    web: Check


def service_two_general(
    sheet: Sheet,
    geometry: Geometry,
    sides: Sides,
    *,
    stresses: StagedStresses,
    hybrid: Operand,
    bending: Operand,
    composite: bool,
    lateral: Operand | None = None,
    location: str | None = None,
) -> ServiceStresses:
    r"""Check permanent deformation of both flanges, and bend-buckling of the web.

    .. math:: f_f \le 0.95 R_h F_{yf}, \quad f_f + \tfrac12 f_l \le 0.95 R_h F_{yf}
        \text{ (bottom)}; \qquad \text{non-composite } f_f + \tfrac12 f_l \le 0.80 R_h F_{yf};
        \qquad f_c \le F_{crw}

    The web of a composite section in positive bending need not be looked at up to D/t_w = 150.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    geometry : Geometry
        The parts.
    sides : Sides
        Flanges by the sense of bending.
    stresses : StagedStresses
        Service II.
    hybrid, bending : Operand
        ``R_h``, and ``F_crw`` for the ``D_c`` of these stresses.
    composite : bool
        Whether the section is composite in its final condition.
    lateral : Operand, [stress], optional
        ``f_l``; none when left out.
    location : str, optional
        Where along the girder.

    Returns
    -------
    ServiceStresses
        Steps ``F_SIIt F_SIIb f_cw``.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Eq. 6.10.4.2.2-1 to -4; from memory.
    """
    step, positive = sheet.step, sides.positive
    top = sides.compression if positive else sides.tension
    bottom = sides.tension if positive else sides.compression
    share = use(sheet, "c_SIIc" if composite else "c_SII")
    ref = "LRFD 6.10.4.2.2-1" if composite else "LRFD 6.10.4.2.2-3"
    low = "LRFD 6.10.4.2.2-2" if composite else ref
    F_t = step("F_SIIt", share * hybrid * top.strength, ksi, "limit of the top flange", ref=ref)
    F_b = step(
        "F_SIIb", share * hybrid * bottom.strength, ksi, "limit of the bottom flange", ref=low
    )
    f_t, f_b = stresses.top, stresses.bottom
    if lateral is not None:
        f_b = f_b + lateral / 2
        f_t = f_t if composite else f_t + lateral / 2
    over = sheet.check("Top flange, Service II", f_t <= F_t, ref=ref, location=location)
    under = sheet.check("Bottom flange, Service II", f_b <= F_b, ref=low, location=location)
    pushed, web = stresses.top if positive else stresses.bottom, geometry.section.web
    if composite and positive:
        stocky = web.width / web.thickness <= use(sheet, "lambda_w_max")
        pushed = step(
            "f_cw",
            cases(
                (stocky, 0 * ksi, "composite, positive, D/t_w not above 150: not asked for"),
                otherwise=(1 * pushed, "slender web"),
            ),
            ksi,
            "compression for web bend-buckling",
            ref="LRFD 6.10.4.2.2-4",
        )
    buckles = sheet.check(
        "Web bend-buckling, Service II", pushed <= bending, ref="LRFD 6.10.4.2.2-4",
        location=location,
    )  # fmt: skip
    return ServiceStresses(F_t, F_b, over, under, buckles)


@dataclass(frozen=True)
class DeckTension:
    """Tension in the deck, its limit, and the reinforcement that it asks for."""

    stress: Operand
    rupture: Operand
    required: Operand
    check: Check


def deck_reinforcement(
    sheet: Sheet,
    slab: Slab,
    *,
    stress: Operand,
    width: Operand,
    thickness: Operand,
    provided: Operand,
    location: str | None = None,
) -> DeckTension:
    r"""Check the one-percent longitudinal reinforcement where the deck is in tension.

    .. math:: f_{deck} > \phi f_r = 0.90 \cdot 0.24 \sqrt{f'_c} \;\Rightarrow\;
        A_s \ge 0.01\, b\, t

    Two thirds of it lie in the top layer; bars of at least 60 ksi, not above No. 6, at most 12 in
    apart.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    slab : Slab
        Strength of the concrete.
    stress : Operand, [stress]
        Tension at the top of the deck from factored construction loads or Service II, by the
        short-term ratio.
    width, thickness : Operand, [length]
        Of the deck that is reinforced.
    provided : Operand, [length**2]
        Longitudinal reinforcement within that width.
    location : str, optional
        Where along the girder.

    Returns
    -------
    DeckTension
        Steps ``f_r`` and ``A_s1``.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 6.10.1.7; from memory, the coefficient of f_r doubtful.
    """
    f_r = sheet.step(
        "f_r", 0.24 * sqrt(slab.strength.magnitude(ksi)) * (1 * ksi), ksi,
        "modulus of rupture of the deck", ref="LRFD 6.10.1.7",
    )  # fmt: skip
    A_s = sheet.step(
        "A_s1",
        cases(
            (stress <= use(sheet, "phi_dk") * f_r, 0 * inch**2, "deck not beyond its limit"),
            otherwise=(use(sheet, "r_As") * width * thickness, "deck beyond its limit"),
        ),
        inch**2,
        "least longitudinal reinforcement",
        ref="LRFD 6.10.1.7",
    )
    check = sheet.check(
        "One-percent deck reinforcement", A_s <= provided, ref="LRFD 6.10.1.7", location=location
    )
    return DeckTension(stress, f_r, A_s, check)


def deck_effective_in_tension(sheet: Sheet, stress: Operand, rupture: Operand) -> Check:
    """Check that the deck may be taken as effective in negative bending, Service II and fatigue.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the check.
    stress : Operand, [stress]
        Deck tension under Service II.
    rupture : Operand, [stress]
        ``f_r``.

    Returns
    -------
    Check
        Against twice ``f_r``.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 6.10.4.2.1; from memory, dependent on the edition.
    """
    return sheet.check(
        "Deck effective in tension", maximum(stress, 0 * ksi) <= 2 * rupture,
        ref="LRFD 6.10.4.2.1",
    )  # fmt: skip
