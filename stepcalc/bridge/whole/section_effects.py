"""HL-93 and the fatigue truck at any section of a simple span, as procedures of a sheet."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

from stepcalc.analysis.train_moment import maximum_moment_at
from stepcalc.analysis.train_shear import maximum_shear
from stepcalc.analysis.vehicles import vehicle as find_vehicle
from stepcalc.sheet.kernels import Kernel, register_kernel

if TYPE_CHECKING:
    from collections.abc import Callable

__all__ = ["AXLE_MOMENT_AT", "HL93_MOMENT_AT", "HL93_SHEAR_AT", "SHEAR_RANGE_AT"]

_TRUCK, _TANDEM = "HL-93 truck", "HL-93 tandem"


def _plain(value: Any) -> Any:
    return float(value) if np.ndim(value) == 0 else value


def _moment(vehicle: str, span: Any, fraction: Any) -> Any:
    record = find_vehicle(vehicle)
    at = np.asarray(fraction) * np.asarray(span)
    return _plain(maximum_moment_at(record.axles, record.spacings, at, span=span).value)


def _shear(vehicle: str, span: Any, fraction: Any) -> Any:
    record = find_vehicle(vehicle)
    at = np.asarray(fraction) * np.asarray(span)
    return _plain(maximum_shear(record.axles, record.spacings, at, span=span).value)


def _of_both(effect: Callable[[str, Any, Any], Any], span: Any, fraction: Any) -> Any:
    return np.maximum(effect(_TRUCK, span, fraction), effect(_TANDEM, span, fraction))


def _hl93_moment(span: Any, fraction: Any, factor: Any, uniform: Any) -> Any:
    L, x = np.asarray(span), np.asarray(fraction)
    lane = uniform * L**2 * x * (1 - x) / 2
    return _plain(factor * _of_both(_moment, span, fraction) + lane)


def _hl93_shear(span: Any, fraction: Any, factor: Any, uniform: Any) -> Any:
    L, x = np.asarray(span), np.asarray(fraction)
    lane = uniform * L * (1 - x) ** 2 / 2
    return _plain(factor * _of_both(_shear, span, fraction) + lane)


def _shear_range(vehicle: str, span: Any, fraction: Any) -> Any:
    far = _shear(vehicle, span, 1 - np.asarray(fraction))
    return _plain(_shear(vehicle, span, fraction) + far)


_AT: dict[str, str | None] = {"span": "ft", "fraction": None}
_VEHICLE_AT = {"vehicle": "choice", **_AT}
_WITH_LANE_AT = {**_AT, "factor": None, "uniform": "kip/ft"}

AXLE_MOMENT_AT = register_kernel(
    Kernel(
        "simple span: axle moment at a section", 1, _moment, _VEHICLE_AT, "kip*ft", {},
        "largest moment of one vehicle at the section, an axle on the section, exact",
    )
)  # fmt: skip
"""Largest moment of one vehicle at a fraction of a simple span."""

HL93_MOMENT_AT = register_kernel(
    Kernel(
        "simple span: HL-93 moment at a section", 1, _hl93_moment, _WITH_LANE_AT, "kip*ft", {},
        "the greater of truck and tandem at the section times the impact factor, and the lane load "
        "there, exact",
    )
)  # fmt: skip
"""HL-93 moment of one lane at a fraction of a simple span, impact on the axles only."""

HL93_SHEAR_AT = register_kernel(
    Kernel(
        "simple span: HL-93 shear at a section", 1, _hl93_shear, _WITH_LANE_AT, "kip", {},
        "the greater of truck and tandem at the section times the impact factor, and the lane load "
        "on the longer side, exact",
    )
)  # fmt: skip
"""HL-93 shear of one lane at a fraction of a simple span, impact on the axles only."""

SHEAR_RANGE_AT = register_kernel(
    Kernel(
        "simple span: shear range of a vehicle at a section", 1, _shear_range, _VEHICLE_AT, "kip",
        {}, "greatest less least shear of one vehicle at the section; the least by symmetry, exact",
    )
)  # fmt: skip
"""Range of shear of one vehicle at a fraction of a simple span."""
