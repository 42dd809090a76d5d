"""Tables and the diagram of the effects along a continuous girder."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stepcalc.units.numbers import shown_text

if TYPE_CHECKING:
    from collections.abc import Sequence

    from stepcalc.bridge.whole.continuous_along import AtPlace, Effects
    from stepcalc.sheet.sheet import Sheet

__all__ = ["moment_figure", "moment_table", "shear_table"]


def _order(at: AtPlace) -> tuple[int, float]:
    return at.place.at


def moment_table(sheet: Sheet, moments: Sequence[AtPlace]) -> None:
    """Write the moments at every place but the middles of unbraced lengths.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the table.
    moments : sequence of AtPlace
    """
    rows = [
        [
            at.place.label, at.place.words, at.DC1, at.DC2, at.DW, at.live_max, at.live_min,
            at.largest, at.smallest,
        ]
        for at in sorted(moments, key=_order) if at.place.kinds != ("middle",)
    ]  # fmt: skip
    sheet.table(
        ["Place", "What", "DC1", "DC2", "DW", "LL max", "LL min", "Mu max", "Mu min"],
        rows,
        "Moments of the girder, unfactored, live load with impact and distributed; and the "
        "envelope of Strength I",
        instead=True,
    )  # fmt: skip


def shear_table(sheet: Sheet, shears: Sequence[AtPlace]) -> None:
    """Write the shears at tenth points.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the table.
    shears : sequence of AtPlace
    """
    rows = [
        [at.place.label, at.DC1, at.DC2, at.DW, at.live_max, at.live_min, at.largest, at.smallest]
        for at in sorted(shears, key=_order)
    ]
    sheet.table(
        ["Place", "DC1", "DC2", "DW", "LL + IM max", "LL + IM min", "Vu max", "Vu min"], rows,
        "Shears of the girder at tenth points, on the side of the span that names the place",
        instead=True,
    )  # fmt: skip


def moment_figure(sheet: Sheet, effects: Effects, moments: Sequence[AtPlace]) -> None:
    """Draw the moments along the girder, as first given.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the figure.
    effects : Effects
        Spans.
    moments : sequence of AtPlace
    """
    starts, total = [], 0.0
    for span in effects.line.spans:
        starts.append(total)
        total += float(span.length.to("ft").magnitude)
    ordered = sorted(moments, key=_order)
    x = [starts[at.place.span - 1] + at.place.feet for at in ordered]

    def column(name: str) -> list[float]:
        return [float(getattr(at, name).value.to("kip*ft").magnitude) for at in ordered]

    curves = {
        "DC1": column("DC1"),
        "DC2 + DW": [a + b for a, b in zip(column("DC2"), column("DW"), strict=True)],
        "LL + IM": column("live_max"), "Strength I, largest": column("largest"),
        "Strength I, smallest": column("smallest"),
    }  # fmt: skip
    marks = []
    for name, pick in (("Strength I, largest", max), ("Strength I, smallest", min)):
        y = pick(curves[name])
        marks.append({"x": x[curves[name].index(y)], "y": y, "label": shown_text(y)})
    sheet.figure(
        {
            "kind": "curves", "x": x, "x_label": "distance from the first bearing, ft",
            "y_label": "moment, kip-ft",
            "series": [{"label": label, "y": y} for label, y in curves.items()],
            "marks": marks, "invert_y": False,
        },
        "Moments along the girder, as first given.",
    )  # fmt: skip
