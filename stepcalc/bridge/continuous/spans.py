"""Spans as givens, and the length that each effect's distribution factor takes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from stepcalc.bridge.continuous.layout import read_spans
from stepcalc.errors import RangeError
from stepcalc.units import ft

if TYPE_CHECKING:
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.sheet import Sheet

__all__ = ["EffectLengths", "effect_lengths", "state_spans"]


@dataclass(frozen=True)
class EffectLengths:
    """Length L of the distribution factors, by effect, [length].

    Attributes
    ----------
    positive : tuple of Operand
        Positive moment, and negative moment away from a pier: each span.
    negative : tuple of Operand
        Negative moment near an interior support: the average of the two spans beside it.
    shear : tuple of Operand
        Shear: each span.
    reaction : tuple of Operand
        Reactions: the end span, or the average of the two spans.
    """

    positive: tuple[Operand, ...]
    negative: tuple[Operand, ...]
    shear: tuple[Operand, ...]
    reaction: tuple[Operand, ...]


def state_spans(sheet: Sheet, spans: str | Sequence[float], *, source: str) -> tuple[Operand, ...]:
    """Write the spans as givens ``L_1``, ``L_2`` and so on.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives them.
    spans : str or sequence of float
        Lengths in ft, such as ``"80, 100, 80"``.
    source : str
        Where they come from.

    Returns
    -------
    tuple of Given

    Raises
    ------
    RangeError
        If a span is not a finite length above zero, or there are none or more than 20.
    """
    text = spans if isinstance(spans, str) else ", ".join(repr(float(span)) for span in spans)
    return tuple(
        sheet.given(f"L_{i}", span * ft, f"span {i}, centre to centre of bearings", source=source)
        for i, span in enumerate(read_spans(text), 1)
    )


def effect_lengths(sheet: Sheet, spans: Sequence[Operand]) -> EffectLengths:
    r"""Write the average of the two spans at every interior support.

    .. math:: L_{-} = \tfrac12 (L_i + L_{i+1})

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps ``L_n1``, ``L_n2`` and so on.
    spans : sequence of Operand, [length]
        The spans from left to right.

    Returns
    -------
    EffectLengths
        By effect.

    Raises
    ------
    RangeError
        If there are no spans.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Table 4.6.2.2.1-2; from memory.
    """
    if not spans:
        raise RangeError("a beam of no spans has no lengths; give its spans")
    averages = tuple(
        sheet.step(
            f"L_n{i}", (spans[i - 1] + spans[i]) / 2, ft,
            f"average of the spans beside support {i + 1}", ref="LRFD Table 4.6.2.2.1-2",
        )
        for i in range(1, len(spans))
    )  # fmt: skip
    each = tuple(spans)
    return EffectLengths(each, averages, each, (spans[0], *averages, spans[-1]))
