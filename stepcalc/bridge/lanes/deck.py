"""The cross-section of a bridge as far as live-load distribution needs it."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from stepcalc.bridge.constants import use
from stepcalc.expr.functions import cases, floor
from stepcalc.units import ft, inch

if TYPE_CHECKING:
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.sheet import Sheet

__all__ = ["Deck", "deck_geometry", "stiffness_parameter"]


@dataclass(frozen=True)
class Deck:
    """A cross-section with equal girder spacing.

    Attributes
    ----------
    spacing, slab, curb : Operand, [length]
        ``S``, ``t_s`` structural, ``d_e`` exterior girder to the face of the curb.
    girders, lanes : Operand
        ``N_b``, ``N_L``.
    roadway : Operand, [length]
        ``w_r``.
    stiffness : Operand, [length**4]
        ``K_g``.
    span : Operand, [length]
        Length L of the effect in question.
    """

    spacing: Operand
    slab: Operand
    curb: Operand
    girders: Operand
    lanes: Operand
    roadway: Operand
    stiffness: Operand
    span: Operand

    def at_length(self, length: Operand) -> Deck:
        """Return the same cross-section with the length of another effect."""
        return replace(self, span=length)


def deck_geometry(
    sheet: Sheet,
    *,
    spacing: Operand,
    girders: Operand,
    overhang: Operand,
    barrier_width: Operand,
    slab: Operand,
    stiffness: Operand,
    span: Operand,
) -> Deck:
    r"""Write roadway, number of lanes and the distance from exterior girder to curb.

    .. math:: d_e = OH - b_{bar}, \qquad w_r = (N_b - 1) S + 2 d_e, \qquad
        N_L = \lfloor w_r/12\,\mathrm{ft} \rfloor

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    spacing, overhang, barrier_width, slab, span : Operand, [length]
        As their names say; `slab` is the structural thickness.
    girders : Operand
        Number of girders.
    stiffness : Operand, [length**4]
        ``K_g``.

    Returns
    -------
    Deck

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 3.6.1.1.1, 4.6.2.2.1; from memory.
    """
    step = sheet.step
    d_e = step(
        "d_e", overhang - barrier_width, ft, "exterior girder to the face of the curb",
        ref="LRFD 4.6.2.2.1",
    )  # fmt: skip
    w_r = step("w_r", (girders - 1) * spacing + 2 * d_e, ft, "clear roadway", ref="geometry")
    N_L = step(
        "N_L",
        cases(
            (w_r < 20 * ft, 1, "one lane"),
            (w_r < 24 * ft, 2, "two lanes of half the roadway"),
            otherwise=(floor(w_r / use(sheet, "b_lane")), "12 ft lanes"),
        ),
        description="number of design lanes",
        ref="LRFD 3.6.1.1.1",
    )
    return Deck(spacing, slab, d_e, girders, N_L, w_r, stiffness, span)


def stiffness_parameter(
    sheet: Sheet,
    *,
    modular_ratio: Operand,
    inertia: Operand,
    area: Operand,
    eccentricity: Operand,
) -> Operand:
    r"""Write the longitudinal stiffness parameter of any non-composite girder.

    .. math:: K_g = n (I + A e_g^2)

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the step.
    modular_ratio : Operand
        ``n``.
    inertia, area, eccentricity : Operand, [length**4], [length**2], [length]
        Of the girder alone; its centroid to the middle of the deck.

    Returns
    -------
    Operand
        ``K_g``, [length**4].

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Eq. 4.6.2.2.1-1; from memory.
    """
    return sheet.step(
        "K_g", modular_ratio * (inertia + area * eccentricity**2), inch**4,
        "longitudinal stiffness parameter", ref="LRFD 4.6.2.2.1-1",
    )  # fmt: skip
