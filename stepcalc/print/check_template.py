"""A notebook for an independent check: the inputs of a sheet as code, and nothing else of it."""

from __future__ import annotations

import json
from collections.abc import Sequence
from typing import Any

from stepcalc.errors import StepcalcError
from stepcalc.units.info import ONE, read_unit

__all__ = ["check_template"]

_HEAD = """# Independent check: {title}

The inputs below are those of the design. Work out the results named at the end on your own, by
another method or other software where that can be had, and enter them in the form of the check.
The designer's results are not in this file."""


def check_template(sheet: Any, names: Sequence[str]) -> str:
    """Return the JSON text of a notebook, never run, in which a checker starts.

    Parameters
    ----------
    sheet : Sheet
        The designer's; of it only the givens are written down.
    names : sequence of str
        What the checker is to find.
    """
    title = f"Independent check: {sheet.title}"
    first = [
        "from stepcalc import Sheet", "from stepcalc.units import Q_", "",
        f"sheet = Sheet({title!r})", "",
    ]  # fmt: skip
    lines = [_line(node, at) for at, node in enumerate(sheet.givens, 1)]
    wanted = "\n".join(f"- {name}" for name in names)
    cells = [
        _cell("markdown", _HEAD.format(title=sheet.title), "head"),
        _cell("code", "\n".join(first) + "\nwith sheet.part(\"Inputs\"):\n" + "\n".join(lines),
              "inputs"),
        _cell("markdown", f"**Results to find**\n\n{wanted}", "wanted"),
        _cell("code", "", "work"),
    ]  # fmt: skip
    kernel = {"name": "python3", "display_name": "Python 3", "language": "python"}
    notebook = {
        "cells": cells, "metadata": {"kernelspec": kernel}, "nbformat": 4, "nbformat_minor": 5,
    }  # fmt: skip
    return json.dumps(notebook, ensure_ascii=False, indent=1) + "\n"


def _cell(kind: str, source: str, name: str) -> dict[str, Any]:
    cell: dict[str, Any] = {"cell_type": kind, "id": name, "metadata": {}, "source": source}
    return cell | ({"outputs": [], "execution_count": None} if kind == "code" else {})


def _line(node: Any, at: int) -> str:
    """Return the line of code that writes down a given."""
    entry = node.entry
    typed, info = node.sheet._typed_of(node.slot)
    value = repr(typed) if info is ONE or entry.choices is not None else (
        f"Q_({_plain(typed)}, {_unit(info)!r})"
    )  # fmt: skip
    name = node.name if node.name.isidentifier() else f"given_{at}"
    words = f", {entry.description!r}" if entry.description else ""
    for key in ("source", "assumed"):
        said = getattr(entry, key)
        words += f", {key}={said!r}" if said else ""
    if entry.choices is not None:
        listed = getattr(entry.choices, "id", None) or list(entry.choices)
        words += f", choices={listed!r}"
        value = repr(node.value)
    if entry.symbol and entry.symbol != node.name:
        words += f", symbol={entry.symbol!r}"
    return f"    {name} = sheet.given({node.name!r}, {value}{words})"


def _plain(number: Any) -> str:
    return repr(number) if isinstance(number, (int, float)) else repr(float(number))


def _unit(info: Any) -> str:
    """Return a unit as a person writes it where that reads back, else by its full name."""
    try:
        return str(info.text) if read_unit(info.text) is info else str(info.name)
    except StepcalcError:
        return str(info.name)
