r"""The tables of a bridge file that come once for each span, pier and pour.

::

    [[spans]]                                    # from left to right
    length = "124'-0\""
    cross_frames = "5 at 21'-6\", 1 at 16'-6\""   # spaces from left to right
    stiffeners = "1 at 4'-8\", 11 at 9'-4\", ..."  # panels of the web; welded girders only

    [[piers]]                                    # one for all piers, or one for each
    before = "26 ft"                             # its section begins so far before the pier
    after = "26 ft"                              # and ends so far behind it
    top_width = "16 in"
    ...

    [[pours]]                                    # optional: the deck in the order of casting
    from = "0 ft"                                # from the first bearing
    to = "90 ft"

A rolled beam has no ``[[piers]]``: it is one shape all along.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from stepcalc.bridge.feet_inches import length_in_feet
from stepcalc.bridge.field_checks import checked
from stepcalc.bridge.fields import Field
from stepcalc.errors import RangeError, StepcalcError
from stepcalc.units import Q_

__all__ = [
    "SPAN_TABLES", "PierTable", "PourTable", "SpanTable", "read_span_tables", "spacings",
    "span_schema_text",
]  # fmt: skip

_AGREE_FT = 1 / 24
"""Spaces that add up to the span within half an inch agree with it."""
_MANY = re.compile(r"(\d{1,3})\s*(?:at|@|x)\s*(.+)", re.IGNORECASE)


def _length(table: str, key: str, meaning: str, example: str, low: float, high: float,
            unit: str = "inch", *, above_low: bool = True,
            required: bool = True) -> Field:  # fmt: skip
    return Field(key, table, meaning, example, (unit,), (low,), (high,), above_low,
                 required=required)  # fmt: skip


_ROWS = (
    _length("spans", "length", "span, centre to centre of bearings", "124 ft", 5, 400, "ft",
            above_low=False),
    Field("cross_frames", "spans", "spaces of the cross-frames from left to right, adding up to "
          "the span", "5 at 20 ft, 1 at 24 ft", required=False),
    Field("stiffeners", "spans", "panels of the web between stiffeners from left to right, adding "
          "up to the span; welded girders only", "1 at 5 ft, 12 at 9'-11\"", required=False),
    _length("piers", "before", "section over the pier, from its beginning to the pier", "26 ft", 0,
            200, "ft"),
    _length("piers", "after", "section over the pier, from the pier to its end", "26 ft", 0, 200,
            "ft"),
    _length("piers", "top_width", "width of the top flange over the pier", "16 in", 0, 60,
            required=False),
    _length("piers", "top_thickness", "its thickness", "1 1/2\"", 0, 6,
            required=False),
    _length("piers", "bottom_width", "width of the bottom flange over the pier", "18 in", 0, 60,
            required=False),
    _length("piers", "bottom_thickness", "its thickness", "2 in", 0, 6,
            required=False),
    _length("piers", "web_thickness", "thickness of the web over the pier", "9/16\"", 0, 3,
            required=False),
    _length("pours", "from", "where a part of the deck begins, from the first bearing", "0 ft", 0,
            5000, "ft", above_low=False),
    _length("pours", "to", "where it ends", "90 ft", 0, 5000, "ft"),
)  # fmt: skip

SPAN_TABLES = ("spans", "piers", "pours")
"""The tables that come more than once."""


@dataclass(frozen=True)
class SpanTable:
    """One span.

    Attributes
    ----------
    length : Quantity, [length]
    cross_frames, stiffeners : tuple of float, ft
        Spaces from left to right; empty where none are stated.
    """

    length: Any
    cross_frames: tuple[float, ...] = ()
    stiffeners: tuple[float, ...] = ()


@dataclass(frozen=True)
class PierTable:
    """The section over a pier: how far it reaches, and its plates.

    Attributes
    ----------
    before, after : Quantity, [length]
    plates : tuple or None
        Width and thickness of the top flange, of the bottom flange, and the thickness of the web,
        whose depth is that of the spans; None for a rolled shape, or for the plates of the spans,
        without studs.
    """

    before: Any
    after: Any
    plates: tuple[Any, Any, Any, Any, Any] | None = None


@dataclass(frozen=True)
class PourTable:
    """A part of the deck that is cast at once, ft from the first bearing."""

    start: float
    end: float


def spacings(text: str, what: str) -> tuple[float, ...]:
    r"""Return the spaces that a text lists, in ft.

    Parameters
    ----------
    text : str
        Such as ``"5 at 20 ft, 1 at 24'-6\""``; a space without a number stands once.
    what : str
        Key, for messages.

    Returns
    -------
    tuple of float, ft

    Raises
    ------
    RangeError
        If a part of the text is no space.

    Examples
    --------
    >>> spacings("2 at 20 ft, 24'-6\"", "cross_frames")
    (20.0, 20.0, 24.5)
    """
    found: list[float] = []
    for part in text.split(","):
        match = _MANY.fullmatch(part.strip())
        count, length = (int(match[1]), match[2]) if match else (1, part)
        found += [_feet(length.strip(), what)] * count
    if len(found) > 400 or not found:
        raise RangeError(f"{what} lists {len(found)} spaces; want 1 to 400")
    return tuple(found)


def _feet(text: str, what: str) -> float:
    try:
        feet = length_in_feet(text)
    except StepcalcError:
        feet = 0.0
    if not feet > 0:
        raise RangeError(
            f'{what} holds {text!r}; want spaces such as "5 at 20 ft, 1 at 24\'-6\\"", parted by '
            "commas"
        )
    return feet


def read_span_tables(
    tables: Mapping[str, Any], read: Callable[[Field, Any], Any]
) -> dict[str, tuple[Any, ...]]:
    """Return what the repeated tables of a file say.

    Parameters
    ----------
    tables : mapping
        The file.
    read : callable
        Reader of one value of a field.

    Returns
    -------
    dict
        ``spans``, ``piers`` and ``pours``, those that the file has.

    Raises
    ------
    RangeError
        If a table is none, a key is unknown, missing or impossible, or spaces do not add up.
    """
    found: dict[str, tuple[Any, ...]] = {}
    for table in SPAN_TABLES:
        if table not in tables:
            continue
        items = tables[table]
        if not isinstance(items, list) or not all(isinstance(item, dict) for item in items):
            raise RangeError(
                f"[{table}] is one table; want one for each, opened by the line [[{table}]]"
            )
        make = {"spans": _span, "piers": _pier, "pours": _pour}[table]
        found[table] = tuple(
            make(_values(table, number, item, read), number) for number, item in enumerate(items, 1)
        )
    return found


def _values(
    table: str, number: int, item: Mapping[str, Any], read: Callable[[Field, Any], Any]
) -> dict[str, Any]:
    rules = {rule.key: rule for rule in _ROWS if rule.section == table}
    for key in item:
        if key not in rules:
            raise RangeError(
                f"key {key!r} in [[{table}]] number {number} is unknown; its keys are "
                f"{', '.join(rules)}"
            )
    values: dict[str, Any] = {}
    for key, rule in rules.items():
        if key in item:
            try:
                values[key] = checked(rule, read(rule, item[key]))
            except StepcalcError as error:
                raise RangeError(f"[[{table}]] number {number}: {error}") from None
        elif rule.required:
            raise RangeError(
                f"key {key!r} is missing in [[{table}]] number {number}; want a value such as "
                f"{rule.example} ({rule.meaning})"
            )
    return values


def _span(values: dict[str, Any], number: int) -> SpanTable:
    length = values["length"]
    feet = float(length.to("ft").magnitude)
    found: dict[str, tuple[float, ...]] = {}
    for key in ("cross_frames", "stiffeners"):
        if key not in values:
            found[key] = ()
            continue
        spaces = spacings(values[key], f"{key} in [[spans]] number {number}")
        if abs(sum(spaces) - feet) > _AGREE_FT:
            raise RangeError(
                f"{key} in [[spans]] number {number} add up to {sum(spaces):.6g} ft, but the span "
                f"is {feet:.6g} ft long; correct one of the two"
            )
        found[key] = tuple(space * feet / sum(spaces) for space in spaces)
    return SpanTable(length, found["cross_frames"], found["stiffeners"])


_PLATES = ("top_width", "top_thickness", "bottom_width", "bottom_thickness", "web_thickness")


def _pier(values: dict[str, Any], number: int) -> PierTable:
    given = [key for key in _PLATES if key in values]
    if not given:
        return PierTable(values["before"], values["after"])
    for key in _PLATES:
        if key not in values:
            raise RangeError(
                f"key {key!r} is missing in [[piers]] number {number}, which states {given[0]}; "
                "want all plates of the section over the pier, or none"
            )
    for where in ("top", "bottom"):
        wide, web = values[f"{where}_width"], values["web_thickness"]
        if web >= wide:
            raise RangeError(
                f"web_thickness in [[piers]] number {number} is {web:.5g~P}, and the {where} "
                f"flange there is {wide:.5g~P} wide; a flange is wider than the web is thick"
            )
    return PierTable(values["before"], values["after"], tuple(values[key] for key in _PLATES))


def _pour(values: dict[str, Any], number: int) -> PourTable:
    start, end = (float(values[key].to("ft").magnitude) for key in ("from", "to"))
    if end <= start:
        raise RangeError(
            f"[[pours]] number {number} runs from {start:g} ft to {end:g} ft; want an end behind "
            "its beginning"
        )
    return PourTable(start, end)


def spans_of_old_keys(details: Any, span: Any) -> tuple[tuple[SpanTable, ...], PierTable]:
    """Return spans and pier of a file that states ``second_span`` and the ``pier_`` keys.

    Parameters
    ----------
    details : CompositeData
        With all of them.
    span : Quantity, [length]
        The first span.

    Returns
    -------
    tuple of SpanTable, PierTable
        Cross-frames and panels follow from the pier outwards, as `continuous_line` does.
    """
    pier = PierTable(
        details.pier_length, details.pier_length,
        (details.pier_top_width, details.pier_top_thickness, details.pier_bottom_width,
         details.pier_bottom_thickness, details.pier_web_thickness),
    )  # fmt: skip
    return (SpanTable(span), SpanTable(details.second_span)), pier


def span_schema_text() -> str:
    """Return the tables of continuous girders with every key, its meaning and an example.

    Returns
    -------
    str
        TOML; every line begins with ``#``, for they belong to continuous girders only.
    """
    lines: list[str] = []
    for table, words in (
        ("spans", "one for each span of a continuous girder, from left to right"),
        ("piers", "sections over the piers of a welded girder: one for all, or one for each"),
        ("pours", "optional: parts of the deck in the order of casting"),
    ):
        lines += ["", f"# [[{table}]]  # {words}"]
        for rule in _ROWS:
            if rule.section == table:
                example = rule.example.replace('"', '\\"')
                note = rule.meaning + ("" if rule.required else " (optional)")
                lines.append(f'# {rule.key} = "{example}"  # {note}')
    return "\n".join(lines)


def check_line(
    spans: Sequence[SpanTable], piers: Sequence[PierTable], *, welded: bool, studs: bool
) -> None:
    """Refuse spans and piers that do not fit each other.

    Parameters
    ----------
    spans, piers : sequence of SpanTable, PierTable
    welded : bool
        Whether the girder is made of plates.
    studs : bool
        Whether studs run on over the piers.

    Raises
    ------
    RangeError
        The message names the table.
    """
    if not 2 <= len(spans) <= 8:
        raise RangeError(
            f"[[spans]] stands {len(spans)} times; want 2 to 8 spans, or span in [geometry] alone"
        )
    if not welded:
        _check_rolled(spans, piers, studs=studs)
    elif any(pier.plates is None for pier in piers) and studs:
        raise RangeError("[[piers]] state no plates; want top_width and the other four")
    if not piers and not welded:
        return
    if len(piers) not in (1, len(spans) - 1):
        raise RangeError(
            f"[[piers]] stands {len(piers)} times and [[spans]] {len(spans)} times; want one for "
            f"all piers, or {len(spans) - 1}"
        )
    every = tuple(piers) * (len(spans) - 1) if len(piers) == 1 else piers
    none = Q_(0, "ft")
    for number, span in enumerate(spans, 1):
        left = every[number - 2].after if number > 1 else none
        right = every[number - 1].before if number < len(spans) else none
        if left + right >= span.length:
            raise RangeError(
                f"the sections over the piers take {(left + right).to('ft'):.5g~P} of span "
                f"{number}, which is {span.length:.5g~P} long; want a span section between them"
            )


def _check_rolled(spans: Sequence[SpanTable], piers: Sequence[PierTable], *, studs: bool) -> None:
    if any(span.stiffeners for span in spans):
        raise RangeError("stiffeners are given in [[spans]], but a rolled beam has none here")
    if any(pier.plates is not None for pier in piers):
        raise RangeError("[[piers]] state plates, but a rolled beam is one shape all along")
    if studs and piers:
        raise RangeError(
            "[[piers]] are given, but a rolled beam with studs over its piers is one section all "
            "along; leave them out, or say studs_over_piers = false in [studs]"
        )
    if not studs and not piers:
        raise RangeError(
            "studs_over_piers is false, but no [[piers]] say how far the studs stay away from the "
            "pier; want before and after in [[piers]]"
        )
