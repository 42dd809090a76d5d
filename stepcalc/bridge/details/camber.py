"""Dead-load deflection by stage and camber at tenth points (6.7.2)."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stepcalc.bridge.constants import use
from stepcalc.errors import RangeError
from stepcalc.expr.functions import ceil, total
from stepcalc.expr.tree import as_operand
from stepcalc.units import inch

if TYPE_CHECKING:
    from collections.abc import Sequence

    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.sheet import Sheet

_REF = "LRFD 6.7.2"
_SHAPE = "elastic line of a uniform load"


@dataclass(frozen=True)
class CamberStage:
    """A uniform dead load and the section that carries it.

    Attributes
    ----------
    name : str
        Such as ``"DC1"``; part of the name of its step.
    load : Operand, [force / length]
    inertia : Operand, [length**4]
        Steel alone for DC1; long-term composite (3n) for DC2 and DW.
    """

    name: str
    load: Operand
    inertia: Operand


@dataclass(frozen=True)
class StageOrdinates:
    """Deflections of one stage along a girder, downward positive, as given or computed nodes."""

    name: str
    ordinates: tuple[Operand, ...]


@dataclass(frozen=True)
class Camber:
    """Camber along a girder.

    Attributes
    ----------
    midspan : tuple of Operand, [length]
        Midspan deflection of each stage, closed forms only.
    ordinates, rounded : tuple of Operand, [length]
        At the points of the table: exact, and rounded up.
    """

    midspan: tuple[Operand, ...]
    ordinates: tuple[Operand, ...]
    rounded: tuple[Operand, ...]


def _refuse_one_section(stages: Sequence[CamberStage], composite: bool) -> None:
    if not stages:
        raise RangeError("the camber has no stage; want at least DC1")
    if not composite:
        return
    first, *others = stages
    for other in others:
        if as_operand(other.inertia).same_as(as_operand(first.inertia)):
            msg = (
                f"the stages {first.name} and {other.name} of a composite girder have the same "
                "inertia; the first acts on the steel, the later ones on the long-term section"
            )
            raise RangeError(msg)


def simple_span_camber(
    sheet: Sheet,
    stages: Sequence[CamberStage],
    *,
    span: Operand,
    step_size: Operand,
    composite: bool,
    curve: Operand | None = None,
) -> Camber:
    r"""Write the dead-load deflection of a simple span by stage, and its camber.

    .. math:: \Delta_i = \frac{5 w_i L^4}{384 E I_i}, \qquad
        C(\xi) = \tfrac{16}{5}(\xi - 2\xi^3 + \xi^4) \sum_i \Delta_i, \quad \xi = x/L

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    stages : sequence of CamberStage
        Every stage with its own section.
    span : Operand, [length]
        Span, constant section.
    step_size : Operand, [length]
        Ordinates are rounded up to a multiple of it: 1/8 or 1/4 in.
    composite : bool
        Whether later stages act on another section than the first.
    curve : Operand, [length], optional
        Midspan ordinate of a vertical curve over the chord, crest positive (parabola).

    Returns
    -------
    Camber
        Steps ``Delta_<stage>``, ``Delta_D``, ``C_1`` to ``C_5`` and ``R_1`` to ``R_5`` (tenth
        points, symmetric), and the table of eleven ordinates.

    Raises
    ------
    RangeError
        Without a stage, or if a composite girder has all stages on one section.

    Source
    ------
    Statics; AASHTO LRFD, 8th ed. (2017), Art. 6.7.2 asks for it; from memory.
    """
    _refuse_one_section(stages, composite)
    step, E = sheet.step, use(sheet, "E")
    midspan = tuple(
        step(
            f"Delta_{stage.name}", 5 * stage.load * span**4 / (384 * E * stage.inertia), inch,
            f"midspan deflection, {stage.name}", ref="statics",
        )
        for stage in stages
    )  # fmt: skip
    whole = step("Delta_D", total(midspan), inch, "midspan deflection, all stages", ref=_REF)
    exact, rounded = [], []
    for tenth in range(1, 6):
        x = tenth / 10
        share = round(16 / 5 * (x - 2 * x**3 + x**4), 12)
        ordinate = share * whole
        if curve is not None:
            ordinate = ordinate + round(4 * x * (1 - x), 12) * curve
        where = f"at 0.{tenth} L" + ("" if tenth == 5 else f" and 0.{10 - tenth} L")
        C = step(f"C_{tenth}", ordinate, inch, f"camber {where}", ref=_SHAPE)
        exact.append(C)
        rounded.append(_rounded(sheet, f"R_{tenth}", C, step_size, where))
    mirrored = [*range(5), *reversed(range(4))]
    sheet.table(
        ["x/L", "Camber", "Rounded up"],
        [
            ["0.0", "0", "0"],
            *([f"0.{at}", exact[i], rounded[i]] for at, i in enumerate(mirrored, 1)),
            ["1.0", "0", "0"],
        ],
        "Camber ordinates at tenth points: 16/5 (ξ - 2 ξ³ + ξ⁴) times the deflection of midspan"
        + ("" if curve is None else ", and the vertical curve") + ", rounded up",
        instead=True,
    )  # fmt: skip
    return Camber(midspan, tuple(exact), tuple(rounded))


def _rounded(sheet: Sheet, name: str, ordinate: Operand, step_size: Operand, where: str) -> Operand:
    return sheet.step(
        name, step_size * ceil(ordinate / step_size), inch, f"camber {where}, rounded up",
        ref="rounded up",
    )  # fmt: skip


def camber_from_ordinates(
    sheet: Sheet,
    points: Sequence[str],
    stages: Sequence[StageOrdinates],
    *,
    step_size: Operand,
    curve: Sequence[Operand] = (),
) -> Camber:
    """Write the camber of any girder from the deflections of its stages.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    points : sequence of str
        Names of the points, such as ``"1.4"`` (span 1, 0.4 L).
    stages : sequence of StageOrdinates
        Deflections at these points, downward positive; each from its own section.
    step_size : Operand, [length]
        Ordinates are rounded up to a multiple of it.
    curve : sequence of Operand, [length], optional
        Ordinates of the vertical curve at these points.

    Returns
    -------
    Camber
        Steps ``C_i`` and ``R_i``, numbered from 1, and the table by stage.

    Raises
    ------
    RangeError
        If a stage (or the curve) has another number of ordinates than there are points.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 6.7.2; from memory.
    """
    if not stages:
        raise RangeError("the camber has no stage; want at least DC1")
    columns = [(stage.name, stage.ordinates) for stage in stages]
    if curve:
        columns.append(("curve", tuple(curve)))
    for name, ordinates in columns:
        if len(ordinates) != len(points):
            msg = f"the camber has {len(points)} points but {len(ordinates)} ordinates of {name}"
            raise RangeError(msg)
    exact, rounded = [], []
    for number, point in enumerate(points, 1):
        parts = [ordinates[number - 1] for _, ordinates in columns]
        where = f"at {point}"
        C = sheet.step(f"C_{number}", total(parts), inch, f"camber {where}", ref=_REF)
        exact.append(C)
        rounded.append(_rounded(sheet, f"R_{number}", C, step_size, where))
    sheet.table(
        ["Point", *(name for name, _ in columns), "Camber", "Rounded up"],
        [
            [point, *(ordinates[i] for _, ordinates in columns), exact[i], rounded[i]]
            for i, point in enumerate(points)
        ],
        "Camber ordinates by stage: their sum, rounded up",
        instead=True,
    )
    return Camber((), tuple(exact), tuple(rounded))
