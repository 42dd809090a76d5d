"""The hand-check page of a continuous girder: closed forms and statics beside the results."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stepcalc.expr.functions import absolute, cases, minimum, total
from stepcalc.sheet.sheet import Sheet
from stepcalc.units import ft, inch, kip, kip_ft, percent

if TYPE_CHECKING:
    from stepcalc.bridge.data import BridgeData
    from stepcalc.expr.tree import Operand

__all__ = ["continuous_hand_checks"]

_ROUND_OFF = 1e-9
_Row = tuple[str, "Operand", "Operand", object, str]


def continuous_hand_checks(girder: Sheet, data: BridgeData, *, which: str) -> Sheet:
    r"""Return hand checks of one continuous girder, each with its difference from the result.

    .. math:: -\frac{w (L_1^3 + L_2^3)}{8 (L_1 + L_2)}, \quad
        \frac{w x (L - x)}{2} + M_p \frac{x}{L}, \quad \sum R = \sum w L, \quad A F_y \times
        \text{arm}

    Parameters
    ----------
    girder : Sheet
        The calculation of a continuous girder.
    data : BridgeData
        How many spans there are.
    which : str
        ``"interior"`` or ``"exterior"``.

    Returns
    -------
    Sheet
        Operands come from the girder's sheet and follow it.

    Source
    ------
    Statics and the three-moment equation; the factors for spans of constant stiffness are those of
    every handbook of beams, from memory; S/9.5 and the lever arms: common practice, no source.
    """
    assert data.details is not None
    count = len(data.details.spans_and_piers(data.span)[0])
    page = Sheet(f"Hand checks, {which} girder")
    page.note(
        "Short formulas beside the results of the calculation. They are no second calculation: "
        "they show a slip of the pen, a wrong unit or a wrong section. Equilibrium leaves nothing; "
        "formulas of constant stiffness leave what the heavier sections over the piers draw."
    )
    rows = []
    for number, (words, formula, result, unit, expected) in enumerate(_pairs(girder, count), 1):
        hand = page.step(f"H_{number}", formula, unit, f"by hand: {words}", ref="hand check")
        same = page.step(f"R_{number}", result, unit, f"as calculated: {words}", ref="as above")
        apart = page.step(
            f"d_{number}",
            cases(
                (absolute(hand - same) <= _ROUND_OFF * absolute(same), 0 * percent, "none"),
                otherwise=((hand - same) / same, "over the result"),
            ),
            percent, "difference of the hand value", ref="comparison", digits=3,
        )  # fmt: skip
        rows.append([words, hand, same, apart, expected])
    page.table(
        ["Quantity", "By hand", "Calculated", "Difference", "Expected"], rows,
        f"Hand checks of the {which} girder",
    )  # fmt: skip
    return page


def _pairs(girder: Sheet, count: int) -> list[_Row]:
    at = girder.__getitem__
    L = [at("Bridge data/L"), *(at(f"Bridge data/L_{i}") for i in range(2, count + 1))]
    return [
        *_dead(girder, L),
        *_live(girder, L),
        ("g of moment, interior, S/9.5 (rough)", at("Bridge data/S").magnitude(ft) / 9.5,
         at("Live-load distribution/Span 1/g_M2"), None, "up to 40 %: a rule of thumb"),
        *_strength(girder),
        *_deflection(girder, L),
    ]  # fmt: skip


def _dead(girder: Sheet, L: list[Operand]) -> list[_Row]:
    at, w = girder.__getitem__, girder["Dead load/w_DC2"]
    M_p = at("Effects along the girder/Moments/1.10/M_DC2")
    if len(L) == 2:
        words = "M of DC2 over the pier, -w (L1³ + L2³)/(8 (L1 + L2)), constant stiffness"
        closed = -1 * w * (L[0] ** 3 + L[1] ** 3) / (8 * (L[0] + L[1]))
    else:
        words = "M of DC2 over support 2, -0.10 w L² of three equal spans (rough)"
        closed = -0.10 * w * ((L[0] + L[1]) / 2) ** 2
    loads = ("DC1", "DC2", "DW")
    reactions = total(
        at(f"Reactions/Support {i}/R_{name}") for i in range(1, len(L) + 2) for name in loads[1:]
    )
    late = (at("Dead load/w_DC2") + at("Dead load/w_DW")) * total(L)
    inner = at("Reactions/Support 2/R_DC2")
    V = "Effects along the girder/Shears"
    return [
        (words, closed, M_p, kip_ft, "a tenth: stiffer over the piers"),
        ("M of DC2 at 0.4 of span 1, w x (L - x)/2 + M x/L of the pier",
         0.12 * w * L[0] ** 2 + 0.4 * M_p,
         at("Effects along the girder/Moments/1.4/M_DC2"), kip_ft, "0: equilibrium"),
        ("DC2 and DW on all spans, w L, and the sum of their reactions", late, reactions, kip,
         "0: equilibrium"),
        ("R of DC2 at support 2, the jump of the shear there", at(f"{V}/2.0/V_DC2")
         - at(f"{V}/1.10/V_DC2"), inner, kip, "0: equilibrium"),
    ]  # fmt: skip


def _live(girder: Sheet, L: list[Operand]) -> list[_Row]:
    at, x = girder.__getitem__, L[0].magnitude(ft)
    simple = 1.33 * (72 * (x / 2 - 7 / 3) ** 2 / x - 112) + 0.08 * x**2
    lane = at("Effects along the girder/Moments/Greatest of span 1/M_HLp")
    return [
        ("M of HL-93 with impact in span 1, 0.8 of 1.33 (72 (L/2 - 7/3)²/L - 112) + 0.08 L²",
         0.8 * simple * (1 * kip_ft), lane, kip_ft, "a tenth: 0.8 stands for the continuity"),
    ]  # fmt: skip


def _strength(girder: Sheet) -> list[_Row]:
    at = girder.__getitem__
    plastic = "Positive moment/Governing place/Strength I/Plastic moment/M_p"
    rows: list[_Row] = []
    if plastic in girder:
        slab = at("Section properties/Section 1/b_s") * at("Bridge data/t_s") * 0.85
        slab = slab * at(_concrete(girder))
        steel = at("Shear connectors/Strength/P_steel")
        below = at("Section properties/Section 1/y_top") - at("Trial section/y_s")
        arm = below - minimum(steel / slab, 1) * at("Bridge data/t_s") / 2
        rows.append(
            ("Plastic moment in sagging, A Fy times lever arm",
             minimum(steel, slab) * arm, at(plastic),
             kip_ft, "0 with the axis in the slab, else low by up to a quarter")
        )  # fmt: skip
    return rows


def _concrete(girder: Sheet) -> str:
    paths = ("Bridge data/f'_c", "Section properties/Section 1/f'_c")
    return next(path for path in paths if path in girder)


def _deflection(girder: Sheet, L: list[Operand]) -> list[_Row]:
    at = girder.__getitem__
    w, late = at("Dead load/w_DC2"), at("Section properties/Section 1/I_3n")
    E = at("Factors and limits of the code/E")
    result = at("Dead-load deflection and camber/1.4/Delta_DC2")
    return [
        ("Deflection by DC2 in span 1, w L⁴/(185 E I), far end held (rough)",
         w * L[0] ** 4 / (185 * E * late), result, inch, "a third: the far end turns a little"),
    ]  # fmt: skip
