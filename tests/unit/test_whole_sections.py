"""Girders whose section is not one plain shape: cover plates, hybrid, stepped, stiffened, skew."""

from __future__ import annotations

import math
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest
from shapely.geometry import box

from stepcalc import Sheet
from stepcalc.bridge.bridge_file import parse_bridge
from stepcalc.bridge.composite.elastic import Elastic, ElasticSections
from stepcalc.bridge.section_fields import ChangeTable, SkewReduction
from stepcalc.bridge.whole.calculation import CompositeCalculation, composite_calculation
from stepcalc.bridge.whole.outer_sections import OuterSection, equivalent_inertia
from stepcalc.cli import main
from stepcalc.errors import BridgeFileError, RangeError, TableError
from stepcalc.units import Q_, ft, inch
from tests.unit.whole_bridge import (
    PLATES,
    STIFFENERS,
    benchmark,
    check,
    composite_bridge,
    details,
    number,
)

SHEETS = Path(__file__).parents[2] / "notebooks" / "sheets"
COVER = {"cover_width": 10 * inch, "cover_thickness": 0.75 * inch, "cover_start": 9 * ft}
ALONG = {
    "longitudinal_distance": 8 * inch, "longitudinal_width": 5 * inch,
    "longitudinal_thickness": 0.5 * inch,
}  # fmt: skip


def flanges(to: float, bottom: float) -> ChangeTable:
    return ChangeTable(to * ft, 14 * inch, 0.625 * inch, 14 * inch, bottom * inch)


def welded(**changes: Any) -> CompositeCalculation:
    return composite_calculation(
        composite_bridge(details(**(PLATES | STIFFENERS | changes)), shape=""), proof=None
    )


def covered(**changes: Any) -> CompositeCalculation:
    return composite_calculation(composite_bridge(details(**(COVER | changes))), proof=None)


# properties


def test_a_cover_plate_against_polygons() -> None:
    """W36X135 from its table, plate and slab as polygons of a general geometry library."""
    sheet = covered().interior
    plate = box(-5, 0, 5, 0.75)
    slab = box(0, 0, 99 / 8, 8)
    parts = [
        (39.9, 0.75 + 17.8, 7800.0),
        (plate.area, plate.centroid.y, 10 * 0.75**3 / 12),
        (slab.area, 0.75 + 35.6 + 1.5 + slab.centroid.y, 99 / 8 * 8**3 / 12),
    ]
    for key, rows in (("s", parts[:2]), ("n", parts)):
        A = sum(a for a, _, _ in rows)
        y = sum(a * at for a, at, _ in rows) / A
        inertia = sum(own + a * (at - y) ** 2 for a, at, own in rows)
        where = "Trial section" if key == "s" else "Section properties"
        assert number(sheet, f"{where}/y_{key}", "inch") == pytest.approx(y, rel=1e-4)
        assert number(sheet, f"{where}/I_{key}", "inch**4") == pytest.approx(inertia, rel=2e-4)
        assert number(sheet, f"{where}/S_{key}b", "inch**3") == pytest.approx(inertia / y, rel=2e-4)


def test_without_the_plate_it_is_the_plain_beam() -> None:
    outer = "Section properties/Section from the bearing to 9 ft"
    for name in ("S_nb", "S_3nb", "I_n", "Q_n"):
        unit = "inch**4" if name.startswith("I") else "inch**3"
        plain = number(benchmark().interior, f"Section properties/{name}", unit)
        assert number(covered().interior, f"{outer}/{name}", unit) == pytest.approx(plain)


def test_the_slab_stays_at_its_height_where_the_flange_gets_thinner() -> None:
    sheet = welded(changes=(flanges(15, 0.75),)).interior
    outer = "Section properties/Section from the bearing to 15 ft"
    over_web = number(sheet, "Section properties/y_c", "inch") - 1.25
    assert number(sheet, f"{outer}/y_c", "inch") - 0.75 == pytest.approx(over_web)


@pytest.mark.parametrize("places", [((15.0, 8000.0),), ((10.0, 6000.0), (22.0, 9500.0))])
def test_equivalent_inertia_against_integration(places: tuple[tuple[float, float], ...]) -> None:
    """Midspan deflection of a stepped beam under a uniform load, M m/(E I) by Gauss points."""
    span, inner = 62.0, 12_000.0
    sheet = Sheet("stepped")
    L = sheet.given("L", span * ft)

    def stage(name: str, value: float) -> Elastic:
        one = sheet.given(name, Q_(value, "inch**4"))
        return Elastic("section", one, one, one, one, one)

    outer = tuple(
        OuterSection(
            None, None, None,  # type: ignore[arg-type]  # only inertia and place are asked
            ElasticSections(stage(f"I_{i}", value), None, None, None),
            sheet.given(f"x_{i}", to * ft), to, "change", cover=False,
        )
        for i, (to, value) in enumerate(places)
    )  # fmt: skip
    equivalent_inertia(sheet, L, outer, stage("I_m", inner), key="s", words="steel")
    points, weights = np.polynomial.legendre.leggauss(8)
    stepped = plain = before = 0.0
    for to, value in (*places, (span / 2, inner)):
        x = before + (points + 1) / 2 * (to - before)
        area = float(np.sum(weights * x * (span - x) / 2 * x / 2)) * (to - before) / 2
        stepped, plain, before = stepped + area / value, plain + area, to
    assert number(sheet, "I_eqs", "inch**4") == pytest.approx(plain / stepped, rel=1e-12)


# checks


def test_every_change_has_every_limit_state() -> None:
    found = welded(changes=(flanges(9, 0.75), flanges(18, 1.0)))
    for sheet in (found.interior, found.exterior):
        for place in ("flange change, 9 ft", "flange change, 18 ft"):
            names = {item.name for item in sheet.checks if item.location == place}
            assert {
                "Web slenderness", "Flexure, positive, Strength I", "Ductility",
                "Bottom flange, Service II", "Compression flange buckling, pour",
                "Fatigue, flange butt weld",
            } <= names  # fmt: skip


def test_moments_at_a_change_by_hand() -> None:
    """x = 15 ft of 62 ft: w x (L - x)/2, and 0.24 L between the tabulated 0.2 L and 0.3 L."""
    sheet = welded(changes=(flanges(15, 1.0),)).interior
    at = "Where the section changes/At the flange change, 15 ft/Moments, unfactored"
    w = number(sheet, "Dead load/w_DC1", "klf")
    assert number(sheet, f"{at}/M_DC1", "kip*ft") == pytest.approx(w * 15 * 47 / 2)
    # own computation of 2026: 968.00 at 0.2 L, 1236.98 at 0.3 L
    assert 968.00 < number(sheet, f"{at}/M_HL", "kip*ft") < 1236.98


def test_a_cover_plate_ends_in_category_e() -> None:
    """Flange of 0.79 in: E; 1275 trucks below 4615, so Fatigue II, N = 365 x 75 x 1275."""
    sheet = covered().exterior
    end = check(sheet, "Fatigue, end of the cover plate")
    at = "Where the section changes/At the end of the cover plate, 9 ft/Fatigue"
    M = number(sheet, f"{at}/M_fx", "kip*ft") * 1.15
    f = M * number(sheet, "Live-load distribution/Exterior girder/g_ef") * 12 / 683.5
    assert number(sheet, f"{at}/Delta_f", "ksi") == pytest.approx(f, rel=3e-3)
    assert end.ratio == pytest.approx(0.80 * f / (11e8 / (365 * 75 * 1275)) ** (1 / 3), rel=3e-3)
    thick = covered_with("W36X150")
    assert thick.interior[f"{at}/DeltaF_TH"].branch == "category E': flange over 0.8 in"


def covered_with(shape: str) -> CompositeCalculation:
    return composite_calculation(composite_bridge(details(**COVER), shape=shape), proof=None)


def test_theoretical_and_terminal_end() -> None:
    """A light beam that needs its plate: x_t where the parabola through M_u reaches M_n."""
    sheet = covered_with("W27X84").interior
    part = "Where the section changes/Ends of the cover plate"
    M_u = number(sheet, "Factored effects/M_u", "kip*ft")
    at = "Where the section changes/At the end of the cover plate, 9 ft/Strength I"
    M_n = number(sheet, f"{at}/Strength, Article 6.10.7/M_n", "kip*ft")
    assert M_n < M_u
    x = number(sheet, f"{part}/x_t", "ft")
    assert 4 * x * (62 - x) / 62**2 * M_u == pytest.approx(M_n)
    terminal = check(sheet, "Terminal distance of the cover plate")
    assert terminal.ratio == pytest.approx((9 + 1.5 * 10 / 12) / x)
    length = check(sheet, "Length of the cover plate")
    assert length.ratio == pytest.approx((2 * 26.7 / 12 + 3) / 44, rel=1e-3)


def test_the_bearing_stands_on_the_bare_shape() -> None:
    for name in ("Web yielding at the bearing", "Web crippling at the bearing"):
        bare = check(benchmark().interior, name)
        same = check(covered().interior, name)
        assert same.capacity.magnitude == pytest.approx(bare.capacity.magnitude)


def test_a_hybrid_girder_has_a_hybrid_factor() -> None:
    """Web of grade 36 between flanges of 50: rho = 0.72; beta of the steel section in the pour."""
    sheet = welded(web_grade="36").interior
    assert number(sheet, "Trial section/F_yw", "ksi") == 36
    D_n, A_fn = number(sheet, "Constructibility/D_n", "inch"), 14 * 0.75
    beta, rho = 2 * D_n * 0.5 / A_fn, 0.72
    R_h = (12 + beta * (3 * rho - rho**3)) / (12 + 2 * beta)
    assert number(sheet, "Constructibility/R_h") == pytest.approx(R_h)
    assert R_h < 1
    plain = welded().interior
    name = "Compression flange yield, pour"
    assert check(sheet, name).ratio == pytest.approx(check(plain, name).ratio / R_h)
    shear = "Shear, end panel"
    assert check(sheet, shear).ratio == pytest.approx(check(plain, shear).ratio / 0.72)


def test_a_longitudinal_stiffener_helps_the_web() -> None:
    slim = {"web_thickness": 0.3125 * inch, "web_depth": 60 * inch}
    plain, along = welded(**slim).interior, welded(**slim, **ALONG).interior
    assert check(along, "Web slenderness").ratio == pytest.approx(192 / 300)
    assert not check(plain, "Web slenderness").passed
    F_0 = number(plain, "Constructibility/F_crw", "ksi")
    assert number(along, "Constructibility/F_crw", "ksi") > F_0
    d_s, D_c = 8, number(along, "Constructibility/D_c", "inch")
    k = 5.17 / (d_s / 60) ** 2 if d_s / D_c >= 0.4 else 11.64 / ((D_c - d_s) / 60) ** 2
    assert number(along, "Constructibility/k_w") == pytest.approx(k)
    names = {item.name for item in along.checks}
    for what in ("width", "inertia", "radius", "stress"):
        assert f"Longitudinal stiffener, {what}" in names


@pytest.mark.parametrize(("reduction", "taken"), [("NOT_TAKEN", False), ("TAKEN", True)])
def test_skew_turns_the_lanes(reduction: str, taken: bool) -> None:
    """35 degrees: c_1 = 0.25 (0.6187)^0.25 (8.25/62)^0.5, tan 35 = 0.7002."""
    data = composite_bridge(
        details(skew_angle=Q_(35, "degree"), skew_reduction=SkewReduction[reduction])
    )
    sheet = composite_calculation(data, proof=None).interior
    c_1 = 0.25 * 0.6187**0.25 * math.sqrt(8.25 / 62)
    tan = math.tan(math.radians(35))
    k_M = 1 - c_1 * tan**1.5 if taken else 1.0
    k_V = 1 + 0.20 * (1 / 0.6187) ** 0.3 * tan
    assert number(sheet, "Live load of the girder/M_LL", "kip*ft") == pytest.approx(
        942.44 * k_M, rel=1e-3
    )
    assert number(sheet, "Live load of the girder/V_LL", "kip") == pytest.approx(
        84.18 * k_V, rel=1e-3
    )
    assert "skew by 35" in str(sheet.to_json())


def test_a_pour_sequence_ends_in_the_whole_deck() -> None:
    places = ((0, 20), (42, 62), (20, 42))
    pours: Any = tuple(SimpleNamespace(start=start, end=end) for start, end in places)
    sheet = composite_calculation(composite_bridge(details(pours=pours)), proof=None).interior
    assert number(sheet, "Pour sequence/r_cu") == pytest.approx(1)
    w = number(sheet, "Dead load/w_wet", "klf")
    assert number(sheet, "Pour sequence/Part 1 of the deck/M", "kip*ft") == pytest.approx(
        w * 20 * 10 / 62 * 31
    )
    assert number(sheet, "Pour sequence/M_p4", "kip*ft") == pytest.approx(551.21, rel=1e-3)


# bad input


def lines(**values: str) -> str:
    return "\n".join(f'{key} = "{value}"' for key, value in values.items())


PLATE_FILE = (SHEETS / "quarry_gulch.toml").read_text("utf-8")
ROLLED_FILE = (SHEETS / "heron_slough.toml").read_text("utf-8")
CHANGE = lines(
    to="20 ft", top_width="14 in", top_thickness="0.75 in", bottom_width="14 in",
    bottom_thickness="1 in",
)  # fmt: skip


@pytest.mark.parametrize(
    ("text", "words"),
    [
        (f"{ROLLED_FILE}\n[cover_plate]\n" + lines(cover_width="10 in"), "cover_thickness"),
        (f"{ROLLED_FILE}\n[cover_plate]\n" + lines(cover_width="10 in", cover_thickness="1 in",
         cover_start="34 ft"), "not before midspan"),
        (f"{PLATE_FILE}\n[cover_plate]\n" + lines(cover_width="10 in", cover_thickness="1 in",
         cover_start="9 ft"), "belong to a rolled beam"),
        (f"{ROLLED_FILE}\n[[changes]]\n{CHANGE}", "a rolled beam may have a [cover_plate]"),
        (f"{PLATE_FILE}\n[[changes]]\n{CHANGE}\n[[changes]]\n{CHANGE}", "not beyond the one"),
        (f"{PLATE_FILE}\n[[changes]]\n" + CHANGE.replace("20 ft", "56 ft"), "not before midspan"),
        (f"{PLATE_FILE}\n[[changes]]\n" + CHANGE.replace("14 in", "0.5 in", 1),
         "wider than the web"),
        (f"{PLATE_FILE}\n[[changes]]\n" + CHANGE.replace("14 in", "-14 in", 1), "top_width is -14"),
        (PLATE_FILE.replace("[stiffeners]", 'web_grade = "51"\n[stiffeners]'), "web_grade in [pl"),
        (PLATE_FILE.replace("[stiffeners]", "[stiffeners]\n" + lines(
            longitudinal_distance="50 in", longitudinal_width="5 in",
            longitudinal_thickness="0.5 in")), "outside the web"),
        (PLATE_FILE.replace("[stiffeners]", "[stiffeners]\n" + lines(
            longitudinal_distance="10 in")), "longitudinal_width"),
        (f"{ROLLED_FILE}\n[skew]\n" + lines(skew_angle="85 degree"), "skew_angle"),
        (PLATE_FILE.replace('panel = "9\'-4\\""', 'panel = "120 ft"', 1).replace(
            'end_panel = "120 ft"', 'end_panel = "4 ft"'), "panel"),
        (PLATE_FILE.replace('web_thickness = "1/2\\""', 'web_thickness = "-1/2\\""'),
         "web_thickness"),
        (PLATE_FILE.replace('top_flange_width = "16 in"', 'top_flange_width = "0.4 in"'),
         "wider than the web"),
        (PLATE_FILE.replace('top_bars_depth = "2 3/4\\""', 'top_bars_depth = "8 1/4\\""'),
         "inside the slab"),
        (PLATE_FILE.replace('diaphragm_spacing = "18\'-8\\""', 'diaphragm_spacing = "113 ft"'),
         "more than the span"),
    ],
)  # fmt: skip
def test_impossible_girders_are_refused_by_the_command_line(
    text: str, words: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """One paragraph that names the key, exit code 2, no stack trace."""
    path = tmp_path / "bridge.toml"
    path.write_text(text, "utf-8")
    assert main(["girder", str(path)]) == 2
    said = capsys.readouterr()
    assert words in said.err.replace("\n", " ")
    assert "Traceback" not in said.err
    assert said.out == ""


@pytest.mark.parametrize(
    ("old", "new", "name", "article"),
    [
        ('web_thickness = "1/2\\""', 'web_thickness = "0.31 in"', "Web slenderness",
         "LRFD 6.10.2.1.1-1"),
        ('top_flange_thickness = "1 in"', 'top_flange_thickness = "0.52 in"',
         "Flange slenderness, compression", "LRFD 6.10.2.2-1"),
        ('top_flange_width = "16 in"', 'top_flange_width = "7.5 in"', "Flange width, compression",
         "LRFD 6.10.2.2-2"),
        ('top_flange_thickness = "1 in"', 'top_flange_thickness = "0.52 in"',
         "Flange thickness, compression", "LRFD 6.10.2.2-3"),
        ('top_flange_width = "16 in"', 'top_flange_width = "7.5 in"', "Flange inertias, least",
         "LRFD 6.10.2.2-4"),
        ('web_thickness = "1/2\\""', 'web_thickness = "0.31 in"', "Least web thickness",
         "LRFD 6.7.3"),
    ],
)  # fmt: skip
def test_proportions_that_do_not_fit_still_calculate(
    old: str, new: str, name: str, article: str, tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
) -> None:  # fmt: skip
    path = tmp_path / "bridge.toml"
    assert old in PLATE_FILE
    path.write_text(PLATE_FILE.replace(old, new, 1), "utf-8")
    assert main(["girder", str(path)]) == 1
    said = capsys.readouterr()
    line = next(line for line in said.out.splitlines() if f"interior: {name}" in line)
    assert "N.G." in line
    found = check(composite_calculation(parse_bridge(path.read_text("utf-8"))).interior, name)
    assert found.ref == article
    assert said.err == ""


@pytest.mark.parametrize("code", ["ASD", "LFD"])
@pytest.mark.parametrize("key", ["cover_start", "skew_angle"])
def test_older_codes_refuse_what_they_would_leave_out(code: str, key: str) -> None:
    table = '[skew]\nskew_angle = "20 degree"'
    if key == "cover_start":
        table = "[cover_plate]\n" + lines(
            cover_width="10 in", cover_thickness="1 in", cover_start="9 ft"
        )
    with pytest.raises(BridgeFileError, match=f"{key}.*checked by 'LRFD' here"):
        parse_bridge(f'{ROLLED_FILE}\n{table}\n[design]\nspecification = "{code}"\n')


def test_messages_of_the_record() -> None:
    with pytest.raises(RangeError, match="stands 5 times"):
        details(**PLATES, **STIFFENERS, changes=tuple(flanges(i, 1) for i in range(1, 6)))
    with pytest.raises(TableError, match="web_grade is not known"):
        details(**PLATES, **STIFFENERS, web_grade="nonsense")
    with pytest.raises(RangeError, match="hybrid girder is welded"):
        details(web_grade="50")
    with pytest.raises(RangeError, match="belong to a welded"):
        details(**ALONG)
