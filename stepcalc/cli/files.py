"""Files of the command line: refused before the work is done, written whole or not at all."""

from __future__ import annotations

import os
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path

from stepcalc.errors import BridgeFileError, PrintError

__all__ = ["FORMS", "SLIDE_FORMS", "check_form", "check_place", "text_of", "whole_file"]

FORMS = (".pdf", ".html", ".tex", ".typ")
SLIDE_FORMS = (".html", ".pdf", ".typ")
LARGEST_TEXT = 100_000


def check_form(path: Path, forms: Sequence[str] = FORMS) -> None:
    """Refuse a file name whose ending names no form that can be printed."""
    if path.suffix.lower() not in forms:
        wanted = ", ".join(forms[:-1]) + f" or {forms[-1]}" if len(forms) > 1 else forms[0]
        raise PrintError(
            f"cannot print to {path}: its name ends in {path.suffix or 'nothing'!r}; "
            f"want a name that ends in {wanted}"
        )


def check_place(path: Path) -> None:
    """Refuse a place where no file can be written, before the work is done."""
    if path.is_dir():
        raise PrintError(f"cannot write {path}: it is a folder; name a file in it")
    if not path.parent.is_dir():
        raise PrintError(f"cannot write {path}: the folder {path.parent} does not exist; make it")


@contextmanager
def whole_file(path: Path) -> Iterator[Path]:
    """Give a file to write; it takes the place of `path` only once it is whole."""
    part = path.with_name(f".{path.stem}.{os.getpid()}.part{path.suffix}")
    try:
        yield part
        part.replace(path)
    finally:
        part.unlink(missing_ok=True)


def text_of(path: Path, wanted: str, largest: int = LARGEST_TEXT) -> str:
    """Return the text of a small file, or raise if it is not text; `wanted` names the kind."""
    try:
        with path.open("rb") as file:
            content = file.read(largest + 1)
        if len(content) > largest:
            raise BridgeFileError(f"{path} is larger than {largest} bytes; want {wanted}")
        return content.decode("utf-8")
    except UnicodeDecodeError as error:
        raise BridgeFileError(f"{path} is not a text file in UTF-8; want {wanted}") from error
