"""What fatigue asks of the traffic and of the fatigue truck: trucks, cycles, stress ranges."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

from stepcalc.bridge.constants import use
from stepcalc.errors import RangeError
from stepcalc.expr.functions import cases, maximum
from stepcalc.expr.tree import as_operand
from stepcalc.units import ft, kip_ft, ksi

if TYPE_CHECKING:
    from stepcalc.bridge.details.editions import EditionRules
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.sheet import Sheet

_DAYS = 365


class Member(StrEnum):
    """Kinds of members for the number of cycles."""

    SIMPLE = "simple span"
    CONTINUOUS = "continuous span"
    CANTILEVER = "cantilever"
    TRANSVERSE = "transverse member"


@dataclass(frozen=True)
class Traffic:
    """Trucks and cycles.

    Attributes
    ----------
    trucks : Operand
        ``ADTT_SL``, trucks a day in one lane.
    cycles : Operand
        ``n`` for each truck.
    total : Operand
        ``N`` in the design life.
    """

    trucks: Operand
    cycles: Operand
    total: Operand


@dataclass(frozen=True)
class StressRange:
    """Unfactored stresses of the fatigue truck at a detail: the range, and its tensile part."""

    range: Operand
    tension: Operand


def single_lane_trucks(
    sheet: Sheet, trucks: Operand, *, lanes: Operand, both_directions: bool = False
) -> Operand:
    r"""Write the trucks a day in one lane.

    .. math:: ADTT_{SL} = p \cdot ADTT

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    trucks : Operand
        Trucks a day, averaged over the design life.
    lanes : Operand
        Lanes open to trucks in that direction.
    both_directions : bool
        The count is of both directions: 55 percent go in one.

    Returns
    -------
    Operand
        The step ``ADTT_SL``; ``p`` (and ``ADTT_1``) are the others.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Table 3.6.1.4.2-1 and C3.6.1.4.2; from memory.
    """
    step = sheet.step
    if both_directions:
        trucks = step(
            "ADTT_1", use(sheet, "r_dir") * trucks, None, "trucks a day in one direction",
            ref="LRFD C3.6.1.4.2", symbol="ADTT",
        )  # fmt: skip
    p = step(
        "p",
        cases(
            (lanes <= 1, use(sheet, "p_1"), "one lane open to trucks"),
            (lanes <= 2, use(sheet, "p_2"), "two lanes open to trucks"),
            otherwise=(use(sheet, "p_3"), "three or more lanes open to trucks"),
        ),
        None,
        "share of the trucks in one lane",
        ref="LRFD 3.6.1.4.2",
    )
    return step("ADTT_SL", p * trucks, None, "trucks a day in one lane", ref="LRFD 3.6.1.4.2-1")


def cycles_per_truck(
    sheet: Sheet,
    rules: EditionRules,
    member: Member | str,
    *,
    span: Operand | None = None,
    to_support: Operand | None = None,
    spacing: Operand | None = None,
) -> Operand:
    """Write the number of stress cycles for each truck.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the step.
    rules : EditionRules
        The 7th edition counts two cycles in spans up to 40 ft.
    member : Member or str
        Kind of member.
    span : Operand, [length], optional
        The span; continuous girders, and all girders of the 7th edition.
    to_support : Operand, [length], optional
        Distance from the detail to the nearest interior support of a continuous girder.
    spacing : Operand, [length], optional
        Of transverse members.

    Returns
    -------
    Operand
        The step ``n_cyc``.

    Raises
    ------
    RangeError
        If the member is unknown, or a length that its cycles depend on is missing.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Table 6.6.1.2.5-2; 7th ed. (2014); from memory.
    """
    kind = _member(member)
    if kind is Member.CANTILEVER:
        expr: Operand = 1 * use(sheet, "n_cant")
    elif kind is Member.TRANSVERSE:
        across = _wanted(spacing, "spacing", kind)
        expr = cases(
            (across > 20 * ft, 1.0, "spacing over 20 ft"),
            otherwise=(use(sheet, "n_short"), "spacing up to 20 ft"),
        )
    else:
        expr = _girder_cycles(sheet, rules, kind, span, to_support)
    return sheet.step(
        "n_cyc", expr, None, f"cycles for each truck, {kind.value}",
        ref=rules.ref("Table 6.6.1.2.5-2"), symbol="n",
    )  # fmt: skip


def _member(member: Member | str) -> Member:
    try:
        return Member(member)
    except ValueError:
        known = ", ".join(repr(item.value) for item in Member)
        msg = f"cycles are counted for one of {known}, not for {member!r}"
        raise RangeError(msg) from None


def _wanted(value: Operand | None, name: str, kind: Member) -> Operand:
    if value is None:
        msg = f"the cycles of a {kind.value} depend on its {name}, which is not given"
        raise RangeError(msg)
    return value


def _girder_cycles(
    sheet: Sheet,
    rules: EditionRules,
    kind: Member,
    span: Operand | None,
    to_support: Operand | None,
) -> Operand:
    branches: list[tuple[object, object, str]] = []
    if rules.seventh:
        short = _wanted(span, "span", kind) <= use(sheet, "L_n7")
        branches.append((short, use(sheet, "n_short"), "span up to 40 ft"))
    if kind is Member.CONTINUOUS:
        near = _wanted(to_support, "distance to the nearest interior support", kind)
        reach = use(sheet, "r_near") * _wanted(span, "span", kind)
        branches.append((near <= reach, use(sheet, "n_near"), "near an interior support"))
    if not branches:
        always: Operand = as_operand(1.0)
        return always
    return cases(*branches, otherwise=(1.0, "elsewhere"))


def traffic(sheet: Sheet, *, trucks: Operand, cycles: Operand) -> Traffic:
    r"""Write the number of cycles in the design life.

    .. math:: N = 365 \cdot 75\, n\, ADTT_{SL}

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the step.
    trucks : Operand
        ``ADTT_SL`` from :func:`single_lane_trucks`.
    cycles : Operand
        ``n`` from :func:`cycles_per_truck`.

    Returns
    -------
    Traffic
        With the step ``N_cyc``.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Eq. 6.6.1.2.5-3; from memory.
    """
    N = sheet.step(
        "N_cyc", _DAYS * use(sheet, "T_life") * cycles * trucks, None,
        "cycles in the design life", ref="LRFD 6.6.1.2.5-3", symbol="N",
    )  # fmt: skip
    return Traffic(trucks, cycles, N)


def fatigue_range(
    sheet: Sheet,
    *,
    sagging: Operand,
    hogging: Operand,
    share: Operand,
    modulus: Operand,
    bottom: bool,
) -> StressRange:
    r"""Write the stress range of the fatigue truck at a detail.

    .. math:: \Delta M = g\,(1 + IM)(M^+ - M^-), \qquad \Delta f = \Delta M / S

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    sagging, hogging : Operand, [force * length]
        Greatest (not below 0) and least (not above 0) moment of one fatigue truck with 30 ft
        between its rear axles, without dynamic load allowance, lane load or multiple presence.
    share : Operand
        Distribution factor of one lane, multiple presence taken out.
    modulus : Operand, [length**3]
        Short-term section at the detail, I over its distance from the neutral axis.
    bottom : bool
        The detail lies below the neutral axis: sagging stretches it.

    Returns
    -------
    StressRange
        Steps ``DeltaM_f``, ``Delta_f`` and ``f_tf`` (tensile part).

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 3.6.1.4.1, 3.6.2.1, 6.6.1.2.1; from memory.
    """
    step, impact = sheet.step, 1 + use(sheet, "IM_f")
    M = step(
        "DeltaM_f", share * impact * (sagging - hogging), kip_ft,
        "moment range of the fatigue truck on the girder", ref="LRFD 3.6.1.4, 3.6.2.1",
    )  # fmt: skip
    span = step("Delta_f", M / modulus, ksi, "stress range, unfactored", ref="LRFD 6.6.1.2.1")
    pull = sagging if bottom else -1 * hogging
    tension = step(
        "f_tf", share * impact * maximum(pull, 0 * kip_ft) / modulus, ksi,
        "its tensile part", ref="LRFD 6.6.1.2.1",
    )  # fmt: skip
    return StressRange(span, tension)
