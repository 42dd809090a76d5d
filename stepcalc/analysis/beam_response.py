"""What loads that stand still, and settlements, do to a beam: exact piecewise polynomials."""

from __future__ import annotations

import itertools
import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from stepcalc.analysis.beam_batch import laws_between
from stepcalc.analysis.beam_element import Element, element
from stepcalc.analysis.beam_loads import Concentrated, Load, checked_loads
from stepcalc.analysis.beam_stiffness import solved
from stepcalc.analysis.influence_lines import support_index
from stepcalc.analysis.piecewise import PiecewisePolynomial
from stepcalc.errors import RangeError

if TYPE_CHECKING:
    from stepcalc.analysis.beam import Beam

__all__ = ["Response", "response"]

Array = NDArray[np.float64]
Integers = NDArray[np.int64]
_GAUSS_T, _GAUSS_W = np.polynomial.legendre.leggauss(8)
_GAUSS_T, _GAUSS_W = 0.5 * (_GAUSS_T + 1), 0.5 * _GAUSS_W


@dataclass(frozen=True, eq=False)
class Response:
    """Force effects of a beam under loads that stand still.

    Attributes
    ----------
    beam : Beam
    reactions : ndarray of float, shape (supports,), [force]
        Upward positive, from left to right.
    shear : PiecewisePolynomial, [force]
        Positive where the part to the left tends to move up; jumps at supports and single forces:
        call it with ``side="left"`` or ``"right"``.
    moment : PiecewisePolynomial, [force * length]
        Sagging positive; exact. Its ``maximum()`` and ``minimum()`` are the exact peaks, its
        ``roots()`` the points of contraflexure.
    deflection : PiecewisePolynomial, [length]
        Downward positive; exact where EI is constant, else to the tolerance of `beam_element`.
    """

    beam: Beam
    reactions: Array
    shear: PiecewisePolynomial
    moment: PiecewisePolynomial
    deflection: PiecewisePolynomial


def response(
    beam: Beam,
    loads: Sequence[Load] | Load = (),
    *,
    settlements: Mapping[float, float] | None = None,
) -> Response:
    """Return reactions, shear, moment and deflection of a beam under loads that stand still.

    Parameters
    ----------
    beam : Beam
    loads : sequence of Distributed and Concentrated
    settlements : mapping of float to float, optional, [length]
        Position of a support: how far it goes down. They need the true EI.

    Returns
    -------
    Response

    Raises
    ------
    RangeError
        If a load is off the beam or its size cannot be meant, or a settlement has no support.
    UndefinedError
        If the beam is a mechanism.

    Source
    ------
    Direct stiffness method, then statics. No clause.

    Examples
    --------
    >>> from stepcalc.analysis.beam import Beam
    >>> from stepcalc.analysis.beam_loads import uniform_on_all_spans
    >>> beam = Beam((10.0, 10.0))
    >>> found = response(beam, uniform_on_all_spans(beam))
    >>> [round(float(value), 6) for value in found.reactions]
    [3.75, 12.5, 3.75]
    >>> round(float(found.moment(10.0)), 6)
    -12.5
    """
    model = _model(beam)
    checked = _on_nodes(model, checked_loads(beam, loads))
    nodal = _nodal_forces(model, checked)
    shares = [_fixed_end_forces(part, checked) for part in model.elements]
    moved = _displacements(model, shares, nodal, _settled(model, settlements or {}))
    forces = [
        part.stiffness @ moved[dofs] + share
        for part, dofs, share in zip(model.elements, model.freedoms, shares, strict=True)
    ]
    pieces = [
        _element_pieces(part, force, moved[dofs], checked)
        for part, dofs, force in zip(model.elements, model.freedoms, forces, strict=True)
    ]
    total = np.zeros(len(model.stiffness))
    for dofs, force in zip(model.freedoms, forces, strict=True):
        np.add.at(total, dofs, force)
    breaks = np.concatenate([[0.0], *(piece.breaks[1:] for piece in pieces)])
    shear, moment, deflection = (
        PiecewisePolynomial(breaks, np.concatenate([getattr(p, name) for p in pieces]))
        for name in ("shear", "moment", "deflection")
    )
    return Response(beam, total[model.held] + nodal[model.held], shear, moment, deflection)


@dataclass(frozen=True, eq=False)
class _Model:
    """One solved beam, its elements apart."""

    beam: Beam
    nodes: Array
    elements: tuple[Element, ...]
    freedoms: Integers
    displacement: Integers
    free: Integers
    held: Integers
    stiffness: Array
    inverse: Array


def _model(beam: Beam) -> _Model:
    found = solved(beam)
    nodes = found.batch.nodes[0]
    return _Model(
        beam,
        nodes,
        tuple(element(a, b, law) for a, b, law in laws_between(beam, nodes)),
        found.freedoms,
        found.displacement,
        found.free,
        found.held,
        found.stiffness[0],
        found.inverse[0],
    )


def _settled(model: _Model, settlements: Mapping[float, float]) -> Array:
    moved = np.zeros(len(model.stiffness))
    for position, settlement in settlements.items():
        if not math.isfinite(settlement):
            raise RangeError(
                f"the settlement at {position:g} is {settlement}; give a finite number"
            )
        moved[model.held[support_index(model.beam, position)]] = -settlement
    return moved


def _inside(part: Element, load: Concentrated) -> bool:
    return part.start < load.position < part.end


def _on_nodes(model: _Model, loads: Sequence[Load]) -> tuple[Load, ...]:
    """Return the loads with single forces moved to the node they nearly stand on."""
    near = 1e-9 * model.beam.length
    placed: list[Load] = []
    for load in loads:
        if isinstance(load, Concentrated):
            node = float(model.nodes[np.argmin(np.abs(model.nodes - load.position))])
            on_node = abs(node - load.position) <= near
            placed.append(Concentrated(node, load.force) if on_node else load)
        else:
            placed.append(load)
    return tuple(placed)


def _nodal_forces(model: _Model, loads: Sequence[Load]) -> Array:
    """Return the single forces that stand on nodes, downward positive, by degree of freedom."""
    forces = np.zeros(len(model.stiffness))
    for load in loads:
        if isinstance(load, Concentrated):
            on = np.flatnonzero(model.nodes == load.position)
            forces[model.displacement[on]] += load.force
    return forces


def _fixed_end_forces(part: Element, loads: Sequence[Load]) -> Array:
    """Return the end forces of the fixed element: its shapes integrated with the loads."""
    total = np.zeros(4)
    for dof in range(4):
        shape = PiecewisePolynomial(part.breaks, part.shapes[:, :, dof])
        for load in loads:
            if isinstance(load, Concentrated):
                if _inside(part, load):
                    total[dof] += load.force * float(shape(load.position))
                continue
            start, end = max(load.start, part.start), min(load.end, part.end)
            if end > start:
                first, last = (_intensity(load, x) for x in (start, end))
                total[dof] += shape.integral(start, end, at_start=first, at_end=last)
    return total


def _intensity(load: Load, x: float) -> float:
    if isinstance(load, Concentrated) or load.end <= load.start:
        return 0.0
    first, last = load.ends
    return first + (last - first) * (x - load.start) / (load.end - load.start)


def _displacements(model: _Model, shares: Sequence[Array], nodal: Array, moved: Array) -> Array:
    forces = -nodal
    for dofs, share in zip(model.freedoms, shares, strict=True):
        np.add.at(forces, dofs, -share)
    forces -= model.stiffness @ moved
    result = moved.copy()
    result[model.free] = model.inverse @ forces[model.free]
    return result


@dataclass(frozen=True, eq=False)
class _Pieces:
    breaks: Array
    shear: Array
    moment: Array
    deflection: Array


def _element_pieces(part: Element, force: Array, moved: Array, loads: Sequence[Load]) -> _Pieces:
    """Return shear, moment and deflection along an element from its left end forces."""
    breaks = _load_breaks(part, loads)
    h = np.diff(breaks)
    shear, moment = np.zeros((len(h), 3)), np.zeros((len(h), 4))
    V, M = float(force[0]), -float(force[1])
    for i, (a, b) in enumerate(itertools.pairwise(breaks)):
        singles = (q for q in loads if isinstance(q, Concentrated) and _inside(part, q))
        V -= sum(q.force for q in singles if q.position == a)
        first, last = _intensities(loads, float(a), float(b))
        slope = (last - first) / (b - a)
        shear[i] = V, -first, -slope / 2
        moment[i] = M, V, -first / 2, -slope / 6
        powers = (b - a) ** np.arange(4)
        V, M = float(shear[i] @ powers[:3]), float(moment[i] @ powers)
    return _Pieces(breaks, shear, moment, -_elastic_line(part, breaks, moment, moved))


def _load_breaks(part: Element, loads: Sequence[Load]) -> Array:
    places = list(part.breaks)
    for load in loads:
        stands = [load.position] if isinstance(load, Concentrated) else [load.start, load.end]
        places.extend(x for x in stands if part.start < x < part.end)
    return np.unique(np.asarray(places, dtype=np.float64))


def _intensities(loads: Sequence[Load], a: float, b: float) -> tuple[float, float]:
    """Return the total intensity just inside both ends of a stretch without load ends inside."""
    first = last = 0.0
    for load in loads:
        if isinstance(load, Concentrated):
            continue
        if load.start <= 0.5 * (a + b) <= load.end:
            first += _intensity(load, a)
            last += _intensity(load, b)
    return first, last


def _elastic_line(part: Element, breaks: Array, moment: Array, moved: Array) -> Array:
    """Return the upward displacement, a quintic on every piece, by integrating M / EI."""
    h = np.diff(breaks)
    t = np.concatenate([[[0.0]] * len(h), np.tile(_GAUSS_T, (len(h), 1)), [[1.0]] * len(h)], axis=1)
    local = h[:, None] * t
    x = breaks[:-1, None] + local
    EI = (
        np.asarray(part.rigidity(x.ravel())).reshape(x.shape)
        if callable(part.rigidity)
        else np.full_like(x, part.rigidity)
    )
    bending = sum(moment[:, [j]] * local**j for j in range(4)) / EI
    inner = bending[:, 1:-1]
    turned = h * (inner @ _GAUSS_W)
    lifted = h**2 * ((inner * (1 - _GAUSS_T)) @ _GAUSS_W)
    slope = moved[1] + np.concatenate([[0.0], np.cumsum(turned)])
    rise = moved[0] + np.concatenate([[0.0], np.cumsum(slope[:-1] * h + lifted)])
    return _quintic(rise, slope, bending[:, 0], bending[:, -1], h)


def _quintic(rise: Array, slope: Array, first: Array, last: Array, h: Array) -> Array:
    """Return the quintics with these values, slopes and curvatures at both ends."""
    a0, a1, a2 = rise[:-1], slope[:-1], first / 2
    d0 = (rise[1:] - a0 - a1 * h - a2 * h**2) / h**3
    d1 = (slope[1:] - a1 - 2 * a2 * h) / h**2
    d2 = (last - 2 * a2) / h
    a3 = 10 * d0 - 4 * d1 + d2 / 2
    a4 = (-15 * d0 + 7 * d1 - d2) / h
    a5 = (6 * d0 - 3 * d1 + d2 / 2) / h**2
    return np.stack([a0, a1, a2, a3, a4, a5], axis=1)
