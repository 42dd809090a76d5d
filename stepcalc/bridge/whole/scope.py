"""What the verdict on a girder of a whole package covers, and what it does not."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stepcalc.bridge.verdict import REVIEW

if TYPE_CHECKING:
    from stepcalc.bridge.data import BridgeData
    from stepcalc.sheet.sheet import Sheet

__all__ = ["composite_words", "conclude_girder", "not_checked"]

_NEVER = (
    "diaphragms, cross-frames and their connections",
    "deck slab, overhang and barriers",
    "bearings, anchorage and substructure",
    "bolts, welds and splices; fatigue of details other than those in the fatigue table",
    "distortion-induced fatigue; fracture-critical members",
    "stages of erection before the deck pour",
    "Strength II and IV, extreme events; Service I, III and IV (the latter two are of concrete)",
    "one- and two-lane factors by refined analysis",
    "corrosion and section loss",
    "load rating, legal and permit vehicles",
)

_NOT_CONTINUOUS = (
    "field splices; redistribution of moments (Appendix B6); settlement of supports",
    "moments locked in by the order of the pours: the final DC1 is that of the whole deck at once",
)


def composite_words(data: BridgeData) -> str:
    """Return whether a girder is composite, in a word.

    Parameters
    ----------
    data : BridgeData
        The bridge.

    Returns
    -------
    str
    """
    return "composite" if data.composite else "non-composite"


def not_checked(data: BridgeData, *, exterior: bool) -> tuple[str, ...]:
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
    details = data.details
    assert details is not None
    more: list[str] = []
    if details.continuous:
        more += list(_NOT_CONTINUOUS)
    if exterior and not details.wind:
        more.append("wind on the fascia, Strength III and V: no pressures given")
    if exterior and not details.brackets:
        more.append("lateral bending by overhang brackets")
    if details.skew_angle is None:
        more.append("skew and curvature: the girders are straight and square")
    else:
        more.append("curvature; cross-frame forces and lateral bending by the skew")
    if data.composite and not details.pours:
        more.append("pour sequence: none given")
    return (*more, *_NEVER)


def conclude_girder(sheet: Sheet, data: BridgeData, *, exterior: bool) -> None:
    """Put the verdict with its scope at the end of a girder's sheet.

    Parameters
    ----------
    sheet : Sheet
        The calculation of one girder.
    data : BridgeData
        The bridge.
    exterior : bool
        Which girder.
    """
    which = "exterior" if exterior else "interior"
    sheet.conclude(
        f"The verdict speaks of one {which} girder and of the checks listed here, by LRFD, and of "
        f"nothing else. {REVIEW}",
        checked=(
            f"the {len(sheet.checks)} checks of the summary below, each with its place and article",
        ),
        not_checked=not_checked(data, exterior=exterior),
        recommendation=('see the sheet "Summary of both girders"',),
    )
