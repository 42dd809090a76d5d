"""The numbered assumptions of a girder of a whole package, each with its reason."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stepcalc.bridge.details.editions import state_edition
from stepcalc.bridge.fields import HaunchDatum, LiveLoadMaximum, Specification, WearingBasis
from stepcalc.bridge.flexure import is_continuously_braced

if TYPE_CHECKING:
    from stepcalc.bridge.composite_data import CompositeData
    from stepcalc.bridge.data import BridgeData
    from stepcalc.sheet.sheet import Sheet

__all__ = ["assumption_rows", "state_assumptions"]


def assumption_rows(data: BridgeData, *, exterior: bool) -> list[tuple[str, str]]:
    """Return the assumptions and their reasons.

    Parameters
    ----------
    data : BridgeData
        The bridge.
    exterior : bool
        Which girder.

    Returns
    -------
    list of (assumption, reason)
    """
    details = data.details
    assert details is not None
    datum = "top flange" if data.haunch_datum is HaunchDatum.TOP_OF_FLANGE else "web"
    shared = data.wearing_basis is WearingBasis.SHARED
    separate = data.live_load_maximum is LiveLoadMaximum.SEPARATE
    rows = [
        *_which_section(data),
        (f"Haunch measured from the bottom of the slab to the top of the {datum}; its concrete "
         "weighs and gives lever arms, and counts in no area.", "cannot be relied on everywhere"),
        ("The sacrificial part of the deck weighs and does not resist.",
         "it may be worn off; total and structural thickness are two data"),
        ("Both barriers are shared by all girders.",
         "LRFD 4.6.2.2.1, its conditions met; the owner may share them otherwise"),
        ("The wearing surface is " + ("shared by all girders over the roadway." if shared else
         "carried by tributary width."), data.source_of("wearing_basis")),
        _alignment(data),
        ("Axles and lane load: " + str(data.live_load_maximum.value) + ".",
         "the hand procedure's, on the safe side by about 0.1 %" if separate else
         "the envelope's definition; dead load is taken at the same section"),
        *_bars(data, continuous=details.continuous),
        ("Load modifiers are 1.0.", "conventional ductility, redundancy, importance, LRFD 1.3.2"),
        ("The moment gradient modifier is 1.0 in the pour.",
         "nearly uniform moment between the braces next to midspan"),
        ("The whole deck is poured at once.",
         "a pour sequence is not given; it may be more severe over two spans"
         if details.continuous else "no part of the deck ever stiffens the steel of another"
         if not data.composite else "the most severe stage of a simple span, as the pour sequence "
         "shows" if details.pours else "the most severe stage of a simple span"),
        ("The connection plate nearest midspan is taken at midspan, its toe at the extreme fibre.",
         "on the safe side; the exact place and height may be used instead"),
        (f"ADTT {details.trucks_per_day} in one direction over 75 years, {details.truck_lanes} "
         f"lane(s) open to trucks; fatigue factors of the {details.edition.value} edition.",
         data.source_of("trucks_per_day")),
    ]  # fmt: skip
    rows += _section_changes(details)
    if exterior:
        rows.append(
            ("Cross-frames make the section rigid: the rigid-section factor is checked too.",
             "LRFD C4.6.2.2.2d")
        )  # fmt: skip
        rows.append(
            ("Overhang brackets bend the flanges sideways as stated."
             if details.brackets else "Lateral bending by overhang brackets is taken as 0.",
             data.source_of("bracket_reach") if details.brackets else
             "no brackets in the data; check it when the contractor's brackets are known")
        )  # fmt: skip
        if not details.wind:
            rows.append(("No wind on the fascia.", "no pressures in the data: Strength III and V "
                         "are not checked"))  # fmt: skip
    return rows


def _alignment(data: BridgeData) -> tuple[str, str]:
    details = data.details
    if details is None or details.skew_angle is None:
        return (
            "Square and straight: no skew, no curve, parallel girders of equal stiffness.",
            "LRFD 4.6.2.2.1; the distribution equations ask for it",
        )
    return (
        f"Straight, parallel girders of equal stiffness, supports "
        f"skew by {details.skew_angle:.5g~P};"
        f" the reduction of the lanes for moment is {details.skew_reduction.value}. Lateral "
        "bending by the skew is taken as 0.",
        f"{data.source_of('skew_angle')}; cross-frames in one line between girders",
    )


def _section_changes(details: CompositeData) -> list[tuple[str, str]]:
    if details.cover_start is not None:
        what = "The cover plate of midspan"
    elif details.changes:
        what = "The flanges of midspan"
    else:
        return []
    return [
        (f"{what} counts over the whole span in dead load and in the stiffness that distributes "
         "the live load; strength, service, pour and fatigue use the section that is there.",
         "usual; the weight is on the safe side"),
        ("Live-load deflection and camber use the plain beam with the midspan deflection of the "
         "stepped one under a uniform load.", "exact for the dead load"),
    ]  # fmt: skip


def _which_section(data: BridgeData) -> list[tuple[str, str]]:
    unshored = (
        "Unshored: steel, forms and wet deck rest on the bare steel (DC1).",
        "usual construction; shoring would have to be on the plans",
    )
    if data.composite:
        late = (
            "Composite over the whole span; DC2 and DW on the 3n section, live load on the n "
            "section.",
            "shear connectors over the whole span; creep by 3n, LRFD 6.10.1.1.1b",
        )
        return [unshored, late]
    held = "braces" if is_continuously_braced(data.top_flange) else "does not brace"
    return [
        unshored,
        ("Not composite: the steel alone resists DC1, DC2, DW and the live load. The slab counts "
         "in the distribution of the live load only.", "no shear connectors, LRFD 6.10.1.1"),
        (f"The hardened deck {held} the top flange ({data.top_flange.value}).",
         f"{data.source_of('top_flange')}; LRFD C6.10.1.6"),
    ]  # fmt: skip


def _bars(data: BridgeData, *, continuous: bool) -> list[tuple[str, str]]:
    if continuous:
        return [
            ("Over the pier the bars of the slab act with the steel; in the spans they do not.",
             "the deck is cracked there at Strength I, LRFD 6.10.1.1.1c")
        ]  # fmt: skip
    if not data.composite:
        return []
    return [
        ("Longitudinal bars of the slab count in no resistance.",
         "positive bending; on the safe side")
    ]  # fmt: skip


def state_assumptions(sheet: Sheet, data: BridgeData, *, exterior: bool) -> None:
    """Write the table of assumptions.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the table.
    data : BridgeData
        The bridge.
    exterior : bool
        Which girder.
    """
    rows = assumption_rows(data, exterior=exterior)
    sheet.table(
        ["No.", "Assumption", "Reason"],
        [[f"A{number}", what, why] for number, (what, why) in enumerate(rows, 1)],
        "Assumptions; every value marked as assumed in the calculation belongs to them",
    )
    if exterior or data.details is None:  # the other girder of a package has the same edition
        return
    if data.specification is Specification.LRFD:
        state_edition(sheet, str(data.details.edition.value))
