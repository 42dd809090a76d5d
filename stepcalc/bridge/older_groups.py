"""Groups of loads of the Standard Specifications: all of them, the one that governs, and why."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from stepcalc.bridge.constants import use
from stepcalc.expr.functions import maximum

if TYPE_CHECKING:
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.sheet import Sheet
    from stepcalc.units import Unit

__all__ = ["GroupLoads", "allowable_stress_groups", "load_factor_groups"]


@dataclass(frozen=True)
class GroupLoads:
    """Unfactored loads of one effect on one girder.

    Attributes
    ----------
    dead, live : Operand
        All dead load; live load with impact.
    permit : Operand or None
        The overload vehicle of Group IB with impact; None for none.
    wind, wind_on_live : Operand or None
        W and WL on this girder; None where they do not load it.
    thermal : Operand or None
        Rib shortening, shrinkage and temperature; None where the girder is free to move.
    """

    dead: Operand
    live: Operand
    permit: Operand | None = None
    wind: Operand | None = None
    wind_on_live: Operand | None = None
    thermal: Operand | None = None


@dataclass(frozen=True)
class _Group:
    """One group: live load in it, share of wind, wind on live load, thermal; both designs."""

    name: str
    live: bool
    wind: float
    wind_on_live: bool
    thermal: bool
    percent: str
    gamma: str


_GROUPS = (
    _Group("II", False, 1.0, False, False, "p_II", "gamma_LFD"),
    _Group("III", True, 0.3, True, False, "p_III", "gamma_LFD"),
    _Group("IV", True, 0.0, False, True, "p_IV", "gamma_LFD"),
    _Group("V", False, 1.0, False, True, "p_V", "gamma_V"),
    _Group("VI", True, 0.3, True, True, "p_VI", "gamma_V"),
)
_ABSENT = (
    ("VII", "earthquake: not on girders in their plane"),
    ("VIII, IX", "ice: not on girders"),
)
_REF = "Std Table 3.22.1A"
_LIGHT = "does not apply: the design load is H20 or heavier"
_NO_PERMIT = "no overload vehicle is given"


def allowable_stress_groups(
    sheet: Sheet,
    loads: GroupLoads,
    *,
    name: str,
    unit: Unit,
    first: Operand,
    light: bool = False,
) -> Operand:
    r"""Write one effect in every group of allowable stress design, at 100 percent of allowable.

    .. math:: Q_I = D + (L + I), \quad Q_{IA} = \frac{D + 2 (L + I)}{1.50}, \quad
        Q_{II} = \frac{D + W}{1.25}, \quad
        Q_{III} = \frac{D + (L + I) + 0.3 W + WL}{1.25}, \ldots

    An effect over its percentage of the basic allowable stress compares with that stress itself.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps and the table.
    loads : GroupLoads
    name : str
        ``"M"`` or ``"V"``.
    unit : Unit
        Of the effect.
    first : Operand
        The step of Group I, ``D + (L + I)``, written before.
    light : bool
        Whether the design load is lighter than H20, so that Group IA applies.

    Returns
    -------
    Operand
        ``M_G`` or ``V_G``, the greatest.

    Source
    ------
    AASHTO Standard Specifications, 17th ed. (2002), Art. 3.22, Table 3.22.1A; from memory.
    """
    step = sheet.step
    found: list[Operand] = []
    rows: list[list[Any]] = []

    def write(tag: str, total: Any, key: str | None, words: str, why: str) -> None:
        percent = None if key is None else use(sheet, key)
        value = step(f"{name}_G{tag}", 1 * total if percent is None else total / percent, unit,
                     f"Group {tag}, at 100 percent of the basic allowable stress",
                     ref=_REF)  # fmt: skip
        found.append(value)
        rows.append([tag, words, "1.00" if percent is None else percent, value, why])

    D, L = loads.dead, loads.live
    found.append(first)
    rows.append(["I", "D + (L + I)", "1.00", first, "normal traffic"])
    if light:
        write("IA", D + use(sheet, "n_IA") * L, "p_IA", "D + 2 (L + I)", "design load below H20")
    else:
        rows.append(["IA", "D + 2 (L + I)", "", "", _LIGHT])
    if loads.permit is not None:
        write("IB", D + loads.permit, "p_IB", "D + (L + I) of the permit",
              "operating over basic stress, bending")  # fmt: skip
    else:
        rows.append(["IB", "D + (L + I) of the permit", "", "", _NO_PERMIT])
    for group in _GROUPS:
        total, words = _total(loads, group)
        write(group.name, total, group.percent, words, _why(loads, group))
    rows += [[tag, "", "", "", why] for tag, why in _ABSENT]
    return _greatest(
        sheet, f"{name}_G", found, rows, unit,
        ["group", "loads", "share of allowable", "at 100 percent", "why it governs or does not"],
    )  # fmt: skip


def load_factor_groups(
    sheet: Sheet,
    loads: GroupLoads,
    *,
    name: str,
    unit: Unit,
    first: Operand,
    light: bool = False,
) -> Operand:
    r"""Write one effect in every group of load factor design.

    .. math:: Q_I = 1.3\left[D + \tfrac53 (L + I)\right], \quad
        Q_{III} = 1.3\,[D + (L + I) + 0.3 W + WL], \quad Q_V = 1.25\,[D + W + T], \ldots

    Parameters
    ----------
    sheet, loads, name, unit, light
        As for `allowable_stress_groups`.
    first : Operand
        The step of Group I, factored, written before.

    Returns
    -------
    Operand
        ``M_G`` or ``V_G``, the greatest.

    Source
    ------
    AASHTO Standard Specifications, 17th ed. (2002), Art. 3.22, Table 3.22.1A; from memory.
    """
    step = sheet.step
    found: list[Operand] = []
    rows: list[list[Any]] = []

    def write(tag: str, gamma: str, total: Any, words: str, why: str) -> None:
        factor = use(sheet, gamma)
        value = step(f"{name}_G{tag}", factor * total, unit, f"Group {tag}", ref=_REF)
        found.append(value)
        rows.append([tag, words, factor, value, why])

    D, L = loads.dead, loads.live
    found.append(first)
    rows.append(["I", "D + 5/3 (L + I)", use(sheet, "gamma_LFD"), first, "normal traffic"])
    if light:
        write("IA", "gamma_LFD", D + use(sheet, "beta_IA") * L, "D + 2.2 (L + I)",
              "design load below H20")  # fmt: skip
    else:
        rows.append(["IA", "D + 2.2 (L + I)", "", "", _LIGHT])
    if loads.permit is not None:
        write("IB", "gamma_LFD", D + use(sheet, "beta_IB") * loads.permit,
              "D + (L + I) of the permit", "overload by permit")  # fmt: skip
    else:
        rows.append(["IB", "D + (L + I) of the permit", "", "", _NO_PERMIT])
    for group in _GROUPS:
        total, words = _total(loads, group)
        write(group.name, group.gamma, total, words, _why(loads, group))
    rows += [[tag, "", "", "", why] for tag, why in _ABSENT]
    return _greatest(
        sheet, f"{name}_G", found, rows, unit,
        ["group", "loads", "load factor", "factored", "why it governs or does not"],
    )  # fmt: skip


def _total(loads: GroupLoads, group: _Group) -> tuple[Any, str]:
    total: Any = loads.dead
    words = ["D"]
    if group.live:
        total, words = total + loads.live, [*words, "(L + I)"]
    if group.wind:
        words.append("W" if group.wind == 1.0 else f"{group.wind:g} W")
        if loads.wind is not None:
            total = total + (loads.wind if group.wind == 1.0 else group.wind * loads.wind)
    if group.wind_on_live:
        words.append("WL")
        if loads.wind_on_live is not None:
            total = total + loads.wind_on_live
    if group.thermal:
        words.append("T")
        if loads.thermal is not None:
            total = total + loads.thermal
    return total, " + ".join(words)


def _why(loads: GroupLoads, group: _Group) -> str:
    absent = []
    if group.wind and loads.wind is None and loads.wind_on_live is None:
        absent.append("no wind in the plane of the girder")
    if group.thermal and loads.thermal is None:
        absent.append("free to move: no T")
    return "; ".join(absent)


def _greatest(
    sheet: Sheet, name: str, found: list[Operand], rows: list[list[Any]], unit: Unit,
    header: list[str],
) -> Operand:  # fmt: skip
    worst = sheet.step(name, maximum(*found), unit, "the greatest of all groups", ref="Std 3.22")
    rows.append(["governs", "", "", worst, "the greatest of the groups above"])
    what = "Moment" if name.startswith("M") else "Shear"
    sheet.table(header, rows, f"{what} in every group of Std Table 3.22.1A")
    return worst
