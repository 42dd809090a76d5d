"""Small sheets that show a governing axle placement, so that a checker can redo it by hand."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from stepcalc.analysis.train_deflection import maximum_midspan_deflection
from stepcalc.analysis.train_moment import maximum_moment
from stepcalc.analysis.train_shear import maximum_shear
from stepcalc.analysis.vehicles import vehicle as find_vehicle
from stepcalc.bridge.placed_axles import on_the_span
from stepcalc.bridge.proof_body import ProofBody, summed
from stepcalc.sheet.sheet import Sheet
from stepcalc.units import ft, kip, kip_ft

if TYPE_CHECKING:
    from stepcalc.expr.tree import Operand

__all__ = [
    "combined_by_ordinates",
    "combined_by_statics",
    "deflection_by_statics",
    "moment_beside",
    "moment_by_ordinates",
    "moment_by_statics",
    "section_by_statics",
    "shear_beside",
    "shear_by_ordinates",
    "shear_by_statics",
]


_DECIMALS = 5
"""Of a position found by search, ft: the effect has no slope there, so that it keeps 12 digits."""


def moment_by_statics(*, vehicle: str, span: float, brief: bool = False) -> Sheet:
    """Return the sheet that shows the largest moment of a vehicle by statics.

    Parameters
    ----------
    vehicle : str
        Id of the vehicle.
    span : float
        Span in ft.
    brief : bool
        Leave out the figure and the other runs of axles.

    Returns
    -------
    Sheet
        Axle distances, resultant, its distance to the governing axle, position, left reaction,
        sum of moments at the governing axle; the last step is the moment.

    Source
    ------
    Statics: critical-position theorem. No clause.
    """
    record = find_vehicle(vehicle)
    placed = on_the_span(record, maximum_moment(record.axles, record.spacings, span=span), span)
    sheet = Sheet(f"{record.title}: largest moment by statics")
    body = ProofBody(sheet, record, placed, span)
    e = body.resultant_beyond()
    c = body.step(
        "c",
        body.L / 2 if e is None else body.L / 2 - e / 2,
        ft,
        "position of the governing axle: midspan halves its distance to the resultant",
        ref="critical position",
    )
    body.axle_moment(c, e, "M", drawn=not brief)
    if not brief:
        body.candidates(1.0, 0.0)
    return sheet


def moment_beside(*, vehicle: str, span: float, rival: str) -> Sheet:
    """Return the proof of a largest moment, in brief where another vehicle's is no less.

    Parameters
    ----------
    vehicle, span
        As for `moment_by_statics`.
    rival : str
        Id of the vehicle it stands beside.

    Returns
    -------
    Sheet
        As for `moment_by_statics`; in brief it says so, without figure and other runs of axles.

    Source
    ------
    Statics. No clause.
    """
    own, other = (
        maximum_moment(record.axles, record.spacings, span=span).value
        for record in (find_vehicle(vehicle), find_vehicle(rival))
    )
    sheet = moment_by_statics(vehicle=vehicle, span=span, brief=bool(other >= own))
    if other >= own:
        sheet.note(f"The {find_vehicle(rival).title} has more: this vehicle is not drawn.")
    return sheet


def shear_beside(*, vehicle: str, span: float, section: float, rival: str) -> Sheet:
    """Return the proof of a largest shear, in brief where another vehicle's is no less.

    Parameters
    ----------
    vehicle, span, section
        As for `shear_by_statics`.
    rival : str
        Id of the vehicle it stands beside.

    Returns
    -------
    Sheet
        As for `shear_by_statics`; in brief without figure.

    Source
    ------
    Statics. No clause.
    """
    own, other = (
        maximum_shear(record.axles, record.spacings, section, span=span).value
        for record in (find_vehicle(vehicle), find_vehicle(rival))
    )
    sheet = shear_by_statics(vehicle=vehicle, span=span, section=section, brief=bool(other >= own))
    if other >= own:
        sheet.note(f"The {find_vehicle(rival).title} has more: this vehicle is not drawn.")
    return sheet


def combined_by_statics(*, vehicle: str, span: float, factor: float, uniform: float) -> Sheet:
    """Return the sheet that shows the largest moment of a vehicle and a lane load at one section.

    Parameters
    ----------
    vehicle : str
        Id of the vehicle.
    span, factor, uniform : float
        Span in ft; factor on the axles; uniform load in kip/ft.

    Returns
    -------
    Sheet
        As for `moment_by_statics`; the last step is the combined moment.

    Source
    ------
    Statics: critical-position theorem with a uniform load. No clause.
    """
    sheet, body, c, e = _combined(vehicle, span, factor, uniform)
    M_ax = body.axle_moment(c, e, "M_ax")
    w, f, L = body.uniform, body.factor, body.L
    M_w = body.step("M_w", w * c * (L - c) / 2, kip_ft, "uniform load at that section")
    body.step("M", f * M_ax + M_w, kip_ft, "both at one section")
    body.candidates(factor, uniform)
    return sheet


def section_by_statics(*, vehicle: str, span: float, factor: float, uniform: float) -> Sheet:
    """Return the sheet that shows where the largest combined moment occurs.

    Parameters
    ----------
    vehicle : str
        Id of the vehicle.
    span, factor, uniform : float
        As for `combined_by_statics`.

    Returns
    -------
    Sheet
        The last step is the section.

    Source
    ------
    Statics: critical-position theorem with a uniform load. No clause.
    """
    return _combined(vehicle, span, factor, uniform)[0]


def shear_by_statics(*, vehicle: str, span: float, section: float, brief: bool = False) -> Sheet:
    """Return the sheet that shows the largest shear of a vehicle at a section by statics.

    Parameters
    ----------
    vehicle : str
        Id of the vehicle.
    span, section : float
        Span, and section from the left support, in ft.
    brief : bool
        Leave out the figure.

    Returns
    -------
    Sheet
        The placed axles and the sum of moments about the far support; the last step is the shear.

    Source
    ------
    Statics: equilibrium. No clause.
    """
    sheet, body, arms = _sheared(vehicle, span, section, "statics")
    moments = [P * arm for P, arm in zip(body.P, arms, strict=True)]
    what = "moments of the axles about the far support"
    M_B = body.step("M_B", summed(moments), kip_ft, what)
    V = body.step("V", M_B / body.L, kip, "left reaction, equal to the shear at the section")
    if not brief:
        body.free_body(reaction=float(V.value.magnitude))
    return sheet


def moment_by_ordinates(*, vehicle: str, span: float) -> Sheet:
    """Return the sheet that shows the largest moment of a vehicle by influence ordinates.

    Parameters
    ----------
    vehicle : str
        Id of the vehicle.
    span : float
        Span in ft.

    Returns
    -------
    Sheet
        The ordinates under the placed axles; the last step is the moment.

    Source
    ------
    Statics: influence line for moment in a simple beam. No clause.
    """
    record = find_vehicle(vehicle)
    placed = on_the_span(record, maximum_moment(record.axles, record.spacings, span=span), span)
    sheet = Sheet(f"{record.title}: largest moment by influence ordinates")
    body = ProofBody(sheet, record, placed, span)
    body.moment_ordinates(_governing_section(sheet, placed.section), "M")
    return sheet


def combined_by_ordinates(*, vehicle: str, span: float, factor: float, uniform: float) -> Sheet:
    """Return the sheet that shows a combined moment at one section by influence ordinates.

    Parameters
    ----------
    vehicle : str
        Id of the vehicle.
    span, factor, uniform : float
        As for `combined_by_statics`.

    Returns
    -------
    Sheet
        Ordinates, area of the influence line; the last step is the combined moment.

    Source
    ------
    Statics: influence line for moment in a simple beam. No clause.
    """
    record = find_vehicle(vehicle)
    found = maximum_moment(record.axles, record.spacings, span=span, factor=factor, uniform=uniform)
    placed = on_the_span(record, found, span)
    sheet = Sheet(f"{record.title} and lane load: moment at one section by influence ordinates")
    body = ProofBody(sheet, record, placed, span)
    body.with_lane(factor, uniform)
    c = _governing_section(sheet, placed.section)
    M_ax = body.moment_ordinates(c, "M_ax")
    area = body.step("A_y", c * (body.L - c) / 2, ft**2, "area of the influence line")
    body.step("M", body.factor * M_ax + body.uniform * area, kip_ft, "both at one section")
    return sheet


def shear_by_ordinates(*, vehicle: str, span: float, section: float) -> Sheet:
    """Return the sheet that shows the largest shear of a vehicle by influence ordinates.

    Parameters
    ----------
    vehicle : str
        Id of the vehicle.
    span, section : float
        Span, and section from the left support, in ft.

    Returns
    -------
    Sheet
        The ordinates under the placed axles; the last step is the shear.

    Source
    ------
    Statics: influence line for shear in a simple beam. No clause.
    """
    sheet, body, arms = _sheared(vehicle, span, section, "influence ordinates")
    y = [
        body.step(f"y_{i}", arm / body.L, None, f"ordinate under axle {i}")
        for i, arm in enumerate(arms, 1)
    ]
    body.products("V", y, kip)
    step_up = [-section / span, 1 - section / span]
    body.influence([0.0, section, section, span], [0.0, *step_up, 0.0], y, "ordinate")
    return sheet


def deflection_by_statics(*, vehicle: str, span: float) -> Sheet:
    """Return the sheet that shows the largest midspan deflection of a vehicle, times E I.

    Parameters
    ----------
    vehicle : str
        Id of the vehicle.
    span : float
        Span in ft.

    Returns
    -------
    Sheet
        Distances to the nearer support, the deflection of each axle; the last step is the sum.

    Source
    ------
    Statics: elastic line of a prismatic simple beam. No clause.
    """
    record = find_vehicle(vehicle)
    found = maximum_midspan_deflection(record.axles, record.spacings, span=span, rigidity=1.0)
    placed = on_the_span(record, found, span)
    sheet = Sheet(f"{record.title}: midspan deflection by statics")
    body = ProofBody(sheet, record, placed, span)
    L, unit, parts = body.L, kip * ft**3, []
    what = "first of these axles to the left support, where the deflection has no slope"
    x_1: Any = sheet.given("x_1", round(placed.positions[0], _DECIMALS) * ft, what, source="search")
    for i, (P, x) in enumerate(zip(body.P, placed.positions, strict=True), 1):
        at = x_1 if i == 1 else x_1 + body.between(0, i - 1)
        near = at if x <= span / 2 else L - at
        a = body.step(f"a_{i}", near, ft, f"axle {i} to the nearer support")
        part = P * a * (3 * L**2 - 4 * a**2) / 48
        parts.append(body.step(f"K_{i}", part, unit, f"midspan deflection of axle {i}, times EI"))
    body.free_body()
    body.step("K", summed(parts), unit, "midspan deflection times EI")
    return sheet


def _governing_section(sheet: Sheet, section: float) -> Any:
    what = "governing section, under an axle"
    return sheet.given("c", round(section, _DECIMALS) * ft, what, source="search")


def _combined(
    vehicle: str, span: float, factor: float, uniform: float
) -> tuple[Sheet, ProofBody, Operand, Operand | None]:
    record = find_vehicle(vehicle)
    found = maximum_moment(record.axles, record.spacings, span=span, factor=factor, uniform=uniform)
    placed = on_the_span(record, found, span)
    sheet = Sheet(f"{record.title} and lane load: largest moment at one section by statics")
    body = ProofBody(sheet, record, placed, span)
    body.with_lane(factor, uniform)
    e = body.resultant_beyond()
    L, R, f, w = body.L, body.R, body.factor, body.uniform
    formula = L / 2 if e is None else (f * R * (L - e) + w * L**2 / 2) / (2 * f * R + w * L)
    what = "section at which the sum of both moments has no slope"
    c = body.step("c", formula, ft, what, ref="critical position, with lane")
    return sheet, body, c, e


def _sheared(
    vehicle: str, span: float, section: float, how: str
) -> tuple[Sheet, ProofBody, list[Any]]:
    record = find_vehicle(vehicle)
    found = maximum_shear(record.axles, record.spacings, section, span=span)
    placed = on_the_span(record, found, span, least=section)
    sheet = Sheet(f"{record.title}: largest shear by {how}")
    body = ProofBody(sheet, record, placed, span)
    reach = body.L
    if section > 0:
        reach = body.L - sheet.given("c", section * ft, "section, and the first axle on it")
    arms = [reach - body.between(0, i) if i else reach for i in range(len(body.P))]
    return sheet, body, arms
