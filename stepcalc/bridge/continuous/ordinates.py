"""The proof by ordinates: what stands where on the influence line, and the sum."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any

from stepcalc.bridge.continuous.display_units import US
from stepcalc.bridge.continuous.line_body import LineBody, place_words
from stepcalc.bridge.continuous.line_kernels import span_names
from stepcalc.bridge.continuous.values import live_proof
from stepcalc.bridge.proof_body import summed
from stepcalc.units.numbers import shown_text

if TYPE_CHECKING:
    from stepcalc.analysis.load_proof import LoadProof
    from stepcalc.bridge.continuous.display_units import DisplayUnits
    from stepcalc.sheet.sheet import Sheet

__all__ = ["dead_proof", "live_proof_sheet", "place_words", "write_placed"]


_MINUS = "\u2212"


def dead_proof(effect: str, count: int, units: DisplayUnits = US) -> Callable[..., Sheet]:
    """Return the proof of a uniform load: load times the areas of the influence line."""

    def proof(**inputs: Any) -> Sheet:
        spans = tuple(float(inputs[name]) for name in span_names(count))
        body = LineBody(f"{effect} by a uniform load on all spans", effect, spans, inputs, units)
        w = uniform_given(body, float(inputs["load"]))
        areas = signed_areas(body, 0.0, sum(spans))
        body.figure([], f"Influence line for {effect} {body.where}")
        value = w * summed(areas) if areas else 0 * body.unit
        body.sheet.step(body.symbol, value, body.unit, "load times areas", ref="statics")
        return body.sheet

    return proof


def uniform_given(body: LineBody, load: float) -> Any:
    """Write the uniform load, given in kip/ft, and return it."""
    size, units = body.units.in_line(load), body.units
    if units is US:
        return body.sheet.given("w", size, "uniform load", source="as above")
    # nobody typed the converted number, so that it is shown as a result
    return body.sheet.step("w", size, units.line, "uniform load", ref="as above")


def signed_areas(body: LineBody, start: float, end: float) -> list[Any]:
    """Write the areas of one sign each between two positions, as a table; return them."""
    found = [*body.line.regions(1), *body.line.regions(-1)]
    least = 1e-12 * max((abs(region.area) for region in found), default=0.0)
    stretches = sorted(
        (max(region.start, start), min(region.end, end))
        for region in found
        if abs(region.area) > least and region.start < end and region.end > start
    )
    return body.areas_table(stretches, "Areas of the influence line") if stretches else []


def live_proof_sheet(effect: str, count: int, units: DisplayUnits = US) -> Callable[..., Sheet]:
    """Return the proof of a live load: forces times ordinates, lane times areas."""

    def proof(**inputs: Any) -> Sheet:
        spans = tuple(float(inputs[name]) for name in span_names(count))
        place, fraction = int(inputs["place"]), float(inputs["fraction"])
        found = live_proof(
            effect,  # type: ignore[arg-type]  # one of the effects
            inputs["which"], inputs["load"], float(inputs["impact"]), spans,
            inputs["layout"], place, fraction,
        )  # fmt: skip
        kind = "largest" if inputs["which"] == "max" else "smallest"
        title = f"{found.case.id}: {kind} {effect} "
        title += place_words(effect, spans, place, fraction, units)
        body = LineBody(title, effect, spans, inputs, units)
        write_placed(body, found)
        return body.sheet

    return proof


def write_placed(body: LineBody, found: LoadProof) -> None:
    """Write what stands on the influence line of the body, and the sum as its last step.

    Parameters
    ----------
    body : LineBody
        Its line need not be that of the effect for which the loads govern.
    found : LoadProof
        The governing case: its counted axles and its stretches of lane load.
    """
    sheet, case, unit, symbol = body.sheet, found.case, body.unit, body.symbol
    counted = [axle for axle in found.axles if axle.counted]
    sheet.note(_stands(found, len(counted), body.units))
    parts: list[Any] = []
    if counted:
        ordinates = _axle_table(body, found)
        total = summed(
            [
                body.units.in_force(axle.force) * y
                for axle, y in zip(counted, ordinates, strict=True)
            ]
        )
        axles = sheet.step(f"{symbol}_ax", total, unit, "sum of products", ref="statics")
        factor = case.axle_factor if case.vehicle is not None else case.lane_factor
        parts.append(axles if factor == 1 else round(factor, 12) * axles)
    if found.lane:
        stretches = [(region.start, region.end) for region in found.lane]
        size = case.lane * body.units.kips / body.units.feet
        lane_words = f"{size:.4g} {body.units.line_text}"
        areas = body.areas_table(stretches, f"Lane load, {lane_words}, where it adds")
        lane = body.units.in_line(case.lane) * summed(areas)
        parts.append(lane if case.lane_factor == 1 else round(case.lane_factor, 12) * lane)
    body.figure(_arrows(body, found), f"{case.id} on the influence line for {body.effect}")
    value = summed(parts) if parts else 0 * unit
    sheet.step(symbol, value, unit, _sum_words(found), ref="superposition")


def _axle_table(body: LineBody, found: LoadProof) -> list[Any]:
    """Write the ordinates under the counted axles and their table; return the ordinates."""
    units = body.units
    counted = [axle for axle in found.axles if axle.counted]
    ordinates = [body.ordinate(f"y_{axle.axle}", axle.position, axle.side, "") for axle in counted]
    factor = units.effect_factor(body.effect)
    rows = []
    for axle, y in zip(counted, ordinates, strict=True):
        value = body.line(axle.position, side="left" if axle.side < 0 else "right")
        product = shown_text(axle.force * float(value) * factor).replace("-", _MINUS)
        rows.append(
            [
                f"{axle.axle}", shown_text(axle.force * units.kips),
                shown_text(axle.position * units.feet), y, product,
            ]
        )  # fmt: skip
    header = [
        "axle", f"force P, {units.force_text}", f"from the left end, {units.length_text}",
        "ordinate y", f"P y, {units.effect_text(body.effect)}",
    ]  # fmt: skip
    body.sheet.table(
        header, rows, f"Axles on the influence line; {found.case.source}", instead=True
    )
    return ordinates


def _arrows(body: LineBody, found: LoadProof) -> list[dict[str, Any]]:
    """Return the counted axles for the figure, from left to right."""
    placed = sorted((axle for axle in found.axles if axle.counted), key=lambda axle: axle.position)
    return [
        {
            "x": axle.position,
            "y": float(body.line(axle.position, side="left" if axle.side < 0 else "right")),
            "label": f"{axle.force * body.units.kips:.4g} {body.units.force_text}",
        }
        for axle in placed
    ]


def _sum_words(found: LoadProof) -> str:
    """Return what the factors of the sum are."""
    case = found.case
    if case.vehicle is None or case.axle_factor == 1:
        return "all together, one lane"
    return f"all together, one lane; axles times {case.axle_factor:.6g}, impact and share of case"


def _stands(found: LoadProof, counted: int, units: DisplayUnits) -> str:
    """Return in words what stands on the beam."""
    heading = f", heading {found.heading}" if found.heading else ""
    words = [f"Governing: {found.case.id}{heading}."]
    left = len(found.axles) - counted
    if left:
        words.append(
            f"{left} of {len(found.axles)} axles stand off the beam or would reduce the effect "
            "and are left out."
        )
    if not counted and not found.lane:
        words.append(f"Nothing on the beam adds to this effect: 0 {units.force_text}.")
    return " ".join(words)
