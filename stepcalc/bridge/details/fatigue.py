"""Load-induced fatigue of a detail (6.6.1.2) and of the web (6.10.5.3)."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stepcalc.expr.functions import cases, frac
from stepcalc.units import kip, ksi

if TYPE_CHECKING:
    from collections.abc import Sequence

    from stepcalc.bridge.details.editions import EditionRules
    from stepcalc.bridge.details.fatigue_categories import FatigueClass
    from stepcalc.bridge.details.fatigue_loads import StressRange, Traffic
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.nodes import Check
    from stepcalc.sheet.sheet import Sheet


@dataclass(frozen=True)
class FatigueResult:
    """Fatigue of one detail.

    Attributes
    ----------
    factor : Operand
        Load factor of the limit state that governs, ``gamma_f``.
    demand, resistance : Operand, [stress]
        ``gamma Delta f`` (0 without net tension) and ``(Delta F)_n``.
    check : Check
    """

    factor: Operand
    demand: Operand
    resistance: Operand
    check: Check


@dataclass(frozen=True)
class FatigueRow:
    """One line of the fatigue table."""

    detail: str
    location: str
    category: str
    stress: StressRange
    result: FatigueResult


def fatigue_check(
    sheet: Sheet,
    detail: FatigueClass,
    rules: EditionRules,
    *,
    stress: StressRange,
    permanent: Operand,
    traffic: Traffic,
    infinite_life: bool = False,
    name: str = "Fatigue",
    location: str | None = None,
) -> FatigueResult:
    r"""Check the stress range of a detail, for infinite or finite life.

    .. math:: \gamma\,\Delta f \le (\Delta F)_n, \qquad
        (\Delta F)_n = (\Delta F)_{TH} \text{ (Fatigue I)}, \quad
        \left(\frac{A}{N}\right)^{1/3} \text{ (Fatigue II)}

    Fatigue I from the truck count of the category on, divided by the cycles for each truck.  A
    detail whose permanent compression exceeds the Fatigue I tension is not checked.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    detail : FatigueClass
        Category.
    rules : EditionRules
        Load factors of the edition from which the category's truck count was taken.
    stress : StressRange
        From :func:`~stepcalc.bridge.details.fatigue_loads.fatigue_range`.
    permanent : Operand, [stress]
        Unfactored permanent stress at the detail, tension positive.
    traffic : Traffic
        Trucks and cycles.
    infinite_life : bool
        The owner asks for infinite life whatever the traffic.
    name : str
        Name of the check.
    location : str, optional
        Where along the girder.

    Returns
    -------
    FatigueResult
        Steps ``ADTT_lim gamma_f DeltaF_n f_fat``.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 6.6.1.2.1 to .3 and .5; from memory.
    """
    step = sheet.step
    first, second = rules.infinite, rules.finite
    finite = (detail.constant / traffic.total) ** frac(1, 3)
    if infinite_life:
        gamma = step(
            "gamma_f", 1 * first, None, "Fatigue I: the owner asks for infinite life",
            ref=rules.ref("6.6.1.2.3"), symbol="gamma",
        )  # fmt: skip
        F_n = step(
            "DeltaF_n", 1 * detail.threshold, ksi, "nominal fatigue resistance, infinite life",
            ref="LRFD 6.6.1.2.5-1",
        )  # fmt: skip
    else:
        limit = step(
            "ADTT_lim", detail.limit / traffic.cycles, None,
            "trucks a day from which Fatigue I governs", ref=rules.ref("Table 6.6.1.2.3-2"),
        )  # fmt: skip
        many = traffic.trucks >= limit
        gamma = step(
            "gamma_f",
            cases(
                (many, first, "Fatigue I: so many trucks ask for infinite life"),
                otherwise=(second, "Fatigue II: finite life, few trucks"),
            ),
            None,
            "load factor",
            ref=rules.ref("6.6.1.2.3"),
            symbol="gamma",
        )
        F_n = step(
            "DeltaF_n",
            cases((many, detail.threshold, "infinite life"), otherwise=(finite, "finite life")),
            ksi,
            "nominal fatigue resistance",
            ref="LRFD 6.6.1.2.5-1, -2",
        )
    demand = step(
        "f_fat",
        cases(
            (
                permanent + first * stress.tension < 0 * ksi,
                0 * ksi,
                "no net tension: not checked",
            ),
            otherwise=(gamma * stress.range, "net tension"),
        ),
        ksi,
        "factored stress range",
        ref="LRFD 6.6.1.2.1",
    )
    check = sheet.check(name, demand <= F_n, ref="LRFD 6.6.1.2.2-1", location=location)
    return FatigueResult(gamma, demand, F_n, check)


def fatigue_table(sheet: Sheet, rows: Sequence[FatigueRow]) -> None:
    """Write the table of fatigue by detail and location.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the table.
    rows : sequence of FatigueRow
        One for each detail and location that was checked on this sheet.
    """
    sheet.table(
        ["Detail", "Location", "Category", "Δf", "γ", "γ Δf", "(ΔF)n"],
        [
            [
                row.detail,
                row.location,
                row.category,
                row.stress.range,
                row.result.factor,
                row.result.demand,
                row.result.resistance,
            ]
            for row in rows
        ],
        "Fatigue by detail and location; γ Δf = 0 where the detail sees no net tension",
    )


def web_fatigue(
    sheet: Sheet,
    rules: EditionRules,
    *,
    permanent: Operand,
    live: Operand,
    buckling: Operand,
    location: str | None = None,
) -> Check:
    r"""Check that the web of an interior stiffened panel does not flex under fatigue traffic.

    .. math:: V_{DC} + V_{DW} + \gamma_I V_f \le V_{cr}

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    rules : EditionRules
        The factor of Fatigue I: 1.75, in the 7th edition 1.50.
    permanent : Operand, [force]
        Shear of the unfactored permanent loads.
    live : Operand, [force]
        Shear of the fatigue truck on the girder, with 15 percent, unfactored.
    buckling : Operand, [force]
        ``V_cr`` of the panel.
    location : str, optional
        Where along the girder.

    Returns
    -------
    Check
        The step ``V_uf`` against ``V_cr``.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Eq. 6.10.5.3-1; from memory.
    """
    V = sheet.step(
        "V_uf", permanent + rules.infinite * live, kip, "shear for fatigue of the web",
        ref=rules.ref("6.10.5.3"),
    )  # fmt: skip
    return sheet.check("Web fatigue", V <= buckling, ref="LRFD 6.10.5.3-1", location=location)
