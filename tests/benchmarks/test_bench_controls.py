"""From a moved slider to the redrawn steps: the median stays below 50 ms on a 200-step sheet.

Run with ``pytest tests/benchmarks/test_bench_controls.py -s`` for the number.
"""

from __future__ import annotations

from statistics import median
from time import perf_counter

from stepcalc import Sheet
from stepcalc.notebook.controls import controls
from stepcalc.units import ft, kip_ft, klf


def test_a_moved_slider_is_redrawn_within_50_ms() -> None:
    sheet = Sheet("Long")
    L = sheet.given("L", 60 * ft, "span")
    w = sheet.given("w", 1.5 * klf)
    for k in range(1, 199):
        M = sheet.step(f"M_{k}", w * L**2 / (8 + k), kip_ft)
    sheet.check("Flexure", M <= 900 * kip_ft)
    made = controls(sheet, "L", show=["M_1", "M_50", "M_198", "Flexure"])
    shown: list[str] = []

    class Handle:
        def update(self, data: dict[str, str], **_: object) -> None:
            shown.append(data["text/latex"])

    made._handles = [Handle()]
    times = []
    for k in range(41):
        start = perf_counter()
        made.widgets["L"].value = 60.5 + k / 4
        times.append(perf_counter() - start)
    print(f"slider to redrawn steps: median {1e3 * median(times):.2f} ms")
    assert len(set(shown)) == 41
    assert median(times) < 0.05
