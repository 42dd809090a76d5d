"""Where the links of an HTML file lead: an anchor for each heading, and a table of contents.

A browser cannot number the pages that a printer will make, so the contents lead by links.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from stepcalc.print.prepared import every_block
from stepcalc.render import blocks as b

if TYPE_CHECKING:
    from stepcalc.print.prepared import Prepared
    from stepcalc.print.rich_text import Inline

LISTED_LEVELS = (2, 3)
SHORT = 2  # headings: a document that has no more needs no table of contents


@dataclass(frozen=True, slots=True)
class Entry:
    """One line of the contents; ``level`` 1 is a sheet."""

    level: int
    number: str
    words: str
    anchor: str


@dataclass(slots=True)
class Contents:
    """The entries in reading order, and the anchors of headings by the identity of their block."""

    entries: list[Entry] = field(default_factory=list)
    anchors: dict[int, str] = field(default_factory=dict)

    @property
    def listed(self) -> list[Entry]:
        """What a table of contents shows; nothing for a short document."""
        return self.entries if len(self.entries) > SHORT else []


def contents_of(ready: Prepared, title: str) -> Contents:
    """Return the contents of a document.

    Parameters
    ----------
    ready : Prepared
    title : str
        Stands for a sheet without a title.
    """
    found = Contents()
    for place, sheet in enumerate(ready.document.sheets, 1):
        found.entries.append(Entry(1, "", sheet.title or title, f"sheet-{place}"))
        headings = enumerate(_headings(ready, sheet), 1)
        for number, (own, level, label, words) in headings:
            anchor = f"sheet-{place}-{number}"
            found.anchors[own] = anchor
            if level in LISTED_LEVELS:
                found.entries.append(Entry(level, label, words, anchor))
    return found


def _headings(ready: Prepared, sheet: b.SheetPages) -> Iterator[tuple[int, int, str, str]]:
    """Yield identity, level, number and words of each heading of a sheet."""
    for block in every_block(sheet.blocks):
        if isinstance(block, b.Heading):
            yield id(block), ready.levels[id(block)], block.number, block.text
        elif isinstance(block, b.Markdown):
            for piece in ready.texts[id(block)]:
                if piece.kind == "heading":
                    yield id(piece), piece.level, "", _plain(piece.items)


def _plain(items: tuple[Inline, ...]) -> str:
    """Return the words of running text."""
    return "".join(item.text or _plain(item.items) for item in items).strip()
