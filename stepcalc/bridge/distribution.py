"""Live-load distribution to an interior girder: concrete deck on steel beams, type (a)."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Protocol

from stepcalc.bridge.constants import use
from stepcalc.bridge.fields import GirderEccentricity
from stepcalc.bridge.lever_rule import lever_rule
from stepcalc.expr.functions import all_of, between, cases, maximum, minimum, not_
from stepcalc.units import ft, inch

if TYPE_CHECKING:
    from stepcalc.bridge.givens import BridgeNodes
    from stepcalc.bridge.lever_rule import LeverRule
    from stepcalc.bridge.section import TrialShape
    from stepcalc.expr.tree import Condition, Operand
    from stepcalc.sheet.sheet import Sheet

__all__ = [
    "DeckTerms",
    "Distribution",
    "fatigue_distribution",
    "governing_moment",
    "governing_shear",
    "interior_distribution",
    "longitudinal_stiffness",
    "moment_equations",
    "shared_lanes",
    "shear_equations",
]

_STANDS_IN = "; beyond its range: lever rule"
_TAKES_OVER = "beyond the range: the greater of equations and lever rule, no verdict"


@dataclass(frozen=True)
class Distribution:
    """Distribution factors of an interior girder, in lanes.

    Attributes
    ----------
    moment, shear : Operand
        ``g_M``, ``g_V``: governing; multiple presence is inside.
    deflection : Operand
        ``g_def`` = m N_L / N_b.
    moment_one, moment_more, shear_one, shear_more : Operand
        ``g_M1``, ``g_M2``, ``g_V1``, ``g_V2``: the equations of the code.
    stiffness : Operand
        ``K_g``, [length**4].
    lever : LeverRule
        The lever rule, for what lies outside the equations.
    """

    moment: Operand
    shear: Operand
    deflection: Operand
    moment_one: Operand
    moment_more: Operand
    shear_one: Operand
    shear_more: Operand
    stiffness: Operand
    lever: LeverRule


def longitudinal_stiffness(
    sheet: Sheet, bridge: BridgeNodes, trial: TrialShape, haunch: Operand
) -> Operand:
    r"""Write the longitudinal stiffness parameter of the bare beam.

    .. math:: K_g = n (I + A e_g^2), \qquad e_g = \frac{d}{2} + t_h + \frac{t_s}{2}

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    bridge : BridgeNodes
        The bridge; its option `girder_eccentricity` may set ``e_g`` to zero.
    trial : TrialShape
        The shape on trial.
    haunch : Operand, [length]
        Bottom of slab to top of the top flange.

    Returns
    -------
    Operand
        ``K_g``, [length**4].

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Eq. 4.6.2.2.1-1; from memory.
    """
    step = sheet.step
    if bridge.data.girder_eccentricity is GirderEccentricity.ZERO:
        e_g = sheet.given(
            "e_g",
            0 * inch,
            "beam centroid to middle of deck, non-composite",
            source=bridge.data.source_of("girder_eccentricity"),
        )
    else:
        e_g = step(
            "e_g",
            trial.centroid_to_top + haunch + bridge.slab / 2,
            inch,
            "beam centroid to middle of deck",
            ref="LRFD 4.6.2.2.1",
        )
    return step(
        "K_g",
        bridge.modular_ratio * (trial.inertia + trial.area * e_g**2),
        inch**4,
        "longitudinal stiffness parameter",
        ref="LRFD 4.6.2.2.1-1",
    )


def interior_distribution(
    sheet: Sheet, bridge: BridgeNodes, trial: TrialShape, haunch: Operand
) -> Distribution:
    r"""Write the distribution factors of an interior girder, moment and shear.

    .. math::
        g_{M1} &= 0.06 + \left(\tfrac{S}{14}\right)^{0.4} \left(\tfrac{S}{L}\right)^{0.3}
            \left(\tfrac{K_g}{12 L t_s^3}\right)^{0.1} \\
        g_{M2} &= 0.075 + \left(\tfrac{S}{9.5}\right)^{0.6} \left(\tfrac{S}{L}\right)^{0.2}
            \left(\tfrac{K_g}{12 L t_s^3}\right)^{0.1} \\
        g_{V1} &= 0.36 + \tfrac{S}{25}, \qquad
        g_{V2} = 0.2 + \tfrac{S}{12} - \left(\tfrac{S}{35}\right)^{2}

    with S and L in ft, t_s in inches, K_g in inches to the fourth.  With three girders the moment
    factor is the lesser of equation and lever rule, and the shear factor is the lever rule's;
    above 16 ft of spacing the lever rule stands for both.  Each equation carries its range of
    application as ticks.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    bridge : BridgeNodes
        The bridge.
    trial : TrialShape
        The shape on trial.
    haunch : Operand, [length]
        Bottom of slab to top of the top flange.

    Returns
    -------
    Distribution
        All factors in lanes.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Tables 4.6.2.2.2b-1 and 4.6.2.2.3a-1, Art. 3.6.1.1.2 (multiple
    presence inside the equations); from memory.
    """
    K_g = longitudinal_stiffness(sheet, bridge, trial, haunch)
    g_M1, g_M2 = moment_equations(sheet, bridge, K_g)
    g_V1, g_V2 = shear_equations(sheet, bridge)
    with sheet.part("Lever rule, where the equations do not reach"):
        lever = lever_rule(
            sheet, spacing=bridge.spacing, lanes=bridge.lanes, girders=bridge.girders
        )
    g_M = governing_moment(sheet, bridge, (g_M1, g_M2), lever, K_g)
    g_V = governing_shear(sheet, bridge, (g_V1, g_V2), lever)
    shared = shared_lanes(sheet, lanes=bridge.lanes, girders=bridge.girders)
    return Distribution(g_M, g_V, shared, g_M1, g_M2, g_V1, g_V2, K_g, lever)


class DeckTerms(Protocol):
    """What the equations need of a bridge; `span` is the length L of the effect."""

    @property
    def spacing(self) -> Operand:
        """``S``."""

    @property
    def span(self) -> Operand:
        """``L``."""

    @property
    def slab(self) -> Operand:
        """``t_s``, structural thickness."""

    @property
    def girders(self) -> Operand:
        """``N_b``."""

    @property
    def lanes(self) -> Operand:
        """``N_L``."""


def moment_equations(sheet: Sheet, bridge: DeckTerms, K_g: Operand) -> tuple[Operand, Operand]:
    """Write the equations for moment: ``g_M1`` one lane, ``g_M2`` two or more lanes loaded."""
    step = sheet.step
    S, L, t_s = bridge.spacing.magnitude(ft), bridge.span.magnitude(ft), bridge.slab.magnitude(inch)
    k = step(
        "k_g",
        K_g.magnitude(inch**4) / (12 * L * t_s**3),
        None,
        "stiffness term of the equations",
        ref="LRFD Table 4.6.2.2.2b-1",
    )
    moment_range = _moment_range(bridge, K_g)
    table = "LRFD Table 4.6.2.2.2b-1"
    g_M1 = step(
        "g_M1",
        0.06 + (S / 14) ** 0.4 * (S / L) ** 0.3 * k**0.1,
        None,
        "moment, one lane loaded, lanes" + _STANDS_IN,
        ref=table,
        valid=moment_range,
    )
    g_M2 = step(
        "g_M2",
        0.075 + (S / 9.5) ** 0.6 * (S / L) ** 0.2 * k**0.1,
        None,
        "moment, two or more lanes loaded, lanes" + _STANDS_IN,
        ref=table,
        valid=moment_range,
    )
    return g_M1, g_M2


def shear_equations(sheet: Sheet, bridge: DeckTerms) -> tuple[Operand, Operand]:
    """Write the equations for shear: ``g_V1`` one lane, ``g_V2`` two or more lanes loaded."""
    step, S, valid = sheet.step, bridge.spacing.magnitude(ft), _range(bridge)
    table = "LRFD Table 4.6.2.2.3a-1"
    g_V1 = step(
        "g_V1",
        0.36 + S / 25,
        None,
        "shear, one lane loaded, lanes" + _STANDS_IN,
        ref=table,
        valid=valid,
    )
    g_V2 = step(
        "g_V2",
        0.2 + S / 12 - (S / 35) ** 2,
        None,
        "shear, two or more lanes loaded, lanes" + _STANDS_IN,
        ref=table,
        valid=valid,
    )
    return g_V1, g_V2


def governing_moment(
    sheet: Sheet,
    bridge: DeckTerms,
    equations: tuple[Operand, Operand],
    lever: LeverRule,
    stiffness: Operand,
) -> Operand:
    """Write ``g_M``: the greater equation, or the lever rule where the code puts it in its place.

    Outside the range in another way the greater of both stands, and follows from a formula outside
    its range: the code asks for refined analysis, so that no verdict can stand on it.
    """
    g_M1, g_M2 = equations
    lesser = maximum(minimum(g_M1, lever.one), minimum(g_M2, lever.more))
    return sheet.step(
        "g_M",
        cases(
            _wide(bridge, lever),
            (
                not_(all_of(*_moment_range(bridge, stiffness))),
                maximum(g_M1, g_M2, lever.governing),
                _TAKES_OVER,
            ),
            (bridge.lanes <= 1, g_M1, "one lane"),
            (bridge.girders <= 3, lesser, "three girders: the lesser of equation and lever rule"),
            otherwise=(maximum(g_M1, g_M2), "the greater of both equations"),
        ),
        None,
        "moment of an interior girder, lanes",
        ref="LRFD 4.6.2.2.2b",
    )


def governing_shear(
    sheet: Sheet, bridge: DeckTerms, equations: tuple[Operand, Operand], lever: LeverRule
) -> Operand:
    """Write ``g_V``, as `governing_moment` writes ``g_M``."""
    g_V1, g_V2 = equations
    return sheet.step(
        "g_V",
        cases(
            _wide(bridge, lever),
            (not_(all_of(*_range(bridge))), maximum(g_V1, g_V2, lever.governing), _TAKES_OVER),
            (bridge.girders <= 3, lever.governing, "three girders: lever rule"),
            (bridge.lanes <= 1, g_V1, "one lane"),
            otherwise=(maximum(g_V1, g_V2), "the greater of both equations"),
        ),
        None,
        "shear of an interior girder, lanes",
        ref="LRFD 4.6.2.2.3a",
    )


def _wide(bridge: DeckTerms, lever: LeverRule) -> tuple[Condition, Operand, str]:
    return (bridge.spacing > 16 * ft, lever.governing, "lever rule, S above 16 ft")


def fatigue_distribution(sheet: Sheet, factors: Distribution) -> tuple[Operand, Operand]:
    r"""Write the distribution factors for fatigue: one lane, multiple presence taken out.

    .. math:: g_{Mf} = g_{M1}/1.20, \qquad g_{Vf} = g_{V1}/1.20

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    factors : Distribution
        The factors of the girder.

    Returns
    -------
    tuple of Operand
        ``g_Mf`` and ``g_Vf``, in lanes.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 3.6.1.1.2, 3.6.1.4.3b; from memory.
    """
    step, m_1, ref = sheet.step, use(sheet, "m_1"), "LRFD 3.6.1.1.2"
    what = "one lane, multiple presence taken out"
    g_Mf = step("g_Mf", factors.moment_one / m_1, None, f"fatigue, moment: {what}", ref=ref)
    g_Vf = step("g_Vf", factors.shear_one / m_1, None, f"fatigue, shear: {what}", ref=ref)
    return g_Mf, g_Vf


def shared_lanes(sheet: Sheet, *, lanes: Operand, girders: Operand) -> Operand:
    r"""Write the lanes carried by one girder when all share equally, for the deflection.

    .. math:: g_{def} = m\,N_L/N_b

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    lanes, girders : Operand
        Number of design lanes and of girders.

    Returns
    -------
    Operand
        ``g_def``, in lanes.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 2.5.2.6.2, 3.6.1.1.2; from memory.
    """
    m = sheet.step(
        "m",
        cases(
            (lanes <= 1, use(sheet, "m_1"), "one lane"),
            (lanes <= 2, use(sheet, "m_2"), "two lanes"),
            (lanes <= 3, use(sheet, "m_3"), "three lanes"),
            otherwise=(use(sheet, "m_4"), "four or more lanes"),
        ),
        None,
        "multiple presence, all lanes loaded",
        ref="LRFD 3.6.1.1.2",
    )
    return sheet.step(
        "g_def",
        m * lanes / girders,
        None,
        "lanes on one girder, all deflect alike",
        ref="LRFD 2.5.2.6.2",
    )


def _moment_range(bridge: DeckTerms, K_g: Operand) -> tuple[Condition, ...]:
    return (*_range(bridge), between(K_g, 10_000 * inch**4, 7_000_000 * inch**4))


def _range(bridge: DeckTerms) -> tuple[Condition, ...]:
    return (
        between(bridge.spacing, 3.5 * ft, 16 * ft),
        between(bridge.slab, 4.5 * inch, 12 * inch),
        between(bridge.span, 20 * ft, 240 * ft),
        bridge.girders >= 3,
    )
