"""Factored moments and shears of one girder: Strength I and Service II, gravity loads."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stepcalc.bridge.constants import use
from stepcalc.units import kip, kip_ft

if TYPE_CHECKING:
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.sheet import Sheet


@dataclass(frozen=True)
class GirderEffects:
    """Unfactored effects on one girder; live load with impact, distributed to the girder."""

    M_DC1: Operand
    M_DC2: Operand
    M_DW: Operand
    M_LL: Operand
    V_DC1: Operand
    V_DC2: Operand
    V_DW: Operand
    V_LL: Operand


@dataclass(frozen=True)
class FactoredEffects:
    """Factored effects on one girder."""

    M_u: Operand
    V_u: Operand
    M_SII: Operand


def factored_effects(sheet: Sheet, effects: GirderEffects) -> FactoredEffects:
    r"""Write the Strength I moment and shear and the Service II moment.

    .. math:: M_u = \gamma_{DC}(M_{DC1} + M_{DC2}) + \gamma_{DW} M_{DW} + \gamma_{LL} M_{LL}

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    effects : GirderEffects
        Unfactored moments and shears of the girder.

    Returns
    -------
    FactoredEffects
        ``M_u``, ``V_u`` and ``M_SII``; [force * length], [force].

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Table 3.4.1-1; all load modifiers of Art. 1.3.2 are
    1.0; from memory.
    """
    step = sheet.step
    g_DC, g_DW, g_LL = use(sheet, "gamma_DC"), use(sheet, "gamma_DW"), use(sheet, "gamma_LL")
    e = effects
    M_u = step(
        "M_u",
        g_DC * (e.M_DC1 + e.M_DC2) + g_DW * e.M_DW + g_LL * e.M_LL,
        kip_ft,
        "factored moment, Strength I",
        ref="LRFD 3.4.1-1, Table 3.4.1-1",
    )
    V_u = step(
        "V_u",
        g_DC * (e.V_DC1 + e.V_DC2) + g_DW * e.V_DW + g_LL * e.V_LL,
        kip,
        "factored shear at the bearing, Strength I",
        ref="LRFD 3.4.1-1, Table 3.4.1-1",
    )
    M_SII = step(
        "M_SII",
        e.M_DC1 + e.M_DC2 + e.M_DW + use(sheet, "gamma_SII") * e.M_LL,
        kip_ft,
        "moment, Service II",
        ref="LRFD 3.4.1-1, Table 3.4.1-1",
    )
    return FactoredEffects(M_u, V_u, M_SII)
