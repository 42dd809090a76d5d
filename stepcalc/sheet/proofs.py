"""The proof of a computed node: a small sheet that shows the value by hand."""

from __future__ import annotations

from typing import Any

from stepcalc.expr.walk import value_of
from stepcalc.sheet import cells
from stepcalc.units.info import read_unit

__all__ = ["proof_of"]

#: How far the hand value may lie from the procedure's before a reader is warned.
_AGREE = 1e-9


def proof_of(node: Any) -> tuple[Any, str | None]:
    """Return the sheet that proves a computed node, and a warning when it gives another value.

    Parameters
    ----------
    node : Computed

    Returns
    -------
    (Sheet, str or None), or (None, None) where no proof was asked for or the node has no value.
    """
    entry = node.entry
    if entry.proof is None or entry.kernel is None or not node.defined:
        return None, None
    values = node.sheet._values
    arguments = {
        name: formula
        if isinstance(formula, str)
        else value_of(formula, values) / read_unit(entry.kernel.inputs[name]).factor
        for name, formula in entry.inputs.items()
    }
    with cells.muted():
        proof = entry.kernel.proofs[entry.proof](**arguments)
    return proof, _disagreement(node, proof)


def _disagreement(node: Any, proof: Any) -> str | None:
    steps = proof.steps
    if not steps or node.sheet.carry == "shown":
        return None
    by_hand, procedure = steps[-1].base, node.base
    if abs(by_hand - procedure) <= _AGREE * max(abs(procedure), 1e-300):
        return None
    factor = node.info.factor
    return (
        f"the proof gives {by_hand / factor:.6g} {node.info.text}, the procedure "
        f"{procedure / factor:.6g} {node.info.text}: one of them is wrong"
    )
