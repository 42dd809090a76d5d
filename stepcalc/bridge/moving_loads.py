"""Moving loads of a simple span as numerical procedures that can stand on a sheet.

Each takes a vehicle by name and the span, in ft and kip, and shows its own proof below the result:
``"statics"`` (placed axles, resultant, reaction, sum of moments, free body) or ``"ordinates"``
(influence line, ordinates, sum of force times ordinate).
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING, Any

import numpy as np

from stepcalc.analysis.train_deflection import maximum_midspan_deflection
from stepcalc.analysis.train_moment import maximum_moment
from stepcalc.analysis.train_shear import maximum_shear
from stepcalc.analysis.vehicles import vehicle as find_vehicle
from stepcalc.bridge import moving_load_proofs as proofs
from stepcalc.sheet.kernels import Kernel, register_kernel

if TYPE_CHECKING:
    from stepcalc.analysis.placement import Placement

__all__ = [
    "AXLE_DEFLECTION",
    "AXLE_MOMENT",
    "AXLE_SHEAR",
    "BESIDE_TRUCK",
    "COMBINED_MOMENT",
    "COMBINED_SECTION",
]

BESIDE_TRUCK = "statics, in brief where the design truck has more"
"""Proof of a vehicle beside the LRFD design truck."""


def _plain(value: Any) -> Any:
    """Return a float for a single value, the array otherwise."""
    return float(value) if np.ndim(value) == 0 else value


def _moment(vehicle: str, span: Any) -> Any:
    record = find_vehicle(vehicle)
    return _plain(maximum_moment(record.axles, record.spacings, span=span).value)


def _shear(vehicle: str, span: Any, section: Any) -> Any:
    record = find_vehicle(vehicle)
    return _plain(maximum_shear(record.axles, record.spacings, section, span=span).value)


def _combined(vehicle: str, span: Any, factor: Any, uniform: Any) -> Placement:
    record = find_vehicle(vehicle)
    return maximum_moment(record.axles, record.spacings, span=span, factor=factor, uniform=uniform)


def _combined_moment(vehicle: str, span: Any, factor: Any, uniform: Any) -> Any:
    return _plain(_combined(vehicle, span, factor, uniform).value)


def _combined_section(vehicle: str, span: Any, factor: Any, uniform: Any) -> Any:
    return _plain(_combined(vehicle, span, factor, uniform).section)


def _deflection(vehicle: str, span: Any) -> Any:
    record = find_vehicle(vehicle)
    found = maximum_midspan_deflection(record.axles, record.spacings, span=span, rigidity=1.0)
    return _plain(found.value)


_WITH_LANE = {"vehicle": "choice", "span": "ft", "factor": None, "uniform": "kip/ft"}

AXLE_MOMENT = register_kernel(
    Kernel(
        "simple span: axle moment",
        1,
        _moment,
        {"vehicle": "choice", "span": "ft"},
        "kip*ft",
        {
            "statics": proofs.moment_by_statics,
            "ordinates": proofs.moment_by_ordinates,
            BESIDE_TRUCK: partial(proofs.moment_beside, rival="HL-93 truck"),
        },
        "largest moment anywhere on the span: the peak under every axle of every run of "
        "neighbouring axles that stays on the span, exact",
    )
)
"""Largest moment of one vehicle anywhere on a simple span."""

AXLE_SHEAR = register_kernel(
    Kernel(
        "simple span: axle shear",
        1,
        _shear,
        {"vehicle": "choice", "span": "ft", "section": "ft"},
        "kip",
        {
            "statics": proofs.shear_by_statics,
            "ordinates": proofs.shear_by_ordinates,
            BESIDE_TRUCK: partial(proofs.shear_beside, rival="HL-93 truck"),
        },
        "largest shear at the section: every axle on the section, both headings, axles that "
        "reduce the shear left out, exact",
    )
)
"""Largest shear of one vehicle at a section of a simple span."""

COMBINED_MOMENT = register_kernel(
    Kernel(
        "simple span: combined moment",
        1,
        _combined_moment,
        _WITH_LANE,
        "kip*ft",
        {"statics": proofs.combined_by_statics, "ordinates": proofs.combined_by_ordinates},
        "largest moment of axles times a factor and a uniform load at one and the same section, "
        "exact",
    )
)
"""Largest moment of one vehicle and a uniform load together, at one section."""

COMBINED_SECTION = register_kernel(
    Kernel(
        "simple span: section of the combined moment",
        1,
        _combined_section,
        _WITH_LANE,
        "ft",
        {"statics": proofs.section_by_statics},
        "section of the largest moment of axles times a factor and a uniform load, exact",
    )
)
"""Where the largest moment of one vehicle and a uniform load together occurs."""

AXLE_DEFLECTION = register_kernel(
    Kernel(
        "simple span: axle deflection",
        1,
        _deflection,
        {"vehicle": "choice", "span": "ft"},
        "kip*ft**3",
        {"statics": proofs.deflection_by_statics},
        "largest midspan deflection times EI: every position in which its slope is zero, exact",
    )
)
"""Largest midspan deflection of one vehicle on a simple span, times EI."""
