"""Values that others published, with their source beside them, and what stepcalc makes of them.

``values/<id>.yaml`` holds one entry: its source (``provenance`` says whether the publication was
read or is remembered), the inputs, notes on misprints and editions, and the values with an
absolute tolerance. A test module has ``READINGS``: for an entry, the function that computes each
value. ``test_every_entry.py`` asserts that nothing is left out unsaid.

The deck moments of AASHTO LRFD Table A4-1 are not among the entries: they are remembered, were
never recomputed, and may be kept only from a licensed copy.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

import pytest
import yaml

FOLDER = Path(__file__).parent / "values"

Readings = Mapping[str, Mapping[str, Callable[[], float]]]


@dataclass(frozen=True)
class Expected:
    """One published number."""

    value: float
    unit: str
    tolerance: float


@dataclass(frozen=True)
class Entry:
    """One publication's numbers for one problem."""

    id: str
    source: Mapping[str, str]
    inputs: Mapping[str, str]
    notes: str
    expected: Mapping[str, Expected]

    @property
    def cited(self) -> str:
        """The source in one line."""
        parts = (self.source[key] for key in ("title", "body", "year", "locator"))
        memory = ", from memory" if self.source["provenance"] == "memory" else ""
        return ", ".join(parts) + memory


@cache
def entry(entry_id: str) -> Entry:
    """Return the entry called `entry_id`."""
    raw: dict[str, Any] = yaml.safe_load((FOLDER / f"{entry_id}.yaml").read_text("utf-8"))
    expected = {name: Expected(*numbers) for name, numbers in raw["expected"].items()}
    return Entry(entry_id, raw["source"], raw.get("inputs", {}), raw.get("notes", ""), expected)


def all_entries() -> list[Entry]:
    """Return every entry, by id."""
    return [entry(path.stem) for path in sorted(FOLDER.glob("*.yaml"))]


def each(readings: Readings) -> pytest.MarkDecorator:
    """Parametrize a test with (entry id, name, reading) for every reading."""
    return pytest.mark.parametrize(
        ("entry_id", "name", "reading"),
        [
            pytest.param(entry_id, name, reading, id=f"{entry_id}:{name}")
            for entry_id, names in readings.items()
            for name, reading in names.items()
        ],
    )


def assert_agrees(entry_id: str, name: str, reading: Callable[[], float]) -> None:
    """Assert that the reading is the published value, within the entry's tolerance."""
    published = entry(entry_id)
    wanted = published.expected[name]
    found = float(reading())
    limit = max(wanted.tolerance, 1e-12)
    assert abs(found - wanted.value) <= limit, (
        f"{name}: {found} {wanted.unit}, published {wanted.value} within {wanted.tolerance}; "
        f"{published.cited}"
    )
