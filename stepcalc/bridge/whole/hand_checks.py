"""The hand-check page: short formulas a reviewer does in his head, beside the results."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stepcalc.expr.functions import absolute, cases, minimum, total
from stepcalc.sheet.sheet import Sheet
from stepcalc.units import ft, inch, kip, kip_ft, percent

if TYPE_CHECKING:
    from stepcalc.expr.tree import Operand

    _Pair = tuple[str, Operand, Operand, object, str]

__all__ = ["hand_check_sheet"]

_ROUND_OFF = 1e-9


def hand_check_sheet(girder: Sheet, *, which: str) -> Sheet:
    r"""Return hand checks of one girder, each with its difference from the result.

    .. math:: \frac{w L^2}{8}, \quad \frac{72 (L/2 - 7/3)^2}{L} - 112, \quad 0.08 L^2, \quad
        72 - \frac{672}{L}, \quad \frac{S}{9.5}, \quad A F_y \times \text{arm}

    Parameters
    ----------
    girder : Sheet
        The calculation of one of two girders of a simple span, by LRFD or an older code.
    which : str
        ``"interior"`` or ``"exterior"``.

    Returns
    -------
    Sheet
        Operands come from the girder's sheet and follow it.

    Source
    ------
    Statics; S/9.5 and the lever arm: common practice, no source.
    """
    page = Sheet(f"Hand checks, {which} girder")
    page.note(
        "Short formulas beside the results of the calculation. They are no second "
        "calculation: they show a slip of the pen, a wrong unit or a wrong section. A few percent "
        "are expected where the formula is rough, and nothing where it is exact."
    )
    L = girder["Bridge data/L"]
    rows = []
    pairs = _standard_pairs if "Live load, HS20/M_tr" in girder else _pairs
    for number, (words, formula, result, unit, expected) in enumerate(pairs(girder, L), 1):
        hand = page.step(f"H_{number}", formula, unit, f"by hand: {words}", ref="hand check")
        same = page.step(f"R_{number}", result, unit, f"as calculated: {words}", ref="as above")
        apart = page.step(
            f"d_{number}",
            cases(
                (absolute(hand - same) <= _ROUND_OFF * same, 0 * percent, "none"),
                otherwise=((hand - same) / same, "over the result"),
            ),
            percent, "difference of the hand value", ref="comparison", digits=3,
        )  # fmt: skip
        rows.append([words, hand, same, apart, expected])
    page.table(
        ["Quantity", "By hand", "Calculated", "Difference", "Expected"],
        rows,
        f"Hand checks of the {which} girder",
        instead=True,
    )
    return page


def _pairs(girder: Sheet, L: Operand) -> list[_Pair]:
    at = girder.__getitem__
    dead, lane = "Dead-load moments and shears", "Live load of one lane"
    x, S = L.magnitude(ft), at("Bridge data/S").magnitude(ft)
    w = at("Dead load/w_DC1")
    truck = cases(
        (L >= 28 * ft, (72 * (x / 2 - 7 / 3) ** 2 / x - 112) * (1 * kip_ft), "all three axles"),
        otherwise=(8 * x * (1 * kip_ft), "short span: one axle of 32 kip at midspan"),
    )
    section = (
        _steel_pairs(girder) if "Strength I, flexure/M_n" in girder else _composite_pairs(girder)
    )
    return [
        ("M of DC1, w L²/8", w * L**2 / 8, at(f"{dead}/M_DC1"), kip_ft, "0 at midspan"),
        ("M of DC2, w L²/8", at("Dead load/w_DC2") * L**2 / 8, at(f"{dead}/M_DC2"), kip_ft,
         "0 at midspan"),
        ("M of the truck, 72 (L/2 - 7/3)²/L - 112", truck, at(f"{lane}/M_tr"),
         kip_ft, "0 from 28 ft on"),
        ("M of the lane load, 0.08 L²", 0.08 * x**2 * (1 * kip_ft), at(f"{lane}/M_ln"), kip_ft,
         "0"),
        ("V of the truck, 72 - 672/L", (72 - 672 / x) * (1 * kip), at(f"{lane}/V_tr"), kip,
         "0 from 28 ft on"),
        ("g of moment, interior, S/9.5 (rough)", S / 9.5, at("Live-load distribution/g_M2"), None,
         "up to 40 %: a rule of thumb"),
        *section,
        ("all dead load on the span over twice the reaction, w L",
         (w + at("Dead load/w_DC2") + at("Dead load/w_DW")) * L,
         2 * (at(f"{dead}/V_DC1") + at(f"{dead}/V_DC2") + at(f"{dead}/V_DW")), kip, "0"),
    ]  # fmt: skip


def _composite_pairs(girder: Sheet) -> list[_Pair]:
    at = girder.__getitem__
    plastic = "Strength I, flexure/Plastic moment/M_p"
    slab = at("Section properties/b_s") * at("Bridge data/t_s") * at(_concrete(girder)) * 0.85
    steel = at("Shear connectors/Strength/P_steel")
    below = at("Section properties/y_top") - at("Trial section/y_s")
    pressed = minimum(steel / slab, 1) * at("Bridge data/t_s")
    arm = below - pressed / 2
    return [
        ("M_p, A F_y times lever arm", minimum(steel, slab) * arm, at(plastic), kip_ft,
         "0 with the axis in the slab, else low by up to a quarter"),
    ]  # fmt: skip


def _steel_pairs(girder: Sheet) -> list[_Pair]:
    """Return the inertia and the plastic moment of the plates by flange areas and their arm."""
    at = girder.__getitem__
    trial = "Trial section"
    D, t_w = at(f"{trial}/D"), at(f"{trial}/t_w")
    top, bottom = (at(f"{trial}/b_{k}") * at(f"{trial}/t_{k}") for k in ("tf", "bf"))
    h = D + (at(f"{trial}/t_tf") + at(f"{trial}/t_bf")) / 2
    F_f, F_w = at(f"{trial}/F_ybf"), at(f"{trial}/F_yw")
    return [
        ("I of the steel, At Ab h²/(At + Ab) + tw D³/12",
         top * bottom / (top + bottom) * h**2 + t_w * D**3 / 12, at(f"{trial}/I_s"), inch**4,
         "0 with equal flanges, else a few percent low"),
        ("Mp, Fyf (At + Ab)/2 h + Fyw tw D²/4",
         F_f * (top + bottom) / 2 * h + F_w * t_w * D**2 / 4,
         at("Strength I, flexure/Plastic moment/M_p"), kip_ft,
         "0 with equal flanges of one steel, else a few percent"),
    ]  # fmt: skip


def _standard_pairs(girder: Sheet, L: Operand) -> list[_Pair]:
    at = girder.__getitem__
    dead, lane = "Dead load", "Live load, HS20"
    x, S = L.magnitude(ft), at("Bridge data/S").magnitude(ft)
    truck = cases(
        (L >= 34 * ft, (72 * (x / 2 - 7 / 3) ** 2 / x - 112) * (1 * kip_ft), "all three axles"),
        otherwise=(8 * x * (1 * kip_ft), "short span: one axle of 32 kip at midspan"),
    )
    weights = total(at(f"{dead}/w_{part}") for part in ("DC1", "DC2", "DW"))
    shears = total(at(f"{dead}/V_{part}") for part in ("DC1", "DC2", "DW"))
    pairs: list[_Pair] = [
        (f"M of {part}, w L²/8", at(f"{dead}/w_{part}") * L**2 / 8, at(f"{dead}/M_{part}"), kip_ft,
         "0")
        for part in ("DC1", "DC2", "DW")
    ]  # fmt: skip
    return [
        *pairs,
        ("M of the truck, 72 (L/2 - 7/3)²/L - 112", truck, at(f"{lane}/M_tr"), kip_ft,
         "0 from 34 ft on"),
        ("V of the truck, 72 - 672/L", (72 - 672 / x) * (1 * kip), at(f"{lane}/V_tr"), kip,
         "0 from 28 ft on"),
        ("M of the lane load, 0.08 L² + 4.5 L", (0.08 * x**2 + 4.5 * x) * (1 * kip_ft),
         at(f"{lane}/M_ln"), kip_ft, "0"),
        ("wheel lines, interior, S/5.5", S / 5.5, at(f"{lane}/DF_2"), None, "0"),
        ("all dead load on the span over twice the reaction, w L", weights * L, 2 * shears, kip,
         "0"),
    ]  # fmt: skip


def _concrete(girder: Sheet) -> str:
    return next(path for path in ("Bridge data/f'_c", "Section properties/f'_c") if path in girder)
