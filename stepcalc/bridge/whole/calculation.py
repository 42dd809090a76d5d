"""The whole package of a bridge with details: both girders, summary, hand checks, constants."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, Any

from stepcalc.bridge.constants_page import constants_sheet
from stepcalc.bridge.fields import Specification
from stepcalc.bridge.rating.composite import composite_rating
from stepcalc.bridge.rating.options import rating_data
from stepcalc.bridge.rating.records import rating_records
from stepcalc.bridge.verdict import verdict_in_words
from stepcalc.bridge.whole.continuous_hand_checks import continuous_hand_checks
from stepcalc.bridge.whole.hand_checks import hand_check_sheet
from stepcalc.bridge.whole.heavier_shapes import search_shapes, shape_words, shapes_sheet
from stepcalc.bridge.whole.scope import composite_words, not_checked
from stepcalc.bridge.whole.summary import advice, check_labels, summary_sheet
from stepcalc.errors import RangeError
from stepcalc.sheet import state
from stepcalc.sheet.nodes import Choice
from stepcalc.sheet.package import Package
from stepcalc.sheet.sheet import Sheet
from stepcalc.sheet.titles import TitleBlock

if TYPE_CHECKING:
    from collections.abc import Callable

    from stepcalc.bridge.data import BridgeData

__all__ = ["CompositeCalculation", "composite_calculation"]

SCHEMA = "stepcalc girder results 1"


@dataclass(frozen=True)
class CompositeCalculation:
    """Interior and exterior girder of a composite or welded bridge of any spans, calculated.

    Parameters
    ----------
    data : BridgeData
        The bridge.
    interior, exterior : Sheet
        The two calculations.
    """

    data: BridgeData
    interior: Sheet
    exterior: Sheet

    @cached_property
    def summary(self) -> Sheet:
        """The summary of both girders."""
        return summary_sheet(self.interior, self.exterior, self.data)

    @cached_property
    def sheets(self) -> tuple[Sheet, ...]:
        """Both girders, summary, shapes (rolled only), hand checks, code constants."""
        girders = [self.interior, self.exterior]
        pages = [self.summary]
        if not self.data.welded and not self.continuous:
            pages.append(shapes_sheet(self.interior, self.exterior))
        hands = [
            continuous_hand_checks(sheet, self.data, which=which) if self.continuous
            else hand_check_sheet(sheet, which=which)
            for which, sheet in (("interior", self.interior), ("exterior", self.exterior))
        ]  # fmt: skip
        ratings = list(self.ratings)
        constants = constants_sheet([*girders, *ratings, self.summary])
        return (*girders, *pages, *ratings, *hands, constants)

    @cached_property
    def ratings(self) -> tuple[Sheet, ...]:
        """The load ratings of both girders, where the data ask for them."""
        data = rating_data(self.data)
        if data is None:
            return ()
        return (
            composite_rating(self.interior, data, exterior=False),
            composite_rating(self.exterior, data, exterior=True),
        )

    @property
    def continuous(self) -> bool:
        """Whether the girders run over a pier."""
        return self.data.details is not None and self.data.details.continuous

    @property
    def checked_sheets(self) -> tuple[Sheet, ...]:
        """The sheets that hold checks."""
        return self.interior, self.exterior, self.summary

    @property
    def passed(self) -> bool:
        """Whether every check made passes within every formula's range."""
        return all(_passed(sheet) for sheet in self.checked_sheets if sheet.checks)

    @property
    def verdict(self) -> str:
        """The verdict of both girders, in words and numbers."""
        data = self.data
        words = (
            f"{data.girder_words}, span {data.span:.6g~P}, spacing {data.girder_spacing:.6g~P}, "
            f"{composite_words(data)}, {data.specification.value}"
        )
        subjects = (f"interior girder {words}", "exterior girder", "one against the other")
        return ". ".join(
            verdict_in_words(sheet, subject=subject)
            for sheet, subject in zip(self.checked_sheets, subjects, strict=True)
            if sheet.checks
        )

    def package(self, title_block: TitleBlock | None = None) -> Package:
        """Return the calculation as a package that prints.

        Parameters
        ----------
        title_block : TitleBlock or None
            The title block; None takes the title fields of the bridge data.

        Returns
        -------
        Package
            All sheets; what both girders share is printed with the first of them.
        """
        title = title_block if title_block is not None else TitleBlock(**self.data.title)
        return Package(title, list(self.sheets), told_once=True)

    def to_json_dict(self) -> dict[str, Any]:
        """Return results and checks as plain data for other programs.

        Returns
        -------
        dict
            Keys as of a non-composite girder; names begin with the girder they belong to.
        """
        sheets = (("interior", self.interior), ("exterior", self.exterior), ("both", self.summary))
        checks = [
            _check_record(f"{which}: {label}", check)
            for which, sheet in sheets
            for label, check in check_labels(sheet)
        ]
        # a comparison of two resistances is no demand over resistance
        own = [check for check in checks if not check["name"].startswith("both: ")]
        worst = max(own, key=lambda c: math.inf if c["ratio"] is None else c["ratio"])
        return {
            "schema": SCHEMA,
            "specification": self.data.specification.value,
            "givens": {
                f"{which}: {node.path}": _given_record(node)
                for which, sheet in sheets
                for node in sheet.givens
            },
            "results": {
                f"{which}: {node.path}": {
                    "value": node.number if node.defined else None,
                    "unit": node.info.text,
                    "ref": node.ref,
                }
                for which, sheet in sheets
                for node in sheet.steps
            },
            "checks": checks,
            "governing": worst["name"],
            "passed": self.passed,
            "verdict": self.verdict,
            "checked": [f"{check['name']} ({check['ref']})" for check in checks],
            "not_checked": list(not_checked(self.data, exterior=True)),
            "recommendation": self._recommendation(),
            "warnings": [
                {"where": f"{which}: {path}", "text": text}
                for which, sheet in sheets
                for path, text in sheet.warnings
            ],
        } | ({"rating": self._rating_records()} if self.ratings else {})

    def _rating_records(self) -> list[dict[str, Any]]:
        return [
            {**record, "meaning": f"{which}: {record['meaning']}"}
            for which, sheet in zip(("interior", "exterior"), self.ratings, strict=True)
            for record in rating_records(sheet)
        ]

    def _recommendation(self) -> list[str]:
        lines = list(advice(self.interior, self.exterior, self.summary))
        if not self.data.welded and not self.continuous:
            _, found = search_shapes(self.interior, self.exterior)
            lines += shape_words(*found)
        return lines


def _passed(sheet: Sheet) -> bool:
    with state.unchanging(sheet):
        return sheet.passed and all(check.in_range for check in sheet.checks)


def composite_calculation(
    data: BridgeData, *, proof: str | None = "statics"
) -> CompositeCalculation:
    """Run the whole calculation of a composite or welded bridge of one or more spans.

    Parameters
    ----------
    data : BridgeData
        The bridge, with `details`.
    proof : {"statics", "ordinates"} or None
        What stands below each axle placement.

    Returns
    -------
    CompositeCalculation
        Both girders, ready to print.

    Raises
    ------
    RangeError
        If the data are of a rolled beam without shear connectors.
    """
    if data.details is None:
        raise RangeError("the bridge has no shear connectors; a composite girder has [studs]")
    write = _writer(data)
    sheets = []
    for which in ("interior", "exterior"):
        title = f"{which.capitalize()} girder, {composite_words(data)}, {data.specification.value}"
        sheet = Sheet(title)
        outer = which == "exterior"
        # axles of one lane are placed alike for both girders: one proof is enough
        write(sheet, data, exterior=outer, proof=None if outer else proof)
        sheets.append(sheet)
    return CompositeCalculation(data, *sheets)


def _writer(data: BridgeData) -> Callable[..., None]:
    """Return what writes one girder; only that one is loaded."""
    assert data.details is not None
    if data.details.continuous:
        from stepcalc.bridge.whole.continuous_girder import write_continuous

        return write_continuous
    if data.specification is not Specification.LRFD:
        from stepcalc.bridge.whole.standard_girder import write_standard

        return write_standard
    from stepcalc.bridge.whole.write_girder import write_girder

    return write_girder


def _given_record(node: Any) -> dict[str, Any]:
    chosen = isinstance(node, Choice)
    return {
        "value": node.value if chosen else node.number,
        "unit": "" if chosen else node.info.text,
        "source": node.source or node.entry.assumed,
    }


def _check_record(name: str, check: Any) -> dict[str, Any]:
    demand, capacity, ratio = check.demand, check.capacity, check.ratio
    return {
        "name": name,
        "demand": None if demand is None else float(demand.magnitude),
        "capacity": None if capacity is None else float(capacity.magnitude),
        "unit": check.entry.info.text,
        "ratio": ratio if math.isfinite(ratio) else None,
        "verdict": check.verdict,
        "ref": check.ref,
        "location": check.location,
    }
