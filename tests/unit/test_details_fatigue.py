"""Fatigue: the simple-span example, categories, cycles, editions, web, older codes."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from stepcalc.bridge.details.editions import Edition, edition_rules
from stepcalc.bridge.details.fatigue import FatigueRow, fatigue_check, fatigue_table, web_fatigue
from stepcalc.bridge.details.fatigue_categories import (
    TYPICAL_DETAILS,
    attachment_category,
    chosen_category,
    cover_plate_end_category,
)
from stepcalc.bridge.details.fatigue_loads import (
    StressRange,
    Traffic,
    cycles_per_truck,
    fatigue_range,
    single_lane_trucks,
    traffic,
)
from stepcalc.bridge.details.older_fatigue import OlderRanges, older_fatigue
from stepcalc.data.tables import table
from stepcalc.errors import RangeError
from stepcalc.units import Q_, ft
from tests.unit.bridge_beam import tables_on
from tests.unit.details_girder import Bench, bench

CATEGORIES = table("stress_categories")


def detail(b: Bench, name: str = "C'", edition: str = "8th") -> Any:
    choice = b.sheet.given("category", name, choices="stress_categories")
    return chosen_category(b.sheet, choice, b.rules(edition))


def midspan(b: Bench) -> StressRange:
    """Exterior girder of the example: g 0.5909, truck 580 kip-ft, S 683.5 in3."""
    return fatigue_range(
        b.sheet,
        sagging=b.put("M_f", 580.0, "kip*ft"),
        hogging=b.put("M_fn", 0.0, "kip*ft"),
        share=b.put("g_f", 0.590909),
        modulus=b.put("S_n", 683.53, "inch**3"),
        bottom=True,
    )


def checked(
    b: Bench,
    *,
    trucks: float = 1275.0,
    permanent: float = 10.0,
    category: str = "C'",
    edition: str = "8th",
    **more: Any,
) -> Any:
    return fatigue_check(
        b.sheet,
        detail(b, category, edition),
        b.rules(edition),
        stress=midspan(b),
        permanent=b.put("f_perm", permanent, "ksi"),
        traffic=b.traffic(trucks, edition),
        **more,
    )


def test_connection_plate_at_midspan_fails() -> None:
    """Own computation: 394.1 kip-ft, 6.920 ksi, 1.75 x 6.920 = 12.11 against 12: 1.009 N.G."""
    b = bench()
    found = checked(b)
    assert b.read("DeltaM_f", "kip*ft") == pytest.approx(394.1, rel=2e-4)
    assert b.read("Delta_f", "ksi") == pytest.approx(6.920, rel=2e-4)
    assert b.read("f_fat", "ksi") == pytest.approx(12.11, rel=2e-4)
    assert found.check.ratio == pytest.approx(1.009, abs=6e-4)
    assert found.check.verdict == "N.G."
    assert b.read("ADTT_lim") == 975
    assert str(b.sheet["gamma_f"].branch).startswith("Fatigue I:")


def test_finite_life_of_the_same_plate() -> None:
    """Own computation: N 3.490e7, (44e8/N)^(1/3) = 5.014 ksi; 0.80 x 6.920 = 5.536 there.

    With 900 trucks a day Fatigue II governs: N = 2.464e7, 5.631 ksi.
    """
    b = bench()
    checked(b)
    assert b.read("N_cyc") == pytest.approx(3.490e7, rel=2e-4)
    assert (44e8 / b.read("N_cyc")) ** (1 / 3) == pytest.approx(5.014, rel=2e-4)
    few = bench()
    found = checked(few, trucks=900)
    assert str(few.sheet["gamma_f"].branch).startswith("Fatigue II:")
    assert few.read("DeltaF_n", "ksi") == pytest.approx((44e8 / 24_637_500) ** (1 / 3))
    assert found.check.ratio == pytest.approx(5.536 / 5.6313, rel=2e-4)


def test_owner_asks_for_infinite_life() -> None:
    b = bench()
    found = checked(b, trucks=10, infinite_life=True)
    assert found.check.ratio == pytest.approx(1.009, abs=6e-4)
    assert "owner" in b.sheet["gamma_f"].description


def test_seventh_edition_has_its_own_factors_and_truck_counts() -> None:
    """1.50 and 0.75 with 745 trucks of C', never the other edition's (mistake 34)."""
    b = bench()
    found = checked(b, edition="7th")
    assert b.read("ADTT_lim") == 745
    assert b.read("gamma_f") == 1.5
    assert found.check.ratio == pytest.approx(1.5 * 6.920 / 12, rel=3e-4)
    few = bench()
    checked(few, trucks=740, edition="7th")
    assert few.read("gamma_f") == 0.75
    assert "7th" in str(few.sheet["gamma_f"].ref)
    with pytest.raises(RangeError, match=r"'6th'; want one of '7th', '8th', '9th'"):
        edition_rules(b.sheet, "6th")
    assert edition_rules(b.sheet, "9th").edition is Edition.NINTH


def test_permanent_compression_spares_a_detail() -> None:
    """Tension 6.920 x 1.75 = 12.11: at -12.2 ksi no net tension, at -12.0 there is."""
    b = bench()
    found = checked(b, permanent=-12.2)
    assert b.read("f_fat", "ksi") == 0
    assert found.check.ratio == 0
    assert "no net tension" in str(b.sheet["f_fat"].branch)
    c = bench()
    assert checked(c, permanent=-12.0).check.ratio > 1


def test_constant_and_threshold_cannot_change_places() -> None:
    """A is a stress cubed, the threshold a stress: units keep them apart (mistake 34)."""
    assert CATEGORIES.units["A"] == "ksi**3"
    assert CATEGORIES.units["threshold"] == "ksi"


@pytest.mark.parametrize("edition", ["7th", "8th"])
def test_truck_counts_follow_from_constants_thresholds_and_factors(edition: str) -> None:
    share = {"7th": 0.75 / 1.50, "8th": 0.80 / 1.75}[edition]
    for name in CATEGORIES.names:
        A, threshold = CATEGORIES.value(name, "A"), CATEGORIES.value(name, "threshold")
        count = A / (365 * 75 * (threshold * share) ** 3)
        assert CATEGORIES.value(name, f"adtt_{edition}") == pytest.approx(count, abs=6, rel=3e-3)


def test_every_category_at_once() -> None:
    b = bench()
    checked(b)
    out = b.sheet.evaluate(
        {
            "category": np.arange(8)[:, None],
            "ADTT_SL": np.array([100.0, 1275.0, 9000.0])[None, :],
        },
        outputs=["DeltaF_n", "gamma_f"],
    )
    for i, name in enumerate(CATEGORIES.names):
        for j, trucks in enumerate((100.0, 1275.0, 9000.0)):
            many = trucks >= CATEGORIES.value(name, "adtt_8th")
            wanted = (
                CATEGORIES.value(name, "threshold")
                if many
                else (CATEGORIES.value(name, "A") / (27375 * trucks)) ** (1 / 3)
            )
            assert out["DeltaF_n"][i, j].magnitude == pytest.approx(wanted)
            assert float(out["gamma_f"][i, j]) == (1.75 if many else 0.80)


def test_range_over_a_support_counts_both_signs() -> None:
    """Top flange: g 0.4, 1.15 (120 + 260) 0.4 = 174.8; tension by hogging 119.6 kip-ft."""
    b = bench()
    found = fatigue_range(
        b.sheet,
        sagging=b.put("M_p", 120, "kip*ft"),
        hogging=b.put("M_n", -260, "kip*ft"),
        share=b.put("g_f", 0.4),
        modulus=b.put("S", 1300, "inch**3"),
        bottom=False,
    )
    assert b.read("DeltaM_f", "kip*ft") == pytest.approx(174.8)
    assert b.read("f_tf", "ksi") == pytest.approx(119.6 * 12 / 1300)
    assert b.read("Delta_f", "ksi") == pytest.approx(174.8 * 12 / 1300)
    assert found.range.same_as(b.sheet["Delta_f"])


def test_fatigue_impact_is_15_percent() -> None:
    """33 percent belongs to strength (mistake 8)."""
    b = bench()
    midspan(b)
    assert [given.name for given in b.sheet.givens if given.name.startswith("IM")] == ["IM_f"]
    assert b.read("IM_f") == 0.15


@pytest.mark.parametrize(
    ("length", "thickness", "name"),
    [
        (1.99, 0.5, "C"),
        (2.0, 0.5, "D"),
        (4.0, 0.34, "D"),
        (4.0, 0.33, "E"),
        (4.01, 0.9, "E"),
        (4.01, 1.0, "E'"),
        (9.0, 1.5, "E'"),
    ],
)
def test_attachments(length: float, thickness: float, name: str) -> None:
    b = bench()
    found = attachment_category(
        b.sheet,
        b.rules(),
        length=b.put("L_a", length, "inch"),
        thickness=b.put("t_a", thickness, "inch"),
    )
    assert b.read("DeltaF_TH", "ksi") == CATEGORIES.value(name, "threshold")
    assert b.read("A_FT", "ksi**3") == pytest.approx(CATEGORIES.value(name, "A"))
    assert b.read("ADTT_inf") == CATEGORIES.value(name, "adtt_8th")
    assert str(b.sheet["DeltaF_TH"].branch).startswith(f"category {name}:")
    assert found.threshold.same_as(b.sheet["DeltaF_TH"])


@pytest.mark.parametrize(("thickness", "name"), [(0.8, "E"), (0.81, "E'")])
def test_cover_plate_ends(thickness: float, name: str) -> None:
    b = bench()
    cover_plate_end_category(b.sheet, b.rules("7th"), flange=b.put("t_f", thickness, "inch"))
    assert b.read("ADTT_inf") == CATEGORIES.value(name, "adtt_7th")


def test_typical_details_have_known_categories() -> None:
    places = {item.place: item.category for item in TYPICAL_DETAILS}
    assert set(places.values()) == set(CATEGORIES.names) - {"B'"}
    assert places["flange with welded studs"] == "C"
    assert places["toe of a transverse stiffener or connection plate"] == "C'"


@pytest.mark.parametrize(
    ("lanes", "both", "expected"),
    [(1, False, 1500.0), (2, False, 1275.0), (3, False, 1200.0), (4, True, 660.0)],
)
def test_trucks_in_one_lane(lanes: int, both: bool, expected: float) -> None:
    b = bench()
    single_lane_trucks(
        b.sheet, b.put("ADTT_c", 1500), lanes=b.put("n_L", lanes), both_directions=both
    )
    assert b.read("ADTT_SL") == pytest.approx(expected)


@pytest.mark.parametrize(
    ("edition", "member", "lengths", "expected"),
    [
        ("8th", "simple span", {}, 1.0),
        ("8th", "simple span", {"span": 30}, 1.0),
        ("7th", "simple span", {"span": 40}, 2.0),
        ("7th", "simple span", {"span": 41}, 1.0),
        ("8th", "continuous span", {"span": 80, "to_support": 8}, 1.5),
        ("8th", "continuous span", {"span": 80, "to_support": 8.1}, 1.0),
        ("7th", "continuous span", {"span": 40, "to_support": 20}, 2.0),
        ("7th", "continuous span", {"span": 80, "to_support": 3}, 1.5),
        ("8th", "cantilever", {}, 5.0),
        ("8th", "transverse member", {"spacing": 20}, 2.0),
        ("8th", "transverse member", {"spacing": 20.1}, 1.0),
    ],
)
def test_cycles(edition: str, member: str, lengths: dict[str, float], expected: float) -> None:
    b = bench()
    given: Any = {name: b.put(name, value, "ft") for name, value in lengths.items()}
    cycles_per_truck(b.sheet, b.rules(edition), member, **given)
    assert b.read("n_cyc") == expected


def test_cycles_need_their_lengths() -> None:
    b = bench()
    with pytest.raises(RangeError, match="depend on its distance to the nearest interior support"):
        cycles_per_truck(b.sheet, b.rules(), "continuous span", span=b.put("L", 80, "ft"))
    with pytest.raises(RangeError, match="depend on its spacing"):
        cycles_per_truck(b.sheet, b.rules(), "transverse member")
    with pytest.raises(RangeError, match="not for 'arch'"):
        cycles_per_truck(b.sheet, b.rules(), "arch")


def test_more_cycles_lower_the_truck_count() -> None:
    """n = 1.5 near a support: 975/1.5 = 650 trucks a day."""
    b = bench()
    L, at = b.sheet.given("L", 80 * ft), b.sheet.given("x_s", 4 * ft)
    cycles = cycles_per_truck(b.sheet, b.rules(), "continuous span", span=L, to_support=at)
    road: Traffic = traffic(b.sheet, trucks=b.put("ADTT_SL", 700), cycles=cycles)
    fatigue_check(
        b.sheet,
        detail(b),
        b.rules(),
        stress=midspan(b),
        permanent=b.put("f_perm", 0, "ksi"),
        traffic=road,
    )
    assert b.read("ADTT_lim") == 650
    assert b.read("N_cyc") == pytest.approx(365 * 75 * 1.5 * 700)
    assert str(b.sheet["gamma_f"].branch).startswith("Fatigue I:")


@pytest.mark.parametrize(("edition", "demand"), [("8th", 90 + 1.75 * 30), ("7th", 90 + 1.5 * 30)])
def test_web_fatigue(edition: str, demand: float) -> None:
    b = bench()
    check = web_fatigue(
        b.sheet,
        b.rules(edition),
        permanent=b.put("V_D", 90, "kip"),
        live=b.put("V_f", 30, "kip"),
        buckling=b.put("V_cr", 150, "kip"),
    )
    assert check.ratio == pytest.approx(demand / 150)


def test_table_by_detail_and_location() -> None:
    b = bench()
    stress = midspan(b)
    result = fatigue_check(
        b.sheet,
        detail(b),
        b.rules(),
        stress=stress,
        permanent=b.put("f_perm", 1, "ksi"),
        traffic=b.traffic(),
    )
    fatigue_table(b.sheet, [FatigueRow("connection plate", "0.5 L", "C'", stress, result)])
    (found,) = tables_on(b.sheet)
    assert list(found.rows[0][:3]) == ["connection plate", "0.5 L", "C'"]
    assert len(found.header) == len(found.rows[0]) == 7


# older codes


@pytest.mark.parametrize(
    ("trucks", "ratios"),
    [
        (2500, (12.0 / 13, 12.5 / 21, 11.0 / 12)),
        (2499, (12.0 / 21, 12.5 / 35.5, 0.0)),
    ],
)
def test_older_fatigue(trucks: float, ratios: tuple[float, ...]) -> None:
    b = bench()
    choice = b.sheet.given("category", "C'", choices="stress_ranges_std")
    found = older_fatigue(
        b.sheet,
        choice,
        trucks=b.put("ADTT", trucks),
        ranges=OlderRanges(
            b.put("f_t", 12, "ksi"), b.put("f_l", 12.5, "ksi"), b.put("f_1", 11, "ksi")
        ),
    )
    assert [check.ratio for check in found] == pytest.approx(list(ratios))


def test_older_ranges_fall_with_cycles_and_category() -> None:
    ranges = table("stress_ranges_std")
    columns = ["n_100000", "n_500000", "n_2000000", "n_over"]
    for name in ranges.names:
        row = [ranges.value(name, column) for column in columns]
        assert row == sorted(row, reverse=True)
    for column in columns[:3]:
        values = [ranges.value(name, column) for name in ranges.names]
        assert values == sorted(values, reverse=True)


def test_older_ranges_follow_the_same_constants_as_lrfd() -> None:
    """(A/N)^(1/3) gives the tabulated ranges up to two million cycles within their rounding."""
    ranges = table("stress_ranges_std")
    for name in ranges.names:
        for column, cycles in (("n_100000", 1e5), ("n_500000", 5e5), ("n_2000000", 2e6)):
            wanted = (CATEGORIES.value(name, "A") / cycles) ** (1 / 3)
            assert ranges.value(name, column) == pytest.approx(wanted, rel=0.04), (name, column)
    assert Q_(1, "ksi").units == Q_(1, ranges.units["n_over"]).units
