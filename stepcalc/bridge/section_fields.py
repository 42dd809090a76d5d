r"""What a bridge file says of a girder whose section is not one plain shape all along.

Keys of ``[plates] [stiffeners] [cover_plate] [skew]``, and the repeated table

::

    [[changes]]                  # flanges of a welded girder of one span, from the bearing inwards
    to = "22 ft"                 # these flanges reach from the bearing, or the last change, to here
    top_width = "14 in"
    top_thickness = "3/4\""
    bottom_width = "16 in"
    bottom_thickness = "1\""

Beyond the last change stand the flanges of ``[plates]``; the other half is symmetrical.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from stepcalc.bridge.field_checks import checked
from stepcalc.bridge.fields import Choice, Field
from stepcalc.errors import RangeError, StepcalcError

__all__ = [
    "SECTION_FIELDS", "SECTION_TABLES", "ChangeTable", "EndWeld", "SkewReduction",
    "change_schema_text", "read_changes",
]  # fmt: skip

SECTION_TABLES = ("changes",)
"""The table that comes more than once."""


class EndWeld(Choice):
    """Whether the end of a cover plate is welded across."""

    ACROSS = "welded across the end"
    SIDES = "not welded across the end"


class SkewReduction(Choice):
    """Whether the owner lets the skew reduce the lanes for moment."""

    NOT_TAKEN = "not taken"
    TAKEN = "taken"


def _length(
    section: str, key: str, meaning: str, example: str, high: float, unit: str = "inch", *,
    low: float = 0, above_low: bool = True, required: bool = False,
) -> Field:  # fmt: skip
    return Field(key, section, meaning, example, (unit,), (low,), (high,), above_low,
                 required=required)  # fmt: skip


_COVER, _SKEW, _STIFF = "cover_plate", "skew", "stiffeners"

SECTION_FIELDS: tuple[Field, ...] = (
    Field("web_grade", "plates", "grade of the web where it differs from the flanges (hybrid)",
          "50", required=False),
    _length(_STIFF, "longitudinal_distance", "inner face of the top flange to a longitudinal "
            "stiffener", "12 in", 120),
    _length(_STIFF, "longitudinal_width", "projecting width of the longitudinal stiffener", "5 in",
            30),
    _length(_STIFF, "longitudinal_thickness", "its thickness", "1/2\"", 3),
    _length(_COVER, "cover_width", "width of the cover plate below the bottom flange", "10 in", 60),
    _length(_COVER, "cover_thickness", "its thickness", "3/4\"", 4),
    _length(_COVER, "cover_start", "bearing to the end of the cover plate", "11 ft", 200, "ft"),
    Field("cover_end", _COVER, "weld at the end of the cover plate", "welded across the end",
          options=EndWeld, required=False, assumed="usual end weld, common practice, no source"),
    _length(_SKEW, "skew_angle", "angle between the support line and a line at right angles to the "
            "girders", "24 degree", 80, "degree", above_low=False),
    Field("skew_reduction", _SKEW, "whether skew reduces the lanes for moment", "not taken",
          options=SkewReduction, required=False, assumed="the owner's option, on the safe side "
          "when not taken"),
)  # fmt: skip
"""Keys beside those of :mod:`stepcalc.bridge.composite_fields`."""

_CHANGE = (
    _length("changes", "to", "bearing to the end of these flanges", "22 ft", 200, "ft",
            required=True),
    _length("changes", "top_width", "width of the top flange there", "14 in", 60, required=True),
    _length("changes", "top_thickness", "its thickness", "3/4\"", 6, required=True),
    _length("changes", "bottom_width", "width of the bottom flange there", "16 in", 60,
            required=True),
    _length("changes", "bottom_thickness", "its thickness", "1\"", 6, required=True),
)  # fmt: skip


@dataclass(frozen=True)
class ChangeTable:
    """Flanges from the bearing, or the change before, to a place.

    Attributes
    ----------
    to : Quantity, [length]
        From the bearing.
    top_width, top_thickness, bottom_width, bottom_thickness : Quantity, [length]
    """

    to: Any
    top_width: Any
    top_thickness: Any
    bottom_width: Any
    bottom_thickness: Any


def read_changes(
    tables: Mapping[str, Any], read: Callable[[Field, Any], Any]
) -> dict[str, tuple[ChangeTable, ...]]:
    """Return the flange changes of a file.

    Parameters
    ----------
    tables : mapping
        The file.
    read : callable
        Reader of one value of a field.

    Returns
    -------
    dict
        ``changes``, if the file has any.

    Raises
    ------
    RangeError
        If a table is none, or a key is unknown, missing or impossible.
    """
    if "changes" not in tables:
        return {}
    items = tables["changes"]
    if not isinstance(items, list) or not all(isinstance(item, dict) for item in items):
        raise RangeError(
            "[changes] is one table; want one for each, opened by the line [[changes]]"
        )
    return {"changes": tuple(_change(item, n, read) for n, item in enumerate(items, 1))}


def _change(item: Mapping[str, Any], number: int, read: Callable[[Field, Any], Any]) -> ChangeTable:
    known = {rule.key: rule for rule in _CHANGE}
    for key in item:
        if key not in known:
            raise RangeError(
                f"key {key!r} in [[changes]] number {number} is unknown; its keys are "
                f"{', '.join(known)}"
            )
    values = {}
    for key, rule in known.items():
        if key not in item:
            raise RangeError(
                f"key {key!r} is missing in [[changes]] number {number}; want a value such as "
                f"{rule.example} ({rule.meaning})"
            )
        try:
            values[key] = checked(rule, read(rule, item[key]))
        except StepcalcError as error:
            raise RangeError(f"[[changes]] number {number}: {error}") from None
    return ChangeTable(**values)


def change_schema_text() -> str:
    """Return the table of flange changes with every key, its meaning and an example.

    Returns
    -------
    str
        TOML; every line begins with ``#``.
    """
    lines = [
        "",
        "# [[changes]]  # flanges of a welded girder of one span, from the bearing inwards",
    ]
    for rule in _CHANGE:
        example = rule.example.replace('"', '\\"')
        lines.append(f'# {rule.key} = "{example}"  # {rule.meaning}')
    return "\n".join(lines)
