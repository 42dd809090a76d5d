"""Fatigue of shear connectors (6.10.10.2 and .3): resistance of a stud, pitch, extra studs."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stepcalc.bridge.constants import use
from stepcalc.expr.functions import cases, log10
from stepcalc.units import Q_, inch, kip, ksi

if TYPE_CHECKING:
    from stepcalc.bridge.details.editions import EditionRules
    from stepcalc.bridge.details.fatigue_loads import Traffic
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.sheet import Sheet

_FLOW = Q_(1, "kip/inch").units


@dataclass(frozen=True)
class StudFatigue:
    """Fatigue of one connector.

    Attributes
    ----------
    resistance : Operand, [force]
        ``Z_r``.
    factor : Operand
        Load factor of the limit state that goes with it.
    """

    resistance: Operand
    factor: Operand


def stud_fatigue(
    sheet: Sheet, rules: EditionRules, *, diameter: Operand, traffic: Traffic
) -> StudFatigue:
    r"""Write the fatigue resistance of a stud, with the load factor that belongs to it.

    .. math:: Z_r = 5.5 d^2 \text{ (Fatigue I)}, \qquad
        Z_r = \alpha d^2,\quad \alpha = 34.5 - 4.28 \log_{10} N \text{ (Fatigue II)}

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    rules : EditionRules
        Truck count from which life must be infinite: 1090, in the 7th edition 960.
    diameter : Operand, [length]
        ``d`` of the stud.
    traffic : Traffic
        Trucks and cycles.

    Returns
    -------
    StudFatigue
        Steps ``alpha Z_r gamma_sc``.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Eq. 6.10.10.2-1 to -3; from memory.
    """
    step = sheet.step
    many = traffic.trucks >= rules.stud_limit
    alpha = step(
        "alpha", (34.5 - 4.28 * log10(traffic.total)) * (1 * ksi), ksi,
        "finite-life resistance over d²", ref="LRFD 6.10.10.2-3",
    )  # fmt: skip
    Z_r = step(
        "Z_r",
        cases(
            (many, use(sheet, "c_Zr") * diameter**2, "Fatigue I, infinite life"),
            otherwise=(alpha * diameter**2, "Fatigue II, finite life"),
        ),
        kip,
        "fatigue shear resistance of one stud",
        ref=rules.ref("6.10.10.2-1, -2"),
    )
    gamma = step(
        "gamma_sc",
        cases((many, rules.infinite, "Fatigue I"), otherwise=(rules.finite, "Fatigue II")),
        None,
        "load factor that goes with it",
        ref=rules.ref("3.4.1"),
    )
    return StudFatigue(Z_r, gamma)


def channel_fatigue(
    sheet: Sheet, rules: EditionRules, *, length: Operand, traffic: Traffic
) -> StudFatigue:
    r"""Write the fatigue resistance of a channel connector.

    .. math:: Z_r = 2.1 w \text{ (Fatigue I)}, \qquad Z_r = B w, \quad
        B = 9.37 - 1.08 \log_{10} N \text{ (Fatigue II)}

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    rules : EditionRules
        The edition.
    length : Operand, [length]
        ``w`` of the channel across the flange.
    traffic : Traffic
        Trucks and cycles; infinite life from 2240 trucks a day in one lane, in the 7th
        edition 1850.

    Returns
    -------
    StudFatigue
        Steps ``B Z_r gamma_sc``.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 6.10.10.2; from memory.  Limits and constants agree with each
    other: both limit states ask for the same there.
    """
    step, flow = sheet.step, Q_(1, "kip/inch")
    many = traffic.trucks >= rules.channel_limit
    B = step(
        "B", (9.37 - 1.08 * log10(traffic.total)) * flow, _FLOW,
        "finite-life resistance over length", ref="LRFD 6.10.10.2",
    )  # fmt: skip
    Z_r = step(
        "Z_r",
        cases(
            (many, 2.1 * flow * length, "Fatigue I, infinite life"),
            otherwise=(B * length, "Fatigue II, finite life"),
        ),
        kip,
        "fatigue shear resistance of one channel",
        ref="LRFD 6.10.10.2",
    )
    gamma = step(
        "gamma_sc",
        cases((many, rules.infinite, "Fatigue I"), otherwise=(rules.finite, "Fatigue II")),
        None,
        "load factor that goes with it",
        ref=rules.ref("3.4.1"),
    )
    return StudFatigue(Z_r, gamma)


def shear_flow_range(
    sheet: Sheet,
    fatigue: StudFatigue,
    *,
    shear: Operand,
    first_moment: Operand,
    inertia: Operand,
    radial: Operand | None = None,
    name: str = "V_sr",
) -> Operand:
    r"""Write the range of horizontal fatigue shear between slab and steel.

    .. math:: V_{fat} = \frac{\gamma V_f Q}{I}, \qquad V_{sr} = \sqrt{V_{fat}^2 + F_{fat}^2}

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the step.
    fatigue : StudFatigue
        Its load factor.
    shear : Operand, [force]
        Range of fatigue-truck shear on the girder: greatest less least, with 15 percent.
    first_moment, inertia : Operand
        ``Q`` of the transformed slab and ``I`` of the short-term section.
    radial : Operand, [force / length], optional
        ``F_fat`` of cross-frames in skewed or curved bridges; none in a straight one.
    name : str
        Name of the step.

    Returns
    -------
    Operand
        The step, [force / length].

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Eq. 6.10.10.1.2-2 to -5; from memory.
    """
    flow = fatigue.factor * shear * first_moment / inertia
    if radial is not None:
        flow = (flow**2 + radial**2) ** 0.5
    return sheet.step(
        name, flow, _FLOW, "fatigue shear range along the girder", ref="LRFD 6.10.10.1.2-2, -3"
    )


def fatigue_pitch(
    sheet: Sheet, fatigue: StudFatigue, *, per_row: Operand, flow: Operand, name: str = "p_fat"
) -> Operand:
    r"""Write the pitch that fatigue allows.

    .. math:: p \le \frac{n Z_r}{V_{sr}}

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the step.
    fatigue : StudFatigue
        Resistance of one connector.
    per_row : Operand
        Connectors in one row.
    flow : Operand, [force / length]
        From :func:`shear_flow_range`.
    name : str
        Name of the step.

    Returns
    -------
    Operand
        The step, [length], not rounded.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Eq. 6.10.10.1.2-1; from memory.
    """
    return sheet.step(
        name, per_row * fatigue.resistance / flow, inch, "pitch that fatigue allows",
        ref="LRFD 6.10.10.1.2-1",
    )  # fmt: skip


def extra_connectors(
    sheet: Sheet, fatigue: StudFatigue, *, bars: Operand, stress_range: Operand
) -> Operand:
    r"""Write the connectors to add near a point of contraflexure.

    .. math:: n_{ac} = \frac{A_{rs} f_{sr}}{Z_r}

    Where the girder is not composite over the support, so that the deck bars are anchored at the
    points of dead-load contraflexure, within a third of the slab's effective width of them.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the step.
    fatigue : StudFatigue
        Resistance of one connector.
    bars : Operand, [length**2]
        Longitudinal reinforcement over the support within the effective width.
    stress_range : Operand, [stress]
        Factored fatigue range in the bars over the support.

    Returns
    -------
    Operand
        The step ``n_ac``, not rounded.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Eq. 6.10.10.3-1; from memory.
    """
    return sheet.step(
        "n_ac", bars * stress_range / fatigue.resistance, None,
        "connectors to add at the point of contraflexure", ref="LRFD 6.10.10.3-1",
    )  # fmt: skip
