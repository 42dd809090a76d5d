"""Service II, deck in tension, older codes, cover plates, the drawn section."""

from __future__ import annotations

from typing import Any

import pytest

from stepcalc.bridge.composite.cover_plates import theoretical_cutoff
from stepcalc.bridge.composite.elastic import Elastic
from stepcalc.bridge.composite.figure import draw_girder_section, section_figure
from stepcalc.bridge.composite.plastic import plastic_negative, plastic_positive
from stepcalc.bridge.composite.service import (
    deck_effective_in_tension,
    deck_reinforcement,
    service_two_general,
)
from stepcalc.bridge.composite.sides import flange_sides
from stepcalc.bridge.composite.stages import (
    StageMoments,
    compressed_web_by_stress,
    stage_moments,
    stage_sections,
    staged_stresses,
)
from stepcalc.bridge.composite.standard import (
    composite_allowable_stress,
    composite_load_factor,
    composite_overload,
)
from stepcalc.bridge.composite.web import bend_buckling, hybrid_factor
from stepcalc.bridge.composite.yielding import yield_moment
from stepcalc.errors import RangeError, SheetFileError
from stepcalc.render.figures import draw_figure, figure_alt
from stepcalc.sheet.sheet import Sheet
from stepcalc.units import inch, kip, kip_ft, klf, ksi
from tests.unit.composite_section import Girder, rolled, welded

LAYERS = [(5.5, 2.0), (3.0, 5.5)]
EXTERIOR = (467.65, 80.72, 87.09, 1064.37)


def serviced(girder: Girder, moments: StageMoments, *, positive: bool, composite: bool) -> Any:
    """Write Service II and return its group."""
    sections = stage_sections(girder.elastic, positive=positive)
    sides = flange_sides(girder.sheet, girder.geometry, positive=positive)
    stresses = staged_stresses(girder.sheet, sections, moments, positive=positive)
    hybrid = hybrid_factor(girder.sheet, girder.geometry, sections.short_term)
    depth = compressed_web_by_stress(
        girder.sheet, girder.geometry, stresses, sections.short_term
    )  # fmt: skip
    bending = bend_buckling(girder.sheet, girder.geometry, sides, depth=depth, hybrid=hybrid)
    return service_two_general(
        girder.sheet, girder.geometry, sides, stresses=stresses, hybrid=hybrid, bending=bending,
        composite=composite,
    )  # fmt: skip


def test_exterior_girder_benchmark() -> None:
    """Own computation of 2026: 12.78 + 3.26 + 24.29 = 40.34 of 47.5 ksi; top flange 15.12."""
    girder = rolled(slab=(85.5, 8, 1.5), ratio=8.0)
    found = serviced(
        girder, girder.moments(*EXTERIOR, state="Service II"), positive=True, composite=True
    )
    assert girder.number("f_b", "ksi") == pytest.approx(40.34, rel=2e-4)
    assert girder.number("f_t", "ksi") == pytest.approx(15.12, rel=5e-4)
    assert found.bottom.ratio == pytest.approx(0.849, abs=5e-4)
    assert found.top.ratio == pytest.approx(15.12 / 47.5, rel=5e-4)
    assert found.web.ratio == 0
    assert girder.number("M_u", "kip*ft") == pytest.approx(2019.14, rel=1e-5)


def test_noncomposite_section_stops_at_eighty_percent() -> None:
    """Own computation of 2026, interior W36X135: 1944.2 kip-ft over 439 in3 is 53.14 of 40 ksi."""
    girder = rolled()
    moments = girder.moments(1944.20, 0, 0, 0, state="Service II")
    found = serviced(girder, moments, positive=True, composite=False)
    assert found.bottom.ratio == pytest.approx(1.329, abs=5e-4)
    assert found.top.ratio == pytest.approx(found.bottom.ratio)
    assert found.web.ratio == pytest.approx(53.14 / 50, rel=1e-3)


def test_slender_web_of_a_composite_section_is_looked_at() -> None:
    girder = welded((14, 1), (90, 0.5), (18, 1.5), slab=(96, 8, 2), ratio=8.0)
    moments = girder.moments(1500, 300, 300, 2000, state="Service II")
    found = serviced(girder, moments, positive=True, composite=True)
    assert girder.sheet["f_cw"].branch == "slender web"
    D_c, f = girder.number("D_c", "inch"), girder.number("f_t", "ksi")
    k = 9 / (D_c / 90) ** 2
    assert found.web.ratio == pytest.approx(f / min(0.9 * 29000 * k / 180**2, 50))


def test_depth_of_web_in_compression_by_stages() -> None:
    """Hand: D_c = f_c / (f_c + f_t) d - t_fc, neither negative nor undefined without load."""
    girder = welded((14, 1), (60, 0.5), (18, 1.5), slab=(96, 8, 2), ratio=8.0)
    serviced(
        girder, girder.moments(900, 200, 200, 1500, state="Service II"), positive=True,
        composite=True,
    )  # fmt: skip
    f_t, f_b = girder.number("f_t", "ksi"), girder.number("f_b", "ksi")
    assert girder.number("D_c", "inch") == pytest.approx(f_t / (f_t + f_b) * 62.5 - 1)
    bare = girder.sheet.revise({f"M_{x}": 0 * kip_ft for x in ("DC1", "DC2", "DW", "LL")})
    assert bare["D_c"].branch.startswith("no bending")
    assert bare["D_c"].value.to("inch").magnitude == pytest.approx(
        max(61.5 - girder.number("y_n", "inch"), 0)
    )


def test_each_stage_and_fibre_has_its_own_modulus() -> None:
    """Hand, unlike flanges: the six moduli from A, y, I of the stages."""
    girder = welded((14, 1), (60, 0.5), (18, 1.5), slab=(96, 8, 2), ratio=8.0)
    staged_stresses(
        girder.sheet, stage_sections(girder.elastic, positive=True),
        girder.moments(900, 200, 100, 1500, state="Service II"), positive=True,
    )  # fmt: skip
    f_b = f_t = 0.0
    for key, moment in (("s", 900.0), ("3n", 300.0), ("n", 1950.0)):
        y, inertia = girder.number(f"y_{key}", "inch"), girder.number(f"I_{key}", "inch**4")
        f_b += moment * 12 * y / inertia
        f_t += moment * 12 * (62.5 - y) / inertia
    assert girder.number("f_b", "ksi") == pytest.approx(f_b)
    assert girder.number("f_t", "ksi") == pytest.approx(f_t)


def test_deck_stress_uses_the_short_term_ratio_for_all_loads() -> None:
    """Article 6.10.1.1.1d: hand, (M_D2 + M_L) / (n S_nd), not M_D2 / (3n S_3nd)."""
    girder = rolled(slab=(85.5, 8, 1.5), ratio=8.0)
    moments = girder.moments(*EXTERIOR)
    staged_stresses(
        girder.sheet, stage_sections(girder.elastic, positive=True), moments, positive=True
    )
    S = 23025.1 / (45.1 - 33.686)
    M = 1.25 * 80.72 + 1.5 * 87.09 + 1.75 * 1064.37
    assert girder.number("f_dk", "ksi") == pytest.approx(M * 12 / (8 * S), rel=1e-4)


def test_negative_service_may_take_the_deck_as_effective() -> None:
    girder = welded(slab=(90, 8, 2), layers=LAYERS, ratio=8.0)
    moments = girder.moments(500, 100, 100, 400, state="Service II")
    found = {}
    for deck in (False, True):
        sections = stage_sections(girder.elastic, positive=False, deck_in_tension=deck)
        with girder.sheet.part(f"deck {deck}"):
            found[deck] = staged_stresses(girder.sheet, sections, moments, positive=False)
    for stress in ("top", "bottom"):
        cracked, whole = (getattr(found[deck], stress).base for deck in (False, True))
        assert whole < cracked
    tension: Any = found[True].deck
    assert found[False].bars is not None
    check = deck_effective_in_tension(girder.sheet, tension, girder.given("f_r", 0.48 * ksi))
    assert check.ratio == pytest.approx(tension.base / 0.96)


def test_a_limit_state_must_be_named() -> None:
    girder = rolled()
    M = girder.given("M", 1 * kip_ft)
    with pytest.raises(RangeError, match=r"'Strength I', 'Service II', .*, not 'Strength II'"):
        stage_moments(girder.sheet, M, DC2=M, DW=M, LL=M, state="Strength II")


@pytest.mark.parametrize(
    ("state", "factors"),
    [
        ("Strength I", (1.25, 1.25, 1.5, 1.75)),
        ("Service II", (1.0, 1.0, 1.0, 1.3)),
        ("Group I", (1.3, 1.3, 1.3, 1.3 * 5 / 3)),
        ("Overload", (1.0, 1.0, 1.0, 5 / 3)),
        ("Working loads", (1.0, 1.0, 1.0, 1.0)),
    ],
)
def test_factors_of_every_state(state: str, factors: tuple[float, ...]) -> None:
    girder = rolled()
    girder.moments(100, 20, 7, 300, state=state)
    DC1, DC2, DW, LL = factors
    expected = (100 * DC1, 20 * DC2 + 7 * DW, 300 * LL)
    for name, value in zip(("M_D1", "M_D2", "M_L"), expected, strict=True):
        assert girder.number(name, "kip*ft") == pytest.approx(value, rel=1e-12)
    assert girder.number("M_u", "kip*ft") == pytest.approx(sum(expected))


def test_depth_of_web_in_compression_with_the_deck_in_tension() -> None:
    """Hand: the bottom pushes; D_c = f_b / (f_b + f_t) d - t_bf."""
    girder = welded(slab=(90, 8, 2), layers=LAYERS, ratio=8.0)
    sections = stage_sections(girder.elastic, positive=False, deck_in_tension=True)
    moments = girder.moments(500, 100, 100, 400, state="Service II")
    stresses = staged_stresses(girder.sheet, sections, moments, positive=False)
    compressed_web_by_stress(
        girder.sheet, girder.geometry, stresses, sections.short_term, positive=False
    )
    f_t, f_b = girder.number("f_t", "ksi"), girder.number("f_b", "ksi")
    assert girder.number("D_c", "inch") == pytest.approx(f_b / (f_b + f_t) * 46.25 - 1.25)


@pytest.mark.parametrize(("stress", "needed"), [(0.43, 0.0), (0.44, 7.2)])
def test_one_percent_reinforcement(stress: float, needed: float) -> None:
    """Hand: 0.90 * 0.24 * sqrt(4) = 0.432 ksi; 0.01 * 90 * 8 = 7.2 in2."""
    girder = welded(slab=(90, 8, 2), layers=LAYERS)
    slab = girder.section.slab
    assert slab is not None
    found = deck_reinforcement(
        girder.sheet, slab, stress=girder.given("f_x", stress * ksi), width=slab.width,
        thickness=slab.thickness, provided=girder.given("A_bar", 8.5 * inch**2),
    )  # fmt: skip
    assert girder.number("A_s1", "inch**2") == pytest.approx(needed)
    assert found.check.ratio == pytest.approx(needed / 8.5)


# older codes --------------------------------------------------------------------------------------


def staged_standard(girder: Girder) -> dict[str, Any]:
    moments = girder.moments(*EXTERIOR)
    sections = stage_sections(girder.elastic, positive=True)
    sides = flange_sides(girder.sheet, girder.geometry, positive=True)
    stresses = staged_stresses(girder.sheet, sections, moments, positive=True)
    plastic = plastic_positive(girder.sheet, girder.geometry)
    yielding = yield_moment(girder.sheet, girder.geometry, sides, sections, moments)
    return {
        "moments": moments, "sides": sides, "stresses": stresses, "plastic": plastic,
        "yielding": yielding,
    }  # fmt: skip


@pytest.mark.parametrize("continuous", [False, True])
def test_load_factor_strength_of_the_exterior_girder(continuous: bool) -> None:
    """Own computation of 2026: D' = 0.7 * 45.1 / 7.5 = 4.209, M_u 3649.1 kip-ft."""
    girder = rolled(slab=(85.5, 8, 1.5), ratio=8.0)
    s = staged_standard(girder)
    found = composite_load_factor(
        girder.sheet, girder.geometry, s["sides"], plastic=s["plastic"], yielding=s["yielding"],
        stresses=s["stresses"], demand=s["moments"].total, continuous=continuous,
    )  # fmt: skip
    assert girder.number("D_prime", "inch") == pytest.approx(4.209, abs=5e-4)
    expected = 1.3 * 2497.5 if continuous else 3649.1
    assert girder.number("M_uS", "kip*ft") == pytest.approx(expected, rel=2e-4)
    assert found.flexure.ratio == pytest.approx(2678.74 / expected, rel=3e-4)
    assert found.depth.ratio == pytest.approx(6.772 / (5 * 4.209), rel=1e-3)
    weak = girder.sheet.revise(F_y=36 * ksi)
    assert float(weak["beta_D"].value.magnitude) == 0.9


def test_load_factor_noncompact_web_is_held_to_yield() -> None:
    girder = welded((12, 0.75), (80, 0.4375), (18, 1.5), slab=(24, 7, 1), ratio=8.0)
    s = staged_standard(girder)
    found = composite_load_factor(
        girder.sheet, girder.geometry, s["sides"], plastic=s["plastic"], yielding=s["yielding"],
        stresses=s["stresses"], demand=s["moments"].total, continuous=False,
    )  # fmt: skip
    assert girder.sheet["u_f"].branch == "noncompact web"
    worst = max(girder.number("f_t", "ksi"), girder.number("f_b", "ksi")) / 50
    assert found.flexure.ratio == pytest.approx(worst)


def test_overload_and_working_stress_by_stages() -> None:
    girder = rolled(slab=(85.5, 8, 1.5), ratio=8.0)
    s = staged_standard(girder)
    over = composite_overload(girder.sheet, s["sides"], stresses=s["stresses"])
    work = composite_allowable_stress(
        girder.sheet, girder.geometry, s["sides"], stresses=s["stresses"]
    )
    f_t, f_b, f_d = (girder.number(name, "ksi") for name in ("f_t", "f_b", "f_dk"))
    assert [check.ratio for check in over] == pytest.approx([f_t / 47.5, f_b / 47.5])
    assert [check.ratio for check in work] == pytest.approx([f_t / 27.5, f_b / 27.5, f_d / 1.6])


# cover plates -------------------------------------------------------------------------------------


def test_cutoff_of_a_uniform_load_by_hand() -> None:
    """60 ft at 2 klf: R 60 kip; capacity 500 kip-ft is reached where 60 x - x^2 = 500."""
    sheet = Sheet("plate")
    put = sheet.given
    theoretical_cutoff(
        sheet, modulus=put("S_w", 300 * inch**3), allowable=put("F_b", 20 * ksi),
        reaction=put("R", 60 * kip), uniform=put("w", 2 * klf),
    )  # fmt: skip
    assert sheet["x_c"].value.to("ft").magnitude == pytest.approx(30 - (900 - 500) ** 0.5)
    assert not sheet.revise(w=8 * klf, R=20 * kip)["x_c"].defined


# figure -------------------------------------------------------------------------------------------


@pytest.mark.parametrize("positive", [True, False])
def test_the_section_is_drawn_with_its_axes(positive: bool) -> None:
    girder = welded(slab=(90, 8, 2), layers=LAYERS, ratio=8.0, covers=((10, 1), None))
    plastic = (plastic_positive if positive else plastic_negative)(girder.sheet, girder.geometry)
    e = girder.elastic
    assert isinstance(e.short_term, Elastic)
    elastic = (e.steel, e.short_term)
    data = section_figure(girder.geometry, elastic=elastic, plastic=plastic, positive=positive)
    pull = sum(block["height"] * block["width"] * wide(data, block) for block in data["stress"])
    bars = 0.0 if positive else 8.5 * 60
    assert pull + bars == pytest.approx(0.0, abs=1e-6)
    assert data["elastic"][1]["x"] == pytest.approx(girder.number("y_n", "inch"))
    words = figure_alt(data)
    assert "bottom cover plate 10 × 1 in" in words
    assert "plastic axis" in words
    for form, start in (("svg", b"<?xml"), ("png", b"\x89PNG"), ("pdf", b"%PDF")):
        assert draw_figure(data, form).startswith(start)
    draw_girder_section(
        girder.sheet, girder.geometry, elastic=elastic, plastic=plastic, positive=positive
    )


def wide(data: dict[str, Any], block: dict[str, Any]) -> float:
    """Return the width of the plate or slab that a stress block acts on."""
    middle = block["bottom"] + block["height"] / 2
    for part in (*data["plates"], *data["slab"]):
        if part["bottom"] <= middle <= part["bottom"] + part["height"]:
            return float(part["width"])
    message = f"no part at {middle}"
    raise AssertionError(message)


def test_a_steel_section_alone_is_drawn() -> None:
    girder = rolled()
    data = section_figure(girder.geometry, elastic=(girder.elastic.steel,))
    assert data["slab"] == []
    assert data["stress"] == []
    assert draw_figure(data).startswith(b"<?xml")


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"plates": []}, "wants plates"),
        ({"slab": [{"bottom": 40, "height": 8, "width": -5}]}, "at most one slab, wider than 0"),
        ({"depth": 3}, "unknown fields 'depth'"),
    ],
)
def test_a_drawing_of_nonsense_is_refused(change: dict[str, Any], words: str) -> None:
    data = section_figure(rolled().geometry)
    with pytest.raises(SheetFileError, match=words):
        draw_figure({**data, **change})
