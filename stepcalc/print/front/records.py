"""The records that the front pages are made of, the same for every printed form."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, TypeAlias

if TYPE_CHECKING:
    from stepcalc.render.dialects import Layout

__all__ = ["Cell", "FrontTable", "Goto", "PageOf", "Part", "Section", "Strong"]


@dataclass(frozen=True, slots=True)
class Goto:
    """Words that lead to the block of a label; no label: plain words."""

    words: str
    label: str = ""


@dataclass(frozen=True, slots=True)
class PageOf:
    """The number of the page on which a label stands."""

    label: str


@dataclass(frozen=True, slots=True)
class Strong:
    """Words that are set bold."""

    words: str


Part: TypeAlias = "str | Layout | Goto | PageOf | Strong"
Cell: TypeAlias = "Part | tuple[Part, ...]"
"""A cell of a table: one part, or several one after the other."""


@dataclass(frozen=True, slots=True)
class FrontTable:
    """A table of the front pages.

    ``widths`` are shares of the room, 0 for a column as wide as it needs; ``align`` is one letter
    of ``l c r`` for each column; ``twin`` sets it in two columns of the page.
    """

    header: tuple[str, ...]
    rows: tuple[tuple[Cell, ...], ...]
    widths: tuple[float, ...]
    align: str
    caption: str = ""
    twin: bool = False


@dataclass(frozen=True, slots=True)
class Section:
    """A headed part of the front pages: paragraphs and tables in their order."""

    name: str
    title: str
    items: tuple[str | FrontTable, ...]

    @property
    def label(self) -> str:
        """The label by which others lead here."""
        return f"front-{self.name}"
