"""The free body of a beam: loads above, supports and reactions below, dimensions under them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from matplotlib.patches import Polygon, Rectangle

from stepcalc.render import figure_canvas as canvas

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

    from stepcalc.render.figure_data import At, FreeBody, Stretch

_ASIDE = 0.75  # inches at either side
_ROW = 0.17  # a row of labels
_GAP = 0.12  # inches kept between two labels
_UNIFORM = 0.26
_LONGEST_LOAD = 0.48
_SHORTEST_LOAD = 0.26


def draw_free_body(body: FreeBody) -> Figure:
    """Return the figure of a free body."""
    per_inch = body.span / (canvas.WIDTH - 2 * _ASIDE)
    load_rows = _label_rows(body.loads, per_inch)
    reaction_rows = _label_rows(body.reactions, per_inch)
    mark_rows = _mark_rows(body, per_inch)
    dimension_rows = _dimension_rows(body.dimensions, per_inch)
    uniform_rows = _dimension_rows(body.uniform, per_inch)

    bottom = 0.1 + 0.27 * _count(dimension_rows)
    reactions = 0.5 + _ROW * _count(reaction_rows) if body.reactions else 0.3
    beam = bottom + reactions + _ROW * _count(mark_rows)
    uniform = (_UNIFORM + _ROW) * _count(uniform_rows)
    loads = _LONGEST_LOAD + _ROW * _count(load_rows) + 0.05 if body.loads else 0.1
    figure, axes = canvas.bare_axes(
        beam + 0.06 + uniform + loads + 0.1, 0.0, body.span, aside=_ASIDE
    )
    _draw_beam(axes, body, beam, per_inch)
    top = beam + 0.06
    for stretch, row in zip(body.uniform, uniform_rows, strict=True):
        _draw_uniform(axes, stretch, top + (_UNIFORM + _ROW) * row, per_inch)
    _draw_loads(axes, body.loads, load_rows, top + uniform)
    _draw_reactions(axes, body.reactions, reaction_rows, beam - 0.17)
    for mark, row in zip(body.marks, mark_rows, strict=True):
        axes.plot([mark.x, mark.x], [beam - 0.14, beam + 0.14], color=canvas.INK, lw=0.6, ls=":")
        canvas.write(axes, mark.x, beam - 0.24 - _ROW * row, mark.label, bbox=_PAPER)
    for stretch, row in zip(body.dimensions, dimension_rows, strict=True):
        canvas.dimension(axes, stretch.start, stretch.end, bottom - 0.2 - 0.27 * row, stretch.label)
        for x in (stretch.start, stretch.end):
            axes.plot([x, x], [bottom - 0.2 - 0.27 * row, beam - 0.3], color=canvas.GREY, lw=0.3)
    return figure


def _count(rows: list[int]) -> int:
    return max(rows) + 1 if rows else 0


def _label_rows(items: tuple[At, ...], per_inch: float) -> list[int]:
    spans = []
    for item in items:
        half = (canvas.label_width(item.label, canvas.SMALL) + _GAP) / 2 * per_inch
        spans.append((item.x - half, item.x + half))
    return canvas.rows_without_overlap(spans)


def _mark_rows(body: FreeBody, per_inch: float) -> list[int]:
    """Return the rows of marks; one whose label would run into a support stands a row lower."""
    rows = _label_rows(body.marks, per_inch)
    for place, mark in enumerate(body.marks):
        half = canvas.label_width(mark.label, canvas.SMALL) / 2 + 0.16
        if any(abs(mark.x - x) < half * per_inch for x in body.supports):
            rows[place] += 1
    return rows


def _dimension_rows(items: tuple[Stretch, ...], per_inch: float) -> list[int]:
    spans = []
    for item in items:
        half = (canvas.label_width(item.label, canvas.SMALL) + _GAP) / 2 * per_inch
        middle = (item.start + item.end) / 2
        slack = 1e-9 * per_inch
        spans.append((min(item.start + slack, middle - half), max(item.end - slack, middle + half)))
    return canvas.rows_without_overlap(spans)


def _draw_beam(axes: Axes, body: FreeBody, y: float, per_inch: float) -> None:
    axes.add_patch(
        Rectangle((0.0, y - 0.03), body.span, 0.06, facecolor=canvas.LIGHT, edgecolor=canvas.INK,
                  lw=0.9)
    )  # fmt: skip
    for place, x in enumerate(body.supports):
        wide = 0.09 * per_inch
        top = y - 0.03
        if place == 0:
            corners = [(x, top), (x - wide, top - 0.14), (x + wide, top - 0.14)]
            axes.add_patch(Polygon(corners, facecolor="white", edgecolor=canvas.INK, lw=0.9))
        else:
            axes.plot([x], [top - 0.07], marker="o", ms=8.5, mfc="white", mec=canvas.INK, mew=0.9)
        axes.plot([x - 1.6 * wide, x + 1.6 * wide], [top - 0.145] * 2, color=canvas.INK, lw=0.9)


def _draw_uniform(axes: Axes, stretch: Stretch, y: float, per_inch: float) -> None:
    height = _UNIFORM - 0.04
    axes.plot([stretch.start, stretch.end], [y + height] * 2, color=canvas.INK, lw=0.9)
    long = abs(stretch.end - stretch.start)
    count = max(2, min(60, round(long / (0.28 * per_inch)) + 1))
    for number in range(count):
        x = stretch.start + (stretch.end - stretch.start) * number / (count - 1)
        canvas.arrow(axes, (x, y + height), (x, y), lw=0.6, mutation_scale=5)
    canvas.write(axes, (stretch.start + stretch.end) / 2, y + height + 0.02, stretch.label,
                 va="bottom")  # fmt: skip


def _draw_loads(axes: Axes, loads: tuple[At, ...], rows: list[int], y: float) -> None:
    largest = max((abs(load.size) for load in loads), default=1.0) or 1.0
    for load, row in zip(loads, rows, strict=True):
        share = abs(load.size) / largest
        long = _SHORTEST_LOAD + (_LONGEST_LOAD - _SHORTEST_LOAD) * share
        canvas.arrow(axes, (load.x, y + long), (load.x, y))
        at = y + _LONGEST_LOAD + 0.02 + _ROW * row
        if at - (y + long) > 0.06:
            axes.plot([load.x] * 2, [y + long, at], color=canvas.GREY, lw=0.3)
        canvas.write(axes, load.x, at, load.label, va="bottom", bbox=_PAPER)


def _draw_reactions(axes: Axes, reactions: tuple[At, ...], rows: list[int], y: float) -> None:
    for reaction, row in zip(reactions, rows, strict=True):
        canvas.arrow(axes, (reaction.x, y - 0.34), (reaction.x, y - 0.02))
        canvas.write(axes, reaction.x, y - 0.36 - _ROW * row, reaction.label, va="top", bbox=_PAPER)


_PAPER = {"facecolor": "white", "edgecolor": "none", "pad": 0.6}
