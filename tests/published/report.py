"""The table of published checks: for each source what was compared and how far apart it is.

``python -m tests.published.report`` renews ``TABLE.md`` beside this file, which also lists the
misprints that were found; a test asserts that the two are the same.
"""

from __future__ import annotations

import importlib
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

import yaml

from tests.published.entries import all_entries, entry

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tests.published.entries import Entry, Expected

HERE = Path(__file__).parent
TABLE = HERE / "TABLE.md"
HEAD = """# What stepcalc makes of published numbers

Made by `python -m tests.published.report`. The largest difference is given as a share of the
published number and with both numbers: where it is large, the source printed few digits. "From
memory" means that nobody had the text open when the number was written down; such numbers were
checked against arithmetic of their own before they were kept.
"""


@dataclass(frozen=True)
class Comparison:
    """One published number beside the one that stepcalc finds."""

    name: str
    expected: Expected
    found: float

    @property
    def relative(self) -> float:
        """The difference as a share of the published value; of 1 where that is zero."""
        return abs(self.found - self.expected.value) / (abs(self.expected.value) or 1.0)


def comparisons() -> dict[str, list[Comparison]]:
    """Return all comparisons by entry id, in the order of the entries."""
    found: dict[str, list[Comparison]] = {e.id: [] for e in all_entries()}
    for path in sorted(HERE.glob("test_*.py")):
        module = importlib.import_module(f"tests.published.{path.stem}")
        for entry_id, readings in getattr(module, "READINGS", {}).items():
            found[entry_id] += [
                Comparison(name, entry(entry_id).expected[name], float(reading()))
                for name, reading in readings.items()
            ]
    return {entry_id: compared for entry_id, compared in found.items() if compared}


def _row(published: Entry, compared: list[Comparison]) -> str:
    worst = max(compared, key=lambda each: each.relative)
    known = "read" if published.source["provenance"] == "read" else "from memory"
    source = f"{published.source['title']}, {published.source['locator']}"
    return (
        f"| {' '.join(source.split())} | {known} | {len(compared)} | {100 * worst.relative:.2f} % "
        f"| `{worst.name}`: {worst.expected.value:g} printed, {worst.found:.5g} found |"
    )


def misprints() -> list[str]:
    """Return the misprints found in the sources, a sentence each."""
    said: list[dict[str, Any]] = yaml.safe_load((HERE / "misprints.yaml").read_text("utf-8"))
    return [f"- {each['source']}: {' '.join(each['found'].split())}" for each in said]


def lines() -> Iterator[str]:
    """Yield the lines of the table and of the misprints, as Markdown."""
    yield from HEAD.splitlines()
    yield ""
    yield "| source | known | values | largest difference | where |"
    yield "|---|---|---|---|---|"
    for entry_id, compared in comparisons().items():
        yield _row(entry(entry_id), compared)
    yield ""
    yield "Misprints found in the sources, not tested against:"
    yield ""
    yield from misprints()


if __name__ == "__main__":
    TABLE.write_text("\n".join(lines()) + "\n", "utf-8")
