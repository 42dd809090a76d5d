"""Whether cover plates, hybrid webs, flange changes and longitudinal stiffeners fit a girder."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from stepcalc.data.tables import table
from stepcalc.errors import RangeError, TableError

if TYPE_CHECKING:
    from stepcalc.bridge.composite_data import CompositeData

__all__ = [
    "COVER", "LONGITUDINAL", "check_along_span", "check_sections", "check_without_studs",
    "refuse_older",
]  # fmt: skip

COVER = ("cover_width", "cover_thickness", "cover_start")
LONGITUDINAL = ("longitudinal_distance", "longitudinal_width", "longitudinal_thickness")
_MOST_CHANGES = 4


def check_sections(details: CompositeData) -> None:
    """Refuse what does not fit the girder, by name.

    Parameters
    ----------
    details : CompositeData
        The girder.

    Raises
    ------
    RangeError
        If a cover plate lies on a welded girder, flanges change on a rolled one, a longitudinal
        stiffener lies outside the web, or flanges are no wider than the web is thick.
    TableError
        If the grade of the web is not in the table.
    """
    if details.web_grade is not None:
        _check_web_grade(details)
    if details.cover_start is not None and (details.welded or details.continuous):
        raise RangeError(
            "cover_start is given, but cover plates belong to a rolled beam of one span here; a "
            "welded girder changes its flanges by [[changes]]"
        )
    if details.longitudinal_distance is not None:
        if not details.welded or details.continuous:
            raise RangeError(
                "longitudinal_distance is given, but longitudinal stiffeners belong to a welded "
                "girder of one span here"
            )
        if details.longitudinal_distance >= details.web_depth:
            raise RangeError(
                f"longitudinal_distance is {details.longitudinal_distance:.5g~P}, outside the web "
                f"of {details.web_depth:.5g~P}; want the distance from the top flange"
            )
    if details.changes:
        _check_changes(details)


def check_without_studs(details: CompositeData) -> None:
    """Refuse what only shear connectors make sense of.

    Parameters
    ----------
    details : CompositeData
        A welded girder without shear connectors.

    Raises
    ------
    RangeError
        If the girder is continuous, or bars of the slab or an order of the pours are given.
    """
    if details.continuous:
        raise RangeError(
            f"{'spans' if details.spans else 'second_span'} is given, but the girder has no shear "
            "connectors; a welded girder over several spans has the table [studs] here, with "
            "studs_over_piers = false where none stand over the piers"
        )
    for key, why in (
        ("top_bars", "the bars of the slab count in no resistance"),
        ("bottom_bars", "the bars of the slab count in no resistance"),
        ("pours", "the deck never stiffens the steel, and the order of its pours changes nothing"),
    ):
        if getattr(details, key):
            raise RangeError(
                f"{key} is given, but the girder has no shear connectors: {why}; leave it out, or "
                "add the table [studs] and composite = true"
            )


def _check_web_grade(details: CompositeData) -> None:
    if not details.welded or details.continuous:
        raise RangeError(
            "web_grade is given, but a hybrid girder is welded and of one span here; leave it out"
        )
    grades = table("steel_grades")
    try:
        grades.row_number(str(details.web_grade))
    except TableError as error:
        raise TableError(f"web_grade is not known: {error}") from None


def _check_changes(details: CompositeData) -> None:
    if not details.welded or details.continuous:
        raise RangeError(
            "[[changes]] are given, but flanges change on a welded girder of one span here; a "
            "rolled beam may have a [cover_plate]"
        )
    if len(details.changes) > _MOST_CHANGES:
        raise RangeError(
            f"[[changes]] stands {len(details.changes)} times; want {_MOST_CHANGES} at most"
        )
    before: Any = None
    for number, change in enumerate(details.changes, 1):
        if before is not None and change.to <= before:
            raise RangeError(
                f"to in [[changes]] number {number} is {change.to:.5g~P}, not beyond the one "
                f"before, {before:.5g~P}; want them from the bearing inwards"
            )
        before = change.to
        for where in ("top", "bottom"):
            wide = getattr(change, f"{where}_width")
            if details.web_thickness >= wide:
                raise RangeError(
                    f"web_thickness is {details.web_thickness:.5g~P}, and the {where} flange of "
                    f"[[changes]] number {number} is {wide:.5g~P} wide; a flange is wider than the "
                    "web is thick"
                )


def refuse_older(details: CompositeData, code: str) -> None:
    """Refuse what only LRFD checks here, so that nothing is left out in silence.

    Parameters
    ----------
    details : CompositeData
        The girder.
    code : str
        ``"ASD"`` or ``"LFD"``.

    Raises
    ------
    RangeError
        If the girder has a cover plate, a hybrid web, flange changes, a longitudinal stiffener or
        skew supports.
    """
    for key in ("cover_start", "web_grade", "changes", "longitudinal_distance", "skew_angle"):
        if getattr(details, key):
            raise RangeError(
                f"{key} is given, but specification is {code!r}; cover plates, hybrid webs, flange "
                "changes, longitudinal stiffeners and skew are checked by 'LRFD' here"
            )


def check_along_span(details: CompositeData, span: Any) -> None:
    """Refuse changes of the section that do not lie in the half span.

    Parameters
    ----------
    details : CompositeData
        The girder.
    span : Quantity, [length]
        Of the bridge.

    Raises
    ------
    RangeError
        If a cover plate or a change begins at midspan or beyond, or a panel is longer than the
        span.
    """
    places = [("cover_start", details.cover_start)] if details.cover_start is not None else []
    places += [
        (f"to in [[changes]] number {number}", change.to)
        for number, change in enumerate(details.changes, 1)
    ]
    for name, place in places:
        if place >= span / 2:
            raise RangeError(
                f"{name} is {place:.5g~P}, not before midspan of the span of {span:.5g~P}; want "
                "the distance from the nearer bearing"
            )
    if details.panel is not None and not details.continuous and details.panel > span:
        raise RangeError(
            f"panel is {details.panel:.5g~P}, longer than the span of {span:.5g~P}; want the "
            "spacing of the stiffeners"
        )
