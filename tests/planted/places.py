"""Where errors are planted, and the tests that must see them."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Place:
    """One error: `old` in `file` (below stepcalc/) becomes `new`; one of `tests` must fail."""

    file: str
    old: str
    new: str
    tests: tuple[str, ...]

    @property
    def id(self) -> str:
        """A name for the test's report."""
        return f"{self.file}:{self.old.strip()[:40]}"


def places(file: str, tests: str, *changes: tuple[str, str]) -> list[Place]:
    """Return places in one file that the same tests watch; `tests` are parted by blanks."""
    return [Place(file, old, new, tuple(tests.split())) for old, new in changes]


PLACES = [
    *places(
        "data/w_shapes.csv",
        "tests/unit/data/test_w_shapes.py",
        ("W36X135,135.0,39.7,", "W36X135,135.0,37.9,"),
        ("W24X68,68.0,20.1,23.7,", "W24X68,68.0,20.1,27.3,"),
    ),
    *places(
        "data/w_shapes.toml",
        "tests/unit/data/test_w_shapes.py",
        ('weight = "lb/ft"', 'weight = "kip/ft"'),
    ),
    *places(
        "data/steel_grades.csv",
        "tests/unit/data/test_steel_grades.py",
        ("50W,50,70,4,1", "50W,50,65,4,1"),
    ),
]
