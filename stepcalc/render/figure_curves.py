"""Curves and influence lines: axes with units, line styles that differ without colour."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from stepcalc.render import figure_canvas as canvas
from stepcalc.units.numbers import shown_text

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

    from stepcalc.render.figure_data import At, Curves, Influence

_HEIGHT = 2.7
_ROWS = (0.07, 0.17, 0.27)
"""How far from the axis, as a share of the height, labels of neighbouring ordinates stand."""
_LINES = ("-", (0, (6, 2)), (0, (1.2, 1.6)), (0, (7, 2, 1.2, 2)), (0, (3, 1, 1, 1, 1, 1)))
_INKS = (canvas.INK, canvas.INK, canvas.INK, canvas.GREY, canvas.GREY)


def draw_curves(curves: Curves) -> Figure:
    """Return the figure of curves over a common abscissa."""
    several = len(curves.series) > 1
    figure = canvas.new_figure(_HEIGHT + 0.25 * ((len(curves.series) + 2) // 3) * several)
    axes = _axes(figure, curves.x_label, curves.y_label)
    for number, series in enumerate(curves.series):
        kind = number % len(_LINES)
        axes.plot(
            curves.x, series.y, ls=_LINES[kind], color=_INKS[kind],
            lw=1.1 + 0.5 * (number // len(_LINES)), label=canvas.shortened(series.label) or " ",
        )  # fmt: skip
    axes.set_xlim(min(curves.x), max(curves.x))
    axes.axhline(0.0, color=canvas.INK, lw=0.7)
    axes.margins(y=0.18)
    for mark in curves.marks:
        axes.plot([mark.x], [mark.y], marker="o", ms=3.5, color=canvas.INK, clip_on=False)
        _note(axes, mark, curves)
    if several:
        axes.legend(
            loc="upper center", bbox_to_anchor=(0.5, -0.2), ncols=min(3, len(curves.series)),
            frameon=False, fontsize=canvas.SMALL, handlelength=3.2,
        )  # fmt: skip
    if curves.invert_y:
        axes.invert_yaxis()
    return figure


def draw_influence(line: Influence) -> Figure:
    """Return the figure of an influence line with the loads on it."""
    figure = canvas.new_figure(_HEIGHT + 0.2)
    axes = _axes(figure, line.x_label, line.y_label)
    axes.fill_between(line.x, line.y, color=canvas.LIGHT, lw=0)
    axes.plot(line.x, line.y, color=canvas.INK)
    axes.axhline(0.0, color=canvas.INK, lw=0.7)
    low, high = min(*line.y, 0.0), max(*line.y, 0.0)
    tall = (high - low) or 1.0
    wide = (max(line.x) - min(line.x)) or 1.0
    axes.set_xlim(min(line.x), max(line.x))
    per_inch = wide / 5.3
    spans = []
    for load in line.loads:
        half = (canvas.label_width(load.label, canvas.SMALL) + 0.12) / 2 * per_inch
        spans.append((load.x - half, load.x + half))
    rows = canvas.rows_without_overlap(spans)
    count = max(rows) + 1 if rows else 0
    ground = high + 0.12 * tall
    for place, (load, row) in enumerate(zip(line.loads, rows, strict=True)):
        axes.plot([load.x] * 2, [0.0, load.y], color=canvas.INK, lw=0.7, ls=":")
        axes.plot([load.x], [load.y], marker="o", ms=3, color=canvas.INK)
        foot = max(load.y, 0.0) + 0.03 * tall
        canvas.arrow(axes, (load.x, ground + 0.16 * tall), (load.x, foot), lw=1.0)
        canvas.write(axes, load.x, ground + (0.18 + 0.12 * row) * tall, load.label, va="bottom",
                     bbox={"facecolor": "white", "edgecolor": "none", "pad": 0.6})  # fmt: skip
        beside = load.x > min(line.x) + 0.88 * wide
        away = math.copysign(_ROWS[place % len(_ROWS)] * tall, load.y)
        axes.annotate(
            canvas.shortened(shown_text(load.y, 4)), (load.x, away),
            fontsize=canvas.SMALL, va="center",
            xytext=(-4 if beside else 4, 0), textcoords="offset points",
            ha="right" if beside else "left",
        )  # fmt: skip
    axes.set_ylim(low - 0.06 * tall, ground + (0.3 + 0.12 * count) * tall)
    return figure


def _axes(figure: Figure, x_label: str, y_label: str) -> Axes:
    figure.set_layout_engine("constrained", w_pad=0.06, h_pad=0.06)
    axes = figure.add_subplot()
    axes.set_xlabel(canvas.shortened(x_label), fontsize=canvas.NORMAL)
    axes.set_ylabel(canvas.shortened(y_label), fontsize=canvas.NORMAL)
    axes.tick_params(labelsize=canvas.SMALL, width=0.6, length=3)
    axes.grid(visible=True, color=canvas.LIGHT, lw=0.5)
    axes.set_axisbelow(True)
    for axis in (axes.xaxis, axes.yaxis):
        axis.set_major_formatter(_tick)
    for side in ("top", "right"):
        axes.spines[side].set_visible(False)
    return axes


def _tick(value: float, _: float) -> str:
    """Return the number at a tick as tables spell it, with commas from a thousand on."""
    return canvas.shortened(f"{round(value, 9) + 0.0:,.10g}")


def _note(axes: Axes, mark: At, curves: Curves) -> None:
    """Label a mark, to the side where there is room."""
    left, right = min(curves.x), max(curves.x)
    share = (mark.x - left) / ((right - left) or 1.0)
    beside = "right" if share > 0.8 else "left" if share < 0.2 else "center"
    upward = (mark.y >= 0) != curves.invert_y
    axes.annotate(
        canvas.shortened(mark.label), (mark.x, mark.y), textcoords="offset points",
        xytext=(0, 6 if upward else -6), ha=beside, va="bottom" if upward else "top",
        fontsize=canvas.SMALL, bbox={"facecolor": "white", "edgecolor": "none", "pad": 0.6},
    )  # fmt: skip
