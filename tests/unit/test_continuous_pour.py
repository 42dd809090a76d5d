"""The deck placed in parts: sums, stiffness by stage, the largest, bad input."""

from __future__ import annotations

from typing import Any

import pytest

from stepcalc import Sheet
from stepcalc.bridge.continuous.pour import Pour, hardened_layout, pour_sequence
from stepcalc.bridge.continuous.spans import state_spans
from stepcalc.errors import RangeError
from stepcalc.render.build import sheet_data
from stepcalc.sheet.proofs import proof_of
from stepcalc.units import klf


def number(node: Any) -> float:
    return float(getattr(node.value, "magnitude", node.value))


def poured(pours: Any, *, hardened: str = "EI: 3; 3", units: str = "US") -> Any:
    sheet = Sheet("pour")
    L = state_spans(sheet, "80, 80", source="invented")
    w = sheet.given("w", 0.9 * klf)
    made = [Pour(f"part {i}", where, w, done) for i, (where, done) in enumerate(pours, 1)]
    found = pour_sequence(
        sheet, L, made, [(1, 0.4), (1, 1.0)], steel="prismatic", hardened=hardened, units=units,
        proof=[(2, 1)],
    )  # fmt: skip
    return sheet, found


def test_on_bare_steel_the_sum_is_that_of_the_whole_deck() -> None:
    """Own: -w L^2 / 8 over the pier = -0.9 * 80^2 / 8 = -720 k-ft."""
    _, (_, pier) = poured(
        [("from 1.0 to 1.6", ()), ("from 2.4 to 3.0", ()), ("from 1.6 to 2.4", ())]
    )
    assert number(pier.sums[-1]) == pytest.approx(-720.0, rel=1e-9)
    assert number(pier.at_once) == pytest.approx(-720.0, rel=1e-9)


def test_a_pour_in_one_span_by_the_three_moment_equation() -> None:
    """Load on all of span 1 only: M = -w L^2 / 16 = -360 k-ft; span 1 at 0.4: own statics."""
    _, (at, pier) = poured([("from 1.0 to 2.0", ()), ("from 2.0 to 3.0", ())])
    assert number(pier.by_pour[0]) == pytest.approx(-0.9 * 80**2 / 16, rel=1e-9)
    # 32 ft from the end: w x (L - x) / 2 + 0.4 M
    expected = 0.9 * 32 * 48 / 2 - 0.4 * 360
    assert number(at.by_pour[0]) == pytest.approx(expected, rel=1e-9)
    # the second pour relieves the section, so that the first is the largest of the pour
    assert number(at.largest) == pytest.approx(expected, rel=1e-9)
    assert number(at.smallest) == pytest.approx(expected - 0.4 * 360, rel=1e-9)


def test_a_hardened_span_draws_moment() -> None:
    """Span 1 three times as stiff, load on span 2: 2 M (L/3 + L) = -w L^3/4, so M = -3 w L^2/32."""
    _, (_, pier) = poured([("from 1.0 to 2.0", ()), ("from 2.0 to 3.0", (1,))])
    assert number(pier.by_pour[1]) == pytest.approx(-3 * 0.9 * 80**2 / 32, rel=1e-9)
    _, (_, bare) = poured([("from 1.0 to 2.0", ()), ("from 2.0 to 3.0", ())])
    assert number(bare.by_pour[1]) == pytest.approx(-0.9 * 80**2 / 16, rel=1e-9)


def test_stiffness_of_partly_hardened_spans() -> None:
    steel, deck = "EI: 1 to 0.7, 2; 2 to 0.3, 1", "EI: 3 to 0.7, 4; 4 to 0.3, 3"
    found = hardened_layout((100.0, 50.0), steel, deck, [(20.0, 80.0), (140.0, 150.0)])
    assert found == "EI: 1 to 0.2, 3 to 0.7, 4 to 0.8, 2; 2 to 0.3, 1 to 0.8, 3"
    straight = hardened_layout((100.0, 50.0), "EI: 1..2; 2", "EI: 5; 5", [(0.0, 50.0)])
    assert straight == "EI: 5 to 0.5, 1.5..2; 2"


def test_the_proof_ends_in_the_value_and_the_tables_stand_for_the_lines() -> None:
    for units in ("US", "SI"):
        sheet, (_, pier) = poured([("from 1.0 to 1.6; from 2.4 to 3.0", ())], units=units)
        proof, warning = proof_of(pier.by_pour[0])
        assert warning is None
        assert proof is not None
        kinds = [block["kind"] for block in sheet_data(sheet)["blocks"]]
        assert kinds.count("step") == 0
        assert kinds.count("computed") == 1
        assert kinds.count("table") == 3


def test_a_pour_cannot_harden_before_it_is_placed() -> None:
    with pytest.raises(RangeError, match="only pours 1 to 1"):
        poured([("from 1.0 to 2.0", ()), ("from 2.0 to 3.0", (2,))])
    with pytest.raises(RangeError, match="load of a stage"):
        poured([("the middle", ())])
    with pytest.raises(RangeError, match="no pours"):
        poured([])
