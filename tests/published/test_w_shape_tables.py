"""The table of W shapes against tables that others printed."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

import pytest

from stepcalc.data.tables import table
from tests.published.entries import assert_agrees, each, entry

if TYPE_CHECKING:
    from collections.abc import Callable

    from tests.published.entries import Readings

SHAPES = table("w_shapes")


def prop(shape: str, name: str) -> float:
    """Return a property by its printed symbol."""
    return SHAPES.value(shape, {"A": "area"}.get(name, name))


READINGS: Readings = {
    "aisc-w-shapes": {
        name: partial(prop, *name.split(".")) for name in entry("aisc-w-shapes").expected
    },
    "w21x57-properties": {
        name: partial(prop, "W21X57", name) for name in entry("w21x57-properties").expected
    },
}


@each(READINGS)
def test_published(entry_id: str, name: str, reading: Callable[[], float]) -> None:
    assert_agrees(entry_id, name, reading)


def test_the_older_w36x150_is_another_profile() -> None:
    """Before 1978 the W36X150 was A 44.16, d 35.84, I 9012, S 503 (entry hicks-composite-...)."""
    older = entry("hicks-composite-bridge-asd").inputs
    assert (older["A_beam"], older["I_beam"]) == ("44.16 in2", "9012 in4")
    current = [SHAPES.value("W36X150", c) for c in ("area", "d", "Ix", "Sx")]
    assert current == [44.3, 35.9, 9040.0, 504.0]
    assert "v16.0" in SHAPES.edition


@pytest.mark.parametrize("name", ["d", "tf", "Ix", "Sx", "Zx", "Iy", "J"])
def test_w18x35_as_read_elsewhere(name: str) -> None:
    """Values read beside those of the entry aisc-w-shapes (its notes)."""
    read = {"d": 17.7, "tf": 0.425, "Ix": 510, "Sx": 57.6, "Zx": 66.5, "Iy": 15.3, "J": 0.506}
    assert SHAPES.value("W18X35", name) == read[name]
