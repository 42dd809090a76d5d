"""Running text with structure: what Markdown becomes before it is printed in any form."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from stepcalc.print.lines import Line
    from stepcalc.render.dialects import Layout


@dataclass(frozen=True, slots=True)
class Inline:
    """A run of text; ``kind`` is text, strong, emphasis, code, math or break."""

    kind: str
    text: str = ""
    items: tuple[Inline, ...] = ()
    layout: Layout = field(default_factory=list)


@dataclass(frozen=True, slots=True)
class Rich:
    """A piece of text; ``kind`` is paragraph, heading, math, list, quote, code, table or rule."""

    kind: str
    items: tuple[Inline, ...] = ()
    level: int = 1
    text: str = ""
    line: Line | None = None
    ordered: bool = False
    start: int = 1
    children: tuple[tuple[Rich, ...], ...] = ()
    header: tuple[tuple[Inline, ...], ...] = ()
    rows: tuple[tuple[tuple[Inline, ...], ...], ...] = ()
    align: tuple[str, ...] = ()
