"""The frozen schema of a document: JSON in, records out, every doubt refused in plain words.

A document may come from a stored notebook, so it is validated and never trusted: unknown kinds
and fields, wrong types, and sizes beyond the limits below are errors that name the block.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from typing import Any

from stepcalc.errors import SheetFileError
from stepcalc.render import blocks as b
from stepcalc.render.document_readers import (
    Reader,
    one_of,
    read_alignment,
    read_cell,
    read_choices,
    read_figure_data,
    read_layout,
    read_level,
    read_list,
    read_long_text,
    read_mapping,
    read_png,
    read_record,
    read_svg,
    read_text,
    read_true_or_false,
    sequence_of,
    shown,
)

VERSION = 1
PROFILES = ("package", "homework")
VERDICTS = ("OK", "N.G.")
MOST_BLOCKS = 50_000
DEEPEST_PROOF = 6


def read_document(data: object) -> b.Document:
    """Return the document that JSON data describe.

    Parameters
    ----------
    data : object
        A mapping with ``title``, ``profile``, ``sheets`` and ``notices``; ``v`` is 1.

    Returns
    -------
    Document

    Raises
    ------
    SheetFileError
        If anything in the data is not what the schema says; the message names the place.
    """
    given = read_mapping(data, "the document")
    _check_version(given, "the document")
    readers: dict[str, Reader] = {
        "title": read_title,
        "profile": one_of(PROFILES),
        "sheets": sequence_of(_read_sheet),
        "notices": sequence_of(read_text),
        "revisions": lambda data, where: read_revisions(data, where),
        "editions": _editions,
        "scope": read_text,
    }
    document: b.Document = read_record(b.Document, given, readers, "the document")
    count = sum(_count(sheet.blocks) for sheet in document.sheets)
    if count > MOST_BLOCKS:
        msg = f"the document has {count} blocks; at most {MOST_BLOCKS} are printed"
        raise SheetFileError(msg)
    return document


def read_title(data: object, where: str = "the title block") -> dict[str, str]:
    """Return the fields of a title block as text; missing ones are left blank.

    Raises
    ------
    SheetFileError
        If a field is neither text nor null, or there are more than 40 fields.
    """
    if data is None:
        return {}
    given = read_mapping(
        data, f"the title block of {where}" if where != "the title block" else where
    )
    if len(given) > 40:
        msg = f"the title block has {len(given)} fields; at most 40 are printed"
        raise SheetFileError(msg)
    return {
        read_text(key, "a name in the title block"): ""
        if value is None
        else read_text(value, f"{key!r} in the title block")
        for key, value in given.items()
    }


def read_block(data: object, where: str = "a block", depth: int = 0) -> b.Block:
    """Return one block.

    Parameters
    ----------
    data : object
        A mapping with ``kind`` and the fields of that kind.
    where : str
        The place, for the message.

    Returns
    -------
    Block

    Raises
    ------
    SheetFileError
        If the block does not follow the schema.
    """
    given = read_mapping(data, where)
    kind = given.get("kind")
    table = _readers(depth)
    if not isinstance(kind, str) or kind not in table:
        msg = f"{where} has the kind {shown(kind)}; known kinds: {', '.join(sorted(table))}"
        raise SheetFileError(msg)
    cls, readers = table[kind]
    name = given.get("name")
    place = f"{where} ({kind} {shown(name)})" if isinstance(name, str) else f"{where} ({kind})"
    rest = {key: value for key, value in given.items() if key not in ("kind", "v")}
    block: b.Block = read_record(cls, rest, readers, place)
    if isinstance(block, b.Figure) and not (block.data or block.svg or block.png):
        msg = f"{place} has neither data nor a picture"
        raise SheetFileError(msg)
    if isinstance(block, (b.Table, b.Lookup)):
        _check_columns(block, place)
    return block


def _check_columns(block: b.Table | b.Lookup, place: str) -> None:
    rows = block.rows if isinstance(block, b.Table) else block.neighbours
    for number, row in enumerate(rows, 1):
        if len(row) != len(block.header):
            columns = len(block.header)
            msg = f"row {number} of {place} has {len(row)} cells; its header has {columns}"
            raise SheetFileError(msg)


def _count(blocks: tuple[b.Block, ...]) -> int:
    return sum(1 + (_count(x.proof) if isinstance(x, b.Computed) else 0) for x in blocks)


def _check_version(given: dict[str, Any], where: str) -> None:
    version = given.pop("v", VERSION)
    if version != VERSION:
        msg = f"{where} is of version {shown(version)}; this stepcalc prints version {VERSION}"
        raise SheetFileError(msg)


def _read_sheet(data: object, where: str) -> b.SheetPages:
    given = read_mapping(data, where)
    title = given.get("title")
    place = f"sheet {shown(title)}" if isinstance(title, str) and title else where
    readers: dict[str, Reader] = {
        "title": read_text,
        "blocks": sequence_of(lambda item, at: read_block(item, f"{at} of {place}"), word="block"),
        "summary": _summary,
        "uses": _uses,
        "elsewhere": sequence_of(lambda item, at: read_block(item, f"{at} of {place}")),
    }
    sheet: b.SheetPages = read_record(b.SheetPages, given, readers, place)
    return sheet


def _summary(value: object, where: str) -> tuple[b.SummaryRow, ...]:
    rows = value.get("checks", []) if isinstance(value, Mapping) else value
    readers: dict[str, Reader] = {
        "name": read_text, "verdict": one_of(VERDICTS), "location": read_text, "demand": read_cell,
        "capacity": read_cell, "ratio": read_text, "ref": read_text, "governs": read_true_or_false,
    }  # fmt: skip
    return tuple(
        read_record(b.SummaryRow, read_mapping(row, at), readers, at)
        for row, at in ((r, f"row {i} of {where}") for i, r in enumerate(read_list(rows, where), 1))
    )


def read_revisions(data: object, where: str = "the revision table") -> tuple[b.RevisionRow, ...]:
    """Return the rows of a revision table.

    Raises
    ------
    SheetFileError
        If a row does not follow the schema, or there are more than 200.
    """
    rows: tuple[b.RevisionRow, ...] = sequence_of(_revision, longest=200)(data, where)
    return rows


def _revision(value: object, where: str) -> b.RevisionRow:
    readers: dict[str, Reader] = dict.fromkeys(("revision", "date", "by", "description"), read_text)
    row: b.RevisionRow = read_record(b.RevisionRow, read_mapping(value, where), readers, where)
    return row


def _editions(value: object, where: str) -> dict[str, str]:
    return {
        read_text(key, where): read_text(item, where)
        for key, item in read_mapping(value, where).items()
    }


def _uses(value: object, where: str) -> dict[str, tuple[str, ...]]:
    read = sequence_of(read_text)
    return {
        read_text(key, where): read(item, where) for key, item in read_mapping(value, where).items()
    }


def _validity(value: object, where: str) -> b.Validity:
    readers: dict[str, Reader] = {"condition": read_layout, "ok": read_true_or_false}
    validity: b.Validity = read_record(b.Validity, read_mapping(value, where), readers, where)
    return validity


@cache
def _readers(depth: int) -> dict[str, tuple[Any, dict[str, Reader]]]:
    """Return the fields of every kind of block; a proof holds blocks one level deeper."""
    texts = sequence_of(read_text)
    common: dict[str, Reader] = {
        "id": read_text, "name": read_text, "symbol": read_layout, "description": read_text,
        "ref": read_text, "result": read_layout, "warnings": texts, "stale": read_true_or_false,
        "boxed": read_true_or_false, "alt": read_text,
    }  # fmt: skip
    step: dict[str, Reader] = common | {
        "formula": read_layout, "substitution": read_layout, "branch": read_text,
        "condition": read_layout, "valid": sequence_of(_validity), "origin": texts,
        "units": read_layout, "undefined": read_text,
    }  # fmt: skip
    rows = sequence_of(sequence_of(read_cell, longest=60))
    return {
        "heading": (b.Heading, {"text": read_text, "level": read_level, "number": read_text}),
        "note": (b.Note, {"text": read_text}),
        "markdown": (b.Markdown, {"text": read_long_text}),
        "code": (b.Code, {"text": read_long_text}),
        "output": (b.Output, {"text": read_long_text}),
        "image": (b.Image, {"png": read_png, "alt": read_text}),
        "given": (
            b.Given,
            {key: common[key] for key in ("id", "name", "symbol", "description", "warnings")}
            | {
                "stale": read_true_or_false,
                "alt": read_text,
                "value": read_layout,
                "source": read_text,
            }
            | {"assumed": read_text, "choices": read_choices},
        ),
        "step": (b.Step, step),
        "computed": (b.Computed, step | {"method": read_text, "proof": _proof(depth)}),
        "lookup": (
            b.Lookup,
            common
            | {"table": read_text, "row": read_text, "column": read_text}
            | {"header": texts, "neighbours": rows},
        ),
        "check": (
            b.Check,
            {key: common[key] for key in ("id", "name", "ref", "warnings", "stale", "alt")}
            | {"location": read_text, "formula": read_layout, "substitution": read_layout}
            | {"ratio": read_text, "verdict": one_of(VERDICTS), "undefined": read_text},
        ),
        "table": (
            b.Table,
            {"header": texts, "rows": rows, "caption": read_text, "align": read_alignment},
        ),
        "figure": (
            b.Figure,
            {
                "data": read_figure_data,
                "svg": read_svg,
                "png": read_png,
                "caption": read_text,
                "alt": read_text,
            },
        ),
        "conclusion": (
            b.Conclusion,
            {"verdict": read_text, "governing": read_text, "scope_checked": texts}
            | {"scope_not_checked": texts, "recommendation": texts, "summary": _summary},
        ),
    }


def _proof(depth: int) -> Reader:
    if depth >= DEEPEST_PROOF:

        def refuse(value: object, where: str) -> tuple[b.Block, ...]:
            msg = f"{where} is nested deeper than {DEEPEST_PROOF} proofs"
            raise SheetFileError(msg)

        return refuse
    return sequence_of(lambda item, at: read_block(item, at, depth + 1))
