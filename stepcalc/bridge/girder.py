"""The first calculation: a non-composite rolled beam as interior girder of a simple span.

One switch, the specification, chooses between LRFD, allowable stress and load factor design; the
data are the same.  The result holds the calculation, the alternatives with the recommendation, and
the page of code constants.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import cached_property
from typing import TYPE_CHECKING, Any

from stepcalc.bridge.alternatives_page import alternatives_sheet, recommendation_lines
from stepcalc.bridge.constants_page import constants_sheet
from stepcalc.bridge.fields import Specification
from stepcalc.bridge.girder_lrfd import write_lrfd
from stepcalc.bridge.girder_standard import write_allowable_stress, write_load_factor
from stepcalc.bridge.rating.lrfr import lrfr_sheet
from stepcalc.bridge.rating.older import allowable_stress_rating, load_factor_rating
from stepcalc.bridge.rating.options import rating_data
from stepcalc.bridge.rating.records import rating_records
from stepcalc.bridge.recommend import Limit, Recommendation, fewest_girders, greatest, recommend
from stepcalc.bridge.verdict import scope, verdict_in_words
from stepcalc.errors import RangeError
from stepcalc.sheet.nodes import Choice
from stepcalc.sheet.package import Package
from stepcalc.sheet.sheet import Sheet
from stepcalc.sheet.titles import TitleBlock

if TYPE_CHECKING:
    from stepcalc.bridge.data import BridgeData

__all__ = ["GirderCalculation", "girder_calculation", "girder_sheet"]

SCHEMA = "stepcalc girder results 1"
_TITLES = {
    Specification.LRFD: "Interior girder, LRFD",
    Specification.ASD: "Interior girder, allowable stress design",
    Specification.LFD: "Interior girder, load factor design",
}
_WRITERS = {
    Specification.LRFD: write_lrfd,
    Specification.ASD: write_allowable_stress,
    Specification.LFD: write_load_factor,
}
_SPANS = (20.0, 240.0)
_SPACINGS = {
    Specification.LRFD: (3.5, 16.0),
    Specification.ASD: (3.5, 10.0),
    Specification.LFD: (3.5, 10.0),
}


@dataclass(frozen=True)
class GirderCalculation:
    """An interior girder, calculated, with its alternatives.

    Parameters
    ----------
    data : BridgeData
        The bridge.
    specification : Specification
        The specification of the checks.
    sheet : Sheet
        The calculation itself.
    """

    data: BridgeData
    specification: Specification
    sheet: Sheet

    @cached_property
    def recommendation(self) -> Recommendation:
        """The alternatives, each a full re-check; searched when first asked for."""
        return replace(recommend(self.sheet), limits=self._limits())

    @cached_property
    def sheets(self) -> tuple[Sheet, ...]:
        """The calculation, its load rating, alternatives with recommendation, code constants."""
        base = {
            "shape": self.data.shape,
            "span": f"{self._feet('L'):.6g} ft",
            "spacing": f"{round(self._feet('S'), 2):g} ft",
            "specification": self.specification.value,
        }
        alternatives = alternatives_sheet(self.recommendation, base=base)
        own = [self.sheet] if self.rating is None else [self.sheet, self.rating]
        return *own, alternatives, constants_sheet(own)

    @cached_property
    def rating(self) -> Sheet | None:
        """The load rating, where the data ask for one."""
        data = rating_data(self.data)
        if data is None:
            return None
        if self.specification is Specification.LRFD:
            return lrfr_sheet(self.sheet, data)
        if self.specification is Specification.LFD:
            return load_factor_rating(self.sheet)
        return allowable_stress_rating(self.sheet)

    @property
    def passed(self) -> bool:
        """Whether every check made passes within every formula's range."""
        return self.sheet.passed and all(check.in_range for check in self.sheet.checks)

    @property
    def verdict(self) -> str:
        """The verdict in words and numbers."""
        subject = (
            f"interior girder {self.data.shape}, span {self._feet('L'):.6g} ft, spacing "
            f"{round(self._feet('S'), 2):g} ft, {self.specification.value}"
        )
        return verdict_in_words(self.sheet, subject=subject)

    def package(self, title_block: TitleBlock | None = None) -> Package:
        """Return the calculation as a package that prints.

        Parameters
        ----------
        title_block : TitleBlock or None
            The title block; None takes the title fields of the bridge data.

        Returns
        -------
        Package
            The sheets.
        """
        title = title_block if title_block is not None else TitleBlock(**self.data.title)
        return Package(title, list(self.sheets))

    def to_json_dict(self) -> dict[str, Any]:
        """Return results and checks as plain data for other programs.

        Returns
        -------
        dict
            ``schema``, ``givens`` and ``results`` by name, ``checks``, ``governing``, ``passed``,
            ``verdict``, ``checked``, ``not_checked``, ``recommendation``, ``warnings``.  A value
            that does not exist is None.
        """
        limits = scope(self.sheet, self.specification, rated=self.rating is not None)
        governing = self.sheet.governing
        return {
            "schema": SCHEMA,
            "specification": self.specification.value,
            "givens": self._givens(),
            "results": self._results(),
            "checks": [_check_record(check) for check in self.sheet.checks],
            "governing": None if governing is None else governing.name,
            "passed": self.passed,
            "verdict": self.verdict,
            "checked": list(limits.checked),
            "not_checked": list(limits.not_checked),
            "recommendation": list(recommendation_lines(self.recommendation)),
            "warnings": [{"where": path, "text": text} for path, text in self.sheet.warnings],
        } | ({} if self.rating is None else {"rating": rating_records(self.rating)})

    def _givens(self) -> dict[str, Any]:
        records: dict[str, Any] = {}
        for node in self.sheet.givens:
            chosen = isinstance(node, Choice)
            records[node.name] = {
                "value": node.value if chosen else node.number,
                "unit": "" if chosen else node.info.text,
                "source": node.source or node.entry.assumed,
            }
        return records

    def _results(self) -> dict[str, Any]:
        records: dict[str, Any] = {}
        nodes = self.sheet.steps
        names = [node.name for node in nodes]
        for node in nodes:
            key = node.name if names.count(node.name) == 1 else node.path
            value = node.number if node.defined else None
            records[key] = {"value": value, "unit": node.info.text, "ref": node.ref}
        return records

    def _feet(self, name: str) -> float:
        return float(self.sheet[name].value.to("ft").magnitude)

    def _limits(self) -> tuple[Limit, ...]:
        sheet, spaces = self.sheet, float(self.data.girders - 1)
        width = self.data.deck_width
        low, high = _SPACINGS[self.specification]
        room = 2 * self._feet("b_bar")
        fits = max(low, min(high, (width - room) / spaces))
        overhang = f"{round(self._feet('OH'), 2):g} ft"
        held_spacing = f"diaphragm spacing held at {round(self._feet('L_b'), 2):g} ft"
        return (
            greatest(
                sheet,
                "L",
                dimension="span",
                held=f"spacing held at {round(self._feet('S'), 2):g} ft, {held_spacing}",
                within=_SPANS,
            ),
            greatest(
                sheet,
                "S",
                dimension="girder spacing",
                held=f"overhang held at {overhang}, the deck changes its width",
                within=(low, high),
            ),
            greatest(
                sheet,
                "S",
                dimension="girder spacing",
                held=f"deck width held at {round(width, 2):g} ft, the overhang changes",
                within=(low, fits),
                along={"OH": lambda spacing: (width - spaces * spacing) / 2},
            ),
            fewest_girders(
                sheet,
                girders="N_b",
                spacing="S",
                between_exteriors=spaces * self._feet("S"),
                within=(low, high),
                held=f"deck width held at {round(width, 2):g} ft and overhang at {overhang}",
            ),
        )


def girder_sheet(
    data: BridgeData,
    method: str | Specification | None = None,
    *,
    proof: str | None = "statics",
) -> Sheet:
    """Return the calculation of an interior girder as a sheet.

    Parameters
    ----------
    data : BridgeData
        The bridge.
    method : {"LRFD", "ASD", "LFD"} or None
        The specification; None takes that of the data.
    proof : {"statics", "ordinates"} or None
        What stands below each axle placement.

    Returns
    -------
    Sheet
        Givens, steps, checks and the verdict.

    Raises
    ------
    RangeError
        If the method is none of the three.
    """
    specification = _specification(data, method)
    sheet = Sheet(_TITLES[specification])
    _WRITERS[specification](sheet, data, proof=proof)
    return sheet


def girder_calculation(
    data: BridgeData,
    method: str | Specification | None = None,
    *,
    proof: str | None = "statics",
) -> GirderCalculation:
    """Run the whole calculation of an interior girder.

    Parameters
    ----------
    data : BridgeData
        The bridge.
    method : {"LRFD", "ASD", "LFD"} or None
        The specification; None takes that of the data.
    proof : {"statics", "ordinates"} or None
        What stands below each axle placement.

    Returns
    -------
    GirderCalculation
        The calculation with its alternatives, ready to print.

    Raises
    ------
    RangeError
        If the method is none of the three.
    """
    return GirderCalculation(
        data, _specification(data, method), girder_sheet(data, method, proof=proof)
    )


def _specification(data: BridgeData, method: str | Specification | None) -> Specification:
    if method is None:
        return data.specification
    try:
        return Specification(method)
    except ValueError:
        fits = ", ".join(repr(item.value) for item in Specification)
        msg = f"the method is {method!r}; want one of {fits}"
        raise RangeError(msg) from None


def _check_record(check: Any) -> dict[str, Any]:
    demand, capacity = check.demand, check.capacity
    ratio = check.ratio
    return {
        "name": check.name,
        "demand": None if demand is None else float(demand.magnitude),
        "capacity": None if capacity is None else float(capacity.magnitude),
        "unit": check.entry.info.text,
        "ratio": ratio if math.isfinite(ratio) else None,
        "verdict": check.verdict,
        "ref": check.ref,
        "location": check.location,
    }
