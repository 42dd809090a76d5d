"""One effect of one stage of load at one section, as a node."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from stepcalc.bridge.continuous.display_units import US, display_units
from stepcalc.bridge.continuous.line_kernels import span_inputs
from stepcalc.bridge.continuous.stage_kernels import stage_kernels
from stepcalc.bridge.continuous.stage_loads import EVERYWHERE

if TYPE_CHECKING:
    from stepcalc.bridge.continuous.display_units import DisplayUnits
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.nodes import Computed
    from stepcalc.sheet.sheet import Sheet

__all__ = ["stage_moment"]


def stage_moment(
    sheet: Sheet,
    name: str,
    spans: Sequence[Operand],
    section: tuple[int, Operand | float],
    load: Operand,
    layout: str,
    *,
    loads: str = EVERYWHERE,
    words: str = "",
    units: str | DisplayUnits = US,
    proof: bool = False,
) -> Computed:
    """Write the moment of one load at one section.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the node.
    name : str
        Of the node.
    spans : sequence of Operand, [length]
        From left to right.
    section : (int, Operand or float)
        Span, counted from 1, and fraction of it.
    load : Operand, [force / length]
        The uniform load.
    layout : str
        EI that carries it: see `continuous.layout`.
    loads : str
        Where it lies and what else stands: see `continuous.stage_loads`.
    words : str
        What the sheet says of it.
    units : {"US", "SI"}
    proof : bool
        Whether the influence line and its areas are shown.

    Returns
    -------
    Computed

    Source
    ------
    Direct stiffness method. No clause.
    """
    shown = display_units(units)
    inputs = span_inputs(spans) | {
        "layout": layout, "place": str(section[0]), "fraction": section[1], "load": load,
        "loads": loads,
    }  # fmt: skip
    form = "ordinates" if shown.name == "US" else f"ordinates, {shown.name}"
    return sheet.computed(
        name, stage_kernels(len(spans)).loads["moment"], inputs, shown.moment,
        words or f"moment in span {section[0]}", ref="statics", proof=form if proof else None,
    )  # fmt: skip
