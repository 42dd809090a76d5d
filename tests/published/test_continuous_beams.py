"""Continuous beams against printed coefficients and influence ordinates."""

from __future__ import annotations

import re
from functools import cache, partial
from typing import TYPE_CHECKING

import pytest

from stepcalc import Sheet
from stepcalc.analysis.beam import Beam
from stepcalc.analysis.beam_loads import uniform_on_all_spans
from stepcalc.analysis.beam_response import Response, response
from stepcalc.analysis.influence_lines import influence_line
from stepcalc.bridge.continuous.effects import GirderShares, continuous_effects
from stepcalc.bridge.continuous.spans import state_spans
from stepcalc.units import klf
from tests.published.entries import assert_agrees, each, entry

if TYPE_CHECKING:
    from collections.abc import Callable

    from tests.published.entries import Readings

COEFFICIENTS = "continuous-udl-1-to-4-spans"
ORDINATES = "influence-2span-equal-sixth-points"
MISPRINT = "spans4.x_infl_span2_b"
TWO = Beam((1.0, 1.0))


@cache
def loaded(spans: int) -> Response:
    beam = Beam((1.0,) * spans)
    return response(beam, uniform_on_all_spans(beam))


def inflections(spans: int, span: int) -> list[float]:
    """Return the points of contraflexure inside one span, from its left support."""
    roots = loaded(spans).moment.roots()
    return [x - span + 1 for x in roots if span - 1 + 1e-6 < x < span - 1e-6]


def coefficient(spans: int, name: str) -> float:
    found = loaded(spans)
    if name == "M_support":
        return float(found.moment(1.0))
    if name == "V_interior_each_side":
        return -float(found.shear(1.0, side="left"))
    if match := re.fullmatch(r"M_sup(\d)", name):
        return float(found.moment(int(match[1]) - 1.0))
    if match := re.fullmatch(r"V_sup(\d)_(left|right|each)", name):
        at = int(match[1]) - 1.0
        left, right = -float(found.shear(at, side="left")), float(found.shear(at, side="right"))
        return right if match[2] == "right" else left
    if match := re.fullmatch(r"(x_)?M_span(\d|_max)", name):
        span = 1 if match[2] == "_max" else int(match[2])
        top = found.moment.maximum(span - 1.0, float(span))
        return top.position - span + 1 if match[1] else top.value
    if match := re.fullmatch(r"x_inf(?:lection|l_span(\d)(?:_(a|b))?)", name):
        points = inflections(spans, int(match[1] or 1))
        return points[-1 if match[2] == "b" else 0]
    assert name == "V_end"
    return float(found.shear(0.0))


def ordinate(name: str) -> float:
    """Return an ordinate such as ``IL_M_section2_load7`` or ``IL_RA_load3``."""
    match = re.fullmatch(r"IL_(?:M_section(\d)|RA)_load(\d+)", name)
    assert match
    load = int(match[2]) / 6
    if match[1]:
        return float(influence_line(TWO, "moment", int(match[1]) / 6)(load))
    return float(influence_line(TWO, "reaction", 0.0)(load))


EXAMPLE = {
    "example.R_A_load8": ("reaction", 0.0),
    "example.R_B_load8": ("reaction", 1.0),
    "example.R_C_load8": ("reaction", 2.0),
    "example.M_under_load8": ("moment", 8 / 6),
}

READINGS: Readings = {
    COEFFICIENTS: {
        name: partial(coefficient, int(name[5]), name.partition(".")[2])
        for name in entry(COEFFICIENTS).expected
        if not name.startswith("spans1") and name != MISPRINT
    },
    ORDINATES: {
        name: (
            partial(
                lambda effect, at: float(influence_line(TWO, effect, at)(8 / 6)), *EXAMPLE[name]
            )
            if name in EXAMPLE
            else partial(ordinate, name)
        )
        for name in entry(ORDINATES).expected
    },
}


@each(READINGS)
def test_published(entry_id: str, name: str, reading: Callable[[], float]) -> None:
    assert_agrees(entry_id, name, reading)


def test_supports_carry_the_whole_load_between_them() -> None:
    """The printed shears of four spans, both sides of every support, add up to 4 wL."""
    assert loaded(4).reactions.sum() == pytest.approx(4.0, rel=1e-12)


def test_a_printed_inflection_point_does_not_follow_from_the_same_table() -> None:
    """Hicks, Table 2.1, prints 0.806 L; from its own shear and moment it is 0.8054 L."""
    by_hand = 15 / 28 + ((15 / 28) ** 2 - 2 * 3 / 28) ** 0.5
    assert coefficient(4, "x_infl_span2_b") == pytest.approx(by_hand, abs=1e-9)
    assert by_hand == pytest.approx(0.80535, abs=1e-5)
    assert entry(COEFFICIENTS).expected[MISPRINT].value == 0.806


@pytest.mark.parametrize(("spans", "names"), [(2, ["M_support"]), (3, ["M_sup2"] * 2),
                                              (4, ["M_sup2", "M_sup3", "M_sup2"])])  # fmt: skip
def test_the_sheet_states_the_published_support_moments(spans: int, names: list[str]) -> None:
    """The same coefficients as the sheet of 70 ft spans under 1.3 kip/ft has them."""
    sheet = Sheet("equal spans")
    L = state_spans(sheet, [70.0] * spans, source="invented")
    w, g = sheet.given("w", 1.3 * klf), sheet.given("g", 0.7)
    found = continuous_effects(
        sheet, L, DC1=w, DC2=w, DW=w, shares=GirderShares([g] * spans, [g] * (spans - 1), g),
        proof="none",
    )  # fmt: skip
    expected = entry(COEFFICIENTS).expected
    for at, name in zip(found.negative, names, strict=True):
        wanted = expected[f"spans{spans}.{name}"]
        stated = at.DC1.number / (1.3 * 70**2)  # type: ignore[attr-defined]
        assert abs(stated - wanted.value) <= wanted.tolerance
