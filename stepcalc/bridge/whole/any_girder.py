"""The calculation that the data of a bridge ask for: composite or not."""

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
        The interior girder without shear connectors, or both girders with them.
    """
    if data.composite:
        from stepcalc.bridge.whole.calculation import composite_calculation  # only one is needed

        return composite_calculation(data)
    from stepcalc.bridge.girder import girder_calculation

    return girder_calculation(data)
