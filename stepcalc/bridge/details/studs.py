"""Shear connectors (6.10.10): geometry, strength, and how many the strength limit state needs."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stepcalc.bridge.constants import use
from stepcalc.expr.functions import cases, minimum, pi, sqrt
from stepcalc.units import inch, kip

if TYPE_CHECKING:
    from stepcalc.bridge.details.editions import EditionRules
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.nodes import Check
    from stepcalc.sheet.sheet import Sheet


@dataclass(frozen=True)
class Stud:
    """A welded stud.

    Attributes
    ----------
    diameter, height : Operand, [length]
        ``d`` of the shank and ``h`` after welding.
    tensile : Operand, [stress]
        ``F_u``.
    per_row : Operand
        Studs side by side in one row.
    """

    diameter: Operand
    height: Operand
    tensile: Operand
    per_row: Operand


@dataclass(frozen=True)
class StudPlace:
    """Where the studs stand.

    Attributes
    ----------
    pitch, spacing : Operand, [length]
        Along the girder, and across it; centre to centre.
    flange, slab, haunch : Operand, [length]
        Width of the top flange, structural thickness, top of flange to soffit.
    web_depth : Operand, [length]
    """

    pitch: Operand
    spacing: Operand
    flange: Operand
    slab: Operand
    haunch: Operand
    web_depth: Operand


@dataclass(frozen=True)
class ConnectorStrength:
    """Nominal and factored shear resistance of one connector."""

    nominal: Operand
    factored: Operand


def greatest_pitch(sheet: Sheet, rules: EditionRules, web_depth: Operand) -> Operand:
    """Write the greatest pitch that the code allows.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the step.
    rules : EditionRules
        The 7th edition has 24 in for all girders.
    web_depth : Operand, [length]
        Depth of the web.

    Returns
    -------
    Operand
        The step ``p_lim``, [length].

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 6.10.10.1.2; from memory.
    """
    least = use(sheet, "p_max")
    if rules.seventh:
        expr: Operand = 1 * least
    else:
        expr = cases(
            (web_depth >= use(sheet, "D_deep"), use(sheet, "p_max_D"), "deep web"),
            otherwise=(least, "web below 24 in"),
        )
    return sheet.step("p_lim", expr, inch, "greatest pitch", ref=rules.ref("6.10.10.1.2"))


def stud_geometry(
    sheet: Sheet, rules: EditionRules, stud: Stud, place: StudPlace
) -> tuple[Check, ...]:
    r"""Check the geometry of studs.

    .. math:: h/d \ge 4, \quad 6 d \le p \le 24\,\mathrm{in}, \quad s \ge 4 d, \quad
        \text{edge} \ge 1\,\mathrm{in}, \quad \text{cover and penetration} \ge 2\,\mathrm{in}

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the checks.
    rules : EditionRules
        The edition.
    stud : Stud
        The stud.
    place : StudPlace
        Pitch, spacing across, flange, slab and haunch.

    Returns
    -------
    tuple of Check
        Slenderness, least and greatest pitch, spacing across, edge, cover, penetration.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 6.10.10.1; from memory.
    """
    d, h = stud.diameter, stud.height
    most = greatest_pitch(sheet, rules, place.web_depth)
    rest = (place.flange - (stud.per_row - 1) * place.spacing - d) / 2
    edge = sheet.step("e_stud", rest, inch, "stud to the edge of the flange", ref="geometry")
    cover = sheet.step(
        "c_stud", place.slab + place.haunch - h, inch, "cover over the stud", ref="geometry"
    )
    deep = sheet.step("h_pen", h - place.haunch, inch, "penetration into the slab", ref="geometry")
    rows = (
        ("Stud height", use(sheet, "r_hd") <= h / d, "1.1"),
        ("Least pitch", use(sheet, "r_pd") * d <= place.pitch, "1.2"),
        ("Greatest pitch", place.pitch <= most, "1.2"),
        ("Studs across the flange", use(sheet, "r_sd") * d <= place.spacing, "1.3"),
        ("Edge of the flange", use(sheet, "e_sc") <= edge, "1.3"),
        ("Cover over studs", use(sheet, "c_sc") <= cover, "1.4"),
        ("Penetration of studs", use(sheet, "h_sc") <= deep, "1.4"),
    )
    return tuple(
        sheet.check(name, item, ref=f"LRFD 6.10.10.{article}") for name, item, article in rows
    )


def stud_strength(
    sheet: Sheet, stud: Stud, *, concrete: Operand, modulus: Operand
) -> ConnectorStrength:
    r"""Write the shear resistance of one stud.

    .. math:: Q_n = \min(0.5 A_{sc}\sqrt{f'_c E_c},\; A_{sc} F_u), \qquad Q_r = \phi_{sc} Q_n

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    stud : Stud
        The stud.
    concrete, modulus : Operand, [stress]
        ``f'_c`` and ``E_c`` of the slab.

    Returns
    -------
    ConnectorStrength
        Steps ``A_sc Q_n Q_r``.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Eq. 6.10.10.4.3-1 and 6.10.10.4.1-1; from memory.
    """
    A = sheet.step("A_sc", pi * stud.diameter**2 / 4, inch**2, "area of one stud", ref="geometry")
    Q_n = sheet.step(
        "Q_n", minimum(0.5 * A * sqrt(concrete * modulus), A * stud.tensile), kip,
        "nominal shear resistance of one stud", ref="LRFD 6.10.10.4.3-1",
    )  # fmt: skip
    return _factored(sheet, Q_n)


def channel_strength(
    sheet: Sheet,
    *,
    flange: Operand,
    web: Operand,
    length: Operand,
    concrete: Operand,
    modulus: Operand,
) -> ConnectorStrength:
    r"""Write the shear resistance of one channel connector.

    .. math:: Q_n = 0.3 (t_f + 0.5 t_w) L_c \sqrt{f'_c E_c}

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    flange, web, length : Operand, [length]
        Thickness of flange and web, and length of the channel.
    concrete, modulus : Operand, [stress]
        ``f'_c`` and ``E_c`` of the slab.

    Returns
    -------
    ConnectorStrength
        Steps ``Q_n Q_r``.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Eq. 6.10.10.4.3-2; from memory.
    """
    Q_n = sheet.step(
        "Q_n", 0.3 * (flange + 0.5 * web) * length * sqrt(concrete * modulus), kip,
        "nominal shear resistance of one channel", ref="LRFD 6.10.10.4.3-2",
    )  # fmt: skip
    return _factored(sheet, Q_n)


def _factored(sheet: Sheet, Q_n: Operand) -> ConnectorStrength:
    Q_r = sheet.step(
        "Q_r", use(sheet, "phi_sc") * Q_n, kip, "factored shear resistance of one connector",
        ref="LRFD 6.10.10.4.1-1",
    )  # fmt: skip
    return ConnectorStrength(Q_n, Q_r)


def steel_force(
    sheet: Sheet, *, web: tuple[Operand, Operand], flanges: tuple[tuple[Operand, Operand], ...]
) -> Operand:
    r"""Write the yield force of the whole steel section.

    .. math:: P_s = F_{yw} D t_w + F_{yt} b_{ft} t_{ft} + F_{yc} b_{fc} t_{fc}

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the step.
    web : pair of Operand
        Area and yield strength of the web.
    flanges : tuple of pairs of Operand
        Area and yield strength of each flange and cover plate.

    Returns
    -------
    Operand
        The step ``P_steel``, [force].

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Eq. 6.10.10.4.2-3; from memory.
    """
    force = web[0] * web[1]
    for area, strength in flanges:
        force = force + area * strength
    return sheet.step(
        "P_steel", force, kip, "yield force of the steel section", ref="LRFD 6.10.10.4.2-3"
    )


def positive_force(
    sheet: Sheet, *, concrete: Operand, width: Operand, thickness: Operand, steel: Operand
) -> Operand:
    r"""Write the shear force between the greatest sagging moment and the point of no moment.

    .. math:: P_p = \min(0.85 f'_c b_s t_s,\; P_s)

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the step.
    concrete : Operand, [stress]
        ``f'_c``.
    width, thickness : Operand, [length]
        ``b_s`` and ``t_s``.
    steel : Operand, [force]
        From :func:`steel_force`.

    Returns
    -------
    Operand
        The step ``P_p``, [force]; on either side of the greatest moment, a straight girder.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Eq. 6.10.10.4.2-1 to -3; from memory.
    """
    return sheet.step(
        "P_p", minimum(use(sheet, "c_PNA") * concrete * width * thickness, steel), kip,
        "shear force, greatest sagging moment to no moment", ref="LRFD 6.10.10.4.2-2, -3",
    )  # fmt: skip


def support_force(
    sheet: Sheet,
    positive: Operand,
    *,
    concrete: Operand,
    width: Operand,
    thickness: Operand,
    steel: Operand,
) -> Operand:
    r"""Write the shear force between the greatest sagging moment and an interior support.

    .. math:: P = P_p + P_n, \qquad P_n = \min(P_s,\; 0.45 f'_c b_s t_s)

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    positive : Operand, [force]
        ``P_p``.
    concrete : Operand, [stress]
        ``f'_c``.
    width, thickness : Operand, [length]
        Effective width and thickness of the slab at the support.
    steel : Operand, [force]
        Yield force of the steel section at the support.

    Returns
    -------
    Operand
        The step ``P_T``, [force].

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Eq. 6.10.10.4.2-5 to -8; from memory.
    """
    P_n = sheet.step(
        "P_n", minimum(steel, 0.45 * concrete * width * thickness), kip,
        "shear force over the interior support", ref="LRFD 6.10.10.4.2-7, -8",
    )  # fmt: skip
    return sheet.step(
        "P_T", positive + P_n, kip, "shear force, greatest sagging moment to the support",
        ref="LRFD 6.10.10.4.2-5, -6",
    )  # fmt: skip


def required_connectors(
    sheet: Sheet, force: Operand, strength: ConnectorStrength, *, name: str = "n_req"
) -> Operand:
    r"""Write how many connectors a region needs for strength.

    .. math:: n = P / Q_r

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the step.
    force : Operand, [force]
        Shear force of the region: on one side of the greatest moment only.
    strength : ConnectorStrength
        Of one connector.
    name : str
        Name of the step.

    Returns
    -------
    Operand
        The step, not rounded.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Eq. 6.10.10.4.1-2; from memory.
    """
    return sheet.step(
        name, force / strength.factored, None,
        "connectors needed on one side of the greatest moment", ref="LRFD 6.10.10.4.1-2",
    )  # fmt: skip
