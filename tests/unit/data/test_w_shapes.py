"""The W shapes against themselves: every property follows from the dimensions.

Tolerances are those of three printed digits (0.5 % for a first digit of 1) where two printed
numbers meet; the plate bounds come from the geometry, not from the data.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest

from stepcalc.data.tables import table

if TYPE_CHECKING:
    from numpy.typing import NDArray

SHAPES = table("w_shapes")
NAMES = np.array(SHAPES.names)
COLUMN: dict[str, NDArray[np.float64]] = {c: np.array(v) for c, v in SHAPES.columns.items()}
AREA, DEPTH, WIDTH, WEB, FLANGE = (COLUMN[c] for c in ("area", "d", "bf", "tw", "tf"))
CLEAR = DEPTH - 2 * FLANGE


def assert_close(found: NDArray[np.float64], wanted: NDArray[np.float64], tolerance: float) -> None:
    """Assert that every shape's value is within `tolerance`, naming the shapes that are not."""
    off = np.abs(found / wanted - 1) > tolerance
    assert not off.any(), dict(zip(NAMES[off], (found / wanted - 1)[off].round(4), strict=True))


def test_there_are_289_with_families_of_nominal_depth() -> None:
    assert len(NAMES) == len(set(NAMES)) == 289
    families = {SHAPES.family(name) for name in SHAPES.names}
    deep = {f"W{depth}" for depth in (44, 40, 36, 33, 30, 27, 24, 21, 18)}
    assert families == deep | {f"W{depth}" for depth in (16, 14, 12, 10, 8, 6, 5, 4)}


def test_the_edition_and_the_source_are_stated() -> None:
    assert "AISC Shapes Database v16.0" in SHAPES.edition
    assert "ASTM A6" in SHAPES.source
    assert set(SHAPES.units) == set(COLUMN)
    assert (SHAPES.units["weight"], SHAPES.units["Cw"]) == ("lb/ft", "inch**6")


def test_every_value_is_positive() -> None:
    assert all((values > 0).all() for values in COLUMN.values())


def test_the_designation_holds_the_nominal_depth_and_the_weight() -> None:
    nominal, weight = np.array([n[1:].split("X") for n in SHAPES.names], dtype=float).T
    np.testing.assert_array_equal(weight, COLUMN["weight"])
    # heavier shapes grow outward from one set of rolls; W44X230 and W40X149 are lower than named
    assert (DEPTH > 0.95 * nominal).all()
    lightest = weight == [min(weight[nominal == n]) for n in nominal]
    assert (np.abs(DEPTH / nominal - 1)[lightest] < 0.05).all()


def test_the_area_weighs_what_the_designation_says() -> None:
    assert_close(3.4 * AREA, COLUMN["weight"], 0.014)  # mill practice rounds the weight


@pytest.mark.parametrize(
    ("name", "wanted"),
    [
        ("Sx", 2 * COLUMN["Ix"] / DEPTH),
        ("Sy", 2 * COLUMN["Iy"] / WIDTH),
        ("rx", np.sqrt(COLUMN["Ix"] / AREA)),
        ("ry", np.sqrt(COLUMN["Iy"] / AREA)),
        ("rts", np.sqrt(np.sqrt(COLUMN["Iy"] * COLUMN["Cw"]) / COLUMN["Sx"])),
    ],
)
def test_derived_from_printed_values(name: str, wanted: NDArray[np.float64]) -> None:
    assert_close(COLUMN[name], wanted, 0.0075)


def test_the_distance_between_flange_centroids() -> None:
    np.testing.assert_allclose(COLUMN["ho"], DEPTH - FLANGE, rtol=0, atol=0.0501)


def test_warping_constant_from_the_flanges() -> None:
    assert_close(COLUMN["Cw"], COLUMN["Iy"] * COLUMN["ho"] ** 2 / 4, 0.02)


def test_the_section_classification_measures_are_in_range() -> None:
    shape_factor = COLUMN["Zx"] / COLUMN["Sx"]
    assert ((shape_factor > 1.09) & (shape_factor < 1.33)).all()
    assert ((WIDTH / 2 / FLANGE > 1.0) & (WIDTH / 2 / FLANGE < 12.0)).all()
    assert (COLUMN["Ix"] > COLUMN["Iy"]).all()


PLATES = {
    "area": 2 * WIDTH * FLANGE + CLEAR * WEB,
    "Ix": (WIDTH * DEPTH**3 - (WIDTH - WEB) * CLEAR**3) / 12,
    "Zx": WIDTH * FLANGE * (DEPTH - FLANGE) + WEB * CLEAR**2 / 4,
    "Iy": (2 * FLANGE * WIDTH**3 + CLEAR * WEB**3) / 12,
    "Zy": (2 * FLANGE * WIDTH**2 + CLEAR * WEB**2) / 4,
}
# W40X149 has large fillets (k - tf = 1.18 in) on a thin web: 4.2 % of its Ix is in them
NOT_PLATES = {"W40X149": 0.0425}


@pytest.mark.parametrize("name", PLATES)
def test_three_plates_come_near(name: str) -> None:
    limit = np.array([NOT_PLATES.get(shape, 0.04) for shape in SHAPES.names])
    excess = COLUMN[name] / PLATES[name] - 1
    assert (excess < limit).all(), NAMES[excess >= limit]
    assert (excess > -0.014).all(), NAMES[excess <= -0.014]


RADIUS = COLUMN["k"] - FLANGE
FILLET = (1 - np.pi / 4) * RADIUS**2
# centroid of the fillet, from the corner that it fills: r (10 - 3 pi) / (12 - 3 pi)
ARM = CLEAR / 2 - RADIUS * (10 - 3 * np.pi) / (12 - 3 * np.pi)


@pytest.mark.parametrize(
    ("name", "fillets", "tolerance"),
    [
        ("area", 4 * FILLET, 0.0075),
        ("Ix", 4 * FILLET * ARM**2, 0.01),
        ("Zx", 4 * FILLET * ARM, 0.0105),
    ],
)
def test_three_plates_and_four_fillets_come_nearer(
    name: str, fillets: NDArray[np.float64], tolerance: float
) -> None:
    assert_close(COLUMN[name], PLATES[name] + fillets, tolerance)


def test_the_torsion_constant_is_above_the_sum_of_thin_plates() -> None:
    thin = (2 * WIDTH * FLANGE**3 + CLEAR * WEB**3) / 3
    ratio = COLUMN["J"] / thin
    assert ((ratio > 0.93) & (ratio < 1.25)).all(), NAMES[(ratio <= 0.93) | (ratio >= 1.25)]


def test_heavier_is_stronger_within_a_rolling_group() -> None:
    """Shapes next to each other in weight, of flange widths within 5 %, keep their order."""
    for name in SHAPES.names:
        _, heavier = SHAPES.neighbours(name)
        if heavier and abs(SHAPES.value(heavier, "bf") / SHAPES.value(name, "bf") - 1) < 0.05:
            assert SHAPES.value(heavier, "Ix") > SHAPES.value(name, "Ix"), (name, heavier)
