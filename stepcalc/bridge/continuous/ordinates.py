"""The proof by ordinates: what stands where on the influence line, and the sum."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any

import numpy as np

from stepcalc.bridge.continuous.layout import beam_of
from stepcalc.bridge.continuous.line_kernels import line_kernels, span_inputs, span_names
from stepcalc.bridge.continuous.values import line_at, live_proof
from stepcalc.bridge.proof_body import summed
from stepcalc.sheet.sheet import Sheet
from stepcalc.units import ft, kip, kip_ft
from stepcalc.units.numbers import shown_text

if TYPE_CHECKING:
    from stepcalc.analysis.load_proof import LoadProof
    from stepcalc.analysis.piecewise import PiecewisePolynomial

__all__ = ["dead_proof", "live_proof_sheet", "place_words"]

_SYMBOLS = {"moment": "M", "shear": "V", "reaction": "R", "deflection": "K"}
_ORDINATE_TEXTS = {"moment": "ft", "deflection": "ft^3, times EI"}
_POINTS = 181


def place_words(effect: str, spans: tuple[float, ...], place: int, fraction: float) -> str:
    """Return where an effect is, in words of the trade: span and fraction, or the support."""
    if effect == "reaction":
        return f"at support {place}"
    if fraction < 1e-9 or fraction > 1 - 1e-9:
        number = place + (fraction > 0.5)
        if effect == "shear":
            return f"at support {number}, on the side of span {place}"
        return f"at support {number}"
    feet = fraction * spans[place - 1]
    return f"in span {place} at {shown_text(fraction)} L, {shown_text(feet)} ft from its left end"


class _Body:
    """One influence line, with steps for its ordinates and areas."""

    def __init__(
        self, title: str, effect: Any, spans: tuple[float, ...], texts: dict[str, Any]
    ) -> None:
        self.sheet = Sheet(title)
        self.effect, self.spans = effect, spans
        self.layout, self.place = texts["layout"], int(texts["place"])
        self.fraction = float(texts["fraction"])
        self.line = line_at(effect, spans, self.layout, self.place, self.fraction)
        # units of an ordinate, of an area below the line, and of the effect itself
        units: dict[str, tuple[Any, Any, Any]] = {
            "moment": (ft, ft**2, kip_ft), "deflection": (ft**3, ft**4, kip * ft**3)
        }  # fmt: skip
        self.units = units.get(effect, (None, ft, kip))
        self.unit = self.units[2]
        self.symbol = _SYMBOLS[effect]
        self.inputs = span_inputs([span * ft for span in spans]) | {
            "layout": self.layout, "place": str(self.place), "fraction": self.fraction
        }  # fmt: skip
        self.kernels = line_kernels(len(spans))

    def ordinate(self, name: str, position: float, side: int, what: str) -> Any:
        """Write the ordinate at a position."""
        inputs = self.inputs | {"position": position * ft, "side": side}
        unit = self.units[0]
        kernel = self.kernels.ordinate[self.effect]
        return self.sheet.computed(name, kernel, inputs, unit, what, ref="influence line")

    def area(self, name: str, start: float, end: float) -> Any:
        """Write the area of a stretch."""
        inputs = self.inputs | {"start": start * ft, "end": end * ft}
        unit = self.units[1]
        what = f"area from {shown_text(start)} to {shown_text(end)} ft from the left end"
        kernel = self.kernels.area[self.effect]
        return self.sheet.computed(name, kernel, inputs, unit, what, ref="influence line")

    def figure(self, loads: list[dict[str, Any]], caption: str) -> None:
        """Draw the line with what stands on it."""
        x, y = _drawn(self.line, beam_of(self.spans, self.layout).supports)
        unit = _ORDINATE_TEXTS.get(self.effect, "")
        what = f"ordinate, {unit}" if unit else "ordinate"
        data = {
            "kind": "influence", "x": x, "y": y, "loads": loads,
            "x_label": "distance from the left end, ft", "y_label": what,
        }  # fmt: skip
        self.sheet.figure(data, caption)


def _drawn(
    line: PiecewisePolynomial, supports: tuple[float, ...]
) -> tuple[list[float], list[float]]:
    """Return points of the line, both sides of every break, so that a jump is drawn upright."""
    ends = float(line.breaks[0]), float(line.breaks[-1])
    breaks = np.unique(np.r_[line.breaks, supports])
    inner = np.linspace(*ends, _POINTS)
    inner = inner[np.min(np.abs(inner[:, None] - breaks), axis=1) > 1e-9 * ends[1]]
    x = np.r_[inner, breaks, breaks]
    y = np.r_[line(inner), line(breaks, side="left"), line(breaks, side="right")]
    order = np.argsort(x, kind="stable")
    return x[order].tolist(), y[order].tolist()


def dead_proof(effect: str, count: int) -> Callable[..., Sheet]:
    """Return the proof of a uniform load: load times the areas of the influence line."""

    def proof(**inputs: Any) -> Sheet:
        spans = tuple(float(inputs[name]) for name in span_names(count))
        where = place_words(effect, spans, int(inputs["place"]), float(inputs["fraction"]))
        body = _Body(f"uniform load on all spans: {effect} {where}", effect, spans, inputs)
        w = body.sheet.given("w", inputs["load"] * kip / ft, "uniform load", source="as above")
        found = [*body.line.regions(1), *body.line.regions(-1)]
        least = 1e-12 * max((abs(region.area) for region in found), default=0.0)
        regions = sorted(
            (region for region in found if abs(region.area) > least),
            key=lambda region: region.start,
        )
        areas = [
            body.area(f"A_{i}", region.start, region.end) for i, region in enumerate(regions, 1)
        ]
        body.figure([], f"influence line for {effect} {where}")
        value = w * summed(areas) if areas else 0 * body.unit
        body.sheet.step(body.symbol, value, body.unit, "load times areas", ref="statics")
        return body.sheet

    return proof


def live_proof_sheet(effect: str, count: int) -> Callable[..., Sheet]:
    """Return the proof of a live load: forces times ordinates, lane times areas."""

    def proof(**inputs: Any) -> Sheet:
        spans = tuple(float(inputs[name]) for name in span_names(count))
        place, fraction = int(inputs["place"]), float(inputs["fraction"])
        found = live_proof(
            effect,  # type: ignore[arg-type]  # one of the three effects
            inputs["which"], inputs["load"], float(inputs["impact"]), spans,
            inputs["layout"], place, fraction,
        )  # fmt: skip
        where = place_words(effect, spans, place, fraction)
        kind = "largest" if inputs["which"] == "max" else "smallest"
        body = _Body(f"{found.case.id}: {kind} {effect} {where}", effect, spans, inputs)
        _write_live(body, found, where)
        return body.sheet

    return proof


def _write_live(body: _Body, found: LoadProof, where: str) -> None:
    sheet, case, unit, symbol = body.sheet, found.case, body.unit, body.symbol
    counted = [axle for axle in found.axles if axle.counted]
    sheet.note(_stands(found, len(counted)))
    parts: list[Any] = []
    product = {"moment": "kip-ft", "deflection": "kip-ft^3"}.get(body.effect, "kip")
    if counted:
        ordinates = [
            body.ordinate(f"y_{axle.axle}", axle.position, axle.side, _axle_words(axle))
            for axle in counted
        ]
        rows = [
            [
                f"{axle.axle}",
                f"{shown_text(axle.force)} kip",
                f"{shown_text(axle.position)} ft",
                y,
                f"{shown_text(axle.product)} {product}",
            ]
            for axle, y in zip(counted, ordinates, strict=True)
        ]
        header = ["axle", "force", "from the left end", "ordinate", "product"]
        sheet.table(header, rows, f"Axles on the influence line; {case.source}")
        total = summed([axle.force * kip * y for axle, y in zip(counted, ordinates, strict=True)])
        axles = sheet.step(f"{symbol}_ax", total, unit, "sum of products", ref="statics")
        parts.append(_factor(sheet, found) * axles)
    if found.lane:
        w = sheet.given("w", case.lane * kip / ft, "lane load", source="the load case")
        areas = [
            body.area(f"A_{i}", region.start, region.end) for i, region in enumerate(found.lane, 1)
        ]
        what = "lane load on the areas that add"
        lane = sheet.step(f"{symbol}_ln", w * summed(areas), unit, what, ref="statics")
        parts.append(lane if case.lane_factor == 1 else _lane_factor(sheet, found) * lane)
    loads = [
        {"x": axle.position, "y": axle.ordinate, "label": f"{axle.force:.4g} kip"}
        for axle in sorted(counted, key=lambda axle: axle.position)
    ]
    body.figure(loads, f"{case.id} on the influence line for {found.effect} {where}")
    value = summed(parts) if parts else 0 * unit
    sheet.step(symbol, value, unit, "all together, one lane", ref="superposition")


def _stands(found: LoadProof, counted: int) -> str:
    """Return in words what stands on the beam."""
    heading = f", heading {found.heading}" if found.heading else ""
    words = [f"Governing: {found.case.id}{heading}."]
    left = len(found.axles) - counted
    if left:
        words.append(
            f"{left} of {len(found.axles)} axles stand off the beam or would reduce the effect "
            "and are left out."
        )
    if found.lane:
        stretches = ", ".join(
            f"{shown_text(r.start)} to {shown_text(r.end)} ft" for r in found.lane
        )
        words.append(f"Lane load stands from {stretches}.")
    if not counted and not found.lane:
        words.append("Nothing that stands on the beam adds to this effect.")
    return " ".join(words)


def _axle_words(axle: Any) -> str:
    return f"under axle {axle.axle}, {axle.force:.4g} kip, at {shown_text(axle.position)} ft"


def _factor(sheet: Sheet, found: LoadProof) -> Any:
    case = found.case
    value = case.axle_factor if case.vehicle is not None else case.lane_factor
    what = "factor on the axles: 1 + IM, times the share of the case"
    return sheet.given("f", round(value, 12), what, source="the load case")


def _lane_factor(sheet: Sheet, found: LoadProof) -> Any:
    case = found.case
    what = "factor on the lane load"
    return sheet.given("f_ln", round(case.lane_factor, 12), what, source="the load case")
