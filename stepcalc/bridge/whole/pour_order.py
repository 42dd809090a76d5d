"""The parts of the deck of a simple span in the order of casting (6.10.3.4)."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stepcalc.bridge.details.pour_stages import pour_moments
from stepcalc.expr.functions import maximum
from stepcalc.units import Q_, ft, kip, kip_ft

if TYPE_CHECKING:
    from stepcalc.bridge.givens import BridgeNodes
    from stepcalc.bridge.whole.demands import Demands
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.sheet import Sheet

__all__ = ["pour_order_of_simple_span"]


def pour_order_of_simple_span(sheet: Sheet, bridge: BridgeNodes, demands: Demands) -> None:
    r"""Write the midspan moment on the bare steel after every part of the deck.

    .. math:: R = \frac{w (b - a)\left(L - \frac{a + b}{2}\right)}{L}, \quad
        M = \frac{R L}{2} - \frac w2\left[\max\left(\tfrac L2 - a, 0\right)^2 -
        \max\left(\tfrac L2 - b, 0\right)^2\right]

    Every part sags the whole of a simple span, so that the last sum is the greatest; it is that of
    the whole deck poured at once, by which the girder is checked.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    bridge, demands
        Of the girder; the details hold the parts.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 6.10.3.4; from memory.  Statics.
    """
    details = bridge.data.details
    assert details is not None
    L, step, w = bridge.span, sheet.step, demands.loads.wet_deck
    stages: list[tuple[str, Operand]] = [("erected steel", demands.loads.before_deck * L**2 / 8)]
    for number, part in enumerate(details.pours, 1):
        with sheet.part(f"Part {number} of the deck"):
            a = sheet.given("a", Q_(part.start, "ft"), "its beginning", source="pour sequence")
            b = sheet.given("b", Q_(part.end, "ft"), "its end", source="pour sequence")
            R = step("R", w * (b - a) * (L - (a + b) / 2) / L, kip, "reaction at the first bearing",
                     ref="statics")  # fmt: skip
            none = 0 * ft
            M = step(
                "M", R * L / 2 - w / 2 * (maximum(L / 2 - a, none) ** 2
                                          - maximum(L / 2 - b, none) ** 2),
                kip_ft, "its moment at midspan", ref="statics",
            )  # fmt: skip
        stages.append((f"part {number}", M))
    live = sheet["Constructibility/M_C"]
    found = pour_moments(sheet, stages, construction=(live, 0 * kip_ft))
    step(
        "r_cu", found.sagging / sheet["Constructibility/M_cu"], None,
        "greatest of the sequence over the whole deck at once", ref="comparison",
    )  # fmt: skip
    sheet.table(
        ["After", "Moment at midspan, bare steel"],
        [[name, M] for (name, _), M in zip(stages, found.sums, strict=True)],
        "Pour sequence; all parts on the bare steel, on the safe side where one has hardened",
    )
