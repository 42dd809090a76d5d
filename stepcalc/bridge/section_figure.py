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
                "roadway": f"{round(_number(bridge.roadway, ft), 2):g} ft roadway",
                "thickness": f"{_number(bridge.deck, inch):.6g} in deck",
                "girder": bridge.data.girder_words,
            },
            **_walks(bridge, width, barrier),
        },
        "Typical section, as the bridge was first given.",
    )


def _walks(bridge: BridgeNodes, width: float, barrier: float) -> dict[str, Any]:
    """Return sidewalks, rails, barriers and the roadway between them; nothing without a walk."""
    walk = bridge.sidewalk
    if walk is None:
        return {}
    edge, clear = _number(walk.edge, ft), _number(walk.width, ft)
    sides = 2 if bridge.data.sidewalks == 2 else 1
    separated = walk.rail_width is not None
    near = edge + clear if separated else 0.0
    curb = edge + clear + (barrier if separated else 0.0)
    label = f"{round(clear, 2):g} ft walk"
    spans = [(edge, edge + clear), (width - edge - clear, width - edge)][:sides]
    rails = [(0.0, edge), (width - edge, width)][:sides] if separated else []
    far, other = (width - near, width - curb) if sides == 2 else (width, width - barrier)
    return {
        "walks": [{"start": a, "end": z, "label": label} for a, z in spans],
        "rails": [{"start": a, "end": z} for a, z in rails],
        "barriers": [near, far],
        "roadway": [curb, other],
    }


def _number(node: Any, unit: Any) -> float:
    return float(node.value.to(unit).magnitude)
