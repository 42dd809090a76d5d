"""Errors planted in the sheets of continuous girders: stages, pours, cases, limit states."""

from __future__ import annotations

from tests.planted.place import places

_UNIT = "tests/unit/test_continuous_"

CONTINUOUS = [
    *places(
        "bridge/continuous/stage_values.py",
        f"{_UNIT}stages.py",
        ("inches / 12", "inches"),
    ),
    *places(
        "bridge/continuous/stage_loads.py",
        f"{_UNIT}stages.py",
        ("Distributed(start, end, first, last)", "Distributed(start, end, first, first)"),
    ),
    *places(
        "bridge/continuous/girder.py",
        f"{_UNIT}stages.py",
        ("se * np.minimum(SE, 0.0)", "se * SE"),
    ),
    *places(
        "bridge/continuous/stages.py",
        f"{_UNIT}stages.py",
        ("ratio <= now * (1 + _ROUNDED)", "ratio <= now * (2 + _ROUNDED)"),
    ),
    *places(
        "bridge/continuous/pour.py",
        f"{_UNIT}pour.py",
        ("summed(by_pour[:k])", "summed(by_pour[k - 1 :])"),
        ("law = deck if any(", "law = bare if any("),
    ),
    *places(
        "bridge/continuous/separate_maxima.py",
        f"{_UNIT}live.py",
        ('return sections["ln"], total', 'return sections["tr"], total'),
    ),
    *places(
        "bridge/continuous/beside.py",
        f"{_UNIT}live.py",
        ("face = 1 if abs(right) > abs(left) else -1", "face = 1"),
    ),
    *places(
        "bridge/continuous/loads.py",
        f"{_UNIT}live.py",
        ("pair=Pair(26.0, 40.0)", "pair=Pair(50.0, 60.0)"),
    ),
    *places(
        "bridge/continuous/statics_proof.py",
        f"{_UNIT}live.py",
        ("length(x - force.start - long / 2)", "length(x - force.start - long)"),
    ),
    *places(
        "bridge/continuous/standard_effects.py",
        f"{_UNIT}live.py",
        ("self.wheel_lines / 2", "self.wheel_lines / 1"),
    ),
    *places(
        "bridge/continuous/combinations.py",
        f"{_UNIT}combinations.py",
        ("eta_i * f.DC_least * D", "eta * f.DC_least * D"),
        ("f.DC_4 * D + f.DW_4 * W", "f.DC * D + f.DW_4 * W"),
        ("rules.finite * span", "rules.infinite * span"),
    ),
    *places(
        "bridge/continuous/display_units.py",
        f"{_UNIT}live.py",
        ('powers = {"moment": 1, "deflection": 3}', 'powers = {"moment": 0, "deflection": 3}'),
    ),
]
"""Errors in sheets of continuous girders, each with the tests that must see it."""
