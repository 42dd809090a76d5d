"""Factors of a load rating: condition and system of the bridge, live load by traffic."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from stepcalc.bridge.constants import use
from stepcalc.bridge.rating.options import Condition, PermitKind, System
from stepcalc.expr.functions import cases, maximum
from stepcalc.units import ft, kip

if TYPE_CHECKING:
    from stepcalc.bridge.rating.options import RatingData
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.sheet import Sheet

__all__ = ["ResistanceShares", "legal_factor", "permit_factor", "resistance_shares"]

_CONDITION = {Condition.GOOD: 1.00, Condition.FAIR: 0.95, Condition.POOR: 0.85}
_SYSTEM = {
    System.REDUNDANT: 1.00, System.FOUR_CLOSE: 0.95, System.THREE_CLOSE: 0.85,
    System.WELDED_PAIR: 0.85, System.RIVETED_PAIR: 0.90,
}  # fmt: skip


@dataclass(frozen=True)
class ResistanceShares:
    """What condition and system leave of a factored resistance: ``flexure`` and ``shear``."""

    flexure: Operand
    shear: Operand


def resistance_shares(sheet: Sheet, data: RatingData) -> ResistanceShares:
    r"""Write the condition and the system factor, and their product.

    .. math:: \phi_c \phi_s \ge 0.85

    The system factor is 1.0 for shear.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the givens and steps.
    data : RatingData
        Condition and system.

    Returns
    -------
    ResistanceShares

    Source
    ------
    AASHTO Manual for Bridge Evaluation, 3rd ed. (2018), Art. 6A.4.2.1, Tables 6A.4.2.3-1 and
    6A.4.2.4-1; from memory.
    """
    c = sheet.given(
        "phi_c", _CONDITION[data.condition], f"condition factor: {data.condition.value}",
        source=f"{data.source}; MBE Table 6A.4.2.3-1 (from memory)",
    )  # fmt: skip
    s = sheet.given(
        "phi_s", _SYSTEM[data.system], f"system factor, flexure: {data.system.value}",
        source="MBE Table 6A.4.2.4-1 (from memory)",
    )  # fmt: skip
    least = use(sheet, "phi_min")
    flexure = sheet.step("phi_cs", maximum(c * s, least), None,
                         "condition and system, flexure", ref="MBE 6A.4.2.1")  # fmt: skip
    shear = sheet.step("phi_cv", maximum(c, least), None,
                       "condition alone, shear", ref="MBE 6A.4.2.1, 6A.4.2.4")  # fmt: skip
    return ResistanceShares(flexure, shear)


def legal_factor(sheet: Sheet, trucks: Operand | None, owner: float | None = None) -> Operand:
    r"""Write the live-load factor of legal loads by the trucks a day in one direction.

    .. math:: \gamma_L = 1.30 + 0.15\,\frac{ADTT - 1000}{4000}, \quad 1.30 \le \gamma_L \le 1.45

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the step.
    trucks : Operand or None
        ``ADTT``; None where nobody counted: the greater value.
    owner : float or None
        The owner's factor in place of it.

    Returns
    -------
    Operand
        ``gamma_L``.

    Source
    ------
    AASHTO Manual for Bridge Evaluation, 3rd ed. (2018), Tables 6A.4.4.2.3a-1 and -b-1; from memory,
    doubtful: the owner may set it.
    """
    if owner is not None:
        found: Operand = sheet.given(
            "gamma_L", owner, "live-load factor, legal loads", source="owner's rule"
        )
        return found
    low, high = use(sheet, "gamma_L0"), use(sheet, "gamma_L1")
    if trucks is None:
        return sheet.step("gamma_L", high, None, "legal loads, trucks a day unknown",
                          ref="MBE 6A.4.4.2.3")  # fmt: skip
    return sheet.step(
        "gamma_L",
        cases(
            (trucks <= 1000, low, "1000 or fewer"),
            (trucks >= 5000, high, "5000 or more"),
            otherwise=(low + (high - low) * (trucks - 1000) / 4000, "between"),
        ),
        None, "live-load factor, legal loads", ref="MBE 6A.4.4.2.3",
    )  # fmt: skip


def permit_factor(
    sheet: Sheet, kind: PermitKind, trucks: Operand | None, *, weight: Operand, length: Operand
) -> Operand:
    """Write the live-load factor of a permit vehicle.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the step.
    kind : PermitKind
        Trips and traffic.
    trucks : Operand or None
        ``ADTT``; None where nobody counted.
    weight, length : Operand, [force], [length]
        Of the vehicle, from the first axle to the last.

    Returns
    -------
    Operand
        ``gamma_P``.

    Source
    ------
    AASHTO Manual for Bridge Evaluation, 3rd ed. (2018), Table 6A.4.5.4.2a-1, between whose rows the
    trucks a day interpolate; from memory, doubtful.
    """
    constant = {
        PermitKind.ESCORTED: "gamma_P1", PermitKind.SINGLE: "gamma_P2",
        PermitKind.SEVERAL: "gamma_P3",
    }  # fmt: skip
    ref, words = "MBE 6A.4.5.4.2", f"permit: {kind.value}"
    if kind in constant:
        return sheet.step("gamma_P", use(sheet, constant[kind]), None, words, ref=ref)
    words_q = "weight over axle length"
    heavy = sheet.step("q_P", weight / length, kip / ft, words_q, ref="MBE 6A.4.5")
    rows = ((1.30, 1.35, 1.40), (1.20, 1.25, 1.35), (1.15, 1.20, 1.30))
    unit = kip / ft
    branches: list[Any] = []
    for few, some, many in rows:
        value = many if trucks is None else _by_traffic(trucks, few, some, many)
        branches.append(value)
    return sheet.step(
        "gamma_P",
        cases(
            (heavy < 2 * unit, branches[0], "less than 2 kip/ft"),
            (heavy <= 3 * unit, branches[1], "2 to 3 kip/ft"),
            otherwise=(branches[2], "more than 3 kip/ft"),
        ),
        None, words, ref=ref,
    )  # fmt: skip


def _by_traffic(trucks: Operand, few: float, some: float, many: float) -> Any:
    return cases(
        (trucks <= 100, few, "100 trucks a day or fewer"),
        (trucks <= 1000, few + (some - few) * (trucks - 100) / 900, "up to 1000"),
        (trucks < 5000, some + (many - some) * (trucks - 1000) / 4000, "up to 5000"),
        otherwise=(many, "5000 or more"),
    )
