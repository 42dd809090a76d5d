"""The typical section of a girder bridge, to one scale in both directions."""

from __future__ import annotations

import itertools
from typing import TYPE_CHECKING, Any

from matplotlib.patches import Polygon, Rectangle

from stepcalc.render import figure_canvas as canvas

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

    from stepcalc.render.figure_data import BridgeSection

_ASIDE = 0.35
_BARRIER_HEIGHT = 2.8  # feet: only a likeness; the data do not state a height
_WALK_HEIGHT = 0.5  # feet: a likeness too
_FLANGE = 0.10  # feet: flange and web are drawn thick enough to be seen
_WEB = 0.07
_PLACED = ("spacing", "overhang", "roadway", "width", "thickness", "girder")


def draw_section(section: BridgeSection) -> Figure:
    """Return the figure of a bridge section."""
    left, right = section.deck
    inches = (canvas.WIDTH - 2 * _ASIDE) / (right - left)  # per foot
    barrier = _BARRIER_HEIGHT * inches if section.barrier_width else 0.0
    above = barrier + (0.6 if "width" in section.labels else 0.3)
    below = (section.thickness + section.depth) * inches
    others = [f"{k}: {v}" for k, v in section.labels.items() if k not in _PLACED]
    height = above + below + 0.5 + 0.16 * len(others)
    figure, axes = canvas.bare_axes(height, left, right, aside=_ASIDE)
    top = height - above
    _draw_deck(axes, section, top, inches)
    bottom = top - section.thickness * inches
    for x in section.girders:
        _draw_girder(axes, section, x, bottom, inches)
    _label(axes, section, top, bottom - section.depth * inches, inches)
    for row, text in enumerate(others):
        canvas.write(axes, left, 0.1 + 0.16 * (len(others) - 1 - row), text, ha="left")
    return figure


def _draw_deck(axes: Axes, section: BridgeSection, top: float, inches: float) -> None:
    left, right = section.deck
    tall = section.thickness * inches
    axes.add_patch(
        Rectangle((left, top - tall), right - left, tall, facecolor=canvas.LIGHT,
                  edgecolor=canvas.INK, lw=0.9)
    )  # fmt: skip
    for walk in section.walks:
        axes.add_patch(
            Rectangle((walk.start, top), walk.end - walk.start, _WALK_HEIGHT * inches,
                      facecolor="white", edgecolor=canvas.INK, lw=0.9)
        )  # fmt: skip
        canvas.write(axes, (walk.start + walk.end) / 2, top + _WALK_HEIGHT * inches + 0.02,
                     walk.label, va="bottom")  # fmt: skip
    for rail in section.rails:
        axes.add_patch(
            Rectangle((rail.start, top), rail.end - rail.start, _BARRIER_HEIGHT * inches,
                      facecolor="white", edgecolor=canvas.INK, lw=0.9)
        )  # fmt: skip
    if not section.barrier_width:
        return
    high, wide = _BARRIER_HEIGHT * inches, section.barrier_width
    outer = section.barriers if len(section.barriers) == 2 else (left, right)
    for edge, inward in ((outer[0], 1.0), (outer[1], -1.0)):
        corners = [
            (edge, top), (edge, top + high), (edge + inward * 0.5 * wide, top + high),
            (edge + inward * 0.65 * wide, top + 0.35 * high), (edge + inward * wide, top),
        ]  # fmt: skip
        axes.add_patch(Polygon(corners, facecolor=canvas.LIGHT, edgecolor=canvas.INK, lw=0.9))


def _draw_girder(axes: Axes, section: BridgeSection, x: float, top: float, inches: float) -> None:
    flange, web = _FLANGE * inches, _WEB
    depth = section.depth * inches
    look: dict[str, Any] = {"facecolor": canvas.INK, "edgecolor": "none"}
    half = section.flange / 2
    axes.add_patch(Rectangle((x - half, top - flange), section.flange, flange, **look))
    axes.add_patch(Rectangle((x - half, top - depth), section.flange, flange, **look))
    axes.add_patch(Rectangle((x - web / 2, top - depth), web, depth, **look))
    axes.plot([x, x], [top - depth - 0.08, top - depth - 0.42], color=canvas.GREY, lw=0.4)


def _label(axes: Axes, section: BridgeSection, top: float, foot: float, inches: float) -> None:
    left, right = section.deck
    labels, girders = section.labels, sorted(section.girders)
    across = top + (_BARRIER_HEIGHT * inches if section.barrier_width else 0.0)
    if "roadway" in labels:
        faces = section.roadway
        if len(faces) != 2:
            faces = (left + section.barrier_width, right - section.barrier_width)
        canvas.dimension(axes, *faces, top + 0.14, labels["roadway"])
    if "width" in labels:
        canvas.dimension(axes, left, right, across + 0.34, labels["width"])
        for x in (left, right):
            axes.plot([x, x], [across + 0.05, across + 0.4], color=canvas.GREY, lw=0.4)
    if "spacing" in labels:
        for a, z in itertools.pairwise(girders):
            canvas.dimension(axes, a, z, foot - 0.36, labels["spacing"])
    if "overhang" in labels and girders[0] > left:
        canvas.dimension(axes, left, girders[0], foot - 0.36, labels["overhang"])
        axes.plot([left, left], [top - 0.15, foot - 0.42], color=canvas.GREY, lw=0.4)
    middle = (girders[0] + girders[1]) / 2 if len(girders) > 1 else girders[0] + section.flange
    if "thickness" in labels:
        canvas.write(axes, middle, top - section.thickness * inches - 0.09, labels["thickness"])
    if "girder" in labels:
        centre = foot + section.depth * inches / 2
        canvas.write(axes, girders[0] + section.flange / 2 + 0.2, centre - 0.05,
                     labels["girder"], ha="left")  # fmt: skip
