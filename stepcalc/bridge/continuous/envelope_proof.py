"""The proof of a girder's envelope: tables of tenth points, diagrams, and the extreme once more."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, Any

import numpy as np

from stepcalc.bridge.continuous.display_units import US
from stepcalc.bridge.continuous.girder import along
from stepcalc.bridge.continuous.girder_inputs import DEAD, NO_SETTLEMENT, loads_of
from stepcalc.bridge.continuous.kernels import span_kernels
from stepcalc.bridge.continuous.line_body import place_words
from stepcalc.bridge.continuous.line_kernels import span_inputs, span_names
from stepcalc.bridge.continuous.stage_kernels import stage_kernels
from stepcalc.expr.functions import maximum, minimum
from stepcalc.sheet.sheet import Sheet
from stepcalc.units import ft, kip, klf
from stepcalc.units.numbers import shown_text

if TYPE_CHECKING:
    from stepcalc.bridge.continuous.display_units import DisplayUnits
    from stepcalc.bridge.continuous.girder import Along

__all__ = ["proof_of_envelope"]

_WHOLE = 1e-6


def proof_of_envelope(effect: str, count: int, units: DisplayUnits = US) -> Callable[..., Sheet]:
    """Return the proof of a moment or shear envelope."""

    def proof(**inputs: Any) -> Sheet:
        spans = tuple(float(inputs[name]) for name in span_names(count))
        found = along(
            effect, loads_of(inputs, count), spans,
            layout=inputs["layout"], load=inputs["load"], impact=float(inputs["impact"]),
        )  # fmt: skip
        sheet = Sheet(f"{effect} of the girder along its spans")
        _table(sheet, effect, units, found)
        _diagrams(sheet, effect, units, found)
        _extreme(sheet, effect, inputs, spans, found, units)
        return sheet

    return proof


def _place(found: Along, row: int) -> str:
    """Return a section in the trade's short form, span and fraction: 2.4, or 2.437 at a peak."""
    tenths = found.fractions[row] * 10
    if abs(tenths - round(tenths)) < _WHOLE:
        span = int(found.spans[row])
        return f"{span}.{round(tenths)}" if round(tenths) < 10 else f"{span}.10"
    return f"{found.spans[row] + found.fractions[row]:.3f}"


def _columns(found: Along) -> list[tuple[str, Any]]:
    """Return the unfactored curves with their names; settlement only where there is some."""
    settled = [("SE", found.SE)] if np.any(found.SE) else []
    return [
        ("DC1", found.DC1), ("DC2", found.DC2), ("DW", found.DW), *settled,
        ("LL+IM max", found.live_max), ("LL+IM min", found.live_min),
    ]  # fmt: skip


def _table(sheet: Sheet, effect: str, units: DisplayUnits, found: Along) -> None:
    columns = [*_columns(found), ("factored max", found.largest), ("factored min", found.smallest)]
    scale = units.effect_factor(effect)
    rows = [
        [
            _place(found, i), shown_text(float(x) * units.feet),
            *(_cell(values[i] * scale) for _, values in columns),
        ]
        for i, x in enumerate(found.x)
    ]  # fmt: skip
    what = (
        f"{effect.capitalize()} of the girder, {units.effect_text(effect)}; section is span and "
        "fraction of it, factored is Strength I"
    )
    header = ["section", f"x, {units.length_text}", *(name for name, _ in columns)]
    sheet.table(header, rows, what)


def _cell(value: float) -> str:
    """Return a value of a table; the figures label extremes with the very same text."""
    return "0" if abs(value) < 1e-9 else shown_text(float(value))


def _diagrams(sheet: Sheet, effect: str, units: DisplayUnits, found: Along) -> None:
    scale = units.effect_factor(effect)
    sets: tuple[tuple[str, list[tuple[str, Any]]], ...] = (
        ("unfactored", _columns(found)),
        ("factored, Strength I", [("largest", found.largest), ("smallest", found.smallest)]),
    )
    for kind, curves in sets:
        data = {
            "kind": "curves",
            "x": (found.x * units.feet).tolist(),
            "x_label": f"distance from the left end, {units.length_text}",
            "y_label": f"{effect}, {units.effect_text(effect)}",
            "series": [
                {"label": label, "y": (values * scale).tolist()} for label, values in curves
            ],
            "marks": _marks(found, curves[-2:], units.feet, scale),
            "invert_y": False,
        }
        sheet.figure(data, f"{effect.capitalize()} envelopes of the girder, {kind}")


def _marks(
    found: Along, curves: Sequence[tuple[str, Any]], feet: float, scale: float
) -> list[dict[str, Any]]:
    """Return the extremes of the upper and of the lower curve, with the numbers of the table."""
    upper, lower = curves[0][1], curves[1][1]
    rows = ((upper, int(np.argmax(upper))), (lower, int(np.argmin(lower))))
    return [
        {
            "x": float(found.x[row]) * feet, "y": float(curve[row]) * scale,
            "label": _cell(curve[row] * scale),
        }
        for curve, row in rows
    ]  # fmt: skip


def _extreme(
    sheet: Sheet,
    effect: str,
    inputs: dict[str, Any],
    spans: tuple[float, ...],
    found: Along,
    units: DisplayUnits,
) -> None:
    """Write the extreme once more, from procedures for the one section."""
    high = inputs["which"] == "max"
    row = int(np.argmax(found.largest) if high else np.argmin(found.smallest))
    unit = units.effect(effect)
    letter = "M" if effect == "moment" else "V"
    where = place_words(effect, spans, int(found.spans[row]), float(found.fractions[row]), units)
    at = (str(found.spans[row]), float(found.fractions[row]))
    values = _parts(sheet, effect, inputs, spans, at, unit)
    share = float((found.share_max if high else found.share_min)[row])
    g = float(f"{share:.15g}")
    live = sheet.step(
        f"{letter}_LL", g * values["lane"], unit, "live load of the girder", ref="LRFD 4.6.2.2"
    )
    cells: list[Any] = [values[name] for name in (*DEAD, "SE") if name in values]
    names = [name for name in (*DEAD, "SE") if name in values]
    header = [*names, "LL+IM, one lane", "lanes g", "LL+IM"]
    row_of_parts = [[*cells, values["lane"], shown_text(g), live]]
    sheet.table(header, row_of_parts, f"Parts of the extreme, {where}", instead=True)
    total = _factored(inputs, values, live, high=high)
    what = f"{'largest' if high else 'smallest'} factored {effect}, {where}"
    sheet.step(f"{letter}_u", total, unit, what, ref="LRFD 3.4.1-1")


def _parts(
    sheet: Sheet,
    effect: str,
    inputs: dict[str, Any],
    spans: tuple[float, ...],
    section: tuple[str, float],
    unit: Any,
) -> dict[str, Any]:
    """Write dead loads, settlement and one lane at a section."""
    letter = "M" if effect == "moment" else "V"
    place = span_inputs([span * ft for span in spans]) | {
        "place": section[0], "fraction": section[1]
    }  # fmt: skip
    stages = stage_kernels(len(spans))
    values: dict[str, Any] = {
        name: sheet.computed(
            f"{letter}_{name}", stages.loads[effect],
            place | {
                "layout": inputs[f"layout_{name}"], "loads": inputs[f"loads_{name}"],
                "load": inputs[name] * klf,
            },
            unit,
        )
        for name in DEAD
    }  # fmt: skip
    if inputs["settlements"] != NO_SETTLEMENT:
        values["SE"] = sheet.computed(
            f"{letter}_SE", stages.settlement[effect],
            place | {
                "layout": inputs["layout_SE"], "settlements": inputs["settlements"],
                "rigidity": inputs["rigidity"] * kip * ft**2,
            },
            unit,
        )  # fmt: skip
    values["lane"] = sheet.computed(
        f"{letter}_HL", span_kernels(len(spans)).live[effect],
        place | {
            "layout": inputs["layout"], "load": inputs["load"], "impact": inputs["impact"],
            "which": inputs["which"],
        },
        unit,
    )  # fmt: skip
    return values


def _factored(inputs: dict[str, Any], values: dict[str, Any], live: Any, *, high: bool) -> Any:
    """Return the factored total as a formula; each factor is the one that is worse."""
    factors = {name: float(inputs[name]) for name in _FACTORS}
    eta, eta_i = factors["eta"], factors["eta_i"]
    worse = maximum if high else minimum
    DC = values["DC1"] + values["DC2"]
    DW = values["DW"]
    total = worse(eta * factors["gamma_DC"] * DC, eta_i * factors["gamma_DCn"] * DC)
    total = total + worse(eta * factors["gamma_DW"] * DW, eta_i * factors["gamma_DWn"] * DW)
    if "SE" in values:
        factor = eta * factors["gamma_SE"]
        settled = worse(values["SE"], 0 * values["SE"].value.units)
        total = total + (settled if factor == 1 else factor * settled)
    return total + eta * factors["gamma_LL"] * live


_FACTORS = (
    "gamma_DC", "gamma_DCn", "gamma_DW", "gamma_DWn", "gamma_SE", "gamma_LL", "eta", "eta_i"
)  # fmt: skip
