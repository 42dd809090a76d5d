"""Factored moments and shears of one girder: every limit state of gravity loads."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from stepcalc.bridge.constants import use
from stepcalc.expr.functions import cases, maximum
from stepcalc.units import kip, kip_ft

if TYPE_CHECKING:
    from collections.abc import Mapping

    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.sheet import Sheet
    from stepcalc.units import Unit

__all__ = ["FactoredEffects", "GirderEffects", "factored_effects", "reaction_table"]


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


def factored_effects(
    sheet: Sheet, effects: GirderEffects, owner: Mapping[str, float] | None = None
) -> FactoredEffects:
    r"""Write the governing strength moment and shear and the Service II moment.

    .. math:: M_1 = \eta [\gamma_{DC}(M_{DC1} + M_{DC2}) + \gamma_{DW} M_{DW}
        + \gamma_{LL} M_{LL}], \quad M_4 = 1.50\,\eta (D + W), \quad M_u = \max(M_1, M_4)

    Strength II and V have the dead-load factors of Strength I and a smaller live-load factor:
    they are written only where the owner's factor of Strength II is not the code's.  The table
    says why the other limit states do not govern or do not apply.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    effects : GirderEffects
        Unfactored moments and shears of the girder.
    owner : mapping of str to float, optional
        Factors that :func:`stepcalc.bridge.constants.state_owner_factors` has written; load
        modifiers among them are written out.

    Returns
    -------
    FactoredEffects
        ``M_u``, ``V_u`` and ``M_SII``; [force * length], [force].

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Table 3.4.1-1, Art. 1.3.2; from memory.
    """
    mine = dict(owner or {})
    eta = _modifier(sheet, mine)
    e = effects
    M = _strength(sheet, "M", kip_ft, (e.M_DC1, e.M_DC2, e.M_DW, e.M_LL), eta, mine)
    V = _strength(sheet, "V", kip, (e.V_DC1, e.V_DC2, e.V_DW, e.V_LL), eta, mine)
    M_SII = sheet.step(
        "M_SII",
        e.M_DC1 + e.M_DC2 + e.M_DW + use(sheet, "gamma_SII") * e.M_LL,
        kip_ft,
        "moment, Service II",
        ref="LRFD 3.4.1-1, Table 3.4.1-1",
    )
    _all_states(sheet, M, V, M_SII)
    return FactoredEffects(M["M_u"], V["V_u"], M_SII)


def _modifier(sheet: Sheet, mine: Mapping[str, float]) -> Any:
    if not any(key.startswith("eta_") for key in mine):
        return None
    product = use(sheet, "eta_D") * use(sheet, "eta_R") * use(sheet, "eta_I")
    sheet.note(
        "No strength effect of this simple span is worse with less load, so that the modifier of "
        "least loads, 1 over the product and at most 1, is not used; service states take none."
    )
    return sheet.step(
        "eta", maximum(product, use(sheet, "eta_min")), None,
        "load modifier, a larger load is worse", ref="LRFD 1.3.2.1-2",
    )  # fmt: skip


def _strength(
    sheet: Sheet,
    name: str,
    unit: Unit,
    parts: tuple[Operand, Operand, Operand, Operand],
    eta: Any,
    mine: Mapping[str, float],
) -> dict[str, Operand]:
    DC1, DC2, DW, LL = parts
    word, table = ("moment" if name == "M" else "shear"), "LRFD 3.4.1-1, Table 3.4.1-1"
    dead: Any = use(sheet, "gamma_DC") * (DC1 + DC2) + use(sheet, "gamma_DW") * DW
    wanted: list[tuple[str, str, Any]] = [
        ("1", "Strength I", dead + use(sheet, "gamma_LL") * LL),
        ("4", "Strength IV",
         use(sheet, "gamma_D4") * (DC1 + DC2) + use(sheet, "gamma_W4") * DW),
    ]  # fmt: skip
    if "gamma_LL2" in mine:
        wanted.insert(1, ("2", "Strength II", dead + use(sheet, "gamma_LL2") * LL))
    found: dict[str, Operand] = {}
    for tag, state, total in wanted:
        found[f"{name}_{tag}"] = sheet.step(
            f"{name}_{tag}", total if eta is None else eta * total, unit,
            f"factored {word}, {state}" + ("" if name == "M" else ", at the bearing"), ref=table,
        )  # fmt: skip
    values = list(found.values())
    largest = maximum(*values)
    branches = [
        (value >= largest, value, f"{state} governs")
        for value, (_, state, _) in zip(values, wanted, strict=True)
    ]
    found[f"{name}_u"] = sheet.step(
        f"{name}_u",
        cases(*branches[:-1], otherwise=branches[-1][1:]),
        unit,
        f"factored {word}, the governing limit state",
        ref="LRFD 3.4.1-1",
    )
    return found


def _all_states(
    sheet: Sheet, M: Mapping[str, Operand], V: Mapping[str, Operand], M_SII: Operand
) -> None:
    less = "below Strength I: the same dead load, a smaller live-load factor"
    rows: list[list[Any]] = [["Strength I", M["M_1"], V["V_1"], "normal traffic"]]
    if "M_2" in M:
        rows.append(["Strength II", M["M_2"], V["V_2"], "owner's live-load factor"])
    else:
        rows.append(["Strength II", "", "", less])
    rows += [
        ["Strength III", "", "", "no live load: below Strength I; its wind is a check of the "
         "fascia girder"],
        ["Strength IV", M["M_4"], V["V_4"], "governs where dead load is some seven times live "
         "load"],
        ["Strength V", "", "", less + "; its wind is a check of the fascia girder"],
        ["Extreme Event I, II", "", "", "earthquake, collision and ice do not bend girders in "
         "their plane"],
        ["Service I", "", "", "deflection, below"],
        ["Service II", M_SII, "", "yield and web buckling of steel, below"],
        ["Service III, IV", "", "", "prestressed concrete only"],
        ["Fatigue I, II", "", "", "ranges of one truck; see what was checked and what not"],
        ["Construction", "", "", "deck pour, below"],
        ["strength, governs", M["M_u"], V["V_u"], ""],
    ]  # fmt: skip
    sheet.table(
        ["limit state", "moment", "shear", "why it is or is not combined"],
        rows,
        "Every limit state of LRFD Table 3.4.1-1",
    )


def reaction_table(
    sheet: Sheet,
    effects: GirderEffects,
    *,
    without_impact: Operand,
    share: Operand,
    pedestrians: Operand | None = None,
) -> None:
    """Write the unfactored reactions of one girder at one bearing.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the table.
    effects : GirderEffects
        End shears of the girder.
    without_impact : Operand, [force]
        Live load of the girder without dynamic load allowance.
    share : Operand
        The distribution factor for shear.
    pedestrians : Operand, optional, [force]
        Pedestrian load of the girder.

    Source
    ------
    Statics: end shears of a simple span are its reactions. No clause.
    """
    header = ["DC1", "DC2", "DW", "LL, no impact", "LL + IM", "g (shear)"]
    row: list[Any] = [
        effects.V_DC1, effects.V_DC2, effects.V_DW, without_impact, effects.V_LL, share
    ]  # fmt: skip
    if pedestrians is not None:
        header[4] = "LL + IM + PL"
        header.insert(5, "PL in it where it adds")
        row.insert(5, pedestrians)
    sheet.table(
        header,
        [row],
        "Unfactored reactions of this girder at one bearing, for bearings and substructure; they "
        "are not added to those of another girder",
    )
