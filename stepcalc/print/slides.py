"""A document as slides for a lecture: one step a slide, shown formula, then numbers, then result.

A *stage* is what one press of a key reveals. Nothing is computed here: the slides say what the
document says, in its order, in large type.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from stepcalc.print import views
from stepcalc.print.lines import Line, line
from stepcalc.render import blocks as b

if TYPE_CHECKING:
    from stepcalc.print.prepared import Prepared
    from stepcalc.print.rich_text import Inline, Rich

__all__ = ["Fragment", "Slide", "slides_of", "starts_with_sign"]

MOST_GIVENS = 7
MOST_ROWS = 9
MOST_LINES = 16  # of a cell's source or output
MOST_TEXT = 620  # letters of running text
_LONG_LINE = 74


@dataclass(frozen=True, slots=True)
class Fragment:
    """Something that a stage reveals.

    ``kind`` is formula, result, words, notices, givens, verdict, remarks, rich, table, figure,
    source or list; ``said`` is what a screen reader is told when it appears.
    """

    kind: str
    stage: int = 1
    said: str = ""
    line: Line | None = None
    words: str = ""
    items: tuple[Any, ...] = ()
    block: Any = None


@dataclass(frozen=True, slots=True)
class Slide:
    """One slide: under which heading it stands, what it is about, and what it reveals."""

    title: str
    about: str = ""
    ref: str = ""
    fragments: tuple[Fragment, ...] = ()

    @property
    def stages(self) -> int:
        """How many times something appears, the first time with the slide itself."""
        return max((fragment.stage for fragment in self.fragments), default=1)


def slides_of(ready: Prepared) -> tuple[Slide, ...]:
    """Return the slides of a prepared document, the title slide first.

    Parameters
    ----------
    ready : Prepared
        By :func:`stepcalc.print.prepared.prepare`.
    """
    deck = _Deck(ready)
    deck.add_title()
    for sheet in ready.document.sheets:
        deck.heading = sheet.title
        for block in sheet.blocks:
            deck.add(block)
        deck.flush()
        summary = views.last_summary(sheet)
        if summary:
            deck.heading = sheet.title
            deck.add_table(_summary(summary))
    return tuple(deck.slides)


@dataclass(slots=True)
class _Deck:
    ready: Prepared
    slides: list[Slide] = field(default_factory=list)
    heading: str = ""
    givens: list[b.Given] = field(default_factory=list)

    def put(self, *fragments: Fragment, about: str = "", ref: str = "") -> None:
        self.slides.append(Slide(self.heading.strip() or "Calculation", about, ref, fragments))

    def add_title(self) -> None:
        title = self.ready.document.title
        told = [title[name] for name in _ON_TITLE if title.get(name, "").strip()]
        names = list(dict.fromkeys(sheet.title for sheet in self.ready.document.sheets))
        self.heading = next(iter([*told, *names]), "Calculation")
        fragments = [Fragment("words", words=words) for words in [*told[1:], *names]
                     if words != self.heading]  # fmt: skip
        notices = self.ready.notices
        if notices:
            fragments.append(Fragment("notices", items=tuple(notices)))
        self.put(*fragments)

    def flush(self) -> None:
        """Put down the givens that were collected."""
        for start in range(0, len(self.givens), MOST_GIVENS):
            self.put(Fragment("givens", items=tuple(self.givens[start : start + MOST_GIVENS])))
        self.givens = []

    def add(self, block: b.Block) -> None:
        if isinstance(block, b.Given):
            self.givens.append(block)
            return
        self.flush()
        if isinstance(block, b.Heading):
            self.heading = f"{block.number} {block.text}".strip()
        elif isinstance(block, (b.Step, b.Computed, b.Lookup)):
            self.add_worked(block)
        elif isinstance(block, b.Check):
            self.add_check(block)
        elif isinstance(block, b.Note):
            self.put(Fragment("words", words=block.text))
        elif isinstance(block, b.Markdown):
            self.add_text(self.ready.texts[id(block)])
        elif isinstance(block, (b.Code, b.Output)):
            for lines in _cut(_lines(block.text), MOST_LINES):
                self.put(Fragment("source", words="\n".join(lines)))
        elif isinstance(block, b.Table):
            self.add_table(block)
        elif isinstance(block, (b.Figure, b.Image)):
            caption = getattr(block, "caption", "")
            self.put(Fragment("figure", block=block, words=caption))
        elif isinstance(block, b.Conclusion):
            self.add_conclusion(block)

    def add_worked(self, block: views.Worked) -> None:
        work = views.sides(block).work
        fragments = [
            Fragment("formula", stage, shown.alt, line=shown) for stage, shown in enumerate(work, 1)
        ]
        last = len(work) + 1
        result = line(block.result)
        boxed = "boxed" if block.boxed else ""
        fragments.append(Fragment("result", last, f"equals {result.alt}", line=result, words=boxed))
        fragments += _remarks(block, last)
        if isinstance(block, b.Lookup) and block.neighbours:
            table = b.Table(block.header, block.neighbours)
            fragments.insert(1, Fragment("table", 1, block=table))
        self.put(*fragments, about=block.description, ref=_place(block.id, block.ref))
        if isinstance(block, b.Computed):
            outer = self.heading
            self.heading = f"Shown by hand: {block.description or block.name}"
            for inner in block.proof:
                self.add(inner)
            self.flush()
            self.heading = outer

    def add_check(self, block: b.Check) -> None:
        work = views.sides(block).work
        fragments = [
            Fragment("formula", stage, shown.alt, line=shown) for stage, shown in enumerate(work, 1)
        ]
        last = len(work) + 1
        said = f"D/C {block.ratio or 'undefined'}, {block.verdict}"
        fragments.append(Fragment("verdict", last, said, block=block))
        fragments += _remarks(block, last)
        where = f"{block.name}, at {block.location}" if block.location else block.name
        self.put(*fragments, about=where, ref=_place(block.id, block.ref))

    def add_text(self, pieces: Sequence[Rich]) -> None:
        waiting: list[Rich] = []
        size = 0

        def put() -> None:
            if waiting:
                self.put(Fragment("rich", items=tuple(waiting)))
                waiting.clear()

        for piece in pieces:
            if piece.kind == "heading":
                put()
                size = 0
                self.heading = _plain(piece.items)
                continue
            if waiting and size + _size(piece) > MOST_TEXT:
                put()
                size = 0
            waiting.append(piece)
            size += _size(piece)
        put()

    def add_table(self, table: b.Table) -> None:
        for rows in _cut(table.rows, MOST_ROWS):
            part = b.Table(table.header, tuple(rows), table.caption, table.align)
            self.put(Fragment("table", block=part))

    def add_conclusion(self, block: b.Conclusion) -> None:
        said = [block.verdict] if block.verdict else []
        fragments = [Fragment("words", words=words) for words in said]
        if block.governing:
            fragments.append(Fragment("words", words=f"Governing check: {block.governing}"))
        self.put(*fragments, about="Conclusion")
        if block.summary:
            self.add_table(_summary(block.summary))
        for label, items in (
            ("Checked", block.scope_checked),
            ("Not checked", block.scope_not_checked),
            ("Recommendation (for the engineer's decision)", block.recommendation),
        ):
            for part in _cut(items, MOST_ROWS):
                self.put(Fragment("list", items=tuple(part)), about=label)


_ON_TITLE = ("assignment", "project", "subject", "structure", "course", "instructor")


def _remarks(block: Any, stage: int) -> list[Fragment]:
    return [Fragment("remarks", stage, block=block)] if views.remarks(block) else []


def _place(number: str, ref: str) -> str:
    return "  ".join(filter(None, (number, ref)))


def _summary(rows: Sequence[b.SummaryRow]) -> b.Table:
    cells = tuple(
        (f"{row.name} (governs)" if row.governs else row.name, row.location, row.demand,
         row.capacity, row.ratio, row.verdict)
        for row in rows
    )  # fmt: skip
    header = ("Check", "Where", "Demand", "Capacity", "D/C", "Verdict")
    return b.Table(header, cells, "Summary of all checks", "llrrrl")


def _cut(items: Sequence[Any], most: int) -> Iterator[Sequence[Any]]:
    """Yield parts of nearly one length, none longer than asked for."""
    if not items:
        return
    parts = -(-len(items) // most)
    size = -(-len(items) // parts)
    for start in range(0, len(items), size):
        yield items[start : start + size]


def _lines(text: str) -> list[str]:
    lines: list[str] = []
    for row in text.rstrip("\n").split("\n"):
        starts = range(0, max(len(row), 1), _LONG_LINE)
        lines += [row[start : start + _LONG_LINE] for start in starts]
    return lines


def _size(piece: Rich) -> int:
    own = len(_plain(piece.items)) + len(piece.text)
    if piece.kind == "math":
        own += 160
    own += sum(_size(inner) + 30 for item in piece.children for inner in item)
    return own + 60 * len(piece.rows)


def _plain(items: Sequence[Inline]) -> str:
    return "".join(item.text + _plain(item.items) for item in items)


def starts_with_sign(shown: Line) -> bool:
    """Tell whether a line goes on from the one above it, as ``= 3.5`` does."""
    layout = shown.layout
    return layout[0] == "row" and bool(layout[1]) and layout[1][0][0] == "op"
