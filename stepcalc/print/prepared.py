"""A document made ready for any printed form: pictures drawn, text read, headings in order."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

from stepcalc.errors import SheetFileError
from stepcalc.print.front.index import Index, index_of
from stepcalc.print.usual_sources import usual_sources
from stepcalc.print.views import missing_checks
from stepcalc.render import blocks as b
from stepcalc.render.figures import draw_figure, figure_alt

if TYPE_CHECKING:
    from stepcalc.print.rich_text import Rich

_DEEPEST_HEADING = 6


@dataclass(frozen=True, slots=True)
class Picture:
    """A finished picture; ``file`` is its name among the files of the document.

    ``ours`` says that it was drawn here, for the width of the sheet.
    """

    file: str
    form: str
    content: bytes
    alt: str
    ours: bool = False


@dataclass(slots=True)
class Prepared:
    """What has been made of a document's blocks, each found by the block it belongs to."""

    document: b.Document
    pictures: dict[int, Picture] = field(default_factory=dict)
    texts: dict[int, tuple[Rich, ...]] = field(default_factory=dict)
    levels: dict[int, int] = field(default_factory=dict)
    notices: list[str] = field(default_factory=list)
    sources: dict[int, str] = field(default_factory=dict)
    source_notes: dict[int, str] = field(default_factory=dict)
    index: Index = field(init=False)

    def __post_init__(self) -> None:
        """Index the numbered blocks, for links between them."""
        self.index = index_of(self.document)

    def notice(self, words: str) -> None:
        """Add a notice for the first page, once."""
        if words not in self.notices:
            self.notices.append(words)


def prepare(document: b.Document, form: str, *, folder: str = "") -> Prepared:
    """Draw the figures of a document, read its Markdown and set its headings in order.

    Parameters
    ----------
    document : Document
    form : {"svg", "pdf", "png"}
        How figures are drawn that the document holds as data.
    folder : str
        Stands before the name of each picture.

    Returns
    -------
    Prepared
    """
    ready = Prepared(document, notices=list(document.notices))
    for sheet in document.sheets:
        missing = missing_checks(sheet)
        if missing and not _sums_up(sheet):
            ready.notice(f"Sheet {sheet.title!r} has no conclusion that sums up its checks")
            missing = []
        for name in missing:
            ready.notice(f"The summary of sheet {sheet.title!r} does not name the check {name!r}")
        _say_sources_once(ready, sheet)
        last_level = 1
        for block in every_block(sheet.blocks):
            if isinstance(block, b.Heading):
                last_level = _in_order(block.level + 1, last_level)
                ready.levels[id(block)] = last_level
            elif isinstance(block, b.Markdown):
                last_level = _read_text(ready, block, last_level)
            elif isinstance(block, (b.Figure, b.Image)):
                made = _picture(ready, block, form)
                ready.pictures[id(block)] = replace(made, file=folder + made.file)
    return ready


def _sums_up(sheet: b.SheetPages) -> bool:
    return bool(sheet.summary) or any(isinstance(x, b.Conclusion) for x in sheet.blocks)


def _say_sources_once(ready: Prepared, sheet: b.SheetPages) -> None:
    usual = usual_sources(ready.document, sheet)
    ready.source_notes[id(sheet)] = usual.note
    for block in sheet.blocks:
        if isinstance(block, b.Given):
            ready.sources[id(block)] = usual.beside(block)


def every_block(blocks: tuple[b.Block, ...]) -> Iterator[b.Block]:
    """Yield blocks and the blocks of their proofs, in reading order."""
    for block in blocks:
        yield block
        if isinstance(block, b.Computed):
            yield from every_block(block.proof)


def _in_order(level: int, last: int) -> int:
    """Return a heading level that leaves out none, as a tagged PDF requires."""
    return max(2, min(level, last + 1, _DEEPEST_HEADING))


def _read_text(ready: Prepared, block: b.Markdown, last_level: int) -> int:
    from stepcalc.print.markdown import read_markdown

    pieces = []
    for piece in read_markdown(block.text, ready.notice):
        if piece.kind == "heading":
            last_level = _in_order(piece.level + 1, last_level)
            pieces.append(replace(piece, level=last_level))
        else:
            pieces.append(piece)
    ready.texts[id(block)] = tuple(pieces)
    return last_level


def _picture(ready: Prepared, block: b.Figure | b.Image, form: str) -> Picture:
    number = len(ready.pictures) + 1
    if isinstance(block, b.Image):
        return Picture(f"figure-{number}.png", "png", block.png, block.alt or "picture of a cell")
    if block.data:
        try:
            content = draw_figure(block.data, form)
            alt = block.alt or figure_alt(block.data)
        except SheetFileError as error:
            msg = f"figure {number} ({block.caption or 'no caption'}): {error}"
            raise SheetFileError(msg) from error
        return Picture(f"figure-{number}.{form}", form, content, alt, ours=True)
    alt = block.alt or block.caption or "figure without a description"
    if block.svg:
        return Picture(f"figure-{number}.svg", "svg", block.svg.encode(), alt)
    return Picture(f"figure-{number}.png", "png", block.png, alt)
