"""Girders over several spans: hand statics, finite elements, places, bad input, the demos."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import numpy as np
import pytest

from stepcalc.bridge.bridge_file import parse_bridge, read_bridge_file
from stepcalc.bridge.span_tables import PierTable, PourTable, SpanTable, spacings
from stepcalc.bridge.whole.any_girder import calculation_of
from stepcalc.bridge.whole.calculation import CompositeCalculation, composite_calculation
from stepcalc.bridge.whole.continuous_girder import write_continuous
from stepcalc.bridge.whole.continuous_line import girder_line
from stepcalc.bridge.whole.continuous_values import zones_of
from stepcalc.bridge.whole.summary import check_labels
from stepcalc.errors import BridgeFileError, RangeError
from stepcalc.sheet.sheet import Sheet
from stepcalc.units import ft, inch
from tests.unit.beam_second_method import FiniteElementBeam
from tests.unit.bridge_beam import tables_on
from tests.unit.whole_bridge import PLATES, STIFFENERS, check, composite_bridge, details, number

DEMO = Path(__file__).parents[2] / "notebooks" / "sheets" / "cedar_fork.toml"
SPAN = PLATES | {"web_depth": 48 * inch, "bottom_flange_width": 16 * inch}
BARS: dict[str, Any] = {
    "top_bars": 6 * inch**2, "top_bars_depth": 3 * inch, "bottom_bars": 4 * inch**2,
    "bottom_bars_depth": 6 * inch,
}  # fmt: skip
PIER: dict[str, Any] = {
    "second_span": 110 * ft, "pier_length": 24 * ft, "pier_top_width": 14 * inch,
    "pier_top_thickness": 0.75 * inch, "pier_bottom_width": 16 * inch,
    "pier_bottom_thickness": 1.25 * inch, "pier_web_thickness": 0.5 * inch,
    "pier_brace": 15 * ft, "pier_panel": 5 * ft,
} | BARS  # fmt: skip
MOMENTS, SHEARS = "Effects along the girder/Moments", "Effects along the girder/Shears"


def two_spans(**changes: Any) -> CompositeCalculation:
    """Return two spans of 110 ft; the section over the pier is that of the spans unless told."""
    of = details(**(SPAN | STIFFENERS | PIER | changes))
    return composite_calculation(composite_bridge(of, shape="", span=110 * ft), proof=None)


def inner_girder(of: Any, span: float, **more: Any) -> Sheet:
    """Return the sheet of the interior girder alone."""
    sheet = Sheet("interior girder")
    data = composite_bridge(of, span=span * ft, **more)
    write_continuous(sheet, data, exterior=False, proof=None)
    return sheet


def inner_of_two(**changes: Any) -> Sheet:
    """Return the interior girder of two spans of 110 ft."""
    return inner_girder(details(**(SPAN | STIFFENERS | PIER | changes)), 110, shape="")


@pytest.fixture(scope="module")
def uniform() -> CompositeCalculation:
    """Return the girder without a section change."""
    return two_spans()


@pytest.fixture(scope="module")
def heavy() -> Sheet:
    """Return the interior girder with heavier plates over the pier."""
    return inner_of_two(pier_bottom_thickness=2.5 * inch, pier_top_thickness=1.5 * inch)


@pytest.fixture(scope="module")
def three() -> CompositeCalculation:
    """Return three spans of a rolled beam, 50, 64 and 50 ft, studs all along."""
    spans = tuple(SpanTable(length * ft) for length in (50, 64, 50))
    of = details(**BARS, spans=spans)
    return composite_calculation(composite_bridge(of, span=50 * ft), proof=None)


def test_uniform_girder_by_the_three_moment_equation(uniform: CompositeCalculation) -> None:
    """Equal spans: w L²/8 over the pier, reactions 3/8 and 10/8 w L, w x (3 L/8 - x/2) between."""
    for sheet in (uniform.interior, uniform.exterior):
        for load in ("DC2", "DW"):
            w = number(sheet, f"Dead load/w_{load}", "kip/ft")
            pier = number(sheet, f"{MOMENTS}/1.10/M_{load}", "kip*ft")
            assert pier == pytest.approx(-w * 110**2 / 8, rel=1e-6)
            at = number(sheet, f"{MOMENTS}/1.4/M_{load}", "kip*ft")
            assert at == pytest.approx(w * 44 * (3 / 8 * 110 - 22), rel=1e-6)
            for support, share in ((1, 3 / 8), (2, 10 / 8), (3, 3 / 8)):
                R = number(sheet, f"Reactions/Support {support}/R_{load}", "kip")
                assert R == pytest.approx(share * w * 110)
        assert 0.35 < number(sheet, f"{MOMENTS}/x_L1") < 0.45


@pytest.mark.parametrize(("stage", "inertia"), [("DC1", "I_s"), ("DC2", "I_3n")])
def test_stages_by_finite_elements(heavy: Sheet, stage: str, inertia: str) -> None:
    """Moments, reactions and deflections of both stages, each on its own stiffness."""
    sheet = heavy
    plates = "Sections over the piers/Section 2, plates over support 2"
    where = ("Section properties/Section 1", "Section properties/Section 2")
    if inertia == "I_s":
        where = ("Trial section", plates)
    light, strong = (number(sheet, f"{part}/{inertia}", "inch**4") for part in where)
    w_1 = number(sheet, f"Dead load/w_{stage}", "kip/ft")
    w_2 = number(sheet, "Dead load/w_DC12", "kip/ft") if stage == "DC1" else w_1
    nodes = np.unique(np.r_[np.arange(0, 221, 1.0), 44.0, 86.0, 134.0])

    def near(x: Any) -> Any:  # one law for stiffness and load
        return (x > 86) & (x < 134)

    beam = FiniteElementBeam(
        nodes, lambda x: np.where(near(x), strong / light, 1.0), (0.0, 110.0, 220.0)
    )
    middles, steps = 0.5 * (nodes[1:] + nodes[:-1]), np.diff(nodes)
    w = np.where(near(middles), w_2, w_1) * steps
    lift, turn = beam.basis.nodal_dofs
    load = np.zeros(beam.basis.N)
    for index, (force, h) in enumerate(zip(w, steps, strict=True)):  # consistent with the shapes
        load[lift[index]] -= force / 2
        load[lift[index + 1]] -= force / 2
        load[turn[index]] -= force * h / 12
        load[turn[index + 1]] += force * h / 12
    moved = beam.solve(load)
    R = beam.reactions(moved, load)
    for support in range(3):
        found = number(sheet, f"Reactions/Support {support + 1}/R_{stage}", "kip")
        assert found == pytest.approx(R[support], rel=1e-6)
    for label, x in (("1.4", 44.0), ("1.10", 110.0)):
        by_statics = R[0] * x - sum(f * (x - m) for f, m in zip(w, middles, strict=True) if m < x)
        found = number(sheet, f"{MOMENTS}/{label}/M_{stage}", "kip*ft")
        assert found == pytest.approx(by_statics, rel=1e-6)
    sag = beam.deflection(moved, 44.0) * 12**3 / (29_000 * light)
    found = number(sheet, f"Dead-load deflection and camber/1.4/Delta_{stage}", "inch")
    assert found == pytest.approx(sag, rel=1e-5)


def test_weight_of_the_pier_section(heavy: Sheet) -> None:
    """490 pcf times what the plates have more, with 6 percent of details."""
    sheet = heavy
    more = (14 * 0.75 + 16 * 1.25) * 490 / 144 / 1000 * 1.06
    w_1, w_2 = (number(sheet, f"Dead load/w_DC1{k}", "kip/ft") for k in ("", "2"))
    assert w_2 - w_1 == pytest.approx(more)


def test_moments_follow_the_plates_when_they_are_revised(heavy: Sheet) -> None:
    sheet = heavy
    plates = "Sections over the piers/Section 2, plates over support 2"
    stiffer = sheet.revise({f"{plates}/t_bf": 4 * inch})
    path = f"{MOMENTS}/1.10/M_DC2"
    assert number(stiffer, path, "kip*ft") < 1.01 * number(sheet, path, "kip*ft")
    written = inner_of_two(pier_bottom_thickness=4 * inch, pier_top_thickness=1.5 * inch)
    for node in (path, f"{MOMENTS}/1.4/M_LLp", "Reactions/Support 2/R_LI",
                 "Live-load deflection and depth/Span 1/Delta_LL"):  # fmt: skip
        assert sheet[node].number != stiffer[node].number
        assert stiffer[node].number == pytest.approx(written[node].number, rel=1e-9)


def test_three_equal_spans_of_the_handbook() -> None:
    """Beam tables: -0.10 w L² over both piers, 0.08 w L² at 0.4 L, reactions 0.4 and 1.1 w L."""
    of = details(**BARS, spans=(SpanTable(60 * ft),) * 3)
    sheet = inner_girder(of, 60)
    w = number(sheet, "Dead load/w_DC2", "kip/ft")
    for label, share in (("1.10", -0.1), ("2.10", -0.1), ("1.4", 0.08), ("2.5", 0.025)):
        found = number(sheet, f"{MOMENTS}/{label}/M_DC2", "kip*ft")
        assert found == pytest.approx(share * w * 60**2, rel=1e-6)
    for support, share in ((1, 0.4), (2, 1.1), (3, 1.1), (4, 0.4)):
        R = number(sheet, f"Reactions/Support {support}/R_DC2", "kip")
        assert R == pytest.approx(share * w * 60, rel=1e-6)


def test_a_symmetrical_girder_has_symmetrical_effects(three: CompositeCalculation) -> None:
    sheet = three.exterior
    for left, right in (("1.4", "3.6"), ("1.10", "3.0"), ("2.2", "2.8")):
        for name in ("M_DC1", "M_LLp", "M_LLn", "M_Fp"):
            one, other = (number(sheet, f"{MOMENTS}/{at}/{name}", "kip*ft") for at in (left, right))
            assert one == pytest.approx(other, rel=1e-7, abs=1e-7)
    reactions = [number(sheet, f"Reactions/Support {i}/R_LI", "kip") for i in (1, 2, 3, 4)]
    assert reactions[:2] == pytest.approx(reactions[:1:-1])


def test_rolled_beam_over_three_spans(three: CompositeCalculation) -> None:
    names = {c.name for c in three.interior.checks}
    for name in ("Web yielding over a pier", "Web crippling over a pier", "Shear, unstiffened web",
                 "Flexure, negative, Strength I", "One-percent deck reinforcement"):  # fmt: skip
        assert name in names


def test_rolled_beam_without_studs_over_its_piers() -> None:
    """The steel alone resists over the pier, by 0.80 F_y under Service II, with added studs."""
    spans = (SpanTable(55 * ft), SpanTable(48 * ft))
    pier = PierTable(14 * ft, 12 * ft)
    of = details(**BARS, spans=spans, piers=(pier,), studs_over_piers=False)
    sheet = inner_girder(of, 55)
    where = "Negative moment/Governing place"
    assert f"{where}/Service II/F_SIIb" in sheet
    assert number(sheet, f"{where}/Service II/F_SIIb", "ksi") == pytest.approx(0.8 * 50)
    assert "Shear connectors/Studs to add at the points of contraflexure/Section 2/N_ac" in sheet
    zone: Any = zones_of(girder_line_of(of).zones)[1]
    assert zone == (1, pytest.approx(41 / 55), 1.0, 2)


def girder_line_of(of: Any) -> Any:
    """Return the line of a girder whose first span is 55 ft."""
    return girder_line(composite_bridge(of, span=55 * ft))


def test_the_limit_of_a_continuous_span_holds(uniform: CompositeCalculation) -> None:
    place = "Positive moment/Governing place/Strength I"
    M_n = number(uniform.interior, f"{place}/Strength, Article 6.10.7/M_n", "kip*ft")
    M_y = number(uniform.interior, f"{place}/Yield moment/M_y", "kip*ft")
    assert M_n <= 1.3 * M_y * (1 + 1e-9)


def test_the_governing_place_is_the_greatest_of_its_table(uniform: CompositeCalculation) -> None:
    """What is printed in full is the greatest ratio of the table of all places."""
    for sheet in (uniform.interior, uniform.exterior):
        for part in ("Positive moment", "Negative moment"):
            checks = [c for c in sheet.checks if c.path.startswith(part)]
            table = [c.ratio for c in checks if "/Every place/" in c.path]
            full = [c.ratio for c in checks if "/Governing place/" in c.path]
            assert max(table) == pytest.approx(max(full), rel=1e-9)


def test_pours_add_up_to_the_whole_deck(uniform: CompositeCalculation) -> None:
    """Three pours on bare steel over two spans leave the moment of the deck cast at once."""
    parts = (PourTable(0, 80), PourTable(140, 220), PourTable(80, 140))
    once = uniform.interior
    sheet = inner_of_two(pours=parts)
    place = "Constructibility/Moments of the pours"
    # what is cast last sees all pours on bare steel, the earlier ones with their own stiffness
    first = number(sheet, f"{place}/1.10/M_w1", "kip*ft")
    w = number(sheet, "Dead load/w_wet", "kip/ft")
    by_hand = -w * 80**2 * (2 * 110**2 - 80**2) / (8 * 110**2) / 2  # part load, equal spans
    assert first == pytest.approx(by_hand, rel=1e-6)
    assert number(once, f"{place}/1.10/M_w1", "kip*ft") == pytest.approx(-w * 110**2 / 8)


def test_checks_are_told_apart_and_stand_in_the_matrix(uniform: CompositeCalculation) -> None:
    labels = [label for label, _ in check_labels(uniform.interior)]
    assert len(set(labels)) == len(labels)
    matrix = next(t for t in tables_on(uniform.summary) if "matrix" in t.caption)
    assert {row[0] for row in matrix.rows} >= set(labels)
    unchecked = " ".join(uniform.to_json_dict()["not_checked"])
    for words in ("field splices", "Appendix B6", "wind on the fascia", "overhang brackets"):
        assert words in unchecked


def test_no_constant_hides_in_a_part_of_tables_only(uniform: CompositeCalculation) -> None:
    """Factors of the code stand in a table or in a line of the sheet, never unseen."""
    from stepcalc.bridge.constants import CONSTANTS
    from stepcalc.render.sheet_blocks import slots_in_tables

    sheet = uniform.exterior
    hidden = slots_in_tables(sheet)
    listed = {cell.slot for t in tables_on(sheet) for row in t.rows for cell in row
              if hasattr(cell, "slot")}  # fmt: skip
    unseen = [g.path for g in sheet.givens
              if g.name in CONSTANTS and g.slot in hidden - listed]  # fmt: skip
    assert unseen == []


def test_fatigue_cycles_near_the_pier(uniform: CompositeCalculation) -> None:
    place = "Fatigue/Every place"
    assert number(uniform.exterior, f"{place}/1.10/n_cyc") == 1.5
    assert number(uniform.exterior, f"{place}/1.4/n_cyc") == 1.0
    assert check(uniform.exterior, "Fatigue, bottom flange").ratio > 0


def test_spaces_are_read_from_plans() -> None:
    assert spacings("2 at 20 ft, 1 at 24'-6\"", "cross_frames") == (20.0, 20.0, 24.5)
    with pytest.raises(RangeError, match="cross_frames holds"):
        spacings("2 at wide", "cross_frames")


def test_three_unequal_spans_from_a_file() -> None:
    """Reactions of every load carry it, and every span and pier has its places."""
    data = read_bridge_file(Path(__file__).parent / "files" / "otter_run.toml")
    sheet = Sheet("three spans")
    write_continuous(sheet, data, exterior=False, proof=None)
    assert sheet.passed
    for load in ("DC2", "DW"):
        w = number(sheet, f"Dead load/w_{load}", "kip/ft")
        reactions = [number(sheet, f"Reactions/Support {i}/R_{load}", "kip") for i in range(1, 5)]
        assert sum(reactions) == pytest.approx(w * 300)
        jump = number(sheet, f"{SHEARS}/3.0/V_{load}", "kip") - number(
            sheet, f"{SHEARS}/2.10/V_{load}", "kip"
        )
        assert jump == pytest.approx(reactions[2])
    assert zones_of(girder_line(data).zones)[2][3] == 2
    assert len({zone[3] for zone in zones_of(girder_line(data).zones)}) == 3


def test_the_demonstration_file() -> None:
    found = calculation_of(read_bridge_file(DEMO))
    assert found.passed
    names = {c.name for c in found.exterior.checks}  # type: ignore[union-attr]  # both girders
    assert {"Lateral bending of the flange", "Flexure with wind, Strength V, sagging"} <= names


@pytest.mark.parametrize(
    ("before", "after", "words"),
    [
        ("5 at 21'-6\\\", 1 at 16'-6", "5 at 21'-6\\\", 1 at 17'-6", "add up to 125 ft"),
        ('before = "30\'-0\\""', 'before = "130 ft"', "take 130 ft of span 1"),
        ('to = "94 ft"', 'to = "90 ft"', "leave open the deck from 90 ft to 94 ft"),
        ('length = "110\'-0\\""', 'long = "110 ft"', "'long' in \\[\\[spans\\]\\] number 2"),
        ('web_thickness = "9/16\\""', "", "'web_thickness' is missing"),
        ('[[pours]]\nfrom = "0 ft"', '[[pours]]\nfrom = "96 ft"', "an end behind"),
    ],
)
def test_impossible_lines_are_refused_by_name(before: str, after: str, words: str) -> None:
    text = DEMO.read_text(encoding="utf-8")
    assert before in text
    with pytest.raises((BridgeFileError, RangeError), match=words):
        calculation_of(parse_bridge(text.replace(before, after, 1)))


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"pier_brace": 120 * ft}, "pier_brace"),
        ({"pier_length": None}, "pier_length is missing"),
        ({"pier_length": 110 * ft}, "not less than the second span"),
        ({"pier_top_width": 0.5 * inch}, "wider than the web is thick"),
        ({"top_bars": None, "top_bars_depth": None}, "top_bars is missing"),
        ({"pier_web_thickness": -1 * inch}, "pier_web_thickness"),
    ],
)
def test_impossible_piers_are_refused_by_name(changes: dict[str, Any], words: str) -> None:
    with pytest.raises(RangeError, match=words):
        two_spans(**changes)


def test_rolled_beams_are_stated_by_their_spans() -> None:
    with pytest.raises(RangeError, match="welded here"):
        details(**PIER)


def test_negative_section_of_the_benchmark_through_the_whole_calculation() -> None:
    """A plate girder section worked by our own script, every value within 0.2 percent.

    Web 44 x 1/2, flanges 14 x 1 and 14 x 1-1/4, 50 ksi; bars 5.5 in² 8.0 in and 3.0 in² 4.5 in
    above the top flange; panels of 66 in; bearing pair 6 x 3/4 with a clip of 1 in.
    """
    plates: dict[str, Any] = {
        "web_depth": 44 * inch, "top_flange_width": 14 * inch, "top_flange_thickness": 1 * inch,
        "bottom_flange_width": 14 * inch, "bottom_flange_thickness": 1.25 * inch,
        "second_span": 100 * ft, "pier_length": 22 * ft, "pier_top_width": 14 * inch,
        "pier_top_thickness": 1 * inch, "pier_bottom_width": 14 * inch,
        "pier_bottom_thickness": 1.25 * inch, "pier_web_thickness": 0.5 * inch,
        "pier_brace": 18 * ft, "pier_panel": 5.5 * ft, "top_bars": 5.5 * inch**2,
        "top_bars_depth": 2 * inch, "bottom_bars": 3 * inch**2, "bottom_bars_depth": 5.5 * inch,
    }  # fmt: skip
    of = details(**(PLATES | STIFFENERS | plates))
    sheet = inner_girder(of, 100, shape="", haunch=2 * inch)
    section = "Section properties/Section 2"
    place = next(p for p in (s.path for s in sheet.steps)
                 if p.startswith("Negative moment/Every place/1.10, section 2") and
                 p.endswith("Plastic moment/M_p")).removesuffix("/Plastic moment/M_p")  # fmt: skip
    panels = [s.path for s in sheet.steps if s.name == "V_n" and "Shear/Every panel" in s.path]
    wide = {path: number(sheet, path.replace("/V_n", "/d_o"), "ft") for path in panels}
    panel = next(path for path, feet in wide.items() if abs(feet - 5.5) < 1e-9)
    expected = (
        (f"{section}/I_r", "inch**4", 26_675), (f"{section}/y_r", "inch", 26.025),
        (f"{section}/S_rb", "inch**3", 1025.0), (f"{section}/S_rt", "inch**3", 1318.9),
        (f"{section}/S_rr", "inch**3", 945.1), (f"{place}/Plastic moment/M_p", "kip*ft", 5142.1),
        (f"{place}/Buckling of the compression flange/r_t", "inch", 3.635),
        (f"{place}/Buckling of the compression flange/L_r", "inch", 328.7),
        (panel, "kip", 579.8), (panel.replace("/V_n", "/C"), "", 0.8237),
        ("At the bearings/Every support/Support 2/R_br", "kip", 525.0),
        ("At the bearings/Every support/Support 2/P_r", "kip", 635.6),
    )  # fmt: skip
    for path, unit, value in expected:
        assert number(sheet, path, unit) == pytest.approx(value, rel=0.002), path
