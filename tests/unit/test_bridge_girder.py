"""The whole interior girder: own benchmark, plain floats, three specifications, alternatives."""

from __future__ import annotations

import json
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stepcalc import Sheet, TitleBlock
from stepcalc.bridge.alternatives_page import recommendation_lines
from stepcalc.bridge.constants import code_constant
from stepcalc.bridge.constants_page import constants_sheet
from stepcalc.bridge.fields import LiveLoadMaximum, Specification, TopFlange
from stepcalc.bridge.girder import GirderCalculation, girder_calculation, girder_sheet
from stepcalc.data.tables import table
from stepcalc.errors import RangeError
from stepcalc.units import Q_, ft, inch, psf
from tests.unit import bridge_reference as ref
from tests.unit.bridge_beam import tables_on
from tests.unit.bridge_loads import bridge_62_ft, number

SHAPES = table("w_shapes").names
CLOSED_FORM, SWEEP = 1e-3, 2e-3


def calculation(method: str = "LRFD", **changes: Any) -> GirderCalculation:
    """Return the benchmark bridge, its flange resting, 10 psf in the pour."""
    options = {
        "top_flange": TopFlange.RESTING, "construction_load": 10 * psf, "modular_ratio": 8,
    }  # fmt: skip
    return girder_calculation(bridge_62_ft(**(options | changes)), method, proof=None)


@pytest.mark.parametrize(
    ("name", "unit", "value"),
    [
        # own computation of 2026 for the same bridge in plain Python, printed to 4 or 5 digits
        ("w_DC1", "klf", 1.1472), ("w_DC2", "klf", 0.1680), ("w_DW", "klf", 0.18125),
        ("M_DC1", "kip*ft", 551.21), ("M_DC2", "kip*ft", 80.72), ("M_DW", "kip*ft", 87.09),
        ("M_HL", "kip*ft", 1427.81), ("V_HL", "kip", 101.18), ("K_g", "inch**4", 235_690.0),
        ("g_M1", "", 0.4812), ("g_M2", "", 0.6601), ("g_V1", "", 0.6900), ("g_V2", "", 0.8319),
        ("g_def", "", 0.510), ("M_LL", "kip*ft", 942.44), ("V_LL", "kip", 84.18),
        ("M_u", "kip*ft", 2569.83), ("V_u", "kip", 206.70), ("M_SII", "kip*ft", 1944.20),
        ("Z_req", "inch**3", 616.8), ("M_p", "kip*ft", 2120.8), ("M_y", "kip*ft", 1829.2),
        ("L_r6", "inch", 287.0), ("M_nA6", "kip*ft", 1674.3), ("M_n8", "kip*ft", 1510.7),
        ("f_f", "ksi", 53.14), ("Delta_LL", "inch", 1.636), ("M_cu", "kip*ft", 827.2),
        ("f_bu", "ksi", 22.61), ("F_LTB", "ksi", 41.29), ("R_ny", "kip", 475.5),
        ("R_nc", "kip", 350.2), ("N_L", "", 3.0),
    ],
)  # fmt: skip
def test_benchmark_values(name: str, unit: str, value: float) -> None:
    assert number(calculation().sheet, name, unit) == pytest.approx(value, rel=CLOSED_FORM)


def test_benchmark_verdicts() -> None:
    """D/C 1.535 by A6, 1.701 by 6.10.8, 1.212 braced; 1.329, 1.759, 0.349, 0.548, 0.738."""
    found = calculation()
    ratios = {check.name: check.ratio for check in found.sheet.checks}
    for name, value in (
        ("Flexure, Strength I", 1.535), ("Flange stress, Service II", 1.329),
        ("Live-load deflection", 1.759), ("Shear, Strength I", 0.349),
        ("Flange buckling, deck pour", 0.548), ("Web crippling at the bearing", 0.738),
    ):  # fmt: skip
        assert ratios[name] == pytest.approx(value, rel=CLOSED_FORM), name
    by_stress = number(found.sheet, "M_u", "kip*ft") / number(found.sheet, "M_n8", "kip*ft")
    assert by_stress == pytest.approx(1.701, rel=CLOSED_FORM)
    braced = calculation(top_flange=TopFlange.ANCHORED).sheet
    assert braced["Flexure, Strength I"].ratio == pytest.approx(1.212, rel=CLOSED_FORM)
    assert not found.passed
    assert found.verdict.startswith("interior girder W36X135, span 62 ft, spacing 8.25 ft, LRFD: N")


@pytest.mark.parametrize("basis", list(TopFlange))
def test_benchmark_recommendation_is_the_same_braced_or_not(basis: TopFlange) -> None:
    """W40x199 overall; in W36 the 231 and the 232; W36x210 fails by deflection, 1.039."""
    found = calculation(top_flange=basis).recommendation
    assert found.lightest is not None
    assert found.lightest.shape == "W40X199"
    assert found.lightest.governing == "Live-load deflection"
    assert found.lightest.worst == pytest.approx(0.921, rel=CLOSED_FORM)
    best = {label: item.shape for label, item in found.series if item is not None}
    assert best == {"W36, flange about 12 in": "W36X232", "W36, flange about 16.5 in": "W36X231"}
    assert found.next_heavier is not None
    assert found.next_heavier.shape == "W36X150"


def test_benchmark_alternatives_by_check() -> None:
    sheet = calculation().sheet
    for shape, flexure, service, deflection in (
        ("W40X199", 0.834, 0.794, 0.921), ("W36X231", 0.746, 0.724, 0.879),
        ("W36X210", None, None, 1.039), ("W36X232", None, None, 0.915),
    ):  # fmt: skip
        again = sheet.revise(shape=shape)
        for name, value in (
            ("Flexure, Strength I", flexure), ("Flange stress, Service II", service),
            ("Live-load deflection", deflection),
        ):  # fmt: skip
            if value is not None:
                assert again[name].ratio == pytest.approx(value, rel=CLOSED_FORM), (shape, name)


def check_against(reference: dict[str, float], sheet: Sheet) -> None:
    found = {check.name: check.ratio for check in sheet.checks}
    assert found.keys() == reference.keys()
    for name, value in reference.items():
        assert found[name] == pytest.approx(value, rel=2e-5), name


BRIDGES = st.builds(
    ref.Bridge,
    span=st.sampled_from([31.0, 47.5, 62.0, 88.0, 120.0]),
    girders=st.integers(4, 7),
    spacing=st.sampled_from([5.25, 7.0, 8.25, 9.75]),
    overhang=st.sampled_from([2.0, 3.25]),
    misc=st.sampled_from([0.0, 0.06]),
    surface_psf=st.sampled_from([0.0, 35.0]),
    braces=st.sampled_from([8.0, 15.5, 24.0]),
    bearing_in=st.sampled_from([5.0, 12.0]),
    fy=st.sampled_from([36.0, 50.0]),
)
BEAMS = st.sampled_from(["W27X84", "W30X90", "W33X118", "W36X135", "W40X199", "W44X335", "W14X132"])


def as_data(b: ref.Bridge, shape: str, *, braced: bool) -> Any:
    return bridge_62_ft(
        span=b.span * ft, girders=b.girders, girder_spacing=b.spacing * ft,
        overhang=b.overhang * ft, miscellaneous=Q_(100 * b.misc, "percent"),
        wearing_surface=b.surface_psf * psf, diaphragm_spacing=b.braces * ft,
        bearing_length=b.bearing_in * inch, steel_grade={36.0: "36", 50.0: "50"}[b.fy],
        shape=shape, construction_load=10 * psf, modular_ratio=8,
        top_flange=TopFlange.ANCHORED if braced else TopFlange.RESTING,
    )  # fmt: skip


@settings(max_examples=20)
@given(bridge=BRIDGES, shape=BEAMS, braced=st.booleans())
def test_lrfd_against_plain_floats(bridge: ref.Bridge, shape: str, braced: bool) -> None:
    sheet = girder_sheet(as_data(bridge, shape, braced=braced), "LRFD", proof=None)
    check_against(ref.lrfd_ratios(bridge, ref.shape(shape), braced=braced), sheet)


@pytest.mark.parametrize("method", ["ASD", "LFD"])
@settings(max_examples=12)
@given(bridge=BRIDGES, shape=BEAMS, braced=st.booleans())
def test_older_codes_against_plain_floats(
    method: str, bridge: ref.Bridge, shape: str, braced: bool
) -> None:
    sheet = girder_sheet(as_data(bridge, shape, braced=braced), method, proof=None)
    expected = ref.standard_ratios(bridge, ref.shape(shape), method=method, braced=braced)
    check_against(expected, sheet)


def test_one_switch_and_the_same_data() -> None:
    data = bridge_62_ft()
    titles = {girder_sheet(data, method, proof=None).title for method in ("LRFD", "ASD", "LFD")}
    assert len(titles) == 3
    by_data = replace(data, specification=Specification.ASD)
    assert girder_sheet(by_data, proof=None).title == girder_sheet(data, "ASD", proof=None).title
    with pytest.raises(RangeError, match="'LRFD', 'LFD', 'ASD'"):
        girder_sheet(data, "WSD")


def test_combined_maximum_at_one_section_takes_dead_load_there() -> None:
    """Own computation: 1426.37 at x = 29.07 ft; M_DC1 there is 1.1472 x 29.07 x 32.93/2."""
    sheet = calculation(live_load_maximum=LiveLoadMaximum.ONE_SECTION).sheet
    assert number(sheet, "M_HL", "kip*ft") == pytest.approx(1426.37, rel=SWEEP)
    x = number(sheet, "x_LL", "ft")
    assert x == pytest.approx(29.07, abs=0.01)
    dead = number(sheet, "w_DC1", "klf") * x * (62 - x) / 2
    assert number(sheet, "M_DC1", "kip*ft") == pytest.approx(dead)
    assert number(sheet, "M_u", "kip*ft") < 2569.83


def test_all_shapes_spacings_and_spans_in_one_call() -> None:
    """289 x 40 x 20 girders through every check; a few of them against single sheets."""
    sheet = calculation().sheet
    names = [check.path for check in sheet.checks]
    S, L = np.linspace(5.0, 12.0, 40), np.linspace(25.0, 120.0, 20)
    out = sheet.evaluate(
        {"shape": np.arange(289)[:, None, None], "S": S[None, :, None] * ft,
         "L": L[None, None, :] * ft},
        outputs=names,
    )  # fmt: skip
    for i, j, k in ((59, 7, 3), (19, 39, 19), (288, 0, 0), (133, 20, 11)):
        one = sheet.revise(shape=SHAPES[i], S=S[j] * ft, L=L[k] * ft)
        for check in one.checks:
            found = np.broadcast_to(out[check.path], (289, 40, 20))[i, j, k]
            assert found == pytest.approx(check.ratio, rel=1e-12), check.name


def test_a_narrower_spacing_and_a_shorter_span_are_found() -> None:
    found = calculation(shape="W40X199")
    span, overhang, width, count = found.recommendation.limits
    assert span.value is not None
    assert overhang.value is not None
    assert found.sheet.revise(L=span.value * ft).passed
    assert not found.sheet.revise(L=(span.value + 0.01) * ft).passed
    assert found.sheet.revise(S=overhang.value * ft).passed
    assert span.value > 62
    assert overhang.value > 8.25
    assert "overhang held at 3 ft" in overhang.held
    assert "deck width held at 39 ft" in width.held
    assert "girders" in count.held


def test_no_shape_passes_a_very_long_span() -> None:
    found = calculation(span=230 * ft)
    assert found.recommendation.lightest is None
    text = " ".join(recommendation_lines(found.recommendation))
    assert "No W shape of the table passes" in text
    assert found.recommendation.closest.shape in text


def test_a_span_outside_the_equations_is_flagged_and_never_recommended() -> None:
    found = calculation(span=18 * ft, diaphragm_spacing=9 * ft)
    assert found.sheet["g_M2"].warnings
    assert not found.passed
    assert found.recommendation.lightest is None
    assert ": no verdict; 6 of 18 checks follow from a formula outside its range" in found.verdict
    assert found.to_json_dict()["warnings"]
    text = " ".join(recommendation_lines(found.recommendation))
    assert "a range of application rules out all of them" in text


def test_results_as_plain_data() -> None:
    found = calculation()
    data = json.loads(json.dumps(found.to_json_dict(), allow_nan=False))
    assert data["results"]["M_u"]["value"] == pytest.approx(2569.83, rel=CLOSED_FORM)
    assert data["results"]["M_u"]["ref"].startswith("LRFD 3.4.1")
    assert data["governing"] == "Live-load deflection"
    assert [check["name"] for check in data["checks"]] == [c.name for c in found.sheet.checks]
    for check in data["checks"]:
        assert check["ratio"] == pytest.approx(check["demand"] / check["capacity"])
        assert check["verdict"] == ("OK" if check["ratio"] <= 1 + 1e-9 else "N.G.")
    assert data["passed"] is False
    assert any("exterior girder" in item for item in data["not_checked"])
    assert data["givens"]["shape"]["value"] == "W36X135"


@pytest.mark.parametrize("method", ["LRFD", "ASD", "LFD"])
def test_every_step_says_what_it_is_and_where_it_stands(method: str) -> None:
    sheet = girder_sheet(bridge_62_ft(), method)
    for step in sheet.steps:
        assert step.ref, step.path
        assert step.description, step.path
    for check in sheet.checks:
        assert check.ref, check.path
    for item in sheet.givens:
        assert item.source or item.entry.assumed, item.path


@pytest.mark.parametrize("method", ["LRFD", "ASD", "LFD"])
def test_no_factor_of_a_code_is_a_bare_number_and_none_is_left_off_the_page(method: str) -> None:
    sheet = girder_sheet(bridge_62_ft(top_flange=TopFlange.RESTING), method)
    tables = tables_on(constants_sheet([sheet]))
    factors = {row[0].layout[1] for row in tables[0].rows}
    expected = {
        "LRFD": {"gamma_DC", "gamma_DW", "gamma_LL", "gamma_SII", "phi_f", "phi_v", "phi_w", "IM",
                 "w_lane", "c_SII", "r_LL", "gamma_cD", "gamma_cC", "gamma_c2", "E", "b_lane"},
        "ASD": {"c_Fb", "c_Fv", "I_max", "D_wl", "w_HS", "P_HSM", "r_def"},
        "LFD": {"gamma_LFD", "beta_LFD", "c_over", "I_max", "D_wl"},
    }[method]  # fmt: skip
    assert expected <= factors
    for name in expected:
        assert code_constant(name).source in {item.source for item in sheet.givens}
    numbers = " ".join(row[2].words for row in tables[1].rows)
    inside = {"LRFD": ("0.075", "9.5", "1.95", "6.76", "0.58"), "ASD": ("0.772", "9.87"),
              "LFD": ("91000 ksi", "19360 ksi", "608")}[method]  # fmt: skip
    for text in inside:
        assert text.replace("91000", "91,000").replace("19360", "19,360") in numbers or (
            text in numbers
        ), text


def test_package_holds_calculation_alternatives_and_constants() -> None:
    found = calculation()
    package = found.package(TitleBlock(project="Invented crossing"))
    assert [sheet.title for sheet in package.sheets] == [
        "Interior girder, LRFD", "Alternatives and recommendation", "Code constants used"
    ]  # fmt: skip
    assert package.title.project == "Invented crossing"
    titled = calculation(title={"project": "From the file"})
    assert titled.package().title.project == "From the file"


def test_the_sheet_survives_json() -> None:
    sheet = calculation().sheet
    again = Sheet.from_json(sheet.to_json())
    for before, after in zip(sheet.checks, again.checks, strict=True):
        assert after.ratio == before.ratio
    wider = again.revise(S=9 * ft)
    assert wider["Flexure, Strength I"].ratio == sheet.revise(S=9 * ft)["Flexure, Strength I"].ratio
