"""The verdict on an interior girder with its scope, in words and numbers.

A verdict here speaks of the checks that were made, never of the bridge.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stepcalc.bridge.fields import Specification
from stepcalc.sheet import state

if TYPE_CHECKING:
    from stepcalc.sheet.sheet import Sheet

REVIEW = (
    "This is a calculation aid: a licensed engineer must review every result, and the governing "
    "code edition and the owner's rules come first."
)

RATING = "load rating, legal and permit vehicles"
_COMMON = (
    "exterior girder",
    "fatigue and fracture",
    "diaphragms, their connections and lateral loads",
    "deck slab, overhang and barriers",
    "bearings, anchorage and substructure",
    "bolts, welds, splices, cover plates and bearing stiffeners",
    "camber and dead-load deflection",
    "pour sequence, uplift and stages of erection",
    "corrosion and section loss",
    RATING,
)
_BY_SPECIFICATION = {
    Specification.LRFD: (
        "permit vehicles of Strength II, extreme events, wind",
        "skew and curvature: the girder is straight and square",
        "one- and two-lane factors by refined analysis",
    ),
    Specification.ASD: (
        "wind, temperature and permit vehicles in the groups of loads",
        "alternate military loading",
        "skew and curvature: the girder is straight and square",
    ),
    Specification.LFD: (
        "wind, temperature and permit vehicles in the groups of loads",
        "alternate military loading",
        "web bend-buckling under overload",
        "skew and curvature: the girder is straight and square",
    ),
}


@dataclass(frozen=True)
class Scope:
    """What a verdict covers and what it does not."""

    checked: tuple[str, ...]
    not_checked: tuple[str, ...]


def scope(sheet: Sheet, specification: Specification, *, rated: bool = False) -> Scope:
    """Return what was checked on a sheet and what was not.

    Parameters
    ----------
    sheet : Sheet
        The calculation of an interior girder.
    specification : Specification
        The specification of the checks.
    rated : bool
        Whether a load rating goes with it, on a sheet of its own.

    Returns
    -------
    Scope
        Names of the checks with their articles, and what remains for others.
    """
    checked = tuple(
        f"{check.name} ({check.ref})" if check.ref else check.name for check in sheet.checks
    )
    others = _COMMON + _BY_SPECIFICATION[specification]
    return Scope(checked, tuple(item for item in others if not (rated and item == RATING)))


def conclude(sheet: Sheet, specification: Specification, *, rated: bool = False) -> None:
    """Put the verdict with its scope at the end of a sheet.

    The words hold no number: the numbers come from the checks themselves, so that they follow a
    revision.

    Parameters
    ----------
    sheet : Sheet
        The calculation of an interior girder.
    specification : Specification
        The specification of the checks.
    rated : bool
        As for `scope`.
    """
    limits = scope(sheet, specification, rated=rated)
    sheet.conclude(
        "The verdict speaks of one interior girder and of the checks listed here, by "
        f"{specification.value}, and of nothing else. {REVIEW}",
        checked=limits.checked,
        not_checked=limits.not_checked,
        recommendation=(
            'see the sheet "Alternatives and recommendation"'
            + (", and the sheet of the load rating" if rated else ""),
        ),
    )


def verdict_in_words(sheet: Sheet, *, subject: str) -> str:
    """Return the verdict of a sheet as one paragraph.

    Parameters
    ----------
    sheet : Sheet
        A sheet with checks.
    subject : str
        What was checked, such as ``"interior girder W30X116"``.

    Returns
    -------
    str
        How many checks were made, how many fail, which governs, by how much.
    """
    checks = sheet.checks
    failed = [check for check in checks if not check.passed]
    governing = sheet.governing
    if governing is None:
        return f"{subject}: no check was made"
    ratio = governing.shown_ratio if governing.defined else "undefined"
    tail = f"the greatest D/C is {ratio}, {governing.name} ({governing.ref})"
    with state.unchanging(sheet):
        outside = [check.name for check in checks if not check.in_range]
    beyond = (
        f"{len(outside)} of {len(checks)} checks follow from a formula outside its range of "
        f"application ({'; '.join(outside)})"
    )
    if failed:
        names = "; ".join(check.name for check in failed)
        also = f"; {beyond}" if outside else ""
        return (
            f"{subject}: N.G.; {len(failed)} of {len(checks)} checks fail ({names}); {tail}{also}"
        )
    if outside:
        return f"{subject}: no verdict; {beyond}; {tail}"
    return f"{subject}: all {len(checks)} checks made are OK; {tail}"
