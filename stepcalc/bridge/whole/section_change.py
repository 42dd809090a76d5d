"""The lighter section at its end beside the pier: negative bending where the plates change."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from stepcalc.bridge.composite.assembled import flexure_with_buckling
from stepcalc.bridge.composite.elastic import ElasticSections, cracked_section
from stepcalc.bridge.composite.negative import Bracing
from stepcalc.bridge.composite.stages import stage_moments
from stepcalc.bridge.constants import use
from stepcalc.bridge.continuous.kernels import span_kernels
from stepcalc.expr.functions import maximum
from stepcalc.units import kip_ft

if TYPE_CHECKING:
    from stepcalc.bridge.dead_load import DeadLoads
    from stepcalc.bridge.givens import BridgeNodes
    from stepcalc.bridge.whole.composite_section import Composite
    from stepcalc.bridge.whole.continuous_demands import TwoSpans
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.sheet import Sheet

__all__ = ["section_change"]


def section_change(
    sheet: Sheet, bridge: BridgeNodes, composite: Composite, two: TwoSpans, loads: DeadLoads
) -> None:
    """Check Strength I flexure of the lighter section on both sides of the pier, the worse one.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    bridge, composite, two, loads
        Of the girder.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 6.10.8 and Appendix A6; from memory.
    """
    near = sheet["Dead load/l_p"]
    kernels, at = span_kernels(2), two.effects.negative[0]
    g = at.live_min / at.lane_min
    places = (("1", 1 - near / two.spans[0]), ("2", near / two.spans[1]))

    def worst(name: str, words: str, load: Operand | None, *, steel: bool = False) -> Operand:
        found = []
        for span, fraction in places:
            inputs = two.inputs(span, fraction, steel=steel)
            if load is not None:
                kernel = kernels.dead["moment"]
                more: dict[str, Any] = {"load": load}
            else:
                kernel = kernels.live["moment"]
                more = {"load": "HL-93", "impact": use(sheet, "IM"), "which": "min"}
            moment = sheet.computed(f"{name}{span}", kernel, inputs | more, kip_ft,
                                    f"{words}, span {span}", ref="statics")  # fmt: skip
            found.append(-1 * moment if load is not None else -1 * g * moment)
        return sheet.step(name, maximum(*found), kip_ft, f"{words}, hogging positive, the worse",
                          ref="statics")  # fmt: skip

    M_1 = worst("M_DC1c", "moment of DC1", loads.DC1, steel=True)
    M_2 = worst("M_DC2c", "moment of DC2", loads.DC2)
    M_W = worst("M_DWc", "moment of DW", loads.DW)
    M_L = worst("M_LLc", "smallest live-load moment", None)
    elastic = composite.elastic
    cracked = cracked_section(sheet, composite.geometry, elastic.steel)
    moments = stage_moments(sheet, M_1, DC2=M_2, DW=M_W, LL=M_L, state="Strength I")
    C_b = sheet.given("C_b", 1.0, "moment gradient modifier", assumed="on the safe side")
    flexure_with_buckling(
        sheet, composite.geometry,
        ElasticSections(elastic.steel, elastic.long_term, elastic.short_term, cracked), moments,
        positive=False, unbraced=bridge.brace_spacing, gradient=C_b,
        bracing=Bracing(compression=False, tension=True), location="section change",
    )  # fmt: skip
