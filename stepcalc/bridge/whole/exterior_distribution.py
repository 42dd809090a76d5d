"""Distribution factors of an exterior girder: equations, lever rule, rigid cross-section."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stepcalc.bridge.constants import use
from stepcalc.expr.functions import all_of, between, cases, maximum, minimum
from stepcalc.units import ft

if TYPE_CHECKING:
    from stepcalc.bridge.distribution import Distribution
    from stepcalc.bridge.givens import BridgeNodes
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.sheet import Sheet

__all__ = ["ExteriorDistribution", "exterior_distribution"]

_LOADED = (1, 2, 3, 4)


@dataclass(frozen=True)
class ExteriorDistribution:
    """Distribution factors of an exterior girder, in lanes.

    Attributes
    ----------
    moment, shear : Operand
        ``g_Me`` and ``g_Ve``: governing, multiple presence inside.
    lever_one, rigid_one : Operand
        ``R_e1`` and ``R_r1``, one lane, without multiple presence: for fatigue.
    """

    moment: Operand
    shear: Operand
    lever_one: Operand
    rigid_one: Operand


def exterior_distribution(
    sheet: Sheet, bridge: BridgeNodes, interior: Distribution
) -> ExteriorDistribution:
    r"""Write the distribution factors of an exterior girder with cross-frames, no skew.

    .. math:: g = e\,g_{int}, \quad e_M = 0.77 + \frac{d_e}{9.1}, \quad e_V = 0.6 + \frac{d_e}{10};
        \qquad R = \frac{N}{N_b} + \frac{X_{ext} \sum e}{\sum x^2}

    and the lever rule for one lane.  Multiple presence belongs to lever rule and rigid section
    only: the equations hold it.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    bridge : BridgeNodes
        The bridge.
    interior : Distribution
        The factors of an interior girder of the same section.

    Returns
    -------
    ExteriorDistribution
        All factors in lanes.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Tables 4.6.2.2.2d-1 and 4.6.2.2.3b-1, C4.6.2.2.2d-1, Art.
    3.6.1.1.2, 3.6.1.3.1; from memory.
    """
    step, N_L, N_b = sheet.step, bridge.lanes, bridge.girders
    d_e = step(
        "d_e", bridge.overhang - bridge.barrier_width, ft,
        "exterior girder to the face of the barrier", ref="LRFD 4.6.2.2.1",
    )  # fmt: skip
    g_Me2, g_Ve2 = _equations(sheet, interior, d_e)
    with sheet.part("Lever rule, exterior girder"):
        R_e1, g_e1, g_e2 = _lever(sheet, bridge, d_e)
    with sheet.part("Rigid cross-section, exterior girder"):
        R_r1, g_r = _rigid(sheet, bridge, d_e)
    few = (N_b <= 3, minimum(g_Me2, g_e2), "three girders: the lesser of equation and lever rule")
    more_M = cases(few, otherwise=(1 * g_Me2, "equation"))
    more_V = cases((N_b <= 3, g_e2, "three girders: lever rule"), otherwise=(g_Ve2, "equation"))
    factors = []
    for name, more, words, ref in (
        ("g_Me", more_M, "moment", "LRFD 4.6.2.2.2d"),
        ("g_Ve", more_V, "shear", "LRFD 4.6.2.2.3b"),
    ):
        factors.append(
            step(
                name,
                cases(
                    (N_L <= 1, maximum(g_e1, g_r), "one lane: lever rule or rigid section"),
                    (
                        all_of(g_r >= more, g_r >= g_e1),
                        g_r,
                        "the rigid cross-section governs",
                    ),
                    (g_e1 >= more, g_e1, "the lever rule governs"),
                    otherwise=(more, "two or more lanes govern"),
                ),
                None,
                f"{words} of an exterior girder, lanes",
                ref=ref,
            )
        )
    _table(sheet, (g_Me2, g_Ve2), g_e1, g_r, (factors[0], factors[1]))
    return ExteriorDistribution(factors[0], factors[1], R_e1, R_r1)


def _equations(sheet: Sheet, interior: Distribution, d_e: Operand) -> tuple[Operand, Operand]:
    step, x = sheet.step, d_e.magnitude(ft)
    inside = (between(d_e, -1 * ft, 5.5 * ft),)
    found = []
    for key, words, e, g, table in (
        ("M", "moment", 0.77 + x / 9.1, interior.moment_more, "LRFD Table 4.6.2.2.2d-1"),
        ("V", "shear", 0.6 + x / 10, interior.shear_more, "LRFD Table 4.6.2.2.3b-1"),
    ):
        factor = step(f"e_{key}", e, None, f"correction, {words}", ref=table, valid=inside)
        found.append(
            step(
                f"g_{key}e2", factor * g, None,
                f"{words}, two or more lanes loaded, equation, lanes", ref=table,
            )
        )  # fmt: skip
    return found[0], found[1]


def _lever(sheet: Sheet, bridge: BridgeNodes, d_e: Operand) -> tuple[Operand, Operand, Operand]:
    step, S, N_L = sheet.step, bridge.spacing, bridge.lanes
    reach = step(
        "x_1", S + d_e - 2 * ft, ft, "first wheel, 2 ft from the barrier, to the hinge",
        ref="LRFD 3.6.1.3.1, C4.6.2.2.1",
    )  # fmt: skip

    def reaction(first: int) -> Operand:
        wheels = [maximum(reach - away * ft, 0 * ft) for away in (first, first + 6)]
        return (wheels[0] + wheels[1]) / (2 * S)

    R_1 = step(
        "R_e1", reaction(0), None, "one lane, lever rule, without multiple presence",
        ref="LRFD C4.6.2.2.1",
    )  # fmt: skip
    g_1 = step("g_e1", use(sheet, "m_1") * R_1, None, "with multiple presence",
               ref="LRFD 3.6.1.1.2")  # fmt: skip
    second = cases(
        (N_L <= 1, g_1, "one lane only"),
        otherwise=(use(sheet, "m_2") * (R_1 + reaction(12)), "a second truck 12 ft further in"),
    )
    g_2 = step("g_e2", second, None, "two lanes, lever rule, with multiple presence",
               ref="LRFD 3.6.1.1.2")  # fmt: skip
    return R_1, g_1, g_2


def _rigid(sheet: Sheet, bridge: BridgeNodes, d_e: Operand) -> tuple[Operand, Operand]:
    step, N_b, S, N_L = sheet.step, bridge.girders, bridge.spacing, bridge.lanes
    ref = "LRFD C4.6.2.2.2d-1"
    X = step("X_ext", (N_b - 1) * S / 2, ft, "exterior girder to the middle of the deck", ref=ref)
    squares = step(
        "Sigma_x2", S**2 * N_b * (N_b**2 - 1) / 12, ft**2,
        "sum of the squares of the distances of all girders", ref=ref,
    )  # fmt: skip
    first = step(
        "e_1", X + d_e - 5 * ft, ft, "first truck, 5 ft from the barrier, to the deck's middle",
        ref=ref,
    )  # fmt: skip
    lane = cases(
        (all_of(N_L >= 2, bridge.roadway < 24 * ft), bridge.roadway / 2, "two narrow lanes"),
        otherwise=(1 * use(sheet, "b_lane"), "12 ft lanes"),
    )
    away = step("s_lane", lane, ft, "from truck to truck", ref="LRFD 3.6.1.1.1")
    one = None
    best: Operand | None = None
    for count in _LOADED:
        eccentric = count * first - (count * (count - 1) // 2) * away
        R = step(
            f"R_r{count}", count / N_b + X * eccentric / squares, None,
            f"{count} lane{'s' if count > 1 else ''} loaded, without multiple presence", ref=ref,
        )  # fmt: skip
        m = use(sheet, f"m_{count}")
        if one is None or best is None:
            one = R
            best = step("g_r1", m * R, None, "with multiple presence", ref="LRFD 3.6.1.1.2")
            continue
        best = step(
            f"g_r{count}",
            cases(
                (N_L < count, best, f"no {count} lanes on the roadway"),
                otherwise=(maximum(best, m * R), f"up to {count} lanes loaded"),
            ),
            None,
            f"greatest of up to {count} lanes, with multiple presence",
            ref="LRFD 3.6.1.1.2",
        )
    assert one is not None
    assert best is not None
    return one, best


def _table(
    sheet: Sheet, more: tuple[Operand, Operand], lever: Operand, rigid: Operand,
    governing: tuple[Operand, Operand],
) -> None:  # fmt: skip
    sheet.table(
        ["Exterior girder, lanes", "Moment", "Shear"],
        [
            ["equation, two or more lanes (multiple presence inside)", *more],
            ["lever rule, one lane, times m", lever, lever],
            ["rigid cross-section, times m", rigid, rigid],
            ["governing", *governing],
        ],
        "Distribution factors of the exterior girder",
    )
