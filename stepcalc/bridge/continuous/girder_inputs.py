"""The inputs of the procedures of one girder, and the loads that they describe."""

from __future__ import annotations

from typing import Any

from stepcalc.bridge.continuous.girder import GirderLoads

__all__ = ["DEAD", "FACTORS", "loads_of", "numbers_of"]

FACTORS = ("gamma_DC", "gamma_DCn", "gamma_DW", "gamma_DWn", "gamma_LL", "eta", "eta_i")
DEAD = ("DC1", "DC2", "DW")


def numbers_of(count: int) -> tuple[str, ...]:
    """Return the names of the inputs that are numbers, spans excluded."""
    positive = tuple(f"g_positive_{i}" for i in range(1, count + 1))
    negative = tuple(f"g_negative_{i}" for i in range(1, count))
    return (*DEAD, "impact", *positive, *negative, "g_shear", *FACTORS)


def loads_of(inputs: dict[str, Any], count: int) -> GirderLoads:
    """Return the loads that the inputs of these procedures describe."""
    return GirderLoads(
        float(inputs["DC1"]),
        float(inputs["DC2"]),
        float(inputs["DW"]),
        tuple(float(inputs[f"g_positive_{i}"]) for i in range(1, count + 1)),
        tuple(float(inputs[f"g_negative_{i}"]) for i in range(1, count)),
        float(inputs["g_shear"]),
        tuple(float(inputs[name]) for name in FACTORS),
    )
