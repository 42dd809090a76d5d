"""Printed forms that are kept, each checked by what it says as well as by how it looks."""

from __future__ import annotations

import json
import re
from typing import Any

import pytest

from tests.golden.formulas import KEPT, formulas, printed
from tests.measure import number
from tests.reader import read_latex, read_text

_KEPT: dict[str, dict[str, str]] = json.loads(KEPT.read_text(encoding="utf-8"))
_SHEET, _STEPS = formulas()
_READABLE = [
    label
    for label, node in _STEPS.items()
    if node.entry.kind == "step" and node.defined and "cases" not in label
]


def test_there_are_enough_formulas_and_none_is_kept_twice() -> None:
    assert len(_KEPT) >= 80
    assert list(_KEPT) == list(_STEPS)


@pytest.mark.parametrize("notation", ["text", "latex"])
def test_every_formula_prints_as_it_is_kept(notation: str) -> None:
    for label, spellings in printed().items():
        assert spellings[notation] == _KEPT[label][notation], label


@pytest.mark.parametrize("label", _READABLE)
def test_what_is_kept_gives_the_result(label: str) -> None:
    """The last two parts of the equation, read back, are the value of the step."""
    node = _STEPS[label]
    line = _KEPT[label]["text"].split("   (")[0]
    latex = re.sub(r"\\(begin|end)\{aligned\}|\\\\ &(?=\\text)[^&]*$", "", _KEPT[label]["latex"])
    for read, parts in (
        (read_text, line.split(" = ")),
        (read_latex, re.split(r"(?: \\\\ )? ?&?= ", latex)),
    ):
        for part in parts[-2:] if len(parts) > 3 else parts[-1:]:
            value = read(part, {}, _rounded)
            base = node.base
            slack = 1e-12 * abs(base)
            assert value.low - slack <= base <= value.high + slack, part


def _rounded(text: str) -> Any:
    """Return a number with the bounds of its rounding if it is a result: 4 figures, not typed."""
    typed = {"7,800", "29,000", "4,000", "1,000"}
    figures = len(re.sub(r"[^0-9]", "", text.partition("e")[0]).lstrip("0"))
    return number(text, rounded=figures >= 4 and text not in typed)


def test_a_formula_reads_in_the_order_in_which_it_was_written() -> None:
    w, M = _STEPS["order is kept"], _STEPS["grouped product"]
    assert "1.75 M_{LL+IM} + 1.25(w L L)" in _KEPT["order is kept"]["text"]
    assert w.latex().index("1.75") < w.latex().index("1.25")
    assert "P (L S)" in _KEPT["grouped product"]["text"]
    assert M.base == _STEPS["product grouped left"].base
