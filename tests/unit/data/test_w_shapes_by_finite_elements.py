"""A dozen W shapes against general geometry (shapely) and finite elements (scikit-fem).

The outline is the three plates with fillets of radius k - tf, drawn by closing their union with a
disc of that radius; nothing of the property formulas enters.
"""

from __future__ import annotations

from functools import cache
from typing import Any

import numpy as np
import pytest
import shapely
import skfem
from skfem.helpers import dot, grad

from stepcalc.data.tables import table

SHAPES = table("w_shapes")
DOZEN = (
    "W44X335", "W40X149", "W36X361", "W36X135", "W33X130", "W30X99",
    "W27X84", "W24X68", "W21X57", "W18X35", "W14X730", "W8X10",
)  # fmt: skip


@cache
def outline(name: str) -> Any:
    """Return the cross-section as a polygon, its middle at the origin."""
    d, bf, tw, tf, k = (SHAPES.value(name, c) for c in ("d", "bf", "tw", "tf", "k"))
    web = shapely.box(-tw / 2, -d / 2, tw / 2, d / 2)
    flange = shapely.box(-bf / 2, d / 2 - tf, bf / 2, d / 2)
    plates = web | flange | shapely.affinity.rotate(flange, 180, origin=(0, 0))
    corner = {"join_style": "mitre", "quad_segs": 8}
    return plates.buffer(k - tf, **corner).buffer(-(k - tf), quad_segs=8) & plates.convex_hull


@cache
def mesh(name: str) -> skfem.MeshTri:
    """Return the cross-section cut into triangles."""
    triangles = shapely.constrained_delaunay_triangles(outline(name)).geoms
    corners = np.array([t.exterior.coords[:3] for t in triangles]).reshape(-1, 2)
    points, numbers = np.unique(corners.round(9), axis=0, return_inverse=True)
    return skfem.MeshTri(points.T.copy(), numbers.reshape(-1, 3).T.copy())


def integral(name: str, x_power: int, y_power: int) -> float:
    """Return the integral of x**x_power * y**y_power over the cross-section."""
    basis = skfem.Basis(mesh(name), skfem.ElementTriP1(), intorder=4)
    moment = skfem.Functional(lambda w: w.x[0] ** x_power * w.x[1] ** y_power)
    return float(moment.assemble(basis))


@pytest.mark.parametrize("name", DOZEN)
def test_area_and_centroid(name: str) -> None:
    shape = outline(name)
    assert shape.area == pytest.approx(SHAPES.value(name, "area"), rel=0.008)
    assert integral(name, 0, 0) == pytest.approx(shape.area, rel=1e-9)
    assert abs(shape.centroid.x) + abs(shape.centroid.y) < 1e-9
    assert shape.bounds[3] - shape.bounds[1] == pytest.approx(SHAPES.value(name, "d"))


@pytest.mark.parametrize("name", DOZEN)
def test_second_moments(name: str) -> None:
    assert integral(name, 0, 2) == pytest.approx(SHAPES.value(name, "Ix"), rel=0.01)
    # widths above 10 in are printed to 0.1 in: W36X135 is 12.0 for 11.95, 1.3 % in the cube
    assert integral(name, 2, 0) == pytest.approx(SHAPES.value(name, "Iy"), rel=0.015)
    assert abs(integral(name, 1, 1)) < 1e-9 * SHAPES.value(name, "Ix")


@pytest.mark.parametrize("name", DOZEN)
def test_plastic_moduli(name: str) -> None:
    reach = 100.0
    upper = outline(name) & shapely.box(-reach, 0, reach, reach)
    right = outline(name) & shapely.box(0, -reach, reach, reach)
    assert 2 * upper.area * upper.centroid.y == pytest.approx(SHAPES.value(name, "Zx"), rel=0.0105)
    assert 2 * right.area * right.centroid.x == pytest.approx(SHAPES.value(name, "Zy"), rel=0.014)


stiffness = skfem.BilinearForm(lambda u, v, _: dot(grad(u), grad(v)))
twice = skfem.LinearForm(lambda v, _: 2.0 * v)


@pytest.mark.parametrize("name", DOZEN)
def test_torsion_constant(name: str) -> None:
    """The stress function of Saint-Venant torsion: its Laplacian is -2, and J twice its volume."""
    basis = skfem.Basis(mesh(name).refined(3), skfem.ElementTriP2())
    load = twice.assemble(basis)
    heights = skfem.solve(*skfem.condense(stiffness.assemble(basis), load, D=basis.get_dofs()))
    assert float(load @ heights) == pytest.approx(SHAPES.value(name, "J"), rel=0.05)
