"""Sliders and choices bound to the givens of a sheet: what depends on them is redrawn.

What a control sets is a trial: the sheet itself keeps its givens.  The steps shown stand below the
controls as an ordinary output, with LaTeX, plain text and data, so that an untrusted or printed
notebook keeps the values that were set last, named as trial values.
"""

from __future__ import annotations

import base64
import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import Any

from stepcalc.errors import FormulaError, StepcalcError
from stepcalc.notebook.display import MIME
from stepcalc.render.block_parts import value_layout
from stepcalc.render.dialects import dialect
from stepcalc.render.figure_alt import figure_alt
from stepcalc.render.figures import draw_figure
from stepcalc.render.step_lines import step_latex, step_text
from stepcalc.units.info import ONE
from stepcalc.units.registry import Q_

__all__ = ["Controls", "controls"]

_LATEX = dialect("latex")
_MOST_STEPS = 200
_TRIAL = "trial values set by the controls; the sheet keeps its own"


def controls(
    sheet: Any,
    *names: str,
    show: Sequence[str] = (),
    ranges: Mapping[str, tuple[Any, Any]] | None = None,
    figure: Callable[[Any], Mapping[str, Any]] | None = None,
) -> Controls:
    """Return controls for givens; shown by a cell, they redraw what depends on them.

    Parameters
    ----------
    sheet : Sheet
        It is not changed: ``Controls.sheet`` is the revised one.
    names : str
        Names or paths of givens: a number gets a slider, a choice of texts a list.
    show : sequence of str
        Steps and checks shown for the values set; the governing check when empty.
    ranges : mapping of a name to a pair of quantities
        Ends of the slider; those of the given's ``within`` when left out, else half and one and a
        half times its value.
    figure : function of a sheet that returns the data of a figure, optional
        Drawn anew for the values set.

    Raises
    ------
    FormulaError
        If a name is not given, or a range is empty.
    UnknownNameError
        If a name is not on the sheet.
    """
    if not names:
        message = "controls want the name of at least one given, as in controls(sheet, 'S')"
        raise FormulaError(message)
    bound = {name: _given(sheet, name) for name in names}
    if not show:
        show = [sheet.governing.path] if sheet.governing is not None else []
    for name in show:
        sheet[name]  # an unknown name is an error here, not at the first move
    ends = dict(ranges or {})
    unknown = sorted(set(ends) - set(bound))
    if unknown:
        message = f"there is a range for {unknown[0]!r}, but no control; controls: {list(bound)}"
        raise FormulaError(message)
    widgets = {name: _widget(node, ends.get(name)) for name, node in bound.items()}
    return Controls(sheet, widgets, tuple(show), figure)


class Controls:
    """Widgets and what they redraw; see :func:`controls`.

    Attributes
    ----------
    widgets : dict of str to widget
        By the names that were given.
    """

    def __init__(
        self,
        sheet: Any,
        widgets: dict[str, Any],
        show: tuple[str, ...],
        figure: Callable[[Any], Mapping[str, Any]] | None,
    ) -> None:
        self.widgets = widgets
        self._source = sheet
        self._show = show
        self._figure = figure
        self._handles: list[Any] = []
        for widget in widgets.values():
            widget.observe(self._moved, names="value")

    @property
    def sheet(self) -> Any:
        """The sheet for the values set now; it follows cells that are run again."""
        while self._source._successor is not None:
            self._source = self._source._successor
        return self._source.revise({name: self._value(name) for name in self.widgets})

    def _value(self, name: str) -> Any:
        node, value = self._source[name], self.widgets[name].value
        if isinstance(value, str):
            return value
        number = float(f"{value:.10g}") if isinstance(value, float) else value
        info = node.sheet._typed_of(node.slot)[1]
        return number if info is ONE else Q_(number, info.unit)

    def bundles(self) -> list[tuple[dict[str, Any], dict[str, Any]]]:
        """Return what stands below the widgets now: the steps, and the figure if there is one."""
        return list(self._made())

    def _made(self) -> Iterator[tuple[dict[str, Any], dict[str, Any]]]:
        """Yield the steps, and after them the figure, which takes far longer to draw."""
        try:
            sheet = self.sheet
            steps = _steps_bundle(sheet, self._source, list(self.widgets), self._show)
        except StepcalcError as error:  # the old numbers must not stay under the new setting
            yield _failed(error)
            if self._figure is not None:
                yield _failed(error)
            return
        yield steps, {}
        if self._figure is not None:
            try:
                yield _figure_bundle(self._figure(sheet))
            except StepcalcError as error:
                yield _failed(error)

    def _moved(self, _change: Any) -> None:
        for handle, (data, metadata) in zip(self._handles, self._made(), strict=False):
            handle.update(data, metadata=metadata, raw=True)

    def _ipython_display_(self) -> None:
        from IPython.display import display
        from ipywidgets import VBox

        display(VBox(list(self.widgets.values())))  # type: ignore[no-untyped-call]
        self._handles = [
            display(data, metadata=metadata, raw=True, display_id=True)  # type: ignore[no-untyped-call]
            for data, metadata in self.bundles()
        ]


def _failed(error: StepcalcError) -> tuple[dict[str, Any], dict[str, Any]]:
    said = f"no result for these values: {' '.join(str(error).split())}"
    data = {"text/latex": f"$${_LATEX.text(said)}$$", "text/plain": said, MIME: _data([], None)}
    return data, {}


def _given(sheet: Any, name: str) -> Any:
    node = sheet[name]
    if node.entry.kind != "given":
        message = f"{name!r} is a {node.entry.kind}; a control sets a given"
        raise FormulaError(message)
    return node


def _widget(node: Any, ends: tuple[Any, Any] | None) -> Any:
    import ipywidgets

    style = {"description_width": "initial"}
    words = node.description or node.name
    if node.entry.choices is not None:
        return ipywidgets.Dropdown(
            options=list(node.options), value=node.value, description=node.name,
            tooltip=words, style=style,
        )  # fmt: skip
    typed, info = node.sheet._typed_of(node.slot)
    value = float(typed)
    low, high = _ends(node, info, value, ends)
    label = f"{node.name}, {info.text}" if info.text else node.name
    kind = ipywidgets.IntSlider if isinstance(typed, int) and info is ONE else (
        ipywidgets.FloatSlider
    )  # fmt: skip
    whole = kind is ipywidgets.IntSlider
    step = _slider_step(high - low)
    low, high = min(low, value), max(high, value)
    more = {} if whole else {"readout_format": f".{max(0, -math.floor(math.log10(step)))}f"}
    return kind(
        value=round(value) if whole else value,
        min=math.ceil(low) if whole else low,
        max=math.floor(high) if whole else high,
        step=max(1, round(step)) if whole else step,
        description=label, tooltip=words, style=style, **more,
    )  # fmt: skip


def _ends(node: Any, info: Any, value: float, ends: tuple[Any, Any] | None) -> tuple[float, float]:
    """Return the ends of a slider in the unit of the given."""
    if ends is not None:
        low, high = (_number(end, info, node.name) for end in ends)
    else:
        around = sorted((0.5 * value, 1.5 * value)) if value else [-1.0, 1.0]
        limits = node.entry.within or (None, None)
        low, high = (
            default if limit is None else limit[0] / info.factor
            for limit, default in zip(limits, around, strict=True)
        )
    if not low < high:
        message = f"the range of {node.name!r} runs from {low:g} to {high:g}; want low, high"
        raise FormulaError(message)
    return low, high


def _number(value: Any, info: Any, name: str) -> float:
    from stepcalc.sheet.quantities import base_value

    base = base_value(value, info, f"the range of {name!r}")[2]
    return float(base / info.factor)


def _slider_step(room: float) -> float:
    """Return about a hundredth of the room as 1, 2 or 5 times a power of ten."""
    rough = room / 100
    power = 10.0 ** math.floor(math.log10(rough))
    return next((k * power for k in (1, 2, 5) if k * power >= rough * 0.999), 10 * power)


# -- what is shown ------------------------------------------------------------------------------


def _steps_bundle(
    sheet: Any, source: Any, changed: list[str], shown: tuple[str, ...]
) -> dict[str, Any]:
    nodes = [sheet[name] for name in [*changed, *shown][:_MOST_STEPS]]
    rows = [_LATEX.text(f"({_TRIAL})"), *(step_latex(node) for node in nodes)]
    text = [step_text(node) for node in nodes]
    for node in nodes:
        for warning in node.warnings:
            rows.append(_LATEX.text(f"Warning, {node.name}: {warning}"))
            text.append(f"Warning, {node.name}: {warning}")
    inside = " \\\\[4pt] ".join(f"&{row}" for row in rows)
    return {
        "text/latex": f"$$\\begin{{aligned}}{inside}\\end{{aligned}}$$",
        "text/plain": "\n".join([*text, f"({_TRIAL})"]),
        MIME: _data([_table(sheet, source, nodes)], sheet),
    }


def _table(sheet: Any, source: Any, nodes: list[Any]) -> dict[str, Any]:
    """Return trial values beside those of the sheet, as a printed notebook shows them."""
    rows = []
    for node in nodes:
        rows.append([_label(node), _cell(node), _cell(source[node.path])])
    return {"kind": "table", "header": ["", "trial", "sheet"], "rows": rows, "caption": _TRIAL}


def _label(node: Any) -> Any:
    return node.name if node.entry.kind == "check" else ["sym", node.symbol]


def _cell(node: Any) -> Any:
    if node.entry.kind == "check":
        return f"{node.shown_ratio} {node.verdict}"
    return value_layout(node)


def _data(blocks: list[Any], sheet: Any) -> dict[str, Any]:
    about = None if sheet is None else {
        "title": sheet.title, "id": sheet.title, "carry": sheet.carry, "digits": sheet.digits,
    }  # fmt: skip
    return {"v": 1, "sheet": about, "title_block": None, "blocks": blocks, "marks": {}}


def _figure_bundle(figure: Mapping[str, Any]) -> tuple[dict[str, Any], dict[str, Any]]:
    words = figure_alt(figure)
    picture = base64.b64encode(draw_figure(figure, "png")).decode()
    data = {"image/png": picture, "text/plain": words, MIME: _data([], None)}
    return data, {"image/png": {"alt": words}}
