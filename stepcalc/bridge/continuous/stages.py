"""Stages of dead load, settlement, and the stiffness that carries each, as a sheet has them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from stepcalc.bridge.continuous.girder_inputs import DEAD, NO_SETTLEMENT
from stepcalc.bridge.continuous.layout import beam_of
from stepcalc.bridge.continuous.stage_loads import EVERYWHERE, read_settlements, stage_loads
from stepcalc.errors import RangeError
from stepcalc.units import Q_, ft, kip

_ROUNDED = 1e-5

if TYPE_CHECKING:
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.sheet import Sheet

__all__ = ["DeadStage", "Settlement", "girder_inputs_of", "state_stages", "state_stiffness"]


@dataclass(frozen=True)
class DeadStage:
    """One stage of dead load.

    Attributes
    ----------
    load : Operand, [force / length]
        The uniform load.
    layout : str or None
        EI along the girder that carries it, as `continuous.layout` reads it; that of the live load
        unless given.
    loads : str
        Where the uniform load lies and what else stands, as `continuous.stage_loads` reads it.
    stiffness : str
        Name of the stiffness that the sheet states elsewhere, such as a state of
        `state_stiffness`; the sheet prints the layout unless given.
    """

    load: Operand
    layout: str | None = None
    loads: str = EVERYWHERE
    stiffness: str = ""


@dataclass(frozen=True)
class Settlement:
    """Settlements of supports, to be counted where they are worse.

    Attributes
    ----------
    text : str
        Such as ``"0.5 in at support 2"``.
    rigidity : Operand, [force * length**2]
        The EI for which the layout says 1.
    layout : str or None
        That of the live load unless given.
    stiffness : str
        As of a `DeadStage`.
    """

    text: str
    rigidity: Operand
    layout: str | None = None
    stiffness: str = ""


def state_stiffness(
    sheet: Sheet,
    spans: Sequence[Operand],
    zones: str,
    inertias: Mapping[str, Sequence[Operand]],
) -> dict[str, str]:
    r"""Write the stiffness along the girder, stage by stage, and return its layouts.

    .. math:: r = \frac{I_{state, section}}{I_{first}}

    All states are relative to the first inertia of the first state, so that their layouts may be
    mixed, as in a pour sequence, and one ``EI`` goes with all of them.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the ratios and the table.
    spans : sequence of Operand, [length]
        From left to right.
    zones : str
        Which section stands where: as the ``EI:`` of a layout, with the numbers of sections in the
        place of stiffnesses, such as ``"1 to 0.7, 2; 2 to 0.3, 1"``.
    inertias : mapping of str to sequence of Operand, [length**4]
        By state, such as ``"steel"``, ``"3n"`` and ``"n"``: the inertia of section 1, 2 and so on.

    Returns
    -------
    dict of str to str
        A layout for each state. It holds the ratios as they are now; each ratio carries a warning
        once a changed inertia no longer fits it.

    Raises
    ------
    RangeError
        If a zone names a section that has no inertia, or the zones fit no girder.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 6.10.1.1.1, 6.10.1.5: steel, 3n and n; from memory.
    """
    lengths = [float(span.value.to("ft").magnitude) for span in spans]  # type: ignore[attr-defined]
    base = next(iter(inertias.values()))[0]
    layouts: dict[str, str] = {}
    rows: list[list[Any]] = []
    for state, values in inertias.items():
        ratios, row = [], [state]
        for number, inertia in enumerate(values, 1):
            ratio, cell = "1", "1"
            if inertia is not base:
                ratio, cell = _ratio(sheet, f"r_{state}_{number}", inertia, base)
            ratios.append(ratio)
            row += [_read(inertia), cell]
        rows.append(row)
        layouts[state] = _layout(zones, ratios)
        beam_of(tuple(lengths), layouts[state])
    header = ["state"]
    for number in range(1, max(map(len, inertias.values())) + 1):
        header += [f"I, section {number}", f"ratio {number}"]
    caption = (
        "Stiffness along the girder, relative to the first; sections by fractions of each span: "
        f"{zones}"
    )
    sheet.table(header, rows, caption, instead=True)
    return layouts


def _ratio(sheet: Sheet, name: str, inertia: Operand, base: Operand) -> tuple[str, Any]:
    """Write a ratio; return the number that the layout holds, and its node."""
    ratio = inertia / base
    now = float(f"{_magnitude(inertia) / _magnitude(base):.6g}")
    # the layout is a text: a changed inertia must not pass unseen
    kept = (ratio >= now * (1 - _ROUNDED), ratio <= now * (1 + _ROUNDED))
    node = sheet.step(name, ratio, None, "relative stiffness", ref="ratio", valid=kept)
    return repr(now), node


def _magnitude(node: Any) -> float:
    return float(node.base)


def _read(node: Any) -> Any:
    """Return the value as it is shown; the node itself prints where it is written."""
    return Q_(float(node.shown.replace(",", "")), node.info.unit)


def state_stages(
    sheet: Sheet,
    stages: Mapping[str, DeadStage],
    settlement: Settlement | None,
    *,
    layout: str,
    live: str,
    stiffness: str = "",
) -> None:
    """Write the table of stages: what lies where, and the stiffness that carries it.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the table.
    stages : mapping of str to DeadStage
        DC1, DC2 and DW.
    settlement : Settlement or None
    layout : str
        Of the live load.
    live : str
        Name of the live load.
    stiffness : str
        Name of the stiffness for live load, where the sheet states it elsewhere.
    """
    rows: list[list[Any]] = [
        [name, stage.load, stage.loads, stage.stiffness or stage.layout or layout]
        for name, stage in stages.items()
    ]
    if settlement is not None:
        carried = settlement.stiffness or settlement.layout or layout
        rows.append(["SE", "", settlement.text, f"{carried}; true EI"])
    rows.append(["LL+IM", "", live, stiffness or layout])
    header = ["stage", "uniform load", "where, and what else stands", "stiffness along the girder"]
    sheet.table(header, rows, "Stages and the stiffness that carries each, relative")


def girder_inputs_of(
    spans: tuple[float, ...],
    stages: Mapping[str, DeadStage],
    settlement: Settlement | None,
    layout: str,
) -> dict[str, Any]:
    """Return the inputs of the girder's procedures that say what lies on it.

    Raises
    ------
    RangeError
        If a layout, the loads of a stage or the settlements cannot be read.
    """
    found: dict[str, Any] = {}
    for name in DEAD:
        stage = stages[name]
        found[name] = stage.load
        found[f"layout_{name}"] = stage.layout or layout
        found[f"loads_{name}"] = stage.loads
        beam_of(spans, found[f"layout_{name}"])
        stage_loads(stage.loads, spans)
    if settlement is None:
        return found | {
            "settlements": NO_SETTLEMENT, "layout_SE": layout, "rigidity": 1 * kip * ft**2
        }  # fmt: skip
    beam = beam_of(spans, settlement.layout or layout)
    read_settlements(settlement.text, len(beam.supports))
    return found | {
        "settlements": settlement.text, "layout_SE": settlement.layout or layout,
        "rigidity": settlement.rigidity,
    }  # fmt: skip


def _layout(zones: str, ratios: Sequence[str]) -> str:
    groups = []
    for group in zones.split(";"):
        steps = []
        for step in group.split(","):
            section, _, until = step.strip().partition(" to ")
            if not section.isdigit() or not 1 <= int(section) <= len(ratios):
                msg = f"the zones name section {section[:20]!r}; there are 1 to {len(ratios)}"
                raise RangeError(msg)
            value = ratios[int(section) - 1]
            steps.append(f"{value} to {until}" if until else value)
        groups.append(", ".join(steps))
    return f"EI: {'; '.join(groups)}"
