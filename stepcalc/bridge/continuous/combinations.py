"""Every limit state of the effects of a continuous girder, side by side, and which governs."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from stepcalc.bridge.constants import use
from stepcalc.bridge.continuous.display_units import US, display_units
from stepcalc.bridge.continuous.kernels import span_kernels
from stepcalc.bridge.details.editions import edition_rules
from stepcalc.bridge.limit_states import ABSENT
from stepcalc.errors import RangeError
from stepcalc.expr.functions import cases, maximum, minimum

if TYPE_CHECKING:
    from stepcalc.bridge.continuous.display_units import DisplayUnits
    from stepcalc.bridge.continuous.results import ContinuousEffects, SectionEffects
    from stepcalc.bridge.limit_states import LoadFactors
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.sheet import Sheet

__all__ = ["GirderState", "GoverningEffect", "girder_combinations", "uplift_combinations"]

_STRENGTH = ("Strength I", "Strength II", "Strength III", "Strength IV", "Strength V")
_LIVE = {"Strength I", "Strength II", "Strength V", "Service I", "Service II"}
_PERMANENT, _SETTLED = "permanent, strength", "settlement"
_SERVICE = ("Service I", "Service II")
_ABSENT = (
    *((state.replace("Strength III", "Strength III, wind"), why) for state, why in ABSENT),
    ("Service I, wind", "its gravity part is above, for deflection and settlement"),
)


@dataclass(frozen=True)
class GirderState:
    """One effect and what its combinations need beside live load and dead load.

    Attributes
    ----------
    section : SectionEffects
        Of `continuous_effects`.
    effect : "moment" or "shear"
    largest : bool
        Whether the largest value is sought, or the smallest.
    fatigue : Operand or None
        Lanes for the fatigue truck; no fatigue rows unless given.
    pour : (Operand, Operand) or None
        Effect of what lies on the bare steel, and of construction live load.
    permit : Operand or None
        Live load of Strength II; the design live load unless given.
    """

    section: SectionEffects
    effect: str
    largest: bool
    fatigue: Operand | None = None
    pour: tuple[Operand, Operand] | None = None
    permit: Operand | None = None


@dataclass(frozen=True)
class GoverningEffect:
    """What governs one effect.

    Attributes
    ----------
    words : str
    strength : Operand
        The governing value of the strength states.
    by_state : dict of str to Operand
        Every limit state that was written.
    cells : dict of str to Operand
        What the table shows for permanent loads and Strength I; where their lines print, the same
        values once more.
    """

    words: str
    strength: Operand
    by_state: dict[str, Operand]
    cells: dict[str, Operand]


def girder_combinations(
    sheet: Sheet,
    effects: ContinuousEffects,
    states: Sequence[GirderState],
    factors: LoadFactors,
    *,
    units: str | DisplayUnits = US,
) -> tuple[GoverningEffect, ...]:
    r"""Write every limit state of several effects as one table for each kind of effect.

    .. math:: Q_P = \max(\eta \gamma_{DC} D,\; \eta_i \gamma_{DC,min} D)
        + \max(\eta \gamma_{DW} W,\; \eta_i \gamma_{DW,min} W), \qquad
        Q_I = Q_P + \eta \gamma_{LL} L

    and with min where the smallest value is sought. Permanent loads take one factor on the whole
    girder. Strength I of the first effect of each kind prints as formulas, the other effects and
    states in the table, which shows that none of them is worse.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    effects : ContinuousEffects
        Of the same sheet.
    states : sequence of GirderState
        The effects that are combined.
    factors : LoadFactors
        Of `limit_states.load_factors`.
    units : {"US", "SI"}

    Returns
    -------
    tuple of GoverningEffect

    Raises
    ------
    RangeError
        If there are no effects, or one is neither moment nor shear.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 1.3.2, 3.4.1, 3.4.2.1, Tables 3.4.1-1 and 3.4.1-2; from
    memory.
    """
    if not states or any(state.effect not in ("moment", "shear") for state in states):
        raise RangeError("combinations need effects, each of them 'moment' or 'shear'")
    writer = _Combiner(sheet, effects, factors, display_units(units))
    found, kinds = [], set()
    for number, state in enumerate(states, 1):
        kind = state.effect, state.largest
        found.append(writer.one(number, state, lines=kind not in kinds))
        kinds.add(kind)
    for effect in ("moment", "shear"):
        chosen = [
            (each, state) for each, state in zip(found, states, strict=True)
            if state.effect == effect
        ]  # fmt: skip
        if chosen:
            writer.table(effect, chosen)
    sheet.table(
        ["limit state", "why it is not combined here"], [list(row) for row in _ABSENT],
        "Limit states left out",
    )  # fmt: skip
    return tuple(found)


@dataclass(frozen=True)
class _Combiner:
    """Writes the limit states of one girder."""

    sheet: Sheet
    effects: ContinuousEffects
    factors: LoadFactors
    units: DisplayUnits

    def one(self, number: int, state: GirderState, *, lines: bool) -> GoverningEffect:
        """Write every limit state of one effect; `lines` prints the formulas of Strength I."""
        at, unit = state.section, self.units.effect(state.effect)
        letter, f = ("M" if state.effect == "moment" else "V"), self.factors
        worse = maximum if state.largest else minimum
        live = at.live_max if state.largest else at.live_min
        D: Any = at.DC1 + at.DC2
        W: Any = at.DW
        eta, eta_i = f.modifier, f.modifier_least

        def write(tag: str, value: Any, words: str, ref: str = "LRFD Table 3.4.1-1") -> Any:
            return self.sheet.step(
                f"{letter}_{tag}_{number}", value, unit, f"{at.words}: {words}", ref=ref,
                symbol=f"{letter}_{tag}",
            )  # fmt: skip

        permanent = worse(eta * f.DC * D, eta_i * f.DC_least * D) + worse(
            eta * f.DW * W, eta_i * f.DW_least * W
        )
        settled: Any = None
        if at.SE is not None:
            settled = write("SE", worse(at.SE, 0 * unit), "settlement, where worse", "as chosen")
            permanent = permanent + eta * use(self.sheet, "gamma_SE") * settled
        P = write("P", permanent, "permanent loads, strength", "LRFD Table 3.4.1-2")
        rest = D + W if settled is None else D + W + settled
        loads = {**dict.fromkeys(_LIVE, live)}
        if state.permit is not None:
            loads["Strength II"] = state.permit
        made: dict[str, Any] = {
            name: write(tag, P + eta * f.live[name] * loads[name], name)
            for name, tag in (("Strength I", "I"), ("Strength II", "II"), ("Strength V", "V"))
        }
        made["Strength III"] = write("III", 1 * P, "Strength III")
        four = eta * (f.DC_4 * D + f.DW_4 * W)
        made["Strength IV"] = write("IV", four, "Strength IV")
        for name, tag in (("Service I", "SI"), ("Service II", "SII")):
            made[name] = write(tag, rest + f.live[name] * live, name)
        self._fatigue(number, state, made, write)
        self._pour(state, made, write)
        cells = {_PERMANENT: P, "Strength I": made["Strength I"]}
        if settled is not None:
            made[_SETTLED] = settled
        if lines:
            cells = {
                name: write(tag, 1 * node, f"{name}, as above")
                for tag, (name, node) in zip(("P2", "I2"), cells.items(), strict=True)
            }
        return GoverningEffect(at.words, self._governing(made, write, state), made, cells)

    def _governing(self, made: dict[str, Any], write: Any, state: GirderState) -> Any:
        """Write the governing value of the strength states."""
        values = [made[name] for name in _STRENGTH]
        extreme = maximum(*values) if state.largest else minimum(*values)
        branches = [
            (value >= extreme if state.largest else value <= extreme, value, f"{name} governs")
            for name, value in zip(_STRENGTH, values, strict=True)
        ]
        total = cases(*branches[:-1], otherwise=branches[-1][1:])
        return write("u", total, "strength", "LRFD 1.3.2.1-1")

    def _fatigue(self, number: int, state: GirderState, made: dict[str, Any], write: Any) -> None:
        """Write the ranges of the fatigue truck."""
        if state.fatigue is None:
            return
        at, letter = state.section, "M" if state.effect == "moment" else "V"
        count = len([name for name in self.effects.inputs if name.startswith("span_")])
        ends: list[Any] = [
            self.sheet.computed(
                f"{letter}_F{which}_{number}",
                span_kernels(count).live[state.effect],
                dict(self.effects.inputs) | {
                    "place": str(at.span), "fraction": at.fraction, "load": "fatigue",
                    "impact": use(self.sheet, "IM_f"), "which": which,
                },
                self.units.effect(state.effect),
                f"{at.words}: fatigue truck with impact, {which}", ref="LRFD 3.6.1.4",
                symbol=f"{letter}_F{which}",
            )
            for which in ("max", "min")
        ]  # fmt: skip
        rules = edition_rules(self.sheet, self.factors.edition)
        span = state.fatigue * (ends[0] - ends[1])
        made["fatigue truck, max"], made["fatigue truck, min"] = ends
        made["Fatigue I"] = write("FI", rules.infinite * span, "Fatigue I")
        made["Fatigue II"] = write("FII", rules.finite * span, "Fatigue II")

    def _pour(self, state: GirderState, made: dict[str, Any], write: Any) -> None:
        """Write the combinations of the deck pour."""
        if state.pour is None:
            return
        dead, live = state.pour
        apart = use(self.sheet, "gamma_cD") * dead + use(self.sheet, "gamma_cC") * live
        both = use(self.sheet, "gamma_c2") * (dead + live)
        made["pour, 1.25 D + 1.5 C"] = write("c1", apart, "construction", "LRFD 3.4.2.1")
        made["pour, 1.4 (D + C)"] = write("c2", both, "construction", "LRFD 3.4.2.1")

    def table(self, effect: str, chosen: Sequence[tuple[GoverningEffect, GirderState]]) -> None:
        """Write the table of one kind of effect: states down, effects across."""
        names: dict[str, None] = {}
        for each, _ in chosen:
            names |= dict.fromkeys(each.by_state)
        order = [
            *([_SETTLED] if _SETTLED in names else []),
            _PERMANENT,
            *_STRENGTH,
            "strength",
            *_SERVICE,
        ]
        order += [name for name in names if name not in order]
        rows = []
        for name in order:
            cells = [
                each.strength
                if name == "strength"
                else each.cells.get(name, each.by_state.get(name, "-"))
                for each, _ in chosen
            ]
            rows.append([name, *cells])
        header = [
            "limit state",
            *(
                each.words
                if effect == "moment"
                else f"{each.words} {'+' if state.largest else '-'}"
                for each, state in chosen
            ),
        ]
        self.sheet.table(
            header, rows, f"Every limit state, {effect} of the girder; strength: the "
            "governing value of I to V, the others are less. Fatigue: the truck in one lane, and "
            "factored ranges on the girder",
            instead=True,
        )  # fmt: skip


def uplift_combinations(
    sheet: Sheet,
    effects: ContinuousEffects,
    factors: LoadFactors,
    *,
    units: str | DisplayUnits = US,
) -> tuple[Operand, ...]:
    r"""Write the largest and the smallest factored reaction of every support, Strength I.

    .. math:: R_{min} = \eta_i (0.90\,DC + 0.65\,DW) + \eta\,1.75\,(LL + IM)_{min}

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    effects : ContinuousEffects
        Of the same sheet.
    factors : LoadFactors
    units : {"US", "SI"}

    Returns
    -------
    tuple of Operand
        The smallest of each support; below zero the girder lifts off.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 3.4.1, Table 3.4.1-2; from memory.
    """
    unit, f = display_units(units).force, factors
    rows, least = [], []
    for number, at in enumerate(effects.reactions, 1):
        D: Any = at.DC1 + at.DC2
        W: Any = at.DW
        both: list[Any] = []
        helped: list[Any] = []
        for worse, live, tag in ((maximum, at.live_impact, "p"), (minimum, at.uplift, "n")):
            total = worse(f.modifier * f.DC * D, f.modifier_least * f.DC_least * D) + worse(
                f.modifier * f.DW * W, f.modifier_least * f.DW_least * W
            )
            if at.SE is not None:
                settled = sheet.step(
                    f"R_SE{tag}_{number}", worse(at.SE, 0 * unit), unit,
                    f"settlement where worse, support {number}", ref="as chosen",
                    symbol=f"R_SE{tag}",
                )  # fmt: skip
                helped.append(settled)
                total = total + f.modifier * use(sheet, "gamma_SE") * settled
            both.append(
                sheet.step(
                    f"R_I{tag}_{number}", total + f.modifier * f.live["Strength I"] * live, unit,
                    f"Strength I, support {number}", ref="LRFD Table 3.4.1-2", symbol=f"R_I{tag}",
                )
            )  # fmt: skip
        least.append(both[1])
        rows.append([f"{number}", *helped, *both])
    settling = ["SE, largest", "SE, smallest"] if len(rows[0]) > 3 else []
    sheet.table(
        ["support", *settling, "largest", "smallest"], rows,
        "Factored reactions of the girder, Strength I; below zero would be uplift", instead=True,
    )  # fmt: skip
    return tuple(least)
