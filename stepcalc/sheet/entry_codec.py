"""The records of a sheet as JSON objects and back."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

from stepcalc.data.tables import Table, table
from stepcalc.errors import SheetFileError, TableError
from stepcalc.expr.codec import read_typed_number, tree_data, typed_data
from stepcalc.expr.tree import Condition
from stepcalc.sheet import writing
from stepcalc.sheet.entries import (
    CheckEntry,
    ComputedEntry,
    ExternalEntry,
    GivenEntry,
    LookupEntry,
    StepEntry,
)
from stepcalc.sheet.kernels import known_kernel
from stepcalc.sheet.nodes import Choice
from stepcalc.sheet.quantities import display_unit
from stepcalc.sheet.state import row_of
from stepcalc.units.info import read_unit

__all__ = ["data_of", "entry_of"]

Reader = Callable[[Any], Any]


def data_of(sheet: Any, entry: Any) -> dict[str, Any]:
    """Return a record as a JSON object."""
    data = {"kind": entry.kind, "name": entry.name, "path": entry.path}
    data.update(_WRITERS[entry.kind](sheet, entry))
    return data


def _words(entry: Any) -> dict[str, Any]:
    return {"description": entry.description, "ref": entry.ref, "symbol": entry.symbol,
            "unit": entry.info.name}  # fmt: skip


def _given_data(sheet: Any, entry: Any) -> dict[str, Any]:
    typed, info = sheet._typed_of(entry.slot)
    data = {
        "value": typed if isinstance(typed, str) else typed_data(typed), "unit": info.name,
        "shown_unit": entry.info.name, "description": entry.description,
        "source": entry.source, "assumed": entry.assumed, "symbol": entry.symbol,
        "within": None, "choices": None,
    }  # fmt: skip
    if entry.within is not None:
        data["within"] = [
            None if end is None else [typed_data(end[1]), end[2].name] for end in entry.within
        ]
    if isinstance(entry.choices, Table):
        data["choices"] = {"table": entry.choices.id}
    elif entry.choices is not None:
        data["choices"] = list(entry.choices)
    return data


def _external_data(sheet: Any, entry: Any) -> dict[str, Any]:
    return {"origin": entry.origin, "origin_path": entry.origin_path, "symbol": entry.symbol,
            "unit": entry.info.name, "value": _finite(sheet._values[entry.slot])}  # fmt: skip


def _step_data(sheet: Any, entry: Any) -> dict[str, Any]:
    return {**_words(entry), "digits": entry.digits, "formula": tree_data(entry.expr),
            "valid": [tree_data(item) for item in entry.valid]}  # fmt: skip


def _lookup_data(sheet: Any, entry: Any) -> dict[str, Any]:
    key = entry.key if isinstance(entry.key, str) else {"choice": entry.key.path}
    return {**_words(entry), "table": entry.table_id, "title": entry.title,
            "digest": entry.digest, "key": key, "column": entry.column,
            "neighbours": entry.neighbours,
            "value": typed_data(entry.column_values[row_of(sheet, entry)])}  # fmt: skip


def _computed_data(sheet: Any, entry: Any) -> dict[str, Any]:
    inputs = {
        name: {"text": value} if isinstance(value, str) else tree_data(value)
        for name, value in entry.inputs.items()
    }
    return {**_words(entry), "digits": entry.digits, "kernel": entry.kernel_id,
            "version": entry.version, "inputs": inputs, "proof": entry.proof,
            "last": _finite(sheet._values[entry.slot])}  # fmt: skip


def _check_data(sheet: Any, entry: Any) -> dict[str, Any]:
    return {"comparison": tree_data(entry.condition), "ref": entry.ref,
            "location": entry.location}  # fmt: skip


def _finite(value: float) -> float | None:
    return value if abs(value) < 1e300 else None


_WRITERS: dict[str, Callable[[Any, Any], dict[str, Any]]] = {
    "given": _given_data, "external": _external_data, "step": _step_data, "lookup": _lookup_data,
    "computed": _computed_data, "check": _check_data,
}  # fmt: skip


# -- reading ------------------------------------------------------------------------------------


def entry_of(sheet: Any, item: dict[str, Any], formula: Reader, names: Reader) -> tuple[Any, float]:
    """Return the record of a JSON object, and its base value when it is a given.

    Raises
    ------
    StepcalcError
        If it is no record; the caller says where.
    """
    kind = item["kind"]
    if not isinstance(kind, str) or kind not in _READERS:
        message = f"an entry is of an unknown kind, {str(kind)[:60]!r}"
        raise SheetFileError(message)
    name, path = item["name"], item["path"]
    if kind != "external":
        if not isinstance(name, str) or not name.strip() or len(name) > 120 or "\n" in name:
            message = f"the name of an entry is a line of text, not {str(name)[:60]!r}"
            raise SheetFileError(message)
        if not path.endswith(name):
            message = f"the path {path[:60]!r} does not end in the name {name[:60]!r}"
            raise SheetFileError(message)
    return _READERS[kind](sheet, item, formula, names)


def _text(item: dict[str, Any], key: str) -> str:
    value = item[key]
    if not isinstance(value, str):
        message = f"{key} is a text, not {str(value)[:60]!r}"
        raise SheetFileError(message)
    return value


def _optional(item: dict[str, Any], key: str) -> str | None:
    return None if item[key] is None else _text(item, key)


def _digits(item: dict[str, Any]) -> int | None:
    digits = item["digits"]
    if digits is None or (type(digits) is int and 1 <= digits <= 15):
        return digits
    message = f"digits is a whole number from 1 to 15, not {str(digits)[:40]!r}"
    raise SheetFileError(message)


def _read_given(sheet: Any, item: dict[str, Any], _f: Reader, _n: Reader) -> tuple[Any, float]:
    words = (_text(item, "description"), _optional(item, "source"), _optional(item, "assumed"))
    choices = item["choices"]
    if choices is not None:
        if isinstance(choices, dict):
            choices = table(_text(choices, "table"))
        elif not isinstance(choices, list):
            message = "choices is a list of texts or names a table"
            raise SheetFileError(message)
        entry, row = writing.choice_entry(
            _text(item, "name"), _text(item, "value"), *words, choices, _text(item, "symbol")
        )
        return entry, row
    typed = read_typed_number(item["value"])
    own, info = read_unit(_text(item, "unit")), read_unit(_text(item, "shown_unit"))
    if own.dim is not info.dim:
        message = f"the value in {own.text} does not fit the unit {info.text}"
        raise SheetFileError(message)
    within = item["within"]
    if within is not None:
        if not isinstance(within, list) or len(within) != 2:
            message = "within is a pair of limits"
            raise SheetFileError(message)
        within = writing.range_of(
            tuple(None if end is None else _quantity(end) for end in within), info, item["name"]
        )
    entry = GivenEntry(typed, info, *words, within, None, _text(item, "symbol"))
    if own is not info:
        sheet._typed[len(sheet._book.entries)] = (typed, own)
    return entry, float(typed) * own.factor


def _quantity(pair: Any) -> Any:
    from stepcalc.units.registry import Q_

    number, unit = pair
    if not isinstance(unit, str):
        message = "a limit is a number and the text of a unit"
        raise SheetFileError(message)
    info = read_unit(unit)
    typed = read_typed_number(number)
    return Q_(typed, info.unit)


def _read_external(sheet: Any, item: dict[str, Any], _f: Reader, _n: Reader) -> tuple[Any, float]:
    value = math.nan if item["value"] is None else float(read_typed_number(item["value"]))
    entry = ExternalEntry(
        _text(item, "origin"), _text(item, "origin_path"), _text(item, "symbol"),
        read_unit(_text(item, "unit")), value,
    )  # fmt: skip
    return entry, value


def _read_step(sheet: Any, item: dict[str, Any], formula: Reader, _n: Reader) -> tuple[Any, float]:
    expr = formula(item["formula"])
    info = read_unit(_text(item, "unit"))
    if isinstance(expr, Condition) or info.dim is not expr.dim:
        message = f"the formula {expr} does not give {info.text or 'a plain number'}"
        raise SheetFileError(message)
    if not isinstance(item["valid"], list):
        message = "valid is a list of conditions"
        raise SheetFileError(message)
    valid = tuple(writing.condition(formula(tree)) for tree in item["valid"])
    words = (_text(item, "description"), _optional(item, "ref"), _text(item, "symbol"))
    return StepEntry(expr, info, *words, _digits(item), valid), math.nan


def _read_lookup(sheet: Any, item: dict[str, Any], _f: Reader, names: Reader) -> tuple[Any, float]:
    info = read_unit(_text(item, "unit"))
    key: Any = item["key"]
    if isinstance(key, dict):
        key = names(key["choice"])
        if not isinstance(key, Choice):
            message = "the key of a look-up names a choice"
            raise SheetFileError(message)
    elif not isinstance(key, str):
        message = "the key of a look-up is a text or names a choice"
        raise SheetFileError(message)
    if not isinstance(item["neighbours"], bool):
        message = "neighbours of a look-up is true or false"
        raise SheetFileError(message)
    words = {"description": _text(item, "description"), "ref": _optional(item, "ref"),
             "symbol": _text(item, "symbol"), "neighbours": item["neighbours"]}  # fmt: skip
    value = float(read_typed_number(item["value"]))
    column, digest = _text(item, "column"), _text(item, "digest")
    try:
        source = table(_text(item, "table"))
        known = source.digest == digest
    except TableError:
        known = False
    if known:
        fields = writing.lookup_fields(sheet, item["name"], source, key, column, info.unit)
        return LookupEntry(**fields, **words), math.nan
    label = key if isinstance(key, str) else key.value
    entry = LookupEntry(
        key=label, row_number=0, column=column, column_values=(value,), info=info,
        table_id=_text(item, "table"), title=_text(item, "title"), digest=digest, frozen=True,
        **words,
    )  # fmt: skip
    return entry, math.nan


def _read_computed(
    sheet: Any, item: dict[str, Any], formula: Reader, _n: Reader
) -> tuple[Any, float]:
    inputs: dict[str, Any] = {}
    if not isinstance(item["inputs"], dict):
        message = "inputs of a computed entry is an object"
        raise SheetFileError(message)
    for name, value in item["inputs"].items():
        inputs[name] = _text(value, "text") if isinstance(value, dict) else formula(value)
    version = item["version"]
    if type(version) is not int:
        message = f"the version of a procedure is a whole number, not {str(version)[:40]!r}"
        raise SheetFileError(message)
    info = read_unit(_text(item, "unit"))
    kernel_id = _text(item, "kernel")
    procedure = known_kernel(kernel_id)
    if procedure is not None and not _fits(procedure, version, inputs, info):
        procedure = None
    last = math.nan if item["last"] is None else float(read_typed_number(item["last"]))
    proof = _optional(item, "proof")
    if procedure is not None and proof is not None and proof not in procedure.proofs:
        proof = None
    entry = ComputedEntry(
        kernel=procedure, kernel_id=kernel_id, version=version, inputs=inputs, info=info,
        description=_text(item, "description"), ref=_optional(item, "ref"),
        symbol=_text(item, "symbol"), digits=_digits(item), proof=proof, last=last,
    )  # fmt: skip
    return entry, math.nan


def _fits(procedure: Any, version: int, inputs: dict[str, Any], info: Any) -> bool:
    if procedure.version != version or set(inputs) != set(procedure.inputs):
        return False
    for name, value in inputs.items():
        unit = procedure.inputs[name]
        if isinstance(value, str):
            continue
        if unit == "choice" or isinstance(value, Condition) or value.dim is not read_unit(unit).dim:
            return False
    return read_unit(procedure.unit).dim is info.dim


def _read_check(sheet: Any, item: dict[str, Any], formula: Reader, _n: Reader) -> tuple[Any, float]:
    condition = writing.comparison(item["name"], formula(item["comparison"]))
    info = display_unit(condition.args[0])
    entry = CheckEntry(condition, info, _optional(item, "ref"), _optional(item, "location"))
    return entry, math.nan


_READERS: dict[str, Callable[[Any, dict[str, Any], Reader, Reader], tuple[Any, float]]] = {
    "given": _read_given, "external": _read_external, "step": _read_step, "lookup": _read_lookup,
    "computed": _read_computed, "check": _read_check,
}  # fmt: skip
