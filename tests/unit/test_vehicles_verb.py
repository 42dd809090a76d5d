"""The verb that shows vehicles: all, one, one of a file, and what cannot be shown."""

from __future__ import annotations

from typing import Any

import pytest

from stepcalc import cli
from stepcalc.analysis.vehicle_sketch import sketch
from stepcalc.analysis.vehicles import LANE_LOADS, VEHICLES

CRANE = """
[vehicle]
id = "crane carrier"
axles = [18, 24, 24]
spacings = [13.5, 4.5]
varying = { spacing = 1, to = 20 }
gauge = 8
source = "owner's data sheet"
"""


def test_all_of_them_are_listed(capsys: Any) -> None:
    assert cli.main(["vehicles"]) == 0
    text = capsys.readouterr().out
    for name in (*VEHICLES, *(lane.title for lane in LANE_LOADS.values())):
        assert name in text
    assert text.count("source: ") == len(VEHICLES) + len(LANE_LOADS)
    assert max(map(len, text.splitlines())) <= 120


def test_one_in_any_letter_case(capsys: Any) -> None:
    assert cli.main(["vehicles", "hl-93 TRUCK"]) == 0
    text = capsys.readouterr().out
    assert "72 kip, 28 to 44 ft" in text
    assert "14 to 30" in text


def test_a_vehicle_of_a_file(capsys: Any, tmp_path: Any) -> None:
    path = tmp_path / "crane.toml"
    path.write_text(CRANE, "utf-8")
    assert cli.main(["vehicles", str(path)]) == 0
    text = capsys.readouterr().out
    assert "crane carrier" in text
    assert "gauge 8 ft" in text
    assert "13.5 to 20" in text


@pytest.mark.parametrize("name", sorted(VEHICLES))
def test_the_sketch_keeps_order_and_numbers(name: Any) -> None:
    record = VEHICLES[name]
    forces, arrows, gaps = sketch(record)
    assert [float(text) for text in forces.split()] == [float(f) for f in record.axles]
    assert arrows.count("v") == len(record.axles)
    assert gaps.count("|") == len(record.axles)
    # every arrow stands at the first letter of its force and at a bar
    for place, letter in enumerate(arrows):
        if letter == "v":
            assert forces[place] != " "
            assert gaps[place] == "|"


@pytest.mark.parametrize(
    ("content", "said"),
    [
        ('[vehicle]\nid = "x"\naxles = [10, 10]\npositions = [5, 3]\n', "increasing"),
        ('[vehicle]\nid = "x"\naxles = [10]\n', "single axle"),
        ('[vehicle]\nid = "x"\naxles = [1e9, 10]\nspacings = [4]\n', "cannot be meant"),
        ("not toml", "TOML"),
        (b"\xff\xfe\x00", "UTF-8"),
        ("#" * 200_000, "larger"),
    ],
)
def test_files_that_make_no_vehicle(content: Any, said: Any, capsys: Any, tmp_path: Any) -> None:
    path = tmp_path / "bad.toml"
    path.write_bytes(content if isinstance(content, bytes) else content.encode())
    assert cli.main(["vehicles", str(path)]) == 2
    captured = capsys.readouterr()
    assert captured.out == ""
    assert said in captured.err
    assert "Traceback" not in captured.err


def test_names_that_do_not_exist(capsys: Any, tmp_path: Any) -> None:
    assert cli.main(["vehicles", "HS2O"]) == 2
    assert "HS20" in capsys.readouterr().err
    assert cli.main(["vehicles", str(tmp_path / "none.toml")]) == 2
    assert "No such file" in capsys.readouterr().err
