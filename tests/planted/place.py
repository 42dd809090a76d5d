"""One planted error, and how lists of them are written."""

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
