"""The proof of one live-load effect: what stands where, and the sum a checker can redo."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from stepcalc.analysis.influence_lines import Effect, influence_line
from stepcalc.errors import RangeError

if TYPE_CHECKING:
    from stepcalc.analysis.beam import Beam
    from stepcalc.analysis.case_effect import CaseEffect
    from stepcalc.analysis.load_case import LoadCase
    from stepcalc.analysis.piecewise import PiecewisePolynomial, Region

__all__ = ["AxleRow", "LoadProof", "concurrent_effect", "placed_proof"]


@dataclass(frozen=True)
class AxleRow:
    """One axle: its force, where it stands, the ordinate there, and their product."""

    axle: int
    force: float
    position: float
    side: int
    ordinate: float
    product: float
    counted: bool


@dataclass(frozen=True, eq=False)
class LoadProof:
    """How one live-load effect comes about; ordinates and areas carry their own sign.

    Attributes
    ----------
    effect, section, face
        What it is the effect of, and where.
    case : LoadCase
    heading : str
        "left", "right" or "" without a vehicle: where the lead axle points.
    axles : tuple of AxleRow
        In the order of the vehicle; one that is left out, or off the beam, is not counted.
    axle_sum : float
        Sum of the products.
    lane : tuple of Region
        Where the lane load stands, and the area of the influence line there.
    lane_sum : float
        Intensity times areas.
    value : float
        axle_factor * axle_sum + lane_factor * lane_sum.
    line : PiecewisePolynomial
        The influence line.
    """

    effect: Effect
    section: float
    face: int
    case: LoadCase
    heading: str
    axles: tuple[AxleRow, ...]
    axle_sum: float
    lane: tuple[Region, ...]
    lane_sum: float
    value: float
    line: PiecewisePolynomial


def placed_proof(
    result: CaseEffect,
    row: int,
    *,
    line: PiecewisePolynomial,
    effect: Effect,
    section: float,
    face: int,
    sign: int,
) -> LoadProof:
    """Return the proof of one row of a case.

    Parameters
    ----------
    result : CaseEffect
    row : int
        Of the result.
    line : PiecewisePolynomial
        The influence line, with its own sign.
    effect, section, face : as in `LoadProof`
    sign : int
        1 for a maximum, -1 for a minimum.

    Returns
    -------
    LoadProof

    Raises
    ------
    RangeError
        If the case does not apply at this row.
    """
    if np.isneginf(result.total[row]):
        msg = f"load case {result.case.id!r} does not apply to {effect} at {section:g}"
        raise RangeError(msg)
    axles = []
    # a train that is kept whole counts with every axle on the beam, even one at a zero of the line
    whole = result.case.relieving == "kept" and result.case.pair is None and result.axles[row] > 0
    for number, (force, position, side, ordinate) in enumerate(
        zip(
            result.forces[row],
            result.positions[row],
            result.sides[row],
            sign * result.ordinates[row],
            strict=True,
        ),
        1,
    ):
        if force > 0:
            axles.append(
                AxleRow(
                    number,
                    float(force),
                    float(position),
                    int(side),
                    float(ordinate),
                    float(force * ordinate),
                    bool(ordinate != 0) or (bool(whole) and _on_beam(line, position, side)),
                )
            )
    case = result.case
    lane = tuple(line.regions(sign)) if case.lane else ()
    axle_sum = sum(axle.product for axle in axles)
    lane_sum = case.lane * sum(region.area for region in lane)
    factor = case.axle_factor if case.vehicle is not None else case.lane_factor
    return LoadProof(
        effect,
        section,
        face,
        case,
        {-1: "left", 0: "", 1: "right"}[int(result.heading[row])],
        tuple(axles),
        axle_sum,
        lane,
        lane_sum,
        factor * axle_sum + case.lane_factor * lane_sum,
        line,
    )


def _on_beam(line: PiecewisePolynomial, position: float, side: int) -> bool:
    near = 1e-9 * float(line.breaks[-1] - line.breaks[0])
    return bool(line.breaks[0] <= position + side * near <= line.breaks[-1])


def concurrent_effect(
    beam: Beam, proof: LoadProof, effect: Effect, *, section: float | None = None, face: int = 1
) -> float:
    """Return another effect under the very loads of a proof, such as shear with maximum moment.

    Parameters
    ----------
    beam : Beam
    proof : LoadProof
        Its counted axles and its lane regions stay where they are; its factors are kept.
    effect : "moment", "shear", "reaction" or "deflection"
    section : float, optional, [length]
        The section of the proof unless given.
    face : int
        For shear, -1 just left and 1 just right of the section.

    Returns
    -------
    float

    Source
    ------
    Superposition of influence ordinates. No clause.
    """
    line = influence_line(beam, effect, proof.section if section is None else section, face=face)
    axles = 0.0
    for axle in proof.axles:
        if axle.counted:
            ordinate = line(axle.position, side="left" if axle.side < 0 else "right")
            axles += axle.force * float(ordinate)
    lane = sum(line.integral(region.start, region.end) for region in proof.lane)
    case = proof.case
    factor = case.axle_factor if case.vehicle is not None else case.lane_factor
    return factor * axles + case.lane_factor * case.lane * lane
