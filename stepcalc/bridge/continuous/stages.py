"""Stages of dead load, settlement, and the stiffness that carries each, as a sheet has them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from stepcalc.bridge.continuous.girder_inputs import DEAD, NO_SETTLEMENT
from stepcalc.bridge.continuous.layout import beam_of
from stepcalc.bridge.continuous.stage_loads import EVERYWHERE, read_settlements, stage_loads
from stepcalc.errors import RangeError
from stepcalc.units import ft, kip

_ROUNDED = 1e-5
_DOT, _HYPHEN = "·", "-"

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
    """

    load: Operand
    layout: str | None = None
    loads: str = EVERYWHERE


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
    """

    text: str
    rigidity: Operand
    layout: str | None = None


def state_stiffness(
    sheet: Sheet,
    spans: Sequence[Operand],
    zones: str,
    inertias: Mapping[str, Sequence[Operand]],
) -> dict[str, str]:
    r"""Write the stiffness along the girder, stage by stage, and return its layouts.

    .. math:: r = \frac{I_{section}}{I_1}

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
    layouts: dict[str, str] = {}
    rows: list[list[Any]] = []
    for state, values in inertias.items():
        ratios, row = ["1"], [state, _read(values[0])]
        for number, inertia in enumerate(values[1:], 2):
            ratio = inertia / values[0]
            now = float(f"{_magnitude(inertia) / _magnitude(values[0]):.6g}")
            ratios.append(repr(now))
            # the layout is a text: a changed inertia must not pass unseen
            kept = (ratio >= now * (1 - _ROUNDED), ratio <= now * (1 + _ROUNDED))
            node = sheet.step(
                f"r_{state}_{number}", ratio, None, f"section {number}, {state}", ref="ratio",
                valid=kept,
            )  # fmt: skip
            row += [_read(inertia), node]
        rows.append(row)
        layouts[state] = _layout(zones, ratios)
        beam_of(tuple(lengths), layouts[state])
    header = ["state", "I, section 1"]
    for number in range(2, len(ratios) + 1):
        header += [f"I, section {number}", "ratio"]
    caption = f"Stiffness along the girder, fractions of each span: section {zones}"
    sheet.table(header, rows, caption, instead=True)
    return layouts


def _magnitude(node: Any) -> float:
    return float(node.base)


def _read(node: Any) -> Any:
    """Return the value as it is shown; the node itself prints where it is written."""
    return f"{node.shown} {node.info.text.replace(_DOT, _HYPHEN)}"


def state_stages(
    sheet: Sheet,
    stages: Mapping[str, DeadStage],
    settlement: Settlement | None,
    *,
    layout: str,
    live: str,
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
    """
    rows: list[list[Any]] = [
        [name, _read(stage.load), stage.loads, stage.layout or layout]
        for name, stage in stages.items()
    ]
    if settlement is not None:
        EI = f"EI of 1 is {_read(settlement.rigidity)}"
        rows.append(["SE", "", settlement.text, f"{settlement.layout or layout}; {EI}"])
    rows.append(["LL+IM", "", live, layout])
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
