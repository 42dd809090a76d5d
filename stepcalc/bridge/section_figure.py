"""The typical section of the bridge as a figure, from the numbers on the sheet."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from stepcalc.units import ft, inch

if TYPE_CHECKING:
    from stepcalc.bridge.givens import BridgeNodes
    from stepcalc.bridge.section import TrialShape
    from stepcalc.sheet.sheet import Sheet


def draw_cross_section(sheet: Sheet, bridge: BridgeNodes, trial: TrialShape) -> None:
    """Put the typical section on the sheet.

    A figure holds numbers, not formulas: it shows the bridge as first given, which its caption
    says, and is not drawn again by a revision.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the figure.
    bridge : BridgeNodes
        The bridge.
    trial : TrialShape
        The shape on trial.

    Source
    ------
    Geometry. No clause.
    """
    width, spacing = _number(bridge.deck_width, ft), _number(bridge.spacing, ft)
    overhang, barrier = _number(bridge.overhang, ft), _number(bridge.barrier_width, ft)
    count = round(_number(bridge.girders, ""))
    depth = _number(trial.depth, ft) + _number(bridge.haunch, ft)
    sheet.figure(
        {
            "kind": "bridge_section",
            "girders": [overhang + place * spacing for place in range(count)],
            "deck": [0.0, width],
            "thickness": _number(bridge.deck, ft),
            "barrier_width": barrier,
            "depth": depth,
            "flange": _number(trial.flange_width, ft),
            "labels": {
                "spacing": f"{round(spacing, 2):g} ft",
                "overhang": f"{round(overhang, 2):g} ft",
                "roadway": f"{round(width - 2 * barrier, 2):g} ft roadway",
                "thickness": f"{_number(bridge.deck, inch):.6g} in deck",
                "girder": bridge.data.girder_words,
            },
        },
        "Typical section, as the bridge was first given.",
    )


def _number(node: Any, unit: Any) -> float:
    return float(node.value.to(unit).magnitude)
