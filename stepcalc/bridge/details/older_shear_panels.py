"""Stiffened webs by the Standard Specifications: ASD 10.34.4 and LFD 10.48.8."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stepcalc.bridge.constants import use
from stepcalc.expr.functions import cases, minimum, sqrt
from stepcalc.units import kip, ksi

if TYPE_CHECKING:
    from stepcalc.bridge.details.shear_panels import PanelWeb
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.nodes import Check
    from stepcalc.sheet.sheet import Sheet


@dataclass(frozen=True)
class OlderPanel:
    """Shear of one panel by the Standard Specifications.

    Attributes
    ----------
    ratio : Operand
        ``C``.
    demand, capacity : Operand
        Stress ``f_v`` and ``F_v`` (ASD), or force ``V`` and ``V_u`` (LFD).
    checks : tuple of Check
        Strength, then spacing.
    """

    ratio: Operand
    demand: Operand
    capacity: Operand
    checks: tuple[Check, ...]


def older_buckling_ratio(
    sheet: Sheet, web: PanelWeb, spacing: Operand | None
) -> tuple[Operand | None, Operand]:
    r"""Write aspect ratio and the ratio ``C`` of the Standard Specifications.

    .. math:: k = 5 + \frac{5}{(d_o/D)^2}, \quad C = 1, \;
        \frac{6000\sqrt k}{(D/t_w)\sqrt{F_y}}, \; \frac{4.5\times10^7 k}{(D/t_w)^2 F_y}
        \quad (F_y \text{ in psi})

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    web : PanelWeb
        The web.
    spacing : Operand, [length] or None
        ``d_o``; None for a web without stiffeners (k = 5).

    Returns
    -------
    tuple
        The step ``alpha_d`` (None without stiffeners) and the step ``C``.

    Source
    ------
    AASHTO Standard Specifications, 17th ed. (2002), Art. 10.34.4.2 and 10.48.8.1; from memory.
    """
    step, ref = sheet.step, "Std 10.34.4.2, 10.48.8.1"
    aspect: Operand | None = None
    k: Operand = use(sheet, "k_s")
    if spacing is not None:
        aspect = step(
            "alpha_d", spacing / web.depth, None, "stiffener spacing over depth of the web", ref=ref
        )
        k = step(
            "k",
            cases(
                (aspect <= use(sheet, "r_do_s"), 5 + 5 / aspect**2, "stiffened panel"),
                otherwise=(k, "stiffeners too far apart: unstiffened web"),
            ),
            None,
            "shear-buckling coefficient",
            ref=ref,
        )
    slender = step(
        "lambda_v", web.depth / web.thickness, None, "slenderness of the web in shear", ref=ref
    )
    psi = 1000 * web.strength.magnitude(ksi)
    root = step(
        "lambda_0", sqrt(k / psi), None, "measure of shear buckling, yield strength in psi", ref=ref
    )
    C = step(
        "C",
        cases(
            (slender < 6000 * root, 1.0, "the web yields"),
            (slender <= 7500 * root, 6000 * root / slender, "inelastic shear buckling"),
            otherwise=(45_000_000 * root**2 / slender**2, "elastic shear buckling"),
        ),
        None,
        "shear buckling over shear yield",
        ref=ref,
    )
    return aspect, C


def _spacing_checks(
    sheet: Sheet, web: PanelWeb, spacing: Operand, interior: bool, location: str | None
) -> tuple[Check, ...]:
    if not interior:
        end = sheet.check(
            "Spacing, end panel", spacing <= use(sheet, "r_do_es") * web.depth,
            ref="Std 10.34.4.3, 10.48.8.3", location=location,
        )  # fmt: skip
        return (end,)
    slender = web.depth / web.thickness
    most = minimum(use(sheet, "r_do_s"), use(sheet, "c_do_s") / slender**2)
    return (
        sheet.check(
            "Spacing of stiffeners", spacing / web.depth <= most, ref="Std 10.34.4.2, 10.48.8.3",
            location=location,
        ),
    )  # fmt: skip


def asd_panel(
    sheet: Sheet,
    web: PanelWeb,
    *,
    spacing: Operand | None,
    shear: Operand,
    interior: bool,
    location: str | None = None,
) -> OlderPanel:
    r"""Write the allowable shear stress of a panel, and check it.

    .. math:: F_v = \frac{F_y}{3}\left[C + \frac{0.87 (1 - C)}{\sqrt{1 + (d_o/D)^2}}\right]
        \le \frac{F_y}{3}, \qquad f_v = \frac{V}{D t_w}

    End panels and webs without stiffeners: :math:`F_v = C F_y / 3`.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    web : PanelWeb
        The web.
    spacing : Operand, [length] or None
        ``d_o``; None without stiffeners.
    shear : Operand, [force]
        Shear of the service loads.
    interior : bool
        Whether the panel lies between stiffeners and not at an end.
    location : str, optional
        Where along the girder.

    Returns
    -------
    OlderPanel
        Steps ``alpha_d k lambda_v lambda_0 C f_v r_v F_v``.

    Source
    ------
    AASHTO Standard Specifications, 17th ed. (2002), Art. 10.34.4.1 to .3; from memory.
    """
    aspect, C = older_buckling_ratio(sheet, web, spacing)
    f_v = sheet.step(
        "f_v", shear / (web.depth * web.thickness), ksi, "shear stress of the web",
        ref="Std 10.34.4.1",
    )  # fmt: skip
    third = web.strength / 3
    F_v = sheet.step(
        "F_v", third * _field(sheet, aspect if interior else None, C), ksi,
        "allowable shear stress", ref="Std 10.34.4.2" if interior else "Std 10.34.4.1, .3",
    )  # fmt: skip
    strength = sheet.check("Shear of the panel", f_v <= F_v, ref="Std 10.34.4", location=location)
    far = _spacing_checks(sheet, web, spacing, interior, location) if spacing is not None else ()
    return OlderPanel(C, f_v, F_v, (strength, *far))


def lfd_panel(
    sheet: Sheet,
    web: PanelWeb,
    *,
    spacing: Operand | None,
    shear: Operand,
    interior: bool,
    location: str | None = None,
) -> OlderPanel:
    r"""Write the shear strength of a panel by load factor design, and check it.

    .. math:: V_u = V_p\left[C + \frac{0.87 (1 - C)}{\sqrt{1 + (d_o/D)^2}}\right], \quad
        V_p = 0.58 F_y D t_w

    End panels and webs without stiffeners: :math:`V_u = C V_p`.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    web : PanelWeb
        The web.
    spacing : Operand, [length] or None
        ``d_o``; None without stiffeners.
    shear : Operand, [force]
        Factored shear.
    interior : bool
        Whether the panel lies between stiffeners and not at an end.
    location : str, optional
        Where along the girder.

    Returns
    -------
    OlderPanel
        Steps ``alpha_d k lambda_v lambda_0 C V_p r_v V_us``.

    Source
    ------
    AASHTO Standard Specifications, 17th ed. (2002), Art. 10.48.8; from memory.
    """
    aspect, C = older_buckling_ratio(sheet, web, spacing)
    V_p = sheet.step(
        "V_p", 0.58 * web.strength * web.depth * web.thickness, kip, "plastic shear force",
        ref="Std 10.48.8.1",
    )  # fmt: skip
    V_u = sheet.step(
        "V_us", V_p * _field(sheet, aspect if interior else None, C), kip,
        "shear strength", ref="Std 10.48.8.1", symbol="V_u",
    )  # fmt: skip
    strength = sheet.check("Shear of the panel", shear <= V_u, ref="Std 10.48.8", location=location)
    far = _spacing_checks(sheet, web, spacing, interior, location) if spacing is not None else ()
    return OlderPanel(C, shear, V_u, (strength, *far))


def _field(sheet: Sheet, aspect: Operand | None, C: Operand) -> Operand:
    if aspect is None:
        return C
    return sheet.step(
        "r_v",
        cases(
            (
                aspect <= use(sheet, "r_do_s"),
                C + 0.87 * (1 - C) / sqrt(1 + aspect**2),
                "with tension field",
            ),
            otherwise=(C, "unstiffened: no tension field"),
        ),
        None,
        "shear strength over shear yield",
        ref="Std 10.34.4.2, 10.48.8.1",
    )


def asd_interaction(
    sheet: Sheet,
    panel: OlderPanel,
    *,
    bending: Operand,
    yield_strength: Operand,
    location: str | None = None,
) -> Check:
    r"""Check bending beside the concurrent shear of a panel that relies on its tension field.

    .. math:: f_s \le \left(0.754 - 0.34\frac{f_v}{F_v}\right) F_y \quad (f_v > 0.6 F_v)

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    panel : OlderPanel
        From :func:`asd_panel`, with the shear that acts together with the bending.
    bending : Operand, [stress]
        Greatest bending stress of the panel, concurrent with the shear.
    yield_strength : Operand, [stress]
        Of the flange.
    location : str, optional
        Where along the girder.

    Returns
    -------
    Check
        The bending stress against the reduced allowable ``F_s``; 0.55 F_y up to 0.6 F_v.

    Source
    ------
    AASHTO Standard Specifications, 17th ed. (2002), Art. 10.34.4.4; from memory.
    """
    share = panel.demand / panel.capacity
    F_s = sheet.step(
        "F_s",
        cases(
            (share <= use(sheet, "r_fv"), use(sheet, "c_Fb") * yield_strength, "little shear"),
            otherwise=((0.754 - 0.34 * share) * yield_strength, "reduced by the shear"),
        ),
        ksi,
        "allowable bending stress beside the shear",
        ref="Std 10.34.4.4",
    )
    return sheet.check(
        "Bending beside shear", bending <= F_s, ref="Std 10.34.4.4", location=location
    )


def lfd_interaction(
    sheet: Sheet,
    panel: OlderPanel,
    *,
    moment: Operand,
    strength: Operand,
    location: str | None = None,
) -> Check:
    r"""Check moment beside the concurrent shear of a panel that relies on its tension field.

    .. math:: \frac{M}{M_u} \le 1.375 - 0.625\frac{V}{V_u} \quad
        (V > 0.6 V_u \text{ and } M > 0.75 M_u)

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    panel : OlderPanel
        From :func:`lfd_panel`, with the shear that acts together with the moment.
    moment, strength : Operand, [force * length]
        Concurrent moment ``M`` and the strength ``M_u``.
    location : str, optional
        Where along the girder.

    Returns
    -------
    Check
        ``M/M_u`` against the step ``r_M``.

    Source
    ------
    AASHTO Standard Specifications, 17th ed. (2002), Art. 10.48.8.2; from memory.
    """
    share = panel.demand / panel.capacity
    r_M = sheet.step(
        "r_M",
        cases(
            (share <= use(sheet, "r_fv"), 1.0, "little shear: full moment"),
            otherwise=(1.375 - 0.625 * share, "reduced by the shear"),
        ),
        None,
        "share of the moment strength beside the shear",
        ref="Std 10.48.8.2",
    )
    return sheet.check(
        "Moment beside shear", moment / strength <= r_M, ref="Std 10.48.8.2", location=location
    )
