"""The web in flexure: hybrid factor, load shedding, bend-buckling (6.10.1.9 and 6.10.1.10)."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

from stepcalc.bridge.composite.geometry import flange_area
from stepcalc.bridge.composite.stiffened_web import stiffened_coefficient
from stepcalc.bridge.constants import use
from stepcalc.errors import RangeError
from stepcalc.expr.functions import cases, maximum, minimum, sqrt
from stepcalc.units import inch, ksi

if TYPE_CHECKING:
    from stepcalc.bridge.composite.elastic import Elastic
    from stepcalc.bridge.composite.geometry import Geometry
    from stepcalc.bridge.composite.sides import Sides
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.sheet import Sheet


class WebEdition(StrEnum):
    """Edition whose limit of a noncompact web holds; the 9th is remembered with doubt."""

    EIGHTH = "8th"
    NINTH = "9th"


@dataclass(frozen=True)
class Web:
    """The web under one bending sense.

    Attributes
    ----------
    depth : Operand, [length]
        ``D_c``.
    slenderness, limit : Operand
        ``lambda_w`` = 2 D_c/t_w and ``lambda_rw``.
    hybrid, shedding : Operand
        ``R_h`` and ``R_b``.
    """

    depth: Operand
    slenderness: Operand
    limit: Operand
    hybrid: Operand
    shedding: Operand


@dataclass(frozen=True)
class CompositeSlab:
    """What the slab adds to the compression flange in ``a_wc``: positive bending only."""

    stress: Operand
    long_term: Elastic


def hybrid_factor(sheet: Sheet, geometry: Geometry, section: Elastic) -> Operand:
    r"""Write the hybrid factor.

    .. math:: R_h = \frac{12 + \beta (3\rho - \rho^3)}{12 + 2\beta}, \quad
        \beta = \frac{2 D_n t_w}{A_{fn}}, \quad \rho = \min(F_{yw}/f_n, 1)

    ``f_n`` is the yield strength of the flange on the side of ``D_n``, which is on the safe side
    where the other flange yields first.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    geometry : Geometry
        The parts.
    section : Elastic
        Whose neutral axis gives ``D_n``: short-term, cracked, or the steel.

    Returns
    -------
    Operand
        ``R_h``; the code's 1.0 for a rolled shape.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Eq. 6.10.1.10.1-1 to -3; from memory.
    """
    if geometry.section.rolled:
        return use(sheet, "R_h")  # type: ignore[no-any-return]  # a given of the sheet
    step, ref, web = sheet.step, "LRFD 6.10.1.10.1", geometry.section.web
    lower, upper = section.centroid - geometry.web_bottom, geometry.web_top - section.centroid
    D_n = step("D_n", maximum(lower, upper), inch, "neutral axis to the farther flange", ref=ref)
    top, bottom = geometry.flange(top=True), geometry.flange(top=False)
    sides = ((lower >= upper), "bottom flange", "top flange")
    A_fn = step(
        "A_fn",
        cases((sides[0], flange_area(bottom), sides[1]), otherwise=(flange_area(top), sides[2])),
        inch**2,
        "flange on that side",
        ref=ref,
    )
    f_n = step(
        "f_n",
        cases((sides[0], _strongest(bottom), sides[1]), otherwise=(_strongest(top), sides[2])),
        ksi,
        "its yield strength",
        ref=ref,
    )
    beta = step("beta_h", 2 * D_n * web.thickness / A_fn, None, "web over flange", ref=ref)
    rho = step("rho_h", minimum(web.strength / f_n, 1), None, "strength of web to flange", ref=ref)
    return step(
        "R_h",
        cases(
            (web.strength >= f_n, 1.0, "web as strong as the flange"),
            otherwise=((12 + beta * (3 * rho - rho**3)) / (12 + 2 * beta), "hybrid"),
        ),
        None,
        "hybrid factor",
        ref="LRFD 6.10.1.10.1-1",
    )


def _strongest(pieces: tuple[object, ...]) -> Operand:
    strengths = [piece.strength for piece in pieces]  # type: ignore[attr-defined]  # pieces
    return strengths[0] if len(strengths) == 1 else maximum(*strengths)


def web_in_flexure(
    sheet: Sheet,
    geometry: Geometry,
    sides: Sides,
    *,
    depth: Operand,
    hybrid: Operand,
    slab: CompositeSlab | None = None,
    edition: WebEdition | str = WebEdition.EIGHTH,
    along: Operand | None = None,
) -> Web:
    r"""Write the slenderness class of the web and the load-shedding factor.

    .. math:: R_b = 1 - \frac{a_{wc}}{1200 + 300 a_{wc}}
        \left(\frac{2 D_c}{t_w} - \lambda_{rw}\right) \le 1, \quad
        \lambda_{rw} = 5.7\sqrt{E/F_{yc}}

    The 9th edition: :math:`(3.1 + 5/a_{wc})\sqrt{E/F_{yc}}` between 4.6 and 5.7 times the root
    (remembered with doubt).

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    geometry : Geometry
        The web.
    sides : Sides
        The compression flange.
    depth : Operand, [length]
        ``D_c``.
    hybrid : Operand
        ``R_h``.
    slab : CompositeSlab, optional
        Positive bending of a composite section: ``R_b`` is 1 up to D/t_w = 150, and the slab
        counts in ``a_wc``.
    edition : WebEdition or str
        ``"8th"`` or ``"9th"``.
    along : Operand, [length], optional
        ``d_s`` of a longitudinal stiffener: ``R_b`` is 1 up to
        :math:`D/t_w = 0.95\sqrt{E k/F_{yc}}`.

    Returns
    -------
    Web
        Steps ``lambda_w a_wc lambda_rw R_b``.

    Raises
    ------
    RangeError
        If the edition is unknown.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Eq. 6.10.1.10.2-1 to -5; from memory.
    """
    book = _edition(edition)
    step, E, web = sheet.step, use(sheet, "E"), geometry.section.web
    F_yc = sides.compression.strength
    slenderness = step(
        "lambda_w", 2 * depth / web.thickness, None, "slenderness of the web in flexure",
        ref="LRFD 6.10.6.2.3-1",
    )  # fmt: skip
    resisting = sides.compression.area
    if slab is not None:
        assert geometry.slab_area is not None
        assert slab.long_term.ratio is not None
        resisting = resisting + geometry.slab_area * (1 - slab.stress / F_yc) / slab.long_term.ratio
    a_wc = step(
        "a_wc", 2 * depth * web.thickness / resisting, None,
        "twice the web in compression over the flange", ref="LRFD 6.10.1.10.2-5",
    )  # fmt: skip
    root = sqrt(E / F_yc)
    if book is WebEdition.EIGHTH:
        limit, ref = 5.7 * root, "LRFD 6.10.1.10.2-4"
    else:
        ref = "LRFD 9th ed. 6.10.1.10.2-5"
        limit = cases(
            (a_wc <= 5 / 2.6, 5.7 * root, "stocky flange"),
            (a_wc >= 5 / 1.5, 4.6 * root, "light flange"),
            otherwise=((3.1 + 5 / a_wc) * root, "between"),
        )
    lambda_rw = step("lambda_rw", limit, None, "limit of a noncompact web", ref=ref)
    reduced = 1 - a_wc / (1200 + 300 * a_wc) * (slenderness - lambda_rw)
    branches: list[tuple[object, object, str]] = [
        (slenderness <= lambda_rw, 1.0, "web does not bend-buckle")
    ]
    if slab is not None:
        stocky = web.width / web.thickness <= use(sheet, "lambda_w_max")
        branches.insert(0, (stocky, 1.0, "composite, positive, D/t_w not above 150"))
    if along is not None:
        k = stiffened_coefficient(sheet, web.width, distance=along, compressed=depth)
        enough = web.width / web.thickness <= 0.95 * sqrt(E * k / F_yc)
        branches.append((enough, 1.0, "longitudinal stiffener keeps the web from bend-buckling"))
    R_b = step(
        "R_b", cases(*branches, otherwise=(reduced, "slender web")), None,
        "web load-shedding factor", ref="LRFD 6.10.1.10.2-3",
    )  # fmt: skip
    return Web(depth, slenderness, lambda_rw, hybrid, R_b)


def _edition(edition: WebEdition | str) -> WebEdition:
    try:
        return WebEdition(edition)
    except ValueError:
        msg = f"the edition of the web limit is {edition!r}; want '8th' or '9th'"
        raise RangeError(msg) from None


def bend_buckling(
    sheet: Sheet,
    geometry: Geometry,
    sides: Sides,
    *,
    depth: Operand,
    hybrid: Operand,
    along: Operand | None = None,
) -> Operand:
    r"""Write the nominal bend-buckling resistance of a web.

    .. math:: F_{crw} = \frac{0.9 E k}{(D/t_w)^2} \le \min(R_h F_{yc}, F_{yw}/0.7), \quad
        k = \frac{9}{(D_c/D)^2}

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    geometry : Geometry
        The web.
    sides : Sides
        The compression flange.
    depth : Operand, [length]
        ``D_c`` of the stage that is looked at.
    hybrid : Operand
        ``R_h``.
    along : Operand, [length], optional
        ``d_s`` of a longitudinal stiffener, from the compression flange.

    Returns
    -------
    Operand
        The step ``F_crw``, [stress]; ``k_w`` is the other step.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Eq. 6.10.1.9.1-1 and -2, 6.10.1.9.2-1 and -2; from memory.
    """
    D = geometry.section.web.width
    if along is not None:
        k = stiffened_coefficient(sheet, D, distance=along, compressed=depth)
        return _capped(sheet, geometry, sides, k, hybrid)
    k = sheet.step(
        "k_w",
        cases(
            (depth >= D, 7.2, "both edges of the web in compression"),
            (depth <= D / 100, 90_000, "hardly any web in compression: the bound decides"),
            otherwise=(9 / (depth / D) ** 2, "bending"),
        ),
        None,
        "bend-buckling coefficient",
        ref="LRFD 6.10.1.9.1-2",
    )
    return _capped(sheet, geometry, sides, k, hybrid)


def _capped(sheet: Sheet, geometry: Geometry, sides: Sides, k: Operand, hybrid: Operand) -> Operand:
    E, web = use(sheet, "E"), geometry.section.web
    buckling = 0.9 * E * k / (web.width / web.thickness) ** 2
    return sheet.step(
        "F_crw",
        minimum(buckling, hybrid * sides.compression.strength, web.strength / 0.7),
        ksi,
        "web bend-buckling resistance",
        ref="LRFD 6.10.1.9.1-1",
    )
