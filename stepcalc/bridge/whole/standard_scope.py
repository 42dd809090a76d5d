"""Assumptions and scope of a composite girder by the Standard Specifications."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stepcalc.bridge.fields import Specification, WearingBasis

if TYPE_CHECKING:
    from stepcalc.bridge.data import BridgeData
    from stepcalc.sheet.sheet import Sheet

__all__ = ["standard_assumptions", "standard_not_checked"]

_NEVER = (
    "diaphragms, cross-frames and their connections",
    "deck slab, overhang and barriers",
    "bearings, anchorage and substructure",
    "bolts, welds and splices; fatigue of details other than those listed",
    "proportions of web and flanges of Art. 10.34 beyond those that enter the strength",
    "distortion-induced fatigue; fracture-critical members",
    "stages of erection before the deck pour; pour sequence",
    "web fatigue; alternate military loading; overload vehicles",
    "groups of loads other than Group I; wind",
    "skew and curvature: the girders are straight and square",
    "corrosion and section loss",
    "load rating, legal and permit vehicles",
)


def standard_assumptions(sheet: Sheet, data: BridgeData, *, exterior: bool) -> None:
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
    details = data.details
    assert details is not None
    shared = data.wearing_basis is WearingBasis.SHARED
    allowable = data.specification is Specification.ASD
    rows = [
        ("AASHTO Standard Specifications, 17th edition, "
         + ("allowable stress design." if allowable else "load factor design.")
         + " What this book says alike in LRFD carries the LRFD article beside it.",
         data.source_of("specification")),
        ("Unshored: steel, forms and wet deck rest on the bare steel (DC1); DC2 and DW on the 3n "
         "section, HS20 on the n section.", "Std 10.38.1.4, 10.38.4"),
        ("HS20-44 truck or lane load, whichever gives more; dead load moments at midspan are added "
         "to the greatest live-load moment.", "Std 3.7; on the safe side by less than 1 %"),
        ("Both barriers are shared by all girders.", "Std 3.23.2.3.1.1"),
        ("The wearing surface is " + ("shared by all girders over the roadway." if shared else
         "carried by tributary width."), data.source_of("wearing_basis")),
        ("The sacrificial part of the deck weighs and does not resist.", "it may be worn off"),
        ("The bars of the deck are left out in positive bending.", "on the safe side"),
        ("The moment gradient modifier is 1.0 in the pour, and the whole deck is poured at once.",
         "on the safe side for a simple span"),
        (f"{details.trucks_per_day} trucks a day in one direction.",
         data.source_of("trucks_per_day")),
        ("Square and straight, parallel girders of equal stiffness.", "Std 3.23"),
    ]  # fmt: skip
    if exterior:
        rows.append(("No wind, and no lateral bending by overhang brackets.",
                     "Group I only; look at both when they are known"))  # fmt: skip
    sheet.table(
        ["No.", "Assumption", "Reason"],
        [[f"A{number}", what, why] for number, (what, why) in enumerate(rows, 1)],
        "Assumptions; every value marked as assumed in the calculation belongs to them",
    )


def standard_not_checked(data: BridgeData, *, exterior: bool) -> tuple[str, ...]:
    """Return what remains for others.

    Parameters
    ----------
    data : BridgeData
        The bridge.
    exterior : bool
        Which girder.

    Returns
    -------
    tuple of str
    """
    more = ["lateral bending by overhang brackets"] if exterior else []
    if data.welded and data.specification is Specification.ASD:
        more.append("least web thickness by the bending stress (Std 10.34.3)")
    return (*more, *_NEVER)
