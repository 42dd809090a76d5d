"""Properties of a rolled W shape: looked up by name, and the few that the code derives from them.

The shape enters in two parts, as it does on paper.  :func:`trial_shape` reads what the loads need
(weight, depth, area, inertia); :func:`section_properties` follows after the required section
property is known and adds the rest.  Every look-up follows the given ``shape``, so that one sheet
serves all shapes of the table at once.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stepcalc.expr.functions import sqrt
from stepcalc.units import inch, plf

if TYPE_CHECKING:
    from stepcalc.expr.tree import Operand
    from stepcalc.sheet.nodes import Choice
    from stepcalc.sheet.sheet import Sheet

TABLE = "w_shapes"
TABLE_REF = "shape table"


@dataclass(frozen=True)
class TrialShape:
    """What the loads and the distribution need of a steel section that is not yet verified.

    ``shape`` is None for a welded girder, which then has its ``flange_thickness`` and ``centroid``
    above the bottom of the steel.
    """

    shape: Choice | None
    weight: Operand
    area: Operand
    depth: Operand
    flange_width: Operand
    inertia: Operand
    flange_thickness: Operand | None = None
    centroid: Operand | None = None

    @property
    def centroid_to_top(self) -> Operand:
        """From the centroid of the steel to its top."""
        return self.depth / 2 if self.centroid is None else self.depth - self.centroid


@dataclass(frozen=True)
class SectionProperties:
    """Properties of the steel section; three plates where the code asks for plates."""

    trial: TrialShape
    web: Operand
    flange: Operand
    fillet: Operand
    modulus: Operand
    plastic_modulus: Operand
    weak_inertia: Operand
    web_depth: Operand
    flange_distance: Operand
    compressed_web: Operand
    torsion: Operand
    flange_inertia: Operand

    @property
    def depth(self) -> Operand:
        """Depth of the shape."""
        return self.trial.depth

    @property
    def flange_width(self) -> Operand:
        """Width of either flange."""
        return self.trial.flange_width

    @property
    def inertia(self) -> Operand:
        """Moment of inertia about the strong axis."""
        return self.trial.inertia


def trial_shape(sheet: Sheet, shape: Choice, *, neighbours: bool = True) -> TrialShape:
    """Look up what the loads need of the trial shape.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the look-ups.
    shape : Choice
        A given whose choices are the W shapes.
    neighbours : bool
        Print the next lighter and heavier rows beside the weight.

    Returns
    -------
    TrialShape
        Weight per length, area, depth, flange width, inertia.

    Source
    ------
    Shape table of the package; the sheet prints its edition.
    """
    read = sheet.lookup
    return TrialShape(
        shape=shape,
        weight=read(
            "w_s",
            TABLE,
            shape,
            "weight",
            plf,
            "weight of the beam",
            ref=TABLE_REF,
            neighbours=neighbours,
        ),
        area=read("A", TABLE, shape, "area", inch**2, "area", ref=TABLE_REF),
        depth=read("d", TABLE, shape, "d", inch, "depth", ref=TABLE_REF),
        flange_width=read("b_f", TABLE, shape, "bf", inch, "flange width", ref=TABLE_REF),
        inertia=read("I_x", TABLE, shape, "Ix", inch**4, "moment of inertia", ref=TABLE_REF),
    )


def section_properties(
    sheet: Sheet, trial: TrialShape, *, standard: bool = False
) -> SectionProperties:
    r"""Look up the other properties and derive those of the three plates.

    .. math:: D = d - 2 t_f, \quad h = d - t_f, \quad D_c = D/2, \quad
        J = \frac{D t_w^3}{3} + 2\,\frac{b_f t_f^3}{3}\left(1 - 0.63\frac{t_f}{b_f}\right)

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the look-ups and steps.
    trial : TrialShape
        The look-ups of :func:`trial_shape`.
    standard : bool
        Write ``J`` as the Standard Specifications do, without the factor for thick flanges.

    Returns
    -------
    SectionProperties
        All properties that the checks of a non-composite girder use.

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. A6.3.3 (J, h), D6.3 (depth of web in compression); from
    memory.
    """
    read, step, shape = sheet.lookup, sheet.step, trial.shape
    d, b_f = trial.depth, trial.flange_width
    t_w = read("t_w", TABLE, shape, "tw", inch, "web thickness", ref=TABLE_REF)
    t_f = read("t_f", TABLE, shape, "tf", inch, "flange thickness", ref=TABLE_REF)
    k = read("k", TABLE, shape, "k", inch, "outer face of flange to toe of fillet", ref=TABLE_REF)
    S_x = read("S_x", TABLE, shape, "Sx", inch**3, "elastic section modulus", ref=TABLE_REF)
    Z_x = read("Z_x", TABLE, shape, "Zx", inch**3, "plastic section modulus", ref=TABLE_REF)
    I_y = read("I_y", TABLE, shape, "Iy", inch**4, "moment of inertia, weak axis", ref=TABLE_REF)
    D = step("D", d - 2 * t_f, inch, "web depth, clear between the flanges", ref="geometry")
    h = step("h", d - t_f, inch, "distance between flange centroids", ref="geometry")
    D_c = step(
        "D_c", D / 2, inch, "depth of web in compression, elastic and plastic", ref="symmetry"
    )
    if standard:
        J = step(
            "J",
            (D * t_w**3 + 2 * b_f * t_f**3) / 3,
            inch**4,
            "St. Venant torsional constant, three plates",
            ref="Std 10.48.4.1",
        )
    else:
        J = step(
            "J",
            D * t_w**3 / 3 + 2 * (b_f * t_f**3 / 3) * (1 - 0.63 * t_f / b_f),
            inch**4,
            "St. Venant torsional constant, three plates",
            ref="LRFD A6.3.3-9",
        )
    I_yc = step(
        "I_yc", t_f * b_f**3 / 12, inch**4, "one flange about the axis of the web", ref="geometry"
    )
    return SectionProperties(trial, t_w, t_f, k, S_x, Z_x, I_y, D, h, D_c, J, I_yc)


def radius_for_buckling(sheet: Sheet, section: SectionProperties) -> Operand:
    r"""Write the effective radius of gyration for lateral-torsional buckling.

    .. math:: r_t = \frac{b_{fc}}{\sqrt{12\left(1 + \frac{D_c t_w}{3 b_{fc} t_{fc}}\right)}}

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the step.
    section : SectionProperties
        The rolled shape.

    Returns
    -------
    Operand
        The step ``r_t``, [length].

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Eq. 6.10.8.2.3-9; from memory.
    """
    b_f, t_f = section.flange_width, section.flange
    slender = 1 + section.compressed_web * section.web / (3 * b_f * t_f)
    return sheet.step(
        "r_t",
        b_f / sqrt(12 * slender),
        inch,
        "effective radius of gyration for lateral-torsional buckling",
        ref="LRFD 6.10.8.2.3-9",
    )


def yield_and_plastic_moment(
    sheet: Sheet, section: SectionProperties, yield_strength: Operand
) -> tuple[Operand, Operand]:
    """Write the yield moment and the plastic moment of the bare steel section.

    Parameters
    ----------
    sheet : Sheet
        The sheet that receives the steps.
    section : SectionProperties
        The rolled shape.
    yield_strength : Operand, [stress]
        Specified minimum yield strength.

    Returns
    -------
    tuple of Operand
        The steps ``M_y`` and ``M_p``, [force * length].

    Source
    ------
    AASHTO LRFD, 8th ed. (2017), Art. D6.2.1 and D6.1 (doubly symmetric, homogeneous); from memory.
    """
    from stepcalc.units import kip_ft

    M_y = sheet.step(
        "M_y", yield_strength * section.modulus, kip_ft, "yield moment", ref="LRFD D6.2.1"
    )
    M_p = sheet.step(
        "M_p", yield_strength * section.plastic_modulus, kip_ft, "plastic moment", ref="LRFD D6.1"
    )
    return M_y, M_p
