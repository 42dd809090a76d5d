"""Intermediate transverse stiffeners of the web (6.10.11.1)."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stepcalc.bridge.constants import use
from stepcalc.expr.functions import cases, maximum, minimum
from stepcalc.units import inch, ksi

if TYPE_CHECKING:
    from stepcalc.bridge.details.shear_panels import PanelShear, PanelWeb
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.nodes import Check
    from stepcalc.sheet.sheet import Sheet


@dataclass(frozen=True)
class StiffenerPlate:
    """One stiffener: plates on one side of the web, or a pair.

    Attributes
    ----------
    width, thickness : Operand, [length]
        Projecting width ``b_t`` and thickness ``t_p`` of one plate.
    strength : Operand, [stress]
        ``F_ys``.
    pair : bool
        Plates on both sides of the web.
    """

    width: Operand
    thickness: Operand
    strength: Operand
    pair: bool = False


@dataclass(frozen=True)
class TransverseStiffener:
    """What a stiffener has, what it needs, and its checks."""

    inertia: Operand
    required: Operand
    checks: tuple[Check, ...]


def stiffener_inertia(sheet: Sheet, plate: StiffenerPlate, web: PanelWeb, ref: str) -> Operand:
    r"""Write the moment of inertia of a stiffener.

    .. math:: I_t = \frac{t_p b_t^3}{3} \text{ (one side, about the face of the web)}, \qquad
        I_t = \frac{t_p (2 b_t + t_w)^3}{12} \text{ (pair, about the middle of the web)}

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the step.
    plate : StiffenerPlate
        The stiffener.
    web : PanelWeb
        The web.
    ref : str
        Article.

    Returns
    -------
    Operand
        The step ``I_t``, [length**4].

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 6.10.11.1.3; from memory.
    """
    if plate.pair:
        inertia = plate.thickness * (2 * plate.width + web.thickness) ** 3 / 12
        words = "pair of stiffeners about the middle of the web"
    else:
        inertia = plate.thickness * plate.width**3 / 3
        words = "stiffener on one side about the face of the web"
    return sheet.step("I_t", inertia, inch**4, words, ref=ref)


def width_checks(
    sheet: Sheet,
    plate: StiffenerPlate,
    web: PanelWeb,
    *,
    flange: Operand,
    location: str | None = None,
) -> tuple[Check, ...]:
    r"""Check the projecting width of a transverse stiffener.

    .. math:: b_t \ge 2.0\,\mathrm{in} + D/30, \qquad 16 t_p \ge b_t \ge b_f/4

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the checks.
    plate : StiffenerPlate
        The stiffener.
    web : PanelWeb
        The web.
    flange : Operand, [length]
        Widest compression flange within the field section, ``b_f``.
    location : str, optional
        Where along the girder.

    Returns
    -------
    tuple of Check
        Three checks.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Eq. 6.10.11.1.2-1 and -2; from memory.
    """
    b = plate.width
    rows = (
        ("Stiffener width, web", 2 * inch + web.depth / 30 <= b, "6.10.11.1.2-1"),
        ("Stiffener width, thickness", b <= 16 * plate.thickness, "6.10.11.1.2-2"),
        ("Stiffener width, flange", flange / 4 <= b, "6.10.11.1.2-2"),
    )
    return tuple(
        sheet.check(name, comparison, ref=f"LRFD {article}", location=location)
        for name, comparison, article in rows
    )


def required_inertia(
    sheet: Sheet,
    plate: StiffenerPlate,
    web: PanelWeb,
    *,
    spacing: Operand,
    panels: tuple[PanelShear, PanelShear],
) -> Operand:
    r"""Write the moment of inertia that a transverse stiffener needs.

    .. math:: I_{t1} = b\,t_w^3 J, \quad J = \frac{2.5}{(d_o/D)^2} - 2.0 \ge 0.5, \quad
        b = \min(d_o, D), \qquad
        I_{t2} = \frac{D^4 \rho_t^{1.3}}{40}\left(\frac{F_{yw}}{E}\right)^{1.5}, \quad
        \rho_t = \max\left(\frac{F_{yw}}{F_{crs}}, 1\right), \quad
        F_{crs} = \frac{0.31 E}{(b_t/t_p)^2} \le F_{ys}

    No tension field beside it: :math:`\min(I_{t1}, I_{t2})`.  Otherwise
    :math:`I_{t1} + (I_{t2} - I_{t1})\rho_w` where that grows, else :math:`I_{t2}`, with
    :math:`\rho_w = (V_u - \phi V_{cr})/(\phi V_n - \phi V_{cr})`, the larger of both panels.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    plate : StiffenerPlate
        The stiffener.
    web : PanelWeb
        The web.
    spacing : Operand, [length]
        The smaller spacing ``d_o`` of the two panels beside it.
    panels : pair of PanelShear
        The panels beside it.

    Returns
    -------
    Operand
        The step ``I_treq``; steps before it ``J b I_t1 F_crs rho_t I_t2
        rho_w1 rho_w2 rho_w``.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 6.10.11.1.3; from memory.
    """
    step, E, ref = sheet.step, use(sheet, "E"), "LRFD 6.10.11.1.3"
    D, F_yw = web.depth, web.strength
    J = step(
        "J", maximum(2.5 / (spacing / D) ** 2 - 2.0, use(sheet, "J_min")), None,
        "rigidity parameter", ref=f"{ref}-3",
    )  # fmt: skip
    b = step("b", minimum(spacing, D), inch, "smaller of spacing and depth", ref=ref)
    first = step(
        "I_t1", b * web.thickness**3 * J, inch**4, "for shear buckling of the web", ref=f"{ref}-1"
    )
    F_crs = step(
        "F_crs", minimum(0.31 * E / (plate.width / plate.thickness) ** 2, plate.strength), ksi,
        "local buckling of the stiffener", ref=f"{ref}-6",
    )  # fmt: skip
    rho = step("rho_t", maximum(F_yw / F_crs, 1.0), None, "web over stiffener", ref=ref)
    second = step(
        "I_t2", D**4 * rho**1.3 / 40 * (F_yw / E) ** 1.5, inch**4, "for the tension field",
        ref=f"{ref}-2",
    )  # fmt: skip
    shares = [
        _field_share(sheet, panel, f"rho_w{number}", words)
        for number, words, panel in zip((1, 2), ("left", "right"), panels, strict=True)
    ]
    rho_w = step(
        "rho_w", maximum(*shares), None,
        "share of the tension field that is used, larger of both panels", ref=ref,
    )  # fmt: skip
    return step(
        "I_treq",
        cases(
            (rho_w <= 0, minimum(first, second), "no tension field beside the stiffener"),
            (second > first, first + (second - first) * rho_w, "tension field, in part"),
            otherwise=(second, "tension field"),
        ),
        inch**4,
        "moment of inertia that the stiffener needs",
        ref=f"{ref}-8 to -11",
        symbol="I_t,req",
    )


def _field_share(sheet: Sheet, panel: PanelShear, name: str, side: str) -> Operand:
    phi = use(sheet, "phi_v")
    buckles, most = phi * panel.buckling, phi * panel.nominal
    return sheet.step(
        name,
        cases(
            (panel.demand <= buckles, 0.0, "below shear buckling"),
            (most <= buckles, 1.0, "overloaded end panel"),
            otherwise=((panel.demand - buckles) / (most - buckles), "tension field"),
        ),
        None,
        f"share of the tension field that is used, {side} panel",
        ref="LRFD 6.10.11.1.3",
    )


def transverse_stiffener(
    sheet: Sheet,
    plate: StiffenerPlate,
    web: PanelWeb,
    *,
    spacing: Operand,
    flange: Operand,
    panels: tuple[PanelShear, PanelShear],
    location: str | None = None,
) -> TransverseStiffener:
    """Check width and moment of inertia of an intermediate transverse stiffener.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    plate : StiffenerPlate
        The stiffener.
    web : PanelWeb
        The web.
    spacing : Operand, [length]
        The smaller spacing of the two panels beside it.
    flange : Operand, [length]
        Widest compression flange within the field section.
    panels : pair of PanelShear
        The panels beside it.
    location : str, optional
        Where along the girder.

    Returns
    -------
    TransverseStiffener
        ``I_t``, ``I_treq`` and four checks.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 6.10.11.1; from memory.  It is fitted to the compression
    flange and cut 4 to 6 t_w short of the tension flange, unless it carries a cross-frame.
    """
    widths = width_checks(sheet, plate, web, flange=flange, location=location)
    has = stiffener_inertia(sheet, plate, web, "LRFD 6.10.11.1.3")
    needs = required_inertia(sheet, plate, web, spacing=spacing, panels=panels)
    stiff = sheet.check(
        "Stiffener inertia", needs <= has, ref="LRFD 6.10.11.1.3", location=location
    )
    return TransverseStiffener(has, needs, (*widths, stiff))
