"""Load and resistance factor rating of a composite girder of a simple span."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from stepcalc.bridge.constants import use
from stepcalc.bridge.rating.lrfr import Capacity, RatedGirder, rated_sheet
from stepcalc.errors import UnknownNameError
from stepcalc.units import kip, kip_ft

if TYPE_CHECKING:
    from stepcalc.bridge.rating.factors import ResistanceShares
    from stepcalc.bridge.rating.options import RatingData
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.sheet import Sheet

__all__ = ["composite_rating"]

_LIVE, _LANE = "Live load of the girder", "Live load of one lane"
_STRESS = "Stresses by stage"


def composite_rating(girder: Sheet, data: RatingData, *, exterior: bool) -> Sheet:
    r"""Return the load rating of a composite girder as a sheet that takes its values from another.

    The capacity of Service II is what the stages leave of the bottom flange, as a moment on the
    short-term section,

    .. math:: C_S = \left(0.95 R_h F_y - f_{DC1} - f_{DC2} - f_{DW}\right) \frac{M_{LL}}{f_{LL}}

    Parameters
    ----------
    girder : Sheet
        The LRFD calculation of the girder, of a simple span.
    data : RatingData
        Condition, system, traffic, permit vehicle.
    exterior : bool
        Whether it is the exterior girder.

    Returns
    -------
    Sheet
        As of `lrfr.rated_sheet`.

    Source
    ------
    AASHTO Manual for Bridge Evaluation, 3rd ed. (2018), Art. 6A.4.2, 6A.6.4; AASHTO LRFD, 8th ed.
    (2017), Eq. 6.10.4.2.2-2; from memory.
    """
    words = "exterior girder" if exterior else "interior girder"
    M_LL, V_LL = girder[f"{_LIVE}/M_LL"], girder[f"{_LIVE}/V_LL"]
    shares = (M_LL / girder[f"{_LANE}/M_HL"], V_LL / girder[f"{_LANE}/V_HL"])
    if exterior:
        one = (_named(girder, "g_ef"), _named(girder, "g_ef"))
    else:
        one = (_named(girder, "g_Mf"), _named(girder, "g_Vf"))

    def capacity(sheet: Sheet, data: RatingData, left: ResistanceShares) -> Capacity:
        return _capacity(sheet, girder, data, left, M_LL)

    rated = RatedGirder(
        f"Load rating, LRFR, {words}", words, girder["L"], M_LL, V_LL, shares, one, capacity
    )
    return rated_sheet(rated, data)


def _capacity(
    sheet: Sheet, girder: Sheet, data: RatingData, left: ResistanceShares, M_LL: Operand
) -> Capacity:
    step, of = sheet.step, girder
    dead = "Dead-load moments and shears"
    M_n = _within(of, "Strength I, flexure", "M_n")
    C_M = step("C_M", left.flexure * use(sheet, "phi_f") * M_n, kip_ft, "capacity, moment",
               ref="MBE 6A.4.2.1-2")  # fmt: skip
    V_n = _within(of, "Strength I, shear", "V_n", "V_cr")
    C_V = step("C_V", left.shear * use(sheet, "phi_v") * V_n, kip, "capacity, shear at the bearing",
               ref="MBE 6A.4.2.1-2")  # fmt: skip
    taken: Any = of[f"{_STRESS}/f_bDC1"] + of[f"{_STRESS}/f_bDC2"] + of[f"{_STRESS}/f_bDW"]
    C_S = step(
        "C_S",
        (use(sheet, "c_SIIc") * _named(of, "R_h") * of["F_y"] - taken)
        * (M_LL / of[f"{_STRESS}/f_bLL"]),
        kip_ft, "capacity, Service II: live-load moment that the stages leave of the bottom flange",
        ref="MBE 6A.6.4.1; LRFD 6.10.4.2.2",
    )  # fmt: skip
    D = use(sheet, "gamma_rDC")
    W = use(sheet, "gamma_rDWm" if data.measured else "gamma_rDW")
    D_M = step("D_M", D * (of[f"{dead}/M_DC1"] + of[f"{dead}/M_DC2"]) + W * of[f"{dead}/M_DW"],
               kip_ft, "factored dead load, moment", ref="MBE 6A.4.2.2")  # fmt: skip
    D_V = step("D_V", D * (of[f"{dead}/V_DC1"] + of[f"{dead}/V_DC2"]) + W * of[f"{dead}/V_DW"],
               kip, "factored dead load, shear", ref="MBE 6A.4.2.2")  # fmt: skip
    return Capacity(C_M, C_V, C_S, D_M, D_V, None)


def _named(girder: Sheet, name: str) -> Any:
    """Return the first node of a name, wherever it stands."""
    for node in (*girder.givens, *girder.steps):
        if node.name == name:
            return node
    raise UnknownNameError(f"the calculation {girder.title!r} has no {name!r}; it cannot be rated")


def _within(girder: Sheet, part: str, *names: str) -> Any:
    """Return the first node of the first of these names that a part holds."""
    for name in names:
        found = [n for n in girder.steps if n.name == name and n.path.startswith(f"{part}/")]
        if found:
            return found[0]
    raise UnknownNameError(f"{part!r} of {girder.title!r} has no {names[0]!r}; it cannot be rated")
