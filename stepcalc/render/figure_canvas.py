"""The drawing surface of all figures: one style, the same bytes every time.

Figures are black and grey, so that a copy reads like the original. Letters are drawn as
outlines: a figure needs no font where it is shown.
"""

from __future__ import annotations

import re
from functools import lru_cache
from io import BytesIO
from typing import TYPE_CHECKING, Any

from stepcalc.render.characters import printable

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

WIDTH = 6.2  # inches: the width of the work and result zones of a sheet
INK = "#000000"
GREY = "#6b6b6b"
LIGHT = "#d9d9d9"
SMALL = 8.0
NORMAL = 9.0

_STYLE: dict[str, Any] = {
    "font.family": ["STIXGeneral", "DejaVu Sans"],
    "font.size": NORMAL,
    "text.parse_math": False,  # labels are text, whatever signs they hold
    "axes.linewidth": 0.7,
    "axes.unicode_minus": True,
    "lines.linewidth": 1.1,
    "svg.hashsalt": "stepcalc",
    "svg.fonttype": "path",
    "path.simplify": False,
}
_MOST_LETTERS = 60
_MINUS = re.compile(r"(?<![\w.)\]])-(?=\.?\d)")  # a sign, not the hyphen of W36-150


def style() -> Any:
    """Return the context in which every figure is made and saved."""
    from matplotlib import rc_context

    settings: Any = _STYLE
    return rc_context(settings)


def new_figure(height: float) -> Figure:
    """Return an empty figure of the sheet's width; it belongs to no window."""
    from matplotlib.figure import Figure as NewFigure

    return NewFigure(figsize=(WIDTH, height))


def bare_axes(height: float, start: float, end: float, *, aside: float) -> tuple[Figure, Axes]:
    """Return axes without a frame: x in the figure's own unit, y in inches from the bottom.

    Parameters
    ----------
    height : float
        In inches.
    start, end : float
        What lies ``aside`` inches within the left and right edge.
    aside : float
        Room at either side, in inches.
    """
    figure = new_figure(height)
    axes = figure.add_axes((0.0, 0.0, 1.0, 1.0))
    per_inch = (end - start) / (WIDTH - 2 * aside)
    axes.set_xlim(start - aside * per_inch, end + aside * per_inch)
    axes.set_ylim(0.0, height)
    axes.set_axis_off()
    return figure, axes


@lru_cache(maxsize=4096)
def label_width(text: str, size: float) -> float:
    """Return the width of a label in inches."""
    from matplotlib.font_manager import FontProperties
    from matplotlib.textpath import TextPath

    shown = shortened(text)
    if not shown.strip():
        return 0.0
    font = FontProperties(family=["STIXGeneral", "DejaVu Sans"])
    across = TextPath((0, 0), shown, size=size, prop=font).vertices[:, 0]
    return float(across.max() - across.min()) / 72.0


def shortened(text: str) -> str:
    """Return a label that fits a figure: one line, printable, at most 60 characters."""
    shown = _MINUS.sub("\N{MINUS SIGN}", " ".join(printable(text).split()))
    return shown if len(shown) <= _MOST_LETTERS else shown[: _MOST_LETTERS - 1] + "…"


def write(axes: Axes, x: float, y: float, text: str, **options: Any) -> None:
    """Write a label."""
    usual: dict[str, Any] = {"ha": "center", "va": "center", "fontsize": SMALL, "color": INK}
    axes.text(x, y, shortened(text), **(usual | options))


def arrow(axes: Axes, tail: tuple[float, float], head: tuple[float, float], **style: Any) -> None:
    """Draw an arrow from ``tail`` to ``head``."""
    look = {"arrowstyle": "-|>", "color": INK, "lw": 1.2, "mutation_scale": 9} | style
    axes.annotate(
        "", xy=head, xytext=tail, arrowprops={"shrinkA": 0, "shrinkB": 0, **look},
        annotation_clip=False,
    )  # fmt: skip


def dimension(axes: Axes, start: float, end: float, y: float, text: str) -> None:
    """Draw a dimension line with its text over it, or beside it where it is too short for that."""
    arrow(axes, (start, y), (end, y), arrowstyle="<|-|>", lw=0.6, mutation_scale=6)
    for x in (start, end):
        axes.plot([x, x], [y - 0.05, y + 0.05], color=INK, lw=0.6)
    left, right = axes.get_xlim()
    per_inch = (right - left) / WIDTH
    if label_width(text, SMALL) * per_inch <= abs(end - start):
        write(axes, (start + end) / 2, y + 0.02, text, va="bottom")
    else:
        write(axes, max(start, end) + 0.06 * per_inch, y, text, ha="left")


def rows_without_overlap(spans: list[tuple[float, float]]) -> list[int]:
    """Return a row for each (start, end) so that no two in one row touch; the first is row 0."""
    ends: list[float] = []
    rows = [0] * len(spans)
    for place in sorted(range(len(spans)), key=lambda i: spans[i]):
        start, end = spans[place]
        free = [row for row, taken in enumerate(ends) if start >= taken]
        if not free:
            free = [len(ends)]
            ends.append(end)
        rows[place] = free[0]
        ends[free[0]] = end
    return rows


def saved(figure: Figure, form: str, dpi: int = 200) -> bytes:
    """Return a finished figure as ``svg``, ``png`` or ``pdf``, without a date in it."""
    stream = BytesIO()
    nameless: dict[str, dict[str, Any]] = {
        "svg": {"Date": None, "Creator": None},
        "png": {"Software": None},
        "pdf": {"CreationDate": None, "Creator": None, "Producer": None},
    }
    figure.savefig(stream, format=form, dpi=dpi, metadata=nameless[form], facecolor="white")
    return stream.getvalue()
