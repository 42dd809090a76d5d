"""Kernels of beams of several spans: own two-span numbers, proofs that close, arrays, bad input."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from stepcalc import Sheet
from stepcalc.bridge.continuous.envelopes import girder_kernels
from stepcalc.bridge.continuous.kernels import span_kernels
from stepcalc.bridge.continuous.layout import beam_of, read_spans
from stepcalc.bridge.continuous.line_kernels import span_inputs
from stepcalc.bridge.continuous.loads import load_cases
from stepcalc.errors import RangeError, UndefinedError, UnknownNameError
from stepcalc.sheet.proofs import proof_of
from stepcalc.units import ft, kip, kip_ft, klf

STEPPED = "EI: 1 to 0.7, 1.6; 1.6 to 0.25, 1 to 0.75, 1.6; 1.6 to 0.3, 1"
CRANE = """
[vehicle]
id = "crane"
axles = [18, 24, 24]
spacings = [13.5, 4.5]
"""


def live(
    spans: Any,
    effect: Any,
    which: Any,
    place: Any,
    fraction: Any,
    *,
    load: Any = "HL-93",
    impact: Any = 0.33,
    layout: Any = "prismatic",
) -> Any:
    inputs = span_inputs(spans) | {
        "layout": layout, "place": place, "fraction": fraction,
        "load": load, "impact": impact, "which": which,
    }  # fmt: skip
    return span_kernels(len(spans)).live[effect].function(**inputs)


# own computation, two spans of 80 ft, EI constant, one lane: raw truck and tandem moments by an
# independent script (stiffness method, 80 elements a span), tolerance 0.2 %
@pytest.mark.parametrize(
    ("which", "place", "fraction", "load", "impact", "expected"),
    [
        ("max", "1", 0.4, "HL-93", 0.33, 1636.4),
        ("min", "1", 0.4, "HL-93", 0.33, -379.9),
        ("min", "1", 1.0, "HL-93", 0.33, -1691.2),
        ("min", "1", 1.0, "HL-93: truck + lane", 0.33, -1205.8),
        ("max", "1", 0.4, "HL-93 truck, relieving axles dropped", 0.0, 937.78),
        ("min", "1", 0.4, "HL-93 truck, relieving axles dropped", 0.0, -208.69),
        ("min", "1", 1.0, "HL-93 truck, relieving axles dropped", 0.0, -521.73),
        ("max", "1", 0.4, "HL-93 tandem, relieving axles dropped", 0.0, 781.02),
        ("min", "2", 0.0, "HL-93 tandem, relieving axles dropped", 0.0, -383.81),
    ],
)
def test_two_spans_of_80_ft(
    which: Any, place: Any, fraction: Any, load: Any, impact: Any, expected: Any
) -> None:
    found = live((80.0, 80.0), "moment", which, place, fraction, load=load, impact=impact)
    assert found == pytest.approx(expected, rel=2e-3)


def test_one_span_is_the_simple_beam() -> None:
    """62 ft: end shear 1.33 (72 - 672/62) + 0.32 * 62; moment at midspan 836.00 and 0.08 L^2."""
    shear = live((62.0,), "shear", "max", "1", 0.0)
    assert shear == pytest.approx(1.33 * (72 - 672 / 62) + 0.32 * 62, rel=1e-9)
    moment = live((62.0,), "moment", "max", "1", 0.5)
    assert moment == pytest.approx(1.33 * 836.0 + 0.08 * 62**2, rel=1e-6)


def test_deflection_of_one_span() -> None:
    """62 ft, times EI: 5 w L^4/384 at midspan; the truck's maximum by the simple-span search."""
    from stepcalc.analysis.train_deflection import maximum_midspan_deflection
    from stepcalc.analysis.vehicles import vehicle

    dead = (
        span_kernels(1)
        .dead["deflection"]
        .function(span_1=62.0, layout="prismatic", place="1", fraction=0.5, load=1.3)
    )
    assert dead == pytest.approx(5 * 1.3 * 62**4 / 384, rel=1e-9)
    truck = vehicle("HL-93 truck")
    expected = maximum_midspan_deflection(truck.axles, truck.spacings, span=62.0, rigidity=1.0)
    found = live((62.0,), "deflection", "max", "1", 0.5, load="HL-93 truck", impact=0.0)
    assert found == pytest.approx(float(expected.value), rel=1e-6)


@pytest.mark.parametrize("layout", ["prismatic", STEPPED])
@pytest.mark.parametrize(
    ("effect", "which", "place", "fraction", "load"),
    [
        ("moment", "max", "2", 0.437, "HL-93"),
        ("moment", "min", "1", 1.0, "HL-93"),
        ("moment", "min", "3", 0.0, "HS20 truck or lane"),
        ("shear", "min", "1", 1.0, "HL-93"),
        ("shear", "max", "2", 0.0, "HL-93"),
        ("shear", "max", "2", 0.3, "Type 3-3"),
        ("reaction", "max", "3", 0.0, "HL-93"),
        ("reaction", "min", "1", 0.0, CRANE),
        ("moment", "max", "3", 0.6, "NRL"),
        ("deflection", "max", "2", 0.5, "deflection"),
        ("deflection", "min", "1", 0.45, "HL-93 truck"),
    ],
)
def test_the_proof_ends_in_the_value(
    layout: Any, effect: Any, which: Any, place: Any, fraction: Any, load: Any
) -> None:
    sheet = Sheet("proof")
    unit = {"moment": kip_ft, "deflection": kip * ft**3}.get(effect, kip)
    L = [sheet.given(f"L_{i}", v * ft) for i, v in enumerate((72, 95, 60), 1)]
    inputs = span_inputs(L) | {
        "layout": layout, "place": place, "fraction": fraction,
        "load": load, "impact": 0.33, "which": which,
    }  # fmt: skip
    node = sheet.computed("X", span_kernels(3).live[effect], inputs, unit, "x", proof="ordinates")
    proof, warning = proof_of(node)
    assert warning is None
    assert proof.steps[-1].base == pytest.approx(node.base, rel=1e-9)
    dead = sheet.computed(
        "D", span_kernels(3).dead[effect],
        {key: inputs[key] for key in (*span_inputs(L), "layout", "place", "fraction")}
        | {"load": 1.3 * klf},
        unit, "d", proof="ordinates",
    )  # fmt: skip
    proof, warning = proof_of(dead)
    assert warning is None
    assert proof.steps[-1].base == pytest.approx(dead.base, rel=1e-9, abs=1e-9)


def girder_inputs(count: Any) -> Any:
    numbers = {"DC1": 1.1 * klf, "DC2": 0.2 * klf, "DW": 0.25 * klf, "impact": 0.33, "g_shear": 0.9}
    numbers |= {f"g_positive_{i}": 0.6 + 0.02 * i for i in range(1, count + 1)}
    numbers |= {f"g_negative_{i}": 0.7 + 0.02 * i for i in range(1, count)}
    factors = {
        "gamma_DC": 1.25, "gamma_DCn": 0.9, "gamma_DW": 1.5, "gamma_DWn": 0.65,
        "gamma_SE": 1.0, "gamma_LL": 1.75, "eta": 1.05,
        "eta_i": 0.97,
    }  # fmt: skip
    texts = {"layout": "prismatic", "load": "HL-93", "layout_SE": "prismatic"}
    for name in ("DC1", "DC2", "DW"):
        texts |= {f"layout_{name}": "prismatic", f"loads_{name}": "all spans"}
    return numbers | factors | texts | {"settlements": "none", "rigidity": 1 * kip * ft**2}


@pytest.mark.parametrize(
    ("which", "effect"), [("max", "moment"), ("min", "moment"), ("max", "shear"), ("min", "shear")]
)
@pytest.mark.parametrize("spans", [(62.0,), (72.0, 95.0, 60.0)])
def test_the_envelope_proof_ends_in_the_extreme(which: Any, effect: Any, spans: Any) -> None:
    sheet = Sheet("envelope")
    L = [sheet.given(f"L_{i}", v * ft) for i, v in enumerate(spans, 1)]
    kernel = getattr(girder_kernels(len(spans)), effect)
    inputs = span_inputs(L) | girder_inputs(len(spans)) | {"which": which}
    node = sheet.computed("X", kernel, inputs, None, "x", proof="tenth points")
    if len(spans) == 1 and (which, effect) == ("min", "moment"):
        assert node.base == pytest.approx(0, abs=1e-6)
        return
    proof, warning = proof_of(node)
    assert warning is None
    assert proof.steps[-1].base == pytest.approx(node.base, rel=1e-9)


def test_negative_moment_takes_the_factor_of_its_pier() -> None:
    """At pier 2 of 72-95-60: 1.05 (1.25 (DC1 + DC2) + 1.5 DW + 1.75 * 0.74 * lane)."""
    from stepcalc.bridge.continuous.girder import along
    from stepcalc.bridge.continuous.girder_inputs import loads_of

    plain = {k: getattr(v, "magnitude", v) for k, v in girder_inputs(3).items()}
    spans = (72.0, 95.0, 60.0)
    found = along(
        "moment", loads_of(plain, 3), spans, layout="prismatic", load="HL-93", impact=0.33
    )
    row = int(np.argmin(np.abs(found.x - 167.0)))
    lane = live(spans, "moment", "min", "3", 0.0)
    unit = (
        span_kernels(3)
        .dead["moment"]
        .function(**span_inputs(spans), layout="prismatic", place="3", fraction=0.0, load=1.0)
    )
    expected = 1.05 * (1.25 * 1.3 * unit + 1.5 * 0.25 * unit + 1.75 * 0.74 * lane)
    assert found.smallest[row] == pytest.approx(expected, rel=1e-9)


def test_arrays_of_spans_equal_one_by_one() -> None:
    first = np.linspace(60, 90, 4)
    found = live((first, 80.0), "moment", "min", "1", 1.0)
    single = [live((float(one), 80.0), "moment", "min", "1", 1.0) for one in first]
    np.testing.assert_allclose(found, single, rtol=1e-12)
    sheet = Sheet("many")
    L = [sheet.given("L_1", 60 * ft), sheet.given("L_2", 80 * ft)]
    inputs = span_inputs(L) | {
        "layout": "prismatic", "place": "1", "fraction": 1.0,
        "load": "HL-93", "impact": 0.33, "which": "min",
    }  # fmt: skip
    sheet.computed("M", span_kernels(2).live["moment"], inputs, kip_ft, "x")
    many = sheet.evaluate({"L_1": first * ft}, ["M"])["M"]
    np.testing.assert_allclose(many.to("kip*ft").magnitude, single, rtol=1e-12)


def test_a_sheet_comes_back_from_json() -> None:
    sheet = Sheet("stored")
    L = [sheet.given("L_1", 60 * ft), sheet.given("L_2", 80 * ft)]
    inputs = span_inputs(L) | {
        "layout": "prismatic", "place": "2", "fraction": 0.0, "load": CRANE, "impact": 0.1,
        "which": "min",
    }  # fmt: skip
    node = sheet.computed("M", span_kernels(2).live["moment"], inputs, kip_ft, "x")
    again = Sheet.from_json(sheet.to_json()).revise(L_1=75 * ft)
    assert again["M"].base == pytest.approx(sheet.revise(L_1=75 * ft)["M"].base, rel=1e-12)
    assert again["M"].base != pytest.approx(node.base)


@pytest.mark.parametrize("text", ["80, 0, 80", "80, -5", "80, nan", "", "eighty", "80, inf"])
def test_spans_that_cannot_be_meant(text: Any) -> None:
    with pytest.raises(RangeError, match=r"span"):
        read_spans(text)


@pytest.mark.parametrize(
    "layout",
    [
        "EI: 1", "EI: 1 to 1.2, 2; 1", "EI: 1 to 0.5; 1", "EI: 0; 1", "stiff: 3", "ends: free",
        "hinges: 7.5", "EI: x; 1",
    ],
)  # fmt: skip
def test_layouts_that_cannot_be_read(layout: Any) -> None:
    with pytest.raises(RangeError):
        beam_of((50.0, 60.0), layout)


def test_a_mechanism_is_said_in_words() -> None:
    with pytest.raises(UndefinedError, match="hinge"):
        live((50.0, 60.0), "moment", "min", "1", 1.0, layout="hinges: 1.3, 1.6")
    sheet = Sheet("mechanism")
    L = [sheet.given("L_1", 50 * ft), sheet.given("L_2", 60 * ft)]
    inputs = span_inputs(L) | {
        "layout": "hinges: 1.3, 1.6", "place": "1", "fraction": 1.0, "load": "HL-93",
        "impact": 0.33, "which": "min",
    }  # fmt: skip
    node = sheet.computed("M", span_kernels(2).live["moment"], inputs, kip_ft, "x")
    assert not node.defined


def test_sections_and_loads_that_do_not_exist() -> None:
    with pytest.raises(RangeError, match="no span 3"):
        live((50.0, 60.0), "moment", "max", "3", 0.4)
    with pytest.raises(RangeError, match="off it"):
        live((50.0, 60.0), "moment", "max", "1", 1.4)
    with pytest.raises(RangeError, match="no support 4"):
        live((50.0, 60.0), "reaction", "max", "4", 0.0)
    with pytest.raises(UnknownNameError, match="HL-93"):
        load_cases("HL-39", 0.33, (50.0,))
