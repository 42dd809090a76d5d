"""What a text says of the loads of one stage: where the uniform load lies, and what else stands."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from functools import lru_cache

from stepcalc.analysis.beam_loads import Concentrated, Distributed
from stepcalc.bridge.continuous.layout import section_of
from stepcalc.errors import RangeError
from stepcalc.units.numbers import shown_text

__all__ = ["EVERYWHERE", "StageLoads", "position_of", "read_settlements", "stage_loads"]

EVERYWHERE = "all spans"
"""The stage's uniform load lies on the whole girder."""
_NUMBER = r"([-+]?\d*\.?\d+(?:[eE][-+]?\d+)?)"
_PLACE = r"(\d+\.\d+(?:\s*ft)?|\d+\s*ft)"
_STRETCH = re.compile(rf"from {_PLACE} to {_PLACE}")
_LINE = re.compile(rf"{_NUMBER}(?: to {_NUMBER})? klf from {_PLACE} to {_PLACE}")
_FORCE = re.compile(rf"{_NUMBER} kip at {_PLACE}")
_SETTLEMENT = re.compile(rf"{_NUMBER} in at support (\d+)")
_MOST = 60


@dataclass(frozen=True)
class StageLoads:
    """Loads of one stage, positions in ft from the left end of the girder.

    Attributes
    ----------
    stretches : tuple of (float, float)
        Where the stage's own uniform load lies.
    fixed : tuple of Distributed and Concentrated
        What has a size of its own, kip and kip/ft.
    """

    stretches: tuple[tuple[float, float], ...]
    fixed: tuple[Distributed | Concentrated, ...]


@lru_cache(maxsize=256)
def stage_loads(text: str, spans: tuple[float, ...]) -> StageLoads:
    """Return the loads that a text describes.

    Parameters
    ----------
    text : str
        Entries parted by ``;``: ``all spans`` or ``from 1.0 to 1.7`` (there lies the uniform load
        of the stage); ``0.1 klf from 2.2 to 2.8``; ``0.1 to 0.3 klf from 1.0 to 1.5``, which runs
        linearly; ``6 kip at 2.5``. A place is span and fraction, 2.5 the middle of span 2, or a
        distance from the left end such as ``37 ft``.
    spans : tuple of float, ft

    Returns
    -------
    StageLoads

    Raises
    ------
    RangeError
        If an entry cannot be read, or a load is off the girder or runs backwards.

    Examples
    --------
    >>> found = stage_loads("all spans; 6 kip at 2.5", (60.0, 80.0))
    >>> found.stretches, found.fixed
    (((0.0, 140.0),), (Concentrated(position=100.0, force=6.0),))
    """
    entries = [entry.strip() for entry in text.split(";") if entry.strip()]
    if not entries or len(entries) > _MOST:
        raise RangeError(f"a stage has {len(entries)} loads; give 1 to {_MOST}, parted by ';'")
    stretches: list[tuple[float, float]] = []
    fixed: list[Distributed | Concentrated] = []
    for entry in entries:
        if entry == EVERYWHERE:
            stretches.append((0.0, sum(spans)))
        elif found := _STRETCH.fullmatch(entry):
            stretches.append(_ends(found.group(1), found.group(2), spans, entry))
        elif found := _LINE.fullmatch(entry):
            start, end = _ends(found.group(3), found.group(4), spans, entry)
            first = float(found.group(1))
            last = float(found.group(2)) if found.group(2) else first
            fixed.append(Distributed(start, end, first, last))
        elif found := _FORCE.fullmatch(entry):
            fixed.append(Concentrated(position_of(found.group(2), spans), float(found.group(1))))
        else:
            msg = (
                f"a load of a stage is {entry[:60]!r}; give 'all spans', 'from 1.0 to 1.7', "
                "'0.1 klf from 2.2 to 2.8', '0.1 to 0.3 klf from 1.0 to 1.5' or '6 kip at 2.5'"
            )
            raise RangeError(msg)
    return StageLoads(tuple(stretches), tuple(fixed))


def position_of(place: str, spans: tuple[float, ...]) -> float:
    """Return the distance from the left end, ft, of a place such as ``2.5`` or ``37 ft``.

    Raises
    ------
    RangeError
        If the place is off the girder.
    """
    total = sum(spans)
    if place.endswith("ft"):
        x = float(place[:-2])
        if not 0 <= x <= total * (1 + 1e-12):
            raise RangeError(f"a load stands at {x:g} ft; the girder is {total:g} ft long")
        return x
    value = float(place)
    span = math.floor(value + 1e-12)
    if span == len(spans) + 1 and value - span < 1e-9:
        return total
    return section_of(spans, span, value - span)


@lru_cache(maxsize=64)
def read_settlements(text: str, supports: int) -> tuple[tuple[int, float], ...]:
    """Return supports, counted from 1, and how far each goes down, in.

    Parameters
    ----------
    text : str
        Entries such as ``0.5 in at support 2``, parted by ``;``.
    supports : int
        How many there are.

    Returns
    -------
    tuple of (int, float)

    Raises
    ------
    RangeError
        If an entry cannot be read, a support does not exist or is named twice.

    Examples
    --------
    >>> read_settlements("0.5 in at support 2", 4)
    ((2, 0.5),)
    """
    found: dict[int, float] = {}
    for entry in (part.strip() for part in text.split(";") if part.strip()):
        read = _SETTLEMENT.fullmatch(entry)
        if read is None:
            msg = f"a settlement is {entry[:60]!r}; give such as '0.5 in at support 2'"
            raise RangeError(msg)
        support = int(read.group(2))
        if not 1 <= support <= supports:
            raise RangeError(f"support {support} settles; the girder has supports 1 to {supports}")
        if support in found:
            raise RangeError(f"support {support} settles twice; give each support once")
        found[support] = float(read.group(1))
    if not found:
        raise RangeError("no settlement is given; give such as '0.5 in at support 2'")
    return tuple(sorted(found.items()))


def _ends(start: str, end: str, spans: tuple[float, ...], entry: str) -> tuple[float, float]:
    first, last = position_of(start, spans), position_of(end, spans)
    if not first < last:
        msg = (
            f"the load {entry[:60]!r} runs from {shown_text(first)} ft to {shown_text(last)} ft; "
            "give the left end first"
        )
        raise RangeError(msg)
    return first, last
