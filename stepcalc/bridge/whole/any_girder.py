"""The calculation that the data of a bridge ask for: a plain rolled beam, or a whole package."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from stepcalc.bridge.data import BridgeData
    from stepcalc.bridge.girder import GirderCalculation
    from stepcalc.bridge.whole.calculation import CompositeCalculation

__all__ = ["calculation_of"]


def calculation_of(data: BridgeData) -> GirderCalculation | CompositeCalculation:
    """Run the whole calculation of a bridge.

    Parameters
    ----------
    data : BridgeData
        The bridge.

    Returns
    -------
    GirderCalculation or CompositeCalculation
        The interior girder of rolled beams without shear connectors, or both girders with them or
        made of plates.
    """
    if data.details is not None:
        from stepcalc.bridge.whole.calculation import composite_calculation  # only one is needed

        return composite_calculation(data)
    from stepcalc.bridge.girder import girder_calculation

    return girder_calculation(data)
