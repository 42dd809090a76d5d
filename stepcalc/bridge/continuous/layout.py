"""What a short text says of a beam: EI along each span, ends and hinges; the spans are numbers."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import accumulate
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from stepcalc.analysis.beam import Beam, Segment
from stepcalc.analysis.beam_batch import same_make
from stepcalc.analysis.beam_stiffness import refuse_mechanism
from stepcalc.errors import RangeError

if TYPE_CHECKING:
    from stepcalc.analysis.beam import End
    from stepcalc.analysis.beam_batch import BeamBatch

__all__ = [
    "MOST_SPANS",
    "PRISMATIC",
    "Layout",
    "batch_of",
    "beam_of",
    "read_layout",
    "read_spans",
    "section_of",
]

Array = NDArray[np.float64]
Law = tuple[float, float, float]

PRISMATIC = "prismatic"
MOST_SPANS = 20
_KEYS = ("EI", "ends", "hinges")


def read_spans(text: str) -> tuple[float, ...]:
    """Return the spans that a text such as ``"80, 100, 80"`` lists, in ft.

    Parameters
    ----------
    text : str

    Returns
    -------
    tuple of float, ft

    Raises
    ------
    RangeError
        If an entry is not a finite length above zero, or there are none or too many.

    Examples
    --------
    >>> read_spans("72, 95, 60")
    (72.0, 95.0, 60.0)
    """
    entries = [entry.strip() for entry in text.split(",")]
    if not 1 <= len(entries) <= MOST_SPANS:
        raise RangeError(f"{len(entries)} spans are listed; give 1 to {MOST_SPANS}")
    spans = tuple(_number(entry, f"span {i}") for i, entry in enumerate(entries, 1))
    for number, span in enumerate(spans, 1):
        if span <= 0:
            raise RangeError(
                f"span {number} is {span:g} ft long; give a finite length greater than zero"
            )
    return spans


@dataclass(frozen=True)
class Layout:
    """What a layout says, apart from lengths.

    Attributes
    ----------
    laws : tuple of tuples of (float, float, float), or None
        For every span its stretches: up to which fraction, and EI at their two ends; None where EI
        is 1 throughout.
    ends : pair of str
    hinges : tuple of (int, float)
        Span, counted from 1, and fraction of it.
    """

    laws: tuple[tuple[Law, ...], ...] | None
    ends: tuple[End, End]
    hinges: tuple[tuple[int, float], ...]


@lru_cache(maxsize=512)
def read_layout(text: str, count: int) -> Layout:
    """Return what a layout of a beam of so many spans says.

    Parameters
    ----------
    text : str
        ``"prismatic"``, or entries parted by ``|``: ``EI:`` one group for each span, groups parted
        by ``;``, each a list such as ``1 to 0.7, 1.6`` (relative EI 1 up to 0.7 of the span, 1.6
        beyond; ``1..1.6`` for an EI that runs straight from 1 to 1.6); ``ends: fixed, pinned`` or
        ``free``, which makes an overhang of the first or last span; ``hinges: 2.25, 2.75`` (span 2
        at 0.25 and at 0.75).
    count : int

    Returns
    -------
    Layout

    Raises
    ------
    RangeError
        If the text cannot be read.

    Examples
    --------
    >>> read_layout("EI: 1 to 0.8, 1..2; 2 | hinges: 2.5", 2).laws
    (((0.8, 1.0, 1.0), (1.0, 1.0, 2.0)), ((1.0, 2.0, 2.0),))
    """
    fields = _fields(text)
    ends = tuple(part.strip() for part in fields.get("ends", "pinned, pinned").split(","))
    if len(ends) != 2:
        raise RangeError(f"the layout names {len(ends)} ends; give two, such as 'fixed, pinned'")
    hinges = tuple(_place(part) for part in fields.get("hinges", "").split(",") if part)
    laws = _laws(fields["EI"], count) if "EI" in fields else None
    return Layout(laws, ends, hinges)  # type: ignore[arg-type]  # Beam checks the ends


@lru_cache(maxsize=256)
def beam_of(spans: tuple[float, ...], layout: str = PRISMATIC) -> Beam:
    """Return the beam of these spans and this layout.

    Parameters
    ----------
    spans : tuple of float, [length]
    layout : str
        See `read_layout`.

    Returns
    -------
    Beam

    Raises
    ------
    RangeError
        If the text cannot be read, or makes no beam.

    Examples
    --------
    >>> beam_of((50.0, 50.0), "EI: 1 to 0.8, 2; 2 to 0.2, 1 | hinges: 1.5").hinges
    (25.0,)
    """
    said = read_layout(layout, len(spans))
    hinges = [section_of(spans, *place) for place in said.hinges]
    rigidity = 1.0 if said.laws is None else _segments(spans, said.laws)
    return Beam(spans, rigidity, said.ends, hinges)


def batch_of(
    spans: Array, layout: str = PRISMATIC, extra: Sequence[tuple[int, float]] = ()
) -> BeamBatch:
    """Return beams of one layout, whatever their spans.

    Parameters
    ----------
    spans : ndarray of float, shape (beams, spans), [length]
        Finite and above zero.
    layout : str
        See `read_layout`.
    extra : sequence of (int, float)
        Further places that become nodes: span, counted from 0, and fraction of it.

    Returns
    -------
    BeamBatch

    Raises
    ------
    RangeError
        If the text cannot be read, or makes no beam.
    UndefinedError
        If it makes mechanisms.
    """
    refuse_mechanism(beam_of(tuple(spans[0].tolist()), layout))
    said = read_layout(layout, spans.shape[1])
    hinges = [(span - 1, fraction) for span, fraction in said.hinges]
    return same_make(spans, ends=said.ends, hinges=hinges, laws=said.laws, extra=extra)


def section_of(spans: Sequence[float], span: int, fraction: float) -> float:
    """Return the position of a section from the left end of the beam.

    Parameters
    ----------
    spans : sequence of float, [length]
    span : int
        Counted from 1.
    fraction : float
        Of the span, 0 to 1.

    Returns
    -------
    float, [length]

    Raises
    ------
    RangeError
        If there is no such span, or the section is off it.
    """
    if not 1 <= span <= len(spans):
        raise RangeError(f"there is no span {span}; the beam has {len(spans)}")
    if not -1e-9 <= fraction <= 1 + 1e-9:
        raise RangeError(f"a section at {fraction:g} of span {span} is off it; give 0 to 1")
    starts = tuple(accumulate(spans, initial=0.0))
    return starts[span - 1] + min(max(fraction, 0.0), 1.0) * spans[span - 1]


def _fields(layout: str) -> dict[str, str]:
    fields: dict[str, str] = {}
    if layout.strip() == PRISMATIC:
        return fields
    for part in layout.split("|"):
        key, colon, value = part.partition(":")
        if not colon or key.strip() not in _KEYS or key.strip() in fields:
            known = ", ".join(f"{name}:" for name in _KEYS)
            raise RangeError(
                f"the layout holds {part.strip()[:60]!r}; give {PRISMATIC!r}, or each of {known} "
                "at most once, parted by |"
            )
        fields[key.strip()] = value.strip()
    return fields


def _place(text: str) -> tuple[int, float]:
    value = _number(text, "a hinge")
    span = math.floor(value)
    return span, value - span


def _laws(text: str, count: int) -> tuple[tuple[Law, ...], ...]:
    groups = text.split(";")
    if len(groups) != count:
        msg = f"EI is given for {len(groups)} spans, parted by ';'; the beam has {count}"
        raise RangeError(msg)
    return tuple(_law(number, group) for number, group in enumerate(groups, 1))


def _law(number: int, group: str) -> tuple[Law, ...]:
    reached, steps = 0.0, group.split(",")
    found: list[Law] = []
    for place, step in enumerate(steps):
        value, _, until = step.partition(" to ")
        last = place == len(steps) - 1
        end = _number(until, f"EI of span {number}") if until else 1.0
        if not reached < end <= 1 or (end == 1) != last:
            msg = (
                f"EI of span {number} is {group.strip()!r}; give rising fractions of the span, "
                "the last one without 'to', such as '1 to 0.7, 1.6'"
            )
            raise RangeError(msg)
        first, varies, second = value.partition("..")
        EI = _number(first, f"EI of span {number}")
        found.append((end, EI, _number(second, f"EI of span {number}") if varies else EI))
        reached = end
    return tuple(found)


@dataclass(frozen=True)
class _Straight:
    """EI that runs straight from one value to another."""

    start: float
    end: float
    first: float
    last: float

    def __call__(self, x: Array) -> Array:
        """Return EI at positions."""
        share = (x - self.start) / (self.end - self.start)
        return np.asarray(self.first + (self.last - self.first) * share)


def _segments(spans: Sequence[float], laws: Sequence[Sequence[Law]]) -> tuple[Segment, ...]:
    starts = tuple(accumulate(spans, initial=0.0))
    found: list[Segment] = []
    for number, law in enumerate(laws):
        at, span = starts[number], spans[number]
        for until, first, last in law:
            end = starts[number + 1] if until == 1 else starts[number] + until * span
            varies = first != last
            found.append(Segment(at, end, _Straight(at, end, first, last) if varies else first))
            at = end
    return tuple(found)


def _number(text: str, what: str) -> float:
    try:
        value = float(text)
    except ValueError:
        raise RangeError(f"{what} is {text.strip()[:40]!r}; give a number") from None
    if not math.isfinite(value):
        raise RangeError(f"{what} is {value}; give a finite number")
    return value
