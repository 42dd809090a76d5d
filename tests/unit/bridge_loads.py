"""Bridges and load sheets for the tests of dead load, live load and distribution."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from stepcalc import Sheet
from stepcalc.bridge.data import BridgeData
from stepcalc.bridge.dead_load import dead_load_effects, dead_loads
from stepcalc.bridge.distribution import fatigue_distribution, interior_distribution
from stepcalc.bridge.fields import HaunchDatum, TopFlange, WearingBasis
from stepcalc.bridge.givens import BridgeNodes, state_bridge
from stepcalc.bridge.live_load import axle_deflection, girder_live_load, hl93_lane
from stepcalc.bridge.section import trial_shape
from stepcalc.units import Q_, ft, inch, klf, ksi, psf


def bridge_62_ft(**changes: Any) -> BridgeData:
    """Return five W36X135 at 8'-3" on 62 ft, whose numbers were computed by hand."""
    data: dict[str, Any] = {
        "span": 62 * ft, "girders": 5, "girder_spacing": 8.25 * ft, "overhang": 3 * ft,
        "barrier_width": 1.375 * ft, "deck_thickness": 8.5 * inch,
        "structural_thickness": 8 * inch, "haunch": 1.5 * inch,
        "haunch_datum": HaunchDatum.TOP_OF_FLANGE, "barrier_weight": 0.42 * klf,
        "wearing_surface": 25 * psf, "wearing_basis": WearingBasis.SHARED, "forms": 15 * psf,
        "miscellaneous": Q_(6, "percent"), "shape": "W36X135", "diaphragm_spacing": 15.5 * ft,
        "top_flange": TopFlange.EMBEDDED, "bearing_length": 12 * inch, "steel_grade": "50",
        "concrete_strength": 4 * ksi,
    }  # fmt: skip
    return BridgeData(**(data | changes))


@dataclass(frozen=True)
class Loads:
    """A sheet with all loads of an interior girder, and its bridge."""

    sheet: Sheet
    bridge: BridgeNodes

    def number(self, name: str, unit: str = "") -> float:
        """Return the value of a node as a bare number in a unit."""
        return number(self.sheet, name, unit)


def number(sheet: Sheet, name: str, unit: str = "") -> float:
    """Return the value of a node as a bare number in a unit."""
    return float(Q_(sheet[name].value).to(unit or "dimensionless").magnitude)


def loads(data: BridgeData, *, proof: str | None = None) -> Loads:
    """Return the sheet with dead load, HL-93 and distribution of an interior girder."""
    sheet = Sheet("interior girder")
    bridge = state_bridge(sheet, data)
    trial = trial_shape(sheet, bridge.shape)
    weights = dead_loads(sheet, bridge, trial)
    lane = hl93_lane(sheet, bridge.span, definition=data.live_load_maximum, proof=proof)
    dead_load_effects(sheet, weights, span=bridge.span, section=lane.section)
    factors = interior_distribution(sheet, bridge, trial, weights.haunch)
    fatigue_distribution(sheet, factors)
    girder_live_load(sheet, lane, moment_factor=factors.moment, shear_factor=factors.shear)
    axle_deflection(sheet, bridge.span, proof=None)
    return Loads(sheet, bridge)
