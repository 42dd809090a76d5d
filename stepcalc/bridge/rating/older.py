"""Rating by the older codes: load factor (LFR) and allowable stress (ASR), HS20 and legal loads."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from stepcalc.bridge.constants import use
from stepcalc.bridge.rating.formula import rating_factor, vehicle_on_girder
from stepcalc.bridge.rating.lrfr import EMERGENCY, LEGAL
from stepcalc.bridge.rating.posting import rated_tons
from stepcalc.expr.functions import minimum
from stepcalc.sheet.sheet import Sheet
from stepcalc.units import kip, kip_ft

if TYPE_CHECKING:
    from stepcalc.expr.tree import Operand

__all__ = ["allowable_stress_rating", "load_factor_rating"]

_REF = "MBE 6B.4.1-1"


@dataclass(frozen=True)
class _Level:
    """One rating level: capacities and factors of dead and live load, by effect."""

    name: str
    tag: str
    moment: Operand
    shear: Operand
    dead: Any
    live: Any
    service: Operand | None = None
    live_service: Any = None


def load_factor_rating(girder: Sheet) -> Sheet:
    r"""Return the load factor rating of an interior girder.

    .. math:: RF = \frac{C - 1.3 D}{A_2 (L + I)}, \quad A_2 = 2.17 \text{ inventory}, \;
        1.30 \text{ operating}

    with the serviceability of steel, :math:`(0.80 F_y S - D)/(A_2 (L + I))`, 1.67 and 1.0.

    Parameters
    ----------
    girder : Sheet
        The load factor calculation of the girder.

    Returns
    -------
    Sheet

    Source
    ------
    AASHTO Manual for Bridge Evaluation, 3rd ed. (2018), Art. 6B.4; from memory.
    """
    sheet = Sheet("Load rating, load factor")
    with sheet.part("Capacity"):
        _note(sheet)
        M = sheet.step("C_M", girder["M_n"], kip_ft, "capacity, moment", ref="Std 10.48")
        V = sheet.step("C_V", girder["V_n"], kip, "capacity, shear", ref="Std 10.48.8")
        S = sheet.step(
            "C_S", use(sheet, "c_over") * girder["F_y"] * girder["S_x"], kip_ft,
            "capacity, serviceability: 0.80 of yield", ref="Std 10.57.1, MBE 6B.5.3.1",
        )  # fmt: skip
    A_1 = use(sheet, "A_1")
    levels = (
        _Level("inventory", "i", M, V, A_1, use(sheet, "A_2i"), S, use(sheet, "A_2si")),
        _Level("operating", "o", M, V, A_1, use(sheet, "A_2o"), S, 1),
    )
    _rate(sheet, girder, levels)
    return sheet


def allowable_stress_rating(girder: Sheet) -> Sheet:
    r"""Return the allowable stress rating of an interior girder.

    .. math:: RF = \frac{C - D}{L + I}, \quad C = F_b S, \; F_b = 0.55 F_y \text{ inventory}, \;
        0.75 F_y \text{ operating}

    A compression flange that the deck does not hold keeps the share of its allowable stress that
    the calculation found: operating over inventory is 0.75 over 0.55.

    Parameters
    ----------
    girder : Sheet
        The allowable stress calculation of the girder.

    Returns
    -------
    Sheet

    Source
    ------
    AASHTO Manual for Bridge Evaluation, 3rd ed. (2018), Tables 6B.5.2.1-1 and -2; from memory.
    """
    sheet = Sheet("Load rating, allowable stress")
    S = girder["S_x"]
    levels = []
    with sheet.part("Capacity"):
        _note(sheet)
        for name, tag, bending, shear in (
            ("inventory", "i", "c_inv", "c_vinv"), ("operating", "o", "c_op", "c_vop"),
        ):  # fmt: skip
            bend: Any = girder["F_b"] * S
            cut: Any = girder["F_v"] * girder["d"] * girder["t_w"]
            if name == "operating":
                bend = use(sheet, bending) / use(sheet, "c_inv") * bend
                cut = use(sheet, shear) / use(sheet, "c_vinv") * cut
            C = sheet.step(f"C_M{tag}", bend, kip_ft, f"capacity, moment, {name}",
                           ref="MBE 6B.5.2.1")  # fmt: skip
            V = sheet.step(f"C_V{tag}", cut, kip, f"capacity, shear, {name}",
                           ref="MBE 6B.5.2.1")  # fmt: skip
            levels.append(_Level(name, tag, C, V, 1, 1))
    _rate(sheet, girder, tuple(levels))
    return sheet


def _note(sheet: Sheet) -> None:
    sheet.note(
        "Rating of the interior girder of the calculation: moment at its greatest and shear at the "
        "bearing, each by itself; where both are high at one section, the interaction of the older "
        "codes is the engineer's. Section loss and condition enter through the section."
    )


def _rate(sheet: Sheet, girder: Sheet, levels: tuple[_Level, ...]) -> None:
    D_M = girder["M_DC1"] + girder["M_DC2"] + girder["M_DW"]
    D_V = girder["V_DC1"] + girder["V_DC2"] + girder["V_DW"]
    with sheet.part("HS20"):
        rows = _one(sheet, levels, "HS20", D_M, D_V, girder["M_LL"], girder["V_LL"])
        sheet.table(_HEADER, rows, "HS20-44, truck or lane load")
        for level, row in zip(levels, rows, strict=True):
            sheet.check(f"Rating, HS20 {level.name}", 1 <= row[5], ref="MBE 6B.4")
    shares = (girder["DF"] / 2, girder["DF"] / 2)
    found: list[list[Any]] = []
    with sheet.part("Legal loads and emergency vehicles", tables_only=True):
        for name in (*LEGAL, *EMERGENCY):
            if name != "NRL":
                tag = "_" + name.removeprefix("Type ").replace("-", "")
                M, V = vehicle_on_girder(sheet, name, span=girder["L"], shares=shares,
                                         impact=girder["I"], tag=tag,
                                         end_share=girder["DF_0"] / 2)  # fmt: skip
                found += _one(sheet, levels, name, D_M, D_V, M, V, tag)
        sheet.table(_HEADER, found, "Rating factors and tons; the axle over the bearing by the "
                    "lever rule, the others by the wheel lines of the span")  # fmt: skip
        operating = [row[5] for row in found if row[1] == "operating"]
        worst = sheet.step("RF_L", minimum(*operating), None, "the least, operating",
                           ref="MBE 6B.4")  # fmt: skip
        sheet.check("Rating, legal loads, operating", 1 <= worst, ref="MBE 6B.7")


_HEADER = ["vehicle", "level", "moment", "serviceability", "shear", "controls", "tons"]


def _one(
    sheet: Sheet,
    levels: tuple[_Level, ...],
    name: str,
    D_M: Any,
    D_V: Any,
    M: Any,
    V: Any,
    mark: str = "",
) -> list[list[Any]]:
    rows: list[list[Any]] = []
    for level in levels:
        words, tag = f"{name} {level.name}", f"{level.tag}{mark}"
        RF_M = rating_factor(sheet, f"RF_M{tag}", f"{words}: moment", capacity=level.moment,
                             dead=level.dead * D_M, live=level.live * M, ref=_REF)  # fmt: skip
        RF_V = rating_factor(sheet, f"RF_V{tag}", f"{words}: shear", capacity=level.shear,
                             dead=level.dead * D_V, live=level.live * V, ref=_REF)  # fmt: skip
        found = [RF_M, RF_V]
        service: Any = "not used"
        if level.service is not None:
            service = rating_factor(
                sheet, f"RF_S{tag}", f"{words}: serviceability", capacity=level.service,
                dead=D_M, live=level.live_service * M, ref="MBE 6B.5.3.1",
            )  # fmt: skip
            found.append(service)
        RF = sheet.step(f"RF_{tag}", minimum(*found), None, f"{words}: the least", ref=_REF)
        tons = rated_tons(sheet, f"W_{tag}", RF, name)
        rows.append([name, level.name, RF_M, service, RF_V, RF, tons])
    return rows
