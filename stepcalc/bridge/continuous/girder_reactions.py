"""Reactions of one girder for bearings and substructure, unfactored, with the lanes used."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from stepcalc.bridge.continuous.results import GirderReaction

if TYPE_CHECKING:
    from stepcalc.bridge.continuous.effects_writer import EffectsWriter

__all__ = ["write_reactions"]


def write_reactions(writer: EffectsWriter) -> tuple[GirderReaction, ...]:
    """Write the reactions of every support and their table.

    Parameters
    ----------
    writer : EffectsWriter
        Of the girder.

    Returns
    -------
    tuple of GirderReaction
        By support.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 3.6.1.3.1 (two trucks at interior supports), 4.6.2.2.3; from
    memory. That reactions take the lanes of shear is common practice, no source.
    """
    found = [_one(writer, number) for number in range(1, len(writer.spans) + 2)]
    settled = writer.settlement is not None
    header = ["support", "DC1", "DC2", "DW", *(["SE"] * settled),
              "LL, lane", "LL+IM, lane", "LL", "LL+IM", "up, lane", "up", "g"]  # fmt: skip
    rows = []
    for number, (reaction, lanes) in enumerate(found, 1):
        rows.append(
            [
                f"{number}", reaction.DC1, reaction.DC2, reaction.DW, *([reaction.SE] * settled),
                *lanes[:2], reaction.live, reaction.live_impact, lanes[2], reaction.uplift,
                f"{writer.shares.shear.shown}",  # type: ignore[attr-defined]
            ]
        )  # fmt: skip
    caption = (
        "Reactions of one girder, unfactored, upward; lane: one lane, the rest times g, the lanes "
        "of shear; up: the smallest reaction by LL+IM, uplift"
    )
    writer.sheet.table(header, rows, caption, instead=True)
    return tuple(reaction for reaction, _ in found)


def _one(writer: EffectsWriter, number: int) -> tuple[GirderReaction, list[Any]]:
    sheet, force = writer.sheet, writer.units.force
    at = {"place": str(number), "fraction": 0.0}
    dead = [
        sheet.computed(
            f"R_{name}_{number}",
            writer.staged.loads["reaction"],
            writer.where | at | {
                "layout": writer.given[f"layout_{name}"], "loads": writer.given[f"loads_{name}"],
                "load": stage.load,
            },
            force, f"{name}, support {number}", ref="statics",
        )
        for name, stage in writer.stages.items()
    ]  # fmt: skip
    lanes, live = [], []
    for tag, impact, which, words in (
        ("LL", 0.0, "max", "live load without impact"),
        ("LLIM", writer.impact, "max", "live load with impact"),
        ("up", writer.impact, "min", "uplift by live load with impact"),
    ):
        lane = sheet.computed(
            f"R_{tag}1_{number}",
            writer.kernels.live["reaction"],
            writer.base | at | {"load": writer.options.load, "impact": impact, "which": which},
            force,
            f"one lane, {words}, support {number}",
            ref="LRFD 3.6.1.3.1",
            proof=writer.proof_name("ordinates") if writer.options.proof == "all" else None,
        )
        lanes.append(lane)
        live.append(
            sheet.step(
                f"R_{tag}_{number}", writer.shares.shear * lane, force,
                f"of the girder, {words}", ref="LRFD 4.6.2.2.3",
            )
        )  # fmt: skip
    settled = None
    if writer.settlement is not None:
        settled = sheet.computed(
            f"R_SE_{number}",
            writer.staged.settlement["reaction"],
            writer.where | at | {
                "layout": writer.given["layout_SE"], "settlements": writer.given["settlements"],
                "rigidity": writer.given["rigidity"],
            },
            force, f"settlement, support {number}", ref="statics",
        )  # fmt: skip
    return GirderReaction(dead[0], dead[1], dead[2], live[0], live[1], live[2], settled), lanes
