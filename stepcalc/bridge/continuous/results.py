"""What the procedure of a continuous girder takes and gives."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from stepcalc.expr.tree import Operand

__all__ = ["ContinuousEffects", "GirderReaction", "GirderShares", "SectionEffects"]


@dataclass(frozen=True)
class GirderShares:
    """Lanes on the girder, by effect.

    Attributes
    ----------
    positive : sequence of Operand
        For positive moment, one for each span.
    negative : sequence of Operand
        For negative moment, one for each interior support.
    shear : Operand
        For shear and reactions.
    """

    positive: Sequence[Operand]
    negative: Sequence[Operand]
    shear: Operand


@dataclass(frozen=True)
class SectionEffects:
    """Moments or shears of the girder at one section.

    Attributes
    ----------
    span, fraction : int, Operand
        Where: the span, counted from 1, and the fraction of it.
    DC1, DC2, DW : Operand
        Unfactored.
    lane_max, lane_min, live_max, live_min : Operand
        Live load with impact, of one lane and of the girder.
    words : str
        Where, in words.
    SE : Operand or None
        By settlement, where there is some.
    beside_max, beside_min : Operand or None
        The other of moment and shear on the girder, under the loads of the largest and of the
        smallest value here.
    lane_beside_max, lane_beside_min : Operand or None
        The same of one lane.
    """

    span: int
    fraction: Operand | float
    DC1: Operand
    DC2: Operand
    DW: Operand
    lane_max: Operand
    lane_min: Operand
    live_max: Operand
    live_min: Operand
    words: str = ""
    SE: Operand | None = None
    beside_max: Operand | None = None
    beside_min: Operand | None = None
    lane_beside_max: Operand | None = None
    lane_beside_min: Operand | None = None


@dataclass(frozen=True)
class GirderReaction:
    """Unfactored reactions of the girder at one support, [force].

    Attributes
    ----------
    DC1, DC2, DW : Operand
    live, live_impact : Operand
        ``R_LL`` without and ``R_LLIM`` with dynamic load allowance.
    uplift : Operand
        Smallest live-load reaction with impact; zero or negative.
    SE : Operand or None
        By settlement, where there is some.
    """

    DC1: Operand
    DC2: Operand
    DW: Operand
    live: Operand
    live_impact: Operand
    uplift: Operand
    SE: Operand | None = None


@dataclass(frozen=True)
class ContinuousEffects:
    """Everything `continuous_effects` writes.

    Attributes
    ----------
    positive : tuple of SectionEffects
        Moments where the factored positive moment of each span is largest.
    negative : tuple of SectionEffects
        Moments over each interior support.
    shear : tuple of SectionEffects
        Shears at the ends of spans.
    reactions : tuple of GirderReaction
        By support.
    extremes : dict of str to Operand
        ``M_max``, ``M_min``, ``V_max``, ``V_min``: factored, along the whole girder.
    inputs : mapping
        Spans and stiffness, as the procedures of `continuous.kernels` take them.
    """

    positive: tuple[SectionEffects, ...]
    negative: tuple[SectionEffects, ...]
    shear: tuple[SectionEffects, ...]
    reactions: tuple[GirderReaction, ...]
    extremes: dict[str, Operand]
    inputs: Mapping[str, Any] = field(default_factory=dict)
