"""Deflections of a continuous girder: live load by span, dead load by stage, camber ordinates."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from stepcalc.bridge.constants import use
from stepcalc.bridge.details.camber import StageOrdinates, camber_from_ordinates
from stepcalc.bridge.details.depth import least_depths
from stepcalc.expr.functions import maximum
from stepcalc.units import Q_, inch

if TYPE_CHECKING:
    from stepcalc.bridge.givens import BridgeNodes
    from stepcalc.bridge.whole.continuous_along import Effects
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.sheet import Sheet

__all__ = ["camber_of_line", "live_deflection"]

_TIMES_EI = Q_(1, "kip*ft**3").units


def live_deflection(sheet: Sheet, effects: Effects) -> None:
    r"""Write the live-load deflection of every span, and the optional depths.

    .. math:: \Delta = \frac{g\,(\Delta E I)}{E I_n}, \qquad g = m N_L / N_b, \qquad
        \Delta \le L/800

    The greater of the truck alone, and a quarter of the truck with the lane load; all lanes
    loaded, all girders alike.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives steps and checks.
    effects : Effects
        Of the girder.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 2.5.2.6.2, 3.6.1.3.2, Table 2.5.2.6.3-1 (optional); from
    memory.
    """
    E, first = use(sheet, "E"), effects.inertias["n"][0]
    for number, span in enumerate(effects.spans, 1):
        with sheet.part(f"Span {number}"):
            K = sheet.computed(
                "K_d", effects.kernels.sag,
                effects.base("n")
                | {"place": str(number), "load": "deflection", "impact": use(sheet, "IM")},
                _TIMES_EI, "greatest deflection of one lane, times E and I of section 1",
                ref="LRFD 3.6.1.3.2",
            )  # fmt: skip
            delta = sheet.step(
                "Delta_LL", effects.shares.deflection * K / (E * first), inch,
                f"live-load deflection of span {number}", ref="LRFD 2.5.2.6.2",
            )  # fmt: skip
            sheet.check("Live-load deflection", delta <= span / use(sheet, "r_LL"),
                        ref="LRFD 2.5.2.6.2 (optional)", location=f"span {number}")  # fmt: skip
    geometry = effects.sections[0].geometry
    least_depths(sheet, span=maximum(*effects.spans), steel=geometry.depth,
                 whole=geometry.slab_top, continuous=True)  # fmt: skip


def camber_of_line(sheet: Sheet, bridge: BridgeNodes, effects: Effects) -> None:
    """Write dead-load deflections by stage and camber ordinates at tenth points of every span.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives steps and table, within a part with tables only.
    bridge, effects
        Of the girder.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 6.7.2; from memory.
    """
    details, E = bridge.data.details, use(sheet, "E")
    assert details is not None
    size = sheet.given("r_C", details.camber_step, "camber is rounded up to a multiple of",
                       assumed="shop practice")  # fmt: skip
    points, loads = [], effects.loads
    stages: dict[str, list[Operand]] = {"DC1": [], "DC2": [], "DW": []}
    rows: tuple[tuple[str, str, Any], ...] = (
        ("DC1", "s", loads.DC1), ("DC2", "l", loads.DC2), ("DW", "l", loads.DW),
    )  # fmt: skip
    for place in effects.line.places:
        if "tenth" not in place.kinds or place.fraction in (0.0, 1.0):
            continue
        points.append(place.label)
        with sheet.part(place.label):
            for name, stage, load in rows:
                K = sheet.computed(
                    f"K_{name}", effects.kernels.dead["deflection"],
                    effects.at(stage, place) | effects.weights(load), _TIMES_EI,
                    f"deflection by {name}, times E and I of section 1", ref="statics",
                )  # fmt: skip
                stages[name].append(
                    sheet.step(
                        f"Delta_{name}",
                        K / (E * effects.inertias[stage][0]),
                        inch,
                        f"deflection by {name}",
                        ref="statics",
                    )
                )
    camber_from_ordinates(
        sheet, points, [StageOrdinates(name, tuple(of)) for name, of in stages.items()],
        step_size=size,
    )  # fmt: skip
    sheet.note(
        "Downward positive, 0 over the supports; DC1 on the steel, DC2 and DW on the long-term "
        "section, over all spans at once. Ordinates of the vertical curve are added in the shop "
        "drawings."
    )
