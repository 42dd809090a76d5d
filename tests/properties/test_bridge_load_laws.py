"""Laws of the loads of an interior girder, over random bridges of one sheet."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from stepcalc.bridge.fields import LiveLoadMaximum
from stepcalc.data.tables import table
from stepcalc.units import Q_, ft, inch, klf, pcf, plf, psf
from tests.unit.bridge_loads import bridge_62_ft, loads, number

BASE = loads(bridge_62_ft(miscellaneous=8 * plf)).sheet
ONE_SECTION = loads(
    bridge_62_ft(miscellaneous=8 * plf, live_load_maximum=LiveLoadMaximum.ONE_SECTION)
).sheet
SHAPES = table("w_shapes").names

spans = st.floats(20.0, 240.0)
spacings = st.floats(3.5, 16.0)
bridges = st.fixed_dictionaries(
    {
        "L": spans.map(lambda x: x * ft),
        "S": spacings.map(lambda x: x * ft),
        "N_b": st.integers(4, 12),
        "t": st.floats(6.0, 12.0).map(lambda x: x * inch),
        "t_h": st.floats(0.0, 4.0).map(lambda x: x * inch),
        "w_bar": st.floats(0.05, 0.7).map(lambda x: x * klf),
        "q_ws": st.floats(0.0, 50.0).map(lambda x: x * psf),
        "q_f": st.floats(0.0, 20.0).map(lambda x: x * psf),
        "shape": st.sampled_from(SHAPES),
    }
)


@given(bridges)
def test_what_is_shared_adds_up_to_the_bridge(changes: dict[str, Any]) -> None:
    sheet = BASE.revise(changes)
    girders = changes["N_b"]
    barriers = 2 * number(sheet, "w_bar", "klf")
    assert girders * number(sheet, "w_DC2", "klf") == pytest.approx(barriers)
    surface = number(sheet, "q_ws", "ksf") * number(sheet, "w_r", "ft")
    assert girders * number(sheet, "w_DW", "klf") == pytest.approx(surface)
    deck = number(sheet, "q_d", "ksf") * number(sheet, "W_d", "ft")
    bays = (girders - 1) * number(sheet, "w_d", "klf")
    overhangs = 2 * number(sheet, "q_d", "ksf") * number(sheet, "OH", "ft")
    assert bays + overhangs == pytest.approx(deck)
    parts = sum(number(sheet, name, "klf") for name in ("w_s", "w_m", "w_d", "w_h", "w_f"))
    assert number(sheet, "w_DC1", "klf") == pytest.approx(parts)


@given(bridges, st.floats(1.1, 3.0))
def test_weights_scale(changes: dict[str, Any], factor: float) -> None:
    sheet = BASE.revise(changes)
    heavier: dict[str, Any] = {
        "gamma_c": 150 * factor * pcf,
        **{name: changes[name] * factor for name in ("w_bar", "q_ws", "q_f")},
    }
    other = BASE.revise(changes | heavier)
    for name in ("w_wet", "w_DC2", "w_DW"):
        scaled = factor * number(sheet, name, "klf")
        assert number(other, name, "klf") == pytest.approx(scaled)
    assert number(other, "w_st", "klf") == number(sheet, "w_st", "klf")
    assert number(other, "M_LL", "kip*ft") == number(sheet, "M_LL", "kip*ft")


@given(bridges)
def test_moment_and_shear_of_the_same_load(changes: dict[str, Any]) -> None:
    sheet = BASE.revise(changes)
    span = number(sheet, "L", "ft")
    for load in ("DC1", "DC2", "DW"):
        moment = number(sheet, f"M_{load}", "kip*ft")
        assert moment == pytest.approx(number(sheet, f"V_{load}", "kip") * span / 4)


@given(bridges)
def test_both_definitions_of_the_combined_maximum(changes: dict[str, Any]) -> None:
    separate, together = BASE.revise(changes), ONE_SECTION.revise(changes)
    most = number(separate, "M_HL", "kip*ft")
    assert 0.99 * most < number(together, "M_HL", "kip*ft") <= most * (1 + 1e-12)
    x, span = number(together, "x_LL", "ft"), number(together, "L", "ft")
    assert span / 2 - 3.6 <= x <= span / 2 + 1e-9
    share = 4 * x * (span - x) / span**2
    for load in ("DC1", "DC2", "DW"):
        moment = share * number(separate, f"M_{load}", "kip*ft")
        assert number(together, f"M_{load}", "kip*ft") == pytest.approx(moment)


@given(spacings, spacings, spans)
def test_a_wider_girder_carries_more(one: float, other: float, span: float) -> None:
    low, high = sorted((one, other))
    narrow = BASE.revise({"S": low * ft, "L": span * ft, "N_b": 5})
    wide = BASE.revise({"S": high * ft, "L": span * ft, "N_b": 5})
    for name in ("g_M1", "g_M2", "g_V1", "g_V2", "g_l1", "w_d"):
        assert Q_(narrow[name].value) <= Q_(wide[name].value) * (1 + 1e-12)


@given(spans, spans)
def test_a_longer_span_has_larger_effects(one: float, other: float) -> None:
    low, high = sorted((one, other))
    short, long = BASE.revise(L=low * ft), BASE.revise(L=high * ft)
    for name in ("M_tr", "M_td", "M_ln", "M_HL", "V_tr", "V_td", "V_ln", "V_HL", "K_tr"):
        assert Q_(short[name].value) <= Q_(long[name].value) * (1 + 1e-12)


@given(st.lists(st.tuples(spans, spacings, st.sampled_from(SHAPES)), min_size=1, max_size=5))
def test_an_array_holds_what_single_bridges_give(rows: list[tuple[float, float, str]]) -> None:
    names = ("M_LL", "V_LL", "M_DC1", "V_DW", "K_tr", "g_Mf")
    found = BASE.evaluate(
        {
            "L": np.array([row[0] for row in rows]) * ft,
            "S": np.array([row[1] for row in rows]) * ft,
            "shape": np.array([row[2] for row in rows]),
        },
        names,
    )
    for i, (span, spacing, shape) in enumerate(rows):
        one = BASE.revise({"L": span * ft, "S": spacing * ft, "shape": shape})
        for name in names:
            value = Q_(one[name].value)
            array = Q_(found[name]).to(value.units).magnitude
            element = np.broadcast_to(array, len(rows))[i]
            assert element == pytest.approx(value.magnitude, rel=1e-12)
