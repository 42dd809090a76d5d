"""Live-load distribution and weights of a continuous girder: once in full, then as a table."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from stepcalc.bridge.dead_load import dead_loads
from stepcalc.bridge.distribution import fatigue_distribution, interior_distribution
from stepcalc.bridge.whole.continuous_along import LineLoads, LineShares
from stepcalc.bridge.whole.exterior_distribution import exterior_distribution
from stepcalc.expr.functions import maximum
from stepcalc.units import Q_, ft, klf, percent
from stepcalc.units.info import read_unit

if TYPE_CHECKING:
    from stepcalc.bridge.givens import BridgeNodes
    from stepcalc.bridge.whole.continuous_line import Line
    from stepcalc.bridge.whole.continuous_sections import BareSection
    from stepcalc.bridge.whole.steel import Steel
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.sheet import Sheet

__all__ = ["line_loads", "line_shares"]


def line_loads(
    sheet: Sheet, bridge: BridgeNodes, steel: Steel, bare: tuple[BareSection, ...], *,
    exterior: bool,
) -> LineLoads:  # fmt: skip
    r"""Write the weights of one girder: in full on section 1, then what the plates change.

    .. math:: w_{DC1,k} = w_{DC1} + \gamma_s (A_k - A_1)(1 + p_m)

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    bridge, steel, bare
        Bridge, section of the spans, all sections.
    exterior : bool
        Which girder.

    Returns
    -------
    LineLoads
    """
    loads = dead_loads(sheet, bridge, steel.trial, exterior=exterior)
    width: Operand = bridge.spacing
    if exterior:
        width = bridge.spacing / 2 + bridge.overhang
    construction = sheet.step("w_C", bridge.construction_load * width, klf,
                              "construction live load", ref="tributary width")  # fmt: skip
    DC1, before = [loads.DC1], [loads.before_deck]
    share = read_unit(bridge.data.miscellaneous.units).dim is read_unit(percent).dim
    gamma = None
    for item in bare[1:]:
        if item.elastic is steel.elastic:
            DC1.append(loads.DC1)
            before.append(loads.before_deck)
            continue
        if gamma is None:
            gamma = sheet.given("gamma_s2", Q_(490, "pcf"), "unit weight of steel",
                                symbol="gamma_s",
                                source="LRFD Table 3.5.1-1 (from memory)")  # fmt: skip
        more = gamma * (item.elastic.area - steel.elastic.area)
        if share:
            more = more * (1 + bridge.miscellaneous)
        extra = sheet.step(f"w_x{item.number}", more, klf,
                           f"steel of {item.words} beyond section 1", ref="geometry")  # fmt: skip
        before.append(sheet.step(f"w_st{item.number}", loads.before_deck + extra, klf,
                                 f"steel, {item.words}", ref="sum"))  # fmt: skip
        DC1.append(sheet.step(f"w_DC1{item.number}", loads.DC1 + extra, klf,
                              f"DC1, {item.words}", ref="LRFD 3.3.2, 3.5.1"))  # fmt: skip
    return LineLoads(
        tuple(DC1), tuple(before), loads.wet_deck, loads.DC2, loads.DW, construction, loads.haunch
    )


@dataclass(frozen=True)
class _Factors:
    moment: Operand
    shear: Operand
    fatigue_moment: Operand
    fatigue_shear: Operand
    deflection: Operand


def line_shares(
    sheet: Sheet, bridge: BridgeNodes, steel: Steel, haunch: Operand, line: Line,
    spans: tuple[Operand, ...], *, exterior: bool,
) -> LineShares:  # fmt: skip
    """Write the factors of every span and pier: the first in full, the rest as a table.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the parts.
    bridge, steel, haunch
        The stiffness parameter is that of section 1.
    line, spans
        Spans of the same length share their factors.
    exterior : bool
        Which girder.

    Returns
    -------
    LineShares

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 4.6.2.2, Table 4.6.2.2.1-2; from memory.
    """
    found: dict[float, _Factors] = {}
    rows: list[list[Any]] = []

    def of(words: str, length: Operand, feet: float) -> _Factors:
        key = round(feet, 6)
        if key not in found:
            with sheet.part(words, tables_only=bool(found)):
                found[key] = _factors(
                    sheet, replace(bridge, span=length), steel, haunch, exterior=exterior
                )
        factors = found[key]
        rows.append([words, f"{feet:.6g}", factors.moment, factors.shear,
                     factors.fatigue_moment])  # fmt: skip
        return factors

    feet = [float(span.length.to("ft").magnitude) for span in line.spans]
    positive = [of(f"Span {i}", span, feet[i - 1]) for i, span in enumerate(spans, 1)]
    negative = []
    for number in range(1, len(spans)):
        average = sheet.step(
            f"L_n{number}", (spans[number - 1] + spans[number]) / 2, ft,
            f"average of the spans beside support {number + 1}", ref="LRFD Table 4.6.2.2.1-2",
        )  # fmt: skip
        both = (feet[number - 1] + feet[number]) / 2
        negative.append(of(f"Support {number + 1}", average, both))
    first = positive[0]
    sheet.table(
        ["For", "L, ft", "g moment", "g shear", "g fatigue, moment"], rows,
        "Lanes on this girder: positive moment by span, negative moment between the points of "
        "contraflexure by pier",
    )  # fmt: skip
    g_V = sheet.step("g_V", 1 * first.shear, None, "lanes for shear and reactions, all spans",
               ref="LRFD 4.6.2.2.3")  # fmt: skip
    g_fM = sheet.step("g_fM", 1 * _most([f.fatigue_moment for f in found.values()]), None,
                      "lanes for fatigue moment, the greatest", ref="LRFD 3.6.1.4.3b")  # fmt: skip
    return LineShares(
        tuple(f.moment for f in positive), tuple(f.moment for f in negative), g_V,
        g_fM, first.fatigue_shear, first.deflection,
    )  # fmt: skip


def _most(items: list[Operand]) -> Operand:
    return items[0] if len(items) == 1 else maximum(*items)


def _factors(
    sheet: Sheet, bridge: BridgeNodes, steel: Steel, haunch: Operand, *, exterior: bool
) -> _Factors:
    inside = interior_distribution(sheet, bridge, steel.trial, haunch)
    if not exterior:
        g_Mf, g_Vf = fatigue_distribution(sheet, inside)
        return _Factors(inside.moment, inside.shear, g_Mf, g_Vf, inside.deflection)
    with sheet.part("Exterior girder"):
        outside = exterior_distribution(sheet, bridge, inside)
    return _Factors(
        outside.moment, outside.shear, outside.fatigue, outside.fatigue, inside.deflection
    )
