"""The block of each kind of node: plain data that notebooks store and pages print."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from stepcalc.data.tables import Table
from stepcalc.data.tables import table as find_table
from stepcalc.errors import TableError
from stepcalc.expr.walk import Undefined, holds, value_of
from stepcalc.render.block_parts import (
    LAYOUT,
    common_fields,
    equation,
    value_layout,
    words_of,
)
from stepcalc.render.branches import Reasons
from stepcalc.render.gathered_givens import gathered
from stepcalc.render.sheet_values import values_of
from stepcalc.render.shown import short_number
from stepcalc.render.step_parts import (
    check_parts,
    formula_part,
    origins,
    step_parts,
    unit_row,
)
from stepcalc.sheet import state
from stepcalc.sheet.proofs import proof_of
from stepcalc.units.info import read_unit
from stepcalc.units.numbers import typed_text

if TYPE_CHECKING:
    from stepcalc.render.dialects import Layout

Block = dict[str, Any]
_MOST_CHOICES = 12


def node_block(node: Any, *, boxed: bool = False) -> Block:
    """Return the block of a given, step, look-up, computed node or check.

    Parameters
    ----------
    node : handle of a sheet
    boxed : bool
        Whether the result stands in a frame.

    Returns
    -------
    dict
        JSON-safe; see :mod:`stepcalc.render.blocks`.
    """
    block = _BLOCKS[node.entry.kind](node)
    if boxed and "result" in block:
        block["boxed"] = True
    return {key: value for key, value in block.items() if value not in (None, "", [], False)}


def listed_block(node: Any) -> Block:
    """Return the block of a quantity that lists name, but that has no line of its own.

    Parameters
    ----------
    node : handle of a sheet
        Of a given, step, look-up or computed node.

    Returns
    -------
    dict
        As of `node_block`, without substitution, reasons, proof and alternative text.
    """
    entry = node.entry
    block = common_fields(node) | {
        "kind": entry.kind,
        "symbol": ["sym", entry.symbol],
        "description": entry.description,
    }
    if entry.kind == "given":
        block |= {
            "value": value_layout(node),
            "source": entry.source or "",
            "assumed": entry.assumed or "",
        }
    else:
        block |= {"result": value_layout(node), "ref": entry.ref or ""} | _defined_by(node)
    return {key: value for key, value in block.items() if value not in (None, "", [], False)}


def _defined_by(node: Any) -> Block:
    """Return the fields that say how a listed quantity comes about."""
    entry = node.entry
    if entry.kind == "step":
        return {"formula": formula_part(node, LAYOUT)}
    if entry.kind == "lookup":
        return {"table": entry.title, "row": _row(node), "column": entry.column}
    return {"method": _method(node)}


def _given(node: Any) -> Block:
    entry = node.entry
    symbol, value = ["sym", entry.symbol], value_layout(node)
    return common_fields(node) | {
        "kind": "given",
        "symbol": symbol,
        "value": value,
        "description": entry.description,
        "source": entry.source or "",
        "assumed": entry.assumed or "",
        "choices": _choices(entry.choices),
        "alt": words_of(equation(symbol, value)),
    }


def _choices(choices: Any) -> str:
    if choices is None:
        return ""
    if isinstance(choices, Table):
        return f"one of {len(choices.names)} rows of {choices.title}"
    names = [str(name) for name in choices]
    if len(names) > _MOST_CHOICES:
        return f"one of {len(names)}"
    return f"one of {', '.join(names)}"


def _step(node: Any) -> Block:
    entry = node.entry
    parts = step_parts(node, LAYOUT)
    later: Layout | None = parts.substitution
    if parts.branch_formula is not None:
        numbers = [parts.substitution] if parts.substitution is not None else []
        later = equation(parts.branch_formula, *numbers) if numbers else parts.branch_formula
    result = parts.result if parts.result is not None else value_layout(node)
    formula = parts.formula
    if parts.result is None:  # a typed number: it would stand there twice
        formula = None
    alt = words_of(equation(parts.symbol, formula, later, result))
    return common_fields(node) | {
        "kind": "step",
        "symbol": parts.symbol,
        "description": entry.description,
        "units": unit_row(entry.expr, LAYOUT) if parts.has_bare_numbers else None,
        "ref": entry.ref or "",
        "formula": formula,
        "substitution": later,
        "result": result,
        "branch": parts.branch,
        "condition": parts.condition,
        "valid": _validity(node),
        "origin": origins([entry.expr]),
        "undefined": parts.undefined,
        "alt": alt,
    }


def _validity(node: Any) -> list[Block]:
    values = values_of(node.sheet, LAYOUT.dialect.name)
    reasons = Reasons(LAYOUT, values)
    found = []
    for condition in node.entry.valid:
        try:
            kept = holds(condition, values.numbers)
            shown = reasons.stated(condition)
        except Undefined:
            kept, shown = False, LAYOUT.formula(condition)
        found.append({"condition": shown, "ok": kept})
    return found


def _lookup(node: Any) -> Block:
    entry = node.entry
    row = _row(node)
    symbol, result = ["sym", entry.symbol], value_layout(node)
    header, neighbours = _neighbours(entry, row)
    return common_fields(node) | {
        "kind": "lookup",
        "symbol": symbol,
        "description": entry.description,
        "ref": entry.ref or "",
        "table": entry.title,
        "row": row,
        "column": entry.column,
        "result": result,
        "header": header,
        "neighbours": neighbours,
        "alt": words_of(equation(symbol, result)),
    }


def _row(node: Any) -> str:
    key = node.entry.key
    return key if isinstance(key, str) else str(key.options[node.sheet._row_of(node.entry)])


def _neighbours(entry: Any, row: str) -> tuple[list[str], list[list[Any]]]:
    """Return the rows beside the one read, lighter and heavier, where they are asked for."""
    if not entry.neighbours:
        return [], []
    try:
        source = find_table(entry.table_id)
        by = "weight" if "weight" in source.columns else entry.column
        lighter, heavier = source.neighbours(row, by=by)
    except TableError:
        return [], []
    columns = list(dict.fromkeys((by, entry.column)))
    header = ["", source.key, *(_heading(source, column) for column in columns)]
    found = []
    for words, name in (("next lighter", lighter), ("read", row), ("next heavier", heavier)):
        if name is not None:
            cells = [typed_text(source.value(name, column)) for column in columns]
            found.append([words, name, *cells])
    return header, found


def _heading(source: Table, column: str) -> str:
    unit = read_unit(source.units.get(column)).text
    return f"{column}, {unit}" if unit else column


def _computed(node: Any) -> Block:
    entry = node.entry
    symbol, result = ["sym", entry.symbol], value_layout(node)
    return common_fields(node) | {
        "kind": "computed",
        "symbol": symbol,
        "description": entry.description,
        "ref": entry.ref or "",
        "substitution": None,
        "result": result,
        "method": _method(node),
        "proof": _proof(node),
        "origin": origins(entry.operands()),
        "undefined": "" if node.defined else node.reason or "it has no value",
        "alt": words_of(equation(symbol, result)),
    }


def _method(node: Any) -> str:
    entry = node.entry
    method = str(getattr(entry.kernel, "method", "") or entry.kernel_id)
    inputs = _inputs(node)
    return f"{method} ({inputs})" if inputs else method


_IN_WORDS = {"which": "sought", "max": "the largest", "min": "the smallest"}
"""What procedures call their inputs, where a reader would stumble over it."""


def _inputs(node: Any) -> str:
    """Return what was handed to the procedure, in words; what an earlier one got too is not said.

    A reader of the sheet has it before his eyes there: spans and layout are those of the beam.
    """
    entry, numbers = node.entry, node.sheet._values
    earlier = _said_before(node)
    said = []
    for name, formula in entry.inputs.items():
        if earlier.get(name) == str(formula) or name in getattr(entry.kernel, "stated", ()):
            continue
        words = _IN_WORDS.get(name, name.replace("_", " "))
        if isinstance(formula, str):
            said.append(f"{words}: {_IN_WORDS.get(formula, formula)}")
            continue
        unit = entry.kernel.inputs.get(name) if entry.kernel is not None else None
        info = read_unit(unit)
        try:
            number = short_number(value_of(formula, numbers) / info.factor, node.sheet.digits)
        except Undefined:
            number = "undefined"
        said.append(f"{words} {number} {info.text}".rstrip())
    return "; ".join(said)


def _said_before(node: Any) -> dict[str, str]:
    """Return the inputs last said by the computed nodes that print above this one."""
    said: dict[int, dict[str, str]] = state.once(node.sheet, "said before", _said)
    return said.get(node.entry.slot, {})


def _said(sheet: Any) -> dict[int, dict[str, str]]:
    """Return what has been said before each computed node of a sheet, by its slot."""
    from stepcalc.render.sheet_blocks import slots_in_tables

    found: dict[int, dict[str, str]] = {}
    latest: dict[str, str] = {}
    in_tables = slots_in_tables(sheet)
    for entry in sheet._book.in_order():
        if entry.kind != "computed":
            continue
        found[entry.slot] = latest
        if entry.slot not in in_tables:
            latest = latest | {name: str(formula) for name, formula in entry.inputs.items()}
    return found


def _proof(node: Any) -> list[Block]:
    """Return the blocks of the small sheet that shows a computed value by hand."""
    from stepcalc.render.sheet_blocks import sheet_blocks

    proof, disagreement = proof_of(node)
    if proof is None:
        return []
    blocks = gathered(sheet_blocks(proof))
    if disagreement:
        blocks.append({"kind": "note", "text": f"Warning: {disagreement}"})
    return blocks


def _check(node: Any) -> Block:
    entry = node.entry
    parts = check_parts(node, LAYOUT)
    said = words_of(parts.substitution if parts.substitution is not None else parts.formula)
    return common_fields(node) | {
        "kind": "check",
        "ref": entry.ref or "",
        "location": entry.location or "",
        "formula": parts.formula,
        "substitution": parts.substitution,
        "ratio": node.shown_ratio,
        "verdict": node.verdict,
        "undefined": "" if node.defined else node.reason or "it has no ratio",
        "alt": f"{entry.name}: {said}; ratio {node.shown_ratio}, {node.verdict}",
    }


_BLOCKS = {
    "given": _given, "step": _step, "lookup": _lookup, "computed": _computed, "check": _check,
}  # fmt: skip
