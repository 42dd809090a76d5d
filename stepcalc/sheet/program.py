"""The compiled program of a sheet: its formulas as one Python function of a list of values.

The source consists of what :class:`stepcalc.expr.code.CodeWriter` makes of the library's own trees.
Names in it are slots (``v12``), constants are numbers; no text of a user ever enters it.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from stepcalc.expr.code import SCALAR, CodeWriter, namespace
from stepcalc.units.info import read_unit

__all__ = ["assignment", "compile_source", "scalar_program"]


def scalar_program(sheet: Any) -> Callable[[list[float]], list[float]]:
    """Return a function from a list of values to the list with everything recomputed."""
    book = sheet._book
    writer = CodeWriter(SCALAR)
    lines = []
    for slot in book.sorted_slots():
        entry = book.entries[slot]
        if entry.kind in ("given", "external"):
            lines.append(f"v{slot} = V[{slot}]")
        elif slot in book.stale:
            lines.append(f"v{slot} = NAN")
        else:
            lines.append(assignment(writer, sheet, entry))
    everything = ", ".join(
        "NAN" if entry is None else f"v{slot}" for slot, entry in enumerate(book.entries)
    )
    lines.append(f"return [{everything}]")
    return compile_source("V", lines, SCALAR, writer.constants)


def assignment(writer: CodeWriter, sheet: Any, entry: Any) -> str:
    """Return the line of source that computes a record's value."""
    kind = entry.kind
    if kind == "step":
        text = writer.formula(entry.expr)
    elif kind == "check":
        return f"v{entry.slot} = {writer.ratio(entry.demand, entry.capacity)}"
    elif kind == "lookup":
        return f"v{entry.slot} = {_lookup(writer, entry)}"
    else:
        text = _computed(writer, entry)
    if sheet.carry == "shown":
        factor = entry.info.factor
        text = f"_round(({text})/{factor!r}, {entry.digits or sheet.digits})*{factor!r}"
    return f"v{entry.slot} = {text}"


def _lookup(writer: CodeWriter, entry: Any) -> str:
    if isinstance(entry.key, str):
        return repr(entry.column_values[entry.row_number] * entry.info.factor)
    column = writer.constant(entry.column_values)
    return f"{column}[v{entry.key.slot}]*{entry.info.factor!r}"


def _computed(writer: CodeWriter, entry: Any) -> str:
    if entry.kernel is None:
        return "NAN" if entry.last is None or entry.last != entry.last else repr(entry.last)
    kernel = entry.kernel
    arguments = []
    for name, formula in entry.inputs.items():
        if isinstance(formula, str):
            arguments.append(f"{name}={writer.constant(formula)}")
        else:
            factor = read_unit(kernel.inputs[name]).factor
            arguments.append(f"{name}=({writer.formula(formula)})/{factor!r}")
    function = writer.constant(kernel.function)
    number = f"{function}({', '.join(arguments)})"
    if writer.mode == SCALAR:
        number = f"_float({number})"
    else:
        number = f"_watched({number})"
    return f"{number}*{read_unit(kernel.unit).factor!r}"


def compile_source(
    parameters: str, lines: list[str], mode: str, constants: dict[str, Any]
) -> Callable[..., Any]:
    """Return the function whose body these lines of the library's own source are."""
    names = namespace(mode)
    names.update(constants)
    names.update({"NAN": float("nan"), "_float": float})
    text = f"def run({parameters}):\n " + "\n ".join(lines or ["pass"])
    # the text is the CodeWriter's alone: slots, numbers, helpers, and the argument names of a
    # registered procedure, which are Python identifiers; nothing of a file or a user is in it
    exec(compile(text, "<sheet program>", "exec"), names)
    return names["run"]  # type: ignore[no-any-return]
