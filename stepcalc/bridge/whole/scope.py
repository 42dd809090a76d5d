"""What the verdict on a composite girder covers, and what it does not."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stepcalc.bridge.verdict import REVIEW

if TYPE_CHECKING:
    from stepcalc.bridge.data import BridgeData
    from stepcalc.sheet.sheet import Sheet

__all__ = ["conclude_girder", "not_checked"]

_NEVER = (
    "diaphragms, cross-frames and their connections",
    "deck slab, overhang and barriers",
    "bearings, anchorage and substructure",
    "bolts, welds and splices; fatigue of details other than those in the fatigue table",
    "distortion-induced fatigue; fracture-critical members",
    "stages of erection before the deck pour; pour sequence",
    "Strength II and IV, extreme events; Service I, III and IV (the latter two are of concrete)",
    "skew and curvature: the girders are straight and square",
    "one- and two-lane factors by refined analysis",
    "corrosion and section loss",
    "load rating, legal and permit vehicles",
)

_NOT_CONTINUOUS = (
    "shear connectors of the second span, and the one-percent deck reinforcement",
    "live-load deflection and camber over two spans",
    "transverse stiffeners themselves; shear of panels other than those at the bearings",
    "positive moment of the second span, which is no longer than the first; splices",
    "wind on the fascia, Strength III and V",
)


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
    if exterior and not details.wind and not details.continuous:
        more.append("wind on the fascia, Strength III and V: no pressures given")
    if exterior and (details.continuous or not details.brackets):
        more.append("lateral bending by overhang brackets")
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
        checked=tuple(
            f"{check.name} ({check.ref})" if check.ref else check.name for check in sheet.checks
        ),
        not_checked=not_checked(data, exterior=exterior),
        recommendation=('see the sheet "Summary of both girders"',),
    )
