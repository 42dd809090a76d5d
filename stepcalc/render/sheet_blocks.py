"""A sheet, or one part of it, as the blocks of a document."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import TYPE_CHECKING, Any

from stepcalc.render.block_parts import LAYOUT, value_layout
from stepcalc.render.dialects.text import unit_in_text
from stepcalc.render.node_blocks import Block, node_block
from stepcalc.render.summary import conclusion_block
from stepcalc.sheet import state
from stepcalc.sheet.entries import Part, TableEntry
from stepcalc.sheet.formula_cell import FormulaCell
from stepcalc.sheet.nodes import handle
from stepcalc.units.info import read_unit
from stepcalc.units.numbers import typed_text

if TYPE_CHECKING:
    from stepcalc.render.dialects import Layout


def sheet_blocks(sheet: Any) -> list[Block]:
    """Return all blocks of a sheet, in its order.

    Parameters
    ----------
    sheet : Sheet

    Returns
    -------
    list of dict
        JSON-safe; see :mod:`stepcalc.render.blocks`.
    """
    with state.unchanging(sheet):
        return list(_part_blocks(sheet, sheet._book.root, results_of(sheet)))


def part_blocks(sheet: Any, path: str) -> list[Block]:
    """Return the blocks of one part, its heading first.

    Parameters
    ----------
    sheet : Sheet
    path : str
        Titles joined by ``/``.
    """
    part = sheet._book.root
    for title in path.split("/") if path else ():
        part = part.child(title)
    with state.unchanging(sheet):
        return list(_one_part(sheet, part, results_of(sheet)))


def results_of(sheet: Any) -> set[int]:
    """Return the slots of steps that are results: what a check compares, or nothing else uses."""
    used: set[int] = set()
    compared: set[int] = set()
    steps: list[int] = []
    for entry in sheet._book.in_order():
        if entry.kind == "step" or entry.kind == "computed":
            steps.append(entry.slot)
        for formula in entry.operands():
            if entry.kind == "check" and formula.op == "name":
                compared.add(formula.slot)
            used.update(_slots(formula))
    return {slot for slot in steps if slot in compared or slot not in used}


def _slots(formula: Any) -> Iterator[int]:
    pending = [formula]
    while pending:
        node = pending.pop()
        if node.op == "name":
            yield node.slot
        else:
            pending.extend(node.args)


def heading_block(part: Part) -> Block:
    """Return the heading of a part."""
    return {"kind": "heading", "level": min(part.level, 9), "number": part.number,
            "text": part.title}  # fmt: skip


def entry_block(sheet: Any, entry: Any, results: set[int]) -> Block:
    """Return the block of one record; ``results`` are the slots whose values are framed."""
    if entry.slot >= 0:
        return node_block(handle(sheet, entry), boxed=entry.slot in results)
    return _OTHERS[entry.kind](sheet, entry)


def _one_part(
    sheet: Any, part: Part, results: set[int], known: set[int] | None = None
) -> Iterator[Block]:
    if part.parent is not None:
        yield heading_block(part)
    yield from _part_blocks(sheet, part, results, known)


def _part_blocks(
    sheet: Any, part: Part, results: set[int], known: set[int] | None = None
) -> Iterator[Block]:
    told = slots_in_tables(sheet) if known is None else known
    if part.tables_only:
        yield from _tables_only(sheet, part, results, told)
        return
    for block in part.blocks:
        if isinstance(block, Part):
            yield from _one_part(sheet, block, results, told)
        elif block.slot not in told:
            yield entry_block(sheet, block, results)


def _tables_only(sheet: Any, part: Part, results: set[int], told: set[int]) -> Iterator[Block]:
    """Yield what a part prints whose steps stand in its tables: no headings of parts below it.

    A step with a warning, a proof or without a value prints by itself all the same.
    """
    for block in part.blocks:
        if isinstance(block, Part):
            yield from _tables_only(sheet, block, results, told)
        elif block.slot not in told:
            yield entry_block(sheet, block, results)


def slots_in_tables(sheet: Any) -> set[int]:
    """Return the slots of nodes that a table prints instead of lines of their own.

    Those are the nodes of tables that stand for their lines, where they stand in the part of the
    table, and those of parts that print their tables only.  What carries a warning, has a proof,
    has no value, is stale or is a check prints by itself too.
    """
    found: set[int] = state.once(sheet, "slots in tables", _slots_in_tables)
    return found


def _slots_in_tables(sheet: Any) -> set[int]:
    told = {
        cell.slot
        for table in _tables(sheet._book.root)
        for row in table.rows
        for cell in row
        if hasattr(cell, "sheet")
        and _is_plain(sheet, sheet._book.entries[cell.slot])
        and _below(sheet._book.entries[cell.slot].part, table.part)
    }
    return told | {
        entry.slot
        for part in _silent_parts(sheet._book.root)
        for entry in sheet._book.in_order(part)
        if _is_plain(sheet, entry)
    }


def _below(part: Part, outer: Part) -> bool:
    """Tell whether a part is another one or stands in it; what stands elsewhere prints there."""
    inner: Part | None = part
    while inner is not None:
        if inner is outer:
            return True
        inner = inner.parent
    return False


def _silent_parts(part: Part) -> Iterator[Part]:
    if part.tables_only:
        yield part
        return
    for block in part.blocks:
        if isinstance(block, Part):
            yield from _silent_parts(block)


def _tables(part: Part) -> Iterator[TableEntry]:
    for block in part.blocks:
        if isinstance(block, Part):
            yield from _tables(block)
        elif isinstance(block, TableEntry) and block.instead:
            yield block


def _is_plain(sheet: Any, entry: Any) -> bool:
    if entry is None or entry.kind == "check" or getattr(entry, "proof", None) is not None:
        return False
    if entry.slot in sheet._book.stale:
        return False
    if getattr(entry, "choices", None) is not None:
        return True
    node = handle(sheet, entry)
    return bool(node.defined) and not node.warnings


def _note(sheet: Any, entry: Any) -> Block:
    kind = "markdown" if "$" in entry.text else "note"
    return {"kind": kind, "text": entry.text}


def _table(sheet: Any, entry: Any) -> Block:
    if entry.instead:
        return _instead(sheet, entry)
    rows = [[table_cell(sheet, cell) for cell in row] for row in entry.rows]
    return {
        "kind": "table", "header": list(entry.header), "rows": rows, "caption": entry.caption
    }  # fmt: skip


def _instead(sheet: Any, entry: Any) -> Block:
    """Return a table that stands for lines: units in the caption, or at the heads of columns."""
    header, caption = list(entry.header), entry.caption
    units = [_shared_unit(sheet, [row[i] for row in entry.rows]) for i in range(len(header))]
    known = {unit for unit in units if unit}
    if len(known) == 1 and units.count("") + sum(unit is None for unit in units) < len(units) - 1:
        caption = f"{caption}; in {raised(known.pop())}" if caption else f"in {raised(known.pop())}"
    else:
        header = [
            f"{head}, {raised(unit)}".removeprefix(", ") if unit else head
            for head, unit in zip(header, units, strict=True)
        ]
    rows = [
        [
            LAYOUT.value(handle(sheet, sheet._book.entries[cell.slot]).shown, "")
            if unit and hasattr(cell, "sheet")
            else table_cell(sheet, cell)
            for cell, unit in zip(row, units, strict=True)
        ]
        for row in entry.rows
    ]
    return {"kind": "table", "header": header, "rows": rows, "caption": caption}


def _shared_unit(sheet: Any, cells: Sequence[Any]) -> str | None:
    """Return the unit of all nodes of a column; None where there are none, or several units."""
    nodes = [cell for cell in cells if hasattr(cell, "sheet")]
    units = {sheet._book.entries[node.slot].info.text for node in nodes}
    return units.pop() if len(units) == 1 else None


def raised(unit: str) -> str:
    """Return a unit for a line of text, powers raised: ``kip-ft``, ``in⁴``."""
    text = unit_in_text(unit)
    for power, sign in _POWERS.items():
        text = text.replace(f"^{power}", sign)
    return text


_POWERS = {"2": "²", "3": "³", "4": "⁴"}


def table_cell(sheet: Any, cell: Any) -> str | Layout:
    """Return a cell of a table: text, or the layout of a number, quantity or node.

    A node shows the value that the sheet has now, which a revised sheet may have changed.
    """
    if isinstance(cell, str):
        return cell
    if isinstance(cell, FormulaCell):
        return cell.layout
    if hasattr(cell, "sheet"):
        entry = sheet._book.entries[cell.slot]
        node = handle(sheet, entry) if entry is not None else cell
        return node.shown_ratio if entry.kind == "check" else value_layout(node)
    if hasattr(cell, "_units"):
        info = read_unit(cell.units)
        return LAYOUT.value(typed_text(float(f"{float(cell.magnitude):.6g}")), info.text)
    return LAYOUT.value(typed_text(cell), "")


def _figure(sheet: Any, entry: Any) -> Block:
    return {"kind": "figure", "data": dict(entry.data), "caption": entry.caption}


_OTHERS: dict[str, Callable[[Any, Any], Block]] = {
    "note": _note, "table": _table, "figure": _figure,
    "conclusion": conclusion_block,
}  # fmt: skip
