"""One girder with its slab to scale: dimensions, neutral axes, plastic stress blocks."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from matplotlib.patches import Rectangle

from stepcalc.render import figure_canvas as canvas

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

    from stepcalc.render.figure_data import Block, GirderSection

# inches on the sheet
_SECTION = 2.5  # widest the section is drawn
_TALLEST = 3.6
_CENTRE = 1.85
_WORDS = 3.35  # labels of plates and axes begin here
_STRESS = 5.45  # line of zero stress
_STRESS_HALF = 0.42
_ROOM = 0.42
_LINE = 0.155
_THINNEST = 0.012

Height = Callable[[float], float]


def draw_girder_section(girder: GirderSection) -> Figure:
    """Return the figure of a girder section.

    Parameters
    ----------
    girder : GirderSection
        Plates, slab, bars, axes, stress blocks and dimensions.

    Returns
    -------
    Figure
        To one scale in both directions; plates too thin to be seen are drawn a hair line thick.
    """
    blocks = (*girder.plates, *girder.slab)
    low, high = min(b.bottom for b in blocks), max(b.bottom + b.height for b in blocks)
    scale = min(_SECTION / max(b.width for b in blocks), _TALLEST / (high - low))
    labels = len(blocks) + len(girder.elastic) + len(girder.plastic)
    height = max((high - low) * scale + 2 * _ROOM, labels * _LINE + 0.4)
    figure, axes = canvas.bare_axes(height, 0.0, canvas.WIDTH, aside=0.0)
    foot = (height - (high - low) * scale) / 2

    def at(y: float) -> float:
        return foot + (y - low) * scale

    half = max(b.width for b in blocks) * scale / 2
    for block in girder.slab:
        _rectangle(axes, block, at, scale, canvas.LIGHT)
    for block in girder.plates:
        _rectangle(axes, block, at, scale, canvas.GREY)
    for bar in girder.bars:
        xs = [_CENTRE - half + 2 * half * (place + 0.5) / 9 for place in range(9)]
        axes.plot(xs, [at(bar.x)] * 9, "o", color=canvas.INK, ms=2.2)
    _depths(axes, girder, at, half)
    _labels(axes, girder, at, half, scale=scale, height=height)
    _stress(axes, girder, at)
    return figure


def _rectangle(axes: Axes, block: Block, at: Height, scale: float, face: str) -> None:
    wide, tall = max(block.width * scale, _THINNEST), max(block.height * scale, _THINNEST)
    axes.add_patch(
        Rectangle((_CENTRE - wide / 2, at(block.bottom)), wide, tall, facecolor=face,
                  edgecolor=canvas.INK, lw=0.6)
    )  # fmt: skip


def _depths(axes: Axes, girder: GirderSection, at: Height, half: float) -> None:
    x = _CENTRE - half - 0.14
    for depth in girder.depths:
        low, high = at(depth.start), at(depth.end)
        canvas.arrow(axes, (x, low), (x, high), arrowstyle="<|-|>", lw=0.6, mutation_scale=6)
        for y in (low, high):
            axes.plot([x - 0.05, x + 0.05], [y, y], color=canvas.INK, lw=0.6)
        canvas.write(axes, x - 0.05, (low + high) / 2, depth.label, ha="right", rotation=90)
        x -= 0.24


def _labels(
    axes: Axes, girder: GirderSection, at: Height, half: float, *, scale: float, height: float
) -> None:
    """Write the names of plates, slab and axes beside the section, none over another."""
    rows: list[tuple[float, str, float]] = [
        (at(block.bottom + 0.3 * block.height), block.label, _CENTRE + block.width * scale / 2)
        for block in (*girder.plates, *girder.slab)
        if block.label
    ]
    for items, style in ((girder.elastic, (0, (6, 2, 1, 2))), (girder.plastic, (0, (4, 2)))):
        for item in items:
            y, end = at(item.x), _CENTRE + half + 0.1
            axes.plot([_CENTRE - half, end], [y, y], color=canvas.INK, lw=0.9, linestyle=style)
            rows.append((y, item.label, end))
    rows.sort()
    places = _spread([y for y, _, _ in rows], 0.1, height - 0.1)
    for (y, text, start), place in zip(rows, places, strict=True):
        bend = _CENTRE + half + 0.12
        axes.plot([start, bend, _WORDS - 0.05], [y, y, place], color=canvas.GREY, lw=0.4)
        canvas.write(axes, _WORDS, place, text, ha="left")


def _spread(wanted: list[float], low: float, high: float) -> list[float]:
    """Return rising places near the wanted ones, a line of text apart."""
    places: list[float] = []
    for y in wanted:
        places.append(max(y, places[-1] + _LINE if places else low))
    top = high
    for index in range(len(places) - 1, -1, -1):
        places[index] = min(places[index], top)
        top = places[index] - _LINE
    return places


def _stress(axes: Axes, girder: GirderSection, at: Height) -> None:
    if not girder.stress:
        return
    largest = max(abs(block.width) for block in girder.stress) or 1.0
    for block in girder.stress:
        wide = _STRESS_HALF * block.width / largest
        low, tall = at(block.bottom), at(block.bottom + block.height) - at(block.bottom)
        axes.add_patch(
            Rectangle((_STRESS, low), wide, tall, edgecolor=canvas.INK, lw=0.6,
                      facecolor="white" if block.width > 0 else canvas.LIGHT)
        )  # fmt: skip
        if tall > _LINE and abs(wide) > 0.36:
            canvas.write(axes, _STRESS + wide / 2, low + tall / 2, block.label)
        elif tall > _LINE:
            aside = wide - 0.05 if wide < 0 else wide + 0.05
            side = "right" if wide < 0 else "left"
            canvas.write(axes, _STRESS + aside, low + tall / 2, block.label, ha=side)
    low = min(at(block.bottom) for block in girder.stress)
    high = max(at(block.bottom + block.height) for block in girder.stress)
    axes.plot([_STRESS, _STRESS], [low - 0.06, high + 0.06], color=canvas.INK, lw=0.8)
    canvas.write(axes, _STRESS - 0.04, high + 0.16, "compression", ha="right")
    canvas.write(axes, _STRESS + 0.04, high + 0.16, "tension", ha="left")
