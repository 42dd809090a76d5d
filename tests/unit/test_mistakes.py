"""The usual mistakes of a girder calculation, one test each: not possible, refused, or told.

The numbers are those of a list of common mistakes kept by the authors.  Left out: 39 (load rating,
which is no part of this calculation).
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np
import pytest

from stepcalc import Sheet
from stepcalc.bridge.bridge_file import parse_bridge
from stepcalc.bridge.composite.assembled import composite_positive_flexure
from stepcalc.bridge.composite.gradient import moment_gradient
from stepcalc.bridge.composite.slab import effective_width
from stepcalc.bridge.constants import code_constant
from stepcalc.bridge.continuous.kernels import span_kernels
from stepcalc.bridge.details.camber import CamberStage, simple_span_camber
from stepcalc.bridge.details.editions import edition_rules
from stepcalc.bridge.feet_inches import parse_feet_inches
from stepcalc.bridge.fields import HaunchDatum
from stepcalc.bridge.girder import girder_sheet
from stepcalc.bridge.live_load import hl93_lane
from stepcalc.bridge.section_fields import SkewReduction
from stepcalc.bridge.whole.calculation import composite_calculation
from stepcalc.data.tables import table
from stepcalc.errors import BridgeFileError, DimensionError, RangeError, UnknownNameError
from stepcalc.sheet.proofs import proof_of
from stepcalc.units import Q_, ft, inch, kip, kip_ft, klf, ksi
from tests.unit.bridge_beam import beam, tables_on
from tests.unit.bridge_beam import number as of_beam
from tests.unit.bridge_loads import bridge_62_ft, loads
from tests.unit.test_whole_girder import DEMO
from tests.unit.whole_bridge import benchmark, check, composite_bridge, details, number

DEAD, LIVE = "Dead-load moments and shears", "Live load of one lane"


def refused(change: Callable[[str], str]) -> str:
    """Return the message that a changed bridge file is refused with."""
    text = DEMO.read_text("utf-8")
    changed = change(text)
    assert changed != text
    with pytest.raises(BridgeFileError) as raised:
        parse_bridge(changed)
    return str(raised.value)


def test_01_weights_on_area_line_and_volume_cannot_be_mixed() -> None:
    for key, wrong in (("concrete_weight", "plf"), ("wearing_surface", "plf"), ("forms", "pcf")):
        with pytest.raises(DimensionError, match=key):
            bridge_62_ft(**{key: Q_(25, wrong)})
    assert 0.5 < number(benchmark().interior, "Dead load/w_d", "klf") < 1.5


def test_02_twelve_inches_to_a_foot_are_not_forgotten() -> None:
    sheet = Sheet("stress")
    M, S = sheet.given("M", 100 * kip_ft), sheet.given("S", 100 * inch**3)
    assert of_beam(sheet, sheet.step("f", M / S, ksi).name, "ksi") == pytest.approx(12)


def test_03_psi_in_a_formula_for_ksi_changes_nothing() -> None:
    in_ksi, in_psi = beam(fy=50), Sheet("psi")
    F_y = in_psi.given("F_y", Q_(50_000, "psi"))
    limit = in_psi.step("limit", (29_000 * ksi / F_y) ** 0.5)
    assert of_beam(in_psi, limit.name) == pytest.approx((29_000 / 50) ** 0.5)
    assert of_beam(in_ksi.sheet, "L_p", "inch") == pytest.approx(71.6, rel=1e-3)


def test_04_concrete_in_psi_is_read_as_psi_and_nonsense_refused() -> None:
    assert composite_bridge(concrete_strength=Q_(4000, "psi")).concrete_strength == 4 * ksi
    for wrong in (Q_(4, "psi"), 4000 * ksi):
        with pytest.raises(RangeError, match="concrete_strength"):
            composite_bridge(concrete_strength=wrong)


def test_05_the_distribution_equation_takes_any_unit_of_length() -> None:
    inches = loads(bridge_62_ft(span=744 * inch, structural_thickness=Q_(8 / 12, "ft")))
    assert inches.number("g_M2") == pytest.approx(loads(bridge_62_ft()).number("g_M2"), rel=1e-12)


def test_06_wheel_lines_are_halved_and_named_where_they_occur() -> None:
    older = girder_sheet(bridge_62_ft(), "LFD", proof=None)
    DF = older["DF"]
    assert "wheel lines" in DF.description
    newer = benchmark().interior["Live-load distribution/g_M"]
    assert "lanes" in newer.description
    assert 1.8 < float(DF.value.magnitude) / float(newer.value.magnitude) < 2.4


def test_07_multiple_presence_once_and_where_it_belongs() -> None:
    sheet = benchmark().exterior
    assert number(sheet, "g_e1") == pytest.approx(1.2 * number(sheet, "R_e1"))
    proof, _ = proof_of(next(node for node in sheet.steps if node.name == "g_r"))
    assert number(proof, "g_r1") == pytest.approx(1.2 * number(proof, "R_r1"))
    assert number(sheet, "g_r") == pytest.approx(number(proof, "R_r2"))
    assert number(sheet, "g_Me2") == pytest.approx(
        number(sheet, "e_M") * number(sheet, "Live-load distribution/g_M2")
    )


def test_08_fatigue_has_its_own_share_impact_and_truck() -> None:
    sheet, place = benchmark().interior, "Fatigue/Fatigue: connection plate, bottom flange"
    share = number(sheet, "Live-load distribution/g_M1") / 1.2
    truck = number(sheet, "M_f5", "kip*ft")
    assert truck < number(sheet, f"{LIVE}/M_tr", "kip*ft")  # 30 ft between the rear axles
    assert number(sheet, f"{place}/DeltaM_f", "kip*ft") == pytest.approx(share * 1.15 * truck)


def test_09_no_impact_on_the_lane_load() -> None:
    sheet = benchmark().interior
    M = {name: number(sheet, f"{LIVE}/{name}", "kip*ft") for name in ("M_tr", "M_ln", "M_HL")}
    assert M["M_HL"] == pytest.approx(1.33 * M["M_tr"] + M["M_ln"])


def test_10_the_tandem_governs_where_it_does() -> None:
    sheet = Sheet("short span")
    hl93_lane(sheet, sheet.given("L", 24 * ft), proof=None)
    found = {name: of_beam(sheet, name, "kip*ft") for name in ("M_tr", "M_td", "M_ln", "M_HL")}
    assert found["M_td"] > found["M_tr"]
    assert found["M_HL"] == pytest.approx(1.33 * found["M_td"] + found["M_ln"])


def live(effect: str, which: str, spans: tuple[float, float] = (80.0, 80.0), **at: Any) -> float:
    """Return an effect of HL-93 with impact on two spans, one lane."""
    kernel = span_kernels(2).live[effect]
    lengths = [name for name, unit in kernel.inputs.items() if unit == "ft"]
    inputs = dict(zip(lengths, spans, strict=True))
    return float(
        kernel.function(**inputs, layout="prismatic", load="HL-93", impact=0.33, which=which, **at)
    )


def test_11_two_trucks_at_ninety_percent_at_the_pier_only() -> None:
    """-1691.2 at the pier by two trucks, -379.9 at 0.4 L by one; own computation of 2026."""
    pier = live("moment", "min", place="1", fraction=1.0)
    assert pier == pytest.approx(-1691.2, rel=2e-3)
    assert live("moment", "max", place="1", fraction=0.4) == pytest.approx(1636.4, rel=2e-3)


def test_12_both_headings_run() -> None:
    """Unequal spans and their mirror image: one heading alone would tell them apart."""
    there = live("moment", "min", (60.0, 95.0), place="1", fraction=1.0)
    back = live("moment", "min", (95.0, 60.0), place="1", fraction=1.0)
    assert there == pytest.approx(back, rel=1e-9)
    quarter = live("moment", "max", (60.0, 95.0), place="1", fraction=0.25)
    mirror = live("moment", "max", (95.0, 60.0), place="2", fraction=0.75)
    assert quarter == pytest.approx(mirror, rel=1e-9)


def test_13_axles_that_relieve_are_left_out_and_the_sheet_says_so() -> None:
    from stepcalc.bridge.moving_loads import AXLE_SHEAR

    assert "left out" in AXLE_SHEAR.method


def test_14_the_greatest_truck_moment_is_not_that_at_midspan() -> None:
    sheet = benchmark().interior
    assert number(sheet, f"{LIVE}/M_tr", "kip*ft") == pytest.approx(842.32, rel=1e-4)
    at_midspan = (32 * 31 + (32 + 8) * (31 - 14)) / 2  # ordinates x/2 on half the span
    assert at_midspan == pytest.approx(836.00)
    assert number(sheet, f"{LIVE}/M_tr", "kip*ft") > at_midspan


def test_15_shear_has_its_own_distribution_factor() -> None:
    sheet = benchmark().interior
    assert number(sheet, "V_LL", "kip") == pytest.approx(
        number(sheet, "Live-load distribution/g_V") * number(sheet, f"{LIVE}/V_HL", "kip")
    )
    assert number(sheet, "Live-load distribution/g_V") > number(sheet, "Live-load distribution/g_M")


def test_16_the_haunch_weighs_once_and_has_its_datum() -> None:
    assert "haunch_datum" in refused(
        lambda text: text.replace('haunch_datum = "top of top flange"\n', "")
    )
    web = composite_bridge(haunch=2.29 * inch, haunch_datum=HaunchDatum.TOP_OF_WEB)
    sheet = composite_calculation(web, proof=None).interior
    assert number(sheet, "Dead load/t_h", "inch") == pytest.approx(1.5)
    assert number(sheet, "Dead load/w_h", "klf") == pytest.approx(0.0187, abs=5e-5)


def test_17_the_sacrificial_surface_weighs_and_does_not_resist() -> None:
    sheet = benchmark().interior
    assert number(sheet, "q_d", "psf") == pytest.approx(8.5 / 12 * 150)
    assert number(sheet, "A_c", "inch**2") == pytest.approx(8 * 99)


def test_18_the_beam_weighs_once() -> None:
    sheet = benchmark().interior
    assert number(sheet, "w_st", "plf") == pytest.approx(135 * 1.06)


def test_19_forms_span_between_the_flanges() -> None:
    found = benchmark()
    assert number(found.interior, "w_f", "plf") == pytest.approx(15 * 7.25)
    assert number(found.exterior, "w_f", "plf") == pytest.approx(15 * 7.25 / 2)


def test_20_wearing_surface_curb_to_curb_and_barriers_shared() -> None:
    sheet = benchmark().exterior
    assert number(sheet, "w_DW", "klf") == pytest.approx(0.025 * 36.25 / 5)
    assert number(sheet, "w_DC2", "klf") == pytest.approx(2 * 0.42 / 5)


def test_21_every_load_acts_on_its_own_section() -> None:
    sheet = benchmark().exterior
    for load, modulus in (("DC1", "S_x"), ("DC2", "S_3nb"), ("DW", "S_3nb"), ("LL", "S_nb")):
        M = number(sheet, f"{DEAD}/M_{load}" if load != "LL" else "M_LL", "kip*inch")
        place = "Trial section/S_x" if modulus == "S_x" else f"Section properties/{modulus}"
        assert number(sheet, f"f_b{load}", "ksi") == pytest.approx(
            M / number(sheet, place, "inch**3")
        )


def test_22_moduli_are_named_by_fibre_and_section() -> None:
    sheet = benchmark().exterior
    values = {
        name: number(sheet, f"Section properties/{name}", "inch**3")
        for name in ("S_nb", "S_nt", "S_3nb", "S_3nt")
    }
    assert len({round(value) for value in values.values()}) == 4
    assert "bottom of steel, n section" in sheet["Section properties/S_nb"].description


def test_23_the_longitudinal_stiffness_is_of_the_steel_to_the_middle_of_the_deck() -> None:
    sheet = benchmark().exterior
    e_g = 35.6 / 2 + 1.5 + 8 / 2
    assert number(sheet, "K_g", "inch**4") == pytest.approx(8 * (7800 + 39.9 * e_g**2))


def test_24_d_e_runs_from_the_face_of_the_barrier_and_warns_outside_its_range() -> None:
    assert number(benchmark().exterior, "d_e", "ft") == pytest.approx(1.625)
    wide = composite_calculation(composite_bridge(overhang=8 * ft), proof=None)
    assert any("e_M" in path for path, _ in wide.exterior.warnings)
    for name in ("g_Me2", "g_Ve2"):
        (step,) = (node for node in wide.exterior.steps if node.name == name)
        assert step.branch == "lever rule, d_e above 5.5 ft"


def test_25_the_lever_rule_leaves_wheels_beyond_the_hinge() -> None:
    narrow = composite_bridge(girder_spacing=5.5 * ft, girders=7)
    sheet = composite_calculation(narrow, proof=None).exterior
    first = 5.5 + 1.625 - 2
    assert first - 6 < 0
    assert number(sheet, "R_e1") == pytest.approx(first / (2 * 5.5))


def test_26_the_rigid_section_is_always_looked_at() -> None:
    sheet = benchmark().exterior
    assert number(sheet, "g_Me") == pytest.approx(number(sheet, "g_r"))
    assert number(sheet, "g_Me") > max(number(sheet, "g_Me2"), number(sheet, "g_e1"))


def test_27_the_effective_width_names_its_rule() -> None:
    sheet = Sheet("width")
    S, t = sheet.given("S", 8.25 * ft), sheet.given("t", 8 * inch)
    with pytest.raises(RangeError, match="tributary width"):
        effective_width(sheet, "12 t", spacing=S, slab=t)
    assert number(benchmark().exterior, "Section properties/b_s", "inch") == pytest.approx(85.5)


@pytest.mark.parametrize("wrong", ["0 ft", "69 ft", None])
def test_28_the_unbraced_length_is_asked_for(wrong: str | None) -> None:
    line = 'diaphragm_spacing = "17\'-0\\""\n'
    new = "" if wrong is None else f'diaphragm_spacing = "{wrong}"\n'
    assert "diaphragm_spacing" in refused(lambda text: text.replace(line, new))


def test_29_the_moment_gradient_has_the_sign_of_the_flange_stress() -> None:
    def C_b(first: float, middle: float, second: float) -> float:
        sheet = Sheet("gradient")
        f = [
            sheet.given(name, value * ksi)
            for name, value in (("a", first), ("b", middle), ("c", second))
        ]
        moment_gradient(sheet, first=f[0], middle=f[1], second=f[2])
        return of_beam(sheet, "C_b")

    assert C_b(20, 20, 20) == pytest.approx(1.0)
    assert C_b(0, 10, 20) == pytest.approx(1.75)
    assert C_b(-20, 0, 20) == pytest.approx(2.3)


def test_30_shear_takes_the_depth_of_the_web_not_of_the_beam() -> None:
    sheet = benchmark().interior
    D = 35.6 - 2 * 0.79
    assert number(sheet, "Strength I, shear/V_p", "kip") == pytest.approx(0.58 * 50 * D * 0.6)


def test_31_the_limit_of_continuous_spans_is_asked_for() -> None:
    sheet: Any = Sheet("no answer")
    unknown: Any = composite_positive_flexure
    with pytest.raises(TypeError, match="continuous"):
        unknown(sheet, None, None, None)
    found = benchmark().exterior
    M_n = number(found, "Strength I, flexure/Strength, Article 6.10.7/M_n", "kip*ft")
    assert M_n > 1.3 * number(found, "Strength I, flexure/Yield moment/M_y", "kip*ft")


def test_32_no_load_shedding_in_the_pour_and_phi_of_bridges() -> None:
    sheet = benchmark().interior
    assert number(sheet, "Constructibility/F_max", "ksi") == pytest.approx(50)
    assert code_constant("phi_f").value == 1.0


def test_33_the_second_construction_combination() -> None:
    sheet = benchmark().interior
    M_1, M_C = number(sheet, f"{DEAD}/M_DC1", "kip*ft"), number(sheet, "M_C", "kip*ft")
    assert number(sheet, "M_cu", "kip*ft") == pytest.approx(1.4 * (M_1 + M_C))


def test_34_fatigue_constants_of_one_edition_go_together() -> None:
    sheet = Sheet("editions")
    older, newer = edition_rules(sheet, "7th"), edition_rules(sheet, "8th")
    ratio = [float(rules.infinite.value.magnitude) for rules in (older, newer)]  # type: ignore[attr-defined]
    assert ratio == [1.50, 1.75]
    assert older.limit_column != newer.limit_column
    with pytest.raises(RangeError):
        edition_rules(sheet, "10th")


def test_35_a_detail_in_compression_is_not_checked_for_fatigue() -> None:
    sheet = benchmark().exterior
    assert check(sheet, "Fatigue, top flange at the studs").ratio == 0
    assert number(sheet, "Fatigue/Fatigue: top flange at the studs/Delta_f", "ksi") > 0


def test_36_deflection_shares_the_lanes_with_multiple_presence_and_no_load_factor() -> None:
    sheet = benchmark().exterior
    assert number(sheet, "g_def") == pytest.approx(0.85 * 3 / 5)
    K = max(number(sheet, "K_1", "kip*ft**3"), number(sheet, "K_2", "kip*ft**3"))
    assert number(sheet, "K_LL", "kip*ft**3") == pytest.approx(0.51 * K)


def test_37_studs_are_counted_to_one_side_of_the_greatest_moment() -> None:
    sheet = benchmark().exterior
    assert "one side" in sheet["n_req"].description
    lengths = 5 * number(sheet, "L_10", "ft")
    assert lengths == pytest.approx(31)


def test_38_camber_by_stages_of_one_section_is_refused() -> None:
    sheet = Sheet("camber")
    inertia, L = sheet.given("I", 7800 * inch**4), sheet.given("L", 62 * ft)
    stages = [CamberStage(name, sheet.given(f"w_{name}", 1 * klf), inertia) for name in ("A", "B")]
    with pytest.raises(RangeError, match="same"):
        simple_span_camber(
            sheet, stages, span=L, step_size=sheet.given("r", 0.125 * inch), composite=True
        )


def test_40_skew_never_reduces_below_thirty_degrees_nor_shear() -> None:
    assert "skew" in refused(lambda text: text.replace("[deck]", 'skew = "35"\n[deck]', 1))
    square = benchmark().interior
    for angle, reduced in ((29, False), (35, True)):
        turned = details(skew_angle=Q_(angle, "degree"), skew_reduction=SkewReduction.TAKEN)
        sheet = composite_calculation(composite_bridge(turned), proof=None).interior
        less = number(sheet, "g_Ms") < number(square, "Live-load distribution/g_M")
        assert less is reduced
        assert number(sheet, "g_Vs") > number(square, "Live-load distribution/g_V")


def test_41_a_verdict_is_made_on_the_unrounded_ratio() -> None:
    sheet = Sheet("edge")
    demand, capacity = sheet.given("V_u", 1000.4 * kip), sheet.given("V_r", 1000 * kip)
    found = sheet.check("edge", demand <= capacity)
    assert found.verdict == "N.G."
    assert found.ratio == pytest.approx(1.0004)


def test_42_feet_and_inches_are_read_as_such() -> None:
    assert parse_feet_inches("8'-3\"").to("ft").magnitude == pytest.approx(8.25)
    assert "girder_spacing" in refused(
        lambda text: text.replace('girder_spacing = "7\'-4\\""', "girder_spacing = 8.3")
    )


def test_43_the_shape_table_agrees_with_itself() -> None:
    shapes = table("w_shapes").columns
    S = 2 * np.asarray(shapes["Ix"]) / np.asarray(shapes["d"])
    apart = np.abs(S / np.asarray(shapes["Sx"]) - 1)
    # the table rounds I_x and S_x to three digits; a small shape loses most
    assert np.max(apart) < 0.012


def test_44_reactions_are_of_one_girder() -> None:
    for sheet in (benchmark().interior, benchmark().exterior):
        captions = [item.caption for item in tables_on(sheet) if "reactions" in item.caption]
        assert len(captions) == 1
        assert "not added to those of another girder" in captions[0]


def test_45_clauses_of_two_codes_are_not_mixed() -> None:
    for sheet in (benchmark().interior, benchmark().exterior):
        codes = {(step.ref or "").split(" ")[0] for step in [*sheet.steps, *sheet.checks]}
        assert "Std" not in codes
    older = girder_sheet(bridge_62_ft(), "ASD", proof=None)
    assert not any((check.ref or "").startswith("LRFD") for check in older.checks)
    with pytest.raises(UnknownNameError):
        code_constant("gamma_DC_LFD")
