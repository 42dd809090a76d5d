"""The fatigue tables: AASHTO LRFD 8th and 7th ed., Standard Specifications, from memory."""

from __future__ import annotations

import pytest

from stepcalc.data.tables import table


@pytest.mark.parametrize(
    ("name", "A", "threshold", "eighth", "seventh"),
    [
        ("A", 250, 24, 690, 530),
        ("B", 120, 16, 1120, 860),
        ("b'", 61, 12, 1350, 1035),
        ("category C", 44, 10, 1680, 1290),
        ("C'", 44, 12, 975, 745),
        ("D", 22, 7, 2450, 1875),
        ("E", 11, 4.5, 4615, 3530),
        ("E'", 3.9, 2.6, 8485, 6485),
    ],
)
def test_categories(name: str, A: float, threshold: float, eighth: float, seventh: float) -> None:
    """LRFD Tables 6.6.1.2.5-1, -3 and 6.6.1.2.3-2; A in 1e8 ksi3."""
    rows = table("stress_categories")
    found = [rows.value(name, c) for c in ("A", "threshold", "adtt_8th", "adtt_7th")]
    assert found == pytest.approx([A * 1e8, threshold, eighth, seventh])


@pytest.mark.parametrize(
    ("name", "row"),
    [
        ("A", (63, 37, 24, 24)),
        ("B", (49, 29, 18, 16)),
        ("B'", (39, 23, 14.5, 12)),
        ("C", (35.5, 21, 13, 10)),
        ("C'", (35.5, 21, 13, 12)),
        ("D", (28, 16, 10, 7)),
        ("E", (22, 13, 8, 4.5)),
        ("E'", (16, 9.2, 5.8, 2.6)),
    ],
)
def test_older_ranges(name: str, row: tuple[float, ...]) -> None:
    """Standard Specifications, Table 10.3.1A, redundant structures."""
    ranges = table("stress_ranges_std")
    columns = ("n_100000", "n_500000", "n_2000000", "n_over")
    assert tuple(ranges.value(name, column) for column in columns) == row


@pytest.mark.parametrize("name", ["stress_categories", "stress_ranges_std"])
def test_the_source_says_that_it_is_from_memory(name: str) -> None:
    assert "from memory" in table(name).source.lower()
