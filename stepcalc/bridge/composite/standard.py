"""Composite girders by the Standard Specifications: load factor and allowable stress design."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stepcalc.bridge.constants import use
from stepcalc.expr.functions import cases, maximum, minimum, sqrt
from stepcalc.units import inch, kip_ft, ksi

if TYPE_CHECKING:
    from stepcalc.bridge.composite.geometry import Geometry
    from stepcalc.bridge.composite.plastic import PlasticMoment
    from stepcalc.bridge.composite.sides import Sides
    from stepcalc.bridge.composite.stages import StagedStresses
    from stepcalc.bridge.composite.yielding import YieldMoment
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.nodes import Check
    from stepcalc.sheet.sheet import Sheet


@dataclass(frozen=True)
class LoadFactorComposite:
    """Moment strength of a compact section, the ratio that decides, and the checks."""

    nominal: Operand
    ratio: Operand
    flexure: Check
    depth: Check


def composite_load_factor(
    sheet: Sheet,
    geometry: Geometry,
    sides: Sides,
    *,
    plastic: PlasticMoment,
    yielding: YieldMoment,
    stresses: StagedStresses,
    demand: Operand,
    continuous: bool,
    location: str | None = None,
) -> LoadFactorComposite:
    r"""Check a composite section in positive bending by load factor design.

    .. math:: D' = \beta\frac{d + t_s + t_h}{7.5}; \quad D_p \le D': M_u = M_p; \quad
        M_u = \frac{5 M_p - 0.85 M_y}{4} + \frac{0.85 M_y - M_p}{4}\,\frac{D_p}{D'}

    A web that is not compact (2 D_cp/t_w above 608/sqrt(F_y)) leaves the staged stresses, held
    against the yield strength.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    geometry, sides
        The section.
    plastic : PlasticMoment
        Positive; the same plastic stresses as in LRFD.
    yielding : YieldMoment
        ``M_y``, with the load factors of this method.
    stresses : StagedStresses
        Factored, Group I.
    demand : Operand, [force * length]
        Factored moment.
    continuous : bool
        Whether ``M_u`` is held to 1.3 M_y.
    location : str, optional
        Where along the girder.

    Returns
    -------
    LoadFactorComposite
        Steps ``beta_D D_prime M_uS u_M u_F u_f``.

    Source
    ------
    AASHTO Standard Specifications, 17th ed. (2002), Art. 10.50.1.1, 10.50.1.2; from memory.
    """
    D_p, D_t = plastic.slab_in_compression, plastic.composite_depth
    assert D_p is not None
    assert D_t is not None
    step, F_y = sheet.step, sides.tension.strength
    beta = step(
        "beta_D", cases((F_y <= 36 * ksi, 0.9, "36 ksi"), otherwise=(0.7, "50 and 70 ksi")), None,
        "factor of the depth", ref="Std 10.50.1.1.2",
    )  # fmt: skip
    D_1 = step("D_prime", beta * D_t / 7.5, inch, "depth D'", ref="Std 10.50.1.1.2", symbol="D'")
    M_p, M_y = plastic.moment, yielding.least
    reduced = (5 * M_p - 0.85 * M_y) / 4 + (0.85 * M_y - M_p) / 4 * (D_p / D_1)
    strength = cases((D_p <= D_1, M_p, "D_p not above D'"), otherwise=(reduced, "above D'"))
    if continuous:
        strength = minimum(strength, use(sheet, "c_Mys") * M_y)
    M_u = step(
        "M_uS", strength, kip_ft, "strength of a compact section", ref="Std 10.50.1.1.2",
        valid=(D_p <= 5 * D_1,), symbol="M_u,S",
    )  # fmt: skip
    u_M = step("u_M", demand / M_u, None, "demand over strength, compact", ref="Std 10.50.1.1.1")
    F_c = sides.compression.strength
    u_F = step(
        "u_F", maximum(stresses.top / F_c, stresses.bottom / F_y), None,
        "demand over strength, noncompact", ref="Std 10.50.1.2",
    )  # fmt: skip
    web = geometry.section.web
    slender = 2 * plastic.web_in_compression / web.thickness
    u_f = step(
        "u_f",
        cases(
            (slender <= 608 / sqrt(F_c.magnitude(ksi)), u_M, "compact web"),
            otherwise=(u_F, "noncompact web"),
        ),
        None,
        "demand over strength",
        ref="Std 10.50.1.1.2",
    )
    flexure = sheet.check(
        "Flexure, positive, Group I", u_f <= 1.0, ref="Std 10.50.1", location=location
    )
    ductile = sheet.check(
        "Ductility, Group I", D_p <= 5 * D_1, ref="Std 10.50.1.1.2", location=location
    )
    return LoadFactorComposite(M_u, u_f, flexure, ductile)


def composite_overload(
    sheet: Sheet,
    sides: Sides,
    *,
    stresses: StagedStresses,
    location: str | None = None,
) -> tuple[Check, Check]:
    """Check the flanges of a composite section under overload, D + 5/3 (L + I).

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the checks.
    sides : Sides
        Flanges.
    stresses : StagedStresses
        Under overload.
    location : str, optional
        Where along the girder.

    Returns
    -------
    tuple of Check
        Top and bottom flange.

    Source
    ------
    AASHTO Standard Specifications, 17th ed. (2002), Art. 10.57.2; from memory.
    """
    top = sides.compression if sides.positive else sides.tension
    bottom = sides.tension if sides.positive else sides.compression
    share, ref = use(sheet, "c_over_c"), "Std 10.57.2"
    return (
        sheet.check(
            "Top flange, overload", stresses.top <= share * top.strength, ref=ref,
            location=location,
        ),
        sheet.check(
            "Bottom flange, overload", stresses.bottom <= share * bottom.strength, ref=ref,
            location=location,
        ),
    )  # fmt: skip


def composite_allowable_stress(
    sheet: Sheet,
    geometry: Geometry,
    sides: Sides,
    *,
    stresses: StagedStresses,
    location: str | None = None,
) -> tuple[Check, ...]:
    """Check the stresses by stage of a composite section under working loads.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the checks.
    geometry : Geometry
        The slab.
    sides : Sides
        Flanges; the compression flange is braced by the slab.
    stresses : StagedStresses
        Working loads, every moment with the factor 1.
    location : str, optional
        Where along the girder.

    Returns
    -------
    tuple of Check
        Top flange, bottom flange and, where the slab is compressed, the slab.

    Source
    ------
    AASHTO Standard Specifications, 17th ed. (2002), Table 10.32.1A, Art. 10.38.4, 8.15.2; from
    memory.
    """
    share, ref = use(sheet, "c_Fb"), "Std 10.32.1"
    top = sides.compression if sides.positive else sides.tension
    bottom = sides.tension if sides.positive else sides.compression
    checks = [
        sheet.check(
            "Top flange, working stress", stresses.top <= share * top.strength, ref=ref,
            location=location,
        ),
        sheet.check(
            "Bottom flange, working stress", stresses.bottom <= share * bottom.strength, ref=ref,
            location=location,
        ),
    ]  # fmt: skip
    if stresses.deck is not None and sides.positive and geometry.section.slab:
        limit = use(sheet, "c_fc") * geometry.section.slab.strength
        checks.append(
            sheet.check(
                "Slab, working stress", stresses.deck <= limit, ref="Std 8.15.2.1.1",
                location=location,
            )
        )  # fmt: skip
    return tuple(checks)
