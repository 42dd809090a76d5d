"""Marks on a new print: what each changed line was before."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

from stepcalc.print.notebook import notebook_document, read_notebook
from stepcalc.render import blocks as b
from stepcalc.render.build import build_document
from stepcalc.render.document import read_document
from stepcalc.sheet.codec import FORMAT
from stepcalc.sheet.sheet import Sheet

if TYPE_CHECKING:
    from stepcalc.print.compare import Change, Comparison

__all__ = ["marked", "printable"]

_NAMED = (b.Given, b.Step, b.Computed, b.Lookup, b.Check)


def printable(source: Any) -> b.Document | None:
    """Return the document of a sheet, a package, or a file of either; None for bare results."""
    if not isinstance(source, (str, Path)):
        return read_document(build_document(source))
    path = Path(source)
    if path.suffix.lower() == ".ipynb":
        return notebook_document(read_notebook(path), path)[0]
    text = path.read_text(encoding="utf-8")
    if json.loads(text).get("format") != FORMAT:
        return None
    return read_document(build_document(Sheet.from_json(text)))


def marked(document: b.Document, comparison: Comparison) -> b.Document:
    """Return a document in which each changed line says what it was in the old state."""
    changes = {
        change.name: change
        for change in (*comparison.inputs, *comparison.results, *comparison.checks)
        if change.new
    }
    sheets = []
    for sheet in document.sheets:
        prefix = f"{sheet.title.removesuffix(' (continued)')}: "
        blocks = tuple(
            _marked(block, _change(changes, prefix, path), comparison.old)
            for path, block in _with_paths(sheet.blocks)
        )
        sheets.append(replace(sheet, blocks=blocks))
    return replace(document, sheets=tuple(sheets))


def _with_paths(blocks: tuple[b.Block, ...]) -> Iterator[tuple[str, b.Block]]:
    titles: list[tuple[int, str]] = []
    for block in blocks:
        if isinstance(block, b.Heading):
            titles = [t for t in titles if t[0] < block.level] + [(block.level, block.text)]
        name = getattr(block, "name", "")
        yield "/".join([*(title for _, title in titles), name]) if name else "", block


def _change(changes: dict[str, Change], prefix: str, path: str) -> Change | None:
    name = path.rpartition("/")[2]
    for key in (prefix + path, path, prefix + name, name):
        if path and key in changes:
            return changes[key]
    return None


def _marked(block: b.Block, change: Change | None, old: str) -> b.Block:
    if change is None or not isinstance(block, _NAMED):
        return block
    was = f"it was {change.old}" if change.old else "it was not there"
    words = f"changed since {old}: {was} ({change.remark})"
    return replace(block, warnings=(*block.warnings, words))
