"""What made a package, and a hash of what went into it.

The versions are those of the programs alone, never of the machine, so that the same input gives
the same bytes on every machine that holds the same versions.
"""

from __future__ import annotations

import hashlib
import json
import sys
from collections.abc import Iterable
from functools import cache
from importlib.metadata import PackageNotFoundError, version
from typing import Any

from stepcalc._version import __version__
from stepcalc.render import blocks as b

__all__ = ["input_hash", "software"]

_LIBRARIES = ("numpy", "pint", "sympy", "typst")


@cache
def software() -> tuple[tuple[str, str], ...]:
    """Return the programs that a print rests on, each with its version."""
    python = ".".join(map(str, sys.version_info[:3]))
    return (
        ("stepcalc", __version__),
        ("Python", python),
        *((name, _version(name)) for name in _LIBRARIES),
    )


def _version(name: str) -> str:
    try:
        return version(name)
    except PackageNotFoundError:  # a copy that was never installed
        return "version not known"


def input_hash(document: b.Document) -> str:
    """Return the SHA-256 of the inputs and formulas of a document, in hexadecimal.

    It changes when a given value, a choice, a formula or the comparison of a check changes, or
    when one is added or left out; words, titles, order, layout and results do not matter.

    Parameters
    ----------
    document : Document

    Returns
    -------
    str
        Sixty-four digits.
    """
    records = [sorted(_records((*sheet.blocks, *sheet.elsewhere))) for sheet in document.sheets]
    known: set[str] = set()
    told = []
    for sheet in records:
        fresh = [record for record in dict.fromkeys(sheet) if record not in known]
        known.update(fresh)
        if fresh:
            told.append(fresh)
    text = json.dumps(told, ensure_ascii=False)
    return hashlib.sha256(text.encode("utf-8", "surrogatepass")).hexdigest()


def _records(blocks: Iterable[b.Block]) -> Iterable[str]:
    for block in blocks:
        record = _record(block)
        if record is not None:
            yield json.dumps(record, ensure_ascii=False)


def _record(block: b.Block) -> list[Any] | None:
    """Return what defines the value of a block, nothing that only follows from it."""
    if isinstance(block, b.Given):
        return ["given", block.name, block.value]
    if isinstance(block, b.Step):
        formula = block.formula if block.formula is not None else block.result  # typed number
        return ["step", block.name, formula]
    if isinstance(block, b.Lookup):
        return ["lookup", block.name, block.table.split(":")[0].split(",")[0], block.row,
                block.column]  # fmt: skip
    if isinstance(block, b.Computed):
        return ["computed", block.name, block.method]
    if isinstance(block, b.Check):
        return ["check", block.name, block.formula]
    return None
