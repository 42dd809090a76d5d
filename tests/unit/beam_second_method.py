"""Beams by general finite elements (scikit-fem): shares no code with stepcalc."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray
from scipy.sparse.linalg import splu
from skfem import Basis, BilinearForm, ElementLineHermite, MeshLine
from skfem.helpers import dd

Array = NDArray[np.float64]


@dataclass
class FiniteElementBeam:
    """A beam without hinges on a mesh whose nodes hold every support, section and load."""

    nodes: Array
    rigidity: Callable[[Array], Array]
    supports: Sequence[float]
    clamps: Sequence[float] = ()

    def __post_init__(self) -> None:
        law = self.rigidity

        def bending(u: Any, v: Any, w: Any) -> Any:
            return law(w.x[0]) * dd(u)[0, 0] * dd(v)[0, 0]

        self.basis = Basis(MeshLine(self.nodes), ElementLineHermite(), intorder=8)
        self.matrix = BilinearForm(bending).assemble(self.basis).tocsc()
        lift, turn = self.basis.nodal_dofs
        held = [lift[self.node(x)] for x in self.supports]
        held += [turn[self.node(x)] for x in self.clamps]
        self.held = np.array(held)
        self.free = np.setdiff1d(np.arange(self.basis.N), self.held)
        self.factor = splu(self.matrix[self.free][:, self.free])

    def node(self, x: float) -> int:
        """Return the node at a position."""
        index = int(np.argmin(np.abs(self.nodes - x)))
        assert abs(self.nodes[index] - x) < 1e-9
        return index

    def load(self, forces: Sequence[float], positions: Sequence[float]) -> Array:
        """Return the load vector of downward forces at nodes."""
        vector = np.zeros(self.basis.N)
        for force, x in zip(forces, positions, strict=True):
            if self.nodes[0] <= x <= self.nodes[-1]:
                vector[self.basis.nodal_dofs[0][self.node(x)]] -= force
        return vector

    def solve(self, load: Array) -> Array:
        """Return the displacements."""
        moved = np.zeros(self.basis.N)
        moved[self.free] = self.factor.solve(load[self.free])
        return moved

    def reactions(self, moved: Array, load: Array) -> Array:
        """Return the reactions of the supports, from left to right."""
        residual = self.matrix @ moved - load
        return np.array([residual[self.basis.nodal_dofs[0][self.node(x)]] for x in self.supports])

    def moment_shear(self, moved: Array, x: float) -> tuple[Any, Any]:
        """Return moment and shear just left of a node, from the element there (constant EI)."""
        right = self.node(x)
        a, b = self.nodes[right - 1], self.nodes[right]
        lift, turn = self.basis.nodal_dofs
        h, EI = b - a, float(self.rigidity(np.array([0.5 * (a + b)]))[0])
        u, v = moved[lift[right - 1]], moved[lift[right]]
        p, q = moved[turn[right - 1]], moved[turn[right]]
        moment = EI * (6 * (u - v) / h**2 + (2 * p + 4 * q) / h)
        shear = EI * (12 * (u - v) / h**3 + 6 * (p + q) / h**2)
        return moment, shear

    def deflection(self, moved: Array, x: float) -> float:
        """Return the downward displacement at a node."""
        return -float(moved[self.basis.nodal_dofs[0][self.node(x)]])
