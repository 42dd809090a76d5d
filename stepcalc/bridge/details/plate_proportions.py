"""Proportion limits of a welded plate girder (6.10.2) and least thicknesses (6.7.3)."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stepcalc.bridge.constants import use
from stepcalc.units import inch

if TYPE_CHECKING:
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.nodes import Check
    from stepcalc.sheet.sheet import Sheet


@dataclass(frozen=True)
class FlangePlate:
    """Width and thickness of one flange."""

    width: Operand
    thickness: Operand


def plate_proportions(
    sheet: Sheet,
    *,
    web_depth: Operand,
    web: Operand,
    compression: FlangePlate,
    tension: FlangePlate,
    longitudinal: bool = False,
    piece: Operand | None = None,
    location: str | None = None,
) -> tuple[Check, ...]:
    r"""Check the proportions of web and of either flange.

    .. math:: \frac{D}{t_w} \le 150 \;(300), \quad \frac{b_f}{2 t_f} \le 12, \quad
        b_f \ge \frac{D}{6}, \quad t_f \ge 1.1 t_w, \quad 0.1 \le \frac{I_{yc}}{I_{yt}} \le 10

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the checks.
    web_depth, web : Operand, [length]
        ``D`` and ``t_w``.
    compression, tension : FlangePlate
        The flanges.
    longitudinal : bool
        Whether the web has longitudinal stiffeners.
    piece : Operand, [length], optional
        Length of the shipped piece: its compression flange should be no narrower than L/85.
    location : str, optional
        Where along the girder.

    Returns
    -------
    tuple of Check
        Web; slenderness, width and thickness of either flange; ratio of the inertias from both
        sides; least thicknesses; then the piece.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 6.10.2.1, 6.10.2.2, 6.7.3, C6.10.2.2 (guideline); from
    memory.
    """
    limit, article = ("lambda_w_l", "1.2-1") if longitudinal else ("lambda_w_max", "1.1-1")
    rows = [("Web slenderness", web_depth / web <= use(sheet, limit), f"6.10.2.{article}")]
    for words, flange in (("compression", compression), ("tension", tension)):
        b, t = flange.width, flange.thickness
        rows += [
            (f"Flange slenderness, {words}", b / (2 * t) <= use(sheet, "lambda_f_max"),
             "6.10.2.2-1"),
            (f"Flange width, {words}", web_depth / use(sheet, "r_D_bf") <= b, "6.10.2.2-2"),
            (f"Flange thickness, {words}", use(sheet, "r_tf_tw") * web <= t, "6.10.2.2-3"),
        ]  # fmt: skip
    ratio = _inertia_ratio(sheet, compression, tension)
    rows += [
        ("Flange inertias, least", use(sheet, "r_Iy_min") <= ratio, "6.10.2.2-4"),
        ("Flange inertias, greatest", ratio <= use(sheet, "r_Iy_max"), "6.10.2.2-4"),
        ("Least web thickness", use(sheet, "t_p_min") <= web, "6.7.3"),
        ("Least flange thickness, compression", use(sheet, "t_p_min") <= compression.thickness,
         "6.7.3"),
        ("Least flange thickness, tension", use(sheet, "t_p_min") <= tension.thickness, "6.7.3"),
    ]  # fmt: skip
    if piece is not None:
        slim = piece / use(sheet, "r_piece") <= compression.width
        rows.append(("Flange width, shipped piece", slim, "C6.10.2.2 (guideline)"))
    return tuple(
        sheet.check(name, item, ref=f"LRFD {ref}", location=location) for name, item, ref in rows
    )


def _inertia_ratio(sheet: Sheet, compression: FlangePlate, tension: FlangePlate) -> Operand:
    I_c = sheet.step(
        "I_yc", compression.thickness * compression.width**3 / 12, inch**4,
        "compression flange about the axis of the web", ref="geometry",
    )  # fmt: skip
    I_t = sheet.step(
        "I_yt", tension.thickness * tension.width**3 / 12, inch**4,
        "tension flange about the axis of the web", ref="geometry",
    )  # fmt: skip
    return sheet.step("r_Iy", I_c / I_t, None, "ratio of the inertias", ref="LRFD 6.10.2.2-4")
