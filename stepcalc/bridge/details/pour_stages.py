"""The deck pour by stages on a plate girder or an exterior girder (6.10.3)."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stepcalc.bridge.constants import use
from stepcalc.errors import RangeError
from stepcalc.expr.functions import maximum, minimum
from stepcalc.units import kip_ft, ksi

if TYPE_CHECKING:
    from collections.abc import Sequence

    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.nodes import Check
    from stepcalc.sheet.sheet import Sheet


@dataclass(frozen=True)
class PourMoments:
    """Factored moments of the pour at one section of bare steel.

    Attributes
    ----------
    sums : tuple of Operand, [force * length]
        Unfactored, after each stage.
    sagging, hogging : Operand, [force * length]
        Greatest (0 or more) and least (0 or less) factored moment.
    """

    sums: tuple[Operand, ...]
    sagging: Operand
    hogging: Operand


@dataclass(frozen=True)
class PourFlanges:
    """Stresses and resistances of the two flanges of the bare steel section in one stage.

    Attributes
    ----------
    compression, tension : Operand, [stress]
        ``f_bu`` of either flange, factored.
    lateral_compression, lateral_tension : Operand, [stress]
        ``f_l``, second order where it applies.
    buckling, bend_buckling : Operand, [stress]
        ``F_nc`` (R_b = 1) and ``F_crw`` with the depth of web in compression of this stage.
    F_yc, F_yt : Operand, [stress]
    hybrid : Operand
        ``R_h``.
    """

    compression: Operand
    tension: Operand
    lateral_compression: Operand
    lateral_tension: Operand
    buckling: Operand
    bend_buckling: Operand
    F_yc: Operand
    F_yt: Operand
    hybrid: Operand


def pour_moments(
    sheet: Sheet,
    stages: Sequence[tuple[str, Operand]],
    *,
    construction: tuple[Operand, Operand],
) -> PourMoments:
    r"""Write the moments of a pour sequence at one section, and both construction combinations.

    .. math:: M_k = \sum_{i \le k} \Delta M_i, \qquad
        M_{cu} = \max(1.25 M + 1.5 M_C,\; 1.4 (M + M_C))

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    stages : sequence of (name, moment)
        What each stage adds at this section while its steel is bare: the erected steel first,
        then each pour.  Not the whole deck at once.
    construction : pair of Operand, [force * length]
        Greatest and least moment of the construction live load.

    Returns
    -------
    PourMoments
        Steps ``M_p1 .. M_pk``, ``M_cup`` and ``M_cun``.

    Raises
    ------
    RangeError
        Without a stage.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 3.4.2.1, 6.10.3.4; from memory.  A moment that only relieves
    is not factored up: the greatest sagging and hogging sums are taken, zero included.
    """
    if not stages:
        raise RangeError("the pour has no stage; want at least the erected steel and the deck")
    step, sums = sheet.step, []
    before: Operand | None = None
    for number, (name, moment) in enumerate(stages, 1):
        expr: Operand = 1 * moment if before is None else before + moment
        before = step(f"M_p{number}", expr, kip_ft, f"moment after: {name}", ref="LRFD 6.10.3.4")
        sums.append(before)
    none = 0 * kip_ft
    most, least = maximum(none, *sums), minimum(none, *sums)
    g_D, g_C, g_2 = use(sheet, "gamma_cD"), use(sheet, "gamma_cC"), use(sheet, "gamma_c2")
    live_most, live_least = maximum(none, construction[0]), minimum(none, construction[1])
    sagging = step(
        "M_cup", maximum(g_D * most + g_C * live_most, g_2 * (most + live_most)), kip_ft,
        "greatest factored moment of the pour", ref="LRFD 3.4.2.1", symbol="M_cu+",
    )  # fmt: skip
    hogging = step(
        "M_cun", minimum(g_D * least + g_C * live_least, g_2 * (least + live_least)), kip_ft,
        "least factored moment of the pour", ref="LRFD 3.4.2.1", symbol="M_cu-",
    )  # fmt: skip
    return PourMoments(tuple(sums), sagging, hogging)


def pour_checks(
    sheet: Sheet, flanges: PourFlanges, *, location: str | None = None, slender: bool = True
) -> tuple[Check, ...]:
    r"""Check both flanges and the web of the bare steel section in the pour.

    .. math:: f_{bu} + f_l \le \phi_f R_h F_{yc}, \quad f_{bu} + \tfrac13 f_l \le \phi_f F_{nc},
        \quad f_{bu} \le \phi_f F_{crw}, \quad f_{bu} + f_l \le \phi_f R_h F_{yt}

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the checks.
    flanges : PourFlanges
        Stresses and resistances.
    location : str, optional
        Where along the girder.
    slender : bool
        False leaves out web bend-buckling, where the web is compact or noncompact.

    Returns
    -------
    tuple of Check
        Yield, buckling and web of the compression side, yield of the tension flange.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Eq. 6.10.3.2.1-1 to -3 and 6.10.3.2.2-1; from memory.  The first
    is kept for slender webs without lateral bending too, where the code lets it go.
    """
    phi, c, t = use(sheet, "phi_f"), flanges.compression, flanges.tension
    f_lc, f_lt, R_h = flanges.lateral_compression, flanges.lateral_tension, flanges.hybrid
    rows = [
        ("Compression flange yield, pour", c + f_lc <= phi * R_h * flanges.F_yc, "1-1"),
        ("Compression flange buckling, pour", c + f_lc / 3 <= phi * flanges.buckling, "1-2"),
        ("Web bend-buckling, pour", c <= phi * flanges.bend_buckling, "1-3"),
        ("Tension flange yield, pour", t + f_lt <= phi * R_h * flanges.F_yt, "2-1"),
    ]
    if not slender:
        del rows[2]
    return tuple(
        sheet.check(name, item, ref=f"LRFD 6.10.3.2.{article}", location=location)
        for name, item, article in rows
    )


def pour_shear(
    sheet: Sheet, *, demand: Operand, buckling: Operand, location: str | None = None
) -> Check:
    r"""Check the web of a stiffened panel in the pour: no tension field.

    .. math:: V_u \le \phi_v V_{cr}

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the check.
    demand, buckling : Operand, [force]
        Factored shear of the pour and ``V_cr`` of the panel.
    location : str, optional
        Where along the girder.

    Returns
    -------
    Check
        The only check.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Eq. 6.10.3.3-1; from memory.
    """
    return sheet.check(
        "Shear, pour", demand <= use(sheet, "phi_v") * buckling, ref="LRFD 6.10.3.3-1",
        location=location,
    )  # fmt: skip


def deck_tension_in_pour(
    sheet: Sheet, *, moment: Operand, modulus: Operand, ratio: Operand
) -> Operand:
    r"""Write the tension that a later pour brings into a deck that has hardened.

    .. math:: f_{deck} = \frac{\gamma M}{n S_{deck}}

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the step.
    moment : Operand, [force * length]
        Factored hogging moment on the composite section, as a positive number.
    modulus : Operand, [length**3]
        Top of the slab, transformed to steel with the short-term ratio.
    ratio : Operand
        ``n``.

    Returns
    -------
    Operand
        The step ``f_dp``, [stress]; beyond 0.9 f_r the deck needs one percent of reinforcement.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 6.10.3.2.4 and 6.10.1.1.1d; from memory.
    """
    return sheet.step(
        "f_dp", moment / (ratio * modulus), ksi, "tension in the deck in a later pour",
        ref="LRFD 6.10.3.2.4",
    )  # fmt: skip
