"""Arrays of continuous beams in one call: the same as one by one, and bad elements stay alone."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from stepcalc import Sheet
from stepcalc.bridge.continuous.beside import beside_kernels
from stepcalc.bridge.continuous.effects import GirderShares, continuous_effects
from stepcalc.bridge.continuous.envelopes import girder_kernels
from stepcalc.bridge.continuous.kernels import span_kernels
from stepcalc.bridge.continuous.line_kernels import line_kernels, span_inputs
from stepcalc.bridge.continuous.span_peaks import peak_kernels
from stepcalc.bridge.continuous.spans import state_spans
from stepcalc.bridge.continuous.stage_kernels import stage_kernels
from stepcalc.bridge.continuous.stage_values import fixed_response, own_response, value_in
from stepcalc.errors import RangeError, UndefinedError, UnknownNameError
from stepcalc.units import ft, kip_ft, klf

LAYOUTS = (
    "prismatic",
    "EI: 1 to 0.7, 1.6; 1.6 to 0.25, 1 to 0.75, 1.6; 1.6 to 0.3, 1",
    "EI: 1 to 0.5, 1..2; 2..1 to 0.4, 1 to 0.6, 1..2; 2",
    "ends: free, fixed | hinges: 2.6",
)
SPANS = np.random.default_rng(8).uniform(40.0, 120.0, (3, 5))
IMPACT = np.array([0.33, 0.1, 0.33, 0.0, 0.33])


def both(kernel: Any, spans: np.ndarray, **inputs: Any) -> tuple[np.ndarray, np.ndarray]:
    """Return values of arrays, and one by one."""
    arrays = span_inputs(list(spans)) | inputs
    singly = []
    for i in range(spans.shape[1]):
        one = {
            name: float(value[i]) if isinstance(value, np.ndarray) else value
            for name, value in arrays.items()
        }
        singly.append(kernel.function(**one))
    return kernel.function(**arrays), np.array(singly)


@pytest.mark.parametrize("layout", LAYOUTS)
@pytest.mark.parametrize("effect", ["moment", "shear", "reaction", "deflection"])
def test_live_and_dead_load(effect: str, layout: str) -> None:
    for place, fraction in (("1", 1.0), ("2", 0.43)):
        place_inputs = {"layout": layout, "place": place, "fraction": fraction}
        for which, load in (("max", "HL-93"), ("min", "HL-93"), ("min", "HS20 truck or lane")):
            found, singly = both(
                span_kernels(3).live[effect], SPANS, **place_inputs,
                load=load, which=which, impact=IMPACT,
            )  # fmt: skip
            np.testing.assert_allclose(found, singly, rtol=1e-12, atol=1e-11)
        found, singly = both(span_kernels(3).dead[effect], SPANS, **place_inputs, load=1.3)
        size = float(np.abs(singly).max())
        np.testing.assert_allclose(found, singly, rtol=1e-12, atol=1e-13 * size)


@pytest.mark.parametrize("layout", LAYOUTS)
@pytest.mark.parametrize("effect", ["moment", "shear", "deflection"])
def test_ordinates_and_areas(effect: str, layout: str) -> None:
    place = {"layout": layout, "place": "2", "fraction": 0.3}
    at = SPANS[0] * 1.4
    found, singly = both(line_kernels(3).ordinate[effect], SPANS, **place, position=at, side=1.0)
    np.testing.assert_allclose(found, singly, rtol=1e-12)
    kernel = line_kernels(3).area[effect]
    found, singly = both(kernel, SPANS, **place, start=0.2 * at, end=at)
    np.testing.assert_allclose(found, singly, rtol=1e-11)


STAGE = (
    "from 1.2 to 2.7; 0.4 to 0.9 klf from 1.5 to 3.25; 0.2 klf from 2.5 to 2.9; 6 kip at 2.31; "
    "4 kip at 1.0; 3 kip at 3.55"
)


@pytest.mark.parametrize("layout", LAYOUTS)
@pytest.mark.parametrize("effect", ["moment", "shear", "reaction"])
def test_a_stage_of_partial_trapezoidal_and_single_loads(effect: str, layout: str) -> None:
    """Areas of influence lines, against the beam solved under the very loads; one by one too."""
    for place, fraction in (("2", 0.43), ("1", 1.0), ("3", 0.6)):
        if effect == "reaction" and "free" in layout:
            place = "3" if place == "3" else "1"
        inputs = {"layout": layout, "place": place, "fraction": fraction, "loads": STAGE}
        found, singly = both(stage_kernels(3).loads[effect], SPANS, **inputs, load=0.7)
        np.testing.assert_allclose(found, singly, rtol=1e-12, atol=1e-12)
        for i in range(SPANS.shape[1]):
            spans = tuple(SPANS[:, i].tolist())
            at = (effect, spans, int(place), fraction)
            solved = 0.7 * value_in(own_response(spans, layout, STAGE), *at)
            solved += value_in(fixed_response(spans, layout, STAGE), *at)
            near = 2e-6 if ".." in layout else 1e-9  # shapes of varying EI have that tolerance
            assert found[i] == pytest.approx(solved, rel=near, abs=near * 100)


@pytest.mark.parametrize("layout", [LAYOUTS[0], LAYOUTS[1], LAYOUTS[3]])
@pytest.mark.parametrize("load", ["HL-93", "HS20 truck or lane", "fatigue"])
def test_what_acts_beside_an_extreme(layout: str, load: str) -> None:
    for other in ("shear", "moment"):
        for which, place, fraction in (("max", "2", 0.43), ("min", "1", 1.0)):
            found, singly = both(
                beside_kernels(3)[other], SPANS, layout=layout, load=load, which=which,
                place=place, fraction=fraction, impact=IMPACT,
            )  # fmt: skip
            np.testing.assert_allclose(found, singly, rtol=1e-11, atol=1e-10)


def girder(count: int, **changes: Any) -> dict[str, Any]:
    inputs: dict[str, Any] = {
        "DC1": 1.1, "DC2": 0.2, "DW": 0.3, "rigidity": 1e6, "impact": 0.33, "g_shear": 0.9,
        "gamma_DC": 1.25, "gamma_DCn": 0.9, "gamma_DW": 1.5, "gamma_DWn": 0.65, "gamma_SE": 1.0,
        "gamma_LL": 1.75, "eta": 1.0, "eta_i": 1.0, "layout": "prismatic", "load": "HL-93",
        "layout_DC1": "prismatic", "loads_DC1": "all spans", "layout_DW": "prismatic",
        "layout_DC2": "EI: " + "; ".join(["1 to 0.6, 1.5"] * count), "loads_DC2": "all spans",
        "loads_DW": "all spans", "settlements": "none", "layout_SE": "prismatic",
    }  # fmt: skip
    inputs |= {f"g_positive_{i + 1}": 0.7 + 0.02 * i for i in range(count)}
    return inputs | {f"g_negative_{i + 1}": 0.74 + 0.02 * i for i in range(count - 1)} | changes


@pytest.mark.parametrize("count", [1, 2, 3])
@pytest.mark.parametrize("effect", ["moment", "shear"])
def test_extremes_of_girders(count: int, effect: str) -> None:
    kernel, spans = getattr(girder_kernels(count), effect), SPANS[:count, :2]
    for which in ("max", "min"):
        found, singly = both(kernel, spans, **girder(count, which=which))
        np.testing.assert_allclose(found, singly, rtol=1e-12, atol=1e-9)


def test_governing_sections_of_girders() -> None:
    """Symmetric spans too, whose middle one has two peaks: the left one counts."""
    spans = np.array([[80.0, 72.0, 61.0], [100.0, 90.0, 70.0], [80.0, 65.0, 88.0]])
    inputs = girder(3, place="2", layout_DC2="prismatic")
    found, singly = both(girder_kernels(3).section, spans, **inputs)
    np.testing.assert_array_equal(found, singly)
    assert found[0] < 0.5
    live = {"layout": "prismatic", "load": "HL-93", "impact": 0.33, "place": "2"}
    found, singly = both(peak_kernels(3).section, spans, **live)
    np.testing.assert_array_equal(found, singly)


def test_girders_with_stages_of_their_own_and_with_settlements() -> None:
    staged = {"loads_DW": "all spans; 6 kip at 2.53", "loads_DC1": "from 1.0 to 2.4; all spans"}
    for changes in (staged, {"settlements": "0.5 in at support 2", "rigidity": 2e6}):
        for effect in ("moment", "shear"):
            for which in ("max", "min"):
                kernel, inputs = getattr(girder_kernels(2), effect), girder(2, which=which)
                found, singly = both(kernel, SPANS[:2, :2], **(inputs | changes))
                np.testing.assert_allclose(found, singly, rtol=1e-11)
        inputs = girder(2, place="2") | changes
        found, singly = both(girder_kernels(2).section, SPANS[:2, :2], **inputs)
        np.testing.assert_allclose(found, singly, atol=1.1e-6)


def test_a_bad_element_leaves_the_others() -> None:
    spans = np.array([[60.0, -5.0, np.nan, 80.0, 0.0, 70.0], [80.0] * 6])
    fraction = np.array([0.4, 0.4, 0.4, 1.4, 0.4, 0.4])
    impact = np.array([0.33, 0.33, 0.33, 0.33, 0.33, -0.5])
    inputs = {"layout": "prismatic", "place": "1", "load": "HL-93", "which": "max"}
    found = (
        span_kernels(2)
        .live["moment"]
        .function(**span_inputs(list(spans)), **inputs, fraction=fraction, impact=impact)
    )
    assert np.isfinite(found).tolist() == [True, False, False, False, False, False]
    alone = (
        span_kernels(2)
        .live["moment"]
        .function(**span_inputs([60.0, 80.0]), **inputs, fraction=0.4, impact=0.33)
    )
    assert found[0] == pytest.approx(alone, rel=1e-12)


@pytest.mark.parametrize(
    ("spans", "words"),
    [
        ((60.0, 0.0), "span 2 is 0 long"),
        ((-60.0, 80.0), "span 1 is -60 long"),
        ((float("nan"), 80.0), "span 1 is nan long"),
    ],
)
def test_one_bad_beam_says_what_is_wrong(spans: Any, words: str) -> None:
    with pytest.raises(RangeError, match=words):
        span_kernels(2).dead["moment"].function(
            **span_inputs(spans), layout="prismatic", place="1", fraction=0.4, load=1.0
        )


def test_mechanisms_and_names_in_arrays() -> None:
    base = {"fraction": 0.4, "impact": 0.33, "which": "max", "place": "1"}
    kernel = span_kernels(2).live["moment"]
    many = kernel.function(
        **span_inputs(list(SPANS[:2])), **base, layout="hinges: 1.3, 1.6", load="HL-93"
    )
    assert np.isnan(many).all()
    with pytest.raises(UndefinedError, match=r"free to move in span 1"):
        kernel.function(
            **span_inputs([50.0, 60.0]), **base, layout="hinges: 1.3, 1.6", load="HL-93"
        )
    with pytest.raises(UnknownNameError, match="HL-39"):
        kernel.function(**span_inputs(list(SPANS[:2])), **base, layout="prismatic", load="HL-39")


def test_a_grid_of_variants_works_out_each_beam_once() -> None:
    """A sheet over 4 spans and 3 impacts as a grid, with a million bridges of few spans."""
    sheet = Sheet("grid")
    L = [sheet.given("L_1", 60 * ft), sheet.given("L_2", 80 * ft)]
    impact = sheet.given("IM", 0.33)
    inputs = span_inputs(L) | {
        "layout": "prismatic", "place": "1", "fraction": 1.0, "load": "HL-93",
        "impact": impact, "which": "min",
    }  # fmt: skip
    sheet.computed("M", span_kernels(2).live["moment"], inputs, kip_ft, "x")
    first, allowances = np.array([60.0, 75, 90, 105]), np.array([0.0, 0.15, 0.33])
    found = sheet.evaluate({"L_1": first[:, None] * ft, "IM": allowances[None, :]}, ["M"])["M"]
    for i, j in ((0, 2), (3, 1)):
        one = sheet.revise(L_1=first[i] * ft, IM=allowances[j])["M"]
        assert found.magnitude[i, j] == pytest.approx(one.value.magnitude, rel=1e-12)
    repeated = np.tile(first, 2500)
    many = sheet.evaluate({"L_1": repeated * ft}, ["M"])["M"].magnitude
    np.testing.assert_array_equal(many[:4], many[-4:])


def whole_sheet() -> tuple[Sheet, list[str]]:
    """Return the sheet of a girder over three spans, and the names of all its steps."""
    sheet = Sheet("girder")
    L = state_spans(sheet, "74, 98, 62", source="invented")
    w = [sheet.given(name, 0.3 * klf) for name in ("w_DC1", "w_DC2", "w_DW")]
    positive = [sheet.given(f"g_p{i}", 0.7 + 0.01 * i) for i in (1, 2, 3)]
    negative = [sheet.given(f"g_n{i}", 0.68 + 0.01 * i) for i in (1, 2)]
    shares = GirderShares(positive, negative, sheet.given("g_s", 0.86))
    continuous_effects(sheet, L, DC1=w[0], DC2=w[1], DW=w[2], shares=shares, proof="none")
    return sheet, [step.path for step in sheet.steps]


def test_a_whole_sheet_of_girders() -> None:
    sheet, names = whole_sheet()
    spans = np.random.default_rng(11).uniform(60.0, 120.0, (3, 3))
    many = sheet.evaluate({f"L_{i + 1}": spans[i] * ft for i in range(3)}, names)
    one = sheet.revise(**{f"L_{i + 1}": spans[i, 1] * ft for i in range(3)})
    for name in names:
        value = one[name].value
        wanted = float(getattr(value, "magnitude", value))
        found = np.broadcast_to(np.asarray(getattr(many[name], "magnitude", many[name])), (3,))[1]
        assert found == pytest.approx(wanted, rel=1e-11, abs=1e-12), name
