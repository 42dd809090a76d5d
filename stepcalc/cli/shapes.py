"""The verb ``shapes``: the table of W shapes."""

from __future__ import annotations

import argparse
import textwrap
from typing import TYPE_CHECKING, Any

from stepcalc.cli.columns import columns
from stepcalc.cli.exits import ALL_OK

if TYPE_CHECKING:
    from stepcalc.data.tables import Table

__all__ = ["add"]

_SHAPE_LIST = ("weight", "area", "d", "bf", "tw", "tf", "Ix", "Sx", "Zx", "Iy", "J")


def add(verbs: Any) -> None:
    """Add the verb to the parser of the command line."""
    shapes = verbs.add_parser(
        "shapes",
        help="the table of W shapes",
        description="Show the table of W shapes, one nominal depth of it, or one shape.",
        epilog="exit codes: 0 shown; 2 no such shape or depth",
    )
    shapes.add_argument(
        "which", metavar="W24", nargs="?", default="", help="a nominal depth, or a shape"
    )
    shapes.set_defaults(run=_shapes)


def _shapes(options: argparse.Namespace) -> int:
    """Show the W shapes, one family of them, or one."""
    from stepcalc.data.tables import table

    shapes = table("w_shapes")
    which = options.which.strip()
    one = which and shapes.family_mark in shapes.plain(which).upper()
    lines = _one_shape(shapes, which) if one else _shape_list(shapes, which)
    source = textwrap.fill(shapes.source, 100)
    print("\n".join([shapes.title, shapes.edition, "", *lines, "", source]))
    return ALL_OK


def _one_shape(shapes: Table, which: str) -> list[str]:
    """Return the lines that show every property of one shape."""
    row = shapes.row_number(which)
    lines = [shapes.names[row]]
    for name, values in shapes.columns.items():
        lines.append(f"  {name:<7}{values[row]:>10g} {_unit_text(shapes, name)}")
    return lines


def _shape_list(shapes: Table, family: str) -> list[str]:
    """Return the lines that list a family of shapes."""
    rows = [[shapes.key, *_SHAPE_LIST], ["", *(_unit_text(shapes, c) for c in _SHAPE_LIST)]]
    for row in shapes.family_rows(family):
        rows.append([shapes.names[row], *(f"{shapes.columns[c][row]:g}" for c in _SHAPE_LIST)])
    return columns(rows)


def _unit_text(shapes: Table, column: str) -> str:
    """Return the unit of a column as it is written in a text table."""
    return (shapes.units[column] or "").replace("inch", "in").replace("**", "^")
