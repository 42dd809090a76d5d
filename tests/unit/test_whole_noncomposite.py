"""Welded plate girders without shear connectors: the whole package on the steel alone."""

from __future__ import annotations

import itertools
import json
import math
from functools import lru_cache
from pathlib import Path
from typing import Any

import pytest

from stepcalc.bridge.bridge_file import parse_bridge
from stepcalc.bridge.fields import TopFlange
from stepcalc.bridge.girder import girder_sheet
from stepcalc.bridge.whole.any_girder import calculation_of
from stepcalc.bridge.whole.calculation import CompositeCalculation, composite_calculation
from stepcalc.cli import main
from stepcalc.errors import BridgeFileError
from stepcalc.units import inch
from tests.unit.bridge_loads import bridge_62_ft
from tests.unit.whole_bridge import STIFFENERS, check, details, number

FALLOW_BROOK = """
# An invented bridge: Fallow Brook, one span of welded plate girders without shear connectors.
source = "invented for this example"

[title]
project = "Fallow Brook bridge, Township Road 12"
subject = "Plate girders, non-composite, interior and exterior"
job = "FB-012"

[geometry]
span = "76'-0\\""
girders = 5
girder_spacing = "8'-0\\""
overhang = "3'-0\\""
barrier_width = "1'-5\\""
roadway = "35'-2\\""

[deck]
deck_thickness = "8 1/2\\""
structural_thickness = "8 in"
haunch = "2 in"
haunch_datum = "top of top flange"

[loads]
barrier_weight = "0.40 klf"
wearing_surface = "25 psf"
wearing_basis = "shared over roadway"
forms = "15 psf"
miscellaneous = "6 percent"
construction_load = "20 psf"

[girder]
diaphragm_spacing = "19'-0\\""
top_flange = "resting"
bearing_length = "11 in"

[materials]
steel_grade = "50W"
concrete_strength = "4 ksi"

[plates]
top_flange_width = "16 in"
top_flange_thickness = "1 1/8\\""
web_depth = "48 in"
web_thickness = "1/2\\""
bottom_flange_width = "16 in"
bottom_flange_thickness = "1 1/8\\""

[[changes]]
to = "15'-0\\""
top_width = "16 in"
top_thickness = "3/4\\""
bottom_width = "16 in"
bottom_thickness = "3/4\\""

[stiffeners]
end_panel = "4'-9\\""
panel = "9'-6\\""
stiffener_width = "5 1/2\\""
stiffener_thickness = "1/2\\""
bearing_width = "7 in"
bearing_thickness = "7/8\\""
bearing_clip = "1 1/4\\""

[traffic]
trucks_per_day = 300
truck_lanes = 1

[exterior]
bracket_reach = "3'-0\\""
bracket_drop = "3'-8\\""
bracket_load = "0.11 klf"
machine_load = "2.5 kip"
wind_strength_3 = "35 psf"
wind_strength_5 = "18 psf"

[sources]
trucks_per_day = "traffic count, invented"
"""

CHANGES = FALLOW_BROOK[FALLOW_BROOK.index("[[changes]]") : FALLOW_BROOK.index("[stiffeners]")]
FLEXURE = "Strength I, flexure"
E, INERTIA = 29_000.0, 26_331.19
"""ksi; in^4, its arithmetic stands in the first test."""


@lru_cache(maxsize=8)
def calculated(*changes: tuple[str, str], prismatic: bool = True) -> CompositeCalculation:
    """Return the girders of Fallow Brook with some of its text replaced."""
    text = FALLOW_BROOK.replace(CHANGES, "") if prismatic else FALLOW_BROOK
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    return composite_calculation(parse_bridge(text), proof=None)


# the section by hand


def test_the_steel_by_hand() -> None:
    """Plates 16 x 1 1/8, 48 x 1/2, 16 x 1 1/8 in: 2(18) + 24 = 60 in^2.

    I = 2(18)(24.5625)^2 + 0.5(48)^3/12 + 2(16)(1.125)^3/12 = 21719.4 + 4608 + 3.8 = 26331 in^4,
    S = 26331/25.125 = 1048.0 in^3, M_p = 50 [18(49.125) + 0.5(48)^2/4]/12 = 4884.4 kip-ft.
    """
    sheet = calculated().interior
    assert number(sheet, "Trial section/A_s", "inch**2") == pytest.approx(60)
    assert number(sheet, "Trial section/I_s", "inch**4") == pytest.approx(INERTIA, rel=1e-6)
    assert number(sheet, "Trial section/S_st", "inch**3") == pytest.approx(1048.0, rel=1e-5)
    M_p = number(sheet, f"{FLEXURE}/Plastic moment/M_p", "kip*ft")
    assert M_p == pytest.approx(4884.4, rel=1e-5)


def test_the_distribution_uses_the_steel_alone() -> None:
    """K_g = 8 [26331 + 60 (25.125 + 2 + 4)^2] = 8 (26331 + 58126) = 675,650 in^4."""
    K_g = number(calculated().interior, "Live-load distribution/K_g", "inch**4")
    assert K_g == pytest.approx(8 * (INERTIA + 60 * 31.125**2), rel=1e-5)


def test_plastification_and_buckling_by_hand() -> None:
    """Noncompact web of 96: between 91.15 and 137.3.

    lambda_pw = 24.083/(0.54(1.1186) - 0.09)^2 = 91.15;
    R_pc = [1 - (1 - 1/1.1186)(96 - 91.15)/(137.27 - 91.15)] 1.1186 = 1.1061;
    M_max = 1.1061 (4366.6) = 4829.9 kip-ft;
    r_t = 16/sqrt(12 (1 + 24(0.5)/(3 (18)))) = 4.178 in, L_p = 4.178 (24.083) = 100.6 in;
    J = [48(0.5)^3 + 2(16)(1.125)^3 (1 - 0.63(1.125)/16)]/3 = 16.52 in^4;
    L_r by A6.3.3-5 = 397.9 in; without C_b
    M = [1 - (1 - 35(1048)/12/4829.9)(228 - 100.6)/(397.9 - 100.6)] 4829.9 = 4070 kip-ft.
    """
    sheet = calculated().interior
    at = f"{FLEXURE}/By moment, Appendix A6"
    assert number(sheet, f"{at}/lambda_pw") == pytest.approx(91.15, rel=1e-3)
    assert number(sheet, f"{at}/R_pc") == pytest.approx(1.1061, rel=1e-4)
    assert number(sheet, f"{at}/M_max", "kip*ft") == pytest.approx(4829.9, rel=1e-4)
    assert number(sheet, f"{at}/L_r6", "inch") == pytest.approx(397.9, rel=1e-3)
    C_b = number(sheet, f"{FLEXURE}/Unbraced length at midspan/C_b")
    assert number(sheet, f"{FLEXURE}/M_n", "kip*ft") == pytest.approx(C_b * 4070, rel=1e-3)


def hl93_moment(span: float, x: float) -> float:
    """Return the HL-93 moment of one lane by moving truck and tandem in steps of an inch."""

    def under(loads: list[tuple[float, float]]) -> float:
        best = 0.0
        for inches in range(-40 * 12, int(span * 12) + 1):
            head, total = inches / 12, 0.0
            for weight, behind in loads:
                a = head + behind
                if 0 <= a <= span:
                    total += weight * min(a, x) * (span - max(a, x)) / span
            best = max(best, total)
        return best

    trucks = [[(8.0, 0.0), (32.0, 14.0), (32.0, 28.0)], [(32.0, 0.0), (32.0, 14.0), (8.0, 28.0)]]
    axles = max(under(loads) for loads in [*trucks, [(25.0, 0.0), (25.0, 4.0)]])
    return 1.33 * axles + 0.64 * x * (span - x) / 2


@pytest.mark.parametrize("exterior", [False, True])
def test_the_gradient_by_a_truck_moved_along(exterior: bool) -> None:
    """C_b = 1.75 - 1.05 r + 0.3 r^2, r from the Strength I moments at 19, 28.5 and 38 ft."""
    found = calculated()
    sheet = found.exterior if exterior else found.interior
    w = [number(sheet, f"Dead load/w_{name}", "klf") for name in ("DC1", "DC2", "DW")]
    w_u = 1.25 * (w[0] + w[1]) + 1.5 * w[2]
    g = number(sheet, "Live load of the girder/M_LL", "kip*ft") / (
        1.33 * number(sheet, "Live load of one lane/M_tr", "kip*ft")
        + number(sheet, "Live load of one lane/M_ln", "kip*ft")
    )
    M = [w_u * x * (76 - x) / 2 + 1.75 * g * hl93_moment(76, x) for x in (19, 28.5, 38)]
    r = max(2 * M[1] - M[2], M[0]) / M[2]
    expected = 1.0 if M[1] > M[2] else 1.75 - 1.05 * r + 0.3 * r**2
    C_b = number(sheet, f"{FLEXURE}/Unbraced length at midspan/C_b")
    assert C_b == pytest.approx(expected, rel=1e-3)
    assert 1 < C_b < 1.2


def test_the_ratio_is_the_moment_over_the_nominal_moment() -> None:
    """All loads act on one section: stress and moment are one limit."""
    for prismatic, sheet in itertools.product((True, False), ("interior", "exterior")):
        girder = getattr(calculated(prismatic=prismatic), sheet)
        M_u = number(girder, f"{FLEXURE}/M_u", "kip*ft")
        M_n = number(girder, f"{FLEXURE}/M_n", "kip*ft")
        u_f = number(girder, f"{FLEXURE}/Which of the two decides/u_f")
        assert u_f == pytest.approx(M_u / M_n, rel=1e-9)


def test_service_two_of_a_section_that_is_not_composite() -> None:
    """0.80 (1.0) 50 = 40 ksi; F_crw = 0.9 (29000) 36/96^2 = 101.95, not above 50 ksi."""
    sheet = calculated().interior
    w = sum(number(sheet, f"Dead load/w_{name}", "klf") for name in ("DC1", "DC2", "DW"))
    M = w * 76**2 / 8 + 1.3 * number(sheet, "Live load of the girder/M_LL", "kip*ft")
    f = M * 12 / 1048.0
    top = check(sheet, "Top flange, Service II")
    assert number(sheet, "Service II/F_SIIt", "ksi") == pytest.approx(40)
    assert top.ratio == pytest.approx(f / 40, rel=5e-3)
    assert top.ref == "LRFD 6.10.4.2.2-3"
    assert number(sheet, "Service II/F_crw", "ksi") == pytest.approx(50)


def test_deflection_and_camber_on_the_steel() -> None:
    """5 w L^4/(384 E I) with one inertia for every stage."""
    sheet = calculated().interior
    for name in ("DC1", "DC2", "DW"):
        w = number(sheet, f"Dead load/w_{name}", "klf") / 12
        hand = 5 * w * (76 * 12) ** 4 / (384 * E * INERTIA)
        assert number(sheet, f"Camber/Delta_{name}", "inch") == pytest.approx(hand, rel=1e-5)
    K = number(sheet, "Factored effects/K_LL", "kip*inch**3")
    delta = number(sheet, "Deflection and depth/Delta_LL", "inch")
    assert delta == pytest.approx(K / (E * INERTIA), rel=1e-5)


# what it must not hold, and its other forms


def test_nothing_of_composite_action_is_there() -> None:
    for sheet in (calculated().interior, calculated().exterior):
        assert not [path for path in (node.path for node in sheet.steps) if "3n" in path]
        assert "Shear connectors" not in {node.path.split("/")[0] for node in sheet.steps}
        names = {item.name for item in sheet.checks}
        assert not [name for name in names if "Stud" in name or "studs" in name or "itch" in name]
        assert not {"Ductility", "Slab stress, Strength I"} & names


def test_every_unbraced_length_is_checked() -> None:
    """Four spaces of 19 ft, symmetrical; the lengths beside midspan are the worst."""
    sheet = calculated().interior
    at = f"{FLEXURE}/Every unbraced length"
    paths = [f"{at}/Length {n}/C_b" for n in range(1, 5)]
    values = [number(sheet, path) for path in paths]
    assert values[:2] == pytest.approx(values[:1:-1])
    assert values[0] > 1.5
    assert f"{at}/Length 5/C_b" not in sheet
    flexure = [item for item in sheet.checks if item.name == "Flexure, positive, Strength I"]
    assert len(flexure) == 2
    assert flexure[1].ratio >= flexure[0].ratio * (1 - 1e-9)


def test_a_flange_change_within_an_unbraced_length() -> None:
    """The greatest stress of the length against the least resistance, C_b = 1."""
    sheet = calculated(prismatic=False).interior
    at = f"{FLEXURE}/Every unbraced length/Length 1"
    assert number(sheet, f"{at}/C_bt") == 1
    parts = (f"{at}/Section 1 from 0 ft", f"{at}/Section 2 from 15 ft")
    F = [number(sheet, f"{p}/Buckling of the compression flange/F_nc", "ksi") for p in parts]
    f = [number(sheet, f"{p}/Staged stresses, Strength I/f_t", "ksi") for p in parts]
    over = check(sheet, "Flange over a change of section, Strength I")
    assert over.ratio == pytest.approx(max(f) / min(F))
    assert (
        number(sheet, "Where the section changes/At the flange change, 15 ft/Strength I/C_b") == 1
    )


@pytest.mark.parametrize("held", ["anchored", "embedded, owner accepts"])
def test_a_deck_that_braces_the_flange(held: str) -> None:
    """Nothing buckles: M_n = R_pc M_yc, the 4829.9 kip-ft from above."""
    sheet = calculated(('top_flange = "resting"', f'top_flange = "{held}"')).interior
    assert number(sheet, f"{FLEXURE}/M_n", "kip*ft") == pytest.approx(4829.9, rel=1e-4)
    assert f"{FLEXURE}/Buckling of the compression flange/F_nc" not in sheet
    assert f"{FLEXURE}/Every unbraced length/Length 1/C_b" not in sheet
    assert "Constructibility/F_nc" in sheet


def test_a_hybrid_web_by_hand() -> None:
    """Web of 36 ksi: rho = 0.72, beta = 2 (24)(0.5)/18 = 1.3333.

    R_h = [12 + 1.3333 (3(0.72) - 0.72^3)]/(12 + 2.6667) = (12 + 2.3823)/14.6667 = 0.98062.
    """
    sheet = calculated(("[plates]", '[plates]\nweb_grade = "36"')).interior
    R_h = (12 + 4 / 3 * (3 * 0.72 - 0.72**3)) / (12 + 8 / 3)
    assert number(sheet, "Service II/R_h") == pytest.approx(R_h)
    assert number(sheet, "Service II/F_SIIt", "ksi") == pytest.approx(0.8 * R_h * 50)


def test_a_slender_web_and_unequal_flanges_by_hand() -> None:
    """Web 3/8 in, bottom flange 16 x 1 3/4 in: Appendix A6 is refused, R_b below 1.

    A = 18 + 18 + 28 = 64 in^2; y = (28(0.875) + 18(25.75) + 18(50.3125))/64 = 21.775 in,
    D_c = 49.75 - 21.775 = 27.975 in, 2 D_c/t_w = 149.2 over 137.27, a_wc = 149.2(0.375)^2/18
    = 1.1656, R_b = 1 - 1.1656/(1200 + 300(1.1656)) (149.2 - 137.27) = 0.99103.
    """
    sheet = calculated(
        ('web_thickness = "1/2', 'web_thickness = "3/8'),
        ('bottom_flange_thickness = "1 1/8', 'bottom_flange_thickness = "1 3/4'),
        ('top_flange = "resting"', 'top_flange = "anchored"'),
    ).interior
    parts = [(28, 0.875, 16 * 1.75**3 / 12), (18, 25.75, 0.375 * 48**3 / 12),
             (18, 50.3125, 16 * 1.125**3 / 12)]  # fmt: skip
    y = sum(A * at for A, at, _ in parts) / 64
    inertia = sum(own + A * (at - y) ** 2 for A, at, own in parts)
    D_c = 49.75 - y
    slender, limit = 2 * D_c / 0.375, 5.7 * math.sqrt(E / 50)
    a_wc = 2 * D_c * 0.375 / 18
    R_b = 1 - a_wc / (1200 + 300 * a_wc) * (slender - limit)
    assert R_b == pytest.approx(0.99103, rel=1e-4)
    web = f"{FLEXURE}/Web and factors of the flange stress/R_b"
    assert number(sheet, web) == pytest.approx(R_b)
    top, bottom = inertia / (50.875 - y), inertia / y
    assert number(sheet, f"{FLEXURE}/M_nb", "kip*ft") == pytest.approx(50 * bottom / 12)
    M_n = number(sheet, f"{FLEXURE}/M_n", "kip*ft")
    assert M_n == pytest.approx(50 * R_b * top / 12)
    ratio = number(sheet, f"{FLEXURE}/Which of the two decides/u_f")
    assert ratio == pytest.approx(number(sheet, f"{FLEXURE}/M_u", "kip*ft") / M_n)
    warned = {path.rsplit("/", 1)[-1] for path, text in sheet.warnings if "range" in text}
    assert warned == {"u_M"}  # said once, and no check rests on it
    assert all(item.in_range for item in sheet.checks)


def test_a_skew_beyond_20_degrees_refuses_appendix_a6() -> None:
    for angle, permitted in (("18 degree", True), ("24 degree", False)):
        text = f'[skew]\nskew_angle = "{angle}"\n\n[stiffeners]'
        sheet = calculated(("[stiffeners]", text)).interior
        where = f"{FLEXURE}/Which of the two decides/u_f"
        form = f"{FLEXURE}/By moment, Appendix A6/u_M"
        if not permitted:
            form = f"{FLEXURE}/By stress, Article 6.10.8/u_F"
        assert number(sheet, where) == pytest.approx(number(sheet, form))
        words = "is permitted" if permitted else "is not permitted"
        assert words in str(sheet[where].branch)


# the limit: a plate girder of the plates of a rolled shape


@pytest.mark.parametrize("held", ["embedded, owner accepts", "resting"])
def test_the_plates_of_a_rolled_shape_give_the_rolled_beam(held: str) -> None:
    """W36X135 against its three plates: the fillets are 1.5 % of the area, Z_x 509 in^3.

    Without them Z = 12(0.79)(34.81) + 0.6 (34.02)^2/4 = 330.0 + 173.6 = 503.6 in^3, 1.1 % less.
    Braces at 15.5 ft of 62 ft; the gradient of the rolled beam is 1.0, so its buckling resistance
    is compared without the gradient.
    """
    rolled = girder_sheet(bridge_62_ft(top_flange=TopFlange(held)), proof=None)
    plates: dict[str, Any] = {
        "top_flange_width": 12 * inch, "top_flange_thickness": 0.79 * inch,
        "bottom_flange_width": 12 * inch, "bottom_flange_thickness": 0.79 * inch,
        "web_depth": 34.02 * inch, "web_thickness": 0.6 * inch,
    }  # fmt: skip
    none = dict.fromkeys(("stud_diameter", "stud_height", "studs_per_row", "stud_spacing"))
    data = bridge_62_ft(
        top_flange=TopFlange(held), shape="", details=details(**(plates | STIFFENERS | none))
    )  # fmt: skip
    welded = composite_calculation(data, proof=None).interior
    Z = number(welded, f"{FLEXURE}/Plastic moment/M_p", "kip*ft") * 12 / 50
    assert Z == pytest.approx(503.6, rel=1e-3)
    assert Z == pytest.approx(509, rel=0.015)
    path = f"{FLEXURE}/By moment, Appendix A6"
    if held == "resting":
        of_rolled = number(rolled, f"{FLEXURE}/By moment, Appendix A6/M_nA6", "kip*ft")
        C_b = number(welded, f"{FLEXURE}/Unbraced length at midspan/C_b")
        of_welded = number(welded, f"{path}/M_LTB", "kip*ft") / C_b
    else:
        of_rolled = number(rolled, f"{FLEXURE}/Which of the two decides/M_n", "kip*ft")
        of_welded = number(welded, f"{FLEXURE}/M_n", "kip*ft")
    assert of_welded == pytest.approx(of_rolled, rel=0.03)
    assert of_welded < of_rolled
    M_u = number(rolled, "Factored effects/M_u", "kip*ft")
    assert number(welded, f"{FLEXURE}/M_u", "kip*ft") == pytest.approx(M_u, rel=0.01)


# the command line, and what is refused


def written(tmp_path: Path, text: str) -> Path:
    path = tmp_path / "bridge.toml"
    path.write_text(text, "utf-8")
    return path


def test_the_command_line_runs_the_whole_package(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path, out = written(tmp_path, FALLOW_BROOK), tmp_path / "out.json"
    assert main(["girder", str(path), "--json", str(out)]) == 0
    said = capsys.readouterr().out
    for words in ("non-composite, LRFD", "Flange over a change of section", "exterior: Flexure"):
        assert words in said
    record = json.loads(out.read_text("utf-8"))
    assert record["passed"] is True
    assert not [name for name in record["checked"] if "Exterior girder not weaker" in name]
    assert math.isfinite(max(item["ratio"] for item in record["checks"]))


def test_the_package_has_its_pages() -> None:
    found = calculation_of(parse_bridge(FALLOW_BROOK))
    assert isinstance(found, CompositeCalculation)
    titles = [sheet.title for sheet in found.sheets]
    assert titles[:3] == [
        "Interior girder, non-composite, LRFD", "Exterior girder, non-composite, LRFD",
        "Summary of both girders",
    ]  # fmt: skip
    hand = next(sheet for sheet in found.sheets if sheet.title.startswith("Hand checks"))
    rows = [node for node in hand.steps if node.name.startswith("d_")]
    exact = [node.number for node in rows if node.name not in ("d_6", "d_7")]
    assert len(rows) == 9
    assert all(abs(value) < 0.01 for value in exact)


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ("[traffic]", '[studs]\nstud_diameter = "7/8\\""\n\n[traffic]',
         "'stud_diameter' in [studs] belongs to a composite girder"),
        ("[traffic]", '[reinforcement]\ntop_bars = "3.9 in^2"\ntop_bars_depth = "3 in"\n[traffic]',
         "top_bars in [reinforcement] is given, but the girder has no shear connectors"),
        ("[girder]", "[girder]\ncomposite = true", "no shear connectors; a composite girder has"),
        ("[girder]", '[girder]\nshape = "W36X150"', "want a rolled shape or plates, not both"),
        ("[traffic]", '[design]\nspecification = "ASD"\n\n[traffic]',
         "plate girders without shear connectors are checked by 'LRFD' here"),
        ('web_depth = "48 in"\n', "", "all six plate sizes"),
        ('panel = "9\'-6\\""\n', "", "stated together"),
        ("trucks_per_day = 300\n", "", "trucks_per_day in [traffic] is missing"),
        ("[traffic]", '[rating]\ncondition = "poor"\n\n[traffic]', "leave the table [rating] out"),
        ("[traffic]", "[factors]\neta_R = 1.05\n\n[traffic]", "leave the table [factors] out"),
        ("[traffic]", '[cover_plate]\ncover_width = "10 in"\ncover_thickness = "1 in"\n'
         'cover_start = "9 ft"\n\n[traffic]', "cover plates belong to a rolled beam"),
        ("[stiffeners]", '[pier]\nsecond_span = "60 ft"\n\n[stiffeners]', "is missing"),
        ("[traffic]", "[[spans]]\nlength = \"60 ft\"\n\n[traffic]", "belongs to a composite"),
    ],
)  # fmt: skip
def test_what_does_not_fit_is_refused_by_name(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], old: str, new: str, words: str
) -> None:
    assert old in FALLOW_BROOK
    text = FALLOW_BROOK.replace(old, new, 1)
    with pytest.raises(BridgeFileError):
        parse_bridge(text)
    assert main(["girder", str(written(tmp_path, text))]) == 2
    said = capsys.readouterr().err.replace("\n", " ")
    assert words in said
    assert "Traceback" not in said
