"""Load combinations: every limit state, the one that governs, and why others do not apply."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from stepcalc.bridge.constants import code_constant, use
from stepcalc.bridge.details.editions import edition_rules
from stepcalc.errors import RangeError, UnknownNameError
from stepcalc.expr.functions import cases, maximum, minimum

if TYPE_CHECKING:
    from stepcalc.bridge.details.editions import Edition
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.sheet import Sheet
    from stepcalc.units import Unit

__all__ = [
    "ABSENT",
    "STATES",
    "Combined",
    "EffectParts",
    "LoadFactors",
    "combine",
    "construction_groups",
    "fatigue_ranges",
    "load_factors",
    "standard_groups",
    "state_absent",
]

STATES = ("Strength I", "Strength II", "Strength IV", "Strength V", "Service I", "Service II")
"""Limit states of gravity loads that `combine` writes."""
_TAGS = {
    "Strength I": "1", "Strength II": "2", "Strength IV": "4", "Strength V": "5",
    "Service I": "s1", "Service II": "s2",
}  # fmt: skip

ABSENT: tuple[tuple[str, str], ...] = (
    ("Strength III", "no live load; with gravity loads alone it is part of Strength I, its wind "
     "bends the bottom flange of the fascia girder sideways"),
    ("Strength V, wind", "vertical effects are shown; wind on the fascia girder is a check of its "
     "own"),
    ("Service III and IV", "for tension and columns of prestressed concrete only"),
    ("Extreme Event I and II", "earthquake, collision and ice do not bend girders in their plane"),
)  # fmt: skip
"""Limit states that do not apply to gravity effects of a steel girder, and why."""


@dataclass(frozen=True)
class LoadFactors:
    """Load factors of one edition on one sheet, the owner's in place of the code's.

    Attributes
    ----------
    edition : Edition
    DC, DC_least, DW, DW_least : Operand
        Permanent loads of strength limit states.
    DC_4, DW_4 : Operand
        Strength IV.
    live : mapping of str to Operand
        By limit state; Strength IV has none.
    modifier, modifier_least : Operand
        ``eta`` for effects that permanent loads increase, and ``eta_i`` for the others.
    """

    edition: Edition
    DC: Operand
    DC_least: Operand
    DW: Operand
    DW_least: Operand
    DC_4: Operand
    DW_4: Operand
    live: Mapping[str, Operand]
    modifier: Operand
    modifier_least: Operand


@dataclass(frozen=True)
class EffectParts:
    """Unfactored parts of one effect at one section.

    Attributes
    ----------
    DC1, DC2, DW, live_max, live_min : Operand
        As `continuous.effects.SectionEffects` has them.
    permit : Operand or None
        Live load of Strength II; the design live load unless given.
    """

    DC1: Operand
    DC2: Operand
    DW: Operand
    live_max: Operand
    live_min: Operand
    permit: Operand | None = None


@dataclass(frozen=True)
class Combined:
    """What `combine` writes for one effect.

    Attributes
    ----------
    largest, smallest : Operand
        Governing strength values.
    by_state : mapping of str to pair of Operand
        Largest and smallest of every limit state.
    """

    largest: Operand
    smallest: Operand
    by_state: Mapping[str, tuple[Operand, Operand]] = field(default_factory=dict)


def load_factors(
    sheet: Sheet,
    *,
    edition: Edition | str = "8th",
    owner: Mapping[str, float] | None = None,
) -> LoadFactors:
    r"""Write the load factors and the load modifier.

    .. math:: \eta = \max(\eta_D \eta_R \eta_I,\; 0.95), \qquad
        \eta_i = \min\left(\frac{1}{\eta_D \eta_R \eta_I},\; 1\right)

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the givens.
    edition : {"7th", "8th", "9th"}
        Gravity factors are the same; fatigue and wind factors are not.
    owner : mapping of str to float, optional
        Factors by their symbol (such as ``"gamma_LL2"`` or ``"eta_R"``) that the owner sets.

    Returns
    -------
    LoadFactors

    Raises
    ------
    UnknownNameError
        If a symbol is none of the code's.
    RangeError
        If the edition is another, or a factor of the owner's is not a number from 0 to 10.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Tables 3.4.1-1 and 3.4.1-2, Art. 1.3.2; from memory.
    """
    rules = edition_rules(sheet, edition)
    mine = dict(owner or {})
    for key, value in mine.items():
        code_constant(key)
        if not (math.isfinite(value) and 0 <= value <= 10):
            raise RangeError(f"the owner's {key} is {value}; give a number from 0 to 10")

    def factor(key: str) -> Any:
        if key not in mine:
            return use(sheet, key)
        was = code_constant(key)
        what = f"{was.description}; the code has {was.value:g}"
        return sheet.given(key, mine[key], what, source="owner")

    eta = [factor(f"eta_{part}") for part in ("D", "R", "I")]
    product = eta[0] * eta[1] * eta[2]
    modifier = sheet.step(
        "eta", maximum(product, factor("eta_min")), None,
        "load modifier where a larger load is worse", ref="LRFD 1.3.2.1-2",
    )  # fmt: skip
    least = sheet.step(
        "eta_i", minimum(1 / product, 1), None, "load modifier where a smaller load is worse",
        ref="LRFD 1.3.2.1-3",
    )  # fmt: skip
    live = {
        "Strength I": factor("gamma_LL"),
        "Strength II": factor("gamma_LL2"),
        "Strength V": factor("gamma_LL5"),
        "Service I": factor("gamma_SI"),
        "Service II": factor("gamma_SII"),
    }
    found = LoadFactors(
        rules.edition, factor("gamma_DC"), factor("gamma_DCn"), factor("gamma_DW"),
        factor("gamma_DWn"), factor("gamma_D4"), factor("gamma_W4"), live, modifier, least,
    )  # fmt: skip
    unused = [key for key in mine if not any(node.name == key for node in sheet.givens)]
    if unused:
        known = "gamma_DC, gamma_DCn, gamma_DW, gamma_DWn, gamma_LL, gamma_LL2, gamma_LL5, "
        raise UnknownNameError(f"{unused[0]!r} is no factor of a combination; known: {known}eta_D")
    return found


def combine(
    sheet: Sheet,
    parts: EffectParts,
    factors: LoadFactors,
    *,
    name: str,
    unit: Unit,
    states: Sequence[str] = STATES,
) -> Combined:
    r"""Write one effect in every limit state, and which one governs.

    .. math:: Q = \max(\eta \gamma_{DC} D,\; \eta_i \gamma_{DC,min} D)
        + \max(\eta \gamma_{DW} W,\; \eta_i \gamma_{DW,min} W) + \eta \gamma_{LL} L

    and the same with min and the smallest live load for the other sign.  Permanent loads take one
    factor on the whole girder, the least one with the load modifier of least loads.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    parts : EffectParts
        Unfactored, of the girder.
    factors : LoadFactors
        Of `load_factors`.
    name : str
        ``"M"``, ``"V"`` or ``"R"``: the steps are ``M_1p``, ``M_1n`` and so on.
    unit : Unit
        Of the effect.
    states : sequence of str
        Some of `STATES`, Strength I among them.

    Returns
    -------
    Combined

    Raises
    ------
    UnknownNameError
        If a limit state is unknown, or Strength I is not among them.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 1.3.2, 3.4.1, Table 3.4.1-1; from memory.
    """
    unknown = [state for state in states if state not in STATES]
    if unknown or "Strength I" not in states:
        wrong = repr(unknown[0]) if unknown else "a list without Strength I"
        raise UnknownNameError(f"limit states hold {wrong}; known: {', '.join(STATES)}")
    permanent = _permanent(sheet, parts, factors, name, unit)
    found: dict[str, tuple[Operand, Operand]] = {}
    for state in states:
        found[state] = (
            _one(sheet, parts, permanent, factors, state, name, unit, largest=True),
            _one(sheet, parts, permanent, factors, state, name, unit, largest=False),
        )
    strength = [state for state in states if state.startswith("Strength")]
    largest = _governing(sheet, found, strength, name, unit, largest=True)
    smallest = _governing(sheet, found, strength, name, unit, largest=False)
    rows: list[list[Any]] = [[state, *values] for state, values in found.items()]
    rows.append(["strength, governing", largest, smallest])
    sheet.table(["limit state", "largest", "smallest"], rows, "Every limit state; others are less")
    return Combined(largest, smallest, found)


def _permanent(
    sheet: Sheet, parts: EffectParts, factors: LoadFactors, name: str, unit: Unit
) -> tuple[Operand, Operand, Operand]:
    """Write the components together, and the largest and smallest factored permanent load."""
    D = sheet.step(f"{name}_D", parts.DC1 + parts.DC2, unit, "components, DC1 and DC2", ref="sum")
    W, eta, eta_i = parts.DW, factors.modifier, factors.modifier_least
    found = [
        sheet.step(
            f"{name}_P{sign}",
            worse(eta * factors.DC * D, eta_i * factors.DC_least * D)
            + worse(eta * factors.DW * W, eta_i * factors.DW_least * W),
            unit, f"permanent loads, strength, {word}", ref="LRFD 1.3.2.1-1, Table 3.4.1-2",
        )
        for worse, sign, word in ((maximum, "p", "largest"), (minimum, "n", "smallest"))
    ]  # fmt: skip
    return D, found[0], found[1]


def _one(
    sheet: Sheet,
    parts: EffectParts,
    permanent: tuple[Operand, Operand, Operand],
    factors: LoadFactors,
    state: str,
    name: str,
    unit: Unit,
    *,
    largest: bool,
) -> Operand:
    D, high, low = permanent
    live = parts.live_max if largest else parts.live_min
    if state == "Strength II" and parts.permit is not None and largest:
        live = parts.permit
    total: Any
    if state.startswith("Service"):
        total = D + parts.DW + factors.live[state] * live
    elif state == "Strength IV":
        total = factors.modifier * (factors.DC_4 * D + factors.DW_4 * parts.DW)
    else:
        total = (high if largest else low) + factors.modifier * factors.live[state] * live
    sign, word = ("p", "largest") if largest else ("n", "smallest")
    return sheet.step(
        f"{name}_{_TAGS[state]}{sign}", total, unit, f"{state}, {word}", ref="LRFD Table 3.4.1-1"
    )


def _governing(
    sheet: Sheet,
    found: Mapping[str, tuple[Operand, Operand]],
    strength: Sequence[str],
    name: str,
    unit: Unit,
    *,
    largest: bool,
) -> Operand:
    side = 0 if largest else 1
    values = [found[state][side] for state in strength]
    extreme = maximum(*values) if largest else minimum(*values)
    branches = [
        (value >= extreme if largest else value <= extreme, value, f"{state} governs")
        for state, value in zip(strength, values, strict=True)
    ]
    sign, word = ("u", "largest") if largest else ("un", "smallest")
    return sheet.step(
        f"{name}_{sign}",
        cases(*branches[:-1], otherwise=branches[-1][1:]) if len(branches) > 1 else 1 * values[0],
        unit,
        f"strength, {word}: the governing limit state",
        ref="LRFD 1.3.2.1-1",
    )


def state_absent(sheet: Sheet) -> None:
    """Write why limit states are absent from the combinations of a steel girder.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 3.4.1; from memory.
    """
    rows = [[state, why] for state, why in ABSENT]
    sheet.table(["limit state", "why it is not combined here"], rows, "Limit states left out")


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
