"""The positive moment of a span as the sum of separate maxima, beside the maximum of the sum."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from stepcalc.bridge.continuous.kernels import span_kernels
from stepcalc.bridge.continuous.loads import HL93
from stepcalc.bridge.continuous.span_peaks import peak_kernels
from stepcalc.errors import RangeError
from stepcalc.expr.functions import maximum

if TYPE_CHECKING:
    from stepcalc.bridge.continuous.display_units import DisplayUnits
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.sheet import Sheet

__all__ = ["separate_maximum"]

_PARTS = (
    ("truck", "tr", "HL-93 truck, relieving axles dropped"),
    ("tandem", "ta", "HL-93 tandem, relieving axles dropped"),
    ("lane", "ln", "HL-93 lane"),
)


def separate_maximum(
    sheet: Sheet,
    inputs: Mapping[str, Any],
    span: int,
    *,
    load: str,
    impact: Operand,
    units: DisplayUnits,
    proof: bool,
) -> tuple[Operand, Operand]:
    r"""Write both definitions of the largest positive moment of one lane in a span.

    .. math:: M = (1 + IM)\,\max_x(M_{truck}, M_{tandem}) + \max_x M_{lane}

    The truck's largest moment and the lane load's stand at different sections, so that their sum
    lies above the largest moment at any one section.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    inputs : mapping
        Spans and layout, as the procedures take them.
    span : int
        Counted from 1.
    load : str
        HL-93: other loads have no lane load beside their axles.
    impact : Operand
        ``IM``.
    units : DisplayUnits
    proof : bool
        Whether axles, ordinates and areas are shown.

    Returns
    -------
    tuple of Operand
        The section of the lane load's largest moment, as a fraction of the span, and the moment.

    Raises
    ------
    RangeError
        If the load is another.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 3.6.1.3.1; from memory. Adding separate maxima is common
    practice by hand, no source.
    """
    if not load.startswith(HL93):
        msg = f"separate maxima are those of HL-93's axles and lane load; the load is {load[:60]!r}"
        raise RangeError(msg)
    count = len([name for name in inputs if name.startswith("span_")])
    kernels, moment = peak_kernels(count), span_kernels(count).live["moment"]
    name = "ordinates" if units.name == "US" else f"ordinates, {units.name}"
    sections, values = {}, {}
    for words, tag, text in _PARTS:
        moving = dict(inputs) | {"place": str(span), "load": text, "impact": 0.0}
        sections[tag] = sheet.computed(
            f"x_{tag}_s{span}", kernels.section, moving, None,
            f"span {span}: section of the largest moment of the {words}", ref="search",
            symbol=f"x_{tag}",
        )  # fmt: skip
        values[tag] = sheet.computed(
            f"M_{tag}_s{span}", moment, moving | {"fraction": sections[tag], "which": "max"},
            units.moment, f"span {span}: largest moment of the {words}, one lane, without impact",
            ref="LRFD 3.6.1.2", proof=name if proof else None, symbol=f"M_{tag}",
        )  # fmt: skip
    together = sheet.computed(
        f"x_HL_s{span}", kernels.section,
        dict(inputs) | {"place": str(span), "load": load, "impact": impact}, None,
        f"span {span}: section of the largest sum", ref="search", symbol="x_HL",
    )  # fmt: skip
    at_one = sheet.computed(
        f"M_one_s{span}", moment,
        dict(inputs) | {
            "place": str(span), "load": load, "impact": impact, "fraction": together,
            "which": "max",
        },
        units.moment, f"span {span}: maximum of the sum, at one section", ref="LRFD 3.6.1.3.1",
        symbol="M_one",
    )  # fmt: skip
    total = sheet.step(
        f"M_sep_s{span}",
        (1 + impact) * maximum(values["tr"], values["ta"]) + values["ln"],
        units.moment, f"span {span}: sum of separate maxima, one lane, with impact",
        ref="LRFD 3.6.1.3.1", symbol="M_sep",
    )  # fmt: skip
    rows = [[words, sections[tag], values[tag]] for words, tag, _ in _PARTS] + [
        ["maximum of the sum, with impact: not used", together, at_one]
    ]
    caption = (
        f"Span {span}: the sum of separate maxima is used, M_sep = (1 + IM) times the larger of "
        "truck and tandem, plus lane; dead load is taken where the lane load's moment is largest"
    )
    sheet.table(["largest moment", "x/L", "M"], rows, caption, instead=True)
    return sections["ln"], total
