"""The 62 ft benchmark bridge as a composite one, for the tests of the whole package."""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING, Any

from stepcalc.bridge.composite_data import CompositeData
from stepcalc.bridge.composite_fields import CodeEdition
from stepcalc.bridge.fields import TopFlange
from stepcalc.bridge.whole.calculation import CompositeCalculation, composite_calculation
from stepcalc.units import Q_, ft, inch
from tests.unit.bridge_loads import bridge_62_ft

if TYPE_CHECKING:
    from stepcalc.bridge.data import BridgeData
    from stepcalc.sheet.sheet import Sheet

PLATES = {
    "top_flange_width": 14 * inch, "top_flange_thickness": 0.75 * inch, "web_depth": 34 * inch,
    "web_thickness": 0.5 * inch, "bottom_flange_width": 14 * inch,
    "bottom_flange_thickness": 1.25 * inch,
}  # fmt: skip
STIFFENERS = {
    "end_panel": 4 * ft, "panel": 7.75 * ft, "stiffener_width": 5 * inch,
    "stiffener_thickness": 0.5 * inch, "bearing_width": 6 * inch,
    "bearing_thickness": 0.75 * inch,
}  # fmt: skip


def details(**changes: Any) -> CompositeData:
    """Return 7/8 in studs, three in a row, 1500 trucks a day on two lanes."""
    values: dict[str, Any] = {
        "stud_diameter": 0.875 * inch, "stud_height": 5 * inch, "studs_per_row": 3,
        "stud_spacing": 4 * inch, "trucks_per_day": 1500, "truck_lanes": 2,
        "edition": CodeEdition.EIGHTH,
    }  # fmt: skip
    return CompositeData(**(values | changes))


def composite_bridge(of: CompositeData | None = None, **changes: Any) -> BridgeData:
    """Return five composite W36X135 at 8'-3" on 62 ft."""
    options: dict[str, Any] = {
        "composite": True, "details": of or details(), "top_flange": TopFlange.ANCHORED,
        "construction_load": Q_(10, "psf"), "modular_ratio": 8,
    }  # fmt: skip
    return bridge_62_ft(**(options | changes))


@lru_cache(maxsize=1)
def benchmark() -> CompositeCalculation:
    """Return the calculation of the benchmark, both girders."""
    return composite_calculation(composite_bridge(), proof=None)


def number(sheet: Sheet, path: str, unit: str = "") -> float:
    """Return the value of a node as a bare number in a unit."""
    return float(Q_(sheet[path].value).to(unit or "dimensionless").magnitude)


def check(sheet: Sheet, name: str) -> Any:
    """Return a check by its name."""
    return next(item for item in sheet.checks if item.name == name)
