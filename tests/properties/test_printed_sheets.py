"""Every substitution printed on a whole girder calculation gives the result printed beside it."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import TYPE_CHECKING, Any

import pytest

from stepcalc.bridge.fields import TopFlange
from stepcalc.bridge.girder import girder_calculation
from stepcalc.render.build import build_document
from stepcalc.render.conversions import with_factors
from stepcalc.render.dialects import Latex, Text, dialect, replay
from stepcalc.render.document import read_document
from stepcalc.render.interpolation import written_out
from stepcalc.render.sheet_values import SheetValues
from stepcalc.render.step_parts import step_parts
from stepcalc.render.walker import Walker
from stepcalc.units import psf
from tests.measure import Measure, number, separate
from tests.reader import exact, read_latex, read_text
from tests.unit.bridge_loads import bridge_62_ft

if TYPE_CHECKING:
    from stepcalc import Sheet

Reads = Callable[..., Measure]
METHODS = ["LRFD", "ASD", "LFD"]
READERS: list[tuple[Walker[str], Reads]] = [
    (Walker(Text()), read_text),
    (Walker(Latex()), read_latex),
]


class Unrounded(SheetValues):
    """Numbers in the units shown, with all their digits."""

    def of(self, node: Any) -> tuple[str, str]:
        value = self.numbers[node.slot] / node.info.factor
        return f"{value:.17g}", node.info.text


@pytest.fixture(scope="module", params=METHODS)
def sheet(request: pytest.FixtureRequest) -> Sheet:
    """Return the sheet of the benchmark girder by one specification."""
    data = bridge_62_ft(top_flange=TopFlange.RESTING, construction_load=10 * psf, modular_ratio=8)
    calculation: Sheet = girder_calculation(data, request.param, proof=None).sheet
    return calculation


def formulas(sheet: Sheet) -> Iterator[tuple[Any, Any]]:
    """Yield each defined step with the formula that is printed: of cases, the branch taken."""
    from stepcalc.render.branches import branch_of

    for node in sheet.steps:
        if node.entry.kind == "step" and node.defined:
            expr = node.entry.expr
            yield node, branch_of(expr, sheet._values).value if expr.op == "cases" else expr


def test_numbers_and_factors_alone_give_every_result(sheet: Sheet) -> None:
    unrounded = [Unrounded(sheet) for _ in READERS]
    count = 0
    for node, formula in formulas(sheet):
        spelled = written_out(formula, sheet._values)
        marked = with_factors(spelled, node.info, sheet._values)
        for (walker, read), shown in zip(READERS, unrounded, strict=True):
            printed = walker.substitution(marked, shown)
            value = read(printed, {}, exact, separate)
            unit = read(walker.value("1", node.info.text), {}, exact, separate)
            carried = node.number
            if not getattr(node.entry, "whole", False):
                assert value.low == pytest.approx(carried, rel=1e-9), (node.path, printed)
            assert value.dim == unit.dim, (node.path, printed)
        count += 1
    assert count > 30


def test_the_rounded_numbers_shown_give_every_result_within_their_rounding(sheet: Sheet) -> None:
    rounded = {
        node.shown.lstrip("-")
        for node in sheet.steps
        if node.defined and not getattr(node.entry, "whole", False)
    }
    for node, _ in formulas(sheet):
        for walker, read in READERS:
            parts = step_parts(node, walker)
            if parts.substitution is None or parts.result is None:
                continue
            value = read(
                parts.substitution, {}, lambda text: number(text, rounded=text in rounded), separate
            )
            result = read(parts.result, {}, lambda text: number(text, rounded=True), separate)
            slack = 1e-9 * abs(node.number)
            assert value.low - slack <= result.high, (node.path, parts)
            assert result.low <= value.high + slack, (node.path, parts)


def test_the_document_reads_back_and_every_layout_prints_in_every_dialect(sheet: Sheet) -> None:
    document = build_document(sheet)
    read_document(document)
    names = {row["name"] for row in document["sheets"][0]["summary"]["checks"]}
    assert names == {check.name for check in sheet.checks}
    for block in document["sheets"][0]["blocks"]:
        for field in ("symbol", "value", "formula", "condition", "substitution", "result"):
            layout = block.get(field)
            for name in ("latex", "typst", "mathml", "text", "speech") if layout else ():
                assert replay(layout, dialect(name))
