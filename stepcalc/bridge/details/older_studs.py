"""Shear connectors by the Standard Specifications (10.38.5): fatigue, ultimate strength, number."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stepcalc.bridge.constants import use
from stepcalc.errors import RangeError
from stepcalc.expr.functions import minimum, sqrt
from stepcalc.units import Q_, inch, kip, ksi

if TYPE_CHECKING:
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.sheet import Sheet

STUD_ALPHA = {100_000: 13.0, 500_000: 10.6, 2_000_000: 7.85}
"""Fatigue range of a stud over d^2 by cycles, ksi; 5.5 above two million."""
CHANNEL_B = {100_000: 4.0, 500_000: 3.0, 2_000_000: 2.4}
"""Fatigue range of a channel over its length by cycles, kip/in; 2.1 above two million."""

_FLOW = Q_(1, "kip/inch").units


def _tabulated(table: dict[int, float], cycles: int, above: float) -> tuple[float, str]:
    if cycles > 2_000_000:
        return above, "over 2,000,000 cycles"
    if cycles not in table:
        known = ", ".join(f"{key:,}" for key in table)
        msg = (
            f"the fatigue range of connectors is tabulated for {known} and more than 2,000,000 "
            f"cycles, not for {cycles!r}"
        )
        raise RangeError(msg)
    return table[cycles], f"{cycles:,} cycles"


def older_stud_fatigue(sheet: Sheet, *, diameter: Operand, cycles: int) -> Operand:
    r"""Write the allowable range of horizontal shear of one stud.

    .. math:: Z_r = \alpha d^2

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the step.
    diameter : Operand, [length]
        ``d``.
    cycles : int
        100,000, 500,000, 2,000,000, or anything above.

    Returns
    -------
    Operand
        The step ``Z_r``, [force].

    Raises
    ------
    RangeError
        If the cycles are not tabulated.

    Source
    ------
    AASHTO Standard Specifications, 17th ed. (2002), Art. 10.38.5.1.1; from memory.
    """
    alpha, words = _tabulated(STUD_ALPHA, cycles, 5.5)
    return sheet.step(
        "Z_r", (alpha * ksi) * diameter**2, kip, f"fatigue range of one stud, {words}",
        ref="Std 10.38.5.1.1",
    )  # fmt: skip


def older_channel_fatigue(sheet: Sheet, *, length: Operand, cycles: int) -> Operand:
    r"""Write the allowable range of horizontal shear of one channel.

    .. math:: Z_r = B w

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the step.
    length : Operand, [length]
        ``w``.
    cycles : int
        100,000, 500,000, 2,000,000, or anything above.

    Returns
    -------
    Operand
        The step ``Z_r``, [force].

    Raises
    ------
    RangeError
        If the cycles are not tabulated.

    Source
    ------
    AASHTO Standard Specifications, 17th ed. (2002), Art. 10.38.5.1.1; from memory.
    """
    B, words = _tabulated(CHANNEL_B, cycles, 2.1)
    return sheet.step(
        "Z_r", Q_(B, "kip/inch") * length, kip, f"fatigue range of one channel, {words}",
        ref="Std 10.38.5.1.1",
    )  # fmt: skip


def older_pitch(
    sheet: Sheet,
    resistance: Operand,
    *,
    per_row: Operand,
    shear: Operand,
    first_moment: Operand,
    inertia: Operand,
) -> Operand:
    r"""Write the pitch that fatigue allows.

    .. math:: S_r = \frac{V_r Q}{I}, \qquad p = \frac{n Z_r}{S_r} \le 24\,\mathrm{in}

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    resistance : Operand, [force]
        ``Z_r`` of one connector.
    per_row : Operand
        Connectors in one row.
    shear : Operand, [force]
        Range of live-load shear with impact, service load.
    first_moment, inertia : Operand
        ``Q`` of the transformed slab and ``I`` of the short-term section.

    Returns
    -------
    Operand
        The step ``p_s``, [length], not rounded; ``S_r`` is the other.

    Source
    ------
    AASHTO Standard Specifications, 17th ed. (2002), Art. 10.38.5.1; from memory.
    """
    S_r = sheet.step(
        "S_r", shear * first_moment / inertia, _FLOW, "range of horizontal shear",
        ref="Std 10.38.5.1.1",
    )  # fmt: skip
    return sheet.step(
        "p_s", minimum(per_row * resistance / S_r, use(sheet, "p_max_s")), inch,
        "pitch that fatigue allows", ref="Std 10.38.5.1.1",
    )  # fmt: skip


def older_stud_strength(
    sheet: Sheet, *, diameter: Operand, concrete: Operand, modulus: Operand
) -> Operand:
    r"""Write the ultimate strength of one stud, height over diameter at least 4.

    .. math:: S_u = 0.4 d^2 \sqrt{f'_c E_c} \le 60{,}000\,\mathrm{psi}\; A_{sc}

    The upper bound belongs to later interims and is left out: 17th edition text.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the step.
    diameter : Operand, [length]
        ``d``.
    concrete, modulus : Operand, [stress]
        ``f'_c`` and ``E_c``.

    Returns
    -------
    Operand
        The step ``S_u``, [force].

    Source
    ------
    AASHTO Standard Specifications, 17th ed. (2002), Art. 10.38.5.1.2; from memory.
    """
    return sheet.step(
        "S_u", 0.4 * diameter**2 * sqrt(concrete * modulus), kip, "ultimate strength of one stud",
        ref="Std 10.38.5.1.2",
    )  # fmt: skip


def older_channel_strength(
    sheet: Sheet, *, flange: Operand, web: Operand, length: Operand, concrete: Operand
) -> Operand:
    r"""Write the ultimate strength of one channel.

    .. math:: S_u = 550 (h + t/2) w \sqrt{f'_c} \text{ (lb, in, psi)} = 17.4 (h + t/2) w
        \sqrt{f'_c} \text{ (kip, in, ksi)}

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the step.
    flange, web, length : Operand, [length]
        Average flange thickness ``h``, web thickness ``t``, length ``w``.
    concrete : Operand, [stress]
        ``f'_c``.

    Returns
    -------
    Operand
        The step ``S_u``, [force].

    Source
    ------
    AASHTO Standard Specifications, 17th ed. (2002), Art. 10.38.5.1.2; from memory.
    """
    psi = sqrt(1000 * concrete.magnitude(ksi))
    size = ((flange + web / 2) * length).magnitude(inch**2)
    return sheet.step(
        "S_u", 550 * size * psi / 1000 * kip, kip, "ultimate strength of one channel",
        ref="Std 10.38.5.1.2",
    )  # fmt: skip


def older_required_connectors(
    sheet: Sheet,
    strength: Operand,
    *,
    steel: Operand,
    concrete: Operand,
    width: Operand,
    thickness: Operand,
) -> Operand:
    r"""Write how many connectors one side of the greatest moment needs.

    .. math:: P = \min(A_s F_y,\; 0.85 f'_c b t_s), \qquad N = \frac{P}{0.85 S_u}

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    strength : Operand, [force]
        ``S_u`` of one connector.
    steel : Operand, [force]
        Yield force of the steel section.
    concrete : Operand, [stress]
        ``f'_c``.
    width, thickness : Operand, [length]
        Effective width and thickness of the slab.

    Returns
    -------
    Operand
        The step ``n_req``, not rounded; ``P`` is the other.

    Source
    ------
    AASHTO Standard Specifications, 17th ed. (2002), Art. 10.38.5.1.2; from memory.
    """
    P = sheet.step(
        "P", minimum(steel, use(sheet, "c_PNAs") * concrete * width * thickness), kip,
        "force to be developed", ref="Std 10.38.5.1.2",
    )  # fmt: skip
    return sheet.step(
        "n_req", P / (use(sheet, "phi_ss") * strength), None,
        "connectors needed on one side of the greatest moment", ref="Std 10.38.5.1.2",
    )  # fmt: skip
