"""What a short text says of a beam: EI along each span, ends and hinges; the spans are numbers."""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import lru_cache
from itertools import accumulate

from stepcalc.analysis.beam import Beam, Segment
from stepcalc.errors import RangeError

__all__ = ["MOST_SPANS", "PRISMATIC", "beam_of", "read_spans", "section_of"]

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


@lru_cache(maxsize=256)
def beam_of(spans: tuple[float, ...], layout: str = PRISMATIC) -> Beam:
    """Return the beam of these spans and this layout.

    Parameters
    ----------
    spans : tuple of float, [length]
    layout : str
        ``"prismatic"``, or entries parted by ``|``: ``EI:`` one group for each span, groups parted
        by ``;``, each a list such as ``1 to 0.7, 1.6`` (relative EI 1 up to 0.7 of the span, 1.6
        beyond); ``ends: fixed, pinned``; ``hinges: 2.25, 2.75`` (span 2 at 0.25 and at 0.75).

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
    fields = _fields(layout)
    ends = tuple(part.strip() for part in fields.get("ends", "pinned, pinned").split(","))
    if len(ends) != 2:
        raise RangeError(f"the layout names {len(ends)} ends; give two, such as 'fixed, pinned'")
    hinges = [
        section_of(spans, *_place(part)) for part in fields.get("hinges", "").split(",") if part
    ]
    rigidity = _segments(spans, fields["EI"]) if "EI" in fields else 1.0
    return Beam(spans, rigidity, ends, hinges)  # type: ignore[arg-type]  # Beam checks the ends


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


def _segments(spans: tuple[float, ...], text: str) -> tuple[Segment, ...]:
    groups = text.split(";")
    if len(groups) != len(spans):
        msg = f"EI is given for {len(groups)} spans, parted by ';'; the beam has {len(spans)}"
        raise RangeError(msg)
    starts = tuple(accumulate(spans, initial=0.0))
    found: list[Segment] = []
    for number, group in enumerate(groups, 1):
        reached, steps = 0.0, group.split(",")
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
            start, span = starts[number - 1], spans[number - 1]
            found.append(
                Segment(
                    start + reached * span,
                    starts[number] if last else start + end * span,
                    _number(value, f"EI of span {number}"),
                )
            )
            reached = end
    return tuple(found)


def _number(text: str, what: str) -> float:
    try:
        value = float(text)
    except ValueError:
        raise RangeError(f"{what} is {text.strip()[:40]!r}; give a number") from None
    if not math.isfinite(value):
        raise RangeError(f"{what} is {value}; give a finite number")
    return value
