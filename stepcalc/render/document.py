"""The frozen schema of a document: JSON in, records out, every doubt refused in plain words.

A document may come from a stored notebook, so it is validated and never trusted: unknown kinds
and fields, wrong types, and sizes beyond the limits below are errors that name the block.
"""

from __future__ import annotations

import base64
import binascii
import re
from collections.abc import Callable, Mapping
from dataclasses import MISSING, fields
from difflib import get_close_matches
from functools import cache
from typing import Any, TypeAlias

from stepcalc.errors import LayoutError, SheetFileError
from stepcalc.render import blocks as b
from stepcalc.render.dialects.vocabulary import check_layout

VERSION = 1
PROFILES = ("package", "homework")
VERDICTS = ("OK", "N.G.")
MOST_BLOCKS = 50_000
DEEPEST_PROOF = 6
LONGEST_TEXT = 20_000
LONGEST_OUTPUT = 400_000
LONGEST_PICTURE = 30_000_000
MOST_ITEMS = 20_000

Reader: TypeAlias = Callable[[Any, str], Any]

_SURROGATES = re.compile("[\ud800-\udfff]")
_PNG = b"\x89PNG\r\n\x1a\n"


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
    given = _mapping(data, "the document")
    _check_version(given, "the document")
    readers: dict[str, Reader] = {
        "title": read_title,
        "profile": _one_of(PROFILES),
        "sheets": _sequence(_read_sheet),
        "notices": _sequence(_text),
        "revisions": lambda data, where: read_revisions(data, where),
        "editions": _editions,
        "scope": _text,
    }
    document: b.Document = _record(b.Document, given, readers, "the document")
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
    given = _mapping(data, f"the title block of {where}" if where != "the title block" else where)
    if len(given) > 40:
        msg = f"the title block has {len(given)} fields; at most 40 are printed"
        raise SheetFileError(msg)
    return {
        _text(key, "a name in the title block"): ""
        if value is None
        else _text(value, f"{key!r} in the title block")
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
    given = _mapping(data, where)
    kind = given.get("kind")
    table = _readers(depth)
    if not isinstance(kind, str) or kind not in table:
        msg = f"{where} has the kind {_shown(kind)}; known kinds: {', '.join(sorted(table))}"
        raise SheetFileError(msg)
    cls, readers = table[kind]
    name = given.get("name")
    place = f"{where} ({kind} {_shown(name)})" if isinstance(name, str) else f"{where} ({kind})"
    rest = {key: value for key, value in given.items() if key not in ("kind", "v")}
    block: b.Block = _record(cls, rest, readers, place)
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
        msg = f"{where} is of version {_shown(version)}; this stepcalc prints version {VERSION}"
        raise SheetFileError(msg)


def _read_sheet(data: object, where: str) -> b.SheetPages:
    given = _mapping(data, where)
    title = given.get("title")
    place = f"sheet {_shown(title)}" if isinstance(title, str) and title else where
    readers: dict[str, Reader] = {
        "title": _text,
        "blocks": _sequence(lambda item, at: read_block(item, f"{at} of {place}"), word="block"),
        "summary": _summary,
        "uses": _uses,
        "elsewhere": _sequence(lambda item, at: read_block(item, f"{at} of {place}")),
    }
    sheet: b.SheetPages = _record(b.SheetPages, given, readers, place)
    return sheet


# Readers: each takes what JSON gave and the place, and returns the value of a field. ----------


def _mapping(data: object, where: str) -> dict[str, Any]:
    if not isinstance(data, Mapping):
        msg = f"{where} is {_shown(data)}; want a mapping of field names to values"
        raise SheetFileError(msg)
    return dict(data)


def _record(cls: Any, given: Mapping[str, Any], readers: Mapping[str, Reader], where: str) -> Any:
    values: dict[str, Any] = {}
    for key, value in given.items():
        reader = readers.get(key)
        if reader is None:
            near = get_close_matches(str(key), readers, n=1)
            hint = f"; nearest name: {near[0]!r}" if near else ""
            msg = f"{where} has the unknown field {_shown(key)}{hint}"
            raise SheetFileError(msg)
        if value is not None:
            values[key] = reader(value, f"{key!r} of {where}")
    missing = sorted(_required(cls) - values.keys())
    if missing:
        msg = f"{where} lacks {', '.join(map(repr, missing))}"
        raise SheetFileError(msg)
    return cls(**values)


@cache
def _required(cls: Any) -> frozenset[str]:
    return frozenset(
        f.name for f in fields(cls) if f.default is MISSING and f.default_factory is MISSING
    )


def _text(value: object, where: str, longest: int = LONGEST_TEXT) -> str:
    if not isinstance(value, str):
        msg = f"{where} is {_shown(value)}; want text"
        raise SheetFileError(msg)
    if len(value) > longest:
        msg = f"{where} has {len(value)} characters; at most {longest} are printed"
        raise SheetFileError(msg)
    return value if value.isascii() else _SURROGATES.sub("\ufffd", value)


def _long_text(value: object, where: str) -> str:
    return _text(value, where, LONGEST_OUTPUT)


def _svg(value: object, where: str) -> str:
    text = _text(value, where, LONGEST_PICTURE)
    if "<svg" not in text or "<!ENTITY" in text.upper():
        msg = f"{where} is no SVG drawing"
        raise SheetFileError(msg)
    return text


def _png(value: object, where: str) -> bytes:
    text = _text("".join(value) if isinstance(value, list) else value, where, LONGEST_PICTURE)
    try:
        picture = base64.b64decode("".join(text.split()), validate=True)
    except (binascii.Error, ValueError):
        picture = b""
    if not picture.startswith(_PNG):
        msg = f"{where} is no PNG picture in base64"
        raise SheetFileError(msg)
    return picture


def _true_or_false(value: object, where: str) -> bool:
    if not isinstance(value, bool):
        msg = f"{where} is {_shown(value)}; want true or false"
        raise SheetFileError(msg)
    return value


def _level(value: object, where: str) -> int:
    if isinstance(value, bool) or not isinstance(value, int) or not 1 <= value <= 9:
        msg = f"{where} is {_shown(value)}; want a whole number from 1 to 9"
        raise SheetFileError(msg)
    return value


def _one_of(choices: tuple[str, ...]) -> Reader:
    def read(value: object, where: str) -> str:
        if value not in choices:
            msg = f"{where} is {_shown(value)}; want {' or '.join(map(repr, choices))}"
            raise SheetFileError(msg)
        return str(value)

    return read


def _sequence(reader: Reader, *, longest: int = MOST_ITEMS, word: str = "item") -> Reader:
    def read(value: object, where: str) -> tuple[Any, ...]:
        if not isinstance(value, (list, tuple)):
            msg = f"{where} is {_shown(value)}; want a list"
            raise SheetFileError(msg)
        if len(value) > longest:
            msg = f"{where} has {len(value)} items; at most {longest} are printed"
            raise SheetFileError(msg)
        if word == "block":
            return tuple(reader(item, f"block {i}") for i, item in enumerate(value, 1))
        return tuple(reader(item, f"item {i} of {where}") for i, item in enumerate(value, 1))

    return read


def _layout(value: object, where: str) -> Any:
    try:
        check_layout(value)
    except LayoutError as error:
        msg = f"{where}: {error}"
        raise SheetFileError(msg) from error
    return value


def _cell(value: object, where: str) -> b.Cell:
    return _layout(value, where) if isinstance(value, list) else _text(value, where)


def _alignment(value: object, where: str) -> str:
    text = "".join(value) if isinstance(value, list) and all(map(_is_text, value)) else value
    if not isinstance(text, str) or not re.fullmatch("[lcr]*", text):
        msg = f"{where} is {_shown(value)}; want one of the letters l, c, r for each column"
        raise SheetFileError(msg)
    return text


def _is_text(value: object) -> bool:
    return isinstance(value, str)


def _choices(value: object, where: str) -> str:
    if isinstance(value, (list, tuple)):
        return ", ".join(_text(item, where) for item in value[:MOST_ITEMS])
    return _text(value, where)


def _summary(value: object, where: str) -> tuple[b.SummaryRow, ...]:
    rows = value.get("checks", []) if isinstance(value, Mapping) else value
    readers: dict[str, Reader] = {
        "name": _text, "verdict": _one_of(VERDICTS), "location": _text, "demand": _cell,
        "capacity": _cell, "ratio": _text, "ref": _text, "governs": _true_or_false,
    }  # fmt: skip
    return tuple(
        _record(b.SummaryRow, _mapping(row, at), readers, at)
        for row, at in ((r, f"row {i} of {where}") for i, r in enumerate(_listed(rows, where), 1))
    )


def _listed(value: object, where: str) -> list[Any]:
    return list(_sequence(lambda item, _: item)(value, where))


def read_revisions(data: object, where: str = "the revision table") -> tuple[b.RevisionRow, ...]:
    """Return the rows of a revision table.

    Raises
    ------
    SheetFileError
        If a row does not follow the schema, or there are more than 200.
    """
    rows: tuple[b.RevisionRow, ...] = _sequence(_revision, longest=200)(data, where)
    return rows


def _revision(value: object, where: str) -> b.RevisionRow:
    readers: dict[str, Reader] = dict.fromkeys(("revision", "date", "by", "description"), _text)
    row: b.RevisionRow = _record(b.RevisionRow, _mapping(value, where), readers, where)
    return row


def _editions(value: object, where: str) -> dict[str, str]:
    return {_text(key, where): _text(item, where) for key, item in _mapping(value, where).items()}


def _uses(value: object, where: str) -> dict[str, tuple[str, ...]]:
    read = _sequence(_text)
    return {_text(key, where): read(item, where) for key, item in _mapping(value, where).items()}


def _validity(value: object, where: str) -> b.Validity:
    readers: dict[str, Reader] = {"condition": _layout, "ok": _true_or_false}
    validity: b.Validity = _record(b.Validity, _mapping(value, where), readers, where)
    return validity


def _figure_data(value: object, where: str) -> dict[str, Any]:
    data = _mapping(value, where)
    if not isinstance(data.get("kind"), str):
        msg = f"{where} has the kind {_shown(data.get('kind'))}; want a kind of figure in words"
        raise SheetFileError(msg)
    return data


@cache
def _readers(depth: int) -> dict[str, tuple[Any, dict[str, Reader]]]:
    """Return the fields of every kind of block; a proof holds blocks one level deeper."""
    texts = _sequence(_text)
    common: dict[str, Reader] = {
        "id": _text, "name": _text, "symbol": _layout, "description": _text,
        "ref": _text, "result": _layout, "warnings": texts, "stale": _true_or_false,
        "boxed": _true_or_false, "alt": _text,
    }  # fmt: skip
    step: dict[str, Reader] = common | {
        "formula": _layout, "substitution": _layout, "branch": _text,
        "condition": _layout, "valid": _sequence(_validity), "origin": texts, "units": _layout,
        "undefined": _text,
    }  # fmt: skip
    rows = _sequence(_sequence(_cell, longest=60))
    return {
        "heading": (b.Heading, {"text": _text, "level": _level, "number": _text}),
        "note": (b.Note, {"text": _text}),
        "markdown": (b.Markdown, {"text": _long_text}),
        "code": (b.Code, {"text": _long_text}),
        "output": (b.Output, {"text": _long_text}),
        "image": (b.Image, {"png": _png, "alt": _text}),
        "given": (
            b.Given,
            {key: common[key] for key in ("id", "name", "symbol", "description", "warnings")}
            | {"stale": _true_or_false, "alt": _text, "value": _layout, "source": _text}
            | {"assumed": _text, "choices": _choices},
        ),
        "step": (b.Step, step),
        "computed": (b.Computed, step | {"method": _text, "proof": _proof(depth)}),
        "lookup": (
            b.Lookup,
            common
            | {"table": _text, "row": _text, "column": _text}
            | {"header": texts, "neighbours": rows},
        ),
        "check": (
            b.Check,
            {key: common[key] for key in ("id", "name", "ref", "warnings", "stale", "alt")}
            | {"location": _text, "formula": _layout, "substitution": _layout}
            | {"ratio": _text, "verdict": _one_of(VERDICTS), "undefined": _text},
        ),
        "table": (
            b.Table,
            {"header": texts, "rows": rows, "caption": _text, "align": _alignment},
        ),
        "figure": (
            b.Figure,
            {"data": _figure_data, "svg": _svg, "png": _png, "caption": _text, "alt": _text},
        ),
        "conclusion": (
            b.Conclusion,
            {"verdict": _text, "governing": _text, "scope_checked": texts}
            | {"scope_not_checked": texts, "recommendation": texts, "summary": _summary},
        ),
    }


def _proof(depth: int) -> Reader:
    if depth >= DEEPEST_PROOF:

        def refuse(value: object, where: str) -> tuple[b.Block, ...]:
            msg = f"{where} is nested deeper than {DEEPEST_PROOF} proofs"
            raise SheetFileError(msg)

        return refuse
    return _sequence(lambda item, at: read_block(item, at, depth + 1))


def _shown(value: object) -> str:
    text = repr(value)
    return text if len(text) <= 60 else text[:57] + "..."
