"""The proofs below a moving-load result: each ends in the result, and statics closes."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stepcalc.analysis.vehicles import VEHICLES
from stepcalc.bridge import moving_load_proofs as proofs
from stepcalc.bridge import moving_loads as loads
from stepcalc.sheet.proofs import proof_of
from stepcalc.sheet.sheet import Sheet
from stepcalc.units import Q_, ft, kip, kip_ft

if TYPE_CHECKING:
    from stepcalc.sheet.kernels import Kernel

KERNELS: tuple[tuple[Kernel, dict[str, float]], ...] = (
    (loads.AXLE_MOMENT, {}),
    (loads.AXLE_SHEAR, {"section": 0.0}),
    (loads.AXLE_SHEAR, {"section": 0.31}),
    (loads.COMBINED_MOMENT, {"factor": 1.33, "uniform": 0.64}),
    (loads.COMBINED_SECTION, {"factor": 1.33, "uniform": 0.64}),
    (loads.AXLE_DEFLECTION, {}),
)


@settings(max_examples=15)
@given(st.sampled_from(sorted(VEHICLES)), st.floats(9.0, 260.0))
@pytest.mark.parametrize(("kernel", "more"), KERNELS)
def test_the_last_step_is_the_result(
    kernel: Kernel, more: dict[str, float], name: str, span: float
) -> None:
    inputs: dict[str, Any] = {"vehicle": name, "span": span} | more
    if "section" in inputs:
        inputs["section"] *= span
    result = kernel.function(**inputs)
    for proof in kernel.proofs.values():
        sheet = proof(**inputs)
        last = sheet.steps[-1].value
        assert Q_(last).to(kernel.unit).magnitude == pytest.approx(result, rel=1e-9)
        assert sheet.warnings == []


def test_statics_of_the_truck_on_62_ft() -> None:
    sheet = proofs.moment_by_statics(vehicle="HL-93 truck", span=62.0)
    values = {step.name: float(step.value.magnitude) for step in sheet.steps}
    assert values["R"] == pytest.approx(72)
    assert values["x_R"] == pytest.approx(56 / 3)
    assert values["e"] == pytest.approx(14 / 3)
    assert values["c"] == pytest.approx(86 / 3)
    assert values["R_A"] == pytest.approx(72 * (62 - 86 / 3 - 14 / 3) / 62)
    assert values["M"] == pytest.approx(values["R_A"] * 86 / 3 - 8 * 14)


def test_figures_say_what_the_steps_say() -> None:
    sheet = proofs.shear_by_statics(vehicle="HL-93 truck", span=62.0, section=0.0)
    text = sheet.to_json()
    figure = next(data for data in _figures(json.loads(text)) if data["kind"] == "free_body")
    assert [load["x"] for load in figure["loads"]] == pytest.approx([0.0, 14.0, 28.0])
    assert [load["size"] for load in figure["loads"]] == [32.0, 32.0, 8.0]
    assert figure["reactions"][0]["label"] == "61.16 kip"
    assert figure["reactions"][1]["label"] == "10.84 kip"
    lengths = [item["end"] - item["start"] for item in figure["dimensions"]]
    assert sum(lengths) == pytest.approx(62.0)
    line = proofs.moment_by_ordinates(vehicle="HL-93 tandem", span=40.0)
    drawn = next(d for d in _figures(json.loads(line.to_json())) if d["kind"] == "influence")
    assert max(drawn["y"]) == pytest.approx(19 * 21 / 40)


def _figures(tree: Any) -> list[dict[str, Any]]:
    if isinstance(tree, dict):
        own = [tree] if tree.get("kind") in ("free_body", "influence") else []
        return own + [item for value in tree.values() for item in _figures(value)]
    if isinstance(tree, list):
        return [item for value in tree for item in _figures(value)]
    return []


def test_axles_off_the_span_are_named() -> None:
    sheet = proofs.moment_by_statics(vehicle="HL-93 truck", span=20.0)
    assert "2 of 3 axles" in sheet.to_json()
    assert float(sheet.steps[-1].value.magnitude) == pytest.approx(160)


@pytest.mark.parametrize(("span", "drawn"), [(20.0, True), (62.0, False)])
def test_the_tandem_is_drawn_where_it_has_more_than_the_truck(span: float, drawn: bool) -> None:
    """Up to 40.27 ft the tandem has more moment, up to 24.9 ft more shear."""
    sheet = Sheet("tandem")
    L = sheet.given("L", span * ft)
    cases: tuple[tuple[Any, dict[str, Any], Any], ...] = (
        (loads.AXLE_MOMENT, {}, kip_ft), (loads.AXLE_SHEAR, {"section": 0 * ft}, kip),
    )  # fmt: skip
    for number, (kernel, more, unit) in enumerate(cases):
        node = sheet.computed(
            f"Q_{number}", kernel, {"vehicle": "HL-93 tandem", "span": L} | more, unit, "tandem",
            ref="statics", proof=loads.BESIDE_TRUCK,
        )  # fmt: skip
        proof, warning = proof_of(node)
        assert warning is None
        text = proof.to_json()
        assert ("free_body" in text) is drawn
        assert ("has more: this vehicle is not drawn" in text) is not drawn
