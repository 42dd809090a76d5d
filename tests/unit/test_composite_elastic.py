"""Geometry and elastic properties of girder sections, against polygons, finite elements, hand."""

from __future__ import annotations

import numpy as np
import pytest
from shapely.geometry import Polygon, box
from shapely.ops import unary_union

from stepcalc.bridge.composite.slab import effective_width, modular_ratio, slab_on_girder
from stepcalc.data.tables import table
from stepcalc.errors import RangeError
from stepcalc.sheet.sheet import Sheet
from stepcalc.units import Q_, ft, inch, ksi, pcf
from tests.unit.composite_section import rolled, welded

BENCHMARK = 2e-3


def moments_of(polygon: Polygon) -> tuple[float, float, float]:
    """Return area, height of the centroid, inertia about it, from the corners of a polygon."""
    x, y = map(np.asarray, polygon.exterior.coords.xy)
    cross = x[:-1] * y[1:] - x[1:] * y[:-1]
    area = cross.sum() / 2
    first = ((y[:-1] + y[1:]) * cross).sum() / 6 / area
    second = ((y[:-1] ** 2 + y[:-1] * y[1:] + y[1:] ** 2) * cross).sum() / 12 / area
    return abs(area), first, abs(area) * (second - first**2)


def plates(rows: list[tuple[float, float]]) -> Polygon:
    """Return stacked plates (width, height) from the bottom up, centred."""
    low, boxes = 0.0, []
    for width, height in rows:
        boxes.append(box(-width / 2, low, width / 2, low + height))
        low += height
    return unary_union(boxes)


@pytest.mark.parametrize(
    ("top", "web", "bottom", "covers"),
    [
        ((14, 1), (44, 0.5), (14, 1.25), (None, None)),
        ((16, 0.875), (60, 0.5625), (20, 2), ((18, 0.75), None)),
        ((12, 0.75), (36, 0.4375), (12, 0.75), ((10, 0.5), (9, 0.625))),
    ],
)
def test_steel_and_transformed_slab_against_polygons(
    top: tuple[float, float],
    web: tuple[float, float],
    bottom: tuple[float, float],
    covers: tuple[tuple[float, float] | None, tuple[float, float] | None],
) -> None:
    g = welded(top, web, bottom, slab=(96, 8, 0.0), ratio=8.0, covers=covers)
    stack = [bottom, (web[1], web[0]), top]
    if covers[0]:
        stack.insert(0, covers[0])
    if covers[1]:
        stack.append(covers[1])
    for key, rows in (("s", stack), ("n", [*stack, (12.0, 8.0)]), ("3n", [*stack, (4.0, 8.0)])):
        area, y, inertia = moments_of(plates(rows))
        assert g.number(f"A_{key}", "inch**2") == pytest.approx(area, rel=1e-12)
        assert g.number(f"y_{key}", "inch") == pytest.approx(y, rel=1e-12)
        assert g.number(f"I_{key}", "inch**4") == pytest.approx(inertia, rel=1e-12)
    d = sum(height for _, height in stack)
    _, y, inertia = moments_of(plates([*stack, (12.0, 8.0)]))
    assert g.number("S_nb", "inch**3") == pytest.approx(inertia / y)
    assert g.number("S_nt", "inch**3") == pytest.approx(inertia / (d - y))
    assert g.number("S_nd", "inch**3") == pytest.approx(inertia / (d + 8 - y))
    assert g.number("Q_n", "inch**3") == pytest.approx(96 * (d + 4 - y))


def test_inertia_against_finite_elements() -> None:
    """The same section as a mesh of rectangles: the area integral of y squared."""
    from skfem import Basis, ElementQuad2, Functional, MeshQuad

    rows = [(0.0, 1.25, 14.0), (1.25, 45.25, 0.5), (45.25, 46.25, 14.0)]
    total = np.zeros(3)
    for low, high, wide in rows:
        mesh = MeshQuad.init_tensor(np.linspace(0, wide, 3), np.linspace(low, high, 9))
        basis = Basis(mesh, ElementQuad2())
        for power in range(3):
            integral = Functional(lambda w, power=power: w.x[1] ** power)
            total[power] += integral.assemble(basis)
    g = welded()
    assert g.number("A_s", "inch**2") == pytest.approx(total[0], rel=1e-10)
    assert g.number("y_s", "inch") == pytest.approx(total[1] / total[0], rel=1e-10)
    assert g.number("I_s", "inch**4") == pytest.approx(
        total[2] - total[1] ** 2 / total[0], rel=1e-10
    )


def test_negative_benchmark() -> None:
    """Own computation of 2026: steel and cracked section of the plate girder 44 x 1/2."""
    g = welded(slab=(90, 8, 2), layers=[(5.5, 2.0), (3.0, 5.5)])
    for name, unit, value in (
        ("A_s", "inch**2", 53.50), ("y_s", "inch", 21.737), ("I_s", "inch**4", 19476),
        ("A_r", "inch**2", 62.00), ("y_r", "inch", 26.025), ("I_r", "inch**4", 26675),
        ("S_rb", "inch**3", 1025.0), ("S_rt", "inch**3", 1318.9), ("S_rr", "inch**3", 945.1),
    ):  # fmt: skip
        assert g.number(name, unit) == pytest.approx(value, rel=1e-4), name


def test_exterior_girder_benchmark() -> None:
    """Own computation of 2026: W36X135 under a slab of 85.5 x 8 in, haunch 1.5 in, n = 8."""
    g = rolled(slab=(85.5, 8, 1.5), ratio=8.0)
    for name, unit, value in (
        ("y_s", "inch", 17.8), ("I_x", "inch**4", 7800.0), ("S_x", "inch**3", 439.0),
        ("y_3n", "inch", 27.508), ("I_3n", "inch**4", 16977.5), ("S_3nb", "inch**3", 617.2),
        ("S_3nt", "inch**3", 2098.2), ("y_n", "inch", 33.686), ("I_n", "inch**4", 23025.1),
        ("S_nb", "inch**3", 683.5), ("S_nt", "inch**3", 12032.0), ("Q_n", "inch**3", 633.87),
    ):  # fmt: skip
        assert g.number(name, unit) == pytest.approx(value, rel=1e-4), name
    assert g.number("D", "inch") == pytest.approx(34.02)


def test_a_cover_plate_moves_the_axis_of_a_rolled_shape() -> None:
    """W36X135 with 10 x 1 in below: A 49.9, y = (39.9 * 18.8 + 10 * 0.5) / 49.9."""
    g = rolled(cover=(10, 1))
    y = (39.9 * 18.8 + 10 * 0.5) / 49.9
    assert g.number("A_s", "inch**2") == pytest.approx(49.9)
    assert g.number("d_s", "inch") == pytest.approx(36.6)
    assert g.number("y_s", "inch") == pytest.approx(y)
    inertia = 7800 + 39.9 * (18.8 - y) ** 2 + 10 / 12 + 10 * (y - 0.5) ** 2
    assert g.number("I_s", "inch**4") == pytest.approx(inertia)


def test_all_shapes_at_once() -> None:
    g = rolled(slab=(85.5, 8, 1.5), ratio=8.0)
    shapes = table("w_shapes")
    out = g.sheet.evaluate({"shape": np.arange(len(shapes.names))}, outputs=["I_n", "S_nb"])
    for row, name in enumerate(shapes.names):
        A, d, I_x = (shapes.value(name, column) for column in ("area", "d", "Ix"))
        y = (A * d / 2 + 85.5 * (d + 5.5)) / (A + 85.5)
        inertia = I_x + A * (y - d / 2) ** 2 + 85.5 * 64 / 12 + 85.5 * (d + 5.5 - y) ** 2
        assert out["I_n"][row].to("inch**4").magnitude == pytest.approx(inertia, rel=1e-12), name
        assert out["S_nb"][row].to("inch**3").magnitude == pytest.approx(inertia / y, rel=1e-12)


def width(rule: str, *, overhang: float | None = None, span: float = 60.0) -> float:
    sheet = Sheet("width")
    put = sheet.given
    edge = None if overhang is None else put("OH", overhang * ft)
    effective_width(
        sheet, rule, spacing=put("S", 9.75 * ft), slab=put("t_s", 8 * inch), overhang=edge,
        span=put("L_e", span * ft), flange=put("b_tf", 14 * inch), web=put("t_w", 0.5 * inch),
    )  # fmt: skip
    return float(sheet["b_s"].value.to("inch").magnitude)


def test_effective_width_by_every_rule() -> None:
    assert width("tributary width") == pytest.approx(117.0)
    assert width("tributary width", overhang=3.9375) == pytest.approx(58.5 + 47.25)
    assert width("LRFD before 2008") == pytest.approx(12 * 8 + 7)
    assert width("LRFD before 2008", span=30.0) == pytest.approx(90.0)
    assert width("LRFD before 2008", overhang=3.9375) == pytest.approx(51.5 + 47.25)
    assert width("LRFD before 2008", overhang=5.0) == pytest.approx(51.5 + 48 + 3.5)
    assert width("Standard Specifications") == pytest.approx(96.0)
    assert width("Standard Specifications", overhang=3.0) == pytest.approx(48 + 36.0)
    assert width("Standard Specifications", overhang=3.0, span=30.0) == pytest.approx(30 + 36.0)


def test_effective_width_refuses_what_it_cannot_know() -> None:
    sheet = Sheet("width")
    S, t = sheet.given("S", 9 * ft), sheet.given("t_s", 8 * inch)
    with pytest.raises(RangeError, match=r"'full width'.*tributary width.*LRFD before 2008"):
        effective_width(sheet, "full width", spacing=S, slab=t)
    with pytest.raises(RangeError, match="wants the effective span"):
        effective_width(sheet, "Standard Specifications", spacing=S, slab=t)
    with pytest.raises(RangeError, match="wants flange width and web thickness"):
        effective_width(sheet, "LRFD before 2008", spacing=S, slab=t, span=S)


@pytest.mark.parametrize(
    ("strength", "n"),
    [(2.3, 11), (2.4, 10), (2.9, 9), (3.59, 9), (3.6, 8), (4.0, 8), (4.6, 7), (6.0, 6), (10, 6)],
)
def test_modular_ratio_of_the_table(strength: float, n: int) -> None:
    sheet = Sheet("n")
    node = modular_ratio(sheet, sheet.given("f_c", strength * ksi))
    assert float(node.value.magnitude) == n  # type: ignore[attr-defined]  # a step


def test_modular_ratio_from_the_modulus() -> None:
    """Own computation of 2026: 4 ksi and 0.145 kcf give E_c 3986.6 ksi and n 7.27."""
    sheet = Sheet("n")
    modular_ratio(sheet, sheet.given("f_c", 4 * ksi), sheet.given("w_c", 145 * pcf))
    assert sheet["E_c"].value.to("ksi").magnitude == pytest.approx(3986.6, rel=1e-4)
    assert float(sheet["n"].value.magnitude) == pytest.approx(7.274, abs=0.001)


def test_impossible_sections_are_refused() -> None:
    with pytest.raises(RangeError, match="thickness of the top flange is 0"):
        welded(top=(14, 0))
    with pytest.raises(RangeError, match="width of the web is -44"):
        welded(web=(-44, 0.5))
    with pytest.raises(RangeError, match="wider than the web is thick"):
        welded(web=(44, 15))
    with pytest.raises(RangeError, match="below the top of a slab 8 in thick"):
        welded(slab=(90, 8, 2), layers=[(5, 9)])
    with pytest.raises(RangeError, match="top first"):
        welded(slab=(90, 8, 2), layers=[(5, 5), (3, 2)])
    with pytest.raises(RangeError, match="at most two"):
        welded(slab=(90, 8, 2), layers=[(1, 1), (1, 2), (1, 3)])
    with pytest.raises(RangeError, match="thickness of the bottom cover plate"):
        welded(covers=((10, 0), None))
    sheet = Sheet("bars")
    put = sheet.given
    with pytest.raises(RangeError, match="no yield strength"):
        slab_on_girder(
            sheet, width=put("b_s", 90 * inch), thickness=put("t_s", 8 * inch),
            haunch=put("t_h", 2 * inch), strength=put("f_c", 4 * ksi),
            layers=[(Q_(5, "inch**2"), 2 * inch)],
        )  # fmt: skip
