"""Where the project's own numerical procedures are registered, for sheets read from JSON."""

from __future__ import annotations

from importlib import import_module

__all__ = ["own_kernels"]

#: Modules that register procedures when they are imported.
MODULES = (
    "stepcalc.bridge.moving_loads",
    "stepcalc.bridge.continuous.kernels",
    "stepcalc.bridge.continuous.envelopes",
    "stepcalc.bridge.continuous.stage_kernels",
    "stepcalc.bridge.continuous.beside",
    "stepcalc.bridge.continuous.span_peaks",
    "stepcalc.bridge.lanes.lever",
    "stepcalc.bridge.lanes.rigid",
    "stepcalc.bridge.sidewalks",
    "stepcalc.bridge.utilities",
    "stepcalc.bridge.whole.section_effects",
    "stepcalc.bridge.whole.continuous_registry",
)


def own_kernels() -> None:
    """Register every numerical procedure that ships with the project."""
    for module in MODULES:
        import_module(module)
