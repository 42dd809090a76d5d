"""The proof of a live load by statics: what stands where, reactions, one side of the section."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from stepcalc.analysis.beam_loads import Concentrated, Distributed
from stepcalc.analysis.beam_response import response
from stepcalc.bridge.continuous.display_units import US
from stepcalc.bridge.continuous.layout import beam_of, section_of
from stepcalc.bridge.continuous.line_body import place_words
from stepcalc.bridge.continuous.line_kernels import span_inputs, span_names
from stepcalc.bridge.continuous.values import live_proof
from stepcalc.bridge.proof_body import summed
from stepcalc.sheet.formula_cell import symbol_cell
from stepcalc.sheet.sheet import Sheet
from stepcalc.units import ft, klf

if TYPE_CHECKING:
    from stepcalc.analysis.load_proof import LoadProof
    from stepcalc.bridge.continuous.display_units import DisplayUnits

__all__ = ["statics_proof"]

_TINY = 1e-9


@dataclass(frozen=True)
class _Force:
    """One axle with its factor, or a stretch of lane load, kip and ft from the left end."""

    words: str
    force: float
    start: float
    end: float
    side: int

    @property
    def uniform(self) -> bool:
        return self.end > self.start


def statics_proof(effect: str, count: int, units: DisplayUnits = US) -> Callable[..., Sheet]:
    """Return the proof of moment or shear by statics: reactions, free body, sum of moments.

    The reactions are those of the governing loads by the stiffness method, without any influence
    line; their sum is compared with the loads, and one side of the section gives the effect.
    """

    def proof(**inputs: Any) -> Sheet:
        spans = tuple(float(inputs[name]) for name in span_names(count))
        place, fraction = int(inputs["place"]), float(inputs["fraction"])
        found = live_proof(
            effect,  # type: ignore[arg-type]  # moment or shear
            inputs["which"], inputs["load"], float(inputs["impact"]), spans,
            inputs["layout"], place, fraction,
        )  # fmt: skip
        where = place_words(effect, spans, place, fraction, units)
        sheet = Sheet(f"{found.case.id}: {effect} {where}")
        heading = f", heading {found.heading}" if found.heading else ""
        sheet.note(
            f"Governing: {found.case.id}{heading}. Forces hold impact and share of the case."
        )
        forces = _forces(found)
        sizes = _state_loads(sheet, forces, units)
        reactions = _reactions(sheet, forces, spans, inputs["layout"], units)
        x = section_of(spans, place, fraction)
        start = 0.0 if effect == "shear" else _end_moment(forces, spans, inputs["layout"])
        # round-off must not stand for a moment at an end support
        acting = forces if abs(found.value) > _TINY else []
        held = reactions if acting else []
        loads = list(zip(acting, sizes[: len(acting)], strict=True))
        _one_side(sheet, effect, loads, held, (x, fraction, start), units)
        return sheet

    return proof


def _forces(found: LoadProof) -> list[_Force]:
    """Return what stands on the girder, its factors in the forces."""
    case = found.case
    factor = case.axle_factor if case.vehicle is not None else case.lane_factor
    axles = [
        _Force(f"axle {axle.axle}", factor * axle.force, axle.position, axle.position, axle.side)
        for axle in found.axles
        if axle.counted
    ]
    lanes = [
        _Force("lane", case.lane_factor * case.lane, region.start, region.end, 0)
        for region in found.lane
    ]
    return [*axles, *lanes]


def _state_loads(sheet: Sheet, forces: list[_Force], units: DisplayUnits) -> list[Any]:
    """Write what stands on the girder as nodes of one table; return them."""
    found, rows = [], []
    for number, force in enumerate(forces, 1):
        words = units.feet_words
        where = f"at {words(force.start)}"
        name, size, unit = f"P_{number}", units.in_force(force.force), units.force
        if force.uniform:
            where = f"{words(force.start)} to {words(force.end)}"
            name, size, unit = f"w_{number}", units.in_line(force.force), units.line
        node = sheet.step(name, size, unit, f"{force.words}, {where}", ref="governing case")
        found.append(node)
        rows.append([symbol_cell(name), force.words, where, node])
    if rows:
        header = ["", "load", "from the left end", "size"]
        sheet.table(header, rows, "Loads as they stand", instead=True)
    return found


def _reactions(
    sheet: Sheet, forces: list[_Force], spans: tuple[float, ...], layout: str, units: DisplayUnits
) -> list[tuple[Any, float]]:
    """Write the reactions of all supports and their sum; return them with their positions."""
    from stepcalc.bridge.continuous.stage_kernels import stage_kernels

    beam = beam_of(spans, layout)
    text = "; ".join(
        f"{force.force:.15g} klf from {force.start:.12f} ft to {force.end:.12f} ft"
        if force.uniform
        else f"{force.force:.15g} kip at {force.start:.12f} ft"
        for force in forces
    )
    base = span_inputs([span * ft for span in spans]) | {
        "layout": layout, "fraction": 0.0, "load": 0 * klf, "loads": text or "0 kip at 0 ft"
    }  # fmt: skip
    kernel = stage_kernels(len(spans)).loads["reaction"]
    found = [
        sheet.computed(
            f"R_{number}", kernel, base | {"place": str(number)}, units.force,
            f"support {number}", ref="stiffness",
        )
        for number in range(1, len(beam.supports) + 1)
    ]  # fmt: skip
    rows = [
        [f"{number}", units.feet_words(at), R]
        for number, (at, R) in enumerate(zip(beam.supports, found, strict=True), 1)
    ]
    sheet.table(
        ["support", "from the left end", "reaction"], rows,
        "Reactions of these loads, by the stiffness method", instead=True,
    )  # fmt: skip
    total = sum(force.force * ((force.end - force.start) or 1.0) for force in forces)
    sheet.step(
        "R", summed(found), units.force, f"all reactions; the loads are {units.kips_words(total)}",
        ref="equilibrium",
    )  # fmt: skip
    return list(zip(found, beam.supports, strict=True))


def _one_side(
    sheet: Sheet,
    effect: str,
    loads: list[tuple[_Force, Any]],
    reactions: list[tuple[Any, float]],
    section: tuple[float, float, float],
    units: DisplayUnits,
) -> None:
    """Write the effect from what is left of the section: position, fraction, moment at the end."""
    x, fraction, start = section
    near = _TINY * max((at for _, at in reactions), default=1.0)
    face = near if effect == "shear" and fraction <= 1 - _TINY else -near
    shear, length = effect == "shear", units.in_length
    parts = [R if shear else R * length(x - at) for R, at in reactions if at < x + face]
    down: list[Any] = []
    for force, size in loads:
        if force.uniform:
            long = min(force.end, x) - force.start
            if long > near:
                total = size * length(long)
                down.append(total if shear else total * length(x - force.start - long / 2))
        elif force.start < x - near or (abs(force.start - x) <= near and force.side < 0):
            if shear:
                down.append(size)
            elif x - force.start > near:
                down.append(size * length(x - force.start))
    if start:
        parts.insert(0, start * units.kips * units.feet * units.moment)
    value = summed(parts) if parts else 0 * units.effect(effect)
    for part in down:
        value = value - part
    symbol = "V" if effect == "shear" else "M"
    what = "left of the section: reactions up, loads down"
    sheet.step(symbol, value, units.effect(effect), what, ref="equilibrium")


def _end_moment(forces: list[_Force], spans: tuple[float, ...], layout: str) -> float:
    """Return the moment of a fixed left end, kip-ft; 0 at any other end."""
    if "fixed" not in layout.partition("ends:")[2].partition(",")[0]:
        return 0.0
    beam = beam_of(spans, layout)
    loads = [
        Distributed(force.start, force.end, force.force)
        if force.uniform
        else Concentrated(force.start, force.force)
        for force in forces
    ]
    return float(response(beam, loads).moment(0.0))
