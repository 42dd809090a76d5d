"""Stiffeners by the Standard Specifications: transverse 10.34.4 and 10.48.5, bearing 10.34.6."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stepcalc.bridge.constants import use
from stepcalc.bridge.details.bearing_stiffeners import (
    BearingStiffener,
    bearing_area,
    bearing_column,
)
from stepcalc.bridge.details.transverse_stiffeners import TransverseStiffener, stiffener_inertia
from stepcalc.errors import RangeError
from stepcalc.expr.functions import cases, maximum, pi, sqrt
from stepcalc.units import inch, kip, ksi

if TYPE_CHECKING:
    from stepcalc.bridge.details.bearing_stiffeners import BearingColumn, BearingPairs
    from stepcalc.bridge.details.older_shear_panels import OlderPanel
    from stepcalc.bridge.details.shear_panels import PanelWeb
    from stepcalc.bridge.details.transverse_stiffeners import StiffenerPlate
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.sheet import Sheet


def older_transverse_stiffener(
    sheet: Sheet,
    plate: StiffenerPlate,
    web: PanelWeb,
    *,
    spacing: Operand,
    flange: Operand,
    panel: OlderPanel,
    location: str | None = None,
) -> TransverseStiffener:
    r"""Check width, moment of inertia and area of a transverse stiffener.

    .. math:: I \ge d_o t_w^3 J, \quad J = 2.5 (D/d_o)^2 - 2 \ge 0.5, \qquad
        A \ge \left[0.15 B D t_w (1 - C)\frac{V}{V_u} - 18 t_w^2\right] Y, \quad
        Y = F_{yw}/F_{ys}

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    plate : StiffenerPlate
        The stiffener; ``B`` = 1.0 for a pair, 2.4 for a plate on one side.
    web : PanelWeb
        The web.
    spacing : Operand, [length]
        ``d_o``.
    flange : Operand, [length]
        Width of the flange.
    panel : OlderPanel
        The panel beside it, with ``C`` and demand over capacity.
    location : str, optional
        Where along the girder.

    Returns
    -------
    TransverseStiffener
        ``I_t``, ``I_treq`` and five checks.

    Source
    ------
    AASHTO Standard Specifications, 17th ed. (2002), Art. 10.34.4.7, 10.34.5, 10.48.5; from memory.
    The quarter of the flange width is a recommendation there.
    """
    step, check = sheet.step, sheet.check
    b, t_w = plate.width, web.thickness
    has = stiffener_inertia(sheet, plate, web, "Std 10.34.4.7")
    J = step(
        "J", maximum(2.5 * (web.depth / spacing) ** 2 - 2, use(sheet, "J_min_s")), None,
        "rigidity parameter", ref="Std 10.34.4.7",
    )  # fmt: skip
    needs = step(
        "I_treq", spacing * t_w**3 * J, inch**4, "moment of inertia that the stiffener needs",
        ref="Std 10.34.4.7", symbol="I_t,req",
    )  # fmt: skip
    B = 1.0 if plate.pair else 2.4
    field = 0.15 * B * web.depth * t_w * (1 - panel.ratio) * (panel.demand / panel.capacity)
    A_req = step(
        "A_treq", maximum((field - 18 * t_w**2) * web.strength / plate.strength, 0 * inch**2),
        inch**2, "area that the stiffener needs", ref="Std 10.34.4.7", symbol="A_t,req",
    )  # fmt: skip
    A_t = step(
        "A_t", (2 if plate.pair else 1) * b * plate.thickness, inch**2, "area of the stiffener",
        ref="geometry",
    )  # fmt: skip
    rows = (
        ("Stiffener width, web", 2 * inch + web.depth / 30 <= b, "Std 10.34.5.6"),
        ("Stiffener width, thickness", b <= 16 * plate.thickness, "Std 10.34.5.6"),
        ("Stiffener width, flange", flange / 4 <= b, "Std 10.34.5.6 (recommended)"),
        ("Stiffener inertia", needs <= has, "Std 10.34.4.7"),
        ("Stiffener area", A_req <= A_t, "Std 10.34.4.7"),
    )
    checks = tuple(check(name, item, ref=ref, location=location) for name, item, ref in rows)
    return TransverseStiffener(has, needs, checks)


def asd_column_stress(sheet: Sheet, column: BearingColumn) -> Operand:
    r"""Write the allowable compression of a column in working stress design.

    .. math:: F_a = \frac{F_y}{2.12}\left[1 - \frac{(KL/r)^2}{2 C_c^2}\right]
        \;(KL/r \le C_c), \quad \frac{\pi^2 E}{2.12 (KL/r)^2}, \qquad
        C_c = \sqrt{2\pi^2 E/F_y}

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    column : BearingColumn
        The stiffeners with their strip of web.

    Returns
    -------
    Operand
        The step ``F_a``; ``C_c`` is the other.

    Source
    ------
    AASHTO Standard Specifications, 17th ed. (2002), Table 10.32.1A; from memory.
    """
    C_c, E, n = _column_limit(sheet, column), use(sheet, "E_s"), use(sheet, "F_S")
    x, F = column.slenderness, column.strength
    return sheet.step(
        "F_a",
        cases(
            (x <= C_c, F / n * (1 - x**2 / (2 * C_c**2)), "inelastic buckling"),
            otherwise=(pi**2 * E / (n * x**2), "elastic buckling"),
        ),
        ksi,
        "allowable compression of the column",
        ref="Std 10.32.1",
    )


def lfd_column_stress(sheet: Sheet, column: BearingColumn) -> Operand:
    r"""Write the buckling stress of a column in load factor design.

    .. math:: F_{cr} = F_y\left[1 - \frac{F_y}{4\pi^2 E}\left(\frac{KL}{r}\right)^2\right], \quad
        \frac{\pi^2 E}{(KL/r)^2}

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    column : BearingColumn
        The stiffeners with their strip of web.

    Returns
    -------
    Operand
        The step ``F_cr``.

    Source
    ------
    AASHTO Standard Specifications, 17th ed. (2002), Art. 10.54.1.1; from memory.
    """
    C_c, E = _column_limit(sheet, column), use(sheet, "E_s")
    x, F = column.slenderness, column.strength
    return sheet.step(
        "F_cr",
        cases(
            (x <= C_c, F * (1 - F / (4 * pi**2 * E) * x**2), "inelastic buckling"),
            otherwise=(pi**2 * E / x**2, "elastic buckling"),
        ),
        ksi,
        "buckling stress of the column",
        ref="Std 10.54.1.1",
    )


def _column_limit(sheet: Sheet, column: BearingColumn) -> Operand:
    return sheet.step(
        "C_c", sqrt(2 * pi**2 * use(sheet, "E_s") / column.strength), None,
        "slenderness at which buckling becomes elastic", ref="Std 10.32.1, 10.54.1.1",
    )  # fmt: skip


def older_bearing_stiffener(
    sheet: Sheet,
    pairs: BearingPairs,
    web: PanelWeb,
    *,
    reaction: Operand,
    code: str,
    location: str | None = None,
) -> BearingStiffener:
    r"""Check bearing stiffeners by working stress or load factor design.

    .. math:: t_p \ge \frac{b_t}{12}\sqrt{\frac{F_y}{33\,\mathrm{ksi}}}, \qquad
        R \le 0.80 F_{ys} A_{pn}, \quad R \le F_a A_s \text{ (ASD)}, \qquad
        R \le F_{ys} A_{pn}, \quad R \le 0.85 F_{cr} A_s \text{ (LFD)}

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    pairs : BearingPairs
        The stiffeners.
    web : PanelWeb
        The web.
    reaction : Operand, [force]
        Reaction of the service loads (ASD) or factored (LFD).
    code : {"ASD", "LFD"}
        Method.
    location : str, optional
        Where along the girder.

    Returns
    -------
    BearingStiffener
        Steps ``R_br`` and ``P_r``, and three checks.

    Raises
    ------
    RangeError
        If the method is another.

    Source
    ------
    AASHTO Standard Specifications, 17th ed. (2002), Art. 10.34.6 and 10.48.7; from memory.  The
    bearing stress of load factor design and K = 0.75 are common practice.
    """
    if code not in ("ASD", "LFD"):
        msg = f"bearing stiffeners are checked by 'ASD' or 'LFD', not {code!r}"
        raise RangeError(msg)
    plate, ref = pairs.plate, "Std 10.34.6" if code == "ASD" else "Std 10.48.7"
    width = sheet.check(
        "Bearing stiffener width",
        plate.width / 12 * sqrt(plate.strength / (33 * ksi)) <= plate.thickness,
        ref="Std 10.34.6.1", location=location,
    )  # fmt: skip
    A_pn = bearing_area(sheet, pairs, ref)
    bearing = use(sheet, "c_pb") * plate.strength if code == "ASD" else plate.strength
    R_br = sheet.step("R_br", bearing * A_pn, kip, "bearing on the flange", ref=ref)
    bears = sheet.check("Bearing stiffener, bearing", reaction <= R_br, ref=ref, location=location)
    column = bearing_column(sheet, pairs, web, effective=use(sheet, "K_brg_s"), ref=ref)
    if code == "ASD":
        most = asd_column_stress(sheet, column) * column.area
    else:
        most = use(sheet, "phi_cs") * lfd_column_stress(sheet, column) * column.area
    P_r = sheet.step("P_r", most, kip, "strength of the column", ref=ref)
    stands = sheet.check("Bearing stiffener, column", reaction <= P_r, ref=ref, location=location)
    return BearingStiffener(R_br, P_r, (width, bears, stands))
