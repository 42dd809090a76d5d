"""Figures drawn from a sheet's own data, so that they cannot drift from the numbers."""

from __future__ import annotations

import json
from collections.abc import Mapping
from functools import lru_cache
from typing import Any

from stepcalc.errors import PrintError
from stepcalc.render.figure_alt import figure_alt
from stepcalc.render.figure_canvas import saved, style
from stepcalc.render.figure_data import BridgeSection, Curves, FreeBody, GirderSection, read_figure

__all__ = ["draw_figure", "figure_alt"]

FORMS = ("svg", "png", "pdf")


def draw_figure(data: Mapping[str, Any], form: str = "svg") -> bytes:
    """Draw a figure.

    Parameters
    ----------
    data : mapping
        ``data["kind"]`` is ``free_body``, ``curves``, ``influence``, ``bridge_section`` or
        ``girder_section``.
    form : {"svg", "png", "pdf"}

    Returns
    -------
    bytes
        The same bytes for the same data. PNG has 200 dots per inch.

    Raises
    ------
    SheetFileError
        If the data are not those of a figure.
    PrintError
        If the form is unknown.
    """
    if form not in FORMS:
        raise PrintError(f"no figure is drawn as {form!r}; want one of {', '.join(FORMS)}")
    read_figure(data)  # refuses what is no figure, before it becomes a key
    return _drawn(json.dumps(data, sort_keys=True), form)


@lru_cache(maxsize=64)
def _drawn(data: str, form: str) -> bytes:
    """Draw once what is printed in several forms, or again after a change elsewhere."""
    record = read_figure(json.loads(data))
    with style():
        if isinstance(record, FreeBody):
            from stepcalc.render.figure_free_body import draw_free_body

            figure = draw_free_body(record)
        elif isinstance(record, Curves):
            from stepcalc.render.figure_curves import draw_curves

            figure = draw_curves(record)
        elif isinstance(record, BridgeSection):
            from stepcalc.render.figure_section import draw_section

            figure = draw_section(record)
        elif isinstance(record, GirderSection):
            from stepcalc.render.figure_girder_section import draw_girder_section

            figure = draw_girder_section(record)
        else:
            from stepcalc.render.figure_curves import draw_influence

            figure = draw_influence(record)
        return saved(figure, form)
