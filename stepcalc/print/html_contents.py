"""Where the links of an HTML file lead: an anchor for each heading, and a table of contents.

A browser cannot number the pages that a printer will make, so the contents lead by links.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from stepcalc.print.prepared import every_block
from stepcalc.render import blocks as b

if TYPE_CHECKING:
    from stepcalc.print.front.records import Section
    from stepcalc.print.prepared import Prepared
    from stepcalc.print.rich_text import Inline

_ODD = re.compile("[^A-Za-z0-9._-]")
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


def anchor_of(label: str) -> str:
    """Return a label as an anchor, in which other letters than plain ones are named by number.

    Examples
    --------
    >>> anchor_of("s1-3.2-4 (a)")
    's1-3.2-4_20__28_a_29_'
    """
    return _ODD.sub(lambda found: f"_{ord(found.group()):x}_", label)


def contents_of(ready: Prepared, title: str, front: tuple[Section, ...] = ()) -> Contents:
    """Return the contents of a document.

    Parameters
    ----------
    ready : Prepared
    title : str
        Stands for a sheet without a title.
    front : tuple of Section
        What stands before the sheets.
    """
    found = Contents([Entry(1, "", section.title, section.label) for section in front])
    for place, sheet in enumerate(ready.document.sheets, 1):
        found.entries.append(Entry(1, "", sheet.title or title, f"sheet-{place}"))
        headings = enumerate(_headings(ready, sheet), 1)
        for count, (heading, level, number, words) in headings:
            anchor = anchor_of(ready.index.label_of(heading)) or f"sheet-{place}-{count}"
            found.anchors[id(heading)] = anchor
            if level in LISTED_LEVELS:
                found.entries.append(Entry(level, number, words, anchor))
    return found


def _headings(ready: Prepared, sheet: b.SheetPages) -> Iterator[tuple[Any, int, str, str]]:
    """Yield each heading of a sheet with its level, number and words."""
    for block in every_block(sheet.blocks):
        if isinstance(block, b.Heading):
            yield block, ready.levels[id(block)], block.number, block.text
        elif isinstance(block, b.Markdown):
            for piece in ready.texts[id(block)]:
                if piece.kind == "heading":
                    yield piece, piece.level, "", _plain(piece.items)


def _plain(items: tuple[Inline, ...]) -> str:
    """Return the words of running text."""
    return "".join(item.text or _plain(item.items) for item in items).strip()
