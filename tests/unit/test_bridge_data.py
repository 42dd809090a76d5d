"""Bridge data, lengths in feet and inches, and bridge files: what is read and what is refused."""

from __future__ import annotations

from dataclasses import FrozenInstanceError, fields, replace
from pathlib import Path
from typing import Any

import pint
import pytest

from stepcalc.bridge import bridge_file
from stepcalc.bridge.bridge_file import parse_bridge, read_bridge_file, schema_text
from stepcalc.bridge.data import BridgeData
from stepcalc.bridge.feet_inches import looks_like_feet_and_inches, parse_feet_inches
from stepcalc.bridge.fields import FIELDS, HaunchDatum, LiveLoadMaximum, TopFlange, WearingBasis
from stepcalc.errors import (
    BridgeFileError,
    DimensionError,
    RangeError,
    TableError,
    UnitError,
    UnknownNameError,
)
from stepcalc.units import Q_, ft, inch, kip, klf, ksi, psf

DEMO = Path(__file__).parents[2] / "notebooks" / "sheets" / "alder_creek.toml"


def bridge(**changes: Any) -> BridgeData:
    data: dict[str, Any] = {
        "span": 47 * ft, "girders": 4, "girder_spacing": 7.75 * ft, "overhang": 30 * inch,
        "barrier_width": 16 * inch, "deck_thickness": 8.5 * inch,
        "structural_thickness": 8 * inch, "haunch": 1.5 * inch,
        "haunch_datum": HaunchDatum.TOP_OF_FLANGE, "barrier_weight": 0.37 * klf,
        "wearing_surface": 25 * psf, "wearing_basis": WearingBasis.SHARED, "forms": 15 * psf,
        "miscellaneous": Q_(5, "percent"), "shape": "w33x152", "diaphragm_spacing": 15.5 * ft,
        "top_flange": TopFlange.EMBEDDED, "bearing_length": 10 * inch, "steel_grade": "gr 50w",
        "concrete_strength": 4 * ksi,
    }  # fmt: skip
    return BridgeData(**(data | changes))


@pytest.mark.parametrize(
    ("text", "feet"),
    [
        ("8'-3\"", 8.25),
        ("8'-3 1/2\"", 8 + 3.5 / 12),
        ("8 ft 3 in", 8.25),
        ("8' 3\"", 8.25),
        ("8'3\"", 8.25),
        ("62'", 62),
        ("8ft-3in", 8.25),
        ("8′-3½″", 8 + 3.5 / 12),
        ("8'-0 3/16\"", 8 + 3 / 16 / 12),
        ("8' - 1/2\"", 8 + 0.5 / 12),
        ('3 1/2"', 3.5 / 12),
        ("1/2 in", 0.5 / 12),
        ("8.25'", 8.25),
    ],
)
def test_feet_and_inches(text: str, feet: float) -> None:
    assert looks_like_feet_and_inches(text)
    assert parse_feet_inches(text).to("ft").magnitude == pytest.approx(feet, rel=1e-15)


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("8'-13\"", "13 inches"),
        ('31/2"', "31/2"),
        ('3 1/0"', "1/0"),
        ("8.5'-3\"", "decimal point"),
        ("-3'", "not a length"),
        ("8 ft 3", "not a length"),
        ("", "not a length"),
        ("1.5 1/2 in", "not a length"),
    ],
)
def test_what_is_no_length(text: str, why: str) -> None:
    with pytest.raises(UnitError, match=why):
        parse_feet_inches(text)


@pytest.mark.parametrize("text", ["8.25 ft", "15 lb/ft^2", "0.4 kip/ft", "150 pcf", "5 percent"])
def test_plain_units_are_left_to_the_unit_reader(text: str) -> None:
    assert not looks_like_feet_and_inches(text)


def test_derived_geometry() -> None:
    data = bridge()
    assert data.deck_width == pytest.approx(3 * 7.75 + 5)
    assert data.roadway_width == pytest.approx(28.25 - 32 / 12)
    assert data.lanes == 2
    assert data.shape == "W33X152"
    assert data.steel_grade == "50W"
    assert data.grade_strength == 50 * ksi
    assert data.source_of("span") == "bridge data"
    assert bridge(sources={"span": "sheet 4"}).source_of("span") == "sheet 4"


@pytest.mark.parametrize(
    ("roadway", "lanes"), [(10, 1), (19.99, 1), (20, 2), (24, 2), (35.99, 2), (36, 3), (48.001, 4)]
)
def test_lanes(roadway: float, lanes: int) -> None:
    data = bridge(girder_spacing=(roadway - 2.0) / 3 * ft, overhang=2 * ft, barrier_width=1 * ft)
    assert data.roadway_width == pytest.approx(roadway)
    assert data.lanes == lanes


@pytest.mark.parametrize(
    ("changes", "error", "words"),
    [
        ({"span": 62 * kip}, DimensionError, ["span", "force", "47 ft"]),
        ({"span": 62.0}, DimensionError, ["span", "no unit"]),
        ({"span": float("nan") * ft}, RangeError, ["span", "nan"]),
        ({"girder_spacing": 7.75 * inch}, RangeError, ["girder_spacing", "2 to 30 ft"]),
        ({"girders": 2}, RangeError, ["girders", "3 to 40"]),
        ({"girders": 4.5}, RangeError, ["girders", "whole number"]),
        ({"girders": True}, RangeError, ["girders", "whole number"]),
        ({"modular_ratio": 80}, RangeError, ["modular_ratio", "4 to 15"]),
        ({"shape": "W36x136"}, TableError, ["shape", "W36X135"]),
        ({"shape": ""}, RangeError, ["shape", "text"]),
        ({"steel_grade": "HPS 70W"}, RangeError, ["steel_grade", "not rolled", "50W"]),
        ({"steel_grade": "60"}, TableError, ["steel_grade", "60"]),
        ({"yield_strength": 36 * ksi}, RangeError, ["yield_strength", "36 ksi", "50 ksi"]),
        ({"top_flange": None}, RangeError, ["top_flange", "anchored", "resting"]),
        ({"top_flange": HaunchDatum.TOP_OF_WEB}, RangeError, ["top_flange", "top of web"]),
        ({"top_flange": "anchored"}, RangeError, ["top_flange", "embedded, owner accepts"]),
        ({"concrete_strength": 4000 * ksi}, RangeError, ["concrete_strength", "12 ksi"]),
        ({"miscellaneous": 6 * psf}, DimensionError, ["miscellaneous", "5 percent", "6 plf"]),
        ({"structural_thickness": 9 * inch}, RangeError, ["structural_thickness", "8.5 in"]),
        ({"diaphragm_spacing": 0 * ft}, RangeError, ["diaphragm_spacing", "more than 0"]),
        ({"diaphragm_spacing": 50 * ft}, RangeError, ["diaphragm_spacing", "47 ft"]),
        ({"roadway": 26 * ft}, RangeError, ["roadway", "25.583"]),
        (
            {"girder_spacing": 3.5 * ft, "overhang": 0 * ft},
            RangeError,
            ["barrier_width", "10 ft or more"],
        ),
        ({"sources": {"spam": "x"}}, UnknownNameError, ["spam"]),
    ],
)
def test_impossible_data_names_key_and_what_fits(
    changes: dict[str, Any], error: type[Exception], words: list[str]
) -> None:
    with pytest.raises(error) as caught:
        bridge(**changes)
    message = str(caught.value)
    assert "\n" not in message
    for word in words:
        assert word in message


def test_possible_variations() -> None:
    assert bridge(roadway=25.58 * ft).lanes == 2
    assert bridge(yield_strength=50 * ksi).yield_strength == 50 * ksi
    assert bridge(miscellaneous=7 * Q_(1, "plf")).miscellaneous == Q_(7, "plf")
    assert bridge(concrete_strength=Q_(4000, "psi")).concrete_strength == 4 * ksi
    foreign: Any = pint.UnitRegistry().Quantity(14, "m")
    own = bridge(span=foreign, diaphragm_spacing=4 * ft).span
    assert own == Q_(14, "m")
    with pytest.raises(FrozenInstanceError):
        bridge().span = 3  # type: ignore[misc]  # that it is refused is what is tested
    assert replace(bridge(), shape="W36X150").shape == "W36X150"


def test_every_field_of_the_table_is_a_field_of_the_record_and_back() -> None:
    own = {field.name for field in fields(BridgeData)} - {"sources", "source", "title", "details"}
    assert own == set(FIELDS)
    for rule in FIELDS.values():
        assert bool(rule.assumed) <= (not rule.required)


def test_the_demonstration_file() -> None:
    data = read_bridge_file(DEMO)
    assert data.span == 47 * ft
    assert data.girder_spacing == 7.75 * ft
    assert data.haunch.to("inch").magnitude == pytest.approx(1.5)
    assert data.miscellaneous == Q_(5, "percent")
    assert data.top_flange is TopFlange.EMBEDDED
    assert data.source_of("girder_spacing") == "framing plan, invented"
    assert data.source_of("span") == "invented for this example"
    assert data.title["job"] == "AC-012"


def test_the_schema_is_itself_a_bridge_file() -> None:
    text = schema_text()
    data = parse_bridge(text)
    assert data.live_load_maximum is LiveLoadMaximum.SEPARATE
    apart = ("# barrier_girders", "# barrier_shares")  # of two sharing rules, each alone
    everything = "\n".join(
        line.removeprefix("# ") if " = " in line else line
        for line in text.splitlines()
        if not line.startswith(apart)
    )
    full = parse_bridge(
        everything.replace("# [title]", "[title]")
        .replace("# [sources]", "[sources]")
        .replace('roadway = "25\'-7\\""', 'roadway = "19 ft 11 in"')
    )
    assert full.modular_ratio == 8
    assert set(full.sources) == {"girder_spacing"}
    assert all(f"{rule.key} = " in text and rule.meaning in text for rule in FIELDS.values())
    assert 'span = "47 ft"' in str(bridge_file.__doc__)


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ("girder_spacing = \"7", "girder_spaccing = \"7", ["girder_spaccing", "girder_spacing"]),
        ('top_flange = "embedded, owner accepts"\n', "", ["top_flange", "no default", "resting"]),
        ('forms = "15 psf"\n', "", ["forms", "missing", "[loads]", '"15 psf"']),
        ('"8 in"', '"8 kip"', ["structural_thickness", "[deck]", "force"]),
        ('"8 in"', "8", ["structural_thickness", "without a unit", '"8 in"']),
        ('"8 in"', '"8 inn"', ["structural_thickness", "inn"]),
        ('"0.37 klf"', '"0.37"', ["barrier_weight", "number and its unit"]),
        ('"0.37 klf"', '"9**9**9 klf"', ["barrier_weight", "no unit"]),
        ('"15 psf"', '"15 pcf"', ["forms", "unit weight"]),
        ("47'-0\\\"", "470 ft", ["span", "5 to 400 ft"]),
        ("47'-0\\\"", "47 ft 13 in", ["span", "13 inches"]),
        ("[deck]", "[dekc]", ["dekc", "deck"]),
        ("[deck]\n", '[deck]\nspan = "4 ft"\n', ["span", "belongs in [geometry]"]),
        ("girders = 4", "girders = [1, 2]", ["girders", "list"]),
        ("girders = 4", "girders = 4 5", ["not TOML", "line"]),
        ("W33X152", "w 33 x 153", ["shape", "W33X152"]),
        ('"50W"', '"50Z"', ["steel_grade", "[materials]", "50W"]),
        ('"embedded, owner accepts"', '"yes"', ["top_flange", "anchored"]),
        ("source = ", "sauce = ", ["sauce", "source"]),
        ("project = ", "projct = ", ["projct", "project"]),
        ("job = ", "job = 3 #", ["job", "[title]", "quotes"]),
        ("[sources]", "[sources]\nspam = \"x\"", ["spam", "[sources]"]),
        ("source = ", "span = \"4 ft\"\nsource = ", ["span", "top of the file", "[geometry]"]),
        ("source = \"invented for this example\"", "source = 3", ["source", "text"]),
        ("[title]\n", "geometry = 3\n[title]\n", ["geometry"]),
        ("source = ", "title = 3\nsource = ", ["mine.toml is not TOML"]),
        ("girders = 4", "girders = 4\nzzzz = 1", ["zzzz", "[geometry]", "unknown", "overhang"]),
    ],
)  # fmt: skip
def test_mistakes_in_a_file(old: str, new: str, words: list[str]) -> None:
    text = DEMO.read_text(encoding="utf-8")
    assert old in text
    with pytest.raises(BridgeFileError) as caught:
        parse_bridge(text.replace(old, new, 1), name="mine.toml")
    message = str(caught.value)
    assert message.startswith("mine.toml")
    assert "\n" not in message
    for word in words:
        assert word in message


def test_a_key_in_place_of_a_table() -> None:
    with pytest.raises(
        BridgeFileError, match=r"deck is 3; want a table, opened by the line \[deck\]"
    ):
        parse_bridge("deck = 3")


def test_files_that_cannot_be_read(tmp_path: Path) -> None:
    with pytest.raises(BridgeFileError, match="cannot read"):
        read_bridge_file(tmp_path / "none.toml")
    (tmp_path / "binary.toml").write_bytes(b"\xff\xfe\x00")
    with pytest.raises(BridgeFileError, match="UTF-8"):
        read_bridge_file(tmp_path / "binary.toml")
    (tmp_path / "large.toml").write_text("#" * 300_000)
    with pytest.raises(BridgeFileError, match="bytes"):
        read_bridge_file(tmp_path / "large.toml")
