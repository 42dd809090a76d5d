"""The rigid cross-section for every number of lanes, proved by a table of all of them."""

from __future__ import annotations

from typing import Any

import numpy as np

from stepcalc.bridge.lanes.wheels import check_lanes, multiple_presence
from stepcalc.expr.functions import maximum
from stepcalc.sheet.kernels import Kernel, register_kernel
from stepcalc.sheet.sheet import Sheet
from stepcalc.units import ft

__all__ = ["FIRST_TRUCK", "RIGID_SECTION"]

FIRST_TRUCK = 5.0
"""ft from the curb to the middle of the first truck: its first wheel 2 ft from the curb."""
_REF = "LRFD C4.6.2.2.2d-1"


def _rigid(
    spacing: Any, girders: Any, curb: Any, lane: Any, lanes: Any, m_1: Any, m_2: Any, m_3: Any,
    m_4: Any,
) -> Any:  # fmt: skip
    most, N = check_lanes(lanes), np.asarray(girders)
    edge = (N - 1) * np.asarray(spacing) / 2
    squares = np.asarray(spacing) ** 2 * N * (N**2 - 1) / 12
    best = np.zeros(())
    for count in range(1, most + 1):
        trucks = [edge + curb - FIRST_TRUCK - k * np.asarray(lane) for k in range(count)]
        share = count / N + edge * sum(trucks) / squares
        value = np.where(
            np.asarray(lanes) >= count,
            multiple_presence(count, (m_1, m_2, m_3, m_4)) * share,
            -np.inf,
        )
        best = np.maximum(best, value)
    return float(best) if np.ndim(best) == 0 else best


def _table(
    spacing: float, girders: float, curb: float, lane: float, lanes: float, m_1: float, m_2: float,
    m_3: float, m_4: float,
) -> Sheet:  # fmt: skip
    """Return the proof: eccentricities of the trucks, R and m R of every number of lanes."""
    sheet = Sheet("rigid cross-section, every number of lanes")
    give, N_b = sheet.given, round(girders)
    n = give("N_b", N_b, "girders", source="as above")
    places = [(2 * i - N_b + 1) / 2 * spacing for i in range(N_b)]
    X = give("X_ext", places[-1] * ft, "exterior girder", source="as above")
    squares = give("Sigma_x2", sum(x * x for x in places) * ft**2, "squares", source="as above")
    first = give("e_1", (places[-1] + curb - FIRST_TRUCK) * ft, "first truck", source="as above")
    away = give("s_l", lane * ft, "truck to truck", source="as above")
    rows: list[list[Any]] = []
    found = []
    eccentric: Any = 1 * first
    for count in range(1, round(lanes) + 1):
        e = first if count == 1 else sheet.step(
            f"e_{count}", first - (count - 1) * away, ft,
            f"truck {count} to the middle of the deck", ref="LRFD 3.6.1.3.1",
        )  # fmt: skip
        eccentric = 1 * first if count == 1 else eccentric + e
        R = sheet.step(
            f"R_r{count}", count / n + X * eccentric / squares, None,
            f"{count} lane{'s' if count > 1 else ''} loaded, without m", ref=_REF,
        )  # fmt: skip
        m = multiple_presence(count, (m_1, m_2, m_3, m_4))
        g = sheet.step(f"g_r{count}", m * R, None, f"{count} loaded, with m", ref="LRFD 3.6.1.1.2")
        rows.append([f"{count}", e, R, f"{m:g}", g])
        found.append(g)
    sheet.table(["lanes", "eccentricity of the last truck", "R", "m", "m R"], rows,
                "Every number of lanes that fits")  # fmt: skip
    sheet.step("g_r", maximum(*found, 0), None, "worst number of lanes", ref=_REF)
    return sheet


RIGID_SECTION = register_kernel(
    Kernel(
        "rigid cross-section: exterior girder, every number of lanes",
        1,
        _rigid,
        {"spacing": "ft", "girders": None, "curb": "ft", "lane": "ft", "lanes": None}
        | dict.fromkeys(("m_1", "m_2", "m_3", "m_4")),
        None,
        {"table": _table},
        "N/N_b + X sum(e)/sum(x^2) with one lane and every further number that fits, trucks "
        "pushed to the curb, each with its multiple presence; the largest",
    )
)
"""Lanes on an exterior girder of a rigid cross-section, with multiple presence."""
