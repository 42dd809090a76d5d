"""The proofs of staged dead load, by the influence line, and of settlements, by statics."""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache
from typing import TYPE_CHECKING, Any

from stepcalc.analysis.beam_loads import Concentrated, Distributed
from stepcalc.bridge.continuous.display_units import US
from stepcalc.bridge.continuous.layout import MOST_SPANS, beam_of, section_of
from stepcalc.bridge.continuous.line_body import LineBody, place_words
from stepcalc.bridge.continuous.line_kernels import broadcast, place_units, span_inputs, span_names
from stepcalc.bridge.continuous.ordinates import signed_areas, uniform_given
from stepcalc.bridge.continuous.stage_loads import stage_loads
from stepcalc.bridge.continuous.stage_values import settled_response, value_in
from stepcalc.bridge.continuous.values import line_at
from stepcalc.bridge.proof_body import summed
from stepcalc.sheet.formula_cell import symbol_cell
from stepcalc.sheet.kernels import Kernel, register_kernel
from stepcalc.sheet.sheet import Sheet
from stepcalc.units import ft, kip

if TYPE_CHECKING:
    from stepcalc.bridge.continuous.display_units import DisplayUnits

__all__ = ["settlement_proof", "stage_proof"]

_AREA_UNITS = {"moment": "ft**2", "shear": "ft", "reaction": "ft"}


@lru_cache(maxsize=MOST_SPANS * 3)
def weighted_area(effect: str, count: int) -> Kernel:
    """Return the procedure for the area under a weight that rises from 0 to 1 over the stretch."""

    def value(
        spans: tuple[float, ...], fraction: float, start: float, end: float, **texts: str
    ) -> float:
        line = line_at(
            effect, spans, texts["layout"], int(texts["place"]), fraction,
        )  # fmt: skip
        return float(line.integral(start, end, at_start=0.0, at_end=1.0))

    return register_kernel(
        Kernel(
            f"beam of {count} span{'s' if count > 1 else ''}: {effect}, area under a rising weight",
            1,
            broadcast(count, value, ("fraction", "start", "end")),
            place_units(count) | {"start": "ft", "end": "ft"},
            _AREA_UNITS[effect],
            {},
            "influence line times a weight from 0 to 1",
        )
    )


def stage_proof(effect: str, count: int, units: DisplayUnits = US) -> Callable[..., Sheet]:
    """Return the proof of one stage: loads times areas and ordinates of the influence line."""

    def proof(**inputs: Any) -> Sheet:
        spans = tuple(float(inputs[name]) for name in span_names(count))
        body = LineBody(f"{effect} by one stage of dead load", effect, spans, inputs, units)
        loads = stage_loads(inputs["loads"], spans)
        parts: list[Any] = []
        if loads.stretches:
            w = uniform_given(body, float(inputs["load"]))
            if len(loads.stretches) == 1:
                areas = signed_areas(body, *loads.stretches[0])
            else:
                areas = body.areas_table(list(loads.stretches), "Areas of the influence line")
            if areas:
                parts.append(w * summed(areas))
        rows: list[list[Any]] = []
        for number, load in enumerate(loads.fixed, 1):
            parts.append(_fixed(body, number, load, rows))
        if rows:
            header = ["", "of the influence line", "value"]
            body.sheet.table(header, rows, "For the loads with a size of their own", instead=True)
        arrows = [
            {
                "x": load.position,
                "y": float(body.line(load.position)),
                "label": f"{load.force * units.kips:.4g} {units.force_text}",
            }
            for load in loads.fixed
            if isinstance(load, Concentrated)
        ]
        body.figure(arrows, f"Influence line for {effect} {body.where}")
        value = summed(parts) if parts else 0 * body.unit
        body.sheet.step(body.symbol, value, body.unit, "loads times areas", ref="statics")
        return body.sheet

    return proof


def _fixed(
    body: LineBody, number: int, load: Distributed | Concentrated, rows: list[list[Any]]
) -> Any:
    """Write one load with a size of its own into `rows`, and return its part of the effect."""
    units = body.units
    words = body.units.feet_words
    if isinstance(load, Concentrated):
        y = body.ordinate(f"y_{number}", load.position, 1, f"at {words(load.position)}")
        rows.append([symbol_cell(f"y_{number}"), f"ordinate at {words(load.position)}", y])
        return units.in_force(load.force) * y
    first, last = load.ends
    stretch = f"from {words(load.start)} to {words(load.end)}"
    whole = body.area(f"A_w{number}", load.start, load.end)
    rows.append([symbol_cell(f"A_w{number}"), f"area {stretch}", whole])
    if first == last:
        return units.in_line(first) * whole
    inputs = body.inputs | {"start": load.start * ft, "end": load.end * ft}
    power = 2 if body.effect == "moment" else 1
    rising = body.sheet.computed(
        f"B_w{number}", weighted_area(body.effect, len(body.spans)), inputs,
        body.units.length**power, f"area under a weight from 0 to 1 {stretch}",
        ref="influence line",
    )  # fmt: skip
    what = f"area under a weight from 0 to 1 {stretch}"
    rows.append([symbol_cell(f"B_w{number}"), what, rising])
    return units.in_line(first) * whole + units.in_line(last - first) * rising


def settlement_proof(effect: str, count: int, units: DisplayUnits = US) -> Callable[..., Sheet]:
    """Return the proof of a settlement: reactions in equilibrium, then one side of the section."""

    def proof(**inputs: Any) -> Sheet:
        from stepcalc.bridge.continuous.stage_kernels import stage_kernels

        spans = tuple(float(inputs[name]) for name in span_names(count))
        place, fraction = int(inputs["place"]), float(inputs["fraction"])
        sheet = Sheet(f"settlement: {effect} {place_words(effect, spans, place, fraction, units)}")
        beam = beam_of(spans, inputs["layout"])
        kernels = stage_kernels(count).settlement
        base = span_inputs([span * ft for span in spans]) | {
            name: inputs[name] for name in ("layout", "settlements")
        }
        base |= {"rigidity": inputs["rigidity"] * kip * ft**2, "fraction": 0.0}
        reactions = [
            sheet.computed(
                f"R_{number}", kernels["reaction"], base | {"place": str(number)}, units.force,
                f"support {number}", ref="stiffness",
            )
            for number in range(1, len(beam.supports) + 1)
        ]  # fmt: skip
        rows = [
            [f"{number}", units.feet_words(at), R]
            for number, (at, R) in enumerate(zip(beam.supports, reactions, strict=True), 1)
        ]
        header = ["support", "from the left end", "reaction"]
        sheet.table(header, rows, "Reactions by the settlement; their sum is 0", instead=True)
        _by_statics(sheet, effect, inputs, spans, reactions, units)
        return sheet

    return proof


def _by_statics(
    sheet: Sheet,
    effect: str,
    inputs: dict[str, Any],
    spans: tuple[float, ...],
    reactions: list[Any],
    units: DisplayUnits,
) -> None:
    """Write the effect from the reactions at one side of the section."""
    place, fraction = int(inputs["place"]), float(inputs["fraction"])
    beam = beam_of(spans, inputs["layout"])
    if effect == "reaction":
        others = [R for number, R in enumerate(reactions, 1) if number != place]
        sheet.step("R", -summed(others), units.force, "what the others leave", ref="equilibrium")
        return
    x = section_of(spans, place, fraction)
    near = 1e-9 * beam.length
    past = near if effect == "shear" and fraction < 1 - 1e-9 else -near
    left = [(R, at) for R, at in zip(reactions, beam.supports, strict=True) if at < x + past]
    fixed = settled_response(
        spans, inputs["layout"], inputs["settlements"], float(inputs["rigidity"])
    )
    if effect == "shear":
        value: Any = summed([R for R, _ in left]) if left else 0 * kip
        sheet.step("V", value, units.force, "left of the section", ref="equilibrium")
        return
    value = summed([R * units.in_length(x - at) for R, at in left]) if left else 0 * kip * ft
    start = value_in(fixed, "moment", spans, 1, 0.0)
    if start:
        value = value + start * kip * ft
    if not value_in(fixed, "moment", spans, place, fraction):
        value = 0 * kip * ft
    sheet.step("M", value, units.moment, "left of the section", ref="equilibrium")
