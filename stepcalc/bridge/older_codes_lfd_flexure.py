"""Load factor design: flexural strength by the bracing classes of a rolled beam (10.48)."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stepcalc.bridge.constants import use
from stepcalc.bridge.flexure import BRACING_IN_WORDS, bracing_basis, is_continuously_braced
from stepcalc.expr.functions import all_of, any_of, cases, minimum, sqrt
from stepcalc.units import inch, kip_ft, ksi

if TYPE_CHECKING:
    from stepcalc.bridge.fields import TopFlange
    from stepcalc.bridge.section import SectionProperties
    from stepcalc.expr.tree import Condition, Operand
    from stepcalc.sheet.nodes import Check
    from stepcalc.sheet.sheet import Sheet


@dataclass(frozen=True)
class LoadFactorStrength:
    """Moment resistances of the three bracing classes, and the one that holds."""

    compact: Operand
    braced_noncompact: Operand
    partially_braced: Operand
    nominal: Operand
    check: Check


def strength_flexure_lfd(
    sheet: Sheet,
    section: SectionProperties,
    *,
    yield_strength: Operand,
    unbraced: Operand,
    gradient: Operand,
    demand: Operand,
    top_flange: TopFlange | str,
) -> LoadFactorStrength:
    """Write the moment resistance of each bracing class, the class that holds, and the check.

    The straight-line transition between compact and braced noncompact moment (Std 10.48.3) is not
    used; leaving it out is on the safe side.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    section : SectionProperties
        The rolled shape.
    yield_strength : Operand, [stress]
        Yield strength.
    unbraced : Operand, [length]
        Distance between diaphragms.
    gradient : Operand
        Moment gradient modifier ``C_b``.
    demand : Operand, [force * length]
        Factored moment, Group I.
    top_flange : TopFlange or str
        The bracing basis.

    Returns
    -------
    LoadFactorStrength
        Three moments, the deciding one, and the check.

    Raises
    ------
    RangeError
        If the bracing basis is not one of the three.

    Source
    ------
    AASHTO Standard Specifications, 17th ed. (2002), Art. 10.48.1, 10.48.2, 10.48.4; from memory.
    """
    braced = is_continuously_braced(top_flange)
    sheet.note(BRACING_IN_WORDS[bracing_basis(top_flange)])
    step, F_y = sheet.step, yield_strength
    M_uc = step("M_uc", F_y * section.plastic_modulus, kip_ft, "compact section", ref="Std 10.48.1")
    M_ub = _braced_noncompact(sheet, section, F_y)
    M_up = partially_braced(
        sheet, section, yield_strength=F_y, unbraced=unbraced, gradient=gradient
    )
    compact, noncompact = _classes(sheet, section, F_y, unbraced=None if braced else unbraced)
    if braced:
        nominal = cases((compact, M_uc, "compact"), otherwise=(M_ub, "braced noncompact"))
    else:
        nominal = cases(
            (compact, M_uc, "compact"),
            (noncompact, M_ub, "braced noncompact"),
            otherwise=(minimum(M_up, M_ub), "partially braced"),
        )
    M_n = step(
        "M_n",
        nominal,
        kip_ft,
        "moment resistance",
        ref="Std 10.48",
        valid=(section.flange_width / section.flange <= 24,),
    )
    check = sheet.check(
        "Flexure, Group I", demand <= M_n, ref="Std 10.48", location="greatest moment"
    )
    return LoadFactorStrength(M_uc, M_ub, M_up, M_n, check)


def _braced_noncompact(sheet: Sheet, section: SectionProperties, F_y: Operand) -> Operand:
    F_cr = sheet.step(
        "F_cr",
        minimum(19360 * ksi * (section.flange / section.flange_width) ** 2, F_y),
        ksi,
        "flange buckling stress",
        ref="Std 10.48.2.1",
    )
    return sheet.step(
        "M_ub", F_cr * section.modulus, kip_ft, "braced noncompact section", ref="Std 10.48.2.1"
    )


def partially_braced(
    sheet: Sheet,
    section: SectionProperties,
    *,
    yield_strength: Operand,
    unbraced: Operand,
    gradient: Operand,
) -> Operand:
    r"""Write the moment resistance of a section braced at intervals.

    .. math:: M_r = 91\,000\,C_b \frac{I_{yc}}{L_b}
        \sqrt{0.772\frac{J}{I_{yc}} + 9.87\left(\frac{d}{L_b}\right)^2} \le M_y

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the step.
    section : SectionProperties
        The rolled shape.
    yield_strength : Operand, [stress]
        Yield strength.
    unbraced : Operand, [length]
        Distance between diaphragms.
    gradient : Operand
        Moment gradient modifier ``C_b``.

    Returns
    -------
    Operand
        The step ``M_up``, [force * length].

    Source
    ------
    AASHTO Standard Specifications, 17th ed. (2002), Eq. 10-103c (91,000 ksi for 91 million psi),
    for webs
    with ``D_c/t_w`` up to 487 over the root of ``F_y`` in ksi; from memory.
    """
    I_yc, L_b, F_y = section.flange_inertia, unbraced, yield_strength
    root = sqrt(0.772 * section.torsion / I_yc + 9.87 * (section.depth / L_b) ** 2)
    stocky = section.compressed_web / section.web <= 487 / sqrt(F_y.magnitude(ksi))
    return sheet.step(
        "M_up",
        minimum(91000 * ksi * gradient * (I_yc / L_b) * root, F_y * section.modulus),
        kip_ft,
        "partially braced section",
        ref="Std 10.48.4.1",
        valid=(stocky,),
    )


def _classes(
    sheet: Sheet, section: SectionProperties, F_y: Operand, *, unbraced: Operand | None
) -> tuple[Condition, Condition]:
    step, F = sheet.step, F_y.magnitude(ksi)
    flange = step(
        "b_t",
        section.flange_width / (2 * section.flange),
        description="half flange over thickness",
        ref="Std 10.48.1.1",
    )
    web = step(
        "D_t",
        section.web_depth / section.web,
        description="web depth over thickness",
        ref="Std 10.48.1.1",
    )
    flange_limit = step(
        "b_t1",
        65 / sqrt(F),
        description="limit of a compact flange",
        ref="Std 10.48.1.1",
    )
    web_limit = step(
        "D_t1", 608 / sqrt(F), description="limit of a compact web", ref="Std 10.48.1.1"
    )
    together = any_of(
        flange <= 0.75 * flange_limit,
        web <= 0.75 * web_limit,
        web + 9.35 * flange <= 1064 / sqrt(F),
    )
    compact = [F_y <= use(sheet, "F_c_max"), flange <= flange_limit, web <= web_limit, together]
    noncompact = [2 * flange <= 24]
    if unbraced is not None:
        r_y = step(
            "r_y",
            sqrt(section.weak_inertia / section.trial.area),
            inch,
            "radius of gyration, weak axis",
            ref="geometry",
        )
        L_c = step(
            "L_c",
            1400 * r_y / F,
            inch,
            "greatest unbraced length of a compact section, uniform moment",
            ref="Std 10.48.1.1",
        )
        area = section.flange_width * section.flange
        L_n = step(
            "L_n",
            20000 * area / (F * section.depth),
            inch,
            "greatest unbraced length of a braced noncompact section",
            ref="Std 10.48.2.1",
        )
        compact.append(unbraced <= L_c)
        noncompact.append(unbraced <= L_n)
    single = noncompact[0] if len(noncompact) == 1 else all_of(*noncompact)
    return all_of(*compact), single
