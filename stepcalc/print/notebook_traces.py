"""From where the values of a notebook's steps come: read from what its outputs store.

An output says for each node that it shows, by path, which other nodes it uses. Blocks are known by
their numbers, so paths are turned into numbers here; where two nodes of one name cannot be told
apart, a step is left without its trace rather than given a wrong one.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import Any

from stepcalc.print.notebook_document import MIME
from stepcalc.render import blocks as b
from stepcalc.render.document import read_revisions

__all__ = ["with_traces"]

_CONTINUED = " (continued)"
_OTHER_SHEET = "::"

_Place = tuple[str, str]  # title of the sheet, path


def with_traces(document: b.Document, notebook: Mapping[str, Any]) -> b.Document:
    """Return a document whose sheets say which blocks each block uses.

    Parameters
    ----------
    document : Document
        As it was read from the notebook.
    notebook : mapping
        As nbformat reads it.

    Raises
    ------
    SheetFileError
        If the revision table that a title block stores does not follow the schema.
    """
    revisions: tuple[b.RevisionRow, ...] = ()
    numbers: dict[_Place, str] = {}
    used: dict[_Place, tuple[str, ...]] = {}
    for bundle in _bundles(notebook):
        if bundle.get("revisions") is not None:
            revisions = read_revisions(bundle["revisions"])
        title, marks = _title(bundle), bundle.get("marks")
        if not isinstance(marks, Mapping) or not isinstance(bundle.get("blocks"), list):
            continue
        for path, number in _numbered(bundle["blocks"], list(map(str, marks))):
            numbers[title, path] = number
        for path, mark in marks.items():
            uses = mark.get("uses") if isinstance(mark, Mapping) else None
            if isinstance(uses, Mapping):
                used[title, str(path)] = tuple(map(str, uses))
    uses = _by_number(numbers, used)
    sheets = tuple(
        _with_uses(sheet, uses.get(sheet.title.removesuffix(_CONTINUED), {}), document)
        for sheet in document.sheets
    )
    return replace(document, sheets=sheets, revisions=revisions)


def _with_uses(
    sheet: b.SheetPages, uses: Mapping[str, tuple[str, ...]], document: b.Document
) -> b.SheetPages:
    """Return a sheet with its traces, and frames around its results alone.

    When a cell shows a step, nothing uses it yet, and it is framed as a result; here the rest of
    the sheet is known. A result is what a check compares, or what nothing uses.
    """
    title = sheet.title.removesuffix(_CONTINUED)
    alike = [other for other in document.sheets if other.title.removesuffix(_CONTINUED) == title]
    checks = {x.id for other in alike for x in other.blocks if isinstance(x, b.Check)}
    compared = {used for number in checks for used in uses.get(number, ())}
    used = {other for number in uses for other in uses[number]}
    blocks = tuple(
        replace(x, boxed=False)
        if isinstance(x, (b.Step, b.Computed, b.Lookup))
        and x.boxed and x.id in used and x.id not in compared
        else x
        for x in sheet.blocks
    )  # fmt: skip
    return replace(sheet, uses=uses, blocks=blocks)


def _bundles(notebook: Mapping[str, Any]) -> Iterator[Mapping[str, Any]]:
    for cell in notebook["cells"]:
        for output in cell.get("outputs", ()) if cell["cell_type"] == "code" else ():
            data = output.get("data")
            if isinstance(data, Mapping) and isinstance(data.get(MIME), Mapping):
                yield data[MIME]


def _title(bundle: Mapping[str, Any]) -> str:
    sheet = bundle.get("sheet")
    return str(sheet.get("title") or "") if isinstance(sheet, Mapping) else ""


def _numbered(blocks: list[Any], paths: list[str]) -> Iterator[tuple[str, str]]:
    """Yield the path and the number of each block whose path is sure."""
    titles: list[str] = []
    for block in blocks:
        if not isinstance(block, Mapping):
            continue
        name, number = block.get("name"), block.get("id")
        if block.get("kind") == "heading" and isinstance(block.get("level"), int):
            titles = [*titles[: block["level"] - 1], str(block.get("text"))]
        elif isinstance(name, str) and isinstance(number, str):
            found = [path for path in paths if path == name or path.endswith(f"/{name}")]
            if len(found) > 1:
                below = "/".join([*titles, name])
                found = [path for path in found if path == below or path.endswith(f"/{below}")]
            if len(found) == 1:
                yield found[0], number


def _by_number(
    numbers: Mapping[_Place, str], used: Mapping[_Place, tuple[str, ...]]
) -> dict[str, dict[str, tuple[str, ...]]]:
    """Return for each sheet, by the number of a block, the numbers of those that it uses."""
    found: dict[str, dict[str, tuple[str, ...]]] = {}
    for (title, path), paths in used.items():
        number = numbers.get((title, path))
        named = [words for words in (_words(numbers, title, other) for other in paths) if words]
        if number and named:
            found.setdefault(title, {})[number] = tuple(dict.fromkeys(named))
    return found


def _words(numbers: Mapping[_Place, str], title: str, path: str) -> str:
    number = numbers.get((title, path))
    if number is not None:
        return number
    other, mark, rest = path.partition(_OTHER_SHEET)
    number = numbers.get((other, rest)) if mark else None
    return f"{other}{_OTHER_SHEET}{number}" if number else ""
