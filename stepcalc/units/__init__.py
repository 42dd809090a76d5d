"""Units: one pint registry in kip, inch and second, and the names used on sheets."""

from __future__ import annotations

from typing import Any

from stepcalc.units.feet_inches import feet_and_inches
from stepcalc.units.registry import Q_, Quantity, Unit, registry

ft: Any = registry.foot
inch: Any = registry.inch
yd: Any = registry.yard
mi: Any = registry.mile
mm: Any = registry.millimetre
cm: Any = registry.centimetre
m: Any = registry.metre
kip: Any = registry.kip
lb: Any = registry.pound_force
ton: Any = registry.ton_force
N: Any = registry.newton
kN: Any = registry.kilonewton
ksi: Any = registry.kip_per_square_inch
psi: Any = registry.pound_per_square_inch
ksf: Any = registry.kip_per_square_foot
psf: Any = registry.pound_per_square_foot
pcf: Any = registry.pound_per_cubic_foot
kcf: Any = registry.kip_per_cubic_foot
plf: Any = registry.pound_per_foot
klf: Any = registry.kip_per_foot
kip_ft: Any = kip * ft
kip_in: Any = kip * inch
MPa: Any = registry.megapascal
kPa: Any = registry.kilopascal
second: Any = registry.second
hour: Any = registry.hour
day: Any = registry.day
year: Any = registry.year
mph: Any = registry.mile_per_hour
degree: Any = registry.degree
radian: Any = registry.radian
percent: Any = registry.percent

__all__ = [
    "Q_",
    "MPa",
    "N",
    "Quantity",
    "Unit",
    "cm",
    "day",
    "degree",
    "feet_and_inches",
    "ft",
    "hour",
    "inch",
    "kN",
    "kPa",
    "kcf",
    "kip",
    "kip_ft",
    "kip_in",
    "klf",
    "ksf",
    "ksi",
    "lb",
    "m",
    "mi",
    "mm",
    "mph",
    "pcf",
    "percent",
    "plf",
    "psf",
    "psi",
    "radian",
    "registry",
    "second",
    "ton",
    "yd",
    "year",
]  # fmt: skip
