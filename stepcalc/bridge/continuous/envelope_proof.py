"""The proof of a girder's envelope: tables of tenth points, diagrams, and the extreme once more."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, Any

import numpy as np

from stepcalc.bridge.continuous.girder import along
from stepcalc.bridge.continuous.girder_inputs import DEAD, loads_of
from stepcalc.bridge.continuous.kernels import span_kernels
from stepcalc.bridge.continuous.line_kernels import span_inputs, span_names
from stepcalc.bridge.continuous.ordinates import place_words
from stepcalc.expr.functions import maximum, minimum
from stepcalc.sheet.sheet import Sheet
from stepcalc.units import ft, kip, kip_ft
from stepcalc.units.numbers import shown_text

if TYPE_CHECKING:
    from stepcalc.bridge.continuous.girder import Along

__all__ = ["proof_of_envelope"]

_WHOLE = 1e-6


def proof_of_envelope(effect: str, count: int) -> Callable[..., Sheet]:
    """Return the proof of a moment or shear envelope."""

    def proof(**inputs: Any) -> Sheet:
        spans = tuple(float(inputs[name]) for name in span_names(count))
        found = along(
            effect, loads_of(inputs, count), spans,
            layout=inputs["layout"], load=inputs["load"], impact=float(inputs["impact"]),
        )  # fmt: skip
        sheet = Sheet(f"{effect} of the girder along its spans")
        unit_text = "kip-ft" if effect == "moment" else "kip"
        _table(sheet, effect, unit_text, found)
        _diagrams(sheet, effect, unit_text, found)
        _extreme(sheet, effect, inputs, spans, found)
        return sheet

    return proof


def _place(found: Along, row: int) -> str:
    """Return a section in the trade's short form, span and fraction: 2.4, or 2.437 at a peak."""
    tenths = found.fractions[row] * 10
    if abs(tenths - round(tenths)) < _WHOLE:
        span = int(found.spans[row])
        return f"{span}.{round(tenths)}" if round(tenths) < 10 else f"{span}.10"
    return f"{found.spans[row] + found.fractions[row]:.3f}"


def _table(sheet: Sheet, effect: str, unit: str, found: Along) -> None:
    names = ["DC1", "DC2", "DW", "LL+IM max", "LL+IM min", "factored max", "factored min"]
    columns = [
        found.DC1, found.DC2, found.DW, found.live_max, found.live_min,
        found.largest, found.smallest,
    ]  # fmt: skip
    rows = [
        [_place(found, i), shown_text(float(x)), *(_cell(column[i]) for column in columns)]
        for i, x in enumerate(found.x)
    ]
    what = f"{effect.capitalize()} of the girder, {unit}; section is span and fraction of it"
    sheet.table(["section", "x, ft", *names], rows, what)


def _cell(value: float) -> str:
    """Return a value of a table; the figures label extremes with the very same text."""
    return "0" if abs(value) < 1e-9 else shown_text(float(value))


def _diagrams(sheet: Sheet, effect: str, unit: str, found: Along) -> None:
    sets: tuple[tuple[str, list[tuple[str, Any]]], ...] = (
        (
            "unfactored",
            [
                ("DC1", found.DC1), ("DC2", found.DC2), ("DW", found.DW),
                ("LL+IM max", found.live_max), ("LL+IM min", found.live_min),
            ],
        ),
        ("factored", [("largest", found.largest), ("smallest", found.smallest)]),
    )  # fmt: skip
    for kind, curves in sets:
        data = {
            "kind": "curves",
            "x": found.x.tolist(),
            "x_label": "distance from the left end, ft",
            "y_label": f"{effect}, {unit}",
            "series": [{"label": label, "y": values.tolist()} for label, values in curves],
            "marks": _marks(found, curves[-2:]),
            "invert_y": False,
        }
        sheet.figure(data, f"{effect.capitalize()} envelopes of the girder, {kind}")


def _marks(found: Along, curves: Sequence[tuple[str, Any]]) -> list[dict[str, Any]]:
    """Return the extremes of the upper and of the lower curve, with the numbers of the table."""
    upper, lower = curves[0][1], curves[1][1]
    rows = ((upper, int(np.argmax(upper))), (lower, int(np.argmin(lower))))
    return [
        {"x": float(found.x[row]), "y": float(curve[row]), "label": _cell(curve[row])}
        for curve, row in rows
    ]


def _extreme(
    sheet: Sheet, effect: str, inputs: dict[str, Any], spans: tuple[float, ...], found: Along
) -> None:
    high = inputs["which"] == "max"
    row = int(np.argmax(found.largest) if high else np.argmin(found.smallest))
    unit = kip_ft if effect == "moment" else kip
    letter = "M" if effect == "moment" else "V"
    where = place_words(effect, spans, int(found.spans[row]), float(found.fractions[row]))
    place = span_inputs([span * ft for span in spans]) | {
        "layout": inputs["layout"],
        "place": str(found.spans[row]),
        "fraction": float(found.fractions[row]),
    }
    kernels = span_kernels(len(spans))
    values: dict[str, Any] = {
        name: sheet.computed(
            f"{letter}_{name}", kernels.dead[effect], place | {"load": inputs[name] * kip / ft},
            unit, f"{name} {where}", ref="statics",
        )
        for name in DEAD
    }  # fmt: skip
    live = place | {"load": inputs["load"], "impact": inputs["impact"], "which": inputs["which"]}
    lane = sheet.computed(
        f"{letter}_HL", kernels.live[effect], live, unit, f"live load of one lane, {where}",
        ref="statics",
    )  # fmt: skip
    share = float((found.share_max if high else found.share_min)[row])
    share_node = sheet.given(
        "g", float(f"{share:.11g}"), "lanes on the girder there", source="as above"
    )
    values["LL"] = sheet.step(
        f"{letter}_LL", share_node * lane, unit, "live load of the girder", ref="LRFD 4.6.2.2"
    )
    g = {
        name: sheet.given(name, float(inputs[name]), what, source="as above")
        for name, what in _FACTOR_WORDS.items()
    }
    worse = maximum if high else minimum
    DC = values["DC1"] + values["DC2"]
    total = (
        worse(g["eta"] * g["gamma_DC"] * DC, g["eta_i"] * g["gamma_DCn"] * DC)
        + worse(g["eta"] * g["gamma_DW"] * values["DW"], g["eta_i"] * g["gamma_DWn"] * values["DW"])
        + g["eta"] * g["gamma_LL"] * values["LL"]
    )
    what = f"{'largest' if high else 'smallest'} factored {effect}, {where}"
    sheet.step(f"{letter}_u", total, unit, what, ref="LRFD 3.4.1-1")


_FACTOR_WORDS = {
    "gamma_DC": "largest load factor, DC",
    "gamma_DCn": "smallest load factor, DC",
    "gamma_DW": "largest load factor, DW",
    "gamma_DWn": "smallest load factor, DW",
    "gamma_LL": "load factor, live load",
    "eta": "load modifier where a larger load is worse",
    "eta_i": "load modifier where a smaller load is worse",
}
