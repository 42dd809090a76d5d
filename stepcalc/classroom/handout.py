"""A handout: the same sheet with its numbers, or its formulas too, left for the student to fill in.

The document is made new from what a student may see; nothing of the solution is carried along to
be hidden.  Words of the author that quote a result lose the number.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from typing import Any

from stepcalc.classroom.blank_figure import blank_figure
from stepcalc.classroom.secrets import LINE, Secret, key_numbers, secret_of
from stepcalc.errors import FormulaError
from stepcalc.render import blocks as b
from stepcalc.render.build import build_document
from stepcalc.render.document import read_document

__all__ = ["LINE", "handout", "key_numbers"]

_MODES = ("numbers", "formulas")
_CONCLUSION_LINES = 3


def handout(
    source: Any,
    *,
    blank: str = "numbers",
    lines: int = 4,
    student_fills: Iterable[str] = (),
    sheets: Sequence[Any] = (),
    pledge: str = "",
) -> b.Document:
    """Return the document of a handout.

    Parameters
    ----------
    source : Sheet, Package or Document
    blank : {"numbers", "formulas"}
        What the student fills in: substitutions, results and verdicts; or the formulas too.
    lines : int
        Lines of room to work below each step.
    student_fills : iterable of str
        Names of givens that the student chooses, such as a shape; they are blank too.
    sheets : sequence of Sheet
        The sheets that a Document shows, when they are at hand.
    pledge : str
        Words that the student is to sign at the end; a line is left for name and date.

    Returns
    -------
    Document
        :func:`stepcalc.print.print_document` prints it.

    Raises
    ------
    FormulaError
        If ``blank`` is something else, or a name is not a given of the source.
    """
    if blank not in _MODES:
        message = f"blank is {blank!r}; want {' or '.join(map(repr, _MODES))}"
        raise FormulaError(message)
    fills = frozenset(student_fills)
    if isinstance(source, b.Document):
        whole = source
    else:
        sheets = list(getattr(source, "sheets", None) or [source])
        whole = read_document(build_document(source, profile="homework"))
    _refuse_unknown(whole, fills)
    paper = _Paper(secret_of(whole, sheets, fills), blank == "formulas", lines, fills)
    pages = [
        b.SheetPages(paper.secret.redacted(one.title), tuple(paper.blanked(one.blocks)))
        for one in whole.sheets
    ]
    if pledge.strip() and pages:
        line = b.Note(f"{pledge.strip()}  Name: {LINE * 3}  Date: {LINE}")
        pages[-1] = replace(pages[-1], blocks=(*pages[-1].blocks, line))
    title = {name: paper.secret.redacted(text) for name, text in whole.title.items()}
    return b.Document(title, "homework", tuple(pages))


def _refuse_unknown(document: b.Document, fills: frozenset[str]) -> None:
    givens = {x.name for pages in document.sheets for x in pages.blocks if isinstance(x, b.Given)}
    unknown = sorted(fills - givens)
    if unknown:
        message = f"the student is to fill in {unknown[0]!r}, which is no given of the sheet"
        raise FormulaError(message)


class _Paper:
    """How the blocks of one handout are blanked."""

    def __init__(self, secret: Secret, formulas: bool, lines: int, fills: frozenset[str]) -> None:
        self.secret = secret
        self.formulas = formulas
        self.lines = lines
        self.fills = fills

    def blanked(self, blocks: Iterable[b.Block]) -> Iterator[b.Block]:
        for block in blocks:
            if isinstance(block, b.Heading):
                yield replace(block, text=self.secret.redacted(block.text))
            elif isinstance(block, b.Given):
                yield self._given(block)
            elif isinstance(block, (b.Step, b.Computed, b.Lookup)):
                yield self._step(block)
                yield from self._room(self.lines)
            elif isinstance(block, b.Check):
                yield self._check(block)
                yield from self._room(self.lines)
            elif isinstance(block, b.Note):
                yield b.Note(self.secret.redacted(block.text))
            elif isinstance(block, b.Markdown):
                yield b.Markdown(self.secret.redacted_markdown(block.text))
            elif isinstance(block, b.Table):
                yield self._table(block)
            elif isinstance(block, b.Figure):
                yield from self._figure(block)
            elif isinstance(block, b.Conclusion):
                yield b.Note(f"Conclusion: {LINE * _CONCLUSION_LINES}")
                yield from self._room(self.lines)
            # source, printed output and finished pictures may hold the solution: none is kept

    def _given(self, block: b.Given) -> b.Given:
        told = self.secret.redacted
        value = _blank_value(block.value) if block.name in self.fills else block.value
        return b.Given(
            block.name, block.symbol, value, id=block.id, description=told(block.description),
            source=told(block.source), assumed=told(block.assumed), choices=block.choices,
        )  # fmt: skip

    def _step(self, block: b.Step | b.Computed | b.Lookup) -> b.Step:
        formula = None if self.formulas or isinstance(block, b.Lookup) else block.formula
        description = self.secret.redacted(block.description)
        if isinstance(block, b.Lookup) and not self.formulas:
            read = f"{block.table.split(':')[0].split(',')[0]}, column {block.column}"
            description = f"{description} ({read})".strip()
        return b.Step(
            block.name, block.symbol, _blank_value(block.result), formula=formula,
            substitution=None if formula is None else ["text", LINE],
            id=block.id, description=description, ref=self.secret.redacted(block.ref),
            alt=f"{block.name}, to fill in",
        )  # fmt: skip

    def _check(self, block: b.Check) -> b.Step:
        name = self.secret.redacted(block.name)
        where = f"{name}, at {self.secret.redacted(block.location)}" if block.location else name
        ratio: Any = ["text", "D/C"]
        if not self.formulas:
            ratio = ["row", [["text", "D/C of "], block.formula]]
        return b.Step(
            name, ratio, ["text", f"{LINE}  ☐ OK  ☐ N.G."], id=block.id, description=where,
            ref=self.secret.redacted(block.ref), alt=f"check {name}, to fill in",
        )  # fmt: skip

    def _table(self, block: b.Table) -> b.Table:
        rows = tuple(tuple(map(self._cell, row)) for row in block.rows)
        header = tuple(map(self.secret.redacted, block.header))
        return b.Table(header, rows, self.secret.redacted(block.caption), block.align)

    def _cell(self, cell: Any) -> Any:
        if self.secret.hides(cell):
            return LINE
        return self.secret.redacted(cell) if isinstance(cell, str) else cell

    def _figure(self, block: b.Figure) -> Iterator[b.Block]:
        caption = self.secret.redacted(block.caption)
        made = blank_figure(block.data, self.secret) if block.data else None
        if made is None:
            yield b.Note(f"Figure to draw: {caption}".strip())
            yield from self._room(2 * self.lines)
            return
        data, changed = made
        yield b.Figure(data, caption=f"{caption}, to complete" if changed else caption)

    def _room(self, lines: int) -> Iterator[b.Block]:
        if lines > 0:
            yield b.Output("\n".join(["\u00a0"] * lines))


def _blank_value(value: Any) -> Any:
    """Return a line to fill in, with the unit of the value."""
    line = ["text", LINE]
    unit = _unit_of(value)
    return ["row", [line, ["text", " "], ["unit", unit]]] if unit else line


def _unit_of(layout: Any) -> str:
    """Return the unit of a value as the layout of a result holds it."""
    if not isinstance(layout, list) or not layout:
        return ""
    if layout[0] == "qty" and len(layout) > 2:
        return str(layout[2] or "")
    if layout[0] == "unit":
        return str(layout[1])
    return next(filter(None, map(_unit_of, layout[1:])), "")
