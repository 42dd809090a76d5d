"""Straight beams on supports: what they are, checked; nothing is solved here."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import accumulate, pairwise
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike, NDArray

from stepcalc.errors import RangeError

__all__ = ["Beam", "Rigidity", "Segment"]

Array = NDArray[np.float64]
Rigidity = float | Callable[[Array], Array]
"""EI, constant or as a function of the position along the beam, [force * length**2]."""
End = Literal["pinned", "fixed", "free"]

MOST_SPANS = 200
_SAME = 1e-9
"""Positions closer than this share of the length are one position."""


@dataclass(frozen=True)
class Segment:
    """A stretch of a beam on which EI follows one law.

    Attributes
    ----------
    start, end : float, [length]
        From the left end of the beam.
    rigidity : float or callable, [force * length**2]
        EI; a callable takes an array of positions from the left end of the beam.
    """

    start: float
    end: float
    rigidity: Rigidity


@dataclass(frozen=True)
class Beam:
    """A straight beam of one or more spans.

    Attributes
    ----------
    spans : sequence of float, [length]
        From left to right. With a free end the first or last span is an overhang.
    rigidity : float or sequence of Segment, [force * length**2]
        EI: one value, or segments that cover the beam without gaps. Forces of a beam depend only
        on its ratios, so that 1.0 will do where no deflection is asked for.
    ends : pair of "pinned", "fixed" or "free"
        The left and the right end; supports between spans are pinned.
    hinges : sequence of float, [length]
        Positions of internal hinges from the left end.

    Raises
    ------
    RangeError
        If a span, EI, end or hinge cannot be used; the message says which.

    Examples
    --------
    >>> Beam((80.0, 100.0, 80.0)).supports
    (0.0, 80.0, 180.0, 260.0)
    >>> Beam((20.0, 80.0), ends=("free", "pinned")).supports
    (20.0, 100.0)
    """

    spans: Sequence[float]
    rigidity: float | Sequence[Segment] = 1.0
    ends: tuple[End, End] = ("pinned", "pinned")
    hinges: Sequence[float] = ()

    def __post_init__(self) -> None:
        object.__setattr__(self, "spans", tuple(float(span) for span in self.spans))
        object.__setattr__(self, "ends", tuple(self.ends))
        object.__setattr__(self, "hinges", tuple(sorted(float(x) for x in self.hinges)))
        if not isinstance(self.rigidity, (int, float)):
            object.__setattr__(self, "rigidity", tuple(self.rigidity))
        _check_spans(self.spans)
        _check_ends(self)
        _check_rigidity(self)
        _check_hinges(self)

    @property
    def length(self) -> float:
        """Distance between the two ends."""
        return self.joints[-1]

    @property
    def joints(self) -> tuple[float, ...]:
        """Ends of spans from the left end, free ends included; one more than spans."""
        return tuple(accumulate(self.spans, initial=0.0))

    @property
    def supports(self) -> tuple[float, ...]:
        """Positions of the supports."""
        first = 1 if self.ends[0] == "free" else 0
        last = len(self.joints) - (1 if self.ends[1] == "free" else 0)
        return self.joints[first:last]

    @property
    def segments(self) -> tuple[Segment, ...]:
        """EI along the beam."""
        if isinstance(self.rigidity, (int, float)):
            return (Segment(0.0, self.length, float(self.rigidity)),)
        return tuple(self.rigidity)

    def tenth_points(self, parts: int = 10) -> Array:
        """Return the sections at equal parts of every span, supports once.

        Parameters
        ----------
        parts : int
            Parts of a span, 10 unless told.

        Returns
        -------
        ndarray of float, shape (spans * parts + 1,), [length]
        """
        joints = self.joints
        inner = [a + (b - a) * np.arange(parts) / parts for a, b in pairwise(joints)]
        return np.concatenate([*inner, [joints[-1]]])

    def span_of(self, section: float, face: int = 1) -> int:
        """Return the index of the span of a section; at a joint, of the span towards `face`."""
        joints = np.asarray(self.joints[1:-1])
        near = _SAME * self.length * (1 if face > 0 else -1)
        return int(np.searchsorted(joints, section + near, side="left"))

    def checked_sections(self, sections: ArrayLike) -> Array:
        """Return sections as an array, snapped to supports they nearly coincide with.

        Raises
        ------
        RangeError
            If a section is not a finite number, or off the beam.
        """
        x = np.atleast_1d(np.asarray(sections, dtype=np.float64))
        near = _SAME * self.length
        wrong = ~np.isfinite(x) | (x < -near) | (x > self.length + near)
        if wrong.any():
            msg = (
                f"section {x[wrong][0]:g} is off the beam, which runs from 0 to {self.length:g}; "
                "give positions from its left end"
            )
            raise RangeError(msg)
        joints = np.asarray(self.joints)
        nearest = joints[np.argmin(np.abs(x[:, None] - joints), axis=1)]
        return np.where(np.abs(x - nearest) <= near, nearest, x)


def _check_spans(spans: Sequence[float]) -> None:
    if not 1 <= len(spans) <= MOST_SPANS:
        raise RangeError(f"a beam of {len(spans)} spans; give 1 to {MOST_SPANS} spans")
    for number, span in enumerate(spans, 1):
        if not (math.isfinite(span) and span > 0):
            msg = f"span {number} is {span:g} long; give a finite length greater than zero"
            raise RangeError(msg)


def _check_ends(beam: Beam) -> None:
    for which, end in zip(("left", "right"), beam.ends, strict=True):
        if end not in ("pinned", "fixed", "free"):
            msg = f"the {which} end is {end!r}; give 'pinned', 'fixed' or 'free'"
            raise RangeError(msg)


def _check_rigidity(beam: Beam) -> None:
    reached, near = 0.0, _SAME * beam.length
    for segment in beam.segments:
        if abs(segment.start - reached) > near or segment.end <= segment.start:
            msg = (
                f"the EI segment from {segment.start:g} to {segment.end:g} does not begin where "
                f"the one before it ends, at {reached:g}; give segments without gap or overlap"
            )
            raise RangeError(msg)
        reached = segment.end
        if callable(segment.rigidity):
            inside = segment.start + (segment.end - segment.start) * (np.arange(33) + 0.5) / 33
            values = np.asarray(segment.rigidity(inside), dtype=np.float64)
        else:
            values = np.asarray([segment.rigidity], dtype=np.float64)
        if not (np.isfinite(values).all() and (values > 0).all()):
            msg = (
                f"EI between {segment.start:g} and {segment.end:g} is not a finite number greater "
                "than zero everywhere; correct the segment"
            )
            raise RangeError(msg)
    if abs(reached - beam.length) > near:
        msg = f"the EI segments end at {reached:g}, the beam at {beam.length:g}; cover all of it"
        raise RangeError(msg)


def _check_hinges(beam: Beam) -> None:
    near = _SAME * beam.length
    for hinge in beam.hinges:
        if not (math.isfinite(hinge) and near < hinge < beam.length - near):
            msg = f"the hinge at {hinge:g} is not inside the beam, from 0 to {beam.length:g}"
            raise RangeError(msg)
    for one, other in pairwise(beam.hinges):
        if other - one <= near:
            raise RangeError(f"two hinges at {one:g}; give each position once")
