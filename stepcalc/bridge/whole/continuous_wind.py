"""Wind on the fascia of a continuous girder: Strength III and V at the governing places."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from stepcalc.bridge.constants import use
from stepcalc.bridge.details.exterior_girder import fascia_wind, moment_with_wind
from stepcalc.expr.functions import maximum
from stepcalc.units import inch, kip_ft, ksi

if TYPE_CHECKING:
    from stepcalc.bridge.details.editions import EditionRules
    from stepcalc.bridge.givens import BridgeNodes
    from stepcalc.bridge.whole.continuous_along import AtPlace
    from stepcalc.bridge.whole.continuous_flexure import Unbraced
    from stepcalc.bridge.whole.continuous_sections import LineSection
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.sheet import Sheet

__all__ = ["wind_on_line"]


def wind_on_line(
    sheet: Sheet, bridge: BridgeNodes, sections: tuple[LineSection, ...], rules: EditionRules,
    positive: AtPlace | None, negative: tuple[AtPlace, int, Unbraced] | None,
) -> None:  # fmt: skip
    r"""Check the exterior girder with the lateral bending of wind on its bottom flange.

    .. math:: M_u + \tfrac13 f_l S_{xt} \le \phi_f M_n \text{ (sagging)}, \qquad
        f_{bu} + \tfrac13 f_l \le \phi_f F_{nc} \text{ (hogging)}

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the parts.
    bridge, sections
        Of the girder, with both pressures.
    rules : EditionRules
        Load factors of the edition.
    positive, negative
        Governing places of Strength I, whose resistances are taken from the sheet.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), C4.6.2.7.1, Art. 6.10.7.1.1, 6.10.8.1.1; from memory.
    """
    data = bridge.data
    details = data.details
    assert details is not None
    pressures = [
        sheet.given(f"p_{key}", getattr(details, name), f"wind pressure, {state}",
                    source=data.source_of(name))
        for key, name, state in (
            ("3", "wind_strength_3", "Strength III"), ("5", "wind_strength_5", "Strength V"),
        )
    ]  # fmt: skip
    if positive is not None:
        with sheet.part(f"Positive moment, {positive.place.label}"):
            _sagging(sheet, bridge, sections[positive.place.section - 1], rules, pressures,
                     positive)  # fmt: skip
    if negative is not None:
        with sheet.part(f"Negative moment, {negative[0].place.label}"):
            _hogging(sheet, sections[negative[1] - 1], rules, pressures, negative)


def _sagging(
    sheet: Sheet, bridge: BridgeNodes, section: LineSection, rules: EditionRules,
    pressures: list[Any], at: AtPlace,
) -> None:  # fmt: skip
    bottom = section.bare.steel.bottom
    wind = fascia_wind(
        sheet, rules, pressure_3=pressures[0], pressure_5=pressures[1],
        height=section.geometry.depth, unbraced=bridge.brace_spacing, width=bottom.width,
        thickness=bottom.thickness,
    )  # fmt: skip
    base = "Positive moment/Governing place/Strength I"
    S_xt = sheet.step("S_xt", sheet[f"{base}/Yield moment/M_yt"] / bottom.strength, inch**3,
                      "M_yt over F_yt", ref="LRFD 6.10.7.1.1")  # fmt: skip
    M_n = sheet[f"{base}/Strength, Article 6.10.7/M_n"]
    for name, state, share, lateral in (
        ("M_u3", "Strength III", None, wind.strength_3),
        ("M_u5", "Strength V", use(sheet, "gamma_LL5"), wind.strength_5),
    ):  # fmt: skip
        M = sheet.step(name, sum(_staged(sheet, at, 1, share)[1:], _staged(sheet, at, 1, share)[0]),
                       kip_ft, f"factored moment, {state}", ref="LRFD Table 3.4.1-1")  # fmt: skip
        moment_with_wind(
            sheet, state=f"{state}, sagging", moment=M, lateral=lateral, modulus=S_xt,
            resistance=M_n, location=at.place.label,
        )  # fmt: skip


def _staged(
    sheet: Sheet, at: AtPlace, sense: int, share: Operand | None
) -> tuple[Operand, Operand, Operand]:
    """Return the factored moments on the steel, the long-term and the short-term section."""
    DC1, DC2, DW = at.dead(sense)
    DC, low = use(sheet, "gamma_DC"), use(sheet, "gamma_DCn")
    W, W_low = use(sheet, "gamma_DW"), use(sheet, "gamma_DWn")
    live = 0 * kip_ft if share is None else share * at.live(sense)
    return (
        maximum(DC * DC1, low * DC1),
        maximum(DC * DC2, low * DC2) + maximum(W * DW, W_low * DW),
        live,
    )


def _hogging(
    sheet: Sheet, section: LineSection, rules: EditionRules, pressures: list[Any],
    negative: tuple[AtPlace, int, Unbraced],
) -> None:  # fmt: skip
    at, _, unbraced = negative
    bottom = section.bare.steel.bottom
    wind = fascia_wind(
        sheet, rules, pressure_3=pressures[0], pressure_5=pressures[1],
        height=section.bare.geometry.depth, unbraced=unbraced.length, width=bottom.width,
        thickness=bottom.thickness,
    )  # fmt: skip
    base = "Negative moment/Governing place/Strength I"
    F_nc = sheet[f"{base}/Buckling of the compression flange/F_nc"]
    steel, hog = section.elastic.steel, section.hogging
    for tag, state, share, lateral in (
        ("3", "Strength III", None, wind.strength_3),
        ("5", "Strength V", use(sheet, "gamma_LL5"), wind.strength_5),
    ):  # fmt: skip
        M_1, M_2, M_L = _staged(sheet, at, -1, share)
        f = sheet.step(
            f"f_bu{tag}", M_1 / steel.S_bottom + (M_2 + M_L) / hog.S_bottom, ksi,
            f"bottom flange, compression, {state}", ref="LRFD 6.10.1.1.1a, -1c",
        )  # fmt: skip
        sheet.check(
            f"Bottom flange with wind, {state}, hogging",
            f + lateral / 3 <= use(sheet, "phi_f") * F_nc, ref="LRFD 6.10.8.1.1-1",
            location=at.place.label,
        )  # fmt: skip
