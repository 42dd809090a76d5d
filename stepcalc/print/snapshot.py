"""What two states of a calculation are compared by: values, verdicts and formulas by name.

A state is read from a sheet, a package, the JSON of a sheet, the results that ``--json`` writes,
or an executed notebook. Reading executes nothing.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

from stepcalc.errors import SheetFileError
from stepcalc.print.notebook import notebook_document, read_notebook
from stepcalc.print.prepared import every_block
from stepcalc.render import blocks as b
from stepcalc.render.block_parts import value_layout
from stepcalc.render.dialects import dialect, replay
from stepcalc.sheet.codec import FORMAT
from stepcalc.sheet.entry_codec import data_of
from stepcalc.sheet.sheet import Sheet
from stepcalc.units.numbers import ratio_text, shown_text

__all__ = ["Item", "Snapshot", "snapshot", "text_of_file"]

_RESULTS = "stepcalc girder results"
_TEXT = dialect("text")
_VALUES = frozenset(("value", "last", "unit"))


@dataclass(frozen=True, slots=True)
class Item:
    """A value as it is shown; ``number`` in ``unit`` where it is known; how it is defined."""

    shown: str
    number: float | None = None
    unit: str = ""
    definition: str = ""


@dataclass(frozen=True, slots=True)
class Snapshot:
    """One state: inputs, results and checks by name, and where it comes from."""

    kind: str
    origin: str
    inputs: dict[str, Item] = field(default_factory=dict)
    results: dict[str, Item] = field(default_factory=dict)
    checks: dict[str, Item] = field(default_factory=dict)
    verdicts: dict[str, str] = field(default_factory=dict)


class NoFormulasError(SheetFileError):
    """A notebook that does not hold the formulas of what it shows."""


def snapshot(source: Any, *, formulas: bool = False) -> Snapshot:
    """Return the state of a calculation.

    Parameters
    ----------
    source : Sheet, Package, or path of a ``.ipynb`` or ``.json`` file
    formulas : bool
        Read the sheets of a notebook with their formulas, not as they are shown.

    Raises
    ------
    NoFormulasError
        If they are wanted and the notebook does not hold them.
    SheetFileError
        If a file is neither the JSON of a sheet nor results.
    PrintError, StaleError
        If a notebook was not run, or not from top to bottom.
    """
    if isinstance(source, (str, Path)):
        path = Path(source)
        if path.suffix.lower() != ".ipynb":
            return _of_json(path)
        return _with_formulas(path) if formulas else _of_notebook(path)
    sheets = getattr(source, "sheets", None)
    if sheets is None and not isinstance(source, Sheet):
        kind = type(source).__name__
        raise SheetFileError(f"cannot compare a {kind}; want a sheet, a package or a file")
    title = getattr(source, "title", "")
    return _of_sheets(list(sheets or [source]), title if isinstance(title, str) else "package")


def _of_sheets(sheets: list[Sheet], origin: str) -> Snapshot:
    found = Snapshot("sheet", origin)
    for sheet in sheets:
        prefix = f"{sheet.title}: " if len(sheets) > 1 else ""
        for node in sheet.givens:
            found.inputs[prefix + node.path] = _item(sheet, node)
        for node in sheet.steps:
            found.results[prefix + node.path] = _item(sheet, node)
        for check in sheet.checks:
            name = prefix + check.path
            found.checks[name] = Item(
                check.shown_ratio, check.ratio if check.defined else None, "",
                _definition(sheet, check.entry),
            )  # fmt: skip
            found.verdicts[name] = check.verdict
    return found


def _item(sheet: Sheet, node: Any) -> Item:
    shown = replay(value_layout(node), _TEXT)
    number = getattr(node, "base", None)
    number = None if number is None or number != number else float(number)
    return Item(shown, number, "base", _definition(sheet, node.entry))


def _definition(sheet: Sheet, entry: Any) -> str:
    """Return how a record is defined, without its value."""
    data = {k: v for k, v in data_of(sheet, entry).items() if k not in _VALUES}
    return json.dumps(data, sort_keys=True, ensure_ascii=False)


def text_of_file(path: Path) -> str:
    """Return the text of a file.

    Raises
    ------
    SheetFileError
        If it cannot be read, or is no UTF-8 text.
    """
    try:
        return path.read_text(encoding="utf-8")
    except OSError as error:
        raise SheetFileError(f"cannot read {path}: {(error.strerror or '').lower()}") from error
    except UnicodeDecodeError as error:
        raise SheetFileError(f"cannot read {path}: it is not UTF-8 text") from error


def _of_json(path: Path) -> Snapshot:
    text = text_of_file(path)
    try:
        data = json.loads(text)
    except (ValueError, RecursionError) as error:
        words = " ".join(str(error).split())[:120]
        raise SheetFileError(f"{path} is no JSON, or it was cut off: {words}") from error
    if isinstance(data, Mapping) and data.get("format") == FORMAT:
        return _of_sheets([Sheet.from_json(text)], path.name)
    if isinstance(data, Mapping) and str(data.get("schema", "")).startswith(_RESULTS):
        try:
            return _of_results(data, path.name)
        except (KeyError, TypeError, AttributeError, ValueError) as error:
            raise SheetFileError(f"the results in {path} are damaged: {error!r}"[:300]) from error
    raise SheetFileError(
        f"{path} holds neither a sheet nor results; want what to_json() of a sheet or the option "
        "--json wrote, or an executed notebook"
    )


def _of_results(data: Mapping[str, Any], origin: str) -> Snapshot:
    found = Snapshot("results", origin)
    for target, key in ((found.inputs, "givens"), (found.results, "results")):
        for name, record in data[key].items():
            target[str(name)] = _result(record)
    for record in data["checks"]:
        ratio = record["ratio"]
        shown = "undefined" if ratio is None else ratio_text(float(ratio))
        found.checks[str(record["name"])] = Item(shown, None if ratio is None else float(ratio))
        found.verdicts[str(record["name"])] = str(record["verdict"])
    return found


def _result(record: Any) -> Item:
    value, unit = (record["value"], record.get("unit") or "") if isinstance(record, Mapping) else (
        record, "",
    )  # fmt: skip
    if isinstance(value, (int, float)) and not isinstance(value, bool):
        shown = f"{shown_text(float(value))} {unit.replace('·', '-')}"
        return Item(shown.rstrip(), float(value), unit)
    return Item("undefined" if value is None else f"{value} {unit}".rstrip())


def _with_formulas(path: Path) -> Snapshot:
    from stepcalc.print.notebook_sheets import notebook_sheets

    notebook = read_notebook(path)
    notebook_document(notebook, path)  # refuses what was not run from top to bottom
    try:
        sheets = notebook_sheets(notebook, path)
    except SheetFileError as error:
        raise NoFormulasError(str(error)) from error
    return replace(_of_sheets(sheets, path.name), kind="notebook")


def _of_notebook(path: Path) -> Snapshot:
    document, _ = notebook_document(read_notebook(path), path)
    if not any(isinstance(block, (b.Given, b.Step, b.Check)) for block in _blocks(document)):
        raise SheetFileError(f"{path.name} shows no calculation sheet, so there is none to compare")
    return _of_document(document, path.name)


def _blocks(document: b.Document) -> Iterable[b.Block]:
    for sheet in document.sheets:
        yield from every_block(sheet.blocks)


def _of_document(document: b.Document, origin: str) -> Snapshot:
    found = Snapshot("notebook", origin)
    several = len({sheet.title for sheet in document.sheets}) > 1
    for sheet in document.sheets:
        title = sheet.title.removesuffix(" (continued)")
        prefix = f"{title}: " if several else ""
        for block in sheet.blocks:
            if isinstance(block, b.Given):
                found.inputs[_own(found.inputs, prefix, block)] = Item(replay(block.value, _TEXT))
            elif isinstance(block, b.Lookup):
                item = Item(replay(block.result, _TEXT))
                found.results[_own(found.results, prefix, block)] = item
            elif isinstance(block, (b.Step, b.Computed)):
                found.results[_own(found.results, prefix, block)] = Item(
                    block.undefined or replay(block.result, _TEXT), None, "",
                    json.dumps(block.formula),
                )  # fmt: skip
            elif isinstance(block, b.Check):
                name = _own(found.checks, prefix, block)
                found.checks[name] = Item(block.ratio, None, "", json.dumps(block.formula))
                found.verdicts[name] = block.verdict
    return found


def _own(taken: Mapping[str, Item], prefix: str, block: Any) -> str:
    """Return a name of its own for a block: two parts may each have a node of one name."""
    name = prefix + block.name
    return f"{name} ({block.id})" if name in taken else name
