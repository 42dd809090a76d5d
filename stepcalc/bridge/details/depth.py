"""Optional least depths of steel I-beams (2.5.2.6.3; Std 10.5)."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stepcalc.bridge.constants import use

if TYPE_CHECKING:
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.nodes import Check
    from stepcalc.sheet.sheet import Sheet


def least_depths(
    sheet: Sheet,
    *,
    span: Operand,
    steel: Operand,
    whole: Operand | None,
    continuous: bool,
) -> tuple[Check, ...]:
    """Check the optional least depths.

    Simple spans 0.040 L (whole depth of a composite girder) and 0.033 L (steel alone); continuous
    spans 0.032 L and 0.027 L.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the checks.
    span : Operand, [length]
        Span.
    steel : Operand, [length]
        Depth of the I-beam.
    whole : Operand, [length], or None
        Depth with haunch and slab; None for a non-composite girder.
    continuous : bool
        Whether the girder is continuous.

    Returns
    -------
    tuple of Check
        Depth of the beam, then of the composite girder.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Table 2.5.2.6.3-1 (the owner decides); from memory.
    """
    beam, girder = ("r_d_ci", "r_d_cc") if continuous else ("r_depth", "r_d_sc")
    return _checks(
        sheet,
        (use(sheet, beam) * span, steel),
        (use(sheet, girder) * span, whole) if whole is not None else None,
        "LRFD Table 2.5.2.6.3-1 (optional)",
    )


def older_least_depths(
    sheet: Sheet, *, span: Operand, steel: Operand, whole: Operand | None
) -> tuple[Check, ...]:
    """Check the depths of the Standard Specifications: L/30 steel alone, L/25 whole.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the checks.
    span : Operand, [length]
        Span; between points of dead-load contraflexure where continuous.
    steel : Operand, [length]
        Depth of the I-beam.
    whole : Operand, [length], or None
        Depth with haunch and slab; None for a non-composite girder.

    Returns
    -------
    tuple of Check
        Depth of the beam, then of the composite girder.

    Source
    ------
    AASHTO Standard Specifications, 17th ed. (2002), Art. 10.5; from memory.
    """
    # a non-composite beam follows the ratio of the whole girder there
    beam = "r_dep" if whole is not None else "r_ds"
    return _checks(
        sheet,
        (span / use(sheet, beam), steel),
        (span / use(sheet, "r_ds"), whole) if whole is not None else None,
        "Std 10.5",
    )


def _checks(
    sheet: Sheet,
    beam: tuple[Operand, Operand],
    girder: tuple[Operand, Operand] | None,
    ref: str,
) -> tuple[Check, ...]:
    rows = [("Depth of the beam", beam)]
    if girder is not None:
        rows.append(("Depth of the composite girder", girder))
    return tuple(sheet.check(name, need <= have, ref=ref) for name, (need, have) in rows)
