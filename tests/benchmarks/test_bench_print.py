"""Cost of printing: 300 steps, about 30 pages, from the document's data to the file.

Run with ``pytest tests/benchmarks/test_bench_print.py -s`` for the table.
"""

from __future__ import annotations

from itertools import count
from time import process_time
from typing import Any

import pytest

from stepcalc.print.html import to_html
from stepcalc.print.options import Options
from stepcalc.print.tex import to_tex
from stepcalc.print.typst import to_pdf
from stepcalc.render.document import read_document
from tests.unit.print_pages import page_count
from tests.unit.print_sample import (
    TITLE,
    add,
    frac,
    given,
    group,
    heading,
    mul,
    num,
    power,
    qty,
    step,
    sym,
)

_NUMBER = count(1)


def moment(k: int) -> dict[str, Any]:
    span = power(group(qty("62", "ft")), "2")
    numbers = frac(mul(group(qty(f"{k}.9623", "kip/ft")), span), num("8"))
    formula = frac(mul(sym(f"w_{k}"), power(sym("L"), "2")), num("8"))
    return step(f"1-{k}", f"M_{k}", formula, numbers, qty(f"{k}62.4", "kip*ft"), boxed=True,
                ref="statics", description="moment of the load")  # fmt: skip


def distribution(k: int) -> dict[str, Any]:
    def factor(s: Any, length: Any, stiffness: Any, thick: Any) -> Any:
        return add(
            num("0.06"),
            mul(
                power(group(frac(s, num("14"))), "0.4"),
                power(group(frac(s, length)), "0.3"),
                power(
                    group(frac(stiffness, mul(num("12.0"), length, power(group(thick), "3")))),
                    "0.1",
                ),
            ),
        )

    formula = factor(sym("S"), sym("L"), sym("K_g"), sym("t_s"))
    numbers = factor(num(f"{k}"), num("62"), num("94,312"), num("7.5"))
    return step(f"1-{k}", f"g_{k}", formula, numbers, num(f"0.{k}"), ref="LRFD 4.6.2.2")


def shear(k: int) -> dict[str, Any]:
    slope = ["sqrt", add(num("1"), power(group(frac(sym("b"), sym("c"))), "2"))]
    least = ["call", "min", [frac(mul(sym("a"), sym("b")), num("2")), qty("40.5", "kip")]]
    numbers = ["call", "min", [frac(qty(f"{k}", "kip"), num("2")), qty("40.5", "kip")]]
    return step(f"1-{k}", f"q_{k}", frac(least, slope), frac(numbers, slope), qty(f"{k}.3", "kip"))


def document(steps: int) -> dict[str, Any]:
    """Return a document that no earlier one shares a step with, so that no cache can help."""
    blocks = []
    for place in range(steps):
        if place % 10 == 0:
            blocks.append(heading(str(place // 10 + 1), "Part"))
        blocks.append((moment, distribution, shear)[place % 3](1000 + next(_NUMBER)))
    return {"title": TITLE, "sheets": [{"title": "Benchmark", "blocks": blocks}]}


def package(steps: int) -> dict[str, Any]:
    """Return the same steps, each of which uses a given and the two before it, with checks."""
    made = document(steps)
    sheet = made["sheets"][0]
    names = [f"0-{k + 1}" for k in range(12)]
    blocks = [given(name, f"G_{name[2:]}", qty("7.5", "ft"), "a given value", "framing plan")
              for name in names]  # fmt: skip
    uses: dict[str, list[str]] = {}
    for block in sheet["blocks"]:
        if block["kind"] == "heading":
            part, count_here = block["number"], count(1)
        else:
            block["id"] = f"{part}-{next(count_here)}"
            block.setdefault("description", "what it means")
            uses[block["id"]] = [names[-1], names[-2], names[len(names) % 12]]
            names.append(block["id"])
        blocks.append(block)
        if block.get("id", "").endswith("-10"):
            blocks.append({
                "kind": "check", "id": f"{part}-11", "name": f"Check {part}", "verdict": "OK",
                "formula": ["rel", sym(f"M_{part}"), [["≤", mul(sym("phi"), sym("M_n"))]]],
                "substitution": ["rel", qty(part, "kip*ft"), [["≤", qty("900", "kip*ft")]]],
                "ratio": "0.7", "location": "midspan", "ref": "LRFD 6.10.7",
            })  # fmt: skip
            uses[f"{part}-11"] = names[-2:]
    sheet |= {"blocks": blocks, "uses": uses}
    return made | {"profile": "package"}


COMPLETE = Options(cover=True, contents=True, front="all", seal="cover", trace=True)


def complete(data: Any) -> bytes:
    """Print a document with everything that stands before its sheets."""
    return to_pdf(data, COMPLETE)


def seconds(steps: int, printer: Any, make: Any = document) -> tuple[float, Any]:
    """Return processor seconds of the quickest of three prints, and the last one's result."""
    best, made = float("inf"), None
    for _ in range(3):
        data = make(steps)
        start = process_time()
        made = printer(read_document(data))
        best = min(best, process_time() - start)
    return best, made


@pytest.mark.slow
def test_printing_is_quick_and_grows_with_the_number_of_steps() -> None:
    to_pdf(read_document(document(3)))  # warm: templates, fonts
    few, _ = seconds(100, to_pdf)
    thirty_pages, pdf = seconds(300, to_pdf)
    many, _ = seconds(900, to_pdf)
    page, _ = seconds(300, to_html)
    tex, _ = seconds(300, to_tex)
    pages, growth = page_count(pdf), many / few
    print(
        f"\n300 steps, {pages} pages: PDF {thirty_pages:.2f} s, HTML {page:.2f} s, TeX {tex:.2f} s"
    )
    print(f"PDF of 900 steps / 100 steps: {growth:.1f} (9 would be linear)")
    assert thirty_pages < 1.0
    assert growth < 12.0


@pytest.mark.slow
def test_links_and_front_pages_cost_no_more_than_the_sheets_again() -> None:
    complete(read_document(package(3)))
    few, _ = seconds(100, complete, package)
    whole, pdf = seconds(300, complete, package)
    many, _ = seconds(900, complete, package)
    alone, _ = seconds(300, to_pdf)
    growth = many / few
    print(f"\n300 steps with links and all lists, {page_count(pdf)} pages: {whole:.2f} s")
    print(f"the same / 300 steps alone: {whole / alone:.2f}")
    print(f"900 steps / 100 steps: {growth:.1f} (9 would be linear)")
    assert whole / alone < 2.5
    assert growth < 12.0
