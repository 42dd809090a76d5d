"""Force effects of one girder over any spans: tables, diagrams, governing sections, reactions."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from stepcalc.bridge.continuous.display_units import US, display_units
from stepcalc.bridge.continuous.effects_writer import EffectsWriter, Options
from stepcalc.bridge.continuous.layout import PRISMATIC
from stepcalc.bridge.continuous.loads import HL93
from stepcalc.bridge.continuous.results import (
    ContinuousEffects,
    GirderReaction,
    GirderShares,
    SectionEffects,
)
from stepcalc.bridge.continuous.stages import DeadStage
from stepcalc.errors import RangeError

if TYPE_CHECKING:
    from stepcalc.bridge.continuous.display_units import DisplayUnits
    from stepcalc.bridge.continuous.stages import Settlement
    from stepcalc.bridge.limit_states import LoadFactors
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.sheet import Sheet

__all__ = [
    "COMBINED",
    "ContinuousEffects",
    "GirderReaction",
    "GirderShares",
    "SectionEffects",
    "continuous_effects",
]

COMBINED = ("maximum of the sum", "sum of separate maxima")
"""How axles and lane load give the positive moment of a span."""


def continuous_effects(
    sheet: Sheet,
    spans: Sequence[Operand],
    *,
    DC1: Operand | DeadStage,
    DC2: Operand | DeadStage,
    DW: Operand | DeadStage,
    shares: GirderShares,
    layout: str = PRISMATIC,
    load: str = HL93,
    factors: LoadFactors | None = None,
    proof: str = "governing",
    shears: Sequence[tuple[int, int]] | None = None,
    settlement: Settlement | None = None,
    combined: str = COMBINED[0],
    beside: bool = False,
    units: str | DisplayUnits = US,
    stiffness: str = "",
    form: str = "ordinates",
) -> ContinuousEffects:
    r"""Write moments, shears and reactions of one girder under dead and live load.

    .. math:: M_{LL} = g\,M_{HL}, \qquad
        M_u = \eta\,[\gamma_{DC}(M_{DC1} + M_{DC2}) + \gamma_{DW} M_{DW} + \gamma_{LL} M_{LL}]

    Each dead load takes its largest or its smallest factor on the whole girder, whichever is
    worse for the sign that is sought; settlement counts where it is worse.  Negative live-load
    moment between the points of contraflexure beside a pier takes that pier's lanes, elsewhere the
    span's.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the parts.
    spans : sequence of Operand, [length]
        The spans from left to right, 1 to 20.
    DC1, DC2, DW : Operand, [force / length], or DeadStage
        Dead loads of the girder: uniform over all spans on the stiffness of the live load, or a
        stage with its own loads and stiffness.
    shares : GirderShares
        Lanes on the girder.
    layout : str
        EI, ends and hinges for live load: see `continuous.layout`.
    load : str
        The live load: see `continuous.loads`.
    factors : LoadFactors, optional
        Of `limit_states.load_factors`; those of the code for Strength I unless given.
    proof : {"all", "governing", "none"}
        Which values show loads, ordinates and areas: all of them; the live load of positive moment
        in each span, of negative moment over each pier and of the first shear; or none.
    shears : sequence of (int, int), optional
        Which shears are written: span, and its end 0 or 1; both ends of each span unless given.
    settlement : Settlement, optional
    combined : {"maximum of the sum", "sum of separate maxima"}
        Whether positive moment is the largest of axles and lane load at one section, as the
        envelope has it, or the largest of the axles anywhere in the span plus the largest of the
        lane load anywhere in it, the hand procedure: safe by some tenths of a percent, and with
        dead load where the lane load's moment is largest. The sheet names the choice and the other
        value. Tables and diagrams along the girder are envelopes in either case.
    beside : bool
        Whether the shear that acts with each extreme moment, and the moment with each extreme
        shear, are written: load factor and allowable stress design need them.
    units : {"US", "SI"}
        What the sheet shows.
    stiffness : str
        Name of the stiffness for live load, where the sheet states it elsewhere.
    form : {"ordinates", "statics"}
        How live-load values are proved: forces times ordinates and areas of the influence line, or
        reactions of the placed loads and the equilibrium of one side of the section.

    Returns
    -------
    ContinuousEffects

    Raises
    ------
    RangeError
        If the numbers of shares and of spans do not fit, a word is another, a shear is asked for at
        an end that does not exist, or a stage, a layout or a settlement cannot be read.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 3.4.1, 3.6.1.2, 3.6.1.3.1, 3.6.2.1, 4.6.2.2.1; from memory.
    """
    if len(shares.positive) != len(spans) or len(shares.negative) != len(spans) - 1:
        msg = (
            f"{len(shares.positive)} lanes for positive and {len(shares.negative)} for negative "
            f"moment do not fit {len(spans)} spans; give one for each span and one for each "
            "interior support"
        )
        raise RangeError(msg)
    if proof not in ("all", "governing", "none"):
        raise RangeError(f"the proof is {proof!r}; give 'all', 'governing' or 'none'")
    if form not in ("ordinates", "statics"):
        raise RangeError(f"the form of a proof is {form!r}; give 'ordinates' or 'statics'")
    if combined not in COMBINED:
        raise RangeError(f"a combined maximum is {combined!r}; give {' or '.join(COMBINED)!r}")
    ends = _ends(len(spans), shears)
    stages = {
        name: given if isinstance(given, DeadStage) else DeadStage(given)
        for name, given in (("DC1", DC1), ("DC2", DC2), ("DW", DW))
    }
    options = Options(
        layout,
        load,
        proof,
        combined == COMBINED[1],
        beside,
        display_units(units),
        stiffness,
        form,
    )
    writer = EffectsWriter(sheet, tuple(spans), stages, settlement, shares, factors, options)
    return writer.write(ends)


def _ends(count: int, shears: Sequence[tuple[int, int]] | None) -> tuple[tuple[int, int], ...]:
    """Return the ends at which shear is written."""
    ends = tuple((span, end) for span in range(1, count + 1) for end in (0, 1))
    if shears is None:
        return ends
    wrong = [place for place in shears if tuple(place) not in ends]
    if wrong:
        raise RangeError(f"there is no shear {wrong[0]!r}; give a span and its end, 0 or 1")
    return tuple((int(span), int(end)) for span, end in shears)
