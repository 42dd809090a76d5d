"""Cross-section proportion limits of a rolled beam (Art. 6.10.2) and least thickness (6.7.3)."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stepcalc.bridge.constants import use

if TYPE_CHECKING:
    from stepcalc.bridge.section import SectionProperties
    from stepcalc.sheet.nodes import Check
    from stepcalc.sheet.sheet import Sheet


def proportion_limits(sheet: Sheet, section: SectionProperties) -> tuple[Check, ...]:
    """Check the proportions of web and flanges.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the checks.
    section : SectionProperties
        The rolled shape.

    Returns
    -------
    tuple of Check
        Web slenderness, flange slenderness, flange width, flange thickness, and the two least
        thicknesses.  The ratio of the flange inertias of a doubly symmetric shape is 1.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. 6.10.2.1.1, 6.10.2.2, 6.7.3; from memory.
    """
    D, t_w, b_f, t_f = section.web_depth, section.web, section.flange_width, section.flange
    check = sheet.check
    return (
        check("Web slenderness", D / t_w <= use(sheet, "lambda_w_max"), ref="LRFD 6.10.2.1.1-1"),
        check(
            "Flange slenderness",
            b_f / (2 * t_f) <= use(sheet, "lambda_f_max"),
            ref="LRFD 6.10.2.2-1",
        ),
        check("Flange width", D / use(sheet, "r_D_bf") <= b_f, ref="LRFD 6.10.2.2-2"),
        check("Flange thickness", use(sheet, "r_tf_tw") * t_w <= t_f, ref="LRFD 6.10.2.2-3"),
        check("Least web thickness", use(sheet, "t_w_min") <= t_w, ref="LRFD 6.7.3"),
        check("Least flange thickness", use(sheet, "t_f_min") <= t_f, ref="LRFD 6.7.3"),
    )
