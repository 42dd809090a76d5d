"""Load and resistance factor rating of a girder of a simple span."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from stepcalc.analysis.vehicles import WRITTEN_OUT, vehicle
from stepcalc.bridge.constants import code_constant, use
from stepcalc.bridge.rating.factors import legal_factor, permit_factor, resistance_shares
from stepcalc.bridge.rating.formula import rating_factor, vehicle_on_girder
from stepcalc.bridge.rating.options import PermitKind
from stepcalc.bridge.rating.posting import posted_tons
from stepcalc.expr.functions import minimum
from stepcalc.sheet.sheet import Sheet
from stepcalc.units import ft, kip, kip_ft

if TYPE_CHECKING:
    from collections.abc import Callable

    from stepcalc.bridge.rating.factors import ResistanceShares
    from stepcalc.bridge.rating.options import RatingData
    from stepcalc.expr.tree import Operand

__all__ = ["EMERGENCY", "LEGAL", "Capacity", "RatedGirder", "lrfr_sheet", "rated_sheet"]

LEGAL = ("Type 3", "Type 3S2", "Type 3-3", "SU4", "SU5", "SU6", "SU7", "NRL")
"""Legal trucks and the notional load that stands for all specialized hauling vehicles."""
EMERGENCY = ("EV2", "EV3")
_STRENGTH, _SERVICE = "MBE 6A.4.2.1-1", "MBE 6A.4.2.2; LRFD 6.10.4.2.2"


@dataclass(frozen=True)
class RatedGirder:
    """What a rating takes from the calculation of a girder.

    Attributes
    ----------
    title : str
        Of the sheet of the rating.
    words : str
        Which girder.
    span : Operand, [length]
        ``L``.
    moment, shear : Operand
        HL-93 of the girder, with impact.
    shares : tuple of Operand
        Lanes on the girder for moment and shear, as used.
    one_lane : tuple of formula
        The same for one lane, multiple presence taken out.
    capacity : callable
        Writes the capacities: takes the sheet, the data and the shares of resistance.
    """

    title: str
    words: str
    span: Operand
    moment: Operand
    shear: Operand
    shares: tuple[Any, Any]
    one_lane: tuple[Any, Any]
    capacity: Callable[[Sheet, RatingData, ResistanceShares], Capacity]


@dataclass(frozen=True)
class Capacity:
    """Capacities and dead load of one girder: moment, shear, and moment of Service II.

    Attributes
    ----------
    moment, shear, service : Operand
        ``C_M``, ``C_V``, ``C_S``.
    dead_moment, dead_shear, dead_service : formula
        Factored by the rating's factors; Service II unfactored, None where ``service`` is what the
        stages leave.
    """

    moment: Operand
    shear: Operand
    service: Operand
    dead_moment: Any
    dead_shear: Any
    dead_service: Any


def lrfr_sheet(girder: Sheet, data: RatingData) -> Sheet:
    """Return the load rating of a rolled beam as a sheet that takes its values from another.

    Parameters
    ----------
    girder : Sheet
        The LRFD calculation of the interior girder.
    data : RatingData
        Condition, system, traffic, permit vehicle.

    Returns
    -------
    Sheet
        As of `rated_sheet`.

    Source
    ------
    That of `rated_sheet`.
    """
    m_1 = code_constant("m_1").value

    def capacity(sheet: Sheet, data: RatingData, left: ResistanceShares) -> Capacity:
        return _capacity(sheet, girder, data, left)

    rated = RatedGirder(
        "Load rating, LRFR", "interior girder", girder["L"], girder["M_LL"], girder["V_LL"],
        (girder["g_M"], girder["g_V"]), (girder["g_M1"] / m_1, girder["g_V1"] / m_1), capacity,
    )  # fmt: skip
    return rated_sheet(rated, data)


def rated_sheet(girder: RatedGirder, data: RatingData) -> Sheet:
    """Return the load rating of a girder of a simple span.

    Parameters
    ----------
    girder : RatedGirder
        What the calculation of the girder found.
    data : RatingData
        Condition, system, traffic, permit vehicle.

    Returns
    -------
    Sheet
        Design, legal, emergency and permit loads, posting, and the rating that controls.

    Source
    ------
    AASHTO Manual for Bridge Evaluation, 3rd ed. (2018), Section 6A; from memory.
    """
    sheet = Sheet(girder.title)
    with sheet.part("Basis"):
        _basis(sheet, girder.words)
        left = resistance_shares(sheet, data)
    with sheet.part("Capacity and dead load"):
        have = girder.capacity(sheet, data, left)
    with sheet.part("Design load, HL-93"):
        _design(sheet, girder, have)
    with sheet.part("Legal loads and emergency vehicles"):
        trucks = None if data.trucks is None else sheet.given(
            "ADTT", data.trucks, "trucks a day in one direction",
            source=data.trucks_source or data.source,
        )  # fmt: skip
        _legal(sheet, girder, have, data, trucks)
    if data.permit is not None:
        with sheet.part("Permit vehicle"):
            _permit(sheet, girder, have, data, trucks)
    return sheet


def _basis(sheet: Sheet, words: str) -> None:
    sheet.note(
        f"Rating of the {words} of the calculation, flexure at its greatest moment and "
        "shear at the bearing. LRFR has no interaction of moment and shear, so that both are rated "
        "by themselves; pedestrians are not combined with rating vehicles. Members that were not "
        "calculated, section loss and the field condition are the engineer's."
    )


def _capacity(sheet: Sheet, girder: Sheet, data: RatingData, left: ResistanceShares) -> Capacity:
    step, of = sheet.step, girder
    C_M = step("C_M", left.flexure * use(sheet, "phi_f") * of["M_n"], kip_ft, "capacity, moment",
               ref="MBE 6A.4.2.1-2")  # fmt: skip
    C_V = step("C_V", left.shear * use(sheet, "phi_v") * of["V_n"], kip, "capacity, shear",
               ref="MBE 6A.4.2.1-2")  # fmt: skip
    C_S = step(
        "C_S", use(sheet, "c_SII") * of["R_h"] * of["F_y"] * of["S_x"], kip_ft,
        "capacity, Service II: 0.80 of yield on the steel section", ref=_SERVICE,
    )  # fmt: skip
    D = use(sheet, "gamma_rDC")
    W = use(sheet, "gamma_rDWm" if data.measured else "gamma_rDW")
    D_M = step("D_M", D * (of["M_DC1"] + of["M_DC2"]) + W * of["M_DW"], kip_ft,
               "factored dead load, moment", ref="MBE 6A.4.2.2")  # fmt: skip
    D_V = step("D_V", D * (of["V_DC1"] + of["V_DC2"]) + W * of["V_DW"], kip,
               "factored dead load, shear", ref="MBE 6A.4.2.2")  # fmt: skip
    D_S = step("D_S", of["M_DC1"] + of["M_DC2"] + of["M_DW"], kip_ft,
               "dead load, Service II", ref="MBE 6A.4.2.2")  # fmt: skip
    return Capacity(C_M, C_V, C_S, D_M, D_V, D_S)


def _three(
    sheet: Sheet, have: Capacity, M: Operand, V: Operand, *, tag: str, words: str, strength: Any,
    service: Any,
) -> tuple[Operand, Operand, Operand, Operand]:  # fmt: skip
    """Write the factors of moment, Service II and shear, and the least of them."""
    rate = rating_factor
    RF_M = rate(sheet, f"RF_M{tag}", f"{words}: moment, strength", capacity=have.moment,
                dead=have.dead_moment, live=strength * M, ref=_STRENGTH)  # fmt: skip
    RF_S = rate(sheet, f"RF_S{tag}", f"{words}: moment, Service II", capacity=have.service,
                dead=have.dead_service, live=service * M, ref=_SERVICE)  # fmt: skip
    RF_V = rate(sheet, f"RF_V{tag}", f"{words}: shear, strength", capacity=have.shear,
                dead=have.dead_shear, live=strength * V, ref=_STRENGTH)  # fmt: skip
    RF = sheet.step(f"RF{tag}", minimum(RF_M, RF_S, RF_V), None, f"{words}: the least",
                    ref="MBE 6A.4.2.1")  # fmt: skip
    return RF_M, RF_S, RF_V, RF


_HEADER = ["load", "moment", "Service II", "shear", "controls"]


def _design(sheet: Sheet, girder: RatedGirder, have: Capacity) -> None:
    rows: list[list[Any]] = []
    for tag, level, factor, service in (
        ("_i", "inventory", "gamma_inv", "gamma_S2i"),
        ("_o", "operating", "gamma_op", "gamma_S2o"),
    ):
        found = _three(
            sheet, have, girder.moment, girder.shear, tag=tag, words=f"HL-93 {level}",
            strength=use(sheet, factor), service=use(sheet, service),
        )  # fmt: skip
        rows.append([f"HL-93, {level}", *found])
        sheet.check(f"Rating, HL-93 {level}", 1 <= found[3], ref="MBE 6A.4.3")
    sheet.table(_HEADER, rows, "Rating factors of the design load")
    sheet.note(
        "Where the inventory factor is 1 or more, all legal loads of AASHTO pass; where the "
        "operating factor is, many owners ask for no legal rating, but not for specialized hauling "
        "and emergency vehicles."
    )


def _legal(
    sheet: Sheet, girder: RatedGirder, have: Capacity, data: RatingData, trucks: Operand | None
) -> None:
    impact = sheet.given("IM_r", data.impact, "dynamic load allowance, legal and permit loads",
                         source=data.impact_source or "MBE C6A.4.4.3 (from memory)")  # fmt: skip
    gamma = legal_factor(sheet, trucks, data.legal_factor)
    sheet.note(
        "The factors of legal and emergency vehicles are remembered and changed between editions: "
        "compare them with the manual in force. Spans above 200 ft also take the lane-type load."
    )
    shares = girder.shares
    L = sheet.step("L_r", girder.span, ft, "span", ref="as calculated",
                   valid=(girder.span <= 200 * ft,))  # fmt: skip
    rows: list[list[Any]] = []
    factors = (gamma, use(sheet, "gamma_EV"))

    def rate(name: str) -> None:
        tag = "_" + name.removeprefix("Type ").replace("-", "")
        M, V = vehicle_on_girder(sheet, name, span=L, shares=shares, impact=impact, tag=tag)
        found = _three(sheet, have, M, V, tag=tag, words=name,
                       strength=factors[name in EMERGENCY],
                       service=use(sheet, "gamma_S2i"))  # fmt: skip
        tons: Any = "a screen, not posted"
        if name != "NRL":
            tons = posted_tons(sheet, f"W{tag}", found[3], name)
        rows.append([name, M, V, *found, tons])

    first, *others = (*LEGAL, *EMERGENCY)
    with sheet.part(f"{first}, in full"):
        rate(first)
    with sheet.part("All of them, alike", tables_only=True):
        for name in others:
            rate(name)
        header = ["vehicle", "M, LL + IM", "V, LL + IM", *_HEADER[1:], "posting, tons"]
        sheet.table(header, rows, "Rating factors of legal loads and emergency vehicles; the "
                    "posting is the vehicle's own weight where none is needed, 0 where it must be "
                    "kept off")  # fmt: skip
        worst = sheet.step("RF_L", minimum(*(row[6] for row in rows)), None,
                           "the least of legal and emergency loads", ref="MBE 6A.4.4")  # fmt: skip
        sheet.check("Rating, legal loads and emergency vehicles", 1 <= worst, ref="MBE 6A.4.4")
        sheet.note(
            "A factor below 1 asks for posting or another measure, which is the owner's decision; "
            "where NRL has 1 or more, SU4 to SU7 need no rating of their own. A bridge that cannot "
            "carry 3 tons is closed."
        )


def _permit(
    sheet: Sheet, girder: RatedGirder, have: Capacity, data: RatingData, trucks: Operand | None
) -> None:
    name = str(data.permit)
    record = vehicle(name)
    axles = ", ".join(f"{force:g}" for force in record.axles)
    spacings = ", ".join(f"{distance:g}" for distance in record.spacings)
    sheet.table(["vehicle", "axles", "spacings"],
                [[record.title, f"{axles} kip", f"{spacings} ft"]], "Permit vehicle")  # fmt: skip
    written = record.source == WRITTEN_OUT
    source = (data.permit_source or data.source) if written else record.source
    weight = sheet.given("W_P", record.weight * kip, f"{record.title}: weight", source=source)
    length = sheet.given(
        "L_P", record.length * ft, f"{record.title}: first to last axle", source=source
    )
    gamma = permit_factor(sheet, data.permit_kind, trucks, weight=weight, length=length)
    shares = girder.shares
    if data.permit_kind is not PermitKind.ANNUAL:
        what = "one lane, multiple presence taken out"
        one = [
            sheet.step(f"g_P{key}", share, None, f"{words}: {what}",
                       ref="MBE 6A.4.5.4.2b")
            for key, words, share in zip("MV", ("moment", "shear"), girder.one_lane, strict=True)
        ]  # fmt: skip
        shares = (one[0], one[1])
    impact = next(node for node in sheet.givens if node.name == "IM_r")
    M, V = vehicle_on_girder(sheet, name, span=girder.span, shares=shares, impact=impact,
                             tag="_P", proof="statics")  # fmt: skip
    found = _three(sheet, have, M, V, tag="_P", words=record.title, strength=gamma,
                   service=use(sheet, "gamma_S2o"))  # fmt: skip
    sheet.table(_HEADER, [[record.title, *found]], f"Rating factors, {data.permit_kind.value}")
    sheet.check("Rating, permit vehicle", 1 <= found[3], ref="MBE 6A.4.5")
