"""The inputs of the procedures of one girder, and the loads that they describe."""

from __future__ import annotations

from typing import Any

from stepcalc.bridge.continuous.girder import GirderLoads, Settled, Staged

__all__ = ["DEAD", "FACTORS", "NO_SETTLEMENT", "girder_units", "loads_of", "numbers_of"]

FACTORS = ("gamma_DC", "gamma_DCn", "gamma_DW", "gamma_DWn", "gamma_SE", "gamma_LL", "eta", "eta_i")
DEAD = ("DC1", "DC2", "DW")
NO_SETTLEMENT = "none"
_UNITS = {"DC1": "kip/ft", "DC2": "kip/ft", "DW": "kip/ft", "rigidity": "kip*ft**2"}
_TEXTS = (
    "layout", "load", *(f"{what}_{name}" for name in DEAD for what in ("layout", "loads")),
    "settlements", "layout_SE",
)  # fmt: skip


def numbers_of(count: int) -> tuple[str, ...]:
    """Return the names of the inputs that are numbers, spans excluded."""
    positive = tuple(f"g_positive_{i}" for i in range(1, count + 1))
    negative = tuple(f"g_negative_{i}" for i in range(1, count))
    return (*DEAD, "rigidity", "impact", *positive, *negative, "g_shear", *FACTORS)


def girder_units(count: int) -> dict[str, str | None]:
    """Return the inputs of the procedures with their units, spans excluded."""
    units: dict[str, str | None] = dict.fromkeys(_TEXTS, "choice")
    return units | {name: _UNITS.get(name) for name in numbers_of(count)}


def loads_of(inputs: dict[str, Any], count: int) -> GirderLoads:
    """Return the loads that the inputs of these procedures describe."""
    text = inputs["settlements"]
    settled = None
    if text != NO_SETTLEMENT:
        settled = Settled(inputs["layout_SE"], text, float(inputs["rigidity"]))
    return GirderLoads(
        tuple(
            Staged(inputs[f"layout_{name}"], inputs[f"loads_{name}"], float(inputs[name]))
            for name in DEAD
        ),
        settled,
        tuple(float(inputs[f"g_positive_{i}"]) for i in range(1, count + 1)),
        tuple(float(inputs[f"g_negative_{i}"]) for i in range(1, count)),
        float(inputs["g_shear"]),
        tuple(float(inputs[name]) for name in FACTORS),
    )
