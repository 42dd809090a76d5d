"""What beams, loads, envelopes and vehicle files refuse, and in which words."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

import pytest

from stepcalc.analysis.beam import Beam, Segment
from stepcalc.analysis.beam_loads import Concentrated, Distributed
from stepcalc.analysis.beam_response import response
from stepcalc.analysis.influence_lines import influence_line
from stepcalc.analysis.live_load_envelope import live_load_envelope
from stepcalc.analysis.load_case import LoadCase, Pair
from stepcalc.analysis.vehicle_file import read_vehicle, read_vehicle_text
from stepcalc.analysis.vehicles import Vehicle
from stepcalc.errors import BridgeFileError, RangeError, UndefinedError

TWO = Beam((50.0, 70.0))


def truck(axles: tuple[float, ...], spacings: tuple[float, ...], *varying: Any) -> Vehicle:
    return Vehicle("x", "x", axles, spacings, "own", *varying)


def segments(*laws: tuple[float, float, float]) -> Beam:
    return Beam((50.0,), tuple(Segment(*law) for law in laws))


@pytest.mark.parametrize(
    ("make", "words"),
    [
        (lambda: Beam(()), "a beam of 0 spans"),
        (lambda: Beam((50.0, 0.0)), "span 2 is 0 long"),
        (lambda: Beam((-5.0,)), "span 1 is -5 long"),
        (lambda: Beam((math.nan,)), "span 1 is nan long"),
        (lambda: Beam((math.inf,)), "span 1 is inf long"),
        (lambda: Beam((1.0,) * 201), "a beam of 201 spans"),
        (lambda: Beam((50.0,), 0.0), "EI between 0 and 50"),
        (lambda: Beam((50.0,), math.nan), "EI between 0 and 50"),
        (lambda: segments((0, 20, 1.0), (25, 50, 1.0)), "segment from 25 to 50"),
        (lambda: segments((0, 30, 1.0)), "end at 30, the beam at 50"),
        (lambda: Beam((50.0,), (Segment(0, 50, lambda x: x - 20),)), "EI between 0 and 50"),
        (lambda: Beam((50.0,), ends=("pinned", "glued")), "right end is 'glued'"),  # type: ignore[arg-type]
        (lambda: Beam((50.0,), hinges=(60.0,)), "hinge at 60 is not inside"),
        (lambda: Beam((50.0,), hinges=(20.0, 20.0)), "two hinges at 20"),
        (lambda: influence_line(TWO, "moment", 121.0), "section 121 is off the beam"),
        (lambda: influence_line(TWO, "moment", math.nan), "section nan is off the beam"),
        (lambda: influence_line(TWO, "reaction", 30.0), "no support stands at 30"),
        (lambda: influence_line(TWO, "torsion", 30.0), "no influence line for 'torsion'"),  # type: ignore[arg-type]
        (lambda: response(TWO, Concentrated(130.0, 5.0)), "does not stand on the beam"),
        (lambda: response(TWO, Distributed(30.0, 20.0, 1.0)), "start before end"),
        (lambda: response(TWO, Concentrated(30.0, math.nan)), "cannot be meant"),
        (lambda: response(TWO, Concentrated(30.0, 1e9)), "cannot be meant"),
        (lambda: response(TWO, [7.0]), "7.0 is not a load"),  # type: ignore[list-item]
        (lambda: response(TWO, settlements={10.0: 0.1}), "no support stands at 10"),
        (lambda: response(TWO, settlements={50.0: math.nan}), "settlement at 50"),
        (lambda: live_load_envelope(TWO, sections=[-1.0]), "section -1 is off the beam"),
        (lambda: live_load_envelope(TWO, []), "at least one load case"),
        (lambda: LoadCase("x", axle_factor=-1.0), "axle_factor of load case 'x'"),
        (lambda: LoadCase("x", lane=math.nan), "lane of load case 'x'"),
        (lambda: LoadCase("x", pair=Pair(50.0, 40.0)), "50 to 40 apart"),
        (lambda: truck((), ()), "'x' has 0 axles and 0 spacings"),
        (lambda: truck((8.0, 32.0), ()), "'x' has 2 axles and 0 spacings"),
        (lambda: truck((8.0, math.nan), (14.0,)), "holds nan in its axles"),
        (lambda: truck((8.0, 1e9), (14.0,)), r"holds 1e\+09 in its axles"),
        (lambda: truck((8.0, 32.0), (-14.0,)), "holds -14 in its spacings"),
        (lambda: truck((8.0, 32.0), (14.0,), 1, 30.0), "varies spacing 1 up to 30"),
        (lambda: truck((8.0, 32.0), (14.0,), 0, 10.0), "varies spacing 0 up to 10"),
        (lambda: truck((8.0, 32.0), (14.0,), 0, None), "varies spacing 0 up to None"),
    ],
)
def test_refused_in_words(make: Callable[[], object], words: str) -> None:
    with pytest.raises(RangeError, match=words) as caught:
        make()
    message = str(caught.value)
    assert "\n" not in message
    assert not message.endswith(".")


@pytest.mark.parametrize(
    ("beam", "words"),
    [
        (lambda: Beam((80.0,), hinges=(40.0,)), "the hinge at 40 .* in span 1 "),
        (lambda: Beam((80.0, 80.0, 80.0), hinges=(20.0, 40.0)), "hinges at 20, 40 .* in span 1 "),
        (lambda: Beam((80.0, 80.0, 80.0), hinges=(90.0, 100.0, 140.0)), "in span 2 "),
        (lambda: Beam((80.0, 90.0), hinges=(40.0, 120.0, 150.0)), "in spans 1, 2 "),
        (lambda: Beam((80.0, 20.0), ends=("pinned", "free"), hinges=(85.0,)), "in span 2 "),
        (lambda: Beam((30.0,), ends=("free", "pinned")), "1 support.* in span 1 "),
        (lambda: Beam((30.0,), ends=("free", "free")), "0 support.* in span 1 "),
    ],
)
def test_a_mechanism_is_named_by_its_spans(beam: Callable[[], Beam], words: str) -> None:
    with pytest.raises(UndefinedError, match="the beam is a mechanism: .*" + words):
        influence_line(beam(), "moment", 10.0)
    with pytest.raises(UndefinedError, match="mechanism"):
        live_load_envelope(beam())


def test_an_envelope_names_the_section_it_lacks() -> None:
    moment = live_load_envelope(TWO, effects=["moment"])["moment"]
    with pytest.raises(RangeError, match="no section at 51"):
        moment.index_of(51.0)
    with pytest.raises(RangeError, match="does not apply to moment at 5"):
        moment.proof(1, "max", case=2)


GOOD: dict[str, Any] = {"id": "crane", "axles": [10, 20, 20], "spacings": [12, 4]}


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"axles": [10]}, "has a single axle; if that is meant"),
        ({"axles": [10, math.nan, 20]}, "axles holds nan kip"),
        ({"axles": [10, 1e9, 20]}, r"axles holds 1e\+09 kip, which cannot be meant"),
        ({"axles": [10, 0, 20]}, "not above zero"),
        ({"axles": [10, "20", 20]}, "axles holds '20'"),
        ({"axles": [10, True, 20]}, "axles holds True"),
        ({"axles": "10"}, "needs axles, a list"),
        ({"axles": []}, "needs axles, a list"),
        ({"axles": [1] * 101}, "101 axles"),
        ({"spacings": [12]}, "1 entries; these axles need 2"),
        ({"spacings": [12, -4]}, "not above zero"),
        ({"spacings": [12, math.inf]}, "spacings holds inf ft"),
        ({"positions": [0, 12, 16]}, "either spacings .* or positions"),
        ({"spacings": None}, "needs spacings"),
        ({"id": ""}, "needs id"),
        ({"wheels": 4}, "unknown key 'wheels'"),
        ({"gauge": 0}, "gauge is 0"),
        ({"varying": 30}, "varying needs spacing"),
        ({"varying": {"spacing": 3, "to": 30}}, "names spacing 3; the vehicle has 2"),
        ({"varying": {"spacing": 1, "to": 10}}, "varies from 12 to 10"),
    ],
)
def test_vehicle_tables_that_cannot_be_meant(change: dict[str, Any], words: str) -> None:
    with pytest.raises(BridgeFileError, match=words):
        read_vehicle(GOOD | change)


@pytest.mark.parametrize("places", [[0, 12, 11], [0, 12, 12], [16, 12, 0]])
def test_positions_must_increase(places: list[float]) -> None:
    table = {"id": "crane", "axles": [10, 20, 20], "positions": places}
    with pytest.raises(BridgeFileError, match="give them increasing"):
        read_vehicle(table)


def test_vehicle_tables_that_are_fine() -> None:
    found = read_vehicle({"id": "crane", "axles": [10, 20, 20], "positions": [-2, 10, 14.5]})
    assert found.spacings == (12.0, 4.5)
    assert found.gauge == 6.0
    single = read_vehicle({"id": "roller", "axles": [30], "single_axle": True})
    assert single.spacings == ()
    varying = read_vehicle(GOOD | {"varying": {"spacing": 1, "to": 20}, "gauge": 7})
    assert (varying.varying_spacing, varying.spacing_to, varying.gauge) == (0, 20.0, 7.0)


@pytest.mark.parametrize("text", ["axles = [", "[lorry]\nid = 'x'", "vehicle = 3"])
def test_texts_without_a_vehicle(text: str) -> None:
    with pytest.raises(BridgeFileError, match=r"vehicle"):
        read_vehicle_text(text)
