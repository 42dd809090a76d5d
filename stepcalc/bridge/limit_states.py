"""Load combinations: every limit state, the one that governs, and why others do not apply."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from stepcalc.bridge.constants import code_constant, use
from stepcalc.bridge.details.editions import edition_rules, state_edition
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
    "load_factors",
    "state_absent",
]

STATES = ("Strength I", "Strength II", "Strength IV", "Strength V", "Service I", "Service II")
"""Limit states of gravity loads that `combine` writes."""
_TAGS = {
    "Strength I": "1", "Strength II": "2", "Strength III": "3", "Strength IV": "4",
    "Strength V": "5",
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
    permit_min : Operand or None
        Its smallest effect.
    wind_3, wind_5, wind_1 : Operand or None
        Wind on the structure in Strength III, Strength V and Service I, not negative: it may blow
        either way.  In the 7th edition all of the basic pressure.
    wind_on_live : Operand or None
        Wind on live load, likewise, in Strength V and Service I.
    """

    DC1: Operand
    DC2: Operand
    DW: Operand
    live_max: Operand
    live_min: Operand
    permit: Operand | None = None
    permit_min: Operand | None = None
    wind_3: Operand | None = None
    wind_5: Operand | None = None
    wind_1: Operand | None = None
    wind_on_live: Operand | None = None


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
    state_edition(sheet, rules.edition)
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
    windy = () if parts.wind_3 is None else ("Strength III",)
    for state in (*states, *windy):
        found[state] = (
            _one(sheet, parts, permanent, factors, state, name, unit, largest=True),
            _one(sheet, parts, permanent, factors, state, name, unit, largest=False),
        )
    strength = [state for state in found if state.startswith("Strength")]
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
    permit = parts.permit if largest else parts.permit_min
    if state == "Strength II" and permit is not None:
        live = permit
    total: Any
    if state == "Strength III":
        total = high if largest else low
    elif state.startswith("Service"):
        total = D + parts.DW + factors.live[state] * live
    elif state == "Strength IV":
        total = factors.modifier * (factors.DC_4 * D + factors.DW_4 * parts.DW)
    else:
        total = (high if largest else low) + factors.modifier * factors.live[state] * live
    total = _with_wind(sheet, total, parts, factors, state, largest)
    sign, word = ("p", "largest") if largest else ("n", "smallest")
    return sheet.step(
        f"{name}_{_TAGS[state]}{sign}", total, unit, f"{state}, {word}", ref="LRFD Table 3.4.1-1"
    )


def _with_wind(
    sheet: Sheet, total: Any, parts: EffectParts, factors: LoadFactors, state: str, largest: bool
) -> Any:
    """Return a combination with wind on the structure and on live load, blowing the worse way."""
    rules = edition_rules(sheet, factors.edition)
    eta: Any = 1 if state.startswith("Service") else factors.modifier
    wind = {"Strength III": parts.wind_3, "Strength V": parts.wind_5, "Service I": parts.wind_1}
    blown: list[Any] = []
    if (pressure := wind.get(state)) is not None:
        factor = {"Strength III": "wind_strength_3", "Strength V": "wind_strength_5"}
        blown.append(getattr(rules, factor.get(state, "wind_service")) * pressure)
    if parts.wind_on_live is not None and state in ("Strength V", "Service I"):
        blown.append(use(sheet, "gamma_WL") * parts.wind_on_live)
    for part in blown:
        more = part if isinstance(eta, int) else eta * part
        total = total + more if largest else total - more
    return total


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


def state_absent(sheet: Sheet, *, wind: bool = False) -> None:
    """Write why limit states are absent from the combinations of a steel girder.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the table.
    wind : bool
        Whether wind is among the loads, so that its limit states are combined.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 3.4.1; from memory.
    """
    rows = [
        [state, why]
        for state, why in ABSENT
        if not (wind and state in ("Strength III", "Strength V, wind"))
    ]
    sheet.table(["limit state", "why it is not combined here"], rows, "Limit states left out")
