"""Cost of a whole girder: written, evaluated and shown, against bare pint evaluating it alone.

The pint side walks the same formulas with pint's own quantities, as a script without stepcalc would
work them out; what a kernel or a table gives is taken as it is.
"""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from stepcalc.bridge.bridge_file import read_bridge_file
from stepcalc.bridge.whole.any_girder import calculation_of
from stepcalc.sheet.nodes import handle
from stepcalc.sheet.state import unchanging
from stepcalc.units import Q_
from tests.benchmarks.test_bench_core import ratio, report

SHEETS = Path(__file__).parents[2] / "notebooks" / "sheets"
COLD = """
import time
from pathlib import Path
from stepcalc.bridge.bridge_file import read_bridge_file
from stepcalc.bridge.whole.any_girder import calculation_of
from stepcalc.sheet.state import unchanging
calculation = calculation_of(read_bridge_file(Path({path!r})))
for name in ("interior", "exterior", "sheet"):
    sheet = getattr(calculation, name, None)
    if sheet is not None:
        with unchanging(sheet):
            for node in (*sheet.steps, *sheet.checks):
                node.latex()
print(time.process_time())
"""
_ONE: dict[str, Callable[[Any], Any]] = {
    "neg": lambda a: -a, "sqrt": lambda a: a**0.5, "abs": abs, "not": lambda a: not a,
}  # fmt: skip
_PLAIN: dict[str, Callable[[Any], Any]] = {
    "exp": np.exp, "log": np.log, "log10": np.log10, "sin": np.sin, "cos": np.cos,
    "tan": np.tan, "asin": np.arcsin, "acos": np.arccos, "atan": np.arctan, "floor": np.floor,
    "ceil": np.ceil,
}  # fmt: skip
_TWO: dict[str, Callable[[Any, Any], Any]] = {
    "add": lambda a, b: a + b, "sub": lambda a, b: a - b, "mul": lambda a, b: a * b,
    "div": lambda a, b: a / b, "pow": lambda a, b: a ** getattr(b, "magnitude", b),
    "lt": lambda a, b: a < b, "le": lambda a, b: a <= b, "gt": lambda a, b: a > b,
    "ge": lambda a, b: a >= b, "eq": lambda a, b: a == b, "ne": lambda a, b: a != b,
}  # fmt: skip


def written_and_shown(path: Path) -> list[Any]:
    """Return the girders of a bridge, each step and check of them shown as LaTeX."""
    calculation = calculation_of(read_bridge_file(path))
    sheets = [
        getattr(calculation, name)
        for name in ("interior", "exterior", "sheet")
        if hasattr(calculation, name)
    ]
    for sheet in sheets:
        with unchanging(sheet):  # as a sheet prints
            for node in (*sheet.steps, *sheet.checks):
                assert node.latex()
    return sheets


def with_pint(node: Any, known: dict[int, Any]) -> Any:
    """Return the value of a formula as a quantity of pint, or the truth of a condition."""
    op, args = node.op, node.args
    if op == "name":
        return known[node.slot]
    if op == "num":
        return float(node.data[0])
    if op == "qty":
        return Q_(float(node.data[2]), node.data[1].unit)
    if op == "unit":
        return Q_(1.0, node.data.unit)
    if op == "pi":
        return np.pi
    if op == "mag":
        return with_pint(args[0], known).to(node.data.unit).magnitude
    if op in _TWO:
        return _TWO[op](with_pint(args[0], known), with_pint(args[1], known))
    if op in _ONE:
        return _ONE[op](with_pint(args[0], known))
    if op in _PLAIN:  # pint would round the number of ft/in, not the ratio
        return _PLAIN[op](Q_(with_pint(args[0], known)).to("").magnitude)
    if op == "cases":
        for condition, value in zip(args[:-1:2], args[1::2], strict=True):
            if with_pint(condition, known):
                return with_pint(value, known)
        return with_pint(args[-1], known)
    if op == "between":
        x, low, high = (with_pint(arg, known) for arg in args)
        return low <= x <= high
    if op == "and":
        return all(with_pint(arg, known) for arg in args)
    if op == "or":
        return any(with_pint(arg, known) for arg in args)
    if op == "is":
        return known[args[0].slot] == (node.data[0] if isinstance(node.data, tuple) else node.data)
    found = [with_pint(arg, known) for arg in args]
    return _MANY[op](found)


def sum_of(items: list[Any]) -> Any:
    """Return a sum that may hold quantities."""
    total = items[0]
    for item in items[1:]:
        total = total + item
    return total


_MANY: dict[str, Callable[[list[Any]], Any]] = {"min": min, "max": max, "total": sum_of}


def evaluated_with_pint(sheets: list[Any]) -> dict[tuple[str, str], Any]:
    """Return all steps of some sheets, worked out with pint alone."""
    found = {}
    for sheet in sheets:
        known = {
            entry.slot: handle(sheet, entry).value
            for entry in sheet._book.entries
            if entry is not None and entry.kind == "external"
        }
        for entry in sheet._book.in_order():
            if entry.slot < 0 or entry.kind == "check":
                continue
            if entry.kind == "step" and not _interpolates(entry.expr):
                value = with_pint(entry.expr, known)
                value = value.to(entry.info.unit) if hasattr(value, "to") else value
                found[sheet.title, entry.path] = value
            else:
                value = handle(sheet, entry).value
            known[entry.slot] = value
    return found


def _interpolates(node: Any) -> bool:
    return node.op == "interp" or any(map(_interpolates, node.args))


def test_pint_finds_the_same_values() -> None:
    """What the benchmark compares with is the same calculation: all steps agree."""
    sheets = written_and_shown(SHEETS / "heron_slough.toml")
    found = evaluated_with_pint(sheets)
    assert len(found) > 500
    for sheet in sheets:
        for step in sheet.steps:
            if (value := found.get((sheet.title, step.path))) is not None:
                want = step.value
                assert float(value / want) == pytest.approx(1, rel=1e-9) if want else value == want


@pytest.mark.bench
@pytest.mark.parametrize("bridge", ["heron_slough", "alder_creek"])
def test_girder_written_and_shown_against_bare_pint(bridge: str) -> None:
    path = SHEETS / f"{bridge}.toml"
    sheets = written_and_shown(path)
    steps = sum(len(sheet.steps) for sheet in sheets)
    found = ratio(lambda: written_and_shown(path), lambda: evaluated_with_pint(sheets), rounds=15)
    report(f"{bridge}: {steps} steps written, evaluated and shown / evaluated in pint", found, 3)


@pytest.mark.bench
@pytest.mark.parametrize("bridge", ["heron_slough", "alder_creek"])
def test_seconds_of_a_cold_start(bridge: str) -> None:
    """Seconds of processor time are printed, not judged: they are the machine's."""
    command = [sys.executable, "-c", COLD.format(path=str(SHEETS / f"{bridge}.toml"))]
    done = subprocess.run(command, check=True, capture_output=True, text=True)
    print(f"\n{bridge}, from a cold start, shown as LaTeX: {float(done.stdout):.2f} s", end="")
