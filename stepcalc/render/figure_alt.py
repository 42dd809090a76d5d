"""Words for those who do not see a figure, made from the figure's own data."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from stepcalc.render.figure_data import (
    At,
    BridgeSection,
    Curves,
    FreeBody,
    GirderSection,
    Influence,
    Stretch,
    read_figure,
)


def figure_alt(data: Mapping[str, Any]) -> str:
    """Return a description of a figure.

    Parameters
    ----------
    data : mapping
        Figure data as :func:`stepcalc.render.figure_data.read_figure` takes them.

    Returns
    -------
    str
        One or more sentences with the labels and places of what is drawn.

    Raises
    ------
    SheetFileError
        If the data are not those of a figure.
    """
    figure = read_figure(data)
    if isinstance(figure, FreeBody):
        sentences = _free_body(figure)
    elif isinstance(figure, Curves):
        sentences = _curves(figure)
    elif isinstance(figure, Influence):
        sentences = _influence(figure)
    elif isinstance(figure, GirderSection):
        sentences = _girder_section(figure)
    else:
        sentences = _bridge_section(figure)
    return " ".join(f"{sentence}." for sentence in sentences if sentence)


def _free_body(figure: FreeBody) -> list[str]:
    unit = figure.length_unit
    supports = ", ".join(f"{x:g}" for x in figure.supports)
    return [
        f"Free body of a beam of {figure.span:g} {unit}",
        f"Supports at {supports} {unit}" if supports else "",
        _listed("Loads", figure.loads, unit),
        _stretched("Uniform loads", figure.uniform, unit),
        _listed("Reactions", figure.reactions, unit),
        _stretched("Dimensions", figure.dimensions, unit),
        _listed("Marked", figure.marks, unit),
    ]


def _listed(what: str, items: tuple[At, ...], unit: str) -> str:
    places = ", ".join(f"{item.label or 'a point'} at {item.x:g} {unit}" for item in items)
    return f"{what}: {places}" if places else ""


def _stretched(what: str, items: tuple[Stretch, ...], unit: str) -> str:
    places = ", ".join(f"{i.label} from {i.start:g} to {i.end:g} {unit}" for i in items)
    return f"{what}: {places}" if places else ""


def _curves(figure: Curves) -> list[str]:
    sentences = [f"Curves of {figure.y_label or 'values'} over {figure.x_label or 'x'}"]
    for series in figure.series:
        high, low = max(series.y), min(series.y)
        at_high = figure.x[series.y.index(high)]
        at_low = figure.x[series.y.index(low)]
        sentences.append(
            f"{series.label or 'The curve'}: largest {high:.4g} at {at_high:.4g}, "
            f"smallest {low:.4g} at {at_low:.4g}"
        )
    sentences.append(_listed("Marked", figure.marks, "").replace(" ,", ",").rstrip())
    return sentences


def _influence(figure: Influence) -> list[str]:
    peak = max(figure.y, key=abs)
    loads = ", ".join(f"{i.label} at {i.x:g}, ordinate {i.y:.4g}" for i in figure.loads)
    return [
        f"Influence line of {figure.y_label or 'the effect'} over {figure.x_label or 'x'}",
        f"Extreme ordinate {peak:.4g} at {figure.x[figure.y.index(peak)]:.4g}",
        f"Loads: {loads}" if loads else "",
    ]


def _bridge_section(figure: BridgeSection) -> list[str]:
    left, right = figure.deck
    labels = ", ".join(f"{name} {text}" for name, text in figure.labels.items())
    places = ", ".join(f"{x:g}" for x in figure.girders)
    count = len(figure.girders)
    return [
        f"Section of a bridge deck {right - left:g} ft wide on {count} "
        f"girder{'s' if count > 1 else ''} at {places} ft",
        f"{len(figure.walks)} sidewalk{'s' if len(figure.walks) > 1 else ''}, from "
        + ", ".join(f"{walk.start:.4g} to {walk.end:.4g} ft" for walk in figure.walks)
        if figure.walks
        else "",
        f"Labels: {labels}" if labels else "",
    ]


def _girder_section(figure: GirderSection) -> list[str]:
    unit = figure.length_unit
    parts = "; ".join(
        f"{block.label or 'a plate'}, {block.width:g} by {block.height:g} {unit}, "
        f"from {block.bottom:.4g} {unit} up"
        for block in (*figure.plates, *figure.slab)
    )
    blocks = "; ".join(
        f"{block.label or 'stress'} in {'tension' if block.width > 0 else 'compression'} from "
        f"{block.bottom:.4g} to {block.bottom + block.height:.4g} {unit}"
        for block in figure.stress
    )
    heights = (
        ("Reinforcement", figure.bars), ("Elastic axes", figure.elastic),
        ("Plastic axis", figure.plastic),
    )  # fmt: skip
    return [
        f"Section of a girder, heights above the bottom of the steel: {parts}",
        *(
            f"{what}: " + ", ".join(f"{i.label or 'a line'} at {i.x:.4g} {unit}" for i in items)
            for what, items in heights
            if items
        ),
        f"Plastic stress: {blocks}" if blocks else "",
        _stretched("Dimensions", figure.depths, unit),
    ]
