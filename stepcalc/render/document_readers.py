"""Readers of the schema of documents: each takes what JSON gave and the place, returns a value.

A value that is not what the schema says is refused in plain words that name the place.
"""

from __future__ import annotations

import base64
import binascii
import re
from collections.abc import Callable, Mapping
from dataclasses import MISSING, fields
from difflib import get_close_matches
from functools import cache
from typing import TYPE_CHECKING, Any, TypeAlias

from stepcalc.errors import LayoutError, SheetFileError
from stepcalc.render.dialects.vocabulary import check_layout

if TYPE_CHECKING:
    from stepcalc.render import blocks as b

LONGEST_TEXT = 20_000
LONGEST_OUTPUT = 400_000
LONGEST_PICTURE = 30_000_000
MOST_ITEMS = 20_000

Reader: TypeAlias = Callable[[Any, str], Any]

_SURROGATES = re.compile("[\ud800-\udfff]")
_PNG = b"\x89PNG\r\n\x1a\n"


def read_mapping(data: object, where: str) -> dict[str, Any]:
    """Return a mapping with keys of text, or refuse what is none."""
    if not isinstance(data, Mapping):
        msg = f"{where} is {shown(data)}; want a mapping of field names to values"
        raise SheetFileError(msg)
    return dict(data)


def read_record(
    cls: Any, given: Mapping[str, Any], readers: Mapping[str, Reader], where: str
) -> Any:
    """Return a record of a class, each field read by its own reader."""
    values: dict[str, Any] = {}
    for key, value in given.items():
        reader = readers.get(key)
        if reader is None:
            near = get_close_matches(str(key), readers, n=1)
            hint = f"; nearest name: {near[0]!r}" if near else ""
            msg = f"{where} has the unknown field {shown(key)}{hint}"
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


def read_text(value: object, where: str, longest: int = LONGEST_TEXT) -> str:
    """Return a text that is not too long."""
    if not isinstance(value, str):
        msg = f"{where} is {shown(value)}; want text"
        raise SheetFileError(msg)
    if len(value) > longest:
        msg = f"{where} has {len(value)} characters; at most {longest} are printed"
        raise SheetFileError(msg)
    return value if value.isascii() else _SURROGATES.sub("\ufffd", value)


def read_long_text(value: object, where: str) -> str:
    """Return a text that may be as long as the output of a cell."""
    return read_text(value, where, LONGEST_OUTPUT)


def read_svg(value: object, where: str) -> str:
    """Return an SVG drawing."""
    text = read_text(value, where, LONGEST_PICTURE)
    if "<svg" not in text or "<!ENTITY" in text.upper():
        msg = f"{where} is no SVG drawing"
        raise SheetFileError(msg)
    return text


def read_png(value: object, where: str) -> bytes:
    """Return the bytes of a PNG picture in base64."""
    text = read_text("".join(value) if isinstance(value, list) else value, where, LONGEST_PICTURE)
    try:
        picture = base64.b64decode("".join(text.split()), validate=True)
    except (binascii.Error, ValueError):
        picture = b""
    if not picture.startswith(_PNG):
        msg = f"{where} is no PNG picture in base64"
        raise SheetFileError(msg)
    return picture


def read_true_or_false(value: object, where: str) -> bool:
    """Return true or false."""
    if not isinstance(value, bool):
        msg = f"{where} is {shown(value)}; want true or false"
        raise SheetFileError(msg)
    return value


def read_level(value: object, where: str) -> int:
    """Return the level of a heading."""
    if isinstance(value, bool) or not isinstance(value, int) or not 1 <= value <= 9:
        msg = f"{where} is {shown(value)}; want a whole number from 1 to 9"
        raise SheetFileError(msg)
    return value


def one_of(choices: tuple[str, ...]) -> Reader:
    """Return a reader of one of some texts."""

    def read(value: object, where: str) -> str:
        if value not in choices:
            msg = f"{where} is {shown(value)}; want {' or '.join(map(repr, choices))}"
            raise SheetFileError(msg)
        return str(value)

    return read


def sequence_of(reader: Reader, *, longest: int = MOST_ITEMS, word: str = "item") -> Reader:
    """Return a reader of a list whose items have a reader."""

    def read(value: object, where: str) -> tuple[Any, ...]:
        if not isinstance(value, (list, tuple)):
            msg = f"{where} is {shown(value)}; want a list"
            raise SheetFileError(msg)
        if len(value) > longest:
            msg = f"{where} has {len(value)} items; at most {longest} are printed"
            raise SheetFileError(msg)
        if word == "block":
            return tuple(reader(item, f"block {i}") for i, item in enumerate(value, 1))
        return tuple(reader(item, f"item {i} of {where}") for i, item in enumerate(value, 1))

    return read


def read_layout(value: object, where: str) -> Any:
    """Return a layout of the vocabulary."""
    try:
        check_layout(value)
    except LayoutError as error:
        msg = f"{where}: {error}"
        raise SheetFileError(msg) from error
    return value


def read_cell(value: object, where: str) -> b.Cell:
    """Return a cell of a table: a text or a layout."""
    return read_layout(value, where) if isinstance(value, list) else read_text(value, where)


def read_alignment(value: object, where: str) -> str:
    """Return one letter for each column."""
    text = "".join(value) if isinstance(value, list) and all(map(_is_text, value)) else value
    if not isinstance(text, str) or not re.fullmatch("[lcr]*", text):
        msg = f"{where} is {shown(value)}; want one of the letters l, c, r for each column"
        raise SheetFileError(msg)
    return text


def _is_text(value: object) -> bool:
    return isinstance(value, str)


def read_choices(value: object, where: str) -> str:
    """Return choices as one text."""
    if isinstance(value, (list, tuple)):
        return ", ".join(read_text(item, where) for item in value[:MOST_ITEMS])
    return read_text(value, where)


def read_list(value: object, where: str) -> list[Any]:
    """Return a list whose items are read later."""
    return list(sequence_of(lambda item, _: item)(value, where))


def read_figure_data(value: object, where: str) -> dict[str, Any]:
    """Return the data of a figure."""
    data = read_mapping(value, where)
    if not isinstance(data.get("kind"), str):
        msg = f"{where} has the kind {shown(data.get('kind'))}; want a kind of figure in words"
        raise SheetFileError(msg)
    return data


def shown(value: object) -> str:
    """Return a value as it is shown in a message."""
    text = repr(value)
    return text if len(text) <= 60 else text[:57] + "..."
