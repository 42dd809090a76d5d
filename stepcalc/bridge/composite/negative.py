"""Strength of a section in negative bending, and of any non-composite section.

Article 6.10.8 (stress) and Appendix A6 (moment) are both printed; the appendix decides where it is
permitted.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stepcalc.bridge.composite.moment_form import moment_form
from stepcalc.bridge.constants import use
from stepcalc.expr.functions import cases, maximum
from stepcalc.units import ksi

if TYPE_CHECKING:
    from stepcalc.bridge.composite.flange_buckling import FlangeBuckling
    from stepcalc.bridge.composite.geometry import Geometry
    from stepcalc.bridge.composite.moment_form import MomentForm
    from stepcalc.bridge.composite.plastic import PlasticMoment
    from stepcalc.bridge.composite.sides import Sides
    from stepcalc.bridge.composite.web import Web
    from stepcalc.bridge.composite.yielding import YieldMoment
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.nodes import Check
    from stepcalc.sheet.sheet import Sheet


@dataclass(frozen=True)
class FlexureDemand:
    """What Strength I asks of a section at one place.

    Attributes
    ----------
    moment : Operand, [force * length]
        ``M_u``.
    compression, tension : Operand, [stress]
        Staged stresses of the two flanges; where buckling is looked at, the largest within the
        unbraced length.
    lateral : Operand or None, [stress]
        ``f_l`` of the compression flange.
    """

    moment: Operand
    compression: Operand
    tension: Operand
    lateral: Operand | None = None


@dataclass(frozen=True)
class Bracing:
    """Which flanges are continuously braced (anchored in the deck)."""

    compression: bool
    tension: bool


@dataclass(frozen=True)
class FlexuralResistance:
    """Both forms, which decides, and the check.

    Attributes
    ----------
    F_nc, F_nt : Operand, [stress]
        Compression and tension flange by 6.10.8.
    moment : MomentForm
        Appendix A6.
    by_stress, by_moment : Operand
        Demand over resistance, ``u_F`` and ``u_M``.
    ratio : Operand
        ``u_f``; its branch says which form decides.
    check : Check
    """

    F_nc: Operand
    F_nt: Operand
    moment: MomentForm
    by_stress: Operand
    by_moment: Operand
    ratio: Operand
    check: Check


def flexural_resistance(
    sheet: Sheet,
    geometry: Geometry,
    sides: Sides,
    web: Web,
    *,
    plastic: PlasticMoment,
    yielding: YieldMoment,
    buckling: FlangeBuckling | None,
    demand: FlexureDemand,
    bracing: Bracing,
    location: str | None = None,
    skew: Operand | None = None,
) -> FlexuralResistance:
    r"""Write the resistance by stress and by moment, say which decides, and check it.

    .. math:: f_{bu} + \tfrac13 f_l \le \phi_f F_{nc}, \quad f_{bu} \le \phi_f R_h F_{yt};
        \qquad M_u + \tfrac13 f_l S_{xc} \le \phi_f M_{nc}, \quad M_u \le \phi_f R_{pt} M_{yt}

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    geometry, sides, web
        The section under this bending sense.
    plastic : PlasticMoment
        ``M_p``, ``D_cp``.
    yielding : YieldMoment
        By stages.
    buckling : FlangeBuckling or None
        Compression flange; None where it is continuously braced.
    demand : FlexureDemand
        Moment and stresses.
    bracing : Bracing
        A continuously braced compression flange does not buckle.
    location : str, optional
        Where along the girder.
    skew : Operand, optional
        Skew of the supports, an angle.

    Returns
    -------
    FlexuralResistance
        Steps ``F_rc F_rt u_F``, those of Appendix A6 with ``u_M``, and ``u_f``.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 6.10.6.2.3, 6.10.8.1, A6.1; from memory.
    """
    step, phi = sheet.step, use(sheet, "phi_f")
    third = None if demand.lateral is None else demand.lateral / 3
    with sheet.part("By stress, Article 6.10.8"):
        F_nc: Operand
        F_yc, F_yt = sides.compression.strength, sides.tension.strength
        if buckling is None or bracing.compression:
            F_nc = step(
                "F_rc", web.shedding * web.hybrid * F_yc, ksi,
                "braced flange; the article has R_h F_yf, R_b of a slender web is kept beside it",
                ref="LRFD 6.10.8.1.3-1",
            )  # fmt: skip
        else:
            F_nc = buckling.resistance
        F_nt = step(
            "F_rt", web.hybrid * F_yt, ksi, "tension flange",
            ref="LRFD 6.10.8.1.3-1" if bracing.tension else "LRFD 6.10.8.3-1",
        )  # fmt: skip
        push = demand.compression if third is None else demand.compression + third
        u_F = step(
            "u_F", maximum(push / (phi * F_nc), demand.tension / (phi * F_nt)), None,
            "demand over resistance, by stress", ref="LRFD 6.10.8.1",
        )  # fmt: skip
    with sheet.part("By moment, Appendix A6"):
        form = moment_form(
            sheet, geometry, sides, web, plastic=plastic, yielding=yielding, buckling=buckling,
            skew=skew,
        )  # fmt: skip
        M_nc = form.greatest if bracing.compression else form.compression
        moment = demand.moment if third is None else demand.moment + third * form.modulus
        u_M = step(
            "u_M", maximum(moment / (phi * M_nc), demand.moment / (phi * form.tension)), None,
            "demand over resistance, by moment", ref="LRFD A6.1",
            valid=(web.slenderness < web.limit,),
        )  # fmt: skip
    with sheet.part("Which of the two decides"):
        u_f = step(
            "u_f",
            cases(
                (form.eligible, u_M, "Appendix A6 is permitted and decides"),
                otherwise=(u_F, "Appendix A6 is not permitted; Article 6.10.8 decides"),
            ),
            None,
            "demand over resistance",
            ref="LRFD 6.10.6.2.3",
        )
        sense = "positive" if sides.positive else "negative"
        check = sheet.check(
            f"Flexure, {sense}, Strength I", u_f <= 1.0, ref="LRFD 6.10.8.1, A6.1",
            location=location,
        )  # fmt: skip
    return FlexuralResistance(F_nc, F_nt, form, u_F, u_M, u_f, check)
