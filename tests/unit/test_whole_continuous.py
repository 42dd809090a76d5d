"""A plate girder over two spans: hand statics where it is uniform, the parts, bad input."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from stepcalc.bridge.bridge_file import read_bridge_file
from stepcalc.bridge.whole.any_girder import calculation_of
from stepcalc.bridge.whole.calculation import CompositeCalculation, composite_calculation
from stepcalc.bridge.whole.summary import check_labels
from stepcalc.errors import RangeError
from stepcalc.units import ft, inch
from tests.unit.bridge_beam import tables_on
from tests.unit.whole_bridge import PLATES, STIFFENERS, check, composite_bridge, details, number

DEMO = Path(__file__).parents[2] / "notebooks" / "sheets" / "cedar_fork.toml"
SPAN = PLATES | {"web_depth": 48 * inch, "bottom_flange_width": 16 * inch}
PIER: dict[str, Any] = {
    "second_span": 110 * ft, "pier_length": 24 * ft, "pier_top_width": 14 * inch,
    "pier_top_thickness": 0.75 * inch, "pier_bottom_width": 16 * inch,
    "pier_bottom_thickness": 1.25 * inch, "pier_web_thickness": 0.5 * inch,
    "pier_brace": 15 * ft, "pier_panel": 5 * ft, "top_bars": 6 * inch**2,
    "top_bars_depth": 3 * inch, "bottom_bars": 4 * inch**2, "bottom_bars_depth": 6 * inch,
}  # fmt: skip


def two_spans(**changes: Any) -> CompositeCalculation:
    """Return two spans of 110 ft; the section over the pier is that of the spans unless told."""
    of = details(**(SPAN | STIFFENERS | PIER | changes))
    return composite_calculation(composite_bridge(of, shape="", span=110 * ft), proof=None)


@pytest.fixture(scope="module")
def uniform() -> CompositeCalculation:
    """Return the girder without a section change."""
    return two_spans()


def test_uniform_girder_by_the_three_moment_equation(uniform: CompositeCalculation) -> None:
    """Equal spans: w L²/8 over the pier, 9 w L²/128 at 3/8 L, reactions 3/8 and 10/8 w L."""
    for sheet in (uniform.interior, uniform.exterior):
        for load in ("DC2", "DW"):
            w = number(sheet, f"Dead load/w_{load}", "kip/ft")
            pier = number(sheet, f"Support 2: negative moment/M_{load}", "kip*ft")
            assert pier == pytest.approx(-w * 110**2 / 8, rel=1e-6)
            R = "Reactions of the girder, unfactored"
            assert number(sheet, f"{R}/R_{load}_1", "kip") == pytest.approx(3 / 8 * w * 110)
            assert number(sheet, f"{R}/R_{load}_2", "kip") == pytest.approx(10 / 8 * w * 110)
        x = number(sheet, "Span 1: positive moment/x_L")
        w = number(sheet, "Dead load/w_DC2", "kip/ft")
        by_hand = w * 110**2 * (3 / 8 * x - x**2 / 2)
        assert number(sheet, "Span 1: positive moment/M_DC2", "kip*ft") == pytest.approx(by_hand)
        assert 0.35 < x < 0.45


def test_weight_and_sections_of_the_pier(uniform: CompositeCalculation) -> None:
    area = 14 * 0.75 + 48 * 0.5 + 16 * 1.25
    assert number(uniform.interior, "w_sa", "plf") == pytest.approx(490 * area / 144)
    heavy = two_spans(pier_bottom_thickness=2.5 * inch).interior
    more = 490 / 144 * (area + 20 * 2 * 24 / 220)
    assert number(heavy, "w_sa", "plf") == pytest.approx(more)
    pier = number(heavy, "Support 2: negative moment/M_DC2", "kip*ft")
    w = number(heavy, "Dead load/w_DC2", "kip/ft")
    assert pier < -w * 110**2 / 8  # a stiffer pier section draws moment


def test_bars_act_over_the_pier_and_the_moment_limit_holds(uniform: CompositeCalculation) -> None:
    sheet = uniform.interior
    steel = 14 * 0.75 + 48 * 0.5 + 16 * 1.25
    assert number(sheet, "Section properties, pier/A_r", "inch**2") == pytest.approx(steel + 10)
    place = "Positive moment, span 1/Strength I"
    M_n = number(sheet, f"{place}/Strength, Article 6.10.7/M_n", "kip*ft")
    M_y = number(sheet, f"{place}/Yield moment/M_y", "kip*ft")
    assert M_n <= 1.3 * M_y * (1 + 1e-9)


def test_checks_of_both_sections_are_told_apart(uniform: CompositeCalculation) -> None:
    labels = [label for label, _ in check_labels(uniform.interior)]
    assert len(set(labels)) == len(labels)
    for name in (
        "Flexure, positive, Strength I", "Flexure, negative, Strength I, pier",
        "Flexure, negative, Strength I, section change", "Web slenderness, pier",
        "Top flange, Service II, pier", "Compression flange buckling, pour, pier",
        "Fatigue, top flange at the studs", "Shear, interior panel", "Bearing stiffener, column",
    ):  # fmt: skip
        assert name in labels
    matrix = tables_on(uniform.summary)[0]
    assert len(matrix.rows) == len(labels)
    unchecked = " ".join(uniform.to_json_dict()["not_checked"])
    for words in ("shear connectors of the second span", "deflection and camber", "second span"):
        assert words in unchecked


def test_the_pier_does_not_fatigue_more_often_than_it_is_crossed(
    uniform: CompositeCalculation,
) -> None:
    sheet = uniform.exterior
    assert number(sheet, "Fatigue/Fatigue: top flange at the studs/n_cyc") == 1.5
    assert number(sheet, "Fatigue/Fatigue: connection plate, bottom flange/n_cyc") == 1.0
    assert check(sheet, "Fatigue, top flange at the studs").ratio > 0


def test_the_demonstration_file() -> None:
    found = calculation_of(read_bridge_file(DEMO))
    assert found.passed


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"second_span": 111 * ft}, "longer span first"),
        ({"pier_brace": 120 * ft}, "pier_brace"),
        ({"pier_length": None}, "pier_length is missing"),
        ({"pier_length": 110 * ft}, "not less than the second span"),
        ({"pier_top_width": 0.5 * inch}, "wider than the web is thick"),
        ({"top_bars": None, "top_bars_depth": None}, "top_bars is missing"),
        ({"pier_web_thickness": -1 * inch}, "pier_web_thickness"),
    ],
)
def test_impossible_piers_are_refused_by_name(changes: dict[str, Any], words: str) -> None:
    with pytest.raises(RangeError, match=words):
        two_spans(**changes)


def test_rolled_beams_over_two_spans_are_refused() -> None:
    with pytest.raises(RangeError, match="welded here"):
        details(**PIER)
