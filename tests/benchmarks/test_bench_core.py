"""Cost of the core, as ratios taken in one run; never seconds.

Each side of a ratio does the same work, results are compared before times are, and the median of
the pairwise ratios counts.  Run with ``python -m pytest tests/benchmarks -m bench -s``.
"""

from __future__ import annotations

import itertools
import math
import statistics
import subprocess
import sys
import time
import tracemalloc
from collections.abc import Callable
from functools import cache
from typing import Any

import numpy as np
import pytest

from stepcalc import Sheet, cases, minimum, sqrt
from stepcalc.units import Q_, ft, inch, kip, kip_ft

RECORDS = 231_200


def timed(work: Callable[[], object]) -> float:
    start = time.perf_counter()
    work()
    return time.perf_counter() - start


def ratio(ours: Callable[[], object], floor: Callable[[], object], rounds: int = 7) -> float:
    ours()
    floor()
    return statistics.median(timed(ours) / timed(floor) for _ in range(rounds))


def report(what: str, found: float, most: float, unit: str = "x") -> None:
    print(f"\n{what}: {found:.2f}{unit} (at most {most})", end="")
    assert found <= most


# -- what is measured ----------------------------------------------------------------------------


def worked_steps(count: int) -> list[str]:
    """Write steps whose formulas all differ; return their LaTeX."""
    sheet = Sheet("cost")
    span = sheet.given("L", 48 * ft)
    load = sheet.given("w", Q_(1.35, "kip/ft"))
    spacing = sheet.given("S", 7.5 * ft)
    slab = sheet.given("t", 8.0 * inch)
    shown = []
    for k in range(count):
        moment = sheet.step(f"M_{k}", load * span**2 / 8 + (3.5 + k) * kip * span / 4, kip_ft)
        factor = sheet.step(f"g_{k}", (0.07 + k / 1e3) + (slab / span) ** 0.3)
        leaning = sqrt(1 + (span / spacing) ** 2)
        shear = sheet.step(f"V_{k}", minimum(load * span / 2, (30 + k) * kip) / leaning, kip)
        shown += [moment.latex(), factor.latex(), shear.latex()]
    return shown


def pint_alone(count: int) -> None:
    span, load, spacing, slab = Q_(48, "ft"), Q_(1.35, "kip/ft"), Q_(7.5, "ft"), Q_(8.0, "inch")
    for k in range(count):
        (load * span**2 / 8 + (3.5 + k) * kip * span / 4).to("kip*ft")
        (0.07 + k / 1e3) + (slab / span).to("") ** 0.3
        leaning = (1 + (span / spacing).to("") ** 2) ** 0.5
        (min(load * span / 2, (30 + k) * kip) / leaning).to("kip")


def chain(count: int) -> Sheet:
    """Return a sheet in which every step follows from earlier ones, with powers and branches."""
    sheet = Sheet("chain")
    span = sheet.given("L", 50 * ft)
    depth = sheet.given("d", 36 * inch)
    spacing = sheet.given("S", 8 * ft)
    values: list[Any] = [span / (1 * ft), depth / (1 * inch), spacing / (1 * ft)]
    for k in range(count):
        a, b = values[-1], values[-3]
        if k % 29 == 7:
            formula = (a * a + 1.0) ** 0.1 + b * 0.3
        elif k % 11 == 3:
            formula = cases((a > b * 1.001, a * 1.02, "up"), otherwise=(b * 0.97, "down"))
        elif k % 13 == 5:
            formula = sqrt(a * b + 3.0)
        else:
            formula = (a * 0.6 + b * 0.4) / 1.002
        values.append(sheet.step(f"v_{k}", formula))
        if k % 9 == 8:
            sheet.check(f"check {k}", values[-1] <= 1e4)
    sheet.check("last", values[-1] <= 1e4)
    return sheet


@cache
def by_hand(count: int, arrays: bool) -> Callable[..., Any]:
    """Return the chain written as bare floats, or as bare NumPy."""
    pick = "np.where({a} > {b}*1.001, {a}*1.02, {b}*.97)" if arrays else (
        "({a}*1.02 if {a} > {b}*1.001 else {b}*.97)"
    )  # fmt: skip
    root = "np.sqrt" if arrays else "math.sqrt"
    names, lines = ["L", "d", "S"], []
    for k in range(count):
        a, b = names[-1], names[-3]
        if k % 29 == 7:
            text = f"({a}*{a} + 1.)**.1 + {b}*.3"
        elif k % 11 == 3:
            text = pick.format(a=a, b=b)
        elif k % 13 == 5:
            text = f"{root}({a}*{b} + 3.)"
        else:
            text = f"({a}*.6 + {b}*.4)/1.002"
        lines.append(f" v{k} = {text}")
        names.append(f"v{k}")
    space: dict[str, Any] = {"np": np, "math": math}
    exec("\n".join(["def f(L, d, S):", *lines, f" return v{count - 1}"]), space)
    function: Callable[..., Any] = space["f"]
    return function


@cache
def arrays() -> tuple[Any, Any, Any]:
    random = np.random.default_rng(7)
    return (
        random.uniform(20, 90, RECORDS),
        random.uniform(18, 44, RECORDS),
        random.uniform(5, 12, RECORDS),
    )


# -- the rows ------------------------------------------------------------------------------------


def started(code: str) -> Callable[[], object]:
    return lambda: subprocess.run([sys.executable, "-c", code], check=True)


def test_import_costs_no_more_than_pint() -> None:
    found = ratio(started("import stepcalc"), started("import pint"))
    report("import stepcalc / import pint", found, 1.10)


def test_first_quantity_costs_no_more_than_pints() -> None:
    ours = "from stepcalc import Sheet; from stepcalc.units import ft; Sheet('a').given('L', 9*ft)"
    found = ratio(started(ours), started("import pint; 9*pint.UnitRegistry().ft"))
    report("first quantity on a sheet / first pint quantity", found, 1.15)


def test_one_worked_step_against_bare_pint() -> None:
    moment, factor, _ = worked_steps(1)
    # by hand: 1.35*48^2/8 + 3.5*48/4 = 430.8 kip-ft; 0.07 + (8/12/48)^0.3 = 0.3472
    assert "430.8" in moment
    assert "0.3472" in factor
    found = ratio(lambda: worked_steps(60), lambda: pint_alone(60))
    report("one step with LaTeX / pint arithmetic alone", found, 0.8)


def test_cost_is_linear_in_the_number_of_steps() -> None:
    found = ratio(lambda: worked_steps(670), lambda: worked_steps(67), 5)
    report("2,000 steps / 200 steps", found, 12)


def test_revise_against_floats_by_hand() -> None:
    sheet, floats, turns = chain(200), by_hand(200, False), itertools.count()

    def ours() -> float:
        span = (30 + next(turns) % 40) * ft
        return float(sheet.revise(L=span)["v_199"].value.magnitude)

    def hand() -> float:
        span = (30 + next(turns) % 40) * ft
        return float(Q_(floats(span.to("ft").magnitude, 36.0, 8.0), "").magnitude)

    wanted = floats(33.0, 36.0, 8.0)
    assert sheet.revise(L=33 * ft)["v_199"].value.magnitude == pytest.approx(wanted, rel=1e-13)
    found = ratio(lambda: [ours() for _ in range(60)], lambda: [hand() for _ in range(60)])
    report("revise 200 steps and read the end / floats by hand", found, 2)


def flat(sheet: Sheet) -> Any:
    spans, depths, spacings = arrays()
    inputs = {"L": spans * ft, "d": depths * inch, "S": spacings * ft}
    return sheet.evaluate(inputs, ["last"])["last"]


def hand_in_pieces() -> Any:
    function, (spans, depths, spacings) = by_hand(300, True), arrays()
    result = np.empty(RECORDS)
    for start in range(0, RECORDS, 8192):
        piece = slice(start, start + 8192)
        result[piece] = function(spans[piece], depths[piece], spacings[piece])
    return result / 1e4


def test_arrays_against_numpy_in_pieces() -> None:
    sheet = chain(300)
    assert np.allclose(flat(sheet), hand_in_pieces(), rtol=1e-12, atol=0)
    found = ratio(lambda: flat(sheet), hand_in_pieces, 5)
    report("231,200 variants of 300 steps / NumPy in pieces", found, 1.2)


def test_memory_beyond_the_result() -> None:
    sheet = chain(300)
    flat(sheet)
    tracemalloc.start()
    flat(sheet)
    peak = tracemalloc.get_traced_memory()[1] / 1e6
    tracemalloc.stop()
    report("memory of it beyond the result", peak - RECORDS * 8 / 1e6, 40, " MB")


def test_a_grid_is_no_slower_than_flat() -> None:
    sheet = chain(300)
    axes = {
        "L": np.linspace(20, 90, 20) * ft,
        "S": np.linspace(5, 12, 40)[:, None] * ft,
        "d": np.linspace(18, 44, 289)[:, None, None] * inch,
    }
    assert sheet.evaluate(axes, ["last"])["last"].shape == (289, 40, 20)
    found = ratio(lambda: sheet.evaluate(axes, ["last"]), lambda: flat(sheet), 5)
    report("the same as a 289 x 40 x 20 grid / flat", found, 1.1)


@pytest.mark.parametrize(("steps", "least"), [(160, 1_000_000), (600, 250_000)])
def test_complete_checks_for_each_second(steps: int, least: int) -> None:
    """Print the rate of complete checks; it is a rate of this machine, so only its ratio binds."""
    sheet = chain(steps)
    names = [check.name for check in sheet.checks]
    spans, depths, spacings = arrays()
    inputs = {"L": spans * ft, "d": depths * inch, "S": spacings * ft}

    def complete() -> object:
        return sheet.evaluate(inputs, names)

    complete()
    rate = RECORDS / min(timed(complete) for _ in range(3))
    print(
        f"\n{steps} steps, {len(names)} checks, flat: {rate / 1e6:.2f} M/s (wish {least / 1e6} M/s)"
    )
    one = ratio(complete, lambda: by_hand(steps, True)(*arrays()), 3)
    report(f"all checks of {steps} steps / unpieced NumPy of the last value", one, 1.5)
