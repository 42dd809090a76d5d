"""Plastic moment, yield moment and depths of web: thousands of sections against a bisection."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np
import pytest

from stepcalc.bridge.composite.plastic import plastic_negative, plastic_positive
from stepcalc.bridge.composite.sides import flange_sides
from stepcalc.bridge.composite.stages import stage_sections
from stepcalc.bridge.composite.yielding import yield_moment
from stepcalc.units import Q_
from tests.unit.composite_section import Girder, Part, plastic_by_bisection, rolled, welded

if TYPE_CHECKING:
    from tests.unit.composite_section import Floats

COUNT = 4000
LAYERS = [(5.5, 2.0), (3.0, 5.5)]
GIVENS = {
    "b_tf": (10, 30, "inch"), "t_tf": (0.5, 3, "inch"), "D": (24, 96, "inch"),
    "t_w": (0.3, 1.0, "inch"), "b_bf": (10, 30, "inch"), "t_bf": (0.5, 3.5, "inch"),
    "F_ytf": (36, 70, "ksi"), "F_yw": (36, 50, "ksi"), "F_ybf": (36, 100, "ksi"),
    "b_s": (20, 200, "inch"), "t_s": (7, 10, "inch"), "t_h": (0, 4, "inch"), "f_c": (3, 6, "ksi"),
    "A_rt": (0, 12, "inch**2"), "A_rb": (0, 8, "inch**2"),
    "c_rt": (1.5, 3, "inch"), "c_rb": (4, 6.5, "inch"),
}  # fmt: skip
COVER = {"b_bp": (8, 20, "inch"), "t_bp": (0.5, 4, "inch"), "b_tp": (8, 20, "inch"),
         "t_tp": (0.5, 2, "inch")}  # fmt: skip


def drawn(seed: int, ranges: dict[str, tuple[float, float, str]]) -> dict[str, Floats]:
    """Return random sizes; one section in four has a small slab, one in four a heavy flange."""
    rng = np.random.default_rng(seed)
    x = {name: rng.uniform(low, high, COUNT) for name, (low, high, _) in ranges.items()}
    x["b_s"][: COUNT // 4] *= rng.uniform(0.05, 0.4, COUNT // 4)
    x["b_s"][-COUNT // 4 :] *= rng.uniform(1, 8, COUNT // 4)
    x["t_bf"][: COUNT // 8] *= 3
    x["t_w"][COUNT // 2 : 3 * COUNT // 4] *= 0.4
    x["A_rt"][COUNT // 3 : COUNT // 2] *= 10
    x["A_rb"][COUNT // 4 : COUNT // 3] *= 20
    if "t_bp" in x:
        x["t_bp"][: COUNT // 16] *= 8
    return x


def evaluated(girder: Girder, x: dict[str, Floats], names: list[str]) -> dict[str, Floats]:
    units = {**GIVENS, **COVER}
    inputs: dict[str, Any] = {name: Q_(values, units[name][2]) for name, values in x.items()}
    found = girder.sheet.evaluate(inputs, outputs=names)
    ask = {"M_p": "kip*inch", "c_p": ""}
    return {
        name: np.asarray(found[name].to(ask.get(name, "inch")).magnitude) for name in names
    }  # fmt: skip


def steel_parts(x: dict[str, Floats]) -> tuple[list[Part], Floats]:
    """Return the plates, from the bottom up, and the depth of the steel."""
    zero = np.zeros(COUNT)
    rows = [
        (x["b_bf"], x["t_bf"], x["F_ybf"]), (x["t_w"], x["D"], x["F_yw"]),
        (x["b_tf"], x["t_tf"], x["F_ytf"]),
    ]  # fmt: skip
    if "b_bp" in x:
        rows.insert(0, (x["b_bp"], x["t_bp"], zero + 50))
        rows.append((x["b_tp"], x["t_tp"], zero + 50))
    low, parts = zero, []
    for wide, tall, strength in rows:
        force = wide * tall * strength
        parts.append(Part(low, low + tall, force, force))
        low = low + tall
    return parts, low


def bar_parts(x: dict[str, Floats], top: Floats) -> list[Part]:
    found = []
    for key in ("rt", "rb"):
        at, force = top - x[f"c_{key}"], 60 * x[f"A_{key}"]
        found.append(Part(at, at, force, force))
    return found


@pytest.mark.parametrize("covered", [False, True])
@pytest.mark.parametrize("bars", [False, True])
def test_positive_moment_for_every_place_of_the_axis(covered: bool, bars: bool) -> None:
    girder = welded(
        slab=(90, 8, 2), layers=LAYERS, covers=((10, 1), (10, 1)) if covered else (None, None)
    )
    plastic_positive(girder.sheet, girder.geometry, reinforcement=bars)
    x = drawn(11, {**GIVENS, **COVER} if covered else GIVENS)
    out = evaluated(girder, x, ["M_p", "y_p", "c_p", "D_p", "D_cp"])
    parts, depth = steel_parts(x)
    top = depth + x["t_h"] + x["t_s"]
    force = 0.85 * x["f_c"] * x["b_s"] * x["t_s"]
    slab = [Part(top - x["t_s"], top, force, np.zeros(COUNT))]
    more = bar_parts(x, top) if bars else []
    moment, axis = plastic_by_bisection([*parts, *slab, *more], positive=True)
    np.testing.assert_allclose(out["M_p"], moment, rtol=1e-10)
    np.testing.assert_allclose(out["y_p"], axis, atol=1e-6)
    np.testing.assert_allclose(out["D_p"], top - axis, atol=1e-6)
    web = parts[2 if covered else 1]
    np.testing.assert_allclose(
        out["D_cp"], np.clip(web.high - axis, 0, x["D"]), atol=1e-6
    )  # fmt: skip
    reached = set(out["c_p"].astype(int))
    assert reached == set(range(1, 4 + 2 * covered + (5 if bars else 1)))


@pytest.mark.parametrize("covered", [False, True])
def test_negative_moment_for_every_place_of_the_axis(covered: bool) -> None:
    girder = welded(
        slab=(90, 8, 2), layers=LAYERS, covers=((10, 1), (10, 1)) if covered else (None, None)
    )
    plastic_negative(girder.sheet, girder.geometry)
    x = drawn(12, {**GIVENS, **COVER} if covered else GIVENS)
    x["A_rt"][:200] *= 30
    out = evaluated(girder, x, ["M_p", "y_p", "c_p", "D_cp"])
    parts, depth = steel_parts(x)
    bars = bar_parts(x, depth + x["t_h"] + x["t_s"])
    moment, axis = plastic_by_bisection([*parts, *bars], positive=False)
    np.testing.assert_allclose(out["M_p"], moment, rtol=1e-9)
    np.testing.assert_allclose(out["y_p"], axis, atol=1e-6)
    web = parts[2 if covered else 1]
    np.testing.assert_allclose(out["D_cp"], np.clip(axis - web.low, 0, x["D"]), atol=1e-6)
    assert set(out["c_p"].astype(int)) == set(range(1, 8 if covered else 6))


@pytest.mark.parametrize(
    ("slab", "bottom", "web", "reinforced", "words"),
    [
        (120, (14, 1.25), (44, 0.5), False, "case III: axis in the slab"),
        (20, (14, 1.25), (44, 0.5), False, "case I: axis in the web"),
        (60, (14, 1.25), (44, 0.5), False, "case II: axis in the top flange"),
        (20, (30, 4.00), (24, 0.5), False, "axis in the bottom flange (beyond the table"),
        (84, (14, 1.25), (44, 0.5), True, "case III: axis in the slab, below the bottom"),
        (125, (14, 1.25), (44, 0.5), True, "case IV: axis at the bottom reinforcement"),
        (170, (14, 1.25), (44, 0.5), True, "case V: axis in the slab, below the top"),
        (398, (14, 1.25), (44, 0.5), True, "case VI: axis at the top reinforcement"),
        (640, (14, 1.25), (44, 0.5), True, "case VII: axis in the slab, above the top"),
    ],
)
def test_the_branch_names_the_case(
    slab: float, bottom: tuple[float, float], web: tuple[float, float], reinforced: bool, words: str
) -> None:
    girder = welded(bottom=bottom, web=web, slab=(slab, 8, 2), layers=LAYERS)
    plastic_positive(girder.sheet, girder.geometry, reinforcement=reinforced)
    for name in ("c_p", "y_p"):
        assert girder.sheet[name].branch.startswith(words), name


def test_negative_benchmark() -> None:
    """Own computation of 2026: M_p 5142.1, Y 15.300 from the top of the web, D_cp 28.70."""
    girder = welded(slab=(90, 8, 2), layers=LAYERS)
    plastic_negative(girder.sheet, girder.geometry)
    assert girder.number("M_p", "kip*ft") == pytest.approx(5142.1, rel=1e-5)
    assert 45.25 - girder.number("y_p", "inch") == pytest.approx(15.300, abs=5e-4)
    assert girder.number("D_cp", "inch") == pytest.approx(28.70, abs=5e-3)
    assert girder.sheet["y_p"].branch == "case I: axis in the web"


def test_positive_benchmark_of_the_exterior_girder() -> None:
    """Own computation of 2026: P_s 2325.6, axis 6.772 in down, M_p 3923.1 = 1968.6 x 23.914."""
    girder = rolled(slab=(85.5, 8, 1.5))
    plastic_positive(girder.sheet, girder.geometry)
    assert girder.number("P_s", "kip") == pytest.approx(2325.6)
    assert girder.number("D_p", "inch") == pytest.approx(6.772, abs=5e-4)
    assert girder.number("D_t", "inch") == pytest.approx(45.10)
    assert girder.number("M_p", "kip*ft") == pytest.approx(3923.1, rel=2e-5)
    assert girder.number("M_p", "kip*ft") * 12 == pytest.approx(1968.6 * (27.3 - 3.386), rel=1e-5)
    assert girder.number("D_cp", "inch") == 0


def test_a_bare_doubly_symmetric_section_has_the_same_moment_both_ways() -> None:
    """14 x 1, 44 x 1/2, 14 x 1: M_p = 50 (14 * 45 + 0.5 * 44^2 / 4) = 43,600 kip-in."""
    girder = welded(bottom=(14, 1))
    with girder.sheet.part("positive"):
        up = plastic_positive(girder.sheet, girder.geometry)
    with girder.sheet.part("negative"):
        down = plastic_negative(girder.sheet, girder.geometry)
    for moment in (up.moment, down.moment):
        assert moment.value.to("kip*inch").magnitude == pytest.approx(43600.0)  # type: ignore[attr-defined]  # a step
    for depth in (up.web_in_compression, down.web_in_compression):
        assert depth.value.to("inch").magnitude == pytest.approx(22.0)  # type: ignore[attr-defined]  # a step


# yield moment ------------------------------------------------------------------------------------


def staged(girder: Girder, *, positive: bool, dead: tuple[float, float, float]) -> None:
    moments = girder.moments(*dead, 100.0)
    sides = flange_sides(girder.sheet, girder.geometry, positive=positive)
    sections = stage_sections(girder.elastic, positive=positive)
    yield_moment(girder.sheet, girder.geometry, sides, sections, moments)


def test_yield_moment_of_the_exterior_girder() -> None:
    """Own computation of 2026: bottom flange 2497.5, top flange 33,600 kip-ft."""
    girder = rolled(slab=(85.5, 8, 1.5), ratio=8.0)
    staged(girder, positive=True, dead=(467.65, 80.72, 87.09))
    assert girder.number("M_D1", "kip*ft") == pytest.approx(584.6, rel=1e-4)
    assert girder.number("M_D2", "kip*ft") == pytest.approx(231.5, rel=1e-3)
    assert girder.number("M_yt", "kip*ft") == pytest.approx(2497.5, rel=2e-4)
    assert girder.number("M_yc", "kip*ft") == pytest.approx(33600, rel=1e-3)
    assert girder.number("M_y", "kip*ft") == girder.number("M_yt", "kip*ft")


def test_yield_moment_of_the_negative_section() -> None:
    """Own computation of 2026: all load on steel and bars: 4270.7; flange 5495, bars 4725.5."""
    girder = welded(slab=(90, 8, 2), layers=LAYERS)
    staged(girder, positive=False, dead=(0.0, 0.0, 0.0))
    assert girder.number("M_yc", "kip*ft") == pytest.approx(4270.7, rel=1e-4)
    assert girder.number("M_ytf", "kip*ft") == pytest.approx(5495, rel=2e-4)
    assert girder.number("M_yt", "kip*ft") == pytest.approx(4725.5, rel=1e-4)
    assert girder.number("M_y", "kip*ft") == girder.number("M_yc", "kip*ft")


def test_dead_load_on_the_steel_spares_the_bars() -> None:
    """Hand: bars see only what comes after: M_yr = 1.25 * 800 + 60 * 945.1 / 12."""
    girder = welded(slab=(90, 8, 2), layers=LAYERS)
    staged(girder, positive=False, dead=(800.0, 0.0, 0.0))
    S_r = girder.number("S_rr", "inch**3")
    assert girder.number("M_yr", "kip*ft") == pytest.approx(1000 + 60 * S_r / 12)
    S_s, S_c = girder.number("S_sb", "inch**3"), girder.number("S_rb", "inch**3")
    by_hand = 1000 + S_c * (50 - 12000 / S_s) / 12
    assert girder.number("M_yc", "kip*ft") == pytest.approx(by_hand)


def test_the_top_flange_cannot_yield_below_the_axis() -> None:
    """A shallow section under a thick slab: the short-term axis lies above the steel."""
    girder = welded(top=(10, 0.5), web=(20, 0.4), bottom=(10, 0.75), slab=(120, 9, 2), ratio=6.0)
    staged(girder, positive=True, dead=(20.0, 5.0, 5.0))
    assert girder.number("y_n", "inch") > girder.number("d", "inch")
    assert girder.sheet["M_yc"].branch.startswith("axis above the steel")
    assert girder.number("M_y", "kip*ft") > 0


def test_hybrid_flanges_yield_at_their_own_strength() -> None:
    girder = welded(strengths=(50.0, 50.0, 70.0), bottom=(14, 1))
    staged(girder, positive=True, dead=(0.0, 0.0, 0.0))
    S = girder.number("S_sb", "inch**3")
    assert girder.number("M_yt", "kip*ft") == pytest.approx(70 * S / 12)
    assert girder.number("M_yc", "kip*ft") == pytest.approx(50 * S / 12)
