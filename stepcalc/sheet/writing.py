"""What a sheet asks of the arguments it is given, before anything is written down."""

from __future__ import annotations

import difflib
import json
import math
from collections.abc import Mapping, Sequence
from typing import Any

from stepcalc.data.tables import Table, table
from stepcalc.errors import DimensionError, FormulaError, RangeError, TableError
from stepcalc.expr.tree import Condition, as_operand
from stepcalc.sheet.entries import GivenEntry
from stepcalc.sheet.formula_cell import FormulaCell
from stepcalc.sheet.nodes import Choice
from stepcalc.sheet.quantities import base_value, read_typed
from stepcalc.units.info import ONE, UnitInfo, read_unit
from stepcalc.units.numbers import typed_text
from stepcalc.units.registry import Q_

_FLIPPED = {"ge": "le", "gt": "lt"}
_LONGEST_TEXT = 100_000


def wrong_unit(name: str, expr: Any, info: UnitInfo) -> str:
    """Return the message for a formula that does not give the unit that was asked for."""
    from stepcalc.sheet.quantities import display_unit

    fit = display_unit(expr).text or "no unit"
    ratio = expr.dim.over(info.dim)
    return (
        f"step {name!r}: the formula {expr} gives {expr.dim.words}, but {info.text or 'a number'} "
        f"is {info.dim.words}; want a unit such as {fit}, or the formula has {ratio.formula} too "
        "much"
    )


def range_of(within: Any, info: UnitInfo, name: str) -> tuple[Any, Any]:
    """Return the two limits of a given as (base value, typed, unit) triples, or None where open."""
    if not isinstance(within, tuple | list) or len(within) != 2:
        message = f"within of given {name!r} is a pair (low, high), not {within!r}"
        raise FormulaError(message[:200])
    ends: list[Any] = []
    for end in within:
        if end is None:
            ends.append(None)
            continue
        typed, own, base = base_value(end, info, f"a limit of given {name!r}")
        ends.append((base, typed, own))
    low, high = ends
    if low is not None and high is not None and low[0] > high[0]:
        message = f"within of given {name!r} runs from the larger to the smaller limit"
        raise RangeError(message)
    return low, high


def limit_text(end: Any) -> str:
    """Return a limit as it was typed, with its unit."""
    return f"{typed_text(end[1])} {end[2].text}".strip()


def choice_entry(
    name: str,
    value: Any,
    description: str,
    source: str | None,
    assumed: str | None,
    choices: Any,
    symbol: str | None,
) -> tuple[GivenEntry, float]:
    """Return the record and row number of a given that is a text."""
    if choices is None:
        message = (
            f"given {name!r} is the text {value!r}; want a number or quantity such as 8*inch, or"
            " choices=[...] with the texts allowed"
        )
        raise FormulaError(message[:300])
    if isinstance(choices, str):
        choices = table(choices)
    if not isinstance(choices, Table):
        choices = tuple(choices)
        if not choices or not all(isinstance(item, str) for item in choices):
            message = f"choices of given {name!r} are texts, or a table"
            raise FormulaError(message)
    entry = GivenEntry("", ONE, description, source, assumed, None, choices, symbol or name)
    entry.name = name
    row = option_of(entry, value)
    entry.typed = choices.names[row] if isinstance(choices, Table) else choices[row]
    return entry, row


def option_of(entry: Any, text: Any) -> int:
    """Return the number of a text among the choices of a given.

    Raises
    ------
    TableError
        If it is none of them; the nearest are named.
    """
    choices = entry.choices
    if not isinstance(text, str):
        message = f"given {entry.name!r} is a choice of a text, not {text!r}"
        raise FormulaError(message[:200])
    if isinstance(choices, Table):
        return choices.row_number(text)
    if text in choices:
        return int(choices.index(text))
    near = difflib.get_close_matches(text, choices, 3, 0.3) or choices[:6]
    listed = ", ".join(map(repr, near))
    message = f"given {entry.name!r} cannot be {text[:60]!r}; choose one of {listed}"
    raise TableError(message)


def lookup_fields(
    sheet: Any, name: str, source: Table, key: Any, column: str, unit: Any
) -> dict[str, Any]:
    """Return the fields of a look-up record, with the row and the factor to base units."""
    values = source.column(column)
    own = read_unit(source.units.get(column) or None)
    info = own if unit is None else read_unit(unit)
    if info.dim is not own.dim:
        message = (
            f"{name!r}: column {column!r} of {source.title} is in {own.text or 'plain numbers'}, "
            f"{own.dim.words}; {info.text or 'a plain number'} is {info.dim.words}"
        )
        raise DimensionError(message)
    if isinstance(key, Choice):
        if key.sheet is not sheet:
            message = f"{key.name!r} belongs to another sheet; choose by a given of this one"
            raise FormulaError(message)
        if not isinstance(key.entry.choices, Table) or key.entry.choices.id != source.id:
            message = f"{key.name!r} is not a choice of rows of {source.title}"
            raise TableError(message)
        row = int(sheet._values[key.slot])
    else:
        row = source.row_number(key)
        key = source.names[row]
    in_unit = (
        values
        if own.factor == info.factor
        else tuple(value * own.factor / info.factor for value in values)
    )
    return {
        "key": key, "row_number": row, "column": column, "column_values": in_unit, "info": info,
        "table_id": source.id, "title": f"{source.title}, {source.edition}",
        "digest": source.digest, "frozen": False,
    }  # fmt: skip


def condition(item: Any) -> Condition:
    """Return a condition of a formula's range, or refuse what is none."""
    if not isinstance(item, Condition):
        example = "between(S, 3.5*ft, 16*ft)"
        message = f"valid of a step is a list of comparisons such as {example}, not {item!r}"
        raise FormulaError(message[:200])
    return item


def comparison(name: str, item: Any) -> Condition:
    """Return the comparison of a check, or refuse what is none."""
    if isinstance(item, Condition) and item.op in ("le", "lt", "ge", "gt"):
        return item
    if isinstance(item, Condition):
        message = (
            f"check {name!r} is {item}; a check is one comparison of a demand with a capacity, such"
            " as M_u <= M_r: write one check for each"
        )
    else:
        message = f"check {name!r} wants a comparison such as M_u <= phi*M_n, not {item!r}"
    raise FormulaError(message[:400])


def refuse_words(name: str, description: Any, *others: Any) -> None:
    """Refuse a description, reference or symbol that is no text; a sheet could not be stored."""
    if not isinstance(description, str):
        message = f"the description of {name!r} is a text, not {description!r}"
        raise FormulaError(message[:300])
    for other in others:
        if other is not None and not isinstance(other, str):
            message = f"{name!r} wants a text where {other!r} stands, as source, ref or symbol"
            raise FormulaError(message[:300])


def refuse_digits(name: str, digits: Any) -> None:
    """Refuse a number of digits that cannot be shown."""
    if type(digits) is not int or not 1 <= digits <= 15:
        message = f"digits of {name!r} is a whole number from 1 to 15, not {digits!r}"
        raise FormulaError(message[:200])


def lines_of(lines: Any, what: str) -> tuple[str, ...]:
    """Return a list of texts, or refuse what is none; one text alone is a list of it."""
    if isinstance(lines, str):
        lines = (lines,)
    return tuple(text_of(line, f"a line of {what}") for line in lines)


def text_of(text: Any, what: str) -> str:
    """Return a text, or refuse what is none or far too long."""
    if not isinstance(text, str):
        message = f"{what} is a text, not a {type(text).__name__}"
        raise FormulaError(message)
    if len(text) > _LONGEST_TEXT:
        message = f"{what} has {len(text)} characters; want at most {_LONGEST_TEXT}"
        raise FormulaError(message)
    return text


def table_of(
    header: Sequence[str], rows: Sequence[Sequence[Any]], family: Any
) -> tuple[list[str], list[Any]]:
    """Return header and rows of a table; every row must be as long as the header."""
    head = [text_of(cell, "a table's heading") for cell in header]
    body = []
    for place, row in enumerate(rows, 1):
        cells = [_table_cell(cell, family) for cell in row]
        if len(cells) != len(head):
            message = f"row {place} of the table has {len(cells)} cells, the header {len(head)}"
            raise FormulaError(message)
        body.append(cells)
    return head, body


def _table_cell(cell: Any, family: Any) -> Any:
    if hasattr(cell, "sheet"):
        if cell.sheet._family is not family:
            message = f"{cell.name!r} belongs to another sheet; put its .value into the table"
            raise FormulaError(message)
        return cell
    if hasattr(cell, "_units"):
        typed, info = read_typed(cell, "a cell of the table")
        return Q_(typed, info.unit)
    if isinstance(cell, FormulaCell):
        return cell
    if isinstance(cell, float) and not math.isfinite(cell):
        message = f"a cell of the table is {cell}; want a finite number or a text"
        raise FormulaError(message)
    if isinstance(cell, str) or (isinstance(cell, int | float) and not isinstance(cell, bool)):
        return cell
    return str(cell)


def figure_of(data: Mapping[str, Any]) -> dict[str, Any]:
    """Return the data of a figure, or refuse what cannot be stored as JSON."""
    if not isinstance(data, Mapping) or not isinstance(data.get("kind"), str):
        message = "a figure is a mapping with a 'kind', such as {'kind': 'curves', ...}"
        raise FormulaError(message)
    try:
        return dict(json.loads(json.dumps(data, allow_nan=False, default=_plain)))
    except (TypeError, ValueError) as error:
        message = f"the data of a figure are numbers, texts and lists of them: {error}"
        raise FormulaError(message) from error


def _plain(value: Any) -> Any:
    if hasattr(value, "tolist"):
        return value.tolist()
    if hasattr(value, "sheet"):
        return value.number
    message = f"a {type(value).__name__} stands in it"
    raise TypeError(message)


def operand(value: Any) -> Any:
    """Return a value as an operand (a node, number, quantity or unit)."""
    return as_operand(value)
