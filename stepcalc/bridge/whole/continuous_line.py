"""Where things stand along a continuous girder: sections, cross-frames, panels, places to check.

All of it is configuration, read from the data once: fractions of spans, which stay when a span is
revised.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import accumulate, pairwise
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from stepcalc.bridge.data import BridgeData
    from stepcalc.bridge.span_tables import PierTable, SpanTable

__all__ = ["Line", "Panel", "Place", "Segment", "feet_of", "girder_line", "sections_between"]

_NEAR = 1e-6


@dataclass(frozen=True)
class Place:
    """A section of the girder that is looked at.

    Attributes
    ----------
    span : int
        Counted from 1.
    fraction, feet : float
        Of the span, and ft from its left end.
    section : int
        Counted from 1; the lighter one where the section changes.
    kinds : tuple of str
        ``"tenth"``, ``"cross-frame"``, ``"change"``, ``"middle"`` of an unbraced length.
    """

    span: int
    fraction: float
    feet: float
    section: int
    kinds: tuple[str, ...]

    @property
    def label(self) -> str:
        """Span and tenth such as ``1.4``, or span and ft from its left end, 1 + 21.50."""
        tenth = round(self.fraction * 10)
        if abs(self.fraction * 10 - tenth) < _NEAR:
            return f"{self.span}.{tenth}" if tenth < 10 else f"{self.span}.10"
        return f"{self.span} + {self.feet:.2f}"

    @property
    def words(self) -> str:
        """What stands there, tenth points apart."""
        return ", ".join(kind for kind in self.kinds if kind != "tenth")

    @property
    def at(self) -> tuple[int, float]:
        """Span and fraction."""
        return self.span, self.fraction


@dataclass(frozen=True)
class Segment:
    """An unbraced length between two cross-frames, ft from the left end of its span.

    Attributes
    ----------
    number : int
        Along the girder, from 1.
    start, middle, end : Place
    sections : tuple of int
        Sections that stand within it.
    """

    number: int
    start: Place
    middle: Place
    end: Place
    sections: tuple[int, ...]

    @property
    def length(self) -> float:
        """Length, ft."""
        return self.end.feet - self.start.feet


@dataclass(frozen=True)
class Panel:
    """A panel of the web between two stiffeners.

    Attributes
    ----------
    number : int
        Along the girder, from 1.
    start, end : Place
    first, last : bool
        Whether it stands at the first or last bearing of the girder: an end panel.
    """

    number: int
    start: Place
    end: Place
    outer: bool

    @property
    def length(self) -> float:
        """Length, ft."""
        return self.end.feet - self.start.feet


@dataclass(frozen=True)
class Line:
    """The girder along its spans.

    Attributes
    ----------
    spans : tuple of SpanTable
    sections : tuple of PierTable or None
        None is the section of the spans, the first one; the others are over piers.
    pier_sections : tuple of int
        Section over every pier, counted from 1.
    zones : str
        As `continuous_values.zones_of` reads them.
    segments, panels : tuple of Segment, Panel
    places : tuple of Place
        Tenth points, cross-frames, section changes and middles of unbraced lengths, in order.
    """

    spans: tuple[SpanTable, ...]
    sections: tuple[PierTable | None, ...]
    pier_sections: tuple[int, ...]
    zones: str
    segments: tuple[Segment, ...]
    panels: tuple[Panel, ...]
    places: tuple[Place, ...]

    @property
    def count(self) -> int:
        """Number of spans."""
        return len(self.spans)

    def at(self, span: int, fraction: float) -> Place:
        """Return a place that is looked at."""
        return next(p for p in self.places if _same(p.at, (span, fraction)))

    def place(self, span: int, fraction: float, *kinds: str) -> Place:
        """Return a place anywhere."""
        feet = fraction * feet_of(self.spans[span - 1])
        return Place(span, fraction, feet, section_at(self.zones, span, fraction), kinds)


def feet_of(span: SpanTable) -> float:
    """Return the length of a span, ft."""
    return float(span.length.to("ft").magnitude)


def _same(one: tuple[int, float], other: tuple[int, float]) -> bool:
    return one[0] == other[0] and abs(one[1] - other[1]) < _NEAR


def section_at(zones: str, span: int, fraction: float) -> int:
    """Return the section at a place, the first named (lighter) one where two meet."""
    found, start = [], 0.0
    for part in zones.split(";")[span - 1].split(","):
        number, _, until = part.partition(" to ")
        end = float(until) if until else 1.0
        if start - _NEAR <= fraction <= end + _NEAR:
            found.append(int(number))
        start = end
    return min(found)


def girder_line(data: BridgeData) -> Line:
    """Return the girder along its spans.

    Parameters
    ----------
    data : BridgeData
        With `details` of a continuous girder.

    Returns
    -------
    Line
    """
    details = data.details
    assert details is not None
    spans, piers = details.spans_and_piers(data.span)
    sections: list[PierTable | None] = [None]
    numbers = []
    for pier in piers:
        plates = None if pier is None else pier.plates
        known = [
            i for i, other in enumerate(sections, 1)
            if (other is None) == (pier is None)
            and (pier is None or (other is not None and other.plates == plates))
        ]  # fmt: skip
        if not known:
            sections.append(pier)
        numbers.append(known[0] if known else len(sections))
    zones = _zones(spans, piers, numbers)
    frames = [_frames(data, spans, number) for number in range(1, len(spans) + 1)]
    stiffeners = [
        _stiffeners(data, spans, piers, number) if details.welded else ()
        for number in range(1, len(spans) + 1)
    ]
    places = _places(spans, zones, frames)
    bare = Line(spans, tuple(sections), tuple(numbers), zones, (), (), places)
    segments = _segments(bare, frames)
    panels = _panels(bare, stiffeners)
    return Line(spans, tuple(sections), tuple(numbers), zones, segments, panels, places)


def _zones(
    spans: Sequence[SpanTable], piers: Sequence[PierTable | None], numbers: Sequence[int]
) -> str:
    groups = []
    for index, span in enumerate(spans):
        length, parts = feet_of(span), []
        left = piers[index - 1] if index else None
        right = piers[index] if index < len(piers) else None
        if left is not None:
            reach = float(left.after.to("ft").magnitude) / length
            parts.append(f"{numbers[index - 1]} to {round(reach, 12)!r}")
        if right is None:
            parts.append("1")
        else:
            reach = 1 - float(right.before.to("ft").magnitude) / length
            parts += [f"1 to {round(reach, 12)!r}", f"{numbers[index]}"]
        groups.append(", ".join(parts))
    return "; ".join(groups)


def _even(length: float, most: float) -> list[float]:
    count = max(1, math.ceil(length / most - _NEAR))
    return [length / count] * count


def _frames(data: BridgeData, spans: Sequence[SpanTable], number: int) -> tuple[float, ...]:
    """Return the cross-frames of a span, ft from its left end, both ends among them."""
    details, span = data.details, spans[number - 1]
    assert details is not None
    length, most = feet_of(span), float(data.diaphragm_spacing.to("ft").magnitude)
    if span.cross_frames:
        spaces: list[float] = list(span.cross_frames)
    elif details.pier_brace is None:
        spaces = _even(length, most)
    else:
        near = float(details.pier_brace.to("ft").magnitude)
        left = [near] if number > 1 else []
        right = [near] if number < len(spans) else []
        rest = length - sum(left) - sum(right)
        spaces = [*left, *(_even(rest, most) if rest > _NEAR else []), *right]
    return _positions(spaces, length)


def _stiffeners(
    data: BridgeData, spans: Sequence[SpanTable], piers: Sequence[PierTable | None], number: int
) -> tuple[float, ...]:
    """Return the stiffeners of a span, ft from its left end, both bearings among them."""
    details, span = data.details, spans[number - 1]
    assert details is not None
    length = feet_of(span)
    if span.stiffeners:
        return _positions(span.stiffeners, length)
    panel, end = (float(q.to("ft").magnitude) for q in (details.panel, details.end_panel))
    close = details.pier_panel
    beside = panel if close is None else float(close.to("ft").magnitude)

    def from_pier(pier: PierTable | None, reach: str) -> list[float]:
        far = float(getattr(pier, reach).to("ft").magnitude) if pier is not None else beside
        return [beside] * max(1, math.floor(far / beside + _NEAR))

    left = [end] if number == 1 else from_pier(piers[number - 2], "after")
    right = [end] if number == len(spans) else from_pier(piers[number - 1], "before")
    rest = length - sum(left) - sum(right)
    return _positions([*left, *(_even(rest, panel) if rest > _NEAR else []), *right], length)


def _positions(spaces: Iterable[float], length: float) -> tuple[float, ...]:
    at = list(accumulate(spaces, initial=0.0))
    at[-1] = length
    return tuple(at)


def _places(
    spans: Sequence[SpanTable], zones: str, frames: Sequence[tuple[float, ...]]
) -> tuple[Place, ...]:
    found: list[Place] = []
    for number, span in enumerate(spans, 1):
        length = feet_of(span)
        wanted: dict[float, list[str]] = {}

        def add(fraction: float, kind: str, into: dict[float, list[str]] = wanted) -> None:
            near = next((at for at in into if abs(at - fraction) < _NEAR), None)
            kinds = into.setdefault(fraction if near is None else near, [])
            if kind not in kinds:
                kinds.append(kind)

        for tenth in range(11):
            add(tenth / 10, "tenth")
        for at in frames[number - 1]:
            add(at / length, "cross-frame")
        for one, other in pairwise(frames[number - 1]):
            add((one + other) / 2 / length, "middle")
        for part in zones.split(";")[number - 1].split(",")[:-1]:
            add(float(part.partition(" to ")[2]), "change")
        for fraction, kinds in sorted(wanted.items()):
            section = section_at(zones, number, fraction)
            found.append(Place(number, fraction, fraction * length, section, tuple(kinds)))
    return tuple(found)


def _segments(line: Line, frames: Sequence[tuple[float, ...]]) -> tuple[Segment, ...]:
    found: list[Segment] = []
    for number, span in enumerate(line.spans, 1):
        length = feet_of(span)
        for one, other in pairwise(frames[number - 1]):
            start, end = line.at(number, one / length), line.at(number, other / length)
            middle = line.at(number, (one + other) / 2 / length)
            sections = sections_between(line.zones, start, end)
            found.append(Segment(len(found) + 1, start, middle, end, sections))
    return tuple(found)


def _panels(line: Line, stiffeners: Sequence[tuple[float, ...]]) -> tuple[Panel, ...]:
    found: list[Panel] = []
    for number, span in enumerate(line.spans, 1):
        length, at = feet_of(span), stiffeners[number - 1]
        for index, (one, other) in enumerate(pairwise(at)):
            outer = (number == 1 and index == 0) or (number == line.count and index == len(at) - 2)
            ends = [line.place(number, x / length, "stiffener") for x in (one, other)]
            found.append(Panel(len(found) + 1, ends[0], ends[1], outer))
    return tuple(found)


def sections_between(zones: str, start: Place, end: Place) -> tuple[int, ...]:
    """Return the sections that stand between two places of one span."""
    found, low = set(), 0.0
    for part in zones.split(";")[start.span - 1].split(","):
        number, _, until = part.partition(" to ")
        high = float(until) if until else 1.0
        if low < end.fraction - _NEAR and high > start.fraction + _NEAR:
            found.add(int(number))
        low = high
    return tuple(sorted(found))
