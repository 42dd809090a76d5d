"""Camber by stage, least depths: the example, statics by integration, refusals."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from stepcalc.bridge.details.camber import (
    CamberStage,
    StageOrdinates,
    camber_from_ordinates,
    simple_span_camber,
)
from stepcalc.bridge.details.depth import least_depths, older_least_depths
from stepcalc.errors import RangeError
from tests.unit.bridge_beam import tables_on
from tests.unit.details_girder import Bench, bench


def stages(b: Bench) -> list[CamberStage]:
    """Exterior girder of the example: DC1 on 7800, DC2 and DW on 16,977.5 in4."""
    steel, long = b.put("I_s", 7800, "inch**4"), b.put("I_3n", 16977.5, "inch**4")
    return [
        CamberStage("DC1", b.put("w_DC1", 0.97328, "kip/ft"), steel),
        CamberStage("DC2", b.put("w_DC2", 0.168, "kip/ft"), long),
        CamberStage("DW", b.put("w_DW", 0.18125, "kip/ft"), long),
    ]


def camber(b: Bench, **more: Any) -> Any:
    return simple_span_camber(
        b.sheet,
        stages(b),
        span=b.put("L", 62, "ft"),
        step_size=b.put("s_c", 0.125, "inch"),
        composite=True,
        **more,
    )


def test_camber_of_the_example() -> None:
    """Own computation: 1.430 + .113 + .122 = 1.666 in."""
    b = bench()
    camber(b)
    assert b.read("Delta_DC1", "inch") == pytest.approx(1.430, rel=5e-4)
    assert b.read("Delta_DC2", "inch") == pytest.approx(0.113, abs=6e-4)
    assert b.read("Delta_DW", "inch") == pytest.approx(0.122, abs=6e-4)
    assert b.read("Delta_D", "inch") == pytest.approx(1.666, rel=5e-4)
    assert b.read("R_5", "inch") == 1.75


def elastic_line(w: float, L: float, EI: float, at: float) -> float:
    """Deflection by integrating the curvature of w x (L - x)/2 twice, kip and inch."""
    x = np.linspace(0, L, 20001)
    curvature = w * x * (L - x) / 2 / EI
    h = x[1]
    slope = np.concatenate([[0], np.cumsum((curvature[1:] + curvature[:-1]) / 2 * h)])
    line = np.concatenate([[0], np.cumsum((slope[1:] + slope[:-1]) / 2 * h)])
    line -= line[-1] * x / L
    return float(-np.interp(at * L, x, line))


def test_tenth_points_against_integrated_curvature() -> None:
    b = bench()
    found = camber(b)
    for number, node in enumerate(found.ordinates, 1):
        hand = sum(
            elastic_line(w / 12, 744, 29000 * inertia, number / 10)
            for w, inertia in ((0.97328, 7800), (0.168, 16977.5), (0.18125, 16977.5))
        )
        assert b.read(f"C_{number}", "inch") == pytest.approx(hand, rel=1e-6)
        assert node.same_as(b.sheet[f"C_{number}"])
        rounded = b.read(f"R_{number}", "inch")
        assert rounded == pytest.approx(np.ceil(hand * 8) / 8)


def test_eleven_ordinates_are_tabulated_in_symmetry() -> None:
    b = bench()
    camber(b)
    (found,) = tables_on(b.sheet)
    assert [row[0] for row in found.rows] == [f"{i / 10:.1f}" for i in range(11)]
    assert found.rows[3][1].name == found.rows[7][1].name == "C_3"


def test_vertical_curve_is_added_as_a_parabola() -> None:
    b = bench()
    camber(b, curve=b.put("y_vc", 2.0, "inch"))
    plain = bench()
    camber(plain)
    assert b.read("C_2", "inch") - plain.read("C_2", "inch") == pytest.approx(4 * 0.16 * 2)


def test_all_dead_load_on_one_section_is_refused() -> None:
    """Mistake 38; a non-composite girder has one section for all stages."""
    b = bench()
    one = b.put("I_s", 7800, "inch**4")
    both = [
        CamberStage("DC1", b.put("w_1", 1, "kip/ft"), one),
        CamberStage("DC2", b.put("w_2", 0.2, "kip/ft"), one),
    ]
    parts: dict[str, Any] = {
        "span": b.put("L", 62, "ft"), "step_size": b.put("s_c", 0.125, "inch")
    }  # fmt: skip
    with pytest.raises(RangeError, match="DC1 and DC2 of a composite girder have the same inertia"):
        simple_span_camber(b.sheet, both, composite=True, **parts)
    simple_span_camber(b.sheet, both, composite=False, **parts)
    assert b.read("Delta_D", "inch") == pytest.approx(1.2 / 12 * 5 * 744**4 / (384 * 29000 * 7800))


def test_no_stage_is_refused() -> None:
    b = bench()
    L, s = b.put("L", 62, "ft"), b.put("s_c", 0.125, "inch")
    with pytest.raises(RangeError, match="no stage"):
        simple_span_camber(b.sheet, [], span=L, step_size=s, composite=True)
    with pytest.raises(RangeError, match="no stage"):
        camber_from_ordinates(b.sheet, ["1.5"], [], step_size=s)


def test_continuous_girder_from_ordinates() -> None:
    b = bench()
    points = ["1.4", "1.9"]
    first = StageOrdinates("DC1", (b.put("y_1", 0.91, "inch"), b.put("y_2", -0.04, "inch")))
    later = StageOrdinates("DC2", (b.put("z_1", 0.10, "inch"), b.put("z_2", 0.01, "inch")))
    camber_from_ordinates(
        b.sheet, points, [first, later], step_size=b.put("s_c", 0.25, "inch"),
        curve=[b.put("v_1", 0.5, "inch"), b.put("v_2", 0.1, "inch")],
    )  # fmt: skip
    assert b.read("C_1", "inch") == pytest.approx(1.51)
    assert b.read("C_2", "inch") == pytest.approx(0.07)
    assert b.read("R_1", "inch") == 1.75
    assert b.read("R_2", "inch") == 0.25
    (found,) = tables_on(b.sheet)
    assert list(found.header) == ["Point", "DC1", "DC2", "curve", "Camber", "Rounded up"]


def test_missing_ordinates_are_refused() -> None:
    b = bench()
    one = StageOrdinates("DC1", (b.put("y_1", 0.91, "inch"),))
    with pytest.raises(RangeError, match="2 points but 1 ordinates of DC1"):
        camber_from_ordinates(b.sheet, ["1.4", "1.5"], [one], step_size=b.put("s_c", 0.125, "inch"))


# depths


def depths(b: Bench) -> dict[str, Any]:
    return {
        "span": b.put("L", 62, "ft"),
        "steel": b.put("d", 35.6, "inch"),
        "whole": b.put("h", 45.1, "inch"),
    }


@pytest.mark.parametrize(
    ("continuous", "beam", "girder"), [(False, 0.033, 0.040), (True, 0.027, 0.032)]
)
def test_least_depths(continuous: bool, beam: float, girder: float) -> None:
    """Own computation, simple: 24.6 of 35.6 in and 29.8 of 45.1 in."""
    b = bench()
    first, second = least_depths(b.sheet, continuous=continuous, **depths(b))
    assert first.ratio == pytest.approx(beam * 744 / 35.6)
    assert second.ratio == pytest.approx(girder * 744 / 45.1)


def test_older_depths() -> None:
    b = bench()
    first, second = older_least_depths(b.sheet, **depths(b))
    assert first.ratio == pytest.approx(744 / 30 / 35.6)
    assert second.ratio == pytest.approx(744 / 25 / 45.1)
    bare = bench()
    (only,) = older_least_depths(bare.sheet, **depths(bare) | {"whole": None})
    assert only.ratio == pytest.approx(744 / 25 / 35.6)
