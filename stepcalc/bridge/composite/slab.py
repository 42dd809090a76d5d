"""The slab as part of the girder: effective width, modular ratio, reinforcement within it."""

from __future__ import annotations

from enum import StrEnum
from typing import TYPE_CHECKING, Any

from stepcalc.bridge.composite.plates import Bars, Slab, refuse_flat
from stepcalc.bridge.constants import use
from stepcalc.errors import RangeError
from stepcalc.expr.functions import cases, maximum, minimum
from stepcalc.units import Q_, inch, kcf, ksi

if TYPE_CHECKING:
    from collections.abc import Sequence

    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.sheet import Sheet


class WidthRule(StrEnum):
    """Which rule gives the effective width of the slab."""

    TRIBUTARY = "tributary width"
    BEFORE_2008 = "LRFD before 2008"
    STANDARD = "Standard Specifications"


def effective_width(
    sheet: Sheet,
    rule: WidthRule | str,
    *,
    spacing: Operand,
    slab: Operand,
    overhang: Operand | None = None,
    span: Operand | None = None,
    flange: Operand | None = None,
    web: Operand | None = None,
) -> Operand:
    r"""Write the effective width of the slab.

    Tributary width: :math:`b_s = S`, exterior :math:`S/2 + OH`.  Before 2008:
    :math:`\min(L/4,\; 12 t_s + \max(t_w, b_f/2),\; S)`; exterior, half of that and
    :math:`\min(L/8,\; 6 t_s + \max(t_w/2, b_f/4),\; OH)`.  Standard Specifications:
    :math:`\min(L/4, 12 t_s, S)`; exterior, :math:`\min(L/12, 6 t_s, S/2)` on the inner side and
    :math:`\min(6 t_s, OH)` on the other (common practice, no source).

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the step.
    rule : WidthRule or str
        The rule; it has no default.
    spacing, slab : Operand, [length]
        Girder spacing and structural thickness.
    overhang : Operand, [length], optional
        Given for an exterior girder only: from the girder to the edge of the deck.
    span : Operand, [length], optional
        Effective span (between contraflexure points in continuous spans); the older rules.
    flange, web : Operand, [length], optional
        Width of the top flange and thickness of the web; the rule before 2008.

    Returns
    -------
    Operand
        The step ``b_s``, [length].

    Raises
    ------
    RangeError
        If the rule is unknown, or a length that it needs is missing.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 4.6.2.6.1; LRFD before the 2008 interims; Standard
    Specifications, 17th ed., Art. 10.38.3; from memory.
    """
    kind = _rule(rule)
    if kind is WidthRule.TRIBUTARY:
        width = spacing if overhang is None else spacing / 2 + overhang
        ref = "LRFD 4.6.2.6.1"
    elif span is None:
        msg = f"the effective width by {kind.value!r} wants the effective span"
        raise RangeError(msg)
    elif kind is WidthRule.STANDARD:
        ref = "Std 10.38.3"
        if overhang is None:
            width = minimum(span / 4, 12 * slab, spacing)
        else:
            width = minimum(span / 12, 6 * slab, spacing / 2) + minimum(6 * slab, overhang)
    elif flange is None or web is None:
        msg = f"the effective width by {kind.value!r} wants flange width and web thickness"
        raise RangeError(msg)
    else:
        ref = "LRFD 4.6.2.6.1 before 2008"
        inner = minimum(span / 4, 12 * slab + maximum(web, flange / 2), spacing)
        outer = None
        if overhang is not None:
            outer = minimum(span / 8, 6 * slab + maximum(web / 2, flange / 4), overhang)
        width = inner if outer is None else inner / 2 + outer
    side = "interior" if overhang is None else "exterior"
    words = f"effective width of the slab, {side} girder, {kind.value}"
    return sheet.step("b_s", width, inch, words, ref=ref)


def _rule(rule: WidthRule | str) -> WidthRule:
    try:
        return WidthRule(rule)
    except ValueError:
        fits = ", ".join(repr(item.value) for item in WidthRule)
        msg = f"the rule of the effective width is {rule!r}; want one of {fits}"
        raise RangeError(msg) from None


def modular_ratio(sheet: Sheet, strength: Operand, weight: Operand | None = None) -> Operand:
    r"""Write the modular ratio: from the table, or as E over E_c where the weight is given.

    .. math:: E_c = 120\,000\, K_1 w_c^{2.0} {f'_c}^{0.33}, \qquad n = E / E_c

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    strength : Operand, [stress]
        Compressive strength of the concrete.
    weight : Operand, [force / length**3], optional
        Weight of the concrete for E_c (``K_1`` = 1); without it the table is used.

    Returns
    -------
    Operand
        The step ``n``.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. C6.10.1.1.1b and 5.4.2.4; from memory.
    """
    step = sheet.step
    if weight is not None:
        modulus = 120_000 * weight.magnitude(kcf) ** 2 * strength.magnitude(ksi) ** 0.33 * (1 * ksi)
        E_c = step("E_c", modulus, ksi, "modulus of the concrete, K_1 = 1", ref="LRFD 5.4.2.4-1")
        return step("n", use(sheet, "E") / E_c, None, "modular ratio", ref="LRFD 6.10.1.1.1b")
    return step(
        "n",
        cases(
            (strength < 2.4 * ksi, 11, "below 2.4 ksi"),
            (strength < 2.9 * ksi, 10, "2.4 to 2.9 ksi"),
            (strength < 3.6 * ksi, 9, "2.9 to 3.6 ksi"),
            (strength < 4.6 * ksi, 8, "3.6 to 4.6 ksi"),
            (strength < 6.0 * ksi, 7, "4.6 to 6.0 ksi"),
            otherwise=(6, "6.0 ksi and above"),
        ),
        None,
        "modular ratio",
        ref="LRFD C6.10.1.1.1b",
        valid=(strength >= 2.0 * ksi,),
    )


def slab_on_girder(
    sheet: Sheet,
    *,
    width: Operand,
    thickness: Operand,
    haunch: Operand,
    strength: Operand,
    layers: Sequence[tuple[Any, Any]] = (),
    bar_strength: Any = None,
) -> Slab:
    """Write the reinforcement of the slab as givens and return the slab.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the givens.
    width, thickness, haunch : Operand, [length]
        See :class:`~stepcalc.bridge.composite.plates.Slab`.
    strength : Operand, [stress]
        Of the concrete.
    layers : sequence of (area, depth), at most two, the top one first
        Area within the effective width, and depth below the top of the slab; quantities.
    bar_strength : quantity, [stress], optional
        Yield strength of the reinforcement.

    Returns
    -------
    Slab
        With givens ``A_rt c_rt A_rb c_rb F_yrs``.

    Raises
    ------
    RangeError
        If a layer lies outside the slab, the layers are out of order, or more than two.
    """
    if len(layers) > 2:
        msg = f"the slab has {len(layers)} layers of reinforcement; want at most two"
        raise RangeError(msg)
    if layers and bar_strength is None:
        raise RangeError("the reinforcement of the slab has no yield strength; want 60 ksi or so")
    thick = float(Q_(thickness.value).to(inch).magnitude) if hasattr(thickness, "value") else None
    _refuse_outside(layers, thick)
    bars: list[Bars] = []
    for key, (area, depth) in zip(("rt", "rb"), layers, strict=False):
        words = "top" if key == "rt" else "bottom"
        given = sheet.given
        yields = (
            bars[0].strength
            if bars
            else given("F_yrs", bar_strength, "yield strength of the reinforcement", source="plans")
        )
        A = given(f"A_{key}", area, f"{words} reinforcement within b_s", source="plans")
        c = given(f"c_{key}", depth, f"top of slab to the {words} reinforcement", source="plans")
        bars.append(Bars(A, c, yields))
    return Slab(width, thickness, haunch, strength, tuple(bars))


def _refuse_outside(layers: Sequence[tuple[Any, Any]], thick: float | None) -> None:
    above = 0.0
    for area, depth in layers:
        refuse_flat("layer of reinforcement", depth, 1 * inch)
        if not Q_(area).to(inch**2).magnitude >= 0:
            msg = f"the area of a layer of reinforcement is {area}; want 0 or more"
            raise RangeError(msg)
        at = float(Q_(depth).to(inch).magnitude)
        if thick is not None and at >= thick:
            msg = (
                f"a layer of reinforcement lies {depth} below the top of a slab {thick:g} in thick;"
                " want a depth inside the slab"
            )
            raise RangeError(msg)
        if at <= above:
            msg = f"a layer of reinforcement at {depth} lies above the one before; want top first"
            raise RangeError(msg)
        above = at
