"""Live load of one lane on a simple span, and of one girder: HL-93, and the trucks of the 1940s."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stepcalc.analysis.vehicles import VEHICLES, vehicle
from stepcalc.bridge.constants import use
from stepcalc.bridge.fields import LiveLoadMaximum
from stepcalc.bridge.moving_loads import (
    AXLE_DEFLECTION,
    AXLE_MOMENT,
    AXLE_SHEAR,
    BESIDE_TRUCK,
    COMBINED_MOMENT,
    COMBINED_SECTION,
)
from stepcalc.bridge.older_codes import HS20Lane
from stepcalc.expr.functions import cases, maximum
from stepcalc.units import ft, kip, kip_ft

if TYPE_CHECKING:
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.sheet import Sheet

__all__ = [
    "GirderLiveLoad",
    "LaneEffects",
    "axle_deflection",
    "girder_live_load",
    "hl93_lane",
    "standard_lane",
]

TRUCK, TANDEM = "HL-93 truck", "HL-93 tandem"


@dataclass(frozen=True)
class LaneEffects:
    """HL-93 effects of one loaded lane.

    Attributes
    ----------
    moment, shear : Operand
        ``M_HL`` [force * length] and ``V_HL`` [force], with dynamic load allowance on the axles.
    section : Operand or None
        ``x_LL`` [length], where the combined maximum occurs; None for the sum of separate maxima,
        with which dead load is added at midspan.
    truck_moment, tandem_moment, lane_moment : Operand
        ``M_tr``, ``M_td``, ``M_ln``: each alone, no dynamic load allowance.
    truck_shear, tandem_shear, lane_shear : Operand
        ``V_tr``, ``V_td``, ``V_ln``, likewise.
    """

    moment: Operand
    shear: Operand
    section: Operand | None
    truck_moment: Operand
    tandem_moment: Operand
    lane_moment: Operand
    truck_shear: Operand
    tandem_shear: Operand
    lane_shear: Operand


@dataclass(frozen=True)
class GirderLiveLoad:
    """``M_LL`` and ``V_LL`` of one girder, with dynamic load allowance."""

    moment: Operand
    shear: Operand


def hl93_lane(
    sheet: Sheet,
    span: Operand,
    *,
    definition: LiveLoadMaximum = LiveLoadMaximum.SEPARATE,
    proof: str | None = "statics",
) -> LaneEffects:
    r"""Write the largest HL-93 moment and end shear of one lane on a simple span.

    .. math:: M_{HL} = (1 + IM) \max(M_{tr}, M_{td}) + M_{ln}, \qquad
        V_{HL} = (1 + IM) \max(V_{tr}, V_{td}) + V_{ln}

    That is the sum of separate maxima, which occur at different sections.  The other definition
    is the largest sum at one section,
    :math:`\max_x \bigl[(1 + IM) M_{axles}(x) + M_{ln}(x)\bigr]`.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    span : Operand, [length]
        Span.
    definition : LiveLoadMaximum
        Which of the two; the sheet names it.
    proof : {"statics", "ordinates"} or None
        What stands below each governing axle placement.

    Returns
    -------
    LaneEffects
        Moment and shear per lane, and where the moment occurs.

    Source ------ AASHTO LRFD, 8th ed. (2017), Art. 3.6.1.2, 3.6.1.3.1, 3.6.2.1; from memory.  The
    rear spacing of the truck is 14 ft, the shortest, which governs any simple span.
    """
    step, L, IM, w = sheet.step, span, use(sheet, "IM"), use(sheet, "w_lane")
    _state_vehicles(sheet, (TRUCK, TANDEM))
    beside = BESIDE_TRUCK if proof == "statics" else proof
    M_tr = _axle_moment(sheet, "M_tr", TRUCK, L, proof, "design truck", "LRFD 3.6.1.2.2")
    M_td = _axle_moment(sheet, "M_td", TANDEM, L, beside, "design tandem", "LRFD 3.6.1.2.3")
    M_ln = step("M_ln", w * L**2 / 8, kip_ft, "design lane load at midspan", ref="LRFD 3.6.1.2.4")
    M_HL: Operand
    section: Operand | None = None
    if definition is LiveLoadMaximum.SEPARATE:
        sheet.note(
            "Combined maximum: sum of separate maxima. The greatest moments of axles and lane load "
            "are added although they occur at different sections, and dead load is added at "
            "midspan; on the safe side by about 0.1 %."
        )
        M_HL = step(
            "M_HL",
            (1 + IM) * maximum(M_tr, M_td) + M_ln,
            kip_ft,
            "HL-93 moment of one lane, sum of separate maxima",
            ref="LRFD 3.6.1.3.1, 3.6.2.1",
        )
    else:
        M_HL, section = _at_one_section(sheet, L, IM, w, proof)
    V_tr = _axle_shear(sheet, "V_tr", TRUCK, L, proof, "design truck", "LRFD 3.6.1.2.2")
    V_td = _axle_shear(sheet, "V_td", TANDEM, L, beside, "design tandem", "LRFD 3.6.1.2.3")
    V_ln = step("V_ln", w * L / 2, kip, "design lane load at the bearing", ref="LRFD 3.6.1.2.4")
    V_HL = step(
        "V_HL",
        (1 + IM) * maximum(V_tr, V_td) + V_ln,
        kip,
        "HL-93 shear of one lane at the bearing",
        ref="LRFD 3.6.1.3.1, 3.6.2.1",
    )
    return LaneEffects(M_HL, V_HL, section, M_tr, M_td, M_ln, V_tr, V_td, V_ln)


def girder_live_load(
    sheet: Sheet, lane: LaneEffects, *, moment_factor: Operand, shear_factor: Operand
) -> GirderLiveLoad:
    r"""Write the live-load moment and shear of one girder.

    .. math:: M_{LL} = g_M M_{HL}, \qquad V_{LL} = g_V V_{HL}

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    lane : LaneEffects
        Effects of one lane.
    moment_factor, shear_factor : Operand
        Distribution factors, in lanes.

    Returns
    -------
    GirderLiveLoad
        ``M_LL`` and ``V_LL``.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 4.6.2.2; from memory.
    """
    M_LL = sheet.step(
        "M_LL",
        moment_factor * lane.moment,
        kip_ft,
        "live-load moment of the girder, with impact",
        ref="LRFD 4.6.2.2.2b",
    )
    V_LL = sheet.step(
        "V_LL",
        shear_factor * lane.shear,
        kip,
        "live-load shear of the girder, with impact",
        ref="LRFD 4.6.2.2.3a",
    )
    return GirderLiveLoad(M_LL, V_LL)


def axle_deflection(
    sheet: Sheet, span: Operand, *, name: str = TRUCK, proof: str | None = "statics"
) -> Operand:
    """Write the largest midspan deflection of one vehicle, times EI.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the step.
    span : Operand, [length]
        Span.
    name : str
        Id of the vehicle.
    proof : {"statics"} or None
        What stands below the placement.

    Returns
    -------
    Operand
        The computed step ``K_tr``, [force * length**3], one lane, no dynamic load allowance.

    Source
    ------
    Statics: elastic line of a prismatic simple beam. No clause.
    """
    record = vehicle(name)
    return sheet.computed(
        "K_tr",
        AXLE_DEFLECTION,
        {"vehicle": record.id, "span": span},
        kip * ft**3,
        f"{record.title}: midspan deflection times EI, one lane",
        ref="statics",
        proof=proof,
    )


def standard_lane(
    sheet: Sheet, span: Operand, *, name: str = "HS20", proof: str | None = "statics"
) -> HS20Lane:
    """Write the truck effects of one lane of the Standard Specifications, without impact.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    span : Operand, [length]
        Span.
    name : str
        Id of the truck: HS20, HS15, HS25, H20, H15, or "military".
    proof : {"statics", "ordinates"} or None
        What stands below each governing axle placement.

    Returns
    -------
    HS20Lane
        ``M_tr``, ``V_tr``, and ``P_e``, the axle over the bearing.

    Source
    ------
    AASHTO Standard Specifications, 17th ed. (2002), Art. 3.7.4 to 3.7.6; from memory.
    """
    record = vehicle(name)
    _state_vehicles(sheet, (record.id,))
    title = record.title
    M_tr = _axle_moment(sheet, "M_tr", record.id, span, proof, title, "Std 3.7.6")
    V_tr = _axle_shear(sheet, "V_tr", record.id, span, proof, title, "Std 3.7.6")
    P_e = sheet.given(
        "P_e",
        max(record.axles) * kip,
        "heaviest axle, over the bearing",
        source="Std 3.7.6 (from memory)",
    )
    return HS20Lane(M_tr, V_tr, P_e)


def _state_vehicles(sheet: Sheet, names: tuple[str, ...]) -> None:
    rows = []
    for name in names:
        record = VEHICLES[name]
        axles = ", ".join(f"{force:g}" for force in record.axles)
        spacings = ", ".join(f"{distance:g}" for distance in record.spacings)
        rows.append([record.title, f"{axles} kip", f"{spacings} ft", record.source])
    header = ["vehicle", "axles", "spacings", "source"]
    sheet.table(header, rows, "Vehicles, leading axle first")


def _axle_moment(
    sheet: Sheet, name: str, record: str, L: Operand, proof: str | None, what: str, ref: str
) -> Operand:
    inputs = {"vehicle": record, "span": L}
    what = f"{what}: greatest moment on the span, one lane, no impact"
    return sheet.computed(name, AXLE_MOMENT, inputs, kip_ft, what, ref=ref, proof=proof)


def _axle_shear(
    sheet: Sheet, name: str, record: str, L: Operand, proof: str | None, what: str, ref: str
) -> Operand:
    inputs = {"vehicle": record, "span": L, "section": 0 * ft}
    what = f"{what}: greatest shear at the bearing, one lane, no impact"
    return sheet.computed(name, AXLE_SHEAR, inputs, kip, what, ref=ref, proof=proof)


def _at_one_section(
    sheet: Sheet, L: Operand, IM: Operand, w: Operand, proof: str | None
) -> tuple[Operand, Operand]:
    sheet.note(
        "Combined maximum at one section: axles with impact and lane load are added at each "
        "section, and the greatest sum is taken; dead load is added at that section."
    )
    ref = "LRFD 3.6.1.3.1, 3.6.2.1"
    moments, sections = [], []
    for tag, record, what in (("tr", TRUCK, "truck"), ("td", TANDEM, "tandem")):
        inputs = {"vehicle": record, "span": L, "factor": 1 + IM, "uniform": w}
        moments.append(
            sheet.computed(
                f"M_{tag}ln",
                COMBINED_MOMENT,
                inputs,
                kip_ft,
                f"{what} with impact and lane load, at one section",
                ref=ref,
                proof=proof,
            )
        )
        sections.append(
            sheet.computed(
                f"x_{tag}ln",
                COMBINED_SECTION,
                inputs,
                ft,
                f"section of that moment, {what}",
                ref=ref,
            )
        )
    truck, tandem = moments
    M_HL = sheet.step(
        "M_HL",
        maximum(truck, tandem),
        kip_ft,
        "HL-93 moment of one lane, combined maximum at one section",
        ref=ref,
    )
    x_LL = sheet.step(
        "x_LL",
        cases(
            (truck >= tandem, sections[0], "truck governs"),
            otherwise=(sections[1], "tandem governs"),
        ),
        ft,
        "section of the live-load maximum",
        ref="as computed",
    )
    return M_HL, x_LL
