"""The search of the shape table on a beam under a moment: every alternative is a full re-check."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from stepcalc.bridge.alternatives_page import alternatives_sheet, recommendation_lines
from stepcalc.bridge.flexure import strength_flexure
from stepcalc.bridge.proportions import proportion_limits
from stepcalc.bridge.recommend import (
    Limit,
    all_alternatives,
    fewest_girders,
    greatest,
    recommend,
    series_of,
)
from stepcalc.data.tables import table
from stepcalc.sheet.sheet import Sheet
from stepcalc.units import ft, kip_ft, klf
from stepcalc.units.numbers import ratio_text
from tests.unit import bridge_reference as ref
from tests.unit.bridge_beam import beam, tables_on

SHAPES = table("w_shapes").names


def under(moment: float, shape: str = "W30X116") -> Sheet:
    b = beam(shape, moment=moment)
    proportion_limits(b.sheet, b.section)
    strength_flexure(b.sheet, b.section, b.buckling, demand=b.M, top_flange="anchored")
    return b.sheet


def capacity(name: str) -> float:
    """Resistance of a braced shape in kip-ft by plain floats; 0 where a proportion fails."""
    s = ref.shape(name)
    fails = s.D / s.tw > 150 or s.bf / (2 * s.tf) > 12 or s.D / 6 > s.bf or 1.1 * s.tw > s.tf
    if fails or s.tw < 0.25 or s.tf < 0.3125:
        return 0.0
    return ref.plastification(s, 50.0) * 50 * s.Sx / 12


@pytest.mark.parametrize("moment", [150.0, 900.0, 1700.0])
def test_lightest_shape_against_a_plain_search(moment: float) -> None:
    found = recommend(under(moment))
    weights = {name: table("w_shapes").value(name, "weight") for name in SHAPES}
    passing = [name for name in SHAPES if capacity(name) >= moment * (1 - 1e-9)]
    lightest = min(weights[name] for name in passing)
    assert found.lightest is not None
    assert found.lightest.weight == lightest
    assert found.lightest.shape in passing


def test_every_alternative_is_a_full_recheck() -> None:
    sheet = under(900.0)
    for item in all_alternatives(sheet)[::23]:
        again = sheet.revise(shape=item.shape)
        assert item.ratios == {check.name: pytest.approx(check.ratio) for check in again.checks}
        assert item.passed == again.passed
        governing = again.governing
        assert governing is not None
        assert item.governing == governing.name


def test_both_series_of_a_w36_are_named() -> None:
    series = series_of("w36x135")
    assert list(series) == ["W36, flange about 12 in", "W36, flange about 16.5 in"]
    narrow, wide = series.values()
    assert narrow[:3] == ("W36X135", "W36X150", "W36X160")
    assert narrow[-1] == "W36X387"
    assert wide[:2] == ("W36X231", "W36X247")
    assert len(narrow) + len(wide) == sum(name.startswith("W36X") for name in SHAPES)


def test_next_heavier_is_of_the_same_series() -> None:
    found = recommend(under(900.0, "W36X232"))
    assert found.next_heavier is not None
    assert found.next_heavier.shape == "W36X256"
    assert recommend(under(900.0, "W36X387")).next_heavier is None


def test_when_nothing_passes_it_is_said_with_the_closest_approach() -> None:
    found = recommend(under(60_000.0))
    assert found.lightest is None
    best = max(SHAPES, key=lambda name: ref.shape(name).Zx)
    assert found.closest.shape == best
    assert found.closest.worst > 1
    text = " ".join(recommendation_lines(found))
    assert "No W shape of the table passes" in text
    assert best in text


def test_sentences_name_shape_ratio_and_check() -> None:
    lines = recommendation_lines(recommend(under(1700.0, "W30X116")))
    assert lines[0].startswith("Given: W30X116, 116 lb/ft: N.G., greatest D/C 1.0")
    assert "1 of 7 checks fail: Flexure, Strength I" in lines[0]
    assert any(line.startswith("Lightest in the series W30, flange about 15 in") for line in lines)


def hanging(span: float) -> Sheet:
    """M = w L^2/8 against 500 kip-ft, and nothing may be longer than 70 ft."""
    sheet = Sheet("hanging")
    L, w = sheet.given("L", span * ft), sheet.given("w", 1.0 * klf)
    c = sheet.given("c", 30 * ft)
    M = sheet.step("M", w * L**2 / 8, kip_ft, valid=(L <= 60 * ft,))
    sheet.check("Moment", M <= 500 * kip_ft)
    sheet.check("Reach", c <= 40 * ft)
    return sheet


@pytest.mark.parametrize("present", [30.0, 59.0, 63.0, 100.0])
def test_greatest_span_from_either_side(present: float) -> None:
    """Root of w L^2/8 = 500 is 63.2456 ft, but the range of the formula ends at 60 ft."""
    limit = greatest(hanging(present), "L", dimension="span", held="w held", within=(20.0, 240.0))
    assert limit.value == 60.0
    assert limit.governing is None


def test_greatest_span_ends_where_a_check_fails() -> None:
    sheet = hanging(30.0).revise(w=2.0 * klf)
    limit = greatest(sheet, "L", dimension="span", held="w held", within=(20.0, 240.0))
    assert limit.value == pytest.approx(np.floor(np.sqrt(2000) * 100) / 100)
    assert limit.governing == "Moment"
    assert limit.value is not None
    assert sheet.revise(L=limit.value * ft).passed
    assert not sheet.revise(L=(limit.value + 0.01) * ft).passed


def test_another_length_follows_the_varied_one() -> None:
    limit = greatest(
        hanging(30.0), "L", dimension="span", held="L + c = 68 ft", within=(20.0, 60.0),
        along={"c": lambda lengths: 68.0 - lengths},
    )  # fmt: skip
    assert limit.value == 60.0
    short = greatest(
        hanging(30.0), "L", dimension="span", held="c = 2 L - 44 ft", within=(20.0, 60.0),
        along={"c": lambda lengths: 2 * lengths - 44.0},
    )  # fmt: skip
    assert short.value == 42.0
    assert short.governing == "Reach"


def test_nothing_in_the_range_passes() -> None:
    sheet = hanging(30.0).revise(w=200.0 * klf)
    limit = greatest(sheet, "L", dimension="span", held="w held", within=(20.0, 240.0))
    assert limit.value is None


def spread(apart: float, *, moment: float = 500.0) -> Sheet:
    """Girders S apart that carry 0.4 kip-ft per ft of spacing and no more than 3.2 kip-ft."""
    sheet = Sheet("spread")
    S, n = sheet.given("S", apart * ft), sheet.given("N_b", 5)
    M = sheet.step("M", (moment * kip_ft) * (S / (1000 * ft)), kip_ft)
    sheet.check("Moment", M <= 3.2 * kip_ft)
    sheet.check("Girders", n <= 30)
    return sheet


def few(sheet: Sheet, apart: float, within: tuple[float, float]) -> Limit:
    return fewest_girders(
        sheet, girders="N_b", spacing="S", between_exteriors=apart, within=within, held="deck held"
    )


def test_fewest_girders_by_hand() -> None:
    """S up to 6.4 ft passes; 33 ft between the exteriors take 7 girders at 5.5 ft, not 6 at 6.6."""
    limit = few(spread(8.25), 33.0, (3.5, 16.0))
    assert limit.value == pytest.approx(5.5)
    assert "7 girders" in limit.held
    assert limit.governing == "Moment"


def test_fewest_girders_at_the_edges() -> None:
    assert few(spread(8.25), 2.0, (3.5, 16.0)).value is None  # no count fits the range
    assert few(spread(8.25, moment=50_000.0), 33.0, (3.5, 16.0)).value is None  # none passes
    widest = few(spread(8.25, moment=1.0), 33.0, (3.5, 16.0))
    assert widest.governing is None
    assert widest.value == pytest.approx(11.0)


def test_page_of_alternatives() -> None:
    """Without limits, without a next heavier shape, and when no shape passes."""
    found = recommend(under(900.0, "W36X387"))
    page = alternatives_sheet(found, base={"span": "62 ft"})
    shapes, ratios = tables_on(page)
    assert ratios.header[1] == "W36X387"
    assert [row[0] for row in ratios.rows] == list(found.given.ratios)
    assert all(row[1] == ratio_text(found.given.ratios[row[0]]) for row in ratios.rows)
    assert shapes.rows[0][0] == "W36X387"
    assert any("lightest of all" in row[2] for row in shapes.rows)
    assert "The given shape is the heaviest of its series." in recommendation_lines(found)
    none = recommend(under(60_000.0))
    listed = tables_on(alternatives_sheet(none, base={"span": "62 ft"}))[0].rows
    assert any("closest approach" in row[2] for row in listed)


def test_limits_are_listed_with_what_is_held() -> None:
    limits = (
        Limit("span", "spacing held at 8 ft", 47.25, "Deflection", (20.0, 240.0)),
        Limit("girder spacing", "overhang held at 3 ft", None, None, (3.5, 16.0)),
    )
    found = replace(recommend(under(900.0)), limits=limits)
    table_of_limits = tables_on(alternatives_sheet(found, base={"span": "62 ft"}))[-1]
    assert table_of_limits.rows[0][:3] == ["span", "spacing held at 8 ft", "47.25 ft"]
    assert table_of_limits.rows[1][2] == "none passes"
    text = " ".join(recommendation_lines(found))
    assert (
        "Greatest span for W30X116: 47.25 ft (spacing held at 8 ft); beyond it Deflection" in text
    )
    assert "none between 3.5 and 16 ft passes (overhang held at 3 ft)" in text


def test_a_shape_outside_a_range_is_not_called_passing() -> None:
    found = recommend(under(900.0))
    outside = replace(found.given, in_range=False)
    assert found.given.passed
    assert not outside.passed
    text = recommendation_lines(replace(found, given=outside))[0]
    assert "outside a formula's range" in text


def test_undefined_ratio_governs_an_alternative() -> None:
    item = replace(recommend(under(900.0)).given, ratios={"a": 0.5, "b": float("nan"), "c": 2.0})
    assert item.governing == "b"
    assert item.worst == float("inf")
    assert not item.passed
