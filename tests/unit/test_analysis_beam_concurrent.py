"""What acts together: shear with maximum moment, moment with maximum shear."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest

from stepcalc.analysis.beam import Beam
from stepcalc.analysis.concurrent import concurrent
from stepcalc.analysis.live_load_envelope import Which, live_load_envelope
from stepcalc.analysis.load_case import LoadCase, fatigue_cases, hl93_cases, standard_cases
from stepcalc.analysis.load_proof import concurrent_effect

if TYPE_CHECKING:
    from stepcalc.analysis.influence_lines import Effect


def test_shear_beside_the_largest_moment_by_hand() -> None:
    """100 ft, midspan: 8 at 36, 32 at 50, 32 at 64 ft; left reaction (8*64 + 32*50 + 32*36)/100.

    32.64 kip, so the shear is 32.64 - 8 = 24.64 kip left of the axle and -7.36 kip right of it,
    times 1.33; the lane load on the whole span has no shear at midspan.
    """
    moment = live_load_envelope(Beam((100.0,)), sections=[50.0])["moment"]
    shear = concurrent(moment, "shear")
    assert sorted([shear.left[0], -shear.right[0]]) == pytest.approx([1.33 * 7.36, 1.33 * 24.64])
    assert abs(shear.governing[0]) == pytest.approx(1.33 * 24.64)


def test_moment_beside_the_largest_shear_by_hand() -> None:
    """40 ft, at 10 ft: 32, 32, 8 at 10, 24, 38 ft, lane from 10 to 40 ft.

    Left reaction by axles (32*30 + 32*16 + 8*2)/40 = 37.2 kip, by lane 0.64*30**2/80 = 7.2 kip;
    moment at 10 ft 1.33*372 + 72.
    """
    shear = live_load_envelope(Beam((40.0,)), sections=[10.0])["shear"]
    moment = concurrent(shear, "moment")
    truck = 1.33 * 372 + 72
    assert shear.cases[shear.maximum_case[0]].id == "truck + lane"
    assert moment.left[0] == pytest.approx(truck)
    assert moment.right[0] == pytest.approx(truck)


@pytest.mark.parametrize("cases", [hl93_cases(), standard_cases(), fatigue_cases()])
@pytest.mark.parametrize(
    "beam", [Beam((72.0, 95.0, 60.0)), Beam((20.0, 80.0, 70.0), ends=("free", "fixed"))]
)
def test_the_same_as_by_the_rows_of_each_proof(beam: Beam, cases: tuple[LoadCase, ...]) -> None:
    found = live_load_envelope(beam, cases, effects=["moment", "shear"])
    other: Effect = "moment"
    extremes: tuple[Which, Which] = ("max", "min")
    for name in ("shear", "moment"):
        envelope = found[name]
        for which in extremes:
            beside = concurrent(envelope, other, which)
            governing = envelope.maximum_case if which == "max" else envelope.minimum_case
            for i in np.flatnonzero(governing >= 0):
                proof = envelope.proof(int(i), which)
                one_by_one = concurrent_effect(beam, proof, other, face=int(envelope.faces[i]))
                assert beside.left[i] == pytest.approx(one_by_one, rel=1e-9, abs=1e-7)


def test_its_own_effect_comes_back() -> None:
    shear = live_load_envelope(Beam((72.0, 95.0, 60.0)))["shear"]
    np.testing.assert_allclose(concurrent(shear, "shear").right, shear.maximum, atol=1e-9)
    np.testing.assert_allclose(concurrent(shear, "shear", "min").left, shear.minimum, atol=1e-9)
