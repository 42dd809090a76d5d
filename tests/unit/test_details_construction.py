"""The pour on plate and exterior girders, narrow systems, wind, proportions."""

from __future__ import annotations

import math
from typing import Any

import pytest

from stepcalc.bridge.details.exterior_girder import (
    exterior_not_weaker,
    fascia_wind,
    moment_with_wind,
)
from stepcalc.bridge.details.narrow_systems import BareGirder, global_buckling
from stepcalc.bridge.details.overhang_bracket import BracketLoads, lateral_bending_by_brackets
from stepcalc.bridge.details.plate_proportions import FlangePlate, plate_proportions
from stepcalc.bridge.details.pour_stages import (
    PourFlanges,
    deck_tension_in_pour,
    pour_checks,
    pour_moments,
    pour_shear,
)
from stepcalc.errors import RangeError
from tests.unit.details_girder import Bench, bench


def poured(increments: tuple[float, ...], live: tuple[float, float]) -> Bench:
    b = bench()
    stages = [
        (f"stage {i}", b.put(f"m_{i}", value, "kip*ft")) for i, value in enumerate(increments, 1)
    ]
    pour_moments(
        b.sheet, stages,
        construction=(b.put("c_1", live[0], "kip*ft"), b.put("c_2", live[1], "kip*ft")),
    )  # fmt: skip
    return b


def test_pour_sequence_is_worse_than_the_whole_deck_at_once() -> None:
    """300, 1200 (pour of the span), -450 (pour over the pier): 1500 after two, 1050 at the end."""
    b = poured((300, 1200, -450), (80, 0))
    assert [b.read(f"M_p{i}", "kip*ft") for i in (1, 2, 3)] == pytest.approx([300, 1500, 1050])
    # 1.25 x 1500 + 1.5 x 80 = 1995; 1.4 x 1580 = 2212
    assert b.read("M_cup", "kip*ft") == pytest.approx(2212)
    assert b.read("M_cun", "kip*ft") == 0


def test_construction_combinations_both_stand() -> None:
    """With a large construction load the first governs (mistake 33 leaves the second out)."""
    b = poured((100,), (400, -30))
    assert b.read("M_cup", "kip*ft") == pytest.approx(max(125 + 600, 1.4 * 500))
    c = poured((-100, -700), (20, -60))
    assert c.read("M_cun", "kip*ft") == pytest.approx(-1.4 * 860)
    assert c.read("M_cup", "kip*ft") == pytest.approx(30)


def test_pour_of_the_example_interior_girder() -> None:
    """Own computation: 1.4 (551.2 + 39.6) = 827.2 kip-ft."""
    b = poured((551.21,), (0.010 * 8.25 * 480.5, 0))
    assert b.read("M_cup", "kip*ft") == pytest.approx(827.2, rel=2e-4)


def test_pour_without_stage_is_refused() -> None:
    with pytest.raises(RangeError, match="no stage"):
        poured((), (1, 0))


def flanges(b: Bench) -> PourFlanges:
    put = b.put
    return PourFlanges(
        put("f_c", 22, "ksi"),
        put("f_t", 18, "ksi"),
        put("f_lc", 9, "ksi"),
        put("f_lt", 6, "ksi"),
        put("F_nc", 41.29, "ksi"),
        put("F_crw", 30, "ksi"),
        put("F_yc", 50, "ksi"),
        put("F_yt", 36, "ksi"),
        put("R_hh", 0.98),
    )


def test_both_flanges_of_the_pour() -> None:
    b = bench()
    ratios = [check.ratio for check in pour_checks(b.sheet, flanges(b))]
    assert ratios == pytest.approx([31 / 49, 25 / 41.29, 22 / 30, 24 / (0.98 * 36)])
    c = bench()
    names = [check.name for check in pour_checks(c.sheet, flanges(c), slender=False)]
    assert "Web bend-buckling, pour" not in names
    assert len(names) == 3


def test_load_shedding_has_no_place_in_the_pour() -> None:
    """R_b is 1 during construction (mistake 32): it is no part of the flanges of a pour."""
    assert not {"shedding", "R_b"} & set(PourFlanges.__dataclass_fields__)


def test_shear_and_deck_tension_of_the_pour() -> None:
    b = bench()
    check = pour_shear(
        b.sheet, demand=b.put("V_u", 120, "kip"), buckling=b.put("V_cr", 525.5, "kip")
    )
    assert check.ratio == pytest.approx(120 / 525.5)
    deck_tension_in_pour(
        b.sheet,
        moment=b.put("M", 700, "kip*ft"),
        modulus=b.put("S_dk", 1500, "inch**3"),
        ratio=b.put("n", 8),
    )
    assert b.read("f_dp", "ksi") == pytest.approx(700 * 12 / (8 * 1500))


def brackets(b: Bench, dead: float, construction: float, machine: float) -> None:
    lateral_bending_by_brackets(
        b.sheet,
        BracketLoads(
            b.put("q_D", dead, "kip/ft"),
            b.put("q_C", construction, "kip/ft"),
            b.put("P_C", machine, "kip"),
        ),
        reach=b.put("a_b", 38, "inch"),
        drop=b.put("h_b", 60, "inch"),
        unbraced=b.put("L_b", 20, "ft"),
        width=b.put("b_f", 16, "inch"),
        thickness=b.put("t_f", 1, "inch"),
    )


def test_overhang_brackets() -> None:
    """q = 1.4 x .34 = .476 (over .425 x 1.25...), P = 4.5: M = .6333 (.476 x 400/12 + 4.5 x 2.5).

    1.25 x .26 + 1.5 x .08 = .445 < 1.4 x .34 = .476; M_l = 17.173; f = 6 x 17.173 x 12/256.
    """
    b = bench()
    brackets(b, 0.26, 0.08, 3.0)
    assert b.read("q_l", "kip/ft") == pytest.approx(0.476)
    assert b.read("P_l", "kip") == pytest.approx(4.5)
    moment = 38 / 60 * (0.476 * 400 / 12 + 4.5 * 20 / 8)
    assert b.read("M_lat", "kip*ft") == pytest.approx(moment)
    assert b.read("f_l1", "ksi") == pytest.approx(6 * moment * 12 / 256)


def test_brackets_with_much_construction_load() -> None:
    b = bench()
    brackets(b, 0.10, 0.30, 0.0)
    assert b.read("q_l", "kip/ft") == pytest.approx(0.125 + 0.45)


def system(b: Bench, girders: int, *, edition: str = "8th", erected: bool = False) -> Any:
    put = b.put
    return global_buckling(
        b.sheet,
        b.rules(edition),
        BareGirder(
            put("I_x", 19476, "inch**4"),
            put("I_yc", 228.67, "inch**4"),
            put("I_yt", 285.83, "inch**4"),
            put("c", 24.0, "inch"),
            put("t", 21.1, "inch"),
        ),
        girders=girders,
        spacing=put("w_g", 8, "ft"),
        span=put("L", 120, "ft"),
        moments=put("M_all", 2000, "kip*ft"),
        continuous_erected=erected,
    )


def test_two_girders_buckle_as_a_whole() -> None:
    b = bench()
    check = system(b, 2)
    I_eff = 228.67 + 21.1 / 24 * 285.83
    M_gs = 1.1 * math.pi**2 * 96 * 29000 / 1440**2 * math.sqrt(I_eff * 19476) / 12
    assert b.read("M_gs", "kip*ft") == pytest.approx(M_gs)
    assert check.ratio == pytest.approx(2000 / (0.70 * M_gs))


def test_three_girders_and_continuous_units_buckle_later() -> None:
    two, three, erected, old = bench(), bench(), bench(), bench()
    first = system(two, 2).ratio
    assert first / system(three, 3).ratio == pytest.approx(2 * math.sqrt(1.5))
    assert first / system(erected, 2, erected=True).ratio == pytest.approx(2.0 / 1.1)
    assert system(old, 2, edition="7th").ratio / first == pytest.approx(0.70 / 0.50)


def test_wide_systems_are_refused() -> None:
    with pytest.raises(RangeError, match="2 or 3 girders, not 5"):
        system(bench(), 5)


def wind(b: Bench, edition: str = "8th") -> Any:
    return fascia_wind(
        b.sheet,
        b.rules(edition),
        pressure_3=b.put("p_3", 40, "psf"),
        pressure_5=b.put("p_5", 19, "psf"),
        height=b.put("d_w", 5, "ft"),
        unbraced=b.put("L_b", 20, "ft"),
        width=b.put("b_f", 16, "inch"),
        thickness=b.put("t_f", 1.25, "inch"),
    )


def test_fascia_wind() -> None:
    """W = .040 x 2.5 = .1 klf, M = .1 x 400/10 = 4 kip-ft, f = 6 x 48/(1.25 x 256) = 0.9 ksi."""
    b = bench()
    found = wind(b)
    assert b.read("f_l3", "ksi") == pytest.approx(0.9)
    assert b.read("f_l5", "ksi") == pytest.approx(0.9 * 19 / 40)
    old = bench()
    wind(old, "7th")
    assert old.read("f_l3", "ksi") == pytest.approx(1.26)
    assert old.read("f_l5", "ksi") == pytest.approx(0.9 * 19 / 40 * 0.4)
    check = moment_with_wind(
        b.sheet,
        state="Strength III",
        moment=b.put("M_3", 1000, "kip*ft"),
        lateral=found.strength_3,
        modulus=b.put("S_xt", 600, "inch**3"),
        resistance=b.put("M_n", 3785.4, "kip*ft"),
    )
    assert check.ratio == pytest.approx((1000 + 0.3 * 600 / 12) / 3785.4)


def test_exterior_girder_is_not_weaker() -> None:
    b = bench()
    check = exterior_not_weaker(
        b.sheet,
        interior=b.put("M_i", 3900, "kip*ft"),
        exterior=b.put("M_e", 3785.4, "kip*ft"),
    )
    assert not check.passed
    assert check.ratio == pytest.approx(3900 / 3785.4)
    assert check.ref == "LRFD 2.5.2.7.1"


def proportions(**sizes: float) -> tuple[Bench, Any]:
    b = bench()
    size = {
        "D": 44.0, "t_w": 0.5, "b_c": 14.0, "t_c": 1.25, "b_t": 14.0, "t_t": 1.0, "L_p": 60.0
    } | sizes  # fmt: skip
    put = {name: b.put(name, value, "inch") for name, value in size.items() if name != "L_p"}
    checks = plate_proportions(
        b.sheet,
        web_depth=put["D"],
        web=put["t_w"],
        compression=FlangePlate(put["b_c"], put["t_c"]),
        tension=FlangePlate(put["b_t"], put["t_t"]),
        piece=b.put("L_p", size["L_p"], "ft"),
    )
    return b, checks


def test_proportions_of_the_plate_girder() -> None:
    b, checks = proportions()
    assert [check.ratio for check in checks] == pytest.approx(
        [
            88 / 150,
            5.6 / 12, 44 / 6 / 14, 0.55 / 1.25,
            7.0 / 12, 44 / 6 / 14, 0.55,
            0.1 / 1.25, 1.25 / 10,
            0.3125 / 0.5, 0.3125 / 1.25, 0.3125,
            720 / 85 / 14,
        ]
    )  # fmt: skip
    assert b.read("r_Iy") == pytest.approx(1.25)


@pytest.mark.parametrize(
    ("sizes", "name"),
    [
        ({"t_w": 0.29}, "Web slenderness"),
        ({"b_t": 24.1}, "Flange slenderness, tension"),
        ({"b_c": 7.3}, "Flange width, compression"),
        ({"t_t": 0.54}, "Flange thickness, tension"),
        ({"b_c": 7.4, "b_t": 17.3}, "Flange inertias, least"),
        ({"b_c": 30.0}, "Flange inertias, greatest"),
        ({"t_w": 0.31}, "Least web thickness"),
        ({"L_p": 100.0}, "Flange width, shipped piece"),
    ],
)
def test_each_limit_alone_can_fail(sizes: dict[str, float], name: str) -> None:
    """A section that violates a limit still calculates, and is N.G. with the article."""
    b, _ = proportions(**sizes)
    check = b.check(name)
    assert not check.passed
    assert check.ref.startswith("LRFD ")


def test_longitudinal_stiffeners_allow_a_slender_web() -> None:
    b = bench()
    put = b.put
    first, *_ = plate_proportions(
        b.sheet,
        web_depth=put("D", 120, "inch"),
        web=put("t_w", 0.5, "inch"),
        compression=FlangePlate(put("b_c", 24, "inch"), put("t_c", 1.5, "inch")),
        tension=FlangePlate(put("b_t", 24, "inch"), put("t_t", 1.5, "inch")),
        longitudinal=True,
    )
    assert first.ratio == pytest.approx(240 / 300)
    assert first.ref == "LRFD 6.10.2.1.2-1"
