"""The lever rule of an exterior girder as a numerical procedure proved by placed wheels."""

from __future__ import annotations

from typing import Any

import numpy as np

from stepcalc.bridge.proof_body import summed
from stepcalc.errors import RangeError
from stepcalc.sheet.kernels import Kernel, register_kernel
from stepcalc.sheet.sheet import Sheet
from stepcalc.units import ft
from stepcalc.units.numbers import shown_text

__all__ = ["EXTERIOR_LEVER"]

_WHEELS = (0.0, 6.0)
_MOST_LANES = 4


def _arms(spacing: Any, curb: Any, first: Any, lane: Any, lanes: str) -> list[Any]:
    """Return the distance of every wheel line from the first interior girder, ft."""
    count = int(lanes)
    if not 1 <= count <= _MOST_LANES:
        raise RangeError(f"the lever rule is asked for {count} lanes; give 1 to {_MOST_LANES}")
    reach = np.asarray(spacing) + np.asarray(curb) - np.asarray(first)
    return [
        reach - number * np.asarray(lane) - wheel for number in range(count) for wheel in _WHEELS
    ]


def _reaction(spacing: Any, curb: Any, first: Any, lane: Any, lanes: str) -> Any:
    arms = _arms(spacing, curb, first, lane, lanes)
    total = sum(np.maximum(arm, 0.0) for arm in arms) / 2 / np.asarray(spacing)
    return float(total) if np.ndim(total) == 0 else total


def _wheels(spacing: float, curb: float, first: float, lane: float, lanes: str) -> Sheet:
    """Return the proof: wheels with their distances to the hinge, and the sum of moments."""
    words = "one lane" if lanes == "1" else f"{lanes} lanes"
    sheet = Sheet(f"lever rule, exterior girder, {words}")
    S = sheet.given("S", spacing * ft, "exterior girder to hinge", source="as above")
    d_e = sheet.given("d_e", curb * ft, "exterior girder to the curb", source="as above")
    b = sheet.given("b_w", first * ft, "first wheel line to the curb", source="as above")
    s = sheet.given("s_l", lane * ft, "truck to truck", source="as above") if lanes != "1" else None
    counted, parts = [], []
    for index, arm in enumerate(_arms(spacing, curb, first, lane, lanes)):
        if arm <= 0:
            continue
        truck, wheel = divmod(index, len(_WHEELS))
        formula = S + d_e - b
        if truck and s is not None:
            formula = formula - truck * s
        if wheel:
            formula = formula - _WHEELS[wheel] * ft
        what = f"truck {truck + 1}, wheel line {wheel + 1}, to the hinge"
        parts.append(sheet.step(f"x_{index + 1}", formula, ft, what, ref="LRFD 3.6.1.3.1"))
        counted.append(float(arm))
    left = int(lanes) * len(_WHEELS) - len(counted)
    if left:
        sheet.note(f"{left} wheel lines stand beyond the hinge and do not count.")
    if not counted:
        sheet.step("R", 0 * S / S, None, "no wheel line counts", ref="LRFD C4.6.2.2.1")
        return sheet
    _draw(sheet, spacing, curb, counted)
    sheet.step("R", summed(parts) / (2 * S), None, "reaction in lanes, without m",
               ref="LRFD C4.6.2.2.1")  # fmt: skip
    return sheet


def _draw(sheet: Sheet, spacing: float, curb: float, arms: list[float]) -> None:
    """Draw the deck from the hinge over the first interior girder to its edge at the curb."""
    end = max(spacing + max(curb, 0.0), max(arms))
    places = sorted(arms)
    stops = [0.0, *places, spacing]
    data = {
        "kind": "free_body",
        "span": end,
        "length_unit": "ft",
        "supports": [0.0, spacing],
        "loads": [{"x": arm, "label": "P/2", "size": 16.0} for arm in places],
        "uniform": [],
        "reactions": [{"x": spacing, "label": "R, exterior girder"}],
        "dimensions": [
            {"start": a, "end": z, "label": f"{shown_text(z - a)} ft"}
            for a, z in zip(sorted(stops), sorted(stops)[1:], strict=False)
            if z - a > 1e-6
        ],
        "marks": [
            {"x": 0.0, "label": "hinge, first interior girder"},
            {"x": end, "label": "curb"},
        ],
    }
    sheet.figure(data, "Wheel lines P/2 on the deck, a simple beam from hinge to exterior girder")


EXTERIOR_LEVER = register_kernel(
    Kernel(
        "lever rule: exterior girder",
        1,
        _reaction,
        {"spacing": "ft", "curb": "ft", "first": "ft", "lane": "ft", "lanes": "choice"},
        None,
        {"wheels": _wheels},
        "wheel lines between hinge and curb, each P/2 times its distance to the hinge over S",
    )
)
"""Lanes on an exterior girder by the lever rule, without multiple presence."""
