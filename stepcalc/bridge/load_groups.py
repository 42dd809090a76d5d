"""Combinations beside the limit states of strength: fatigue ranges, deck pour, older groups."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stepcalc.bridge.constants import use
from stepcalc.bridge.details.editions import edition_rules

if TYPE_CHECKING:
    from stepcalc.bridge.details.editions import Edition
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.sheet import Sheet
    from stepcalc.units import Unit

__all__ = ["construction_groups", "fatigue_ranges", "standard_groups"]


def fatigue_ranges(
    sheet: Sheet, *, largest: Operand, smallest: Operand, edition: Edition | str, unit: Unit
) -> tuple[Operand, Operand]:
    r"""Write the factored ranges of Fatigue I and Fatigue II.

    .. math:: \Delta Q = \gamma (Q_{max} - Q_{min})

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    largest, smallest : Operand
        Fatigue truck with its impact on the girder, multiple presence taken out.
    edition : {"7th", "8th", "9th"}
        1.50 and 0.75 in the 7th, 1.75 and 0.80 since.
    unit : Unit
        Of the effect.

    Returns
    -------
    tuple of Operand
        Fatigue I and Fatigue II.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017) and 7th ed. (2014), Table 3.4.1-1; from memory.
    """
    rules = edition_rules(sheet, edition)
    ref = rules.ref("Table 3.4.1-1")
    one = sheet.step(
        "DeltaQ_1", rules.infinite * (largest - smallest), unit, "range, Fatigue I", ref=ref
    )
    two = sheet.step(
        "DeltaQ_2", rules.finite * (largest - smallest), unit, "range, Fatigue II", ref=ref
    )
    return one, two


def construction_groups(
    sheet: Sheet, *, dead: Operand, construction: Operand, unit: Unit, name: str = "M"
) -> tuple[Operand, Operand]:
    r"""Write the combinations of the deck pour on a fully erected steel structure.

    .. math:: 1.25\,D + 1.5\,C, \qquad 1.4\,(D + C)

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    dead, construction : Operand
        Effects of what lies on the bare steel, and of construction live load.
    unit : Unit
        Of the effect.
    name : str
        ``"M"`` or ``"V"``.

    Returns
    -------
    tuple of Operand
        Strength I during construction, and dead and construction load together.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 3.4.2.1; from memory.
    """
    apart = sheet.step(
        f"{name}_c1", use(sheet, "gamma_cD") * dead + use(sheet, "gamma_cC") * construction, unit,
        "construction, Strength I", ref="LRFD 3.4.2.1",
    )  # fmt: skip
    together = sheet.step(
        f"{name}_c2", use(sheet, "gamma_c2") * (dead + construction), unit,
        "construction, dead and construction load together", ref="LRFD 3.4.2.1",
    )  # fmt: skip
    return apart, together


def standard_groups(
    sheet: Sheet, *, dead: Operand, live: Operand, unit: Unit, name: str = "M",
    light: bool = False,
) -> dict[str, Operand]:  # fmt: skip
    r"""Write the gravity groups of the Standard Specifications.

    .. math:: 1.3\,[D + \tfrac53 (L + I)], \qquad D + L + I

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    dead, live : Operand
        Unfactored; live load of the girder with impact.
    unit : Unit
        Of the effect.
    name : str
        ``"M"`` or ``"V"``.
    light : bool
        Whether the design load is lighter than H20, so that Group IA applies: one lane only.

    Returns
    -------
    dict of str to Operand
        ``"LFD I"``, ``"LFD IB"``, ``"ASD I"``, and ``"LFD IA"`` where it applies.

    Source
    ------
    AASHTO Standard Specifications, 17th ed. (2002), Art. 3.22, Table 3.22.1A; from memory.
    """
    gamma, ref = use(sheet, "gamma_LFD"), "Std Table 3.22.1A"
    found: dict[str, Operand] = {}
    rows = [("LFD I", "I", "beta_LFD"), ("LFD IB", "IB", "beta_IB")]
    if light:
        rows.insert(1, ("LFD IA", "IA", "beta_IA"))
    else:
        sheet.note("Group IA does not apply: the design load is H20 or heavier.")
    for key, tag, beta in rows:
        found[key] = sheet.step(
            f"{name}_{tag}", gamma * (dead + use(sheet, beta) * live), unit,
            f"load factor design, Group {tag}", ref=ref,
        )  # fmt: skip
    found["ASD I"] = sheet.step(
        f"{name}_ASD", dead + live, unit, "allowable stress design, Group I, 100 % of allowable",
        ref=ref,
    )  # fmt: skip
    return found
